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

_BY_CODE = {
    "ARMHOLE-DEPTH": ("armhole_ease",),
    "BINDING-SHORT": ("join",),
    "BUTTON-EDGE": ("button_stand", "overlap"),
    "CAP-EASE": ("cap_ease",),
    "FIT-BUST": ("bust_ease",),
    "FIT-HIP": ("hip_ease",),
    "FIT-UPPER-ARM": ("upper_arm_ease",),
    "FIT-WAIST": ("waist_ease",),
    "HEM-DEEP": ("depth",),
    "NECK-GIRTH": ("neck_ease",),
    "NECK-HEAD": ("neck_widen", "front_neck_drop"),
    "PLACEMENT-EDGE": ("below_top", "across"),
    "PLACEMENT-HEM": ("below_top",),
    "POCKET-REACH": ("below_top", "below_waist"),
    "SHOULDER-EASE": ("shoulder_ease",),
    "STRIDE-ROOM": ("flare",),
}
"""What a finding is about is mostly mended by one of these parameters."""

_IN_THE_MAKE = frozenset({"MAKE-PIECE"})
"""What the Draft room cannot mend."""

_TOO_COMMON = frozenset(
    {"width", "length", "size", "number", "shape", "end", "edge", "at", "depth"}
)
"""Names of parameters that stand in many a remedy and mean something else."""


def mending_place(finding: Finding, design: Design, pattern: Pattern | None) -> str:
    """Return the id of what is to be changed, as the Draft room has it; empty if none is known.

    Nothing in the room mends what a make says. Else it is the edit that is not made; else the
    parameter that the remedy names; else the component that the piece or the seam belongs to.
    """
    if finding.code in _IN_THE_MAKE:
        return ""
    if finding.code == CODE:
        for edit in design.edits:
            if finding.message.startswith(lost_start(edit)):
                return f"edit-{edit.name}"
    owners = [*dict.fromkeys(_owners(finding, design, pattern))]
    for name in (*owners, *(each.name for each in design.components)):
        known = component_class(design.component(name).kind).parameters()
        for parameter in _BY_CODE.get(finding.code, ()):
            if parameter in known:
                return f"param-{name}-{parameter}"
    for name in owners:
        parameter = _parameter(finding, design, name)
        if parameter:
            return f"param-{name}-{parameter}"
    for entry in design.components:
        parameter = _parameter(finding, design, entry.name)
        if "_" in parameter:  # two words that stand together in a remedy are that parameter
            return f"param-{entry.name}-{parameter}"
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
