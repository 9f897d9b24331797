"""The gored skirt: equal gores with one seam line, as wide as waist, hip and flare say."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import partial
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from clothwise.checks.girths import measured_girths
from clothwise.components import Drafting
from clothwise.components.skirts.gored_skirt import GoredSkirt, Gores
from clothwise.errors import ComponentError
from clothwise.geometry import Path
from clothwise.pattern import Body, Pattern
from component_cases import (
    Parameters,
    Parts,
    assert_seams_true,
    bodies_to_draft,
    body,
    drafted,
    drafted_or_refused,
    parameters_in_range,
    skirt_alone,
    skirt_on_bodice,
)

KIND = "gored-skirt"
INCH = 25.4
COUNTS = {"four": 4, "six": 6, "eight": 8}


alone, on_bodice = partial(skirt_alone, KIND), partial(skirt_on_bodice, KIND)


def around(pattern: Pattern, edge: str) -> list[float]:
    """The edge of each gore as it is cut, all round; half gores on the fold count whole."""
    lengths = []
    for piece in pattern.pieces.values():
        if piece.component == "skirt":
            whole = 2 if piece.fold_edge or "center-seam" in piece.edge_names else 1
            lengths += [whole * piece.edge(edge).length] * (2 // whole)
    return lengths


def at_depth(path: Path, depth: float) -> float:
    """Where a path that leads up crosses a level."""
    for low, high in pairwise(path.flattened()):
        if low.y <= -depth <= high.y:
            return low.x + (high.x - low.x) * (-depth - low.y) / (high.y - low.y)
    raise AssertionError(f"nothing at {depth}")


@pytest.mark.parametrize("parts", [alone, on_bodice])
@settings(max_examples=30)
@given(bodies_to_draft(), parameters_in_range(KIND))
def test_any_body_and_parameters_give_a_true_skirt(
    parts: Callable[[Parameters], Parts], wearer: Body, parameters: Parameters
) -> None:
    pattern = drafted_or_refused(parts(parameters), wearer)
    if pattern is None:
        return
    assert_seams_true(pattern)
    assert all(piece.outline.polygon.is_valid for piece in pattern.pieces.values())
    wanted = wearer["hip_girth"] + float(parameters.get("hip_ease", 70))
    hip = {name: garment for name, garment, _ in measured_girths(pattern, wearer)}["hip"]
    assert hip == pytest.approx(wanted, abs=1.0)


@pytest.mark.parametrize("gores", COUNTS)
def test_waist_and_hip_are_divided_equally(gores: str) -> None:
    """C12: five gores of a 25 in waist and 40 in hip are 5 and 8 in (The Perfect Dressmaking
    System, 1914): the girth divided by the number of gores. Here with four, six and eight."""
    assert (25 / 5, 40 / 5) == (5.0, 8.0)
    wearer = body(waist_girth=25 * INCH, hip_girth=40 * INCH)
    pattern = drafted(alone({"gores": gores, "waist_ease": 0.0, "hip_ease": 0.0}), wearer)
    count = COUNTS[gores]
    assert around(pattern, "waist") == pytest.approx([25 * INCH / count] * count, abs=0.2)
    depth = wearer["waist_to_hip"]
    for piece in pattern.pieces.values():
        if piece.component == "skirt":
            half = at_depth(piece.edge("outer"), depth)
            assert 2 * half == pytest.approx(40 * INCH / count, abs=1.0)


@pytest.mark.parametrize("gores", COUNTS)
def test_the_hem_is_shared_by_the_gores(gores: str) -> None:
    """C10: hem of a gore = (hem - special gores) / rest; 81 in less a front of 10 in by four is
    17.75 in. Here no gore is special, so the rest is the whole."""
    assert (81 - 10) / 4 == 17.75
    pattern = drafted(alone({"gores": gores}))
    hems, count = around(pattern, "hem"), COUNTS[gores]
    assert len(hems) == count
    assert hems == pytest.approx([sum(hems) / count] * count, abs=0.5)


@settings(max_examples=20)
@given(bodies_to_draft(), st.sampled_from(sorted(COUNTS)))
def test_all_seams_are_one_line(wearer: Body, gores: str) -> None:
    """Moved and mirrored they lie on each other, not only in length."""
    pattern = drafted(on_bodice({"gores": gores}), wearer)
    lines = []
    for piece in pattern.pieces.values():
        if piece.component == "skirt":
            lines.append(piece.edge("outer"))
            if "inner" in piece.edge_names:
                lines.append(piece.edge("inner").reversed())
    first = lines[0]
    for line in lines[1:]:
        for share in (0.2, 0.5, 0.8, 1.0):
            one = first.point_at(share * first.length) - first.start
            other = line.point_at(share * line.length) - line.start
            assert abs(other.x) == pytest.approx(abs(one.x), abs=0.1)
            assert other.y == pytest.approx(one.y, abs=0.1)


def test_waist_and_hem_are_square_to_the_seams() -> None:
    for gores in COUNTS:
        pattern = drafted(on_bodice({"gores": gores}))
        for piece in pattern.pieces.values():
            if piece.component == "skirt":
                hem, outer, waist = (piece.edge(name) for name in ("hem", "outer", "waist"))
                for before, after in ((hem, outer), (outer, waist)):
                    turn = after.start_tangent.angle - before.end_tangent.angle
                    turned = math.remainder(turn, 2 * math.pi)
                    assert turned == pytest.approx(math.pi / 2, abs=2e-3)


def test_the_opening_reaches_to_the_hip_and_on() -> None:
    wearer = body()
    for gores in COUNTS:
        pattern = drafted(alone({"gores": gores, "opening_below_hip": 20.0}), wearer)
        opening = [edge for edge in pattern.runs["opening"].edges if edge.piece != "band"]
        (edge,) = opening
        lowest = min(point.y for point in pattern.path(edge).flattened())
        assert -lowest == pytest.approx(wearer["waist_to_hip"] + 20, abs=1.5)


@pytest.mark.parametrize(
    ("length_mm", "flare_mm", "words"),
    [(230.0, 60.0, "the skirt ends at the hip"), (300.0, 2000.0, "the gores flare too much")],
)
def test_a_skirt_too_short_for_hip_or_flare_is_refused(
    length_mm: float, flare_mm: float, words: str
) -> None:
    """Within the ranges of its parameters no usual body is; the guard is for unusual ones."""
    skirt = GoredSkirt(Gores.FOUR, length_mm, flare_mm=flare_mm)
    with pytest.raises(ComponentError, match=words):
        skirt.contribute(Drafting("skirt", body(), Pattern()))
