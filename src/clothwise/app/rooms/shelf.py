"""The shelf: all designs as cards, with what can be begun, copied, put away and brought back."""

from __future__ import annotations

import io
import zipfile
from dataclasses import dataclass, replace
from urllib.parse import urlencode

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile
from starlette.requests import Request
from starlette.responses import JSONResponse, RedirectResponse, Response
from starlette.routing import Route

from clothwise.app.attachments import saved_as
from clothwise.app.cloth_photos import photos_of
from clothwise.app.design_folder import make_document, make_names
from clothwise.app.jobs.shelf import Imported, ImportOf
from clothwise.app.ongoing import ongoing
from clothwise.app.opening import OpenDesign, Shop
from clothwise.app.pages import address, after_commit, opened, page, shop, wants_json
from clothwise.app.rooms.flats import drawn_flat
from clothwise.app.rooms.of_make import look_at
from clothwise.app.routes import rooms_of
from clothwise.app.work import Shown, ask
from clothwise.app.workspace import Found, Workspace
from clothwise.errors import ClothwiseError, Misuse
from clothwise.pattern.commands import Rename
from clothwise.pattern.commands.documents import read_documents

__all__ = ["ROUTES"]

MOST_FILES = 60
_BEGINNINGS = {
    "kiln-dress": "Work dress, buttoned down the front; elbow sleeves or none, collar, pockets.",
    "half-circle-skirt": "Half a circle, with waistband and zip: small, to try things out.",
    "market-blouse": "Gathered back yoke, full sleeves held in cuffs, collar of a second cloth.",
    "tiered-skirt": "Three or four gathered tiers, with waistband or elastic.",
    "pilot-coat-dress": "Double-breasted, with lapels, bellows pockets, tabs and a back vent.",
    "stage-corselette": "Boned and laced, sleeves that come off; with a skirt, a ball dress.",
    "kiln-mixtures": "The kiln dress cut from many cloths, with yoke and hem band.",
}


@dataclass(frozen=True)
class Card:
    """A design as the shelf shows it.

    Attributes:
        found: the design.
        href: of the room it opens in.
        last: what was done last, in words.
        fault: what is wrong with it, if it cannot be opened.
        makes: how each make is called, and where it is looked at.
        copy_of: the design that it has just been copied from; empty for any other.
    """

    found: Found
    href: str
    last: str = ""
    fault: str = ""
    makes: tuple[tuple[str, str], ...] = ()
    copy_of: str = ""


async def shelf(request: Request) -> Response:
    """Show the designs, the one changed last first; a copy that was just made comes before all."""
    held = shop(request)
    cards = await run_in_threadpool(_cards, held)
    if copy := request.query_params.get("copy", ""):
        cards = _with_copy(cards, copy, request.query_params.get("of", ""))
    archived = held.workspace.archived()
    if wants_json(request):
        return JSONResponse(
            {"designs": [_data(each.found) for each in cards], "archived": [*map(_data, archived)]}
        )
    return page(request, "shelf.html", cards=cards, archived=archived, kinds=_kinds())


async def lead(request: Request) -> Response:
    """Go to the room that a design opens in."""
    return _opened(request, request.path_params["design"], status=200)


async def begin(request: Request) -> Response:
    """Make a design from one of the beginnings, and open it."""
    async with request.form() as form:
        kind, title = str(form.get("kind", "")), str(form.get("title", "")).strip()
    workspace = shop(request).workspace
    name = await run_in_threadpool(workspace.begin, kind, title or _called(kind))
    return _opened(request, name)


async def duplicate(request: Request) -> Response:
    """Copy a design; the shelf shows which is the copy."""
    source = request.path_params["design"]
    async with request.form() as form:
        title = str(form.get("title", "")).strip()
    held = shop(request)
    if not title:
        title = f"{held.design(source).title}, copy"
    name = await run_in_threadpool(held.workspace.duplicate, source, title)
    if wants_json(request):
        return JSONResponse({"design": name}, 201)
    return RedirectResponse(f"/?{urlencode({'copy': name, 'of': source})}#card-{name}", 303)


async def rename(request: Request) -> Response:
    """Give a design another title; its folder keeps its name, so that links hold."""
    design = opened(request)
    async with request.form() as form:
        title = " ".join(str(form.get("title", "")).split())
    if not title:
        raise Misuse("a design needs a name", what_to_do="Type one, such as “Summer dress”.")
    head = design.history.head
    entry = await run_in_threadpool(design.history.commit, head, Rename(title))
    headers = after_commit(request, entry)
    return _moved(request, design.name, "/", headers)


async def archive(request: Request) -> Response:
    """Put a design away, and end what is still being worked out for it; nothing of it is lost."""
    name = request.path_params["design"]
    held = shop(request)
    ongoing().stop_all(name)
    put = await run_in_threadpool(held.workspace.archive, name)
    held.close(name)
    return _moved(request, put, "/#archive")


async def restore(request: Request) -> Response:
    """Bring a design back to the shelf."""
    workspace = shop(request).workspace
    name = await run_in_threadpool(workspace.restore, request.path_params["design"])
    return _moved(request, name, "/")


async def import_(request: Request) -> Response:
    """Take in a design from its packed folder or its files."""
    async with request.form(max_files=MOST_FILES, max_fields=5) as form:
        sent = [each for each in form.getlist("files") if isinstance(each, UploadFile)]
        files = [(each.filename or "", await each.read()) for each in sent if each.size]
    if not files:
        raise Misuse(
            "no file was chosen",
            what_to_do="Choose the zip of a design, or its design.yaml with the files beside it.",
        )
    found: Imported = await ask(ImportOf(tuple(files)))
    workspace = shop(request).workspace
    name = await run_in_threadpool(_taken_in, workspace, found)
    return _opened(request, name)


def _taken_in(workspace: Workspace, found: Imported) -> str:
    """Put it on the shelf; called otherwise than what hangs there already."""
    titles = {each.title.casefold() for each in workspace.designs()}
    other = f"{found.title}, brought in"
    called = (found.title, other, *(f"{other} {number}" for number in range(2, 1_000)))
    title = next(each for each in called if each.casefold() not in titles)
    return workspace.take_in(title, found.documents, found.photos)


async def archived_flat(request: Request) -> Response:
    """The picture of a design that was put away."""
    folder = shop(request).workspace.archived_folder(request.path_params["design"])
    documents = await run_in_threadpool(read_documents, folder)
    make = next(iter(make_names(folder)), "")
    shown = Shown(folder.name, make=make_document(folder, make) if make else "")
    return await drawn_flat(request, shown, documents)


async def download(request: Request) -> Response:
    """Give the documents of a design, and its photos, as a zip that can be brought in elsewhere."""
    packed = await run_in_threadpool(_packed, opened(request))
    named = saved_as(f"{request.path_params['design']}.zip")
    return Response(packed, media_type="application/zip", headers=named)


def _kinds() -> dict[str, tuple[str, str]]:
    """How each beginning is called, and a line about it."""
    from clothwise.pattern.document import starter_names

    known = [*_BEGINNINGS]
    names = sorted(starter_names(), key=known.index)
    return {name: (_called(name), _BEGINNINGS[name]) for name in names}


def _called(kind: str) -> str:
    """What a beginning is called, and a design that nobody gave another name."""
    return kind.replace("-", " ").capitalize()


def _with_copy(cards: list[Card], name: str, of: str) -> list[Card]:
    """The same with a copy first, which says what it was copied from; if both are there."""
    titles = {each.found.name: each.found.title for each in cards}
    if name not in titles or of not in titles:
        return cards
    marked = [replace(each, copy_of=titles[of]) for each in cards if each.found.name == name]
    return [*marked, *(each for each in cards if each.found.name != name)]


def _cards(held: Shop) -> list[Card]:
    return [_card(held, found) for found in held.workspace.designs()]


def _card(held: Shop, found: Found) -> Card:
    try:
        design = held.design(found.name)
    except ClothwiseError as error:
        return Card(found, "", fault=str(error)[:400])
    links = rooms_of(design)
    first = next((each.href for each in links if each.room.module == "draft"), "")
    makes = [(title, look_at(design, name)) for name, title in design.make_titles.items()]
    entry = design.history.entries[-1]
    last = entry.words if entry.kind != "start" else ""
    href = first or (links[0].href if links else address("d", found.name, "history"))
    return Card(found, href, last, makes=tuple(makes))


def _packed(design: OpenDesign) -> bytes:
    into, documents = io.BytesIO(), dict(design.history.documents)
    with zipfile.ZipFile(into, "w", zipfile.ZIP_DEFLATED) as packed:
        for each, text in sorted(documents.items()):
            packed.writestr(f"{design.name}/{each}", text)
        for each, photo in photos_of(design.folder, documents).items():
            packed.writestr(f"{design.name}/{each}", photo)
    return into.getvalue()


def _moved(
    request: Request, name: str, there: str, headers: dict[str, str] | None = None
) -> Response:
    if wants_json(request):
        return JSONResponse({"design": name}, headers=headers)
    return RedirectResponse(there, 303, headers)


def _opened(request: Request, name: str, *, status: int = 201) -> Response:
    if wants_json(request):
        return JSONResponse({"design": name}, status)
    links = rooms_of(shop(request).design(name))
    draft = next((each.href for each in links if each.room.module == "draft"), "")
    return RedirectResponse(draft or address("d", name, "history"), 303)


def _data(found: Found) -> dict[str, object]:
    return {"design": found.name, "title": found.title, "makes": [*found.makes]}


ROUTES = [
    Route("/", shelf),
    Route("/d/{design}", lead),
    Route("/designs", begin, methods=["POST"]),
    Route("/designs/import", import_, methods=["POST"]),
    Route("/d/{design}/duplicate", duplicate, methods=["POST"]),
    Route("/d/{design}/rename", rename, methods=["POST"]),
    Route("/d/{design}/archive", archive, methods=["POST"]),
    Route("/archive/{design}/restore", restore, methods=["POST"]),
    Route("/archive/{design}/flat.svg", archived_flat),
    Route("/d/{design}/download", download),
]
