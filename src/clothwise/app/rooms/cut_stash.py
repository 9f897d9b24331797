"""Cut from what is at hand: which pieces come out of the remnants of the stash."""

from __future__ import annotations

from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from clothwise.app.jobs.cut_garment import fabric_fields
from clothwise.app.jobs.cut_shown import StashShown
from clothwise.app.jobs.cut_stash import StashOf
from clothwise.app.pages import fragment, wants_json
from clothwise.app.rooms.cut_basis import basis_of
from clothwise.app.rooms.cut_changes import committed, text_in, work_key
from clothwise.app.rooms.cut_cloths import addresses, roles_of, stash_of, stated_make
from clothwise.app.rooms.cut_fabrics import (
    FABRIC_CHOICES,
    FIGURE_HINTS,
    LINED_FIGURES,
    UNCHOSEN_COLOR,
)
from clothwise.app.rooms.cut_remnants import remnants_of
from clothwise.app.rooms.cut_work import Work
from clothwise.app.rooms.cut_works import works
from clothwise.app.rooms.of_make import addressed, asked
from clothwise.errors import Misuse
from clothwise.pattern.document import Stash

__all__ = ["ROUTES"]


async def _stash(request: Request) -> Response:
    """Show the remnants, and what was found to be cut from them."""
    work = await run_in_threadpool(_latest, request)
    stash = await run_in_threadpool(stash_of, request)
    if wants_json(request):
        return JSONResponse(_stash_data(work, stash))
    return fragment(
        request,
        "_cut_stash.html",
        work=work,
        stash=stash,
        remnants=await run_in_threadpool(remnants_of, request),
        cloths=[(each, fabric_fields(each)) for each in stash.fabrics],
        choices=FABRIC_CHOICES,
        figure_hints=FIGURE_HINTS,
        lined_figures=LINED_FIGURES,
        unchosen_color=UNCHOSEN_COLOR,
        roles=await run_in_threadpool(roles_of, request),
        to_stash=addressed(request, "cut", "stash"),
        to_adopt=addressed(request, "cut", "adopt"),
        used=await run_in_threadpool(_used, request),
        has_chosen=bool((await run_in_threadpool(stated_make, request)).copies),
        to_fabric=addressed(request, "cut", "stash-fabric"),
        to_use=addressed(request, "cut", "use"),
        **addresses(request),
        to_cancel=addressed(request, "cut", "cancel"),
    )


async def _begin_stash(request: Request) -> Response:
    async with request.form() as form:
        job = StashOf(**asked(request), chosen_too=bool(text_in(form, "chosen_too")))
    basis = await run_in_threadpool(basis_of, request, "stash")
    works().begin(*work_key(request), "stash", basis, job)
    return await _stash(request)


async def _adopt(request: Request) -> Response:
    """Write what was found into the make."""
    async with request.form() as form:
        work = await run_in_threadpool(_latest, request)
        found = work.result if work else None
        if not isinstance(found, StashShown) or not found.adopted:
            raise Misuse(
                "there is nothing to take over",
                what_to_do="Ask again what can be cut from your remnants: the make was changed in "
                "the meantime, or nothing can.",
            )
        return await committed(request, form, found.adopted)


def _latest(request: Request) -> Work | None:
    return works().latest(*work_key(request), "stash", basis=basis_of(request, "stash"))


def _used(request: Request) -> set[str]:
    """Names of cloths that the make has among its fabrics already."""
    make = stated_make(request)
    own = {each.stash or each.name for each in make.fabrics}
    return own | {*make.roles.values(), *make.copies.values()}


def _stash_data(work: Work | None, stash: Stash) -> dict[str, Any]:
    found = work.result if work else None
    return {
        "running": bool(work and work.is_running),
        "remnants": list(stash.remnant_names),
        "answer": found.answer if isinstance(found, StashShown) else "",
        "sentences": list(found.sentences) if isinstance(found, StashShown) else [],
        "error": work.refused if work else "",
    }


_AT = "/d/{design}/m/{make}/cut"
ROUTES: list[Route] = [
    Route(f"{_AT}/stash", _stash, methods=["GET"]),
    Route(f"{_AT}/stash", _begin_stash, methods=["POST"]),
    Route(f"{_AT}/adopt", _adopt, methods=["POST"]),
]
