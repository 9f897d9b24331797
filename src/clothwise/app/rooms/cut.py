"""The cut room: which copy is cut from which fabric, and how the pieces lie on the cloth.

Painting, fabrics and pins are changes of the make; what follows from them (drawings, layouts, what
to buy) is asked from workers, and the parts of the page ask for it anew after every change.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from clothwise.app.jobs.cut_efforts import BY_ITSELF, EFFORT_WORDS, EFFORTS
from clothwise.app.jobs.cut_garment import FABRIC_FIELDS, GarmentOf, fabric_fields
from clothwise.app.jobs.cut_layouts import LayoutsOf, PinOf, QuestionsOf
from clothwise.app.jobs.cut_shown import GarmentShown, LayoutShown, LayoutsShown
from clothwise.app.jobs.cut_ways import WaysOf
from clothwise.app.jobs.ways import Way
from clothwise.app.pages import (
    fragment,
    opened,
    page,
    told_of,
    wants_json,
)
from clothwise.app.rooms import (
    cut_fabrics,
    cut_flaws,
    cut_matches,
    cut_photos,
    cut_remnants,
    cut_shapes,
    cut_stash,
    cut_table,
    cut_tune,
)
from clothwise.app.rooms.cut_changes import (
    also_told,
    committed,
    in_unit,
    make_of,
    name_from,
    number_in,
    text_in,
    work_key,
)
from clothwise.app.rooms.cut_fabrics import (
    FABRIC_CHOICES,
    FIGURE_HINTS,
    LINED_FIGURES,
    UNCHOSEN_COLOR,
    changed_fields,
    with_currency,
)
from clothwise.app.rooms.cut_refused import tells_fields
from clothwise.app.rooms.cut_work import Work
from clothwise.app.rooms.cut_works import WORKS, works
from clothwise.app.rooms.of_make import addressed, asked, entry, makes_in
from clothwise.app.work import (
    JobCancelled,
    JobRefused,
    JobTooLong,
    Shown,
    Superseded,
    WorkerFailed,
    ask,
)
from clothwise.errors import ClothwiseError, DocumentError, Misuse
from clothwise.pattern.commands import PaintCopies, RemoveFabric, SetFabric, SetPins, TakeOutCopy
from clothwise.pattern.commands.copies_called import copy_title, listed
from clothwise.pattern.document import parse_make

__all__ = ["ROUTES"]

JUMPS = (
    ("garment", "Garment and fabrics"),
    ("layouts", "To buy"),
    ("layout-0", "Layouts"),
    ("pieces", "Pieces"),
    ("matches", "Stripes"),
    ("stash", "Remnants"),
    ("tuning", "Saving cloth"),
    ("table", "Every size"),
)
"""The parts of the room in their order, and what they are called in the list of jumps."""

MOST_COPIES = 500
"""Painted at once; more than any garment has. Our own choice."""


async def _page(request: Request) -> Response:
    design = opened(request)
    make = design.make_document(request.path_params["make"])
    return page(
        request,
        "cut.html",
        shown=Shown(design.name, design.history.head, make=make),
        makes=makes_in(request, "cut"),
        jumps=JUMPS,
        **_addresses(request),
        **_search_data(request),
    )


async def _garment(request: Request) -> Response:
    if wants_json(request):
        return JSONResponse(_garment_data(await _garment_shown(request)))
    try:
        shown = await _garment_shown(request)
    except ClothwiseError as error:
        return await _cannot_be_shown(request, error, "garment")
    brush = request.query_params.get("fabric", "")
    if shown.cloth(brush) is None:
        brush = shown.cloths[0].name if shown.cloths else ""
    return fragment(
        request,
        "_cut_garment.html",
        garment=shown,
        brush=brush,
        cloth_of={cloth.name: cloth for cloth in shown.cloths},
        choices=FABRIC_CHOICES,
        figure_hints=FIGURE_HINTS,
        lined_figures=LINED_FIGURES,
        roles=await run_in_threadpool(cut_fabrics.roles_shown, request),
        unchosen_color=UNCHOSEN_COLOR,
        **_addresses(request),
    )


async def _layouts(request: Request) -> Response:
    head, about = opened(request).history.head, asked(request)
    try:
        shown: LayoutsShown = await ask(LayoutsOf(**about))
    except ClothwiseError as error:
        if isinstance(error, JobRefused):
            works().cancel(*work_key(request), "search", "outdated")
        if wants_json(request):
            raise
        return await _cannot_be_shown(request, error, "layouts")
    left = works().still_to_search(*work_key(request), shown)
    if opened(request).history.head == head:
        works().follow(*work_key(request), shown, about)
    search = _latest(request)
    if search is not None and search.is_running:
        shown = search.over(shown)
    elif left and not wants_json(request):
        _look(request, left)
    if wants_json(request):
        return JSONResponse(_layouts_data(shown))
    return fragment(
        request,
        "_cut_layouts.html",
        laid=shown,
        head=head,
        flaws=await run_in_threadpool(cut_flaws.flaws_of_fabrics, request),
        cutting=await run_in_threadpool(cut_fabrics.cutting_of, request),
        methods=cut_fabrics.CUTTING_CHOICES,
        efforts=EFFORT_WORDS,
        **_addresses(request),
        **_search_data(request),
    )


def _look(request: Request, left: Sequence[LayoutShown]) -> None:
    """Begin the shortest search by itself: it finds layouts a third shorter than those in rows."""
    questions = {each.fabric: each.question for each in left}
    works().search(*work_key(request), asked(request), questions, effort=BY_ITSELF, by_itself=True)


async def _cannot_be_shown(request: Request, error: ClothwiseError, part: str) -> Response:
    """Say in the place of a part why it cannot be shown; it is asked for again after a change."""
    if isinstance(error, Superseded | JobCancelled):
        return Response(status_code=204)  # a newer state is being drawn already
    told = told_of(request, error)
    ways = await _ways(request, error, told) if part == "garment" else ()
    return fragment(
        request,
        "_cut_refused.html",
        part=part,
        told=told,
        ways=ways,
        is_ours=isinstance(error, WorkerFailed | JobTooLong),  # the garment is as good as before
        **_addresses(request),
    )


async def _ways(
    request: Request, error: ClothwiseError, told: Mapping[str, Any]
) -> tuple[Way, ...]:
    """Where in the Draft room it is mended; none if that is not known."""
    words = [str(told[each]) for each in ("where", "what", "what_to_do")]
    said = " ".join([*words, *told["faults"], *_places(error)])
    try:
        found: tuple[Way, ...] = await ask(WaysOf(**asked(request), said=said))
    except ClothwiseError:
        return ()  # the Draft room itself is still told
    return found


def _places(error: ClothwiseError) -> Iterator[str]:
    """The places in documents that a refusal is about."""
    if isinstance(error, DocumentError):
        yield from (fault.path for fault in error.faults)
    elif isinstance(error, JobRefused):
        yield from (str(fault.get("path", "")) for fault in error.faults)


async def _paint(request: Request) -> Response:
    async with request.form(max_fields=MOST_COPIES + 10) as form:
        chosen = "|".join(str(each) for each in form.getlist("copies"))
        copies = tuple(each for each in chosen.split("|") if each)[:MOST_COPIES]
        fabric = text_in(form, "fabric")
        if not copies:
            raise Misuse(
                "no copy was chosen",
                what_to_do="Choose a fabric, then touch what is to be cut from it.",
            )
        return await committed(request, form, PaintCopies(make_of(request), copies, fabric))


async def _take_out(request: Request) -> Response:
    """Take out what the make says of a piece or copy that the garment does not have."""
    async with request.form() as form:
        command = TakeOutCopy(make_of(request), text_in(form, "key"))
        return await committed(request, form, command)


@tells_fields
async def _fabric(request: Request) -> Response:
    async with request.form() as form:
        sent = {name: text_in(form, name) for name in FABRIC_FIELDS if name in form}
        sent = await run_in_threadpool(in_unit, request, sent)
        known = await run_in_threadpool(_fabric_fields, request)
        taken = frozenset(known)
        name = text_in(form, "name") or name_from(sent.get("title", ""), taken=taken)
        priced = {each: fields["price"] for each, fields in known.items()}
        if "price" in sent and sent["price"] != priced.pop(name, None):
            sent["price"] = with_currency(sent["price"], priced.values())
        fields = changed_fields(sent, known[name]) if name in known else sent
        answer = await committed(request, form, SetFabric(make_of(request), name, fields))
        return answer if name in known else also_told(answer, "cw:fabric", name)


async def _remove_fabric(request: Request) -> Response:
    async with request.form() as form:
        command = RemoveFabric(make_of(request), text_in(form, "name"), text_in(form, "instead"))
        return await committed(request, form, command)


async def _pin(request: Request) -> Response:
    async with request.form() as form:
        job = PinOf(
            **asked(request),
            copy=text_in(form, "copy"),
            along=_unless_shown(form, "along"),
            across=_unless_shown(form, "across"),
            moved_mm=(number_in(form, "dx_mm"), number_in(form, "dy_mm")),
            turn=text_in(form, "turn") or "keep",
        )
        pins: Mapping[str, Mapping[str, str]] = await ask(job)
        return await committed(request, form, SetPins(make_of(request), pins))


async def _unpin(request: Request) -> Response:
    async with request.form() as form:
        copies = tuple(str(each) for each in form.getlist("copy"))
        pinned = await run_in_threadpool(_pins_of, request, copies)
        return await committed(
            request, form, SetPins(make_of(request), {name: {} for name in pinned})
        )


async def _search(request: Request) -> Response:
    async with request.form() as form:
        effort = text_in(form, "effort")
        if effort not in EFFORTS:
            raise Misuse(
                f"there is no search called {effort[:20]!r}",
                what_to_do=f"Choose one of {', '.join(EFFORTS)}.",
            )
        only = text_in(form, "only")
    about = asked(request)
    questions: Mapping[str, str] = await ask(QuestionsOf(**about, fabric=only))
    works().search(*work_key(request), about, questions, effort=effort, of_all=not only)
    return _state(request)


async def _cancel(request: Request) -> Response:
    """Stop long work; its part of the page tells so."""
    async with request.form() as form:
        kind = text_in(form, "what") or "search"
    if kind not in WORKS:
        raise Misuse(
            f"there is no work called {kind[:20]!r}",
            what_to_do=f"Stop one of {', '.join(WORKS)}.",
        )
    works().cancel(*work_key(request), kind)
    return _state(request) if kind == "search" else Response(status_code=204)


async def _searching(request: Request) -> Response:
    return _state(request)


def _state(request: Request) -> Response:
    found = _latest(request)
    if wants_json(request):
        return JSONResponse(_search_json(found))
    return fragment(
        request,
        "_cut_search.html",
        efforts=EFFORT_WORDS,
        **_addresses(request),
        **_search_data(request),
    )


# What is asked and done


async def _garment_shown(request: Request) -> GarmentShown:
    found: GarmentShown = await ask(
        GarmentOf(**asked(request), photos=addressed(request, "cut", "photo"))
    )
    return found


def _unless_shown(form: FormData, name: str) -> str:
    """What was written in a field; empty if it is what was shown there, which is rounded."""
    text = text_in(form, name)
    return "" if text == text_in(form, f"shown-{name}") else text


def _latest(request: Request) -> Work | None:
    """The search for the make; it has followed the layouts that were asked for last."""
    return works().latest(*work_key(request), "search")


def _fabric_fields(request: Request) -> dict[str, dict[str, str]]:
    """What the make states of its fabrics, by name."""
    make = make_of(request)
    fabrics = parse_make(opened(request).history.documents[make], file=make).fabrics
    return {each.name: fabric_fields(each) for each in fabrics}


def _pins_of(request: Request, copies: tuple[str, ...]) -> list[str]:
    """The pins of a make that hold one of these copies, or its piece."""
    make = make_of(request)
    pins = parse_make(opened(request).history.documents[make], file=make).pins
    wanted = {*copies, *(copy.rpartition("/")[0] for copy in copies)}
    held = [name for name in pins if name in wanted]
    if not held:
        raise Misuse(
            "none of these pieces is pinned",
            how_much=listed(map(copy_title, copies))[:80],
            what_to_do="Look at the layout again: the pin may be gone already.",
        )
    return held


# What templates and scripts get


def _addresses(request: Request) -> dict[str, Any]:
    """Addresses of the room's parts, for templates."""
    parts = (
        *("garment", "layouts", "paint", "fabric", "remove-fabric", "pin", "unpin", "search"),
        *("cancel", "stash", "table", "photo", "cutting", "flaw", "remnant", "matches"),
        *("tuning", "roles", "take-out"),
    )
    return {f"to_{part.replace('-', '_')}": addressed(request, "cut", part) for part in parts}


def _search_data(request: Request) -> dict[str, Any]:
    return {"search": _latest(request)}


def _search_json(found: Work | None) -> dict[str, Any]:
    if found is None:
        return {"running": False, "share": 0.0, "message": "", "lengths_mm": {}, "error": ""}
    return {
        "running": found.is_running,
        "share": round(found.share, 3),
        "message": found.message,
        "lengths_mm": {
            name: round(each.length_mm, 1) for name, each in sorted(found.better.items())
        },
        "error": found.refused,
    }


def _garment_data(shown: GarmentShown) -> dict[str, Any]:
    return {
        "title": shown.title,
        "fabrics": [
            {"name": each.name, "title": each.title, **each.fields} for each in shown.cloths
        ],
        "copies": {copy.key: copy.fabric for piece in shown.pieces for copy in piece.copies},
    }


def _layouts_data(shown: LayoutsShown) -> dict[str, Any]:
    return {
        "fabrics": [
            {
                "fabric": each.fabric,
                "length_mm": round(each.length_mm, 1),
                "buy": each.buy,
                "cost": each.cost,
                "currency": each.currency,
                "searched": each.is_searched,
                "cuts": [
                    {"copy": cut.copy, "along": cut.along, "across": cut.across}
                    for cut in each.cuts
                ],
            }
            for each in shown.layouts
        ],
        "refused": [{"fabric": each.fabric, "what": each.what} for each in shown.refused],
        "costs": list(shown.costs),
    }


_AT = "/d/{design}/m/{make}/cut"
ROUTES: list[Route] = [
    Route("/d/{design}/cut", entry("cut")),
    Route(_AT, _page),
    Route(f"{_AT}/garment", _garment),
    Route(f"{_AT}/layouts", _layouts),
    Route(f"{_AT}/paint", _paint, methods=["POST"]),
    Route(f"{_AT}/take-out", _take_out, methods=["POST"]),
    Route(f"{_AT}/fabric", _fabric, methods=["POST"]),
    Route(f"{_AT}/remove-fabric", _remove_fabric, methods=["POST"]),
    Route(f"{_AT}/pin", _pin, methods=["POST"]),
    Route(f"{_AT}/unpin", _unpin, methods=["POST"]),
    Route(f"{_AT}/search", _search, methods=["POST"]),
    Route(f"{_AT}/search", _searching, methods=["GET"]),
    Route(f"{_AT}/cancel", _cancel, methods=["POST"]),
    *cut_fabrics.ROUTES,
    *cut_matches.ROUTES,
    *cut_flaws.ROUTES,
    *cut_remnants.ROUTES,
    *cut_shapes.ROUTES,
    *cut_stash.ROUTES,
    *cut_table.ROUTES,
    *cut_tune.ROUTES,
    *cut_photos.ROUTES,
]
