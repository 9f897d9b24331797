"""What a change of a design did, in one line: pieces, seams, steps, cloth.

Told from the pattern before and the pattern after, so that it is said of any change whatever.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from clothwise.cutting import Effort, Requirement
from clothwise.cutting.keeping import Searching, search_layout
from clothwise.packet.making import Making
from clothwise.pattern import Pattern, Piece, Seam
from clothwise.pattern.first_letter import lowered
from clothwise.units import LengthUnit, amount_to_buy, format_length
from clothwise.work import plan

__all__ = ["PatternChange", "cloth_change", "pattern_change", "requirements"]

LEAST_TOLD_MM = 0.5
"""A seam that changes by less is called the same: nobody cuts more exactly."""

MOST_NAMED = 3
"""So many pieces or seams are named, the others counted; our own choice."""


@dataclass(frozen=True)
class PatternChange:
    """What became of a pattern, in words; a part without a change is empty."""

    pieces: str
    seams: str
    steps: str

    @property
    def parts(self) -> tuple[str, ...]:
        """Those that say something."""
        return tuple(part for part in (self.pieces, self.seams, self.steps) if part)


def pattern_change(before: Pattern, after: Pattern, unit: LengthUnit) -> PatternChange:
    """Compare two patterns of one design for one body.

    Raises:
        WorkError: an order of work cannot be planned.
    """
    return PatternChange(_pieces(before, after), _seams(before, after, unit), _steps(before, after))


def cloth_change(
    before: Sequence[tuple[str, Requirement]],
    after: Sequence[tuple[str, Requirement]],
    unit: LengthUnit,
) -> str:
    """Tell what to buy, against what it was before; empty if it is the same.

    Both come from quick layouts, so both are called rough.
    """
    old = dict(before)
    told = []
    for title, needed in after:
        amount, was = _amount(needed, unit), old.get(title)
        if was is None:
            told.append(f"{title} {amount}, new")
        elif amount != _amount(was, unit):
            told.append(f"{title} {amount}, before {_amount(was, unit)}")
    names = {title for title, _ in after}
    told += [f"no more {title}" for title in old if title not in names]
    return f"cloth, roughly: {'; '.join(told)}" if told else ""


def requirements(
    making: Making, cancelled: Callable[[], bool] | None = None
) -> tuple[tuple[str, Requirement], ...]:
    """What to buy of each fabric, by its title, laid in rows only; nothing is kept.

    Raises:
        CuttingError: a piece does not fit on its fabric, or nobody wants to know any more.
    """
    how = Searching(Effort(0, 0), making.file.make.seed, cancelled=cancelled)
    found = []
    for name in dict.fromkeys(line.fabric for line in making.cutting_list):
        question = making.question(name)
        making.refuse_wide(question)
        cloth = making.planned(name, question, search_layout(question, how))
        found.append((cloth.title, cloth.requirement))
    return tuple(found)


def _pieces(before: Pattern, after: Pattern) -> str:
    new = [piece for name, piece in after.pieces.items() if name not in before.pieces]
    gone = [piece for name, piece in before.pieces.items() if name not in after.pieces]
    other = [
        piece
        for name, piece in after.pieces.items()
        if name in before.pieces and before.pieces[name] != piece
    ]
    parts = [
        f"{word}: {_named(_title(piece) for piece in some)}"
        for word, some in (("new", new), ("gone", gone), ("changed", other))
        if some
    ]
    return "; ".join(parts)


def _seams(before: Pattern, after: Pattern, unit: LengthUnit) -> str:
    changes = []
    for name, seam in after.seams.items():
        if name in before.seams:
            by_mm = _length(after, seam) - _length(before, before.seams[name])
            if abs(by_mm) >= LEAST_TOLD_MM and _told(by_mm, unit) != _told(0.0, unit):
                changes.append((by_mm, seam))
    changes.sort(key=lambda change: -abs(change[0]))
    words = [
        f"{seam.title} {_told(by_mm, unit)} {'longer' if by_mm > 0 else 'shorter'}"
        for by_mm, seam in changes
    ]
    new = sum(name not in before.seams for name in after.seams)
    gone = sum(name not in after.seams for name in before.seams)
    counts = [
        f"{number} seam{'s' if number > 1 else ''} {word}"
        for number, word in ((new, "more"), (gone, "fewer"))
        if number
    ]
    return "; ".join([*counts, *([_named(words)] if words else [])])


def _told(by_mm: float, unit: LengthUnit) -> str:
    return format_length(abs(by_mm), unit)


def _length(pattern: Pattern, seam: Seam) -> float:
    """How long it is sewn: the longest layer stands for all."""
    return max(pattern.run_length(layer.run) for layer in seam.layers)


def _steps(before: Pattern, after: Pattern) -> str:
    old, new = (len(plan(pattern).operations) for pattern in (before, after))
    if old == new:
        return ""
    by = abs(new - old)
    word = "more" if new > old else "fewer"
    return f"{new} steps to sew, {by} {word}"


def _named(names: Iterable[str]) -> str:
    """Some names, the rest counted."""
    found = list(dict.fromkeys(names))
    shown = ", ".join(found[:MOST_NAMED])
    rest = len(found) - MOST_NAMED
    return f"{shown} and {rest} more" if rest > 0 else shown


def _title(piece: Piece) -> str:
    return lowered(piece.title)


def _amount(needed: Requirement, unit: LengthUnit) -> str:
    return amount_to_buy(needed.buy_length_mm, unit)
