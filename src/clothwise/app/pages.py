"""Pages and parts of pages, refusals in four parts, and what a change tells the page.

Rooms use these five: `page`, `fragment`, `refusal`, `opened`, `after_commit`. What templates may
use stands in `rendering`.
"""

from __future__ import annotations

import json
import time
from collections.abc import Mapping
from typing import Any, Literal
from urllib.parse import urlsplit

from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, Response

from clothwise.app.addresses import STATIC, address
from clothwise.app.opening import OpenDesign, opened, preferences, shop
from clothwise.app.rendering import rendered
from clothwise.app.told_errors import conflict_in, refused_size, told_of, ways_out
from clothwise.app.work.events import publish
from clothwise.errors import ClothwiseError
from clothwise.pattern.history import Conflict, Entry

__all__ = [
    "STATIC",
    "address",
    "after_commit",
    "fragment",
    "head_now",
    "opened",
    "page",
    "preferences",
    "refusal",
    "shop",
    "told_of",
    "wants_json",
]

WINDOW_HEADER = "x-clothwise-window"

Work = Literal["kept", "unchanged"]
_WORK: Mapping[str, str] = {
    "kept": "Your change is kept; undo takes it back.",
    "unchanged": "Nothing was changed; your work is as it was.",
}


def page(
    request: Request,
    template: str,
    *,
    shown: Any = None,
    status: int = 200,
    headers: Mapping[str, str] | None = None,
    **data: Any,
) -> HTMLResponse:
    """Return a whole page.

    Args:
        request: that it answers.
        template: that extends `base.html`.
        shown: what it looks at (`app.work.Shown`); its make is the one that rooms lead to.
        status: of the answer.
        headers: further ones.
        **data: what the template needs besides.
    """
    if "HX-Request" in request.headers and request.headers.get("HX-Request-Type") == "partial":
        headers = {**(headers or {}), "HX-Retarget": "body"}
    return rendered(request, template, status, headers, {"shown": shown, **data})


def fragment(
    request: Request,
    template: str,
    *,
    status: int = 200,
    headers: Mapping[str, str] | None = None,
    **data: Any,
) -> HTMLResponse:
    """Return a part of a page, to be swapped in; its template begins with `_`."""
    return rendered(request, template, status, headers, {"shown": None, **data})


def refusal(
    request: Request, error: ClothwiseError, work: Work = "unchanged", *, status: int = 0
) -> Response:
    """Return what went wrong, where, by how much, what to do, and what became of the work.

    A script gets it as data; a part of a page shows it at the top of the page and changes nothing
    else; otherwise it is a page of its own.

    Args:
        request: that is refused.
        error: in four parts.
        work: what happened to it.
        status: of the answer; 409 for a conflict, else 422, unless given.
    """
    code = status or (409 if isinstance(error, Conflict) else 422)
    told = told_of(request, error)
    if wants_json(request):
        return JSONResponse({"error": {**told, "work": _WORK[work]}}, code)
    data: dict[str, Any] = {"told": told, "work": _WORK[work], "conflict": conflict_in(error)}
    data["refused_size"] = refused_size(error)
    data["ways"] = ways_out(request, error)
    data["back"] = urlsplit(request.headers.get("hx-current-url", "")).path
    if "HX-Request" in request.headers:
        there = {"HX-Retarget": "#refusal", "HX-Reswap": "innerHTML"}
        return fragment(request, "_refusal.html", status=code, headers=there, **data)
    return page(request, "error.html", status=code, **data)


def after_commit(request: Request, entry: Entry) -> dict[str, str]:
    """Return the headers of an answer to a change; every part of the page follows them.

    On the page the event `cw:changed` is sent to the body with `{head, at, words}`: parts that show
    what follows from the documents ask for themselves anew (`hx-trigger="cw:changed from:body"`).
    Other windows hear it from the design's stream of events.
    """
    design = opened(request)
    detail = {**head_now(design), "words": entry.words}
    window = request.headers.get(WINDOW_HEADER, "")[:40]
    publish(design.name, "changed", json.dumps({**detail, "window": window}))
    return {
        "HX-Trigger": json.dumps({"cw:changed": detail}),
        "X-Clothwise-Head": design.history.head,
    }


def head_now(design: OpenDesign) -> dict[str, Any]:
    """The head and when it was that, in milliseconds: what a window hears late is known by it."""
    return {"head": design.history.head, "at": time.time_ns() // 1_000_000}


def wants_json(request: Request) -> bool:
    """Tell whether a script asks, and not a page."""
    accepted = request.headers.get("accept", "")
    return "application/json" in accepted and "text/html" not in accepted
