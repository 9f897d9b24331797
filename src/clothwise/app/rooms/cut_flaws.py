"""Flaws of cloth and holes of remnants: written down, or drawn where they are."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from clothwise.app.jobs.cut_flaw import FlawOf
from clothwise.app.rooms.cut_changes import (
    committed,
    in_unit,
    make_of,
    number_in,
    number_of,
    text_in,
    unit_of,
)
from clothwise.app.rooms.cut_cloths import document_of_stash, fabrics_of, stash_of
from clothwise.app.rooms.of_make import asked
from clothwise.app.work import ask
from clothwise.errors import Misuse
from clothwise.pattern.commands import SetFlaws
from clothwise.pattern.commands.cloth_commands import flaw_fields
from clothwise.pattern.document import FabricEntry, RemnantEntry
from clothwise.pattern.document.flaw_entry import FlawEntry
from clothwise.units import LengthUnit, format_length

__all__ = ["ROUTES", "FlawsShown", "flaws_of_fabrics", "told_flaws"]

_SMALLEST_MM = 10.0
"""A flaw that is only touched on squared paper is taken to be this large; our own choice."""


@dataclass(frozen=True)
class FlawsShown:
    """The flaws of a fabric in words, whether it is a remnant, and whether it lies doubled."""

    known: tuple[str, ...]
    is_remnant: bool
    is_doubled: bool


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
        length, width = (
            max(abs(one - other), _SMALLEST_MM) for one, other in zip(start, end, strict=True)
        )
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
    name, stash = text_in(form, "cloth"), stash_of(request)
    cloths: dict[str, FabricEntry | RemnantEntry] = {}
    if text_in(form, "of") == "remnant":
        cloths |= {each.name: each for each in stash.remnants}
    else:
        own = {each.name: each for each in fabrics_of(request)}
        if name in own:
            return make_of(request), own[name]
        cloths |= {each.name: each for each in stash.fabrics}
    if name not in cloths:
        raise Misuse(
            f"there is no cloth {name[:40]!r} here",
            what_to_do="Load the page anew; a remnant's flaws are written down with the remnant.",
        )
    return document_of_stash(request)[0], cloths[name]


def flaws_of_fabrics(request: Request) -> Mapping[str, FlawsShown]:
    """What is known of the flaws of each cloth that the make may be cut from, by name."""
    stash, unit = stash_of(request), unit_of(request)
    cloths = {each.name: each for each in (*stash.fabrics, *fabrics_of(request))}
    found = {
        name: FlawsShown(told_flaws(each.flaws, unit), False, each.layers != "single")
        for name, each in cloths.items()
    }
    return {each.name: FlawsShown((), True, False) for each in stash.remnants} | found


def told_flaws(flaws: tuple[FlawEntry, ...], unit: LengthUnit) -> tuple[str, ...]:
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


_AT = "/d/{design}/m/{make}/cut"
ROUTES: list[Route] = [Route(f"{_AT}/flaw", _flaw, methods=["POST"])]
