"""Pages and parts of pages, refusals in four parts, and what a change tells the page.

Rooms use these five: `page`, `fragment`, `refusal`, `opened`, `after_commit`.

Templates escape everything. Every template may use, beside what it is given:

    csrf(), base_field()   hidden fields that every form which changes something carries
    asset("style/x.css")   the address of a file in `static/`, with its version
    address("/d/…")        an address with its parts quoted: address("d", design.name, "draft")
    design                 the `OpenDesign` the page is about, or None
    liking                 the `Preferences`
    rooms                  the rooms there are, with their addresses for this design and make
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import asdict
from functools import cache
from hashlib import sha256
from pathlib import Path
from secrets import token_hex
from typing import Any, Literal
from urllib.parse import quote, urlsplit

from jinja2 import Environment, FileSystemLoader, StrictUndefined, pass_context
from jinja2.runtime import Context
from markupsafe import Markup
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, Response

from clothwise.app.opening import OpenDesign, opened, preferences, shop
from clothwise.app.security import visitor
from clothwise.app.work.errors import JobRefused
from clothwise.app.work.events import publish
from clothwise.errors import ClothwiseError, DocumentError, MeasurementError
from clothwise.pattern.history import Conflict, Entry

__all__ = [
    "after_commit",
    "fragment",
    "opened",
    "page",
    "preferences",
    "refusal",
    "shop",
    "told_of",
    "wants_json",
]

WINDOW_HEADER = "x-clothwise-window"
HERE = Path(__file__).resolve().parent
STATIC = HERE / "static"

Work = Literal["kept", "unchanged"]
_WORK: Mapping[str, str] = {
    "kept": "Your change is kept; undo takes it back.",
    "unchanged": "Nothing was changed; your work is as it was.",
}
_FAULTS_SHOWN = 12


def page(
    request: Request,
    template: str,
    *,
    shown: Any = None,
    status: int = 200,
    headers: Mapping[str, str] | None = None,
    **data: Any,
) -> HTMLResponse:
    """Return a whole page.

    Args:
        request: that it answers.
        template: that extends `base.html`.
        shown: what it looks at (`app.work.Shown`); its make is the one that rooms lead to.
        status: of the answer.
        headers: further ones.
        **data: what the template needs besides.
    """
    if "HX-Request" in request.headers and request.headers.get("HX-Request-Type") == "partial":
        headers = {**(headers or {}), "HX-Retarget": "body"}
    return _rendered(request, template, status, headers, {"shown": shown, **data})


def fragment(
    request: Request,
    template: str,
    *,
    status: int = 200,
    headers: Mapping[str, str] | None = None,
    **data: Any,
) -> HTMLResponse:
    """Return a part of a page, to be swapped in; its template begins with `_`."""
    return _rendered(request, template, status, headers, {"shown": None, **data})


def refusal(
    request: Request, error: ClothwiseError, work: Work = "unchanged", *, status: int = 0
) -> Response:
    """Return what went wrong, where, by how much, what to do, and what became of the work.

    A script gets it as data; a part of a page shows it at the top of the page and changes nothing
    else; otherwise it is a page of its own.

    Args:
        request: that is refused.
        error: in four parts.
        work: what happened to it.
        status: of the answer; 409 for a conflict, else 422, unless given.
    """
    code = status or (409 if isinstance(error, Conflict) else 422)
    told = told_of(request, error)
    if wants_json(request):
        return JSONResponse({"error": {**told, "work": _WORK[work]}}, code)
    data: dict[str, Any] = {"told": told, "work": _WORK[work], "conflict": _conflict(error)}
    data["back"] = urlsplit(request.headers.get("hx-current-url", "")).path
    if "HX-Request" in request.headers:
        there = {"HX-Retarget": "#refusal", "HX-Reswap": "innerHTML"}
        return fragment(request, "_refusal.html", status=code, headers=there, **data)
    return page(request, "error.html", status=code, **data)


def after_commit(request: Request, entry: Entry) -> dict[str, str]:
    """Return the headers of an answer to a change; every part of the page follows them.

    On the page the event `cw:changed` is sent to the body with `{head, words}`: parts that show
    what follows from the documents ask for themselves anew (`hx-trigger="cw:changed from:body"`).
    Other windows hear it from the design's stream of events.
    """
    design = opened(request)
    detail = {"head": design.history.head, "words": entry.words}
    window = request.headers.get(WINDOW_HEADER, "")[:40]
    publish(design.name, "changed", json.dumps({**detail, "window": window}))
    return {"HX-Trigger": json.dumps({"cw:changed": detail}), "X-Clothwise-Head": detail["head"]}


def wants_json(request: Request) -> bool:
    """Tell whether a script asks, and not a page."""
    accepted = request.headers.get("accept", "")
    return "application/json" in accepted and "text/html" not in accepted


# Templates


@cache
def _environment() -> Environment:
    environment = Environment(
        loader=FileSystemLoader(HERE / "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
    )
    environment.globals.update(
        csrf=_csrf, base_field=_base_field, asset=asset, address=address, initial=_initial
    )
    return environment


def _rendered(
    request: Request,
    template: str,
    status: int,
    headers: Mapping[str, str] | None,
    data: dict[str, Any],
) -> HTMLResponse:
    from clothwise.app.rooms.ongoing import lines
    from clothwise.app.rooms.tour import STOPS
    from clothwise.app.routes import rooms_of

    design = data.pop("design", None) or _design(request)
    shown = data["shown"]
    make = request.path_params.get("make") or _stem(getattr(shown, "make", ""))
    context = {
        "request": request,
        "design": design,
        "make": make,
        "rooms": rooms_of(design, make),
        "room": request.url.path.rpartition("/")[2],
        "liking": preferences(request),
        "csrf_token": visitor(request).csrf,
        "head": design.history.head if design else "",
        "is_local": shop(request).settings.is_local,
        "window": token_hex(6),
        "stops": STOPS,
        "ongoing": lines(request, design.name if design else ""),
        **data,
    }
    text = _environment().get_template(template).render(context)
    return HTMLResponse(text, status, headers)


def _design(request: Request) -> OpenDesign | None:
    if "design" not in request.path_params:
        return None
    try:
        return opened(request)
    except ClothwiseError:
        return None  # the page says so itself


def _stem(document: str) -> str:
    return document.rpartition("/")[2].removesuffix(".yaml")


@pass_context
def _csrf(context: Context) -> Markup:
    return Markup('<input type="hidden" name="csrf" value="{}">').format(context["csrf_token"])


@pass_context
def _base_field(context: Context) -> Markup:
    return Markup('<input type="hidden" name="base" value="{}">').format(context["head"])


def address(*parts: str) -> str:
    """Return an address of ours, each part quoted.

    >>> address("d", "kiln dress", "draft")
    '/d/kiln%20dress/draft'
    """
    return "/" + "/".join(quote(part, safe="") for part in parts if part)


@cache
def asset(name: str) -> str:
    """Return the address of a file in `static/`; it changes when the file does."""
    version = sha256((STATIC / name).read_bytes()).hexdigest()[:10]
    return f"/static/{quote(name)}?v={version}"


def _initial(text: str) -> str:
    """Return a sentence with its first letter as a capital."""
    return text[:1].upper() + text[1:]


# Refusals


def told_of(request: Request, error: ClothwiseError) -> dict[str, Any]:
    """Return an error as data, with paths as they stand in the workspace."""
    told: dict[str, Any] = {
        "what": error.what,
        "where": error.where,
        "how_much": error.how_much,
        "what_to_do": error.what_to_do,
        "faults": [],
    }
    faults = _faults(error)
    if len(faults) == 1:
        told |= faults[0]
    elif faults:
        told["what"] = f"{len(faults)} things have to be mended first"
        told["what_to_do"] = ""
        told["faults"] = [_in_one_line(fault) for fault in faults[:_FAULTS_SHOWN]]
        if len(faults) > _FAULTS_SHOWN:
            told["how_much"] = f"the first {_FAULTS_SHOWN} are listed"
    folder = str(shop(request).workspace.folder.resolve())
    cleaned: dict[str, Any] = json.loads(
        json.dumps(told).replace(json.dumps(f"{folder}/")[1:-1], "")
    )
    return cleaned


def _faults(error: ClothwiseError) -> list[dict[str, str]]:
    """The faults of a document or of a body, each in four parts."""
    if isinstance(error, DocumentError | MeasurementError):
        return [_in_four_parts(error, asdict(fault)) for fault in error.faults]
    if isinstance(error, JobRefused) and error.kind in ("DocumentError", "MeasurementError"):
        return [_in_four_parts(error, fault) for fault in error.faults]
    return []


def _in_four_parts(error: ClothwiseError, fault: Mapping[str, Any]) -> dict[str, str]:
    line = f"line {fault['line']}" if fault.get("line") else ""
    place = [str(fault.get("file", "")), line, str(fault.get("path", ""))]
    return {
        "what": str(fault["what"]),
        "where": ", ".join(part for part in place if part) or error.where,
        "how_much": str(fault.get("how_much", "")),
        "what_to_do": str(fault.get("remedy", "")),
    }


def _in_one_line(fault: Mapping[str, str]) -> str:
    how_much = f" ({fault['how_much']})" if fault["how_much"] else ""
    return f"{fault['where']}: {fault['what']}{how_much}. {fault['what_to_do']}".strip()


def _conflict(error: ClothwiseError) -> dict[str, Any] | None:
    if not isinstance(error, Conflict):
        return None
    return {
        "mine": error.mine.id if error.mine else "",
        "words": error.mine.words if error.mine else "",
        "theirs": [entry.words for entry in error.theirs],
    }
