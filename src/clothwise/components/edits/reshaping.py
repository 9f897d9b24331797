"""An edge drawn anew through places moved outward or inward; its partner follows if asked to."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum
from typing import ClassVar

from clothwise.components.edits.edit import Edit, Editing, cannot, names
from clothwise.components.edits.exchange import exchanged
from clothwise.components.edits.places import edge_named, piece_named
from clothwise.components.parameter import angle, choice, length, text, words
from clothwise.errors import ExpressionError
from clothwise.geometry import Line, Outline, Path, Point, Vector, smooth_through
from clothwise.pattern.expression import parse_expression
from clothwise.pattern.graph import EdgeRef
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Piece
from clothwise.pattern.plain_names import edge_of
from clothwise.pattern.quantity import QuantityKind

KEPT_SHARES = (0.0, 0.5, 1.0)
"""Places through which an edge still runs if nothing is said about it."""


class Partner(Enum):
    """What happens to the edge that is sewn to the one that changes."""

    STAYS = "stays"
    FOLLOWS = "follows"


@dataclass(frozen=True)
class Reshape(Edit):
    """Draws an edge anew: through places moved outward or inward, with its ends slid or turned.

    The new line is a fair curve; where nothing is said it leaves its ends in the directions it had.
    What is sewn to the edge either follows, by the same amounts, or a check says what no longer
    goes together; what is drafted later follows by itself.
    """

    kind: ClassVar[str] = "reshape"

    piece: str = text("", "The piece.")
    edge: str = text("", "The edge.")
    through: str = words(
        "Places and how far they move outward, with commas between them: `30% 5mm, 60% -1cm`."
    )
    start_slides_mm: float = length(
        0, -300, 300, "How far its start slides along the edge before it, toward that edge's start."
    )
    end_slides_mm: float = length(
        0, -300, 300, "How far its end slides along the edge after it, toward that edge's end."
    )
    start_turns_rad: float = angle(0, -1.4, 1.4, "How far its start turns anticlockwise.")
    end_turns_rad: float = angle(0, -1.4, 1.4, "How far its end turns anticlockwise.")
    partner: Partner = choice(
        Partner.STAYS, "Whether the one edge that is sewn to it changes by the same amounts."
    )

    def apply(self, pattern: Pattern, editing: Editing) -> Pattern:
        """Draw the edge anew, and its partner."""
        piece = piece_named(pattern, self.piece)
        if edge_named(piece, self.edge) == piece.fold_edge:
            raise cannot(
                f"the {edge_of(piece, self.edge)} lies on the fold, which is straight",
                what_to_do="Draw both halves first, by `unfold`, or change the component.",
            )
        moves = _moves(self.through)
        drawn = _Drawn(
            piece,
            self.edge,
            moves,
            (self.start_slides_mm, self.end_slides_mm),
            (self.start_turns_rad, self.end_turns_rad),
        )
        changed = exchanged(pattern, drawn.piece())
        if self.partner is Partner.STAYS:
            return changed
        other = _partner(pattern, EdgeRef(piece.name, self.edge))
        if other.reverse:
            moves = {1 - share: by for share, by in moves.items()}
        host = changed.piece(other.piece)
        sliding = self.start_slides_mm, self.end_slides_mm
        turning = self.start_turns_rad, self.end_turns_rad
        if other.reverse:
            # The partner is the mirror image: its start lies at our end and turns the other way.
            sliding, turning = sliding[::-1], (-turning[1], -turning[0])
        followed = _Drawn(host, other.edge, moves, sliding, turning)
        return exchanged(changed, followed.piece())


def _moves(through: str) -> dict[float, float]:
    """Shares of the edge and how far each moves outward, mm."""
    moves: dict[float, float] = {}
    for each in names(through):
        words_of = each.split()
        if len(words_of) != 2 or not words_of[0].endswith("%"):
            raise _unreadable(each)
        try:
            share = float(words_of[0].removesuffix("%")) / 100
            by = parse_expression(words_of[1]).evaluate({}, kind=QuantityKind.LENGTH).value
        except (ValueError, ExpressionError) as error:
            raise _unreadable(each) from error
        if not 0 < share < 1:
            raise cannot(
                f"{words_of[0]} is no place between the ends of an edge",
                what_to_do="Write shares between 0% and 100%; ends are moved by start_slides and "
                "end_slides.",
            )
        moves[share] = by
    return moves


def _unreadable(text: str) -> Exception:
    return cannot(
        f"{text[:40]!r} does not say where and how far",
        what_to_do="Write a share and a length, such as `30% 5mm`, with commas between several.",
    )


def _partner(pattern: Pattern, edge: EdgeRef) -> EdgeRef:
    """The one edge that is sewn to an edge; reversed if it is travelled the other way."""
    found = []
    for seam in pattern.seams.values():
        own = [
            each
            for layer in seam.layers
            for each in layer.run.edges
            if (each.piece, each.edge) == (edge.piece, edge.edge)
        ]
        if not own:
            continue
        others = [layer.run.edges for layer in seam.layers if own[0] not in layer.run.edges]
        if len(own) == 1 and len(others) == 1 and len(others[0]) == 1:
            found.append(replace(others[0][0], reverse=others[0][0].reverse != own[0].reverse))
    if len(found) != 1:
        raise cannot(
            f"the {edge_of(pattern.piece(edge.piece), edge.edge)} is not sewn to just one "
            "other edge, which could follow",
            what_to_do="Leave `partner` out, and reshape what is sewn to it by edits of its own.",
        )
    return found[0]


class _Drawn:
    """A piece with one edge drawn anew."""

    def __init__(
        self,
        piece: Piece,
        edge: str,
        moves: dict[float, float],
        slides: tuple[float, float],
        turns: tuple[float, float],
    ) -> None:
        self._piece, self._edge, self._moves = piece, edge, moves
        self._slides, self._turns = slides, turns
        names_of = piece.edge_names
        number = names_of.index(edge)
        self._before, self._after = names_of[number - 1], names_of[(number + 1) % len(names_of)]

    def piece(self) -> Piece:
        edges = dict(self._piece.outline.edges)
        edges[self._before] = _slid(edges[self._before].reversed(), self._slides[0]).reversed()
        edges[self._after] = _slid(edges[self._after], self._slides[1])
        edges[self._edge] = self._line(edges[self._before].end, edges[self._after].start)
        return replace(self._piece, outline=Outline(edges))

    def _line(self, start: Point, end: Point) -> Path:
        path = self._piece.edge(self._edge)
        is_straight = all(isinstance(each, Line) for each in path.segments)
        shares = sorted({*self._moves, *(KEPT_SHARES if not self._moves else (0.0, 1.0))})
        first, last = start - path.start, end - path.end
        points = []
        for share in shares:
            at = path.point_at(share * path.length)
            outward = -path.tangent_at(share * path.length).left
            carried = first * (1 - share) + last * share
            points.append(at + carried + outward * self._moves.get(share, 0.0))
        turned = any(self._turns)
        if is_straight and not self._moves and not turned:
            return Path((Line(start, end),))
        return smooth_through(
            points,
            start_tangent=self._tangent(path.start_tangent, 0, is_straight),
            end_tangent=self._tangent(path.end_tangent, 1, is_straight),
        )

    def _tangent(self, tangent: Vector, end: int, is_straight: bool) -> Vector | None:
        """The direction at an end; free where a straight line is bent and nothing is said."""
        if self._turns[end]:
            return tangent.turned(self._turns[end])
        return None if is_straight else tangent


def _slid(path: Path, by_mm: float) -> Path:
    """A path whose start slides along it; outward it runs straight on."""
    if by_mm >= path.length - 1.0:
        raise cannot(
            "the end of the edge slides over all of its neighbor",
            how_much=f"{by_mm:.0f} mm of {path.length:.0f} mm",
            what_to_do="Let it slide less.",
        )
    if by_mm > 0:
        return path.part(by_mm, path.length)
    return path.extended(start_mm=-by_mm) if by_mm < 0 else path
