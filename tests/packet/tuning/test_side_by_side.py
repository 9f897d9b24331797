"""Why cloth is saved: only what the two layouts show is told."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import pytest

from clothwise.cutting import (
    CutItem,
    Effort,
    Fabric,
    LayerPlan,
    Layout,
    Nap,
    Placement,
    lay,
    placed_outline,
    verify,
)
from clothwise.cutting.question import LayoutQuestion
from clothwise.cutting.requirement import requirement
from clothwise.packet import ClothPlan
from clothwise.packet.tuning import gained
from clothwise.packet.tuning.trial import ClothTried
from clothwise.pattern.document import FabricEntry

ROUGH_MM = 1.0
"""Two outlines, each simplified outward by up to half a millimeter."""
CLOTH = Fabric("Cord", 1020, nap=Nap.ONE_WAY)  # usable: 1,000 mm


def gore(name: str, hem_mm: float, length_mm: float = 700.0) -> CutItem:
    """A gore 200 mm wide at its top, its grain along y."""
    half = hem_mm / 2
    outline = ((-half, 0.0), (half, 0.0), (100.0, length_mm), (-100.0, length_mm))
    return CutItem(f"{name}/whole", f"1 {name}", outline, piece=f"{name}/shell")


def tried(items: list[CutItem], fabric: Fabric = CLOTH) -> ClothTried:
    layout = lay(items, fabric, LayerPlan.SINGLE, effort=Effort(0, 1))
    return with_layout(items, layout)


def with_layout(items: Sequence[CutItem], layout: Layout) -> ClothTried:
    entry = FabricEntry("cord", "102cm")
    plan = ClothPlan(entry, (), tuple(items), layout, requirement(layout))
    return ClothTried(entry, (plan,), LayoutQuestion(plan.items, layout.fabric).digest)


def test_two_that_find_room_are_told_with_their_widths() -> None:
    """Hems of 510 mm twice and 3 mm between: 1,023 mm do not lie on 1,000; of 490 they do."""
    before = tried([gore("Front", 510), gore("Back", 510)])
    after = tried([gore("Front", 490), gore("Back", 490)])
    (row,) = gained(before, after)
    assert row.names == ("Back", "Front")
    assert (row.before_mm, row.after_mm) == pytest.approx((1023, 983), abs=ROUGH_MM)
    assert row.room_mm == 1000
    assert round(row.length_mm) == 700


def test_three_are_told_only_if_two_of_them_had_room() -> None:
    before = tried([gore("Front", 340), gore("Side", 340), gore("Back", 340)])
    after = tried([gore("Front", 330), gore("Side", 330), gore("Back", 330)])
    (row,) = gained(before, after)
    assert row.names == ("Back", "Front", "Side")
    assert (row.before_mm, row.after_mm) == pytest.approx((1026, 996), abs=1.5 * ROUGH_MM)


def test_nothing_is_claimed_where_there_was_room_before() -> None:
    """A layout that merely used the room badly before says nothing about the change."""
    narrow = [gore("Front", 490), gore("Back", 490)]
    good = tried(narrow)
    bad = with_layout(narrow, _one_behind_another(narrow))
    assert bad.best.layout.length_mm > 1300
    assert gained(bad, good) == ()


def test_nothing_is_claimed_where_nothing_lies_side_by_side() -> None:
    before = tried([gore("Front", 700), gore("Back", 700)])
    after = tried([gore("Front", 600), gore("Back", 600)])
    assert gained(before, after) == ()


def test_with_half_turns_gores_lie_head_to_tail() -> None:
    """(200 + hem) / 2 apart, half a hem beyond both: 1.5 hems + 100 + 3 mm, a little slanted."""
    plain = replace(CLOTH, nap=Nap.NONE)
    before = tried([gore("Front", 630), gore("Back", 630)], plain)
    after = tried([gore("Front", 590), gore("Back", 590)], plain)
    after = with_layout(after.best.items, _head_to_tail(after.best))
    (row,) = gained(before, after)
    assert (row.before_mm, row.after_mm) == pytest.approx((1048, 988), abs=2 * ROUGH_MM)


def test_short_pieces_explain_nothing() -> None:
    before = tried([gore("Front", 900), gore("Tab", 510, 60), gore("Tab two", 510, 60)])
    after = tried([gore("Front", 900), gore("Tab", 490, 60), gore("Tab two", 490, 60)])
    assert gained(before, after) == ()


def _head_to_tail(cloth: ClothPlan) -> Layout:
    """The first as it was laid, the second turned beside it, as close as the spacing lets it."""
    (section,) = cloth.layout.sections
    one, other = section.placements
    apart_mm = (200 + 590) / 2 + 3.1
    axis_mm = 590 / 2
    first = replace(one, translation=(_start_mm(one, cloth), axis_mm))
    second = replace(other, rotation_rad=one.rotation_rad + math.pi)
    second = replace(second, translation=(_start_mm(second, cloth), axis_mm + apart_mm))
    section = replace(section, length_mm=710.0, placements=(first, second))
    layout = replace(cloth.layout, sections=(section,))
    assert verify(layout, cloth.items) == ()
    return layout


def _start_mm(placement: Placement, cloth: ClothPlan) -> float:
    """Where a piece has to go along the cloth to begin right after its end."""
    at_zero = replace(placement, translation=(0.0, 0.0))
    items = {item.id: item for item in cloth.items}
    return 5.0 - min(x for x, _ in placed_outline(at_zero, items))


def _one_behind_another(items: list[CutItem]) -> Layout:
    """Laid on cloth too narrow for two, then looked at on the real one."""
    narrow = lay(
        items, replace(CLOTH, nominal_width_mm=520, usable_width_mm=500), effort=Effort(0, 1)
    )
    sections = tuple(replace(each, width_mm=1000.0) for each in narrow.sections)
    return replace(narrow, fabric=CLOTH, sections=sections)
