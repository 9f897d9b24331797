"""Pieces on partly folded cloth that are moved by hand from the flap to the single layer."""

from __future__ import annotations

from pathlib import Path

import pytest

from clothwise.app.jobs.cut_layouts import PinOf, layout_kept
from clothwise.cutting import Cut, Layout, Placement
from clothwise.cutting.layout import Layers, lanes_mm
from clothwise.errors import CuttingError
from clothwise.pattern.commands import Documents, SetFabric, SetPins, read_documents

EXAMPLES = Path(__file__).parents[2] / "examples"
MAKE = "makes/view-a.yaml"
POCKET = "pocket/left"


def job(documents: Documents, folder: Path, moved_mm: tuple[float, float] = (0, 0)) -> PinOf:
    (folder / "makes").mkdir(exist_ok=True)
    return PinOf("kiln-dress", documents, MAKE, str(folder), copy=POCKET, moved_mm=moved_mm)


def moved(documents: Documents, folder: Path, across_mm: float) -> Documents:
    pins = job(documents, folder, (0.0, across_mm)).run(lambda *_, **__: None, lambda: False)
    return SetPins(MAKE, pins).apply(documents)


def laid(documents: Documents, folder: Path) -> tuple[Layout, Placement]:
    layout = layout_kept(job(documents, folder).making(), "print")
    return layout, next(each for each in layout.placements if POCKET in each.item_ids)


@pytest.fixture
def face_down(tmp_path: Path) -> Documents:
    """Both pockets are pinned on the flap, with the pattern printed side down."""
    documents = read_documents(EXAMPLES / "kiln-dress")
    documents = SetFabric(MAKE, "print", {"layers": "partly folded"}).apply(documents)
    (pin,) = job(documents, tmp_path).run(lambda *_, **__: None, lambda: False).values()
    documents = SetPins(MAKE, {POCKET: {**pin, "turned_over": "yes"}}).apply(documents)
    _, placement = laid(documents, tmp_path)
    assert (placement.cut, placement.mirrored) == (Cut.PAIR, True)
    return documents


def test_a_copy_that_leaves_the_flap_is_turned_over_if_it_has_to_be(
    face_down: Documents, tmp_path: Path
) -> None:
    documents = moved(face_down, tmp_path, 300.0)
    _, placement = laid(documents, tmp_path)
    assert (placement.cut, placement.item_ids, placement.mirrored) == (
        Cut.SINGLE,
        (POCKET,),
        False,
    )


def test_what_is_let_go_on_the_selvage_of_the_flap_lies_beside_it(
    face_down: Documents, tmp_path: Path
) -> None:
    layout, before = laid(face_down, tmp_path)
    (section,) = layout.sections
    flap, beside = lanes_mm(Layers.PARTLY, layout.fabric, section.depth_mm)
    (pin,) = job(face_down, tmp_path).run(lambda *_, **__: None, lambda: False).values()
    on_selvage = flap[1] + 5 - float(pin["across"].removesuffix("mm"))
    (pin,) = (
        job(face_down, tmp_path, (0, on_selvage)).run(lambda *_, **__: None, lambda: False).values()
    )
    assert float(pin["across"].removesuffix("mm")) == pytest.approx(beside[0])
    assert before.cut is Cut.PAIR


def test_a_copy_across_the_edge_of_the_flap_is_told_both_places_that_it_has(
    face_down: Documents, tmp_path: Path
) -> None:
    with pytest.raises(CuttingError, match="across the edge of the flap") as caught:
        moved(face_down, tmp_path, 150.0)
    layout, _ = laid(face_down, tmp_path)
    beside = lanes_mm(Layers.PARTLY, layout.fabric, layout.sections[0].depth_mm)[1]
    assert "nearer to the fold, or in the single layer, from " in caught.value.what_to_do
    assert f"{beside[0] / 10:.0f}" in caught.value.what_to_do
