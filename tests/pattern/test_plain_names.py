"""Names of a document as they stand in sentences: pieces by their titles, edges in words."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from clothwise.components import read_design
from clothwise.pattern import Piece
from clothwise.pattern.plain_names import edge_called, edge_of, piece_called

DRESS = Path(__file__).parents[2] / "examples" / "kiln-dress"


@cache
def piece(name: str) -> Piece:
    return read_design(DRESS).draft(view="A").piece(name)


@pytest.mark.parametrize(
    ("edge", "words"),
    [
        ("front-edge", "front edge"),
        ("waist-dart-in", "first leg of the waist dart"),
        ("bust-dart-out", "second leg of the bust dart"),
        ("shoulder-1", "first part of the shoulder"),
        ("shoulder-2", "second part of the shoulder"),
        ("shoulder-99", "shoulder 99"),
    ],
)
def test_an_edge_in_words(edge: str, words: str) -> None:
    assert edge_called(piece("bodice-front"), edge) == words


def test_an_edge_with_its_piece_stands_in_a_sentence() -> None:
    assert piece_called(piece("bodice-front")) == "bodice front"
    assert edge_of(piece("bodice-front"), "front-edge") == "front edge of the bodice front"
