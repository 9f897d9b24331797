"""Armhole, sleeve cap and shoulder: what goes into each other, and how deep it lies."""

from __future__ import annotations

from collections.abc import Iterator

from clothwise.checks.check_type import Check
from clothwise.checks.derived import Derived
from clothwise.checks.girths import ROUNDING_MM, sleeve_layer, underarms
from clothwise.checks.texts import mm, titles
from clothwise.pattern import Finding, Run, Seam, SeamKind, Severity

MOST_CAP_EASE_MM = 38.1
"""Most ease of a set-in sleeve: 1 1/2 in (L01, sewing texts as summed up by a sewing page)."""

SHOULDER_EASE_MM = (5.0, 10.0)
"""What the back shoulder is longer than the front (D25, common practice, no source)."""

ARMHOLE_DEPTH_MM = (20.0, 60.0)
"""How far the armhole lies below the armpit (D21: 2-6 cm; common practice, the margin is ours)."""


def cap_ease(derived: Derived) -> Iterator[Finding]:
    """Sleeve caps shorter than their armhole, or longer than can be eased in."""
    found = sleeve_layer(derived)
    if found is None:
        return
    seam, layer = found
    pattern = derived.pattern
    armhole, cap = pattern.run_length(seam.layers[0].run), pattern.run_length(layer.run)
    ease = cap - armhole
    gathered = seam.kind is SeamKind.GATHERED
    if ease >= -ROUNDING_MM and (gathered or ease <= MOST_CAP_EASE_MM + 1e-6):
        return
    spot = pattern.spot(layer.run, cap / 2)
    short = ease < 0
    yield Finding(
        code="CAP-EASE",
        severity=Severity.ERROR if short else Severity.WARNING,
        message=f"The sleeve cap is {mm(abs(ease))} {'shorter' if short else 'longer'} than the "
        f"armhole ({mm(cap)} and {mm(armhole)}).",
        remedy="Widen the sleeve or raise its cap."
        if short
        else "Lower the cap or its ease, or gather it.",
        piece=spot.edge.piece,
        edge=spot.edge.edge,
        seam=seam.name,
        measured=mm(ease),
        allowed="at least 0 mm (L04)" if gathered else f"0 mm to {mm(MOST_CAP_EASE_MM)} (L01, L04)",
        at=spot.point,
    )


def shoulder_lengths(derived: Derived) -> Iterator[Finding]:
    """Back shoulders shorter than the front, or longer than usual."""
    found = _shoulder(derived)
    if found is None:
        return
    seam, front, back = found
    pattern = derived.pattern
    longer = pattern.run_length(back) - pattern.run_length(front)
    least, most = SHOULDER_EASE_MM
    if least - ROUNDING_MM <= longer <= most + ROUNDING_MM:
        return
    spot = pattern.spot(back, pattern.run_length(back) / 2)
    yield Finding(
        code="SHOULDER-EASE",
        severity=Severity.WARNING if longer < -ROUNDING_MM else Severity.NOTE,
        message=f"The back shoulder is {mm(abs(longer))} {'shorter' if longer < 0 else 'longer'} "
        "than the front one.",
        remedy="Let the back be 5 to 10 mm longer and ease or dart it, to round over the shoulder "
        "blade.",
        piece=spot.edge.piece,
        edge=spot.edge.edge,
        seam=seam.name,
        measured=mm(longer),
        allowed=f"{mm(least)} to {mm(most)} (D25)",
        at=spot.point,
    )


def _shoulder(derived: Derived) -> tuple[Seam, Run, Run] | None:
    """The seam that neckline and armhole both cross, and its runs, front first."""
    neck, armhole = derived.pattern.runs.get("neck"), derived.pattern.runs.get("armhole")
    if neck is None or armhole is None:
        return None
    crossed = [
        {name for each in derived.corners.junctions(run, "") for name in each.seams or ()}
        for run in (neck, armhole)
    ]
    for name in sorted(crossed[0] & crossed[1]):
        seam = derived.pattern.seams[name]
        if derived.is_of_split(seam):
            continue  # a yoke seam from neck to armhole
        front = neck.edges[0].piece
        layers = [layer.run for layer in seam.layers[:2]]
        if front in layers[1].pieces:
            layers.reverse()
        return seam, layers[0], layers[1]
    return None


def armhole_depth(derived: Derived) -> Iterator[Finding]:
    """Armholes that cut into the armpit, or hang far below it."""
    ends, neck = underarms(derived), derived.pattern.runs.get("neck")
    if ends is None or neck is None or derived.body is None:
        return
    edge, underarm = ends[1]
    center = derived.center_line(edge.piece)
    if center is None or neck.edges[-1].piece != edge.piece:
        return
    own = derived.pattern.piece(edge.piece).points
    nape = own.get("nape") or derived.pattern.path(neck.edges[-1]).end
    depth = abs(center.along.dot(underarm - nape))
    below = depth - derived.body["scye_depth"]
    least, most = ARMHOLE_DEPTH_MM
    if least - ROUNDING_MM <= below <= most + ROUNDING_MM:
        return
    yield Finding(
        code="ARMHOLE-DEPTH",
        severity=Severity.WARNING,
        message=f"The armhole of {titles(derived.pattern, Run((edge,)))} reaches {mm(depth)} below "
        f"the back neck, {mm(abs(below))} {'below' if below >= 0 else 'above'} the armpit.",
        remedy="Lower it: it cuts in." if below < least else "Raise it, if arms are to be lifted.",
        piece=edge.piece,
        edge=edge.edge,
        measured=mm(below),
        allowed=f"{mm(least)} to {mm(most)} below the armpit (D21)",
        at=underarm,
    )


CHECKS = (
    Check(("CAP-EASE",), cap_ease),
    Check(("SHOULDER-EASE",), shoulder_lengths),
    Check(("ARMHOLE-DEPTH",), armhole_depth),
)
