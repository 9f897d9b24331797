from __future__ import annotations

import json
import os
import threading
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from clothwise.cutting import (
    CutItem,
    Effort,
    Fabric,
    KeptLayout,
    LayerPlan,
    LayoutCancelled,
    Nap,
    Origin,
    Spacing,
    content_key,
    lay_or_keep,
    opened,
    verify,
)
from clothwise.errors import CuttingError, OutputError
from invented_dress import SLEEVE, dress, item, pair

ROWS_ONLY = Effort(seconds=0, runs=0)
LINEN = Fabric("linen", 1500)
ITEMS = dress()


def laid(folder: Path, items: list[CutItem] = ITEMS, fabric: Fabric = LINEN) -> KeptLayout:
    return lay_or_keep(folder, items, fabric, LayerPlan.FOLDED, effort=ROWS_ONLY)


def test_the_second_time_it_is_read(tmp_path: Path) -> None:
    first = laid(tmp_path / "make" / "layouts")
    before = first.path.read_bytes()
    again = laid(tmp_path / "make" / "layouts")
    assert (first.origin, again.origin) == (Origin.SEARCHED, Origin.KEPT)
    assert again.layout == first.layout
    assert again.path.read_bytes() == before
    assert verify(again.layout, ITEMS) == ()


def test_a_searched_layout_comes_back_to_the_last_digit(tmp_path: Path) -> None:
    items = [opened(piece) for piece in ITEMS]
    first = lay_or_keep(tmp_path, items, LINEN, effort=Effort(1, 1))
    assert lay_or_keep(tmp_path, items, LINEN, effort=Effort(1, 1)).layout == first.layout


def test_the_order_of_the_copies_does_not_matter(tmp_path: Path) -> None:
    laid(tmp_path)
    assert laid(tmp_path, ITEMS[::-1]).origin is Origin.KEPT


def test_names_and_prices_keep_the_layout(tmp_path: Path) -> None:
    laid(tmp_path)
    dearer = replace(LINEN, name="good linen", price_per_meter=30.0, color="#aabbcc")
    kept = laid(tmp_path, fabric=dearer)
    assert kept.origin is Origin.KEPT
    assert kept.layout.fabric == dearer


def test_all_that_matters_is_in_the_key() -> None:
    sleeves = pair("sleeve", SLEEVE)
    moved = [(x + 0.01, y) for x, y in SLEEVE[:1]] + SLEEVE[1:]
    keys = [
        content_key(sleeves, LINEN, LayerPlan.FOLDED),
        content_key(sleeves, LINEN, LayerPlan.SINGLE),
        content_key(sleeves, replace(LINEN, nap=Nap.ONE_WAY), LayerPlan.FOLDED),
        content_key(sleeves, replace(LINEN, shrinkage_across=0.01), LayerPlan.FOLDED),
        content_key(sleeves, Fabric("linen", 1501), LayerPlan.FOLDED),
        content_key(sleeves, LINEN, LayerPlan.FOLDED, seed=1),
        content_key(sleeves, LINEN, LayerPlan.FOLDED, effort=Effort(9, 9)),
        content_key(sleeves, LINEN, LayerPlan.FOLDED, spacing=Spacing(between_mm=4)),
        content_key(sleeves[:1], LINEN, LayerPlan.FOLDED),
        content_key([sleeves[0], replace(sleeves[1], mirrored=False)], LINEN, LayerPlan.FOLDED),
        content_key([replace(s, grain_angle_rad=0.5) for s in sleeves], LINEN, LayerPlan.FOLDED),
        content_key(pair("sleeve", moved), LINEN, LayerPlan.FOLDED),
    ]
    assert len(set(keys)) == len(keys)


def test_rounding_of_another_machine_is_not_in_the_key() -> None:
    noisy = [(x + 1e-10, y - 1e-10) for x, y in SLEEVE]
    assert content_key([item("a", SLEEVE)], LINEN, LayerPlan.SINGLE) == content_key(
        [item("a", noisy)], LINEN, LayerPlan.SINGLE
    )


def _spoil(change: Any) -> Any:
    def spoil(path: Path) -> None:
        document = json.loads(path.read_text())
        change(document)
        path.write_text(json.dumps(document))

    return spoil


def _onto_each_other(document: Any) -> None:
    placements = document["sections"][0]["placements"]
    placements[-1]["translation_mm"] = placements[-2]["translation_mm"]


@pytest.mark.parametrize(
    "damage",
    [
        lambda path: path.write_bytes(b""),
        lambda path: path.write_bytes(b"\xff\xfe\x00"),
        lambda path: path.write_bytes(path.read_bytes()[:500]),
        lambda path: path.write_text("[]"),
        lambda path: path.write_text("null"),
        lambda path: path.write_text("[" * 100_000),
        _spoil(lambda d: d.update(format="another")),
        _spoil(lambda d: d.update(key="0" * 64)),
        _spoil(lambda d: d.update(sections={})),
        _spoil(lambda d: d.update(sections=[])),
        _spoil(lambda d: d["sections"][0].pop("layers")),
        _spoil(lambda d: d["sections"][0].update(length_mm=99_999)),
        _spoil(lambda d: d["sections"][0].update(length_mm=float("nan"))),
        _spoil(lambda d: d["sections"][0]["placements"].pop()),
        _spoil(lambda d: d["sections"][0]["placements"][0].update(rotation_rad=float("nan"))),
        _spoil(lambda d: d["sections"][0]["placements"][0].update(translation_mm=[1])),
        _spoil(lambda d: d["sections"][0]["placements"][0].update(item_ids=["nobody"])),
        _spoil(_onto_each_other),
    ],
)
def test_a_damaged_file_is_searched_again_and_mended(tmp_path: Path, damage: Any) -> None:
    first = laid(tmp_path)
    sound = first.path.read_bytes()
    damage(first.path)
    again = laid(tmp_path)
    assert again.origin is Origin.SEARCHED_AGAIN
    assert again.layout == first.layout
    assert again.path.read_bytes() == sound


def test_nothing_is_written_when_it_is_cancelled_or_wrong(tmp_path: Path) -> None:
    with pytest.raises(LayoutCancelled):
        lay_or_keep(tmp_path, ITEMS, LINEN, LayerPlan.FOLDED, cancelled=lambda: True)
    with pytest.raises(CuttingError):
        lay_or_keep(tmp_path, ITEMS, Fabric("narrow", 300), LayerPlan.FOLDED)
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_cannot_be_made_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    with pytest.raises(OutputError) as caught:
        laid(tmp_path / "file" / "layouts")
    assert "file" in caught.value.where
    assert caught.value.what_to_do


@pytest.mark.skipif(
    not hasattr(os, "geteuid") or os.geteuid() == 0, reason="permissions do not bind this user"
)
def test_a_folder_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    tmp_path.chmod(0o500)
    with pytest.raises(OutputError):
        laid(tmp_path)


def test_two_at_once_both_get_a_layout_and_leave_a_whole_file(tmp_path: Path) -> None:
    results: list[KeptLayout] = []
    threads = [threading.Thread(target=lambda: results.append(laid(tmp_path))) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(results) == 4
    assert laid(tmp_path).origin is Origin.KEPT
    assert len(list(tmp_path.iterdir())) == 1
