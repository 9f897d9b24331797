"""The first tour: five stops, each in the room it is about; it can be left at any of them."""

from __future__ import annotations

from dataclasses import dataclass

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from clothwise.app.pages import preferences, shop
from clothwise.app.preferences import chosen, write_preferences
from clothwise.app.routes import rooms_of
from clothwise.errors import ClothwiseError

__all__ = ["ROUTES", "STOPS", "Stop"]


SAMPLE = "kiln-dress"
"""The design that the words of the stops speak of; a new workspace begins with it."""


@dataclass(frozen=True)
class Stop:
    """One stop.

    Attributes:
        room: the module of the room it is in.
        title: of it.
        words: what to try there.
    """

    room: str
    title: str
    words: str


STOPS = (
    Stop(
        "draft",
        "The pieces follow you",
        "All pieces of the dress lie here, true to shape. Point at an edge: the edge it is sewn to "
        "lights up. Then change something, such as the flare of the skirt; one line says what else "
        "changed. Undo is at the top, for everything.",
    ),
    Stop(
        "measure",
        "For whom",
        "Every piece is drafted from these measurements. The figure shows where each one is taken. "
        "Change a number, or paste a chart from a spreadsheet.",
    ),
    Stop(
        "cut",
        "Paint it with fabrics",
        "Choose a fabric, then click on parts of the dress. What you need to buy follows at once, "
        "and a better layout can be searched for while you look on.",
    ),
    Stop(
        "sew",
        "One step at a time",
        "The order of work follows from the seams, with a drawing for each step. Check off what is "
        "done; the type can be made large enough for the sewing table.",
    ),
    Stop(
        "pack",
        "Everything in one folder",
        "Booklet, pattern to print, cutting list: built from the same design, so nothing in it "
        "disagrees. The kiln dress is yours to play with; the shelf has more to begin with.",
    ),
)


async def go(request: Request) -> Response:
    """Go to a stop, or end the tour."""
    async with request.form() as form:
        wanted = str(form.get("stop", "seen"))
        design = str(form.get("design", ""))
    if not (wanted.isdigit() and 1 <= int(wanted) <= len(STOPS)):
        wanted = "seen"
    liked = chosen(preferences(request), {"tour": wanted})
    write_preferences(liked, shop(request).workspace.own)
    return RedirectResponse(_place(request, wanted, design), 303)


def _place(request: Request, wanted: str, design: str) -> str:
    """Return the address of a stop in the sample; where that is gone, in this design or another."""
    held = shop(request)
    back = request.query_params.get("next", "/")
    ours = back if back.startswith("/") and not back.startswith(("//", "/\\")) else "/"
    if wanted == "seen":
        return ours
    names = [each.name for each in held.workspace.designs()]
    name = next((each for each in (SAMPLE, design, *names) if each in names), "")
    try:
        links = rooms_of(held.design(name)) if name else ()
    except ClothwiseError:
        return "/"
    stop = STOPS[int(wanted) - 1]
    return next((link.href for link in links if link.room.module == stop.room), ours)


ROUTES = [Route("/tour", go, methods=["POST"])]
