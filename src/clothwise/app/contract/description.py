"""The description of the interface as OpenAPI 3.1 has it, from the operations and the commands."""

from __future__ import annotations

import re
import types
from collections.abc import Mapping
from dataclasses import is_dataclass
from typing import (
    Any,
    NotRequired,
    Union,
    get_args,
    get_origin,
    get_type_hints,
    is_typeddict,
)

from clothwise import __version__
from clothwise.app.contract.answers import Refused
from clothwise.app.contract.operations import OPERATIONS, Operation
from clothwise.pattern.commands.schemas import command_schemas

__all__ = ["openapi"]


def openapi() -> dict[str, Any]:
    """Return the description of the interface, as OpenAPI 3.1 has it."""
    paths: dict[str, dict[str, Any]] = {}
    for each in OPERATIONS:
        paths.setdefault(each.path, {})[each.method.lower()] = _operation(each)
    schemas: dict[str, Any] = command_schemas()
    for each in OPERATIONS:
        if isinstance(each.answers, type):
            _collect(each.answers, schemas)
    _collect(Refused, schemas)
    return {
        "openapi": "3.1.0",
        "info": {
            "title": "Clothwise",
            "version": __version__,
            "description": (
                "The app on your own computer, for scripts. Lengths in names that end in _mm are "
                "millimeters; texts carry their unit."
            ),
        },
        "security": [{"token": []}],
        "paths": paths,
        "components": {
            "securitySchemes": {
                "token": {
                    "type": "http",
                    "scheme": "bearer",
                    "description": "the token of the address that `clothwise open` tells",
                }
            },
            "schemas": dict(sorted(schemas.items())),
        },
    }


def _operation(of: Operation) -> dict[str, Any]:
    parameters = [
        {"name": name, "in": "path", "required": True, "schema": {"type": "string"}}
        for name in re.findall(r"\{(\w+)\}", of.path)
    ]
    parameters += [
        {"name": name, "in": "query", "description": words, "schema": {"type": "string"}}
        for name, words in of.query.items()
    ]
    answer: dict[str, Any] = {"description": _first_line(of.answers) or "done"}
    if isinstance(of.answers, str):
        answer["content"] = {of.answers: {}}
    elif of.answers is not None:
        answer["content"] = {"application/json": {"schema": _schema(of.answers)}}
    told: dict[str, Any] = {
        "summary": of.does,
        "parameters": parameters,
        "responses": {
            str(of.status): answer,
            "4XX": {
                "description": "refused; nothing was changed",
                "content": {"application/json": {"schema": _schema(Refused)}},
            },
        },
    }
    if of.path == "/health":
        told["security"] = []
    if of.fields:
        told["requestBody"] = {"content": {_form_kind(of): {"schema": _form(of)}}}
    return told


def _form_kind(of: Operation) -> str:
    uploads = "files*" in of.fields
    return "multipart/form-data" if uploads else "application/x-www-form-urlencoded"


def _form(of: Operation) -> dict[str, Any]:
    fields = {name.rstrip("*"): words for name, words in of.fields.items()}
    return {
        "type": "object",
        "properties": {
            name: {"type": "string", "description": words, **_held(of.holds.get(name))}
            for name, words in fields.items()
        },
        "required": [name.rstrip("*") for name in of.fields if name.endswith("*")],
    }


def _held(schema: Any) -> dict[str, Any]:
    """What is said of a text that is JSON."""
    if schema is None:
        return {}
    return {"contentMediaType": "application/json", "contentSchema": schema}


def _first_line(answers: type | str | None) -> str:
    return (answers.__doc__ or "").split("\n")[0] if isinstance(answers, type) else ""


def _collect(kind: Any, schemas: dict[str, Any]) -> None:
    """Add the schema of a class, and of all it holds."""
    for inner in get_args(kind):
        _collect(inner, schemas)
    if _is_answer(kind) and kind.__name__ not in schemas:
        hints = get_type_hints(kind, include_extras=False)
        schemas[kind.__name__] = {
            "type": "object",
            "description": kind.__doc__,
            "properties": {name: _schema(hint) for name, hint in hints.items()},
            "required": _needed(kind),
            "additionalProperties": False,
        }
        for hint in hints.values():
            _collect(hint, schemas)


def _is_answer(kind: Any) -> bool:
    """Tell whether a class is the shape of data: a typed dictionary, or the fields of a value."""
    return isinstance(kind, type) and (is_typeddict(kind) or is_dataclass(kind))


def _needed(kind: type) -> list[str]:
    """The keys that are always there; `__required_keys__` reads no postponed annotations."""
    hints = get_type_hints(kind, include_extras=True)
    return sorted(name for name, hint in hints.items() if get_origin(hint) is not NotRequired)


_PLAIN: Mapping[Any, str] = {str: "string", int: "integer", float: "number", bool: "boolean"}


def _schema(kind: Any) -> dict[str, Any]:
    if kind in _PLAIN:
        return {"type": _PLAIN[kind]}
    if kind is type(None):
        return {"type": "null"}
    origin, inner = get_origin(kind), get_args(kind)
    if origin in (list, tuple):
        return {"type": "array", "items": _schema(inner[0])}
    if origin is dict:
        return {"type": "object", "additionalProperties": _schema(inner[1])}
    if origin in (Union, types.UnionType):
        return {"anyOf": [_schema(each) for each in inner]}
    return {"$ref": f"#/components/schemas/{kind.__name__}"}
