"""The line in the frame of every page that says which long work goes on, and how it is stopped."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from clothwise.app.ongoing import Ongoing, ongoing
from clothwise.app.opening import shop
from clothwise.app.pages import address, fragment, wants_json
from clothwise.errors import ClothwiseError

__all__ = ["ROUTES", "Line", "lines"]


@dataclass(frozen=True)
class _Words:
    """What is said of one kind of work; `{}` stands for what it is about."""

    doing: str
    done: str
    stopped: str
    room: str
    of_make: bool = True
    place: str = ""


_WORDS = {
    "search": _Words(
        "Looking for shorter layouts of {}",
        "The search for shorter layouts of {} has ended; the best are kept.",
        "The search for shorter layouts of {} was stopped; what it found is kept.",
        "cut",
        place="#layouts",
    ),
    "stash": _Words(
        "Looking what of {} comes out of remnants",
        "It is worked out what of {} comes out of remnants.",
        "Looking what of {} comes out of remnants was stopped.",
        "cut",
        place="#stash",
    ),
    "table": _Words(
        "Working out the fabric of {} for every size",
        "The fabric of {} is worked out for every size.",
        "Working out the fabric of {} for every size was stopped; layouts that were found are "
        "kept.",
        "cut",
        place="#table",
    ),
    "tune": _Words(
        "Trying small changes of {} that save cloth",
        "Small changes of {} were tried.",
        "Trying small changes of {} was stopped.",
        "cut",
        place="#tuning",
    ),
    "packet": _Words(
        "Building the packet of {}",
        "The packet of {} is finished.",
        "Building the packet of {} was stopped; no packet was made.",
        "pack",
    ),
    "check": _Words(
        "Checking every view in every size{}",
        "Every view in every size is checked{}.",
        "Checking every view in every size was stopped{}; what was found so far is kept.",
        "check",
        of_make=False,
        place="?scope=range",
    ),
}


@dataclass(frozen=True)
class Line:
    """A long work as a page tells it.

    Attributes:
        work: the work.
        words: what is done with what.
        href: the way to where it is shown.
        endings: what is said when it has ended, by how it did.
    """

    work: Ongoing
    words: str
    href: str
    endings: dict[str, str]


def lines(request: Request, design: str) -> list[Line]:
    """Return what goes on, for a page about a design, or about none."""
    return [_line(request, each, design) for each in ongoing().all()]


def _line(request: Request, work: Ongoing, here: str) -> Line:
    words = _WORDS[work.kind]
    make = work.make.rpartition("/")[2].removesuffix(".yaml")
    try:
        design = shop(request).design(work.design)
        title, make_title = design.title, design.make_titles.get(make, make)
    except ClothwiseError:  # it was moved away meanwhile
        title, make_title = work.design, make
    elsewhere = work.design != here
    if words.of_make:
        about = f"{make_title} ({title})" if elsewhere else make_title
        href = address("d", work.design, "m", make, words.room) + words.place
    else:
        about = f" of {title}" if elsewhere else ""
        href = address("d", work.design, words.room) + words.place
    doing = words.doing.format(about)
    endings = {"stopped": words.stopped.format(about)}
    if not work.by_itself:
        endings |= {
            "done": words.done.format(about),
            "outdated": f"{doing} was ended, for what it was about has changed.",
            "refused": f"{doing} ended without a result; where it was begun is said why.",
        }
    return Line(work, doing, href, endings)


async def _show(request: Request) -> Response:
    return _answered(request)


async def _stop(request: Request) -> Response:
    """Stop a work; one that has ended meanwhile is left alone."""
    async with request.form() as form:
        work = str(form.get("work", ""))[:64]
    ongoing().stop(work)
    return _answered(request)


def _answered(request: Request) -> Response:
    here = request.query_params.get("design", "")
    found = lines(request, here)
    if wants_json(request):
        return JSONResponse({"ongoing": [_data(each) for each in found]})
    return fragment(request, "_ongoing.html", ongoing=found, here=here)


def _data(line: Line) -> dict[str, Any]:
    work = line.work
    return {
        "work": work.id,
        "kind": work.kind,
        "design": work.design,
        "make": work.make.rpartition("/")[2].removesuffix(".yaml"),
        "words": line.words,
        "share": round(work.share, 3),
        "message": work.message,
    }


ROUTES = [
    Route("/ongoing", _show),
    Route("/ongoing/stop", _stop, methods=["POST"]),
]
