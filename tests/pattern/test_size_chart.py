"""Size charts: read with every fault named, written so that they read back the same."""

from __future__ import annotations

import time
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from body_strategies import bodies
from clothwise.errors import DocumentError, Fault, Misuse, OutputError
from clothwise.pattern.csv_table import MAX_FILE_BYTES
from clothwise.pattern.measurements import MEASUREMENTS, REQUIRED, Body
from clothwise.pattern.size_chart import (
    MAX_SIZES,
    SizeChart,
    format_size_chart,
    parse_size_chart,
    read_size_chart,
    write_size_chart,
)
from clothwise.units import LengthUnit

HEADING = "size,bust_girth_cm,waist_girth_cm,hip_girth_cm,height_cm\n"
GOOD = HEADING + "34,80,62,86,168\n36,84,66,90,168\n"
KILN_DRESS = Path(__file__).resolve().parents[2] / "examples" / "kiln-dress" / "sizes.csv"


def faults_of(text: str) -> tuple[Fault, ...]:
    with pytest.raises(DocumentError) as caught:
        parse_size_chart(text, file="sizes.csv")
    for fault in caught.value.faults:
        assert fault.file == "sizes.csv"
        assert fault.remedy
    return caught.value.faults


def given_of(text: str) -> list[dict[str, float]]:
    return [size.given for size in parse_size_chart(text)]


# Reading


def test_chart_is_in_the_order_of_the_file() -> None:
    chart = parse_size_chart(GOOD)
    assert chart.names == ("34", "36")
    assert len(chart) == 2
    assert [size["bust_girth"] for size in chart] == [800, 840]
    assert chart.sizes[0].is_estimated("scye_depth")


@pytest.mark.parametrize(
    "text",
    [
        GOOD,
        "\ufeff" + GOOD,
        GOOD.replace("\n", "\r\n"),
        GOOD.replace(",", ";"),
        GOOD.replace(",", "\t"),
        GOOD.replace("80,", '"80,0",'),
        GOOD.replace(",", ";").replace("80;", "80,0;"),
        GOOD.replace("36,", "\n,,,,\n# a remark\n36,"),
        GOOD.replace("_cm", " (cm)").replace("bust_girth", "Bust Girth"),
        "# unit: cm\n" + GOOD.replace("_cm", ""),
        GOOD.replace("_cm", "").replace("size", "size (cm)"),
        GOOD.replace("80,", "800 mm,"),
        GOOD.replace("_cm\n", "_cm,\n"),
        "# unit: cm,,,,\n" + GOOD.replace("_cm", ""),  # saved again by a spreadsheet
        '"# source: ours, invented",,,,\n"# unit: cm";;;;\n' + GOOD.replace("_cm", ""),
        GOOD.replace("36,", '"# a remark, quoted",,,,\n36,'),
        GOOD.replace("bust_girth_cm", "bust_girth")
        .replace("80,", "80 cm,")
        .replace("84,", "840mm,"),
        "height_cm,size,hip_girth_cm,waist_girth_cm,bust_girth_cm\n168,34,86,62,80\n168,36,90,66,84\n",
        GOOD.replace("bust_girth_cm", "bust_girth_mm")
        .replace("80,", "800,")
        .replace("84,", "840,"),
    ],
)
def test_all_these_are_the_same_chart(text: str) -> None:
    """Byte-order mark, line ends, separators, decimal commas, blanks, remarks, units, order."""
    text = text.removeprefix("\ufeff")  # read_text takes it off; see below for the file
    assert given_of(text) == given_of(GOOD)


def test_file_with_byte_order_mark(tmp_path: Path) -> None:
    path = tmp_path / "sizes.csv"
    path.write_bytes(("\ufeff" + GOOD).encode())
    assert read_size_chart(path).names == ("34", "36")


def test_inches_with_fractions() -> None:
    text = (
        "size,bust_girth_in,waist_girth_in,hip_girth_in,height_in,shoulder_slope_deg\n"
        "12,36 1/4,28 1/2,38¾,5 ft 6 in,21.5\n"
    )
    chart = parse_size_chart(text)
    assert chart.unit is LengthUnit.INCH
    assert chart.size("12")["bust_girth"] == 36.25 * 25.4
    assert chart.size("12")["height"] == 1676.4
    assert format_size_chart(chart).splitlines()[1] == "12,66,36 1/4,28 1/2,38 3/4,21.5"


def test_feet_and_inches_in_a_column_without_unit() -> None:
    text = (
        GOOD.replace("height_cm", "height")
        .replace("168", "5'6\"")
        .replace(",5'6\"", ',"5\'6"""', 1)
    )
    assert [given["height"] for given in given_of(text.replace(",5'6\"", ",5 ft 6 in"))] == [
        1676.4
    ] * 2
    (fault,) = faults_of(GOOD.replace("height_cm", "height").replace("168", "5 ft 6 in", 1))
    assert "no unit is stated" in fault.what  # of the other row nobody can tell


def test_facts_survive_a_spreadsheet() -> None:
    text = '"# title: Our ""best"" sizes, 2026",,,,\n# source: own,,,,\n' + GOOD
    chart = parse_size_chart(text)
    assert (chart.title, chart.source) == ('Our "best" sizes, 2026', "own")


@pytest.mark.parametrize("title", ["a,", ";b", '"', 'say "x",', ",,", "a, b"])
def test_separators_in_facts_are_kept(title: str) -> None:
    chart = SizeChart(parse_size_chart(GOOD).sizes, title=title, source=title)
    assert parse_size_chart(format_size_chart(chart)) == chart


def test_title_and_source_are_kept() -> None:
    chart = parse_size_chart("# title: Our sizes\n# source: our own: invented\n" + GOOD)
    assert (chart.title, chart.source) == ("Our sizes", "our own: invented")
    assert parse_size_chart(format_size_chart(chart)) == chart


# Refusing


def test_letters_in_a_cell() -> None:
    (fault,) = faults_of(GOOD.replace("62", "abc"))
    assert (fault.line, fault.path) == (2, "size 34, column waist_girth_cm")
    assert "'abc' is not a length" in fault.what


def test_every_fault_at_once() -> None:
    text = (
        "size,bust_girth_cm,waist_grith_cm,hip_girth_cm,height_cm,height_in\n"
        "34,80,62,86,168\n"
        "34,8.0,62,,tall\n"
        ",84,66,90,168,,7\n"
    )
    assert [(fault.line, fault.path) for fault in faults_of(text)] == [
        (1, "column 3, 'waist_grith_cm'"),
        (1, "column 6, 'height_in'"),
        (1, ""),  # no column for waist_girth
        (3, "column size"),
        (3, "size 34, column height_cm"),
        (3, "size 34, column bust_girth_cm"),
        (3, "size 34, column hip_girth_cm"),
        (4, ""),  # a value without a heading
        (4, "column size"),
    ]


@pytest.mark.parametrize(
    ("text", "line", "what", "remedy"),
    [
        ("", None, "the file is empty", "heading"),
        ("\n\n# only remarks\n", None, "the file is empty", "heading"),
        (HEADING, None, "the chart has no sizes", "one row for each size"),
        (GOOD.replace("size,", "name,"), 1, "no column named size", "size"),
        (GOOD.replace("_cm", ""), 1, "no unit is stated", "bust_girth_cm or bust_girth_in"),
        ("# unit: ell\n" + GOOD, None, "'ell' is not a unit", "# unit: cm"),
        (GOOD.replace("hip_girth_cm", "hip_girth_deg"), 1, "cannot be in deg", "hip_girth_cm"),
        (GOOD.replace("36,", "34,"), 3, "size 34 stands in line 2 already", "Rename"),
        (GOOD.replace("36,", ","), 3, "the size has no name", "a short name"),
        (GOOD.replace("36,", "x" * 50 + ","), 3, "longer than 40 characters", "short name"),
        (GOOD.replace("80,", "80,5,"), 2, "values without a heading: '168'", "semicolons"),
        (GOOD.replace("62", "6.8"), 2, "waist_girth is 6.8 cm", "was 68 cm meant?"),
        (GOOD.replace("62", ""), 2, "waist_girth is missing", "Measure the waist girth"),
        (GOOD.replace("62", "130"), 2, "waist_girth 130 cm does not go with", "Measure"),
        (GOOD.replace("80,", '"80,'), None, "the rows cannot be told apart", "Close each quote"),
        (GOOD.replace("80,", "#REF!,"), 2, "'#REF!' is not a length", "such as"),
        (GOOD.replace("waist_girth", "wasit"), 1, "wasit is not a measurement", "waist_girth"),
    ],
)
def test_each_fault_says_where_what_and_what_to_do(
    text: str, line: int | None, what: str, remedy: str
) -> None:
    matching = [fault for fault in faults_of(text) if what in fault.what]
    assert matching, [str(fault) for fault in faults_of(text)]
    assert matching[0].line == line
    assert remedy in matching[0].remedy


def test_a_wrong_figure_is_told_also_where_the_unit_stands_above_the_table() -> None:
    """Headings without unit are no missing columns: no row is left out without a word."""
    text = (
        "# unit: in\nsize,height,bust_girth,waist_girth,hip_girth\n34,65,3.6,29,\n36,65,36,29,39\n"
    )
    told = [(fault.line, fault.what) for fault in faults_of(text)]
    assert [line for line, _ in told] == [3, 3]
    assert "bust_girth is 3 5/8 in" in told[0][1]
    assert "hip_girth is missing" in told[1][1]
    assert "was 36 in meant?" in faults_of(text)[0].remedy


@pytest.mark.parametrize(
    ("heading", "meant"),
    [
        ("Chest (cm)", "bust_girth"),
        ("Hips_cm", "hip_girth"),
        ("Inseam (in)", "inside_leg_height"),
        ("back waist length (in)", "back_neck_to_waist"),
        ("high-hip_cm", "top_hip_girth"),
    ],
)
def test_headings_in_other_words_are_understood_as_a_suggestion(heading: str, meant: str) -> None:
    (fault,) = faults_of(GOOD.replace("\n", f",{heading}\n", 1))
    assert fault.remedy == f"Did you mean {meant}?"


def test_every_suggestion_is_a_measurement() -> None:
    from clothwise.pattern.plain_headings import OTHER_WORDS

    assert set(OTHER_WORDS.values()) <= set(MEASUREMENTS)
    assert not set(OTHER_WORDS) & set(MEASUREMENTS)


def test_thousands_of_brackets_are_refused_in_no_time() -> None:
    started = time.perf_counter()
    brackets = "[" * 50_000
    faults = faults_of(f"size,{brackets}\n38,{'(' * 50_000}\n{brackets},1\n")
    assert any("this is not a measurement" in fault.what for fault in faults)
    assert all(len(str(fault)) < 400 for fault in faults)
    assert time.perf_counter() - started < 2


def test_missing_column_is_told_once_and_not_in_every_row() -> None:
    text = GOOD.replace(",hip_girth_cm", "").replace(",86", "").replace(",90", "")
    (fault,) = faults_of(text)
    assert "no column for hip_girth" in fault.what


def test_a_hundred_thousand_rows_are_refused_before_they_are_checked() -> None:
    """Were each row checked, this test alone would take half a minute."""
    short = HEADING + "".join(f"{number},8\n" for number in range(100_000))
    (fault,) = faults_of(short[:MAX_FILE_BYTES])
    assert fault.what == f"there are more than {MAX_SIZES} rows"
    (fault,) = faults_of(HEADING + "".join(f"{number},80,62,86,168\n" for number in range(100_000)))
    assert "too long" in fault.what


def test_a_heading_of_too_many_columns_is_refused_at_once() -> None:
    """One fault, and not one for each column."""
    with pytest.raises(DocumentError) as caught:
        parse_size_chart("size," * 150_000, file="sizes.csv")
    (fault,) = caught.value.faults
    assert fault.what == "there are 150001 columns, at most 200"


@pytest.mark.parametrize(
    ("content", "line", "what"),
    [
        (GOOD.encode("utf-16"), 1, "not UTF-8"),
        (GOOD.replace("36", "groß").encode("cp1252"), 3, "not UTF-8"),
        (b"\x00" * 10, None, "the chart has no sizes"),
        (b"x" * (MAX_FILE_BYTES + 1), None, "too large"),
        (
            b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(500),
            None,
            "older kind, or one with a password",
        ),
    ],
)
def test_files_that_are_no_charts(
    tmp_path: Path, content: bytes, line: int | None, what: str
) -> None:
    path = tmp_path / "sizes.csv"
    path.write_bytes(content)
    with pytest.raises(DocumentError) as caught:
        read_size_chart(path)
    assert caught.value.faults[0].line == line
    assert what in caught.value.faults[0].what
    assert caught.value.faults[0].file == str(path)


def test_missing_file_and_folder(tmp_path: Path) -> None:
    with pytest.raises(DocumentError, match="there is no such file"):
        read_size_chart(tmp_path / "sizes.csv")
    with pytest.raises(DocumentError, match="cannot be read"):
        read_size_chart(tmp_path)


@given(
    st.text(alphabet=st.sampled_from('size,;\t"\n\r#_cm0123 /½x') | st.characters(), max_size=80)
)
def test_any_text_is_a_chart_or_refused(text: str) -> None:
    for chart in (text, GOOD + text, HEADING + text):
        try:
            parse_size_chart(chart)
        except DocumentError as error:
            assert error.faults  # noqa: PT017 - most texts are no charts


# Asking


def test_size_by_name_or_what_was_meant() -> None:
    chart = parse_size_chart(GOOD)
    assert chart.size("36")["bust_girth"] == 840
    with pytest.raises(Misuse, match=r"there is no size '12'\. The sizes are: 34, 36\."):
        chart.size("12")
    with pytest.raises(Misuse, match=r"Did you mean medium\?"):
        parse_size_chart(GOOD.replace("36,", "medium,")).size("Medum")


@pytest.mark.parametrize("name", ["", " 34", "#1", "a\nb", "x" * 41])
def test_chart_refuses_names_that_no_file_could_hold(name: str) -> None:
    body = parse_size_chart(GOOD).sizes[0]
    with pytest.raises(Misuse):
        SizeChart((Body.complete(body.given, name=name),))


def test_chart_refuses_what_it_could_not_write() -> None:
    sizes = parse_size_chart(GOOD).sizes
    for make in (
        lambda: SizeChart(()),
        lambda: SizeChart((sizes[0], sizes[0])),
        lambda: SizeChart(sizes, title="two\nlines"),
        lambda: SizeChart(sizes, unit=LengthUnit.YARD),
    ):
        with pytest.raises(Misuse):
            make()


# Writing

NAMES = st.text(
    alphabet=st.characters(categories=["L", "N", "P", "S", "Zs"]), min_size=1, max_size=12
).filter(lambda name: name == name.strip() and name.isprintable() and not name.startswith("#"))


@st.composite
def charts(draw: st.DrawFn) -> SizeChart:
    names = draw(st.lists(NAMES, min_size=1, max_size=4, unique=True))
    line = st.text(max_size=20).map(lambda text: " ".join(text.split()))
    return SizeChart(
        tuple(Body.complete(draw(bodies()).given, name=name) for name in names),
        draw(st.sampled_from([LengthUnit.CENTIMETER, LengthUnit.MILLIMETER, LengthUnit.INCH])),
        draw(line),
        draw(line),
    )


@given(charts())
def test_written_charts_read_back_the_same(chart: SizeChart) -> None:
    assert parse_size_chart(format_size_chart(chart)) == chart


@given(bodies(), st.floats(0.99, 1.01), st.floats(0.2, 0.6))
def test_any_float_survives_in_every_unit(body: Body, share: float, slope_rad: float) -> None:
    given = {**{name: body[name] * share for name in REQUIRED}, "shoulder_slope": slope_rad}
    for unit in (LengthUnit.CENTIMETER, LengthUnit.MILLIMETER, LengthUnit.INCH):
        chart = SizeChart((Body.complete(given, name="x"),), unit)
        assert parse_size_chart(format_size_chart(chart)) == chart


def test_written_file_reads_back(tmp_path: Path) -> None:
    chart = parse_size_chart(GOOD)
    write_size_chart(chart, tmp_path / "sizes.csv")
    assert read_size_chart(tmp_path / "sizes.csv") == chart
    with pytest.raises(OutputError):
        write_size_chart(chart, tmp_path / "missing" / "sizes.csv")


def test_whole_numbers_are_written_without_decimals() -> None:
    assert format_size_chart(parse_size_chart(GOOD)).splitlines()[1] == "34,168,80,62,86"


# The chart of the kiln dress


def test_kiln_dress_has_ten_sizes_that_grow_evenly() -> None:
    """Steps of 4 cm, then of 6 cm; bust, waist and hip grow alike (as check value G03)."""
    chart = read_size_chart(KILN_DRESS)
    assert len(chart) == 10
    for name in ("bust_girth", "waist_girth", "hip_girth"):
        steps = [b[name] - a[name] for a, b in pairwise(chart)]
        assert steps == pytest.approx([40] * 6 + [60] * 3)
    for name in chart.sizes[0].given:
        steps = [b[name] - a[name] for a, b in pairwise(chart)]
        small, large = steps[:6], steps[6:]
        assert small == pytest.approx([small[0]] * 6)
        assert large == pytest.approx([large[0]] * 3)
        assert 0 < small[0] <= large[0]


def test_kiln_dress_goes_with_the_estimates() -> None:
    """What the chart gives beyond the four required, no estimate misses by more than 1 cm."""
    for size in read_size_chart(KILN_DRESS):
        estimated = Body.complete({name: size[name] for name in REQUIRED})
        for name in MEASUREMENTS:
            assert size[name] == pytest.approx(estimated[name], abs=10)


def test_kiln_dress_is_written_as_we_write_charts() -> None:
    text = KILN_DRESS.read_text(encoding="utf-8")
    assert format_size_chart(parse_size_chart(text)) == text
