"""Openings: a neckline goes round the neck and, unopened, over the head; a waist over the hip."""

from __future__ import annotations

from collections.abc import Iterator

from clothwise.checks.check_type import Check
from clothwise.checks.cloth_stretch import cloth_along
from clothwise.checks.derived import Derived
from clothwise.checks.girths import ROUNDING_MM
from clothwise.checks.texts import cm, mm
from clothwise.geometry import Point
from clothwise.pattern import EdgeRef, Finding, Run, Severity

OPENINGS = ("front-edge", "back-edge", "opening")
"""Names of runs that open a garment."""

TOUCHING_MM = 0.5
"""An opening begins at the neckline if their ends are this near; rounding."""


def neck_girth(derived: Derived) -> Iterator[Finding]:
    """Necklines smaller than the base of the neck (D14: common practice, no source).

    Where the fronts part below it, the neckline is worn open and cannot be too small.
    """
    neck, body = derived.pattern.runs.get("neck"), derived.body
    if neck is None or body is None or _parts_below(derived, neck):
        return
    around, base = derived.girth(neck), body["neck_base_girth"]
    cloth = cloth_along(derived, neck)
    if around < cloth.least_worn_mm(base) - ROUNDING_MM:
        chokes = cloth.worn_mm(around) < body["neck_girth"] - ROUNDING_MM
        yield _opening(
            derived,
            neck,
            "NECK-GIRTH",
            Severity.ERROR if chokes else Severity.WARNING,
            f"The neckline, in {cloth.words}, measures {cm(around)}, the base of the neck "
            f"{cm(base)}" + (": closed, it is tighter than the neck itself." if chokes else "."),
            f"Lengthen the neckline by {mm(cloth.least_worn_mm(base) - around)} or more: lower or "
            "widen it.",
            around,
            f"at least {cm(cloth.least_worn_mm(base))} (D14)",
        )


def neck_over_head(derived: Derived) -> Iterator[Finding]:
    """Necklines that are smaller than the head, also where they are opened.

    An opening from the neckline down adds its length twice.
    """
    neck, body = derived.pattern.runs.get("neck"), derived.body
    if neck is None or body is None:
        return
    around, head = derived.girth(neck), body["head_girth"]
    cloth, slit = cloth_along(derived, neck), _slit_mm(derived, neck)
    if cloth.pulled_mm(around) + 2 * slit < head:
        opened = f", opened for {cm(slit)}" if slit else " and nothing opens it"
        yield _opening(
            derived,
            neck,
            "NECK-HEAD",
            Severity.ERROR,
            f"The neckline measures {cm(around)}{opened}, the head {cm(head)}: in {cloth.words} it "
            "does not go over.",
            (
                f"Lengthen the opening by {mm((head - cloth.pulled_mm(around)) / 2 - slit)}, or "
                "make the neckline larger."
                if slit
                else "Plan an opening, or make the neckline larger: as large as the head in woven "
                "cloth."
            ),
            around,
            f"at least {cm(cloth.least_pulled_mm(head - 2 * slit))}",
        )


def waist_over_hip(derived: Derived) -> Iterator[Finding]:
    """Waists that nothing opens and that are smaller than the hip (F15: derived).

    A dress that opens above its waist only is pulled over the head: the bust must go through.
    """
    waist, body = derived.pattern.runs.get("waist"), derived.body
    if waist is None or body is None or _waist_opens(derived):
        return
    dress = "armhole" in derived.pattern.runs
    part, needed = ("bust", body["bust_girth"]) if dress else ("hip", body["hip_girth"])
    around = derived.girth(waist)
    cloth = cloth_along(derived, waist)
    if cloth.pulled_mm(around) < needed:
        yield _opening(
            derived,
            waist,
            "WAIST-OPENING",
            Severity.ERROR,
            f"The waist measures {cm(around)} and nothing opens it, the {part} {cm(needed)}: in "
            f"{cloth.words} it does not go over.",
            "Plan an opening, or gather a wider waist with elastic.",
            around,
            f"at least {cm(cloth.least_pulled_mm(needed))} (F15)",
        )


def _parts_below(derived: Derived, neck: Run) -> bool:
    """True if the fronts part at a break below the neckline, as they do with lapels."""
    return any("break point" in derived.pattern.piece(piece).points for piece in neck.pieces)


def _slit_mm(derived: Derived, neck: Run) -> float:
    """Length of the longest opening that begins at the neckline; 0 if none does."""
    pattern = derived.pattern
    lines = [*neck.edges, *getattr(pattern.runs.get("neck-edge"), "edges", ())]
    ends = [(edge.piece, point) for edge in lines for point in _ends(derived, edge)]
    lengths = [
        pattern.run_length(opening)
        for opening in _openings(derived)
        if any(
            piece == edge.piece and point.is_close(end, TOUCHING_MM)
            for edge in opening.edges
            for end in _ends(derived, edge)
            for piece, point in ends
        )
    ]
    return max(lengths, default=0.0)


def _ends(derived: Derived, edge: EdgeRef) -> tuple[Point, Point]:
    path = derived.pattern.path(edge)
    return path.start, path.end


def _waist_opens(derived: Derived) -> bool:
    """True if an opening goes on below the waist, so that the waist itself is not closed."""
    runs, waist = derived.pattern.runs, derived.pattern.runs.get("waist")
    below = set(runs["hem"].pieces) if "hem" in runs else set()
    on_waist = set(waist.edges) if waist else set()
    for seam in derived.pattern.seams.values():
        if set(seam.layers[0].run.edges) <= on_waist:
            below |= {piece for layer in seam.layers[1:] for piece in layer.run.pieces}
    return any(not below or below & set(opening.pieces) for opening in _openings(derived))


def _openings(derived: Derived) -> list[Run]:
    runs = derived.pattern.runs
    return [runs[name] for name in OPENINGS if name in runs]


def _opening(
    derived: Derived,
    run: Run,
    code: str,
    severity: Severity,
    message: str,
    remedy: str,
    measured_mm: float,
    allowed: str,
) -> Finding:
    spot = derived.pattern.spot(run, derived.pattern.run_length(run) / 2)
    return Finding(
        code=code,
        severity=severity,
        message=message,
        remedy=remedy,
        piece=spot.edge.piece,
        edge=spot.edge.edge,
        measured=cm(measured_mm),
        allowed=allowed,
        at=spot.point,
    )


CHECKS = (
    Check(("NECK-GIRTH",), neck_girth),
    Check(("NECK-HEAD",), neck_over_head),
    Check(("WAIST-OPENING",), waist_over_hip),
)
