"""What is printed of a make: on which paper, in which sizes, with which layers.

One size is drawn with all its lines; several lie on one another, each with its own kind of line.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from clothwise.components.edits.replay import lost_edits
from clothwise.errors import Misuse, did_you_mean
from clothwise.output import (
    ALL_LAYERS,
    PAPERS,
    Drawing,
    PrintLayer,
    PrintPages,
    PrintTitle,
    nested,
    paper_named,
    sheet_pages,
    tiled_pages,
)
from clothwise.packet.making import Making
from clothwise.packet.printing import (
    LARGE_PAPERS,
    caption_of,
    piece_drawings,
    print_title,
    with_own_fabrics,
)
from clothwise.pattern.enumerated import enumerated
from clothwise.pattern.plain_names import plain_name

MARKS_LEFT_OUT = (
    "Marks are left out of this print: notches, dots and placement lines. Pieces are matched by "
    "their notches, so copy the marks from a print that has them before you cut."
)
"""The caution on the first page of such a print."""


@dataclass(frozen=True)
class PrintChoice:
    """What somebody wants to have printed.

    Attributes:
        paper: by its name; empty for that of the make.
        sizes: of the size chart, each once; empty for the size or body that the make is for.
        layers: what is drawn beside cutting lines, grain and titles.
    """

    paper: str = ""
    sizes: tuple[str, ...] = ()
    layers: frozenset[PrintLayer] = ALL_LAYERS


def chosen_pages(
    making: Making, choice: PrintChoice, *, tell: Callable[[str], None] = lambda _: None
) -> PrintPages:
    """The pages or large sheets of what is chosen; of several sizes, all in one.

    Args:
        making: what is printed.
        choice: how.
        tell: hears what is being worked on.

    Raises:
        Misuse: there is no such paper or size, a size is named twice, or an edit is made in some
            of the sizes only, so that their pieces do not belong on one another.
        DocumentError, ComponentError, MeasurementError: a size cannot be drafted.
    """
    name = _paper_name(choice.paper or making.file.make.paper)
    sizes = _in_order(choice.sizes, making.file.of.sizes)
    if len(sizes) > 1:
        makings = _drafted(making, sizes, tell)
        _refuse_unlike(makings, making.file.of.sizes)
        tell("drawing the sizes on one another")
        known = making.file.of.sizes
        drawings = nested_drawings(makings, choice.layers, known)
        title = PrintTitle(making.title, f"Sizes {sizes_in_words(sizes, known)}")
    else:
        one = in_size(making, sizes[0]) if sizes else making
        tell("drawing the pieces")
        drawings = piece_drawings(one, choice.layers)
        title, sizes = print_title(one), ()
    tell("arranging them on paper")
    make = sheet_pages if name in LARGE_PAPERS else tiled_pages
    caution = "" if PrintLayer.MARKS in choice.layers else MARKS_LEFT_OUT
    return make(drawings, title, paper=paper_named(name), sizes=sizes, caution=caution)


def sizes_in_words(some: Sequence[str], known: Sequence[str]) -> str:
    """Which sizes these are, in order: a range only where none is left out.

    >>> sizes_in_words(["36", "38", "40"], ["34", "36", "38", "40"])
    '36 to 40'
    >>> sizes_in_words(["34", "38", "40"], ["34", "36", "38", "40"])
    '34, 38 and 40'
    """
    first = known.index(some[0])
    if len(some) > 2 and tuple(known[first : first + len(some)]) == tuple(some):
        return f"{some[0]} to {some[-1]}"
    return enumerated(some)


def sizes_called(some: Sequence[str], known: Sequence[str]) -> str:
    """The same with the word before it: `size 36`, `sizes 36 to 40`."""
    return f"{'size' if len(some) == 1 else 'sizes'} {sizes_in_words(some, known)}"


def nested_drawings(
    makings: Mapping[str, Making], layers: frozenset[PrintLayer], known: Sequence[str]
) -> tuple[Drawing, ...]:
    """A drawing of every piece with all sizes of it on one another.

    Args:
        makings: the same make by size, from the smallest.
        layers: what is drawn beside cutting lines, grain and titles.
        known: the sizes of the chart, so that a range is only told where none is left out.
    """
    patterns = {size: with_own_fabrics(each) for size, each in makings.items()}
    corners = {size: each.corners for size, each in makings.items()}
    owners = {piece: each for each in makings.values() for piece in each.pattern.pieces}
    names = dict.fromkeys(piece for each in patterns.values() for piece in each.pieces)
    drawings = []
    for number, piece in enumerate(names, start=1):
        having = [size for size, each in patterns.items() if piece in each.pieces]
        caption = replace(
            caption_of(owners[piece], piece),
            number=str(number),
            size=sizes_in_words(having, known),
            is_range=len(having) > 1,
        )
        drawings.append(nested(patterns, piece, caption, corners=corners, layers=layers))
    return tuple(drawings)


def in_size(making: Making, size: str) -> Making:
    """The same garment for a size of the chart; own measurements are left aside.

    Raises:
        Misuse: the chart has no such size.
    """
    body = making.file.of.chart.size(size)
    make = replace(making.file.make, size=size, body="", measurements={}, pins={})
    return Making(replace(making.file, body=body, make=make))


def _drafted(
    making: Making, sizes: Sequence[str], tell: Callable[[str], None]
) -> dict[str, Making]:
    found = {}
    for size in sizes:
        tell(f"drafting size {size}")
        found[size] = in_size(making, size)
        _ = found[size].pattern
    return found


def _refuse_unlike(makings: Mapping[str, Making], known: Sequence[str]) -> None:
    """Refuse sizes of which some lack an edit that others have.

    Raises:
        Misuse: names the first such edit, the sizes that lack it, and why they do.
    """
    lacking: dict[str, dict[str, str]] = {}
    edits = next(iter(makings.values())).file.of.design.edits
    for size, making in makings.items():
        for edit, reason in lost_edits(making.pattern, edits):
            lacking.setdefault(edit.name, {})[size] = reason
    for edit in edits:
        reasons = lacking.get(edit.name, {})
        if 0 < len(reasons) < len(makings):
            told = dict.fromkeys(reasons.values())
            several = "s" if len(reasons) > 1 else ""
            raise Misuse(
                "these sizes cannot be printed on one another: not all have the same pieces",
                how_much=f"the edit {plain_name(edit.name)} is not made in size{several} "
                f"{sizes_in_words([*reasons], known)}: {'; '.join(told)}",
                what_to_do="Change the edit in Draft so that it is made in all of them, or print "
                f"{'those sizes' if several else 'that size'} apart from the others.",
            )


def _paper_name(paper: str) -> str:
    known = paper_named(paper)
    return next(key for key, each in PAPERS.items() if each == known)


def _in_order(wanted: Sequence[str], known: Sequence[str]) -> tuple[str, ...]:
    """The sizes as they follow in the chart."""
    for size in wanted:
        if size not in known or wanted.count(size) > 1:
            twice = size in known
            raise Misuse(
                f"size {size[:40]!r} is named twice" if twice else f"no size {size[:40]!r}",
                where="sizes to print",
                how_much=f"the chart has {known[0]} to {known[-1]}",
                what_to_do="Name each size once."
                if twice
                else did_you_mean(size, known, of_what="sizes"),
            )
    return tuple(size for size in known if size in wanted)
