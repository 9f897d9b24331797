"""What was done to a design, as a list to read; undo, redo, and back to any state of it."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, RedirectResponse, Response
from starlette.routing import Route

from clothwise.app.opening import OpenDesign
from clothwise.app.pages import address, after_commit, fragment, opened, page, wants_json
from clothwise.pattern.history import Entry, History

__all__ = ["ROUTES", "Line", "lines_of"]


@dataclass(frozen=True)
class Line:
    """One line of the list: an entry, and when it was made, in words."""

    entry: Entry
    when: str
    is_head: bool = False


def lines_of(kept: History) -> list[Line]:
    """Return the entries on the way to the head, the latest first."""
    return [Line(each, _when(each), each.id == kept.head) for each in reversed(kept.entries)]


async def history(request: Request) -> Response:
    """Show the whole list, the latest first."""
    kept = opened(request).history
    done = lines_of(kept)
    on_the_way = {line.entry.id for line in done} | {each.id for each in kept.undone}
    undone = [Line(each, _when(each)) for each in kept.undone]
    beside = [
        Line(each, _when(each)) for each in reversed(kept.all_entries) if each.id not in on_the_way
    ]
    if wants_json(request):
        return JSONResponse(
            {
                "head": kept.head,
                "entries": [_data(each) for each in kept.entries],
                "undone": [_data(each) for each in kept.undone],
            }
        )
    return page(request, "history.html", done=done, undone=undone[::-1], beside=beside)


async def steps(request: Request) -> Response:
    """Show undo and redo with the words of what they would do."""
    opened(request)
    return fragment(request, "_steps.html")


async def undo(request: Request) -> Response:
    """Take back the last change."""
    return await _stepped(request, History.undo, "Undone")


async def redo(request: Request) -> Response:
    """Do again what was undone last."""
    return await _stepped(request, History.redo, "Done again")


async def back_to(request: Request) -> Response:
    """Go back to an older state, by a step that can be undone."""
    design = opened(request)
    entry = await run_in_threadpool(design.history.back_to, request.path_params["entry"])
    return _answered(request, design, entry, after_commit(request, entry))


async def _stepped(request: Request, step: Callable[..., Entry], verb: str) -> Response:
    design = opened(request)
    async with request.form() as form:
        base = str(form.get("base", ""))
    entry = await run_in_threadpool(step, design.history, base=base)
    headers = after_commit(request, entry)
    event = json.loads(headers["HX-Trigger"])
    event["cw:changed"] |= {"words": f"{verb}: {entry.words}", "step": True}
    return _answered(request, design, entry, {**headers, "HX-Trigger": json.dumps(event)})


def _answered(
    request: Request, design: OpenDesign, entry: Entry, headers: dict[str, str]
) -> Response:
    if wants_json(request):
        return JSONResponse({"head": design.history.head, "words": entry.words})
    if "HX-Request" in request.headers:
        return Response(status_code=204, headers=headers)
    here = address("d", design.name)
    wanted = request.query_params.get("next", "")
    there = wanted if wanted.startswith(f"{here}/") else f"{here}/history"
    return RedirectResponse(there, 303)


def _data(entry: Entry) -> dict[str, str]:
    return {"id": entry.id, "at": entry.at, "words": entry.words, "kind": entry.kind}


def _when(entry: Entry) -> str:
    """Return the time of an entry in the computer's own time, to the minute."""
    at = datetime.strptime(entry.at, "%Y-%m-%dT%H:%M:%SZ").replace(tzinfo=UTC).astimezone()
    day = "today" if at.date() == datetime.now().astimezone().date() else f"{at:%B} {at.day}"
    return f"{day}, {at:%H:%M}"


ROUTES = [
    Route("/d/{design}/history", history),
    Route("/d/{design}/steps", steps),
    Route("/d/{design}/undo", undo, methods=["POST"]),
    Route("/d/{design}/redo", redo, methods=["POST"]),
    Route("/d/{design}/back-to/{entry}", back_to, methods=["POST"]),
]
