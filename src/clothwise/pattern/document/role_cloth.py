"""The cloths for which the amounts of a fabric role are worked out, as a cover sheet lists them."""

from __future__ import annotations

from dataclasses import dataclass, fields

from clothwise.pattern.document.fabric_entry import LAYERS, NAPS, parse_share, parse_width
from clothwise.pattern.document.reading import Cursor

__all__ = ["NAPS_ASKED", "ROLE_CLOTH_KEYS", "RoleCloth", "read_role_cloth"]

ROLE_CLOTH_KEYS = ("widths", "nap", "layers", "shrinkage_along", "shrinkage_across")
NAPS_ASKED = (*NAPS, "both")
"""Without nap, with nap, or a line for each."""


@dataclass(frozen=True, slots=True)
class RoleCloth:
    """What is asked for a fabric role in a requirement table; empty texts were left out.

    Attributes:
        widths: of the cloth, selvage to selvage, such as `115cm`.
        nap: one of `NAPS_ASKED`.
        layers: how it lies to be cut, one of the fabrics' `LAYERS`.
        shrinkage_along: share of the length to allow for, such as `4%`.
        shrinkage_across: share of the width.
    """

    widths: tuple[str, ...] = ()
    nap: str = ""
    layers: str = ""
    shrinkage_along: str = ""
    shrinkage_across: str = ""

    def __bool__(self) -> bool:
        return any(getattr(self, each.name) for each in fields(self))

    @property
    def naps(self) -> tuple[str, ...]:
        """The naps that are asked for, without nap first."""
        return NAPS if self.nap == NAPS_ASKED[-1] else (self.nap or NAPS[0],)


def read_role_cloth(cursor: Cursor) -> RoleCloth:
    """Return what stands here; what is wrong with it is noted and left out."""
    at = cursor.known_entries(ROLE_CLOTH_KEYS)
    widths = [each.checked(parse_width) for each in at["widths"].items()] if "widths" in at else []
    return RoleCloth(
        tuple(dict.fromkeys(filter(None, widths))),
        at["nap"].one_of(NAPS_ASKED, "kinds of nap") if "nap" in at else "",
        at["layers"].one_of(LAYERS, "kinds of layers") if "layers" in at else "",
        *(at[key].checked(parse_share) if key in at else "" for key in ROLE_CLOTH_KEYS[3:]),
    )
