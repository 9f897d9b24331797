"""Whether the cloths of a make give as much as what the design is drafted for."""

from __future__ import annotations

from collections.abc import Iterator

from clothwise.checks.cloth_stretch import LEAST_STRETCH
from clothwise.checks.texts import listed
from clothwise.pattern import Finding, Pattern, Piece, Ply, Severity
from clothwise.pattern.document import Design, FabricEntry, Make
from clothwise.pattern.document.assignment import fabric_of

MAKE_CODES = ("FABRIC-STRETCH",)
"""What is found about the cloths of a make."""

ROUNDING_SHARE = 1e-6
"""A cloth that gives so little less than asked for gives enough."""


def check_cloths(pattern: Pattern, design: Design, make: Make) -> tuple[Finding, ...]:
    """Return a finding for each role and cloth of a make that do not go together.

    A copy without a cloth is passed over: `assign` says that. Stretchy interfacing or lining
    beside woven cloth does no harm, and is left alone.

    Args:
        pattern: drafted for the make.
        design: of the make, for the titles of its roles.
        make: with the fabrics.
    """
    return tuple(_findings(pattern, design, make))


def _findings(pattern: Pattern, design: Design, make: Make) -> Iterator[Finding]:
    entries = {entry.name: entry for entry in make.fabrics}
    cut: dict[tuple[str, str, bool], list[Piece]] = {}
    for piece in pattern.pieces.values():
        for copy in piece.copies:
            fabric = fabric_of(piece, copy, make)
            if fabric in entries:
                key = (copy.role, fabric, copy.ply is Ply.SHELL)
                cut.setdefault(key, []).append(piece)
    for (role, fabric, is_shell), pieces in cut.items():
        asked, given = pattern.stretch.get(role, 0.0), entries[fabric].stretch_share
        title = design.roles[role].title if role in design.roles else role
        if asked >= LEAST_STRETCH and given < asked - ROUNDING_SHARE:
            yield _too_firm(pieces, title, asked, entries[fabric], pattern.size)
        elif is_shell and asked < LEAST_STRETCH <= given:
            yield _too_soft(pieces, title, entries[fabric], pattern.size)


def _too_firm(
    pieces: list[Piece], role: str, asked: float, entry: FabricEntry, size: str
) -> Finding:
    is_woven = entry.stretch_share < LEAST_STRETCH
    gives = f"gives {entry.stretch_share:.0%}" if entry.stretch_share else "states no stretch"
    return Finding(
        code="FABRIC-STRETCH",
        severity=Severity.ERROR if is_woven else Severity.WARNING,
        message=f"{role} is drafted for cloth that stretches by {asked:.0%}; "
        f"{entry.title or entry.name}, from which {_titles(pieces)} "
        f"{'are' if len(set(_names(pieces))) > 1 else 'is'} cut, {gives}"
        + (": it may not go on." if is_woven else ": it will be tighter than meant."),
        remedy=f"Take a cloth that stretches by {asked:.0%} or more, or state the `stretch` of "
        "this one if it has it.",
        piece=pieces[0].name,
        size=size,
        measured=f"{entry.stretch_share:.0%}",
        allowed=f"at least {asked:.0%}",
    )


def _too_soft(pieces: list[Piece], role: str, entry: FabricEntry, size: str) -> Finding:
    return Finding(
        code="FABRIC-STRETCH",
        severity=Severity.WARNING,
        message=f"{role} is drafted for woven cloth; {entry.title or entry.name}, from which "
        f"{_titles(pieces)} {'are' if len(set(_names(pieces))) > 1 else 'is'} cut, stretches by "
        f"{entry.stretch_share:.0%}: it will be wider than meant, and seams will give.",
        remedy="Take a woven cloth, or draft for this one: state the `stretch` of the role and "
        "take away ease.",
        piece=pieces[0].name,
        size=size,
        measured=f"{entry.stretch_share:.0%}",
        allowed=f"below {LEAST_STRETCH:.0%}",
    )


def _names(pieces: list[Piece]) -> list[str]:
    return [piece.name for piece in pieces]


def _titles(pieces: list[Piece]) -> str:
    titles = list(dict.fromkeys(piece.title for piece in pieces))
    more = len(titles) - 3
    return listed(titles[:3] if more <= 0 else [*titles[:3], f"{more} more"])
