"""The door: `/enter` with the token of the opened address, or with the password."""

from __future__ import annotations

import asyncio
import time
from html import escape

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response

from clothwise.app.security.entry import cookie_name
from clothwise.app.security.plain import refused
from clothwise.app.security.visitors import Visitors
from clothwise.app.settings import Settings

__all__ = ["enter", "leave"]

MOST_TRIES = 5
MOST_TRIES_OF_ALL = 30
TRIES_WITHIN_S = 60.0
_LEADS_ON = """<!doctype html>
<html lang="en"><head><meta charset="utf-8"><title>Clothwise</title>
<meta http-equiv="refresh" content="0;url={address}"></head>
<body><p><a href="{address}">Go on</a></p></body></html>
"""


async def enter(request: Request) -> Response:
    """Let in who has the token or the password; the token leaves the address."""
    settings: Settings = request.app.state.shop.settings
    visitors: Visitors = request.app.state.visitors
    if request.method == "GET":
        token = request.query_params.get("token")
        if token is None and settings.password_hash:
            return _form(request)
        cookie = visitors.enter_by_token(token or "")
        if not cookie:
            return refused(
                403,
                "This address is from an earlier start, or not complete.",
                "Use the address that Clothwise told last, or run: clothwise open",
            )
        return _let_in(request, cookie, settings)
    if not settings.password_hash:
        return refused(403, "There is no password here.", "Use the address that Clothwise told.")
    if _tried_too_often(request):
        return refused(429, "The password was tried too often.", "Wait a minute, then try again.")
    async with request.form(max_files=0, max_fields=5, max_part_size=4_000) as form:
        password = str(form.get("password", ""))
    cookie = await run_in_threadpool(visitors.enter_by_password, password)
    if not cookie:
        await asyncio.sleep(0.5)
        return _form(request, wrong=True)
    return _let_in(request, cookie, settings)


async def leave(request: Request) -> Response:
    """Forget who asks; the password or the address is needed again."""
    settings: Settings = request.app.state.shop.settings
    request.app.state.visitors.leave(request.cookies.get(cookie_name(settings), ""))
    response = RedirectResponse("/enter", 303)
    response.delete_cookie(cookie_name(settings), path="/", httponly=True, samesite="strict")
    return response


def _let_in(request: Request, cookie: str, settings: Settings) -> Response:
    wanted = request.query_params.get("next", "/")
    # A path of ours only: `//elsewhere` and `/\elsewhere` would lead to another host.
    ours = wanted.startswith("/") and not wanted.startswith(("//", "/\\")) and wanted.isprintable()
    response = _leading_on(request, wanted if ours else "/")
    response.set_cookie(cookie_name(settings), cookie, path="/", httponly=True, samesite="strict")
    return response


def _leading_on(request: Request, wanted: str) -> Response:
    """Lead to a page of ours.

    Who comes from another place, as from the page that opens the browser, comes from there still
    after a redirect, and then the browser keeps the strict cookie back: it has to be asked anew.
    """
    if request.headers.get("sec-fetch-site", "none") in ("same-origin", "none"):
        return RedirectResponse(wanted, 303)
    return HTMLResponse(_LEADS_ON.format(address=escape(wanted)))


def _form(request: Request, *, wrong: bool = False) -> Response:
    from clothwise.app.pages import page

    return page(request, "enter.html", wrong=wrong, status=403 if wrong else 200)


def _tried_too_often(request: Request) -> bool:
    """Count a try; the tries of one machine do not keep the others out, unless there are many."""
    now = time.monotonic()
    client = request.client.host if request.client else ""
    tries: list[tuple[float, str]] = getattr(request.app.state, "tries", [])
    tries = [each for each in tries if now - each[0] < TRIES_WITHIN_S]
    own = sum(host == client for _, host in tries)
    is_too_often = own >= MOST_TRIES or len(tries) >= MOST_TRIES_OF_ALL
    request.app.state.tries = tries if is_too_often else [*tries, (now, client)]
    return is_too_often
