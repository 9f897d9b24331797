"""Pictures of whole garments for cards and pages: `/d/NAME/flat.svg?view=A` or `?make=view-a`."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from xml.sax.saxutils import escape

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from clothwise.app.jobs.flat import FlatOf
from clothwise.app.opening import opened, shop
from clothwise.app.work import Shown, ask
from clothwise.errors import ClothwiseError

__all__ = ["ROUTES", "drawn_flat"]

FLATS = "flats"
"""Folder of the app's own things in which pictures are kept; they can be drawn again."""


async def flat(request: Request) -> Response:
    """Front and back of a garment; a design that cannot be drafted says so in the picture."""
    design = opened(request)
    asked = {name: request.query_params.get(name, "")[:80] for name in ("view", "size", "make")}
    tag = f'"{hashlib.sha256(f"{design.history.head} {asked}".encode()).hexdigest()[:24]}"'
    headers = {"ETag": tag, "Cache-Control": "private, no-cache"}
    if request.headers.get("if-none-match") == tag:
        return Response(status_code=304, headers=headers)
    try:
        make = design.make_document(asked["make"]) if asked["make"] else ""
    except ClothwiseError as error:
        return Response(_words(error), 422, media_type="image/svg+xml")
    shown = Shown(design.name, size=asked["size"], view=asked["view"], make=make)
    return await drawn_flat(request, shown, design.history.documents, headers)


async def drawn_flat(
    request: Request,
    shown: Shown,
    documents: Mapping[str, str],
    headers: Mapping[str, str] | None = None,
) -> Response:
    """Return the picture of a garment, or one that says why there is none."""
    job = FlatOf(shown, dict(documents), shop(request).workspace.own / FLATS)
    try:
        return Response(await ask(job), media_type="image/svg+xml", headers=headers)
    except ClothwiseError as error:
        return Response(_words(error), 422, media_type="image/svg+xml")


def _words(error: ClothwiseError) -> str:
    """A sheet with nothing on it but why."""
    what = escape(error.what[:60])
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 160 110" role="img">'
        f"<title>No picture: {what}</title>"
        '<rect x="20" y="15" width="120" height="80" fill="#fff" stroke="#8f8a82" '
        'stroke-dasharray="3 2"/><g font-family="serif" font-size="6" fill="#3a3733" '
        'text-anchor="middle"><text x="80" y="52">It cannot be drawn yet:</text>'
        f'<text x="80" y="62">{what}</text></g></svg>'
    )


ROUTES = [Route("/d/{design}/flat.svg", flat)]
