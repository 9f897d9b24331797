"""The Draft room: its page, changes of the design, and pointing at the pieces.

A change is drafted in a worker while it is being kept; one after which there would be no
pattern is refused, and nothing is changed.
"""

from __future__ import annotations

import asyncio
import json
from dataclasses import replace
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from clothwise.app.design_folder import OPTION
from clothwise.app.jobs.consequences import ConsequencesOf
from clothwise.app.jobs.draft_room import (
    DRAFTED,
    ChangedBoardOf,
    EditFormOf,
    LaidBoard,
    Overview,
    OverviewOf,
    Pending,
    PointedAt,
    PointOf,
)
from clothwise.app.jobs.refusing import RefusingSizesOf
from clothwise.app.pages import after_commit, fragment, opened, page
from clothwise.app.rooms import draft_board
from clothwise.app.rooms.draft_board import told_board
from clothwise.app.rooms.draft_fields import (
    MOST_LETTERS,
    board_fields,
    command_in,
    form_fields,
    pending_in,
    shown_in,
    unit_liked,
    unreadable,
    window_of,
)
from clothwise.app.rooms.history import lines_of
from clothwise.app.rooms.of_make import has_own_measurements
from clothwise.app.work import Shown, ask, begin, follow
from clothwise.app.work.events import publish
from clothwise.app.work.job import Told
from clothwise.errors import CommandError
from clothwise.pattern.commands import Command, command_from_data
from clothwise.pattern.history import Entry

__all__ = ["ROUTES"]

HISTORY_SHOWN = 14
"""Entries beside the board; the History page has them all."""


async def room(request: Request) -> Response:
    """Show the room; the board comes a moment later, by itself."""
    shown = shown_in(request)
    made_otherwise = _made_otherwise(request, shown)
    over = await _overview(request, shown)
    if not shown.view and not shown.choices and over.views:
        shown = Shown(shown.design, shown.version, shown.size, next(iter(over.views)))
        over = await _overview(request, shown)
    return page(
        request,
        "draft.html",
        shown=shown,
        over=over,
        made_otherwise=made_otherwise,
        history_lines=_history(request),
        board_tools=TOOLS,
        tools_without=WITHOUT,
    )


def _made_otherwise(request: Request, shown: Shown) -> tuple[str, str] | None:
    """A make that leads here and is for measurements of its own, which the board does not show."""
    design = opened(request)
    choices = {f"{OPTION}{name}": choice for name, choice in shown.choices.items()}
    looks = {"view": shown.view, "size": shown.size, **choices}
    here = {name: value for name, value in looks.items() if value}
    return next(
        (
            (name, title)
            for name, title in design.make_titles.items()
            if here == design.make_looks(name) and has_own_measurements(design, name)
        ),
        None,
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
    "pocket": (
        "Pocket",
        "Drag a pocket, whose line is heavier now, to its place on the piece that it lies on.",
    ),
}
"""What a hand can do on the board, with the words that say how."""

WITHOUT = {
    "pocket": (
        ".movable",
        "No pocket on these pieces can be dragged. To get one, choose Pockets under Add a "
        "component.",
    ),
}
"""What a tool needs on the board, as its script finds it, and the words where there is none."""


async def _overview(request: Request, shown: Shown, *, with_edits: bool = False) -> Overview:
    documents = dict(opened(request).history.documents)
    found: Overview = await ask(OverviewOf(shown, documents, with_edits, unit_liked(request)))
    return found


def _history(request: Request) -> list[Any]:
    return lines_of(opened(request).history)[:HISTORY_SHOWN]


# Changes


async def commands(request: Request) -> Response:
    """Make a change, or with `preview` only show what it would do.

    Fields: `command`, a change as data; `base`; what the page looks at; `before`, the version of
    the board that it shows: then the answer is the board as data. `pending`, a change that waits
    for a yes: the board shows it on top, and it is not kept; with it a preview needs no `command`.
    """
    async with request.form(max_part_size=MOST_LETTERS) as form:
        fields = form_fields(form)
    pending = pending_in(fields)
    if fields.get("preview"):
        is_there = "command" in fields or not pending
        tried = (command_in(fields.get("command", "")).to_data(),) if is_there else ()
        shown_only = ChangedBoardOf(
            **board_fields(request, fields),
            commands=tried,
            pending=pending,
            moves_apart=not is_there,
        )
        return JSONResponse(await told_board(request, await ask(shown_only), keep=False))
    sent = command_in(fields.get("command", ""))
    job = ChangedBoardOf(
        **board_fields(request, fields), commands=(sent.to_data(),), pending=pending
    )
    laid, entry = await _kept(request, job, sent, fields.get("base", ""))
    drawn_from = job.shown.version
    with_board = "before" in fields
    return await _changed_answer(request, laid, entry, drawn_from, with_board=with_board)


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
    data = await told_board(request, laid, keep=laid.pending is None)
    head = opened(request).history.head
    behind = entry.parent != drawn_from or entry.id != head
    answer = {**data, "head": head, "words": entry.words, "behind": behind}
    return JSONResponse(answer, headers=headers)


async def refusing(request: Request) -> Response:
    """Say in which sizes what waits for a yes cannot be made; empty words for none."""
    async with request.form(max_part_size=MOST_LETTERS) as form:
        fields = form_fields(form)
    documents = dict(opened(request).history.documents)
    job = RefusingSizesOf(
        shown_in(request, fields),
        documents,
        pending_in(fields),
        unit_liked(request),
        window_of(request),
    )
    return JSONResponse({"words": await ask(job)})


async def point(request: Request) -> Response:
    """Find what a gesture means; show it, or with `stage` done make the change.

    A split is only shown: its form is filled in and waits for a yes.
    """
    async with request.form(max_part_size=MOST_LETTERS) as form:
        fields = form_fields(form)
    try:
        gesture = json.loads(fields.get("gesture", ""))
        assert isinstance(gesture, dict)
    except (ValueError, AssertionError):
        raise unreadable("what was pointed at") from None
    is_still = fields.get("stage") == "done" or gesture.get("what") == "split"
    job = PointOf(**board_fields(request, fields), gesture=gesture, moves_apart=is_still)
    found: PointedAt = await ask(job)
    is_kept = fields.get("stage") == "done" and gesture.get("what") != "split"
    if not is_kept:
        data = await told_board(request, found.laid, keep=False)
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
    history, window = design.history, window_of(request)
    since = request.query_params.get("since", "")[:60]
    try:
        before = dict(history.at(since))
    except CommandError:
        return Response(status_code=204)
    job = ConsequencesOf(
        shown_in(request),
        before,
        dict(history.documents),
        unit=unit_liked(request),
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
    found = await ask(EditFormOf(shown_in(request), documents, kind, values, unit_liked(request)))
    return fragment(request, "_edit_form.html", edit=found, proposed=bool(fields.get("proposed")))


async def history_beside(request: Request) -> Response:
    """The latest entries of the history."""
    return fragment(request, "_draft_history.html", history_lines=_history(request))


ROUTES = [
    Route("/d/{design}/draft", room),
    *draft_board.ROUTES,
    Route("/d/{design}/commands", commands, methods=["POST"]),
    Route("/d/{design}/refusing", refusing, methods=["POST"]),
    Route("/d/{design}/point", point, methods=["POST"]),
    Route("/d/{design}/consequence", consequence),
    Route("/d/{design}/edits", edits),
    Route("/d/{design}/edits/new", edit_form),
    Route("/d/{design}/draft/history", history_beside),
]
