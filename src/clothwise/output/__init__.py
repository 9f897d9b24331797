"""Drawings, and the files made of them: one neutral drawing in, bytes out.

Heavy engines are loaded by the function that needs them, so that importing this costs little.
"""

from clothwise.output.arranging import Arrangement, Placed, arrange, arrange_for_tiles
from clothwise.output.bounds import Bounds, drawing_bounds
from clothwise.output.cut_text import cut_texts
from clothwise.output.drawing import (
    Anchor,
    Baseline,
    Cap,
    Color,
    Drawing,
    Group,
    Item,
    Layer,
    Leaf,
    Shape,
    Stroke,
    Text,
    Weight,
    leaves,
    merged,
    moved,
    placed,
    redrawn,
    scaled,
)
from clothwise.output.fonts import missing_letters, text_width
from clothwise.output.front_page import PrintTitle
from clothwise.output.nest import nested, size_layer
from clothwise.output.page_picture import MapTile, PageMap, PagePictures, page_map
from clothwise.output.paper import PAPERS, Margins, Paper, paper_named
from clothwise.output.pdf import Page, View, pages_to_pdf, to_pdf
from clothwise.output.piece_drawing import ALL_LAYERS, PrintLayer, piece_drawing
from clothwise.output.piece_lines import PieceLines, piece_lines
from clothwise.output.piece_words import Caption
from clothwise.output.print_files import (
    PrintFile,
    PrintPages,
    roll_pdf,
    sheet_pages,
    sheet_pdf,
    tiled_pages,
    tiled_pdf,
)
from clothwise.output.svg import to_svg
from clothwise.output.tiling import Tile, Tiling, inked, tile, tile_count

__all__ = [
    "ALL_LAYERS",
    "PAPERS",
    "Anchor",
    "Arrangement",
    "Baseline",
    "Bounds",
    "Cap",
    "Caption",
    "Color",
    "Drawing",
    "Group",
    "Item",
    "Layer",
    "Leaf",
    "MapTile",
    "Margins",
    "Page",
    "PageMap",
    "PagePictures",
    "Paper",
    "PieceLines",
    "Placed",
    "PrintFile",
    "PrintLayer",
    "PrintPages",
    "PrintTitle",
    "Shape",
    "Stroke",
    "Text",
    "Tile",
    "Tiling",
    "View",
    "Weight",
    "arrange",
    "arrange_for_tiles",
    "cut_texts",
    "drawing_bounds",
    "inked",
    "leaves",
    "merged",
    "missing_letters",
    "moved",
    "nested",
    "page_map",
    "pages_to_pdf",
    "paper_named",
    "piece_drawing",
    "piece_lines",
    "placed",
    "redrawn",
    "roll_pdf",
    "scaled",
    "sheet_pages",
    "sheet_pdf",
    "size_layer",
    "text_width",
    "tile",
    "tile_count",
    "tiled_pages",
    "tiled_pdf",
    "to_pdf",
    "to_svg",
]
