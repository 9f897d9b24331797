"""A split piece is the same garment: areas, lengths, marks and steps add up."""

from __future__ import annotations

import pytest

from clothwise.checks import check
from clothwise.errors import ComponentError
from clothwise.geometry import Path, Vector, cubic_between, straight
from clothwise.pattern import Pattern, SeamCorners, Severity, Side, notches
from clothwise.pattern.splitting import Split, split_piece
from clothwise.work import plan, verify
from work.real_designs import body, half_circle_skirt, long_dress, tunic

BODY = body()
DRESS, SKIRT = tunic(), half_circle_skirt()


def at(pattern: Pattern, piece: str, edge: str, share: float):  # type: ignore[no-untyped-def]
    path = pattern.piece(piece).edge(edge)
    return path.point_at(path.length * share)


def split(piece: str, line: Path, name: str = "panel", pattern: Pattern = DRESS) -> Pattern:
    return split_piece(
        pattern,
        Split(
            name,
            piece,
            line,
            (f"{piece}-left", f"{piece}, left"),
            (f"{piece}-right", f"{piece}, right"),
            f"{name} seam",
            15.0,
        ),
    )


def across_the_skirt(share: float = 0.5) -> Path:
    start = at(DRESS, "skirt-front", "side", share)
    return straight(start, at(DRESS, "skirt-front", "front-edge", 1 - share))


def princess() -> Path:
    """From the point of the waist dart to the armhole."""
    front = DRESS.piece("bodice-front")
    (dart,) = (each for each in front.darts if each.name == "waist dart")
    goal = at(DRESS, "bodice-front", "armhole", 0.45)
    return cubic_between(front.apex(dart), Vector(0.0, 1.0), goal, Vector(0.8, 0.6))


def serious(pattern: Pattern) -> list[str]:
    return [
        f"{finding.code} {finding.message}"
        for finding in check(pattern, BODY)
        if finding.severity is not Severity.NOTE
    ]


def test_areas_add_up_and_edges_keep_their_names() -> None:
    whole = DRESS.piece("skirt-front")
    changed = split("skirt-front", across_the_skirt())
    parts = [changed.piece("skirt-front-left"), changed.piece("skirt-front-right")]
    assert sum(part.outline.area for part in parts) == pytest.approx(whole.outline.area, rel=1e-4)
    assert "skirt-front" not in changed.pieces
    assert set(whole.edge_names) == {
        name for part in parts for name in part.edge_names if name != "panel"
    }


def test_lengths_of_runs_stay() -> None:
    changed = split("skirt-front", across_the_skirt())
    for name, seam in DRESS.seams.items():
        for layer, now in zip(seam.layers, changed.seams[name].layers, strict=True):
            assert changed.run_length(now.run) == pytest.approx(
                DRESS.run_length(layer.run), abs=1e-3
            )
    for name, run in DRESS.runs.items():
        assert changed.run_length(changed.runs[name]) == pytest.approx(
            DRESS.run_length(run), abs=1e-3
        )


def test_the_new_seam_comes_before_what_runs_across_it() -> None:
    changed = split("skirt-front", across_the_skirt())
    needed = SeamCorners(changed).needed_before(changed.seams["skirt-side"])
    assert needed == {"skirt-front-panel"}
    order = plan(changed)
    assert verify(changed, order) == ()
    place = {operation.name: number for number, operation in enumerate(order.operations)}
    assert place["skirt-front-panel"] < place["skirt-sides"]


def test_a_line_to_the_point_of_a_dart_takes_the_dart_into_its_seam() -> None:
    """A princess seam: no waist dart is left, and both sides are equally long."""
    changed = split("bodice-front", princess(), "princess")
    assert [
        dart.name
        for name in ("left", "right")
        for dart in changed.piece(f"bodice-front-{name}").darts
    ] == ["bust dart"]
    assert "bodice-front-waist-dart" in DRESS.seams
    assert "bodice-front-waist-dart" not in changed.seams
    seam = changed.seams["bodice-front-princess"]
    one, other = (changed.run_length(layer.run) for layer in seam.layers)
    legs = DRESS.piece("bodice-front").edge("waist-dart-in").length
    assert one == pytest.approx(other, abs=1e-6)
    assert one == pytest.approx(princess().length + legs, abs=0.01)
    assert serious(changed) == []


def test_marks_are_shared_out() -> None:
    before = DRESS.piece("skirt-front").marks
    changed = split("skirt-front", across_the_skirt())
    parts = [changed.piece("skirt-front-left"), changed.piece("skirt-front-right")]
    for kind in {mark.kind for mark in before}:
        points = [m for m in before if m.kind is kind and m.at is not None]
        now = [m for part in parts for m in part.marks if m.kind is kind and m.at is not None]
        assert sorted((m.at.x, m.at.y) for m in now if m.at) == sorted(
            (m.at.x, m.at.y) for m in points if m.at
        )
    lengths = sum(m.path.length for m in before if m.path)
    shared = sum(m.path.length for part in parts for m in part.marks if m.path)
    assert shared == pytest.approx(lengths, abs=0.1)


def test_notches_stay_where_they_were() -> None:
    changed = split("skirt-front", across_the_skirt())
    before = {
        (n.seam, n.name, round(n.at.x, 2), round(n.at.y, 2)) for n in notches(DRESS, "skirt-front")
    }
    now = {
        (n.seam, n.name, round(n.at.x, 2), round(n.at.y, 2))
        for part in ("skirt-front-left", "skirt-front-right")
        for n in notches(changed, part)
        if n.seam != "skirt-front-panel"
    }
    assert now == before


def test_the_part_off_the_fold_is_cut_twice() -> None:
    back = DRESS.piece("bodice-back")
    assert back.fold_edge == "center"
    (dart,) = back.darts
    line = straight(back.apex(dart), at(DRESS, "bodice-back", "armhole", 0.6))
    changed = split("bodice-back", line)
    parts = {name: changed.piece(f"bodice-back-{name}") for name in ("left", "right")}
    on_fold = [part for part in parts.values() if part.fold_edge]
    off_fold = [part for part in parts.values() if not part.fold_edge]
    assert len(on_fold) == len(off_fold) == 1
    assert {copy.side for copy in off_fold[0].copies} == {Side.LEFT, Side.RIGHT}
    assert {copy.side for copy in on_fold[0].copies} == {Side.CENTER}
    assert serious(changed) == []


def test_a_pocket_across_the_new_seam_is_reported() -> None:
    dress = long_dress()
    pocket = next(iter(dress.placements.values()))
    hem = dress.piece("skirt-front").edge("hem")
    waist = dress.piece("skirt-front").edge("waist-side")
    line = straight(waist.point_at(waist.length / 2), hem.point_at(hem.length * 0.6))
    changed = split("skirt-front", line, pattern=dress)
    assert changed.placements[pocket.name].host in ("skirt-front-left", "skirt-front-right")
    codes = {finding.code for finding in check(changed, BODY)}
    assert "PLACEMENT-EDGE" in codes


def test_splitting_again_and_again() -> None:
    once = split("skirt-front", across_the_skirt(0.4), "upper")
    lower = next(
        name
        for name in ("skirt-front-left", "skirt-front-right")
        if "hem" in once.piece(name).edge_names
    )
    hem, top = once.piece(lower).edge("hem"), once.piece(lower).edge("upper")
    line = straight(top.point_at(top.length / 2), hem.point_at(hem.length / 2))
    twice = split(lower, line, "lower", pattern=once)
    assert len(twice.pieces) == len(DRESS.pieces) + 2
    assert verify(twice, plan(twice)) == ()


@pytest.mark.parametrize(
    ("line", "words"),
    [
        (
            lambda: straight(
                at(DRESS, "skirt-front", "hem", 0.2) + Vector(0, 40),
                at(DRESS, "skirt-front", "side", 0.5),
            ),
            "does not lie on the outline",
        ),
        (lambda: DRESS.piece("skirt-front").edge("side"), "runs along the outline"),
    ],
)
def test_lines_that_split_nothing_are_refused_in_words(line, words: str) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(ComponentError, match=words) as caught:
        split("skirt-front", line())
    assert caught.value.what_to_do


def test_a_taken_name_is_refused() -> None:
    with pytest.raises(ComponentError, match="taken"):
        split_piece(
            DRESS,
            Split(
                "panel", "skirt-front", across_the_skirt(), ("skirt-back", "x"), ("y", "y"), "s", 15
            ),
        )
