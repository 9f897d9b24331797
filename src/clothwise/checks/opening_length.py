"""An opening below the waist reaches so far that the hip goes through what stays closed."""

from __future__ import annotations

from collections.abc import Iterator

from clothwise.checks.check_type import Check
from clothwise.checks.cloth_stretch import cloth_of
from clothwise.checks.derived import Derived
from clothwise.checks.girths import ROUNDING_MM
from clothwise.checks.levels import HangingPiece, depth_of, girth_at, hip_pieces
from clothwise.checks.openings import OPENINGS
from clothwise.checks.texts import cm
from clothwise.pattern import EdgeRef, Finding, Severity


def opening_length(derived: Derived) -> Iterator[Finding]:
    """Openings that end where the skirt is still too narrow for the hip (derived).

    A dress may also be pulled over the head: then its bust must go through. An opening that ends
    above the waist is for the head alone.
    """
    body, hanging = derived.body, hip_pieces(derived)
    found = _lowest(derived, hanging)
    if body is None or found is None:
        return
    depth, edge = found
    level = girth_at(derived, hanging, depth)
    to_hem = any(depth >= each.length_mm - ROUNDING_MM for each in hanging)
    if level is None or to_hem or depth < 0 or depth >= body["waist_to_hip"]:
        return
    part, needed = "hip", body["hip_girth"]
    if "armhole" in derived.pattern.runs and body["bust_girth"] < needed:
        part, needed = "bust", body["bust_girth"]
    cloth = cloth_of(derived.pattern, [each.piece for each in hanging])
    if level[0] >= cloth.least_pulled_mm(needed) - ROUNDING_MM:
        return
    yield Finding(
        code="OPENING-SHORT",
        severity=Severity.ERROR,
        message=f"The opening ends {cm(depth)} below the waist, where the skirt measures "
        f"{cm(level[0])} round; in {cloth.words} the {part} of {cm(needed)} does not go through.",
        remedy=f"Let it reach down to {cm(body['waist_to_hip'])} below the waist, or to where the "
        f"skirt is as wide as the {part}.",
        piece=edge.piece,
        edge=edge.edge,
        measured=f"{cm(level[0])} at {cm(depth)}",
        allowed=f"at least {cm(cloth.least_pulled_mm(needed))}, or {cm(body['waist_to_hip'])} deep",
        at=level[1],
    )


def _lowest(derived: Derived, hanging: tuple[HangingPiece, ...]) -> tuple[float, EdgeRef] | None:
    """How far below the waist an opening reaches, and the edge that ends there."""
    found = []
    for name in OPENINGS:
        run = derived.pattern.runs.get(name)
        for edge in run.edges if run else ():
            for piece in (each for each in hanging if edge.piece in each.parts):
                path = derived.pattern.path(edge)
                depths = (depth_of(derived, piece, end) for end in (path.start, path.end))
                found.append((max(depths), edge))
    return max(found, key=lambda each: each[0], default=None)


CHECKS = (Check(("OPENING-SHORT",), opening_length),)
