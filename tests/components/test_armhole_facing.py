"""The armhole facing: its outer line is the armhole, its notches are those of a sleeve."""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from clothwise.checks import check
from clothwise.components.facings.armhole_facing import laid_half
from clothwise.errors import ComponentError
from clothwise.geometry import Outline, Path, Point, cubic_between, polar, straight
from clothwise.pattern import (
    Body,
    EdgeRef,
    FinishKind,
    Grainline,
    NotchKind,
    Pattern,
    Piece,
    Ply,
    Pressing,
    single,
)
from clothwise.work import Part, parts, plan, verify
from component_cases import (
    Parameters,
    Parts,
    assert_seams_true,
    bodies_to_draft,
    body,
    drafted,
    drafted_or_refused,
    dress_with,
    parameters_in_range,
)

KIND = "armhole-facing"


def design(parameters: Parameters, bodice: Parameters | None = None) -> Parts:
    return dress_with({"armhole": (KIND, parameters)}, {"armhole_ease": 25.0, **(bodice or {})})


@settings(max_examples=40)
@given(bodies_to_draft(), parameters_in_range(KIND), parameters_in_range("darted-bodice"))
def test_any_facing_is_as_long_as_its_armhole(
    wearer: Body, parameters: Parameters, bodice: Parameters
) -> None:
    pattern = drafted_or_refused(design(parameters, bodice), wearer)
    if pattern is None:
        return
    assert_seams_true(pattern)
    for half in ("front", "back"):
        facing, faced = pattern.piece(f"armhole-{half}"), pattern.piece(f"bodice-{half}")
        assert facing.edge("armhole") == faced.edge("armhole")
        assert facing.outline.polygon.is_valid


@settings(max_examples=40)
@given(bodies_to_draft(), parameters_in_range(KIND))
def test_it_keeps_its_width_within_an_eighth_and_ends_squarely(
    wearer: Body, parameters: Parameters
) -> None:
    pattern = drafted_or_refused(design(parameters), wearer)
    assert pattern is not None
    width = float(parameters.get("width", 45.0))
    for half in ("front", "back"):
        piece = pattern.piece(f"armhole-{half}")
        armhole, inner = piece.edge("armhole"), piece.edge("inner")
        for share in range(11):
            point = inner.point_at(share / 10 * inner.length)
            off = point.distance(armhole.point_at(armhole.nearest(point)))
            assert 0.85 * width <= off <= width + 0.5
        for edge in ("shoulder", "side"):
            assert piece.edge(edge).length == pytest.approx(width)
        assert armhole.end_tangent.dot(piece.edge("shoulder").start_tangent) == pytest.approx(0.0)


def test_a_dress_with_it_has_no_finding_and_can_be_sewn() -> None:
    pattern = drafted(design({}))
    assert check(pattern, body()) == ()
    order = plan(pattern)
    assert verify(pattern, order) == ()
    names = [operation.name for operation in order.operations]
    for first in ("bodice-shoulders", "bodice-sides", "armhole-join"):
        assert names.index(first) < names.index("armhole-attach")


def test_it_is_a_facing_and_no_sleeve() -> None:
    pattern = drafted(design({}))
    found = parts(pattern)
    assert {found["armhole-front"], found["armhole-back"]} == {Part.INSIDE}
    assert pattern.seams["armhole-armhole"].pressing is Pressing.TURNED
    assert pattern.finishes["armhole-inner"].kind is FinishKind.OVERLOCKED


def test_notches_are_single_in_front_and_double_at_the_back() -> None:
    pattern = drafted(design({}))
    seam = pattern.seams["armhole-armhole"]
    kinds = {match.name: match.notch for match in seam.matches}
    assert kinds["front notch"] is NotchKind.SINGLE
    assert kinds["back notch"] is NotchKind.DOUBLE
    assert all(match.at_mm[0] == match.at_mm[1] for match in seam.matches)


def test_each_half_is_cut_in_pairs_and_interfaced() -> None:
    piece = drafted(design({})).piece("armhole-back")
    assert [copy.ply for copy in piece.copies] == [Ply.SHELL] * 2 + [Ply.INTERFACING] * 2


def test_panels_lie_with_their_seams_closed() -> None:
    """An armhole over two panels, the lower one drawn apart and turned, becomes one smooth line."""
    corner = Point(40.0, 60.0)
    upper = cubic_between(corner, polar(1.0, 1.2), Point(55.0, 150.0), polar(1.0, 1.4))
    lower = cubic_between(Point(500.0, 0.0), polar(1.0, 0.4), Point(530.0, 50.0), polar(1.0, 2.0))
    pieces = {name: _panel(name, path) for name, path in (("side", lower), ("center", upper))}
    pattern = Pattern(pieces=pieces)
    laid = laid_half(pattern, [EdgeRef("side", "armhole"), EdgeRef("center", "armhole")])
    assert laid.length == pytest.approx(lower.length + upper.length)
    assert laid.end == upper.end
    before, after = laid.segments
    assert before.end.is_close(after.start, 1e-6)
    turn = laid.tangent_at(lower.length - 1e-3).cross(laid.tangent_at(lower.length + 1e-3))
    assert abs(turn) < 1e-3


def _panel(name: str, path: Path) -> Piece:
    far = Point(path.start.x - 200.0, path.start.y)
    return Piece(
        name=name,
        title=name,
        outline=Outline(
            {
                "armhole": path,
                "rest": straight(path.end, far),
                "low": straight(far, path.start),
            }
        ),
        grain=Grainline(far, path.start),
        copies=single("main"),
    )


def test_it_needs_an_armhole() -> None:
    with pytest.raises(ComponentError, match="needs something with an armhole"):
        drafted({"armhole": (KIND, {})})
