"""Lays copies on one remnant: one layer, right side up, clear of its edges, holes and flaws."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from clothwise.cutting.fabric import Nap
from clothwise.cutting.item import CutItem, Polyline, area_mm2, is_symmetric
from clothwise.cutting.laying import DEFAULT_SPACING
from clothwise.cutting.layout import Cut, Placement, Spacing
from clothwise.cutting.outlines import OutlineCache
from clothwise.cutting.parts import Part, Pose, placement_of, tilted
from clothwise.cutting.placing import Field, Lying, Thing, Way, pack
from clothwise.cutting.remnant import Remnant, usable_cloth, washed_cloth
from clothwise.cutting.shrunk import shrunk_outline
from clothwise.cutting.verify_remnant import verify_remnant
from clothwise.errors import CuttingError

__all__ = ["DEFAULT_ROUNDS", "RemnantLayout", "RemnantPacker", "lay_on_remnant"]

DEFAULT_ROUNDS = 3
"""Short searches of the packer, each with its own seed, for one question whether copies fit."""
_TRIES_OF_ROUND = 12  # in which things come to lie nearly right
_INWARD_MM = 0.5  # what the edge of a traced remnant may lose to have fewer corners
_PLAIN_CORNERS = 24  # an edge with no more is left as it is
_SLACK_MM = 1e-6


@dataclass(frozen=True, slots=True)
class RemnantLayout:
    """A verified layout of some copies on a remnant, on washed cloth.

    Attributes:
        remnant: what they are cut from.
        spacing: between pieces and from flaws, and from its edges and holes (as at cut ends).
        placements: one for each copy, x along the warp.
        piece_area_mm2: cloth in all finished copies, mm².
    """

    remnant: Remnant
    spacing: Spacing
    placements: tuple[Placement, ...]
    piece_area_mm2: float

    @property
    def used_share(self) -> float:
        """Share of the washed cloth, without holes and flaws, that ends up in pieces, 0 to 1."""
        return self.piece_area_mm2 / float(usable_cloth(self.remnant).area)


def lay_on_remnant(
    items: Sequence[CutItem],
    remnant: Remnant,
    *,
    spacing: Spacing = DEFAULT_SPACING,
    rounds: int = DEFAULT_ROUNDS,
    seed: int = 0,
    cancelled: Callable[[], bool] | None = None,
) -> RemnantLayout | None:
    """Return a verified layout of all copies on a remnant; None if none was found.

    None is no proof that they do not fit, unless they have more area than the cloth. Patterns of
    the cloth (stripes, checks) are not matched on remnants.

    Args:
        items: one for each copy, half pieces opened out (see `opened`).
        remnant: what to lay them on; where its edge, holes and flaws part it, the largest part.
        spacing: cloth left between pieces and around flaws; `ends_mm` from edges and holes.
        rounds, seed: how many short searches, with seeds from this one on; the same ones give the
            same answer.
        cancelled: asked several times a second.

    Raises:
        CuttingError: a half piece that was not opened out, or a packer that is wrong.
    """
    return RemnantPacker(remnant, spacing).lay(items, rounds, seed, cancelled)


class RemnantPacker:
    """A remnant made ready, to be asked several times what fits on it."""

    def __init__(self, remnant: Remnant, spacing: Spacing = DEFAULT_SPACING) -> None:
        self.remnant = remnant
        self.spacing = spacing
        self.area_mm2, self._field, self._origin = _field(remnant, spacing)
        self._outlines = OutlineCache(spacing.between_mm)

    def lay(
        self,
        items: Sequence[CutItem],
        rounds: int = DEFAULT_ROUNDS,
        seed: int = 0,
        cancelled: Callable[[], bool] | None = None,
    ) -> RemnantLayout | None:
        """Return a verified layout of all copies; None if none was found.

        Raises:
            CuttingError: a half piece that was not opened out, or a packer that is wrong.
        """
        for item in items:
            _refuse_half(item, self.remnant)
        area = sum(area_mm2(item) for item in items)
        if self._field is None or area > self.area_mm2 or not all(map(self.has_room, items)):
            return None
        parts = [_part(item, self.remnant) for item in items]
        things = [self._thing(part) for part in parts]
        found = self._packed(things, self._field, range(seed, seed + rounds), cancelled)
        if found is None:
            return None
        placements = tuple(
            self._placement(part, lying) for part, lying in zip(parts, found, strict=True)
        )
        layout = RemnantLayout(self.remnant, self.spacing, placements, area)
        faults = verify_remnant(self.remnant, placements, items, self.spacing)
        if faults:
            raise CuttingError(
                "the layout is wrong and was thrown away",
                where=self.remnant.name,
                how_much="; ".join(str(fault) for fault in faults[:3]),
                what_to_do="This is a fault in Clothwise; please report it.",
            )
        return layout

    def _packed(
        self,
        things: Sequence[Thing],
        field: Field,
        seeds: Iterable[int],
        cancelled: Callable[[], bool] | None,
    ) -> tuple[Lying, ...] | None:
        """Several short searches find more than one long one: what is stuck stays stuck."""
        for seed in seeds:
            enough = _Enough(_TRIES_OF_ROUND, cancelled)
            found = pack(things, field, rounds=1, seed=seed, cancelled=enough)
            if found is not None or (cancelled is not None and cancelled()):
                return found
        return None

    def has_room(self, item: CutItem) -> bool:
        """Whether the box of a copy is within the box of the cloth; if not, it cannot fit."""
        if self._field is None:
            return False
        part, room = _part(item, self.remnant), self._field
        for pose in part.poses:
            xs, ys = zip(*self._outlines.outline(part, pose), strict=True)
            length, width = max(xs) - min(xs), max(ys) - min(ys)
            if length <= room.length_mm + _SLACK_MM and width <= room.width_mm + _SLACK_MM:
                return True
        return False

    def _thing(self, part: Part) -> Thing:
        ways = tuple(Way(self._outlines.outline(part, pose)) for pose in part.poses)
        return Thing(part.item.id, ways)

    def _placement(self, part: Part, lying: Lying) -> Placement:
        x, y = lying.x_mm + self._origin[0], lying.y_mm + self._origin[1]
        return placement_of(part, part.poses[lying.way], x, y)


class _Enough:
    """Ends a search in which things came to lie nearly right so many times, and no more.

    A budget in cells alone is hardly spent by what has little to move.
    """

    def __init__(self, most: int, cancelled: Callable[[], bool] | None) -> None:
        self._left = most
        self._cancelled = cancelled

    def __call__(self) -> bool:
        self._left -= 1
        return self._left < 0 or (self._cancelled is not None and self._cancelled())


def _part(item: CutItem, remnant: Remnant) -> Part:
    over = remnant.fabric.wrong_side_usable and not is_symmetric(item)
    sides = (item.mirrored, not item.mirrored) if over else (item.mirrored,)
    turns = (False, True) if remnant.fabric.nap is Nap.NONE else (False,)
    part = Part(item, (item.id,), Cut.SINGLE, tuple(Pose(s, t) for s in sides for t in turns))
    # Its outline says where it fits, so only the grain counts here.
    return tilted(part, remnant.fabric) if remnant.fabric.turns_quarters else part


def _field(remnant: Remnant, spacing: Spacing) -> tuple[float, Field | None, tuple[float, float]]:
    """The area that pieces have, the field for the packer, and where its box begins.

    Outlines of pieces come widened by half the spacing, so the field is that much larger.
    """
    half = spacing.between_mm / 2
    holes = [shrunk_outline(hole, remnant.fabric) for hole in remnant.holes]
    cloth: BaseGeometry = washed_cloth(remnant)
    for hole in holes:
        cloth = cloth.difference(hole)
    room = cloth.buffer(half - spacing.ends_mm, join_style="mitre")
    for flaw in remnant.flaws:
        room = room.difference(shrunk_outline(flaw, remnant.fabric).buffer(half))
    parts = [part for part in getattr(room, "geoms", [room]) if part.area > 0]
    if not parts:
        return 0.0, None, (0.0, 0.0)
    largest = max(parts, key=lambda part: part.area)
    ring = _fewer_corners(Polygon(largest.exterior))
    left, low, right, top = ring.bounds
    taken = tuple(_shifted(inner, left, low) for inner in largest.interiors)
    sheet = _shifted(ring.exterior, left, low)
    field = Field(top - low, right - left, sheet, taken)
    return float(largest.area), field, (left, low)


def _fewer_corners(shape: Polygon) -> Polygon:
    """Return a shape inside the given one that has fewer corners."""
    if len(shape.exterior.coords) <= _PLAIN_CORNERS:
        return shape
    inner = shape.buffer(-_INWARD_MM, join_style="mitre").simplify(0.9 * _INWARD_MM)
    is_fine = isinstance(inner, Polygon) and inner.is_valid and shape.covers(inner)
    return Polygon(inner.exterior) if is_fine else shape


def _shifted(ring: BaseGeometry, left: float, low: float) -> Polyline:
    """The corners of a ring, anticlockwise, from the lower left of the box."""
    shape = Polygon(ring)
    points = [(float(x) - left, float(y) - low) for x, y in shape.exterior.coords[:-1]]
    return tuple(points if shape.exterior.is_ccw else points[::-1])


def _refuse_half(item: CutItem, remnant: Remnant) -> None:
    if item.on_fold:
        raise CuttingError(
            "a half piece cannot be cut from a remnant, which lies in one layer",
            where=f"{item.label} on {remnant.name}",
            what_to_do="Open the piece out.",
        )
