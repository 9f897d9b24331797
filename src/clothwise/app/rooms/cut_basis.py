"""What long work of the cut room follows from, as a digest: only if this changes it is outdated."""

from __future__ import annotations

import hashlib
from contextlib import suppress
from dataclasses import replace
from typing import Literal

from starlette.requests import Request

from clothwise.app.pages import opened
from clothwise.app.rooms.cut_changes import make_of
from clothwise.app.rooms.cut_cloths import document_of_stash, stash_of, stated_make
from clothwise.errors import ClothwiseError
from clothwise.pattern.commands import is_make_name
from clothwise.pattern.document import FabricEntry, Make, Stash, parse_design
from clothwise.pattern.document.make import DEFAULT_PAPER

__all__ = ["basis_of"]


def basis_of(request: Request, kind: Literal["stash", "table", "tune"]) -> str:
    """Return the digest of what a kind of work on the make of a request follows from.

    - `stash`: the make, and all cloth at hand.
    - `tune`: the make, and what of the cloth at hand it uses.
    - `table`: the same without remnants and pins, names and prices, as it is read anew when shown.

    Other makes, photos, colors and what is printed on belong to none of them.
    """
    make, stash = stated_make(request), stash_of(request)
    if kind != "stash":
        make, stash = _used(make, stash)
    if kind == "table":
        make = replace(make, pins={}, fabrics=tuple(map(_unnamed, make.fabrics)))
        stash = replace(stash, fabrics=tuple(map(_unnamed, stash.fabrics)), remnants=())
    own = replace(make, title="", paper=DEFAULT_PAPER, stash="")
    told = repr((kind, make_of(request), _of_design(request), own, replace(stash, title="")))
    return hashlib.sha256(told.encode()).hexdigest()


def _used(make: Make, stash: Stash) -> tuple[Make, Stash]:
    """Both with the cloths only that something is cut from, without what pictures show of them."""
    names = {*make.roles.values(), *make.copies.values()}
    fabrics = tuple(_unpainted(each) for each in make.fabrics if each.name in names)
    names |= {each.stash for each in fabrics}
    at_hand = Stash(
        fabrics=tuple(_unpainted(each) for each in stash.fabrics if each.name in names),
        remnants=tuple(each for each in stash.remnants if each.name in names),
    )
    return replace(make, fabrics=fabrics), at_hand


def _unpainted(entry: FabricEntry) -> FabricEntry:
    return replace(entry, color="", pattern="", fiber="", photo="", photo_width="")


def _unnamed(entry: FabricEntry) -> FabricEntry:
    return replace(entry, title="", price="")


def _of_design(request: Request) -> list[tuple[str, str]]:
    """The documents beside the makes and their stash; of the design, what is drafted by it."""
    apart, _ = document_of_stash(request)
    documents = opened(request).history.documents
    found = {
        name: text for name, text in documents.items() if name != apart and not is_make_name(name)
    }
    with suppress(ClothwiseError):  # one with faults is told by its text
        design = parse_design(found["design.yaml"])
        found["design.yaml"] = repr(replace(design, title="", description=""))
    return sorted(found.items())
