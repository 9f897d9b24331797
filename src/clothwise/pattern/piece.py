"""Pieces: one drafted shape, its darts, grain, marks and the copies that are cut of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import Enum

from clothwise.geometry import Outline, Path, Point, Transform
from clothwise.pattern.mark import Mark
from clothwise.units import format_inches, format_mm


class Side(Enum):
    """Which side of the wearer a copy is for; `CENTER` goes across the middle."""

    LEFT = "left"
    RIGHT = "right"
    CENTER = "center"


class Ply(Enum):
    """The layer of cloth a copy belongs to."""

    SHELL = "shell"
    LINING = "lining"
    INTERFACING = "interfacing"


class CutTo(Enum):
    """Whether a copy is cut with its allowances or to the stitching line (F13)."""

    CUTTING_LINE = "cutting line"
    STITCHING_LINE = "stitching line"


@dataclass(frozen=True)
class Copy:
    """One cut instance of a piece.

    `mirrored` means cut with the drawn face down. `role` is the fabric role it is cut from. A copy
    cut to the stitching line may reach `beyond_mm` over it, or less than none stay inside.
    """

    name: str
    side: Side
    role: str
    mirrored: bool = False
    ply: Ply = Ply.SHELL
    to: CutTo = CutTo.CUTTING_LINE
    beyond_mm: float = 0.0

    @property
    def cut_along(self) -> str:
        """The line it is cut along, in words: `5 mm (3/16 in) beyond the stitching line`."""
        if self.to is CutTo.CUTTING_LINE or not self.beyond_mm:
            return self.to.value
        away = abs(self.beyond_mm)
        side = "beyond" if self.beyond_mm > 0 else "inside"
        inches = format_inches(away, denominator=16)
        return f"{format_mm(away)} ({inches}) {side} the {self.to.value}"


class PressedToward(Enum):
    """The side of its mouth a closed dart lies on, by the order of the piece's edges."""

    BEFORE = "before"
    AFTER = "after"


@dataclass(frozen=True)
class Dart:
    """A dart of an outline: two neighboring edges that are sewn to each other.

    `leg_in` runs from the mouth to the apex, `leg_out` from the apex back to the mouth; both are
    edges of the outline.
    """

    name: str
    leg_in: str
    leg_out: str
    pressed: PressedToward


@dataclass(frozen=True)
class Grainline:
    """The direction of the warp on a piece, drawn from `start` to `end`."""

    start: Point
    end: Point


_ALONG = 1e-3
"""Sine of the angle between two directions that are one."""


@dataclass(frozen=True)
class Piece:
    """One shape to be cut, on its stitching line.

    `name` is the identifier; `title` is what is printed. `fold_edge` lies on the fold of the
    cloth: the outline is then half the piece. `drawn_side` tells which side of the wearer the
    shape is drawn for. `allowances` override, per edge in mm, what its seam or finish asks.
    `points` are places other components may refer to (bust point, center front at waist). Parts
    of a split piece have their places in common, and the name of what they were as `part_of`.
    """

    name: str
    title: str
    outline: Outline
    grain: Grainline
    copies: tuple[Copy, ...]
    component: str = ""
    drawn_side: Side = Side.LEFT
    fold_edge: str | None = None
    darts: tuple[Dart, ...] = ()
    marks: tuple[Mark, ...] = ()
    allowances: Mapping[str, float] = field(default_factory=dict)
    points: Mapping[str, Point] = field(default_factory=dict)
    part_of: str = ""

    def edge(self, name: str) -> Path:
        """The path of an edge, in the direction of the outline.

        Raises:
            KeyError: the piece has no such edge.
        """
        return self.outline.edges[name]

    def apex(self, dart: Dart) -> Point:
        """The point of a dart."""
        return self.edge(dart.leg_in).end

    @property
    def edge_names(self) -> tuple[str, ...]:
        """Edge names in order of travel."""
        return tuple(self.outline.edges)

    def edge_after(self, name: str) -> str:
        """The edge that begins where an edge ends."""
        names = self.edge_names
        return names[(names.index(name) + 1) % len(names)]

    def edge_before(self, name: str) -> str:
        """The edge that ends where an edge begins."""
        names = self.edge_names
        return names[names.index(name) - 1]

    def dart_of_leg(self, edge: str) -> Dart | None:
        """The dart that `edge` is a leg of, if any."""
        for dart in self.darts:
            if edge in (dart.leg_in, dart.leg_out):
                return dart
        return None

    @property
    def lies_on_fold(self) -> bool:
        """Whether it is a half whose fold edge may lie on a fold of the cloth: with the grain.

        A half whose grain runs another way, such as a band or a collar on the bias, is traced on
        both sides of its fold edge and cut from a single layer.
        """
        if self.fold_edge is None:
            return False
        fold = self.edge(self.fold_edge).start_tangent
        return abs(fold.cross((self.grain.end - self.grain.start).unit)) < _ALONG

    def fold_mirror(self) -> Transform:
        """The mirroring in the fold edge.

        Raises:
            ValueError: the piece is not cut on the fold.
        """
        if self.fold_edge is None:
            raise ValueError(f"{self.name} is not cut on the fold")
        fold = self.edge(self.fold_edge)
        return Transform.mirror(fold.start, fold.end - fold.start)


def pair(role: str, *, drawn_side: Side = Side.LEFT, ply: Ply = Ply.SHELL) -> tuple[Copy, Copy]:
    """A left and a right copy, one of them mirrored.

    Copies of another ply are named for it (`interfacing left`), so that a piece has no two
    copies of one name.
    """
    to = CutTo.STITCHING_LINE if ply is Ply.INTERFACING else CutTo.CUTTING_LINE
    before = "" if ply is Ply.SHELL else f"{ply.value} "
    return (
        Copy(f"{before}left", Side.LEFT, role, drawn_side is Side.RIGHT, ply, to),
        Copy(f"{before}right", Side.RIGHT, role, drawn_side is Side.LEFT, ply, to),
    )


def single(role: str, *, ply: Ply = Ply.SHELL, name: str = "whole") -> tuple[Copy]:
    """One copy across the center: cut on the fold, or once."""
    to = CutTo.STITCHING_LINE if ply is Ply.INTERFACING else CutTo.CUTTING_LINE
    return (Copy(name, Side.CENTER, role, False, ply, to),)
