"""A cutting layout for a page: paper pieces on the cloth, each one a thing that can be moved.

Drawn at 1:10, so that type and pens have the size they have on paper; lines have class names and
no colors, and the cloth is filled with its own paint. `data-scale` says how many mm of cloth one
unit is, `data-zero` where the lower left corner of the cloth lies; a piece says where its pin would
be (`data-along`, `data-across`, mm), and whether it can have one.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from xml.sax.saxutils import escape, quoteattr

from clothwise.cutting.dividing import DOUBLED
from clothwise.cutting.fabric import Nap
from clothwise.cutting.item import CutItem
from clothwise.cutting.layers import flaws_on
from clothwise.cutting.layout import Cut, LayerPlan, Layers, Layout, Section, placed_outline
from clothwise.cutting.repeat import MatchPoint
from clothwise.geometry import Path, Point, Transform, polyline
from clothwise.output.bounds import Bounds
from clothwise.output.drawing import Anchor, Baseline, Group, Item, Shape, Text, Weight
from clothwise.output.fonts import CAP_HEIGHT
from clothwise.output.layout_cloth import end_of_cloth, ground
from clothwise.output.layout_frame import LayoutFrame, table_length_mm
from clothwise.output.layout_marks import FOLD, SELVAGE
from clothwise.output.layout_measures import across, changes, heads, heads_room_mm, ruler
from clothwise.output.layout_names import grain_items, label_items, numbers_alone
from clothwise.output.layout_pieces import Laid, laid_on, pin_items
from clothwise.output.layout_repeat import match_items, match_spots, pattern_lines
from clothwise.output.numbers import number
from clothwise.output.scene_drawing import CLOTHS, PAPER
from clothwise.output.svg import path_data
from clothwise.units import LengthUnit

__all__ = ["SCALE", "LaidCut", "LayoutBoard", "layout_board"]

SCALE = 10
"""So many mm of cloth are one unit of the drawing."""

_LEFT_MM, _BELOW_MM, _BESIDE_MM = 9.0, 5.0, 2.0  # room for the width, the word fold, and a pen
_NARROWEST_MM = 90.0  # room for what is said above a short cloth
_PLACES = 2


@dataclass(frozen=True)
class LaidCut:
    """One cut of a layout: what comes of it, where it lies, and whether it may be pinned.

    Attributes:
        copies: as `piece/copy`; the first one is named by a pin.
        title: its name.
        along_mm, across_mm: where its pin would be.
        is_pinned: whether somebody pinned it there.
        can_be_pinned: False for what is cut once from doubled cloth, or where it is opened out.
    """

    copies: tuple[str, ...]
    title: str
    along_mm: float
    across_mm: float
    is_pinned: bool
    can_be_pinned: bool


@dataclass(frozen=True)
class LayoutBoard:
    """A layout as SVG, its cuts in the order in which they are drawn.

    `numbered` are numbers of pieces that found no room for their names.
    """

    svg: str
    cuts: tuple[LaidCut, ...]
    numbered: tuple[str, ...]


def layout_board(
    layout: Layout,
    items: Sequence[CutItem],
    *,
    paint: str,
    unit: LengthUnit = LengthUnit.CENTIMETER,
    pinned: Collection[str] = (),
    matches: Sequence[MatchPoint] = (),
) -> LayoutBoard:
    """The layout for a page.

    Args:
        layout: where everything lies.
        items: the copies, as they were given to `lay`.
        paint: of the right side of the cloth, such as `url(#cloth-0-laid)`.
        unit: of what is written.
        pinned: ids of copies that lie where somebody pinned them.
        matches: points that meet on the pattern of the cloth.
    """
    on = LayoutFrame(
        layout,
        {item.id: item for item in items},
        unit,
        CLOTHS[0],
        0.0,
        0.0,
        1 / SCALE,
        frozenset(pinned),
        tuple(matches),
    )
    return _Board(on, paint).drawn()


@dataclass(frozen=True)
class _Board:
    on: LayoutFrame
    paint: str

    @property
    def page(self) -> Bounds:
        on = self.on
        low, high = on.reach_mm
        wide = max(table_length_mm(on.layout) * on.factor, _NARROWEST_MM)
        above = heads_room_mm(on, wide)
        return Bounds(
            -_LEFT_MM, -_BELOW_MM, wide + _BESIDE_MM, (high - low) * on.factor + above + 1.0
        )

    def drawn(self) -> LayoutBoard:
        on, page = self.on, self.page
        pen = _Pen(Transform(1, 0, 0, -1, -page.left, page.top))
        spots = match_spots(on)
        taken = [spot.room for spot in spots]
        cuts: list[LaidCut] = []
        pieces: list[str] = []
        numbered: set[str] = set()
        striped = pattern_lines(on)
        for section in on.layout.sections:
            for one in laid_on(on, section):
                words = label_items(one, pale=bool(striped), taken=taken)
                numbered |= numbers_alone(words)
                cuts.append(self._cut(one, section))
                pieces.append(self._piece(pen, one, cuts[-1], words, pale=bool(striped)))
        cloth = "".join(self._cloth(pen, section) for section in on.layout.sections)
        about = [*ruler(on), *across(on), *heads(on, page.width - _LEFT_MM), *changes(on)]
        marks = [item for spot in spots for item in match_items(spot)]
        said = f"Layout on {on.layout.fabric.name}, {on.length(on.layout.length_mm)} long"
        wide, high = number(page.width, 1), number(page.height, 1)
        parts = [
            f'<rect class="page" width="{wide}" height="{high}"/>',
            f'<g class="cloths">{cloth}{self._flaws(pen)}</g>',
            f'<g class="about" aria-hidden="true">{pen.items(about, "about")}</g>',
            f'<g class="pieces">{"".join(pieces)}</g>',
            f'<g class="repeat" aria-hidden="true">{pen.items(striped, "repeat")}</g>',
            f'<g class="meets" aria-hidden="true">{pen.items(marks, "meets")}</g>',
            f'<g class="ends" aria-hidden="true">{pen.items(end_of_cloth(on), "end")}</g>',
        ]
        svg = (
            f'<svg class="layout" viewBox="0 0 {wide} {high}" '
            'preserveAspectRatio="xMinYMid meet" role="group" '
            f'aria-label={quoteattr(said)} data-scale="{SCALE}" '
            f'data-zero="{number(-page.left, 2)} {number(page.top, 2)}">{"".join(parts)}</svg>'
        )
        return LayoutBoard(svg, tuple(cuts), tuple(sorted(numbered, key=int)))

    def _cloth(self, pen: _Pen, section: Section) -> str:
        """A stretch of cloth: its paint, a veil where the wrong side is seen, and its edges."""
        box = self.on.box(section)
        data = pen.data(box.path, closed=True)
        wrong = {
            Layers.SINGLE: "",
            Layers.PARTLY: pen.data(self.on.flap(section).path, closed=True),
        }.get(section.layers, data)
        veil = f'<path class="veil" d="{wrong}"/>' if wrong else ""
        names = {FOLD: "fold", SELVAGE: "selvage"}
        edges = "".join(
            pen.shape(item, names.get(item.stroke, "edge"))
            for item in ground(self.on, section)
            if isinstance(item, Shape) and item.stroke is not None
        )
        return f'<path class="cloth" fill="{self.paint}" d="{data}"/>{veil}{edges}'

    def _flaws(self, pen: _Pen) -> str:
        on = self.on
        found = []
        for nth, section in enumerate(on.layout.sections):
            for outline in flaws_on(on.layout, nth):
                corners = [on.place(section, x, y) for x, y in outline]
                path = polyline([*corners, corners[0]])
                found.append(
                    f'<path class="flaw" d="{pen.data(path, closed=True)}">'
                    "<title>a flaw: no piece may lie here</title></path>"
                )
        return "".join(found)

    def _cut(self, one: Laid, section: Section) -> LaidCut:
        on = self.on
        outline = placed_outline(one.placement, on.items)
        doubled = DOUBLED.get(on.layout.plan)
        # What is cut once has no fixed place on doubled cloth, see `cutting.pinning`.
        on_doubled = section.layers is doubled and one.placement.cut is not Cut.SPARE
        return LaidCut(
            one.placement.item_ids,
            one.label,
            max(min(x for x, _ in outline), 0.0),
            max(min(y for _, y in outline), 0.0),
            one.is_pinned,
            on.layout.plan is LayerPlan.SINGLE or on_doubled,
        )

    def _piece(
        self, pen: _Pen, one: Laid, cut: LaidCut, words: Sequence[Item], *, pale: bool
    ) -> str:
        on = self.on
        outline = polyline(Point(x, y) for x, y in one.shape.simplify(0.02).exterior.coords)
        data = pen.data(outline, closed=True)
        texts = [word for word in words if isinstance(word, Text)]
        said = self._words(cut, texts)
        arrow = grain_items(
            one, texts, one_way=on.layout.fabric.nap is Nap.ONE_WAY, pale=pale, taken=()
        )
        over = f'<path class="hatch" d="{data}"/>' if one.placement.mirrored else ""
        fold = f'<path class="on-fold" d="{pen.data(polyline(one.fold))}"/>' if one.fold else ""
        return (
            f'<g class="{" ".join(_classes(one, cut))}" data-copy={quoteattr(cut.copies[0])} '
            f'data-along="{number(cut.along_mm)}" data-across="{number(cut.across_mm)}"'
            f"{_role(cut, said)}>"
            f"<title>{escape(said)}</title>"
            f'<path class="outline" d="{data}"/>{over}{fold}'
            f'<g aria-hidden="true">{pen.items(words, "name")}{pen.items(arrow, "grain")}'
            f"{pen.items(pin_items(one), 'pin')}</g></g>"
        )

    def _words(self, cut: LaidCut, texts: Sequence[Text]) -> str:
        """The name of a cut with all that is written on it, and where it lies."""
        on = self.on
        written = " ".join(text.text for text in texts)
        said = written if len(written) > len(cut.title) else cut.title
        plain = said.replace("\u00a0", " ")
        words = f"{plain}: {on.length(cut.along_mm)} along, {on.length(cut.across_mm)} across"
        if cut.is_pinned:
            return f"{words}; pinned"
        return words if cut.can_be_pinned else f"{words}; it cannot be pinned here"


def _classes(one: Laid, cut: LaidCut) -> list[str]:
    found = ["cut"]
    if one.placement.mirrored:
        found.append("turned")
    if cut.is_pinned:
        found.append("pinned")
    found.append("free" if cut.can_be_pinned else "fixed")
    return found


def _role(cut: LaidCut, words: str) -> str:
    """Only what can be moved is a control."""
    if not cut.can_be_pinned:
        return ' role="img" aria-label=' + quoteattr(words)
    return ' role="button" tabindex="0" aria-label=' + quoteattr(words)


@dataclass(frozen=True)
class _Pen:
    """Writes neutral items with class names in place of pens."""

    flip: Transform

    def data(self, path: Path, *, closed: bool = False) -> str:
        return path_data(path.transformed(self.flip), closed=closed, places=_PLACES)

    def items(self, items: Iterable[Item], name: str) -> str:
        return "".join(self._item(item, name) for item in items)

    def shape(self, shape: Shape, name: str) -> str:
        data = "".join(self.data(path, closed=shape.closed) for path in shape.paths)
        kind = name
        if shape.fill is not None:
            kind = f"{name} {'under' if shape.fill == PAPER else 'solid'}"
        return f'<path class="{kind}" d="{data}"/>'

    def _item(self, item: Item, name: str) -> str:
        if isinstance(item, Text):
            return self._text(item, name)
        if isinstance(item, Shape):
            return self.shape(item, name)
        assert isinstance(item, Group)
        return self.items(item.items, name)

    def _text(self, text: Text, name: str) -> str:
        at = self.flip.point(text.at)
        drop = CAP_HEIGHT * text.size_mm / 2 if text.baseline is Baseline.MIDDLE else 0.0
        kind = name if text.weight is Weight.REGULAR else f"{name} {text.weight.value}"
        anchors = {Anchor.LEFT: "", Anchor.CENTER: "middle", Anchor.RIGHT: "end"}
        anchor = anchors[text.anchor]
        attributes = f' text-anchor="{anchor}"' if anchor else ""
        degrees = number(-math.degrees(text.rotation_rad), 2)
        x, y = number(at.x, _PLACES), number(at.y + (drop if degrees == "0" else 0.0), _PLACES)
        if degrees == "0":
            place = f'x="{x}" y="{y}"'
        else:
            place = f'transform="translate({x} {y}) rotate({degrees})" y="{number(drop, _PLACES)}"'
        return (
            f'<text class="{kind}" font-size="{number(text.size_mm, 2)}"{attributes} {place}>'
            f"{escape(text.text)} </text>"  # the blank parts lines for who has them read aloud
        )
