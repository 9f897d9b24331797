"""The one stream of events of a window: what other windows changed, how far long work is."""

from __future__ import annotations

import json

from starlette.requests import Request
from starlette.responses import Response, StreamingResponse
from starlette.routing import Route

from clothwise.app.pages import opened
from clothwise.app.work.events import Event, stream

__all__ = ["ROUTES"]


async def events(request: Request) -> Response:
    """Stream what this window should hear; at once the head, as it may have slept meanwhile."""
    design = opened(request)
    window = request.query_params.get("window", "")[:40]
    first = Event("changed", json.dumps({"head": design.history.head, "words": "", "window": ""}))
    return StreamingResponse(
        stream(design.name, window, first),
        media_type="text/event-stream",
        headers={"Cache-Control": "no-store", "X-Accel-Buffering": "no"},
    )


ROUTES = [Route("/d/{design}/events", events)]
