"""Remnants in the cut room: written down, changed, taken away, and shown as they are."""

from __future__ import annotations

from dataclasses import dataclass

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from clothwise.app.pages import fragment
from clothwise.app.rooms.cut_changes import (
    also_told,
    committed,
    in_unit,
    make_of,
    name_from,
    text_in,
    unit_of,
)
from clothwise.app.rooms.cut_cloths import addresses, document_of_stash, roles_of, stash_of
from clothwise.app.rooms.cut_flaws import told_flaws
from clothwise.app.rooms.cut_pads import Pad, pad_of
from clothwise.app.rooms.cut_refused import tells_fields
from clothwise.app.rooms.cut_shapes import LONGEST_TEXT, first_shape
from clothwise.errors import Misuse
from clothwise.pattern.commands import Command, RemoveRemnant, SetRemnant
from clothwise.pattern.document import RemnantEntry
from clothwise.pattern.document.outline_entry import outline_from_text, outline_text
from clothwise.units import LengthUnit

__all__ = ["ROUTES", "RemnantInStash", "remnants_of"]

_FIELDS = (
    *("title", "length", "width", "outline", "holes", "color", "pattern", "fiber"),
    *("nap", "wrong_side_usable", "grainless", "shrinkage_along", "shrinkage_across"),
)


@dataclass(frozen=True)
class RemnantInStash:
    """A remnant as the page shows it: what the stash states, its drawing, flaws and holes."""

    entry: RemnantEntry
    pad: Pad
    flaws: tuple[str, ...]
    holes: tuple[str, ...]
    corners: str


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


@tells_fields
async def _remnant(request: Request) -> Response:
    """Add a remnant to the stash of the make, change one, or take one away."""
    async with request.form() as form:
        command = await run_in_threadpool(_remnant_command, request, form)
        answer = await committed(request, form, command)
        is_new = not (text_in(form, "name") or text_in(form, "away"))
        return also_told(answer, "cw:added") if is_new else answer


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
        corners = outline_from_text(text_in(form, "outline"), unit=unit_of(request).value)
        fields["outline"] = outline_text(corners)
        if "holes" in form:
            fields["holes"] = text_in(form, "holes")[:LONGEST_TEXT]
        fields |= {"length": "", "width": ""}
    elif text_in(form, "name"):
        fields["outline"] = ""
    if "roles" in form or text_in(form, "has_roles"):
        fields["roles"] = ", ".join(str(each) for each in form.getlist("roles"))
    return in_unit(request, fields)


def _stated(entry: RemnantEntry) -> dict[str, str]:
    plain = {name: getattr(entry, name) for name in _FIELDS if name not in ("outline", "holes")}
    return {**plain, "outline": outline_text(entry.outline), "roles": ", ".join(entry.roles)}


def remnants_of(request: Request) -> tuple[RemnantInStash, ...]:
    """The remnants of the stash, drawn."""
    unit = unit_of(request)
    return tuple(_in_stash(each, unit) for each in stash_of(request).remnants)


def _in_stash(entry: RemnantEntry, unit: LengthUnit) -> RemnantInStash:
    pad = pad_of(
        entry.corners_mm,
        unit=unit,
        holes=[each.corners_mm for each in entry.holes],
        flaws=[each.corners_mm for each in entry.flaws],
    )
    corners = "\n".join(f"{along} {across}" for along, across in entry.outline)
    return RemnantInStash(
        entry, pad, told_flaws(entry.flaws, unit), told_flaws(entry.holes, unit), corners
    )


_AT = "/d/{design}/m/{make}/cut"
ROUTES: list[Route] = [
    Route(f"{_AT}/remnant", _new, methods=["GET"]),
    Route(f"{_AT}/remnant", _remnant, methods=["POST"]),
]
