"""Splitting a piece along a line, as for color blocking or a princess seam."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import ClassVar

from shapely.geometry import LineString
from shapely.geometry import Point as Spot

from clothwise.components.edits.edit import Edit, Editing, called, cannot
from clothwise.components.edits.places import dart_key, piece_named, place
from clothwise.components.parameter import Along, along, length, text, words
from clothwise.geometry import Path, Point, cubic_between, straight
from clothwise.pattern.first_letter import raised
from clothwise.pattern.mark import MarkKind
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Piece
from clothwise.pattern.plain_names import edge_of, piece_called, plain_name
from clothwise.pattern.splitting import Split, split_piece

STEEPEST_BEND = 0.45
"""A line bends to the side by at most this share of the distance of its ends; our own choice."""

PAST_DART_MM = 10.0
"""A dart ends at least so far from an edge, as the check DART-POINT has it."""

CLEAR_MM = 0.5
"""A line may run so far over the edge of a placed piece: rounding."""


@dataclass(frozen=True)
class SplitPiece(Edit):
    """Splits a piece along a line from one place on its edges to another, and sews it up again.

    The parts keep their edges' names, so that everything sewn to them stays sewn. A line that ends
    at the point of a dart (name the dart instead of an edge) takes the dart into the new seam.
    """

    kind: ClassVar[str] = "split"
    comes_last: ClassVar[bool] = True

    piece: str = text("", "The piece that is split.")
    from_: str = text("", "The edge, or the dart at whose point, the line begins.")
    from_at: Along = along(0.5, "Where along that edge.")
    to: str = text("", "The edge, or the dart at whose point, the line ends.")
    to_at: Along = along(0.5, "Where along that edge.")
    bend_mm: float = length(
        0, -300, 300, "How far the line bends out to the left, as one goes along it."
    )
    left: str = words("Name of the part to the left of the line; made up if left out.")
    right: str = words("Name of the part to the right of the line; made up if left out.")
    left_title: str = words(
        "How the part to the left is printed; by its own name, or as of the piece, if left out."
    )
    right_title: str = words(
        "How the part to the right is printed; by its own name, or as of the piece, if left out."
    )
    left_role: str = words("Fabric role of the part to the left; as before if left out.")
    right_role: str = words("Fabric role of the part to the right; as before if left out.")
    title: str = words("How the new seam is printed.")
    allowance_mm: float = length(
        0, 0, 40, "Allowance of the new seam; the design's own if it is 0."
    )

    def apply(self, pattern: Pattern, editing: Editing) -> Pattern:
        """Split the piece."""
        piece = piece_named(pattern, self.piece)
        _refuse_legs(piece, (self.from_, self.to))
        start = place(piece, self.from_, self.from_at)
        end = place(piece, self.to, self.to_at)
        left = self.left or f"{piece.name}-{editing.name}"
        right = self.right or piece.name
        _refuse_unfit_names(left, right)
        roles = {left: self.left_role, right: self.right_role}
        taken = {each.title for each in pattern.pieces.values() if each is not piece}
        line = bent_line(start, end, self.bend_mm)
        _refuse_across_placed(pattern, piece, line)
        _refuse_closures(piece, line)
        _refuse_past_darts(piece, line, (self.from_, self.to))
        return split_piece(
            pattern,
            Split(
                name=editing.name,
                piece=piece.name,
                line=line,
                left=(left, self.left_title or self._part(piece, left, editing, taken)),
                right=(right, self.right_title or self._part(piece, right, editing, taken)),
                title=self.title or self._seam(piece, editing),
                allowance_mm=self.allowance_mm or editing.seam_allowance_mm,
                roles={name: editing.role(role) for name, role in roles.items() if role},
            ),
        )

    def _part(self, piece: Piece, name: str, editing: Editing, taken: set[str]) -> str:
        """How a part is printed if nobody says: by a name of its own alone, else as of its piece.

        A name of its own does not begin with that of the piece, and no other piece is printed so.
        """
        if name == piece.name:
            return piece.title
        alone = raised(plain_name(name))
        if not name.startswith(f"{piece.name}-") and alone not in taken:
            return alone
        own = name.removeprefix(f"{piece.name}-")
        return f"{piece.title}, {called(self.kind, own or editing.name, 'panel')}"

    def _seam(self, piece: Piece, editing: Editing) -> str:
        """How the seam is printed if nobody says."""
        words = called(self.kind, editing.name, "panel")
        is_named = words == plain_name(editing.name)
        return f"{words} seam" if is_named else f"{words} seam of the {piece_called(piece)}"


def bent_line(start: Point, end: Point, bend_mm: float) -> Path:
    """A straight line, or one that bends out to its left by `bend_mm`.

    Raises:
        ComponentError: the ends are one place, or it would bend too far.
    """
    chord = end - start
    if chord.length < 1.0:
        raise cannot(
            "the line has no length: it ends where it begins",
            what_to_do="Give its ends different places.",
        )
    if abs(bend_mm) > STEEPEST_BEND * chord.length:
        raise cannot(
            "the line bends too far",
            how_much=f"{abs(bend_mm):.0f} mm to the side on {chord.length:.0f} mm, at most "
            f"{STEEPEST_BEND * chord.length:.0f} mm",
            what_to_do="Lower bend.",
        )
    if abs(bend_mm) < 0.05:
        return straight(start, end)
    # The chord of a circle and its height give half the angle that the circle turns by.
    half_turn = 2 * math.atan2(2 * bend_mm, chord.length)
    return cubic_between(start, chord.unit.turned(half_turn), end, chord.unit.turned(-half_turn))


def _refuse_unfit_names(*parts: str) -> None:
    """Refuse names that documents could not tell from a copy, an edge or a list of names.

    Raises:
        ComponentError: a name has a slash, a comma or a point in it, or begins with a hyphen.
    """
    for name in parts:
        if name.startswith("-") or not set("/,.").isdisjoint(name):
            raise cannot(
                f"{name[:40]!r} cannot be the short name of a part",
                what_to_do="Leave out slashes, commas, points and a hyphen at its start. What is "
                "printed may have them: write that as its title.",
            )


def _refuse_legs(piece: Piece, ends: tuple[str, str]) -> None:
    """Refuse a line from or to a leg of a dart, which would leave half a dart on each part.

    Raises:
        ComponentError: an end names a leg.
    """
    for name in ends:
        dart = piece.dart_of_leg(name)
        if dart is not None:
            raise cannot(
                f"the {edge_of(piece, name)} is a leg of the {dart.name}",
                what_to_do=f"Name the dart ({dart_key(dart)}), whose point the line then meets, or "
                "an edge.",
            )


def _refuse_across_placed(pattern: Pattern, piece: Piece, line: Path) -> None:
    """Refuse a line across what is laid on the piece.

    Raises:
        ComponentError: it would divide a placed piece.
    """
    way = LineString([(point.x, point.y) for point in line.flattened()])
    for placement in pattern.placements.values():
        if placement.host != piece.name:
            continue
        laid = pattern.laid_piece(placement).outline.transformed(placement.onto).polygon
        if way.intersection(laid.buffer(-CLEAR_MM)).length > 0:
            raise cannot(
                f"the line runs across the {piece_called(pattern.piece(placement.piece))}",
                how_much=f"which is laid on the {piece_called(piece)}",
                what_to_do="Lead the line past it, or place it elsewhere.",
            )


def _refuse_closures(piece: Piece, line: Path) -> None:
    """Refuse a line through a button or a buttonhole.

    Raises:
        ComponentError: it is nearer to one than half of a button.
    """
    way = LineString([(point.x, point.y) for point in line.flattened()])
    for mark in piece.marks:
        if mark.kind is MarkKind.BUTTON and mark.at is not None:
            off = way.distance(Spot(mark.at.x, mark.at.y)) - mark.size_mm / 2
        elif mark.kind is MarkKind.BUTTONHOLE and mark.path is not None:
            off = way.distance(LineString([(p.x, p.y) for p in mark.path.flattened()])) - CLEAR_MM
        else:
            continue
        if off < 0:
            raise cannot(
                f"the line runs through a {mark.kind.value} of the {piece_called(piece)}",
                what_to_do="Lead it between two of them.",
            )


def _refuse_past_darts(piece: Piece, line: Path, ends: tuple[str, str]) -> None:
    """Refuse a line close past the point of a dart that it does not end at.

    Raises:
        ComponentError: it is nearer than a dart may end to an edge.
    """
    way = LineString([(point.x, point.y) for point in line.flattened()])
    for dart in piece.darts:
        if not {dart.name, dart_key(dart)}.isdisjoint(ends):
            continue
        apex = piece.apex(dart)
        off = way.distance(Spot(apex.x, apex.y))
        if off < PAST_DART_MM:
            raise cannot(
                f"the line runs close past the point of the {dart.name} of the "
                f"{piece_called(piece)}",
                how_much=f"{off:.1f} mm, at least {PAST_DART_MM:.0f} mm",
                what_to_do=f"Let it end at the dart, by its name ({dart_key(dart)}), or move it.",
            )
