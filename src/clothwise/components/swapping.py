"""A component exchanged for one of another kind: what of the old one can stay, found by trying."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from clothwise.components.design_file import DesignFile, open_design
from clothwise.components.registry import component_class
from clothwise.errors import ClothwiseError, DocumentError
from clothwise.pattern.commands import SwapComponent

__all__ = ["swapping"]


def swapping(documents: Mapping[str, str], name: str, kind: str) -> SwapComponent:
    """Return the command that puts a component of another kind in the place of one.

    Parameters stay where the new kind has them and can take their value. Edits, roles, pins and
    painted copies go with the pieces that are not drafted any more. Whether the garment can still
    be drafted is not told: what follows on it may have to be changed too.

    Args:
        documents: of the folder of the design.
        name: of the component.
        kind: the new one, from the registry.

    Raises:
        ComponentError: there is no such kind.
        CommandError: there is no such component, or a formula needs what would go.
        DocumentError: the design has faults, now or after it.
    """
    known = component_class(kind).parameters()
    before = open_design(documents)
    entry = before.design.component(name)
    without = [each for each in entry.parameters if each not in known]
    command = SwapComponent(name, kind, tuple(without))
    try:
        after = open_design(command.apply(documents))
    except DocumentError as error:
        refused = [each for each in entry.parameters if _names(error, name, each)]
        if not refused:
            raise
        command = replace(command, without=(*without, *refused))
        after = open_design(command.apply(documents))
    gone = sorted(_pieces(before) - _pieces(after)) if _pieces(after) else []
    return replace(command, gone=tuple(gone))


def _names(error: DocumentError, component: str, parameter: str) -> bool:
    place = f"$.components.{component}.{parameter}"
    return any(f"{fault.path}.".startswith(f"{place}.") for fault in error.faults)


def _pieces(file: DesignFile) -> frozenset[str]:
    """The pieces of all views and of what is chosen by default; none if one is not drafted."""
    found: set[str] = set()
    try:
        for view in ("", *(each.name for each in file.design.views)):
            found |= {*file.draft(view=view).pieces}
    except ClothwiseError:
        return frozenset()
    return frozenset(found)
