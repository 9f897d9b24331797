"""Pieces laid out flat as far as they are sewn: which touch, which way up, and where a run goes.

Everything follows from the seam graph and the outlines. Sewn pieces are opened flat, so their
insides lie on opposite sides of the seam; where that needs the other copy of a pair, the piece is
turned over.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

from clothwise.geometry import Point, Transform, Vector, angle_between, polyline
from clothwise.pattern.graph import Run, Seam
from clothwise.pattern.junctions import Junction
from clothwise.pattern.pattern import Pattern, Use
from clothwise.work.cloth import Cloth
from clothwise.work.shape import union_of
from clothwise.work.sheet import Sheet, Strip, is_left, moved_polygon, sheet

BENT_SHARE = 0.1
"""Edges that stray this far from each other, as a share of their length, cannot be laid flat on
each other; our own choice."""

BEHIND_MM = 0.5
"""A run goes on behind a piece from where it ends within this; rounding."""

UPRIGHT_TURN_RAD = math.radians(15)
"""Pieces joined by a level seam stay upright, though their edges then gape a little."""


def strip(cloth: Cloth, use: Use, run: Run) -> Strip:
    """The pieces of a run of `use`, joined where seams bring them together.

    The piece on the fold, else the first, stays as it was drafted.
    """
    names = run.pieces
    start = next((n for n, name in enumerate(names) if cloth.axis(name) is not None), 0)
    placed = {names[start]: sheet(cloth, names[start])}
    joints = {
        (joint.before.piece, joint.after.piece): joint
        for joint in cloth.corners.junctions(run, use.name)
    }
    order = [*range(start - 1, -1, -1), *range(start + 1, len(names))]
    for number in order:
        neighbor = names[number + 1] if number < start else names[number - 1]
        key = (names[number], neighbor) if number < start else (neighbor, names[number])
        placed[names[number]] = _beside(cloth, placed[neighbor], names[number], joints.get(key))
    behind = [joint.after.piece for joint in joints.values() if _lie_as_drawn(cloth.pattern, joint)]
    sheets = tuple(placed[name] for name in sorted(names, key=lambda name: name not in behind))
    points = [point for ref in run.edges for point in placed[ref.piece].run(Run((ref,)))]
    first = run.edges[0]
    left = is_left(first, placed[first.piece])
    return Strip(sheets, run, tuple(points), left)


def joined_sheets(cloth: Cloth, names: Sequence[str]) -> list[Sheet]:
    """Pieces opened flat where seams that are done join them; the others side by side."""
    placed: dict[str, Sheet] = {}
    waiting = list(names)
    while waiting:
        joined = ((name, _joined_to_any(cloth, name, placed)) for name in waiting)
        name, new = next(((name, new) for name, new in joined if new), (waiting[0], None))
        waiting.remove(name)
        placed[name] = new or _to_the_right(sheet(cloth, name), list(placed.values()))
    return [placed[name] for name in dict.fromkeys(names)]


def _joined_to_any(cloth: Cloth, name: str, placed: Mapping[str, Sheet]) -> Sheet | None:
    """A piece opened flat beside one that a seam joins it to."""
    for seam in cloth.pattern.seams.values():
        if seam.name not in cloth.done:
            continue
        for neighbor in placed.values():
            mine = _layer_on(seam, neighbor.name)
            other = _layer_on(seam, name, other_than=mine)
            if mine and other:
                return _joined(neighbor, mine, sheet(cloth, name), other, None)
    return None


def _to_the_right(new: Sheet, placed: list[Sheet]) -> Sheet:
    if not placed:
        return new
    left, _, right, _ = union_of(one.polygon for one in placed).bounds
    shift = right - new.polygon.bounds[0] + 0.15 * (right - left)
    return new.moved(Transform.shift(shift, 0.0))


def _beside(cloth: Cloth, placed: Sheet, name: str, joint: Junction | None) -> Sheet:
    """A further piece, opened flat beside a placed one along the seam that joins them."""
    new = sheet(cloth, name)
    for seam_name in (joint.seams or ()) if joint else ():
        seam = cloth.pattern.seams[seam_name]
        mine = _layer_on(seam, placed.name)
        other = _layer_on(seam, name, other_than=mine)
        if mine and other:
            at = _corner(joint, placed) if joint else None
            return _joined(placed, mine, new, other, at)
    if joint is not None and _lie_as_drawn(cloth.pattern, joint):
        return replace(new.moved(placed.to), face=placed.face)
    return _to_the_right(new, [placed])


def _lie_as_drawn(pattern: Pattern, joint: Junction) -> bool:
    """True if a run goes on from a piece to one that lies behind it, joined by what is between.

    So does the side piece of a slant pocket. Both are drawn where they lie.
    """
    if len(joint.seams or ()) < 2:
        return False
    end, start = pattern.path(joint.before).end, pattern.path(joint.after).start
    drawn = (pattern.piece(edge.piece).drawn_side for edge in (joint.before, joint.after))
    return end.is_close(start, BEHIND_MM) and len(set(drawn)) == 1


def _corner(joint: Junction, placed: Sheet) -> Point | None:
    """Where the run leaves the placed piece; None where that is folded away."""
    ref = joint.before if joint.before.piece == placed.name else joint.after
    points = placed.run(Run((ref,)))
    if not points:
        return None
    return points[-1] if ref is joint.before else points[0]


def _layer_on(seam: Seam, piece: str, other_than: Run | None = None) -> Run | None:
    """The first layer's run that has edges on a piece."""
    for layer in seam.layers:
        if layer.run != other_than and piece in layer.run.pieces:
            return layer.run
    return None


def _joined(placed: Sheet, mine: Run, new: Sheet, other: Run, at: Point | None) -> Sheet:
    """`new` moved so that its run lies on that of `placed`, its cloth beyond it."""
    fixed = placed.run(mine)
    my_first = next(ref for ref in mine.edges if ref.piece == placed.name)
    its_first = next(ref for ref in other.edges if ref.piece == new.name)
    if is_left(my_first, placed) == is_left(its_first, new):
        new = new.moved(Transform.mirror())
    moving = new.run(other)
    if at is not None and fixed[-1].distance(at) < fixed[0].distance(at):
        fixed.reverse()
        moving.reverse()
    if stray(fixed, moving) > BENT_SHARE:  # only the ends can meet, edges side by side there
        return new.moved(Transform.carry((moving[0], moving[1]), (fixed[0], fixed[1])))
    one, other_ray = (moving[0], moving[-1]), (fixed[0], fixed[-1])
    turn = angle_between(one[1] - one[0], other_ray[1] - other_ray[0])
    if _is_level(fixed) and _is_level(moving) and abs(turn) < UPRIGHT_TURN_RAD:
        return new.moved(_shift(fixed[0] - moving[0]))
    return new.moved(Transform.carry(one, other_ray))


def stray(one: Sequence[Point], other: Sequence[Point]) -> float:
    """How much the shapes of two lines differ: the greatest distance over the length.

    Both are compared from their starts along their chords.
    """
    moved = Transform.carry((other[0], other[-1]), (one[0], one[-1]))
    first, second = polyline(one), polyline(moved.point(point) for point in other)
    if first.end.is_close(first.start) or second.end.is_close(second.start):
        return 1.0
    tenths = [number / 10 for number in range(11)]
    distances = [
        first.point_at(part * first.length).distance(second.point_at(part * second.length))
        for part in tenths
    ]
    return max(distances) / max(first.length, second.length)


def _is_level(points: list[Point]) -> bool:
    chord = points[-1] - points[0]
    return abs(chord.y) < abs(chord.x) * math.tan(UPRIGHT_TURN_RAD)


def aligned(still: Strip, other: Strip, *, on_top: bool) -> Strip:
    """`other` brought to the run of `still`: laid on it, or opened flat on its far side.

    Two runs that end on folds get their folds in line; others meet in the middle of their chords.
    """
    if (still.interior_left == other.interior_left) != on_top:
        other = other.moved(Transform.mirror())
    mine, its = still.fold_end, other.fold_end
    if mine and its:
        heading = mine[1] if on_top else -mine[1]
        target = (mine[0], mine[0] + heading)
        return other.moved(Transform.carry((its[0], its[0] + its[1]), target))
    moved = other.moved(Transform.carry(_ray(other), _ray(still)))
    return moved.moved(_shift(_middle(still) - _middle(moved)))


def _ray(of: Strip) -> tuple[Point, Point]:
    start, end = of.chord
    return (start, end) if start.distance(end) > 1e-6 else (start, start + of.outward.left)


def _middle(of: Strip) -> Point:
    start, end = of.chord
    return start.toward(end, 0.5)


def _shift(step: Vector) -> Transform:
    return Transform.shift(step.x, step.y)


def apart(still: Strip, other: Strip, gap_mm: float) -> Strip:
    """`other` moved straight away from `still` until this much lies between them."""
    fold = still.fold_end
    away = -fold[1] if fold and other.fold_end else still.outward
    base, moving = still.polygon, other.polygon

    def is_clear(step: float) -> bool:
        shifted = moved_polygon(moving, _shift(away * step))
        return bool(base.distance(shifted) >= gap_mm)

    low, high = 0.0, gap_mm
    while not is_clear(high):
        low, high = high, high * 2
        if high > 1e5:
            break
    for _ in range(12):
        middle = (low + high) / 2
        low, high = (low, middle) if is_clear(middle) else (middle, high)
    return other.moved(_shift(away * high))
