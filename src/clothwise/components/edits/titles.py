"""How edits are called for whoever chooses one, in groups, with what each does in one line."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class EditTitle:
    """An edit in a list to choose from.

    Attributes:
        kind: as the registry has it.
        title: what one does with it.
        line: what that does to the pattern, in one sentence.
    """

    kind: str
    title: str
    line: str


EDIT_GROUPS: dict[str, tuple[EditTitle, ...]] = {
    "Split and join": (
        EditTitle(
            "split",
            "Split a piece",
            "A line across it makes two pieces, which are sewn together again.",
        ),
        EditTitle(
            "join",
            "Join two pieces",
            "Takes out a seam that can be closed on the flat paper; both are cut in one.",
        ),
        EditTitle(
            "asymmetric",
            "Part left from right",
            "Makes a left and a right piece of a pair, so that one side can be changed alone.",
        ),
        EditTitle(
            "unfold",
            "Open out a piece cut on the fold",
            "Draws both its halves, so that one of them can be changed alone.",
        ),
        EditTitle(
            "fold",
            "Put a piece back on the fold",
            "Of an opened piece only one half is drawn again; both must be alike.",
        ),
    ),
    "Darts and fullness": (
        EditTitle(
            "move-dart",
            "Move a dart",
            "Swings it about its point to another edge, all of it or a share.",
        ),
        EditTitle(
            "merge-darts",
            "Close a dart into another",
            "One dart goes, and the other takes up the width of both.",
        ),
        EditTitle(
            "dart-to",
            "Turn a dart into gathers, ease or a tuck",
            "Its width stays in the edge and is drawn or laid in there.",
        ),
        EditTitle(
            "dart-point",
            "Make a dart longer or shorter",
            "Its point moves along the middle of the dart.",
        ),
        EditTitle(
            "spread",
            "Slash and spread",
            "Cuts the piece into strips and opens them, for flare or for gathers.",
        ),
    ),
    "Length and shape": (
        EditTitle(
            "lengthen",
            "Lengthen or shorten",
            "At a line across the pieces, square to their grain.",
        ),
        EditTitle(
            "reshape",
            "Draw an edge anew",
            "Its line is moved outward or inward in places, and its ends slid or turned.",
        ),
        EditTitle(
            "narrower-under-front",
            "Narrow the front that lies under",
            "It laps over center front less than the one on top.",
        ),
    ),
    "Slits, vents and casings": (
        EditTitle("slit", "Leave a slit in a seam", "One end of the seam stays open."),
        EditTitle(
            "vent",
            "Add a vent to a seam",
            "Both sides grow by a strip at the end of the seam, and lap there.",
        ),
        EditTitle(
            "casing",
            "Add a casing",
            "For elastic or a drawstring, along an edge or straight across a piece.",
        ),
    ),
    "Grain, cloth and seams": (
        EditTitle("grain", "Turn the grain", "Pieces are cut on the bias, or crosswise."),
        EditTitle(
            "fabric", "Cut from another cloth", "Pieces or single copies get another fabric."
        ),
        EditTitle(
            "allowance",
            "Change a seam allowance",
            "One seam gets another allowance than the garment, on all its edges.",
        ),
        EditTitle(
            "finish",
            "Finish a seam or a hem otherwise",
            "French, felled, bound, overlocked or rolled: allowances and steps follow.",
        ),
    ),
    "Marks and words": (
        EditTitle("notch", "Add a notch", "On an edge, and where it is met in the seam."),
        EditTitle("mark", "Mark a dot, a drill hole or a line", "On the face of a piece."),
        EditTitle("text", "Write words on a piece", "They are printed with it."),
    ),
}
"""All edits there are, each in one group."""


def edit_title(kind: str) -> EditTitle:
    """How an edit is called.

    Raises:
        KeyError: there is none of that kind.
    """
    return next(each for group in EDIT_GROUPS.values() for each in group if each.kind == kind)
