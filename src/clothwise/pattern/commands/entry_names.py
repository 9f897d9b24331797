"""Names of components and edits: which there are, which are free, which may be given."""

from __future__ import annotations

import re

from clothwise.errors import CommandError, did_you_mean
from clothwise.pattern.document.design import Design

__all__ = ["LONGEST_NAME", "check_new_name", "free_name", "no_component", "refuse_unknown"]

_SLUG = re.compile(r"[a-z][a-z0-9]*(?:-[a-z0-9]+)*")
LONGEST_NAME = 40
"""Characters; our own choice: names of pieces begin with it, and file names with those."""


def refuse_unknown(design: Design, name: str) -> None:
    """Refuse the name of a component that is not there.

    Raises:
        CommandError: there is none of this name.
    """
    if name not in [each.name for each in design.components]:
        raise no_component(design, name)


def no_component(design: Design, name: str) -> CommandError:
    """Return what to say about a component that is not there."""
    names = [each.name for each in design.components]
    return CommandError(
        f"the design has no component {name[:40]!r}",
        where=design.title,
        what_to_do=did_you_mean(name, names, of_what="components"),
    )


def free_name(design: Design, wish: str) -> str:
    """Return a name that no component and no edit has: the wish, or with a number."""
    taken = {each.name for each in design.entries}
    number, name = 1, wish
    while name in taken:
        number += 1
        name = f"{wish}-{number}"
    return name


def check_new_name(design: Design, name: str) -> None:
    """Refuse a name for a component or an edit.

    Raises:
        CommandError: it is taken, or cannot begin the names of pieces.
    """
    if _SLUG.fullmatch(name) is None or len(name) > LONGEST_NAME:
        raise CommandError(
            f"{name[:LONGEST_NAME]!r} cannot be the name of a component or an edit",
            how_much=f"at most {LONGEST_NAME} characters",
            what_to_do="Use small letters and digits with hyphens between, such as tie-belt.",
        )
    if name in {each.name for each in design.entries}:
        raise CommandError(
            f"there is a component or an edit {name!r} already",
            where=design.title,
            what_to_do=f"Choose another name, such as {free_name(design, name)}.",
        )
