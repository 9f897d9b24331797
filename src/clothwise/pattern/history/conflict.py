"""Two changes made from the same state: whether they concern the same, and what is said then."""

from __future__ import annotations

from collections.abc import Iterable

from clothwise.errors import ClothwiseError
from clothwise.pattern.commands.command import EVERY_KEY, Touched
from clothwise.pattern.history.entry import Entry

__all__ = ["Conflict", "meet"]


class Conflict(ClothwiseError):
    """A change was made to an older state, and what was done since touches the same.

    Both are kept: `mine` is an entry beside the others (None for an undo), `theirs` are on the way
    to the head.
    """

    def __init__(self, mine: Entry | None, theirs: tuple[Entry, ...]) -> None:
        words = mine.words if mine else "the undo"
        super().__init__(
            "the design was changed in another window meanwhile",
            where=words,
            how_much=f"there: {'; '.join(each.words for each in theirs[-3:])}",
            what_to_do="Both are kept. Look at the other one, and choose which should stand."
            if mine
            else "Nothing was undone. Look at what was done there first.",
        )
        self.args = (mine, theirs)
        self.mine = mine
        self.theirs = theirs


def meet(touches: Iterable[Touched], entries: Iterable[Entry]) -> bool:
    """Tell whether a change concerns something that these entries concern."""
    theirs = {each for entry in entries for each in entry.touches}
    return any(
        name == other_name and _is_same_place(key, other)
        for name, key in touches
        for other_name, other in theirs
    )


def _is_same_place(one: str, other: str) -> bool:
    if EVERY_KEY in (one, other):
        return True
    return f"{one}.".startswith(f"{other}.") or f"{other}.".startswith(f"{one}.")
