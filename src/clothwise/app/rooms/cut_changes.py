"""How changes are read from the forms of the cut room, and made."""

from __future__ import annotations

import json
import re

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import JSONResponse, RedirectResponse, Response

from clothwise.app.pages import after_commit, opened, preferences, wants_json
from clothwise.app.rooms.of_make import addressed
from clothwise.errors import Misuse
from clothwise.pattern.commands import Command
from clothwise.pattern.document import parse_design, parse_make
from clothwise.units import LengthUnit

__all__ = [
    "also_told",
    "committed",
    "in_unit",
    "make_of",
    "name_from",
    "number_in",
    "number_of",
    "text_in",
    "unit_of",
    "work_key",
]


_LENGTHS = (
    *("photo_width", "length", "width", "usable_width", "along", "across"),
    *(f"repeat.{each}" for each in ("along", "across", "start_along", "start_across", "border")),
)
_SHARES = ("shrinkage_along", "shrinkage_across", "stretch", "phase_along", "phase_across")
_SIGNS = {"thickness": "mm", "off_grain": "deg"}
_BARE = re.compile(r"\d+(\.\d+)?( \d+/\d+)?|\d+/\d+")


async def committed(request: Request, form: FormData, *commands: Command) -> Response:
    """Make changes; the parts of the page that follow from them ask for themselves.

    Raises:
        Conflict, CommandError, DocumentError, OutputError: as `History.commit`; what had to be
            done before it is done.
    """
    history = opened(request).history
    base = text_in(form, "base") or history.head
    for command in commands:
        entry = await run_in_threadpool(history.commit, base, command)
        base = entry.id
    headers = after_commit(request, entry)
    if wants_json(request):
        return JSONResponse({"id": entry.id, "words": entry.words}, headers=headers)
    if "HX-Request" in request.headers:
        return Response(status_code=204, headers=headers)
    return RedirectResponse(addressed(request, "cut"), 303, headers=headers)


def also_told(answer: Response, event: str, detail: str = "") -> Response:
    """The answer to a change, which sends one more event to the page: something new is there."""
    if "HX-Trigger" in answer.headers:
        happened = {**json.loads(answer.headers["HX-Trigger"]), event: {"name": detail}}
        answer.headers["HX-Trigger"] = json.dumps(happened)
    return answer


def make_of(request: Request) -> str:
    """The document of the make that a request is about."""
    return opened(request).make_document(request.path_params["make"])


def work_key(request: Request) -> tuple[str, str]:
    """The design and the make by which long work is known."""
    return opened(request).name, make_of(request)


def text_in(form: FormData, name: str) -> str:
    """What stands in a field; empty if it is not there."""
    value = form.get(name, "")
    return value.strip() if isinstance(value, str) else ""


def unit_of(request: Request) -> LengthUnit:
    """The unit of length that the room shows."""
    design, make = opened(request), make_of(request)
    documents = design.history.documents
    liked = preferences(request).length_unit or parse_make(documents[make], file=make).unit
    return liked or parse_design(documents["design.yaml"]).unit


def in_unit(request: Request, fields: dict[str, str]) -> dict[str, str]:
    """Give lengths that are bare numbers the unit that the room shows, shares the percent sign."""
    signs = dict.fromkeys(_LENGTHS, unit_of(request).value)
    signs |= dict.fromkeys(_SHARES, "%") | _SIGNS
    return {
        name: f"{text}{signs[name]}" if name in signs and _BARE.fullmatch(text) else text
        for name, text in fields.items()
    }


def number_in(form: FormData, name: str) -> float:
    """A number of millimeters in a field; 0 if it is not there.

    Raises:
        Misuse: it is none.
    """
    return number_of(text_in(form, name), name)


def number_of(text: str, name: str) -> float:
    """A number of millimeters; 0 if nothing is written.

    Raises:
        Misuse: it is none.
    """
    if not text:
        return 0.0
    if not re.fullmatch(r"-?\d{1,6}(\.\d{1,6})?", text):
        raise Misuse(
            f"{name} is no number of millimeters",
            how_much=text[:20],
            what_to_do="Drag the piece again, or write where it is to lie.",
        )
    return float(text)


def name_from(title: str, *, taken: frozenset[str] = frozenset(), usual: str = "fabric") -> str:
    """A name for something new, made of its title.

    >>> name_from("Moss & wool"), name_from("", taken=frozenset({"fabric"}))
    ('moss-wool', 'fabric-2')
    """
    name = re.sub(r"[^a-z0-9]+", "-", title.casefold()).strip("-")[:40].strip("-")
    name = name if name[:1].isalpha() else f"{usual}-{name}".strip("-")
    number = 2
    free = name
    while free in taken:
        free, number = f"{name}-{number}", number + 1
    return free
