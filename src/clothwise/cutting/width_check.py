"""Whether every piece of a make fits across the fabric that it is cut from."""

from __future__ import annotations

from collections.abc import Iterator

from clothwise.cutting.fabric import Fabric, width_text
from clothwise.cutting.from_make import fabric_from
from clothwise.cutting.proposed_seam import least_width_mm, proposed_seams, seams_told
from clothwise.errors import GeometryError
from clothwise.pattern import CutTo, Finding, Pattern, Piece, SeamCorners, Severity
from clothwise.pattern.document import Make
from clothwise.pattern.document.assignment import fabric_of

__all__ = ["WIDTH_CODES", "check_fabric_widths"]

WIDTH_CODES = ("FABRIC-NARROW",)
"""What is found about the widths of the fabrics of a make."""
_SLACK_MM = 1e-6


def check_fabric_widths(
    pattern: Pattern,
    make: Make,
    *,
    corners: SeamCorners | None = None,
    seam_allowance_mm: float = 15.0,
) -> tuple[Finding, ...]:
    """Return a finding for each piece and fabric of a make that is narrower than the piece.

    Copies without a fabric are passed over, and so are pieces without a cutting line: other
    findings say so.

    Args:
        pattern: drafted for the make.
        make: with the fabrics.
        corners: of the pattern, if they are known.
        seam_allowance_mm: of the seams that are proposed.

    Raises:
        CuttingError: a fabric that cannot be.
    """
    fabrics = {entry.name: fabric_from(entry) for entry in make.fabrics}
    corners = corners or SeamCorners(pattern)
    return tuple(
        found
        for piece in pattern.pieces.values()
        for found in _of_piece(pattern, piece, make, fabrics, corners, seam_allowance_mm)
    )


def _of_piece(
    pattern: Pattern,
    piece: Piece,
    make: Make,
    fabrics: dict[str, Fabric],
    corners: SeamCorners,
    seam_allowance_mm: float,
) -> Iterator[Finding]:
    names = dict.fromkeys(
        fabric_of(piece, copy, make) for copy in piece.copies if copy.to is CutTo.CUTTING_LINE
    )
    cut_from = [fabrics[name] for name in names if name in fabrics]
    if not cut_from:
        return
    for fabric in cut_from:
        try:
            wide = least_width_mm(pattern, piece.name, fabric, corners)
        except GeometryError:
            return
        usable = fabric.washed_width_mm
        if wide <= usable + _SLACK_MM:
            continue
        seams = proposed_seams(pattern, piece.name, fabric, seam_allowance_mm=seam_allowance_mm)
        yield Finding(
            code="FABRIC-NARROW",
            severity=Severity.ERROR,
            message=f"{piece.title} is {width_text(wide)} wide across the grain; of {fabric.name} "
            f"{width_text(usable)} are usable.",
            remedy=f"Take a wider fabric, or divide the piece by a seam{seams_told(seams)}.",
            piece=piece.name,
            measured=width_text(wide),
            allowed=f"at most {width_text(usable)}",
        )
