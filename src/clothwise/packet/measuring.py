"""Finished measurements of a garment, read from its pieces and its seam graph.

Nothing here knows a component: girths are those the checks measure; lengths follow center lines,
runs with a name ("neck", "armhole", "hem") and seams; what is placed or sewn on is measured along
its grain. So whatever a component adds has its line.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from clothwise.checks import Derived
from clothwise.checks.girths import sleeve_layer
from clothwise.errors import ComponentError, DocumentError, GeometryError, MeasurementError
from clothwise.geometry import Point, Vector
from clothwise.geometry.point import ORIGIN
from clothwise.output import paper_named
from clothwise.packet.center_line import center_lengths
from clothwise.packet.girths_told import girths_told
from clothwise.packet.making import Making
from clothwise.packet.sheets import sheet_file
from clothwise.pattern import Body, MarkKind, Pattern, Piece, Pressing, Run, Seam, SeamKind
from clothwise.pattern.first_letter import raised
from clothwise.pattern.graph import EdgeRef, Sides
from clothwise.sizing.measurement_sheet import (
    Measured,
    MeasurementSheet,
    SheetGroup,
    measurement_sheet,
)
from clothwise.work import Part, parts

_HOW_ROUND = {
    "bust": "Closed and laid flat: across from underarm to underarm, doubled.",
    "waist": "Closed and laid flat: along the waist seam or waistline, doubled.",
    "hip": "Closed and laid flat: across at the hip line, doubled.",
    "upper arm": "Sleeve laid flat: across at the underarm, square to the grain, doubled.",
}
_HOW_GIRTH = "Closed and laid flat: across, doubled."

_ARMHOLE_TO_HEM = "the armhole to the finished hem"
_PARALLEL = 0.9
"""Cosine of the angle below which two directions count as the same."""


def finished_sheet(patterns: Sequence[Pattern], bodies: Sequence[Body]) -> MeasurementSheet:
    """The measurement sheet of the sizes of one view.

    Args:
        patterns: the sizes, in order.
        bodies: the body of each.
    """
    garments = [list(measured(*pair)) for pair in zip(patterns, bodies, strict=True)]
    return measurement_sheet([pattern.size for pattern in patterns], garments)


def measurement_file(making: Making, kind: str) -> bytes:
    """The measurement sheet of a make: its choices in all sizes of the chart that they fit.

    A make for somebody's own measurements has a column of its own at the end.

    Args:
        making: the make.
        kind: `.csv`, `.xlsx` or `.pdf`.
    """
    pairs = [pair for body in making.file.of.chart.range if (pair := _in_size(making, body))]
    if making.fit != f"size {making.size}":
        name = f"{making.size}, own" if making.size in making.file.of.sizes else making.size
        pairs.append((replace(making.pattern, size=name), making.file.body))
    sheet = finished_sheet([pattern for pattern, _ in pairs], [body for _, body in pairs])
    paper = paper_named("letter" if making.file.make.paper == "letter" else "a4")
    return sheet_file(kind, making.title, "", sheet, unit=making.unit, paper=paper)


def _in_size(making: Making, body: Body) -> tuple[Pattern, Body] | None:
    """The choices of a make in a size; None where that size cannot be drafted."""
    try:
        return making.file.adjusted.draft(making.file.choices, body=body), body
    except (ComponentError, DocumentError, GeometryError, MeasurementError):
        return None  # `clothwise check` says why; the packet is for another size


def measured(pattern: Pattern, body: Body) -> Iterator[Measured]:
    """Return all finished measurements of one garment, each name once."""
    told = set()
    garment = _Garment(pattern, body)
    for each in (
        *garment.girths(),
        *garment.lengths(),
        *garment.neck(),
        *garment.sleeve(),
        *garment.details(),
    ):
        if each.name not in told and each.length_mm > 0:
            told.add(each.name)
            yield each


class _Garment:
    """A pattern with what the measurements need of it."""

    def __init__(self, pattern: Pattern, body: Body) -> None:
        self._pattern, self._body = pattern, body
        self._derived = Derived(pattern, body)
        self._parts = parts(pattern)

    def _is(self, piece: str, *which: Part) -> bool:
        return self._parts.get(piece) in which

    def girths(self) -> Iterator[Measured]:
        for name, garment_mm, _ in girths_told(self._derived, self._body):
            group = SheetGroup.SLEEVE if name == "upper arm" else SheetGroup.GIRTHS
            how = _HOW_ROUND.get(name, _HOW_GIRTH)
            yield Measured(name, group, f"{name.capitalize()}, all round", how, garment_mm)
        hem = self._pattern.runs.get("hem")
        if hem is not None:
            outer = Run(tuple(edge for edge in hem.edges if self._is(edge.piece, Part.TORSO)))
            yield Measured(
                "hem",
                SheetGroup.GIRTHS,
                "Lower edge, all round",
                "Along the finished lower edge, all round; where a front laps over, both layers.",
                2 * self._pattern.run_length(outer),
            )

    def lengths(self) -> Iterator[Measured]:
        yield from self._at_center()
        for seam in self._pattern.seams.values():
            run = seam.layers[0].run
            if not self._is_long_seam(seam):
                continue
            yield self._along(seam, run)

    def _along(self, seam: Seam, run: Run) -> Measured:
        """How long a seam is: all of it, where what is drawn of it ends at the center."""
        first, last = run.edges[0], run.edges[-1]
        at_center = [
            seam.sides is not Sides.CENTER and self._ends_at_center(ref)
            for ref in (first.reversed, last)
        ]
        title, how = raised(seam.title), "Along the seam, from end to end."
        if all(at_center):
            title = f"{title}, all round"
            how = "Closed and laid flat: along the seam, doubled."
        length = self._pattern.run_length(run)
        return Measured(
            f"seam {seam.name}",
            SheetGroup.LENGTHS,
            title,
            how,
            2 * length if any(at_center) else length,
        )

    def _ends_at_center(self, ref: EdgeRef) -> bool:
        """Whether an edge, as it is traveled, ends on a fold, or at a seam or zip at the center."""
        piece = self._pattern.piece(ref.piece)
        turn = piece.edge_before if ref.reverse else piece.edge_after
        neighbor = turn(ref.edge)
        if neighbor == piece.fold_edge:
            return True
        uses = self._pattern.uses_of(piece.name, neighbor)
        at_center = any(isinstance(use, Seam) and use.sides is Sides.CENTER for use in uses)
        opening = self._pattern.runs.get("opening")
        return at_center or (opening is not None and (piece.name, neighbor) in _edges(opening))

    def _is_long_seam(self, seam: Seam) -> bool:
        """A seam between pieces of the outside that is not measured all round anyway."""
        if seam.kind is SeamKind.DART:
            return False
        runs = [layer.run for layer in seam.layers]
        known = [set(_edges(run)) for name, run in self._pattern.runs.items() if name != "opening"]
        return all(self._is(name, Part.TORSO) for run in runs for name in run.pieces) and not any(
            set(_edges(run)) & edges for run in runs for edges in known
        )

    def _at_center(self) -> Iterator[Measured]:
        """Lengths along center front and center back, of the bodice and of the whole."""
        outside = {name for name in self._pattern.pieces if self._is(name, Part.TORSO)}
        for line in center_lengths(self._derived, outside):
            if line.to_waist_mm is not None:
                yield Measured(
                    f"center {line.side} upper",
                    SheetGroup.LENGTHS,
                    f"Center {line.side}, {line.start} to waist",
                    f"Along center {line.side}, from {line.begins} to the waist seam.",
                    line.to_waist_mm,
                )
            if line.is_whole:
                yield Measured(
                    f"center {line.side}",
                    SheetGroup.LENGTHS,
                    f"Center {line.side}, {line.start} to lower edge",
                    f"Along center {line.side}, from {line.begins} to the finished lower edge.",
                    line.length_mm,
                )

    def neck(self) -> Iterator[Measured]:
        neck = self._pattern.runs.get("neck")
        if neck is not None:
            yield Measured(
                "neck",
                SheetGroup.NECK,
                "Neckline, all round",
                "Along the neck seam, from center front to center front.",
                self._derived.girth(neck),
            )
        for name in self._pattern.pieces:
            if self._is(name, Part.COLLAR):
                yield from self._collar(self._pattern.piece(name))

    def _collar(self, piece: Piece) -> Iterator[Measured]:
        """Outer edges of a collar, along its outline; the layer that is seen, the last, counts."""
        seams = [
            seam
            for seam in self._pattern.seams.values()
            if piece.name in seam.layers[-1].run.pieces
            and all(self._is(n, Part.COLLAR) for layer in seam.layers for n in layer.run.pieces)
        ]
        if piece.fold_edge and seams:
            yield Measured(
                "collar center",
                SheetGroup.NECK,
                "Collar, at center back",
                "At center back, from the neck seam to the outer edge.",
                piece.edge(piece.fold_edge).length,
            )
        for seam in seams:
            for edge in seam.layers[-1].run.edges:
                twice = 2 if piece.fold_edge and _touches(piece, edge.edge, piece.fold_edge) else 1
                words = edge.edge.replace("-", " ")
                whole = twice == 2
                end = "from end to end" if whole else "from the neck seam to its point"
                yield Measured(
                    f"collar {edge.edge}",
                    SheetGroup.NECK,
                    f"Collar, {words} edge" if whole else f"Collar, {words}",
                    f"Along the {words}{' edge' if whole else ''} of the collar, {end}.",
                    twice * piece.edge(edge.edge).length,
                )

    def sleeve(self) -> Iterator[Measured]:
        armhole = self._pattern.runs.get("armhole")
        if armhole is not None:
            yield Measured(
                "armhole",
                SheetGroup.SLEEVE,
                "Armhole",
                "Along the armhole seam or edge, all round.",
                self._pattern.run_length(armhole),
            )
        found = sleeve_layer(self._derived)
        if found is None:
            return
        set_in = found[1].run.pieces
        pieces = {part for name in set_in for part in self._pattern.parts_with(name)}
        if len({self._pattern.piece(name).part_of or name for name in set_in}) == 1:
            yield from self._sleeve_length(set_in[0], pieces)
        yield from self._sleeve_seams(pieces)

    def _sleeve_length(self, highest: str, parts: set[str]) -> Iterator[Measured]:
        """From the highest point of a sleeve, split or not, to its hem, along the grain.

        The parts of a split piece keep its coordinates.
        """
        grain = self._pattern.piece(highest).grain
        up = (grain.end - grain.start).unit
        heights = [
            up.dot(_from_zero(point))
            for name in parts
            for point in self._pattern.piece(name).outline.flattened()
        ]
        hem = [
            up.dot(_from_zero(point))
            for finish in self._pattern.finishes.values()
            for edge in finish.run.edges
            if edge.piece in parts
            for point in self._pattern.path(edge).flattened()
        ]
        if hem:
            top, bottom = max(heights), min(heights)
            if sum(hem) / len(hem) > (top + bottom) / 2:  # drawn upside down
                top, hem = -bottom, [-height for height in hem]
            yield Measured(
                "sleeve length",
                SheetGroup.SLEEVE,
                "Sleeve, shoulder to hem",
                "From the armhole seam at the shoulder straight down to the finished hem.",
                top - min(hem),
            )

    def _sleeve_seams(self, pieces: set[str]) -> Iterator[Measured]:
        for seam in self._pattern.seams.values():
            named = {name for layer in seam.layers for name in layer.run.pieces}
            if named <= pieces and seam.kind is not SeamKind.DART:
                ends = "end to end" if self._derived.is_of_split(seam) else _ARMHOLE_TO_HEM
                yield Measured(
                    f"seam {seam.name}",
                    SheetGroup.SLEEVE,
                    raised(seam.title),
                    f"Along the seam, from {ends}.",
                    self._pattern.run_length(seam.layers[0].run),
                )
        for finish in self._pattern.finishes.values():
            if set(finish.run.pieces) <= pieces:
                yield Measured(
                    f"finish {finish.name}",
                    SheetGroup.SLEEVE,
                    "Sleeve hem, all round",
                    "Sleeve laid flat: across at the finished hem, doubled.",
                    self._pattern.run_length(finish.run),
                )

    def details(self) -> Iterator[Measured]:
        """Whatever else is seen: pockets, bands, belts; across and along the grain."""
        body_pieces = self._body_pieces()
        for name, piece in self._pattern.pieces.items():
            is_band = self._is(name, Part.TORSO) and name not in body_pieces
            if is_band or self._is(name, Part.PLACED, Part.LOOSE, Part.CUFF):
                yield from self._extent(piece)

    def _body_pieces(self) -> set[str]:
        """Pieces of the outside that reach the neck or upper edge, an armhole or the lower edge."""
        runs = [self._pattern.runs.get(name) for name in ("neck", "top", "armhole", "hem")]
        return {name for run in runs if run is not None for name in run.pieces}

    def _extent(self, piece: Piece) -> Iterator[Measured]:
        grain = (piece.grain.end - piece.grain.start).unit
        along, across = _spread(piece, grain), _spread(piece, grain.left)
        if piece.fold_edge:
            fold = piece.edge(piece.fold_edge)
            if abs((fold.end - fold.start).unit.dot(grain)) > _PARALLEL:
                across *= 2
            else:
                along *= 2
        along, across = self._joined_to_itself(piece, grain, along, across)
        for mark in piece.marks:  # folded along its middle when it is sewn
            if mark.kind is MarkKind.FOLD_LINE and mark.path is not None:
                line = (mark.path.end - mark.path.start).unit
                if abs(line.dot(grain)) > _PARALLEL:
                    across /= 2
                else:
                    along /= 2
        word = "height" if self._is(piece.name, Part.PLACED) else "length"
        for name, direction, length in (("width", "across", across), (word, "along", along)):
            yield Measured(
                f"{piece.name} {name}",
                SheetGroup.DETAILS,
                f"{piece.title}, {name}",
                f"From edge to edge of the finished {piece.title.lower()}, {direction} the grain.",
                length,
            )

    def _joined_to_itself(
        self, piece: Piece, grain: Vector, along: float, across: float
    ) -> tuple[float, float]:
        """Twice as long where two copies are sewn end to end."""
        for seam in self._pattern.seams.values():
            runs = [layer.run for layer in seam.layers]
            if seam.pressing is Pressing.TURNED:  # folded on itself
                continue
            if len(runs) == 2 and runs[0] == runs[1] and set(runs[0].pieces) == {piece.name}:
                path = self._pattern.path(runs[0].edges[0])
                if abs((path.end - path.start).unit.dot(grain)) > _PARALLEL:
                    return along, 2 * across
                return 2 * along, across
        return along, across


def _spread(piece: Piece, direction: Vector) -> float:
    places = [direction.dot(_from_zero(point)) for point in piece.outline.flattened()]
    return max(places) - min(places)


def _from_zero(point: Point) -> Vector:
    return point - ORIGIN


def _edges(run: Run) -> list[tuple[str, str]]:
    return [(edge.piece, edge.edge) for edge in run.edges]


def _touches(piece: Piece, edge: str, other: str) -> bool:
    """True if the two edges follow each other."""
    return other in (piece.edge_before(edge), piece.edge_after(edge))
