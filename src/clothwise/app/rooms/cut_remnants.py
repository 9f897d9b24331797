"""Remnants and flaws in the cut room: written down, clicked on squared paper, or from a photo."""

from __future__ import annotations

import json
import posixpath
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData, UploadFile
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from clothwise.app.jobs.cut_flaw import FlawOf
from clothwise.app.jobs.cut_trace import MarksOf, TracedShown, TraceOf
from clothwise.app.pages import fragment, opened
from clothwise.app.rooms.cut_changes import (
    committed,
    in_unit,
    make_of,
    name_from,
    number_in,
    number_of,
    text_in,
    unit_of,
)
from clothwise.app.rooms.cut_pads import Pad, blank_mm, pad_of, spelled
from clothwise.app.rooms.of_make import addressed, asked
from clothwise.app.security.bounds import LARGEST_UPLOAD_BYTES
from clothwise.app.work import ask
from clothwise.errors import ClothwiseError, Misuse
from clothwise.pattern.commands import Command, RemoveRemnant, SetFlaws, SetRemnant
from clothwise.pattern.commands.cloth_commands import flaw_fields
from clothwise.pattern.document import (
    FabricEntry,
    RemnantEntry,
    Stash,
    parse_design,
    parse_make,
    parse_stash,
)
from clothwise.pattern.document.flaw_entry import FlawEntry
from clothwise.pattern.document.outline_entry import (
    OutlineText,
    outline_from_text,
    outline_mm,
    outline_text,
    place_mm,
)
from clothwise.units import LengthUnit, format_length, parse_length

__all__ = [
    "ROUTES",
    "FlawsShown",
    "RemnantInStash",
    "addresses",
    "document_of_stash",
    "first_shape",
    "flaws_of_fabrics",
    "remnants_of",
    "roles_of",
    "stash_of",
]

STASH = "stash.yaml"
FIRST_COLOR = "#8aa0ad"
_KINDS = ("box", "corners", "photo")
_LONGEST_TEXT = 20_000
_LARGER = 1.5
_FIELDS = (
    *("title", "length", "width", "outline", "holes", "color", "pattern", "fiber"),
    *("nap", "wrong_side_usable", "shrinkage_along", "shrinkage_across"),
)


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


@dataclass(frozen=True)
class RemnantInStash:
    """A remnant as the page shows it: what the stash states, its drawing, flaws and holes."""

    entry: RemnantEntry
    pad: Pad
    flaws: tuple[str, ...]
    holes: tuple[str, ...]
    corners: str


@dataclass(frozen=True)
class FlawsShown:
    """The flaws of a fabric in words, whether it is a remnant, and whether it lies doubled."""

    known: tuple[str, ...]
    is_remnant: bool
    is_doubled: bool


# Remnants


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


async def _new(request: Request) -> Response:
    """The form of a new remnant."""
    return await run_in_threadpool(
        fragment,
        request,
        "_cut_remnant.html",
        shape=first_shape(request),
        roles=roles_of(request),
        **addresses(request),
    )


async def _remnant(request: Request) -> Response:
    """Add a remnant to the stash of the make, change one, or take one away."""
    async with request.form() as form:
        command = await run_in_threadpool(_remnant_command, request, form)
        answer = await committed(request, form, command)
        if "HX-Trigger" in answer.headers and not (text_in(form, "name") or text_in(form, "away")):
            happened = {**json.loads(answer.headers["HX-Trigger"]), "cw:added": {}}
            answer.headers["HX-Trigger"] = json.dumps(happened)
        return answer


def _remnant_command(request: Request, form: FormData) -> Command:
    document, is_named = document_of_stash(request)
    stash = stash_of(request)
    away = text_in(form, "away")
    if away:
        return RemoveRemnant(document, away)
    fields = _remnant_fields(request, form)
    make = "" if is_named else make_of(request)
    known = {each.name: each for each in stash.remnants}
    name = text_in(form, "name")
    if name:
        if name not in known:
            raise Misuse(
                f"the stash has no remnant {name[:40]!r}",
                what_to_do="Look at the list again: it may be gone already.",
            )
        before = _stated(known[name])
        fields = {key: text for key, text in fields.items() if text != before.get(key, "")}
        return SetRemnant(document, name, fields, make)
    if "outline" in fields and not fields["outline"]:
        raise Misuse(
            "the remnant has no shape yet",
            what_to_do="Click its corners on the squared paper or write them down; of a photo, "
            "press Find its outline first.",
        )
    if "outline" not in fields and not (fields.get("length") and fields.get("width")):
        raise Misuse(
            "a remnant has a length and a width",
            what_to_do="Measure it along the warp and across it, and write both with their unit.",
        )
    taken = frozenset((*stash.names, *stash.remnant_names))
    name = name_from(fields.get("title", ""), taken=taken, usual="remnant")
    return SetRemnant(document, name, {k: text for k, text in fields.items() if text}, make)


def _remnant_fields(request: Request, form: FormData) -> dict[str, str]:
    """What the form says, by the names that stashes have for it."""
    fields = {
        name: " ".join(text_in(form, name).split())
        for name in _FIELDS
        if name in form and name not in ("outline", "holes")
    }
    kind = text_in(form, "shape") or ("corners" if "outline" in form else "box")
    if kind != "box":
        unit = unit_of(request)
        fields["outline"] = outline_text(_corners(text_in(form, "outline"), unit.value))
        if "holes" in form:
            fields["holes"] = text_in(form, "holes")[:_LONGEST_TEXT]
        fields |= {"length": "", "width": ""}
    elif text_in(form, "name"):
        fields["outline"] = ""
    if "roles" in form or text_in(form, "has_roles"):
        fields["roles"] = ", ".join(str(each) for each in form.getlist("roles"))
    return in_unit(request, fields)


def _stated(entry: RemnantEntry) -> dict[str, str]:
    plain = {name: getattr(entry, name) for name in _FIELDS if name not in ("outline", "holes")}
    return {**plain, "outline": outline_text(entry.outline), "roles": ", ".join(entry.roles)}


# The shape of a new one


def first_shape(request: Request) -> Shape:
    """Return what the form of a new remnant begins with."""
    room = blank_mm(unit_of(request))
    pad = pad_of((), unit=unit_of(request), room_mm=room)
    return Shape("box", "", "", "", "", FIRST_COLOR, room, ("", ""), pad)


def _shape_sent(request: Request, form: FormData, seen: TracedShown | None = None) -> Shape:
    unit = unit_of(request)
    kind = text_in(form, "shape")
    kind = "corners" if seen else kind if kind in _KINDS else "box"
    blank = blank_mm(unit)
    room = (
        min(max(number_in(form, "room_length") or blank[0], 100.0), 20_000.0),
        min(max(number_in(form, "room_width") or blank[1], 100.0), 20_000.0),
    )
    if text_in(form, "do") == "larger":
        room = (min(room[0] * _LARGER, 20_000.0), min(room[1] * _LARGER, 20_000.0))
    text = seen.outline if seen else text_in(form, "outline")[:_LONGEST_TEXT]
    error, corners = "", []
    try:
        corners = [*_corners(text, unit.value)]
    except Misuse as wrong:
        error = f"{wrong.problem}. {wrong.what_to_do}"
    else:
        corners = _after_pointing(form, corners, unit)
        if len(corners) > 2:
            with suppress(ClothwiseError):
                outline_mm(tuple(corners))
            error = _fault_of(corners)
        text = "\n".join(f"{along} {across}" for along, across in corners)
    places = _places(corners)
    holes = seen.holes if seen else text_in(form, "holes")[:_LONGEST_TEXT]
    return Shape(
        kind,
        text_in(form, "length"),
        text_in(form, "width"),
        text,
        holes,
        seen.color if seen else text_in(form, "color") or FIRST_COLOR,
        room,
        (text_in(form, "marks_length"), text_in(form, "marks_width")),
        pad_of(places, unit=unit, room_mm=room, holes=_hole_places(holes)),
        error,
        seen.picture if seen else "",
        seen.facts if seen else (),
    )


def _after_pointing(
    form: FormData, corners: list[tuple[str, str]], unit: LengthUnit
) -> list[tuple[str, str]]:
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


def _fault_of(corners: list[tuple[str, str]]) -> str:
    try:
        outline_mm(tuple(corners))
    except ClothwiseError as wrong:
        return f"{wrong.problem}. {wrong.what_to_do}"
    return ""


def _corners(text: str, unit: str) -> OutlineText:
    return outline_from_text(text, unit=unit)


def _places(corners: list[tuple[str, str]]) -> list[tuple[float, float]]:
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


# Flaws


async def _flaw(request: Request) -> Response:
    """Add a flaw or a hole to a cloth, or take one off the list."""
    async with request.form() as form:
        document, cloth = await run_in_threadpool(_cloth_of, request, form)
        what = text_in(form, "what") or "flaws"
        if what not in ("flaws", "holes"):
            raise Misuse(
                f"cloth has no {what[:20]!r}", what_to_do="Write down flaws, or holes of a remnant."
            )
        known = [flaw_fields(each) for each in getattr(cloth, what, ())]
        away = text_in(form, "away")
        if away:
            if not (away.isascii() and away.isdigit() and int(away) < len(known)):
                raise Misuse(
                    "this stands on the list no more",
                    what_to_do="Look at the list again: it was taken off already.",
                )
            del known[int(away)]
        else:
            known.append(await _new_flaw(request, form, cloth.name))
        return await committed(request, form, SetFlaws(document, cloth.name, tuple(known), what))


async def _new_flaw(request: Request, form: FormData, cloth: str) -> dict[str, str]:
    """A flaw as it was written, or where it was drawn."""
    if "x0" not in form:
        typed = {key: text_in(form, key) for key in ("along", "across", "length", "width")}
        missing = [key for key, text in typed.items() if not text]
        if missing:
            raise Misuse(
                "the flaw does not say where it is",
                how_much=f"missing: {', '.join(missing)}",
                what_to_do="Measure where it begins along and across, how long and how wide it is.",
            )
        return await run_in_threadpool(in_unit, request, typed)
    unit = await run_in_threadpool(unit_of, request)
    start, end = _drawn(form, "0"), _drawn(form, "1")
    if text_in(form, "of") == "fabric":
        job = FlawOf(
            **asked(request),
            fabric=cloth,
            start=start,
            end=end,
            upper=text_in(form, "layer") == "upper",
        )
        along, across, length, width = await ask(job)
    else:
        along, across = min(start[0], end[0]), min(start[1], end[1])
        length, width = max(abs(end[0] - start[0]), 10.0), max(abs(end[1] - start[1]), 10.0)
    fields = {"along": along, "across": across, "length": length, "width": width}
    return {key: _written(value, unit) for key, value in fields.items()}


def _drawn(form: FormData, end: str) -> tuple[float, float]:
    """A place of a drawing in mm from its origin, y upward."""
    scale = number_in(form, "scale") or 1.0
    zero = [number_of(each, "zero") for each in text_in(form, "zero").split()[:2]]
    left, low = zero if len(zero) == 2 else (0.0, 0.0)
    return (number_in(form, f"x{end}") - left) * scale, (low - number_in(form, f"y{end}")) * scale


def _written(length_mm: float, unit: LengthUnit) -> str:
    if unit in (LengthUnit.INCH, LengthUnit.FOOT, LengthUnit.YARD):
        return f"{length_mm / 25.4:.2f}".rstrip("0").rstrip(".") + "in"
    return f"{length_mm / 10:.1f}".rstrip("0").rstrip(".") + "cm"


def _cloth_of(request: Request, form: FormData) -> tuple[str, FabricEntry | RemnantEntry]:
    """The document in which a cloth stands, and what it states there."""
    name = text_in(form, "cloth")
    stash, document = stash_of(request), document_of_stash(request)[0]
    if text_in(form, "of") == "remnant":
        cloths: dict[str, Any] = {each.name: each for each in stash.remnants}
    else:
        cloths = {each.name: each for each in stash.fabrics}
        for each in _make(request).fabrics:
            if each.name == name:
                return make_of(request), each.filled_from(
                    stash.fabric(each.stash)
                ) if each.stash else each
    if name not in cloths:
        raise Misuse(
            f"there is no cloth {name[:40]!r} here",
            what_to_do="Load the page anew; a remnant's flaws are written down with the remnant.",
        )
    return document, cloths[name]


# What the page shows


def stash_of(request: Request) -> Stash:
    """The stash that the make names; an empty one if it names none."""
    document, _ = document_of_stash(request)
    text = opened(request).history.documents.get(document, "")
    return parse_stash(text, file=document) if text else Stash()


def remnants_of(request: Request) -> tuple[RemnantInStash, ...]:
    """The remnants of the stash, drawn."""
    unit = unit_of(request)
    return tuple(_in_stash(each, unit) for each in stash_of(request).remnants)


def flaws_of_fabrics(request: Request) -> Mapping[str, FlawsShown]:
    """What is known of the flaws of each cloth that the make may be cut from, by name."""
    stash, unit = stash_of(request), unit_of(request)
    own = [
        each.filled_from(stash.fabric(each.stash)) if each.stash else each
        for each in _make(request).fabrics
    ]
    cloths = {each.name: each for each in (*stash.fabrics, *own)}
    found = {
        name: FlawsShown(_told(each.flaws, unit), False, each.layers != "single")
        for name, each in cloths.items()
    }
    return {each.name: FlawsShown((), True, False) for each in stash.remnants} | found


def roles_of(request: Request) -> dict[str, str]:
    """Titles of the fabric roles that shell pieces are cut from, by name."""
    documents = opened(request).history.documents
    roles = parse_design(documents["design.yaml"]).roles
    return {name: role.title for name, role in roles.items()}


def addresses(request: Request) -> dict[str, Any]:
    """Addresses for the templates of remnants and flaws."""
    return {
        "to_shape": addressed(request, "cut", "shape"),
        "to_trace": addressed(request, "cut", "trace", "photo"),
        "to_marks": addressed(request, "cut", "marks.pdf"),
        "to_remnant": addressed(request, "cut", "remnant"),
        "to_flaw": addressed(request, "cut", "flaw"),
    }


def _in_stash(entry: RemnantEntry, unit: LengthUnit) -> RemnantInStash:
    pad = pad_of(
        entry.corners_mm,
        unit=unit,
        holes=[each.corners_mm for each in entry.holes],
        flaws=[each.corners_mm for each in entry.flaws],
    )
    corners = "\n".join(f"{along} {across}" for along, across in entry.outline)
    return RemnantInStash(entry, pad, _told(entry.flaws, unit), _told(entry.holes, unit), corners)


def _told(flaws: tuple[FlawEntry, ...], unit: LengthUnit) -> tuple[str, ...]:
    """Where flaws are, in words."""
    found = []
    for each in flaws:
        corners = each.corners_mm
        (left, right), (low, high) = ((min(ends), max(ends)) for ends in zip(*corners, strict=True))
        size = (
            f"{format_length(right - left, unit)} long and {format_length(high - low, unit)} wide"
        )
        place = f"{format_length(left, unit)} along and {format_length(low, unit)} across"
        shape = f", of {len(corners)} corners" if each.outline else ""
        found.append(f"{size}{shape}, from {place}")
    return tuple(found)


def _make(request: Request) -> Any:
    name = make_of(request)
    return parse_make(opened(request).history.documents[name], file=name)


def document_of_stash(request: Request) -> tuple[str, bool]:
    """The document of the stash of the make, and whether the make names it already."""
    name, make = make_of(request), _make(request)
    if not make.stash:
        return STASH, False
    return posixpath.normpath(posixpath.join(posixpath.dirname(name), make.stash)), True


_AT = "/d/{design}/m/{make}/cut"
ROUTES: list[Route] = [
    Route(f"{_AT}/shape", _shape, methods=["POST"]),
    Route(f"{_AT}/trace/photo", _trace, methods=["POST"]),
    Route(f"{_AT}/marks.pdf", _marks, methods=["GET"]),
    Route(f"{_AT}/remnant", _new, methods=["GET"]),
    Route(f"{_AT}/remnant", _remnant, methods=["POST"]),
    Route(f"{_AT}/flaw", _flaw, methods=["POST"]),
]
