"""Grades are what another engine measures; faults in them are found, sound ranges stay silent."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from random import Random

import pytest
from shapely.geometry import LineString

from checks.mutations import corner_moved, piece_changed, seam_changed
from clothwise.geometry import Vector
from clothwise.pattern import Body, Finding, NotchKind, Pattern, Piece, Severity
from clothwise.pattern.size_chart import SizeChart
from clothwise.sizing.grade_checks import GRADE_CODES, check_grades
from clothwise.sizing.grading import grades, steps
from sizing.graded import HOME_SEWING_MISSES, VIEWS, design, misses, sizes_of, women

A = ("kiln-dress", "A")
PAGES = Path(__file__).resolve().parents[2] / "docs" / "reference" / "findings"
Change = Callable[[Pattern], Pattern]


def test_every_edge_is_as_long_as_another_engine_measures_it() -> None:
    patterns = sizes_of(*A)
    measured = grades(patterns)
    assert measured.sizes == design("kiln-dress").sizes
    for graded in measured.edges:
        for pattern, length in zip(patterns, graded.lengths_mm, strict=True):
            points = pattern.pieces[graded.piece].edge(graded.edge).flattened(0.001)
            assert length == pytest.approx(LineString([(p.x, p.y) for p in points]).length, abs=0.1)


def test_both_layers_of_a_seam_and_runs_with_a_name_are_graded() -> None:
    measured = grades(sizes_of(*A))
    side = measured.run("bodice-side", 0), measured.run("bodice-side", 1)
    assert side[0].lengths_mm == pytest.approx(side[1].lengths_mm, abs=0.5)
    hem = measured.run("hem")
    assert all(step is not None and step > 0 for step in hem.steps_mm)
    with pytest.raises(KeyError):
        measured.run("no such run")


def test_an_edge_that_a_size_lacks_has_no_length_there() -> None:
    patterns = sizes_of("kiln-dress", "A")[:2] + sizes_of("kiln-dress", "B")[2:3]
    cap = grades(patterns).edge("sleeve", "cap")
    assert cap.lengths_mm[2] is None
    assert cap.steps_mm[1] is None
    assert steps((1.0, None, 2.0)) == (None, None)


# Sound ranges


@pytest.mark.parametrize(("name", "view"), VIEWS)
@pytest.mark.parametrize("chart", ["own", "misses", "women"])
def test_sound_ranges_are_without_findings(name: str, view: str, chart: str) -> None:
    """Also with uneven steps, and where bust, waist and hip change their steps at other sizes."""
    sizes = {"own": design(name).chart, "misses": misses(), "women": women()}[chart]
    assert check_grades(sizes, sizes_of(name, view, sizes)) == ()


@pytest.mark.parametrize("seed", range(6))
def test_charts_with_uneven_steps_are_without_warnings(seed: int) -> None:
    """Bust, waist and hip change their steps of 4, 5 and 6 cm each at a size of its own."""
    random = Random(seed)
    girths, bodies = {"bust_girth": 800.0, "waist_girth": 630.0, "hip_girth": 870.0}, []
    steps_mm = dict.fromkeys(girths, 40.0)
    for at in range(10):
        bodies.append(Body.complete({"height": 1680.0, **girths}, name=str(at)))
        for name in girths:
            if random.random() < 0.25:
                steps_mm[name] = random.choice((40.0, 50.0, 60.0))
            girths[name] += steps_mm[name]
    chart = SizeChart(tuple(bodies))
    for name, view in VIEWS:
        found = check_grades(chart, sizes_of(name, view, chart))
        assert [each.message for each in found if each.severity is not Severity.NOTE] == []


def test_two_sizes_are_too_few_for_a_trend_and_one_for_anything() -> None:
    chart, patterns = design(A[0]).chart, sizes_of(*A)
    assert check_grades(chart, patterns[:2]) == ()
    assert check_grades(chart, patterns[:1]) == ()


def test_a_row_that_is_a_person_is_no_step_of_the_grade() -> None:
    """Her pieces are longer and shorter than those of the sizes beside her; that is no fault."""
    girths = {"height": 1710.0, "bust_girth": 980.0, "waist_girth": 845.0, "hip_girth": 1075.0}
    sizes = design(A[0]).chart.sizes
    for name, is_fault in (("Ada", False), ("54", True)):
        chart = SizeChart((*sizes, Body.complete(girths, name=name)))
        assert bool(check_grades(chart, sizes_of(*A, chart))) is is_fault


def test_a_pocket_in_steps_of_half_a_centimeter_is_no_jump() -> None:
    """The example rounds its width to 5 mm: 13, 13.5, 14, and 14.5 from there on."""
    top = grades(sizes_of(*A)).edge("pocket", "top")
    assert [round(step or 0.0, 6) for step in top.steps_mm] == [5, 5, 5, 0, 0, 0, 0, 0, 0]
    uneven = grades(sizes_of("kiln-dress", "A", misses())).edge("pocket", "top")
    assert {round(step or 0.0, 6) for step in uneven.steps_mm} == {0, 5, 10}


def test_a_side_seam_that_shrinks_in_every_size_is_no_reversal() -> None:
    side = grades(sizes_of(*A)).edge("bodice-front", "side-lower")
    assert all(step is not None and step < -1 for step in side.steps_mm)


# Planted faults


def planted(change: Change, *sizes: str) -> tuple[Finding, ...]:
    chart = design(A[0]).chart
    changed = [change(each) if each.size in sizes else each for each in sizes_of(*A)]
    return check_grades(chart, changed)


def stretched(piece: str, edge: str, by_mm: float) -> Change:
    """The corner where the edge starts moves back along it: the edge is longer by so much."""

    def change(pattern: Pattern) -> Pattern:
        along = pattern.pieces[piece].edge(edge).start_tangent
        return corner_moved(pattern, piece, edge, along * -by_mm)

    return change


@pytest.mark.parametrize(
    ("piece", "edge", "by_mm", "size"),
    [
        ("bodice-back", "center", 6.0, "40"),
        ("bodice-front", "shoulder", -6.0, "42"),
        ("skirt-front", "hem", 6.0, "46"),
        ("collar-upper", "center", 6.0, "48"),
        ("belt", "end-lower", 6.0, "34"),
        ("skirt-back", "center", -6.0, "52"),
    ],
)
def test_a_piece_altered_in_one_size_is_a_jump(
    piece: str, edge: str, by_mm: float, size: str
) -> None:
    found = planted(stretched(piece, edge, by_mm), size)
    assert found
    assert {each.code for each in found} == {"GRADE-JUMP"}
    assert {each.piece for each in found} == {piece}
    following = {"34": "36"}.get(size, size)  # of the first size only the step to the next is seen
    assert {each.size for each in found} == {following}
    names = design_edges(found)
    assert edge in names, names


def design_edges(found: tuple[Finding, ...]) -> str:
    """The edges that findings name: their own, and those in their words."""
    return " ".join([*(each.edge for each in found), *(each.message for each in found)])


def test_a_jump_tells_by_how_much_and_what_is_usual() -> None:
    """Collar ends are 38 mm in no size but one; nothing else of the piece moves along it."""
    (jump,) = planted(stretched("collar-upper", "center", 6.0), "40")
    assert jump.severity is Severity.WARNING
    assert jump.edge == "center"
    assert "6 mm longer" in jump.message
    assert jump.measured == "8.3 cm, step +6 mm"
    assert jump.allowed == "steps beside it 0 mm"


def test_a_shift_of_all_larger_sizes_is_a_jump_at_the_first_of_them() -> None:
    found = planted(stretched("bodice-back", "center", 8.0), "46", "48", "50", "52")
    assert {(each.code, each.piece, each.size) for each in found} == {
        ("GRADE-JUMP", "bodice-back", "46")
    }


def test_a_length_that_shrinks_in_one_size_is_a_reversal() -> None:
    """Center back grows by 1.5 mm a size; 2.8 mm less in one makes it shrink by 1.3 mm there."""
    found = planted(stretched("bodice-back", "center", -2.8), "42")
    assert ("GRADE-REVERSAL", "bodice-back", "42", "center") in places(found)
    (finding,) = [each for each in found if each.edge == "center"]
    assert finding.severity is Severity.WARNING
    assert "shrinks by 1.3 mm" in finding.message


def test_a_length_that_turns_round_from_a_size_on_is_a_reversal() -> None:
    """Center back grows as far as size 42, then shrinks by 1.9 mm in each size."""
    chart = design(A[0]).chart
    changed = []
    for number, each in enumerate(sizes_of(*A)):
        less = max(0, number - 4) * 3.4
        change = stretched("bodice-back", "center", -less)
        changed.append(change(each) if less else each)
    found = check_grades(chart, changed)
    assert ("GRADE-REVERSAL", "bodice-back", "44", "center") in places(found)


@pytest.mark.parametrize(("one", "other"), [("40", "42"), ("36", "50"), ("50", "52")])
def test_rows_swapped_in_the_chart_are_reversals_that_name_the_size(one: str, other: str) -> None:
    chart = design(A[0]).chart
    swapped = {one: chart.size(other), other: chart.size(one)}
    rows = SizeChart(
        tuple(replace(swapped.get(body.name, body), name=body.name) for body in chart.sizes)
    )
    found = check_grades(rows, sizes_of(*A, rows))
    assert {each.code for each in found} == {"GRADE-REVERSAL"}
    assert other in {each.size for each in found}
    assert all(each.piece and each.edge for each in found)
    assert len(found) <= 2  # not one for each of a hundred edges


def test_a_dart_missing_in_one_size_is_reported_once() -> None:
    found = planted(without_dart("bodice-back", "waist dart"), "42")
    assert places(found) == {("GRADE-TOPOLOGY", "bodice-back", "42", "waist-dart-in")}
    assert found[0].severity is Severity.WARNING
    assert "All but size 42 have the waist dart" in found[0].message


def test_a_dart_that_ends_at_a_size_is_only_told() -> None:
    found = planted(without_dart("bodice-back", "waist dart"), "50", "52")
    assert [each.severity for each in found] == [Severity.NOTE]
    assert "50 and 52" in found[0].message


def test_a_piece_that_one_size_lacks_is_reported() -> None:
    def change(pattern: Pattern) -> Pattern:
        kept = {name: each for name, each in pattern.pieces.items() if name != "belt"}
        return replace(pattern, pieces=kept)

    found = planted(change, "52")
    assert places(found) == {("GRADE-TOPOLOGY", "belt", "52", "")}
    assert found[0].severity is Severity.WARNING


def test_a_notch_that_some_sizes_lack_is_reported() -> None:
    def change(pattern: Pattern) -> Pattern:
        seam = pattern.seams["sleeve-armhole"]
        name = next(m.name for m in seam.matches if m.notch is not NotchKind.NONE)
        kept = tuple(match for match in seam.matches if match.name != name)
        return seam_changed(pattern, seam.name, lambda old: replace(old, matches=kept))

    (finding,) = planted(change, "38", "44")
    assert (finding.code, finding.size) == ("GRADE-TOPOLOGY", "38")
    assert finding.severity is Severity.WARNING
    assert "notch" in finding.message


def test_a_point_that_one_size_lacks_is_reported() -> None:
    def change(pattern: Pattern) -> Pattern:
        return piece_changed(pattern, "bodice-front", lambda old: replace(old, points={}))

    found = planted(change, "34")
    assert {each.code for each in found} == {"GRADE-TOPOLOGY"}
    assert any("bust point" in each.message for each in found)


def without_dart(piece: str, name: str) -> Change:
    def change(pattern: Pattern) -> Pattern:
        def bare(old: Piece) -> Piece:
            return replace(old, darts=tuple(dart for dart in old.darts if dart.name != name))

        return piece_changed(pattern, piece, bare)

    return change


def places(found: tuple[Finding, ...]) -> set[tuple[str, str, str, str]]:
    return {(each.code, each.piece, each.size, each.edge) for each in found}


def test_each_code_has_a_page() -> None:
    for code in GRADE_CODES:
        assert (PAGES / f"{code}.md").read_text("utf-8").startswith(f"# {code}: ")


# What a grade is by the rules of the trade


@pytest.mark.parametrize(
    ("before", "after", "girth_in"), [("6", "8", 1.0), ("14", "16", 2.0), ("18", "20", 2.0)]
)
def test_each_quarter_grows_by_a_quarter_of_the_girth_step(
    before: str, after: str, girth_in: float
) -> None:
    """Check value G01 (derived): 2 in more girth is 1/2 in more in each of four quarters."""
    by_size = {each.size: each for each in sizes_of("kiln-dress", "B", misses())}
    for piece, point in (
        ("bodice-front", "underarm"),
        ("bodice-back", "underarm"),
        ("skirt-front", "side hip"),
        ("skirt-back", "side hip"),
    ):
        one, other = (by_size[size].pieces[piece].points[point].x for size in (before, after))
        assert abs(other - one) == pytest.approx(girth_in / 4 * 25.4, abs=0.05)


def test_the_back_waist_length_grows_by_a_quarter_of_an_inch() -> None:
    """Check value G02 (derived from the table above): 1/4 in for each size from 6 to 20."""
    back = grades(sizes_of("kiln-dress", "B", misses())).edge("bodice-back", "center")
    assert back.steps_mm[:7] == pytest.approx([6.35] * 7, abs=0.01)
    assert back.steps_mm[7:] == pytest.approx([3.175] * 2, abs=0.01)


def test_bust_and_hip_grow_alike_within_a_size_step() -> None:
    """Check value G03 (from the table above), on the pieces: half bust, half hip, 6 to 20."""
    patterns = sizes_of("kiln-dress", "B", misses())[:8]
    bust = [half(each, "bodice", "underarm") for each in patterns]
    hip = [half(each, "skirt", "side hip") for each in patterns]
    inches = [row[1] for row in HOME_SEWING_MISSES[:8]]
    printed = [(after - before) / 2 * 25.4 for before, after in pairwise(inches)]
    assert steps(tuple(bust)) == pytest.approx(printed, abs=0.05)
    assert steps(tuple(hip)) == pytest.approx(printed, abs=0.05)


def half(pattern: Pattern, part: str, point: str) -> float:
    """From center front to center back through a point of both pieces, mm."""
    return sum(pattern.pieces[f"{part}-{side}"].points[point].x for side in ("front", "back"))


def test_within_even_steps_points_move_evenly_and_nested_lines_do_not_cross() -> None:
    """Check value G04 (derived), for sizes 34 to 46, which grow by 4 cm each."""
    patterns = sizes_of(*A)[:7]
    for piece in ("bodice-back", "skirt-front", "skirt-back"):
        for edge in patterns[0].pieces[piece].edge_names:
            starts = [each.pieces[piece].edge(edge).start for each in patterns]
            moves = [after - before for before, after in pairwise(starts)]
            uneven = max((move - moves[0]).length for move in moves)
            assert uneven < 0.3, (piece, edge, uneven)
    for piece, edge in (("bodice-back", "side"), ("skirt-front", "side"), ("skirt-back", "side")):
        lines = [
            LineString([(p.x, p.y) for p in each.pieces[piece].edge(edge).flattened()])
            for each in patterns
        ]
        assert not any(one.crosses(other) for one, other in pairwise(lines)), (piece, edge)


def test_a_vector_back_along_an_edge_makes_it_longer() -> None:
    """Check the fault maker itself."""
    pattern = sizes_of(*A)[0]
    before = pattern.pieces["collar-upper"].edge("center").length
    changed = stretched("collar-upper", "center", 6.0)(pattern)
    assert changed.pieces["collar-upper"].edge("center").length == pytest.approx(before + 6.0)
    assert Vector(3, 4).length == 5


def test_two_darts_instead_of_one_are_told_once_and_their_edges_not_compared() -> None:
    """Where the waist is small for its hip the skirt back has two darts; at 90 cm it has one."""
    bodies = [
        Body.complete(
            {
                "height": 1680.0,
                "bust_girth": 860.0 + 40 * at,
                "waist_girth": 600.0 + 50 * at,
                "hip_girth": 960.0 + 40 * at,
            },
            name=str(at),
        )
        for at in range(8)
    ]
    chart = SizeChart(tuple(bodies))
    patterns = [design("kiln-dress").draft(view="B", body=body) for body in bodies]
    counts = [len(each.pieces["skirt-back"].darts) for each in patterns]
    assert {1, 2} <= set(counts)
    found = check_grades(chart, patterns)
    assert [each.severity for each in found if each.piece == "skirt-back"] == [Severity.NOTE]
    assert {each.code for each in found} == {"GRADE-TOPOLOGY"}
