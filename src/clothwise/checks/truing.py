"""Every seam walked: what lies on what, how long, where the notches are, what runs across it.

`truing` gives for each seam the figures that a pattern cutter would take with a tape, for each
size, on the stitching line (G06). It reports; what is wrong is said by the checks.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import Enum

from clothwise.checks.corners import CORNER_TOLERANCE_RAD, meant_across
from clothwise.checks.derived import Derived
from clothwise.checks.lengths import LENGTH_TOLERANCE_MM, wanted_length
from clothwise.checks.matching import offset_bounds
from clothwise.checks.texts import titles
from clothwise.pattern import Layer, Match, NotchKind, Seam

ALONG = ": along "
"""Between the name of a notch and the layer on which it is measured."""

ACROSS = " across it"
"""After the name of a line that runs on across a seam."""


class TruingKind(Enum):
    """What a line of a truing sheet measures."""

    LENGTH = "length"
    EASE = "ease"
    NOTCH = "notch"
    CORNER = "corner"


@dataclass(frozen=True)
class TruingCell:
    """One figure of one size: mm, or radians for a corner; `off` if it is not as it must be."""

    value: float
    off: bool = False


@dataclass(frozen=True)
class TruingLine:
    """One figure in every size; None in a size that does not have it."""

    kind: TruingKind
    what: str
    cells: tuple[TruingCell | None, ...]


@dataclass(frozen=True)
class TruingSeam:
    """A seam with its figures."""

    seam: str
    title: str
    lines: tuple[TruingLine, ...]


_Key = tuple[TruingKind, str]


def truing(drafts: Sequence[Derived]) -> tuple[TruingSeam, ...]:
    """Return every seam of the patterns with its figures in each of them.

    Args:
        drafts: one design drafted in several sizes; a seam that some of them lack has no figures
            there.
    """
    seams: dict[str, str] = {}
    figures: dict[str, dict[_Key, dict[int, TruingCell]]] = {}
    for number, derived in enumerate(drafts):
        across = _lines_across(derived)
        for seam in derived.pattern.seams.values():
            seams.setdefault(seam.name, seam.title)
            of_seam = figures.setdefault(seam.name, {})
            for key, cell in (*_walked(derived, seam), *across.get(seam.name, ())):
                of_seam.setdefault(key, {})[number] = cell
    return tuple(
        TruingSeam(
            name,
            title,
            tuple(
                TruingLine(*key, tuple(cells.get(number) for number in range(len(drafts))))
                for key, cells in sorted(figures[name].items(), key=_rank)
            ),
        )
        for name, title in seams.items()
    )


_KINDS = list(TruingKind)


def _rank(entry: tuple[_Key, dict[int, TruingCell]]) -> int:
    """Lengths first, corners last; otherwise as they came."""
    return _KINDS.index(entry[0][0])


def _walked(derived: Derived, seam: Seam) -> Iterator[tuple[_Key, TruingCell]]:
    """The lengths of the layers, what is eased in, and the notches."""
    for number, layer in enumerate(seam.layers):
        words = _layer_words(derived, seam, number)
        length = derived.pattern.run_length(layer.run)
        off = number > 0 and abs(length - wanted_length(derived, seam, layer)) > LENGTH_TOLERANCE_MM
        yield (TruingKind.LENGTH, words), TruingCell(length, off)
        if number and layer.ease_mm:
            yield (TruingKind.EASE, f"{words}, eased in"), TruingCell(layer.ease_mm)
    for match in seam.matches:
        if match.notch is not NotchKind.NONE and len(match.at_mm) == len(seam.layers):
            yield from _notch(derived, seam, match)


def _layer_words(derived: Derived, seam: Seam, number: int) -> str:
    """The pieces of a layer; told apart where two layers are of the same pieces."""
    words = titles(derived.pattern, seam.layers[number].run)
    alike = [titles(derived.pattern, layer.run) for layer in seam.layers[:number]].count(words)
    return f"{words} ({'second' if alike == 1 else 'further'} side)" if alike else words


def _notch(derived: Derived, seam: Seam, match: Match) -> Iterator[tuple[_Key, TruingCell]]:
    """How far along each layer a notch lies."""
    base = match.at_mm[0]
    for number, (layer, at_mm) in enumerate(zip(seam.layers, match.at_mm, strict=True)):
        if at_mm is None:
            continue
        words = f"notch {match.name}{ALONG}{_layer_words(derived, seam, number)}"
        yield (TruingKind.NOTCH, words), TruingCell(at_mm, _is_apart(layer, at_mm, base))


def _is_apart(layer: Layer, at_mm: float, base_mm: float | None) -> bool:
    """Tell whether a notch lies further from its partner than the ease of the layer explains."""
    if base_mm is None:
        return True
    start = layer.span[0] if layer.span else 0.0
    offset = at_mm - (base_mm - start)
    least, most = offset_bounds(0.0, layer.ease_mm)
    return not least - LENGTH_TOLERANCE_MM <= offset <= most + LENGTH_TOLERANCE_MM


def _lines_across(derived: Derived) -> dict[str, list[tuple[_Key, TruingCell]]]:
    """For each seam the joined angles of the lines that run on across it."""
    found: dict[str, list[tuple[_Key, TruingCell]]] = {}
    for each in derived.junctions:
        if not each.junction.seams or not each.corners:
            continue
        total = sum(derived.interior_angle(corner) for corner in each.corners)
        meant = meant_across(derived, each.junction.before, each.junction.after)
        straight = abs(total - math.pi) <= CORNER_TOLERANCE_RAD
        right = meant.is_met(total) and not straight if meant else straight
        cell = TruingCell(total, off=not right)
        for seam in each.junction.seams:
            row, words = found.setdefault(seam, []), f"{each.use.title}{ACROSS}"
            count = sum(known.startswith(words) for (_, known), _ in row)
            row.append(((TruingKind.CORNER, f"{words} ({count + 1})" if count else words), cell))
    return found
