"""What is known of a fabric, written and told field by field: of a make's fabrics and a stash's."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields, replace
from typing import Any

from clothwise.errors import CommandError, did_you_mean
from clothwise.pattern.document.fabric_entry import FabricEntry
from clothwise.pattern.document.repeat_entry import RepeatEntry
from clothwise.pattern.plain_names import plain_name

__all__ = ["fields_told", "with_fabric_fields"]

_MOST_TOLD = 120  # characters of one line of the history


def fields_told(written: Mapping[str, str], *, photo: str = "") -> str:
    """Tell which fields are written, in words.

    Args:
        written: by their names in documents; an empty text leaves one out.
        photo: said of a photo in place of the name of its file, if it is given.

    >>> fields_told({"width": "140cm", "repeat.along": ""})
    'width 140cm, repeat.along left out'
    """
    told = (
        photo if photo and key == "photo" and text else f"{plain_name(key)} {text or 'left out'}"
        for key, text in written.items()
    )
    return ", ".join(told)[:_MOST_TOLD]


def with_fabric_fields(fabric: FabricEntry, written: Mapping[str, str]) -> FabricEntry:
    """Return a fabric with fields written; an empty text leaves one out.

    Raises:
        CommandError: no such field is known of a fabric.
    """
    for key, text in written.items():
        fabric = _with_field(fabric, key, " ".join(text.split()))
    return fabric


def _with_field(fabric: FabricEntry, key: str, text: str) -> FabricEntry:
    table, dot, name = key.partition(".")
    if dot and table == "repeat" and name in {each.name for each in fields(RepeatEntry)}:
        default = getattr(RepeatEntry(), name)
        return replace(fabric, repeat=replace(fabric.repeat, **{name: text or default}))
    known = {each.name: each.default for each in fields(FabricEntry)}
    if key not in known or key in ("name", "repeat", "flaws"):
        raise CommandError(
            f"{key[:40]!r} is nothing that is known of a fabric",
            what_to_do=did_you_mean(key, known, of_what="fields"),
        )
    usual = known[key] if isinstance(known[key], str) else ""
    changed: dict[str, Any] = {key: text or usual}
    return replace(fabric, **changed)
