"""What a changed edit does beside the garment that is looked at: other sizes, views and makes."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass

from clothwise.components import DesignFile, MakeFile
from clothwise.components.edits.replay import lost_edits
from clothwise.errors import ClothwiseError
from clothwise.packet.nested_print import sizes_called
from clothwise.pattern import Body, Pattern
from clothwise.pattern.document import EditEntry
from clothwise.pattern.document.value import Choices
from clothwise.pattern.enumerated import enumerated
from clothwise.pattern.plain_names import plain_name

__all__ = ["Drafts", "Elsewhere", "elsewhere"]

MOST_REASONS = 2
"""So many reasons are told, the others counted; our own choice."""

MOST_NAMED = 3
"""So many views and makes are named, the others counted; our own choice."""


@dataclass(frozen=True)
class Drafts:
    """A design, and what drafts it: whoever keeps drafts hands on those that are made already.

    Attributes:
        file: the design.
        draft: drafts it with all its choices for a body; raises as `DesignFile.draft`.
    """

    file: DesignFile
    draft: Callable[[Choices, Body], Pattern]


@dataclass(frozen=True)
class Elsewhere:
    """What becomes of other sizes, views and makes, in words; a part that is empty is as before.

    Attributes:
        refused: where an edit is not made, and why.
        changed: which other views and makes become others.
    """

    refused: str = ""
    changed: str = ""


def elsewhere(
    before: Drafts,
    after: Drafts,
    shown: tuple[Choices, Body],
    makes: Mapping[str, tuple[MakeFile, MakeFile]],
    cancelled: Callable[[], bool] = lambda: False,
) -> Elsewhere:
    """Tell what a change of edits does beside the garment that is looked at.

    Nothing is told of a change that leaves the edits as they are: what it does follows the value
    that was changed, and is meant.

    Args:
        before, after: the design, and what drafts it.
        shown: the choices and the body that are looked at.
        makes: each before and after, by what it is called.
        cancelled: whether nobody wants to know any more; then what is known is told.
    """
    design, edits = after.file.design, before.file.design.edits
    if edits == design.edits:
        return Elsewhere()
    choices, body = shown
    views = [(view.name, design.chosen(view=view.name)) for view in design.views]
    others = [(name, chosen) for name, chosen in views if chosen != choices]
    changed = [
        (name, chosen)
        for name, chosen in others
        if not cancelled() and _differs(before, after, chosen, body)
    ]
    new = [edit for edit in design.edits if edit not in edits]
    meant = [
        (name, chosen)
        for name, chosen in others
        if (name, chosen) in changed or any(edit.when.holds(chosen) for edit in new)
    ]
    told = [choices, *(chosen for _, chosen in views)]
    own = [
        name
        for name, (was, now) in makes.items()
        if now.choices not in told and not cancelled() and _differs_in_make(was, now)
    ]
    places = [("", choices), *((f"view {name}", chosen) for name, chosen in meant)]
    return Elsewhere(
        _refused(before, after, places, cancelled),
        _changed([f"view {name}" for name, _ in changed], own),
    )


def _differs(before: Drafts, after: Drafts, choices: Choices, body: Body) -> bool:
    """Whether a view is another garment now; one that cannot be drafted is told by the check."""
    with suppress(ClothwiseError):
        return before.draft(choices, body).pieces != after.draft(choices, body).pieces
    return False


def _differs_in_make(before: MakeFile, after: MakeFile) -> bool:
    with suppress(ClothwiseError):
        return before.draft().pieces != after.draft().pieces
    return False


def _refused(
    before: Drafts,
    after: Drafts,
    places: Sequence[tuple[str, Choices]],
    cancelled: Callable[[], bool],
) -> str:
    """`not made in sizes 48, 50 and 54: the line runs through a button of the skirt front`."""
    known = before.file.design.edits
    changed = {edit.name for edit in after.file.design.edits if edit not in known}
    found: dict[tuple[str, str], dict[str, list[str]]] = {}
    for place, choices in places:
        for size in after.file.sizes:
            if cancelled():
                break
            for edit, reason in _newly_lost(before, after, choices, size):
                of = "" if edit.name in changed else f"the edit {plain_name(edit.name)} is "
                found.setdefault((of, reason), {}).setdefault(place, []).append(size)
    told = [
        f"{of}not made {_where(sizes, after.file.sizes)}: {reason}"
        for (of, reason), sizes in found.items()
    ]
    more = len(told) - MOST_REASONS
    return "; ".join([*told[:MOST_REASONS], *([f"{more} more in Check"] if more > 0 else [])])


def _newly_lost(
    before: Drafts, after: Drafts, choices: Choices, size: str
) -> Iterator[tuple[EditEntry, str]]:
    """The edits that are not made in a size, but for those that were not made there before."""
    body = after.file.body(size)
    try:
        lost = [*lost_edits(after.draft(choices, body), after.file.design.edits)]
    except ClothwiseError:  # the draft is refused there, which is told wherever it is shown
        return
    if lost:
        was: list[tuple[EditEntry, str]] = []
        with suppress(ClothwiseError):
            was = [*lost_edits(before.draft(choices, body), before.file.design.edits)]
        yield from (each for each in lost if each not in was)


def _where(sizes: Mapping[str, Sequence[str]], known: Sequence[str]) -> str:
    """`in sizes 48 and 50, nor in view B in size 54`."""
    told = []
    for place, some in sizes.items():
        words = [f"in {place}"] if place else []
        if len(some) < len(known):
            words.append(f"in {sizes_called(some, known)}")
        told.append(" ".join(words) or "in any size")
    return ", nor ".join(told)


def _changed(views: Sequence[str], makes: Sequence[str]) -> str:
    """`view B and the make Own mixture change too`; empty if nothing does."""
    names = [*views, *(f"the make {name}" for name in makes)]
    if not names:
        return ""
    more = len(names) - MOST_NAMED
    named = [*names[:MOST_NAMED], *([f"{more} more"] if more > 0 else [])]
    return f"{enumerated(named)} {'change' if len(named) > 1 else 'changes'} too"
