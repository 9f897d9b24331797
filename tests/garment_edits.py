"""Sensible edits of a garment, drawn at random: what a designer would do with its pieces.

`random_edits` has those of every kind, sensible or not.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator

from shapely import LineString, Point

from clothwise.geometry import Path
from clothwise.pattern import EdgeRef, Pattern, Piece, Seam
from clothwise.pattern.document import EditEntry

__all__ = ["garment_edits"]

_Entry = tuple[str, dict[str, str]]

TRIES = 8
CLEAR_MM = 25.0
"""A sensible line keeps this clear of darts, buttons, pockets, notches and corners."""

DART_EDGES = ("side", "shoulder", "armhole", "waist", "hem", "yoke", "panel")
"""Edges, by how their names begin, that darts are moved to."""

BODY_WORDS = ("front", "back", "sleeve", "skirt")
"""Words in the titles of the pieces that a designer would edit."""


def garment_edits(
    drawn: random.Random, pattern: Pattern, roles: tuple[str, ...], number: int
) -> Iterator[EditEntry]:
    """So many edits, each of what the components drafted."""
    drawing = _Drawing(drawn, pattern, roles)
    for each in range(1, number + 1):
        yield EditEntry(f"edit-{each}", *drawing.entry())


class _Drawing:
    def __init__(self, drawn: random.Random, pattern: Pattern, roles: tuple[str, ...]) -> None:
        self._drawn, self._pattern, self._roles = drawn, pattern, roles
        self._pieces = [
            piece
            for piece in pattern.pieces.values()
            if any(word in piece.title.lower() for word in BODY_WORDS)
            and "facing" not in piece.title.lower()
        ] or list(pattern.pieces.values())

    def entry(self) -> _Entry:
        ways: tuple[Callable[[], _Entry], ...] = (
            self._split,
            self._split,
            self._allowance,
            self._fabric,
            self._fabric,
            self._asymmetric,
            self._notch,
            self._mark,
            self._dart,
            self._lengthen,
            self._spread,
            self._slit,
            self._vent,
            self._casing,
            self._finish,
            self._text,
            self._unfold,
        )
        return self._drawn.choice(ways)()

    def _split(self) -> _Entry:
        """A line that is clear of what lies on the piece, if some tries find one."""
        for _ in range(TRIES):
            piece = self._piece()
            start, end = self._drawn.sample(self._edges(piece), 2)
            shares = self._share(start), self._share(end)
            if self._is_clear(piece, *zip((start, end), map(float, shares), strict=True)):
                at = {"from": start, "from_at": shares[0], "to": end, "to_at": shares[1]}
                role = self._drawn.choice(self._roles)
                return "split", {"piece": piece.name, **at, "left_role": role}
        return self._fabric()

    def _is_clear(self, piece: Piece, *ends: tuple[str, float]) -> bool:
        """Whether a line keeps clear of darts, marks, pockets, corners and matches."""
        paths = [(piece.edge(edge), share) for edge, share in ends]
        line = LineString([(at.x, at.y) for at in (p.point_at(s * p.length) for p, s in paths)])
        things = [_line(mark.path) for mark in piece.marks if mark.path is not None]
        things += [Point(mark.at.x, mark.at.y) for mark in piece.marks if mark.at is not None]
        apexes = map(piece.apex, piece.darts)
        things += [Point(apex.x, apex.y) for apex in apexes]
        near = any(thing.distance(line) < CLEAR_MM for thing in things)
        return not near and all(
            self._is_free(piece, edge, share * piece.edge(edge).length) for edge, share in ends
        )

    def _is_free(self, piece: Piece, edge: str, at_mm: float) -> bool:
        """Whether nothing is matched near a place of an edge, and it is no corner."""
        if not CLEAR_MM < at_mm < piece.edge(edge).length - CLEAR_MM:
            return False
        for use in self._pattern.uses_of(piece.name, edge):
            if not isinstance(use, Seam):
                continue
            for number, layer in enumerate(use.layers):
                along = self._pattern.along(layer.run, EdgeRef(piece.name, edge), at_mm)
                places = [match.at_mm[number] for match in use.matches]
                if along is not None and any(
                    place is not None and abs(place - along) < CLEAR_MM for place in places
                ):
                    return False
        return True

    def _allowance(self) -> _Entry:
        return "allowance", {"seam": self._seam(), "by": self._mm(8, 16)}

    def _fabric(self) -> _Entry:
        piece = self._drawn.choice(list(self._pattern.pieces.values()))
        shell = [copy.name for copy in piece.copies if copy.role != "interfacing"]
        copies = f"{piece.name}/{self._drawn.choice(shell)}" if shell else piece.name
        return "fabric", {"copies": copies, "role": self._drawn.choice(self._roles)}

    def _asymmetric(self) -> _Entry:
        return "asymmetric", {"pieces": self._piece().name}

    def _notch(self) -> _Entry:
        piece = self._piece()
        edge = self._drawn.choice(self._edges(piece))
        return "notch", {"piece": piece.name, "edge": edge, "at": self._share(edge)}

    def _mark(self) -> _Entry:
        piece = self._piece()
        edge = self._drawn.choice(self._edges(piece))
        at = {"at": self._share(edge), "inside": self._mm(10, 40)}
        return "mark", {"piece": piece.name, "edge": edge, **at}

    def _dart(self) -> _Entry:
        darted = [piece for piece in self._pieces if piece.darts]
        if not darted:
            return self._fabric()
        piece = self._drawn.choice(darted)
        dart = {"piece": piece.name, "dart": self._drawn.choice(piece.darts).name}
        way = self._drawn.choice(("dart-to", "dart-point", "move-dart"))
        if way == "dart-to":
            return way, {**dart, "into": self._drawn.choice(("gathers", "ease", "tuck"))}
        if way == "dart-point":
            return way, {**dart, "by": self._mm(-30, 10)}
        edges = [edge for edge in self._edges(piece) if edge.startswith(DART_EDGES)]
        to = self._drawn.choice(edges)
        return way, {**dart, "to": to, "to_at": self._share(to)}

    def _lengthen(self) -> _Entry:
        """All pieces of a bodice, a skirt or a sleeve, at one line."""
        component = self._piece().component
        pieces = [piece for piece in self._pieces if piece.component == component]
        edges = [edge for edge in self._edges(pieces[0]) if edge in ("side", "center")]
        if not edges:
            return self._fabric()
        at = {"edge": self._drawn.choice(edges), "at": self._share(""), "by": self._mm(-20, 40)}
        return "lengthen", {"pieces": ", ".join(piece.name for piece in pieces), **at}

    def _spread(self) -> _Entry:
        flaring = [piece for piece in self._pieces if {"hem", "waist"} <= set(self._edges(piece))]
        if not flaring:
            return self._fabric()
        piece = self._drawn.choice(flaring).name
        return "spread", {"piece": piece, "open": "hem", "hinge": "waist", "by": self._mm(20, 120)}

    def _slit(self) -> _Entry:
        return "slit", {"seam": self._seam(), "length": self._mm(60, 160)}

    def _vent(self) -> _Entry:
        sides = [name for name in sorted(self._pattern.seams) if "side" in name or "back" in name]
        if not sides:
            return self._fabric()
        return "vent", {"seam": self._drawn.choice(sides), "length": self._mm(100, 220)}

    def _casing(self) -> _Entry:
        piece = self._piece()
        edge = self._drawn.choice(self._edges(piece))
        where = self._drawn.choice(("edge", "across"))
        draws = self._drawn.choice(("elastic", "drawstring"))
        return "casing", {"piece": piece.name, "edge": edge, "where": where, "draws": draws}

    def _finish(self) -> _Entry:
        how = ("overlocked open", "overlocked together", "French", "flat-felled", "bound")
        return "finish", {"seam": self._seam(), "as": self._drawn.choice(how)}

    def _text(self) -> _Entry:
        piece = self._piece()
        edge = self._drawn.choice(self._edges(piece))
        return "text", {"piece": piece.name, "words": "this way up", "edge": edge}

    def _unfold(self) -> _Entry:
        folded = [piece for piece in self._pieces if piece.fold_edge is not None]
        if not folded:
            return self._asymmetric()
        return "unfold", {"piece": self._drawn.choice(folded).name}

    def _piece(self) -> Piece:
        return self._drawn.choice(self._pieces)

    def _seam(self) -> str:
        return self._drawn.choice(sorted(self._pattern.seams))

    def _edges(self, piece: Piece) -> list[str]:
        return [edge for edge in piece.edge_names if piece.dart_of_leg(edge) is None]

    def _share(self, edge: str) -> str:
        """A place along an edge; of a sleeve's cap one that is clear of the shoulder."""
        low, high = (0.2, 0.4) if edge == "cap" else (0.25, 0.75)
        return f"{self._drawn.uniform(low, high):.3f}"

    def _mm(self, low: float, high: float) -> str:
        return f"{self._drawn.uniform(low, high):.1f}mm"


def _line(path: Path) -> LineString:
    return LineString([(point.x, point.y) for point in path.flattened()])
