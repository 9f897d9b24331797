"""What a make states of a fabric is what is cut."""

from __future__ import annotations

import math

import pytest
from hypothesis import given

from clothwise.cutting import shrinkage
from clothwise.cutting.fabric import SELVAGE_MM, WIDEST_FABRIC_MM, Fabric, Nap
from clothwise.cutting.from_make import fabric_from, plan_from
from clothwise.cutting.layout import LayerPlan
from clothwise.cutting.repeat import Repeat
from clothwise.pattern.document import FlawEntry, RepeatEntry
from clothwise.pattern.document.fabric_entry import (
    LARGEST_SHRINKAGE,
    LAYERS,
    NAPS,
    WIDEST_MM,
    FabricEntry,
)
from clothwise.pattern.document.fabric_reader import USABLE_UNLESS_STATED_MM
from document_strategies import fabrics


def test_words_and_limits_are_those_of_cutting() -> None:
    assert list(NAPS) == [nap.value for nap in Nap]
    assert list(LAYERS) == [plan.value for plan in LayerPlan]
    assert WIDEST_MM == WIDEST_FABRIC_MM
    assert shrinkage.LARGEST_SHRINKAGE == LARGEST_SHRINKAGE
    assert USABLE_UNLESS_STATED_MM == 2 * SELVAGE_MM


def test_everything_stated_arrives() -> None:
    fabric = fabric_from(
        FabricEntry(
            "wool", "150cm", title="Light wool", usable_width="146cm", shrinkage_along="2%",
            shrinkage_across="1%", nap="one way", price="9.144 USD/yd", fiber="wool",
            color="#aabbcc", pattern="stripe", length="2yd", thickness="0.5mm",
            repeat=RepeatEntry("12cm", "8cm", "3cm", "0"), wrong_side_usable="yes",
            grainless="yes",
            off_grain="2deg", flaws=(FlawEntry("1m", "10cm", "4cm", "3cm"),), photo="wool.jpg",
        )
    )  # fmt: skip
    assert (fabric.name, fabric.nominal_width_mm, fabric.usable_width_mm) == (
        "Light wool", 1500, 1460
    )  # fmt: skip
    assert (fabric.shrinkage_along, fabric.shrinkage_across, fabric.nap) == (
        0.02, 0.01, Nap.ONE_WAY
    )  # fmt: skip
    assert fabric.price_per_meter == pytest.approx(10)
    assert (fabric.currency, fabric.fiber, fabric.color) == ("USD", "wool", "#aabbcc")
    assert (fabric.pattern, fabric.photo) == ("stripe", "wool.jpg")
    assert fabric.length_mm == pytest.approx(1828.8)
    assert (fabric.thickness_mm, fabric.wrong_side_usable) == (0.5, True)
    assert fabric.grainless
    assert not fabric.turns_quarters, "it has a nap"
    assert fabric.repeat == Repeat(120, 80, 30, 0)
    assert fabric.off_grain_rad == pytest.approx(math.radians(2))
    assert fabric.flaws == (((1000, 100), (1040, 100), (1040, 130), (1000, 130)),)


def test_what_was_left_out_has_its_default() -> None:
    fabric = fabric_from(FabricEntry("wool", "150cm"))
    assert (fabric.name, fabric.usable_width_mm) == ("wool", 1500 - 2 * SELVAGE_MM)
    assert fabric.price_per_meter is None
    assert plan_from(FabricEntry("wool", "150cm")) is LayerPlan.SINGLE
    assert fabric.length_mm == math.inf
    assert fabric == Fabric("wool", 1500)


@given(fabrics("cloth"))
def test_every_entry_that_reads_becomes_a_cloth(entry: FabricEntry) -> None:
    assert fabric_from(entry).usable_width_mm <= entry.width_mm
    assert plan_from(entry).value == entry.layers
