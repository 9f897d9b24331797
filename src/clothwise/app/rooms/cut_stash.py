"""Cut from what is at hand, and how much to buy in every size: the last parts of the cut room."""

from __future__ import annotations

import posixpath
from dataclasses import replace
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from clothwise.app.jobs.cut_shown import StashShown, TableShown
from clothwise.app.jobs.cut_stash import StashOf, TableOf
from clothwise.app.pages import fragment, opened, wants_json
from clothwise.app.rooms.cut_changes import (
    committed,
    in_unit,
    make_of,
    name_from,
    text_in,
    work_key,
)
from clothwise.app.rooms.cut_works import Work, works
from clothwise.app.rooms.of_make import addressed, asked
from clothwise.errors import Misuse
from clothwise.pattern.commands import Command, ReplaceFile, SetMake
from clothwise.pattern.document import (
    RemnantEntry,
    Stash,
    format_stash,
    parse_design,
    parse_make,
    parse_stash,
)

__all__ = ["ROUTES"]

STASH = "stash.yaml"


async def _stash(request: Request) -> Response:
    """Show the remnants, and what was found to be cut from them."""
    work = _latest(request, "stash")
    stash = await run_in_threadpool(_stash_of, request)
    if wants_json(request):
        return JSONResponse(_stash_data(work, stash))
    return fragment(
        request,
        "_cut_stash.html",
        work=work,
        stash=stash,
        roles=await run_in_threadpool(_roles, request),
        to_stash=addressed(request, "cut", "stash"),
        to_adopt=addressed(request, "cut", "adopt"),
        to_remnant=addressed(request, "cut", "remnant"),
        to_cancel=addressed(request, "cut", "cancel"),
    )


async def _begin_stash(request: Request) -> Response:
    works().begin(
        *work_key(request), "stash", opened(request).history.head, StashOf(**asked(request))
    )
    return await _stash(request)


async def _adopt(request: Request) -> Response:
    """Write what was found into the make."""
    async with request.form() as form:
        work = _latest(request, "stash")
        found = work.result if work else None
        if not isinstance(found, StashShown) or not found.adopted:
            raise Misuse(
                "there is nothing to take over",
                what_to_do="Ask again what can be cut from your remnants: the make was changed in "
                "the meantime, or nothing can.",
            )
        return await committed(request, form, found.adopted)


async def _remnant(request: Request) -> Response:
    """Add a remnant to the stash of the make, or take one away."""
    async with request.form() as form:
        taken_away = text_in(form, "away")
        fields = {
            name: " ".join(text_in(form, name).split())
            for name in ("title", "length", "width", "color")
        }
        fields = await run_in_threadpool(in_unit, request, fields)
        roles = tuple(str(each) for each in form.getlist("roles"))
        commands = await run_in_threadpool(_with_remnant, request, fields, roles, taken_away)
        return await committed(request, form, *commands)


async def _table(request: Request) -> Response:
    """Show the table, how far it is, or how to begin it."""
    work = _latest(request, "table")
    if wants_json(request):
        return JSONResponse(_table_data(work))
    return fragment(
        request,
        "_cut_table.html",
        work=work,
        to_table=addressed(request, "cut", "table"),
        to_cancel=addressed(request, "cut", "cancel"),
    )


async def _begin_table(request: Request) -> Response:
    works().begin(
        *work_key(request), "table", opened(request).history.head, TableOf(**asked(request))
    )
    return await _table(request)


def _latest(request: Request, kind: str) -> Work | None:
    return works().latest(*work_key(request), kind, head=opened(request).history.head)


def _document_of_stash(request: Request) -> tuple[str, bool]:
    """The document of the stash of the make, and whether the make names it already."""
    name = make_of(request)
    make = parse_make(opened(request).history.documents[name], file=name)
    if not make.stash:
        return STASH, False
    return posixpath.normpath(posixpath.join(posixpath.dirname(name), make.stash)), True


def _stash_of(request: Request) -> Stash:
    """The stash that the make names; an empty one if it names none."""
    document, is_named = _document_of_stash(request)
    text = opened(request).history.documents.get(document, "") if is_named else ""
    return parse_stash(text, file=document) if text else Stash()


def _roles(request: Request) -> dict[str, str]:
    """Titles of the fabric roles that shell pieces are cut from, by name."""
    documents = opened(request).history.documents
    roles = parse_design(documents["design.yaml"]).roles
    return {name: role.title for name, role in roles.items()}


def _with_remnant(
    request: Request, fields: dict[str, str], roles: tuple[str, ...], away: str
) -> tuple[Command, ...]:
    """The commands that put a remnant into the stash, or take one out of it."""
    document, is_named = _document_of_stash(request)
    text = opened(request).history.documents.get(document, "")
    stash = parse_stash(text, file=document) if text else Stash()
    if away:
        if away not in stash.remnant_names:
            raise Misuse(
                f"the stash has no remnant {away[:40]!r}",
                what_to_do="Look at the list again: it may be gone already.",
            )
        left = tuple(each for each in stash.remnants if each.name != away)
        return (ReplaceFile(document, _written(replace(stash, remnants=left), text)),)
    if not (fields["length"] and fields["width"]):
        raise Misuse(
            "a remnant has a length and a width",
            what_to_do="Measure it along the warp and across it, and write both with their unit.",
        )
    taken = frozenset((*stash.names, *stash.remnant_names))
    name = name_from(fields["title"], taken=taken, usual="remnant")
    entry = RemnantEntry(
        name,
        fields["title"],
        fields["length"],
        fields["width"],
        roles=roles,
        color=fields["color"],
    )
    more = replace(stash, remnants=(*stash.remnants, entry))
    seen = posixpath.relpath(document, posixpath.dirname(make_of(request)) or ".")
    named: tuple[Command, ...] = () if is_named else (SetMake(make_of(request), {"stash": seen}),)
    return (ReplaceFile(document, _written(more, text)), *named)


def _written(stash: Stash, text: str) -> str:
    return format_stash(stash, previous=text)


def _stash_data(work: Work | None, stash: Stash) -> dict[str, Any]:
    found = work.result if work else None
    return {
        "running": bool(work and work.is_running),
        "remnants": list(stash.remnant_names),
        "answer": found.answer if isinstance(found, StashShown) else "",
        "sentences": list(found.sentences) if isinstance(found, StashShown) else [],
        "error": work.refused if work else "",
    }


def _table_data(work: Work | None) -> dict[str, Any]:
    table = work.result if work else None
    told: dict[str, Any] = {
        "running": bool(work and work.is_running),
        "share": round(work.share, 3) if work else 0.0,
        "error": work.refused if work else "",
    }
    if isinstance(table, TableShown):
        told["title"], told["unit"] = table.title, table.unit
        told["sizes"] = list(table.sizes)
        told["lines"] = [
            {"cloth": each.cloth, "detail": each.detail, "amounts": list(each.amounts)}
            for each in table.lines
        ]
        told["notes"] = list(table.notes)
    return told


_AT = "/d/{design}/m/{make}/cut"
ROUTES: list[Route] = [
    Route(f"{_AT}/stash", _stash, methods=["GET"]),
    Route(f"{_AT}/stash", _begin_stash, methods=["POST"]),
    Route(f"{_AT}/adopt", _adopt, methods=["POST"]),
    Route(f"{_AT}/remnant", _remnant, methods=["POST"]),
    Route(f"{_AT}/table", _table, methods=["GET"]),
    Route(f"{_AT}/table", _begin_table, methods=["POST"]),
]
