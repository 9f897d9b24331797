"""What is printed on the pieces of a make: the cloth that it chooses for single copies."""

from __future__ import annotations

from pathlib import Path

from clothwise.components.design_file import read_make
from clothwise.output import Text, leaves
from clothwise.packet import Making
from clothwise.packet.printing import piece_drawings

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
