"""Random edits for any pattern: every kind, with names that the pattern has, or once had."""

from __future__ import annotations

import random
from collections.abc import Callable

from clothwise.components.edits.places import dart_key
from clothwise.components.edits.registry import edit_kinds
from clothwise.pattern import Pattern, Piece, Side

__all__ = ["random_edit"]

Words = dict[str, str]


def random_edit(dice: random.Random, pattern: Pattern, kind: str = "") -> tuple[str, Words]:
    """An edit of a kind, of any if none is named, and its parameters for this pattern."""
    kind = kind or dice.choice(edit_kinds())
    return kind, _MAKERS[kind](dice, pattern)


def _piece(dice: random.Random, pattern: Pattern) -> Piece:
    return pattern.piece(dice.choice(list(pattern.pieces)))


def _with_dart(dice: random.Random, pattern: Pattern) -> Piece:
    with_darts = [piece for piece in pattern.pieces.values() if piece.darts]
    return dice.choice(with_darts) if with_darts else _piece(dice, pattern)


def _edge(dice: random.Random, piece: Piece) -> str:
    return dice.choice(piece.edge_names)


def _dart(dice: random.Random, piece: Piece) -> str:
    return dart_key(dice.choice(piece.darts)) if piece.darts else "bust-dart"


def _seam(dice: random.Random, pattern: Pattern) -> str:
    return dice.choice(list(pattern.seams))


def _mm(dice: random.Random, low: int, high: int) -> str:
    return f"{dice.randint(low, high)}mm"


def _at(dice: random.Random) -> str:
    return dice.choice((f"{dice.randint(5, 95)}%", _mm(dice, 20, 120), f"-{_mm(dice, 20, 120)}"))


def _split(dice: random.Random, pattern: Pattern) -> Words:
    piece = _piece(dice, pattern)
    start = _dart(dice, piece) if piece.darts and dice.random() < 0.3 else _edge(dice, piece)
    words = {"piece": piece.name, "from": start, "to": _edge(dice, piece)}
    words |= {"from_at": _at(dice), "to_at": _at(dice)}
    if dice.random() < 0.4:
        words["bend"] = _mm(dice, -40, 40)
    if dice.random() < 0.5:
        words["left"] = f"{piece.name}-part"
    return words


def _move_dart(dice: random.Random, pattern: Pattern) -> Words:
    piece = _with_dart(dice, pattern)
    words = {"piece": piece.name, "dart": _dart(dice, piece), "to": _edge(dice, piece)}
    words["to_at"] = _at(dice)
    if dice.random() < 0.4:
        words["share"] = f"{dice.uniform(0.2, 1):.2f}"
    return words


def _merge_darts(dice: random.Random, pattern: Pattern) -> Words:
    several = [piece for piece in pattern.pieces.values() if len(piece.darts) > 1]
    piece = dice.choice(several) if several else _piece(dice, pattern)
    return {"piece": piece.name, "dart": _dart(dice, piece), "into": _dart(dice, piece)}


def _dart_to(dice: random.Random, pattern: Pattern) -> Words:
    piece = _with_dart(dice, pattern)
    into = dice.choice(("gathers", "ease", "tuck"))
    return {"piece": piece.name, "dart": _dart(dice, piece), "into": into}


def _dart_point(dice: random.Random, pattern: Pattern) -> Words:
    piece = _with_dart(dice, pattern)
    return {"piece": piece.name, "dart": _dart(dice, piece), "by": _mm(dice, -30, 20)}


def _spread(dice: random.Random, pattern: Pattern) -> Words:
    piece = _piece(dice, pattern)
    words = {"piece": piece.name, "open": _edge(dice, piece), "hinge": _edge(dice, piece)}
    words["by"] = _mm(dice, 10, 150)
    if dice.random() < 0.4:
        words["hinge_by"] = _mm(dice, 10, 100)
    return words


def _lengthen(dice: random.Random, pattern: Pattern) -> Words:
    piece = _piece(dice, pattern)
    words = {"pieces": piece.name, "edge": _edge(dice, piece), "at": _at(dice)}
    return {**words, "by": _mm(dice, -40, 80)}


def _reshape(dice: random.Random, pattern: Pattern) -> Words:
    piece = _piece(dice, pattern)
    words = {"piece": piece.name, "edge": _edge(dice, piece)}
    if dice.random() < 0.7:
        words["through"] = f"{dice.randint(20, 80)}% {dice.randint(-8, 8)}mm"
    if dice.random() < 0.3:
        words["end_slides"] = _mm(dice, -10, 10)
    words["partner"] = dice.choice(("stays", "follows"))
    return words


def _pieces(dice: random.Random, pattern: Pattern) -> Words:
    pairs = [p.name for p in pattern.pieces.values() if {c.side for c in p.copies} > {Side.LEFT}]
    return {"pieces": dice.choice(pairs or list(pattern.pieces))}


def _unfold(dice: random.Random, pattern: Pattern) -> Words:
    folded = [piece.name for piece in pattern.pieces.values() if piece.fold_edge]
    return {"piece": dice.choice(folded or list(pattern.pieces))}


def _fold(dice: random.Random, pattern: Pattern) -> Words:
    sided = [p.name for p in pattern.pieces.values() if "hem-left" in p.edge_names]
    return {"piece": dice.choice(sided or list(pattern.pieces))}


def _casing(dice: random.Random, pattern: Pattern) -> Words:
    piece = _piece(dice, pattern)
    hemmed = [edge for edge in piece.edge_names if "hem" in edge or "inner" in edge]
    edge = dice.choice(hemmed) if hemmed and dice.random() < 0.7 else _edge(dice, piece)
    words = {"piece": piece.name, "edge": edge, "width": _mm(dice, 5, 30)}
    words["draws"] = dice.choice(("elastic", "drawstring"))
    if edge not in hemmed:
        return {**words, "where": "across", "at": _at(dice)}
    made = dice.choice(("grown-on", "strip"))
    return {**words, "made": made}


def _slit(dice: random.Random, pattern: Pattern) -> Words:
    end = dice.choice(("start", "end"))
    return {"seam": _seam(dice, pattern), "end": end, "length": _mm(dice, 30, 250)}


def _vent(dice: random.Random, pattern: Pattern) -> Words:
    words = {"seam": _seam(dice, pattern), "length": _mm(dice, 60, 250)}
    return {**words, "corner": dice.choice(("folded", "mitred"))}


def _allowance(dice: random.Random, pattern: Pattern) -> Words:
    return {"seam": _seam(dice, pattern), "by": _mm(dice, 5, 25)}


def _finish(dice: random.Random, pattern: Pattern) -> Words:
    if dice.random() < 0.6:
        seamed = ("overlocked open", "overlocked together", "French", "flat-felled", "bound")
        return {"seam": _seam(dice, pattern), "as": dice.choice(seamed)}
    hem = dice.choice(list(pattern.finishes.values())).run.edges[0]
    edged = ("single hem", "double hem", "rolled hem", "bound", "overlocked")
    return {"piece": hem.piece, "edge": hem.edge, "as": dice.choice(edged)}


def _fabric(dice: random.Random, pattern: Pattern) -> Words:
    return {"copies": _piece(dice, pattern).name, "role": "main"}


def _grain(dice: random.Random, pattern: Pattern) -> Words:
    return {"pieces": _piece(dice, pattern).name, "by": dice.choice(("45deg", "-45deg", "90deg"))}


def _notch(dice: random.Random, pattern: Pattern) -> Words:
    piece = _piece(dice, pattern)
    return {"piece": piece.name, "edge": _edge(dice, piece), "at": _at(dice)}


def _mark(dice: random.Random, pattern: Pattern) -> Words:
    piece = _piece(dice, pattern)
    what = dice.choice(("dot", "drill-hole", "placement-line", "fold-line", "stitching-line"))
    words = {"piece": piece.name, "what": what, "edge": _edge(dice, piece), "at": _at(dice)}
    words |= {"inside": _mm(dice, 5, 60), "to_edge": _edge(dice, piece)}
    return words if what in ("dot", "drill-hole") else {**words, "to_inside": _mm(dice, 5, 60)}


def _text(dice: random.Random, pattern: Pattern) -> Words:
    piece = _piece(dice, pattern)
    words = {"piece": piece.name, "edge": _edge(dice, piece), "at": _at(dice), "words": "number 7"}
    return {**words, "inside": _mm(dice, 5, 60)}


def _narrower(dice: random.Random, pattern: Pattern) -> Words:
    return {"under": dice.choice(("left", "right")), "overlap": _mm(dice, 12, 25)}


def _join(dice: random.Random, pattern: Pattern) -> Words:
    parted = [name for name in pattern.seams if "edit-" in name]
    return {"seam": dice.choice(parted or list(pattern.seams))}


_MAKERS: dict[str, Callable[[random.Random, Pattern], Words]] = {
    "split": _split,
    "move-dart": _move_dart,
    "merge-darts": _merge_darts,
    "dart-to": _dart_to,
    "dart-point": _dart_point,
    "spread": _spread,
    "lengthen": _lengthen,
    "reshape": _reshape,
    "join": _join,
    "asymmetric": _pieces,
    "unfold": _unfold,
    "fold": _fold,
    "casing": _casing,
    "slit": _slit,
    "vent": _vent,
    "allowance": _allowance,
    "finish": _finish,
    "fabric": _fabric,
    "grain": _grain,
    "notch": _notch,
    "mark": _mark,
    "text": _text,
    "narrower-under-front": _narrower,
}
