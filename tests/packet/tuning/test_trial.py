"""Makes tried with other values: sound or refused, measured, never taken from what is kept."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from clothwise.cutting import Effort, LayoutCancelled, verify
from clothwise.errors import Misuse
from clothwise.packet.tuning import Goal, Trier, dimensions_of, measure_for, start_of
from clothwise.packet.tuning import trial as trial_module
from market_skirt import MAKE, market_skirt, with_limits

ROWS = Effort(0, 1)


def trier_of(folder: Path, limits: str = "", make: str = MAKE) -> Trier:
    file = market_skirt(folder, with_limits(limits), make) if limits else market_skirt(folder)
    return Trier(file, dimensions_of(file), ROWS)


def test_a_trial_holds_a_verified_layout_of_every_fabric_for_each_seed(tmp_path: Path) -> None:
    trier = trier_of(tmp_path)
    trial = trier.trial(start_of(trier.dimensions), (5, 6))
    assert list(trial.cloths) == ["cord", "fusible"]
    for cloth in trial.cloths.values():
        assert [layout.seed for layout in cloth.layouts] == [5, 6]
        assert [verify(plan.layout, plan.items) for plan in cloth.plans] == [(), ()]
    assert not (tmp_path / ".layouts").exists()


def test_what_the_checks_find_or_nobody_can_draft_is_refused_with_its_reason(
    tmp_path: Path,
) -> None:
    trier = trier_of(tmp_path, "skirt_flare: {less: 10cm}")
    trial = trier.trial((0,), (1,))
    assert "flare is 1 cm" in trial.refused
    assert trial.values(measure_for(trier.file)) == (float("inf"),)


def test_what_is_wider_than_the_cloth_is_refused(tmp_path: Path) -> None:
    make = MAKE.replace("width: 100cm", "width: 55cm")
    file = market_skirt(tmp_path, with_limits("skirt_flare: {more: 7cm}"), make)
    trier = Trier(file, dimensions_of(file), ROWS)
    assert "FABRIC-NARROW at skirt-" in trier.trial((70,), (1,)).refused


def test_the_same_question_is_searched_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The fusible of the band does not change with the flare."""
    asked = []
    really = trial_module.search_layout

    def counted(question, how):  # type: ignore[no-untyped-def]
        asked.append(question.fabric.name)
        return really(question, how)

    monkeypatch.setattr(trial_module, "search_layout", counted)
    trier = trier_of(tmp_path)
    start = start_of(trier.dimensions)
    for point in (start, (0, *start[1:]), start):
        trier.trial(point, (1,))
    assert asked == ["Needlecord", "Fusible", "Needlecord"]


def test_cloth_at_hand_does_not_stop_a_trial(tmp_path: Path) -> None:
    """Whether it fits is what one wants to know; it is laid out as if there were enough."""
    file = market_skirt(tmp_path)
    short = [
        replace(entry, length="1m") if entry.name == "cord" else entry
        for entry in file.make.fabrics
    ]
    file = replace(file, make=replace(file.make, fabrics=tuple(short)))
    trier = Trier(file, dimensions_of(file), ROWS)
    assert trier.trial(start_of(trier.dimensions), (1,)).cloths["cord"].buy_mm[0] > 1000


def test_money_counts_where_all_prices_are_known(tmp_path: Path) -> None:
    file = market_skirt(tmp_path)
    measure = measure_for(file)
    assert (measure.goal, measure.currency) == (Goal.COST, "EUR")
    assert measure.weights == pytest.approx({"cord": 0.018, "fusible": 0.007})
    assert measure_for(file, "cord").weights == {"cord": 1.0, "fusible": 0.0}
    for make in (
        MAKE.replace(", price: 7 EUR/m", ""),
        MAKE.replace("7 EUR/m", "7 USD/m"),
        MAKE.replace("7 EUR/m", "0 EUR/m").replace("18 EUR/m", "0 EUR/m"),
    ):
        measure = measure_for(market_skirt(tmp_path, make=make))
        assert measure.goal is Goal.AREA
        assert measure.weights == {"cord": 1000.0, "fusible": 900.0}


def test_an_unknown_fabric_is_refused(tmp_path: Path) -> None:
    with pytest.raises(Misuse, match="no fabric 'chord'"):
        measure_for(market_skirt(tmp_path), "chord")


def test_a_cancelled_trial_ends(tmp_path: Path) -> None:
    file = market_skirt(tmp_path)
    trier = Trier(file, dimensions_of(file), Effort(1, 1), cancelled=lambda: True)
    with pytest.raises(LayoutCancelled):
        trier.trial(start_of(trier.dimensions), (1,))


def test_several_workers_find_what_one_finds(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A piece for each fabric, so that every layout is soon found."""
    fabrics = "".join(f"  {name}: {{width: 140cm}}\n" for name in ("one", "two", "three", "four"))
    copies = (
        "{skirt-front/left: one, skirt-front/right: two, skirt-back/left: three, waistband: four}"
    )
    make = MAKE.replace("roles:", f"{fabrics}copies: {copies}\nroles:")
    file = market_skirt(tmp_path, with_limits("skirt_flare: {less: 2cm, step: 2cm}"), make)
    dimensions, effort = dimensions_of(file), Effort(1, 1)
    one = Trier(file, dimensions, effort).trial((0,), (1,))
    several = Trier(file, dimensions, effort, workers=2)
    several.prepare([(0,), (1,)], (1,))
    monkeypatch.setattr(trial_module, "search_layout", None)  # everything is there already
    found = several.trial((0,), (1,))
    for name, cloth in one.cloths.items():
        assert found.cloths[name].best.layout.placements == cloth.best.layout.placements
    assert several.trial((1,), (1,)).cloths["cord"].buy_mm[0] > 0
