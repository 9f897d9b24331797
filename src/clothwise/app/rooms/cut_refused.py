"""What is refused in a form of the cut room, told at its field: which one it is, and why."""

from __future__ import annotations

import json
import re
from collections.abc import Awaitable, Callable, Mapping
from functools import wraps

from starlette.requests import Request
from starlette.responses import Response

from clothwise.app.pages import refusal
from clothwise.errors import ClothwiseError, DocumentError, Misuse

__all__ = ["FIELD_TITLES", "FieldRefused", "field_refused", "tells_fields"]

FIELD_TITLES: Mapping[str, str] = {
    "title": "Called",
    "width": "Width",
    "color": "Color",
    "pattern": "Figure",
    "repeat.along": "Repeat along the length",
    "repeat.across": "Repeat across the width",
    "repeat.start_along": "The first of its crosswise lines lies",
    "repeat.start_across": "The first of its lengthwise lines lies",
    "repeat.border": "A border: finished hems lie",
    "price": "Price",
    "layers": "Lies to be cut",
    "nap": "Pieces lie",
    "shrinkage_along": "Gets shorter in the wash by",
    "shrinkage_across": "Gets narrower in the wash by",
    "usable_width": "Between the selvages",
    "length": "Length at hand",
    "wrong_side_usable": "Pieces may be cut",
    "grainless": "Grain",
    "fiber": "Fiber",
    "stretch": "Gives across by",
    "thickness": "Thickness of one layer",
    "off_grain": "Small parts may stray from the grain by",
    "photo_width": "The photo shows, from left to right",
}
"""What the fields of a fabric are called in its form, by the names that documents have for them."""

_OF_REMNANTS: Mapping[str, str] = {
    "length": "Along the warp",
    "width": "Across",
    "outline": "Corners",
}
"""What is called otherwise in the form of a remnant."""

_Handler = Callable[[Request], Awaitable[Response]]
_PLACE = re.compile(r"\$\.(fabrics|remnants)\.[\w-]+\.(\w+(?:\.\w+)?)(?:\[.*)?")
_TOLD = re.compile(r".*?(\$\.[^:]+): (.+?)(?:\. ([A-Z].*))?", re.DOTALL)


class FieldRefused(Misuse):
    """What stands in one field of a form is refused."""

    def __init__(self, field: str, what: str, *, where: str, what_to_do: str) -> None:
        super().__init__(what, where=where, what_to_do=what_to_do)
        self.field = field


def tells_fields(handler: _Handler) -> _Handler:
    """What answers a form so that a refusal names the field it is about, for the page to mark."""

    @wraps(handler)
    async def telling(request: Request) -> Response:
        try:
            return await handler(request)
        except ClothwiseError as error:
            found = field_refused(error)
            if found is None:
                raise
            answer = refusal(request, found)
            told = {"fields": [found.field], "words": f"{found.what}. {found.what_to_do}"}
            answer.headers["HX-Trigger"] = json.dumps({"cw:faulty": told})
            return answer

    return telling


def field_refused(error: ClothwiseError) -> FieldRefused | None:
    """Return which field is refused and why, without the file that it would stand in.

    None if it is about no field of a cloth, or about several.
    """
    if isinstance(error, FieldRefused):
        return error
    if isinstance(error, DocumentError):
        (fault, *more) = error.faults
        return None if more else _refused(fault.path, fault.what, fault.remedy)
    told = _TOLD.fullmatch(error.how_much)
    return _refused(told[1], told[2], f"{told[3]}." if told[3] else "") if told else None


def _refused(path: str, what: str, what_to_do: str) -> FieldRefused | None:
    place = _PLACE.fullmatch(path)
    if place is None:
        return None
    of_remnants = _OF_REMNANTS if place[1] == "remnants" else {}
    where = of_remnants.get(place[2]) or FIELD_TITLES.get(place[2], "")
    return FieldRefused(place[2], what, where=where, what_to_do=what_to_do)
