"""One person's measurements in YAML or CSV."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from body_strategies import bodies
from clothwise.errors import DocumentError, Fault, Misuse
from clothwise.pattern.body_file import format_body, parse_body_csv, parse_body_yaml, read_body
from clothwise.pattern.measurements import Body
from clothwise.units import LengthUnit

YAML = """\
# measured in May
name: Ada
unit: cm
measurements:
  height: 168
  bust_girth: 36 1/2 in
  waist_girth: 74,5
  hip_girth: "98"
  shoulder_slope: 21 deg
"""
CSV = """\
# name: Ada
# unit: cm
measurement,value
height,168
bust_girth,36 1/2 in
waist_girth,"74,5"
hip_girth,98
shoulder_slope,21 deg
"""
ADA = {
    "height": 1680.0,
    "bust_girth": 927.1,
    "waist_girth": 745.0,
    "hip_girth": 980.0,
    "shoulder_slope": math.radians(21),
}


def faults_of(text: str, parse: object = parse_body_yaml) -> tuple[Fault, ...]:
    assert callable(parse)
    with pytest.raises(DocumentError) as caught:
        parse(text)
    for fault in caught.value.faults:
        assert fault.remedy
    return caught.value.faults


@pytest.mark.parametrize(("suffix", "text"), [(".yaml", YAML), (".yml", YAML), (".csv", CSV)])
def test_a_body_is_read(tmp_path: Path, suffix: str, text: str) -> None:
    path = tmp_path / f"ada{suffix}"
    path.write_text(text, encoding="utf-8")
    body = read_body(path)
    assert body.name == "Ada"
    assert body.given == ADA
    assert body.is_estimated("arm_length")


def test_unit_may_stand_with_each_length() -> None:
    text = "measurements: {height: 168cm, bust_girth: 92cm, waist_girth: 740mm, hip_girth: 38in}"
    assert parse_body_yaml(text)["waist_girth"] == 740


def test_every_fault_with_line_and_path() -> None:
    text = (
        "nam: Ada\n"
        "unit: furlong\n"
        "measurements:\n"
        "  height: tall\n"
        "  bust: 92\n"
        "  bust_girth: 9.2\n"
        "  bust_girth: 92\n"
        "  hip_girth: [98]\n"
    )
    assert [(fault.line, fault.path) for fault in faults_of(text)] == [
        (None, "waist_girth"),
        (1, "$.nam"),
        (2, "$.unit"),
        (4, "$.measurements.height"),
        (5, "$.measurements.bust"),
        (6, "$.measurements.bust_girth"),
        (7, "$.measurements.bust_girth"),
        (8, "$.measurements.hip_girth"),
    ]


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("", "there are no measurements"),
        ("just text", "there are no measurements"),
        ("measurements: 92", "there are no measurements"),
        ("- 1\n- 2", "there are no measurements"),
        ("measurements:\n  height: 168\n", "'168' has no unit"),
        ("name: a\nname: b\n", "name stands here twice"),
        ("name: [a\n", "not valid YAML"),
        ("a: 1\n---\nb: 2\n", "not valid YAML"),
        ("name: \x00", "not valid YAML"),
        ("[" * 5000, "more brackets than a body can need"),
        ("- " * 9000, "nested too deeply"),
        ("x" * 50_000, "too long"),
        (YAML.replace("168", "16.8"), "height is 16.8 cm"),
        (YAML.replace("74,5", "1400 mm"), "waist_girth 140 cm does not go with"),
        (YAML.replace("21 deg", "21 cm"), "'cm' is not a unit of angle"),
    ],
)
def test_what_is_no_body_is_refused(text: str, what: str) -> None:
    assert any(what in fault.what for fault in faults_of(text))


def test_missing_are_named_even_beside_other_faults() -> None:
    whats = " ".join(fault.what for fault in faults_of("measurements: {height: tall}"))
    assert "'tall' is not a length" in whats
    for name in ("bust_girth", "waist_girth", "hip_girth"):
        assert f"{name} is missing" in whats
    assert "height is missing" not in whats


@pytest.mark.parametrize(
    ("text", "line", "what"),
    [
        ("bust,92\n", 1, "does not say measurement,value"),
        (CSV.replace("hip_girth,98", "height,98"), 7, "height is given already in line 4"),
        (CSV.replace("98", "abc"), 7, "'abc' is not a length"),
        ("measurement,value\n", None, "there are no measurements"),
    ],
)
def test_csv_faults_have_their_line(text: str, line: int | None, what: str) -> None:
    matching = [fault for fault in faults_of(text, parse_body_csv) if what in fault.what]
    assert [fault.line for fault in matching] == [line]


def test_other_files_are_refused(tmp_path: Path) -> None:
    for name in ("ada.txt", "ada"):
        with pytest.raises(DocumentError, match=r"Use \.yaml or \.csv"):
            read_body(tmp_path / name)
    with pytest.raises(DocumentError, match="there is no such file"):
        read_body(tmp_path / "ada.yaml")


@given(
    st.text(alphabet=st.sampled_from("a:- \n[]{}&*!|>'\"%@`#,?1cm") | st.characters(), max_size=60)
)
@example("? a")
@example("&a : *a")
@example("!!python/object/apply:os.system ['true']")
@example("measurements: &a {height: *a}")
@example("<<: {a: 1}")
@example("? [a, b]\n: 1")
@example("measurements:\n  ? [height]\n  : 1")
def test_any_text_is_a_body_or_refused(text: str) -> None:
    for document in (text, YAML + text, "measurements:\n  " + text):
        try:
            parse_body_yaml(document)
        except DocumentError as error:
            assert error.faults  # noqa: PT017 - most texts are no bodies


# Writing ------------------------------------------------------------------------------------------


@pytest.mark.parametrize("unit", [LengthUnit.CENTIMETER, LengthUnit.MILLIMETER, LengthUnit.INCH])
@given(bodies())
def test_what_is_written_is_read(unit: LengthUnit, body: Body) -> None:
    assert parse_body_yaml(format_body(body, unit=unit)) == body


@pytest.mark.parametrize("name", ["Ada", "38", "yes", "a: b # c", '"Ada"', "Zoë O'Neil", "~"])
def test_names_come_back(name: str) -> None:
    body = Body.complete(ADA, name=name)
    assert parse_body_yaml(format_body(body)).name == name


def test_what_a_file_cannot_hold_is_refused() -> None:
    with pytest.raises(Misuse, match="not written in yd"):
        format_body(Body.complete(ADA), unit=LengthUnit.YARD)
    with pytest.raises(Misuse, match="cannot have this name"):
        format_body(Body.complete(ADA, name="two  spaces"))
