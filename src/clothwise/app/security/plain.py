"""Answers that need nothing of the app: a refusal before anything is asked."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from starlette.responses import HTMLResponse

__all__ = ["AT_THE_DOOR", "refused"]

_PAGE = """<!doctype html>
<html lang="en"><head><meta charset="utf-8"><title>Refused · Clothwise</title>
<meta name="viewport" content="width=device-width, initial-scale=1">
<link rel="stylesheet" href="/static/style/tokens.css">
<link rel="stylesheet" href="/static/style/parts.css"></head>
<body><main class="room"><section class="refused" tabindex="-1" data-focus><h1>{what}</h1>
<p><span class="soft">What to do:</span> {what_to_do}</p>
<p class="refused__work">Nothing was changed; your work is as it was.</p>
<p><a class="button" href="">Load the page anew</a></p></section></main></body></html>
"""


AT_THE_DOOR = {"X-Clothwise-Door": "closed"}
"""Tells an open page that nothing was done: let in anew, it may ask again."""


def refused(
    status: int, what: str, what_to_do: str, headers: Mapping[str, str] = MappingProxyType({})
) -> HTMLResponse:
    """Return a short page; nothing of what was asked for is repeated in it.

    A part of a page that asked (htmx) shows it as it shows every refusal. `headers` are added.
    """
    there = {"HX-Retarget": "#refusal", "HX-Reswap": "innerHTML", "HX-Reselect": ".refused"}
    return HTMLResponse(
        _PAGE.format(what=what, what_to_do=what_to_do), status, {**there, **headers}
    )
