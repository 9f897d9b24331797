"""What a make says of pieces that are not there: told in the cut room, and taken out there."""

from __future__ import annotations

from pathlib import Path

from app import cut_room
from app.conftest import Window
from app.cut_room import ROOM, changed
from clothwise.components import read_make
from clothwise.pattern.commands import Command, PaintCopies, SetPins

of_file, window, make_file = cut_room.of_file, cut_room.window, cut_room.make_file
rows_only = cut_room.rows_only
MAKE = "makes/view-a.yaml"


def _written(window: Window, command: Command) -> None:
    history = window.app.state.shop.design("kiln-dress").history  # type: ignore[attr-defined]
    history.commit(history.head, command)


def test_a_cloth_for_a_piece_that_is_gone_is_told_and_taken_out_in_one_step(
    window: Window, make_file: Path
) -> None:
    assert "Take it out" not in window.part(f"{ROOM}/garment")
    _written(window, PaintCopies(MAKE, ("side-panel/left",), "print"))
    part = window.part(f"{ROOM}/garment")
    assert "Rust dot cotton was chosen for Side panel, left, which this garment" in part
    assert "Take it out" in part
    assert "Choose a cloth for the piece that took its place" in part
    changed(window, "take-out", key="side-panel/left")
    assert "Take it out" not in window.part(f"{ROOM}/garment")
    assert not read_make(make_file).make.copies
    window.change("/d/kiln-dress/undo", base=window.head())
    assert read_make(make_file).make.copies == {"side-panel/left": "print"}


def test_a_pin_of_a_piece_that_is_gone_is_taken_out_and_other_pins_stay(
    window: Window, make_file: Path
) -> None:
    pin = {"along": "5mm", "across": "0mm"}
    _written(window, SetPins(MAKE, {"side-panel/left": pin, "belt/left": pin}))
    part = window.part(f"{ROOM}/garment")
    assert "A place was pinned for Side panel, left" in part
    assert "Choose a cloth for the piece" not in part
    changed(window, "take-out", key="side-panel/left")
    assert set(read_make(make_file).make.pins) == {"belt/left"}
    answer = window.change(f"{ROOM}/take-out", key="side-panel/left", base=window.head())
    assert answer.status_code == 422
    assert "it was taken out already" in answer.text


def test_cloth_and_pin_of_a_piece_that_is_gone_are_taken_out_by_one_press(
    window: Window, make_file: Path
) -> None:
    pin = {"along": "5mm", "across": "0mm"}
    _written(window, PaintCopies(MAKE, ("side-panel/left",), "print"))
    _written(window, SetPins(MAKE, {"side-panel/left": pin, "belt/left": pin}))
    assert window.part(f"{ROOM}/garment").count(">Take it out<") == 1
    changed(window, "take-out", key="side-panel/left")
    assert "Take it out" not in window.part(f"{ROOM}/garment")
    make = read_make(make_file).make
    assert not make.copies
    assert set(make.pins) == {"belt/left"}
    assert "side panel left taken out: its cloth and its place" in window.page(
        "/d/kiln-dress/history"
    ).replace("Side panel", "side panel")
    window.change("/d/kiln-dress/undo", base=window.head())
    make = read_make(make_file).make
    assert make.copies == {"side-panel/left": "print"}
    assert set(make.pins) == {"side-panel/left", "belt/left"}
