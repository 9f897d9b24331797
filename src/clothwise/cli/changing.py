"""Changes of a design from the command line, kept in the same history as those of the app."""

from __future__ import annotations

from pathlib import Path

import click

from clothwise.errors import Misuse
from clothwise.pattern.commands import Command
from clothwise.pattern.history import Entry, History

__all__ = ["change", "history_of", "pairs", "tell"]


def history_of(target: Path) -> History:
    """Open the history of a design: its folder, its file, or a make in it.

    Raises:
        DocumentError: there is no design, or its history is damaged.
        OutputError: the folder cannot be written.
    """
    from clothwise.components.document_check import check_change

    folder = target.parent if target.is_file() else target
    if folder.name == "makes":
        folder = folder.parent
    return History.open(
        folder, check=lambda before, after: check_change(before, after, within=folder)
    )


def change(target: Path, command: Command) -> None:
    """Make a change, and tell it.

    Raises:
        ClothwiseError: it cannot be made; everything is as it was.
    """
    history = history_of(target)
    before = history.head
    tell(history.commit(before, command), is_new=history.head != before)


def tell(entry: Entry, *, is_new: bool = True) -> None:
    """Say what was done, and how it is taken back."""
    if is_new:
        click.echo(f"{entry.words}. `clothwise undo` takes it back.")
    else:
        click.echo("That is how it is already; nothing was changed.")


def pairs(texts: tuple[str, ...]) -> dict[str, str]:
    """Return what `NAME=VALUE` texts say.

    Raises:
        Misuse: one is written in another way.
    """
    found = {}
    for text in texts:
        name, sign, value = text.partition("=")
        if not (name.strip() and sign):
            raise Misuse(
                f"{text[:40]!r} says no value",
                what_to_do="Write a name, = and the value, such as flare=10cm; with quotes around "
                "all of it if there are spaces.",
            )
        found[name.strip()] = value.strip()
    return found
