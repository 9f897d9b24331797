"""Changes of a design from the command line, kept in the same history as those of the app."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import click

from clothwise.errors import CommandError, Misuse
from clothwise.pattern.commands import Command, check_document_name
from clothwise.pattern.commands.documents import DESIGN_DOCUMENT
from clothwise.pattern.history import Entry, History

__all__ = ["Changing", "change", "changing", "history_of", "pairs", "tell"]

_UNDO = "`clothwise undo` takes it back."


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
        folder,
        check=lambda before, after: check_change(before, after, within=folder, beyond=True),
    )


def change(target: Path, command: Command) -> None:
    """Make a change, and tell it.

    Raises:
        ClothwiseError: it cannot be made; everything is as it was.
    """
    history = history_of(target)
    before = history.head
    tell(history.commit(before, command), is_new=history.head != before)


@dataclass(frozen=True)
class Changing:
    """A document that is going to be changed, as it is before that is worked out.

    Attributes:
        path: of its file.
        name: by which commands know it.
        history: of the design that it belongs to; None if it stands apart from any.
        base: the state from which the change is worked out, which may take minutes.
    """

    path: Path
    name: str
    history: History | None = None
    base: str = ""

    def change(self, command: Command) -> str:
        """Make a change to the document; return in a sentence how it is taken back.

        Raises:
            ClothwiseError: it cannot be made; everything is as it was.
        """
        if self.history is not None:
            self.history.commit(self.base, command)
            return _UNDO
        from clothwise.pattern.csv_table import read_text
        from clothwise.pattern.document.versions import save_with_version

        before = {self.name: read_text(self.path)} if self.path.exists() else {}
        save_with_version(self.path, command.apply(before)[self.name])
        return "The version before is kept." if before else ""


def changing(path: Path, *, apart: str = "make.yaml") -> Changing:
    """Prepare to change a document: a make, or a stash that may not be there yet.

    Args:
        path: of its file.
        apart: what commands call it if it belongs to no design: it may lie and be called anyhow.

    Raises:
        DocumentError: the history of its design is damaged.
        OutputError: the folder cannot be written.
    """
    folder = path.parent.parent if path.parent.name == "makes" else path.parent
    name = path.relative_to(folder).as_posix()
    if (folder / DESIGN_DOCUMENT).is_file() and _may_be_called(name):
        history = history_of(folder)
        if name in history.documents or not path.exists():
            return Changing(path, name, history, history.head)
    return Changing(path, apart)


def _may_be_called(name: str) -> bool:
    try:
        check_document_name(name)
    except CommandError:
        return False
    return True


def tell(entry: Entry, *, is_new: bool = True) -> None:
    """Say what was done, and how it is taken back."""
    if is_new:
        click.echo(f"{entry.words}. {_UNDO}")
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
