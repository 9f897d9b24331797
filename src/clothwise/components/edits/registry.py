"""The edits there are."""

from __future__ import annotations

from functools import cache
from importlib import import_module

from clothwise.components.edits.edit import Edit
from clothwise.errors import ComponentError, did_you_mean

_EDITS = {
    "split": "splitting:SplitPiece",
    "move-dart": "darts:MoveDart",
    "merge-darts": "merging:MergeDarts",
    "dart-to": "dart_fullness:DartToFullness",
    "dart-point": "darts:DartPoint",
    "spread": "fullness:Spread",
    "lengthen": "lengthening:Lengthen",
    "reshape": "reshaping:Reshape",
    "join": "joining:Join",
    "asymmetric": "sides:Asymmetric",
    "unfold": "sides:Unfold",
    "fold": "sides:Fold",
    "casing": "casings:Casing",
    "slit": "slits:Slit",
    "vent": "vents:Vent",
    "allowance": "details:Allowance",
    "finish": "finishing:FinishOne",
    "fabric": "details:Fabric",
    "grain": "grain:TurnGrain",
    "notch": "details:AddNotch",
    "mark": "details:AddMark",
    "text": "writing:WriteText",
    "narrower-under-front": "under_front:NarrowerUnderFront",
}


def edit_kinds() -> tuple[str, ...]:
    """Names of all edits."""
    return tuple(_EDITS)


@cache
def edit_class(kind: str) -> type[Edit]:
    """The class of an edit, imported when it is first asked for.

    Raises:
        ComponentError: there is no such edit.
    """
    if kind not in _EDITS:
        raise ComponentError(
            f"there is no edit named {kind}",
            what_to_do=did_you_mean(kind, edit_kinds(), of_what="edits"),
        )
    module, _, name = _EDITS[kind].partition(":")
    found: type[Edit] = getattr(import_module(f"clothwise.components.edits.{module}"), name)
    return found
