"""Where stripes and checks run on from piece to piece, as the maker wants it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from clothwise.app.jobs.cut_matches import MatchPlacesOf, PlacesOfPiece
from clothwise.app.pages import fragment, opened
from clothwise.app.rooms.cut_changes import committed, in_unit, make_of, name_from, text_in
from clothwise.app.rooms.cut_cloths import fabrics_of, stash_of, stated_make
from clothwise.app.rooms.cut_fabrics import LINED_FIGURES
from clothwise.app.rooms.of_make import addressed, asked
from clothwise.app.work import JobCancelled, Superseded, ask
from clothwise.errors import ClothwiseError, Misuse
from clothwise.pattern.commands import SetMatch
from clothwise.pattern.document import Make, MatchEntry, parse_design
from clothwise.pattern.document.match_entry import MATCH_RULES

__all__ = ["ROUTES"]

_RULES: Mapping[str, tuple[str, str]] = {
    "seams": ("Side seams, panel seams and gore seams", "crosswise lines meet"),
    "centers": ("Center front and center back", "they lie on a line along, or between two"),
    "pockets": ("Patch pockets", "they vanish on what they are sewn to"),
    "sleeves": ("Sleeve and front, at the front notch", "crosswise lines meet"),
    "waist": ("Over the waist seam, at the center", "they need not meet"),
    "border": ("Finished hems", "they lie on the border of the cloth"),
}
"""What meets by rule, and how where nobody says otherwise."""
DIRECTIONS: Mapping[str, str] = {
    "along": "crosswise lines meet",
    "across": "lengthwise lines meet",
    "both": "lines of both ways meet",
    "none": "they need not meet",
}
MOST_POINTS = 4
"""Of one's own, that the form has room for."""


@dataclass(frozen=True)
class RuleShown:
    """A rule: its name, what meets, how as usual, and what the make says."""

    name: str
    title: str
    usual: str
    entry: MatchEntry


async def _matches(request: Request) -> Response:
    """Show what meets; where no cloth has a repeat, how one says that it has."""
    make = await run_in_threadpool(stated_make, request)
    striped = await run_in_threadpool(_striped, request, make)
    places: tuple[PlacesOfPiece, ...] = ()
    if striped:
        try:
            places = await ask(MatchPlacesOf(**asked(request)))
        except (Superseded, JobCancelled):
            return Response(status_code=204)
        except ClothwiseError:  # the garment says itself why it cannot be drawn
            places = ()
    return fragment(
        request,
        "_cut_matches.html",
        striped=striped,
        unmeasured=await run_in_threadpool(_unmeasured, request),
        rules=_rules(request, make),
        own=[each for each in make.matches if each.name not in MATCH_RULES],
        titles={each.piece: each.title for each in places},
        places=places,
        directions=DIRECTIONS,
        most_points=MOST_POINTS,
        to_match=addressed(request, "cut", "match"),
        to_matches=addressed(request, "cut", "matches"),
    )


async def _match(request: Request) -> Response:
    """Write what meets under one name, or leave it to the rule again."""
    async with request.form() as form:
        command = await run_in_threadpool(_match_command, request, form)
        return await committed(request, form, command)


def _match_command(request: Request, form: FormData) -> SetMatch:
    make = stated_make(request)
    name = text_in(form, "name")
    if text_in(form, "away"):
        return SetMatch(make_of(request), name, {})
    known = {each.name for each in make.matches}
    if name not in MATCH_RULES:
        taken = frozenset((*known, *MATCH_RULES))
        name = name_from(text_in(form, "title"), taken=taken, usual="points")
    fields = {key: text_in(form, key) for key in ("directions", "phase_along", "phase_across")}
    fields = in_unit(request, fields)
    if name not in MATCH_RULES:
        fields |= _points(form)
    return SetMatch(make_of(request), name, {key: text for key, text in fields.items() if text})


def _points(form: FormData) -> dict[str, str]:
    """The places that were chosen, each as `piece: place`."""
    points: dict[str, str] = {}
    for each in form.getlist("points"):
        piece, _, place = str(each).partition(": ")
        if not piece:
            continue
        if f"points.{piece}" in points:
            raise Misuse(
                "two places were chosen on one piece",
                how_much=f"{points[f'points.{piece}']} and {place}"[:80],
                what_to_do="Choose one place on each piece; for another pair add points again.",
            )
        points[f"points.{piece}"] = place
    if not points:
        raise Misuse(
            "no place was chosen",
            what_to_do="Choose a place on each of two pieces that are to meet, or one place and "
            "where on the pattern it is to lie.",
        )
    return points


def _striped(request: Request, make: Make) -> tuple[str, ...]:
    """Titles of the fabrics whose pattern comes again."""
    stash = stash_of(request)
    named = {*make.roles.values(), *make.copies.values()}
    own = fabrics_of(request)
    names = {each.name for each in own}
    others = [each for each in stash.fabrics if each.name in named and each.name not in names]
    return tuple(each.title or each.name for each in (*own, *others) if each.repeat)


def _unmeasured(request: Request) -> tuple[str, ...]:
    """Titles of the fabrics with lines whose repeat is not written down."""
    return tuple(
        each.title or each.name
        for each in fabrics_of(request)
        if each.pattern in LINED_FIGURES and not each.repeat
    )


def _rules(request: Request, make: Make) -> list[RuleShown]:
    design = parse_design(opened(request).history.documents["design.yaml"])
    stated = {each.name: each for each in make.matches}
    by_design = {each.name: each for each in design.matches}
    found = []
    for name, (title, usual) in _RULES.items():
        said = by_design.get(name)
        if said is not None:
            usual = f"{DIRECTIONS.get(said.directions, usual)}, as the design says"
        found.append(RuleShown(name, title, usual, stated.get(name, MatchEntry(name))))
    return found


_AT = "/d/{design}/m/{make}/cut"
ROUTES: list[Route] = [
    Route(f"{_AT}/matches", _matches, methods=["GET"]),
    Route(f"{_AT}/match", _match, methods=["POST"]),
]
