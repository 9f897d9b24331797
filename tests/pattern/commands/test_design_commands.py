"""Values, titles and whole documents, written so that all else in the text stays as it is."""

from pathlib import Path

import pytest

from clothwise.errors import CommandError, DocumentError, Misuse
from clothwise.pattern.commands import (
    Command,
    Documents,
    RemoveFile,
    Rename,
    ReplaceFile,
    SetDesign,
    SetParameter,
    check_document_name,
    command_from_data,
    command_kinds,
    read_documents,
)
from clothwise.pattern.commands.schemas import command_schemas
from clothwise.pattern.document import parse_design

EXAMPLES = Path(__file__).parents[3] / "examples"


@pytest.fixture(scope="module")
def kiln_dress() -> Documents:
    return read_documents(EXAMPLES / "kiln-dress")


def changed_lines(before: Documents, after: Documents) -> list[tuple[str, str]]:
    """Lines of the design that differ, old and new."""
    pairs = zip(before["design.yaml"].splitlines(), after["design.yaml"].splitlines(), strict=True)
    return [(old.strip(), new.strip()) for old, new in pairs if old != new]


def test_value_by_option_changes_where_the_choices_lead(kiln_dress: Documents) -> None:
    after = SetParameter("skirt", "flare", "6cm", {"hem": "tunic"}).apply(kiln_dress)
    assert changed_lines(kiln_dress, after) == [
        (
            "flare: {by: hem, mid-calf: 9cm, tunic: 5cm}",
            "flare: {by: hem, mid-calf: 9cm, tunic: 6cm}",
        )
    ]
    default = SetParameter("skirt", "flare", "10cm").apply(kiln_dress)
    assert "flare: {by: hem, mid-calf: 10cm, tunic: 5cm}" in default["design.yaml"]
    for_all = SetParameter("skirt", "flare", "7cm", for_all=True).apply(kiln_dress)
    assert parse_design(for_all["design.yaml"]).component("skirt").parameters["flare"] == "7cm"


@pytest.mark.parametrize(
    "value", ["waist_to_knee + 22cm - 8mm", "min(80cm, waist_to_knee)", "0.5 * height", "1 1/2in"]
)
def test_formula_is_written_as_it_is_typed(kiln_dress: Documents, value: str) -> None:
    after = SetParameter("sleeve", "length", value).apply(kiln_dress)
    assert parse_design(after["design.yaml"]).component("sleeve").parameters["length"] == value


def test_only_one_line_changes_and_remarks_stay(kiln_dress: Documents) -> None:
    after = SetParameter("bodice", "bust_ease", "11cm").apply(kiln_dress)
    assert changed_lines(kiln_dress, after) == [("bust_ease: 10cm", "bust_ease: 11cm")]
    assert [name for name in after if after[name] != kiln_dress[name]] == ["design.yaml"]


def test_parameter_left_out_is_as_usual_again(kiln_dress: Documents) -> None:
    after = SetParameter("skirt", "hip_ease", "").apply(kiln_dress)
    assert "hip_ease" not in parse_design(after["design.yaml"]).component("skirt").parameters
    added = SetParameter("collar", "fall", "7cm").apply(kiln_dress)
    assert parse_design(added["design.yaml"]).component("collar").parameters == {"fall": "7cm"}


def test_values_of_the_design(kiln_dress: Documents) -> None:
    after = SetParameter("", "swing", "4cm").apply(kiln_dress)
    assert parse_design(after["design.yaml"]).values == {"swing": "4cm"}
    again = SetParameter("", "swing", "5cm").apply(after)
    assert changed_lines(after, again) == [("swing: 4cm", "swing: 5cm")]


@pytest.mark.parametrize("text", ["yes", "no", "~", "a: b", "# x", "[1, 2]", "'x'", "a, b"])
def test_texts_that_yaml_could_misread_come_back(kiln_dress: Documents, text: str) -> None:
    after = Rename(text).apply(kiln_dress)
    assert parse_design(after["design.yaml"]).title == text


def test_design_says_something_else(kiln_dress: Documents) -> None:
    after = SetDesign({"unit": "in", "base_size": "40", "seam_allowance": "5/8in"}).apply(
        kiln_dress
    )
    design = parse_design(after["design.yaml"])
    assert (design.unit.value, design.base_size, design.seam_allowance) == ("in", "40", "5/8in")


@pytest.mark.parametrize(
    ("command", "message"),
    [
        (SetParameter("skrit", "flare", "1cm"), "Did you mean skirt"),
        (SetDesign({"unit": "ell"}), "no unit of length"),
        (SetDesign({"colour": "red"}), "nothing that a design says"),
        (SetDesign({"base_size": ""}), "cannot be saved|base_size"),
        (RemoveFile("makes/none.yaml"), "no document"),
        (RemoveFile("design.yaml"), "whole folder"),
        (ReplaceFile("sizes.xlsx", "x"), "spreadsheets are read"),
        (ReplaceFile("notes.txt", "x"), "no document can be called"),
    ],
)
def test_refusals_say_what_to_do(kiln_dress: Documents, command: Command, message: str) -> None:
    with pytest.raises((CommandError, Misuse), match=message) as caught:
        command.apply(kiln_dress)
    assert caught.value.what_to_do


def test_document_with_faults_is_refused(kiln_dress: Documents) -> None:
    for name in ("design.yaml", "makes/view-a.yaml", "stash.yaml"):
        with pytest.raises(DocumentError):
            ReplaceFile(name, "title: x\nnonsense: y\n").apply(kiln_dress)


@pytest.mark.parametrize(
    "name",
    [
        *("../design.yaml", "/etc/passwd", "makes/../x.yaml", ".hidden.yaml", "makes/.x.yaml"),
        *(
            "a/b.yaml",
            "makes\\x.yaml",
            "x",
            "",
            "makes/",
            "./x.yaml",
            "a\n.yaml",
            "x" * 90 + ".csv",
        ),
        *(".history/log.yaml", "makes/a/b.yaml", "..yaml", "design.yaml/", "c:x.yaml"),
    ],
)
def test_no_document_is_called_so(name: str) -> None:
    with pytest.raises(CommandError, match="no document can be called"):
        check_document_name(name)


# As data ----------------------------------------------------------------------------------------


def test_every_command_has_a_kind_words_and_comes_back_from_data() -> None:
    samples = {
        "str": "x",
        "bool": True,
        "Mapping[str, str]": {"a": "b"},
        "Mapping[str, tuple[str, ...]]": {"hem": ("a", "b")},
        "Mapping[str, Mapping[str, str]]": {"a": {"along": "1mm", "across": "2mm"}},
        "tuple[str, ...]": ("x", "y"),
        "tuple[Mapping[str, str], ...]": ({"outline": "0 0; 1cm 0; 1cm 1cm"},),
        "tuple[tuple[str, str, str], ...]": (("38", "height", "1"),),
    }
    kinds = command_kinds()
    assert len(kinds) >= 22
    for of in kinds.values():
        hints = {name: hint for name, hint in of.__annotations__.items() if name != "kind"}
        values = {name: samples[hint] for name, hint in hints.items()}
        command = of(**values)
        assert command_from_data(command.to_data()) == command
        assert command.words
        assert isinstance(command.touches, frozenset)


@pytest.mark.parametrize(
    "data",
    [
        {}, [], None, {"kind": 7}, {"kind": "nothing"}, {"kind": "rename"},
        {"kind": "rename", "title": 7}, {"kind": "rename", "title": "x", "more": "y"},
        {"kind": "rename", "title": "x" * 1_000_001},
        {"kind": "set-cells", "chart": "a", "cells": [["38", "height"]]},
        {"kind": "set-cells", "chart": "a", "cells": "38"},
        {"kind": "set-parameter", "component": "a", "parameter": "b", "value": "c", "choices": [1]},
    ],
)  # fmt: skip
def test_what_is_no_command_is_refused(data: object) -> None:
    with pytest.raises(CommandError):
        command_from_data(data)  # type: ignore[arg-type]


def test_every_command_is_described_for_scripts() -> None:
    schemas = command_schemas()
    assert [*schemas] == [*command_kinds()]
    for kind, schema in schemas.items():
        assert schema["properties"]["kind"] == {"const": kind}
        assert schema["description"].endswith(".")
        for name, entry in schema["properties"].items():
            assert name == "kind" or len(entry["description"]) > 2
    cells = schemas["set-cells"]["properties"]["cells"]
    assert cells["items"]["maxItems"] == 3
    assert schemas["set-parameter"]["required"] == ["kind", "component", "parameter", "value"]
