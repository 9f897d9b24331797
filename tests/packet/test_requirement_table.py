"""The requirement table: every cell is a layout, and known ones are not searched again."""

from __future__ import annotations

import csv
import io
import json
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from pypdf import PdfReader

from clothwise.components import DesignFile, read_design, read_make
from clothwise.cutting import (
    Effort,
    LayoutQuestion,
    LayoutStore,
    Nap,
    lay,
    lower_bound,
    requirement,
    verify,
)
from clothwise.cutting.cutting_list import cut_items
from clothwise.cutting.from_make import fabric_from, plan_from
from clothwise.errors import ComponentError, Misuse
from clothwise.jobs import JobsCancelled, Progress
from clothwise.packet import Making, requirement_table, table_cells
from clothwise.packet.requirement_data import REQUIREMENT_KINDS, requirement_data
from clothwise.packet.requirement_files import requirement_file
from clothwise.packet.requirement_table import RequirementTable, TableRow, requirement_tables
from clothwise.packet.requirement_words import lines_of, notes_of
from clothwise.packet.table_subjects import Asking, design_subject, make_subject
from command_line import DRESS, SKIRT, edited, example

ROWS = Effort(0, 0)
SEED = 1  # of a design, which states none
BOTH = ("none", "one way")
WIDE = Asking(widths=("150cm",))
"""What every size of the skirt can be cut from."""


def table_at(folder: Path, asking: Asking = WIDE, **options: Any) -> RequirementTable:
    subject = design_subject(read_design(folder), asking)
    (table,) = requirement_tables([subject], **{"effort": ROWS, "workers": 1, **options})
    return table


def lengths_mm(table: RequirementTable) -> dict[tuple[str, str, str, str, str], float]:
    """The layout of each cell that can be cut."""
    return {
        (row.garment, row.cloth, row.entry.width, row.entry.nap, cell.size): (
            cell.requirement.layout_length_mm
        )
        for row in table.rows
        for cell in row.cells
        if cell.requirement is not None
    }


def questions_of(folder: Path, asking: Asking) -> list[LayoutQuestion]:
    asked = table_cells.derived(design_subject(read_design(folder), asking))[1]
    return [each.layout for each in asked.values()]


@pytest.fixture
def skirt(tmp_path: Path) -> Path:
    return example(SKIRT, tmp_path)


@pytest.fixture
def searches(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Names what is searched in this process."""
    searched: list[str] = []
    search = requirement_table._searched

    def noting(effort: Effort, job: Any, **options: Any) -> Any:
        searched.append(job.title)
        return search(effort, job, **options)

    monkeypatch.setattr(requirement_table, "_searched", noting)
    return searched


@pytest.fixture
def drafts(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Names the tables whose garments are drafted."""
    drafted: list[str] = []
    derive = requirement_table.derived

    def noting(subject: Any) -> Any:
        drafted.append(subject.title)
        return derive(subject)

    monkeypatch.setattr(requirement_table, "derived", noting)
    return drafted


# What the figures are


def test_every_cell_is_what_a_layout_of_its_own_says(skirt: Path) -> None:
    """Drafted, laid and rounded here, without any of the table's own code."""
    table = table_at(skirt, Asking(sizes=("52", "34"), widths=("150cm", "160cm")))
    assert table.sizes == ("34", "52")
    design, cells = read_design(skirt), 0
    for row in table.rows:
        view = row.garment.removeprefix("View ").partition(":")[0]
        fabric, plan = fabric_from(row.entry), plan_from(row.entry)
        for cell in row.cells:
            pattern = design.draft(view=view, body=design.body(cell.size))
            roles = {(p.name, c.name): c.role for p in pattern.pieces.values() for c in p.copies}
            items = cut_items(pattern, roles, row.entry.name, plan)
            layout = lay(items, fabric, plan, effort=ROWS, seed=SEED)
            assert cell.requirement == requirement(layout)
            assert cell.bound_mm == lower_bound(items, fabric).length_mm
            assert cell.used_share == pytest.approx(layout.used_share)
            assert cell.gap_share == pytest.approx(layout.gap_share)
            cells += 1
    assert cells == 2 * 2 * 3


def test_it_has_a_line_for_every_view_width_and_nap_and_interfacing_last(tmp_path: Path) -> None:
    table = table_at(example(DRESS, tmp_path), Asking(naps=BOTH, sizes=("38",)))
    rows = [(row.garment[:6], row.entry.name, row.entry.width, row.entry.nap) for row in table.rows]
    shell = [(width, nap) for width in ("112/115cm", "148/152cm") for nap in BOTH]
    assert rows == [
        *(("View A", "main", *each) for each in shell),
        *(("View A", "contrast", *each) for each in shell),
        ("View A", "interfacing", "90cm", "none"),
        *(("View B", "main", *each) for each in shell),
        ("View B", "interfacing", "90cm", "none"),
    ]


def test_usual_cloth_is_called_as_on_its_bolt(skirt: Path) -> None:
    """Check value Y17; reckoned with is the narrower of the two."""
    table = table_at(skirt, Asking(("38",), ("44/45in", "58/60in", "140cm")))
    shell = [line.width for line in lines_of(table) if line.cloth == "Main fabric"][:3]
    assert shell == ["112–115 cm (44–45 in)", "148–152 cm (58–60 in)", "140 cm (55 1/8 in)"]
    assert [row.width_mm for row in table.rows][:3] == pytest.approx([1117.6, 1473.2, 1400])


def test_it_is_rounded_up_as_shops_sell_it(skirt: Path) -> None:
    """Check values U05 and U07: an eighth of a yard, a tenth of a meter."""
    for row in table_at(skirt).rows:
        for cell in row.cells:
            needed = cell.requirement
            assert needed is not None
            assert 0 <= float(needed.meters) * 1000 - needed.buy_length_mm < 100.1
            assert 0 <= float(needed.yards) * 914.4 - needed.buy_length_mm < 914.4 / 8 + 0.1
            assert (needed.meters * 10).denominator == (needed.yards * 8).denominator == 1
            assert needed.layout_length_mm >= cell.bound_mm > 0


def test_a_role_says_for_which_cloths_and_what_they_shrink(skirt: Path) -> None:
    """Check value K16: the length over one less the shrinkage, then rounded."""
    edited(
        skirt / "design.yaml",
        "\ncomponents:",
        "\nfabric_roles:\n  main: {title: Wool, requirement: {widths: [140cm, 1.6m], nap: both, "
        "layers: single, shrinkage_along: 10%}}\n\ncomponents:",
    )
    table = table_at(skirt, Asking(sizes=("38",)))
    rows = [row for row in table.rows if row.garment.startswith("View knee") and not row.is_fused]
    asked = [(row.cloth, row.entry.width, row.entry.nap, row.entry.layers) for row in rows]
    assert asked == [("Wool", width, nap, "single") for width in ("140cm", "1.6m") for nap in BOTH]
    needed = rows[0].cells[0].requirement
    assert needed is not None
    assert needed.buy_length_mm == pytest.approx(needed.layout_length_mm / 0.9)
    assert any("Wool 10% along, 0% across" in note for note in notes_of(table))
    assert any("Wool: laid in a single layer" in note for note in notes_of(table))


def test_neither_nap_nor_narrower_cloth_ever_saves(skirt: Path) -> None:
    """Check value Y14, and what stands beside it: the easier question needs no more."""
    table = table_at(skirt, Asking(("34", "44"), ("115cm", "150cm"), naps=BOTH))
    lengths = lengths_mm(table)
    for (garment, cloth, width, nap, size), length in lengths.items():
        if cloth == "Main fabric":
            assert length <= lengths[garment, cloth, width, "one way", size] + 1e-6
            assert lengths[garment, cloth, "150cm", nap, size] <= length + 1e-6


def test_a_layout_with_nap_that_came_out_shorter_is_taken_for_both(tmp_path: Path) -> None:
    """As if the search with nap had been luckier: what it found is shorter."""
    dress = example(DRESS, tmp_path)
    asking = Asking(widths=("150cm",), naps=BOTH, sizes=("38",))
    store = LayoutStore(dress / ".layouts")
    lucky = []
    for question in questions_of(dress, asking):
        if question.fabric.nap is Nap.ONE_WAY and len(question.items) > 6:
            of = question.items, question.fabric, question.plan
            found = lay(*of, effort=Effort(1, 1), seed=SEED)
            assert found.length_mm < lay(*of, effort=ROWS, seed=SEED).length_mm
            store.keep(question, found)
            lucky.append(found.length_mm)
    assert len(lucky) == 2  # the main fabric of both views
    lengths = lengths_mm(table_at(dress, asking))
    for (garment, cloth, width, _, size), length in lengths.items():
        if cloth == "Main fabric":
            assert length in lucky
            assert length == lengths[garment, cloth, width, "one way", size]
    for question in questions_of(dress, asking):
        stored = store.find(question, ROWS, SEED).layout
        assert stored is not None
        assert verify(stored, question.items) == ()


def test_what_cannot_be_cut_is_told_and_stops_nothing(skirt: Path) -> None:
    asking = Asking(widths=("30cm", "150cm"), sizes=("38", "40"))
    for _ in range(2):  # searched, and remembered
        table = table_at(skirt, asking)
        narrow = [row for row in table.rows if row.entry.width == "30cm"]
        assert [cell.requirement for row in narrow for cell in row.cells] == [None] * 4
        assert all("wider than" in cell.refusal for row in narrow for cell in row.cells)
        assert all(
            cell.requirement for row in table.rows if row not in narrow for cell in row.cells
        )
        told = [note for note in notes_of(table) if note.startswith("“none”")]
        assert len(told) == 2
        assert all("sizes 38 to 40" in note and "30 cm" in note for note in told)


def test_a_size_that_cannot_be_drafted_is_told_and_stops_nothing(
    skirt: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    draft = DesignFile.draft

    def refusing(self: DesignFile, *arguments: Any, body: Any, **options: Any) -> Any:
        if body.name == "40":
            raise ComponentError("no waistband fits", where="waistband", what_to_do="Widen it.")
        return draft(self, *arguments, body=body, **options)

    monkeypatch.setattr(DesignFile, "draft", refusing)
    table = table_at(skirt)
    for row in table.rows:
        assert [cell.size for cell in row.cells if cell.refusal] == ["40"]
        assert all(cell.requirement for cell in row.cells if cell.size != "40")
    assert any("no waistband fits" in note and "size 40" in note for note in notes_of(table))


# A make


def test_a_make_is_asked_with_its_own_cloths_in_all_sizes(tmp_path: Path) -> None:
    make = read_make(example(DRESS, tmp_path) / "makes" / "own-mixture.yaml")
    (table,) = requirement_tables([make_subject(make)], effort=ROWS, workers=1)
    assert table.sizes == (*make.of.sizes, "40, own")
    own = {row.entry.name: row.cells[-1].requirement for row in table.rows}
    assert own == {plan.entry.name: plan.requirement for plan in Making(make).cloths(effort=ROWS)}
    assert any(row.cells[-1].used_share != row.cells[3].used_share for row in table.rows)
    assert [row.entry.name for row in table.rows] == ["remnant", "denim", "chambray", "fusible"]
    assert {row.garment for row in table.rows} == {"Kiln dress, own mixture"}


def test_buying_and_cutting_share_their_layouts(tmp_path: Path) -> None:
    folder = example(DRESS, tmp_path)
    make = read_make(folder / "makes" / "view-b.yaml")
    cloths = Making(make).cloths(effort=ROWS)
    store = LayoutStore(folder / "makes" / ".layouts")
    digests = [Making(make).question(cloth.entry.name).digest for cloth in cloths]
    assert set(store.lengths_mm(digests, ROWS, make.make.seed)) == set(digests)
    asked = make_subject(make, Asking(sizes=(make.make.size,)))
    assert set(table_cells.derived(asked)[1]) == set(digests)
    (table,) = requirement_tables([asked], effort=ROWS, workers=1)
    assert [row.cells[0].requirement for row in table.rows] == [c.requirement for c in cloths]


def test_length_at_hand_and_flaws_do_not_count_for_what_to_buy(skirt: Path) -> None:
    make = read_make(skirt / "make.yaml")
    short = replace(make.make.fabrics[0], length="50cm")
    mine = replace(make, make=replace(make.make, fabrics=(short, *make.make.fabrics[1:])))
    tables = [
        requirement_tables([make_subject(each)], effort=ROWS, workers=1)[0] for each in (make, mine)
    ]
    assert lengths_mm(tables[0]) == lengths_mm(tables[1])


def test_bias_strips_from_the_gaps_are_counted_as_when_it_is_cut(tmp_path: Path) -> None:
    make = read_make(example("pilot-coat-dress", tmp_path) / "makes" / "view-b.yaml")
    cutting = replace(make.make.cutting, bias_strips="gaps")
    mine = replace(make, make=replace(make.make, cutting=cutting))
    cloths = Making(mine).cloths(effort=ROWS)
    assert any(cloth.strips for cloth in cloths)
    for _ in range(2):
        asked = make_subject(mine, Asking(sizes=(make.make.size,)))
        (table,) = requirement_tables([asked], effort=ROWS, workers=1)
        assert [row.cells[0].requirement for row in table.rows] == [c.requirement for c in cloths]
        for row, cloth in zip(table.rows, cloths, strict=True):
            assert row.cells[0].used_share == pytest.approx(cloth.layout.used_share)


def test_another_width_of_a_make_keeps_its_selvages(tmp_path: Path) -> None:
    make = read_make(example(DRESS, tmp_path) / "makes" / "view-a.yaml")  # 140 cm, usable 136
    subject = make_subject(make, Asking(sizes=("38",), widths_of=(("linen", ("150cm",)),)))
    (table,) = requirement_tables([subject], effort=ROWS, workers=1)
    (linen,) = [row for row in table.rows if row.entry.name == "linen"]
    assert linen.entry.usable_width_mm == 1460
    assert [row.entry.width for row in table.rows] == ["150cm", "110cm", "90cm"]


# Known already


def test_a_table_without_news_is_answered_without_drafting_or_searching(
    skirt: Path, drafts: list[str], searches: list[str]
) -> None:
    first = table_at(skirt)
    assert (len(drafts), bool(searches)) == (1, True)
    searches.clear()
    told: list[Progress] = []
    assert table_at(skirt, progress=told.append) == first
    assert (len(drafts), searches) == (1, [])
    assert told[-1].done == told[-1].total == len(questions_of(skirt, WIDE))


def test_what_changes_no_piece_is_drafted_but_not_searched_again(
    skirt: Path, drafts: list[str], searches: list[str]
) -> None:
    first = table_at(skirt)
    searches.clear()
    edited(skirt / "design.yaml", "base_size: 38", "base_size: 40")
    assert table_at(skirt) == first
    assert (len(drafts), searches) == (2, [])


def test_a_longer_skirt_is_searched_anew(skirt: Path, searches: list[str]) -> None:
    first = table_at(skirt, Asking(sizes=("38",)))
    searches.clear()
    edited(skirt / "design.yaml", "waist_to_knee", "waist_to_knee + 10cm")
    second = table_at(skirt, Asking(sizes=("38",)))
    assert searches
    before, after = lengths_mm(first), lengths_mm(second)
    assert any(after[place] > before[place] + 50 for place in before)


def test_less_effort_is_answered_by_more(skirt: Path, searches: list[str]) -> None:
    asking = Asking(widths=("150cm",), sizes=("38",))
    table_at(skirt, asking, effort=Effort(1, 1))
    searches.clear()
    table_at(skirt, asking)
    assert searches == []


@pytest.mark.parametrize(
    "damage",
    [
        lambda path: path.unlink(),
        lambda path: path.write_bytes(b"no database" * 1000),
        lambda path: path.write_bytes(path.read_bytes()[: path.stat().st_size // 2]),
    ],
)
def test_a_damaged_store_costs_a_search(
    skirt: Path, searches: list[str], damage: Callable[[Path], None]
) -> None:
    first = table_at(skirt)
    searches.clear()
    damage(LayoutStore(skirt / ".layouts").path)
    assert table_at(skirt) == first
    assert searches
    searches.clear()
    assert table_at(skirt) == first
    assert searches == []


def test_damaged_memory_is_not_believed() -> None:
    for text in ("", "[]]", "{}", "[1]", '[{"cloths": [], "cells": [[[["x"]]]]}]', "null"):
        assert table_cells.recalled(text) in (None, ())


def test_other_code_is_another_memory(skirt: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    subject = design_subject(read_design(skirt))
    key = table_cells.memory_key(subject)
    assert key == table_cells.memory_key(design_subject(read_design(skirt)))
    monkeypatch.setattr(table_cells, "_program", lambda: "another")
    assert table_cells.memory_key(subject) != key


def test_nothing_is_remembered_of_components_that_may_change_unseen(
    skirt: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    class Elsewhere:
        __module__ = "plugin"

    monkeypatch.setattr(table_cells, "component_class", lambda _: Elsewhere)
    assert table_cells.memory_key(design_subject(read_design(skirt))) == ""
    assert table_at(skirt) == table_at(skirt)


def test_a_cancelled_table_goes_on_where_it_was(skirt: Path, searches: list[str]) -> None:
    told: list[Progress] = []
    with pytest.raises(JobsCancelled):
        table_at(skirt, progress=told.append, cancelled=lambda: len(searches) >= 5)
    assert len(searches) == 5
    total = told[-1].total
    searches.clear()
    table = table_at(skirt, progress=told.append)
    assert len(searches) == total - 4, "the fifth was ended midway"
    assert told[-1].done == total
    searches.clear()
    assert table_at(skirt) == table


def test_a_search_in_this_process_is_cancelled_midway(skirt: Path) -> None:
    """With one worker a search of a minute must not keep anybody waiting for its end."""
    asked: list[int] = []

    def cancelled() -> bool:
        asked.append(1)
        return len(asked) > 3

    asking = Asking(widths=("150cm",), sizes=("38",))
    started = time.monotonic()
    with pytest.raises(JobsCancelled):
        table_at(skirt, asking, effort=Effort(600, 4), cancelled=cancelled)
    assert time.monotonic() - started < 60


def test_workers_and_this_process_find_the_same(tmp_path: Path) -> None:
    asking = Asking(sizes=("36", "38"), widths=("130cm",))
    one = table_at(example(SKIRT, tmp_path / "one"), asking, effort=Effort(1, 1), workers=1)
    two = table_at(example(SKIRT, tmp_path / "two"), asking, effort=Effort(1, 1), workers=2)
    assert one == two


def test_a_cluster_finds_the_same(tmp_path: Path) -> None:
    distributed = pytest.importorskip("distributed")
    asking = Asking(sizes=("36", "38"), widths=("130cm",))
    with distributed.LocalCluster(
        n_workers=2,
        threads_per_worker=1,
        processes=False,
        protocol="tcp",
        dashboard_address="127.0.0.1:0",
        host="127.0.0.1",
    ) as cluster:
        there = table_at(
            example(SKIRT, tmp_path / "there"),
            asking,
            effort=Effort(1, 1),
            cluster=cluster.scheduler_address,
        )
    here = table_at(example(SKIRT, tmp_path / "here"), asking, effort=Effort(1, 1), workers=2)
    assert there == here


# As files


def catalog(tmp_path: Path) -> list[RequirementTable]:
    asking = Asking(sizes=("38", "40"), widths=("30cm", "150cm"), naps=BOTH)
    subjects = [
        design_subject(read_design(example(name, tmp_path)), asking) for name in (SKIRT, DRESS)
    ]
    return list(requirement_tables(subjects, effort=ROWS, workers=1))


def test_every_figure_stands_in_every_file(tmp_path: Path) -> None:
    tables = catalog(tmp_path)
    cells = [(row, cell) for table in tables for row in table.rows for cell in row.cells]
    listed = list(csv.DictReader(io.StringIO(requirement_file(".csv", tables).decode())))
    assert len(listed) == len(cells)
    for line, (row, cell) in zip(listed, cells, strict=True):
        assert (line["size"], float(line["width (cm)"])) == (cell.size, row.width_mm / 10)
        if cell.requirement is None:
            assert line["buy (m)"] == ""
            assert line["note"] == cell.refusal
        else:
            assert float(line["buy (m)"]) == float(cell.requirement.meters)
            assert float(line["buy (yd)"]) == float(cell.requirement.yards)
    data = json.loads(requirement_file(".json", tables))
    assert data == [requirement_data(table) for table in tables]
    assert [cell["buy_m"] for table in data for row in table["rows"] for cell in row["cells"]] == [
        float(cell.requirement.meters) if cell.requirement else None for _, cell in cells
    ]


def test_a_large_catalog_is_worked_out_in_parts(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    whole = catalog(tmp_path / "whole")
    monkeypatch.setattr(requirement_table, "MOST_JOBS", 1)
    told: list[Progress] = []
    asking = Asking(sizes=("38", "40"), widths=("30cm", "150cm"), naps=BOTH)
    folders = [example(name, tmp_path / "parts") for name in (SKIRT, DRESS)]
    subjects = [design_subject(read_design(folder), asking) for folder in folders]
    parts = requirement_tables(subjects, effort=ROWS, workers=1, progress=told.append)
    assert list(parts) == whole
    assert [each.done for each in told] == sorted(each.done for each in told)
    assert told[-1].done == told[-1].total


def test_the_workbook_has_a_tab_for_each_unit_and_one_with_all(tmp_path: Path) -> None:
    tables = catalog(tmp_path)
    book = openpyxl.load_workbook(io.BytesIO(requirement_file(".xlsx", tables)))
    assert book.sheetnames == [
        *("meters Half-circle skirt", "yards Half-circle skirt"),
        *("meters Kiln dress", "yards Kiln dress", "every layout"),
    ]
    page = book["yards Kiln dress"]
    (head,) = [row for row in page.iter_rows(values_only=True) if row[0] == "garment"]
    assert head[3:5] == ("38 (yd)", "40 (yd)")
    shown = [row for row in page.iter_rows(values_only=True) if str(row[0]).startswith("View")]
    lines = list(lines_of(tables[1]))
    assert len(shown) == len(lines)
    for row, line in zip(shown, lines, strict=True):
        wanted = [float(c.requirement.yards) if c.requirement else "none" for c in line.cells]
        assert list(row[3:5]) == wanted


def test_the_page_shows_amounts_in_both_units(tmp_path: Path) -> None:
    tables = catalog(tmp_path)
    pages = PdfReader(io.BytesIO(requirement_file(".pdf", tables))).pages
    text = " ".join("".join(page.extract_text() for page in pages).split())
    for table in tables:
        assert table.title in text
        for row in table.rows:
            for cell in row.cells:
                if cell.requirement is not None:
                    assert f"{float(cell.requirement.meters):.1f}" in text
    assert "with or without nap" in text
    assert "none" in text


def test_lines_that_ask_for_the_same_become_one(skirt: Path) -> None:
    table = table_at(skirt, Asking(naps=BOTH, widths=("150cm",), sizes=("38",)))
    knee = [row for row in table.rows if row.garment == table.rows[0].garment]
    (first, second, *_) = (row for row in knee if not row.is_fused)
    same = replace(second, cells=first.cells)
    needed = first.cells[0].requirement
    assert needed is not None
    more = replace(first.cells[0], requirement=replace(needed, meters=needed.meters + 1))

    def naps(*rows: TableRow) -> list[str]:
        return [line.nap for line in lines_of(replace(table, rows=rows))]

    assert naps(first, same) == ["with or without nap"]
    assert naps(first, replace(second, cells=(more,))) == ["without nap", "with nap"]
    assert naps(first) == ["without nap"]


@pytest.mark.parametrize("kind", REQUIREMENT_KINDS)
def test_the_same_table_gives_the_same_bytes(skirt: Path, kind: str) -> None:
    table = table_at(skirt, Asking(sizes=("38",)))
    assert requirement_file(kind, [table]) == requirement_file(kind, [table])


def test_another_kind_of_file_is_refused() -> None:
    with pytest.raises(Misuse) as caught:
        requirement_file(".doc", [])
    assert ".pdf" in caught.value.what_to_do
