"""The search, against trying everything, against planted figures, and against pure chance."""

from __future__ import annotations

import random
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest

from clothwise.cutting import Effort, LayoutCancelled
from clothwise.packet.tuning import (
    Dimension,
    Goal,
    Measure,
    SearchSize,
    Trier,
    adjusted_lines,
    best_of,
    dimensions_of,
    found_data,
    found_sentences,
    measure_for,
    search,
    searches_sentence,
    seeds_after,
)
from clothwise.packet.tuning.dimension import Point
from clothwise.packet.tuning.trial import ClothTried, Trial
from clothwise.pattern.document.limit import ValueLimit
from clothwise.units import LengthUnit
from market_skirt import MAKE, market_skirt, with_limits

CM = LengthUnit.CENTIMETER
ROWS = Effort(0, 1)


def trier_of(folder: Path, limits: str = "", make: str = MAKE) -> Trier:
    file = (
        market_skirt(folder, with_limits(limits), make)
        if limits
        else market_skirt(folder, make=make)
    )
    return Trier(file, dimensions_of(file), ROWS)


def test_less_flare_lets_both_panels_lie_side_by_side(tmp_path: Path) -> None:
    """The widths are reckoned here from the pieces: two and 3 mm between them, on 98 cm.

    In plain rows, where no half turn is allowed, a panel takes its whole width; so the cloth saved
    is one panel of each kind.
    """
    trier = trier_of(tmp_path, "skirt_flare: {title: flare, less: 2cm, more: 1cm, step: 2mm}")
    (flare,) = trier.dimensions
    fits, panels = {}, {}
    for number, amount in enumerate(flare.amounts):
        items = trier.trial((number,), (1,)).cloths["cord"].best.items
        panel = next(item for item in items if item.piece.startswith("skirt-front"))
        xs, ys = [x for x, _ in panel.outline], [y for _, y in panel.outline]
        fits[amount] = 2 * (max(xs) - min(xs)) + 3 <= 980
        panels[amount] = max(ys) - min(ys)
    widest = max(amount for amount, fit in fits.items() if fit)
    assert -20 < widest < 0  # else nothing is tested
    found = search(trier, measure_for(trier.file), seed=1)
    assert flare.change(found.after.point[0]) == widest
    (change,) = found.changes
    assert change.change_mm == pytest.approx(-panels[0], abs=15)  # and what follows lies anew
    first = found_sentences(found, trier.dimensions, CM)[0]
    assert first.startswith(f"{abs(widest) / 10:g} cm less flare lets two pieces of Skirt ")
    assert first.endswith(f"lie side by side: {-change.change_mm / 10:.1f} cm of Needlecord saved.")
    assert adjusted_lines(found) == (f"adjust: {{skirt_flare: {widest:g}mm}}",)


def test_the_search_finds_what_trying_everything_finds(tmp_path: Path) -> None:
    limits = """skirt_flare: {less: 2cm, more: 1cm, step: 5mm}
  skirt_length: {less: 2cm, step: 1cm}
  hem_depth: {less: 5mm, more: 1cm, step: 5mm}"""
    trier = trier_of(tmp_path, limits)
    measure = measure_for(trier.file)
    sizes = [range(dimension.size) for dimension in trier.dimensions]
    every = {
        (a, b, c): min(trier.trial((a, b, c), (1,)).values(measure))
        for a in sizes[0]
        for b in sizes[1]
        for c in sizes[2]
    }
    before = every[tuple(dimension.start for dimension in trier.dimensions)]
    found = search(trier, measure, seed=3, size=SearchSize(tries=16, seeds=2))
    assert found.saved >= 0.95 * (before - min(every.values()))
    assert found.tried < len(every) / 3


def test_the_same_seed_finds_the_same(tmp_path: Path) -> None:
    ends = [
        search(trier_of(tmp_path), measure_for(market_skirt(tmp_path)), seed=9, size=SearchSize(12))
        for _ in range(2)
    ]
    assert ends[0].after.point == ends[1].after.point
    assert ends[0].saved == ends[1].saved


def test_what_is_told_was_laid_out_with_seeds_the_search_did_not_use(tmp_path: Path) -> None:
    trier = trier_of(tmp_path)
    found = search(trier, measure_for(trier.file), seed=4, size=SearchSize(6, 3))
    seeds = tuple(layout.seed for layout in found.after.cloths["cord"].layouts)
    assert seeds == seeds_after(4, 3)
    assert 4 not in seeds


def test_nothing_is_claimed_where_nothing_is_saved(tmp_path: Path) -> None:
    trier = trier_of(tmp_path, "hem_depth: {more: 1cm}")
    found = search(trier, measure_for(trier.file, "cord"), seed=1, size=SearchSize(6))
    told = found_sentences(found, trier.dimensions, CM)
    assert (found.after.point, found.saved) == (found.before.point, 0)
    assert told[0].startswith("Nothing that was tried within the limits saves cloth.")
    assert adjusted_lines(found) == ()


def test_an_option_may_be_what_saves(tmp_path: Path) -> None:
    lengths = "length: {by: band, wide: 70cm, narrow: 66cm}"
    design = with_limits("band: {choices: [wide, narrow]}").replace("length: 70cm", lengths)
    file = market_skirt(tmp_path, design, MAKE.replace("width: 100cm", "width: 60cm"))
    trier = Trier(file, dimensions_of(file), ROWS)
    found = search(trier, measure_for(file, "cord"), seed=1, size=SearchSize(4))
    told = found_sentences(found, trier.dimensions, CM)[0]
    assert told.startswith("waist: narrow band instead of wide band: the pieces are smaller, ")
    assert adjusted_lines(found) == ("choices: {band: narrow}",)


def test_a_seam_across_may_save_cloth_though_it_costs_allowances(tmp_path: Path) -> None:
    """A seam splits the backs; on cloth for one gore at a time the shorter parts fill the gaps."""
    option = "  seam:\n    title: Back\n    choices: {whole: In one, split: Seam across}\n"
    edit = (
        "edits:\n  low: {edit: split, when: {seam: split}, piece: skirt-back, from: outer,"
        " from_at: 50%, to: inner, to_at: 50%, left: skirt-back-low}\n"
    )
    design = with_limits("seam: {title: backs, choices: [whole, split]}")
    design = design.replace("components:", f"{option}components:")
    design = design.replace("limits:", f"{edit}limits:")
    file = market_skirt(tmp_path, design, MAKE.replace("width: 100cm", "width: 60cm"))
    trier = Trier(file, dimensions_of(file), ROWS)
    found = search(trier, measure_for(file, "cord"), seed=1, size=SearchSize(4))
    (change,) = found.changes
    assert change.pieces_mm > 0 > change.change_mm
    told = found_sentences(found, trier.dimensions, CM)[0]
    assert told.startswith("backs: seam across instead of in one: ")
    assert told.endswith(" of Needlecord saved, though the pieces are larger.")


@pytest.mark.parametrize(
    ("length", "said"),
    [
        ("2.5m", "You have 250 cm of Needlecord: enough, which it was not before."),
        ("4m", "You have 400 cm of Needlecord: enough, as before."),
        ("1m", "of Needlecord: "),
    ],
)
def test_it_is_told_whether_the_length_at_hand_is_enough(
    tmp_path: Path, length: str, said: str
) -> None:
    make = MAKE.replace("width: 100cm", f"width: 100cm, length: {length}")
    trier = trier_of(tmp_path, "skirt_flare: {less: 2cm, step: 2mm}", make)
    found = search(trier, measure_for(trier.file), seed=1, size=SearchSize(11, 1))
    told = found_sentences(found, trier.dimensions, CM)
    (line,) = [each for each in told if each.startswith("You have")]
    assert said in line
    assert line.endswith("too little.") == (length == "1m")


def test_what_is_found_can_be_had_as_data(tmp_path: Path) -> None:
    trier = trier_of(tmp_path)
    found = search(trier, measure_for(trier.file), seed=1, size=SearchSize(8, 2))
    data = found_data(found, trier.dimensions, CM)
    assert data["saved"] == pytest.approx(found.saved, abs=0.01)
    assert data["goal"] == "cost"
    assert data["adjust"] == found.after.file.make.adjust
    assert data["told"] == list(found_sentences(found, trier.dimensions, CM))


# Planted figures ----------------------------------------------------------------------------------


class Planted:
    """Stands in for a `Trier`: figures from a function instead of layouts."""

    def __init__(self, sizes: Sequence[int], start: Point, figure: Any) -> None:
        self.dimensions = tuple(
            Dimension(ValueLimit(f"v{at}", less="1cm"), f"v{at}", tuple(range(size)), start[at])
            for at, size in enumerate(sizes)
        )
        self.figure = figure
        self.asked: list[Point] = []

    def prepare(self, *_: object) -> None:
        """Nothing to lay out."""

    def trial(self, point: Point, seeds: Sequence[int], _: Any = None) -> Any:
        self.asked.append(point)
        return PlantedTrial(point, [self.figure(point, seed) for seed in seeds])


class PlantedTrial(Trial):
    def __init__(self, point: Point, figures: Sequence[float]) -> None:
        cloths: dict[str, ClothTried] = {}
        super().__init__(point, None, cloths)  # type: ignore[arg-type]
        object.__setattr__(self, "figures", figures)

    def values(self, measure: Measure) -> tuple[float, ...]:
        return tuple(self.figures)  # type: ignore[attr-defined]


LENGTH = Measure(Goal.LENGTH, {"cord": 1.0}, "cord")


def planted_search(planted: Planted, seed: int, size: SearchSize) -> Any:
    return search(planted, LENGTH, seed=seed, size=size)  # type: ignore[arg-type]


@pytest.mark.parametrize("seed", range(5))
def test_a_step_that_two_values_make_together_is_found(seed: int) -> None:
    """600 are saved once both are low enough; neither alone does anything."""

    def figure(point: Point, _: int) -> float:
        return 2400.0 - 600.0 * (point[0] <= 6 and point[1] <= 4)

    planted = Planted((21, 11, 11), (14, 9, 5), figure)
    found = planted_search(planted, seed, SearchSize(tries=30, seeds=2))
    assert found.saved == 600
    # Taken back toward the design as far as the step allows, and no further.
    assert found.after.point == (6, 4, 5)


def test_what_cannot_be_made_is_never_the_answer() -> None:
    def figure(point: Point, _: int) -> float:
        return float("inf") if point[0] < 5 else 1000.0 + point[0]

    found = planted_search(Planted((11,), (8,), figure), 1, SearchSize(tries=10))
    assert found.after.point == (5,)
    assert found.refused > 0


def test_pure_chance_is_seldom_called_clear() -> None:
    """Layouts that differ by chance alone: the finalists of a search must not look better.

    One set of four figures lies wholly below another of the same kind once in 70 times; of two
    finalists the better one is told: at most 2 in 70, 5.7 of 200. More than 12 of 200 would come
    by chance less than once in a hundred times (binomial).
    """

    def figure(point: Point, seed: int) -> float:
        return 2000.0 + random.Random(f"{point} {seed}").gauss(0.0, 20.0)

    clear = 0
    for seed in range(200):
        found = planted_search(Planted((9, 9), (4, 4), figure), seed, SearchSize(tries=12))
        clear += found.after.point != (4, 4) and found.is_clear
    assert clear <= 12


def test_stopped_early_it_tells_what_it_has() -> None:
    def figure(point: Point, _: int) -> float:
        if len(planted.asked) > 4:
            raise LayoutCancelled("stopped")
        return 1000.0 + point[0]

    planted = Planted((21,), (10,), figure)
    asked: dict[Point, float] = {}

    def remembered(point: Point, seed: int) -> float:
        if point not in asked:
            asked[point] = figure(point, seed)
        return asked[point]

    planted.figure = remembered
    found = planted_search(planted, 1, SearchSize(tries=15, seeds=1))
    assert not found.is_whole
    assert found.after.point == (0,)


def test_stopped_before_anything_is_known_it_says_so() -> None:
    def figure(point: Point, _: int) -> float:
        raise LayoutCancelled("stopped")

    with pytest.raises(LayoutCancelled):
        planted_search(Planted((5,), (2,), figure), 1, SearchSize())


def test_several_searches_tell_how_far_chance_goes(tmp_path: Path) -> None:
    trier = trier_of(tmp_path)
    measure = measure_for(trier.file, "cord")
    found = [search(trier, measure, seed=seed, size=SearchSize(8, 2)) for seed in (1, 2)]
    assert best_of(found).saved == max(each.saved for each in found)
    told = searches_sentence(found, trier.dimensions, CM)
    assert told.startswith("2 searches saved ")
