"""What the cut room shows, as plain data that travels from a worker to the page."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from clothwise.pattern.commands import CutFromRemnants


@dataclass(frozen=True)
class ClothShown:
    """A fabric of a make.

    Attributes:
        name: in the make.
        title: what it is called.
        paint: of its right side in the page, such as `url(#cloth-0)`.
        words: width and how it lies, in a line.
        copies: how many copies are cut from it.
        fields: as they stand in the make, for the form.
        has_photo: whether it is shown by a photo.
        photo_width: how much cloth that shows from left to right; empty if nobody said.
        from_stash: name in the stash; empty if it stands in the make alone.
    """

    name: str
    title: str
    paint: str
    words: str
    copies: int
    fields: Mapping[str, str] = field(default_factory=dict)
    has_photo: bool = False
    photo_width: str = ""
    from_stash: str = ""


@dataclass(frozen=True)
class CopyShown:
    """A copy of a piece: its key `piece/copy`, what it is called, its fabric and its drawing."""

    key: str
    title: str
    fabric: str
    svg: str


@dataclass(frozen=True)
class PieceShown:
    """A piece with its copies."""

    number: int
    name: str
    title: str
    copies: tuple[CopyShown, ...]


@dataclass(frozen=True)
class LeftAside:
    """What the make says of a piece or copy that the garment does not have.

    Attributes:
        key: as the make names it.
        words: what was said of it.
        is_cloth: whether that is a cloth; else a place.
    """

    key: str
    words: str
    is_cloth: bool


@dataclass(frozen=True)
class GarmentShown:
    """A garment to be painted with fabrics.

    Attributes:
        title, fit: of the make.
        paints: SVG definitions of the cloths, once for the page.
        views: the garment from the front and the back, as SVG.
        cloths: the fabrics.
        pieces: with their copies.
        left_aside: what is said of pieces that are not there.
    """

    title: str
    fit: str
    paints: str
    views: tuple[str, ...]
    cloths: tuple[ClothShown, ...]
    pieces: tuple[PieceShown, ...]
    left_aside: tuple[LeftAside, ...] = ()

    def cloth(self, name: str) -> ClothShown | None:
        """The fabric of a name."""
        return next((each for each in self.cloths if each.name == name), None)


@dataclass(frozen=True)
class CutShown:
    """One cut of a layout.

    Attributes:
        copy: the copy that a pin names.
        title: its name, and how many copies come of it.
        along, across: where its pin would be, in the reader's unit.
        is_pinned, can_be_pinned: see `output.layout_board`.
    """

    copy: str
    title: str
    along: str
    across: str
    is_pinned: bool
    can_be_pinned: bool


@dataclass(frozen=True)
class LayoutShown:
    """A fabric laid out.

    Attributes:
        fabric, title: its name in the make, and what it is called.
        svg: the layout.
        buy: what to buy, in a sentence.
        length: what the layout takes, in the reader's unit.
        length_mm: the same.
        cost: of what is bought; None if no price is stated.
        currency: of it.
        facts: pairs of a name and what it is.
        limits: sentences on what keeps it from being shorter.
        notes: sentences for whoever cuts.
        cuts: what is cut.
        numbered: numbers and names of pieces that have room for their number only.
        is_searched: whether a search has ended for just this; else it may become shorter.
        amount: what to buy, short: `2.9 m`; empty if nothing is bought.
        question: what is asked of a search, as a digest: the same pieces on the same cloth.
    """

    fabric: str
    title: str
    svg: str
    buy: str
    length: str
    length_mm: float
    cost: float | None
    currency: str
    facts: tuple[tuple[str, str], ...] = ()
    limits: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    cuts: tuple[CutShown, ...] = ()
    numbered: tuple[str, ...] = ()
    is_searched: bool = False
    amount: str = ""
    question: str = ""


@dataclass(frozen=True)
class Refused:
    """Why one fabric cannot be laid out, in four parts, while the others can."""

    fabric: str
    title: str
    what: str
    where: str
    how_much: str
    what_to_do: str


@dataclass(frozen=True)
class LayoutsShown:
    """All fabrics of a make laid out, those that could not be, and what all of it costs."""

    layouts: tuple[LayoutShown, ...] = ()
    refused: tuple[Refused, ...] = ()

    @property
    def is_searched(self) -> bool:
        """Whether every layout was searched for."""
        return all(each.is_searched for each in self.layouts)

    @property
    def costs(self) -> tuple[str, ...]:
        """What is paid, by currency; empty where nothing is bought, or no price is stated."""
        sums: dict[str, float] = {}
        for each in self.layouts:
            if each.cost:  # what is at hand costs nothing, in no currency
                sums[each.currency] = sums.get(each.currency, 0.0) + each.cost
        return tuple(f"{cost:.2f} {currency}".strip() for currency, cost in sums.items())

    @property
    def without_price(self) -> tuple[str, ...]:
        """Fabrics whose price is not known, so that the sum leaves them out."""
        return tuple(each.title for each in self.layouts if each.cost is None)


@dataclass(frozen=True)
class RemnantShown:
    """A remnant and what is cut from it: title, drawing, pieces, facts and notes."""

    title: str
    svg: str
    pieces: str
    facts: tuple[tuple[str, str], ...]
    notes: tuple[str, ...]


@dataclass(frozen=True)
class StashShown:
    """What a make is best cut from.

    Attributes:
        answer: in a sentence.
        sentences: on lengths at hand, on what is bought, on what has no place.
        remnants: from which something is cut.
        adopted: the change that takes this over; None if nothing is cut from a remnant.
        moved: what of it had a cloth that was chosen by hand.
        chosen_too: whether such pieces could be taken.
    """

    answer: str
    sentences: tuple[str, ...] = ()
    remnants: tuple[RemnantShown, ...] = ()
    adopted: CutFromRemnants | None = None
    moved: str = ""
    chosen_too: bool = False


@dataclass(frozen=True)
class TableLineShown:
    """A cloth of a requirement table: its title, width and nap, and an amount for each size."""

    cloth: str
    detail: str
    amounts: tuple[str, ...]


@dataclass(frozen=True)
class TableShown:
    """How much to buy in every size.

    Attributes:
        title: of it.
        unit: of the amounts, in words.
        sizes: in order.
        lines: by cloth.
        notes: what must be said below.
        own: which of the sizes is that of the make.
    """

    title: str
    unit: str
    sizes: tuple[str, ...]
    lines: tuple[TableLineShown, ...]
    notes: tuple[str, ...]
    own: str = ""
