"""Whatever is broken, checks report it; they do not break themselves."""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import replace

import pytest

from checks.mutations import (
    allowance_set,
    corner_moved,
    finish_removed,
    layer_changed,
    marks_changed,
    operation_removed,
    piece_changed,
    run_removed,
    seam_changed,
    seam_removed,
)
from clothwise.checks import check
from clothwise.errors import GeometryError
from clothwise.geometry import Transform, polar
from clothwise.pattern import FinishKind, Grainline, Pattern, Sides
from work.real_designs import body, half_circle_skirt, long_dress

Fault = Callable[[random.Random, Pattern], Pattern]


def _any_piece(dice: random.Random, pattern: Pattern) -> str:
    return dice.choice(sorted(pattern.pieces))


def _moved_corner(dice: random.Random, pattern: Pattern) -> Pattern:
    """By so much that what is sewn no longer fits; less is a known limit (decision 0012)."""
    while True:
        piece = _any_piece(dice, pattern)
        edge = dice.choice(pattern.piece(piece).edge_names)
        moved = corner_moved(pattern, piece, edge, polar(dice.uniform(2, 40), dice.uniform(0, 6.2)))
        before, after = _differences(pattern), _differences(moved)
        if any(abs(new - old) > 2.0 for new, old in zip(after, before, strict=True)):
            return moved


def _differences(pattern: Pattern) -> list[float]:
    """How much longer the further layers of all seams are than the first ones."""
    return [
        pattern.run_length(layer.run) - pattern.run_length(seam.layers[0].run)
        for seam in pattern.seams.values()
        for layer in seam.layers[1:]
    ]


def _allowance(dice: random.Random, pattern: Pattern) -> Pattern:
    """On any edge but those that are only neatened or closed: these may have any."""
    free = {
        (edge.piece, edge.edge)
        for finish in pattern.finishes.values()
        if finish.kind in (FinishKind.OVERLOCKED, FinishKind.CLOSURE)
        for edge in finish.run.edges
    }
    places = [(name, edge) for name, piece in pattern.pieces.items() for edge in piece.edge_names]
    piece, edge = dice.choice([place for place in places if place not in free])
    return allowance_set(pattern, piece, edge, dice.uniform(-10, 200))


def _removed_seam(dice: random.Random, pattern: Pattern) -> Pattern:
    return seam_removed(pattern, dice.choice(sorted(pattern.seams)))


def _removed_finish(dice: random.Random, pattern: Pattern) -> Pattern:
    return finish_removed(pattern, dice.choice(sorted(pattern.finishes)))


def _removed_operation(dice: random.Random, pattern: Pattern) -> Pattern:
    doing = [each.name for each in pattern.operations if each.does]
    return operation_removed(pattern, dice.choice(doing))


def _changed_ease(dice: random.Random, pattern: Pattern) -> Pattern:
    seam = dice.choice(sorted(pattern.seams))
    change = dice.choice([-1, 1]) * dice.uniform(2, 20)
    return layer_changed(
        pattern, seam, 1, lambda layer: replace(layer, ease_mm=layer.ease_mm + change)
    )


def _one_sided(dice: random.Random, pattern: Pattern) -> Pattern:
    both = [name for name, seam in pattern.seams.items() if seam.sides is Sides.BOTH]
    return seam_changed(pattern, dice.choice(both), lambda seam: replace(seam, sides=Sides.LEFT))


def _run_turned(dice: random.Random, pattern: Pattern) -> Pattern:
    return layer_changed(
        pattern,
        dice.choice(sorted(pattern.seams)),
        dice.choice([0, 1]),
        lambda layer: replace(layer, run=layer.run.reversed),
    )


def _grain_moved(dice: random.Random, pattern: Pattern) -> Pattern:
    shift = Transform.shift(dice.choice([-3000.0, 3000.0]), dice.uniform(-100, 100))
    return piece_changed(
        pattern,
        _any_piece(dice, pattern),
        lambda piece: replace(
            piece, grain=Grainline(shift.point(piece.grain.start), shift.point(piece.grain.end))
        ),
    )


FAULTS: tuple[Fault, ...] = (
    _moved_corner,
    _allowance,
    _removed_seam,
    _removed_finish,
    _removed_operation,
    _changed_ease,
    _one_sided,
    _run_turned,
    _grain_moved,
)


@pytest.mark.parametrize("fault", FAULTS, ids=lambda fault: fault.__name__.strip("_"))
def test_random_faults_are_reported(fault: Fault) -> None:
    """Twelve of each kind, seeded. Every one is found; nothing raises."""
    dice = random.Random(fault.__name__)
    for sound in (long_dress(), half_circle_skirt()):
        for _ in range(6):
            try:
                faulty = fault(dice, sound)
            except GeometryError:
                continue  # the outline refused to be so
            assert check(faulty, body())


def test_broken_beyond_sense() -> None:
    """Several faults at once, and runs, marks and points that are gone."""
    dice = random.Random(5)
    for _ in range(25):
        pattern = long_dress()
        for fault in dice.sample(FAULTS, 3):
            try:
                pattern = fault(dice, pattern)
            except (GeometryError, IndexError, AssertionError):
                continue
        for name in dice.sample(sorted(pattern.runs), 2):
            pattern = run_removed(pattern, name)
        piece = _any_piece(dice, pattern)
        pattern = marks_changed(pattern, piece, lambda mark: None)
        pattern = piece_changed(pattern, piece, lambda old: replace(old, points={}, darts=()))
        check(pattern, body())
