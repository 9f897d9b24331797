"""Changes from the command line, in one history with those of the app."""

import json
import shutil
from pathlib import Path

import pytest

from clothwise.cli.main import MISUSE, run
from clothwise.pattern.commands import Rename
from clothwise.pattern.history import History

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return Path(shutil.copytree(EXAMPLES / "kiln-dress", tmp_path / "dress"))


def test_set_undo_redo(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = folder / "design.yaml"
    before = file.read_text()
    assert run(["set", str(folder), "skirt", "flare=6cm", "--choose", "hem=tunic"]) == 0
    assert "flare of skirt: 5cm → 6cm. `clothwise undo`" in capsys.readouterr().out
    after = file.read_text()
    assert "tunic: 6cm}" in after
    assert run(["undo", str(folder / "makes" / "view-a.yaml")]) == 0
    assert file.read_text() == before
    assert run(["redo", str(folder)]) == 0
    assert file.read_text() == after
    assert run(["set", str(folder), "skirt", "flare=6cm", "--choose", "hem=tunic"]) == 0
    assert "nothing was changed" in capsys.readouterr().out


def test_several_values_are_one_step(folder: Path) -> None:
    assert run(["set", str(folder), "skirt", "hip_ease=9cm", "flare=8cm"]) == 0
    assert len(History.open(folder).entries) == 2


def test_swap(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["swap", str(folder), "sleeve", "puff-sleeve"]) == 0
    assert "sleeve: set-in sleeve → puff sleeve" in capsys.readouterr().out
    assert "component: puff-sleeve" in (folder / "design.yaml").read_text()


def test_edit(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    split = ["split", "piece=skirt-front", "from=side", "from_at=30%", "to=front-edge"]
    assert run(["edit", str(folder), *split, "--name", "low"]) == 0
    assert (
        "split the skirt front from side to front edge. `clothwise undo`" in capsys.readouterr().out
    )
    assert run(["check", str(folder), "--view", "A", "--size", "38"]) == 0
    assert run(["set", str(folder), "low", "from_at=40%"]) == 0
    assert "from_at: 40%" in (folder / "design.yaml").read_text()


def test_history_is_listed_and_gone_back_in(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    run(["set", str(folder), "skirt", "hip_ease=9cm"])
    history = History.open(folder)
    history.commit(history.head, Rename("For the fair"))  # as the app does
    run(["undo", str(folder)])
    capsys.readouterr()
    assert run(["history", str(folder)]) == 0
    listed = capsys.readouterr().out
    assert "undone" in listed
    assert "title: For the fair" in listed
    assert run(["history", str(folder), "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert [each["words"] for each in data["entries"]] == [
        "as it was at first",
        "hip ease of skirt: 8cm → 9cm",
        "title: For the fair",
    ]
    assert data["head"] == data["entries"][1]["id"]
    assert run(["history", str(folder), "--back-to", data["entries"][0]["id"]]) == 0
    assert "hip_ease: 8cm" in (folder / "design.yaml").read_text()


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (["set", "dress", "skirt", "flare=90cm"], "flare is 90 cm (allowed 2 cm to 26 cm)"),
        (["set", "dress", "skirt", "flare"], "says no value"),
        (["set", "dress", "skrit", "flare=9cm"], "Did you mean skirt"),
        (["set", "dress", "skirt", "flair=9cm"], "Did you mean flare"),
        (["set", "dress", "skirt", "flare=9cm", "--choose", "hem=long"], "for these choices"),
        (["swap", "dress", "skirt", "nonsense"], "no component named nonsense"),
        (["swap", "dress", "skrit", "a-line-skirt"], "Did you mean skirt"),
        (["edit", "dress", "splitt", "piece=pocket"], "Did you mean split"),
        (["edit", "dress", "split", "peice=pocket"], "Did you mean piece"),
        (["undo", "dress"], "there is nothing to undo"),
        (["redo", "dress"], "there is nothing to do again"),
        (["history", "dress", "--back-to", "7"], "no entry '7'"),
        (["undo", "nothing"], "there is no such file"),
    ],
)
def test_refusals_change_nothing(
    folder: Path, arguments: list[str], message: str, capsys: pytest.CaptureFixture[str]
) -> None:
    before = (folder / "design.yaml").read_text()
    arguments = [
        str(folder.parent / each) if each in ("dress", "nothing") else each for each in arguments
    ]
    assert run(arguments) == MISUSE
    assert message in capsys.readouterr().err
    assert (folder / "design.yaml").read_text() == before
    assert len(History.open(folder).all_entries) == 1
