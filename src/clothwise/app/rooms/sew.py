"""The sew room: one step at a time, large, with its drawing; what is finished is checked off."""

from __future__ import annotations

from typing import Any

from starlette.requests import Request
from starlette.responses import JSONResponse, PlainTextResponse, Response
from starlette.routing import Route

from clothwise.app.attachments import saved_as
from clothwise.app.check_offs import CheckOffs
from clothwise.app.jobs.sew import ORDERS, OutlineOf, SewShown, StepsOf
from clothwise.app.pages import fragment, opened, page, shop, wants_json
from clothwise.app.rooms.of_make import addressed, asked, entry, makes_in, whole_number
from clothwise.app.work import Shown, ask

__all__ = ["ROUTES"]

SITTINGS = {30: "half an hour", 60: "an hour", 90: "an hour and a half", 180: "three hours"}
CHAPTERS = {20: "20 minutes", 40: "40 minutes", 60: "an hour", 90: "an hour and a half"}
_ORDER_WORDS = {
    "teaching": "part by part, as one learns it",
    "batched": "by place: machine, iron, hand",
}


async def _page(request: Request) -> Response:
    return page(
        request,
        "sew.html",
        shown=_shown(request),
        makes=makes_in(request, "sew"),
        to_work=addressed(request, "sew", "work"),
        query=request.url.query,
    )


async def _work(request: Request) -> Response:
    return await _answered(request, request.query_params.get("at", ""))


async def _done(request: Request) -> Response:
    """Check a step off and go on to the next one, or take that back; `at` stays where one is."""
    async with request.form() as form:
        key, is_done = str(form.get("step", ""))[:200], str(form.get("done", "yes")) == "yes"
        at = str(form.get("at", ""))[:200]
        seconds = whole_number(str(form.get("seconds", "")), 0, least=0, most=999_999)
    if key:
        _check_offs(request).check(key, is_done=is_done, seconds=seconds)
    stays = at or ("" if is_done else key)
    return await _answered(request, stays, after=key, finished=key if is_done and not at else "")


async def _anew(request: Request) -> Response:
    _check_offs(request).forget()
    return await _answered(request, "")


async def _answered(request: Request, at: str, after: str = "", finished: str = "") -> Response:
    order, sitting_min = _order(request), _sitting_min(request)
    check_offs = _check_offs(request)
    done = check_offs.done()
    job = StepsOf(
        **asked(request),
        order=order,
        sitting_min=sitting_min,
        at=at,
        after=after,
        done=tuple(done),
    )
    work: SewShown = await ask(job)
    if wants_json(request):
        return JSONResponse(_data(work, done))
    return fragment(
        request,
        "_sew_work.html",
        work=work,
        done=done,
        took={key: _spoken(seconds) for key, seconds in check_offs.took().items()},
        finished=next((step for step in work.steps if step.key == finished), None),
        order=order,
        orders=_ORDER_WORDS,
        sitting_min=str(sitting_min),
        sittings={str(key): words for key, words in SITTINGS.items()},
        **_around(work),
        **_addresses(request, order, sitting_min),
    )


async def _outline(request: Request) -> Response:
    chapter_min = whole_number(request.query_params.get("chapter", ""), 60, least=10, most=600)
    job = OutlineOf(**asked(request), order=_order(request), chapter_min=chapter_min)
    data, text = await ask(job)
    if request.url.path.endswith(".txt"):
        name = f"sew-along {opened(request).name} {request.path_params['make']}.txt"
        return PlainTextResponse(text, headers=saved_as(name))
    if wants_json(request):
        return JSONResponse(data)
    return page(
        request,
        "sew_outline.html",
        shown=_shown(request),
        room="sew",
        outline=data,
        chapter_min=str(chapter_min),
        chapters={str(key): words for key, words in CHAPTERS.items()},
        order=_order(request),
        to_sew=f"{addressed(request, 'sew')}?order={_order(request)}",
        to_outline=addressed(request, "sew", "outline"),
        to_text=f"{addressed(request, 'sew', 'outline.txt')}"
        f"?order={_order(request)}&chapter={chapter_min}",
    )


def _shown(request: Request) -> Shown:
    design = opened(request)
    make = design.make_document(request.path_params["make"])
    return Shown(design.name, design.history.head, make=make)


def _check_offs(request: Request) -> CheckOffs:
    design = opened(request)
    design.make_document(request.path_params["make"])  # refuses names that are none of its makes
    own = shop(request).workspace.own
    return CheckOffs(own, design.name, request.path_params["make"])


def _order(request: Request) -> str:
    wanted = request.query_params.get("order", "")
    return wanted if wanted in ORDERS else ORDERS[0]


def _sitting_min(request: Request) -> int:
    return whole_number(request.query_params.get("sitting", ""), 90, least=15, most=600)


def _spoken(seconds: int) -> str:
    """How long a step took, to the minute.

    >>> _spoken(20), _spoken(441), _spoken(3720)
    ('less than a minute', '7 min', '1 h 2 min')
    """
    minutes = round(seconds / 60)
    if not minutes:
        return "less than a minute"
    hours, rest = divmod(minutes, 60)
    parts = [f"{hours} h"] if hours else []
    return " ".join([*parts, f"{rest} min"] if rest or not hours else parts)


def _around(work: SewShown) -> dict[str, Any]:
    steps = work.steps
    place = next((n for n, step in enumerate(steps) if step.key == work.at), None)
    if place is None:
        return {"now": None, "before": None, "after": None}
    return {
        "now": steps[place],
        "before": steps[place - 1] if place else None,
        "after": steps[place + 1] if place + 1 < len(steps) else None,
    }


def _addresses(request: Request, order: str, sitting_min: int) -> dict[str, Any]:
    return {
        "to_sew": addressed(request, "sew"),
        "to_work": addressed(request, "sew", "work"),
        "to_done": addressed(request, "sew", "done"),
        "to_anew": addressed(request, "sew", "anew"),
        "to_outline": f"{addressed(request, 'sew', 'outline')}?order={order}",
        "how": f"order={order}&sitting={sitting_min}",
    }


def _data(work: SewShown, done: Any) -> dict[str, Any]:
    return {
        "title": work.title,
        "fit": work.fit,
        "sittings": [
            {
                "number": sitting.number,
                "stations": sitting.stations,
                "steps": [
                    {
                        "step": step.key,
                        "number": step.number,
                        "title": step.title,
                        "text": step.text,
                        "station": step.station,
                        "minutes": step.minutes,
                        "pieces": list(step.pieces),
                        "cautions": [word for word, _ in step.cautions],
                        "done": done.get(step.key, ""),
                    }
                    for step in sitting.steps
                ],
            }
            for sitting in work.sittings
        ],
    }


_AT = "/d/{design}/m/{make}/sew"
ROUTES = [
    Route("/d/{design}/sew", entry("sew")),
    Route(_AT, _page),
    Route(f"{_AT}/work", _work),
    Route(f"{_AT}/done", _done, methods=["POST"]),
    Route(f"{_AT}/anew", _anew, methods=["POST"]),
    Route(f"{_AT}/outline", _outline),
    Route(f"{_AT}/outline.txt", _outline),
]
