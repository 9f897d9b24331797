"""What if: the same as if the make had been written so, and the make stays as it is."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from clothwise.components import read_make
from clothwise.cutting import Effort
from clothwise.errors import Misuse
from clothwise.packet import Making
from clothwise.packet.what_if import CLOTH_KEYS, Changes, Comparison, changed, what_if
from clothwise.pattern.document.cutting_entry import PinEntry
from clothwise.pattern.document.fabric_entry import FabricEntry
from command_line import DRESS, edited, example

ROWS = Effort(0, 0)


@pytest.fixture
def view_a(tmp_path: Path) -> Making:
    return Making(read_make(example(DRESS, tmp_path) / "makes" / "view-a.yaml"))


def bought(making: Making) -> dict[str, tuple[Fraction, Fraction, float | None]]:
    plans = making.cloths(effort=ROWS)
    return {
        plan.entry.name: (plan.requirement.meters, plan.requirement.yards, plan.requirement.cost)
        for plan in plans
    }


def after(found: Comparison) -> dict[str, tuple[Fraction, Fraction, float | None]]:
    plans = [cloth.after for cloth in found.cloths if cloth.after]
    return {
        plan.entry.name: (plan.requirement.meters, plan.requirement.yards, plan.requirement.cost)
        for plan in plans
    }


def test_two_swapped_fabrics_are_what_a_make_written_so_needs(view_a: Making) -> None:
    found = what_if(view_a, Changes(swaps=(("linen", "print"),)), effort=ROWS)
    file = view_a.file.path
    other = file.with_name("swapped.yaml")
    other.write_bytes(file.read_bytes())
    edited(other, "main: linen", "main: print")
    edited(other, "contrast: print", "contrast: linen")
    written = Making(read_make(other))
    assert after(found) == bought(written)
    assert {each.name: each.before for each in found.cloths if each.before} == {
        plan.entry.name: plan for plan in view_a.cloths(effort=ROWS)
    }
    assert set(found.moved.values()) == {("linen", "print"), ("print", "linen")}
    now = written.assignment
    assert found.moved == {
        "/".join(copy): (fabric, now[copy])
        for copy, fabric in view_a.assignment.items()
        if now[copy] != fabric
    }


def test_another_width_is_what_a_make_written_so_needs(view_a: Making) -> None:
    wide = Changes(cloths=(("linen", "width", "150cm"), ("linen", "usable_width", "146cm")))
    found = what_if(view_a, wide, effort=ROWS)
    edited(view_a.file.path, "width: 140cm", "width: 150cm")
    edited(view_a.file.path, "usable_width: 136cm", "usable_width: 146cm")
    assert after(found) == bought(Making(read_make(view_a.file.path)))
    (linen,) = [cloth for cloth in found.cloths if cloth.name == "linen"]
    assert linen.before
    assert linen.after
    assert linen.more_meters == linen.after.requirement.meters - linen.before.requirement.meters
    assert found.more_meters == sum(cloth.more_meters for cloth in found.cloths)
    costs = found.costs(after=True)["USD"] - found.costs(after=False)["USD"]
    assert linen.after.requirement.cost is not None
    assert linen.before.requirement.cost is not None
    assert costs == pytest.approx(linen.after.requirement.cost - linen.before.requirement.cost)


def test_another_width_keeps_its_selvages(view_a: Making) -> None:
    entry = changed(view_a, Changes(cloths=(("linen", "width", "150cm"),))).file.make.fabric(
        "linen"
    )
    assert entry.usable_width_mm == 1460


@pytest.mark.parametrize(
    ("key", "moved"),
    [
        ("contrast", {"collar-upper/whole", "collar-under/whole", "pocket/left", "pocket/right"}),
        ("pocket", {"pocket/left", "pocket/right"}),
        ("pocket/left", {"pocket/left"}),
    ],
)
def test_a_role_a_piece_or_a_copy_is_cut_from_another_cloth(
    view_a: Making, key: str, moved: set[str]
) -> None:
    found = what_if(view_a, Changes(cut_from=((key, "linen"),)), effort=ROWS)
    assert dict(found.moved) == dict.fromkeys(moved, ("print", "linen"))
    gone = {cloth.name for cloth in found.cloths if cloth.after is None}
    assert gone == ({"print"} if key == "contrast" else set())


def test_nothing_changed_is_nothing_more(view_a: Making) -> None:
    found = what_if(view_a, Changes(cloths=(("linen", "price", "18.50 USD/yd"),)), effort=ROWS)
    assert found.moved == {}
    assert found.more_meters == 0
    assert found.costs(after=True) == found.costs(after=False)


def test_a_copy_that_was_pinned_stays_only_on_its_own_unchanged_cloth(view_a: Making) -> None:
    pins = {"pocket/left": PinEntry("10cm", "10cm"), "belt/left": PinEntry("10cm", "10cm")}
    make = replace(view_a.file.make, pins=pins)
    making = Making(replace(view_a.file, make=make))
    other = changed(making, Changes(cut_from=(("pocket/left", "linen"),)))
    assert set(other.file.make.pins) == {"belt/left"}
    wide = changed(making, Changes(cloths=(("linen", "width", "150cm"),)))
    assert set(wide.file.make.pins) == {"pocket/left"}
    assert set(making.file.make.pins) == set(pins)


def test_keys_that_may_change_are_those_of_a_fabric() -> None:
    entry = FabricEntry("linen", "140cm")
    assert all(isinstance(getattr(entry, key), str) for key in CLOTH_KEYS)


def test_unknown_names_are_refused_with_what_was_meant(view_a: Making) -> None:
    for changes in (
        Changes(swaps=(("linen", "prnt"),)),
        Changes(cut_from=(("pocket", "prnt"),)),
        Changes(cut_from=(("pockt", "print"),)),
        Changes(cloths=(("prnt", "width", "1m"),)),
        Changes(cloths=(("print", "widht", "1m"),)),
    ):
        with pytest.raises(Misuse) as caught:
            what_if(view_a, changes, effort=ROWS)
        assert "Did you mean" in caught.value.what_to_do
