"""Group `print`: from drafted patterns to files for a printer."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from clothwise.components.design_file import read_design
from clothwise.output import (
    Caption,
    PrintFile,
    PrintTitle,
    nested,
    piece_drawing,
    roll_pdf,
    tiled_pdf,
)
from clothwise.pattern import Body, Pattern, SeamCorners
from figures import CannotMeasure, figure, median_ms

GROUP = "print"

EXAMPLE = Path(__file__).parents[1] / "examples" / "kiln-dress"
SIZES = 12
TITLE = PrintTitle("Kiln dress", "all sizes")


@cache
def patterns() -> dict[str, Pattern]:
    """The example dress in twelve sizes: the bust from 82 to 126 cm by 4."""
    if not EXAMPLE.exists():
        raise CannotMeasure(f"{EXAMPLE} is not there")
    design = read_design(EXAMPLE)
    sizes = {}
    for number in range(SIZES):
        body = Body.complete(
            {
                "height": 1640.0 + 4 * number,
                "bust_girth": 820.0 + 40 * number,
                "waist_girth": 640.0 + 42 * number,
                "hip_girth": 880.0 + 40 * number,
            }
        )
        sizes[str(34 + 2 * number)] = design.draft(body=body)
    return sizes


def nested_tiles() -> PrintFile:
    """Everything after drafting: lines, words, arrangement, pages, bytes."""
    sizes = patterns()
    corners = {size: SeamCorners(pattern) for size, pattern in sizes.items()}
    pieces = [
        nested(sizes, name, Caption("Kiln dress"), corners=corners)
        for name in next(iter(sizes.values())).pieces
    ]
    return tiled_pdf(pieces, TITLE, sizes=list(sizes))


@figure("nested_12_sizes_tiled", unit="s", bar=2)
def nested_12_sizes_tiled() -> float:
    patterns()
    return median_ms(nested_tiles, runs=3) / 1000


@figure("nested_12_sizes_tiled_file", unit="MB", bar=1)
def nested_12_sizes_tiled_file() -> float:
    return len(nested_tiles().pdf) / 1e6


@figure("nested_12_sizes_pages", unit="pages")
def nested_12_sizes_pages() -> float:
    return float(nested_tiles().pages)


def _one_size() -> PrintFile:
    pattern = patterns()["38"]
    corners = SeamCorners(pattern)
    pieces = [
        piece_drawing(pattern, name, Caption("Kiln dress", "38"), corners=corners)
        for name in pattern.pieces
    ]
    tiled = tiled_pdf(pieces, TITLE)
    roll_pdf(pieces, TITLE, width_mm=914)
    return tiled


@figure("one_size_tiled_and_roll", unit="s")
def one_size_tiled_and_roll() -> float:
    patterns()
    return median_ms(_one_size, runs=3) / 1000


@figure("one_size_pages", unit="pages")
def one_size_pages() -> float:
    return float(_one_size().pages)
