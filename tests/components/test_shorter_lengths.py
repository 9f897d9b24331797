"""Shorter lengths on one print: the lines lie where the shorter garment would be cut."""

from __future__ import annotations

import pytest

from clothwise.checks import check
from clothwise.errors import ComponentError
from clothwise.geometry import Path
from clothwise.pattern import Pattern, run
from clothwise.pattern.mark import MarkKind
from clothwise.work import LineRole, plan, steps, verify
from clothwise.work.scene import scenes
from component_cases import Parts, body, chart, drafted, skirt_alone, skirt_on_bodice

LENGTHS: Parts = {"lengths": ("shorter-lengths", {"number": 2, "step": 40.0})}


def coat(hem: str = "double-hem", lengths: Parts | None = None) -> Parts:
    return {
        "bodice": ("darted-bodice", {}),
        "front": ("lapel-front", {}),
        "skirt": ("a-line-skirt", {"length": 720.0}),
        "collar": ("notched-collar", {}),
        "binding": ("bound-armhole", {}),
        "hem": (hem, {}),
        **(LENGTHS if lengths is None else lengths),
    }


def lines(pattern: Pattern, piece: str) -> dict[str, Path]:
    return {
        mark.name: mark.path
        for mark in pattern.piece(piece).marks
        if mark.kind is MarkKind.CUTTING_LINE and mark.path
    }


@pytest.mark.parametrize("hem", ["double-hem", "single-hem", "rolled-hem", "bound-hem"])
def test_all_pieces_of_the_lower_edge_have_every_line(hem: str) -> None:
    for wearer in (chart()[0], body(), chart()[9]):
        pattern = drafted(coat(hem), wearer)
        assert check(pattern, wearer) == ()
        for piece in ("skirt-front", "skirt-back", "collar-facing"):
            assert set(lines(pattern, piece)) == {"length 2", "length 3"}


@pytest.mark.parametrize("place", [1, 2])
def test_a_line_lies_where_a_shorter_skirt_would_be_cut(place: int) -> None:
    """Straight down, of the same hem: drafted that much shorter, it ends exactly there."""
    long = drafted({**skirt_alone("straight-skirt", {"length": 700.0}), **LENGTHS})
    short = drafted(skirt_alone("straight-skirt", {"length": 700.0 - 40.0 * place}))
    for piece in ("skirt-front", "skirt-back"):
        line = lines(long, piece)[f"length {place + 1}"]
        hem = short.piece(piece).edge("hem")
        below = short.allowance(piece, "hem")
        for share in (0.1, 0.5, 0.9):
            point = line.point_at(share * line.length)
            nearest = hem.point_at(hem.nearest(point))
            assert nearest.distance(point) == pytest.approx(below, abs=0.01)
            assert point.y < nearest.y


def test_a_line_meets_its_fellow_at_the_side_seam() -> None:
    """Both leave the seam equally far above the hem."""
    pattern = drafted(coat())
    for name in ("length 2", "length 3"):
        up = []
        for piece in ("skirt-front", "skirt-back"):
            side, line = pattern.piece(piece).edge("side"), lines(pattern, piece)[name]
            ends = [line.point_at(15.0), line.point_at(line.length - 15.0)]
            on = min(ends, key=lambda end: side.point_at(side.nearest(end)).distance(end))
            hem = pattern.piece(piece).edge("hem")
            up.append(hem.point_at(hem.nearest(on)).distance(on))
        assert up[0] == pytest.approx(up[1], abs=0.5)


def test_a_line_goes_on_over_the_allowances() -> None:
    pattern = drafted(coat())
    front = pattern.piece("skirt-front")
    width = lines(pattern, "skirt-front")["length 3"].length
    sewn = front.edge("hem").length
    assert sewn < width < sewn + 2 * pattern.allowance("skirt-front", "side") + 5.0


@pytest.mark.parametrize("kind", ["gored-skirt", "gathered-skirt", "tiered-skirt", "circle-skirt"])
def test_any_skirt_may_be_cut_shorter(kind: str) -> None:
    parts = skirt_alone(kind, {}) if kind == "circle-skirt" else skirt_on_bodice(kind, {})
    pattern = drafted({**parts, "hem": ("rolled-hem", {}), **LENGTHS})
    marked = [name for name in pattern.pieces if lines(pattern, name)]
    assert set(marked) == set(pattern.runs["hem"].pieces)


def test_the_length_is_chosen_before_its_pieces_are_sewn() -> None:
    pattern = drafted(coat())
    order = plan(pattern)
    assert verify(pattern, order) == ()
    titles = [step.title for step in steps(pattern, order)]
    chosen = titles.index("Choose the length")
    assert chosen < titles.index("Sew the side seams of the skirt")
    (text,) = (step.text for step in steps(pattern, order) if step.title == titles[chosen])
    assert "“length 2” or “length 3”, each 4 cm higher" in text


def test_what_is_sewn_to_the_lower_edge_has_its_own_shape() -> None:
    with pytest.raises(ComponentError, match="turned or bound"):
        drafted(coat("faced-hem"))
    unhemmed = {name: part for name, part in coat().items() if name != "hem"}
    with pytest.raises(ComponentError, match="no hem yet"):
        drafted(unhemmed)


def test_a_vent_is_not_cut_away() -> None:
    skirt = skirt_alone("straight-skirt", {"vent": 170.0})
    with pytest.raises(ComponentError, match="too short for so many lengths"):
        drafted({**skirt, **LENGTHS})


def test_the_pattern_itself_stays_as_long_as_it_was() -> None:
    with_lines, plain = drafted(coat()), drafted(coat(lengths={}))
    for piece in plain.pieces:
        assert with_lines.piece(piece).outline == plain.piece(piece).outline
    hem = run("skirt-front.hem")
    assert with_lines.run_length(hem) == plain.run_length(hem)


def test_the_lines_are_seen_where_the_length_is_chosen() -> None:
    """In no other picture: what is cut off is not sewn."""
    pattern = drafted(coat())
    order = plan(pattern)
    seen = {
        operation.name
        for operation, picture in zip(order.operations, scenes(pattern, order), strict=True)
        if any(trace.piece == "skirt-front" for trace in picture.traces(LineRole.MEANT))
    }
    assert seen == {"lengths-choose"}
