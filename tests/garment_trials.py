"""What becomes of a garment: drafted, checked, its work planned, laid out, all verified again."""

from __future__ import annotations

import traceback
from dataclasses import dataclass, replace
from enum import Enum

from clothwise.checks import check
from clothwise.components import draft
from clothwise.cutting import Effort, Fabric, LayerPlan, lay
from clothwise.cutting import verify as layout_faults
from clothwise.cutting.cutting_list import cut_items, cutting_list
from clothwise.cutting.list_check import check_cutting_list
from clothwise.errors import ClothwiseError, CuttingError
from clothwise.pattern import Pattern, Severity
from clothwise.work import OrderMode, plan, steps, verify
from random_garments import Garment

__all__ = ["Ended", "Outcome", "tried"]

CLOTH = Fabric(name="cloth", nominal_width_mm=1500.0)
"""Usual cloth for clothes, one width; with pieces wider than that a garment is counted apart."""


class Ended(Enum):
    """How trying a garment ended."""

    SOUND = "sound"
    REFUSED = "refused in words"
    TOO_WIDE = "wider than the cloth"
    FOUND = "errors found by the checks"
    ORDER = "order of work wrong"
    LAYOUT = "not laid out"
    BROKE = "broke"

    @property
    def is_failure(self) -> bool:
        """Whether Clothwise failed, rather than told the designer what cannot be."""
        return self not in (Ended.SOUND, Ended.REFUSED, Ended.TOO_WIDE)


@dataclass(frozen=True)
class Outcome:
    """What became of a garment.

    `detail` says why it is not sound; `lost` are the edits that could not be made and said so,
    `warnings` the codes of what was warned of.
    """

    number: int
    ended: Ended
    kinds: tuple[str, ...]
    detail: str = ""
    lost: tuple[str, ...] = ()
    warnings: tuple[str, ...] = ()


def tried(garment: Garment) -> Outcome:
    """Draft, check, plan and lay a garment out, and verify all of that again."""
    outcome = Outcome(garment.number, Ended.SOUND, garment.kinds)
    try:
        pattern = draft(garment.design, garment.body)
        findings = check(pattern, garment.body)
        lost = tuple(each.message for each in findings if each.code == "EDIT-LOST")
        errors = [each for each in findings if each.severity is Severity.ERROR]
        wrong = [f"{each.code}: {each.message}" for each in errors if each.code != "EDIT-LOST"]
        warned = tuple(each.code for each in findings if each.severity is Severity.WARNING)
        outcome = replace(outcome, lost=lost, warnings=warned)
        if wrong:
            return replace(outcome, ended=Ended.FOUND, detail="; ".join(wrong[:3]))
        for faults, how in (
            (_of_order(garment, pattern), Ended.ORDER),
            (_of_layout(pattern), Ended.LAYOUT),
        ):
            if faults:
                return replace(outcome, ended=how, detail="; ".join(faults[:3]))
    except CuttingError as error:
        is_wide = "wider than the fabric" in str(error)
        how = Ended.TOO_WIDE if is_wide else Ended.LAYOUT
        return replace(outcome, ended=how, detail=str(error))
    except ClothwiseError as error:
        return replace(outcome, ended=Ended.REFUSED, detail=str(error))
    except Exception:
        told = traceback.format_exc(limit=-2).strip().splitlines()
        return replace(outcome, ended=Ended.BROKE, detail=" | ".join(told[-4:]))
    return outcome


def _of_order(garment: Garment, pattern: Pattern) -> list[str]:
    """The faults of both orders of work, whose steps are worded too."""
    faults = []
    for mode in OrderMode:
        order = plan(pattern, mode)
        faults += [fault.message for fault in verify(pattern, order)]
        steps(pattern, order, garment.design.unit)
    return faults


def _of_layout(pattern: Pattern) -> list[str]:
    """The faults of the cutting list, and of a layout in rows for each fabric role."""
    assigned = {
        (piece.name, copy.name): copy.role
        for piece in pattern.pieces.values()
        for copy in piece.copies
    }
    lines = cutting_list(pattern, assigned, {})
    faults = [found.message for found in check_cutting_list(pattern, lines)]
    for role in sorted(set(assigned.values())):
        items = cut_items(pattern, assigned, role, LayerPlan.SINGLE)
        layout = lay(items, CLOTH, LayerPlan.SINGLE, effort=Effort(seconds=0, runs=1))
        faults += [str(fault) for fault in layout_faults(layout, items)]
    return faults
