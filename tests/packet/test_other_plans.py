"""What is told of other ways to lay the cloth of a make: laid out and verified, never guessed."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from clothwise.cutting import Effort, Layout, LayoutQuestion, LayoutStore, verify
from clothwise.cutting.keeping import Searching, search_layout
from clothwise.cutting.shorter_plans import TRIAL_EFFORT, clearly_shorter_than_mm
from clothwise.packet import other_plans
from clothwise.packet.booklet import booklet_of
from clothwise.packet.cloth_facts import limiting_sentences
from clothwise.packet.layout_pictures import cloth_page
from clothwise.packet.making import ClothPlan, Making, layout_folder
from clothwise.packet.opening import making_at
from clothwise.packet.other_plans import with_shorter_plans
from clothwise.packet.tables import cloth_data
from command_line import clothwise, example


def laid(making: Making, fabric: str, effort: Effort = TRIAL_EFFORT) -> ClothPlan:
    question = making.question(fabric)
    layout = search_layout(question, Searching(effort, making.file.make.seed))
    return making.planned(fabric, question, layout)


@pytest.fixture(scope="module")
def satin(tmp_path_factory: pytest.TempPathFactory) -> tuple[Making, ClothPlan, ClothPlan]:
    """Satin folded lengthwise, on whose only fold three half pieces follow each other."""
    folder = example("stage-corselette", tmp_path_factory.mktemp("corselette"))
    making = making_at(folder / "makes" / "view-c.yaml", "", "")
    plain = laid(making, "satin")
    (told,) = with_shorter_plans(making, [plain])
    return making, plain, told


def as_written(making: Making, layers: str) -> LayoutQuestion:
    """What is asked once the maker has written what the sentence says."""
    path = making.file.path
    path.write_text(
        path.read_text(encoding="utf-8").replace("layers: folded\n", f"layers: {layers}\n", 1),
        encoding="utf-8",
    )
    return making_at(path, "", "").question("satin")


def test_each_plan_that_is_told_is_a_layout_that_holds(
    satin: tuple[Making, ClothPlan, ClothPlan],
) -> None:
    """The make is written as the sentence says, and what is kept for it judged by the verifier."""
    making, plain, told = satin
    assert {each.plan.value for each in told.shorter_plans} == {
        *("single", "partly folded", "folded to the middle")
    }
    before = making.file.path.read_text(encoding="utf-8")
    for each in told.shorter_plans:
        assert each.length_mm <= clearly_shorter_than_mm(plain.layout.length_mm)
        try:
            question = as_written(making, each.plan.value)
        finally:
            making.file.path.write_text(before, encoding="utf-8")
        kept = LayoutStore(layout_folder(making.file.path)).find(question, TRIAL_EFFORT, 1).layout
        assert kept is not None
        assert kept.plan is each.plan
        assert kept.length_mm == pytest.approx(each.length_mm)
        assert verify(kept, question.items) == ()


def test_it_is_said_wherever_the_limits_are(satin: tuple[Making, ClothPlan, ClothPlan]) -> None:
    making, plain, told = satin
    (*limits, said) = limiting_sentences(told, making.unit)
    assert tuple(limits) == limiting_sentences(plain, making.unit)
    assert said.startswith("With one selvage folded over a layout of ")
    assert "in a single layer one of " in said
    assert said.endswith("(layers: folded to the middle).")
    assert cloth_page(making, told) != cloth_page(making, plain)
    notes = booklet_of(making, (told,)).cloths[0].notes
    assert said in [note.replace("\u00a0", " ") for note in notes]
    data = cloth_data(told)["shorter_plans"]
    assert {each["layers"] for each in data} == {"single", "partly folded", "folded to the middle"}
    lengths = [each["layout_length_mm"] for each in data]
    assert sorted(lengths) == lengths
    assert lengths[-1] < plain.layout.length_mm
    assert cloth_data(plain)["shorter_plans"] == []


def test_the_command_says_so(
    satin: tuple[Making, ClothPlan, ClothPlan], monkeypatch: pytest.MonkeyPatch
) -> None:
    making, plain, told = satin
    monkeypatch.setattr(Making, "cloths", lambda *_, **__: (plain,))
    out = " ".join(clothwise("cut", making.file.path).out.split())
    assert limiting_sentences(told, making.unit)[-1] in out


def test_nothing_is_tried_where_nothing_is_to_be_gained(
    satin: tuple[Making, ClothPlan, ClothPlan],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Rows only, pinned copies, cloth in a single layer, and cloth that is used well."""
    making, plain, _ = satin
    dress = making_at(example("kiln-dress", tmp_path) / "makes" / "view-a.yaml", "", "")

    def searched(*_: object, **__: object) -> Layout:
        raise AssertionError("nobody needs this search")

    rows_only = replace(plain, layout=replace(plain.layout, effort=Effort(0, 0)))
    pinned = replace(plain, pinned=(plain.items[0].id,))
    linen, interfacing = laid(dress, "linen"), laid(dress, "fusible")
    monkeypatch.setattr(other_plans, "answer", searched)
    for made, cloth in (
        (making, rows_only),
        (making, pinned),
        (dress, linen),
        (dress, interfacing),
    ):
        assert with_shorter_plans(made, [cloth]) == (cloth,)


def test_a_plan_that_the_cloth_forbids_is_not_told(
    satin: tuple[Making, ClothPlan, ClothPlan], monkeypatch: pytest.MonkeyPatch
) -> None:
    """On cloth whose flaps are too narrow for the half pieces, only the single layer is left."""
    making, _, _ = satin
    narrow = making.with_cloth(replace(making.file.make.fabric("satin"), width="60cm"))
    (told,) = with_shorter_plans(narrow, [laid(narrow, "satin")])
    assert "folded to the middle" not in [each.plan.value for each in told.shorter_plans]
