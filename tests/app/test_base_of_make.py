"""A make in another size opens while the base size cannot be drafted, and says so."""

from __future__ import annotations

import html
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from app.conftest import Window, entered
from clothwise.app.rooms import cut
from clothwise.components import open_make, read_make
from clothwise.errors import DocumentError
from clothwise.pattern.commands import read_documents
from clothwise.pattern.document import starting_design

DESIGN, MAKE = "/d/kiln-dress", "/d/kiln-dress/m/view-a"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A long skirt, and the longest legs there are in the base size; view A is in another one."""
    folder = tmp_path / "designs" / "kiln-dress"
    folder.parent.mkdir()
    starting_design("kiln-dress", folder)
    chart = folder / "sizes.csv"
    head, *rows = (
        each for each in chart.read_text(encoding="utf-8").splitlines() if not each.startswith("#")
    )
    at = head.split(",").index("waist_to_knee_cm")
    for nth, row in enumerate(rows):
        cells = row.split(",")
        if cells[0] == "38":
            rows[nth] = ",".join([*cells[:at], "76", *cells[at + 1 :]])
    chart.write_text("\n".join([head, *rows, ""]), encoding="utf-8")
    design = folder / "design.yaml"
    text = design.read_text(encoding="utf-8")
    design.write_text(text.replace("waist_to_knee + 22cm", "waist_to_knee + 45cm"), "utf-8")
    make = folder / "makes" / "view-a.yaml"
    text = make.read_text(encoding="utf-8")
    make.write_text(text.replace("size: 38", "size: 44"), encoding="utf-8")
    return folder


@pytest.fixture
def window(folder: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Window]:
    monkeypatch.setattr(cut, "_look", lambda *_: None)
    with entered(folder.parent) as window:
        yield window


def words(text: str) -> str:
    return re.sub(r"\s+", " ", html.unescape(re.sub(r"<[^>]+>", " ", text)))


def test_it_is_opened_and_drafted_with_what_is_wrong_beside_it(folder: Path) -> None:
    file = read_make(folder / "makes" / "view-a.yaml")
    assert file.body.name == "44"
    (fault,) = file.base_faults
    assert fault.path.startswith("$.components.skirt.length")
    file.assign(file.draft())


@pytest.mark.parametrize("size", ["", "size: 38"])
def test_one_in_the_base_size_is_refused_as_before(folder: Path, size: str) -> None:
    documents = dict(read_documents(folder))
    text = documents["makes/view-a.yaml"]
    documents["makes/view-a.yaml"] = text.replace("size: 44", size)
    with pytest.raises(DocumentError, match="length is 121 cm"):
        open_make(documents, "makes/view-a.yaml")


def test_its_rooms_open_and_say_that_the_base_size_cannot_be_drafted(window: Window) -> None:
    for room in ("for-whom", "cut", "sew", "print", "pack"):
        assert f'hx-get="{MAKE}/base" hx-trigger="load"' in window.page(f"{MAKE}/{room}")
    told = window.part(f"{MAKE}/base")
    assert "The base size 38 of this design cannot be drafted." in words(told)
    assert "Length of the skirt: length is 121 cm" in words(told)
    assert f'href="{DESIGN}/draft#param-skirt-length"' in told
    assert "Slate linen" in window.part(f"{MAKE}/cut/layouts")
    assert "view A, size 44" in words(window.part(f"{MAKE}/cut/garment"))
    assert "Staystitch the neckline" in window.part(f"{MAKE}/sew/work")


def test_it_can_be_changed_and_a_sound_base_size_needs_no_word(
    window: Window, folder: Path
) -> None:
    answer = window.change(
        f"{MAKE}/cut/paint", copies=["pocket/left"], fabric="linen", base=window.head()
    )
    assert answer.status_code == 204, answer.text
    assert read_make(folder / "makes" / "view-a.yaml").make.copies["pocket/left"] == "linen"
    design = folder / "design.yaml"
    text = design.read_text(encoding="utf-8")
    design.write_text(text.replace("waist_to_knee + 45cm", "waist_to_knee + 22cm"), "utf-8")
    window.app.state.shop.close("kiln-dress")  # type: ignore[attr-defined]
    assert "cannot be drafted" not in window.part(f"{MAKE}/base")
