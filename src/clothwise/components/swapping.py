"""A component exchanged for one of another kind: what of the old one can stay, found by trying."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from clothwise.components.component import Component
from clothwise.components.design_check import parameter_faults
from clothwise.components.design_file import open_design
from clothwise.components.evaluation import ParameterError, ParameterFault
from clothwise.components.family import Family
from clothwise.components.fitting import Fitting, Refused, Way, refuse_used, with_wrong_parameters
from clothwise.components.kept_values import kept_values
from clothwise.components.offer import Offer
from clothwise.components.parameter import Parameter, ParameterKind
from clothwise.components.refusal_words import in_words
from clothwise.components.registry import component_class, kinds
from clothwise.components.stale_names import existing_choice, stale_names
from clothwise.pattern.commands import SwapComponent
from clothwise.pattern.commands.belonging import Leaving
from clothwise.pattern.document.design import ComponentEntry, Design, formula_name
from clothwise.pattern.document.value import Value, leaves
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.plain_names import lost_called, plain_name

__all__ = ["exchangeable", "of_family", "swap", "swapping", "swaps"]

_MOST_TRIES = 4
"""How often parameters are left out that do not suit a new kind."""


def swaps(on: Fitting, name: str) -> Iterator[Offer]:
    """Yield what may stand in the place of a component, and what of its family may not.

    Args:
        on: the garment.
        name: of the component; where it is not there, it is tried with choices for which it is.

    Raises:
        Misuse: there is no such component.
    """
    on = on.where_it_is(name)
    entry = on.design.component(name)
    for kind in exchangeable(entry.kind):
        yield swap(on, name, kind)


def exchangeable(kind: str) -> tuple[str, ...]:
    """Return the other kinds that may be tried in the place of one."""
    family = component_class(kind).family
    if not family.is_exchangeable:
        return ()
    return tuple(each for each in of_family(family) if each != kind)


def swap(on: Fitting, name: str, kind: str) -> Offer:
    """Try another kind in the place of a component.

    Raises:
        Misuse: there is no such component.
        ComponentError: there is no such kind.
    """
    entry = on.design.component(name)
    there = existing_choice(on.design, entry, kind)
    try:
        found = _exchange(on, entry, kind)
        if found.refused is not None:
            raise found.refused
        notes = on.refuse_wrong(on.tried(found.design))
    except Refused as refused:
        return replace(on.refusal(kind, refused.what, refused.remedy), there=there)
    except ParameterError as error:
        return replace(with_wrong_parameters(on, kind, error), there=there)
    told = [
        *kept_values(found.design, on.body, on.choices, name, on.unit or on.design.unit),
        *_told_lost(kind, found.command.without, found.lost),
        *(in_words(note, on.design, on.pattern) for note in notes),
        *(in_words(each, on.design, on.pattern) for each in _told_failing(found.failing)),
    ]
    return Offer(
        kind,
        found.command,
        notes=tuple(told),
        there=there,
        names=stale_names(on.design, entry, kind),
    )


def swapping(documents: Mapping[str, str], name: str, kind: str) -> SwapComponent:
    """Return the command that puts a component of another kind in the place of one, as asked.

    As in an offer, parameters stay where the new kind has them and can take their value, and edits,
    roles, pins and painted copies go with the pieces that are not drafted any more. Unlike there,
    nothing is refused because the garment would be wrong: what follows may have to be changed too.

    Args:
        documents: of the folder of the design.
        name: of the component.
        kind: the new one, from the registry.

    Raises:
        ComponentError: there is no such kind.
        Misuse: there is no such component.
        DocumentError: the design has faults.
        CommandError: a formula needs what would go.
    """
    component_class(kind)
    file = open_design(documents)
    on = Fitting(file.design, file.body(), file.design.chosen(), judge=lambda *_: ())
    on = on.where_it_is(name)
    entry = on.design.component(name)
    try:
        return _exchange(on, entry, kind).command
    except (Refused, ParameterError):
        # The command tells so itself, with every fault and its place, when it is made.
        return SwapComponent(name, kind, _unfit(entry, component_class(kind)))


def of_family(family: Family) -> tuple[str, ...]:
    """Return all kinds of a family, by the alphabet."""
    return tuple(kind for kind in kinds() if component_class(kind).family is family)


@dataclass(frozen=True)
class _Exchange:
    """A kind in the place of another.

    Attributes:
        command: that puts it there.
        design: after it.
        lost: edits and limits that go with the old one.
        failing: other ways with which the garment cannot be drafted any more, and why.
        refused: why it cannot be drafted as it is shown; None if it can.
    """

    command: SwapComponent
    design: Design
    lost: tuple[str, ...] = ()
    failing: tuple[tuple[Way, str], ...] = ()
    refused: Refused | None = None


def _exchange(on: Fitting, entry: ComponentEntry, kind: str) -> _Exchange:
    """Find out what of the old kind can stay.

    Raises:
        Refused: something that stays is worked out from what would go.
        ParameterError: a value is wrong, and leaving it out does not help.
    """
    without, tried, refused = _fitted(on, entry, kind)
    bare = _exchanged(_leaving(on, entry, without, ()), entry.name, kind, is_bare=True)
    ways = tuple(on.ways_of(bare))
    gone = _gone(on, tried, ways) if tried else ()
    leaving = _leaving(on, entry, without, gone)
    design = _exchanged(leaving, entry.name, kind)
    says_more = entry.roles or entry.corners  # of single pieces, which was left aside so far
    return _Exchange(
        SwapComponent(entry.name, kind, without, gone),
        design,
        leaving.lost,
        tuple(on.failing(design))
        if says_more
        else tuple((way, found) for way, found in ways if isinstance(found, str)),
        refused,
    )


def _fitted(
    on: Fitting, entry: ComponentEntry, kind: str
) -> tuple[tuple[str, ...], Pattern | None, Refused | None]:
    """Return the parameters that another kind cannot keep, and the garment with it or why not.

    What the entry says of single pieces is left aside, as it is not known yet which there will be.

    Raises:
        Refused: something that stays is worked out from what would go.
        ParameterError: a value is wrong, and leaving it out does not help.
    """
    without = _unfit(entry, component_class(kind))
    for _ in range(_MOST_TRIES):
        changed = _exchanged(_leaving(on, entry, without, ()), entry.name, kind, is_bare=True)
        faults = [*parameter_faults(changed, on.base or on.body)]
        try:
            if not faults:
                return without, on.tried(changed), None
        except ParameterError as error:
            faults += error.faults
        except Refused as refused:
            return without, None, refused
        more = _own(faults, entry, without)
        if not more:
            raise ParameterError(faults)
        without = (*without, *more)
    raise Refused("too many of its parameters do not suit", "Set them back to their usual values.")


def _gone(
    on: Fitting, tried: Pattern, ways: Iterable[tuple[Way, Pattern | str]]
) -> tuple[str, ...]:
    """Return the pieces that no way to choose has any more."""
    before, after = {*(on.pattern.pieces if on.pattern else ())}, {*tried.pieces}
    for way, found in ways:
        if not isinstance(found, str):
            before |= way.pieces
            after |= {*found.pieces}
    return tuple(sorted(before - after))


def _told_failing(failing: Iterable[tuple[Way, str]]) -> Iterator[str]:
    """Yield with which other choices it could not be drafted any more; each reason once."""
    told: set[str] = set()
    for way, what in failing:
        if what not in told:
            yield f"With {way.words} it cannot be drafted: {what}."
        told.add(what)


def _own(
    faults: Iterable[ParameterFault], entry: ComponentEntry, without: tuple[str, ...]
) -> tuple[str, ...]:
    """Return the parameters of an entry that have faults and can be left out."""
    found = {each.parameter for each in faults if each.component == entry.name}
    return tuple(sorted(found & entry.parameters.keys() - {*without}))


def _unfit(entry: ComponentEntry, new: type[Component]) -> tuple[str, ...]:
    """Return the parameters of an entry that another kind has not, or measures differently."""
    old_ones = component_class(entry.kind).parameters()
    new_ones = new.parameters()
    found = []
    for name, value in entry.parameters.items():
        old, kept = old_ones.get(name), new_ones.get(name)
        is_alike = old is not None and kept is not None and old.kind is kept.kind
        if not is_alike or not _may_be(kept, value):
            found.append(name)
    return tuple(found)


def _may_be(parameter: Parameter | None, value: Value) -> bool:
    """Tell whether all words of a value are among those that may be chosen."""
    if parameter is None or parameter.kind is not ParameterKind.CHOICE:
        return True
    return all(leaf.text in parameter.choices for leaf in leaves(value))


def _leaving(
    on: Fitting, entry: ComponentEntry, without: tuple[str, ...], gone: tuple[str, ...]
) -> Leaving:
    """Return what leaves the design with a kind.

    Raises:
        Refused: something that stays is worked out from it.
    """
    parameters = frozenset(formula_name(f"{entry.name}_{each}") for each in without)
    leaving = Leaving(on.design, frozenset(), frozenset(gone), parameters).whole()
    refuse_used(leaving, "what it would leave out")
    return leaving


def _exchanged(leaving: Leaving, name: str, kind: str, *, is_bare: bool = False) -> Design:
    design = leaving.rest()
    new = replace(design.component(name), kind=kind)
    if is_bare:
        new = replace(new, roles={}, corners=())
    return _with(design, name, new)


def _with(design: Design, name: str, new: ComponentEntry) -> Design:
    components = tuple(new if each.name == name else each for each in design.components)
    return replace(design, components=components)


def _told_lost(kind: str, without: tuple[str, ...], lost: tuple[str, ...]) -> Iterator[str]:
    known = component_class(kind).parameters()
    useless = ", ".join(plain_name(each) for each in without if each not in known)
    unsuited = ", ".join(plain_name(each) for each in without if each in known)
    if useless:
        yield f"It has no use for {useless}: what was said about that is left out."
    if unsuited:
        yield f"What was said about {unsuited} does not suit it: that becomes as usual."
    if lost:
        yield f"With the old one goes {', '.join(lost_called(each) for each in lost)}."
