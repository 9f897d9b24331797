"""Pictures of seams: laid on each other, folded, opened flat, or in many layers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from shapely.geometry import Polygon

from clothwise.geometry import Transform
from clothwise.pattern.first_letter import lowered
from clothwise.pattern.graph import (
    Pressing,
    Run,
    Seam,
)
from clothwise.pattern.pattern import Use, pieces_of, runs_of
from clothwise.work.assembly import BENT_SHARE, aligned, apart, stray, strip
from clothwise.work.picture import LineRole
from clothwise.work.scene_lines import (
    clipped,
    crease_in,
    extent,
    fold_over,
    folding,
    in_order,
    offset_of,
    out_of,
    traced,
)
from clothwise.work.scene_sewing import meeting, notches, sewing
from clothwise.work.scene_sheets import layer_of, with_placed
from clothwise.work.scene_showing import REACH_MM, SPARED_SHARE, Showing
from clothwise.work.shape import tidied
from clothwise.work.sheet import Strip, sheet
from clothwise.work.stage import Layer, Stage, beside_each_other, upright, window_around
from clothwise.work.wearing import Part, parts


def darts(on: Showing, uses: Sequence[Use]) -> Stage:
    """Pieces side by side, wrong side up, with the legs to be sewn."""
    names = tuple(dict.fromkeys(name for use in uses for name in in_order(use)))
    stages = []
    for name in names:
        piece = sheet(on.cloth, name).turned_over()
        stage = Stage((layer_of(on, piece),))
        for use in uses:
            legs = [piece.run(run) for run in runs_of(use) if name in run.pieces]
            if len(legs) < 2:
                continue
            stage = stage.adding(*(traced(leg, LineRole.SEWN_NOW) for leg in legs))
            stage = stage.adding(*fold_over(legs[0][0], legs[1][0], legs[0][-1]))
        stages.append(stage.unfolded())
    return beside_each_other(stages)


def sewn(on: Showing, seam: Seam) -> tuple[Stage, str]:
    """The picture of a seam, by how its edges lie to each other."""
    layers = [layer.run for layer in seam.layers]
    if len(layers) > 2:
        return _stacked(on, seam), "Laid on each other in this order."
    if layers[0] == layers[1]:
        return _across_center(on, seam), "One side on the other, right sides together."
    if set(layers[0].pieces) == set(layers[1].pieces) and len(layers[0].pieces) == 1:
        return _folded(on, seam), "Folded right sides together."
    if _lie_on_each_other(on, seam):
        return _laid_on(on, seam)
    return _facing(on, seam), "Opened flat; sewn right sides together."


def _lie_on_each_other(on: Showing, seam: Seam) -> bool:
    """True if no edge has to be bent to the other's shape, and the picture is plain.

    It is for single pieces, and for facings, which lie on what they face.
    """
    one, two = (strip(on.cloth, seam, layer.run) for layer in seam.layers)
    two = aligned(one, two, on_top=True)
    if stray(one.points, two.points) > BENT_SHARE:
        return False
    if len(one.sheets) == 1 and len(two.sheets) == 1:
        return True
    its_parts = parts(on.pattern)
    return all(its_parts.get(part.name) is Part.INSIDE for part in two.sheets)


def _laid_on(on: Showing, seam: Seam) -> tuple[Stage, str]:
    """The layer on the fold, else the first, below; the other on it, wrong side up."""
    below, above = seam.layers[0].run, seam.layers[1].run
    if not _on_fold(on, below) and _on_fold(on, above):
        below, above = above, below
    lower = strip(on.cloth, seam, below)
    upper = aligned(lower, strip(on.cloth, seam, above), on_top=True).turned_over()
    over, under = (_title(on, one.run.pieces[0]) for one in (upper, lower))
    note = f"{over} on {lowered(under)}, right sides together."
    stage = _offset_on(on, seam, lower, upper)
    if len(lower.sheets) + len(upper.sheets) > 2:
        reach = max(REACH_MM, 0.8 * extent(lower.points))
        stage = stage.cropped(window_around(lower.points, reach), SPARED_SHARE)
    return upright(stage.unfolded(seam.sides)), note


def _title(on: Showing, piece: str) -> str:
    return on.pattern.piece(piece).title


def _offset_on(on: Showing, seam: Seam, lower: Strip, upper: Strip) -> Stage:
    left, bottom, right, top = lower.polygon.union(upper.polygon).bounds
    off = offset_of(right - left, top - bottom)
    fold = upper.fold_end or lower.fold_end
    inward = fold[1] if fold and upper.fold_end and lower.fold_end else -upper.outward
    upper = upper.moved(Transform.shift(inward.x * off, inward.y * off))
    stage = with_placed(on, (*lower.sheets, *upper.sheets))
    return stage.adding(*sewing(on, seam, upper))


def _across_center(on: Showing, seam: Seam) -> Stage:
    """The same run of both sides: the one side laid on the other."""
    lower = strip(on.cloth, seam, seam.layers[0].run)
    stage = _offset_on(on, seam, lower, lower.turned_over())
    folds = [one.fold for one in lower.sheets if one.fold]
    return stage.adding(*(traced(fold, LineRole.FOLD) for fold in folds))


def _folded(on: Showing, seam: Seam) -> Stage:
    """A piece folded so that two of its edges lie on each other."""
    lower = sheet(on.cloth, seam.layers[0].run.pieces[0])
    mirror, half, crease = folding(lower, seam.layers[0].run, seam.layers[1].run)
    upper = lower.moved(mirror).turned_over()
    inside = tidied(lower.polygon.intersection(half))
    left, bottom, right, top = inside.bounds
    off = offset_of(right - left, top - bottom)
    toward = out_of(half, crease) * off
    upper = upper.moved(Transform.shift(toward.x, toward.y))
    over = tidied(upper.polygon.intersection(half))
    below = _on_half(on, layer_of(on, lower), half, inside)
    above = _on_half(on, layer_of(on, upper), half, over)
    stage = Stage((below, replace(above, words="")))
    points = upper.run(seam.layers[1].run)
    ticks = notches(on, seam, 1, (upper,))
    sewn = clipped(traced(points, LineRole.SEWN_NOW), over.buffer(1.0))
    return stage.adding(*sewn, *ticks, crease_in(crease, inside))


def _on_half(on: Showing, layer: Layer, half: Polygon, area: Polygon) -> Layer:
    cropped = Stage((layer,)).cropped(half)
    return replace(cropped.layers[0], polygon=area) if cropped.layers else layer


def _facing(on: Showing, seam: Seam) -> Stage:
    """Both sides of the seam opened flat, the edges facing each other."""
    below, above = seam.layers[0].run, seam.layers[1].run
    still = strip(on.cloth, seam, below)
    size = extent(still.points)
    other = aligned(still, strip(on.cloth, seam, above), on_top=False)
    other = apart(still, other, max(0.12 * size, 30.0))
    stage = with_placed(on, (*still.sheets, *other.sheets))
    stage = stage.adding(*sewing(on, seam, still), *sewing(on, seam, other, 1))
    stage = stage.adding(*meeting(on, seam, still, other))
    window = window_around((*still.points, *other.points), max(REACH_MM, 0.95 * size))
    return upright(stage.cropped(window, SPARED_SHARE).unfolded(seam.sides))


def _stacked(on: Showing, seam: Seam) -> Stage:
    """Each layer by itself, from the lowest to the uppermost."""
    base = strip(on.cloth, seam, seam.layers[0].run)
    caught = [n for n, layer in enumerate(seam.layers) if layer.span is not None]
    full = [n for n, layer in enumerate(seam.layers) if n and layer.span is None]
    stages = []
    for place, number in enumerate([0, *_outermost(on, seam, caught), *full], start=1):
        one = base
        if number:
            one = aligned(base, strip(on.cloth, seam, seam.layers[number].run), on_top=True)
            one = one.turned_over() if number in full else one
        layers = with_placed(on, one.sheets).layers
        stage = Stage(
            tuple(
                replace(layer, words=f"{place} {layer.words}" if layer.words else "")
                for layer in layers
            )
        ).adding(*sewing(on, seam, one, number))
        reach = max(REACH_MM * 0.8, 0.8 * extent(one.points))
        stages.append(
            stage.cropped(window_around(one.points, reach), SPARED_SHARE).unfolded(seam.sides)
        )
    return beside_each_other(stages)


def _outermost(on: Showing, seam: Seam, caught: list[int]) -> list[int]:
    """Of layers that were turned together before, only the last is seen."""
    seen = []
    for number in caught:
        mine = set(seam.layers[number].run.pieces)
        later = {
            name for other in caught if other > number for name in seam.layers[other].run.pieces
        }
        hidden = any(
            other.pressing is Pressing.TURNED
            and other.name in on.cloth.done
            and mine & pieces_of(other)
            and later & pieces_of(other)
            for other in on.pattern.seams.values()
        )
        if not hidden:
            seen.append(number)
    return seen


def _on_fold(on: Showing, run: Run) -> bool:
    return any(on.cloth.axis(name) for name in run.pieces)
