"""What each command answers when all is well, and when the command itself is mistyped."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pypdfium2
import pytest

from clothwise.cli.commands.print_ import LAYERS
from clothwise.output import PrintLayer
from clothwise.output.paper import PAPERS
from clothwise.packet.opening import making_at
from clothwise.pattern.document.make import DEFAULT_PAPER
from command_line import DRESS, EXAMPLES, SKIRT, clothwise, edited, example

COMMANDS = (
    *("open", "new", "measure", "draft", "set", "swap", "edit", "undo", "redo", "history"),
    *("check", "cut", "buy", "compare", "tune", "trace", "remnants", "sew", "print", "pack"),
)


@pytest.fixture
def skirt(tmp_path: Path) -> Path:
    return example(SKIRT, tmp_path)


@pytest.fixture
def dress(tmp_path: Path) -> Path:
    return example(DRESS, tmp_path)


def test_the_help_lists_the_commands_in_the_order_of_the_work() -> None:
    ran = clothwise("--help")
    listed = [line.split()[0] for line in ran.out.split("Commands:")[1].splitlines() if line]
    assert ran.code == 0
    assert listed == list(COMMANDS)
    assert "..." not in ran.out.split("Commands:")[1], "a summary is cut short"


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_explains_itself_and_each_of_its_options(command: str) -> None:
    ran = clothwise(command, "--help")
    assert ran.code == 0
    assert "Usage: clothwise" in ran.out
    for line in ran.out.split("Options:")[1].splitlines():
        if line.strip().startswith("--"):
            assert len(line.split()) > 2 or line.endswith("PATH"), f"no help: {line}"


def test_nothing_asked_shows_the_help() -> None:
    ran = clothwise()
    assert ran.code == 2
    assert "Commands:" in ran.text


@pytest.mark.parametrize(
    ("arguments", "keys"),
    [
        (["measure"], {"34", "38", "52"}),
        (["measure", "--size", "40"], {"40"}),
        (["draft"], {"size", "pieces", "seams"}),
        (["draft", "--view", "midi", "--size", "44"], {"size", "pieces", "seams"}),
    ],
)
def test_json_is_json(skirt: Path, arguments: list[str], keys: set[str]) -> None:
    ran = clothwise(arguments[0], skirt, *arguments[1:], "--json")
    assert ran.code == 0
    assert keys <= set(json.loads(ran.out))


@pytest.mark.parametrize(
    ("arguments", "key"),
    [
        (["cut", "--seconds", 0], "buy_m"),
        (["sew"], "minutes"),
        (["sew", "--batched"], "station"),
        (["pack", "--seconds", 0, "--out"], "path"),
    ],
)
def test_lists_are_json_too(skirt: Path, tmp_path: Path, arguments: list[object], key: str) -> None:
    out = [tmp_path / "packet"] if arguments[-1] == "--out" else []
    ran = clothwise(arguments[0], skirt, *arguments[1:], *out, "--json")
    data = json.loads(ran.out)
    assert ran.code == 0
    assert data
    assert all(key in each for each in data)


def test_sentences_of_a_layout_are_broken_between_words(dress: Path) -> None:
    ran = clothwise("cut", dress, "--make", "view-a", "--seconds", 0)
    text = ran.out.partition("Buy ")[2]
    lines = [line for line in text.splitlines() if "\u2500" not in line]
    sentences = [line for line in lines if line[:1].isalpha() or line[:3] == "  T"]
    assert sentences
    assert all(len(line) <= 100 for line in sentences), max(sentences, key=len)
    assert "of Slate linen for " in " ".join(ran.out.split())


def test_measuring_a_make_shows_whom_it_is_for(dress: Path) -> None:
    data = json.loads(clothwise("measure", dress / "makes" / "own-mixture.yaml", "--json").out)
    (body,) = data.values()
    assert body["upper_arm_girth"] == {"mm_or_rad": 320.0, "estimated": False}
    assert body["head_girth"]["estimated"]


def test_check_without_findings_is_fine_and_json_is_an_empty_list(skirt: Path) -> None:
    assert clothwise("check", skirt).code == 0
    assert json.loads(clothwise("check", skirt, "--json").out) == []


def test_check_with_an_error_ends_with_1_and_tells_place_and_remedy(skirt: Path) -> None:
    """A skirt that grows too long in one size is refused for that size, not for all."""
    edited(skirt / "design.yaml", "waist_to_knee + 20cm}", "waist_to_knee + 0.2 * height + 20cm}")
    edited(skirt / "sizes.csv", "52,168", "52,200")
    ran = clothwise("check", skirt, "--view", "midi")
    found = json.loads(clothwise("check", skirt, "--view", "midi", "--json").out)
    assert ran.code == 1
    assert {each["size"] for each in found if each["severity"] == "error"} == {"52"}
    assert all(each["remedy"] for each in found)
    assert "line 30, $.components.skirt.length.midi" in ran.out
    assert "allowed 20 cm to 120 cm" in ran.out
    assert "1 error" in ran.out


def test_a_make_can_be_named_by_its_file_or_by_make(dress: Path) -> None:
    by_name = clothwise("sew", dress, "--make", "view-b", "--json")
    by_file = clothwise("sew", dress / "makes" / "view-b.yaml", "--json")
    assert by_name.code == by_file.code == 0
    assert by_name.out == by_file.out


def test_a_make_in_another_size_keeps_its_own_measurements(dress: Path) -> None:
    """The mixture states 42 cm from neck to waist; that is hers in any size."""
    making = making_at(dress / "makes" / "own-mixture.yaml", "", "44")
    body, chart = making.file.body, making.file.of.body("44")
    assert body["back_neck_to_waist"] == pytest.approx(420)
    assert body["waist_girth"] == pytest.approx(chart["waist_girth"])
    assert body["waist_girth"] > making.file.of.body("40")["waist_girth"]


@pytest.mark.parametrize("paper", ["a4", "A4", "letter", "a4-or-letter", "A4 or Letter", "A0"])
def test_papers_can_be_written_in_any_way(skirt: Path, tmp_path: Path, paper: str) -> None:
    out = tmp_path / "pattern.pdf"
    ran = clothwise("print", skirt, "--paper", paper, "--out", out)
    assert ran.code == 0
    assert out.read_bytes().startswith(b"%PDF")
    assert ("2 pages" in ran.out) == (paper == "A0"), "large paper is filled, not cut into pages"


def test_the_paper_of_a_make_can_be_asked_for_by_its_name() -> None:
    assert DEFAULT_PAPER in PAPERS


def test_draft_draws_the_pieces_into_a_file(dress: Path, tmp_path: Path) -> None:
    out = tmp_path / "pieces.svg"
    assert clothwise("draft", dress, "--view", "B", "--out", out).code == 0
    text = out.read_text(encoding="utf-8")
    assert "<svg" in text
    assert "Skirt back" in text


@pytest.mark.parametrize("kind", [DRESS, SKIRT])
def test_a_new_design_is_without_findings(kind: str, tmp_path: Path) -> None:
    folder = tmp_path / "mine"
    ran = clothwise("new", kind, folder)
    assert ran.code == 0
    assert str(folder / "design.yaml") in ran.out
    assert clothwise("check", folder, "--size", "38").code == 0


def test_a_new_kiln_dress_can_be_packed(tmp_path: Path) -> None:
    folder, out = tmp_path / "mine", tmp_path / "packet"
    clothwise("new", DRESS, folder)
    ran = clothwise("pack", folder, "--make", "view-b", "--seconds", 0, "--out", out)
    assert ran.code == 0
    assert (out / "booklet.pdf").read_bytes().startswith(b"%PDF")
    assert "no findings" in ran.out


def test_new_never_writes_over_what_is_there(tmp_path: Path) -> None:
    folder = tmp_path / "mine"
    folder.mkdir()
    (folder / "diary.txt").write_text("dear diary", encoding="utf-8")
    ran = clothwise("new", DRESS, folder)
    assert ran.code == 2
    assert str(folder) in ran.err
    assert [each.name for each in folder.iterdir()] == ["diary.txt"]


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["chek", "x"], "Did you mean check?"),
        (["knit", "x"], "the first are open, new, measure, draft"),
        (["check", "{skirt}", "--sise", "38"], "--size"),
        (["check"], "TARGET"),
        (["pack", "{skirt}"], "--out"),
        (["cut", "{skirt}", "--seconds", "soon"], "soon"),
        (["cut", "{skirt}", "--seconds", "-1"], "0<=x<=600"),
        (["check", "{skirt}", "--size", "39"], "The sizes are: 34, 36"),
        (["sew", "{skirt}", "--size", "3"], "there is no size '3'"),
        (["draft", "{skirt}", "--view", "mini"], "Did you mean midi?"),
        (["draft", "{skirt}", "--choose", "length=mini"], "Did you mean midi?"),
        (["draft", "{skirt}", "--choose", "lenght=midi"], "Did you mean length?"),
        (["draft", "{skirt}", "--choose", "length"], "pockets=1"),
        (["cut", "{skirt}", "--make", "mak"], "Did you mean make?"),
        (["cut", "{dress}"], "view-a, view-b, own-mixture"),
        (["print", "{skirt}", "--paper", "a5", "--out", "x.pdf"], "a4-or-letter"),
        (["new", "kiln-dres", "x"], "Did you mean kiln-dress?"),
        (["new", "coat", "x"], "half-circle-skirt, kiln-dress"),
        (["check", "nowhere"], "clothwise new"),
        (["pack", "nowhere", "--out", "x"], "clothwise new"),
        (["check", "{empty}"], "design.yaml"),
        (["cut", "{empty}"], "design.yaml"),
        (["measure", "/dev/null"], "the file is empty"),
        (["check", "x" * 5000], "there is no such folder or file"),
    ],
)
def test_misuse_ends_with_2_and_says_what_is_there_instead(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, arguments: list[str], said: str
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "empty").mkdir()
    for name in (SKIRT, DRESS):
        shutil.copytree(EXAMPLES / name, tmp_path / name, ignore=shutil.ignore_patterns(".layouts"))
    before = sorted(tmp_path.rglob("*"))
    places = {"skirt": SKIRT, "dress": DRESS, "empty": "empty"}
    ran = clothwise(*(argument.format(**places) for argument in arguments))
    assert ran.code == 2
    assert said in ran.err
    assert ran.out == ""
    assert sorted(tmp_path.rglob("*")) == before, "something was written"


def test_an_outline_of_a_sew_along_has_chapters(dress: Path) -> None:
    ran = clothwise("sew", dress, "--make", "view-a", "--outline")
    assert ran.code == 0
    assert "1. Bodice (steps 1 to 5" in ran.out
    data = json.loads(clothwise("sew", dress, "--make", "view-a", "--outline", "--json").out)
    assert data["chapters"][0]["at_hand"]


def test_several_sizes_are_printed_in_one_file(dress: Path, tmp_path: Path) -> None:
    out = tmp_path / "nest.pdf"
    ran = clothwise(
        *("print", dress, "--make", "view-a", "--sizes", "36,38", "--without", "words"),
        *("--out", out),
    )
    assert ran.code == 0, ran.err
    text = pypdfium2.PdfDocument(out)[0].get_textpage().get_text_bounded()
    assert "Sizes 36 and 38" in text


def test_a_size_that_is_not_in_the_chart_is_not_printed(dress: Path, tmp_path: Path) -> None:
    out = tmp_path / "nest.pdf"
    ran = clothwise("print", dress, "--make", "view-a", "--sizes", "36,35", "--out", out)
    assert ran.code == 2
    assert "no size '35'" in ran.err
    assert not out.exists()


def test_what_print_leaves_out_are_the_layers_of_a_print() -> None:
    assert tuple(layer.value for layer in PrintLayer) == LAYERS
