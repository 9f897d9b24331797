"""Refusals in words: names of documents become titles, and what only a document needs is left out.

Components say what they miss by the names that a designer writes. Whoever clicks never sees these.
"""

from __future__ import annotations

import re
from functools import cache

from clothwise.components.registry import kinds
from clothwise.pattern.document.design import Design
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.plain_names import edge_of, kind_called, piece_called, plain_name

__all__ = ["in_words"]

_SO_FAR = re.compile(r" \((?:\w+ so far: |[\w-]+ has the points )[^()]*\)")
"""What there is, by its names: a help for who writes a document."""

_NAME = re.compile(
    r"`?-?\b([a-z][a-z0-9]*(?:-[a-z0-9]+)*)(?:\.([a-z][a-z0-9]*(?:-[a-z0-9]+)*))?\b`?"
)

_LISTED = (
    (re.compile(r"\bList (?=(?:it|them)\b)"), "Put "),
    (re.compile(r"\bList "), "Put in "),
    (re.compile(r"\bThe component ([a-z-]+s) needs\b"), r"The \1 need"),
    (re.compile(r"\bThe component (?=[a-z])"), "The "),
    (re.compile(r"\ba component that\b"), "something that"),
    (re.compile(r"\bbefore (?=[a-z-]+\.)"), "before the "),
)
"""How a document is written, and how one says it."""


def in_words(text: str, design: Design, pattern: Pattern | None = None) -> str:
    """A refusal in words.

    Args:
        text: as a component, an edit or a check says it.
        design: whose names stand in it.
        pattern: of it, for the titles of pieces and seams.
    """
    text = _SO_FAR.sub("", text)
    for found, said in _LISTED:
        text = found.sub(said, text)
    return _NAME.sub(lambda match: _said(match, design, pattern), text)


def _said(match: re.Match[str], design: Design, pattern: Pattern | None) -> str:
    name, edge = match[1], match[2]
    piece = pattern.pieces.get(name) if pattern else None
    if piece is not None and edge and edge in piece.edge_names:
        return edge_of(piece, edge)
    if edge:
        return match[0]
    if "-" not in name:
        return match[0]
    if piece is not None:
        return piece_called(piece)
    if pattern and name in pattern.seams:
        return pattern.seams[name].title
    if name in _kinds():
        return kind_called(name)
    if name in {each.name for each in design.entries} or (pattern and _is_line(name, pattern)):
        return plain_name(name)
    return match[0]


def _is_line(name: str, pattern: Pattern) -> bool:
    """Tell whether a run or an edge is called so."""
    return name in pattern.runs or any(
        name in piece.edge_names for piece in pattern.pieces.values()
    )


@cache
def _kinds() -> frozenset[str]:
    return frozenset(kinds())
