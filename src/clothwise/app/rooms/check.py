"""The checking room: findings with their places on the board, and seams walked as on paper."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import asdict
from typing import Any
from urllib.parse import quote, urlencode

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from clothwise.app.board_places import kept_places
from clothwise.app.jobs.check import CheckFrame, CheckFrameOf, WalkOf, WalkShown
from clothwise.app.jobs.draft_room import LaidBoard, LaidBoardOf
from clothwise.app.jobs.findings import Findings, FindingsOf, Found
from clothwise.app.numbered_findings import Numbered, numbered_findings
from clothwise.app.pages import (
    address,
    fragment,
    opened,
    page,
    preferences,
    shop,
    told_of,
    wants_json,
)
from clothwise.app.rooms.check_ranges import RangeCheck, range_checks
from clothwise.app.rooms.draft_board import board_data
from clothwise.app.work import Shown, ask
from clothwise.errors import Misuse

__all__ = ["ROUTES"]

MAKE, VIEW = "make:", "view:"
"""Begin what is chosen to be checked: `make:view-a`, `view:A`."""

KINDS: Mapping[str, str] = {"error": "errors", "warning": "warnings", "note": "notes"}
"""Severities, with the words for several of them."""

_FARTHEST_STOP = 10_000


async def room(request: Request) -> Response:
    """Show the room; board and findings come a moment later, by themselves."""
    shown, frame = await _shown(request)
    return page(
        request,
        "check.html",
        shown=shown,
        frame=frame,
        chosen=_chosen(shown),
        subjects=_subjects(request, frame),
        kinds=KINDS,
        scope="range" if _of_range(request) else "shown",
        **_addresses(request, shown),
    )


async def findings(request: Request) -> Response:
    """The list of findings, of what is shown or of every view in every size.

    A script waits for all of them. A page begins the check of the whole range, shows what there is
    so far, and asks again.
    """
    shown, frame = await _shown(request)
    if _of_range(request) and not wants_json(request):
        return _list(request, shown, frame, _begun(request, anew=False))
    job = FindingsOf(shown, dict(opened(request).history.documents), _of_range(request))
    found: Findings = await ask(job)
    if wants_json(request):
        numbered = numbered_findings(found.findings, frame.size)
        return JSONResponse({"findings": [_data(each) for each in numbered]})
    return _list(request, shown, frame, found)


async def check_range(request: Request) -> Response:
    """Check every view in every size once more, or after it was stopped."""
    return _range_answered(request, _begun(request, anew=True))


async def stop_range(request: Request) -> Response:
    """Stop that; what was found so far is kept, and of how many garments."""
    design = opened(request)
    range_checks().cancel(design.name)
    found = range_checks().latest(design.name, design.history.head)
    return _range_answered(request, found or RangeCheck("", "", is_running=False))


def _range_answered(request: Request, found: RangeCheck) -> Response:
    """How far it is, for a script; a page is told to ask for the list anew."""
    if wants_json(request):
        return JSONResponse(_range_data(found, _refused(request, found)))
    return Response(status_code=204, headers={"HX-Trigger": json.dumps({"cw:range": {}})})


def _refused(request: Request, found: RangeCheck) -> dict[str, Any] | None:
    return told_of(request, found.error) if found.error else None


def _of_range(request: Request) -> bool:
    return request.query_params.get("scope") == "range"


def _begun(request: Request, *, anew: bool) -> RangeCheck:
    """The check of this state of the design, begun if there is none, or if it is wanted anew."""
    design = opened(request)
    head, documents = design.history.head, dict(design.history.documents)
    found = range_checks().latest(design.name, head)
    if found is None or (anew and not found.is_running):
        # What is chosen on the page does not matter to it, so that equal ones are known as such.
        job = FindingsOf(Shown(design.name, head), documents, whole_range=True)
        range_checks().begin(design.name, head, job)
        found = range_checks().latest(design.name, head)
    return found or RangeCheck("", head)


def _list(
    request: Request, shown: Shown, frame: CheckFrame, checked: Findings | RangeCheck
) -> Response:
    numbered = numbered_findings(checked.findings, frame.size)
    range_check = checked if isinstance(checked, RangeCheck) else None
    kinds = set(request.query_params.getlist("kind")) & set(KINDS) or set(KINDS)
    piece = request.query_params.get("piece", "")
    seen = [
        each
        for each in numbered
        if each.finding.severity in kinds and piece in ("", each.finding.piece)
    ]
    return fragment(
        request,
        "_check_findings.html",
        shown=shown,
        frame=frame,
        found=seen,
        hidden=len(numbered) - len(seen),
        counts={kind: sum(each.finding.severity == kind for each in numbered) for kind in KINDS},
        whole=range_check is not None,
        range=range_check,
        refused=_refused(request, range_check) if range_check else None,
        checked=checked.done,
        walkable={seam.name for seam in frame.seams},
        kinds=KINDS,
        **_addresses(request, shown),
    )


async def explain(request: Request) -> Response:
    """What a code of a finding means."""
    from clothwise.checks.explanations import explanation

    found = explanation(request.path_params["code"])
    if wants_json(request):
        return JSONResponse(asdict(found))
    return fragment(request, "_check_explanation.html", explained=found)


async def board(request: Request) -> Response:
    """What lies on the board, as far as the page does not show it yet."""
    shown = _asked(request)
    design = opened(request)
    places = kept_places(shop(request).workspace.own, design.name)
    job = LaidBoardOf(
        shown=shown,
        documents=dict(design.history.documents),
        before_version=request.query_params.get("before", "")[:40],
        unit=_unit(request),
        kept=places.shown,
        homes=places.homes,
    )
    laid: LaidBoard = await ask(job)
    return JSONResponse(board_data(request, laid))


async def walk(request: Request) -> Response:
    """A seam walked: both papers laid along each other at a stop."""
    shown, frame = await _shown(request)
    walk: WalkShown | None = None
    seam = request.query_params.get("seam", "")[:200] or next(
        (each.name for each in frame.seams), ""
    )
    if seam and frame.refused is None:
        walk = await ask(
            WalkOf(
                shown,
                dict(opened(request).history.documents),
                seam,
                _number(request, "layer", 1),
                _number(request, "at", 0),
                _unit(request),
            )
        )
    if wants_json(request):
        return JSONResponse(_walk_data(walk) if walk else {})
    data = {"walk": walk, "frame": frame, **_addresses(request, shown)}
    if "HX-Request" in request.headers:
        return fragment(request, "_check_walk.html", **data)
    return page(
        request,
        "check_walk.html",
        shown=shown,
        room="check",
        chosen=_chosen(shown),
        subjects=_subjects(request, frame),
        **data,
    )


# What is asked for


async def _shown(request: Request) -> tuple[Shown, CheckFrame]:
    """What is looked at, and what there is; without a choice the first view."""
    shown = _asked(request)
    documents = dict(opened(request).history.documents)
    frame: CheckFrame = await ask(CheckFrameOf(shown, documents))
    if not (shown.view or shown.make) and frame.views:
        shown = Shown(shown.design, shown.version, shown.size, next(iter(frame.views)))
        frame = await ask(CheckFrameOf(shown, documents))
    return shown, frame


def _asked(request: Request) -> Shown:
    design = opened(request)
    fields = request.query_params
    subject = fields.get("of", "")[:100]
    view = subject.removeprefix(VIEW) if subject.startswith(VIEW) else fields.get("view", "")[:60]
    make = subject.removeprefix(MAKE) if subject.startswith(MAKE) else fields.get("make", "")[:60]
    size = fields.get("size", "")[:60]
    if make:
        return Shown(design.name, design.history.head, make=design.make_document(make))
    return Shown(design.name, design.history.head, size=size, view=view)


def _number(request: Request, name: str, usual: int) -> int:
    text = request.query_params.get(name, "")
    if not text:
        return usual
    if not (text.isascii() and text.isdigit() and int(text[:6]) <= _FARTHEST_STOP):
        raise Misuse(
            f"{name} is no number of a stop or layer",
            how_much=text[:20],
            what_to_do="Leave it out to begin at the start of the seam.",
        )
    return int(text)


def _unit(request: Request) -> str:
    unit = preferences(request).length_unit
    return unit.value if unit else ""


# What templates and scripts get


def _data(each: Numbered) -> dict[str, Any]:
    return asdict(
        Found(number=each.number, sizes=each.sizes, garments=each.garments, **asdict(each.finding))
    )


def _range_data(found: RangeCheck, refused: dict[str, Any] | None) -> dict[str, Any]:
    return {
        "running": found.is_running,
        "stopped": found.was_stopped,
        "done": found.done,
        "total": found.total,
        "message": found.message,
        "error": refused,
    }


def _walk_data(walk: WalkShown) -> dict[str, Any]:
    return {
        "seam": walk.seam,
        "title": walk.title,
        "sides": list(walk.sides),
        "summary": walk.summary,
        "is_off": walk.is_off,
        "stops": [
            {"kind": stop.kind, "title": stop.title, "words": stop.words, "is_off": stop.is_off}
            for stop in walk.stops
        ],
    }


def _chosen(shown: Shown) -> str:
    """What is checked, as the list of subjects writes it."""
    if shown.make:
        return f"{MAKE}{shown.make.rpartition('/')[2].removesuffix('.yaml')}"
    return f"{VIEW}{shown.view}"


def _subjects(request: Request, frame: CheckFrame) -> dict[str, dict[str, str]]:
    """What can be checked, in groups, with words for each as in Draft."""
    views = {f"{VIEW}{name}": f"{name}: {title}" for name, title in frame.views.items()}
    if not views:
        views = {VIEW: "the design as it is"}
    titles = opened(request).make_titles
    return {"Views": views, "Makes": {f"{MAKE}{name}": title for name, title in titles.items()}}


def _addresses(request: Request, shown: Shown) -> dict[str, Any]:
    design = opened(request).name
    looked_at = {"of": _chosen(shown)} | ({"size": shown.size} if shown.size else {})
    if _of_range(request):  # from the seams one comes back to every view in every size
        looked_at["scope"] = "range"
    draft = {"view": shown.view, "size": shown.size} if not shown.make else {}

    def to_mend(each: Numbered) -> str:
        """The place in Draft where a finding is mended, in a size in which it was found."""
        size = shown.size if shown.size in each.sizes or not each.sizes else each.sizes[0]
        query = f"?{urlencode({**draft, 'size': size})}" if draft else ""
        place = f"#{quote(each.finding.mend)}" if each.finding.mend else ""
        return f"{address('d', design, 'draft')}{query}{place}"

    return {
        "to_mend": to_mend,
        "to_check": address("d", design, "check"),
        "to_findings": address("d", design, "check", "findings"),
        "to_range": address("d", design, "check", "range"),
        "to_board": address("d", design, "check", "board"),
        "to_walk": address("d", design, "check", "walk"),
        "to_explain": address("d", design, "check", "explain"),
        "to_draft": address("d", design, "draft") + f"?{urlencode(draft)}" * bool(draft),
        "to_measure": address("d", design, "measure"),
        "to_whom": address("d", design, "m", looked_at["of"].removeprefix(MAKE), "for-whom")
        if shown.make
        else "",
        "looked_at": urlencode(looked_at),
        "whole_range": _of_range(request),
    }


_AT = "/d/{design}/check"
ROUTES: list[Route] = [
    Route(_AT, room),
    Route(f"{_AT}/findings", findings),
    Route(f"{_AT}/range", check_range, methods=["POST"]),
    Route(f"{_AT}/range/stop", stop_range, methods=["POST"]),
    Route(f"{_AT}/explain/{{code}}", explain),
    Route(f"{_AT}/board", board),
    Route(f"{_AT}/walk", walk),
]
