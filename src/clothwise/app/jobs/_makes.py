"""In a worker: reads makes for their list, and writes new ones."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from clothwise.app.jobs._drafting import opened_design, opened_make
from clothwise.app.jobs._for_whom import fit_words
from clothwise.app.jobs.makes import BaseOfMake, MakeShown, MakesShown, NewMakeOf
from clothwise.app.mending_places import problem_in_words
from clothwise.components import DesignFile, open_make
from clothwise.errors import ClothwiseError, DocumentError
from clothwise.pattern.commands import make_names
from clothwise.pattern.document import format_make, without_set_aside
from clothwise.pattern.document.fabric_entry import FabricEntry
from clothwise.pattern.document.make import Make

__all__ = ["base_of_make", "makes_shown", "new_make"]

USUAL_WIDTH = "140cm"  # of dress fabrics in most shops
USUAL_FUSIBLE_WIDTH = "90cm"
FUSIBLE = "interfacing"
_PLAIN_COLORS = ("#5b6b78", "#b5603a", "#8a9a6b", "#c9a24b")


def makes_shown(documents: Mapping[str, str]) -> MakesShown:
    """Return the list; a make that cannot be opened stands in it with what is wrong."""
    opened = opened_design(documents)
    return MakesShown(
        tuple(_shown(documents, name) for name in make_names(documents)),
        {view.name: view.title or view.name for view in opened.design.views},
        opened.chart.names,
        opened.design.base_size,
        {each.name: (each.title, dict(each.choices)) for each in opened.design.options},
        opened.chart.people,
    )


def _shown(documents: Mapping[str, str], name: str) -> MakeShown:
    try:
        file = open_make(documents, name)
    except ClothwiseError as error:
        return MakeShown(name, "", fault=problem_in_words(error)[:300])
    make = file.make
    return MakeShown(
        name,
        make.title,
        make.view,
        fit_words(documents, name, make, file.of),
        tuple(each.title or each.name for each in make.fabrics),
    )


def base_of_make(documents: Mapping[str, str], name: str) -> BaseOfMake | None:
    """Return what is wrong with the base size; None if nothing is, or the make cannot be opened."""
    try:
        file = opened_make(documents, name)
    except ClothwiseError:
        return None
    if not file.base_faults:
        return None
    refused = DocumentError(file.base_faults)
    return BaseOfMake(
        file.of.design.base_size,
        problem_in_words(refused)[:600],
        tuple(each.path for each in file.base_faults),
    )


def new_make(asked: NewMakeOf) -> str:
    """Return the text of a new make.

    Raises:
        ClothwiseError: the design cannot be made like that.
    """
    if not asked.like:
        return _checked(asked, _plain(asked))
    like = open_make(asked.documents, asked.like)
    stated = like.stated or like.make
    made = replace(
        stated,
        title=asked.title,
        view=asked.view,
        size=asked.size,
        choices=asked.choices or ({} if asked.view != stated.view else stated.choices),
        pins={},
        body="",
        measurements={},
    )
    try:
        return _checked(asked, made)
    except DocumentError:
        # Another view may lack a piece that a fabric was chosen for; roles hold for every view.
        return _checked(asked, replace(made, copies={}, matches=(), adjust={}))


def _checked(asked: NewMakeOf, make: Make) -> str:
    text = format_make(make)
    file = open_make({**asked.documents, asked.name: text}, asked.name)
    pattern = file.draft()
    file.assign(pattern)
    return format_make(without_set_aside(pattern, make))


def _plain(asked: NewMakeOf) -> Make:
    opened = opened_design(asked.documents)
    roles = _roles(opened, asked)
    fabrics = tuple(
        FabricEntry(
            role,
            USUAL_FUSIBLE_WIDTH if role == FUSIBLE else USUAL_WIDTH,
            title=_title(opened, role),
            color="#e9e4da" if role == FUSIBLE else _PLAIN_COLORS[number % len(_PLAIN_COLORS)],
        )
        for number, role in enumerate(roles)
    )
    return Make(
        title=asked.title,
        view=asked.view,
        size=asked.size,
        choices=asked.choices,
        fabrics=fabrics,
        roles={role: role for role in roles},
    )


def _roles(opened: DesignFile, asked: NewMakeOf) -> list[str]:
    """The roles that something is cut from; those of the design first, in its order."""
    body = opened.body(asked.size) if asked.size else opened.body()
    pattern = opened.draft(asked.choices, view=asked.view, body=body)
    used = dict.fromkeys(
        copy.role for piece in pattern.pieces.values() for copy in piece.copies if copy.role
    )
    known = [each.name for each in opened.design.fabric_roles if each.name in used]
    return [*known, *(role for role in used if role not in known)]


def _title(opened: DesignFile, role: str) -> str:
    titles = {each.name: each.title for each in opened.design.fabric_roles}
    return titles.get(role) or role.replace("-", " ").capitalize()
