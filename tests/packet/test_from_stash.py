"""A make cut from what is at hand: every copy has one cloth, and the amounts are those of `cut`."""

from __future__ import annotations

import shutil
from dataclasses import replace
from pathlib import Path

import pytest
from shapely import Polygon, box

from clothwise.components import read_make
from clothwise.cutting import Effort, LayoutCancelled
from clothwise.cutting.verify_remnant import verify_remnant
from clothwise.errors import Misuse, UnitError
from clothwise.packet.adopted_remnants import adopting
from clothwise.packet.from_stash import (
    CHOSEN,
    ByHand,
    FromStash,
    Together,
    Verdict,
    adopted_remnants,
    chosen_by_hand,
    from_stash,
)
from clothwise.packet.making import Making
from clothwise.packet.stash_pages import remnant_page, write_stash_pictures
from clothwise.packet.stash_words import (
    answer_text,
    at_hand_sentence,
    called,
    kept_sentences,
    lines_of,
    stash_data,
)
from clothwise.pattern.commands import command_from_data, read_documents
from clothwise.pattern.document import RemnantEntry, parse_stash

EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "kiln-mixtures"
ROWS = Effort(0, 1)
STASH = parse_stash(
    """\
schema: 1
remnants:
  blue: {title: Blue canvas, length: 90cm, width: 70cm, roles: [main, yoke]}
  scrap:
    outline: [[0, 0], [80cm, 2cm], [78cm, 40cm], [35cm, 42cm], [33cm, 60cm], [1cm, 58cm]]
    holes: [{along: 40cm, across: 20cm, length: 3cm, width: 3cm}]
  tiny: {length: 30cm, width: 20cm, roles: [lining]}
"""
)


@pytest.fixture(scope="module")
def making(tmp_path_factory: pytest.TempPathFactory) -> Making:
    folder = tmp_path_factory.mktemp("mixtures") / "kiln"
    shutil.copytree(EXAMPLE, folder, ignore=shutil.ignore_patterns(".layouts"))
    return Making(read_make(folder / "makes" / "four-fabrics.yaml"))


@pytest.fixture(scope="module")
def shared(making: Making) -> FromStash:
    return from_stash(making, STASH.remnants, effort=ROWS, packings=12)


def copies(making: Making) -> list[str]:
    return [f"{line.piece}/{copy}" for line in making.cutting_list for copy in line.copies]


def test_every_copy_comes_from_one_cloth(making: Making, shared: FromStash) -> None:
    assert sorted(shared.sources) == sorted(copies(making))
    assert shared.fits


def test_remnants_take_only_what_their_roles_allow(making: Making, shared: FromStash) -> None:
    roles = {
        f"{piece.name}/{copy.name}": copy.role
        for piece in making.pattern.pieces.values()
        for copy in piece.copies
    }
    came = shared.sources
    assert {roles[name] for name, cloth in came.items() if cloth == "blue"} <= {"main", "yoke"}
    assert "interfacing" not in {roles[name] for name, cloth in came.items() if cloth == "scrap"}
    assert "tiny" not in came.values()
    assert shared.plan is not None
    assert "tiny" in shared.plan.unused


def test_layouts_of_remnants_hold(shared: FromStash) -> None:
    assert shared.plan is not None
    assert shared.plan.remnants
    for layout in shared.plan.remnants:
        items = [shared.items[p.item_ids[0]] for p in layout.placements]
        assert verify_remnant(layout.remnant, layout.placements, items, layout.spacing) == ()


def test_what_is_bought_without_remnants_is_what_cut_says(
    making: Making, shared: FromStash
) -> None:
    assert shared.plan is not None
    bought = {each.bolt.name: each for each in shared.plan.bought}
    for cloth in making.cloths(effort=ROWS):
        each = bought[cloth.entry.name]
        assert each.needed_before.meters == cloth.requirement.meters
        after = each.needed.buy_length_mm if each.needed else 0.0
        assert after <= each.needed_before.buy_length_mm + 1e-6


def test_without_remnants_all_is_bought(making: Making) -> None:
    found = from_stash(making, (), effort=ROWS)
    assert found.plan is not None
    assert found.sources == {
        f"{piece}/{copy}": fabric for (piece, copy), fabric in making.assignment.items()
    }
    assert all(each.saved_mm == 0 for each in found.plan.bought)


def test_copies_apart_and_roles_together(making: Making) -> None:
    sheet = RemnantEntry("sheet", length="45cm", width="45cm", roles=("main",))
    apart = from_stash(making, (sheet,), effort=ROWS, packings=8, together=Together.COPY)
    fronts = {apart.sources[f"bodice-front/{side}"] for side in ("left", "right")}
    sleeves = {apart.sources[f"sleeve/{side}"] for side in ("left", "right")}
    assert {"sheet", "linen"} in (fronts, sleeves) or "sheet" in apart.sources.values()
    role = from_stash(making, (sheet,), effort=ROWS, packings=8, together=Together.ROLE)
    assert "sheet" not in role.sources.values()  # all of the main fabric is more than it has


# A length at hand


def test_a_length_that_suffices(making: Making) -> None:
    found = from_stash(making, (), at_hand={"slate": "2m"}, effort=ROWS)
    (slate,) = found.at_hand
    assert slate.verdict is Verdict.FITS
    assert found.sources["skirt-back-band/whole"] == "slate"
    assert found.plan is not None
    assert "slate" not in [each.bolt.name for each in found.plan.bought]
    assert "suffice" in at_hand_sentence(slate, making.unit)


def test_a_length_that_cannot_suffice(making: Making) -> None:
    found = from_stash(making, (), at_hand={"linen": "20cm"}, effort=ROWS, packings=4)
    (linen,) = found.at_hand
    assert linen.verdict is Verdict.CANNOT
    assert linen.least_mm > linen.length_mm
    assert not found.fits
    assert "does not come out" in answer_text(making, found)
    assert "cannot suffice" in at_hand_sentence(linen, making.unit)


def test_what_a_length_lacks_comes_from_remnants(making: Making) -> None:
    """The slate band alone: a length too short for it, and a remnant that has room."""
    band = RemnantEntry("band", length="40cm", width="140cm", roles=("band",))
    short = from_stash(making, (), at_hand={"slate": "10cm"}, effort=ROWS, packings=6)
    helped = from_stash(making, (band,), at_hand={"slate": "10cm"}, effort=ROWS, packings=6)
    assert not short.fits
    assert helped.fits
    assert helped.sources["skirt-back-band/whole"] == "band"


# What cannot be asked


def test_a_fabric_that_nothing_is_cut_from(making: Making) -> None:
    with pytest.raises(Misuse, match="nothing is cut from a fabric 'silk'"):
        from_stash(making, (), at_hand={"silk": "2m"})


@pytest.mark.parametrize("length", ["0m", "-1m", "a lot", "2"])
def test_a_length_that_is_none(making: Making, length: str) -> None:
    with pytest.raises((Misuse, UnitError)):
        from_stash(making, (), at_hand={"linen": length})


def test_a_remnant_with_the_name_of_a_fabric(making: Making) -> None:
    with pytest.raises(Misuse, match="both called linen"):
        from_stash(making, (RemnantEntry("linen", length="1m", width="1m"),))


def test_cancelling_ends_it(making: Making) -> None:
    with pytest.raises(LayoutCancelled):
        from_stash(making, STASH.remnants, effort=ROWS, cancelled=lambda: True)


# Told


def test_lines_of_some_copies(making: Making) -> None:
    (line,) = lines_of(making, ["sleeve/right"], opened=True)
    assert (line.copies, line.mirrored, line.notes) == (
        ("right",), 1, ("pattern printed side down",)
    )  # fmt: skip
    (back,) = lines_of(making, ["skirt-back/whole"], opened=True)
    assert back.amount == "1, opened out"


def test_data_holds_the_place_of_every_copy(making: Making, shared: FromStash) -> None:
    data = stash_data(making, shared)
    placed = [c for each in data["remnants"] for p in each["placements"] for c in p["copies"]]
    assert sorted(placed) == sorted(
        name for name, cloth in shared.sources.items() if cloth in ("blue", "scrap")
    )
    assert data["fits"] is True


def test_a_page_of_each_cloth(making: Making, shared: FromStash, tmp_path: Path) -> None:
    assert shared.plan is not None
    page = remnant_page(making, shared, shared.plan.remnants[0])
    assert {layer.name for layer in page.layers} >= {"page", "cloth", "pieces"}
    written = write_stash_pictures(making, shared, tmp_path / "pages", kinds=("svg",))
    laid = [each for each in shared.plan.bought if each.layout]
    assert len(written) == len(shared.plan.remnants) + len(laid)
    for one in written:
        assert one.path.read_text("utf-8").startswith("<")


def test_what_is_pinned_stays_on_its_fabric(making: Making) -> None:
    from clothwise.packet.pins import pins_where_they_lie

    cloths = making.cloths(effort=ROWS)
    pins = pins_where_they_lie(making, cloths, ["belt"])
    pinned = Making(replace(making.file, make=replace(making.file.make, pins=pins)))
    found = from_stash(pinned, STASH.remnants, effort=ROWS, packings=4)
    assert found.kept_apart == {"belt/left": "pinned", "belt/right": "pinned"}
    assert found.sources["belt/left"] == "linen"


def test_what_was_chosen_by_hand_stays_on_its_cloth_unless_one_says_otherwise(
    making: Making,
) -> None:
    make = replace(making.file.make, copies={"belt": "slate"})
    making = Making(replace(making.file, make=make))
    chosen = chosen_by_hand(making)
    assert chosen == {"belt/left", "belt/right"}
    sheet = RemnantEntry("sheet", title="Sheet", length="3m", width="1.5m")
    found = from_stash(making, (sheet,), effort=ROWS, packings=8)
    assert {each for each, why in found.kept_apart.items() if why == CHOSEN} == chosen
    assert {found.sources[each] for each in chosen} == {"slate"}
    (said,) = kept_sentences(making, found)
    assert said.startswith("Stays on its fabric: ")
    assert said.endswith("(chosen by hand).")
    assert not any(each in said for each in chosen)  # pieces are called as people call them
    moved = from_stash(making, (sheet,), effort=ROWS, packings=8, by_hand=ByHand.MAY_MOVE)
    assert not moved.kept_apart


def test_copies_are_called_by_their_piece_and_named_where_others_are_left_out(
    making: Making,
) -> None:
    assert called(making, ["belt/left", "belt/right"]) == making.pattern.piece("belt").title
    assert called(making, ["belt/left"]) == f"{making.pattern.piece('belt').title} (left)"


# Adopted


def test_a_make_that_adopts_cuts_each_piece_where_it_was_laid(tmp_path: Path) -> None:
    """Read back from its file, it has the remnants as fabrics and the same layouts on them."""
    folder = tmp_path / "kiln"
    shutil.copytree(EXAMPLE, folder, ignore=shutil.ignore_patterns(".layouts"))
    path = folder / "makes" / "four-fabrics.yaml"
    before = Making(read_make(path))
    found = from_stash(before, effort=ROWS, packings=8)
    assert found.plan is not None
    assert found.plan.remnants
    name = "makes/four-fabrics.yaml"
    command = adopting(before, found, name)
    assert command_from_data(command.to_data()) == command
    path.write_text(command.apply(read_documents(folder))[name], encoding="utf-8")
    after = Making(read_make(path))
    cloths = {cloth.entry.name: cloth for cloth in after.cloths(effort=ROWS)}
    for layout in found.plan.remnants:
        cloth = cloths[layout.remnant.name]
        assert cloth.layout.length_mm <= layout.remnant.fabric.length_mm
        by_id = {item.id: item for item in cloth.items}
        assert sorted(by_id) == sorted(p.item_ids[0] for p in layout.placements)
        for one, other in zip(
            sorted(layout.placements, key=lambda p: p.item_ids),
            sorted(cloth.layout.placements, key=lambda p: p.item_ids),
            strict=True,
        ):
            assert other.translation == pytest.approx(one.translation, abs=0.01)
        placements = cloth.layout.placements
        assert verify_remnant(layout.remnant, placements, cloth.items, layout.spacing) == ()
    again = from_stash(after, effort=ROWS, packings=4)
    assert adopted_remnants(after) == {each.remnant.name for each in found.plan.remnants}
    assert {each.entry.name for each in again.at_hand} == adopted_remnants(after)
    assert all(each.verdict is Verdict.FITS for each in again.at_hand)


def test_nothing_to_adopt_is_told(making: Making) -> None:
    with pytest.raises(Misuse, match="nothing to adopt"):
        adopting(making, from_stash(making, (), effort=ROWS), "make.yaml")


def test_another_stash_than_the_make_names_is_not_adopted(
    making: Making, shared: FromStash, tmp_path: Path
) -> None:
    with pytest.raises(Misuse, match="names another stash"):
        adopting(making, shared, "make.yaml", tmp_path / "other.yaml")


def test_a_remnant_as_a_fabric_lacks_what_its_outline_lacks() -> None:
    """Its box less the flaws is its outline less holes: areas by the polygon engine."""
    scrap = STASH.remnants[1]
    fabric = scrap.as_fabric()
    free = box(0, 0, fabric.length_mm, fabric.width_mm)
    for flaw in fabric.flaws:
        free = free.difference(Polygon(flaw.corners_mm))
    cloth = Polygon(scrap.corners_mm).difference(Polygon(scrap.holes[0].corners_mm))
    assert free.symmetric_difference(cloth).area < 1.0
