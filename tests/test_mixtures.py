"""Designs chosen by hand that no example resembles: what was never drawn together goes together."""

from __future__ import annotations

import random
import shutil
from pathlib import Path

import pytest

from clothwise.checks import check
from clothwise.components.design_file import DesignFile, read_design, read_make
from clothwise.cutting import Effort
from clothwise.packet import Making
from clothwise.pattern import Pattern
from clothwise.work import plan, verify
from survey import survey_women

DATA = Path(__file__).parent / "data" / "mixtures"
CHART = Path(__file__).resolve().parents[1] / "examples" / "kiln-dress" / "sizes.csv"
NAMES = ("watch-coat", "drill-tunic", "two-sided", "ferry-wrap")
WOMEN = 6


@pytest.fixture
def folder(request: pytest.FixtureRequest, tmp_path: Path) -> Path:
    """A mixture, beside the size chart of the example dress."""
    copied = Path(shutil.copytree(DATA / request.param, tmp_path / request.param))
    shutil.copy(CHART, copied)
    return copied


every_mixture = pytest.mark.parametrize("folder", NAMES, indirect=True)


def one(name: str) -> pytest.MarkDecorator:
    return pytest.mark.parametrize("folder", [name], indirect=True)


def base(design: DesignFile) -> Pattern:
    return design.draft(body=design.body())


@every_mixture
def test_it_is_sound_for_sizes_and_women(folder: Path) -> None:
    design = read_design(folder)
    women = random.Random(folder.name).sample(survey_women(), WOMEN)
    for body in [*tuple(design.chart)[::3], *women]:
        assert check(design.draft(body=body), body) == (), body.name


@every_mixture
def test_every_seam_is_sewn_once(folder: Path) -> None:
    pattern = base(read_design(folder))
    order = plan(pattern)
    assert verify(pattern, order) == ()
    done = [name for operation in order.operations for name in operation.does]
    assert sorted(done) == sorted(use.name for use in pattern.all_uses())


@every_mixture
def test_every_copy_lies_on_a_cloth_of_the_make(folder: Path) -> None:
    making = Making(read_make(folder / "make.yaml"))
    laid = [
        item
        for cloth in making.cloths(effort=Effort(seconds=0))
        for placement in cloth.layout.placements
        for item in placement.item_ids
    ]
    assert len(laid) == len(set(laid)) == len(making.assignment)


@one("watch-coat")
def test_a_make_chooses_a_fabric_for_each_copy(folder: Path) -> None:
    """Left front unlike the right, under collar unlike the upper one, one gusset by itself."""
    make = read_make(folder / "make.yaml")
    cut = make.assign(make.draft())
    wanted = {
        ("bodice-front", "left"): "drill",
        ("bodice-front", "right"): "serge",
        ("skirt-front", "left"): "serge",
        ("skirt-front", "right"): "drill",
        ("collar-upper", "whole"): "twill",
        ("collar-under", "whole"): "canvas",
        ("collar-facing", "left"): "twill",
        ("collar-facing", "right"): "canvas",
        ("breast", "left"): "twill",
        ("breast", "right"): "canvas",
        ("pocket", "left"): "twill",
        ("pocket", "right"): "serge",
        ("pocket-gusset", "left"): "drill",
        ("pocket-gusset", "right"): "serge",
    }
    assert {copy: cut[copy] for copy in wanted} == wanted
    assert {cut[copy] for copy in cut if copy[1].startswith("interfacing")} == {"fusible"}


@one("watch-coat")
def test_pockets_of_two_sizes_have_their_places_on_bodice_and_skirt(folder: Path) -> None:
    placements = base(read_design(folder)).placements.values()
    hosts = {(each.piece, each.host) for each in placements if "flap" not in each.piece}
    assert hosts == {("breast", "bodice-front"), ("pocket", "skirt-front")}


@one("two-sided")
def test_one_front_is_divided_and_the_other_is_not(folder: Path) -> None:
    pattern = base(read_design(folder))
    fronts = {name for name in pattern.pieces if name.startswith("bodice-front")}
    assert fronts == {
        "bodice-front-left",
        "bodice-front-left-low",
        "bodice-front-right",
        "bodice-front-side",
    }
    assert {copy.role for copy in pattern.piece("bodice-front-left").copies} == {"contrast"}
    assert {copy.role for copy in pattern.piece("bodice-front-right").copies} == {"main"}
