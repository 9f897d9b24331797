"""The pattern of a make as print files: pages for a home printer, and large sheets."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace

from clothwise.output import (
    ALL_LAYERS,
    Caption,
    Drawing,
    PrintLayer,
    PrintTitle,
    arrange,
    merged,
    piece_drawing,
    placed,
    to_svg,
)
from clothwise.packet.made_from import made_from
from clothwise.packet.making import Making
from clothwise.pattern import Copy, Pattern, Piece
from clothwise.pattern.measurements import shown_value
from clothwise.pattern.vocabulary import MEASUREMENTS

SVG_WIDTH_MM = 1500.0
"""Width of the drawing of all pieces; about that of wide cloth."""

LARGE_PAPERS = ("a0", "a1", "a2", "ansi-d", "ansi-e", "arch-d", "arch-e", "arch-e1")
"""Papers that pieces are arranged on, rather than cut into pages."""


OWN_FABRIC = "fabric of the make: "
"""Begins what stands for the role of a copy whose cloth the make chooses by itself."""


def piece_drawings(
    making: Making, layers: frozenset[PrintLayer] = ALL_LAYERS, without: Collection[str] = ()
) -> tuple[Drawing, ...]:
    """A drawing of every piece, with its words; but for those named in `without`.

    Copies are cut from what their role is called, or from the cloth that the make names for them.
    """
    pattern = with_own_fabrics(making)
    return tuple(
        piece_drawing(
            pattern, name, caption_of(making, name), corners=making.corners, layers=layers
        )
        for name in making.pattern.pieces
        if name not in without
    )


def caption_of(making: Making, piece: str) -> Caption:
    """What the words of a piece say beside what the piece itself knows."""
    own = {f"{OWN_FABRIC}{name}": title for name, title in making.fabric_titles.items()}
    return Caption(
        design=making.file.of.design.title,
        size=making.size,
        number=str(making.numbers[piece]),
        unit=making.unit,
        fabric_titles={**making.role_titles, **own},
    )


def with_own_fabrics(making: Making) -> Pattern:
    """The pattern, with the cloths that the make names for single copies as their roles."""
    roles = making.file.make.roles

    def told(piece: Piece, copy: Copy) -> Copy:
        fabric = making.assignment[piece.name, copy.name]
        usual = roles.get(copy.role)
        return copy if fabric == usual else replace(copy, role=f"{OWN_FABRIC}{fabric}")

    pieces = {
        piece.name: replace(piece, copies=tuple(told(piece, copy) for copy in piece.copies))
        for piece in making.pattern.pieces.values()
    }
    return replace(making.pattern, pieces=pieces)


def print_title(making: Making, edition: str = "") -> PrintTitle:
    """What stands at the head of what is printed of one size or body.

    A make that is called otherwise than its design names that too, and one for own measurements
    says which it was drawn for.

    Args:
        making: what is printed.
        edition: which printing it is; may be empty.
    """
    fit = making.fit[0].upper() + making.fit[1:]
    return PrintTitle(
        making.title, of_design(fit, making), _drawn_for(making), edition, making.unit
    )


def of_design(words: str, making: Making) -> str:
    """The words, with the title of the design if the make does not name it in its own."""
    design = making.file.of.design.title
    is_named = design.casefold() in making.title.casefold()
    return words if is_named else ", ".join(part for part in (words, design) if part)


def _drawn_for(making: Making) -> tuple[str, ...]:
    """For own measurements, those taken of the body that the garment is made from."""
    if making.size in making.file.of.sizes and not making.file.make.measurements:
        return ()
    body, names = making.file.body, made_from(making.file)
    own = [name for name in names if not body.is_estimated(name)]
    if not own:
        return ()
    told = (
        f"{of.label.lower()} {shown_value(of, body[of.name], making.unit)}"
        for of in map(MEASUREMENTS.__getitem__, own)
    )
    rest = len(names) - len(own)
    of_these = f" {rest} others are estimated from these." if rest > 1 else ""
    of_these = " Another one is estimated from these." if rest == 1 else of_these
    return (f"Drawn for: {', '.join(told)}.{of_these}",)


def pieces_svg(pattern: Pattern, title: str) -> str:
    """All pieces side by side at true size, as SVG."""
    drawings = [
        piece_drawing(pattern, name, Caption(design=title, size=pattern.size, number=str(number)))
        for number, name in enumerate(pattern.pieces, start=1)
    ]
    spots = arrange(drawings, SVG_WIDTH_MM).placed
    laid = (placed(drawing, spot.transform) for drawing, spot in zip(drawings, spots, strict=True))
    return to_svg(merged(laid, title=title))
