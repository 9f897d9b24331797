"""The store: an answer once found comes back, the shortest wins, and damage costs a search only."""

from __future__ import annotations

import os
import signal
import sqlite3
import subprocess
import sys
import threading
from collections.abc import Callable
from contextlib import closing
from dataclasses import fields, replace
from pathlib import Path
from typing import Any

import pytest

from clothwise.cutting import (
    CutItem,
    Effort,
    Fabric,
    KeptLayout,
    LayerPlan,
    Layout,
    LayoutCancelled,
    LayoutQuestion,
    LayoutStore,
    Nap,
    Origin,
    Placement,
    Searching,
    Section,
    Spacing,
    answer,
    content_key,
    lay,
    opened,
    store,
    verify,
)
from clothwise.cutting.layout import Cut
from clothwise.cutting.question import work_of
from clothwise.cutting.repeat import MatchPoint, Repeat
from clothwise.errors import CuttingError, OutputError
from invented_dress import SLEEVE, dress, item, pair

ROWS_ONLY = Effort(seconds=0, runs=0)
LINEN = Fabric("linen", 1500)
ITEMS = dress()
QUESTION = LayoutQuestion(tuple(ITEMS), LINEN, LayerPlan.FOLDED)


def laid(folder: Path, items: list[CutItem] = ITEMS, fabric: Fabric = LINEN) -> KeptLayout:
    question = LayoutQuestion(tuple(items), fabric, LayerPlan.FOLDED)
    return answer(folder, question, Searching(ROWS_ONLY))


def rows() -> Layout:
    return lay(ITEMS, LINEN, LayerPlan.FOLDED, effort=ROWS_ONLY)


def stretched(layout: Layout, mm: float) -> Layout:
    """The same with more cloth left over at its end: valid, but longer."""
    *others, last = layout.sections
    return replace(layout, sections=(*others, replace(last, length_mm=last.length_mm + mm)))


@pytest.fixture
def no_search(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """Counts searches."""
    counted: list[int] = []

    def counting(*arguments: Any, **options: Any) -> Layout:
        counted.append(1)
        return lay(*arguments, **options)

    monkeypatch.setattr("clothwise.cutting.keeping.lay", counting)
    return counted


# What comes back


def test_the_second_time_it_is_read(tmp_path: Path, no_search: list[int]) -> None:
    first = laid(tmp_path / "layouts")
    before = first.path.read_bytes()
    again = laid(tmp_path / "layouts")
    assert (first.origin, again.origin) == (Origin.SEARCHED, Origin.KEPT)
    assert again.layout == first.layout
    assert again.path.read_bytes() == before
    assert verify(again.layout, ITEMS) == ()
    assert len(no_search) == 1


def test_a_searched_layout_comes_back_to_the_last_digit(tmp_path: Path) -> None:
    items = [opened(piece) for piece in ITEMS]
    question, how = LayoutQuestion(tuple(items), LINEN), Searching(Effort(1, 1))
    first, again = answer(tmp_path, question, how), answer(tmp_path, question, how)
    assert again.origin is Origin.KEPT
    assert again.layout == first.layout


def test_the_file_holds_all_of_a_section_and_a_placement() -> None:
    """A field added to one of them must be written as well, or it would be lost.

    A placement states a flap only as a pin, and that is part of the question.
    """
    named = {field.name for kind in (Section, Placement) for field in fields(kind)}
    assert named == {
        *("layers", "start_mm", "length_mm", "width_mm", "placements", "depth_mm"),
        *("item_ids", "cut", "mirrored", "rotation_rad", "translation", "flap_mm"),
    }


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
    folded = LayerPlan.FOLDED
    pin = Placement((sleeves[0].id,), Cut.SINGLE, False, 0.0, (10.0, 20.0))
    match = MatchPoint("side", sleeves[0].id, (0.0, 0.0))
    check = replace(LINEN, repeat=Repeat(along_mm=40))
    keys = [
        content_key(sleeves, LINEN, folded),
        *(content_key(sleeves, LINEN, plan) for plan in LayerPlan if plan is not folded),
        *(
            content_key(sleeves, replace(LINEN, **change), folded)
            for change in (
                {"nap": Nap.ONE_WAY},
                {"shrinkage_across": 0.01},
                {"length_mm": 2000.0},
                {"length_mm": 2000.0, "shrinkage_along": 0.01},
                {"wrong_side_usable": True},
                {"grainless": True},
                {"off_grain_rad": 0.01},
                {"flaws": (((0.0, 0.0), (9.0, 0.0), (0.0, 9.0)),)},
            )
        ),
        content_key(sleeves, Fabric("linen", 1501), folded),
        content_key(sleeves, LINEN, folded, spacing=Spacing(between_mm=4)),
        content_key(sleeves, LINEN, folded, pins=[pin]),
        content_key(sleeves, LINEN, folded, pins=[replace(pin, translation=(10.0, 21.0))]),
        content_key(sleeves, LINEN, folded, matches=[match]),
        content_key(sleeves, LINEN, folded, matches=[replace(match, phase_along=0.5)]),
        content_key(sleeves, LINEN, folded, matches=[replace(match, even=True)]),
        content_key(sleeves, LINEN, folded, matches=[replace(match, on_border=True)]),
        content_key(sleeves, check, folded, matches=[match]),
        content_key(
            sleeves, replace(check, repeat=Repeat(40, border_mm=9)), folded, matches=[match]
        ),
        content_key(sleeves, replace(LINEN, nominal_width_mm=1510), LayerPlan.TO_MIDDLE),
        content_key(sleeves[:1], LINEN, folded),
        content_key([sleeves[0], replace(sleeves[1], mirrored=False)], LINEN, folded),
        content_key([replace(s, grain_angle_rad=0.5) for s in sleeves], LINEN, folded),
        content_key(pair("sleeve", moved), LINEN, folded),
    ]
    assert len(set(keys)) == len(keys)


def test_what_does_not_matter_is_not_in_the_key() -> None:
    """A repeat on which nothing must meet, and shrinkage along where the length is not bounded."""
    plain = content_key(ITEMS, LINEN, LayerPlan.FOLDED)
    striped = replace(LINEN, repeat=Repeat(along_mm=40), shrinkage_along=0.1, nominal_width_mm=1510)
    assert content_key(ITEMS, striped, LayerPlan.FOLDED) == plain


def test_rounding_of_another_machine_is_not_in_the_key() -> None:
    noisy = [(x + 1e-10, y - 1e-10) for x, y in SLEEVE]
    assert content_key([item("a", SLEEVE)], LINEN, LayerPlan.SINGLE) == content_key(
        [item("a", noisy)], LINEN, LayerPlan.SINGLE
    )


# The shortest wins


def test_more_effort_answers_for_less_but_not_the_other_way_round(
    tmp_path: Path, no_search: list[int]
) -> None:
    few = pair("sleeve", SLEEVE)

    def asked(effort: Effort, seed: int = 0) -> Origin:
        question = LayoutQuestion(tuple(few), LINEN)
        return answer(tmp_path, question, Searching(effort, seed)).origin

    assert asked(Effort(1, 2)) is Origin.SEARCHED
    assert asked(Effort(1, 1)) is Origin.KEPT
    assert asked(ROWS_ONLY) is Origin.KEPT
    assert asked(Effort(1, 3)) is Origin.SEARCHED
    assert asked(Effort(1, 2)) is Origin.KEPT
    assert asked(Effort(1, 1), seed=5) is Origin.SEARCHED
    assert len(no_search) == 3


def test_nothing_that_is_asked_again_gets_longer(tmp_path: Path) -> None:
    """Whatever searched it: a longer layout never takes the place of a shorter one."""
    kept, found = LayoutStore(tmp_path), rows()
    longer = stretched(found, 50)
    assert kept.keep(QUESTION, longer) == longer
    assert kept.keep(QUESTION, found) == found
    assert kept.keep(QUESTION, replace(longer, seed=9)).length_mm == found.length_mm
    stored = kept.find(QUESTION, ROWS_ONLY, 9)
    assert stored.searched
    assert stored.layout is not None
    assert stored.layout.length_mm == found.length_mm


def test_a_search_cut_short_leaves_a_layout_but_is_made_again(tmp_path: Path) -> None:
    kept, found = LayoutStore(tmp_path), rows()
    kept.keep(QUESTION, found, searched=False)
    stored = kept.find(QUESTION, ROWS_ONLY, 0)
    assert (stored.layout, stored.searched) == (found, False)
    assert kept.lengths_mm([QUESTION.digest], ROWS_ONLY, 0) == {}
    assert laid(tmp_path).origin is Origin.SEARCHED
    assert kept.lengths_mm([QUESTION.digest], ROWS_ONLY, 0) == {QUESTION.digest: found.length_mm}


def test_another_engine_searches_again_and_keeps_the_shorter(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    kept, found = LayoutStore(tmp_path), rows()
    kept.keep(QUESTION, found)
    monkeypatch.setattr(store, "search_engine", lambda: "another")
    assert not kept.find(QUESTION, ROWS_ONLY, 0).searched
    assert kept.keep(QUESTION, stretched(found, 1)) == found


def test_work_grows_with_time_and_runs() -> None:
    assert work_of(Effort(2, 3)) > work_of(Effort(2, 2)) > work_of(Effort(1, 1)) > 0
    assert work_of(ROWS_ONLY) == work_of(Effort(-1, -1)) == 0


def test_the_store_stays_small(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(
        store,
        "_PRUNING",
        [statement.replace("5000", "3").replace("500", "2") for statement in store._PRUNING],
    )
    few, kept = tuple(pair("sleeve", SLEEVE)), LayoutStore(tmp_path)
    widths = [LayoutQuestion(few, Fabric("linen", 1500 + wider)) for wider in range(6)]
    for each in widths:
        kept.keep(each, lay(few, each.fabric, effort=ROWS_ONLY))
        kept.remember(each.digest, "text")
    there = [kept.find(each, ROWS_ONLY, 0) for each in widths]
    assert [stored.searched for stored in there] == [False] * 3 + [True] * 3
    kept.keep(widths[0], lay(few, widths[0].fabric, effort=ROWS_ONLY))
    remembered = [kept.remembered(each.digest) for each in widths]
    assert remembered == [None] * 4 + ["text"] * 2


# Damage


def _changed(statement: str) -> Callable[[Path], None]:
    def change(path: Path) -> None:
        with closing(sqlite3.connect(path)) as connection, connection:
            connection.execute(statement)

    return change


def _consistent(change: Callable[[str], str]) -> Callable[[Path], None]:
    """Change a layout and its checksum as well, as a fault of ours would."""

    def write(path: Path) -> None:
        with closing(sqlite3.connect(path)) as connection, connection:
            digest, length, body = connection.execute(
                "SELECT question, length_mm, body FROM layout"
            ).fetchone()
            after = change(body)
            assert after != body
            connection.execute(
                "UPDATE layout SET body = ?, checksum = ?",
                (after, store._checksum(digest, repr(length), after)),
            )

    return write


def _flip(path: Path) -> None:
    """Change bytes all over the file, but leave its head."""
    content = bytearray(path.read_bytes())
    for at in range(200, len(content), 97):
        content[at] ^= 0x5A
    path.write_bytes(bytes(content))


def _of_another_program(path: Path) -> None:
    path.unlink()
    with closing(sqlite3.connect(path)) as connection, connection:
        connection.execute("CREATE TABLE layout (recipe TEXT)")


@pytest.mark.parametrize(
    "damage",
    [
        lambda path: path.write_bytes(b"not a database at all, but long enough to look at" * 90),
        lambda path: path.write_bytes(b""),
        lambda path: path.write_bytes(path.read_bytes()[:5000]),
        _flip,
        _of_another_program,
        _changed("DROP TABLE layout"),
        _changed("DROP TABLE search"),
        _changed("UPDATE layout SET body = body || ' '"),
        _changed("UPDATE layout SET length_mm = length_mm - 500"),
        _changed("UPDATE layout SET length_mm = 'long'"),
        _changed("UPDATE layout SET body = x'00ff'"),
        _changed("UPDATE layout SET checksum = ''"),
        _consistent(lambda body: "[]"),
        _consistent(lambda body: "[" * 100_000),
        _consistent(lambda body: body.replace('"sections":[', '"sections":{"a":[', 1)),
        _consistent(lambda body: body.replace('"cut":"on fold"', '"cut":"twice"')),
        _consistent(lambda body: body.replace('"cut":"pair"', '"cut":"single"')),
        _consistent(lambda body: body.replace('"rotation_rad":', '"rotation_rad":NaN,"x":')),
        _consistent(lambda body: body.replace('"translation_mm":[', '"translation_mm":[0,')),
        _consistent(lambda body: body.replace("sleeve.left", "nobody")),
    ],
)
def test_damage_costs_a_search_and_is_mended(
    tmp_path: Path, no_search: list[int], damage: Callable[[Path], None]
) -> None:
    first = laid(tmp_path)
    damage(first.path)
    again = laid(tmp_path)
    assert len(no_search) == 2
    assert again.layout == first.layout
    assert laid(tmp_path).origin is Origin.KEPT
    assert len(no_search) == 2
    assert [path.name for path in tmp_path.iterdir()] == [first.path.name]


def test_damage_is_told(tmp_path: Path) -> None:
    first = laid(tmp_path)
    _changed("UPDATE layout SET checksum = ''")(first.path)
    assert laid(tmp_path).origin is Origin.SEARCHED_AGAIN
    first.path.write_bytes(b"not a database at all" * 900)
    assert laid(tmp_path).origin is Origin.SEARCHED_AGAIN


def test_a_text_that_was_remembered_comes_back_unless_it_is_damaged(tmp_path: Path) -> None:
    kept = LayoutStore(tmp_path)
    assert kept.remembered("table") is None
    kept.remember("table", "one")
    kept.remember("table", "two ö")
    assert kept.remembered("table") == "two ö"
    _changed("UPDATE answer SET body = 'three'")(kept.path)
    assert kept.remembered("table") is None


# Places


def test_nothing_is_written_when_there_is_no_layout(tmp_path: Path) -> None:
    with pytest.raises(CuttingError):
        answer(tmp_path, replace(QUESTION, fabric=Fabric("narrow", 300)))
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("how", [LayoutCancelled, KeyboardInterrupt])
def test_the_best_until_it_was_ended_is_kept(tmp_path: Path, how: type[BaseException]) -> None:
    told: list[Layout] = []

    def tell(layout: Layout) -> None:
        told.append(layout)
        if how is KeyboardInterrupt and len(told) == 2:
            raise KeyboardInterrupt

    with pytest.raises(how):
        answer(
            tmp_path,
            QUESTION,
            Searching(
                Effort(1, 1),
                told=tell,
                cancelled=lambda: how is LayoutCancelled and len(told) == 2,
            ),
        )
    stored = LayoutStore(tmp_path).find(QUESTION, ROWS_ONLY, 0)
    assert not stored.searched
    assert stored.layout is not None
    assert stored.layout.length_mm == told[-1].length_mm < told[0].length_mm
    kept = answer(tmp_path, QUESTION, Searching(ROWS_ONLY))
    assert kept.layout.length_mm == told[-1].length_mm


@pytest.mark.parametrize("place", ["file", "file/below", "file/far/below"])
def test_a_folder_that_cannot_be_made_is_told_before_anything_is_searched(
    tmp_path: Path, no_search: list[int], place: str
) -> None:
    (tmp_path / "file").write_text("in the way")
    with pytest.raises(OutputError) as caught:
        laid(tmp_path / place)
    assert "file" in caught.value.where
    assert caught.value.what_to_do
    assert no_search == []


def test_a_folder_of_a_design_that_was_moved_away_is_not_made_anew(tmp_path: Path) -> None:
    design = tmp_path / "dress"
    design.mkdir()
    assert laid(design / ".layouts").origin is Origin.SEARCHED
    design.rename(tmp_path / "put-away")
    with pytest.raises(OutputError):
        laid(design / ".layouts")
    assert not design.exists()
    assert laid(tmp_path / "put-away" / ".layouts").origin is Origin.KEPT


@pytest.mark.skipif(
    not hasattr(os, "geteuid") or os.geteuid() == 0, reason="permissions do not bind this user"
)
def test_a_folder_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    tmp_path.chmod(0o500)
    with pytest.raises(OutputError):
        laid(tmp_path)


def test_a_folder_where_the_file_should_be_is_told(tmp_path: Path) -> None:
    LayoutStore(tmp_path).path.mkdir()
    with pytest.raises(OutputError) as caught:
        laid(tmp_path)
    assert str(tmp_path) in caught.value.where


def test_a_place_with_odd_letters_will_do(tmp_path: Path) -> None:
    folder = tmp_path / "50 % wool? #1; ö"
    assert laid(folder).origin is Origin.SEARCHED
    assert laid(folder).origin is Origin.KEPT


# Several at once


def test_threads_at_one_file_all_get_a_layout(tmp_path: Path) -> None:
    results: list[KeptLayout] = []
    threads = [threading.Thread(target=lambda: results.append(laid(tmp_path))) for _ in range(6)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(results) == 6
    assert laid(tmp_path).origin is Origin.KEPT
    assert len(list(tmp_path.iterdir())) == 1


WRITER = """
import sys
from pathlib import Path
from clothwise.cutting import Effort, Fabric, LayoutQuestion, LayoutStore, lay
from invented_dress import SLEEVE, pair

few, store, first = tuple(pair("sleeve", SLEEVE)), LayoutStore(Path(sys.argv[1])), int(sys.argv[2])
for wider in range(first, first + 30):
    question = LayoutQuestion(few, Fabric("linen", 1500 + wider % 40))
    store.keep(question, lay(few, question.fabric, effort=Effort(0, 0)))
"""


def _writer(folder: Path, first: int) -> subprocess.Popen[bytes]:
    path = os.pathsep.join(each for each in sys.path if each)
    return subprocess.Popen(
        [sys.executable, "-c", WRITER, str(folder), str(first)],
        env={**os.environ, "PYTHONPATH": path},
        stderr=subprocess.PIPE,
    )


def _is_sound(path: Path) -> bool:
    with closing(sqlite3.connect(path)) as connection:
        return connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]


def test_processes_at_one_file_lose_nothing(tmp_path: Path) -> None:
    """Two write thirty layouts each, twenty of them the same."""
    writers = [_writer(tmp_path, first) for first in (0, 10)]
    for writer in writers:
        _, error = writer.communicate(timeout=60)
        assert writer.returncode == 0, error.decode()
    kept, few = LayoutStore(tmp_path), tuple(pair("sleeve", SLEEVE))
    for wider in range(40):
        question = LayoutQuestion(few, Fabric("linen", 1500 + wider))
        assert kept.find(question, ROWS_ONLY, 0).searched
    assert _is_sound(kept.path)


@pytest.mark.skipif(sys.platform == "win32", reason="no SIGKILL there")
def test_a_writer_that_is_killed_leaves_a_sound_file(tmp_path: Path) -> None:
    kept = LayoutStore(tmp_path)
    for _ in range(3):
        writer = _writer(tmp_path, 0)
        until = threading.Event()
        while not kept.path.exists() and writer.poll() is None:
            until.wait(0.01)
        until.wait(0.1)
        writer.send_signal(signal.SIGKILL)
        writer.communicate(timeout=20)
        assert laid(tmp_path).layout.length_mm > 0
        assert _is_sound(kept.path)
