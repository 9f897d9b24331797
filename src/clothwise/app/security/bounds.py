"""How much and how long a request may be."""

from __future__ import annotations

import asyncio
import re

from starlette.datastructures import Headers
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from clothwise.app.security.plain import refused

__all__ = ["LARGEST_BODY_BYTES", "LARGEST_UPLOAD_BYTES", "Bounds", "TooLarge"]

LARGEST_BODY_BYTES = 1_500_000  # a pasted chart, a whole document
LARGEST_UPLOAD_BYTES = 20_000_000  # a photo of cloth, a design to import
LONGEST_BODY_S = 60.0
LONGEST_ADDRESS = 4_000
UPLOADS = re.compile(r"/(photo|upload|import)$")


class TooLarge(Exception):
    """More was sent than a request may hold."""


class Bounds:
    """Ends requests whose body is too large or takes too long."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass on a request whose body is counted while it is read."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        largest = LARGEST_UPLOAD_BYTES if UPLOADS.search(scope["path"]) else LARGEST_BODY_BYTES
        said = Headers(scope=scope).get("content-length", "0")
        length = int(said) if said.isascii() and said.isdigit() else largest + 1
        if len(scope["raw_path"]) + len(scope["query_string"]) > LONGEST_ADDRESS:
            answer = refused(414, "The address is too long.", "Follow a link of Clothwise.")
            await answer(scope, receive, send)
            return
        if length > largest:
            await _too_large(largest)(scope, receive, send)
            return
        started = False
        counted = 0
        deadline = asyncio.get_running_loop().time() + LONGEST_BODY_S
        whole = False

        async def counting() -> Message:
            nonlocal counted, whole
            if whole:
                return await receive()  # only waits for the end of the connection
            left_s = deadline - asyncio.get_running_loop().time()
            message = await asyncio.wait_for(receive(), max(left_s, 0.001))
            counted += len(message.get("body", b""))
            whole = not message.get("more_body", False)
            if counted > largest:
                raise TooLarge
            return message

        async def noting(message: Message) -> None:
            nonlocal started
            started = True
            await send(message)

        try:
            await self.app(scope, counting, noting)
        except TooLarge:
            if not started:
                await _too_large(largest)(scope, receive, send)
        except TimeoutError:
            if started or whole:
                raise
            late = refused(408, "Sending took longer than a minute.", "Send it once more.")
            await late(scope, receive, send)


def _too_large(largest: int) -> ASGIApp:
    allowed = f"{largest / 1_000_000:g} MB"
    return refused(
        413, f"More was sent than fits here (allowed {allowed}).", "Send less, or a smaller photo."
    )
