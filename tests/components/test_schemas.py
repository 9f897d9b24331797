"""The JSON Schemas accept what we accept, and editors get the help of every key."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from ruamel.yaml import YAML

from clothwise.components import component_class, kinds, make_files
from clothwise.components.schemas import design_schema, make_schema, stash_schema
from clothwise.pattern.document.cutting_entry import CUTTING_KEYS, PIN_KEYS
from clothwise.pattern.document.design_reader import (
    COMPONENT_KEYS,
    CONDITION_KEYS,
    CORNER_KEYS,
    DESIGN_KEYS,
    LIMIT_KEYS,
    OPTION_KEYS,
    ROLE_KEYS,
    VIEW_KEYS,
)
from clothwise.pattern.document.fabric_reader import STASH_FABRIC_KEYS
from clothwise.pattern.document.flaw_entry import FLAW_KEYS
from clothwise.pattern.document.make_reader import FABRIC_KEYS, MAKE_KEYS
from clothwise.pattern.document.remnant_entry import REMNANT_KEYS
from clothwise.pattern.document.repeat_entry import REPEAT_KEYS
from clothwise.pattern.document.stash import STASH_KEYS

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
DESIGN = Draft202012Validator(design_schema())
MAKE = Draft202012Validator(make_schema())


def loaded(path: Path) -> Any:
    """Load as an editor would: YAML 1.2, keys as texts."""
    return with_text_keys(YAML(typ="safe", pure=True).load(path.read_text(encoding="utf-8")))


def with_text_keys(value: Any) -> Any:
    if isinstance(value, dict):
        return {str(key): with_text_keys(each) for key, each in value.items()}
    return [with_text_keys(each) for each in value] if isinstance(value, list) else value


def test_schemas_are_schemas() -> None:
    Draft202012Validator.check_schema(design_schema())
    Draft202012Validator.check_schema(make_schema())
    Draft202012Validator.check_schema(stash_schema())


@pytest.mark.parametrize("name", ["kiln-dress", "half-circle-skirt"])
def test_examples_are_valid(name: str) -> None:
    errors = [
        error.message for error in DESIGN.iter_errors(loaded(EXAMPLES / name / "design.yaml"))
    ]
    assert errors == []
    for path in make_files(EXAMPLES / name):
        assert [error.message for error in MAKE.iter_errors(loaded(path))] == []


@pytest.mark.parametrize(
    ("component", "key", "value"),
    [
        ("skirt", "lenght", "60cm"),
        ("skirt", "length", 60),
        ("skirt", "length", "60"),
        ("skirt", "length", {"long": "60cm"}),
        ("pocket", "host", "belt"),
        ("pocket", "number", 3),
        ("pocket", "when", {}),
        ("skirt", "corners", [{"line": "skirt-front.hem"}]),
        ("skirt", "corners", [{"line": "hem", "because": "pointed"}]),
        ("collar", "component", "two-peace-collar"),
    ],
)
def test_slips_in_a_component_are_marked(component: str, key: str, value: object) -> None:
    document = loaded(EXAMPLES / "kiln-dress" / "design.yaml")
    document["components"][component][key] = value
    assert not DESIGN.is_valid(document)


@pytest.mark.parametrize("key", ["title", "size_chart", "components", "schema"])
def test_missing_and_unknown_keys_are_marked(key: str) -> None:
    document = loaded(EXAMPLES / "half-circle-skirt" / "design.yaml")
    assert not DESIGN.is_valid({**document, "titel": "x"})
    del document[key]
    assert not DESIGN.is_valid(document)


def test_schemas_know_exactly_the_keys_that_are_read() -> None:
    schema = design_schema()["properties"]
    assert set(schema) == set(DESIGN_KEYS)
    assert set(schema["options"]["additionalProperties"]["properties"]) == set(OPTION_KEYS)
    assert set(schema["fabric_roles"]["additionalProperties"]["properties"]) == set(ROLE_KEYS)
    assert set(schema["views"]["additionalProperties"]["properties"]) == set(VIEW_KEYS)
    assert set(schema["conditions"]["items"]["properties"]) == set(CONDITION_KEYS)
    assert set(schema["limits"]["additionalProperties"]["properties"]) == set(LIMIT_KEYS)
    corner = design_schema()["$defs"]["corner"]["properties"]
    assert set(corner) == set(CORNER_KEYS)
    make = make_schema()["properties"]
    assert set(make) == set(MAKE_KEYS)
    fabric = make["fabrics"]["additionalProperties"]["properties"]
    assert set(fabric) == set(FABRIC_KEYS)
    assert set(fabric["repeat"]["properties"]) == set(REPEAT_KEYS)
    assert set(fabric["flaws"]["items"]["properties"]) == set(FLAW_KEYS)
    assert set(make["cutting"]["properties"]) == set(CUTTING_KEYS)
    assert set(make["pins"]["additionalProperties"]["properties"]) == set(PIN_KEYS)
    stash = stash_schema()["properties"]
    assert set(stash) == set(STASH_KEYS)
    assert set(stash["fabrics"]["additionalProperties"]["properties"]) == set(STASH_FABRIC_KEYS)
    assert set(stash["remnants"]["additionalProperties"]["properties"]) == set(REMNANT_KEYS)


@pytest.mark.parametrize("kind", kinds())
def test_every_parameter_has_its_help_and_default(kind: str) -> None:
    properties = design_schema()["$defs"][kind]["properties"]
    parameters = component_class(kind).parameters()
    assert set(properties) == {*COMPONENT_KEYS, *parameters}
    for name, parameter in parameters.items():
        assert properties[name]["description"].startswith(parameter.help)
        one = {"schema": 1, "title": "x", "size_chart": "x.csv", "base_size": "x"}
        part = {"component": kind, name: properties[name]["default"]}
        assert DESIGN.is_valid({**one, "components": {"part": part}})


def test_no_parameter_is_called_like_a_key_of_every_component() -> None:
    for kind in kinds():
        assert not set(component_class(kind).parameters()) & set(COMPONENT_KEYS)


@pytest.mark.parametrize(
    ("fabric", "is_valid"),
    [
        ({"width": "140cm"}, True),
        ({"stash": "linen", "layers": "folded"}, True),
        ({"title": "linen"}, False),
        ({"width": "140cm", "repeat": {"along": "6cm", "start_along": 0}}, True),
        ({"width": "140cm", "repeat": {}}, False),
        ({"width": "140cm", "flaws": [{"outline": [[0, 0], ["1m", 0], ["1m", "9cm"]]}]}, True),
        ({"width": "140cm", "flaws": [{"along": "1m"}]}, False),
        ({"width": "140cm", "wrong_side_usable": "perhaps"}, False),
        ({"width": "140cm", "grainless": "yes"}, True),
        ({"width": "140cm", "grainless": "perhaps"}, False),
    ],
)
def test_fabrics_are_described_as_they_are_read(fabric: dict[str, Any], is_valid: bool) -> None:
    assert MAKE.is_valid({"schema": 1, "fabrics": {"cloth": fabric}}) is is_valid
