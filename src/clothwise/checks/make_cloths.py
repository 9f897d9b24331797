"""Whether the cloths of a make suit the design: how far they give, and for what they are."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from difflib import get_close_matches

from clothwise.checks.cloth_stretch import LEAST_STRETCH
from clothwise.checks.texts import listed
from clothwise.pattern import Finding, Pattern, Piece, Ply, Severity
from clothwise.pattern.document import Design, FabricEntry, Make
from clothwise.pattern.document.assignment import SetAside, fabric_of, set_aside
from clothwise.pattern.first_letter import raised
from clothwise.pattern.plain_names import plain_name

MAKE_CODES = ("FABRIC-STRETCH", "MAKE-PIECE")
"""What is found about the cloths of a make."""

NEAR_SHARE = 0.8
"""A name this much alike may be a slip of the pen; our own choice."""

ROUNDING_SHARE = 1e-6
"""A cloth that gives so little less than asked for gives enough."""


def check_cloths(pattern: Pattern, design: Design, make: Make) -> tuple[Finding, ...]:
    """Return what is wrong with the cloths of a make.

    A finding for each role and cloth that do not go together, and for each piece or copy of which
    the make says something although the garment does not have it.

    A copy without a cloth is passed over: `assign` says that. Stretchy interfacing or lining
    beside woven cloth does no harm, and is left alone.

    Args:
        pattern: drafted for the make.
        design: of the make, for the titles of its roles.
        make: with the fabrics.
    """
    return (*_findings(pattern, design, make), *check_pieces(pattern, make))


def check_pieces(pattern: Pattern, make: Make) -> tuple[Finding, ...]:
    """Return a finding for each piece or copy that a make names and the garment does not have.

    What the make says of it is left aside, and all else goes on.
    """
    titles = {entry.name: entry.title or entry.name for entry in make.fabrics}
    return tuple(_left_aside(each, titles, pattern) for each in set_aside(pattern, make))


def _left_aside(aside: SetAside, titles: Mapping[str, str], pattern: Pattern) -> Finding:
    name, _, copy = aside.key.partition("/")
    piece = pattern.pieces.get(name)
    title = piece.title if piece else raised(plain_name(name))
    called = f"{title}, {plain_name(copy)}" if copy else title
    cloth = titles.get(aside.fabric, aside.fabric)
    said = (
        f"{cloth} was chosen for {called}" if aside.fabric else f"A place was pinned for {called}"
    )
    lacks = "a copy that it does not have" if piece else "which this garment does not have"
    near = get_close_matches(aside.key if piece else name, aside.known, n=1, cutoff=NEAR_SHARE)
    meant = f" If {near[0]} was meant, write that." if near else ""
    again = "Choose the cloth again in Cut" if aside.fabric else "Pin it again in Cut"
    return Finding(
        code="MAKE-PIECE",
        severity=Severity.WARNING,
        message=f"{said}, {lacks}: that is left aside.",
        remedy=f"{again}, or take {aside.key} out of the make.{meant}",
        piece=name if piece else "",
        size=pattern.size,
        measured=aside.key,
        allowed="pieces and copies of the garment",
    )


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
