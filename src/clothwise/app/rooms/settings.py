"""How the pages look: unit, light or dark, size of type."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from clothwise.app.pages import page, preferences, shop
from clothwise.app.preferences import CHOICES, chosen, write_preferences

__all__ = ["ROUTES"]


async def settings(request: Request) -> Response:
    """Show what can be chosen."""
    return page(
        request,
        "settings.html",
        choices=CHOICES,
        next=_next(request),
        folder=str(shop(request).settings.workspace),
    )


async def change(request: Request) -> Response:
    """Keep what was chosen, and go back to where one came from."""
    async with request.form() as form:
        wanted = {name: str(form[name]) for name in CHOICES if name in form}
    write_preferences(chosen(preferences(request), wanted), shop(request).workspace.own)
    return RedirectResponse(_next(request), 303)


def _next(request: Request) -> str:
    wanted = request.query_params.get("next", "/")
    return wanted if wanted.startswith("/") and not wanted.startswith(("//", "/\\")) else "/"


ROUTES = [Route("/settings", settings), Route("/settings", change, methods=["POST"])]
