"""The shelf: all designs as cards, with what can be begun, copied, put away and brought back."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from clothwise.app.pages import page, shop

__all__ = ["ROUTES"]


async def shelf(request: Request) -> Response:
    """Show the designs, the one changed last first."""
    found = shop(request).workspace
    return page(request, "shelf.html", designs=found.designs(), archived=found.archived())


ROUTES = [Route("/", shelf)]
