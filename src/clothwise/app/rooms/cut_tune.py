"""Small changes that save cloth: tried as long work, taken over as one step."""

from __future__ import annotations

from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from clothwise.app.jobs.cut_tune import TuneOf, TuneShown
from clothwise.app.pages import fragment, opened, wants_json
from clothwise.app.rooms.cut_basis import basis_of
from clothwise.app.rooms.cut_changes import committed, make_of, text_in, unit_of, work_key
from clothwise.app.rooms.cut_cloths import stated_make
from clothwise.app.rooms.cut_work import Work
from clothwise.app.rooms.cut_works import works
from clothwise.app.rooms.of_make import addressed, asked
from clothwise.errors import ClothwiseError, Misuse
from clothwise.pattern.commands import SetMake
from clothwise.pattern.document import parse_design
from clothwise.pattern.document.limit import ValueLimit, adjustment_of, format_adjustment
from clothwise.pattern.plain_names import plain_name
from clothwise.pattern.quantity import QuantityKind

__all__ = ["ROUTES"]

HOW = ("little", "most")


async def _tuning(request: Request) -> Response:
    """Show what may be changed, how far the trials are, or what came of them."""
    work = await run_in_threadpool(_latest, request)
    if wants_json(request):
        return JSONResponse(_data(work))
    return fragment(
        request,
        "_cut_tune.html",
        work=work,
        limits=await run_in_threadpool(_limits, request),
        adjusted=await run_in_threadpool(_adjusted_words, request),
        to_tuning=addressed(request, "cut", "tuning"),
        to_take=addressed(request, "cut", "tuning", "take"),
        to_cancel=addressed(request, "cut", "cancel"),
    )


async def _begin(request: Request) -> Response:
    async with request.form() as form:
        how = text_in(form, "how") or HOW[0]
        if how not in HOW:
            raise Misuse(
                f"there is no trial called {how[:20]!r}",
                what_to_do=f"Choose one of {', '.join(HOW)}.",
            )
        job = TuneOf(**asked(request), search=how == "most")
    basis = await run_in_threadpool(basis_of, request, "tune")
    works().begin(*work_key(request), "tune", basis, job)
    return await _tuning(request)


async def _take(request: Request) -> Response:
    """Write into the make what was found to save cloth, or take out what was taken over."""
    async with request.form() as form:
        make = make_of(request)
        if text_in(form, "away"):
            names = await run_in_threadpool(_adjusted, request)
            fields = {f"adjust.{name}": "" for name in names}
        else:
            fields = await run_in_threadpool(_found_fields, request, text_in(form, "row"))
        if not fields:
            raise Misuse(
                "there is nothing to take over",
                what_to_do="Try again what saves cloth: the make was changed in the meantime, or "
                "nothing does.",
            )
        return await committed(request, form, SetMake(make, fields))


def _found_fields(request: Request, row: str) -> dict[str, str]:
    """What the make would say after what was found: by the search, or in a line of the table."""
    work = _latest(request)
    found = work.result if work else None
    if not isinstance(found, TuneShown):
        return {}
    if not row:
        return dict(found.fields)
    if not (row.isascii() and row.isdigit() and int(row) < len(found.rows)):
        return {}
    return dict(found.rows[int(row)].fields)


def _latest(request: Request) -> Work | None:
    return works().latest(*work_key(request), "tune", basis=basis_of(request, "tune"))


def _limits(request: Request) -> list[str]:
    """What the design lets one change, in words."""
    design = parse_design(opened(request).history.documents["design.yaml"])
    return [_title(each) for each in design.limits]


def _adjusted(request: Request) -> dict[str, str]:
    """What the make has taken over, by name."""
    return dict(stated_make(request).adjust)


def _adjusted_words(request: Request) -> list[str]:
    """The same in words, as the trials tell it: `1.5 cm less length`."""
    design = parse_design(opened(request).history.documents["design.yaml"])
    limits = {each.name: each for each in design.limits}
    unit = unit_of(request)
    found = []
    for name, text in _adjusted(request).items():
        title = _title(limits[name]) if name in limits else plain_name(name)
        try:
            change = adjustment_of(text)
        except ClothwiseError:  # written by hand; the garment says what is wrong with it
            found.append(f"{title} {text}")
            continue
        amount = format_adjustment(abs(change.value), change.kind or QuantityKind.NUMBER, unit)
        found.append(f"{amount} {'less' if change.value < 0 else 'more'} {title}")
    return found


def _title(limit: ValueLimit) -> str:
    return limit.title or plain_name(limit.name)


def _data(work: Work | None) -> dict[str, Any]:
    found = work.result if work else None
    shown = found if isinstance(found, TuneShown) else TuneShown()
    return {
        "running": bool(work and work.is_running),
        "share": round(work.share, 3) if work else 0.0,
        "error": work.refused if work else "",
        "sentences": list(shown.sentences),
        "rows": [[each.words, each.cloth, each.change, each.sure] for each in shown.rows],
        "saves": dict(shown.fields),
    }


_AT = "/d/{design}/m/{make}/cut"
ROUTES: list[Route] = [
    Route(f"{_AT}/tuning", _tuning, methods=["GET"]),
    Route(f"{_AT}/tuning", _begin, methods=["POST"]),
    Route(f"{_AT}/tuning/take", _take, methods=["POST"]),
]
