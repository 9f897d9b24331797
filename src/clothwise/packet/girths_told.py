"""Girths of a garment: those that the checks measure, and the hip of gathered tiers.

The checks measure the hip on pieces that reach from waist to hem. A tier does not; around the hip
it measures what its edges do.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate, pairwise

from clothwise.checks import Derived
from clothwise.checks.girths import measured_girths
from clothwise.packet.center_line import CenterStretch, center_stretches
from clothwise.pattern import Body, EdgeRef, Run, SeamKind
from clothwise.work import Part, parts


def girths_told(derived: Derived, body: Body) -> tuple[tuple[str, float, float], ...]:
    """Name, girth of the garment and girth of the body, mm."""
    found = measured_girths(derived.pattern, body)
    names = [name for name, _, _ in found]
    hip = None if "hip" in names else _hip_of_tiers(derived, body)
    if hip is None:
        return found
    after = names.index("waist") + 1 if "waist" in names else len(names)
    return (*found[:after], ("hip", hip, body["hip_girth"]), *found[after:])


def _hip_of_tiers(derived: Derived, body: Body) -> float | None:
    """The girth at the hip of the tier that hangs there, mm; None if no tier does.

    A tier is as wide at the hip as a straight line from its upper to its lower edge says, which is
    exact for one of straight panels.
    """
    waist = derived.pattern.runs.get("waist")
    if waist is None or "armhole" in derived.pattern.runs:
        return None
    worn = parts(derived.pattern)
    outside = {name for name, part in worn.items() if part is Part.TORSO}
    line = center_stretches(derived, waist.edges[0], outside)
    if not _has_tiers(derived, line):
        return None
    level = body["waist_to_hip"]
    depths = pairwise(accumulate((each.length_mm for each in line), initial=0.0))
    above: EdgeRef | None = waist.edges[0]
    for stretch, (top, bottom) in zip(line, depths, strict=True):
        if above is not None and stretch.edge is not None and top <= level <= bottom:
            upper = _around(derived, above, stretch.piece)
            lower = _around(derived, stretch.edge, stretch.piece)
            if upper is None or lower is None:
                return None
            share = (level - top) / (bottom - top)
            return derived.girth(upper) * (1 - share) + derived.girth(lower) * share
        above = stretch.edge
    return None


def _has_tiers(derived: Derived, line: Sequence[CenterStretch]) -> bool:
    """Whether one piece of a center line is gathered into the one above it."""
    gathered = [seam for seam in derived.pattern.seams.values() if seam.kind is SeamKind.GATHERED]
    return any(
        above.piece in seam.layers[0].run.pieces and below.piece in seam.layers[-1].run.pieces
        for above, below in pairwise(line)
        for seam in gathered
    )


def _around(derived: Derived, edge: EdgeRef, piece: str) -> Run | None:
    """The run with edges of a piece that an edge belongs to, or that it is sewn to."""
    key = (edge.piece, edge.edge)
    joined = [[layer.run for layer in seam.layers] for seam in derived.pattern.seams.values()]
    alone = [[run] for name, run in derived.pattern.runs.items() if name in ("waist", "hem")]
    for runs in (*joined, *alone):
        if any((each.piece, each.edge) == key for run in runs for each in run.edges):
            own = next((run for run in runs if piece in run.pieces), None)
            if own is not None:
                return own
    return None
