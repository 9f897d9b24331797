"""Runs of edges and how they are written."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from clothwise.pattern.graph import EdgeRef, Finish, FinishKind, Run, SeamKind, run

names = st.text("abcdefghij-", min_size=1, max_size=8).filter(lambda name: name[0] != "-")
refs = st.builds(EdgeRef, names, names, st.booleans())
runs = st.builds(Run, st.lists(refs, min_size=1, max_size=5).map(tuple), st.booleans())


@given(refs)
def test_an_edge_is_read_as_it_is_written(ref: EdgeRef) -> None:
    assert EdgeRef.parse(str(ref)) == ref
    assert ref.reversed.reversed == ref
    assert ref.reversed != ref


@given(runs)
def test_a_run_reversed_twice_is_the_same(run_: Run) -> None:
    assert run_.reversed.reversed == run_
    assert run_.reversed.edges[0] == run_.edges[-1].reversed
    assert run_.reversed.closed == run_.closed
    assert set(run_.pieces) == set(run_.reversed.pieces)


def test_an_edge_without_a_piece_is_refused() -> None:
    with pytest.raises(ValueError, match=r"write an edge as piece\.edge, not 'neck'"):
        EdgeRef.parse("neck")


def test_a_run_is_written_in_order_of_travel() -> None:
    neck = run("-front.neck", "back.neck", "back.yoke")
    assert neck.edges[0] == EdgeRef("front", "neck", reverse=True)
    assert neck.pieces == ("front", "back")
    assert [str(edge) for edge in neck.reversed.edges] == [
        "-back.yoke",
        "-back.neck",
        "front.neck",
    ]
    assert not neck.closed
    assert run("a.b", closed=True).closed
    assert neck.then(run("collar.end")).edges[-1] == EdgeRef("collar", "end")


def test_a_hem_is_cut_as_deep_as_both_its_turns() -> None:
    hem = Finish("hem", "hem", run("skirt.hem"), FinishKind.DOUBLE_HEM, depth_mm=25, turn_mm=8)
    assert hem.allowance_mm == 33
    assert Finish("edge", "edge", run("skirt.hem"), FinishKind.BOUND).allowance_mm == 0


def test_a_dart_is_no_seam_of_the_standard() -> None:
    assert SeamKind.PLAIN.iso_4916 == SeamKind.GATHERED.iso_4916 == "1.01.01"
    assert SeamKind.DART.iso_4916 == ""
