"""The grade table names every corner and tells how it moves from an origin that stays."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwise.pattern import Pattern
from clothwise.sizing.grade_table import grade_table
from clothwise.sizing.measurement_sheet import letter_of
from sizing.graded import VIEWS, sizes_of

A = ("kiln-dress", "A")


@pytest.mark.parametrize(("name", "view"), VIEWS)
def test_every_corner_and_point_has_a_name_of_its_own(name: str, view: str) -> None:
    patterns = sizes_of(name, view)
    table = grade_table(patterns)
    assert [piece.piece for piece in table.pieces] == list(patterns[0].pieces)
    for graded in table.pieces:
        piece = patterns[0].pieces[graded.piece]
        names = [point.name for point in graded.points]
        assert len(set(names)) == len(names) >= len(piece.edge_names)
        assert all(point in " ".join(names) for point in piece.points)


@pytest.mark.parametrize(("name", "view"), VIEWS)
def test_the_origin_stays_and_distances_are_those_of_the_pieces(name: str, view: str) -> None:
    """Whatever the origin, two corners of one size are as far apart as on the piece."""
    patterns = sizes_of(name, view)
    for graded in grade_table(patterns).pieces:
        origin = graded.point(graded.origin)
        assert all(move is not None and move.length < 0.02 for move in origin.moves)
        for at, pattern in enumerate(patterns):
            piece = pattern.pieces[graded.piece]
            first, second = (piece.edge(edge).start for edge in piece.edge_names[:2])
            one, other = (point.places[at] for point in graded.points[:2])
            assert one is not None
            assert other is not None
            assert one.distance(other) == pytest.approx(first.distance(second))


def test_origins_are_where_a_pattern_cutter_would_put_them() -> None:
    table = grade_table(sizes_of(*A))
    origins = {piece.piece: piece.origin for piece in table.pieces}
    assert origins["bodice-front"] == "center front waist"
    assert origins["bodice-back"] == "center / waist center"
    assert origins["sleeve"] == "cap top"


def test_corners_are_called_by_what_meets_there() -> None:
    front = grade_table(sizes_of(*A)).piece("bodice-front")
    names = {point.name for point in front.points}
    assert {"waist dart, tip", "waist dart, at waist side", "waist side / side lower"} <= names
    assert "underarm (side upper / armhole)" in names
    with pytest.raises(KeyError):
        front.point("nowhere")


def test_steps_of_four_centimeters_move_the_side_by_one() -> None:
    """A quarter of the girth step (check value G01), and a step of 6 cm moves it by 1.5 cm."""
    side = grade_table(sizes_of(*A)).piece("bodice-back").point("underarm (side / armhole)")
    across = [move.x for move in side.moves if move is not None]
    assert across == pytest.approx([10.0] * 6 + [15.0] * 3, abs=0.05)


def test_a_piece_that_some_sizes_lack_has_places_only_there() -> None:
    patterns = list(sizes_of(*A)[:3])

    def without(pattern: Pattern, name: str) -> Pattern:
        return replace(pattern, pieces={k: v for k, v in pattern.pieces.items() if k != name})

    patterns[1] = without(patterns[1], "pocket")
    pocket = grade_table(patterns).piece("pocket")
    assert all(point.places[1] is None for point in pocket.points)
    assert all(point.moves == (None, None) for point in pocket.points)


def test_letters_go_on_after_z() -> None:
    assert [letter_of(n) for n in (0, 25, 26, 27, 701, 702)] == ["A", "Z", "AA", "AB", "ZZ", "AAA"]
