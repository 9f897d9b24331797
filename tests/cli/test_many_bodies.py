"""`clothwise check --bodies`: one design, or a catalog, on many bodies."""

from __future__ import annotations

import json
import os
import pty
import shutil
import signal
import subprocess
import sys
import threading
import time
from dataclasses import replace
from pathlib import Path

import pytest

from clothwise.cli import many
from clothwise.pattern import Body, Finding, Severity
from command_line import DRESS, EXAMPLES, SKIRT, clothwise, edited, started
from survey import survey_women

ORDINARY = {"height": 1660.0, "bust_girth": 900.0, "waist_girth": 720.0, "hip_girth": 960.0}


def body(name: str, **changes: float) -> Body:
    return Body.complete({**ORDINARY, **changes}, name=name)


PEOPLE = (
    body("Ida"),
    body("Ada", bust_girth=1000.0, waist_girth=800.0, hip_girth=1060.0),
    body("Una", hip_girth=760.0, waist_girth=900.0),  # below what the blocks are drafted for
    body("Eva", upper_arm_girth=440.0),  # more than fits into her armhole
)


@pytest.fixture
def people(monkeypatch: pytest.MonkeyPatch) -> tuple[Body, ...]:
    monkeypatch.setattr(many, "bodies_named", lambda _: PEOPLE)
    return PEOPLE


def test_sound_bodies_give_one_sentence(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(many, "bodies_named", lambda _: survey_women()[:6])
    ran = clothwise("check", EXAMPLES / SKIRT, "--bodies", "list.csv", "--workers", 1)
    assert ran.code == 0, ran.text
    assert "Half-circle skirt, view knee, Half-circle skirt, view midi on 6 bodies" in ran.out
    assert "0 refused, 0 with errors (refused ones too), 0 with warnings" in ran.out
    assert ran.err == ""


@pytest.mark.usefixtures("people")
def test_findings_are_summed_up_by_code_with_the_worst_case() -> None:
    arguments = ("check", EXAMPLES / DRESS, "--bodies", "list.csv", "--workers", 1)
    ran = clothwise(*arguments)
    data = json.loads(clothwise(*arguments, "--json").out)
    assert data["bodies"] == 4
    assert data["garments"] == ["Kiln dress, view A", "Kiln dress, view B"]
    codes = [entry["code"] for entry in data["summary"]]
    assert codes
    assert all(code in ran.out for code in codes)
    errors = {each["body"] for each in data["findings"] if each["severity"] == "error"}
    assert ran.code == (1 if errors else 0)
    for entry in data["summary"]:
        same = [
            each
            for each in data["findings"]
            if (each["code"], each["severity"]) == (entry["code"], entry["severity"])
        ]
        assert entry["bodies"] == len({each["body"] for each in same})
        assert entry["worst"] in same


@pytest.mark.usefixtures("people")
def test_a_refused_body_is_named_with_its_measurement() -> None:
    arguments = ("check", EXAMPLES / DRESS, "--bodies", "list.csv", "--workers", 1)
    ran = clothwise(*arguments)
    assert ran.code == 1
    una, eva = json.loads(clothwise(*arguments, "--json").out)["refused"]
    assert (una["body"], una["measurements"], len(una["why"])) == ("Una", ["hip_girth"], 1)
    assert eva["body"] == "Eva"
    for name, measurement in (("Una", "hip_girth"), ("Eva", "upper_arm_girth")):
        (line,) = [line for line in ran.out.splitlines() if line.startswith(f"Refused {name}: ")]
        assert measurement in line
    assert "2 refused, 2 with errors" in ran.out


def test_a_folder_of_body_files_is_a_list_of_testers(tmp_path: Path) -> None:
    for name, bust in (("una", "92"), ("ada", "100"), ("ida", "96")):
        text = (
            f"# unit: cm\nmeasurement,value\nheight,166\nbust_girth,{bust}\n"
            "waist_girth,76\nhip_girth,102\n"
        )
        (tmp_path / f"{name}.csv").write_text(text, encoding="utf-8")
    (tmp_path / "notes.txt").write_text("Una likes it long.", encoding="utf-8")
    assert [each.name for each in many.bodies_named(str(tmp_path))] == ["ada", "ida", "una"]
    assert [each.name for each in many.bodies_named(str(tmp_path / "ida.csv"))] == ["ida"]
    ran = clothwise("check", EXAMPLES / SKIRT, "--bodies", tmp_path, "--workers", 1)
    assert ran.code == 0, ran.text
    assert "on 3 bodies" in ran.out
    edited(tmp_path / "ada.csv", "100", "10")
    edited(tmp_path / "una.csv", "unit: cm", "unit: parsec")
    ran = clothwise("check", EXAMPLES / SKIRT, "--bodies", tmp_path)
    assert ran.code == 2
    assert "ada.csv" in ran.err
    assert "una.csv" in ran.err
    empty = tmp_path / "empty"
    empty.mkdir()
    assert "no body in this folder" in clothwise("check", EXAMPLES / SKIRT, "--bodies", empty).err


def test_one_view_and_own_choices_are_kept_to(people: tuple[Body, ...]) -> None:
    ran = clothwise(
        "check", EXAMPLES / DRESS, "--view", "B", "--bodies", "x.csv", "--workers", 1, "--json"
    )
    assert json.loads(ran.out)["garments"] == ["Kiln dress, view B"]
    make = EXAMPLES / DRESS / "makes" / "own-mixture.yaml"
    (garment,) = many.garments_at(make, "", {})
    assert garment.choices["hem"] == "tunic"
    assert people


def test_a_catalog_is_checked_design_by_design(tmp_path: Path) -> None:
    for name in (SKIRT, DRESS):
        shutil.copytree(EXAMPLES / name, tmp_path / name)
    ran = clothwise("check", tmp_path, "--size", "38")
    assert ran.code == 0
    assert "view midi, Kiln dress, view A" in ran.out
    assert ran.out.count("no findings") == 1
    assert len(many.garments_at(tmp_path, "", {})) == 4
    assert [each.title for each in many.garments_at(tmp_path, "B", {})] == ["Kiln dress, view B"]
    assert "no view 'Z'" in clothwise("check", tmp_path, "--view", "Z").err


def test_faults_of_all_designs_of_a_catalog_are_told_at_once(tmp_path: Path) -> None:
    for name in ("one", "two", "three"):
        shutil.copytree(EXAMPLES / SKIRT, tmp_path / name)
    for name in ("one", "two"):
        edited(tmp_path / name / "design.yaml", "base_size:", "base_sise:")
    ran = clothwise("check", tmp_path)
    assert ran.code == 2
    assert str(tmp_path / "one" / "design.yaml") in ran.err
    assert str(tmp_path / "two" / "design.yaml") in ran.err
    assert "three" not in ran.err


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (("--bodies", "x.csv", "--size", "38"), "both a size and bodies"),
        (("--workers", "2"), "none are named"),
        (("--cluster", "tcp://127.0.0.1:9"), "none are named"),
        (("--bodies", "no-such-list.csv"), "no-such-list.csv"),
        (("--bodies", "survey", "--view", "Z"), "no view 'Z'"),
    ],
)
def test_options_that_contradict_or_lead_nowhere_are_refused(
    options: tuple[str, ...], said: str
) -> None:
    ran = clothwise("check", EXAMPLES / SKIRT, *options)
    assert ran.code == 2
    assert said in ran.err
    assert ran.err.count(". ") >= 1, "no remedy"


@pytest.mark.usefixtures("people")
def test_a_cluster_that_is_not_there_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    pytest.importorskip("distributed")
    monkeypatch.setattr("clothwise.jobs.cluster.CONNECT_S", 0.3)
    ran = clothwise(
        "check", EXAMPLES / SKIRT, "--bodies", "x.csv", "--cluster", "tcp://127.0.0.1:9"
    )
    assert ran.code == 2
    assert "no scheduler answers" in ran.err


def test_results_are_the_same_whoever_does_the_work() -> None:
    distributed = pytest.importorskip("distributed")
    garments = many.garments_at(EXAMPLES / SKIRT, "knee", {})
    people = (*survey_women()[:2], *PEOPLE)
    alone = many.try_on(garments, people, workers=1)
    assert [each.body for each in alone] == [each.name for each in people]
    assert many.try_on(garments, people, workers=2) == alone
    with distributed.LocalCluster(
        n_workers=2,
        threads_per_worker=1,
        processes=False,
        protocol="tcp",
        dashboard_address="127.0.0.1:0",
        host="127.0.0.1",
    ) as cluster:
        assert many.try_on(garments, people, cluster=cluster.scheduler_address) == alone


def test_the_worst_case_lies_furthest_from_what_is_allowed() -> None:
    finding = Finding(
        "FIT-BUST", Severity.WARNING, "Tight.", "More ease.", allowed="at least 98 cm"
    )
    found = [
        many.Tried("dress", number, name, (replace(finding, measured=measured),))
        for number, (name, measured) in enumerate(
            [("Ida", "97.5 cm"), ("Ada", "91 cm"), ("Eva", "95 cm"), ("Ada", "97 cm")]
        )
    ]
    (entry,) = many.summed_up(found)
    assert (entry.bodies, entry.body, entry.worst.measured) == (4, "Ada", "91 cm")
    note = replace(finding, severity=Severity.NOTE, measured="")
    error = replace(finding, severity=Severity.ERROR, measured="no use", allowed="one use")
    more = [many.Tried("dress", 9, "Uta", (note, error))]
    told = [each.severity for each in many.summed_up([*found, *more])]
    assert told == [Severity.ERROR, Severity.WARNING, Severity.NOTE]


@pytest.mark.skipif(sys.platform == "win32", reason="no terminal to look at there")
def test_a_terminal_sees_a_bar_and_a_pipe_does_not() -> None:
    ours, theirs = pty.openpty()
    seen: list[bytes] = []
    with subprocess.Popen(
        [sys.executable, "-m", "clothwise", "check", str(EXAMPLES / SKIRT)],
        stdout=subprocess.PIPE,
        stderr=theirs,
        text=True,
        env={**os.environ, "TERM": "xterm", "COLUMNS": "100"},
    ) as program:
        os.close(theirs)
        # A terminal that nobody reads is full after a few redrawn bars, and then the program waits.
        reading = threading.Thread(target=_read_to_the_end, args=(ours, seen))
        reading.start()
        try:
            out, _ = program.communicate(timeout=60)
        finally:
            program.kill()
    reading.join()
    os.close(ours)
    assert "Checked" in out
    assert b"/20" in b"".join(seen)
    assert b"view midi" in b"".join(seen)
    assert clothwise("check", EXAMPLES / SKIRT, "--size", "38").err == ""


def _read_to_the_end(terminal: int, seen: list[bytes]) -> None:
    try:
        while more := os.read(terminal, 4096):
            seen.append(more)
    except OSError:
        pass  # the other side is closed


@pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="processes are counted in /proc")
def test_ctrl_c_stops_the_check_of_many_bodies_and_leaves_no_process() -> None:
    with started("check", EXAMPLES / DRESS, "--bodies", "survey", "--workers", 2) as program:
        try:
            until = time.monotonic() + 30
            while len(workers := _working(program.pid)) < 2 and time.monotonic() < until:
                time.sleep(0.05)
            assert len(workers) >= 2, "no worker began"
            program.send_signal(signal.SIGINT)
            asked = time.monotonic()
            said, blamed = program.communicate(timeout=20)
            took_s = time.monotonic() - asked
        finally:
            program.kill()
    assert program.returncode == 130
    assert "Stopped." in blamed
    assert "Traceback" not in said + blamed
    assert took_s < 5
    until = time.monotonic() + 5
    while (left := [each for each in workers if each in _processes()]) and (
        time.monotonic() < until
    ):
        time.sleep(0.05)
    assert not left


def _processes() -> dict[int, int]:
    """Every process that is not a zombie, and its parent."""
    found = {}
    for stat in Path("/proc").glob("[0-9]*/stat"):
        try:
            fields = stat.read_text(encoding="utf-8").rpartition(")")[2].split()
        except OSError:
            continue
        if fields[0] != "Z":
            found[int(stat.parent.name)] = int(fields[1])
    return found


def _working(parent: int) -> list[int]:
    return [process for process, of in _processes().items() if of == parent]
