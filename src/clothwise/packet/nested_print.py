"""What is printed of a make: on which paper, in which sizes, with which layers.

One size is drawn with all its lines; several lie on one another, each with its own kind of line.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import partial

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
from clothwise.output.nest import NESTED_LAYERS
from clothwise.packet.making import Making
from clothwise.packet.printing import (
    LARGE_PAPERS,
    caption_of,
    of_design,
    piece_drawings,
    print_title,
    with_own_fabrics,
)
from clothwise.packet.rectangles import NOT_PRINTED, told_rectangles
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
        leaves_out_rectangles: whether plain rectangles are told on the first page, not printed.
    """

    paper: str = ""
    sizes: tuple[str, ...] = ()
    layers: frozenset[PrintLayer] = ALL_LAYERS
    leaves_out_rectangles: bool = False


AS_MADE = PrintChoice()
"""The paper and the size or body of the make, with all layers."""


@dataclass(frozen=True)
class DrawnPieces:
    """What is chosen, drawn once and not yet arranged on paper.

    Attributes:
        drawings: one for each piece.
        title: at the head of the print.
        sizes: that lie on one another; none if there is only one.
        caution: what to mind with this print; may be empty.
        rectangles: by title, how large the plain rectangles among them are.
        measured_out: sentences on rectangles that are left out.
    """

    drawings: tuple[Drawing, ...]
    title: PrintTitle
    sizes: tuple[str, ...] = ()
    caution: str = ""
    rectangles: Mapping[str, str] = field(default_factory=dict)
    measured_out: tuple[str, ...] = ()

    def on(self, paper: str) -> PrintPages:
        """Arrange them on pages that are joined, or on large sheets.

        Raises:
            Misuse: there is no such paper.
        """
        make = (
            sheet_pages
            if _paper_name(paper) in LARGE_PAPERS
            else partial(tiled_pages, rectangles=self.rectangles)
        )
        return make(
            self.drawings,
            self.title,
            paper=paper_named(paper),
            sizes=self.sizes,
            caution=self.caution,
            measured_out=self.measured_out,
        )


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
    paper = _paper_name(choice.paper or making.file.make.paper)
    drawn = drawn_pieces(making, choice, tell=tell)
    tell("arranging them on paper")
    return drawn.on(paper)


def drawn_pieces(
    making: Making,
    choice: PrintChoice,
    *,
    edition: str = "",
    tell: Callable[[str], None] = lambda _: None,
) -> DrawnPieces:
    """The pieces of what is chosen, for whatever paper.

    Args and errors are those of `chosen_pages`; of the choice, the paper is not asked. `edition`
    says which printing it is.
    """
    sizes = _in_order(choice.sizes, making.file.of.sizes)
    caution = "" if PrintLayer.MARKS in choice.layers else MARKS_LEFT_OUT
    if len(sizes) > 1:
        makings = _drafted(making, sizes, tell)
        _refuse_unlike(makings, making.file.of.sizes)
        tell("drawing the sizes on one another")
        known = making.file.of.sizes
        told, out = _rectangles(makings, choice)
        drawings = nested_drawings(makings, choice.layers, known, out)
        words = of_design(f"Sizes {sizes_in_words(sizes, known)}", making)
        title = PrintTitle(making.title, words, edition=edition, unit=making.unit)
        return DrawnPieces(drawings, title, sizes, caution, *told)
    one = in_size(making, sizes[0]) if sizes else making
    tell("drawing the pieces")
    title = print_title(one, edition)
    told, out = _rectangles({one.size: one}, choice)
    drawings = piece_drawings(one, choice.layers, out)
    return DrawnPieces(drawings, title, (), caution, *told)


def _rectangles(
    makings: Mapping[str, Making], choice: PrintChoice
) -> tuple[tuple[dict[str, str], tuple[str, ...]], tuple[str, ...]]:
    """How large rectangles are, what is told of those left out, and the names of these."""
    found = told_rectangles(makings)
    if not choice.leaves_out_rectangles or not found:
        return ({each.title: each.size for each in found}, ()), ()
    told = (NOT_PRINTED, *(each.measured_out for each in found))
    return ({}, told), tuple(each.piece for each in found)


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
    makings: Mapping[str, Making],
    layers: frozenset[PrintLayer],
    known: Sequence[str],
    without: Collection[str] = (),
) -> tuple[Drawing, ...]:
    """A drawing of every piece with all sizes of it on one another.

    Args:
        makings: the same make by size, from the smallest.
        layers: what is drawn beside cutting lines, grain and titles.
        known: the sizes of the chart, so that a range is only told where none is left out.
        without: pieces that are not drawn.
    """
    patterns = {size: with_own_fabrics(each) for size, each in makings.items()}
    corners = {size: each.corners for size, each in makings.items()}
    owners = {piece: each for each in makings.values() for piece in each.pattern.pieces}
    names = dict.fromkeys(piece for each in patterns.values() for piece in each.pieces)
    drawings = []
    for number, piece in enumerate(names, start=1):
        if piece in without:
            continue
        having = [size for size, each in patterns.items() if piece in each.pieces]
        caption = replace(
            caption_of(owners[piece], piece),
            number=str(number),
            size=sizes_in_words(having, known),
            is_range=len(having) > 1,
        )
        drawings.append(nested(patterns, piece, caption, corners=corners, layers=layers))
    return tuple(drawings)


def for_packet(
    making: Making,
    paper: str = "",
    sizes: Sequence[str] = (),
    *,
    leaves_out_rectangles: bool = False,
) -> PrintChoice:
    """How the pattern of a packet is printed; booklet and layouts are those of the make's own size.

    Several sizes lie on one another without stitching lines, which would be hard to tell apart.

    Args:
        making: what is packed.
        paper: of the pages for a home printer; empty for that of the make.
        sizes: of the size chart; empty for the size or body that the make is for.
        leaves_out_rectangles: whether plain rectangles are told, not printed.

    Raises:
        Misuse: the paper is a large sheet, there is no such paper or size, a size is named twice,
            the make is for own measurements, or its own size is not among the sizes.
    """
    if paper and _paper_name(paper) in LARGE_PAPERS:
        raise Misuse(
            f"{paper_named(paper).name} is no paper of a home printer",
            where="paper of the packet",
            what_to_do="Choose A4, Letter or another page; the packet holds A0 sheets beside them.",
        )
    wanted = _in_order(sizes, making.file.of.sizes)
    if wanted and not has_chart_size(making):
        raise Misuse(
            "a make for own measurements is packed in no sizes of the chart",
            where=f"the make {making.title}",
            how_much=f"it is for: {making.fit}",
            what_to_do="Leave the sizes out, or pack a make that is for a size of the chart.",
        )
    if wanted and making.size not in wanted:
        raise Misuse(
            f"size {making.size}, which the make is for, is not among the sizes of its packet",
            where="sizes to print",
            how_much=f"wanted: {sizes_in_words(wanted, making.file.of.sizes)}",
            what_to_do=f"Add size {making.size}: booklet and layouts are made for it. Or pack a "
            "make of another size.",
        )
    wanted = () if wanted == (making.size,) else wanted
    layers = NESTED_LAYERS if wanted else ALL_LAYERS
    return PrintChoice(paper, wanted, layers, leaves_out_rectangles)


def named_sizes(text: str, known: Sequence[str]) -> tuple[str, ...]:
    """The sizes that a text names, `all` for those of the chart; whether they exist is not asked.

    >>> named_sizes("36, 40", ["36", "38", "40"]), named_sizes("all", ["36", "38"])
    (('36', '40'), ('36', '38'))
    """
    wanted = tuple(each.strip() for each in text.split(",") if each.strip())
    return tuple(known) if wanted == ("all",) else wanted


def has_chart_size(making: Making) -> bool:
    """Whether a make is for a size of the chart as it stands there, so that others may join it."""
    return making.size in making.file.of.sizes and not making.file.make.measurements


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
