"""A band straight across a piece: where it lies, and the strip that is laid there."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from clothwise.components.edits.edit import cannot
from clothwise.components.edits.places import at_edge
from clothwise.components.parameter import Along
from clothwise.errors import ComponentError
from clothwise.geometry import Outline, Path, Point, Vector, crossings, straight
from clothwise.pattern.graph import EdgeRef, Layer, Run, Seam, SeamKind, Sides
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Grainline, Piece, Ply
from clothwise.pattern.plain_names import edge_called, edge_of, piece_called

FAR_MM = 5000.0
"""Further than any piece reaches."""

INWARD_MM = 1.0
"""A line across begins so far inside the edge it starts from: there it meets that edge no more."""

SQUARE = 1e-3
"""Sine of the angle by which a fold may slant; rounding."""

SHORTEST_MM = 60.0
"""A band is at least this long; our own choice."""


@dataclass(frozen=True)
class BandEnd:
    """Where a band ends: on which edge of the host, between which lengths along it."""

    edge: str
    from_mm: float
    to_mm: float


@dataclass(frozen=True)
class Band:
    """A band across a piece, square to its grain, in the piece's coordinates.

    `lower` and `upper` run to the right, seen with the grain upright.
    """

    lower: Path
    upper: Path
    left: BandEnd
    right: BandEnd


def band_across(piece: Piece, edge: str, along: Along, height_mm: float) -> Band:
    """The band of a height whose middle starts at a place of an edge.

    Raises:
        ComponentError: it reaches a corner or a dart, or the piece is too narrow there.
    """
    up = (piece.grain.end - piece.grain.start).unit
    up = -up if up.y < 0 else up
    right = -up.left
    path = piece.edge(edge)
    at_mm = at_edge(piece, edge, along)
    place, inward = path.point_at(at_mm), path.tangent_at(at_mm).left
    heading = right if inward.dot(right) > 0 else -right
    if abs(inward.dot(right)) < 0.2:
        raise cannot(
            f"the {edge_of(piece, edge)} runs across the piece itself there",
            what_to_do="Name an edge that goes up and down, such as the side.",
        )
    _, _, opposite = _met(piece, place + heading * INWARD_MM, heading)
    middle = place.toward(opposite, 0.5)
    far_edge = _met(piece, middle, heading)[0]
    ends, lines = [], []
    for shift in (-height_mm / 2, height_mm / 2):
        start = middle + up * shift
        near, far = _met(piece, start, -heading), _met(piece, start, heading)
        ends.append((near, far))
        lines.append((near[2], far[2]) if heading.dot(right) > 0 else (far[2], near[2]))
    for near, far in ends:
        if near[0] != edge or far[0] != far_edge:
            raise cannot(
                f"the band reaches a corner of the {piece_called(piece)}",
                how_much=f"{height_mm:.0f} mm high, it ends on the "
                f"{edge_called(piece, edge)} and the {edge_called(piece, near[0])}, on the "
                f"{edge_called(piece, far_edge)} and the {edge_called(piece, far[0])}",
                what_to_do="Move it away from the corner, or make it narrower.",
            )
    _refuse_darts(piece, lines)
    _refuse_slanting_fold(piece, (edge, far_edge), up)
    if min(first.distance(last) for first, last in lines) < SHORTEST_MM:
        raise cannot(
            f"the {piece_called(piece)} is too narrow for a band there",
            how_much=f"at least {SHORTEST_MM:.0f} mm",
            what_to_do="Choose another place.",
        )
    sides = [_end(edge, [near[1] for near, _ in ends]), _end(far_edge, [f[1] for _, f in ends])]
    left, right_end = sides if heading.dot(right) > 0 else reversed(sides)
    return Band(straight(*lines[0]), straight(*lines[1]), left, right_end)


def _refuse_slanting_fold(piece: Piece, ends: tuple[str, str], up: Vector) -> None:
    fold = piece.fold_edge
    if fold in ends and abs(up.cross(piece.edge(fold).start_tangent)) > SQUARE:
        raise cannot(
            f"the fold of the {piece_called(piece)} does not run with its grain",
            what_to_do="Choose a piece whose fold lies on the straight grain.",
        )


def _end(edge: str, places: list[float]) -> BandEnd:
    return BandEnd(edge, min(places), max(places))


def _met(piece: Piece, start: Point, heading: Vector) -> tuple[str, float, Point]:
    """The edge that a line from a place inside meets first, how far along it, and where."""
    ray = straight(start, start + heading * FAR_MM)
    met = [
        (crossing.first_mm, name, crossing.second_mm, crossing.point)
        for name, path in piece.outline.edges.items()
        for crossing in crossings(ray, path)
    ]
    if not met:
        raise cannot(
            f"the band leaves the {piece_called(piece)}",
            what_to_do="Move it away from the corner, or make it narrower.",
        )
    _, name, at_mm, _ = min(met, key=lambda each: each[0])
    return name, at_mm, piece.edge(name).point_at(at_mm)


def _refuse_darts(piece: Piece, lines: list[tuple[Point, Point]]) -> None:
    low, high = (straight(*line) for line in lines)
    right = (low.end - low.start).unit
    for dart in piece.darts:
        apex = piece.apex(dart)
        crossed = any(
            crossings(line, piece.edge(leg))
            for line in (low, high)
            for leg in (dart.leg_in, dart.leg_out)
        )
        is_inside = right.cross(apex - low.start) > 0 > right.cross(apex - high.start)
        if crossed or is_inside:
            raise cannot(
                f"the {dart.name} of the {piece_called(piece)} lies in the way of the band",
                what_to_do="Move the band, or give the dart up before (`dart-to`, `move-dart`).",
            )


def strip_piece(host: Piece, band: Band, name: str, title: str, role: str) -> Piece:
    """The strip that is laid on a band, in the host's coordinates; on the fold where that is."""
    fold = next(
        (
            side
            for side, end in (("right", band.right), ("left", band.left))
            if end.edge == host.fold_edge
        ),
        None,
    )
    low = band.lower
    middle = low.point_at(low.length / 2).toward(band.upper.point_at(band.upper.length / 2), 0.5)
    reach = (low.end - low.start) * 0.3
    return Piece(
        name=name,
        title=title,
        outline=Outline(
            {
                "lower": low,
                "right": host.edge(band.right.edge).part(band.right.from_mm, band.right.to_mm),
                "upper": band.upper.reversed(),
                "left": host.edge(band.left.edge).part(band.left.from_mm, band.left.to_mm),
            }
        ),
        grain=Grainline(middle - reach, middle + reach),
        copies=tuple(
            replace(copy, role=role or copy.role) for copy in host.copies if copy.ply is Ply.SHELL
        ),
        component=host.component,
        drawn_side=host.drawn_side,
        fold_edge=fold,
    )


def caught_ends(
    pattern: Pattern, host: Piece, strip: Piece, band: Band
) -> Iterator[tuple[str, Layer]]:
    """The seams that take in the ends of the strip, each with the layer it becomes there."""
    for side, end in (("right", band.right), ("left", band.left)):
        if end.edge == host.fold_edge:
            continue
        seam = _seam_at(pattern, host, end)
        layer = next(
            layer
            for layer in seam.layers
            for each in layer.run.edges
            if (each.piece, each.edge) == (host.name, end.edge)
        )
        ref = next(
            each for each in layer.run.edges if (each.piece, each.edge) == (host.name, end.edge)
        )
        places = [pattern.along(layer.run, ref, at) or 0.0 for at in (end.from_mm, end.to_mm)]
        span = (min(places), max(places))
        yield seam.name, Layer(Run((EdgeRef(strip.name, side, ref.reverse),)), span=span)


def _seam_at(pattern: Pattern, host: Piece, end: BandEnd) -> Seam:
    """The seam that an end of a band lies in.

    Raises:
        ComponentError: it lies in none that could take it in.
    """
    uses = pattern.uses_of(host.name, end.edge)
    seam = next((use for use in uses if isinstance(use, Seam)), None)
    if seam is None:
        how = uses[0].title if uses else "nothing"
        raise _no_end(host, end, f"it ends in: {how}")
    if seam.kind is not SeamKind.PLAIN or seam.sides is Sides.CENTER:
        raise _no_end(host, end, f"the {seam.title}, {seam.kind.value}, {seam.sides.value}")
    for layer in seam.layers:
        own = any((e.piece, e.edge) == (host.name, end.edge) for e in layer.run.edges)
        if own and (layer.ease_mm or layer.span is not None):
            raise _no_end(host, end, f"the {seam.title} is eased or caught there")
    if seam.layers[0].run.closed:
        raise _no_end(host, end, f"the {seam.title} goes all round")
    return seam


def _no_end(host: Piece, end: BandEnd, how_much: str) -> ComponentError:
    return cannot(
        f"nothing can take in the end of the casing at the {edge_of(host, end.edge)}",
        how_much=how_much,
        what_to_do="It must end at the fold or in plain seams, such as the sides. A straight "
        "center seam is closed by `unfold`.",
    )
