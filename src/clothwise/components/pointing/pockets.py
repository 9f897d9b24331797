"""Dragging a pocket places it."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from clothwise.components.evaluation import class_of, evaluate
from clothwise.components.pointing.pointed import Drafted, Pointed
from clothwise.components.pointing.writing import stepped
from clothwise.errors import ComponentError
from clothwise.geometry import Point
from clothwise.pattern.document.design import ComponentEntry, Design
from clothwise.pattern.document.value import Choices
from clothwise.pattern.measurements import Body
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.plain_names import piece_called, plain_name
from clothwise.units import LengthUnit, format_length

__all__ = ["is_placed_by_pointing", "pocket_moved_by"]

_PLACE = {"below_top", "across"}
"""The values that say where something lies on its piece."""


def is_placed_by_pointing(entry: ComponentEntry) -> bool:
    """Tell whether `pocket_moved_by` can move what a component lays on a piece.

    Raises:
        ComponentError: nobody knows this kind of component.
    """
    return class_of(entry).parameters().keys() >= _PLACE


def pocket_moved_by(
    design: Design,
    drafted: Drafted,
    body: Body,
    choices: Choices,
    component: str,
    piece_name: str,
    to: Point,
    *,
    unit: LengthUnit = LengthUnit.CENTIMETER,
) -> Pointed:
    """The place that dragging a pocket means: how far down, and how far across.

    It stays within the room that the component leaves it toward center and side.

    Args:
        design: as it is.
        drafted: drafts a design as it is shown.
        body: that it is drafted for.
        choices: that it is drafted with.
        component: name of the pocket in the design.
        piece_name: the piece it lies on.
        to: where the middle of its top was dragged to, on that piece.

    Raises:
        ComponentError: it is not placed by pointing, or has no room there.
    """
    entry = _component_named(design, component)
    if not is_placed_by_pointing(entry):
        raise ComponentError(
            f"the {plain_name(component)} is not placed by pointing",
            what_to_do="Change its place in its parameters.",
        )
    now = _top_of(drafted(design), component, piece_name)
    arguments = evaluate(design, body, design.chosen(choices)).arguments[component]
    stands: Any = class_of(entry)(**arguments)  # what is not stated has its default
    below_mm = stepped(stands.below_top_mm + now.y - to.y)
    below_mm = min(max(below_mm, 0.0), 500.0)
    ends = [
        _top_of(drafted(_with(design, entry, below_mm, across)), component, piece_name)
        for across in (0.0, 1.0)
    ]
    way = ends[1].x - ends[0].x
    across = stands.across if abs(way) < 1.0 else (to.x - ends[0].x) / way
    across = round(min(max(across, 0.0), 1.0), 2)
    below = format_length(below_mm, unit)
    words = f"Places the {plain_name(component)} {below} below the top"
    words += f", {across:.0%} of the way to the side"
    return Pointed(entry.kind, _placing(below_mm, across), component, words)


def _component_named(design: Design, name: str) -> ComponentEntry:
    for entry in design.components:
        if entry.name == name:
            return entry
    raise ComponentError(
        f"there is no component {name[:60]!r}", what_to_do="Load the page anew and try again."
    )


def _placing(below_mm: float, across: float) -> dict[str, str]:
    return {"below_top": f"{below_mm / 10:g}cm", "across": f"{across:g}"}


def _with(design: Design, entry: ComponentEntry, below_mm: float, across: float) -> Design:
    moved = replace(entry, parameters={**entry.parameters, **_placing(below_mm, across)})
    components = tuple(moved if each is entry else each for each in design.components)
    return replace(design, components=components)


def _top_of(pattern: Pattern, component: str, host: str) -> Point:
    """The middle of the top of what a component lays on a piece."""
    for placement in pattern.placements.values():
        if placement.component == component and placement.host == host:
            left, _, right, top = pattern.laid_piece(placement).outline.polygon.bounds
            return placement.onto.point(Point((left + right) / 2, top))
    raise ComponentError(
        f"the {plain_name(component)} does not stay on the "
        f"{piece_called(pattern.piece(host))} when it is placed there",
        what_to_do="Drag it less far, or change its place in its parameters.",
    )
