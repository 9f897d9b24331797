"""What lies on the board of the Draft room, and what is told of it.

The board travels as data: the pieces that look different from what a page shows, and where new
ones lie.
"""

from __future__ import annotations

import json
from collections.abc import AsyncIterator, Callable
from dataclasses import asdict
from functools import partial
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, Response, StreamingResponse
from starlette.routing import Route

from clothwise.app.board_places import KeptPlaces, keep_places
from clothwise.app.jobs.board import Board
from clothwise.app.jobs.draft_room import (
    ChangedBoardOf,
    LaidBoard,
    LaidBoardOf,
    Pending,
    SizesOf,
    TapeOf,
)
from clothwise.app.jobs.findings import FindingsOf
from clothwise.app.measured_words import as_read, reads_inches
from clothwise.app.numbered_findings import numbered_findings
from clothwise.app.pages import fragment, opened, preferences, shop
from clothwise.app.rooms.draft_fields import (
    MOST_LETTERS,
    board_fields,
    form_fields,
    pair_in,
    pending_in,
    shown_in,
    unit_liked,
    window_of,
)
from clothwise.app.work import JobRefused, Superseded, ask, follow

__all__ = ["ROUTES", "board_data", "told_board"]


async def board(request: Request) -> Response:
    """What lies on the board, as far as the page does not show it yet."""
    job = LaidBoardOf(**board_fields(request, request.query_params))
    return JSONResponse(await told_board(request, await ask(job)))


async def tidy(request: Request) -> Response:
    """Lay the pieces out anew, clear of each other."""
    async with request.form(max_part_size=MOST_LETTERS) as form:
        fields = board_fields(request, form_fields(form))
    laid: LaidBoard = await ask(LaidBoardOf(**{**fields, "kept": {}, "homes": {}}))
    return JSONResponse(await told_board(request, laid))


async def told_board(request: Request, laid: LaidBoard, *, keep: bool = True) -> dict[str, Any]:
    """A board as data for a page; the places of its pieces are kept unless told otherwise."""
    if keep and laid.board.pieces:
        own, name = shop(request).workspace.own, opened(request).name
        places = KeptPlaces(laid.places, laid.homes)
        await run_in_threadpool(keep_places, own, name, places)
    return board_data(request, laid)


def board_data(request: Request, laid: LaidBoard) -> dict[str, Any]:
    """A board as data for a page: only what looks different from what it shows.

    `pending`: what is told of a change that waits for a yes, if the board shows one.
    """
    said = _as_read(request)
    found: Board = laid.board
    refused = found.refused
    is_empty = refused is not None and not found.instead
    return {
        "version": found.version,
        "pieces": {
            name: {"svg": found.pieces[name].svg, "box": _box(found.pieces[name].box)}
            for name in found.changed
        },
        "order": list(found.pieces),
        "gone": list(found.gone),
        "places": {} if is_empty else {name: list(at) for name, at in laid.places.items()},
        "extent": "" if is_empty else " ".join(f"{each:.1f}" for each in laid.extent),
        "size": found.size,
        "choices": dict(found.choices),
        "lying": list(laid.lying),
        "lost": [
            {"message": said(each.message), "remedy": said(each.remedy)} for each in found.findings
        ],
        "refused": _told(refused, said) if refused else None,
        "ways": [asdict(each) for each in found.ways],
        "instead": found.instead,
        "pending": _pending_data(laid.pending) if laid.pending else None,
    }


def _pending_data(pending: Pending) -> dict[str, Any]:
    """What it does, and why it cannot be made where that is so."""
    what, what_to_do = pending.lost
    ways = [asdict(each) for each in pending.ways]
    lost = {"what": what, "what_to_do": what_to_do, "ways": ways} if what else None
    return {"words": pending.words, "lost": lost}


def _box(box: tuple[float, float, float, float]) -> str:
    """Left, top, width and height with y downward."""
    left, bottom, right, top = box
    return f"{left:.2f} {-top:.2f} {right - left:.2f} {top - bottom:.2f}"


def _told(error: JobRefused, said: Callable[[str], str]) -> dict[str, str]:
    """Four parts; of a document with faults the first of them, as it stands beside the work."""
    fault = error.faults[0] if error.faults else {}
    more = f"and {len(error.faults) - 1} more" if error.faults[1:] else error.how_much
    return {
        "what": said(str(fault.get("what") or error.what)),
        "where": error.where if not fault else "",
        "how_much": said(more),
        "what_to_do": said(str(fault.get("remedy") or error.what_to_do)),
    }


def _as_read(request: Request) -> Callable[[str], str]:
    """Words of the library with the lengths in them as the reader likes them."""
    inches = reads_inches(preferences(request), opened(request).history.documents)
    return partial(as_read, inches=inches)


async def pieces(request: Request) -> Response:
    """The pieces and their edges in words, for whoever does not point."""
    fields = {**board_fields(request, request.query_params), "window": ""}
    pending = pending_in(request.query_params)
    job = ChangedBoardOf(**fields, pending=pending) if pending else LaidBoardOf(**fields)
    laid: LaidBoard = await ask(job)
    return fragment(request, "_pieces.html", board=laid.board, pending=laid.pending)


async def sizes(request: Request) -> Response:
    """The cutting lines of every size, one line of data for each size as it is drafted."""
    job = SizesOf(
        shown_in(request),
        dict(opened(request).history.documents),
        window_of(request),
        pending_in(request.query_params),
    )

    async def lines() -> AsyncIterator[bytes]:
        try:
            async for told in follow(job):
                if told.data and not told.ended:
                    size, outlines = told.data
                    yield f"{json.dumps({'size': size, 'pieces': outlines})}\n".encode()
        except Superseded:
            return

    return StreamingResponse(lines(), media_type="application/x-ndjson")


async def findings(request: Request) -> Response:
    """The findings of what is shown, to be marked on the board; numbers are those of Check."""
    shown, documents = shown_in(request), dict(opened(request).history.documents)
    found = await ask(FindingsOf(shown, documents, pending=pending_in(request.query_params)))
    said = _as_read(request)
    numbered = numbered_findings(found.findings, shown.size)
    number = {id_: each.number for each in numbered for id_ in each.ids}
    told = [
        asdict(each)
        | {"number": number[each.id], "message": said(each.message), "remedy": said(each.remedy)}
        for each in found.findings
    ]
    return JSONResponse({"findings": told})


async def tape(request: Request) -> Response:
    """What a tape says from one place to another."""
    fields = request.query_params
    job = TapeOf(
        shown_in(request),
        dict(opened(request).history.documents),
        fields.get("piece", "")[:200],
        pair_in(fields.get("from", "")),
        pair_in(fields.get("to", "")),
        pair_in(f"{fields.get('reach_mm', '8')},0")[0],
        unit_liked(request),
        pending_in(fields),
    )
    return JSONResponse({"words": await ask(job)})


ROUTES = [
    Route("/d/{design}/board", board),
    Route("/d/{design}/pieces", pieces),
    Route("/d/{design}/sizes", sizes),
    Route("/d/{design}/board/findings", findings),
    Route("/d/{design}/board/tidy", tidy, methods=["POST"]),
    Route("/d/{design}/tape", tape),
]
