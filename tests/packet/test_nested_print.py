"""What is printed of a make: its paper, its sizes, its layers."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader

from clothwise.components.design_file import open_make, read_make
from clothwise.errors import Misuse
from clothwise.output import ALL_LAYERS, Drawing, PrintLayer, PrintPages, Text, leaves, size_layer
from clothwise.output.nest import NESTED_LAYERS
from clothwise.packet import Making, pack
from clothwise.packet.nested_print import (
    PrintChoice,
    chosen_pages,
    for_packet,
    has_chart_size,
    in_size,
    named_sizes,
    nested_drawings,
    sizes_in_words,
)
from clothwise.pattern.commands import AddEdit, read_documents

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


@cache
def kiln() -> Making:
    return Making(read_make(EXAMPLES / "kiln-dress/makes/view-a.yaml"))


def texts(drawing: Drawing) -> str:
    found = (leaf.item.text for leaf in leaves(drawing) if isinstance(leaf.item, Text))
    return " ".join(found).replace("\N{NO-BREAK SPACE}", " ")


def test_without_a_choice_the_make_is_printed_as_it_is() -> None:
    pages = chosen_pages(kiln(), PrintChoice())
    assert pages.title.subtitle == "Size 38"
    assert dict(pages.pages_of).keys() == {each.title for each in kiln().pattern.pieces.values()}


def first_page_of(pages: PrintPages) -> str:
    return " ".join(PdfReader(BytesIO(pages.file().pdf)).pages[0].extract_text().split())


def test_rectangles_are_told_and_can_be_left_out() -> None:
    """The tie belt of the dress is 99 by 9.6 cm, allowances included."""
    pages = chosen_pages(kiln(), PrintChoice("a4"))
    size = "99 cm along the grain, 9.6 cm across"
    assert pages.rectangles == {"Tie belt": size}
    assert f"a rectangle, {size}" in first_page_of(pages)
    out = chosen_pages(kiln(), PrintChoice("a4", leaves_out_rectangles=True))
    assert "Tie belt" not in dict(out.pages_of)
    assert len(out.pages_of) == len(pages.pages_of) - 1
    told = first_page_of(out)
    assert f"11 Tie belt: {size}. Cut 1 pair from main fabric. Allowance included: 1 cm." in told
    assert "Fold line along the grain, 4.8 cm from the left." in told
    whole = chosen_pages(kiln(), PrintChoice("a0", leaves_out_rectangles=True))
    assert f"11 Tie belt: {size}" in " ".join(
        "".join(page.extract_text() for page in PdfReader(BytesIO(whole.file().pdf)).pages).split()
    )


def test_a_skirt_of_rectangles_alone_is_printed_as_a_page_of_words() -> None:
    skirt = Making(read_make(EXAMPLES / "tiered-skirt/makes/view-a.yaml"))
    pages = chosen_pages(skirt, PrintChoice("letter", leaves_out_rectangles=True))
    assert pages.names == ("first page",)
    told = first_page_of(pages)
    for title in (each.title for each in skirt.pattern.pieces.values()):
        assert f"{title}: " in told


def test_of_several_sizes_each_tells_how_large_its_rectangle_is() -> None:
    pages = chosen_pages(kiln(), PrintChoice("a4", ("36", "38"), leaves_out_rectangles=True))
    assert "Tie belt" not in dict(pages.pages_of)
    skirt = Making(read_make(EXAMPLES / "half-circle-skirt/make.yaml"))
    sizes = chosen_pages(skirt, PrintChoice("a4", ("36", "38"))).rectangles["Waistband"]
    assert sizes.startswith("size 36: ")
    assert "; size 38: 74.5 cm along the grain, 9.7 cm across" in sizes


def test_another_size_is_drafted_for_the_chart() -> None:
    other = in_size(kiln(), "46")
    assert other.fit == "size 46"
    front, wide = (
        each.pattern.pieces["bodice-front"].outline.polygon.area for each in (kiln(), other)
    )
    assert wide > front


def test_several_sizes_are_one_print_with_a_layer_for_each() -> None:
    heard: list[str] = []
    pages = chosen_pages(kiln(), PrintChoice("a4", ("40", "36", "38")), tell=heard.append)
    assert pages.title.subtitle == "Sizes 36 to 40"
    layers = [layer.name for layer in pages.sheets[0].layers]
    assert layers[:3] == [size_layer(size) for size in ("36", "38", "40")]
    assert heard[:3] == ["drafting size 36", "drafting size 38", "drafting size 40"]
    assert b"/OCGs" in pages.file().pdf


def test_a_nest_holds_every_piece_of_every_size() -> None:
    makings = {size: in_size(kiln(), size) for size in ("36", "48")}
    drawings = nested_drawings(makings, ALL_LAYERS, kiln().file.of.sizes)
    titles = {each.title for making in makings.values() for each in making.pattern.pieces.values()}
    assert {each.title for each in drawings} == titles
    front = next(each for each in drawings if each.title == "Bodice front")
    assert "Sizes 36 and 48" in texts(front)


def test_sizes_that_are_left_out_are_not_in_a_range() -> None:
    known = ("34", "36", "38", "40")
    assert sizes_in_words(("36", "38", "40"), known) == "36 to 40"
    assert sizes_in_words(("34", "38", "40"), known) == "34, 38 and 40"
    assert sizes_in_words(("34", "36"), known) == "34 and 36"
    assert sizes_in_words(("38",), known) == "38"


def test_layers_that_are_left_out_are_not_drawn() -> None:
    makings = {size: in_size(kiln(), size) for size in ("36", "38")}
    full = nested_drawings(makings, ALL_LAYERS, kiln().file.of.sizes)[0]
    bare = nested_drawings(makings, frozenset(), kiln().file.of.sizes)[0]
    assert len(list(leaves(bare))) < len(list(leaves(full)))
    assert "Allowance" in texts(full)
    assert "Allowance" not in texts(bare)
    assert bare.title in texts(bare)
    assert "straight grain" in texts(bare)


@pytest.mark.parametrize("paper", ["a4", "a0"])
def test_a_print_without_marks_cautions_that_pieces_are_matched_by_them(paper: str) -> None:
    def first_page(layers: frozenset[PrintLayer]) -> str:
        pages = chosen_pages(kiln(), PrintChoice(paper, (), layers))
        shown = pages.pages[0].content
        return " ".join(texts(one if isinstance(one, Drawing) else one.sheet) for one in shown)

    without = first_page(frozenset({PrintLayer.WORDS}))
    assert "Marks are left out of this print" in without
    assert "matched by" in without
    assert "left out" not in first_page(ALL_LAYERS)


def test_large_paper_takes_sheets() -> None:
    pages = chosen_pages(kiln(), PrintChoice("a0", (), frozenset({PrintLayer.MARKS})))
    assert all(page.height_mm >= 841 for page in pages.pages)


@pytest.mark.parametrize(
    ("choice", "what"),
    [
        (PrintChoice("papyrus"), "papyrus"),
        (PrintChoice("a4", ("99",)), "no size '99'"),
        (PrintChoice("a4", ("38", "38")), "named twice"),
    ],
)
def test_what_is_not_there_is_refused_in_words(choice: PrintChoice, what: str) -> None:
    with pytest.raises(Misuse, match=what) as refused:
        chosen_pages(kiln(), choice)
    assert refused.value.what_to_do


def split_dress(to_at: str) -> Making:
    """The kiln dress with a split of the skirt front, which some sizes refuse."""
    line = {"piece": "skirt-front", "from": "side", "from_at": "30%", "to": "front-edge"}
    split = AddEdit("split", {**line, "to_at": to_at}, name="low")
    documents = split.apply(read_documents(EXAMPLES / "kiln-dress"))
    return Making(open_make(documents, "makes/view-a.yaml"))


def test_sizes_that_lack_an_edit_of_others_are_refused_with_the_cause() -> None:
    making = split_dress("42%")
    with pytest.raises(Misuse) as refused:
        chosen_pages(making, PrintChoice("a0", ("48", "50", "52")))
    assert refused.value.how_much == (
        "the edit low is not made in size 52: the line runs through a button of the skirt front"
    )
    assert refused.value.what_to_do.endswith("print that size apart from the others.")
    assert "when" not in str(refused.value)
    assert chosen_pages(making, PrintChoice("a0", ("48", "50"))).names
    assert chosen_pages(making, PrintChoice("a0", ("52",))).names


def test_the_sizes_of_a_packet_are_chosen_with_its_own_among_them() -> None:
    """Several lie on one another without stitching lines; one alone is printed with all lines."""
    assert for_packet(kiln(), sizes=named_sizes("36, 38", kiln().file.of.sizes)) == PrintChoice(
        "", ("36", "38"), NESTED_LAYERS
    )
    every = for_packet(kiln(), "letter", named_sizes("all", kiln().file.of.sizes))
    assert (every.paper, every.sizes) == ("letter", kiln().file.of.sizes)
    assert for_packet(kiln(), sizes=("38",)) == PrintChoice()


@pytest.mark.parametrize(
    ("paper", "sizes", "what"),
    [
        ("a0", (), "A0 is no paper of a home printer"),
        ("", ("36", "40"), "size 38, which the make is for, is not among the sizes"),
        ("", ("38", "99"), "no size '99'"),
    ],
)
def test_what_a_packet_cannot_hold_is_refused_in_words(
    paper: str, sizes: tuple[str, ...], what: str
) -> None:
    with pytest.raises(Misuse, match=what) as refused:
        for_packet(kiln(), paper, sizes)
    assert refused.value.what_to_do


def test_a_packet_for_own_measurements_has_no_sizes_to_choose() -> None:
    make = replace(kiln().file.make, measurements={"bust_girth": "93cm"})
    own = Making(replace(kiln().file, make=make))
    assert has_chart_size(kiln())
    assert not has_chart_size(own)
    with pytest.raises(Misuse, match="packed in no sizes of the chart"):
        for_packet(own, sizes=("36", "38"))


def test_a_packet_of_sizes_that_lack_an_edit_is_refused_before_anything_is_laid_out(
    tmp_path: Path,
) -> None:
    heard: list[str] = []
    prints = PrintChoice("", ("48", "50", "52"), NESTED_LAYERS)
    with pytest.raises(Misuse, match="cannot be printed on one another"):
        pack(split_dress("42%"), tmp_path / "packet", prints=prints, tell=heard.append)
    assert "laying out the fabrics" not in heard
    assert not (tmp_path / "packet").exists()
