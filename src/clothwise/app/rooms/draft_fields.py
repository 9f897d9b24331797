"""What a page of the Draft room sends: what it looks at, changes as data, places on a piece."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from starlette.datastructures import FormData
from starlette.requests import Request

from clothwise.app.board_places import kept_places
from clothwise.app.design_folder import OPTION
from clothwise.app.pages import opened, preferences, shop
from clothwise.app.work import Shown
from clothwise.errors import Misuse
from clothwise.pattern.commands import Command, command_from_data

__all__ = [
    "MOST_LETTERS",
    "board_fields",
    "command_in",
    "form_fields",
    "pair_in",
    "pending_in",
    "shown_in",
    "unit_liked",
    "unreadable",
    "window_of",
]

MOST_LETTERS = 20_000
"""Of what a page sends for a change."""


def shown_in(request: Request, fields: Mapping[str, Any] | None = None) -> Shown:
    """What a page looks at: view, size and choices, from its address or from a form."""
    found = fields if fields is not None else request.query_params
    design = opened(request)
    choices = {
        key.removeprefix(OPTION): str(value)
        for key, value in found.items()
        if key.startswith(OPTION) and value
    }
    return Shown(
        design.name,
        design.history.head,
        size=str(found.get("size", ""))[:60],
        view=str(found.get("view", ""))[:60],
        choices=choices,
    )


def unit_liked(request: Request) -> str:
    """The unit that is liked; empty for that of the design."""
    unit = preferences(request).length_unit
    return unit.value if unit else ""


def board_fields(request: Request, fields: Mapping[str, Any]) -> dict[str, Any]:
    """What every job is told that draws a board."""
    design = opened(request)
    places = kept_places(shop(request).workspace.own, design.name)
    return {
        "shown": shown_in(request, fields),
        "documents": dict(design.history.documents),
        "before_version": str(fields.get("before", ""))[:40],
        "unit": unit_liked(request),
        "window": window_of(request),
        "kept": places.shown,
        "homes": places.homes,
    }


def window_of(request: Request) -> str:
    """The window that asks; empty for none."""
    return request.headers.get("X-Clothwise-Window", "")[:40]


def form_fields(form: FormData) -> dict[str, str]:
    """The fields of a form that are text."""
    return {key: value for key, value in form.items() if isinstance(value, str)}


def pending_in(fields: Mapping[str, str]) -> dict[str, Any]:
    """A change that waits for a yes, as data; empty for none."""
    text = fields.get("pending", "")
    return dict(command_in(text[:MOST_LETTERS]).to_data()) if text else {}


def command_in(text: str) -> Command:
    """A change that was sent as data.

    Raises:
        Misuse: it is no data.
        CommandError: it is no change that is known.
    """
    try:
        data = json.loads(text)
    except ValueError:
        raise unreadable("a change") from None
    return command_from_data(data)


def pair_in(text: str) -> tuple[float, float]:
    """Two numbers with a comma between them, mm.

    Raises:
        Misuse: it is no place.
    """
    try:
        x, y = (float(each) for each in text[:60].split(","))
    except ValueError:
        raise unreadable("a place on a piece") from None
    if not (abs(x) < 1e5 and abs(y) < 1e5):
        raise unreadable("a place on a piece")
    return x, y


def unreadable(what: str) -> Misuse:
    """What is said of something that no page of ours sends."""
    return Misuse(
        f"{what} was sent that cannot be read", what_to_do="Load the page anew and try again."
    )
