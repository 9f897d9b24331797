"""Commands described for scripts: a JSON Schema for each, from its class."""

from __future__ import annotations

import inspect
import re
from dataclasses import MISSING, Field, fields
from typing import Any, get_args, get_origin, get_type_hints

from clothwise.pattern.commands.command import Command, command_kinds

__all__ = ["command_help", "command_schema", "command_schemas", "field_help"]

_FIELD = re.compile(r"^    (\w+): ", re.MULTILINE)


def command_schemas() -> dict[str, dict[str, Any]]:
    """Return a JSON Schema for the data of each command, by its kind."""
    return {kind: command_schema(of) for kind, of in command_kinds().items()}


def command_schema(of: type[Command]) -> dict[str, Any]:
    """Return the JSON Schema of a command's data."""
    hints, help_of = get_type_hints(of), field_help(of)
    properties = {
        each.name: {**_type(hints[each.name]), "description": help_of[each.name]}
        for each in fields(of)
    }
    return {
        "type": "object",
        "description": command_help(of),
        "properties": {"kind": {"const": of.kind}, **properties},
        "required": ["kind", *(each.name for each in fields(of) if is_needed(each))],
        "additionalProperties": False,
    }


def command_help(of: type[Command]) -> str:
    """Return what a command does, without its fields."""
    return " ".join(_parts(of)[0].split())


def field_help(of: type[Command]) -> dict[str, str]:
    """Return what stands about each field of a command."""
    pieces = _FIELD.split(_parts(of)[1])[1:]
    told = dict(zip(pieces[::2], pieces[1::2], strict=True))
    return {each.name: " ".join(told.get(each.name, each.name).split()) for each in fields(of)}


def is_needed(field: Field[Any]) -> bool:
    """Tell whether a field may not be left out."""
    return field.default is MISSING and field.default_factory is MISSING


def _parts(of: type[Command]) -> tuple[str, str]:
    head, _, rest = inspect.cleandoc(of.__doc__ or "").partition("\nAttributes:\n")
    return head, rest


def _type(hint: Any) -> dict[str, Any]:
    if hint in (str, bool):
        return {"type": "string" if hint is str else "boolean"}
    arguments = get_args(hint)
    if get_origin(hint) is not tuple:
        return {"type": "object", "additionalProperties": _type(arguments[1])}
    if arguments[-1] is ...:
        return {"type": "array", "items": _type(arguments[0])}
    return {
        "type": "array",
        "prefixItems": [_type(each) for each in arguments],
        "minItems": len(arguments),
        "maxItems": len(arguments),
    }
