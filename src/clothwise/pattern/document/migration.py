"""Brings documents of older versions up to date, so that a design can be kept for years.

A migration turns the tree of one version into that of the next and keeps the lines, so that
faults still point into the file as it is on disk. The file itself changes only when it is saved.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import TypeAlias

from clothwise.errors import DocumentError, Fault
from clothwise.pattern.document.design import SCHEMA_VERSION
from clothwise.pattern.document.tree import Branch, Entry, Leaf

__all__ = [
    "DESIGN_MIGRATIONS",
    "MAKE_MIGRATIONS",
    "SCHEMA_KEY",
    "STASH_MIGRATIONS",
    "Migrations",
    "up_to_date",
]

SCHEMA_KEY = "schema"
"""The key that states a document's version."""

Migrations: TypeAlias = Mapping[int, Callable[[Branch], Branch]]
"""What turns each older version of a document into the next."""


def up_to_date(root: Branch, file: str, migrations: Migrations) -> Branch:
    """Return the document in the present version.

    Raises:
        DocumentError: it states no version, or one that this program does not know.
    """
    for version in range(_version(root, file, min(migrations, default=1)), SCHEMA_VERSION):
        root = migrations[version](root)
    return root


def _version(root: Branch, file: str, oldest: int) -> int:
    entry = next((entry for entry in root.entries if entry.key == SCHEMA_KEY), None)
    path = f"$.{SCHEMA_KEY}"
    if entry is None:
        what = "the file does not state the version of its schema"
        remedy = f"Add a line `{SCHEMA_KEY}: {SCHEMA_VERSION}` at its top."
        raise DocumentError([Fault(file, root.line, path, what, remedy)])
    text = entry.node.text if isinstance(entry.node, Leaf) else ""
    if not (text.isascii() and text.isdigit() and len(text) < 5):
        what = f"{text[:40]!r} is not a version"
        remedy = f"Write `{SCHEMA_KEY}: {SCHEMA_VERSION}`."
        raise DocumentError([Fault(file, entry.line, path, what, remedy)])
    if int(text) < oldest:
        what = f"the file has version {text}; there is none before {oldest}"
        remedy = f"Write `{SCHEMA_KEY}: {SCHEMA_VERSION}`."
        raise DocumentError([Fault(file, entry.line, path, what, remedy)])
    if int(text) > SCHEMA_VERSION:
        what = f"the file has version {text}; this program knows versions up to {SCHEMA_VERSION}"
        remedy = "Install a newer Clothwise."
        raise DocumentError([Fault(file, entry.line, path, what, remedy)])
    return int(text)


def _from_0(root: Branch) -> Branch:
    """Version 0 nested parameters, and had other names for four keys.

    It was never published; it keeps the way from one version to the next in use and tested.
    """
    renamed = _renamed(root, {"chart": "size_chart", "size": "base_size", "roles": "fabric_roles"})
    entries = []
    for entry in renamed.entries:
        if entry.key == SCHEMA_KEY:
            entry = replace(entry, node=Leaf("1", entry.line))
        elif entry.key == "components" and isinstance(entry.node, Branch):
            components = (_component_from_0(each) for each in entry.node.entries)
            entry = replace(entry, node=Branch(tuple(components), entry.node.line))
        entries.append(entry)
    return Branch(tuple(entries), root.line)


def _component_from_0(component: Entry) -> Entry:
    if not isinstance(component.node, Branch):
        return component
    entries: list[Entry] = []
    for entry in _renamed(component.node, {"kind": "component"}).entries:
        if entry.key == "parameters" and isinstance(entry.node, Branch):
            entries += entry.node.entries
        else:
            entries.append(entry)
    return replace(component, node=Branch(tuple(entries), component.node.line))


def _renamed(branch: Branch, names: Mapping[str, str]) -> Branch:
    return Branch(
        tuple(replace(entry, key=names.get(entry.key, entry.key)) for entry in branch.entries),
        branch.line,
    )


DESIGN_MIGRATIONS: Migrations = {0: _from_0}
MAKE_MIGRATIONS: Migrations = {}
STASH_MIGRATIONS: Migrations = {}
