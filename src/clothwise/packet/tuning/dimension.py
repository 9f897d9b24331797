"""What a search for less cloth may turn: the limits of a design, as lists of values to try."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import islice, product
from typing import TypeAlias

from clothwise.components import MakeFile
from clothwise.components.adjusting import adjustable, limit_title
from clothwise.pattern.document.limit import (
    ValueLimit,
    adjustment_of,
    adjustment_text,
    format_adjustment,
)
from clothwise.pattern.quantity import QuantityKind
from clothwise.units import LengthUnit

__all__ = ["MOST_WAYS", "Dimension", "Point", "dimensions_of", "make_at", "start_of"]

_SAME = 1e-9
MOST_WAYS = 32
"""Combinations of options that are looked at to see what may be there. Our own choice."""

Point: TypeAlias = tuple[int, ...]
"""The number of the value that each dimension has."""


@dataclass(frozen=True)
class Dimension:
    """One limit of a design, as values to try.

    Attributes:
        limit: of the design.
        title: how it is called in sentences.
        amounts: changes of the design's value from low to high, in mm, radians or plain numbers;
            empty for an option.
        start: the number of the value that the make has.
        choice_titles: of an option, by its choices.
        kind: what the amounts measure.
    """

    limit: ValueLimit
    title: str
    amounts: tuple[float, ...] = ()
    start: int = 0
    choice_titles: tuple[str, ...] = ()
    kind: QuantityKind = QuantityKind.NUMBER

    @property
    def name(self) -> str:
        """Of the limit."""
        return self.limit.name

    @property
    def is_choice(self) -> bool:
        """Whether it is an option rather than a measure."""
        return bool(self.limit.choices)

    @property
    def size(self) -> int:
        """How many values there are."""
        return len(self.limit.choices) if self.is_choice else len(self.amounts)

    @property
    def ends(self) -> tuple[int, ...]:
        """The values furthest from the start: both ends, or every other choice."""
        if self.is_choice:
            return tuple(number for number in range(self.size) if number != self.start)
        return tuple(dict.fromkeys(n for n in (0, self.size - 1) if n != self.start))

    def a_little(self, share: float) -> tuple[int, ...]:
        """The values a share of the way to each end, one step at least; every other choice."""
        if self.is_choice:
            return self.ends
        return tuple(self.start + _part(end - self.start, share) for end in self.ends)

    def change(self, number: int) -> float:
        """How much more than at the start a value is; 0 for options."""
        return 0.0 if self.is_choice else self.amounts[number] - self.amounts[self.start]

    def told(self, number: int, unit: LengthUnit) -> str:
        """A change in words: `8 mm less flare`, `collar: none instead of two-piece`."""
        if self.is_choice:
            return (
                f"{self.title}: {self.choice_titles[number]} instead of "
                f"{self.choice_titles[self.start]}"
            )
        change = self.change(number)
        amount = format_adjustment(abs(change), self.kind, unit)
        return f"{amount} {'less' if change < 0 else 'more'} {self.title}"


def dimensions_of(file: MakeFile) -> tuple[Dimension, ...]:
    """Return what may be changed of a make: each limit of its design that concerns it.

    Limits of components and edits that are not there, with the choices of the make or those that
    limits allow in their place, are left out; so are options of which the make has a choice that
    the limit does not name.
    """
    return tuple(_dimensions(file))


def start_of(dimensions: Sequence[Dimension]) -> Point:
    """Return the values that the make has."""
    return tuple(dimension.start for dimension in dimensions)


def make_at(file: MakeFile, dimensions: Sequence[Dimension], point: Point) -> MakeFile:
    """Return the make with other values; changes that the search does not turn stay."""
    adjust, choices = dict(file.make.adjust), dict(file.make.choices)
    for dimension, number in zip(dimensions, point, strict=True):
        if number == dimension.start:
            continue
        if dimension.is_choice:
            choices[dimension.name] = dimension.limit.choices[number]
            continue
        amount = dimension.amounts[number]
        adjust[dimension.name] = adjustment_text(amount, dimension.kind)
        if abs(amount) < _SAME:
            del adjust[dimension.name]
    return replace(file, make=replace(file.make, adjust=adjust, choices=choices))


def _dimensions(file: MakeFile) -> Iterator[Dimension]:
    design, choices = file.of.design, file.choices
    possible = _possible_choices(file)
    for limit in design.limits:
        title = limit_title(design, limit)
        if limit.choices:
            option = design.option(limit.name)
            chosen = choices[limit.name]
            if option is not None and chosen in limit.choices:
                titles = tuple(option.choices[each].lower() for each in limit.choices)
                yield Dimension(limit, title, (), limit.choices.index(chosen), titles)
            continue
        found = adjustable(design, limit.name)
        there = found is not None and (
            found.entry is None or any(found.entry.when.holds(each) for each in possible)
        )
        if not there:
            continue
        span = limit.span
        stated = file.make.adjust.get(limit.name)
        now = adjustment_of(stated).value if stated else 0.0
        amounts = sorted({*(each for each in span.amounts if abs(each - now) > _SAME), now})
        yield Dimension(limit, title, tuple(amounts), amounts.index(now), (), span.kind)


def _possible_choices(file: MakeFile) -> tuple[dict[str, str], ...]:
    """The choices of the make, and those that its limits allow in their place."""
    turned = [limit for limit in file.of.design.limits if limit.choices]
    ways = islice(product(*(limit.choices for limit in turned)), MOST_WAYS)
    names = [limit.name for limit in turned]
    others = ({**file.choices, **dict(zip(names, way, strict=True))} for way in ways)
    return (file.choices, *others)


def _part(steps: int, share: float) -> int:
    size = max(1, round(abs(steps) * share))
    return size if steps > 0 else -size
