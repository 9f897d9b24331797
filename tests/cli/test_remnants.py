"""`clothwise trace` and `clothwise remnants`, as they are used one after the other."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from pypdf import PdfReader

from clothwise.pattern.document import parse_stash
from command_line import clothwise, example
from photographed_cloth import LENGTH_MM, WIDTH_MM, photographed, save

MARKS = f"{LENGTH_MM / 10:g}cm,{WIDTH_MM / 10:g}cm"
QUICK = ("--seconds", 0, "--tries", 6)


@pytest.fixture(scope="module")
def photo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return save(photographed()[0], tmp_path_factory.mktemp("photo") / "scrap.jpg")


@pytest.fixture(scope="module")
def make(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = example("kiln-mixtures", tmp_path_factory.mktemp("mixtures"))
    return folder / "makes" / "four-fabrics.yaml"


# trace


def test_a_photo_becomes_a_remnant_of_a_stash(photo: Path, tmp_path: Path) -> None:
    stash, picture = tmp_path / "stash.yaml", tmp_path / "seen.png"
    words = ("trace", photo, "--marks", MARKS, "--stash", stash, "--name", "scrap")
    ran = clothwise(*words, "--picture", picture)
    assert ran.code == 0, ran.text
    assert "1 hole" in ran.out
    assert "drawn in by" in ran.out
    assert picture.read_bytes().startswith(b"\x89PNG")
    (entry,) = parse_stash(stash.read_text("utf-8")).remnants
    assert (tmp_path / entry.photo).resolve() == photo.resolve()
    assert len(entry.holes) == 1
    again = clothwise(*words)
    assert again.code == 2
    assert "the stash has scrap already" in again.err
    stash.write_text(stash.read_text("utf-8").replace("scrap:\n", "scrap:\n    roles: main\n"))
    assert clothwise(*words, "--anew", "--inward", "10mm").code == 0
    (anew,) = parse_stash(stash.read_text("utf-8")).remnants
    assert anew.roles == ("main",)
    assert anew.outline != entry.outline


def test_what_was_traced_as_data(photo: Path) -> None:
    ran = clothwise("trace", photo, "--marks", MARKS, "--json")
    data = json.loads(ran.out)
    assert len(data["holes_mm"]) == 1
    assert 0.4e6 < data["area_mm2"] < 0.5e6
    assert abs(data["marks_too_large_by"]) < 0.02


def test_marks_to_print(tmp_path: Path) -> None:
    for paper, width in (("a4", 595), ("letter", 612)):
        ran = clothwise("trace", "--print-marks", tmp_path / "marks.pdf", "--paper", paper)
        assert ran.code == 0
        page = PdfReader(tmp_path / "marks.pdf").pages[0]
        assert float(page.mediabox.width) == pytest.approx(width, abs=1)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ([], "no photo is named"),
        (["PHOTO"], "nothing says how far apart the marks are"),
        (["PHOTO", "--marks", "100cm"], "is not a length and a width"),
        (["PHOTO", "--marks", "100cm,80"], "80"),
        (["PHOTO", "--marks", "10cm,80cm"], "cannot be this far apart"),
        (["PHOTO", "--marks", "140cm,100cm"], "do not come out at the size"),
        (["PHOTO", "--marks", MARKS, "--corner", "a,b"], "is not a place in a photo"),
        (["PHOTO", "--marks", MARKS, "--corner", "1,2"], "not four corners"),
        (["PHOTO", "--marks", MARKS, "--inward", "thick"], "thick"),
        (["PHOTO", "--marks", MARKS, "--stash", "STASH"], "cannot be the name of a remnant"),
        (["nowhere.jpg", "--marks", MARKS], "cannot be read"),
    ],
)
def test_what_cannot_be_traced_is_told(
    photo: Path, tmp_path: Path, words: list[str], said: str
) -> None:
    known = {"PHOTO": str(photo), "STASH": str(tmp_path / "stash.yaml")}
    ran = clothwise("trace", *(known.get(word, word) for word in words))
    assert ran.code == 2
    assert said in ran.err
    assert not (tmp_path / "stash.yaml").exists()


# remnants

STASH = """\
schema: 1
remnants:
  blue: {title: Blue canvas, length: 90cm, width: 70cm, roles: [main, yoke]}
  tiny: {length: 20cm, width: 20cm}
"""


def with_stash(make: Path, text: str = STASH) -> Path:
    path = make.parent / "stash.yaml"
    path.write_text(text, "utf-8")
    return path


def test_pieces_from_remnants_and_what_is_bought(make: Path, tmp_path: Path) -> None:
    stash = with_stash(make)
    words = ("remnants", make, "--stash", stash, *QUICK)
    ran = clothwise(*words, "--pictures", tmp_path / "pages")
    assert ran.code == 0, ran.text
    assert "Blue canvas" in ran.out
    assert "Undyed linen: buy" in ran.out
    data = json.loads(clothwise(*words, "--json").out)
    assert data["fits"]
    assert "blue" in data["sources"].values()
    linen = next(each for each in data["bought"] if each["fabric"] == "linen")
    assert linen["after"]["buy_length_mm"] < linen["before"]["buy_length_mm"]
    assert (tmp_path / "pages" / "layout-blue.pdf").exists()


def test_what_is_adopted_is_cut_from_the_remnant(tmp_path: Path) -> None:
    make = example("kiln-mixtures", tmp_path) / "makes" / "four-fabrics.yaml"
    before = make.read_bytes()
    ran = clothwise("remnants", make, "--only", "canvas", "--adopt", *QUICK)
    assert ran.code == 0, ran.text
    assert "cut from the remnants, as shown" in ran.out
    adopted = make.read_bytes()
    assert " cut from the remnant Blue canvas" in clothwise("undo", make).out
    assert make.read_bytes() == before
    assert clothwise("redo", make).code == 0
    assert make.read_bytes() == adopted
    cut = clothwise("cut", make, "--seconds", 0)
    assert "Buy no Blue canvas: of the 90 cm at hand" in cut.out
    nothing = clothwise(
        "remnants", make, "--only", "print", "--adopt", "--seconds", 0, "--tries", 0
    )
    assert nothing.code == 2
    assert "nothing to adopt" in nothing.err


def test_a_stash_in_another_folder_is_adopted_and_taken_back(tmp_path: Path) -> None:
    make = example("kiln-mixtures", tmp_path) / "makes" / "pockets.yaml"
    before = make.read_bytes()
    shelf = tmp_path / "shelf.yaml"
    shelf.write_bytes((make.parent.parent / "stash.yaml").read_bytes())
    words = ("remnants", make, "--stash", shelf, "--only", "canvas", "--adopt", *QUICK)
    ran = clothwise(*words)
    assert ran.code == 0, ran.text
    assert "stash: ../../shelf.yaml" in make.read_text("utf-8")
    assert clothwise("undo", make).code == 0
    assert make.read_bytes() == before


def test_a_remnant_traced_into_the_stash_of_a_design_is_taken_back(
    photo: Path, tmp_path: Path
) -> None:
    stash = example("kiln-mixtures", tmp_path) / "stash.yaml"
    before = stash.read_bytes()
    words = ("trace", photo, "--marks", MARKS, "--stash", stash, "--name", "scrap")
    ran = clothwise(*words)
    assert ran.code == 0, ran.text
    assert "scrap" in parse_stash(stash.read_text("utf-8")).remnant_names
    assert "Undone: new remnant scrap" in clothwise("undo", stash.parent).out
    assert stash.read_bytes() == before


def test_only_the_remnants_that_are_named(make: Path) -> None:
    ran = clothwise("remnants", make, "--stash", with_stash(make), "--only", "tiny", *QUICK)
    assert ran.code == 0
    assert "Blue canvas" not in ran.out


def test_without_a_stash_it_is_told_how_to_name_one(make: Path) -> None:
    ran = clothwise("remnants", make.with_name("pockets.yaml"), *QUICK)
    assert ran.code == 0
    assert "no remnant is at hand" in ran.out
    assert "--stash" in ran.out
    with_one = clothwise(
        "remnants",
        make.with_name("pockets.yaml"),
        "--stash",
        with_stash(make, STASH.replace("  blue", "  # blue")),
        *QUICK,
    )
    assert "no remnant saves any" in with_one.out


def test_a_length_that_is_too_short_ends_with_1(make: Path) -> None:
    ran = clothwise("remnants", make, "--at-hand", "linen=1m", *QUICK)
    assert ran.code == 1
    assert "Undyed linen: the 100 cm at hand cannot suffice" in ran.out
    assert "No place was found for" in ran.out


def test_a_stash_that_the_make_names_is_used(make: Path) -> None:
    with_stash(make)
    named = make.with_name("with-stash.yaml")
    named.write_text(make.read_text("utf-8").replace("stash: ../", "stash: "))
    data = json.loads(clothwise("remnants", named, *QUICK, "--json").out)
    named.unlink()
    assert "blue" in data["sources"].values()


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--at-hand", "linen"], "cannot be read"),
        (["--at-hand", "silk=2m"], "nothing is cut from a fabric 'silk'"),
        (["--at-hand", "linen=0m"], "length at hand of linen: no fabric is 0 cm long"),
        (["--only", "bleu"], "Did you mean blue?"),
        (["--stash", "nowhere.yaml"], "there is no such file"),
    ],
)
def test_what_cannot_be_asked_is_told(make: Path, words: list[str], said: str) -> None:
    stash = () if "--stash" in words else ("--stash", with_stash(make))
    ran = clothwise("remnants", make, *stash, *words, *QUICK)
    assert ran.code == 2
    assert said in ran.err


@pytest.mark.parametrize(
    ("shape", "said"),
    [
        ("outline: [[0, 0], [1m, 1m], [1m, 0], [0, 1m]]", "the outline crosses itself"),
        ("length: 0cm, width: 1m", "no remnant has a side of 0cm"),
        ("length: 1m, width: 1m, shrinkage_along: 30%", "no fabric shrinks by 30%"),
    ],
)
def test_a_remnant_that_is_no_cloth(make: Path, shape: str, said: str) -> None:
    stash = with_stash(make, f"schema: 1\nremnants:\n  bad: {{{shape}}}\n")
    ran = clothwise("remnants", make, "--stash", stash, *QUICK)
    assert ran.code == 2
    assert said in ran.err
    assert "line 3" in ran.err


def test_copies_chosen_by_hand_stay_unless_one_says_otherwise(tmp_path: Path) -> None:
    make = example("kiln-mixtures", tmp_path) / "makes" / "four-fabrics.yaml"
    make.write_text(make.read_text("utf-8") + "\ncopies: {belt: slate}\n", "utf-8")
    few = (*QUICK[:2], "--tries", 1)
    kept = clothwise("remnants", make, *few, "--json")
    assert json.loads(kept.out)["kept_on_their_fabric"] == dict.fromkeys(
        ("belt/left", "belt/right"), "chosen by hand"
    )
    moved = clothwise("remnants", make, *few, "--chosen-too", "--json")
    assert not json.loads(moved.out)["kept_on_their_fabric"]
