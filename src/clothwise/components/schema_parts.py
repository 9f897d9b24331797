"""What schemas of our documents are put together from: words, lengths, named entries."""

from __future__ import annotations

from typing import Any, TypeAlias

from clothwise.pattern.document.design import SCHEMA_VERSION
from clothwise.pattern.document.reading import NAME

Schema: TypeAlias = dict[str, Any]

UNIT_OR_NAME = r'[A-Za-z°"″”]'
"""A length is never a plain number but 0."""


def scalar() -> Schema:
    """A value as it is written: words or a number."""
    return {"type": ["string", "number"]}


def text(description: str) -> Schema:
    """Any value, with its help."""
    return {"description": description, **scalar()}


def version() -> Schema:
    """The version that a document states."""
    return {"description": "The version of the schema.", "const": SCHEMA_VERSION}


def word(words: Any, description: str, default: str = "") -> Schema:
    """One of some words."""
    found: Schema = {"description": description, "enum": list(words)}
    return {**found, "default": default} if default else found


def length(description: str, default: str = "") -> Schema:
    """A length with its unit, or a formula."""
    found = {"description": description, "type": "string", "pattern": UNIT_OR_NAME}
    return {**found, "default": default} if default else found


def measured(description: str) -> Schema:
    """A length that may be 0."""
    single = {"anyOf": [{"type": "string", "pattern": UNIT_OR_NAME}, {"const": 0}]}
    return {"description": description, **single} if description else single


def value_of(single: Schema, description: str, default: Any) -> Schema:
    """A value, or one for each choice of an option."""
    return {
        "description": description,
        "default": default,
        "anyOf": [single, ref("by_option")],
    }


def object_of(properties: Schema, *, required: list[str] | None = None) -> Schema:
    """An entry with these keys and no others."""
    found: Schema = {"type": "object", "additionalProperties": False, "properties": properties}
    return {**found, "required": required} if required else found


def named(description: str, each: Schema, *, names: bool = True) -> Schema:
    """Entries by their names."""
    found: Schema = {
        "description": description,
        "type": "object",
        "additionalProperties": each,
    }
    return {**found, "propertyNames": {"pattern": f"^{NAME.pattern}$"}} if names else found


def choices(description: str) -> Schema:
    """Values by any key."""
    return {"description": description, "type": "object", "additionalProperties": scalar()}


def ref(name: str) -> Schema:
    """A definition that all parts of a schema share."""
    return {"$ref": f"#/$defs/{name}"}
