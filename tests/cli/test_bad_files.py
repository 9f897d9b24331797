"""Files with faults: one message with place and remedy, exit code 2, and nothing written."""

from __future__ import annotations

from pathlib import Path

import pytest

from command_line import SKIRT, clothwise, edited, example

CASES = [
    # command, file, before, after, what the message must say
    pytest.param(
        "cut", "make.yaml", "width: 150cm", "width: 40cm",
        ["Circle skirt", "Light wool", "wider than the fabric", "cm", "Take a fabric at least"],
        id="fabric narrower than a piece",
    ),
    pytest.param(
        "check", "sizes.csv", "waist_girth_cm", "wrist_girth_cm",
        ["sizes.csv, line 3", "no column for waist_girth"],
        id="missing measurement",
    ),
    pytest.param(
        "check", "sizes.csv", "38,168,88,70", "38,168,88,7",
        ["line 6, size 38, column waist_girth_cm", "45 cm to 190 cm", "was 70 cm meant?"],
        id="impossible measurement",
    ),
    pytest.param(
        "measure", "sizes.csv", "38,168,88,70", "38,168,88,seventy",
        ["line 6, size 38, column waist_girth_cm", "seventy"],
        id="letters in the chart",
    ),
    pytest.param(
        "sew", "make.yaml", "view: knee", "view: knee\nmeasurements: {waist_girth: 7cm}",
        ["make.yaml, line 4", "waist_girth", "7 cm"],
        id="impossible measurement of one's own",
    ),
    pytest.param(
        "sew", "make.yaml", "view: knee", "view: knee\nmeasurements: {waist_grith: 70cm}",
        ["make.yaml, line 4", "Did you mean waist_girth?"],
        id="unknown measurement",
    ),
    pytest.param(
        "draft", "design.yaml", "component: circle-skirt", "component: circel-skirt",
        ["line 28", "$.components.skirt.component", "Did you mean circle-skirt?"],
        id="unknown component",
    ),
    pytest.param(
        "check", "design.yaml", "waist_ease:", "waist_eas:",
        ["line 31", "$.components.skirt.waist_eas", "Did you mean waist_ease?"],
        id="unknown parameter",
    ),
    pytest.param(
        "check", "design.yaml", "waist_to_knee + 20cm", "waist_to_kne + 20cm",
        ["line 30", "$.components.skirt.length.midi", "Did you mean waist_to_knee?"],
        id="expression with a typo",
    ),
    pytest.param(
        "check", "design.yaml", "waist_to_knee + 20cm", "waist_to_knee + 20",
        ["line 30", "$.components.skirt.length.midi", "cm"],
        id="expression without a unit",
    ),
    pytest.param(
        "check", "design.yaml", "waist_ease: 15mm",
        "waist_ease: skirt_opening / 12\n    opening: skirt_waist_ease * 12",
        ["$.components.skirt.", "need each other", "Give one of them"],
        id="circular reference",
    ),
    pytest.param(
        "check", "design.yaml", "waist_ease: 15mm", "waist_ease: 50cm",
        ["line 31", "$.components.skirt.waist_ease", "6 cm"],
        id="value out of its range",
    ),
    pytest.param(
        "check", "design.yaml", "schema: 1", "schema: [1",
        ["design.yaml, line", "not closed"],
        id="no YAML",
    ),
    pytest.param(
        "check", "design.yaml", "schema: 1", "schema: 99",
        ["$.schema", "99"],
        id="from a later version",
    ),
    pytest.param(
        "check", "design.yaml", "size_chart: sizes.csv", "size_chart: size.csv",
        ["$.size_chart", "Did you mean sizes.csv?"],
        id="missing chart",
    ),
    pytest.param(
        "cut", "make.yaml", "main: wool", "main: wol",
        ["$.roles.main", "Did you mean wool?"],
        id="unknown fabric",
    ),
    pytest.param(
        "cut", "make.yaml", "  main: wool\n", "",
        ["$.roles", "nothing says what main is cut from", "`main: wool`"],
        id="role without a fabric",
    ),
    pytest.param(
        "cut", "make.yaml", "width: 150cm", "width: 150",
        ["$.fabrics.wool.width", "has no unit", "2.5cm"],
        id="width without a unit",
    ),
    pytest.param(
        "sew", "make.yaml", "view: knee", "view: mini",
        ["$.view", "mini", "midi"],
        id="unknown view",
    ),
    pytest.param(
        "sew", "make.yaml", "view: knee", "view: knee\nchoices: {length: mini}",
        ["$.choices", "mini"],
        id="unknown choice",
    ),
    pytest.param(
        "sew", "make.yaml", "view: knee", "view: knee\nsize: 39",
        ["$.size", "39"],
        id="unknown size",
    ),
    pytest.param(
        "sew", "make.yaml", "view: knee", "view: knee\npaper: a5",
        ["$.paper", "a5", "a4"],
        id="unknown paper",
    ),
]  # fmt: skip


@pytest.mark.parametrize(("command", "file", "before", "after", "said"), CASES)
def test_a_fault_is_told_with_place_and_remedy(
    tmp_path: Path, command: str, file: str, before: str, after: str, said: list[str]
) -> None:
    skirt = example(SKIRT, tmp_path)
    edited(skirt / file, before, after)
    there = sorted(tmp_path.rglob("*"))
    ran = clothwise(command, skirt, *(["--seconds", 0] if command == "cut" else []))
    assert ran.code == 2
    for words in said:
        assert words in ran.err
    assert ran.out == ""
    assert sorted(tmp_path.rglob("*")) == there


def test_all_faults_of_a_file_are_told_at_once(tmp_path: Path) -> None:
    skirt = example(SKIRT, tmp_path)
    edited(skirt / "design.yaml", "component: circle-skirt", "component: circel-skirt")
    edited(skirt / "design.yaml", "depth: 7mm", "depht: 7mm")
    edited(skirt / "sizes.csv", "38,168,88,70", "38,168,88,7")
    ran = clothwise("check", skirt)
    assert ran.code == 2
    assert "3 faults" in ran.err
    for place in ("$.components.skirt.component", "$.components.hem.depht", "column waist_girth"):
        assert place in ran.err


@pytest.mark.parametrize(
    "content", [b"", b"\xff\xfe\x00PNG", b"hello", b"- a\n- b\n", b"\x00" * 100, b"a: &a [*a]\n"]
)
@pytest.mark.parametrize("file", ["design.yaml", "make.yaml", "sizes.csv"])
def test_a_file_that_is_something_else_is_refused(
    tmp_path: Path, file: str, content: bytes
) -> None:
    skirt = example(SKIRT, tmp_path)
    (skirt / file).write_bytes(content)
    ran = clothwise("sew", skirt)
    assert ran.code == 2
    assert file in ran.err


def test_a_design_without_a_make_can_be_checked_but_not_packed(tmp_path: Path) -> None:
    skirt = example(SKIRT, tmp_path)
    (skirt / "make.yaml").unlink()
    assert clothwise("check", skirt, "--size", "38").code == 0
    ran = clothwise("pack", skirt, "--out", tmp_path / "packet")
    assert ran.code == 2
    assert "make.yaml" in ran.err
    assert not (tmp_path / "packet").exists()


def test_a_packet_that_cannot_be_made_leaves_no_folder(tmp_path: Path) -> None:
    skirt = example(SKIRT, tmp_path)
    edited(skirt / "make.yaml", "width: 150cm", "width: 40cm")
    ran = clothwise("pack", skirt, "--seconds", 0, "--out", tmp_path / "packet")
    assert ran.code == 2
    assert not (tmp_path / "packet").exists()
