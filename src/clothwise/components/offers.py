"""What may be exchanged, added and taken away: tried on, and offered or refused in words.

Whether a component goes together with the others is nowhere declared. It is found by drafting the
garment with it and asking a judge for what is wrong then; what was wrong before does not count.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from clothwise.components.component import Component
from clothwise.components.design_check import parameter_faults
from clothwise.components.drafting import component_of, draft
from clothwise.components.evaluation import ParameterError, ParameterFault
from clothwise.components.family import Family
from clothwise.components.kept_values import kept_values
from clothwise.components.parameter import Parameter, ParameterKind
from clothwise.components.refusal_words import in_words
from clothwise.components.registry import component_class, kinds
from clothwise.components.stale_names import StaleName, existing_choice, stale_names
from clothwise.errors import ClothwiseError
from clothwise.pattern.commands import AddComponent, Command, RemoveComponents, SwapComponent
from clothwise.pattern.commands.belonging import Leaving
from clothwise.pattern.document.design import ComponentEntry, Design, formula_name
from clothwise.pattern.document.value import Choices, Requirement, Value, leaves
from clothwise.pattern.finding import Finding, Severity
from clothwise.pattern.measurements import Body
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.plain_names import lost_called, plain_name
from clothwise.units import LengthUnit

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

Judge = Callable[[Pattern, Body], Iterable[Finding]]
"""Finds what is wrong with a pattern; `clothwise.checks.check` is one."""

MOST_WAYS = 12
"""Other ways to choose that an offer is tried with: each costs a draft of 20 to 60 ms."""

MOST_WRONG_TOLD = 3
"""Of what is wrong once something is taken away; the rest is counted."""

EDGE_OPEN, EDIT_LOST = "EDGE-UNUSED", "EDIT-LOST"
"""Codes of findings that are no reason against something: what is built up, part by part, has edges
that wait for the next one, and an edit that is lost can be made anew."""

_MOST_TRIES = 4
"""How often parameters are left out that do not suit a new kind."""


@dataclass(frozen=True)
class Offer:
    """A component that may be put in; or, if it is refused, why not.

    Attributes:
        kind: from the registry.
        command: that puts it in; None if it is refused.
        refused: why it does not go together with the rest, without a period.
        remedy: what could be done about that, in whole sentences.
        notes: what else comes of it, in whole sentences.
        there: options, and the choice of each, with which the design has it already.
        names: of views and choices that speak of what it takes the place of.
    """

    kind: str
    command: Command | None = None
    refused: str = ""
    remedy: str = ""
    notes: tuple[str, ...] = ()
    there: tuple[tuple[str, str], ...] = ()
    names: tuple[StaleName, ...] = ()


@dataclass(frozen=True)
class Removal:
    """What goes if a component is taken away; or why it cannot.

    Attributes:
        names: the component and those that cannot be drafted without it, in the order of drafting.
        command: that takes them away; None if it is refused.
        lost: edits and limits that go with them, `the edit cut-front`.
        refused, remedy, notes: as of an `Offer`.
    """

    names: tuple[str, ...]
    command: Command | None = None
    lost: tuple[str, ...] = ()
    refused: str = ""
    remedy: str = ""
    notes: tuple[str, ...] = ()


class _Refused(Exception):
    """Why something does not go together, and what could be done."""

    def __init__(self, what: str, remedy: str = "") -> None:
        super().__init__(what, remedy)
        self.what, self.remedy = what, remedy


@dataclass(frozen=True)
class Fitting:
    """A garment on which components are tried.

    Attributes:
        design: as it is.
        body: for which it is drafted.
        choices: one for every option.
        judge: finds what is wrong.
        base: the body for which the values of the design must be right; None for `body`.
        unit: in which lengths are told; None for that of the design.
    """

    design: Design
    body: Body
    choices: Choices
    judge: Judge
    base: Body | None = None
    unit: LengthUnit | None = None

    @cached_property
    def pattern(self) -> Pattern | None:
        """The garment as it is; None if it cannot be drafted."""
        try:
            return draft(self.design, self.body, self.choices)
        except ClothwiseError:
            return None

    @cached_property
    def known(self) -> frozenset[tuple[str, str, str, str]]:
        """What is wrong as it is."""
        if self.pattern is None:
            return frozenset()
        return frozenset(_key(each) for each in self.judge(self.pattern, self.body))

    @cached_property
    def others(self) -> tuple[tuple[str, dict[str, str]], ...]:
        """Other ways to choose, in words, with which the garment can be drafted as it is."""
        ways = list(_other_ways(self.design, self.choices))[:MOST_WAYS]
        return tuple(way for way in ways if self._is_drafted(self.design, way[1]))

    def _is_drafted(self, design: Design, choices: Choices) -> bool:
        try:
            draft(design, self.body, choices)
        except (ClothwiseError, KeyError):
            return False
        return True

    def tried(self, design: Design) -> Pattern:
        """Return the garment as it would be.

        Raises:
            _Refused: it cannot be drafted.
            ParameterError: a component cannot have a parameter.
        """
        return self._drafted(design, self.choices)

    def _drafted(self, design: Design, choices: Choices) -> Pattern:
        try:
            return draft(design, self.body, choices)
        except ParameterError:
            raise
        except ClothwiseError as error:
            raise _Refused(_what(error), error.what_to_do) from error
        except KeyError as error:
            raise _Refused(
                f"what is there has no {error.args[0]}, which it is sewn to",
                "Try it in another place, or with other components.",
            ) from error

    def refuse_wrong(self, pattern: Pattern, *, may_leave_open: bool = False) -> list[str]:
        """Refuse a garment with an error that it has not now; return what else is new, in words.

        Args:
            pattern: of it.
            may_leave_open: whether there may be edges that something else must finish.

        Raises:
            _Refused: there is one.
        """
        new = [each for each in self.judge(pattern, self.body) if _key(each) not in self.known]
        may_be = {EDIT_LOST, *((EDGE_OPEN,) if may_leave_open else ())}
        for each in new:
            if each.severity is Severity.ERROR and each.code not in may_be:
                raise _Refused(each.message.rstrip("."), each.remedy)
        open_edges = [each for each in new if each.code == EDGE_OPEN]
        return [
            *_told_open(open_edges),
            *(
                _sentence(each.message)
                for each in new
                if each.code == EDIT_LOST or each.severity is Severity.WARNING
            ),
        ]

    def refusal(self, kind: str, what: str, remedy: str) -> Offer:
        """Return an offer that is refused, in words."""
        refused, way = (in_words(each, self.design, self.pattern) for each in (what, remedy))
        return Offer(kind, refused=refused, remedy=way)

    def where_it_is(self, name: str) -> Fitting:
        """Return a fitting with choices for which a component is there, these if it can be."""
        when = self.design.component(name).when
        if when.holds(self.choices):
            return self
        found = (choices for _, choices in self.others if when.holds(choices))
        return replace(self, choices=next(found, self.choices))

    def failing(self, design: Design) -> Iterator[tuple[str, dict[str, str], str]]:
        """Yield other ways to choose with which the garment could no longer be drafted, and why."""
        for words, choices in self.others:
            try:
                self._drafted(design, choices)
            except _Refused as refused:
                yield words, choices, refused.what
            except ParameterError as error:
                yield words, choices, error.faults[0].problem


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
        without = _unfit(entry, component_class(kind))
        tried, without = _fitted(on, entry, kind, without)
        gone = _gone(on, tried, entry.name)
        leaving = _leaving(on, entry, without, gone)
        changed = _exchanged(leaving, entry.name, kind)
        notes = on.refuse_wrong(on.tried(changed))
    except _Refused as refused:
        return replace(on.refusal(kind, refused.what, refused.remedy), there=there)
    except ParameterError as error:
        return replace(_with_wrong_parameters(on, kind, error), there=there)
    kept = kept_values(changed, on.body, on.choices, name, on.unit or on.design.unit)
    told = [
        *kept,
        *_told_lost(kind, without, leaving.lost),
        *(in_words(note, on.design, on.pattern) for note in notes),
        *(in_words(each, on.design, on.pattern) for each in _told_failing(on, changed)),
    ]
    return Offer(
        kind,
        SwapComponent(entry.name, kind, without, gone),
        notes=tuple(told),
        there=there,
        names=stale_names(on.design, entry, kind),
    )


def additions(on: Fitting, family: Family) -> Iterator[Offer]:
    """Yield what of a family may be added, and what may not."""
    for kind in of_family(family):
        yield addition(on, kind)


def addition(on: Fitting, kind: str) -> Offer:
    """Try a component in one place after the other, the likeliest first.

    Raises:
        ComponentError: there is no such kind.
    """
    name = _new_name(on.design, kind)
    first: Offer | None = None
    for after in _places(on.design, component_class(kind).family):
        offer = _added(on, AddComponent(name, kind, after=after))
        if offer.command is not None:
            return offer
        first = first or offer
    assert first is not None
    return first


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
    except _Refused as refused:
        said = on.refusal("", refused.what, refused.remedy)
        return Removal(_ordered(on.design, names), None, (), said.refused, said.remedy)
    found = _ordered(on.design, names)
    words = tuple(map(lost_called, lost))
    notes = tuple(in_words(note, on.design, on.pattern) for note in notes)
    return Removal(found, RemoveComponents(found), words, notes=notes)


def of_family(family: Family) -> tuple[str, ...]:
    """Return all kinds of a family, by the alphabet."""
    return tuple(kind for kind in kinds() if component_class(kind).family is family)


# Exchanging


def _told_failing(on: Fitting, changed: Design) -> Iterator[str]:
    """Yield with which other choices it could not be drafted any more; each reason once."""
    told: set[str] = set()
    for words, _, what in on.failing(changed):
        if what not in told:
            yield f"With {words} it cannot be drafted: {what}."
        told.add(what)


def _fitted(
    on: Fitting, entry: ComponentEntry, kind: str, without: tuple[str, ...]
) -> tuple[Pattern, tuple[str, ...]]:
    """Return the garment with another kind, and the parameters that it cannot keep.

    What the entry says of single pieces is left aside, as it is not known yet which there will be.
    """
    for _ in range(_MOST_TRIES):
        changed = _exchanged(_leaving(on, entry, without, ()), entry.name, kind, is_bare=True)
        faults = [*parameter_faults(changed, on.base or on.body)]
        try:
            pattern = None if faults else on.tried(changed)
        except ParameterError as error:
            faults += error.faults
        if pattern is not None:
            return pattern, without
        more = _own(faults, entry, without)
        if not more:
            raise ParameterError(faults)
        without = (*without, *more)
    raise _Refused("too many of its parameters do not suit", "Set them back to their usual values.")


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
        _Refused: something that stays is worked out from it.
    """
    parameters = frozenset(formula_name(f"{entry.name}_{each}") for each in without)
    leaving = Leaving(on.design, frozenset(), frozenset(gone), parameters).whole()
    _refuse_used(leaving, "what it would leave out")
    return leaving


def _exchanged(leaving: Leaving, name: str, kind: str, *, is_bare: bool = False) -> Design:
    design = leaving.rest()
    new = replace(design.component(name), kind=kind)
    if is_bare:
        new = replace(new, roles={}, corners=())
    return _with(design, name, new)


def _gone(on: Fitting, tried: Pattern, name: str) -> tuple[str, ...]:
    if on.pattern is None:
        return ()
    return tuple(
        each.name
        for each in on.pattern.pieces.values()
        if each.component == name and each.name not in tried.pieces
    )


# Adding


def _added(on: Fitting, command: AddComponent) -> Offer:
    kind = command.component
    try:
        changed = _with_addition(on.design, command)
        notes = _beside(on, changed, kind)
        failing = list(on.failing(changed))
        if failing:
            command, words = _only_here(on, command, [choices for _, choices, _ in failing])
            notes.append(words)
            changed = _with_addition(on.design, command)
            for way, _, what in on.failing(changed):
                raise _Refused(f"with {way}: {what}")
    except _Refused as refused:
        return on.refusal(kind, refused.what, refused.remedy)
    except ParameterError as error:
        return _with_wrong_parameters(on, kind, error)
    told = tuple(in_words(note, on.design, on.pattern) for note in notes)
    return Offer(kind, command, notes=told)


def _beside(on: Fitting, changed: Design, kind: str) -> list[str]:
    """Return what comes of an addition, in words; something else may have to finish its edges.

    Raises:
        _Refused: the garment has a new error; or edges are left open beside what is there already
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


def _told_open(found: list[Finding]) -> Iterator[str]:
    """Yield that edges are left that something else must finish."""
    if not found:
        return
    edges = [f"{each.edge.replace('-', ' ')} of {each.piece.replace('-', ' ')}" for each in found]
    more = f" and {len(edges) - MOST_WRONG_TOLD} more" if len(edges) > MOST_WRONG_TOLD else ""
    told = ", ".join(edges[:MOST_WRONG_TOLD])
    yield f"Something else has to finish what it leaves open: {told}{more}."


def _only_here(
    on: Fitting, command: AddComponent, failing: list[dict[str, str]]
) -> tuple[AddComponent, str]:
    """Return the addition for the one choice that tells these choices from those that fail."""
    for option in on.design.options:
        here = on.choices[option.name]
        if all(choices[option.name] != here for choices in failing):
            words = f"It is there only with {option.title.lower()}: {option.choices[here]}."
            return replace(command, when={option.name: (here,)}), words
    raise _Refused(
        "it goes together with what is shown, but not with other choices of this design",
        "Take away what stands in its place with those, or choose those and look what is wrong.",
    )


def _with_addition(design: Design, command: AddComponent) -> Design:
    when = Requirement((dict(command.when),)) if command.when else Requirement()
    entry = ComponentEntry(command.name, command.component, when=when)
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
    ways = [*([("", dict(on.choices))] if on.pattern else []), *on.others]
    while True:
        leaving = Leaving(on.design, frozenset(names)).whole()
        rest = leaving.rest()
        if not rest.components:
            raise _Refused(
                "nothing would be left of the design",
                "Add what should take its place first, or exchange it.",
            )
        _refuse_used(leaving, "it")
        more = next((each for _, way in ways if (each := _needing(on, rest, way))), "")
        if not more:
            return rest, leaving.lost
        names.append(more)


def _needing(on: Fitting, rest: Design, choices: Choices) -> str:
    """Return a component that cannot be drafted with the rest; empty if all can."""
    try:
        draft(rest, on.body, choices)
    except ParameterError as error:
        raise _Refused(error.faults[0].problem, error.faults[0].remedy) from error
    except ClothwiseError as error:
        found = component_of(error)
        if found not in {each.name for each in rest.components}:
            raise _Refused(_what(error), error.what_to_do) from error
        return found
    except KeyError as error:
        raise _Refused(f"the rest needs its {error.args[0]}") from error
    return ""


def _after_removal(on: Fitting, rest: Design) -> Iterator[str]:
    """Yield what is wrong then: no reason against it, for something else may be put there."""
    wrong = [
        each
        for each in on.judge(on.tried(rest), on.body)
        if _key(each) not in on.known and each.severity is Severity.ERROR
    ]
    open_edges = [each for each in wrong if each.code == EDGE_OPEN]
    yield from _told_open(open_edges)
    others = [each for each in wrong if each.code not in (EDGE_OPEN, EDIT_LOST)]
    for each in others[:MOST_WRONG_TOLD]:
        yield _sentence(each.message)
    if len(others) > MOST_WRONG_TOLD:
        yield f"And {len(others) - MOST_WRONG_TOLD} more like that."


def _ordered(design: Design, names: Iterable[str]) -> tuple[str, ...]:
    wanted = {*names}
    return tuple(each.name for each in design.components if each.name in wanted)


# What all of them need


def _with(design: Design, name: str, new: ComponentEntry) -> Design:
    components = tuple(new if each.name == name else each for each in design.components)
    return replace(design, components=components)


def _refuse_used(leaving: Leaving, what: str) -> None:
    try:
        leaving.refuse_used(what)
    except ClothwiseError as error:
        raise _Refused(_what(error), error.what_to_do) from error


def _with_wrong_parameters(on: Fitting, kind: str, error: ParameterError) -> Offer:
    fault = error.faults[0]
    return on.refusal(kind, fault.problem, fault.remedy)


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


def _what(error: ClothwiseError) -> str:
    return f"{error.what} ({error.how_much})" if error.how_much else error.what


def _sentence(text: str) -> str:
    return text if text.endswith(".") else f"{text}."


def _key(finding: Finding) -> tuple[str, str, str, str]:
    return finding.code, finding.piece, finding.edge, finding.seam


def _other_ways(design: Design, choices: Choices) -> Iterator[tuple[str, dict[str, str]]]:
    """Yield the views, then every other choice of one option; none twice, none that contradict."""
    seen: list[Mapping[str, str]] = [choices]
    ways = [
        (f"view {view.name}", {**design.default_choices, **view.choices}) for view in design.views
    ]
    for option in design.options:
        for choice, title in option.choices.items():
            ways.append((f"{option.title.lower()}: {title}", {**choices, option.name: choice}))
    for words, way in ways:
        if way not in seen and not list(design.problems_of(way)):
            seen.append(way)
            yield words, way
