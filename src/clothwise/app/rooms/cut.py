"""The cut room: which copy is cut from which fabric, and how the pieces lie on the cloth.

Painting, fabrics and pins are changes of the make; what follows from them (drawings, layouts, what
to buy) is asked from workers, and the parts of the page ask for it anew after every change.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import JSONResponse, RedirectResponse, Response
from starlette.routing import Route

from clothwise.app.jobs.cut_garment import FABRIC_FIELDS, GarmentOf
from clothwise.app.jobs.cut_layouts import EFFORTS, LayoutsOf, PinOf, SearchOf
from clothwise.app.jobs.cut_shown import GarmentShown, LayoutsShown
from clothwise.app.pages import (
    address,
    after_commit,
    fragment,
    opened,
    page,
    preferences,
    refusal,
    wants_json,
)
from clothwise.app.rooms.cut_searches import Search, searches
from clothwise.app.work import Shown, ask
from clothwise.errors import ClothwiseError, Misuse
from clothwise.pattern.commands import Command, PaintCopies, RemoveFabric, SetFabric, SetPins

__all__ = ["ROUTES"]

MOST_COPIES = 500
"""Painted at once; more than any garment has. Our own choice."""


async def _page(request: Request) -> Response:
    design = opened(request)
    make = design.make_document(request.path_params["make"])
    makes = [(name, address("d", design.name, "m", name, "cut")) for name in design.makes]
    return page(
        request,
        "cut.html",
        shown=Shown(design.name, design.history.head, make=make),
        makes=makes,
        **_addresses(request),
        **_search_data(request),
    )


async def _garment(request: Request) -> Response:
    shown = await _garment_shown(request)
    if wants_json(request):
        return JSONResponse(_garment_data(shown))
    brush = request.query_params.get("fabric", "")
    if shown.cloth(brush) is None:
        brush = shown.cloths[0].name if shown.cloths else ""
    return fragment(
        request,
        "_cut_garment.html",
        garment=shown,
        brush=brush,
        cloth_of={cloth.name: cloth for cloth in shown.cloths},
        choices=_FABRIC_CHOICES,
        **_addresses(request),
    )


async def _layouts(request: Request) -> Response:
    shown: LayoutsShown = await ask(LayoutsOf(**_asked(request)))
    search = _latest(request)
    if search is not None and search.is_running:
        shown = search.over(shown)
    if wants_json(request):
        return JSONResponse(_layouts_data(shown))
    return fragment(
        request,
        "_cut_layouts.html",
        laid=shown,
        efforts=_EFFORT_WORDS,
        **_addresses(request),
        **_search_data(request),
    )


async def _paint(request: Request) -> Response:
    async with request.form(max_fields=MOST_COPIES + 10) as form:
        chosen = "|".join(str(each) for each in form.getlist("copies"))
        copies = tuple(each for each in chosen.split("|") if each)[:MOST_COPIES]
        fabric = _text(form, "fabric")
        if not copies:
            raise Misuse(
                "no copy was chosen",
                what_to_do="Choose a fabric, then touch what is to be cut from it.",
            )
        return await _committed(request, form, PaintCopies(_make(request), copies, fabric))


async def _fabric(request: Request) -> Response:
    async with request.form() as form:
        fields = {name: _text(form, name) for name in FABRIC_FIELDS if name in form}
        name = _text(form, "name") or _name_from(fields.get("title", ""))
        return await _committed(request, form, SetFabric(_make(request), name, fields))


async def _remove_fabric(request: Request) -> Response:
    async with request.form() as form:
        command = RemoveFabric(_make(request), _text(form, "name"), _text(form, "instead"))
        return await _committed(request, form, command)


async def _pin(request: Request) -> Response:
    async with request.form() as form:
        asked = PinOf(
            **_asked(request),
            copy=_text(form, "copy"),
            along=_text(form, "along"),
            across=_text(form, "across"),
            moved_mm=(_number(form, "dx_mm"), _number(form, "dy_mm")),
            turn=_text(form, "turn") or "keep",
        )
        pins: Mapping[str, Mapping[str, str]] = await ask(asked)
        return await _committed(request, form, SetPins(_make(request), pins))


async def _unpin(request: Request) -> Response:
    async with request.form() as form:
        copies = tuple(str(each) for each in form.getlist("copy"))
        pinned = await run_in_threadpool(_pins_of, request, copies)
        return await _committed(
            request, form, SetPins(_make(request), {name: {} for name in pinned})
        )


async def _search(request: Request) -> Response:
    async with request.form() as form:
        effort = _text(form, "effort")
        if effort not in EFFORTS:
            raise Misuse(
                f"there is no search called {effort[:20]!r}",
                what_to_do=f"Choose one of {', '.join(EFFORTS)}.",
            )
        job = SearchOf(**_asked(request), effort=effort, fabric=_text(form, "only"))
    searches().begin(*_key(request), opened(request).history.head, job)
    return _state(request)


async def _cancel(request: Request) -> Response:
    searches().cancel(*_key(request))
    return _state(request)


async def _searching(request: Request) -> Response:
    return _state(request)


def _state(request: Request) -> Response:
    found = _latest(request)
    if wants_json(request):
        return JSONResponse(_search_json(found))
    return fragment(
        request,
        "_cut_search.html",
        efforts=_EFFORT_WORDS,
        **_addresses(request),
        **_search_data(request),
    )


async def _entry(request: Request) -> Response:
    """The room without a make leads to the first one."""
    design = opened(request)
    if not design.makes:
        raise Misuse(
            "this design has no make yet, so there is nothing to cut",
            where=design.title,
            what_to_do="Go to the shelf and begin with a garment that has one, or write make.yaml "
            "into its folder.",
        )
    return RedirectResponse(address("d", design.name, "m", design.makes[0], "cut"), 303)


# What is asked and done


async def _committed(request: Request, form: FormData, command: Command) -> Response:
    """Make a change; the parts of the page that follow from it ask for themselves."""
    design = opened(request)
    base = _text(form, "base") or design.history.head
    try:
        entry = await run_in_threadpool(design.history.commit, base, command)
    except ClothwiseError as error:
        return refusal(request, error)
    headers = after_commit(request, entry)
    if wants_json(request):
        return JSONResponse({"id": entry.id, "words": entry.words}, headers=headers)
    if "HX-Request" in request.headers:
        return Response(status_code=204, headers=headers)
    here = address("d", design.name, "m", request.path_params["make"], "cut")
    return RedirectResponse(here, 303, headers=headers)


async def _garment_shown(request: Request) -> GarmentShown:
    found: GarmentShown = await ask(GarmentOf(**_asked(request)))
    return found


def _asked(request: Request) -> dict[str, Any]:
    """What every job of the room is told."""
    design = opened(request)
    unit = preferences(request).length_unit
    return {
        "design": design.name,
        "documents": dict(design.history.documents),
        "make": _make(request),
        "folder": str(design.folder),
        "unit": unit.value if unit else "",
    }


def _make(request: Request) -> str:
    return opened(request).make_document(request.path_params["make"])


def _key(request: Request) -> tuple[str, str]:
    return opened(request).name, _make(request)


def _latest(request: Request) -> Search | None:
    """The search for the make as it is now; one for an older state ends here."""
    return searches().latest(*_key(request), head=opened(request).history.head)


def _pins_of(request: Request, copies: tuple[str, ...]) -> list[str]:
    """The pins of a make that hold one of these copies, or its piece."""
    from clothwise.pattern.document import parse_make

    make = _make(request)
    pins = parse_make(opened(request).history.documents[make], file=make).pins
    wanted = {*copies, *(copy.rpartition("/")[0] for copy in copies)}
    held = [name for name in pins if name in wanted]
    if not held:
        raise Misuse(
            "none of these pieces is pinned",
            how_much=", ".join(copies)[:80],
            what_to_do="Look at the layout again: the pin may be gone already.",
        )
    return held


def _text(form: FormData, name: str) -> str:
    value = form.get(name, "")
    return value.strip() if isinstance(value, str) else ""


def _number(form: FormData, name: str) -> float:
    text = _text(form, name)
    if not text:
        return 0.0
    if not re.fullmatch(r"-?\d{1,6}(\.\d{1,6})?", text):
        raise Misuse(
            f"{name} is no number of millimeters",
            how_much=text[:20],
            what_to_do="Drag the piece again, or write where it is to lie.",
        )
    return float(text)


def _name_from(title: str) -> str:
    """A name for a new fabric, made of its title."""
    name = re.sub(r"[^a-z0-9]+", "-", title.casefold()).strip("-")[:40]
    return name if name[:1].isalpha() else f"fabric-{name}".strip("-")


# What templates and scripts get

_EFFORT_WORDS = {
    "quick": "a quick look, a few seconds for each fabric",
    "good": "a good search, about half a minute for each",
    "long": "a long search, some minutes for each",
}

_FABRIC_CHOICES: Mapping[str, Mapping[str, str]] = {
    "pattern": {
        "": "plain",
        "stripe": "stripes along",
        "crosswise": "stripes across",
        "check": "checks",
        "dots": "dots",
        "sprigs": "sprigs",
        "twill": "twill lines",
    },
    "layers": {
        "single": "in a single layer",
        "folded": "folded lengthwise",
        "folded to the middle": "both selvages folded to the middle",
        "folded crosswise": "folded crosswise",
        "face to face": "in two lengths, face to face",
    },
    "nap": {"none": "either way up", "one way": "all one way (nap or one-way print)"},
}


def _addresses(request: Request) -> dict[str, Any]:
    """Addresses of the room's parts, for templates."""
    design, make = opened(request).name, request.path_params["make"]
    parts = ("garment", "layouts", "paint", "fabric", "pin", "unpin", "search", "cancel")
    more = ("remove-fabric",)
    return {
        f"to_{part.replace('-', '_')}": address("d", design, "m", make, "cut", part)
        for part in (*parts, *more)
    }


def _search_data(request: Request) -> dict[str, Any]:
    return {"search": _latest(request)}


def _search_json(found: Search | None) -> dict[str, Any]:
    if found is None:
        return {"running": False}
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
    Route("/d/{design}/cut", _entry),
    Route(_AT, _page),
    Route(f"{_AT}/garment", _garment),
    Route(f"{_AT}/layouts", _layouts),
    Route(f"{_AT}/paint", _paint, methods=["POST"]),
    Route(f"{_AT}/fabric", _fabric, methods=["POST"]),
    Route(f"{_AT}/remove-fabric", _remove_fabric, methods=["POST"]),
    Route(f"{_AT}/pin", _pin, methods=["POST"]),
    Route(f"{_AT}/unpin", _unpin, methods=["POST"]),
    Route(f"{_AT}/search", _search, methods=["POST"]),
    Route(f"{_AT}/search", _searching, methods=["GET"]),
    Route(f"{_AT}/cancel", _cancel, methods=["POST"]),
]
