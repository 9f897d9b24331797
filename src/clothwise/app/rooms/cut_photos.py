"""Photos of cloth: sent, kept beside the design as small swatches, and shown."""

from __future__ import annotations

import posixpath
from hashlib import sha256
from pathlib import Path

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from clothwise.app.jobs.cut_photo import SwatchOf
from clothwise.app.pages import opened
from clothwise.app.rooms.cut_changes import committed, in_unit, make_of, text_in
from clothwise.app.rooms.cut_refused import FIELD_TITLES, FieldRefused, tells_fields
from clothwise.app.security.bounds import LARGEST_UPLOAD_BYTES
from clothwise.app.work import ask
from clothwise.cutting.swatch import Swatch
from clothwise.errors import Misuse, UnitError
from clothwise.pattern.commands import SetFabric
from clothwise.pattern.document import FabricEntry, parse_make
from clothwise.pattern.document.fabric_entry import parse_photo_width
from clothwise.pattern.saving import write_atomically

__all__ = ["ROUTES"]

FOLDER = "photos"
"""Within the folder of a design."""
_KINDS = {b"\x89PNG\r\n\x1a\n": "image/png", b"\xff\xd8\xff": "image/jpeg"}
_ALL = 0.999
"""Of the width of a photo; the rest is a rounded pixel."""
_LARGEST_SHOWN_BYTES = 600_000
"""What is larger is shown as a swatch made of it."""


@tells_fields
async def _send(request: Request) -> Response:
    """Take a photo for a fabric, or take its photo away."""
    design, make = opened(request), make_of(request)
    async with request.form(max_files=1, max_fields=10) as form:
        name = text_in(form, "name")
        if text_in(form, "away"):
            gone = {"photo": "", "photo_width": ""}
            return await committed(request, form, SetFabric(make, name, gone))
        written = {"photo_width": text_in(form, "photo_width")}
        shows = (await run_in_threadpool(in_unit, request, written))["photo_width"]
        file = form.get("photo")
        if not isinstance(file, UploadFile) or not file.filename:
            known = _fabric(request, name)
            if known and known.photo and shows == known.photo_width:
                return Response(status_code=204)
            if known and known.photo:
                return await committed(request, form, SetFabric(make, name, {"photo_width": shows}))
            raise Misuse(
                "no photo was chosen",
                what_to_do="Choose a JPEG or PNG of the cloth, taken straight from above.",
            )
        content = await file.read(LARGEST_UPLOAD_BYTES)
        _refuse_wrong(shows)
        swatch: Swatch = await ask(SwatchOf(content, file.filename))
        kept = design.folder / FOLDER / f"{sha256(swatch.png).hexdigest()[:16]}.png"
        await run_in_threadpool(_keep, kept, swatch.png)
        seen = posixpath.relpath(f"{FOLDER}/{kept.name}", posixpath.dirname(make) or ".")
        fields = {"photo": seen, "photo_width": _of_swatch(shows, swatch)}
        return await committed(request, form, SetFabric(make, name, fields))


async def _show(request: Request) -> Response:
    """Show the photo of a fabric."""
    path = await run_in_threadpool(_path_of, request)
    content = await run_in_threadpool(path.read_bytes)
    kind = next((kind for begins, kind in _KINDS.items() if content.startswith(begins)), "")
    if not kind or len(content) > _LARGEST_SHOWN_BYTES:
        swatch: Swatch = await ask(SwatchOf(content, path.name))
        content, kind = swatch.png, "image/png"
    return Response(content, media_type=kind, headers={"Cache-Control": "private, max-age=86400"})


def _refuse_wrong(shows: str) -> None:
    """Refuse what cannot be the width of the cloth that a photo shows.

    Raises:
        FieldRefused: it is no such length.
    """
    try:
        if shows:
            parse_photo_width(shows)
    except (Misuse, UnitError) as error:
        raise FieldRefused(
            "photo_width",
            error.what,
            where=FIELD_TITLES["photo_width"],
            what_to_do=error.what_to_do,
        ) from None


def _of_swatch(shows: str, swatch: Swatch) -> str:
    """How much of the cloth the swatch shows: the sides of a very wide photo are cut off."""
    if not shows or swatch.width_share > _ALL:
        return shows
    return f"{parse_photo_width(shows) * swatch.width_share / 10:.1f}cm"


def _fabric(request: Request, name: str) -> FabricEntry | None:
    """A fabric as the make states it; None if it has none of that name."""
    make = make_of(request)
    fabrics = parse_make(opened(request).history.documents[make], file=make).fabrics
    return next((each for each in fabrics if each.name == name), None)


def _keep(path: Path, content: bytes) -> None:
    path.parent.mkdir(exist_ok=True)
    if not path.exists():
        write_atomically(path, content)


def _path_of(request: Request) -> Path:
    """The photo of a fabric, which lies in the folder of its design."""
    design, make = opened(request), make_of(request)
    found = _fabric(request, request.path_params["fabric"])
    photo = found.photo if found else ""
    path = (design.folder / make).parent / photo
    if not (photo and path.is_file() and path.resolve().is_relative_to(design.folder.resolve())):
        raise HTTPException(404)
    if path.stat().st_size > LARGEST_UPLOAD_BYTES:
        raise HTTPException(404)
    return path


_AT = "/d/{design}/m/{make}/cut"
ROUTES: list[Route] = [
    Route(f"{_AT}/photo", _send, methods=["POST"]),
    Route(f"{_AT}/photo/{{fabric}}", _show, methods=["GET"]),
]
