"""The shape of a remnant: written down, clicked on squared paper, or found in a photo."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData, UploadFile
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from clothwise.app.jobs.cut_trace import MarksOf, TracedShown, TraceOf
from clothwise.app.pages import fragment
from clothwise.app.rooms.cut_changes import number_in, text_in, unit_of
from clothwise.app.rooms.cut_cloths import addresses
from clothwise.app.rooms.cut_pads import Pad, blank_mm, pad_of, spelled
from clothwise.app.security.bounds import LARGEST_UPLOAD_BYTES
from clothwise.app.work import ask
from clothwise.errors import ClothwiseError, Misuse
from clothwise.pattern.document.outline_entry import (
    CornerText,
    OutlineText,
    outline_from_text,
    outline_mm,
    place_mm,
)
from clothwise.units import LengthUnit, parse_length

__all__ = ["LONGEST_TEXT", "ROUTES", "Shape", "first_shape"]

FIRST_COLOR = "#8aa0ad"
LONGEST_TEXT = 20_000
"""Of corners as they are written; a thousand corners take less."""
_KINDS = ("box", "corners", "photo")
_LARGER = 1.5
_LEAST_ROOM_MM, _MOST_ROOM_MM = 100.0, 20_000.0


@dataclass(frozen=True)
class Shape:
    """What the form of a new remnant says of its shape.

    Attributes:
        kind: `box`, `corners` or `photo`.
        length, width: of a rectangle, as written.
        outline: corners as written, one on each line.
        holes: as `SetRemnant` takes them.
        color: of the cloth.
        room: length and width of the squared paper, mm.
        marks: how far apart the marks of a photo are, as written.
        pad: the squared paper.
        error: what is wrong with the corners; empty if nothing is.
        picture, facts: of a photo, see `TracedShown`.
    """

    kind: str
    length: str
    width: str
    outline: str
    holes: str
    color: str
    room: tuple[float, float]
    marks: tuple[str, str]
    pad: Pad
    error: str = ""
    picture: str = ""
    facts: tuple[str, ...] = ()


async def _shape(request: Request) -> Response:
    """Show the shape as it is after a click, a change or another way to say it."""
    async with request.form() as form:
        shape = await run_in_threadpool(_shape_sent, request, form)
    return _shape_shown(request, shape)


async def _trace(request: Request) -> Response:
    """Find the outline of the cloth in a photo."""
    async with request.form(max_files=1, max_fields=60) as form:
        file = form.get("photo")
        if not isinstance(file, UploadFile) or not file.filename:
            raise Misuse(
                "no photo was chosen",
                what_to_do="Choose a JPEG or PNG of the remnant with the four marks around it.",
            )
        unit = await run_in_threadpool(unit_of, request)
        length, width = (
            _between_marks(text_in(form, name), unit) for name in ("marks_length", "marks_width")
        )
        content = await file.read(LARGEST_UPLOAD_BYTES)
        seen: TracedShown = await ask(TraceOf(content, file.filename, length, width, unit.value))
        shape = await run_in_threadpool(_shape_sent, request, form, seen)
    return _shape_shown(request, shape)


async def _marks(request: Request) -> Response:
    """The page with the four marks, as PDF."""
    paper = "letter" if request.query_params.get("paper") == "letter" else "a4"
    content: bytes = await ask(MarksOf(paper))
    return Response(
        content,
        media_type="application/pdf",
        headers={"Content-Disposition": 'inline; filename="marks.pdf"'},
    )


def first_shape(request: Request) -> Shape:
    """Return what the form of a new remnant begins with."""
    room = blank_mm(unit_of(request))
    pad = pad_of((), unit=unit_of(request), room_mm=room)
    return Shape("box", "", "", "", "", FIRST_COLOR, room, ("", ""), pad)


def _shape_sent(request: Request, form: FormData, seen: TracedShown | None = None) -> Shape:
    unit = unit_of(request)
    kind = text_in(form, "shape")
    kind = "corners" if seen else kind if kind in _KINDS else "box"
    room = _room(form, unit)
    text = seen.outline if seen else text_in(form, "outline")[:LONGEST_TEXT]
    corners: list[CornerText] = []
    try:
        corners = _after_pointing(form, [*outline_from_text(text, unit=unit.value)], unit)
    except Misuse as wrong:
        error = f"{wrong.problem}. {wrong.what_to_do}"
    else:
        error = _fault_of(tuple(corners)) if len(corners) > 2 else ""
        text = "\n".join(f"{along} {across}" for along, across in corners)
    holes = seen.holes if seen else text_in(form, "holes")[:LONGEST_TEXT]
    return Shape(
        kind,
        text_in(form, "length"),
        text_in(form, "width"),
        text,
        holes,
        seen.color if seen else text_in(form, "color") or FIRST_COLOR,
        room,
        (text_in(form, "marks_length"), text_in(form, "marks_width")),
        pad_of(_places(corners), unit=unit, room_mm=room, holes=_hole_places(holes)),
        error,
        seen.picture if seen else "",
        seen.facts if seen else (),
    )


def _room(form: FormData, unit: LengthUnit) -> tuple[float, float]:
    """How large the squared paper is."""
    times = _LARGER if text_in(form, "do") == "larger" else 1.0
    length, width = (
        min(max((number_in(form, name) or usual) * times, _LEAST_ROOM_MM), _MOST_ROOM_MM)
        for name, usual in zip(("room_length", "room_width"), blank_mm(unit), strict=True)
    )
    return length, width


def _after_pointing(
    form: FormData, corners: list[CornerText], unit: LengthUnit
) -> list[CornerText]:
    """The corners after one was added, moved or taken back."""
    if text_in(form, "do") == "back":
        return corners[:-1]
    if not (text_in(form, "x") and text_in(form, "y")):
        return corners
    place = (
        spelled(number_in(form, "x"), unit),
        spelled(-number_in(form, "y"), unit),
    )
    which = text_in(form, "corner")
    if which.isascii() and which.isdigit() and int(which) < len(corners):
        corners[int(which)] = place
        return corners
    return corners if corners and corners[-1] == place else [*corners, place]


def _fault_of(corners: OutlineText) -> str:
    try:
        outline_mm(corners)
    except ClothwiseError as wrong:
        return f"{wrong.problem}. {wrong.what_to_do}"
    return ""


def _places(corners: list[CornerText]) -> list[tuple[float, float]]:
    """Where corners are, as far as they can be read."""
    found = []
    for along, across in corners:
        with suppress(ClothwiseError):
            found.append((place_mm(along), place_mm(across)))
    return found


def _hole_places(text: str) -> list[list[tuple[float, float]]]:
    with suppress(ClothwiseError):
        return [_places([*outline_from_text(each)]) for each in text.split("|") if each.strip()]
    return []


def _between_marks(text: str, unit: LengthUnit) -> float:
    if not text:
        raise Misuse(
            "it is not said how far apart the marks are",
            what_to_do="Measure from the middle of mark 1 to that of mark 2, and from 2 to 3, and "
            "write both down.",
        )
    return parse_length(text, default_unit=unit)


def _shape_shown(request: Request, shape: Shape) -> Response:
    return fragment(request, "_cut_shape.html", shape=shape, **addresses(request))


_AT = "/d/{design}/m/{make}/cut"
ROUTES: list[Route] = [
    Route(f"{_AT}/shape", _shape, methods=["POST"]),
    Route(f"{_AT}/trace/photo", _trace, methods=["POST"]),
    Route(f"{_AT}/marks.pdf", _marks, methods=["GET"]),
]
