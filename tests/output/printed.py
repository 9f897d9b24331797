"""What several tests print: the example dress, and a piece small enough to work out by hand."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from clothwise.components.design_file import read_design
from clothwise.geometry import Outline, Point, straight
from clothwise.output import Caption, Drawing, PrintTitle, piece_drawing
from clothwise.pattern import Finish, FinishKind, Grainline, Pattern, Piece, pair, run, single

EXAMPLES = Path(__file__).parents[2] / "examples"


@cache
def dress(size: str = "", view: str = "") -> Pattern:
    """The example dress, its base size by default."""
    design = read_design(EXAMPLES / "kiln-dress")
    return design.draft(view=view, body=design.body(size))


@cache
def dress_sizes() -> dict[str, Pattern]:
    design = read_design(EXAMPLES / "kiln-dress")
    return {size: design.draft(body=design.body(size)) for size in design.sizes}


@cache
def dress_drawings() -> tuple[Drawing, ...]:
    pattern = dress()
    return tuple(
        piece_drawing(pattern, name, Caption("Kiln dress", "base", str(number)))
        for number, name in enumerate(pattern.pieces, start=1)
    )


TITLE = PrintTitle("Kiln dress", "base size")


def box(
    width: float = 100.0, height: float = 60.0, *, name: str = "box", on_fold: bool = False
) -> Piece:
    """A rectangle from (0, 0); its left edge may lie on the fold. Grain upright in the middle."""
    corners = [Point(0, 0), Point(width, 0), Point(width, height), Point(0, height)]
    edges = {
        edge: straight(start, end)
        for edge, start, end in zip(
            ("bottom", "right", "top", "left"), corners, corners[1:] + corners[:1], strict=True
        )
    }
    middle = width / 2
    return Piece(
        name,
        name.capitalize(),
        Outline(edges),
        Grainline(Point(middle, height * 0.2), Point(middle, height * 0.8)),
        single("main") if on_fold else pair("main"),
        fold_edge="left" if on_fold else None,
    )


def pattern_of(*pieces: Piece, allowance_mm: float = 10.0) -> Pattern:
    """Pieces whose every edge off the fold is overlocked with one allowance."""
    finishes = {}
    for piece in pieces:
        for edge in piece.edge_names:
            if edge != piece.fold_edge:
                name = f"{piece.name} {edge}"
                finishes[name] = Finish(
                    name,
                    name,
                    run(f"{piece.name}.{edge}"),
                    FinishKind.OVERLOCKED,
                    depth_mm=allowance_mm,
                )
    return Pattern({piece.name: piece for piece in pieces}, finishes=finishes)
