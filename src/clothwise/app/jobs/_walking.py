"""In a worker: what there is to check of a design, and a seam walked stop by stop."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from clothwise.app.jobs._drafting import drafted, opened_design, opened_make
from clothwise.app.jobs._for_whom import fit_words
from clothwise.app.jobs.check import (
    CheckFrame,
    PaperShown,
    SeamListed,
    StopShown,
    WalkOf,
    WalkShown,
)
from clothwise.app.work import JobRefused, Shown
from clothwise.app.work.worker import portable
from clothwise.checks.derived import Derived
from clothwise.checks.lengths import LENGTH_TOLERANCE_MM, wanted_length
from clothwise.checks.texts import titles
from clothwise.checks.walking import (
    SeamWalk,
    Stop,
    StopKind,
    WalkedSide,
    seam_walk,
    walked_pairs,
)
from clothwise.errors import ClothwiseError
from clothwise.output.walk_dart import begins_open, dart_svg, dart_walked, laid_still
from clothwise.output.walk_drawing import LaidPaper, LaidStop, laid_stop, walk_svg
from clothwise.pattern import Pattern, Seam, SeamKind
from clothwise.pattern.piece import Dart
from clothwise.units import LengthUnit, format_cm, format_inches, format_mm

_IN_MILLIMETERS_BELOW = 10.0
_SAME_MM = 0.05  # ways that agree as far as they are shown


def frame(shown: Shown, documents: Mapping[str, str]) -> CheckFrame:
    """Read what there is to check.

    Raises:
        ClothwiseError: the documents have faults, or do not have what is asked for.
    """
    design = opened_design(documents)
    fit = ""
    if shown.make:
        make = opened_make(documents, shown.make)
        size, fit = make.body.name, fit_words(documents, shown.make, make.make, design)
    else:
        design.design.chosen(shown.choices, view=shown.view)  # refuses what there is not
        size = design.body(shown.size).name
    pieces: dict[str, str] = {}
    seams: tuple[SeamListed, ...] = ()
    refused: JobRefused | None = None
    try:
        pattern = drafted(shown, documents).pattern
    except ClothwiseError as error:
        told = portable(error)
        if not isinstance(told, JobRefused):
            raise
        refused = told
    else:
        pieces = {name: piece.title for name, piece in pattern.pieces.items()}
        seams = tuple(_listed(Derived(pattern)))
    return CheckFrame(
        title=design.design.title,
        views={view.name: view.title for view in design.design.views},
        sizes=design.chart.names,
        size=size,
        pieces=pieces,
        seams=seams,
        refused=refused,
        fit=fit,
        people=design.chart.people,
    )


def walked(asked: WalkOf) -> WalkShown:
    """Walk a seam.

    Raises:
        ClothwiseError: there is no pattern, or no such seam in it.
    """
    of = drafted(asked.shown, asked.documents)
    unit = LengthUnit(asked.unit) if asked.unit else of.design.design.unit
    walk = seam_walk(Derived(of.pattern), asked.seam, layer=asked.layer)
    at = min(max(asked.at, 0), len(walk.stops) - 1)
    first, second = walk.sides
    runs = (first.run, second.run)
    dart = dart_walked(of.pattern, runs)
    here = walk.stops[at]
    if dart:
        title = f"{walk.title}: one leg above, the other below"
        svg = dart_svg(of.pattern, dart, runs, _still(here, walk), title=title)
    else:
        title = f"{walk.title}: {first.words} above, {second.words} below"
        svg = walk_svg(of.pattern, runs, laid_stop(*here.spots), title=title)
    return WalkShown(
        seam=walk.seam,
        layer=asked.layer,
        title=walk.title,
        sides=(first.words, second.words),
        summary=_summary(walk, of.pattern.seams[asked.seam], asked.layer, unit),
        is_off=walk.is_off,
        stops=tuple(_stop(stop, walk, of.pattern, unit, dart) for stop in walk.stops),
        at=at,
        svg=svg,
    )


def _listed(derived: Derived) -> Iterator[SeamListed]:
    for seam in derived.pattern.seams.values():
        pairs = walked_pairs(seam)
        if pairs:
            sides = tuple((layer, _pair_words(derived.pattern, seam, layer)) for layer in pairs)
            yield SeamListed(seam.name, seam.title, sides, _differs(derived, seam))


def _pair_words(pattern: Pattern, seam: Seam, layer: int) -> str:
    first, second = titles(pattern, seam.layers[0].run), titles(pattern, seam.layers[layer].run)
    return f"{first}, both sides" if first == second else f"{second} along {first}"


def _differs(derived: Derived, seam: Seam) -> bool:
    return any(
        abs(derived.pattern.run_length(layer.run) - wanted_length(derived, seam, layer))
        > LENGTH_TOLERANCE_MM
        for layer in seam.layers[1:]
    )


def _taken_up(seam: Seam, layer: int, ease_mm: float) -> str:
    """What becomes of a second side that is longer or shorter."""
    if seam.kind is SeamKind.PLEATED:
        return "longer, to be laid in pleats" if ease_mm > 0 else "shorter: the other has pleats"
    if seam.kind is SeamKind.GATHERED or seam.layers[layer].is_gathered:
        return "longer, to be gathered" if ease_mm > 0 else "shorter: the other is gathered to it"
    return "longer, to be eased in" if ease_mm > 0 else "shorter, to be stretched"


def _summary(walk: SeamWalk, seam: Seam, layer: int, unit: LengthUnit) -> str:
    first, second = walk.sides
    lengths = f"{first.words} {_length(first.length_mm, unit)}, {second.words} "
    lengths += f"{_length(second.length_mm, unit)}."
    if first.words == second.words:
        lengths = f"One side {_length(first.length_mm, unit)}, the other "
        lengths += f"{_length(second.length_mm, unit)}."
    wanted = "the same length"
    if walk.ease_mm:
        wanted = f"{_difference(walk.ease_mm, unit)} {_taken_up(seam, layer, walk.ease_mm)}"
    if abs(walk.excess_mm) <= LENGTH_TOLERANCE_MM:
        return f"{lengths} The second is {wanted}, as it is meant to be."
    word = "too long" if walk.excess_mm > 0 else "too short"
    return (
        f"{lengths} The second should be {wanted}: it is {_difference(walk.excess_mm, unit)} "
        f"{word}."
    )


_TITLES = {
    StopKind.START: "Here the seam begins",
    StopKind.END: "Here the seam ends",
    StopKind.NOTCH: "Notch: {}",
    StopKind.MEETING: "Here they meet: {}",
    StopKind.JOINT: "Here begins {}",
    StopKind.STEP: "",
}


def _stop(
    stop: Stop, walk: SeamWalk, pattern: Pattern, unit: LengthUnit, dart: Dart | None
) -> StopShown:
    papers, here_mm = _still(stop, walk) if dart else (laid_stop(*stop.spots), 0.0)
    title = _TITLES[stop.kind].format(stop.name)
    if dart and stop.kind in (StopKind.START, StopKind.END):
        is_start = stop.kind is StopKind.START
        is_open = begins_open(dart, walk.sides[0].run) == is_start
        title += ": the open end of the dart" if is_open else ": the point of the dart"
    legs = (", one leg", ", the other leg") if dart else ("", "")
    return StopShown(
        kind=stop.kind.value,
        title=title,
        words=_way(stop, walk.sides, unit),
        papers=(_paper(papers.first, pattern, legs[0]), _paper(papers.second, pattern, legs[1])),
        is_off=stop.is_off,
        here_mm=round(here_mm, 3),
    )


def _still(stop: Stop, walk: SeamWalk) -> tuple[LaidStop, float]:
    return laid_still(laid_stop(*stop.spots), stop.gone_mm[0], walk.sides[0].length_mm)


def _way(stop: Stop, sides: tuple[WalkedSide, WalkedSide], unit: LengthUnit) -> str:
    if stop.kind is StopKind.START:
        return "Both sides lie on each other here."
    first, second = (_length(way, unit) for way in stop.gone_mm)
    if abs(stop.ahead_mm) <= _SAME_MM:
        words = f"Both sides have come {first}."
    else:
        ahead = _difference(stop.ahead_mm, unit)
        further = "further" if stop.ahead_mm > 0 else "less"
        words = f"The first side has come {first}, the second {second}: {ahead} {further}."
    return f"{words} That is more than the ease of the seam explains." if stop.is_off else words


def _paper(paper: LaidPaper, pattern: Pattern, leg: str) -> PaperShown:
    title = f"{pattern.piece(paper.piece).title}{leg}"
    return PaperShown(paper.piece, title, paper.matrix, paper.is_turned)


def _difference(difference_mm: float, unit: LengthUnit) -> str:
    """How much two lengths differ; below a centimeter in millimeters, as findings tell it."""
    small = unit is LengthUnit.CENTIMETER and abs(difference_mm) < _IN_MILLIMETERS_BELOW
    return _length(abs(difference_mm), LengthUnit.MILLIMETER if small else unit)


def _length(length_mm: float, unit: LengthUnit) -> str:
    """As fine as one looks when walking a seam: a tenth of a millimeter, or a 32nd of an inch."""
    if unit is LengthUnit.INCH:
        return format_inches(length_mm, denominator=32)
    if unit is LengthUnit.MILLIMETER:
        return format_mm(length_mm, decimals=1)
    return format_cm(length_mm, decimals=2)
