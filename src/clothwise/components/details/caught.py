"""Small parts that hang by an end in a seam of the garment: tabs, loops, ties.

Where the edge of the garment is sewn to something, the end becomes a further layer of that seam;
where it is bound, the binding takes the end in as well.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from clothwise.components.component import Drafting
from clothwise.errors import ComponentError
from clothwise.pattern.graph import Finish, FinishKind, Layer, Run, Seam
from clothwise.pattern.junctions import Junction, SeamCorners, end_corner, start_corner
from clothwise.pattern.pattern import Pattern, Spot

__all__ = ["CaughtEnds", "ShoulderLine", "catch_ends", "seam_along", "shoulder_line", "side_line"]


@dataclass(frozen=True)
class CaughtEnds:
    """Ends caught in an edge of the garment.

    `by` is the name of the seam or finish that takes them in, `edges` the edges of the garment
    that they lie on, written as operations prepare them.
    """

    by: str
    edges: tuple[str, ...]
    allowance_mm: float
    catches: Mapping[str, tuple[Layer, ...]] = field(default_factory=dict)
    finishes: tuple[Finish, ...] = ()

    @property
    def done_here(self) -> tuple[str, ...]:
        """Finishes that basting the ends on carries out, by name."""
        return tuple(finish.name for finish in self.finishes)


def catch_ends(
    drafting: Drafting, edge: Run, span: tuple[float, float], ends: tuple[Run, ...], title: str
) -> CaughtEnds:
    """Catch the ends of a part in whatever is sewn along an edge of the garment.

    Args:
        drafting: where the part is drafted; also names the finish of ends that are bound.
        edge: of the garment, a run.
        span: the stretch of it on which the ends lie, mm from its start.
        ends: runs as long as the span, the lowest first.
        title: what the ends are, for people.

    Raises:
        ComponentError: nothing is sewn along that edge yet.
    """
    pattern = drafting.pattern
    edges = _edges_at(pattern, edge, span)
    found = seam_along(pattern, edge)
    if found is not None:
        seam, start = found
        lain = (start + span[0], start + span[1])
        return CaughtEnds(
            seam.name,
            edges,
            seam.allowance_mm,
            catches={seam.name: tuple(Layer(end, span=lain) for end in ends)},
        )
    for finish in pattern.finishes.values():
        if finish.kind is FinishKind.BOUND and set(edge.edges) <= set(finish.run.edges):
            name = f"{drafting.name}-end"
            held = tuple(
                Finish(
                    name if number == 1 else f"{name}-{number}",
                    title,
                    end,
                    FinishKind.BOUND,
                    component=drafting.name,
                )
                for number, end in enumerate(ends, start=1)
            )
            return CaughtEnds(finish.name, edges, 0.0, finishes=held)
    raise ComponentError(
        "there is no seam or binding to catch it in",
        where=drafting.name,
        how_much="nothing is sewn along " + ", ".join(str(each) for each in edge.edges),
        what_to_do="List the sleeve, facing or binding of that edge before it.",
    )


def seam_along(pattern: Pattern, edge: Run) -> tuple[Seam, float] | None:
    """The seam whose first layer runs along an edge of the garment, and where that starts in it."""
    for seam in pattern.seams.values():
        start = _start_in(pattern, seam, edge)
        if start is not None:
            return seam, start
    return None


def _start_in(pattern: Pattern, seam: Seam, edge: Run) -> float | None:
    """Where a run starts in the first layer of a seam, mm; None if it is not part of it."""
    base = seam.layers[0].run.edges
    for number in range(len(base) - len(edge.edges) + 1):
        if base[number : number + len(edge.edges)] == edge.edges:
            return sum(pattern.edge_length(each) for each in base[:number])
    return None


def _edges_at(pattern: Pattern, edge: Run, span: tuple[float, float]) -> tuple[str, ...]:
    found, before = [], 0.0
    for each in edge.edges:
        after = before + pattern.edge_length(each)
        if before < span[1] and after > span[0]:
            found.append(f"{each.piece}.{each.edge}")
        before = after
    return tuple(found)


@dataclass(frozen=True)
class ShoulderLine:
    """The shoulder seam as it is met from the armhole.

    `at_mm` is its place along the run named `armhole`; `front` runs from there to the neck along
    the front. `seams` are those that meet the armhole there.
    """

    armhole: Run
    at_mm: float
    front: Run
    seams: tuple[str, ...]

    def length_mm(self, pattern: Pattern) -> float:
        """From the armhole to the neck."""
        return pattern.run_length(self.front)

    def spot(self, pattern: Pattern, from_armhole_mm: float) -> Spot:
        """A place on the line."""
        return pattern.spot(self.front, from_armhole_mm)


def shoulder_line(drafting: Drafting) -> ShoulderLine:
    """Where the armhole crosses the shoulder seam: at the highest of the seams it crosses.

    Raises:
        ComponentError: there is no armhole, or no seam runs from it over the shoulder.
    """
    pattern = drafting.pattern
    armhole = pattern.named_run("armhole", drafting.name)
    along, found = 0.0, []
    for junction in SeamCorners(pattern).junctions(armhole, ""):
        along += pattern.edge_length(junction.before)
        if junction.seams:
            found.append((pattern.path(junction.before).end.y, along, junction))
    if found:
        _, at_mm, junction = max(found, key=lambda each: each[0])
        front = _from_corner(pattern, junction)
        if front is not None:
            return ShoulderLine(armhole, at_mm, front, junction.seams or ())
    raise ComponentError(
        "there is no shoulder seam",
        where=drafting.name,
        how_much=f"the armhole crosses {len(found)} seams",
        what_to_do="List a bodice with a shoulder seam before it.",
    )


def side_line(drafting: Drafting) -> Run:
    """The front's side of the side seam, up to the armhole: it meets it at its lowest place.

    Raises:
        ComponentError: there is no armhole, or no seam ends below it.
    """
    pattern = drafting.pattern
    armhole = pattern.named_run("armhole", drafting.name)
    crossed = [
        junction for junction in SeamCorners(pattern).junctions(armhole, "") if junction.seams
    ]
    lowest = min(crossed, key=lambda each: pattern.path(each.before).end.y, default=None)
    up = None
    for name in (lowest.seams or ()) if lowest else ():
        up = pattern.seams[name].layers[0].run
    if up is None:
        raise ComponentError(
            "there is no side seam",
            where=drafting.name,
            how_much=f"the armhole crosses {len(crossed)} seams",
            what_to_do="List a bodice with side seams before it.",
        )
    return up


def _from_corner(pattern: Pattern, junction: Junction) -> Run | None:
    """The front's side of the seam, from the armhole on."""
    corner = end_corner(pattern, junction.before)
    for name in junction.seams or ():
        for layer in pattern.seams[name].layers:
            first, last = layer.run.edges[0], layer.run.edges[-1]
            if start_corner(pattern, first) == corner:
                return layer.run
            if end_corner(pattern, last) == corner:
                return layer.run.reversed
    return None
