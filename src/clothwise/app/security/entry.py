"""Nobody sees a page without having entered; no change is made without the token of a page."""

from __future__ import annotations

import hmac
from http.cookies import CookieError, SimpleCookie
from urllib.parse import quote

from starlette.datastructures import Headers
from starlette.exceptions import HTTPException
from starlette.formparsers import MultiPartException
from starlette.requests import Request
from starlette.responses import RedirectResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from clothwise.app.security.hosts import SAFE_METHODS
from clothwise.app.security.plain import AT_THE_DOOR, refused
from clothwise.app.security.visitors import Visitor, Visitors
from clothwise.app.settings import Settings

__all__ = ["Entrance", "cookie_name"]

OPEN_TO_ALL = ("/static/", "/favicon.ico", "/enter", "/health")
TOKEN_HEADER = "x-clothwise-token"
MOST_FIELDS = 20_000  # a whole chart, pasted
_FORMS = ("application/x-www-form-urlencoded", "multipart/form-data")


def cookie_name(settings: Settings) -> str:
    """Return the name of our cookie; servers on other ports share the browser's jar."""
    return f"clothwise-{settings.port}"


class Entrance:
    """Lets in who has a cookie of ours or the token, and asks changes for their page's token."""

    def __init__(self, app: ASGIApp, settings: Settings, visitors: Visitors) -> None:
        self.app = app
        self.settings = settings
        self.visitors = visitors

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass on what an entered visitor asks."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        who = self._visitor(Headers(scope=scope))
        scope["clothwise.visitor"] = who or Visitor("")
        path: str = scope["path"]
        if path.startswith(OPEN_TO_ALL):
            await self.app(scope, receive, send)
        elif who is None:
            await self._stranger(scope)(scope, receive, send)
        elif scope["method"] in SAFE_METHODS or who.is_script:
            await self.app(scope, receive, send)
        else:
            await self._change(who, scope, receive, send)

    def _visitor(self, headers: Headers) -> Visitor | None:
        if said := headers.get("authorization"):
            return self.visitors.of_script(said)
        try:
            jar = SimpleCookie(headers.get("cookie", ""))
        except CookieError:
            return None
        ours = jar.get(cookie_name(self.settings))
        return self.visitors.of_cookie(ours.value) if ours else None

    def _stranger(self, scope: Scope) -> ASGIApp:
        if self.settings.password_hash and scope["method"] == "GET":
            return RedirectResponse(f"/enter?next={quote(scope['path'])}", 303)
        return refused(
            403,
            "This page was not opened by Clothwise, or Clothwise was started anew since.",
            "Use the address that Clothwise tells when it starts, or run: clothwise open",
            AT_THE_DOOR,
        )

    async def _change(self, who: Visitor, scope: Scope, receive: Receive, send: Send) -> None:
        headers = Headers(scope=scope)
        sent = headers.get(TOKEN_HEADER)
        pass_on = receive
        kind = headers.get("content-type", "").partition(";")[0].strip().lower()
        if sent is None and kind in _FORMS:
            body = await _whole(receive)
            pass_on = _again(body, receive)
            sent = await _field(Request(scope, _again(body, receive)))
        if sent is None or not hmac.compare_digest(sent.encode(), who.csrf.encode()):
            answer = refused(
                403,
                "This page is from before.",
                "Load it anew, then make the change once more.",
                AT_THE_DOOR,
            )
            await answer(scope, receive, send)
            return
        await self.app(scope, pass_on, send)


async def _field(request: Request) -> str | None:
    """Return the token that a plain form carries in a hidden field."""
    try:
        async with request.form(max_files=20, max_fields=MOST_FIELDS) as form:
            value = form.get("csrf")
    except (MultiPartException, HTTPException):
        return None
    return value if isinstance(value, str) else None


async def _whole(receive: Receive) -> bytes:
    parts: list[bytes] = []
    while True:
        message = await receive()
        parts.append(message.get("body", b""))
        if message["type"] != "http.request" or not message.get("more_body", False):
            return b"".join(parts)


def _again(body: bytes, receive: Receive) -> Receive:
    """Return a receiver that gives a body that was read before; after it, what `receive` gives."""
    given = False

    async def replay() -> Message:
        nonlocal given
        if given:
            return await receive()
        given = True
        return {"type": "http.request", "body": body, "more_body": False}

    return replay
