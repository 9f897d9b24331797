"""Layouts are told as they get better, and whoever asked for work can end it."""

from __future__ import annotations

from pathlib import Path

import pytest

from clothwise.cutting import Effort, Layout, LayoutCancelled, LayoutStore
from clothwise.jobs import JobsCancelled
from clothwise.packet import pack
from clothwise.packet.making import Making, layout_folder
from clothwise.packet.opening import making_at
from command_line import example

EFFORT = Effort(1, 1)


@pytest.fixture
def making(tmp_path: Path) -> Making:
    return making_at(example("kiln-dress", tmp_path) / "makes" / "view-b.yaml", "", "")


def test_each_better_layout_is_told_with_its_fabric(making: Making) -> None:
    told: list[tuple[str, float]] = []
    cloths = making.cloths(
        effort=EFFORT, told=lambda name, layout: told.append((name, layout.length_mm))
    )
    for cloth in cloths:
        lengths = [length for name, length in told if name == cloth.entry.name]
        assert lengths == sorted(lengths, reverse=True)
        assert lengths[-1] == pytest.approx(cloth.layout.length_mm)


def test_a_search_that_is_cancelled_keeps_the_best_it_had(making: Making) -> None:
    told: list[tuple[str, Layout]] = []
    with pytest.raises(LayoutCancelled):
        making.cloths(
            effort=Effort(50, 50),
            told=lambda name, layout: told.append((name, layout)),
            cancelled=lambda: len(told) > 0,
        )
    (name, best) = told[-1]
    question = making.question(name)
    kept = LayoutStore(layout_folder(making.file.path)).find(question, EFFORT, 1).layout
    assert kept is not None
    assert kept.length_mm == pytest.approx(best.length_mm)


def test_packing_that_is_cancelled_writes_no_file(making: Making, tmp_path: Path) -> None:
    heard: list[str] = []
    with pytest.raises(JobsCancelled, match="packing was cancelled"):
        pack(
            making,
            tmp_path / "packet",
            effort=Effort(0, 0),
            tell=heard.append,
            cancelled=lambda: "drawing the pattern" in heard,
        )
    assert heard[-1] == "drawing the pattern"
    assert not (tmp_path / "packet").exists()
