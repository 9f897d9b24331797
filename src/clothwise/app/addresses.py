"""Addresses of pages and of files in `static/`."""

from __future__ import annotations

from functools import cache
from hashlib import sha256
from pathlib import Path
from urllib.parse import quote

__all__ = ["HERE", "STATIC", "address", "asset"]

HERE = Path(__file__).resolve().parent
"""The folder of the app, with `templates/` and `static/`."""

STATIC = HERE / "static"


def address(*parts: str) -> str:
    """Return an address of ours, each part quoted.

    >>> address("d", "kiln dress", "draft")
    '/d/kiln%20dress/draft'
    """
    return "/" + "/".join(quote(part, safe="") for part in parts if part)


@cache
def asset(name: str) -> str:
    """Return the address of a file in `static/`; it changes when the file does."""
    version = sha256((STATIC / name).read_bytes()).hexdigest()[:10]
    return f"/static/{quote(name)}?v={version}"
