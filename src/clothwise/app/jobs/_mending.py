"""In a worker: where in the Draft room a finding is mended: a parameter, a component or an edit."""

from __future__ import annotations

import re
from collections.abc import Iterator

from clothwise.components.edits.replay import CODE, lost_start
from clothwise.components.registry import component_class
from clothwise.pattern import Finding, Pattern
from clothwise.pattern.document import Design
from clothwise.pattern.plain_names import kind_called, plain_name

__all__ = ["mending_place"]

_TOO_COMMON = frozenset(
    {"width", "length", "size", "number", "shape", "end", "edge", "at", "depth"}
)
"""Names of parameters that stand in many a remedy and mean something else."""


def mending_place(finding: Finding, design: Design, pattern: Pattern | None) -> str:
    """Return the id of what is to be changed, as the Draft room has it; empty if none is known.

    It is the edit that is not made; else the parameter that the remedy names; else the component
    that the piece or the seam belongs to.
    """
    if finding.code == CODE:
        for entry in design.edits:
            if finding.message.startswith(lost_start(entry)):
                return f"edit-{entry.name}"
    owners = [*dict.fromkeys(_owners(finding, design, pattern))]
    for name in owners:
        parameter = _parameter(finding, design, name)
        if parameter:
            return f"param-{name}-{parameter}"
    return f"part-{owners[0]}" if owners else ""


def _owners(finding: Finding, design: Design, pattern: Pattern | None) -> Iterator[str]:
    """The components it may be about; the likeliest first."""
    known = {each.name for each in design.components}
    said = f"{finding.message} {finding.remedy}".lower()
    if pattern is not None:
        piece = pattern.pieces.get(finding.piece)
        use = next((each for each in pattern.all_uses() if each.name == finding.seam), None)
        found = [piece.component] if piece else []
        found += [use.component] if use else []
        yield from (each for each in found if each in known)
    for entry in design.components:
        if any(_stands(name, said) for name in (plain_name(entry.name), kind_called(entry.kind))):
            yield entry.name


def _parameter(finding: Finding, design: Design, component: str) -> str:
    """The parameter of a component that the remedy names, the longest name first."""
    entry = design.component(component)
    said = f"{finding.remedy} {finding.message}".lower()
    names = component_class(entry.kind).parameters()
    for name in sorted(names, key=len, reverse=True):
        if f"`{name}`" in said:
            return name
        if name not in _TOO_COMMON and _stands(plain_name(name), said):
            return name
    return ""


def _stands(words: str, said: str) -> bool:
    return re.search(rf"(?<![\w-]){re.escape(words.lower())}(?![\w-])", said) is not None
