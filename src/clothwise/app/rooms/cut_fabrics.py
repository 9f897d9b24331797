"""What the forms of fabrics offer, fabrics of the stash, and how the maker cuts."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, fields

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from clothwise.app.jobs.cut_garment import FABRIC_FIELDS, fabric_fields
from clothwise.app.pages import opened
from clothwise.app.rooms.cut_changes import committed, in_unit, make_of, text_in
from clothwise.app.rooms.cut_cloths import document_of_stash, stash_of, stated_make
from clothwise.app.rooms.cut_refused import FIELD_TITLES, FieldRefused, tells_fields
from clothwise.errors import Misuse
from clothwise.pattern.commands import SetFabric, SetMake, SetStashFabric
from clothwise.pattern.document import parse_design
from clothwise.pattern.document.cutting_entry import CuttingEntry
from clothwise.pattern.document.fabric_entry import parse_price

__all__ = [
    "CUTTING_CHOICES",
    "FABRIC_CHOICES",
    "FIGURE_HINTS",
    "LINED_FIGURES",
    "ROUTES",
    "UNCHOSEN_COLOR",
    "RoleShown",
    "changed_fields",
    "cutting_of",
    "roles_shown",
    "with_currency",
]

UNCHOSEN_COLOR = "#cdbb96"
"""Stands in the form of a fabric that states no color, as such a field cannot be empty."""

FABRIC_CHOICES: Mapping[str, Mapping[str, str]] = {
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
        "partly folded": "one selvage folded over, as deep as needed",
        "folded to the middle": "both selvages folded to the middle",
        "folded crosswise": "folded crosswise",
        "face to face": "in two lengths, face to face",
    },
    "wrong_side_usable": {
        "no": "right side up only",
        "yes": "either side up, as both sides look alike",
    },
    "grainless": {
        "no": "it has one: pieces lie along it",
        "yes": "none, as nonwoven: pieces lie any way round, at quarter turns too",
    },
    "nap": {"none": "either way up", "one way": "all one way (nap or one-way print)"},
}

FIGURE_HINTS: Mapping[str, str] = {
    "stripe": "Stripes run on from piece to piece only if their repeat is known: write below how "
    "far it is across the width until they look the same again.",
    "crosswise": "Stripes meet at the seams only if their repeat is known: write below how far it "
    "is along the length until they look the same again.",
    "check": "Checks meet at the seams only if their repeat is known: write below how far it is "
    "along the length, and across the width, until they look the same again.",
    "dots": "If the dots are to meet at the seams, write below how far it is until they come "
    "again; else leave the repeat empty.",
    "sprigs": "If the print is to meet at the seams, write below how far it is until it comes "
    "again; else leave the repeat empty.",
}
"""What a figure means for cutting, told when it is chosen."""

LINED_FIGURES = frozenset({"stripe", "crosswise", "check"})
"""Figures whose lines people expect to meet."""

CUTTING_CHOICES: Mapping[str, Mapping[str, str]] = {
    "method": {
        "scissors": "with scissors, the pattern pinned on",
        "rotary cutter": "with a rotary cutter on a mat, the pattern weighted down",
    },
    "bias_strips": {
        "as drafted": "each by itself, like any piece",
        "block": "together from one block, cut up at 45 degrees",
        "gaps": "from what the other pieces leave",
    },
}


@dataclass(frozen=True)
class RoleShown:
    """What a fabric of a design is for: name, title, advice on cloth, and the make's fabric."""

    name: str
    title: str
    advice: str
    fabric: str


@tells_fields
async def _stash_fabric(request: Request) -> Response:
    """Write what is known of a fabric of the stash."""
    async with request.form() as form:
        sent = {name: text_in(form, name) for name in FABRIC_FIELDS if name in form}
        sent = await run_in_threadpool(in_unit, request, sent)
        name = text_in(form, "name")
        stash = await run_in_threadpool(stash_of, request)
        known = fabric_fields(stash.fabric(name))
        beside = [each.price for each in stash.fabrics if each.name != name]
        if "price" in sent and sent["price"] != known["price"]:
            sent["price"] = with_currency(sent["price"], beside)
        document, _ = document_of_stash(request)
        return await committed(
            request, form, SetStashFabric(document, name, changed_fields(sent, known))
        )


async def _use(request: Request) -> Response:
    """Take a cloth of the stash among the fabrics of the make, to cut from it."""
    async with request.form() as form:
        name = text_in(form, "name")
        (await run_in_threadpool(stash_of, request)).fabric(name)  # refused if there is none
        return await committed(request, form, SetFabric(make_of(request), name, {"stash": name}))


async def _role(request: Request) -> Response:
    """Say which fabric is meant where the design names a role."""
    async with request.form() as form:
        known = {each.name: each.fabric for each in roles_shown(request)}
        sent = {name: text_in(form, name) for name in known if name in form}
        changed = {f"roles.{name}": text for name, text in sent.items() if text != known[name]}
        if not changed:
            return Response(status_code=204)
        return await committed(request, form, SetMake(make_of(request), changed))


async def _cutting(request: Request) -> Response:
    """Write how the maker cuts, and how much cloth stays between pieces."""
    async with request.form() as form:
        names = [each.name for each in fields(CuttingEntry)]
        sent = {name: text_in(form, name) for name in names if name in form}
        sent = await run_in_threadpool(in_unit, request, sent)
        known = cutting_of(request)
        changed = {f"cutting.{k}": text for k, text in sent.items() if text != known[k]}
        if not changed:
            return Response(status_code=204)
        return await committed(request, form, SetMake(make_of(request), changed))


def roles_shown(request: Request) -> tuple[RoleShown, ...]:
    """The roles of the design that fabrics have, with the fabric that the make has for each."""
    chosen = stated_make(request).roles
    roles = parse_design(opened(request).history.documents["design.yaml"]).roles
    return tuple(
        RoleShown(name, role.title, role.advice, chosen.get(name, ""))
        for name, role in roles.items()
    )


def cutting_of(request: Request) -> dict[str, str]:
    """What the make says of how it is cut."""
    entry = stated_make(request).cutting
    return {each.name: getattr(entry, each.name) for each in fields(CuttingEntry)}


def changed_fields(sent: Mapping[str, str], known: Mapping[str, str]) -> dict[str, str]:
    """What a form changes; a color that nobody chose is none."""
    changed = {name: text for name, text in sent.items() if text != known[name]}
    if not known["color"] and changed.get("color") == UNCHOSEN_COLOR:
        del changed["color"]
    return changed


def with_currency(text: str, others: Iterable[str]) -> str:
    """A price that is a bare amount, with currency and unit of the prices beside it.

    Args:
        text: as it was written.
        others: what other fabrics of the make say of their price.

    Raises:
        FieldRefused: it is no price, or an amount whose currency the other prices do not tell.

    >>> with_currency("18", ["12.50 EUR/m", ""]), with_currency("18 USD/yd", [])
    ('18 EUR/m', '18 USD/yd')
    """
    if not text:
        return text
    if not _BARE_PRICE.fullmatch(text):
        try:
            parse_price(text)
        except Misuse as error:
            raise FieldRefused(
                "price", error.what, where=FIELD_TITLES["price"], what_to_do=error.what_to_do
            ) from None
        return text
    units = {_BARE_PRICE.sub("", each).strip() for each in others if each}
    if len(units) == 1 and (unit := units.pop()):
        return f"{text} {unit}"
    raise FieldRefused(
        "price",
        f"the price {text} has no currency",
        where=FIELD_TITLES["price"],
        what_to_do="Write an amount, a currency and a unit, such as 18.50 EUR/m or 12 USD/yd; "
        "leave it empty if you do not know.",
    )


_BARE_PRICE = re.compile(r"[0-9]{1,7}(?:[.,][0-9]{1,4})?")

_AT = "/d/{design}/m/{make}/cut"
ROUTES: list[Route] = [
    Route(f"{_AT}/stash-fabric", _stash_fabric, methods=["POST"]),
    Route(f"{_AT}/use", _use, methods=["POST"]),
    Route(f"{_AT}/roles", _role, methods=["POST"]),
    Route(f"{_AT}/cutting", _cutting, methods=["POST"]),
]
