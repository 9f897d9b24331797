"""How the names of a document stand in a sentence: pieces by their titles, edges in words."""

from __future__ import annotations

import re

from clothwise.pattern.first_letter import lowered
from clothwise.pattern.piece import Piece

__all__ = ["edge_called", "edge_of", "kind_called", "lost_called", "piece_called", "plain_name"]

_COMPOUNDS = ("a-line", "double-breasted", "in-seam", "off-shoulder", "set-in", "two-piece")
"""Keep their hyphen in words."""

_PART = re.compile(r"(.+) (\d+)")
_ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth")


def plain_name(name: str) -> str:
    """A name as it is written in sentences.

    >>> plain_name("hip_ease"), plain_name("tie-belt")
    ('hip ease', 'tie belt')
    """
    return name.replace("_", " ").replace("-", " ")


def kind_called(kind: str) -> str:
    """A kind of component as it is called: as its name, but that some words keep their hyphen.

    >>> kind_called("a-line-skirt"), kind_called("in-seam-pocket"), kind_called("hooks-and-eyes")
    ('A-line skirt', 'in-seam pocket', 'hooks and eyes')
    """
    for compound in _COMPOUNDS:
        if kind.startswith(f"{compound}-"):
            return f"{compound.replace('a-', 'A-')} {plain_name(kind[len(compound) + 1 :])}"
    return plain_name(kind)


def lost_called(lost: str) -> str:
    """What goes with something else, inside a sentence.

    >>> lost_called("limit skirt_length"), lost_called("edit cut-front")
    ('the limit of skirt length', 'the edit cut front')
    """
    what, _, name = lost.partition(" ")
    return (
        f"the limit of {plain_name(name)}" if what == "limit" else f"the {what} {plain_name(name)}"
    )


def piece_called(piece: Piece) -> str:
    """A piece inside a sentence: `bodice front`."""
    return lowered(piece.title)


def edge_called(piece: Piece, edge: str) -> str:
    """An edge of a piece inside a sentence: `waist side`, or `first leg of the waist dart`.

    What an edit has cut into parts is counted: `first part of the shoulder`.
    """
    dart = piece.dart_of_leg(edge)
    if dart is not None:
        return f"{'first' if edge == dart.leg_in else 'second'} leg of the {dart.name}"
    words = plain_name(edge)
    part = _PART.fullmatch(words)
    if part is None or not 1 <= int(part[2]) <= len(_ORDINALS):
        return words
    return f"{_ORDINALS[int(part[2]) - 1]} part of the {part[1]}"


def edge_of(piece: Piece, edge: str) -> str:
    """An edge with its piece inside a sentence: `waist side of the bodice front`."""
    return f"{edge_called(piece, edge)} of the {piece_called(piece)}"
