"""What the rooms of a make have in common: how their jobs are asked, and the way in."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from functools import lru_cache
from typing import Any
from urllib.parse import urlencode

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from clothwise.app.opening import OpenDesign, opened, preferences, shop
from clothwise.app.pages import address
from clothwise.app.print_choices import PrintChoices, states_paper
from clothwise.errors import ClothwiseError
from clothwise.pattern.document import parse_make

__all__ = [
    "addressed",
    "asked",
    "entry",
    "has_own_measurements",
    "look_at",
    "makes_in",
    "print_choices",
    "usual_paper",
    "whole_number",
]


def asked(request: Request) -> dict[str, Any]:
    """Return what every job on a make is told.

    Raises:
        Misuse: no such design, or no such make of it.
    """
    design = opened(request)
    unit = preferences(request).length_unit
    return {
        "design": design.name,
        "documents": dict(design.history.documents),
        "make": design.make_document(request.path_params["make"]),
        "folder": str(design.folder),
        "unit": unit.value if unit else "",
    }


def addressed(request: Request, *parts: str) -> str:
    """Return an address within the room of a make, such as `sew/work`."""
    return address("d", opened(request).name, "m", request.path_params["make"], *parts)


def makes_in(request: Request, room: str) -> list[tuple[str, str, str]]:
    """Return the makes of a design: the name of each, how it is called, its address in a room."""
    design = opened(request)
    return [
        (name, title, address("d", design.name, "m", name, room))
        for name, title in design.make_titles.items()
    ]


def look_at(design: OpenDesign, make: str) -> str:
    """Return where a make is looked at first: in Draft as it is made, if that has its size.

    Draft knows no own measurements: what is made for them is looked at in Check.
    """
    if _of_own(design, make) is not False:
        return f"{address('d', design.name, 'check')}?{urlencode({'of': f'make:{make}'})}"
    looks = urlencode(design.make_looks(make))
    return address("d", design.name, "draft") + (f"?{looks}" if looks else "")


def has_own_measurements(design: OpenDesign, make: str) -> bool:
    """Return whether a make is for own measurements; not if it is too damaged to tell.

    Raises:
        Misuse: there is none of this name.
    """
    return _of_own(design, make) is True


def _of_own(design: OpenDesign, make: str) -> bool | None:
    """Whether a make is for own measurements; None if it is damaged, and Check has to say so."""
    document = design.make_document(make)
    return _is_own(design.history.documents.get(document, ""), document)


@lru_cache(64)
def _is_own(text: str, document: str) -> bool | None:
    try:
        make = parse_make(text, file=document)
    except ClothwiseError:
        return None
    return bool(make.body or make.measurements)


def entry(room: str) -> Callable[[Request], Awaitable[Response]]:
    """Return what leads from a room without a make to its first make, or to where one is begun."""

    async def lead(request: Request) -> Response:
        design = opened(request)
        if not design.makes:
            return RedirectResponse(address("d", design.name, "makes"), 303)
        return RedirectResponse(address("d", design.name, "m", design.makes[0], room), 303)

    return lead


def print_choices(request: Request) -> PrintChoices:
    """Return what was chosen for the prints and packets of a design."""
    return PrintChoices(shop(request).workspace.own, opened(request).name)


def usual_paper(request: Request) -> str:
    """Return the paper of a make, as it was chosen last; empty for that of the make itself.

    Raises:
        Misuse: no such design, or no such make of it.
    """
    make = request.path_params["make"]
    design = opened(request)
    text = design.history.documents.get(design.make_document(make), "")
    return print_choices(request).paper(make, is_stated=states_paper(text))


def whole_number(text: str, usual: int, *, least: int, most: int) -> int:
    """Return a number of an address, brought within bounds; the usual one if it is none."""
    if not (text.isascii() and text.isdigit() and len(text) < 7):
        return usual
    return min(max(int(text), least), most)
