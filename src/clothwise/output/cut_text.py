"""What is cut of a piece, in words."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import groupby

from clothwise.pattern import Copy, CutTo, Pattern, Piece, Ply, Side
from clothwise.pattern.mark import MarkKind
from clothwise.units import LengthUnit, format_length

NO_BREAK_SPACE = "\N{NO-BREAK SPACE}"
_NO_FABRIC = ("fabric", "interfacing", "lining", "cloth")


def cut_texts(piece: Piece, fabric_titles: Mapping[str, str] | None = None) -> tuple[str, ...]:
    """One sentence for each cloth: `Cut 1 pair from main fabric`.

    Args:
        piece: with its copies.
        fabric_titles: what fabric roles are called; others are called by their own names.
    """
    titles = fabric_titles or {}

    def key(copy: Copy) -> tuple[str, str, str]:
        return (copy.role, copy.ply.value, copy.cut_along)

    order = {key(copy): number for number, copy in reversed(list(enumerate(piece.copies)))}
    copies = sorted(piece.copies, key=lambda copy: order[key(copy)])
    return tuple(
        _sentence(piece, list(group), titles.get(role) or _called(role))
        for (role, _, _), group in groupby(copies, key)
    )


def _sentence(piece: Piece, copies: list[Copy], fabric: str) -> str:
    mirrored = sum(copy.mirrored for copy in copies)
    if 2 * mirrored == len(copies):
        amount = f"{mirrored} pair{'s' if mirrored > 1 else ''}"
    else:
        amount = str(len(copies))
    fold = " on the fold" if piece.lies_on_fold else ""
    text = f"Cut {amount}{fold} from {fabric}"
    if piece.fold_edge and not piece.lies_on_fold:
        text += ", opened out"
    if len(copies) == 1 and copies[0].side is not Side.CENTER:
        text += f" for the {copies[0].side.value} side"
        if copies[0].mirrored:
            text += ", this face down"
    if copies[0].ply is Ply.INTERFACING and copies[0].to is CutTo.STITCHING_LINE:
        text += f", {copies[0].cut_along}" if copies[0].beyond_mm else ", to the stitching line"
    return text


def _called(role: str) -> str:
    name = role.replace("_", " ").replace("-", " ")
    return name if name.endswith(_NO_FABRIC) else f"{name} fabric"


def allowance_text(pattern: Pattern, piece: Piece, unit: LengthUnit) -> str:
    """Which allowances are included: the usual one, then the edges that differ."""
    allowed: dict[str, float] = {}
    for name in piece.edge_names:
        if name != piece.fold_edge and not piece.dart_of_leg(name):
            allowed[name] = round(pattern.allowance(piece.name, name), 2)
    if not allowed:
        return ""
    lengths = {
        value: sum(piece.edge(name).length for name in allowed if allowed[name] == value)
        for value in allowed.values()
    }
    usual = max(lengths, key=lambda value: (value > 0, lengths[value]))
    if set(lengths) == {0.0}:
        return "No allowances: cut on the stitching line"
    others: dict[float, list[str]] = {}
    for name, value in allowed.items():
        if value != usual:
            others.setdefault(value, []).append(_spoken(name))
    text = f"Allowance included: {_amount(usual, unit)}"
    for value, names in others.items():
        amount = _amount(value, unit) if value else "none"
        text += f"; {', '.join(dict.fromkeys(names))} {amount}"
    return text


def side_texts(piece: Piece) -> tuple[str, ...]:
    """Marks that only one of the two copies gets: `Buttonholes on the right only`."""
    sides: dict[MarkKind, set[str]] = {}
    for mark in piece.marks:
        if mark.only_side:
            sides.setdefault(mark.kind, set()).add(mark.only_side)
    if any(len(each) > 1 for each in sides.values()):
        return ("What is marked left or right is on that side only",)
    return tuple(
        f"{_plural(kind.value)} on the {side} only".capitalize() for kind, (side,) in sides.items()
    )


def _plural(word: str) -> str:
    return word if word.endswith("s") else f"{word}s"


def _amount(length_mm: float, unit: LengthUnit) -> str:
    """A small length in the reader's unit; meters, feet and yards are none for allowances."""
    if unit in (LengthUnit.INCH, LengthUnit.FOOT, LengthUnit.YARD):
        unit = LengthUnit.INCH
    elif unit is LengthUnit.METER:
        unit = LengthUnit.CENTIMETER
    return format_length(length_mm, unit).replace(" ", NO_BREAK_SPACE)


def _spoken(name: str) -> str:
    return name.replace("_", " ").replace("-", " ")
