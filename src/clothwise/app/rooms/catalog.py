"""Beside the board: what a design is put together from, and what may be swapped, added, removed.

What is tried takes a second or two and runs behind; changes themselves are commands like all
others, sent by the page to the Draft room.
"""

from __future__ import annotations

import json
from collections.abc import AsyncIterator
from functools import cache
from typing import Any

from starlette.requests import Request
from starlette.responses import Response, StreamingResponse
from starlette.routing import Route

from clothwise.app.jobs.catalog import AdditionsOf, CatalogOf, RemovalOf, SwapsOf
from clothwise.app.pages import STATIC, fragment, opened, preferences
from clothwise.app.rooms.draft_fields import shown_in
from clothwise.app.work import Superseded, ask, follow
from clothwise.errors import ClothwiseError

__all__ = ["ROUTES"]

LINES = "application/x-ndjson"


def _asked(request: Request) -> dict[str, Any]:
    """What every job here is about."""
    unit = preferences(request).length_unit
    return {
        "shown": shown_in(request),
        "documents": dict(opened(request).history.documents),
        "unit": unit.value if unit else "",
    }


def _window(request: Request) -> str:
    return request.headers.get("X-Clothwise-Window", "")[:40]


@cache
def _pictured() -> frozenset[str]:
    """Kinds of components of which there is a picture; those of plugins have none."""
    return frozenset(path.stem for path in (STATIC / "components").glob("*.svg"))


async def catalog(request: Request) -> Response:
    """The choices and components, with their fields."""
    found = await ask(CatalogOf(**_asked(request)))
    return fragment(request, "_catalog.html", catalog=found)


async def swaps(request: Request) -> Response:
    """What may stand in the place of a component, and what may not."""
    name = request.path_params["component"][:80]
    job = SwapsOf(**_asked(request), window=_window(request), name=name)
    return await _offers(request, job, adds=False)


async def additions(request: Request) -> Response:
    """What of a family may be added, and what may not."""
    family = request.query_params.get("family", "")[:40]
    job = AdditionsOf(**_asked(request), window=_window(request), family=family)
    return await _offers(request, job, adds=True)


async def _offers(request: Request, job: SwapsOf | AdditionsOf, *, adds: bool) -> Response:
    """All that was tried; or, for whoever accepts lines of data, each offer as it is found."""
    pictured = _pictured()
    if LINES not in request.headers.get("accept", ""):
        return fragment(request, "_offers.html", offers=await ask(job), pictured=pictured)

    def line(**data: str | float) -> bytes:
        return f"{json.dumps(data)}\n".encode()

    def html(template: str, **data: Any) -> str:
        return bytes(fragment(request, template, pictured=pictured, **data).body).decode()

    async def lines() -> AsyncIterator[bytes]:
        try:
            async for told in follow(job):
                if told.ended:
                    yield line(all=html("_offers.html", offers=told.data))
                elif told.data is not None and told.data.command:
                    item = html("_offer.html", offer=told.data, adds=adds)
                    yield line(words=told.message, share=told.share, item=item)
                elif told.message:
                    yield line(words=told.message, share=told.share)
        except Superseded:
            return
        except ClothwiseError as error:
            yield line(error=f"{error.problem[:1].upper()}{error.problem[1:]}. {error.what_to_do}")

    return StreamingResponse(lines(), media_type=LINES)


async def removal(request: Request) -> Response:
    """What goes with a component."""
    name = request.path_params["component"][:80]
    found = await ask(RemovalOf(**_asked(request), window=_window(request), name=name))
    return fragment(request, "_removal.html", removal=found)


ROUTES = [
    Route("/d/{design}/catalog", catalog),
    Route("/d/{design}/offers/{component}", swaps),
    Route("/d/{design}/additions", additions),
    Route("/d/{design}/removal/{component}", removal),
]
