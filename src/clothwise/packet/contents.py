"""What a packet holds, told before it is built."""

from __future__ import annotations

from dataclasses import dataclass

from clothwise.output import paper_named
from clothwise.packet.making import Making
from clothwise.packet.nested_print import AS_MADE, PrintChoice, sizes_called
from clothwise.packet.rectangles import told_rectangles
from clothwise.pattern.enumerated import enumerated

BOOKLET = "booklet.pdf"
PATTERN_PAGES = "pattern-pages.pdf"
PATTERN_SHEETS = "pattern-a0.pdf"
SHEET_PAPER = "a0"
CUTTING_LIST = "cutting-list.csv"
MEASUREMENT_SHEET = "measurement-sheet.pdf"
MEASUREMENT_TABLE = "measurement-sheet.xlsx"
DATA = "packet.json"


@dataclass(frozen=True)
class PacketFile:
    """A file of a packet: its name, what it is, and what stands in it."""

    name: str
    what: str
    holds: tuple[str, ...]


def packet_files(making: Making, prints: PrintChoice = AS_MADE) -> tuple[PacketFile, ...]:
    """The files that packing a make writes, in order, with what stands in each.

    Nothing is laid out for it. `prints` is how the pattern is printed, as for `pack`.

    Raises:
        Misuse: there is no such paper.
    """
    steps = len(making.steps())
    out = told_rectangles({making.size: making}) if prints.leaves_out_rectangles else ()
    pieces = len(making.pattern.pieces) - len(out)
    sizes = making.file.of.sizes
    fabrics = tuple(dict.fromkeys(line.fabric for line in making.cutting_list))
    titles = ", ".join(making.fabric_titles[name] for name in fabrics)
    paper = paper_named(prints.paper or making.file.make.paper).name
    nested = sizes_called(prints.sizes, sizes) if prints.sizes else ""
    within = (
        (f"{nested} drawn inside each other, each with its own kind of line",) if nested else ()
    )
    on_pages = (
        f"{_counted(pieces, 'piece')} on {paper} pages" if pieces else f"words alone, on {paper}"
    )
    names = enumerated([each.title for each in out])
    told_out = (f"without {names}, to be measured out on the cloth",) if out else ()
    return (
        PacketFile(
            BOOKLET,
            "booklet: what you need, layouts, order of work",
            (
                "the garment from the front and the back",
                "measurements, what to buy, notions",
                f"layouts for {_counted(len(fabrics), 'fabric')}: {titles}",
                *((f"all of it for {making.fit}",) if nested else ()),
                f"{_counted(steps, 'step')} with drawings, sittings, what to mind",
            ),
        ),
        PacketFile(
            PATTERN_PAGES,
            "pattern for a home printer",
            (
                on_pages,
                *within,
                *told_out,
                "test squares and a map of the pages",
            ),
        ),
        PacketFile(
            PATTERN_SHEETS,
            "pattern for a copy shop",
            (f"the same pieces{', all sizes of them,' if nested else ''} on A0 sheets",),
        ),
        PacketFile(CUTTING_LIST, "cutting list", ("every piece, how often, from which fabric",)),
        PacketFile(
            MEASUREMENT_SHEET,
            "finished measurements of all sizes",
            (f"{_counted(len(sizes), 'size')}: {sizes[0]} to {sizes[-1]}",),
        ),
        PacketFile(
            MEASUREMENT_TABLE, "finished measurements as a spreadsheet", ("the same sizes",)
        ),
        PacketFile(DATA, "for other programs", ("fabrics, steps and findings as JSON",)),
    )


def _counted(number: int, of_what: str) -> str:
    return f"{number} {of_what}{'' if number == 1 else 's'}"
