"""`clothwise buy` and `clothwise compare`: what to buy, for every size and for other cloth."""

from __future__ import annotations

import json
import os
import signal
import sqlite3
import sys
import time
from contextlib import closing
from pathlib import Path

import pytest
from pypdf import PdfReader

from clothwise.cli.commands.buy import LAYERS as OFFERED
from clothwise.pattern.document.fabric_entry import LAYERS
from command_line import DRESS, SKIRT, clothwise, edited, example, started


@pytest.fixture
def skirt(tmp_path: Path) -> Path:
    return example(SKIRT, tmp_path)


@pytest.fixture
def dress(tmp_path: Path) -> Path:
    return example(DRESS, tmp_path)


def buy(target: Path, *arguments: object) -> tuple[str, list[dict[str, object]]]:
    """What is shown, and the same as data."""
    words = ("buy", target, "--seconds", 0, "--workers", 1, *arguments)
    shown, data = clothwise(*words), clothwise(*words, "--json")
    assert (shown.code, data.code) == (0, 0), shown.text + data.text
    return shown.out, json.loads(data.out)


# buy


def test_a_design_is_shown_by_view_and_size(skirt: Path) -> None:
    out, (table,) = buy(skirt, "--width", "150cm", "--size", "38,40", "--size", "34")
    assert table["sizes"] == ["34", "38", "40"]
    assert "Half-circle skirt: fabric requirement (m, below it yd)" in out
    assert out.index("View knee") < out.index("View midi")
    assert "150 cm (59 in), without nap" in out
    assert "Interfacing" in out
    rows = table["rows"]
    assert isinstance(rows, list)
    for row in rows:
        for cell in row["cells"]:
            assert f"{cell['buy_m']:.1f}" in out
            assert cell["lower_bound_mm"] <= cell["layout_length_mm"]


def test_view_nap_layers_and_width_of_one_cloth(skirt: Path) -> None:
    _, (table,) = buy(
        *(skirt, "--view", "knee", "--size", "38", "--nap", "both", "--layers", "single"),
        *("--width", "main=140cm", "--width", "main=150cm", "--width", "interfacing=60cm"),
    )
    rows = table["rows"]
    assert isinstance(rows, list)
    assert [(r["fabric"], r["width_mm"], r["nap"], r["layers"]) for r in rows] == [
        *(("main", width, nap, "single") for width in (1400, 1500) for nap in ("none", "one way")),
        ("interfacing", 600, "none", "single"),
    ]


def test_a_make_and_a_catalog(dress: Path, skirt: Path) -> None:
    _, (table,) = buy(dress, "--make", "view-b", "--size", "38")
    assert table["title"] == "Kiln dress, view B"
    out, tables = buy(skirt.parent, "--size", "38")
    assert [each["title"] for each in tables] == ["Half-circle skirt", "Kiln dress"]
    assert out.count("fabric requirement") == 2


@pytest.mark.parametrize("kind", ["pdf", "csv", "xlsx", "json"])
def test_it_is_written_into_a_file(skirt: Path, tmp_path: Path, kind: str) -> None:
    file = tmp_path / f"fabric.{kind}"
    out, _ = buy(skirt, "--width", "150cm", "--size", "38", "--out", file)
    assert f"{file}: fabric requirement" in out
    assert file.stat().st_size > 200
    if kind == "pdf":
        assert "Half-circle skirt" in PdfReader(file).pages[0].extract_text()


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["{skirt}", "--out", "fabric.doc"], [".doc", ".pdf"]),
        (["{skirt}", "--out", "fabric"], ["without an ending", ".pdf"]),
        (["{skirt}", "--size", "99"], ["99", "34"]),
        (["{skirt}", "--view", "A"], ["A", "knee"]),
        (["{skirt}", "--width", "150"], ["150", "unit"]),
        (["{skirt}", "--width", "0cm"], ["0 cm", "selvage to selvage"]),
        (["{skirt}", "--width", "linen=150cm"], ["linen", "lining"]),
        (["{skirt}", "--width", "main="], ["length"]),
        (["{skirt}", "--make", "other"], ["other", "make"]),
        (["{skirt}/make.yaml", "--view", "knee"], ["--view knee", "make"]),
        (["{skirt}/make.yaml", "--choose", "length=knee"], ["--choose", "make"]),
        (["{skirt}", "--nap", "some"], ["--nap", "both"]),
        (["{skirt}", "--cluster", "tcp://127.0.0.1:9"], ["no scheduler"]),
        (["{skirt}/nowhere"], ["no such folder"]),
    ],
)
def test_what_cannot_be_asked_is_told_and_nothing_searched(
    skirt: Path, monkeypatch: pytest.MonkeyPatch, arguments: list[str], words: list[str]
) -> None:
    monkeypatch.setattr("clothwise.jobs.cluster.CONNECT_S", 0.3)
    ran = clothwise("buy", *(each.format(skirt=skirt) for each in arguments))
    assert ran.code == 2
    assert all(word in ran.err for word in words), ran.err
    assert ran.out == ""


def test_a_fault_in_what_a_role_asks_is_told_with_its_line(skirt: Path) -> None:
    edited(
        skirt / "design.yaml",
        "\ncomponents:",
        "\nfabric_roles:\n  main:\n    title: Wool\n    requirement:\n      widths: [0cm, wide]\n"
        "      nap: sometimes\n      shrinkage_along: 90%\n\ncomponents:",
    )
    ran = clothwise("buy", skirt)
    assert ran.code == 2
    for fault in ("widths[0]", "widths[1]", "nap", "shrinkage_along"):
        assert f"$.fabric_roles.main.requirement.{fault}" in ran.err, ran.err


def test_its_ways_to_lie_are_those_of_a_fabric() -> None:
    assert OFFERED == LAYERS


@pytest.mark.skipif(sys.platform == "win32", reason="no SIGINT for one process there")
def test_a_table_that_was_stopped_goes_on_where_it_was(skirt: Path) -> None:
    """Ctrl-C in the middle: what was found is kept, and no worker is left behind."""
    words = ("buy", skirt, "--seconds", 1, "--workers", 2, "--width", "150cm", "--size", "36,38")
    store = skirt / ".layouts" / "layouts-1.sqlite"
    with started(*words) as program:
        until = time.monotonic() + 120
        while _kept(store) < 1 and program.poll() is None and time.monotonic() < until:
            time.sleep(0.02)
        program.send_signal(signal.SIGINT)
        _, said = program.communicate(timeout=30)
    assert program.returncode == 130, said
    assert "the same command goes on from there" in said
    assert "Traceback" not in said
    assert 1 <= _kept(store) < 6
    ran = clothwise(*words)
    assert ran.code == 0, ran.text
    assert _kept(store) == 6
    assert _sound(store)


def _kept(store: Path) -> int:
    if not store.exists():
        return 0
    with closing(sqlite3.connect(store, timeout=20)) as connection:
        tables = connection.execute("SELECT name FROM sqlite_master WHERE name = 'search'")
        if not tables.fetchall():
            return 0
        return int(connection.execute("SELECT COUNT(*) FROM search").fetchone()[0])


def _sound(store: Path) -> bool:
    with closing(sqlite3.connect(store)) as connection:
        return connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]


def test_two_programs_at_one_table_both_give_it(skirt: Path) -> None:
    words = ("buy", skirt, "--seconds", 0, "--workers", 1, "--json", "--size", "36,38,40")
    programs = [started(*words) for _ in range(2)]
    answers = [program.communicate(timeout=120) for program in programs]
    assert [program.returncode for program in programs] == [0, 0], answers
    assert answers[0][0] == answers[1][0]
    assert json.loads(answers[0][0])
    assert _sound(skirt / ".layouts" / "layouts-1.sqlite")


# compare


def compared(target: Path, *arguments: object) -> tuple[str, dict[str, object]]:
    words = ("compare", target, "--seconds", 0, *arguments)
    shown, data = clothwise(*words), clothwise(*words, "--json")
    assert (shown.code, data.code) == (0, 0), shown.text + data.text
    return shown.out, json.loads(data.out)


def test_two_fabrics_swapped(dress: Path) -> None:
    before = (dress / "makes" / "view-a.yaml").read_bytes()
    out, data = compared(dress, "--make", "view-a", "--swap", "linen,print")
    assert "Slate linen" in out
    assert "In all:" in out
    assert "USD" in out
    assert (dress / "makes" / "view-a.yaml").read_bytes() == before
    assert {"linen", "print", "fusible"} == {each["fabric"] for each in data["fabrics"]}  # type: ignore[index,attr-defined]


def test_what_moves_is_told_by_the_titles_of_pieces(dress: Path) -> None:
    out, _ = compared(dress, "--make", "view-a", "--from", "pocket/left=linen")
    assert "From Slate linen instead of Rust dot cotton: Pocket (left)." in out
    out, _ = compared(dress, "--make", "view-a", "--swap", "linen,print")
    assert "bodice-front" not in out
    assert "Bodice front, Bodice back, Skirt front" in " ".join(out.split())


@pytest.mark.parametrize(("length", "suffices"), [("6m", True), ("1m", False)])
def test_of_cloth_at_hand_that_suffices_nothing_is_bought(
    dress: Path, length: str, suffices: bool
) -> None:
    out, data = compared(dress, "--make", "view-a", "--cloth", f"linen.length={length}")
    after = data["fabrics"][0]["after"]  # type: ignore[index]
    assert (after["buy_m"] == 0) == suffices
    assert (data["cost_after"]["USD"] < data["cost_before"]["USD"]) == suffices  # type: ignore[index]
    assert ("nothing" in out) == suffices
    assert f"Slate linen: at hand {length[:-1]}00 cm (" in out
    assert ("left)." if suffices else "short).") in out
    assert ("What is bought stays the same." in out) != suffices


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ([], ["nothing is to be changed", "--swap"]),
        (["--swap", "linen"], ["--swap", "linen,print"]),
        (["--swap", "linen,linen"], ["itself", "linen"]),
        (["--swap", "linen,velvet"], ["velvet", "print"]),
        (["--from", "poket=linen"], ["poket", "pocket"]),
        (["--from", "pocket=velvet"], ["velvet", "linen"]),
        (["--cloth", "linen=150cm"], ["--cloth", "linen.width=150cm"]),
        (["--cloth", "linen.color=red"], ["color", "width"]),
        (["--cloth", "linen.width=wide"], ["linen.width", "wide"]),
        (["--cloth", "linen.shrinkage_along=90%"], ["shrinkage_along", "25%"]),
        (["--cloth", "linen.nap=up"], ["linen.nap", "one way"]),
        (["--cloth", "velvet.width=150cm"], ["velvet", "linen"]),
        (["--cloth", "linen.width=30cm"], ["wider than", "at least"]),
    ],
)
def test_a_change_that_cannot_be_made_is_told(
    dress: Path, arguments: list[str], words: list[str]
) -> None:
    ran = clothwise("compare", dress, "--make", "view-a", "--seconds", 0, *arguments)
    assert ran.code == 2
    assert all(word in ran.err for word in words), ran.err
    assert os.linesep not in ran.err.strip()
