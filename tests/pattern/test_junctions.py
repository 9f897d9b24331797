"""What must be sewn first so that a run exists."""

from __future__ import annotations

from pathlib import Path

from clothwise.components import read_design
from clothwise.pattern import Body
from clothwise.pattern.graph import EdgeRef, Finish, FinishKind, Layer, Seam, run
from clothwise.pattern.junctions import Corner, SeamCorners, end_corner, start_corner
from clothwise.pattern.pattern import Contribution, Pattern
from sketches import rectangle

KILN_DRESS = Path(__file__).parents[2] / "examples" / "kiln-dress"
BODY = Body.complete({"height": 1680, "bust_girth": 920, "waist_girth": 740, "hip_girth": 980})


def seam(name: str, first: str, second: str) -> Seam:
    return Seam(name, name, (Layer(run(first)), Layer(run(second))), allowance_mm=10)


def three_panels(*more: Seam) -> Pattern:
    """Left, middle and right panel, joined by two upright seams."""
    return Pattern().adding(
        Contribution(
            pieces=(rectangle("a"), rectangle("b"), rectangle("c")),
            seams=(seam("ab", "a.right", "-b.left"), seam("bc", "b.right", "-c.left"), *more),
        )
    )


def test_corners_of_an_edge_by_its_travel() -> None:
    pattern = three_panels()
    forth = EdgeRef("a", "right")
    assert start_corner(pattern, forth) == Corner("a", "right")
    assert end_corner(pattern, forth) == Corner("a", "top")
    assert start_corner(pattern, forth.reversed) == end_corner(pattern, forth)
    assert end_corner(pattern, forth.reversed) == start_corner(pattern, forth)
    assert end_corner(pattern, EdgeRef("a", "left")) == Corner("a", "bottom")


def test_a_run_across_seams_needs_them() -> None:
    pattern = three_panels()
    hem = Finish("hem", "hem", run("a.bottom", "b.bottom", "c.bottom"), FinishKind.SINGLE_HEM, 20)
    corners = SeamCorners(pattern)
    assert [j.seams for j in corners.junctions(hem.run, "hem")] == [("ab",), ("bc",)]
    assert all(j.crosses_seam for j in corners.junctions(hem.run, "hem"))
    assert corners.needed_before(hem) == {"ab", "bc"}


def test_neighbors_on_one_piece_need_nothing() -> None:
    corners = SeamCorners(three_panels())
    (junction,) = corners.junctions(run("a.bottom", "a.right"), "x")
    assert junction.seams == ()
    assert not junction.crosses_seam


def test_edges_nothing_joins() -> None:
    pattern = three_panels().adding(Contribution(pieces=(rectangle("d"),)))
    (junction,) = SeamCorners(pattern).junctions(run("a.bottom", "d.bottom"), "x")
    assert junction.seams is None
    assert not junction.crosses_seam


def test_a_corner_may_be_reached_through_two_seams() -> None:
    """From the first panel to the third across the second, whose own edge is not in the run."""
    pattern = Pattern().adding(
        Contribution(
            pieces=(rectangle("a"), rectangle("b"), rectangle("c")),
            seams=(seam("ab", "a.right", "b.right"), seam("bc", "b.right", "-c.left")),
        )
    )
    (junction,) = SeamCorners(pattern).junctions(run("a.bottom", "c.bottom"), "hem")
    assert junction.seams == ("ab", "bc")


def test_a_seam_does_not_wait_for_itself() -> None:
    pattern = three_panels()
    corners = SeamCorners(pattern)
    assert corners.junctions(run("a.bottom", "b.bottom"), "ab")[0].seams is None
    assert "ab" not in corners.needed_before(pattern.seams["ab"])


def test_a_closed_run_also_joins_its_ends() -> None:
    """A tube of two panels: its hem crosses both seams."""
    pattern = Pattern().adding(
        Contribution(
            pieces=(rectangle("a"), rectangle("b")),
            seams=(seam("one", "a.right", "-b.left"), seam("two", "b.right", "-a.left")),
        )
    )
    corners = SeamCorners(pattern)
    tube = corners.junctions(run("a.bottom", "b.bottom", closed=True), "hem")
    assert [junction.seams for junction in tube] == [("one",), ("two",)]
    assert len(corners.junctions(run("a.bottom", "b.bottom"), "hem")) == 1


def test_a_partly_caught_layer_joins_no_corners() -> None:
    caught = Seam(
        "ab", "ab", (Layer(run("a.right")), Layer(run("-b.left"), span=(20, 100))), allowance_mm=10
    )
    pattern = Pattern().adding(
        Contribution(pieces=(rectangle("a"), rectangle("b")), seams=(caught,))
    )
    (junction,) = SeamCorners(pattern).junctions(run("a.bottom", "b.bottom"), "hem")
    assert junction.seams is None


def test_the_seams_of_a_dress_wait_for_each_other_as_sewing_must() -> None:
    """Facts of dressmaking: an armhole exists once shoulder and side are sewn, and so on."""
    pattern = read_design(KILN_DRESS).draft(view="A", body=BODY)
    corners = SeamCorners(pattern)

    def needed(name: str) -> frozenset[str]:
        return corners.needed_before(pattern.use(name))

    assert {"bodice-side", "skirt-side", "bodice-front-waist-dart"} <= needed("skirt-waist")
    assert "bodice-shoulder" in needed("sleeve-armhole")
    assert "bodice-front-bust-dart" in needed("bodice-side")
    assert {"bodice-shoulder", "facing-shoulder"} <= needed("neck")
    assert "skirt-side" in needed("hem")
    assert "skirt-waist" in needed("facing-front-edge")
    assert needed("bodice-shoulder") == frozenset()
    for use in pattern.all_uses():
        assert use.name not in needed(use.name)
