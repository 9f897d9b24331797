"""What the steps say when a seam is finished otherwise than its component says."""

from __future__ import annotations

import re
from dataclasses import replace

from clothwise.components.finishes.seam_choice import SeamGroup, group_of
from clothwise.pattern.first_letter import lowered
from clothwise.pattern.graph import Seam
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.pattern import Pattern

TRIMMED_LESS_MM = 2.0
"""What the trimmed edges inside a narrow seam are narrower than it; own choice."""

SEAM_MINUTES = 10.0
"""Work on a seam that is worded anew, both sides of the wearer; own choice."""

_NEATEN_OPEN = re.compile(r"Neaten the edges(?: together)? and press (?:the seam )?open\.?")


def together(pattern: Pattern, operation: Operation, seams: list[Seam]) -> Operation:
    """The step, its edges overlocked together and pressed to one side."""
    now = f"Overlock the edges together and press them {_aside(pattern, seams)}."
    text = _NEATEN_OPEN.sub(now, operation.text)
    for before, after in (
        ("Neaten the edges together", "Overlock the edges together"),
        ("Neaten the edges", "Overlock the edges together"),
        (", neaten, and press", ", overlock the edges together, and press"),
    ):
        text = text.replace(before, after)
    if text == operation.text:
        text += f" {now}"
    return _with(operation, text, (), operation.minutes)


def bound(operation: Operation, tape_mm: float) -> Operation:
    """The step, its raw edges bound."""
    text = operation.text.replace(", neaten, and press", ", bind the edges, and press")
    text = text.replace("Neaten", "Bind").replace("neaten", "bind")
    text += (
        " To bind an edge, fold bias tape round it lengthwise and stitch close to the tape's "
        "edge, through all its layers; all edges of this step take {tape} of tape."
    )
    return _with(operation, text, (("tape", tape_mm),), 2 * operation.minutes)


def plainly(pattern: Pattern, operation: Operation, seams: list[Seam]) -> Operation:
    """The step of plain seams, worded anew from start to end, whatever it said before."""
    text = (
        f"{_laid(pattern, seams, 'right sides')} Sew with {{allowance}} allowance. "
        "Neaten the edges and press open."
    )
    return replace(_with(operation, text, (), 0.0), values=(), minutes=SEAM_MINUTES)


def enclosed(
    pattern: Pattern, operation: Operation, seams: list[Seam], width_mm: float, *, felled: bool
) -> Operation:
    """The step of a French or flat-felled seam, worded anew from start to end."""
    wide = min(seam.allowance_mm for seam in seams)
    aside = _aside(pattern, seams)
    values: tuple[tuple[str, float], ...]
    laid = _laid(pattern, seams, "right sides" if felled else "wrong sides")
    if felled:
        fold = min(wide - width_mm, width_mm - 1.0)
        values = (
            ("narrow", width_mm - TRIMMED_LESS_MM),
            ("fold", fold),
            ("wide", width_mm + fold if wide > width_mm + fold + 0.5 else 0.0),
            ("width", width_mm),
        )
        text = (
            f"{laid} Sew with {{allowance}} allowance and press both edges {aside}. "
            "Trim the edge that lies underneath to {narrow}[, and the upper one to {wide}]. Fold "
            "{fold} of the upper edge in round the lower one, so that {width} remain; pin it flat "
            "and stitch close to the fold through all layers. Press."
        )
    else:
        values = (
            ("first", wide - width_mm),
            ("narrow", width_mm - TRIMMED_LESS_MM),
            ("width", width_mm),
        )
        text = (
            f"{laid} Sew {{first}} from the edges. Trim them to {{narrow}} and press. Fold the "
            "pieces right sides together, the seam exactly on the fold, and sew again {width} from "
            "the fold, so that the raw edges are closed in: both seams together take up the "
            f"allowance of {{allowance}}. Press {_aside(pattern, seams)}."
        )
    return _with(operation, text, values, 2 * operation.minutes, Caution.BLADE)


def _aside(pattern: Pattern, seams: list[Seam]) -> str:
    """Where the allowances of the seams of one step are pressed to."""
    if len(seams) > 1:
        return "to one side"
    if group_of(seams[0]) is SeamGroup.WAIST:
        return "down"
    first, last = _titles(pattern, seams[0])
    return "to the back" if first == last else f"toward the {last}"


def _laid(pattern: Pattern, seams: list[Seam], sides: str) -> str:
    """How the layers are laid on each other."""
    if all(group_of(seam) is SeamGroup.ARMHOLE for seam in seams):
        return (
            "Run two rows of long stitches along the cap between the notches. Put the sleeve into "
            f"the armhole, {sides} together: sleeve seam on side seam, {{notches}} matched, cap "
            "notch on the shoulder seam. [Draw up the {ease} of ease between the notches. ]"
        )
    first, last = _titles(pattern, seams[0])
    if len(seams) > 1:
        how = "Lay the pieces on each other at each seam"
    elif first == last:
        how = f"Fold each {first} lengthwise"
    else:
        how = f"Lay {first} on {last}"
    crossed = any(len(layer.run.pieces) > 1 for seam in seams for layer in seam.layers)
    places = "seams and {notches}" if crossed else "{notches}"
    return f"{how}, {sides} together, {places} matched. [Ease in {{ease}} of the longer edge. ]"


def _titles(pattern: Pattern, seam: Seam) -> tuple[str, str]:
    """What lies on the first and the last side of a seam, in words."""
    first, last = (
        " and ".join(lowered(pattern.piece(name).title) for name in layer.run.pieces)
        for layer in (seam.layers[0], seam.layers[-1])
    )
    return first, last


def _with(
    operation: Operation,
    text: str,
    values: tuple[tuple[str, float], ...],
    minutes: float,
    *cautions: Caution,
) -> Operation:
    more = (Caution.IRON, Caution.NEEDLE, *cautions)
    return replace(
        operation,
        text=text,
        values=(*operation.values, *values),
        minutes=minutes,
        cautions=tuple(dict.fromkeys((*operation.cautions, *more))),
    )
