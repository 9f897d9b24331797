"""What may be added and taken away, as it is tried on a garment; what may be exchanged: `swapping`.

An addition is tried in one place after the other; what cannot be drafted without a component goes
with it when that is taken away.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from clothwise.components.drafting import component_of, draft
from clothwise.components.evaluation import ParameterError
from clothwise.components.family import Family
from clothwise.components.fitting import (
    EDGE_OPEN,
    EDIT_LOST,
    MOST_WRONG_TOLD,
    Fitting,
    Judge,
    Refused,
    key_of,
    refuse_used,
    sentence,
    told_open,
    what_of,
    with_wrong_parameters,
)
from clothwise.components.offer import Offer, Removal
from clothwise.components.refusal_words import in_words
from clothwise.components.registry import component_class
from clothwise.components.swapping import exchangeable, of_family, swap, swaps
from clothwise.errors import ClothwiseError
from clothwise.pattern.commands import AddComponent, RemoveComponents
from clothwise.pattern.commands.belonging import Leaving
from clothwise.pattern.document.design import ComponentEntry, Design
from clothwise.pattern.document.value import Choices, Requirement
from clothwise.pattern.enumerated import enumerated
from clothwise.pattern.finding import Severity
from clothwise.pattern.plain_names import lost_called, plain_name

__all__ = [
    "Fitting",
    "Judge",
    "Offer",
    "Removal",
    "addition",
    "additions",
    "exchangeable",
    "of_family",
    "removal",
    "swap",
    "swaps",
]


def additions(on: Fitting, family: Family) -> Iterator[Offer]:
    """Yield what of a family may be added, and what may not."""
    for kind in of_family(family):
        yield addition(on, kind)


def addition(on: Fitting, kind: str) -> Offer:
    """Try a component in one place after the other, the likeliest first.

    Where it has no place as it usually is, it is tried with other values that its kind names.

    Raises:
        ComponentError: there is no such kind.
    """
    name = _new_name(on.design, kind)
    of_kind = component_class(kind)
    first: Offer | None = None
    for values in ({}, *of_kind.tried_with):
        for after in _places(on.design, of_kind.family):
            offer = _added(on, AddComponent(name, kind, parameters=values, after=after))
            if offer.command is not None:
                return replace(offer, notes=(*_told_values(values), *offer.notes))
            first = first or offer
    assert first is not None
    return first


def _told_values(values: Mapping[str, str]) -> Iterator[str]:
    """With which values it is added, if not with its usual ones."""
    if values:
        told = enumerated([f"{plain_name(key)} {value}" for key, value in values.items()])
        yield f"It is added with {told}; all of it can be changed then."


def removal(on: Fitting, name: str) -> Removal:
    """Find out what must go with a component: what cannot be drafted without it goes too.

    Raises:
        Misuse: there is no such component.
    """
    on.design.component(name)
    names = [name]
    try:
        rest, lost = _without(on, names)
        notes: tuple[str, ...] = ()
        if on.pattern is not None:
            notes = tuple(_after_removal(on, rest))
    except Refused as refused:
        said = on.refusal("", refused.what, refused.remedy)
        return Removal(_ordered(on.design, names), None, (), said.refused, said.remedy)
    found = _ordered(on.design, names)
    words = tuple(map(lost_called, lost))
    notes = tuple(in_words(note, on.design, on.pattern) for note in notes)
    return Removal(found, RemoveComponents(found), words, notes=notes)


# Adding


def _added(on: Fitting, command: AddComponent) -> Offer:
    kind = command.component
    try:
        changed = _with_addition(on.design, command)
        notes = _beside(on, changed, kind)
        failing = list(on.failing(changed))
        if failing:
            command, words = _only_here(on, command, [way.choices for way, _ in failing])
            notes.append(words)
            changed = _with_addition(on.design, command)
            for way, what in on.failing(changed):
                raise Refused(f"with {way.words}: {what}")
    except Refused as refused:
        return on.refusal(kind, refused.what, refused.remedy)
    except ParameterError as error:
        return with_wrong_parameters(on, kind, error)
    told = tuple(in_words(note, on.design, on.pattern) for note in notes)
    return Offer(kind, command, notes=told)


def _beside(on: Fitting, changed: Design, kind: str) -> list[str]:
    """Return what comes of an addition, in words; something else may have to finish its edges.

    Raises:
        Refused: the garment has a new error; or edges are left open beside what is there already
            of something of which a garment has one.
    """
    pattern = on.tried(changed)
    family = component_class(kind).family
    there = [
        each.name
        for each in on.design.components
        if component_class(each.kind).family is family and each.when.holds(on.choices)
    ]
    if not (family.stands_alone and there):
        return on.refuse_wrong(pattern, may_leave_open=True)
    told = f"It comes beside {there[0]}, not in its place; to have it there, exchange that one."
    return [told, *on.refuse_wrong(pattern)]


def _only_here(
    on: Fitting, command: AddComponent, failing: list[Mapping[str, str]]
) -> tuple[AddComponent, str]:
    """Return the addition for the one choice that tells these choices from those that fail."""
    for option in on.design.options:
        here = on.choices[option.name]
        if all(choices[option.name] != here for choices in failing):
            words = f"It is there only with {option.title.lower()}: {option.choices[here]}."
            return replace(command, when={option.name: (here,)}), words
    raise Refused(
        "it goes together with what is shown, but not with other choices of this design",
        "Take away what stands in its place with those, or choose those and look what is wrong.",
    )


def _with_addition(design: Design, command: AddComponent) -> Design:
    when = Requirement((dict(command.when),)) if command.when else Requirement()
    parameters = dict(command.parameters)
    entry = ComponentEntry(command.name, command.component, parameters, when=when)
    names = [each.name for each in design.components]
    at = names.index(command.after) + 1 if command.after else len(names)
    components = (*design.components[:at], entry, *design.components[at:])
    return replace(design, components=components)


def _places(design: Design, family: Family) -> list[str]:
    """Return after which components something may be tried; the likeliest first, "" the end."""
    families = {each.name: component_class(each.kind).family for each in design.components}
    before = [name for name, each in families.items() if each.rank <= family.rank]
    hosts = [
        name
        for name, each in families.items()
        if each in (Family.BODICE, Family.FRONT, Family.SKIRT)
    ]
    last = list(families)[-1]
    likely = before[-1] if before and before[-1] != last else ""
    return list(dict.fromkeys([likely, "", *(name for name in hosts if name != last)]))


def _new_name(design: Design, kind: str) -> str:
    """Return a name: the last word of the kind, the whole kind, or that with a number."""
    taken = {each.name for each in design.entries}
    wishes = [kind.rpartition("-")[2], kind, *(f"{kind}-{number}" for number in range(2, 100))]
    return next(wish for wish in wishes if wish not in taken)


# Taking away


def _without(on: Fitting, names: list[str]) -> tuple[Design, tuple[str, ...]]:
    """Return the design without components, and what is lost; adds to `names` what must go too."""
    ways = [*([on.choices] if on.pattern else []), *(way.choices for way in on.others)]
    while True:
        leaving = Leaving(on.design, frozenset(names)).whole()
        rest = leaving.rest()
        if not rest.components:
            raise Refused(
                "nothing would be left of the design",
                "Add what should take its place first, or exchange it.",
            )
        refuse_used(leaving, "it")
        more = next((each for way in ways if (each := _needing(on, rest, way))), "")
        if not more:
            return rest, leaving.lost
        names.append(more)


def _needing(on: Fitting, rest: Design, choices: Choices) -> str:
    """Return a component that cannot be drafted with the rest; empty if all can."""
    try:
        draft(rest, on.body, choices)
    except ParameterError as error:
        raise Refused(error.faults[0].problem, error.faults[0].remedy) from error
    except ClothwiseError as error:
        found = component_of(error)
        if found not in {each.name for each in rest.components}:
            raise Refused(what_of(error), error.what_to_do) from error
        return found
    except KeyError as error:
        raise Refused(f"the rest needs its {error.args[0]}") from error
    return ""


def _after_removal(on: Fitting, rest: Design) -> Iterator[str]:
    """Yield what is wrong then: no reason against it, for something else may be put there."""
    wrong = [
        each
        for each in on.judge(on.tried(rest), on.body)
        if key_of(each) not in on.known and each.severity is Severity.ERROR
    ]
    open_edges = [each for each in wrong if each.code == EDGE_OPEN]
    yield from told_open(open_edges)
    others = [each for each in wrong if each.code not in (EDGE_OPEN, EDIT_LOST)]
    for each in others[:MOST_WRONG_TOLD]:
        yield sentence(each.message)
    if len(others) > MOST_WRONG_TOLD:
        yield f"And {len(others) - MOST_WRONG_TOLD} more like that."


def _ordered(design: Design, names: Iterable[str]) -> tuple[str, ...]:
    wanted = {*names}
    return tuple(each.name for each in design.components if each.name in wanted)
