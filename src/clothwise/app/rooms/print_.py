"""The print room: on which paper, in which sizes, with which lines; the pages as they will be."""

from __future__ import annotations

from collections import OrderedDict
from dataclasses import dataclass, replace
from typing import Any
from urllib.parse import urlencode

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from clothwise.app.jobs.print_ import FileOf, PagesOf, PrintShown
from clothwise.app.pages import fragment, opened, page, wants_json
from clothwise.app.print_choices import LEFT_OUT
from clothwise.app.rooms.of_make import (
    addressed,
    asked,
    entry,
    makes_in,
    print_choices,
    usual_paper,
    whole_number,
)
from clothwise.app.work import Shown, ask
from clothwise.errors import Misuse

__all__ = ["ROUTES"]

LAYERS = {
    "stitching lines": "stitching lines",
    "marks": "notches and marks",
    "words": "words: how to cut, allowances",
}
"""What may be left out, with words for it; a test asks that they are the layers of a print."""

_MOST_SIZES = 60
_KEPT = 6


@dataclass(frozen=True)
class Wanted:
    """What the address of a page asks to have printed.

    With `of_chart` and without sizes, it is the size of the chart that the make is nearest to.
    `no_rectangles`: whether plain rectangles are told, not printed.
    """

    paper: str
    sizes: tuple[str, ...]
    layers: tuple[str, ...]
    of_chart: bool = False
    no_rectangles: bool = False

    @property
    def without(self) -> tuple[str, ...]:
        """Layers that are left out."""
        return tuple(layer for layer in LAYERS if layer not in self.layers)

    @property
    def query(self) -> str:
        """As it stands in an address."""
        pairs = [("paper", self.paper), ("chosen", "yes")]
        pairs += [("sizes", size) for size in self.sizes]
        pairs += [("layers", layer) for layer in self.layers]
        pairs += [("rectangles", LEFT_OUT)] if self.no_rectangles else []
        return urlencode(pairs)


_shown_prints: OrderedDict[tuple[Any, ...], PrintShown] = OrderedDict()
"""Pictures of pages that were looked at last, so that turning a page asks no worker."""


async def _page(request: Request) -> Response:
    design = opened(request)
    make = design.make_document(request.path_params["make"])
    return page(
        request,
        "print.html",
        shown=Shown(design.name, design.history.head, make=make),
        makes=makes_in(request, "print"),
        to_pages=addressed(request, "print", "pages"),
        to_print=addressed(request, "print"),
        query=request.url.query,
    )


async def _pages(request: Request) -> Response:
    wanted = _wanted(request)
    found = await _print_shown(request, wanted)
    wanted = replace(wanted, sizes=found.chosen)
    if "chosen" in request.query_params and "HX-Request" in request.headers:
        _remember(request, found, wanted)
    number = whole_number(request.query_params.get("page", ""), 1, least=1, most=len(found.names))
    if wants_json(request):
        return JSONResponse(_data(found))
    return fragment(
        request,
        "_print_pages.html",
        print=found,
        wanted=wanted,
        layers=LAYERS,
        number=number,
        name=found.names[number - 1],
        svg=found.svgs[number - 1],
        joined=bool(found.across),
        **_addresses(request, wanted),
    )


async def _svg(request: Request) -> Response:
    found = await _print_shown(request, _wanted(request))
    number = whole_number(request.path_params["number"], 0, least=0, most=100_000)
    if not 1 <= number <= len(found.svgs):
        raise Misuse(
            f"there is no page {number}",
            how_much=f"this print has {len(found.svgs)}",
            what_to_do="Choose a page from the map.",
        )
    return Response(found.svgs[number - 1], media_type="image/svg+xml")


async def _file(request: Request) -> Response:
    wanted = _wanted(request)
    pdf = await ask(FileOf(**asked(request), **_chosen(wanted)))
    parts = [opened(request).name, request.path_params["make"], wanted.paper or "pattern"]
    parts += ["size" if len(wanted.sizes) == 1 else "sizes", *wanted.sizes] if wanted.sizes else []
    name = "".join(each for each in " ".join(parts) if each.isalnum() or each in " -_.")
    return Response(
        pdf,
        media_type="application/pdf",
        headers={"Content-Disposition": f'attachment; filename="{_ascii(name)}.pdf"'},
    )


async def _print_shown(request: Request, wanted: Wanted) -> PrintShown:
    about = asked(request)
    design = opened(request)
    key = (design.name, design.history.head, about["make"], about["unit"], wanted)
    if key not in _shown_prints:
        _shown_prints[key] = await ask(
            PagesOf(**about, **_chosen(wanted), of_chart=wanted.of_chart)
        )
        while len(_shown_prints) > _KEPT:
            _shown_prints.popitem(last=False)
    _shown_prints.move_to_end(key)
    return _shown_prints[key]


def _remember(request: Request, found: PrintShown, wanted: Wanted) -> None:
    """Keep what was chosen here: the next print begins with it, Pack offers it with the sizes."""
    kept = print_choices(request)
    if found.paper != request.query_params.get("paper_was", found.paper):
        kept.keep_paper(request.path_params["make"], found.paper)
    if len(found.chosen) > 1:
        kept.keep_sizes(found.chosen)
    if found.rectangles or found.measured_out:
        kept.keep_rectangles(leaves_out=wanted.no_rectangles)


def _wanted(request: Request) -> Wanted:
    query = request.query_params
    sizes = tuple(dict.fromkeys(query.getlist("sizes")))[:_MOST_SIZES]
    if query.get("several") == "no":
        sizes = ()
    rectangles = query.get("rectangles", "")
    is_kept = "chosen" not in query and print_choices(request).leaves_out_rectangles
    layers = tuple(layer for layer in LAYERS if layer in query.getlist("layers"))
    return Wanted(
        query.get("paper", "")[:40] or usual_paper(request),
        sizes,
        layers if "chosen" in query else tuple(LAYERS),
        of_chart=query.get("several") == "yes" and not sizes,
        no_rectangles=rectangles == LEFT_OUT or (is_kept and not rectangles),
    )


def _chosen(wanted: Wanted) -> dict[str, Any]:
    return {
        "paper": wanted.paper,
        "sizes": wanted.sizes,
        "without": wanted.without,
        "no_rectangles": wanted.no_rectangles,
    }


def _addresses(request: Request, wanted: Wanted) -> dict[str, Any]:
    return {
        "to_print": addressed(request, "print"),
        "to_pages": addressed(request, "print", "pages"),
        "to_page": addressed(request, "print", "page"),
        "to_file": addressed(request, "print.pdf"),
        "to_pack": addressed(request, "pack"),
        "how": wanted.query,
    }


def _ascii(name: str) -> str:
    return name.encode("ascii", "ignore").decode().strip() or "pattern"


def _data(found: PrintShown) -> dict[str, Any]:
    return {
        "title": found.title,
        "subtitle": found.subtitle,
        "paper": found.paper,
        "pages": list(found.names),
        "page_mm": [round(each, 2) for each in found.page_mm],
        "across": found.across,
        "down": found.down,
        "left_out": [each.name for each in found.shown_map.left_out] if found.shown_map else [],
        "pages_of": {piece: list(numbers) for piece, numbers in found.pieces},
        "sizes": list(found.sizes),
    }


_AT = "/d/{design}/m/{make}/print"
ROUTES = [
    Route("/d/{design}/print", entry("print")),
    Route(_AT, _page),
    Route(f"{_AT}/pages", _pages),
    Route(f"{_AT}/page/{{number}}.svg", _svg),
    Route(f"{_AT}.pdf", _file),
]
