"""`clothwise undo`, `redo` and `history`: what was done to a design, here or in the app."""

from __future__ import annotations

from pathlib import Path

import click

from clothwise.cli.commands.options import JSON, TARGET


@click.command()
@TARGET
def undo(target: Path) -> int:
    """Take back the last change of a design or its makes."""
    from clothwise.cli.changing import history_of

    click.echo(f"Undone: {history_of(target).undo().words}. `clothwise redo` does it again.")
    return 0


@click.command()
@TARGET
def redo(target: Path) -> int:
    """Do again what was undone last."""
    from clothwise.cli.changing import history_of, tell

    tell(history_of(target).redo())
    return 0


@click.command()
@TARGET
@click.option("--back-to", default="", metavar="ID", help="Go back to this state, by a new step.")
@click.option("--all", "everything", is_flag=True, help="Also what was left behind by an undo.")
@JSON
def history(target: Path, back_to: str, everything: bool, json_: bool) -> int:
    """List what was done to a design, the last first."""
    from clothwise.cli import show
    from clothwise.cli.changing import history_of, tell

    found = history_of(target)
    if back_to:
        before = found.head
        tell(found.back_to(back_to), is_new=found.head != before)
        return 0
    entries = found.all_entries if everything else (*found.entries, *found.undone)
    undone = {each.id for each in found.undone}
    if json_:
        show.as_json(
            {
                "head": found.head,
                "entries": [
                    {
                        "id": each.id,
                        "at": each.at,
                        "words": each.words,
                        "kind": each.kind,
                        "undone": each.id in undone,
                    }
                    for each in entries
                ],
            }
        )
        return 0
    rows = [
        (
            each.id,
            each.at.replace("T", " ").removesuffix("Z"),
            _told(each.id, found.head, undone),
            each.words,
        )
        for each in reversed(entries)
    ]
    show.table(("id", "when (UTC)", "", "what was done"), rows)
    return 0


def _told(id: str, head: str, undone: set[str]) -> str:
    if id == head:
        return "now"
    return "undone" if id in undone else ""
