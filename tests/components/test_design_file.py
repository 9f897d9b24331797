"""Opening designs and makes: every kind of fault, with its exact line, all at once."""

from __future__ import annotations

import itertools
import shutil
from pathlib import Path

import pytest

from clothwise.components.design_file import make_files, read_design, read_make
from clothwise.errors import DocumentError, Misuse
from document_texts import CHART, SKIRT, faults_of, line_with, write_design_folder

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
CORPUS = Path(__file__).resolve().parents[1] / "corpus"


# Faults of a design -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("old", "new", "path", "what", "remedy"),
    [
        # components and parameters
        (
            "component: circle-skirt", "component: circel-skirt",
            "$.components.skirt.component", "there is no component 'circel-skirt'",
            "Did you mean circle-skirt",
        ),
        (
            "length: 60cm", "lenght: 60cm",
            "$.components.skirt.lenght", "circle-skirt has no parameter 'lenght'",
            "Did you mean length",
        ),
        (
            "length: 60cm", "length: 5m",
            "$.components.skirt.length", "length is 500 cm (allowed 20 cm to 120 cm)",
            "Write a value of 20 cm to 120 cm. What it is: Waist to finished hem.",
        ),
        (
            "length: 60cm", "length: waist_to_knee * 3",
            "$.components.skirt.length", "from waist_to_knee * 3 (allowed 20 cm to 120 cm)",
            "Write a formula that gives 20 cm to 120 cm",
        ),
        (
            "length: 60cm", "length: 60",
            "$.components.skirt.length", "this gives a plain number where a length is needed",
            "Write a unit, such as 60cm",
        ),
        (
            "length: 60cm", "length: waist_to_knee + + cm",
            "$.components.skirt.length", 'called "cm"', "cm is a unit",
        ),
        (
            "length: 60cm", "length: (waist_to_knee",
            "$.components.skirt.length", "a ) is missing at the end", "Close the parenthesis",
        ),
        (
            "length: 60cm", "length: waist_to_kne",
            "$.components.skirt.length", 'called "waist_to_kne"',
            "Did you mean waist_to_knee",
        ),
        (
            "length: 60cm", "length: 2 * opening",
            "$.components.skirt.length", 'called "opening"',
            "Write skirt_opening: formulas call a parameter by its component's name",
        ),
        (
            "length: 60cm", "length: skirt_opening * 2\n    opening: skirt_length / 2",
            "$.components.skirt.length", "these need each other: skirt_length → skirt_opening",
            "Give one of them",
        ),
        (
            "length: 60cm", "length: __import__('os').system('true')",
            "$.components.skirt.length", "not a function", "functions",
        ),
        # values by option
        (
            "length: 60cm", "length: {by: hem, long: 80cm}",
            "$.components.skirt.length", "there is no value for short", "Add `short: ...`",
        ),
        (
            "length: 60cm", "length: {by: hem, long: 80cm, tiny: 30cm, otherwise: 50cm}",
            "$.components.skirt.length.tiny", "'tiny' cannot be chosen for hem",
            "long, short, otherwise",
        ),
        (
            "length: 60cm", "length: {by: hem, long: 80cm, short: 50cm, otherwise: 1cm}",
            "$.components.skirt.length.otherwise", "every choice has its value", "Remove",
        ),
        (
            "length: 60cm", "length: {by: hme, long: 80cm, short: 50cm}",
            "$.components.skirt.length.by", "the design has no option 'hme'", "Did you mean hem",
        ),
        (
            "length: 60cm", "length: {long: 80cm, short: 50cm}",
            "$.components.skirt.length", "keys stand where a value is needed", "`by: OPTION`",
        ),
        (
            "length: 60cm", "length: {by: hem, long: 80cm, short: 9m}",
            "$.components.skirt.length.short", "length is 900 cm", "Write a value of",
        ),
        (
            "length: 60cm", "length: [60cm]",
            "$.components.skirt.length", "length holds a list where a single value", "Write one",
        ),
        (
            "length: 60cm", "length:",
            "$.components.skirt.length", "length is empty", "Write a value after the colon",
        ),
        # conditions
        (
            "length: 60cm", "when: {hem: longish}",
            "$.components.skirt.when.hem", "'longish' is none of the choices", "Did you mean long",
        ),
        (
            "length: 60cm", "when: {shape: long}",
            "$.components.skirt.when.shape", "the design has no option 'shape'", "hem, pockets",
        ),
        (
            "length: 60cm", "when: long",
            "$.components.skirt.when", "when holds a single value where keys", "`key: value`",
        ),
        # roles
        (
            "length: 60cm", "role: mian",
            "$.components.skirt.role", "'mian' is none of the fabric roles", "Did you mean main",
        ),
        # options
        (
            "long: Long, short: Short}", "}",
            "$.options.hem.choices", "there are no choices", "`name: title`",
        ),
        (
            "long: Long, short: Short}", "long: Long}\n    default: short",
            "$.options.hem.default", "'short' is none of the choices", "The choices are: long",
        ),
        (
            "long: Long, short: Short}", "by: Long}",
            "$.options.hem.choices.by", "a choice cannot be called by", "another name",
        ),
        # the size chart
        (
            "size_chart: sizes.csv", "size_chart: size.csv",
            "$.size_chart", "there is no file 'size.csv' in the folder", "Did you mean sizes.csv",
        ),
        (
            "size_chart: sizes.csv", "size_chart: ../sizes.csv",
            "$.size_chart", "'../sizes.csv' lies outside the folder", "Copy the chart",
        ),
        (
            "size_chart: sizes.csv", "size_chart: /etc/passwd",
            "$.size_chart", "'/etc/passwd' lies outside the folder", "Copy the chart",
        ),
        (
            "base_size: 38", "base_size: 39",
            "$.base_size", "the chart has no size '39'", "The sizes are: 36, 38, 52",
        ),
        # the rest
        (
            "title: Skirt", "titel: Skirt",
            "$.titel", "'titel' is not known here", "Did you mean title",
        ),
        (
            "title: Skirt", "title: Skirt\nunit: inch",
            "$.unit", "'inch' is none of the units", "Did you mean in?",
        ),
        (
            "title: Skirt", "title: Skirt\nseam_allowance: 15",
            "$.seam_allowance", "a plain number where a length", "15cm, 15mm",
        ),
        (
            "title: Skirt", "title: Skirt\nseam_allowance: 15cm",
            "$.seam_allowance", "seam_allowance is 15 cm (allowed 0.4 cm to 5 cm)", "Usual",
        ),
        (
            "title: Skirt", "title: Skirt\nvalues: {hip_girth: 3cm}",
            "$.values.hip_girth", "a measurement is called that", "another name",
        ),
        (
            "title: Skirt", "title: Skirt\nvalues: {pockets: 3}",
            "$.values.pockets", "an option is called that", "another name",
        ),
        (
            "title: Skirt", "title: Skirt\nvalues: {skirt_length: 3cm}",
            "$.values.skirt_length", "a parameter of the component skirt", "another name",
        ),
        (
            "title: Skirt", "title: Skirt\nvalues: {room: 3 cm * 2 cm + 1cm}",
            "$.values.room", "an area and a length cannot be added", "same kind",
        ),
        (
            "title: Skirt", "title: Skirt\nviews: {A: {choices: {hem: tiny}}}",
            "$.views.A.choices.hem", "'tiny' cannot be chosen for hem", "long, short",
        ),
        (
            "title: Skirt", "title: Skirt\nviews: {A: {choices: {hme: long}}}",
            "$.views.A.choices.hme", "the design has no option 'hme'", "Did you mean hem",
        ),
        (
            "title: Skirt", "title: Skirt\nconditions: [{when: {hem: long}, because: So.}]",
            "$.conditions[0]", "needs is missing", "Add a line `needs: ...`",
        ),
        (
            "title: Skirt",
            "title: Skirt\nconditions: "
            "[{when: {hem: long}, needs: {pockets: 1}, because: Long skirts need one.}]",
            "$.options", "of the defaults, these choices do not go together", "Long skirts need",
        ),
        (
            "schema: 1", "schema: 99",
            "$.schema", "the file has version 99; this program knows versions up to 1", "newer",
        ),
        ("schema: 1", "schema: one", "$.schema", "'one' is not a version", "`schema: 1`"),
        (
            "  skirt:", "  skirt/a:",
            '$.components["skirt/a"]', "'skirt/a' cannot be the name of a component", "letters",
        ),
        (
            "  band:\n    component: straight-waistband", "  band:\n    width: 3cm",
            "$.components.band", "band does not state which component it is", "`component:",
        ),
    ],
)  # fmt: skip
def test_each_fault_of_a_design_is_told_with_its_line(
    tmp_path: Path, old: str, new: str, path: str, what: str, remedy: str
) -> None:
    assert SKIRT.count(old) == 1
    text = SKIRT.replace(old, new)
    faults = faults_of(tmp_path, text)
    fault = next((each for each in faults if each.path == path and what in each.what), None)
    assert fault is not None, "\n".join(map(str, faults))
    assert fault.file == str(tmp_path / "design.yaml")
    assert remedy in fault.remedy
    assert fault.line == expected_line(text, path)
    assert len(faults) == 1 or path.startswith(("$.titel", "$.components[")), "nothing else said"


def expected_line(text: str, path: str) -> int:
    """The line where the last key of the path stands for the first time after its parents."""
    lines = text.split("\n")
    at = 0
    for key in path.removeprefix("$.").replace('["', ".").replace('"]', "").split("."):
        key = key.partition("[")[0]
        if key:
            at = next(n for n in range(at, len(lines)) if f"{key}:" in lines[n])
    return at + 1


def test_all_faults_of_a_design_and_its_chart_are_told_at_once(tmp_path: Path) -> None:
    text = (
        SKIRT.replace("title: Skirt", "titel: Skirt")
        .replace("base_size: 38", "base_size: 38\nunit: furlong")
        .replace("length: 60cm", "length: wiast_girth\n    share: 7\n    shape: round")
        .replace("straight-waistband", "straight-wasteband")
        .replace("long: Long", "long: Long, long: Longer")
    )
    faults = faults_of(tmp_path, text, CHART.replace("84,", "eighty,"))
    found = {(Path(fault.file).name, fault.line) for fault in faults}
    assert found == {
        ("design.yaml", 1),  # title is missing
        ("design.yaml", line_with(text, "titel")),
        ("design.yaml", line_with(text, "furlong")),
        ("design.yaml", line_with(text, "Longer")),
        ("design.yaml", line_with(text, "wiast_girth")),
        ("design.yaml", line_with(text, "share")),
        ("design.yaml", line_with(text, "shape")),
        ("design.yaml", line_with(text, "wasteband")),
        ("sizes.csv", 2),
    }
    assert all(fault.what and fault.remedy for fault in faults)
    assert faults == tuple(dict.fromkeys(faults)), "nothing is told twice"


def test_a_formula_that_needs_a_faulty_one_is_not_told_again(tmp_path: Path) -> None:
    text = SKIRT.replace("length: 60cm", "length: 2 * skirt_opening\n    opening: 19 cm + ")
    (fault,) = faults_of(tmp_path, text)
    assert fault.path == "$.components.skirt.opening"


def test_what_is_worked_out_from_an_unknown_component_is_not_told_again(tmp_path: Path) -> None:
    text = SKIRT.replace("length: 60cm", "length: 9 * band_width").replace("-waistband", "-belt")
    (fault,) = faults_of(tmp_path, text)
    assert fault.path == "$.components.band.component"


def test_faults_of_choices_that_no_view_shows_are_found(tmp_path: Path) -> None:
    value = "{by: hem, short: {by: pockets, 1: 9m, otherwise: 50cm}, long: 60cm}"
    text = SKIRT.replace("length: 60cm", f"length: {value}").replace(
        "straight-waistband", "straight-waistband\n    when: {pockets: 1}\n    width: 2m"
    )
    faults = faults_of(tmp_path, text)
    assert {fault.path for fault in faults} == {
        "$.components.skirt.length.short.1",
        "$.components.band.width",
    }


def test_two_components_that_formulas_could_not_tell_apart_are_refused(tmp_path: Path) -> None:
    text = SKIRT + "  hem-hem:\n    component: double-hem\n  hem_hem:\n    component: double-hem\n"
    (fault, *_) = faults_of(tmp_path, text)
    assert fault.line == line_with(text, "  hem_hem:")
    assert "could not tell hem_hem_depth" in fault.what


def test_syntax_faults_are_told_with_the_file(tmp_path: Path) -> None:
    text = SKIRT.replace("    length", "\tlength")
    (fault,) = faults_of(tmp_path, text)
    assert fault.file == str(tmp_path / "design.yaml")
    assert fault.line == line_with(text, "\tlength")
    assert "tab" in fault.what


def test_a_missing_folder_or_file_is_told(tmp_path: Path) -> None:
    for path in (tmp_path, tmp_path / "nowhere", tmp_path / "nowhere" / "design.yaml"):
        with pytest.raises(DocumentError, match="there is no such") as caught:
            read_design(path)
        assert "clothwise new" in caught.value.what_to_do


def test_a_binary_file_is_told(tmp_path: Path) -> None:
    (tmp_path / "design.yaml").write_bytes(b"\x89PNG\r\n\x1a\n" + bytes(range(256)))
    with pytest.raises(DocumentError, match="UTF-8"):
        read_design(tmp_path)


def test_a_value_out_of_range_at_another_size_is_told_with_its_line(tmp_path: Path) -> None:
    text = SKIRT.replace("length: 60cm", "length: 8.9 * (waist_girth - 60cm)")
    file = read_design(write_design_folder(tmp_path, text))
    file.draft()
    with pytest.raises(DocumentError) as caught:
        file.draft(body=file.body("52"))
    (fault,) = caught.value.faults
    assert fault.line == line_with(text, "8.9")
    assert "for size 52, length is 400.5 cm" in fault.what


def test_an_edited_file_is_read_anew(tmp_path: Path) -> None:
    write_design_folder(tmp_path)
    assert read_design(tmp_path).design.title == "Skirt"
    write_design_folder(tmp_path, SKIRT.replace("title: Skirt", "title: Kilt"))
    assert read_design(tmp_path).design.title == "Kilt"
    write_design_folder(tmp_path, chart=CHART.replace("38,168", "38,170"))
    assert read_design(tmp_path).body()["height"] == 1700


# Examples and older versions ----------------------------------------------------------------------


@pytest.mark.parametrize("name", ["kiln-dress", "half-circle-skirt"])
def test_examples_draft_in_every_size_and_every_mixture(name: str) -> None:
    file = read_design(EXAMPLES / name)
    options = [
        [(option.name, choice) for choice in option.choices] for option in file.design.options
    ]
    for mixture in itertools.product(*options):
        for size in (file.sizes[0], file.design.base_size, file.sizes[-1]):
            assert file.draft(dict(mixture), body=file.body(size)).pieces
    for size in file.sizes:
        for view in file.design.views:
            assert file.draft(view=view.name, body=file.body(size)).size == size


def test_kiln_dress_views_have_the_pieces_they_should() -> None:
    file = read_design(EXAMPLES / "kiln-dress")
    body = ["bodice-front", "bodice-back", "skirt-front", "skirt-back"]
    facing = ["facing-front", "facing-back"]
    collar = ["collar-upper", "collar-under"]
    assert [*file.draft(view="A").pieces] == [*body, *facing, *collar, "sleeve", "pocket", "belt"]
    assert [*file.draft(view="B").pieces] == [*body, *facing, "belt"]
    tunic = file.draft({"hem": "tunic"}).piece("skirt-front").edge("front-edge").length
    calf = file.draft().piece("skirt-front").edge("front-edge").length
    assert calf - tunic == pytest.approx(
        file.body()["waist_to_knee"] + 220 - file.body()["waist_to_hip"] - 200
    )
    assert {copy.role for copy in file.draft().piece("pocket").copies} == {"contrast"}
    assert len(file.draft({"pockets": "1"}).piece("pocket").copies) == 1


def test_half_circle_skirt_has_the_radius_of_the_formula() -> None:
    """Check value C01: the radius is W / (2 pi f); geometry."""
    file = read_design(EXAMPLES / "half-circle-skirt")
    waist = file.draft().piece("skirt").edge("waist")
    assert 2 * waist.length == pytest.approx(file.body()["waist_girth"] + 15, abs=0.05)


def test_a_design_of_version_0_still_opens_and_drafts() -> None:
    file = read_design(CORPUS / "design-version-0")
    assert file.design.title == "Old circle skirt"
    assert [*file.draft().pieces] == ["skirt", "waistband"]
    assert file.design.component("hem").parameters == {"depth": "7mm"}


def test_faults_of_an_older_version_point_into_the_file_as_it_is(tmp_path: Path) -> None:
    shutil.copytree(CORPUS / "design-version-0", tmp_path, dirs_exist_ok=True)
    file = tmp_path / "design.yaml"
    text = file.read_text(encoding="utf-8").replace("share: 0.5", "share: 5")
    file.write_text(text, encoding="utf-8")
    with pytest.raises(DocumentError) as caught:
        read_design(tmp_path)
    (fault,) = caught.value.faults
    assert fault.line == line_with(text, "share: 5")


# Makes --------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "path", [path for name in ("kiln-dress", "half-circle-skirt")
             for path in make_files(EXAMPLES / name)], ids=lambda path: path.stem
)  # fmt: skip
def test_example_makes_assign_a_fabric_to_every_copy(path: Path) -> None:
    file = read_make(path)
    pattern = file.draft()
    assigned = file.assign(pattern)
    copies = [(piece.name, copy.name) for piece in pattern.pieces.values() for copy in piece.copies]
    assert list(assigned) == copies
    assert {*assigned.values()} == {fabric.name for fabric in file.make.fabrics}


def test_own_measurements_beside_a_size_replace_those_of_the_size() -> None:
    file = read_make(EXAMPLES / "kiln-dress" / "makes" / "own-mixture.yaml")
    assert file.body["back_neck_to_waist"] == 420
    assert file.body["bust_girth"] == file.of.body("40")["bust_girth"]
    assert file.choices == {
        "hem": "tunic", "armhole": "sleeve", "collar": "two-piece", "pockets": "1"
    }  # fmt: skip


MAKE = """\
schema: 1
title: Trial
size: 38
fabrics:
  wool:
    width: 150cm
roles:
  main: wool
  interfacing: wool
"""


@pytest.mark.parametrize(
    ("old", "new", "path", "what", "remedy"),
    [
        ("size: 38", "size: 39", "$.size", "there is no size '39'", "36, 38, 52"),
        ("size: 38", "view: A", "$.view", "'A' is none of the views", "no views"),
        (
            "size: 38", "choices: {hem: tiny}",
            "$.choices.hem", "'tiny' cannot be chosen", "long, short",
        ),
        (
            "size: 38", "measurements: {bust_grith: 92cm}",
            "$.measurements.bust_grith", "not a measurement", "Did you mean bust_girth",
        ),
        (
            "size: 38", "measurements: {bust_girth: 92}",
            "$.measurements.bust_girth", "'92' has no unit", "right after the number",
        ),
        (
            "size: 38", "size: 38\nmeasurements: {bust_girth: 9.2cm}",
            "$.measurements.bust_girth", "bust_girth is 9.2 cm", "was 92 cm meant",
        ),
        (
            "size: 38", "body: ada.yaml",
            "", "there is no such file", "Check the name",
        ),
        (
            "width: 150cm", "width: 150m",
            "$.fabrics.wool.width", "no fabric is 15000 cm wide (allowed up to 10 m)", "selvage",
        ),
        (
            "width: 150cm", "width: 150cm\n    usable_width: 151cm",
            "$.fabrics.wool.usable_width", "more than the whole width (151cm of 150cm)", "between",
        ),
        (
            "width: 150cm", "title: Wool",
            "$.fabrics.wool", "width is missing", "Add a line `width: ...`",
        ),
        (
            "width: 150cm", "width: 150cm\n    shrinkage_along: 60%",
            "$.fabrics.wool.shrinkage_along", "shrinks by 60% (allowed 0% to 25%)", "percentage",
        ),
        (
            "width: 150cm", "width: 150cm\n    price: 12",
            "$.fabrics.wool.price", "'12' is not the price of a meter", "18.50 EUR/m",
        ),
        (
            "width: 150cm", "width: 150cm\n    nap: upward",
            "$.fabrics.wool.nap", "'upward' is none of the kinds of nap", "none, one way",
        ),
        (
            "width: 150cm", "width: 150cm\n    color: #aabbcc",
            "$.fabrics.wool.color", "color is empty", "begins with # needs quotes",
        ),
        (
            "width: 150cm", "width: 150cm\n    color: rust",
            "$.fabrics.wool.color", "'rust' is not a color", "six hexadecimal",
        ),
        (
            "main: wool", "main: wol",
            "$.roles.main", "'wol' is none of the fabrics", "Did you mean wool",
        ),
        (
            "main: wool", "mian: wool",
            "$.roles.mian", "the design has no fabric role 'mian'", "Did you mean main",
        ),
        ("title: Trial", "paper: A4", "$.paper", "'A4' is none of the papers", "a4"),
        ("title: Trial", "seed: -1", "$.seed", "'-1' is not a seed", "whole number"),
        ("title: Trial", "design: ..", "$.design", "there is no design.yaml in '..'", "folder"),
    ],
)  # fmt: skip
def test_each_fault_of_a_make_is_told_with_its_line(
    tmp_path: Path, old: str, new: str, path: str, what: str, remedy: str
) -> None:
    folder = write_design_folder(tmp_path / "design")
    text = MAKE.replace(old, new)
    (folder / "make.yaml").write_text(text, encoding="utf-8")
    with pytest.raises(DocumentError) as caught:
        read_make(folder / "make.yaml")
    (fault,) = caught.value.faults
    assert fault.path == path
    assert what in fault.what
    assert remedy in fault.remedy
    if path:
        assert fault.file == str(folder / "make.yaml")
        assert fault.line == expected_line(text, path)


def test_faults_of_make_and_design_are_told_together(tmp_path: Path) -> None:
    write_design_folder(tmp_path, SKIRT.replace("60cm", "60"))
    (tmp_path / "make.yaml").write_text(MAKE.replace("150cm", "150"), encoding="utf-8")
    with pytest.raises(DocumentError) as caught:
        read_make(tmp_path / "make.yaml")
    assert [Path(fault.file).name for fault in caught.value.faults] == ["make.yaml", "design.yaml"]


def test_a_make_without_a_design_says_so(tmp_path: Path) -> None:
    (tmp_path / "make.yaml").write_text(MAKE, encoding="utf-8")
    with pytest.raises(DocumentError, match="beside this make"):
        read_make(tmp_path / "make.yaml")


def test_size_and_body_file_exclude_each_other(tmp_path: Path) -> None:
    write_design_folder(tmp_path)
    (tmp_path / "ada.yaml").write_text(
        "measurements: {height: 168cm, bust_girth: 92cm, waist_girth: 75cm, hip_girth: 99cm}\n",
        encoding="utf-8",
    )
    make = tmp_path / "make.yaml"
    make.write_text(MAKE.replace("size: 38", "body: ada.yaml"), encoding="utf-8")
    assert read_make(make).body["waist_girth"] == 750
    make.write_text(MAKE.replace("size: 38", "size: 38\nbody: ada.yaml"), encoding="utf-8")
    with pytest.raises(DocumentError, match=r"line 4, \$.body: both size and body"):
        read_make(make)


def test_makes_are_found_in_order(tmp_path: Path) -> None:
    (tmp_path / "makes").mkdir()
    for name in ("makes/b.yaml", "makes/a.yaml", "make.yaml", "makes/notes.txt"):
        (tmp_path / name).write_text("", encoding="utf-8")
    found = [path.relative_to(tmp_path).as_posix() for path in make_files(tmp_path)]
    assert found == ["make.yaml", "makes/a.yaml", "makes/b.yaml"]


def test_an_unknown_size_is_misuse() -> None:
    with pytest.raises(Misuse, match="there is no size"):
        read_design(EXAMPLES / "kiln-dress").body("tiny")
