"""The cloths that a make may be cut from, as its documents state them."""

from __future__ import annotations

import posixpath
from typing import Any

from starlette.requests import Request

from clothwise.app.pages import opened
from clothwise.app.rooms.cut_changes import make_of
from clothwise.app.rooms.of_make import addressed
from clothwise.pattern.document import (
    FabricEntry,
    Make,
    Stash,
    parse_design,
    parse_make,
    parse_stash,
)

__all__ = ["addresses", "document_of_stash", "fabrics_of", "roles_of", "stash_of", "stated_make"]

STASH = "stash.yaml"


def stated_make(request: Request) -> Make:
    """The make as its document states it."""
    name = make_of(request)
    return parse_make(opened(request).history.documents[name], file=name)


def document_of_stash(request: Request) -> tuple[str, bool]:
    """The document of the stash of the make, and whether the make names it already."""
    name, make = make_of(request), stated_make(request)
    if not make.stash:
        return STASH, False
    return posixpath.normpath(posixpath.join(posixpath.dirname(name), make.stash)), True


def stash_of(request: Request) -> Stash:
    """The stash that the make names; an empty one if it names none."""
    document, _ = document_of_stash(request)
    text = opened(request).history.documents.get(document, "")
    return parse_stash(text, file=document) if text else Stash()


def fabrics_of(request: Request) -> tuple[FabricEntry, ...]:
    """The fabrics of the make; what one leaves open is as the stash states it."""
    stash = stash_of(request)
    return tuple(
        each.filled_from(stash.fabric(each.stash)) if each.stash else each
        for each in stated_make(request).fabrics
    )


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
