"""Puts the app together."""

from __future__ import annotations

import secrets
import traceback
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from datetime import UTC, datetime

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.middleware import Middleware
from starlette.middleware.gzip import GZipMiddleware
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Mount, Route
from starlette.staticfiles import StaticFiles
from starlette.types import Scope

from clothwise.app.opening import Shop, shop
from clothwise.app.pages import STATIC, refusal
from clothwise.app.routes import joined
from clothwise.app.security import Bounds, Entrance, Headers, Hosts, Visitors
from clothwise.app.security.doors import enter, leave
from clothwise.app.settings import Settings
from clothwise.app.work import Superseded
from clothwise.errors import ClothwiseError, Misuse

__all__ = ["create_app"]

_SMALLEST_ZIPPED_BYTES = 800


def create_app(settings: Settings) -> Starlette:
    """Return the app for one workspace.

    Raises:
        Misuse: other machines could reach it without a password.
        OutputError: the workspace cannot be made.
    """
    if not settings.is_local and not settings.password_hash:
        raise Misuse(
            "other machines could open your designs without a password",
            where=f"--host {settings.host}",
            what_to_do="Give a password, or leave --host out.",
        )
    visitors = Visitors(settings)
    app = Starlette(
        routes=[
            Route("/enter", enter, methods=["GET", "POST"]),
            Route("/leave", leave, methods=["POST"]),
            Route("/health", _health),
            Route("/favicon.ico", _favicon),
            Mount("/static", _Static(directory=STATIC)),
            *joined(),
        ],
        middleware=[
            Middleware(Headers),
            Middleware(Hosts, settings=settings),
            Middleware(Bounds),
            Middleware(GZipMiddleware, minimum_size=_SMALLEST_ZIPPED_BYTES),
            Middleware(Entrance, settings=settings, visitors=visitors),
        ],
        exception_handlers={
            ClothwiseError: _refused,
            HTTPException: _no_such_page,
            Exception: _fault,
        },
        lifespan=_life,
    )
    app.state.shop = Shop(settings)
    app.state.visitors = visitors
    app.state.shop.workspace.prepare()
    return app


@asynccontextmanager
async def _life(app: Starlette) -> AsyncIterator[None]:
    from clothwise.app.work import start_workers, stop_workers

    if app.state.shop.settings.warms_workers:
        start_workers()
    try:
        yield
    finally:
        stop_workers()


class _Static(StaticFiles):
    """Our own files; their addresses change with them, so they may be kept for ever."""

    async def get_response(self, path: str, scope: Scope) -> Response:
        response = await super().get_response(path, scope)
        if scope["query_string"].startswith(b"v="):
            response.headers["Cache-Control"] = "public, max-age=31536000, immutable"
        else:
            response.headers["Cache-Control"] = "no-cache"
        return response


async def _health(request: Request) -> Response:
    return JSONResponse({"app": "clothwise"})


async def _favicon(request: Request) -> Response:
    icon = (STATIC / "shell" / "icon.svg").read_bytes()
    return Response(icon, media_type="image/svg+xml", headers={"Cache-Control": "max-age=86400"})


async def _refused(request: Request, error: Exception) -> Response:
    assert isinstance(error, ClothwiseError)
    if isinstance(error, Superseded) and request.method == "GET":
        return Response(status_code=204)  # the page hears of the newer state, and asks for that
    return refusal(request, error)


async def _no_such_page(request: Request, error: Exception) -> Response:
    assert isinstance(error, HTTPException)
    what = {
        404: "there is no such page",
        405: "this page cannot be asked in this way",
        400: "what was sent cannot be read",
    }.get(error.status_code, "this cannot be answered")
    told = Misuse(what, what_to_do="Go back to the shelf and follow a link from there.")
    return refusal(request, told, status=error.status_code)


async def _fault(request: Request, error: Exception) -> Response:
    """A fault of ours: the details go to a file in the workspace, never to a page."""
    folder = shop(request).workspace.own / "faults"
    at = datetime.now(UTC)
    name = f"{at:%Y%m%d-%H%M%S}-{secrets.token_hex(2)}.txt"
    try:
        folder.mkdir(exist_ok=True)
        text = "".join(traceback.format_exception(error))
        (folder / name).write_text(f"{request.method} {request.url.path}\n{text}", "utf-8")
        where = f".clothwise/faults/{name}"
    except OSError:
        where = ""
    told = ClothwiseError(
        "this is a fault in Clothwise, not in your files",
        where=where,
        how_much=type(error).__name__,
        what_to_do="Every change that was shown as done is kept. Load the page anew and go on; "
        "please report the file named here.",
    )
    return refusal(request, told, status=500)
