"""The makes of a design: for whom it is made, in which view and size, of which fabrics."""

from __future__ import annotations

from collections.abc import Mapping

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, RedirectResponse, Response
from starlette.routing import Route

from clothwise.app.jobs.for_whom import OWN
from clothwise.app.jobs.makes import BaseOfMake, BaseOfMakeOf, MakesOf, MakesShown, NewMakeOf
from clothwise.app.mending_places import ways_to
from clothwise.app.pages import address, after_commit, fragment, opened, page, wants_json
from clothwise.app.rooms.draft_fields import shown_in
from clothwise.app.rooms.of_make import look_at
from clothwise.app.routes import RoomLink, rooms_of
from clothwise.app.security import folder_name, is_folder_name
from clothwise.app.work import ask
from clothwise.errors import Misuse
from clothwise.pattern.commands import RemoveFile, ReplaceFile

__all__ = ["ROUTES"]

OWN_SIZE = "own:"
"""Sent instead of a size for own measurements."""


async def makes(request: Request) -> Response:
    """List the makes, each with its rooms, and what a new one can be."""
    design = opened(request)
    shown: MakesShown = await ask(MakesOf(dict(design.history.documents)))
    names = {each.document: _name(each.document) for each in shown.makes}
    links: dict[str, list[RoomLink]] = {
        document: [link for link in rooms_of(design, name) if link.room.of_make]
        for document, name in names.items()
        if is_folder_name(name)
    }
    looks = {
        document: look_at(design, name) for document, name in names.items() if name in design.makes
    }
    wanted = shown_in(request)
    told = _told(wanted.choices, shown)
    return page(
        request,
        "makes.html",
        makes=shown,
        names=names,
        links=links,
        looks=looks,
        wanted=wanted,
        told=told,
    )


def _told(choices: Mapping[str, str], shown: MakesShown) -> tuple[str, ...]:
    """Choices in the words of the options: `armhole: Sleeveless`."""
    return tuple(
        f"{shown.options[option][0].lower()}: {shown.options[option][1].get(choice, choice)}"
        for option, choice in choices.items()
        if option in shown.options
    )


async def begin(request: Request) -> Response:
    """Write a new make, and go to its fabrics."""
    design = opened(request)
    async with request.form() as form:
        asked = {key: str(form.get(key, "")).strip() for key in ("title", "view", "size", "like")}
        base = str(form.get("base", "")) or design.history.head
        choices = shown_in(request, form).choices
    title = " ".join(asked["title"].split())
    if not folder_name(title):
        raise Misuse(
            "a make needs a name with a letter or digit in it",
            where=title[:40],
            what_to_do="Say for whom or of what it is, such as “Green linen, for Ada”.",
        )
    document = _free(folder_name(title), design.makes)
    like = design.make_document(asked["like"]) if asked["like"] else ""
    documents = dict(design.history.documents)
    is_own = asked["size"] == OWN_SIZE
    size = "" if is_own else asked["size"]
    job = NewMakeOf(documents, document, like, title, asked["view"], size, choices)
    command = ReplaceFile(document, await ask(job))
    entry = await run_in_threadpool(design.history.commit, base, command)
    headers = after_commit(request, entry)
    if wants_json(request):
        return JSONResponse({"make": _name(document)}, 201, headers)
    if is_own:
        whom = address("d", design.name, "m", _name(document), "for-whom")
        return RedirectResponse(f"{whom}?start={OWN}", 303, headers)
    links = [link for link in rooms_of(design, _name(document)) if link.room.of_make]
    there = links[0].href if links else address("d", design.name, "makes")
    return RedirectResponse(there, 303, headers)


async def base(request: Request) -> Response:
    """Say in the head of the rooms of a make that the base size cannot be drafted, if so."""
    design = opened(request)
    document = design.make_document(request.path_params["make"])
    documents = dict(design.history.documents)
    found: BaseOfMake | None = await ask(BaseOfMakeOf(documents, document))
    faults = [{"path": path, "what": ""} for path in found.paths] if found else []
    ways = ways_to(design.name, faults)
    return fragment(
        request, "_makes_base.html", base=found, ways=ways, make=request.path_params["make"]
    )


async def remove(request: Request) -> Response:
    """Take a make away; undo brings it back."""
    design = opened(request)
    document = design.make_document(request.path_params["make"])
    head = design.history.head
    entry = await run_in_threadpool(design.history.commit, head, RemoveFile(document))
    headers = after_commit(request, entry)
    return RedirectResponse(address("d", design.name, "makes"), 303, headers)


def _name(document: str) -> str:
    """Return the name of a make as in addresses."""
    return document.rpartition("/")[2].removesuffix(".yaml")


def _free(name: str, taken: tuple[str, ...]) -> str:
    numbered = (name, *(f"{name}-{number}" for number in range(2, 1_000)))
    return f"makes/{next(each for each in numbered if each not in (*taken, 'make'))}.yaml"


ROUTES = [
    Route("/d/{design}/makes", makes),
    Route("/d/{design}/makes", begin, methods=["POST"]),
    Route("/d/{design}/m/{make}/base", base),
    Route("/d/{design}/m/{make}/remove", remove, methods=["POST"]),
]
