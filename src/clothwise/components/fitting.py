"""A garment on which components are tried: what is wrong with it, and what would be new.

Whether a component goes together with the others is nowhere declared. It is found by drafting the
garment with it and asking a judge for what is wrong then; what was wrong before does not count.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass, replace
from functools import cached_property

from clothwise.components.drafting import draft
from clothwise.components.evaluation import ParameterError
from clothwise.components.offer import Offer
from clothwise.components.refusal_words import in_words
from clothwise.errors import ClothwiseError
from clothwise.pattern.commands.belonging import Leaving
from clothwise.pattern.document.design import Design
from clothwise.pattern.document.value import Choices
from clothwise.pattern.finding import Finding, Severity
from clothwise.pattern.measurements import Body
from clothwise.pattern.pattern import Pattern
from clothwise.units import LengthUnit

__all__ = [
    "EDGE_OPEN",
    "EDIT_LOST",
    "MOST_WRONG_TOLD",
    "Fitting",
    "Judge",
    "Refused",
    "Way",
    "key_of",
    "refuse_used",
    "sentence",
    "told_open",
    "what_of",
    "with_wrong_parameters",
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


class Refused(Exception):
    """Why something does not go together, and what could be done."""

    def __init__(self, what: str, remedy: str = "") -> None:
        super().__init__(what, remedy)
        self.what, self.remedy = what, remedy


@dataclass(frozen=True)
class Way:
    """A way to choose.

    Attributes:
        words: such as `view B`.
        choices: one for every option.
        pieces: of the garment as it is.
    """

    words: str
    choices: Mapping[str, str]
    pieces: frozenset[str]


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
        return frozenset(key_of(each) for each in self.judge(self.pattern, self.body))

    @cached_property
    def others(self) -> tuple[Way, ...]:
        """Other ways to choose with which the garment can be drafted as it is."""
        found = []
        for words, choices in [*_other_ways(self.design, self.choices)][:MOST_WAYS]:
            with suppress(ClothwiseError, KeyError):
                pieces = draft(self.design, self.body, choices).pieces
                found.append(Way(words, choices, frozenset(pieces)))
        return tuple(found)

    def tried(self, design: Design) -> Pattern:
        """Return the garment as it would be.

        Raises:
            Refused: it cannot be drafted.
            ParameterError: a component cannot have a parameter.
        """
        return self._drafted(design, self.choices)

    def _drafted(self, design: Design, choices: Choices) -> Pattern:
        try:
            return draft(design, self.body, choices)
        except ParameterError:
            raise
        except ClothwiseError as error:
            raise Refused(what_of(error), error.what_to_do) from error
        except KeyError as error:
            raise Refused(
                f"what is there has no {error.args[0]}, which it is sewn to",
                "Try it in another place, or with other components.",
            ) from error

    def refuse_wrong(self, pattern: Pattern, *, may_leave_open: bool = False) -> list[str]:
        """Refuse a garment with an error that it has not now; return what else is new, in words.

        Args:
            pattern: of it.
            may_leave_open: whether there may be edges that something else must finish.

        Raises:
            Refused: there is one.
        """
        new = [each for each in self.judge(pattern, self.body) if key_of(each) not in self.known]
        may_be = {EDIT_LOST, *((EDGE_OPEN,) if may_leave_open else ())}
        for each in new:
            if each.severity is Severity.ERROR and each.code not in may_be:
                raise Refused(each.message.rstrip("."), each.remedy)
        open_edges = [each for each in new if each.code == EDGE_OPEN]
        return [
            *told_open(open_edges),
            *(
                sentence(each.message)
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
        found = (way.choices for way in self.others if when.holds(way.choices))
        return replace(self, choices=next(found, self.choices))

    def ways_of(self, design: Design) -> Iterator[tuple[Way, Pattern | str]]:
        """Yield every other way with the garment as it would be, or why it cannot be drafted."""
        for way in self.others:
            try:
                yield way, self._drafted(design, way.choices)
            except Refused as refused:
                yield way, refused.what
            except ParameterError as error:
                yield way, error.faults[0].problem

    def failing(self, design: Design) -> Iterator[tuple[Way, str]]:
        """Yield other ways with which the garment could no longer be drafted, and why."""
        for way, found in self.ways_of(design):
            if isinstance(found, str):
                yield way, found


def refuse_used(leaving: Leaving, what: str) -> None:
    """Refuse to leave what formulas of the rest use.

    Raises:
        Refused: with the first of them.
    """
    try:
        leaving.refuse_used(what)
    except ClothwiseError as error:
        raise Refused(what_of(error), error.what_to_do) from error


def with_wrong_parameters(on: Fitting, kind: str, error: ParameterError) -> Offer:
    """Return an offer that is refused for the first fault of a parameter."""
    fault = error.faults[0]
    return on.refusal(kind, fault.problem, fault.remedy)


def told_open(found: list[Finding]) -> Iterator[str]:
    """Yield that edges are left that something else must finish."""
    if not found:
        return
    edges = [f"{each.edge.replace('-', ' ')} of {each.piece.replace('-', ' ')}" for each in found]
    more = f" and {len(edges) - MOST_WRONG_TOLD} more" if len(edges) > MOST_WRONG_TOLD else ""
    told = ", ".join(edges[:MOST_WRONG_TOLD])
    yield f"Something else has to finish what it leaves open: {told}{more}."


def what_of(error: ClothwiseError) -> str:
    """Return what an error says without a remedy."""
    return f"{error.what} ({error.how_much})" if error.how_much else error.what


def sentence(text: str) -> str:
    """Return a text with a period."""
    return text if text.endswith(".") else f"{text}."


def key_of(finding: Finding) -> tuple[str, str, str, str]:
    """Return what tells a finding from others: its code and its place."""
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
