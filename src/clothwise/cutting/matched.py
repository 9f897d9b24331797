"""What is matched on a fabric, and what that costs: from a pattern to points, and to sentences."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from clothwise.cutting.border import border_note, bowed_note
from clothwise.cutting.dividing import ways_to_divide
from clothwise.cutting.fabric import Fabric, width_text
from clothwise.cutting.item import CutItem
from clothwise.cutting.layout import LayerPlan, Layout, Placement
from clothwise.cutting.match_points import CROSSWISE, lone_entries, matches_for, missing_pieces
from clothwise.cutting.matching import that_can_meet
from clothwise.cutting.repeat import MatchPoint
from clothwise.pattern import Pattern
from clothwise.pattern.document import MatchEntry

__all__ = ["MatchedPoints", "extra_note", "matched_points"]

_LEAST_TOLD_MM = 5.0
"""Less than half a centimeter is the noise of a search. Our own choice."""


@dataclass(frozen=True, slots=True)
class MatchedPoints:
    """What meets on the pattern of a fabric.

    Attributes:
        points: all of them can meet at once.
        notes: sentences on what meets, and on what had to be left out.
    """

    points: tuple[MatchPoint, ...] = ()
    notes: tuple[str, ...] = ()


def matched_points(
    pattern: Pattern,
    items: Iterable[CutItem],
    fabric: Fabric,
    plan: LayerPlan,
    entries: Sequence[MatchEntry] = (),
    pins: Sequence[Placement] = (),
) -> MatchedPoints:
    """Return what meets on a fabric that has a repeat or a border; nothing on a plain one.

    Args:
        pattern: with the seam graph.
        items: what is cut from the fabric, named `piece/copy`; see `on_border`.
        fabric, plan: what it is laid on, and how that lies.
        entries: what a design and a make say; of two with one name the later holds.
        pins: placements that stay: what cannot meet them is left out.

    Raises:
        Misuse: an entry names a place that its piece does not know.
        CuttingError: double cloth that cannot lie line on line.
    """
    copies = tuple(items)
    wanted = matches_for(pattern, copies, fabric, entries)
    if not wanted:
        return MatchedPoints()
    by_id = {item.id: item for item in copies}
    way = ways_to_divide(copies, fabric, plan, pins=pins)[0]
    stretches = [(each.layers, each.parts) for each in way]
    points, refused = that_can_meet(stretches, wanted, by_id, fabric, plan, pins)
    notes = _met_note(points)
    on_border = border_note(copies, points, fabric)
    notes += [note for note in (on_border, bowed_note(pattern, copies, fabric, entries)) if note]
    notes += missing_pieces(pattern, entries)
    notes += lone_entries(pattern, copies, entries, wanted)
    notes += [
        f"Not matched: {error.group}, which would be {error.missed_mm:.1f} mm off where the others "
        "meet."
        for error in refused
    ]
    return MatchedPoints(points, tuple(notes))


def extra_note(matched: Layout, plain: Layout) -> str:
    """Return the sentence on how much longer a layout is for being matched.

    Args:
        matched: the layout whose points meet.
        plain: of the same copies on the same cloth, as if it had no pattern.
    """
    extra_mm = matched.length_mm - plain.length_mm
    if extra_mm < _LEAST_TOLD_MM:
        return "Matching its pattern takes no more of the fabric."
    return (
        f"Matching its pattern takes {width_text(extra_mm)} more of the fabric: "
        f"{width_text(matched.length_mm)} instead of {width_text(plain.length_mm)}."
    )


def _met_note(points: Sequence[MatchPoint]) -> list[str]:
    groups = dict.fromkeys(
        point.group.removesuffix(CROSSWISE).removesuffix(", left").removesuffix(", right")
        for point in points
        if not point.on_border
    )
    return [f"Its pattern meets at: {'; '.join(groups)}."] if groups else []
