"""The one stream of events of a window: what other windows changed, how far long work is."""

from __future__ import annotations

import json
from collections.abc import AsyncIterator

from starlette.requests import Request
from starlette.responses import Response, StreamingResponse
from starlette.routing import Route

from clothwise.app.ongoing import ongoing
from clothwise.app.pages import head_now, opened
from clothwise.app.work.events import Event, stream

__all__ = ["ROUTES"]


async def events(request: Request) -> Response:
    """Stream what this window should hear; at once the head, as it may have slept meanwhile."""
    design = opened(request)
    window = request.query_params.get("window", "")[:40]
    now = Event("changed", json.dumps({**head_now(design), "words": "", "window": ""}))
    return _answered(stream(design.name, window, (now, ongoing().are())))


async def events_of_all(request: Request) -> Response:
    """Stream what a page hears that is about no design: how far long work is."""
    window = request.query_params.get("window", "")[:40]
    return _answered(stream("", window, (ongoing().are(),)))


def _answered(told: AsyncIterator[bytes]) -> Response:
    return StreamingResponse(
        told,
        media_type="text/event-stream",
        headers={"Cache-Control": "no-store", "X-Accel-Buffering": "no"},
    )


ROUTES = [Route("/events", events_of_all), Route("/d/{design}/events", events)]
