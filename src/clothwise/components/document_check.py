"""Whether documents can still be opened after a change."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from clothwise.components.design_file import DESIGN_FILE, DesignFile, open_design, open_make
from clothwise.errors import DocumentError
from clothwise.pattern.commands import make_names

__all__ = ["check_change"]


def check_change(
    before: Mapping[str, str],
    after: Mapping[str, str],
    *,
    within: Path | None = None,
    beyond: bool = False,
) -> None:
    """Refuse a change after which the design, or a make, can no longer be opened.

    What could not be opened before need not be able to after, so that it can be mended step by
    step. Nothing is drafted.

    Args:
        before: the documents of a folder.
        after: the same with the change made.
        within: the folder, where photos are looked for.
        beyond: whether makes may name what lies outside of it, as on the command line.

    Raises:
        DocumentError: carries every fault that the change would bring.
    """
    changed = {name for name in {*before, *after} if before.get(name) != after.get(name)}
    makes = [name for name in make_names(after) if name in changed]
    if changed - set(makes):
        try:
            new = open_design(after)
        except DocumentError:
            if _opens(before):
                raise
            return
        if changed - {*makes, DESIGN_FILE} or _offers(before) != _offered(new):
            makes = list(make_names(after))
    for name in makes:
        try:
            open_make(after, name, within=within, beyond=beyond)
        except DocumentError:
            if name not in before or _opens_make(before, name, within, beyond):
                raise


def _opens(documents: Mapping[str, str]) -> bool:
    try:
        open_design(documents)
    except DocumentError:
        return False
    return True


def _opens_make(documents: Mapping[str, str], name: str, within: Path | None, beyond: bool) -> bool:
    try:
        open_make(documents, name, within=within, beyond=beyond)
    except DocumentError:
        return False
    return True


def _offers(documents: Mapping[str, str]) -> tuple[object, ...]:
    try:
        return _offered(open_design(documents))
    except DocumentError:
        return ()


def _offered(file: DesignFile) -> tuple[object, ...]:
    """What makes refer to in a design."""
    of = file.design
    return (of.options, of.conditions, of.views, of.limits, of.fabric_roles, of.base_size)
