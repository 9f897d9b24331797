"""What a packet will hold is told before it is built, and is what is written."""

from __future__ import annotations

from pathlib import Path

from clothwise.components.design_file import read_make
from clothwise.cutting import Effort
from clothwise.packet import Making, pack
from clothwise.packet.contents import packet_files
from clothwise.packet.nested_print import for_packet

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


def test_what_is_told_is_what_is_written(tmp_path: Path) -> None:
    making = Making(read_make(EXAMPLES / "half-circle-skirt/make.yaml"))
    told = packet_files(making)
    written = pack(making, tmp_path / "packet", effort=Effort(0, 0))
    assert [(each.name, each.what) for each in told] == [
        (each.path.name, each.what) for each in written
    ]
    assert all(each.holds for each in told)


def test_what_is_told_counts_what_there_is() -> None:
    making = Making(read_make(EXAMPLES / "kiln-dress/makes/view-a.yaml"))
    told = {each.name: " ".join(each.holds) for each in packet_files(making)}
    assert "23 steps" in told["booklet.pdf"]
    assert "3 fabrics: Slate linen" in told["booklet.pdf"]
    assert "10 sizes: 34 to 52" in told["measurement-sheet.pdf"]


def test_what_is_told_leaves_out_what_is_not_printed() -> None:
    making = Making(read_make(EXAMPLES / "kiln-dress/makes/view-a.yaml"))
    told = {each.name: " ".join(each.holds) for each in packet_files(making)}
    assert "11 pieces on A4 or Letter pages" in told["pattern-pages.pdf"]
    choice = for_packet(making, "letter", leaves_out_rectangles=True)
    told = {each.name: " ".join(each.holds) for each in packet_files(making, choice)}
    assert "10 pieces on Letter pages without Tie belt, to be" in told["pattern-pages.pdf"]
    alone = Making(read_make(EXAMPLES / "tiered-skirt/makes/view-a.yaml"))
    told = {
        each.name: " ".join(each.holds)
        for each in packet_files(alone, for_packet(alone, "a4", leaves_out_rectangles=True))
    }
    assert told["pattern-pages.pdf"].startswith("words alone, on A4")


def test_what_is_told_names_the_sizes_and_the_paper_of_the_pattern() -> None:
    making = Making(read_make(EXAMPLES / "kiln-dress/makes/view-a.yaml"))
    choice = for_packet(making, "letter", ("36", "38", "40"))
    told = {each.name: " ".join(each.holds) for each in packet_files(making, choice)}
    assert "on Letter pages sizes 36 to 40 drawn inside each other" in told["pattern-pages.pdf"]
    assert "all sizes of them, on A0" in told["pattern-a0.pdf"]
    assert "all of it for size 38" in told["booklet.pdf"]
