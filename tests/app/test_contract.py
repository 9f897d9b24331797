"""The interface for scripts is what its description says: every operation is asked."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import fields
from pathlib import Path
from typing import Any

import httpx2
import jsonschema
import pytest
from starlette.routing import Match, Route

from clothwise.app.contract import OPERATIONS, Operation, answers, openapi
from clothwise.app.jobs.findings import Found
from clothwise.app.routes import joined
from clothwise.pattern.commands import Rename, command_kinds
from clothwise.pattern.document import starting_design

from .conftest import TOKEN, Window, entered

ROOT = Path(__file__).resolve().parents[2]
SCRIPT = {"accept": "application/json", "authorization": f"Bearer {TOKEN}"}
WORDS = {"design": "kiln-dress", "make": "view-a", "number": "2"}
ASKED_ELSEWHERE = {
    "/designs/import": "test_shelf.py sends files",
    "/d/{design}/m/{make}/pack/build": "takes seconds; test_pack_room.py builds",
    "/d/{design}/m/{make}/pack/{number}.zip": "test_pack_room.py opens one",
    "/d/{design}/m/{make}/print.pdf": "test_print_room.py reads the file",
    "/d/{design}/m/{make}/cut/adopt": "test_cut.py takes over what was found",
    "/d/{design}/m/{make}/cut/take-out": "test_cut_left_aside.py takes out what is said of it",
    "/d/{design}/m/{make}/cut/tuning/take": "test_cut_tune.py takes over what was found",
}
PEOPLE = "Name\tHeight\tBust\tWaist\tHips\nAda\t168\t92\t74\t100\nBea\t165\t88\t70\t96\n"
FIELDS: dict[str, dict[str, str]] = {
    "/designs": {"kind": "half-circle-skirt", "title": "By script"},
    "/d/{design}/rename": {"title": "Renamed by a script"},
    "/d/{design}/commands": {"command": json.dumps({"kind": "rename", "title": "Commanded"})},
    "/d/{design}/measure/cells": {"cells": json.dumps([["38", "waist_girth", "73"]])},
    "/d/{design}/measure/add-size": {
        "size": "Ida",
        "height": "171",
        "bust_girth": "97",
        "waist_girth": "80",
        "hip_girth": "104",
    },
    "/d/{design}/measure/move-size": {"size": "50", "way": "earlier"},
    "/d/{design}/measure/remove-size": {"size": "52"},
    "/d/{design}/measure/row-kind": {"size": "50", "row_kind": "person"},
    "/d/{design}/measure/bring": {"text": PEOPLE, "unit": "cm", "base_row": "Ada"},
    "/d/{design}/measure/class": {"text": PEOPLE, "unit": "cm"},
    "/d/{design}/m/{make}/sew/done": {"step": "bodice-staystitch", "done": "yes"},
    "/d/{design}/m/{make}/cut/paint": {"copies": "pocket/left", "fabric": "linen"},
    "/d/{design}/m/{make}/cut/pin": {"copy": "sleeve/left", "along": "1m", "across": "20cm"},
    "/d/{design}/m/{make}/cut/search": {"effort": "quick", "only": "print"},
    "/d/{design}/m/{make}/cut/flaw": {
        "cloth": "linen",
        "of": "fabric",
        "along": "40cm",
        "across": "20cm",
        "length": "3cm",
        "width": "3cm",
    },
    "/ongoing/stop": {"work": "one that has ended"},
    "/d/{design}/makes": {"title": "By script", "view": "B", "size": "40", "like": "view-b"},
}


@pytest.fixture(scope="module")
def library(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Window]:
    """One window for all that only reads."""
    workspace = tmp_path_factory.mktemp("library") / "designs"
    workspace.mkdir()
    starting_design("kiln-dress", workspace / "kiln-dress")
    with entered(workspace) as window:
        yield window


def test_the_kept_description_is_the_one_that_is_served(window: Window) -> None:
    """If this fails: `python -m clothwise.app.contract`."""
    kept = json.loads((ROOT / "docs" / "reference" / "api.json").read_text(encoding="utf-8"))
    assert kept == openapi()
    assert window.get("/openapi.json").json() == kept


def test_every_operation_has_a_route() -> None:
    routes = [each for each in joined() if isinstance(each, Route)]
    for each in OPERATIONS:
        if each.path == "/health":
            continue
        scope = {"type": "http", "method": each.method, "path": each.path, "root_path": ""}
        assert any(route.matches(scope)[0] is Match.FULL for route in routes), each.path


def test_every_reference_in_the_description_leads_somewhere() -> None:
    described = openapi()
    known = {f"#/components/schemas/{name}" for name in described["components"]["schemas"]}
    assert set(references(described)) <= known


def test_a_change_is_described_by_the_classes_of_commands() -> None:
    described = openapi()
    schemas = described["components"]["schemas"]
    form = described["paths"]["/d/{design}/commands"]["post"]["requestBody"]["content"]
    (body,) = form.values()
    held = body["schema"]["properties"]["command"]["contentSchema"]
    assert [each["$ref"].rpartition("/")[2] for each in held["oneOf"]] == [*command_kinds()]
    whole = {**held, "components": {"schemas": schemas}}
    validator = jsonschema.Draft202012Validator(whole)
    validator.validate(Rename("Other").to_data())
    validator.validate(json.loads(FIELDS["/d/{design}/commands"]["command"]))
    assert not validator.is_valid({"kind": "rename"})
    assert not validator.is_valid({"kind": "nonsense", "title": "Other"})


def references(data: Any) -> list[str]:
    if isinstance(data, dict):
        own = [data["$ref"]] if "$ref" in data else []
        return own + [each for value in data.values() for each in references(value)]
    return [each for value in data for each in references(value)] if isinstance(data, list) else []


def asked(method: str) -> Any:
    found = [
        each for each in OPERATIONS if each.path not in ASKED_ELSEWHERE and each.method == method
    ]
    return pytest.mark.parametrize("operation", found, ids=lambda each: each.path)


@asked("GET")
def test_what_is_read_is_what_the_description_says(operation: Operation, library: Window) -> None:
    answer = library.get(operation.path.format(**WORDS), headers=SCRIPT)
    check_answer(answer, operation)


@asked("POST")
def test_what_a_change_answers_is_what_the_description_says(
    operation: Operation, window: Window
) -> None:
    window.cookies.clear()
    prepare(operation, window)
    shop = window.app.state.shop  # type: ignore[attr-defined]
    address, fields = operation.path, dict(FIELDS.get(operation.path, {}))
    if "/archive/" not in address:
        entry = shop.design("kiln-dress").history.entries[0].id
        address = address.format(**WORDS, entry=entry)
        fields["base"] = window.head()
    answer = window.post(
        address.format(**WORDS), headers=SCRIPT, data=fields, follow_redirects=False
    )
    check_answer(answer, operation)


def check_answer(answer: httpx2.Response, operation: Operation) -> None:
    assert answer.status_code == operation.status, answer.text[:500]
    if isinstance(operation.answers, str):
        assert answer.headers["content-type"].partition(";")[0] == operation.answers
    elif operation.answers is not None:
        check(answer.json(), operation.answers.__name__)
    else:
        assert answer.headers["x-clothwise-head"]


def prepare(operation: Operation, window: Window) -> None:
    """Something to undo, to do again, and to bring back."""
    if operation.path.endswith(("/undo", "/redo", "/back-to/{entry}")):
        window.post("/d/kiln-dress/rename", headers=SCRIPT, data={"title": "Other"})
    if operation.path.endswith("/redo"):
        window.post("/d/kiln-dress/undo", headers=SCRIPT, data={"base": window.head()})
    if operation.path.endswith("/restore"):
        window.post("/d/kiln-dress/archive", headers=SCRIPT)


def test_a_refusal_is_what_the_description_says(window: Window) -> None:
    for address in ("/d/nothing/history", "/d/kiln-dress/m/nothing/sew/work"):
        answer = window.get(address, headers=SCRIPT)
        assert answer.status_code == 422
        check(answer.json(), "Refused")


def test_a_finding_is_described_by_the_value_that_is_told() -> None:
    """A field that a finding gets is in the description without being written there again."""
    described = openapi()["components"]["schemas"]["Found"]
    assert answers.Found is Found
    assert {*described["properties"]} == {each.name for each in fields(Found)}
    assert {*described["required"]} == {*described["properties"]}


def test_findings_are_what_the_description_says(window: Window, workspace: Path) -> None:
    """A planted fault, so that there is one."""
    design = workspace / "kiln-dress" / "design.yaml"
    text = design.read_text(encoding="utf-8")
    design.write_text(text.replace("mid-calf: 9cm", "mid-calf: 26cm"), encoding="utf-8")
    check(window.get("/d/kiln-dress/check/findings", headers=SCRIPT).json(), "FoundAll")


def check(data: Any, name: str) -> None:
    described = openapi()
    schema = {**described["components"]["schemas"][name], "components": described["components"]}
    jsonschema.validate(data, schema, cls=jsonschema.Draft202012Validator)
