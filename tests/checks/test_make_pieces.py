"""What a make says of a piece that the garment does not have closes nothing: it is told."""

from pathlib import Path

import pytest

from clothwise.checks import check_pieces
from clothwise.packet.making import Making
from clothwise.packet.opening import making_at
from clothwise.pattern import Severity
from command_line import SKIRT, clothwise, example


def making(tmp_path: Path, more: str) -> Making:
    """The circle skirt with more in its make."""
    folder = example(SKIRT, tmp_path)
    with (folder / "make.yaml").open("a", encoding="utf-8") as out:
        out.write(more)
    return making_at(folder, "", "")


def test_cloth_of_a_piece_that_went_is_left_aside_and_the_rest_is_made(tmp_path: Path) -> None:
    plain = making(tmp_path / "plain", "")
    fabric = plain.file.make.fabrics[0]
    found = making(tmp_path / "painted", f'copies: {{"Skirt bottom/right": {fabric.name}}}\n')
    (told,) = check_pieces(found.pattern, found.file.make)
    assert told in found.findings
    assert (told.code, told.severity) == ("MAKE-PIECE", Severity.WARNING)
    assert told.message == (
        f"{fabric.title} was chosen for Skirt bottom, right, which this garment does not have: "
        "that is left aside."
    )
    assert told.remedy == (
        "Choose the cloth again in Cut, or take Skirt bottom/right out of the make."
    )
    assert found.assignment == plain.assignment
    assert found.cutting_list == plain.cutting_list


def test_a_copy_that_its_piece_does_not_have(tmp_path: Path) -> None:
    plain = making(tmp_path / "plain", "")
    piece = next(iter(plain.pattern.pieces.values()))
    fabric = plain.file.make.fabrics[0].name
    found = making(tmp_path / "painted", f"copies: {{{piece.name}/upper: {fabric}}}\n")
    (told,) = check_pieces(found.pattern, found.file.make)
    assert told.message.endswith(f"{piece.title}, upper, a copy that it does not have: that is "
                                 "left aside.")  # fmt: skip
    assert told.piece == piece.name


def test_a_make_that_says_nothing_of_others_is_told_nothing(tmp_path: Path) -> None:
    found = making(tmp_path, "")
    assert check_pieces(found.pattern, found.file.make) == ()


@pytest.mark.parametrize("job", ["cut", "check"])
def test_the_command_line_tells_it(tmp_path: Path, job: str) -> None:
    folder = example(SKIRT, tmp_path)
    with (folder / "make.yaml").open("a", encoding="utf-8") as out:
        out.write("copies: {skrt: wool}\n")
    told = clothwise(job, folder / "make.yaml", *(["--seconds", "0"] if job == "cut" else []))
    assert told.code == 0
    assert "was chosen for Skrt" in " ".join(told.text.split())
