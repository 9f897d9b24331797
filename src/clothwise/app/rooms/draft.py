"""The Draft room: the pieces on the board, what they are made from, and pointing at them.

The board travels as data: the pieces that look different from what a page shows, and where new
ones lie. A change is drafted in a worker while it is being kept; one after which there would be no
pattern is refused, and nothing is changed.
"""

from __future__ import annotations

import asyncio
import json
from collections.abc import AsyncIterator, Mapping
from dataclasses import asdict, replace
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import JSONResponse, Response, StreamingResponse
from starlette.routing import Route

from clothwise.app.board_places import keep_places, kept_places
from clothwise.app.jobs.board import Board
from clothwise.app.jobs.consequences import ConsequencesOf
from clothwise.app.jobs.draft_room import (
    DRAFTED,
    ChangedBoardOf,
    EditFormOf,
    LaidBoard,
    LaidBoardOf,
    Overview,
    OverviewOf,
    Pending,
    PointedAt,
    PointOf,
    SizesOf,
    TapeOf,
)
from clothwise.app.jobs.findings import FindingsOf
from clothwise.app.jobs.refusing import RefusingSizesOf
from clothwise.app.pages import after_commit, fragment, opened, page, preferences, shop
from clothwise.app.rooms.history import lines_of
from clothwise.app.work import JobRefused, Shown, Superseded, ask, begin, follow
from clothwise.app.work.events import publish
from clothwise.app.work.job import Told
from clothwise.errors import CommandError, Misuse
from clothwise.pattern.commands import Command, command_from_data
from clothwise.pattern.history import Entry

__all__ = ["ROUTES", "shown_in"]

MOST_LETTERS = 20_000
"""Of what a page sends for a change."""

HISTORY_SHOWN = 14
"""Entries beside the board; the History page has them all."""

OPTION = "o."
"""Begins the names of fields that choose for an option of the design."""


def shown_in(request: Request, fields: Mapping[str, Any] | None = None) -> Shown:
    """What a page looks at: view, size and choices, from its address or from a form."""
    found = fields if fields is not None else request.query_params
    design = opened(request)
    choices = {
        key.removeprefix(OPTION): str(value)
        for key, value in found.items()
        if key.startswith(OPTION) and value
    }
    return Shown(
        design.name,
        design.history.head,
        size=str(found.get("size", ""))[:60],
        view=str(found.get("view", ""))[:60],
        choices=choices,
    )


async def room(request: Request) -> Response:
    """Show the room; the board comes a moment later, by itself."""
    shown = shown_in(request)
    over = await _overview(request, shown)
    if not shown.view and not shown.choices and over.views:
        shown = Shown(shown.design, shown.version, shown.size, next(iter(over.views)))
        over = await _overview(request, shown)
    return page(
        request,
        "draft.html",
        shown=shown,
        over=over,
        history_lines=_history(request),
        board_tools=TOOLS,
    )


TOOLS = {
    "look": (
        "Look",
        "Drag to move the board, turn the wheel to come closer. Click a line or a piece.",
    ),
    "tape": (
        "Tape",
        "Click from where to where it measures, or drag. Near a line it holds to the line.",
    ),
    "split": (
        "Split",
        "Click where the line begins and where it ends, or drag it: from edge to edge of a piece, "
        "or to the point of a dart. Escape lets go of it.",
    ),
    "shape": ("Shape", "Click an edge, then drag one of its rings, or slide one of its ends."),
    "dart": (
        "Dart",
        "Drag the open ring to swing a dart about its point, the full dot to make it longer.",
    ),
    "pocket": ("Pocket", "Drag a pocket to its place on the piece that it lies on."),
}
"""What a hand can do on the board, with the words that say how."""


async def _overview(request: Request, shown: Shown, *, with_edits: bool = False) -> Overview:
    documents = dict(opened(request).history.documents)
    found: Overview = await ask(OverviewOf(shown, documents, with_edits, _unit(request)))
    return found


def _unit(request: Request) -> str:
    """The unit that is liked; empty for that of the design."""
    unit = preferences(request).length_unit
    return unit.value if unit else ""


def _history(request: Request) -> list[Any]:
    return lines_of(opened(request).history)[:HISTORY_SHOWN]


# The board


async def board(request: Request) -> Response:
    """What lies on the board, as far as the page does not show it yet."""
    job = LaidBoardOf(**_board_fields(request, request.query_params))
    return await _board_answer(request, await ask(job))


async def tidy(request: Request) -> Response:
    """Lay the pieces out anew, clear of each other."""
    async with request.form(max_part_size=MOST_LETTERS) as form:
        fields = _board_fields(request, _fields(form))
    laid: LaidBoard = await ask(LaidBoardOf(**{**fields, "kept": {}}))
    return await _board_answer(request, laid)


def _board_fields(request: Request, fields: Mapping[str, Any]) -> dict[str, Any]:
    design = opened(request)
    return {
        "shown": shown_in(request, fields),
        "documents": dict(design.history.documents),
        "before_version": str(fields.get("before", ""))[:40],
        "unit": _unit(request),
        "window": _window(request),
        "kept": kept_places(shop(request).workspace.own, design.name),
    }


def _window(request: Request) -> str:
    return request.headers.get("X-Clothwise-Window", "")[:40]


async def _board_answer(request: Request, laid: LaidBoard, **more: Any) -> Response:
    return JSONResponse({**await _board_data(request, laid), **more})


async def _board_data(request: Request, laid: LaidBoard, *, keep: bool = True) -> dict[str, Any]:
    if keep and laid.board.pieces:
        own, name = shop(request).workspace.own, opened(request).name
        await run_in_threadpool(keep_places, own, name, laid.places)
    return board_data(laid)


def board_data(laid: LaidBoard) -> dict[str, Any]:
    """A board as data for a page: only what looks different from what it shows.

    `pending`: what is told of a change that waits for a yes, if the board shows one.
    """
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
        "lost": [{"message": each.message, "remedy": each.remedy} for each in found.findings],
        "refused": _told(refused) if refused else None,
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


def _told(error: JobRefused) -> dict[str, str]:
    """Four parts; of a document with faults the first of them, as it stands beside the work."""
    fault = error.faults[0] if error.faults else {}
    return {
        "what": str(fault.get("what") or error.what),
        "where": error.where if not fault else "",
        "how_much": f"and {len(error.faults) - 1} more" if error.faults[1:] else error.how_much,
        "what_to_do": str(fault.get("remedy") or error.what_to_do),
    }


async def pieces(request: Request) -> Response:
    """The pieces and their edges in words, for whoever does not point."""
    job = LaidBoardOf(**{**_board_fields(request, request.query_params), "window": ""})
    laid: LaidBoard = await ask(job)
    titles = {name: piece.title for name, piece in laid.board.pieces.items()}
    return fragment(request, "_pieces.html", board=laid.board, titles=titles)


async def sizes(request: Request) -> Response:
    """The cutting lines of every size, one line of data for each size as it is drafted."""
    job = SizesOf(shown_in(request), dict(opened(request).history.documents), _window(request))

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
    """The findings of what is shown, to be marked on the board."""
    shown, documents = shown_in(request), dict(opened(request).history.documents)
    found = await ask(FindingsOf(shown, documents))
    return JSONResponse({"findings": [asdict(each) for each in found.findings]})


async def tape(request: Request) -> Response:
    """What a tape says from one place to another."""
    fields = request.query_params
    job = TapeOf(
        shown_in(request),
        dict(opened(request).history.documents),
        fields.get("piece", "")[:200],
        _pair(fields.get("from", "")),
        _pair(fields.get("to", "")),
        _pair(f"{fields.get('reach_mm', '8')},0")[0],
        _unit(request),
        _pending(fields),
    )
    return JSONResponse({"words": await ask(job)})


def _pair(text: str) -> tuple[float, float]:
    try:
        x, y = (float(each) for each in text[:60].split(","))
    except ValueError:
        raise _unreadable("a place on a piece") from None
    if not (abs(x) < 1e5 and abs(y) < 1e5):
        raise _unreadable("a place on a piece")
    return x, y


def _unreadable(what: str) -> Misuse:
    return Misuse(
        f"{what} was sent that cannot be read", what_to_do="Load the page anew and try again."
    )


# Changes


async def commands(request: Request) -> Response:
    """Make a change, or with `preview` only show what it would do.

    Fields: `command`, a change as data; `base`; what the page looks at; `before`, the version of
    the board that it shows: then the answer is the board as data. `pending`, a change that waits
    for a yes: the board shows it on top, and it is not kept; with it a preview needs no `command`.
    """
    async with request.form(max_part_size=MOST_LETTERS) as form:
        fields = _fields(form)
    pending = _pending(fields)
    if fields.get("preview"):
        is_there = "command" in fields or not pending
        tried = (_sent(fields.get("command", "")).to_data(),) if is_there else ()
        shown_only = ChangedBoardOf(
            **_board_fields(request, fields),
            commands=tried,
            pending=pending,
            moves_apart=not is_there,
        )
        return JSONResponse(await _board_data(request, await ask(shown_only), keep=False))
    sent = _sent(fields.get("command", ""))
    job = ChangedBoardOf(
        **_board_fields(request, fields), commands=(sent.to_data(),), pending=pending
    )
    laid, entry = await _kept(request, job, sent, fields.get("base", ""))
    drawn_from = job.shown.version
    with_board = "before" in fields
    return await _changed_answer(request, laid, entry, drawn_from, with_board=with_board)


def _pending(fields: Mapping[str, str]) -> dict[str, Any]:
    """A change that waits for a yes, as data; empty for none."""
    text = fields.get("pending", "")
    return dict(_sent(text[:MOST_LETTERS]).to_data()) if text else {}


def _fields(form: FormData) -> dict[str, str]:
    return {key: value for key, value in form.items() if isinstance(value, str)}


def _sent(text: str) -> Command:
    try:
        data = json.loads(text)
    except ValueError:
        raise _unreadable("a change") from None
    return command_from_data(data)


async def _kept(
    request: Request, job: ChangedBoardOf, command: Command, base: str
) -> tuple[LaidBoard, Entry]:
    """Keep a change as soon as it is known to give a pattern, while that is still being drawn.

    Raises:
        JobRefused: there would be no pattern after it, and there was one before.
        Conflict, CommandError, DocumentError: as the history.
    """
    keeping: asyncio.Task[Entry] | None = None
    laid: LaidBoard | None = None
    history = opened(request).history

    def keep() -> asyncio.Task[Entry]:
        return asyncio.create_task(run_in_threadpool(history.commit, base, command))

    async for told in follow(job):
        if told.message == DRAFTED and keeping is None:
            keeping = keep()
        if told.ended:
            laid = told.data
    assert laid is not None
    if keeping is None:
        if laid.board.refused is not None and not laid.was_refused:
            raise laid.board.refused
        keeping = keep()
    return laid, await keeping


async def _changed_answer(
    request: Request, laid: LaidBoard, entry: Entry, drawn_from: str, *, with_board: bool
) -> Response:
    """The board after a change; `behind` if another window changed something while it was drawn."""
    headers = after_commit(request, entry)
    if not with_board:
        return Response(status_code=204, headers=headers)
    data = await _board_data(request, laid, keep=laid.pending is None)
    head = opened(request).history.head
    behind = entry.parent != drawn_from or entry.id != head
    answer = {**data, "head": head, "words": entry.words, "behind": behind}
    return JSONResponse(answer, headers=headers)


async def refusing(request: Request) -> Response:
    """Say in which sizes what waits for a yes cannot be made; empty words for none."""
    async with request.form(max_part_size=MOST_LETTERS) as form:
        fields = _fields(form)
    documents = dict(opened(request).history.documents)
    job = RefusingSizesOf(
        shown_in(request, fields), documents, _pending(fields), _unit(request), _window(request)
    )
    return JSONResponse({"words": await ask(job)})


async def point(request: Request) -> Response:
    """Find what a gesture means; show it, or with `stage` done make the change.

    A split is only shown: its form is filled in and waits for a yes.
    """
    async with request.form(max_part_size=MOST_LETTERS) as form:
        fields = _fields(form)
    try:
        gesture = json.loads(fields.get("gesture", ""))
        assert isinstance(gesture, dict)
    except (ValueError, AssertionError):
        raise _unreadable("what was pointed at") from None
    is_still = fields.get("stage") == "done" or gesture.get("what") == "split"
    job = PointOf(**_board_fields(request, fields), gesture=gesture, moves_apart=is_still)
    found: PointedAt = await ask(job)
    is_kept = fields.get("stage") == "done" and gesture.get("what") != "split"
    if not is_kept:
        data = await _board_data(request, found.laid, keep=False)
        return JSONResponse({**data, "words": found.words, "command": found.command})
    _refuse_lost(found.laid.pending)
    if found.laid.board.refused is not None:
        raise found.laid.board.refused
    history, base = opened(request).history, fields.get("base", "")
    command = command_from_data(found.command)
    entry = await run_in_threadpool(history.commit, base, command)
    laid = replace(found.laid, pending=None)  # it is kept now
    return await _changed_answer(request, laid, entry, job.shown.version, with_board=True)


def _refuse_lost(pending: Pending | None) -> None:
    if pending and pending.lost[0]:
        what, what_to_do = pending.lost
        raise CommandError(f"it cannot be done there: {what}", what_to_do=what_to_do)


async def consequence(request: Request) -> Response:
    """Work out what a change did; told by the event `consequence`, with cloth a moment later."""
    design = opened(request)
    history, window = design.history, _window(request)
    since = request.query_params.get("since", "")[:60]
    try:
        before = dict(history.at(since))
    except CommandError:
        return Response(status_code=204)
    job = ConsequencesOf(
        shown_in(request),
        before,
        dict(history.documents),
        unit=_unit(request),
        window=window,
    )

    def told(said: Told) -> None:
        if said.data is not None:
            data = {"line": said.data.line, "ended": said.ended}
            publish(design.name, "consequence", json.dumps(data), window)

    begin(job, told)
    return Response(status_code=204)


# Edits and history beside the board


async def edits(request: Request) -> Response:
    """The edits of the design, each with its form."""
    over = await _overview(request, shown_in(request), with_edits=True)
    return fragment(request, "_edits.html", over=over)


async def edit_form(request: Request) -> Response:
    """The form of a new edit, with what is filled in already."""
    fields = request.query_params
    kind = fields.get("edit", "split")[:60]
    values = {
        key.removeprefix("p."): value[:400]
        for key, value in fields.items()
        if key.startswith("p.") and value
    }
    documents = dict(opened(request).history.documents)
    found = await ask(EditFormOf(shown_in(request), documents, kind, values, _unit(request)))
    return fragment(request, "_edit_form.html", edit=found, proposed=bool(fields.get("proposed")))


async def history_beside(request: Request) -> Response:
    """The latest entries of the history."""
    return fragment(request, "_draft_history.html", history_lines=_history(request))


ROUTES = [
    Route("/d/{design}/draft", room),
    Route("/d/{design}/board", board),
    Route("/d/{design}/pieces", pieces),
    Route("/d/{design}/sizes", sizes),
    Route("/d/{design}/board/findings", findings),
    Route("/d/{design}/board/tidy", tidy, methods=["POST"]),
    Route("/d/{design}/tape", tape),
    Route("/d/{design}/commands", commands, methods=["POST"]),
    Route("/d/{design}/refusing", refusing, methods=["POST"]),
    Route("/d/{design}/point", point, methods=["POST"]),
    Route("/d/{design}/consequence", consequence),
    Route("/d/{design}/edits", edits),
    Route("/d/{design}/edits/new", edit_form),
    Route("/d/{design}/draft/history", history_beside),
]
