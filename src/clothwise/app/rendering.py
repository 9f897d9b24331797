"""Templates made into answers.

Templates escape everything. Every template may use, beside what it is given:

    csrf(), base_field()   hidden fields that every form which changes something carries
    asset("style/x.css")   the address of a file in `static/`, with its version
    address("/d/…")        an address with its parts quoted: address("d", design.name, "draft")
    initial("words")       a sentence with its first letter as a capital
    "2 cm" | measured      words of the library with the lengths in them as the reader likes them
    design                 the `OpenDesign` the page is about, or None
    liking                 the `Preferences`
    rooms                  the rooms there are, with their addresses for this design and make
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from secrets import token_hex
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined, pass_context
from jinja2.runtime import Context
from markupsafe import Markup
from starlette.requests import Request
from starlette.responses import HTMLResponse

from clothwise.app.addresses import HERE, address, asset
from clothwise.app.measured_words import as_read, reads_inches
from clothwise.app.opening import OpenDesign, opened, preferences, shop
from clothwise.app.security import visitor
from clothwise.errors import ClothwiseError

__all__ = ["rendered"]


def rendered(
    request: Request,
    template: str,
    status: int,
    headers: Mapping[str, str] | None,
    data: dict[str, Any],
) -> HTMLResponse:
    """Return a template with what every page shows and what this one needs besides.

    Args:
        request: that it answers.
        template: its name in `templates/`.
        status: of the answer.
        headers: of it.
        data: what the template needs; `shown` (or None) is what the page looks at.
    """
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
        "inches": reads_inches(preferences(request), design.history.documents if design else {}),
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
    environment.filters["measured"] = _measured
    environment.globals.update(
        csrf=_csrf, base_field=_base_field, asset=asset, address=address, initial=_initial
    )
    return environment


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


@pass_context
def _measured(context: Context, text: str) -> str:
    """Return words with their lengths in inches, if those are shown."""
    return as_read(text, inches=context["inches"])


def _initial(text: str) -> str:
    """Return a sentence with its first letter as a capital."""
    return text[:1].upper() + text[1:]
