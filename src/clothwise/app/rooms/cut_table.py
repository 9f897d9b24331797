"""How much to buy in every size, in the cut room: worked out once, then read from kept layouts."""

from __future__ import annotations

from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from clothwise.app.jobs.cut_shown import TableShown
from clothwise.app.jobs.cut_table import KeptTableOf, TableOf
from clothwise.app.pages import fragment, wants_json
from clothwise.app.rooms.cut_basis import basis_of
from clothwise.app.rooms.cut_changes import work_key
from clothwise.app.rooms.cut_work import Work
from clothwise.app.rooms.cut_works import works
from clothwise.app.rooms.of_make import addressed, asked
from clothwise.app.work import ask
from clothwise.errors import ClothwiseError

__all__ = ["ROUTES"]


async def _table(request: Request) -> Response:
    """Show the table, how far it is, or how to begin it."""
    work = await _latest(request)
    table = await _as_kept(request, work.result) if work else None
    if wants_json(request):
        return JSONResponse(_data(work, table))
    return fragment(
        request,
        "_cut_table.html",
        work=work,
        table=table,
        to_table=addressed(request, "cut", "table"),
        to_cancel=addressed(request, "cut", "cancel"),
    )


async def _begin(request: Request) -> Response:
    basis = await run_in_threadpool(basis_of, request, "table")
    works().begin(*work_key(request), "table", basis, TableOf(**asked(request)))
    return await _table(request)


async def _latest(request: Request) -> Work | None:
    basis = await run_in_threadpool(basis_of, request, "table")
    return works().latest(*work_key(request), "table", basis=basis)


async def _as_kept(request: Request, table: TableShown | None) -> TableShown | None:
    """The table with what was found since: by a search, by a packet, or to save cloth."""
    if table is None:
        return None
    try:
        found: TableShown | None = await ask(KeptTableOf(**asked(request)))
    except ClothwiseError:
        return table  # it holds all the same, and the next look asks again
    return found or table


def _data(work: Work | None, table: TableShown | None) -> dict[str, Any]:
    told: dict[str, Any] = {
        "running": bool(work and work.is_running),
        "share": round(work.share, 3) if work else 0.0,
        "error": work.refused if work else "",
    }
    if table is not None:
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
    Route(f"{_AT}/table", _table, methods=["GET"]),
    Route(f"{_AT}/table", _begin, methods=["POST"]),
]
