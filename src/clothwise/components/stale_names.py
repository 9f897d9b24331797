"""Names that a design gave to a component which something else takes the place of.

A view may be called `Mid-calf, with elbow sleeves`, and a choice `Elbow sleeve`. Nobody but the
designer knows whether that still fits; where such a name speaks of the component, it is asked for.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from clothwise.components.registry import component_class
from clothwise.pattern.document.design import ComponentEntry, Design, View
from clothwise.pattern.plain_names import kind_called

__all__ = ["StaleName", "existing_choice", "stale_names", "stale_view_names"]

_TOO_COMMON = frozenset(
    {"in", "and", "set", "line", "two", "piece", "single", "double", "the", "of"}
)
"""Words of kinds that say nothing by themselves."""


MOST_WORDS = 4
"""A longer part of a name says more than which component is there; own choice."""


@dataclass(frozen=True)
class StaleName:
    """A name that speaks of a component.

    Attributes:
        place: what bears it, as the command that gives it another name writes it: `views.A.title`.
        of: the same in words: `view A`.
        text: the name.
        suggestion: the same with the new component in it.
    """

    place: str
    of: str
    text: str
    suggestion: str


def existing_choice(
    design: Design, entry: ComponentEntry, kind: str
) -> tuple[tuple[str, str], ...]:
    """Return the choices with which the design has a kind already in the place of a component.

    That is so if the other is there exactly where the component is not, by one and the same option.

    Returns:
        the name of the option and of its choice; nothing if there is none.
    """
    for other in design.components:
        if other.kind != kind or other is entry:
            continue
        for option in design.options:
            own, its = (_choices_of(each, option.name) for each in (entry, other))
            if own and its and own.isdisjoint(its):
                return tuple((option.name, choice) for choice in option.choices if choice in its)[
                    :1
                ]
    return ()


def stale_names(design: Design, entry: ComponentEntry, kind: str) -> tuple[StaleName, ...]:
    """Return the names of views and choices that speak of a component.

    Args:
        design: as it is.
        entry: the component.
        kind: what takes its place.
    """
    words = _words_of(entry)
    return tuple(
        StaleName(place, of, text, _suggested(text, words, kind))
        for place, of, text in _names(design, entry)
        if any(_speaks_of(text, word) for word in words)
    )


def stale_view_names(
    design: Design, view_name: str, choices: Mapping[str, str]
) -> tuple[StaleName, ...]:
    """Return the names of a view that speak of a component which it has no more.

    Args:
        design: as it is.
        view_name: of the view.
        choices: that it is to make otherwise.
    """
    view = design.view(view_name)
    before = {**design.default_choices, **view.choices}
    was, will = (
        [each for each in design.components if each.when.holds(made)]
        for made in (before, {**before, **choices})
    )
    gone = [each for each in was if each not in will]
    come = [each for each in will if each not in was]
    found: dict[str, StaleName] = {}
    for entry in gone:
        words = _words_of(entry)
        family = component_class(entry.kind).family
        kinds = [each.kind for each in come if component_class(each.kind).family is family]
        for place, of, text in _names_of(view):
            if place not in found and any(_speaks_of(text, word) for word in words):
                suggestion = _suggested(text, words, kinds[0]) if kinds else text
                found[place] = StaleName(place, of, text, suggestion)
    return tuple(found.values())


def _choices_of(entry: ComponentEntry, option: str) -> frozenset[str]:
    """The choices of an option for which a component is there; empty if it depends on others."""
    found: set[str] = set()
    for alternative in entry.when.alternatives:
        if option not in alternative:
            return frozenset()
        found |= {*alternative[option]}
    return frozenset(found)


def _names(design: Design, entry: ComponentEntry) -> Iterator[tuple[str, str, str]]:
    for view in design.views:
        if entry.when.holds({**design.default_choices, **view.choices}):
            yield from _names_of(view)
    for option in design.options:
        own = _choices_of(entry, option.name)
        for choice, title in option.choices.items():
            if choice in own and len(own) < len(option.choices):
                place = f"options.{option.name}.choices.{choice}"
                yield place, f"choice of {option.title.lower()}", title


def _names_of(view: View) -> Iterator[tuple[str, str, str]]:
    yield f"views.{view.name}.title", f"view {view.name}", view.title
    if view.description:
        place = f"views.{view.name}.description"
        yield place, f"description of view {view.name}", view.description


def _words_of(entry: ComponentEntry) -> tuple[str, ...]:
    words = [*entry.kind.split("-"), *entry.name.split("-")]
    return tuple(each for each in dict.fromkeys(words) if each not in _TOO_COMMON)


def _speaks_of(text: str, word: str) -> bool:
    return re.search(rf"\b{re.escape(word)}(?:s|es|less)?\b", text, re.IGNORECASE) is not None


def _suggested(text: str, words: tuple[str, ...], kind: str) -> str:
    """The same with the new kind in the part between commas that speaks of the component."""
    parts = re.split(r"(, | and )", text.rstrip("."))
    for number, part in enumerate(parts):
        if any(_speaks_of(part, word) for word in words):
            if len(part.split()) > MOST_WORDS:
                return text  # it says more than what the component is
            start = "with " if part.startswith("with ") else ""
            several = "s" if part.endswith("s") and not kind.endswith("s") else ""
            parts[number] = f"{start}{kind_called(kind)}{several}"
            break
    found = "".join(parts)
    end = "." if text.endswith(".") else ""
    return f"{found[:1].upper()}{found[1:]}{end}"
