"""The interface for scripts is what its description says: every operation is asked."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from starlette.routing import Match, Route

from clothwise.app.contract import OPERATIONS, Operation, openapi
from clothwise.app.routes import joined

from .conftest import TOKEN, Window

ROOT = Path(__file__).resolve().parents[2]
WORDS = {"design": "kiln-dress", "make": "view-a"}
ASKED_ELSEWHERE = {
    "/designs/import": "test_shelf.py sends files",
    "/d/{design}/m/{make}/pack/build": "takes seconds; test_pack_room.py builds",
    "/d/{design}/m/{make}/pack/{number}.zip": "test_pack_room.py opens one",
    "/d/{design}/m/{make}/print.pdf": "test_print_room.py reads the file",
}
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
    "/d/{design}/measure/remove-size": {"size": "52"},
    "/d/{design}/m/{make}/sew/done": {"step": "bodice-staystitch", "done": "yes"},
    "/d/{design}/m/{make}/cut/paint": {"copies": "pocket/left", "fabric": "linen"},
    "/d/{design}/m/{make}/cut/pin": {"copy": "sleeve/left", "along": "1m", "across": "20cm"},
    "/d/{design}/m/{make}/cut/search": {"effort": "quick", "only": "print"},
    "/d/{design}/makes": {"title": "By script", "view": "B", "size": "40", "like": "view-b"},
}


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


def references(data: Any) -> list[str]:
    if isinstance(data, dict):
        own = [data["$ref"]] if "$ref" in data else []
        return own + [each for value in data.values() for each in references(value)]
    return [each for value in data for each in references(value)] if isinstance(data, list) else []


@pytest.mark.parametrize(
    "operation",
    [each for each in OPERATIONS if each.path not in ASKED_ELSEWHERE],
    ids=lambda each: f"{each.method} {each.path}",
)
def test_the_answer_is_what_the_description_says(operation: Operation, window: Window) -> None:
    headers = {"accept": "application/json", "authorization": f"Bearer {TOKEN}"}
    window.cookies.clear()
    prepare(operation, window, headers)
    entry = window.app.state.shop.design("kiln-dress").history.entries[0].id  # type: ignore[attr-defined]
    address = (
        operation.path.format(**WORDS, entry=entry, number=2)
        if "archive/" not in operation.path
        else ("/archive/kiln-dress/restore")
    )
    fields = {"base": window.head(), **FIELDS.get(operation.path, {})}
    if "restore" in operation.path:
        window.post("/d/kiln-dress/archive", headers=headers)
    answer = window.request(
        operation.method,
        address,
        headers=headers,
        data=fields if operation.method == "POST" else None,
        follow_redirects=False,
    )
    assert answer.status_code == operation.status, answer.text[:500]
    if isinstance(operation.answers, str):
        assert answer.headers["content-type"].partition(";")[0] == operation.answers
    elif operation.answers is not None:
        check(answer.json(), operation.answers.__name__)
    else:
        assert answer.headers["x-clothwise-head"]


def prepare(operation: Operation, window: Window, headers: dict[str, str]) -> None:
    """Something to undo, to do again, and to find."""
    if operation.path.endswith(("/undo", "/redo", "/back-to/{entry}")):
        window.post("/d/kiln-dress/rename", headers=headers, data={"title": "Other"})
    if operation.path.endswith("/redo"):
        window.post("/d/kiln-dress/undo", headers=headers, data={"base": window.head()})


def test_a_refusal_is_what_the_description_says(window: Window) -> None:
    headers = {"accept": "application/json", "authorization": f"Bearer {TOKEN}"}
    for address in ("/d/nothing/history", "/d/kiln-dress/m/nothing/sew/work"):
        answer = window.get(address, headers=headers)
        assert answer.status_code == 422
        check(answer.json(), "Refused")


def test_findings_are_what_the_description_says(window: Window, workspace: Path) -> None:
    """A planted fault, so that there is one."""
    design = workspace / "kiln-dress" / "design.yaml"
    text = design.read_text(encoding="utf-8")
    design.write_text(text.replace("mid-calf: 9cm", "mid-calf: 26cm"), encoding="utf-8")
    headers = {"accept": "application/json", "authorization": f"Bearer {TOKEN}"}
    check(window.get("/d/kiln-dress/check/findings", headers=headers).json(), "FoundAll")


def check(data: Any, name: str) -> None:
    described = openapi()
    schema = {**described["components"]["schemas"][name], "components": described["components"]}
    jsonschema.validate(data, schema, cls=jsonschema.Draft202012Validator)
