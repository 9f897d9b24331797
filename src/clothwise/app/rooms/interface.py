"""The description of the interface, for scripts."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from clothwise.app.contract import openapi

__all__ = ["ROUTES"]


async def described(request: Request) -> Response:
    """Give the description, as OpenAPI 3.1 has it."""
    return JSONResponse(openapi())


ROUTES = [Route("/openapi.json", described)]
