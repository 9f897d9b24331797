"""What is printed on the pieces of a make: the cloth that it chooses for single copies."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from pathlib import Path

from pypdf import PdfReader

from clothwise.components.design_file import read_make
from clothwise.output import Text, leaves, tiled_pages
from clothwise.packet import Making
from clothwise.packet.printing import piece_drawings, print_title
from clothwise.pattern import Body

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


def cut(make: str) -> dict[str, list[str]]:
    """The sentences that say what is cut, by piece."""
    making = Making(read_make(EXAMPLES / make))
    found = {}
    for name, drawing in zip(making.pattern.pieces, piece_drawings(making), strict=True):
        texts = (leaf.item.text for leaf in leaves(drawing) if isinstance(leaf.item, Text))
        found[name] = " ".join(texts).replace("\N{NO-BREAK SPACE}", " ")
    return {name: text.split("Cut ")[1:] for name, text in found.items()}


def test_a_copy_is_cut_from_the_cloth_that_the_make_names() -> None:
    told = cut("pilot-coat-dress/makes/port-and-starboard.yaml")
    left, right = told["bodice-front"]
    assert left.startswith("1 from main fabric for the left side")
    assert right.startswith("1 from Starboard green twill for the right side, this face down")
    assert told["collar-under"][0].startswith("1 on the fold from Gray wool, left over")
    assert told["collar-under"][1].startswith("1 on the fold from interfacing")


def test_a_cloth_by_its_role_is_called_as_the_role_is() -> None:
    told = cut("pilot-coat-dress/makes/view-a.yaml")
    assert told["bodice-front"][0].startswith("1 pair from main fabric")
    assert told["collar-upper"][0].startswith("1 on the fold from contrast fabric")


def test_a_print_for_own_measurements_names_the_garment_and_what_it_was_drawn_for() -> None:
    make = read_make(EXAMPLES / "kiln-dress/makes/view-a.yaml")
    own = {"height": "172cm", "bust_girth": "93cm", "waist_girth": "74cm", "hip_girth": "101cm"}
    dora = replace(make.make, title="Dora, blue cotton", size="", measurements=own)
    body = Body.complete({name: float(text[:-2]) * 10 for name, text in own.items()})
    title = print_title(Making(replace(make, make=dora, body=body)))
    assert title.title == "Dora, blue cotton"
    assert title.subtitle == "Own measurements, Kiln dress"
    (words,) = title.notes
    assert words.startswith("Drawn for: ")
    assert "bust girth 93 cm" in words
    assert re.search(r"\. \d+ others are estimated from these\.$", words)
    assert len(words) < 200
    usual = print_title(Making(make), "Packet 2, design 0004-abc")
    assert (usual.subtitle, usual.notes) == ("Size 38", ())
    pages = tiled_pages(piece_drawings(Making(make))[:1], replace(title, edition=usual.edition))
    pdf = PdfReader(io.BytesIO(pages.file().pdf))
    first, second = (" ".join(page.extract_text().split()) for page in pdf.pages[:2])
    assert "Drawn for: " in first
    assert usual.edition in first
    assert f"page 2 of {len(pdf.pages)} {usual.edition}" in second
