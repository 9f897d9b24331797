"""Values that depend on what the maker chooses, and conditions on it.

A value is a formula or a word, or one for each choice of an option:

    length: waist_to_knee + 25cm
    length: {by: hem, mid-calf: waist_to_knee + 25cm, tunic: waist_to_hip + 18cm}
    length: {by: hem, tunic: 45cm, otherwise: waist_to_knee + 25cm}

A requirement lists choices that must all be made; several of an option mean any of them, and a
list of requirements means that one of them is enough:

    when: {collar: yes, pockets: [1, 2]}
    when: [{collar: yes}, {pockets: 2}]
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import TypeAlias

__all__ = [
    "ALWAYS",
    "BY",
    "OTHERWISE",
    "ByOption",
    "Choices",
    "Requirement",
    "Selected",
    "Value",
    "leaves",
    "selected",
    "ways",
]

BY = "by"
"""The key that names the option a value depends on."""
OTHERWISE = "otherwise"
"""The key of the value for the choices that are not listed."""

Choices: TypeAlias = Mapping[str, str]
"""What was chosen: option to choice."""


@dataclass(frozen=True)
class ByOption:
    """A value for each choice of an option.

    `otherwise` is the value for the choices that `cases` does not have; None if it has all.
    """

    option: str
    cases: Mapping[str, Value]
    otherwise: Value | None = None


Value: TypeAlias = str | ByOption


@dataclass(frozen=True, slots=True)
class Selected:
    """The text that applies, and the keys that lead to it from the value."""

    text: str
    keys: tuple[str, ...] = ()


def selected(value: Value, choices: Choices) -> Selected:
    """Return the text of a value for these choices.

    Raises:
        KeyError: the value has none for the choice that was made.

    >>> selected(ByOption("hem", {"long": "80cm"}, otherwise="45cm"), {"hem": "short"})
    Selected(text='45cm', keys=('otherwise',))
    """
    keys: list[str] = []
    while isinstance(value, ByOption):
        choice = choices[value.option]
        if choice in value.cases:
            keys.append(choice)
            value = value.cases[choice]
        elif value.otherwise is not None:
            keys.append(OTHERWISE)
            value = value.otherwise
        else:
            raise KeyError(choice)
    return Selected(value, tuple(keys))


def leaves(value: Value) -> Iterator[Selected]:
    """Yield every text of a value, with the keys that lead to it."""
    if not isinstance(value, ByOption):
        yield Selected(value)
        return
    for key, case in (*value.cases.items(), (OTHERWISE, value.otherwise)):
        if case is not None:
            for leaf in leaves(case):
                yield Selected(leaf.text, (key, *leaf.keys))


def ways(value: Value, all_choices: Mapping[str, Iterable[str]]) -> Iterator[dict[str, str]]:
    """Yield, for every text of a value, choices for which it applies.

    `all_choices` has the choices of each option that the value depends on.
    """
    if not isinstance(value, ByOption):
        yield {}
        return
    unlisted = (each for each in all_choices[value.option] if each not in value.cases)
    for choice, case in (*value.cases.items(), (next(unlisted, None), value.otherwise)):
        if choice is not None and case is not None:
            for way in ways(case, all_choices):
                yield {**way, value.option: choice}


@dataclass(frozen=True)
class Requirement:
    """Choices that must be made.

    One of `alternatives` is enough; of each, every option must have one of its choices. No
    alternatives require nothing.
    """

    alternatives: tuple[Mapping[str, tuple[str, ...]], ...] = ()

    def holds(self, choices: Choices) -> bool:
        """Tell whether these choices fulfil it.

        >>> Requirement(({"pockets": ("1", "2")},)).holds({"pockets": "0"})
        False
        """
        return not self.alternatives or any(
            all(choices[option] in allowed for option, allowed in alternative.items())
            for alternative in self.alternatives
        )

    def describe(self) -> str:
        """Return it in words: `collar is yes and pockets is 1 or 2`."""
        return ", or ".join(
            " and ".join(
                f"{option} is {' or '.join(allowed)}" for option, allowed in alternative.items()
            )
            for alternative in self.alternatives
        )


ALWAYS = Requirement()
"""Requires nothing."""
