"""Requests must name us as their host, and changes must come from our own pages.

A page elsewhere may let its own name lead to this computer (DNS rebinding), or send a form here;
both are told by the headers `Host`, `Origin` and `Sec-Fetch-Site`, which no page can forge.
"""

from __future__ import annotations

import socket
from ipaddress import ip_address
from urllib.parse import urlsplit

from starlette.datastructures import Headers
from starlette.types import ASGIApp, Receive, Scope, Send

from clothwise.app.security.plain import refused
from clothwise.app.settings import Settings

__all__ = ["Hosts"]

SAFE_METHODS = frozenset({"GET", "HEAD"})


class Hosts:
    """Refuses foreign hosts and changes asked for by foreign pages."""

    def __init__(self, app: ASGIApp, settings: Settings) -> None:
        self.app = app
        self.settings = settings
        names = {"localhost", *settings.known_as}
        if not settings.is_local:
            own = socket.gethostname().lower()
            names |= {own, f"{own.partition('.')[0]}.local"}
        self.names = frozenset(name.lower() for name in names)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass on what is meant for us."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        headers = Headers(scope=scope)
        hosts = headers.getlist("host")
        if len(hosts) != 1 or not self._is_ours(hosts[0]):
            answer = refused(
                421, "This server answers only under its own address.", "Open the address it told."
            )
        elif scope["method"] not in SAFE_METHODS and not _is_own_page(headers, hosts[0]):
            answer = refused(
                403, "A page of another site asked for this change.", "Make it in Clothwise itself."
            )
        elif not _is_asked_for_here(headers):
            answer = refused(
                403,
                "A page of another site asked for a part of this one.",
                "Open Clothwise itself.",
            )
        else:
            await self.app(scope, receive, send)
            return
        await answer(scope, receive, send)

    def _is_ours(self, host: str) -> bool:
        try:
            parts = urlsplit(f"//{host}")
            name, port = (parts.hostname or "").rstrip("."), parts.port or 80
        except ValueError:
            return False
        if parts.username or parts.path or parts.query or port != self.settings.port:
            return False
        if name in self.names:
            return True
        try:
            address = ip_address(name)
        except ValueError:
            return False
        # A number is no name that somebody else could let lead here.
        return address.is_loopback or not self.settings.is_local


def _is_asked_for_here(headers: Headers) -> bool:
    """Tell whether something is asked for by a page of ours, or to be shown as a page of its own.

    Other ports of this computer count as the same site: their pages are sent our cookie along.
    """
    if headers.get("sec-fetch-site", "none") in ("same-origin", "none"):
        return True
    return (headers.get("sec-fetch-mode"), headers.get("sec-fetch-dest")) == (
        "navigate",
        "document",
    )


def _is_own_page(headers: Headers, host: str) -> bool:
    """Tell whether a change comes from a page of ours, or from no page at all (a script)."""
    origins = headers.getlist("origin")
    if len(origins) > 1 or (origins and origins[0].lower() != f"http://{host}".lower()):
        return False
    return headers.get("sec-fetch-site", "none") in ("same-origin", "none")
