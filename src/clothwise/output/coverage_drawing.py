"""Whom a size chart fits, as a picture: the women of the survey by bust and hip, sizes on top.

Each cell is the darker the more women have that bust and hip; each size is a box as large as its
reach. Below stand the shares, how many sizes bust and hip are apart, and the source. Shades differ
in lightness alone, so that a black-and-white printer shows the same.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from clothwise.geometry import Point, polyline
from clothwise.output.bounds import Bounds
from clothwise.output.drawing import (
    Anchor,
    Baseline,
    Color,
    Drawing,
    Group,
    Item,
    Layer,
    Shape,
    Stroke,
    Text,
    Weight,
    moved,
)
from clothwise.output.fonts import text_width
from clothwise.output.scene_drawing import INK, PAPER, THREAD
from clothwise.output.text_block import Sentence, set_column
from clothwise.sizing.coverage import (
    LARGEST_HALF_STEP_MM,
    Coverage,
    Girths,
    Outcome,
    Region,
    Share,
    SizeReach,
    survey_girths,
)
from clothwise.sizing.survey import SURVEY
from clothwise.units import LengthUnit, format_cm, format_fraction, format_inches, nearest_inches

__all__ = ["coverage_drawing", "coverage_page"]

WIDTH_MM = 170.0
"""Of the whole picture: the text width of a Letter or A4 page."""
_MARGIN_MM = 8.0
_TALLEST_MM = 128.0
"""A range far taller than wide is drawn smaller rather than taller than this."""
_LEFT_MM = 15.0  # room for the figures of the hip
_TITLE_MM, _TYPE_MM, _SMALL_MM = 5.2, 3.0, 2.5
_LABEL_MM = (2.7, 2.3, 1.9)
"""Type sizes tried for the name of a size, largest first."""
_SHADES = tuple(
    Color.parse(text) for text in ("#e6ecf0", "#cbd8e0", "#b1c3ce", "#8ba4b4", "#64839a")
)
_GRAPHITE = Color.parse("#6b6762")
_FRAME = Stroke(0.25, INK)
_TICK = Stroke(0.2, INK)
_RULE = Stroke(0.16, Color.parse("#dedad4"))
_BOX, _FINE_BOX = Stroke(0.42, INK), Stroke(0.26, INK)
_MANY_SIZES = 16
"""Boxes of more sizes are drawn with the finer pen."""
_AVERAGE = Stroke(0.45, THREAD, (2.2, 1.1))
_MOST_SHOWN_APART = 5


def coverage_page(drawing: Drawing) -> Bounds:
    """The rectangle that a drawing of `coverage_drawing` is to be shown in, margins included."""
    frame = drawing.layer("page").items[0]
    assert isinstance(frame, Shape)
    return Bounds.of_points(frame.paths[0].flattened(1.0))


def coverage_drawing(
    found: Coverage,
    *,
    title: str,
    unit: LengthUnit,
    sentence: str = "",
    bodies: Girths | None = None,
) -> Drawing:
    """The picture, with the lower left corner of its page at (0, 0).

    Args:
        found: of the chart.
        title: of the chart; may be empty.
        unit: inches, or anything else for centimeters.
        sentence: what would fit more; may be empty.
        bodies: those counted; by default the women of the survey.
    """
    return _Painter(found, title, unit, sentence, bodies or survey_girths()).drawing()


@dataclass(frozen=True)
class _Axes:
    """From girths to places of the picture."""

    plot: Bounds
    bust_mm: float  # at the left
    hip_mm: float  # at the bottom
    factor: float

    def at(self, bust_mm: float, hip_mm: float) -> Point:
        return Point(
            self.plot.left + (bust_mm - self.bust_mm) * self.factor,
            self.plot.bottom + (hip_mm - self.hip_mm) * self.factor,
        )

    def box(self, size: SizeReach) -> Bounds:
        low = self.at(size.bust.low_mm, size.hip.low_mm)
        high = self.at(size.bust.high_mm, size.hip.high_mm)
        return Bounds(low.x, low.y, high.x, high.y)


class _Painter:
    def __init__(
        self, found: Coverage, title: str, unit: LengthUnit, sentence: str, bodies: Girths
    ) -> None:
        self._found, self._title, self._sentence = found, title, sentence
        self._inches = unit is LengthUnit.INCH
        self._bodies = bodies
        self._cell = 25.4 if self._inches else 20.0
        self._counts, self._bust_edges, self._hip_edges = self._counted()

    # what is shown

    def _counted(self) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        edges = []
        for region in Region:
            girths = self._bodies.at(region)
            reaches = [size.at(region) for size in self._found.sizes]
            low = min(float(girths.min()), *(reach.low_mm for reach in reaches))
            high = max(float(girths.max()), *(reach.high_mm for reach in reaches))
            first, last = math.floor(low / self._cell), math.floor(high / self._cell) + 1
            edges.append(np.arange(first, last + 1) * self._cell)
        counts, _, _ = np.histogram2d(self._bodies.bust, self._bodies.hip, bins=edges)
        return counts, edges[0], edges[1]

    def drawing(self) -> Drawing:
        """Set from the top down, then moved so that the page begins at (0, 0)."""
        inner = WIDTH_MM - 2 * _MARGIN_MM
        head = set_column(
            [
                Sentence("Whom the sizes fit", _TITLE_MM, Weight.BOLD, color=INK),
                *(
                    [Sentence(self._title, _TYPE_MM, lead_mm=0.8, color=_GRAPHITE)]
                    * bool(self._title)
                ),
            ],
            left=_MARGIN_MM,
            top=-_MARGIN_MM,
            width_mm=inner,
        )
        axes = self._axes(head.bottom - 7.5, inner)
        below = axes.plot.bottom - 14.0
        key, key_bottom = self._key(below)
        half = (inner - 8.0) / 2
        words = set_column(self._sentences(), left=_MARGIN_MM, top=key_bottom - 4.5, width_mm=half)
        bars, bars_bottom = self._apart(
            Bounds(_MARGIN_MM + half + 8.0, 0.0, WIDTH_MM - _MARGIN_MM, key_bottom - 4.5)
        )
        foot = set_column(
            self._foot(),
            left=_MARGIN_MM,
            top=min(words.bottom, bars_bottom) - 3.0,
            width_mm=inner,
        )
        layers = (
            Layer("women", (*self._grid(axes), *self._cells(axes))),
            Layer("axes", tuple(self._frame(axes))),
            Layer("average", tuple(self._average(axes))),
            Layer("sizes", (*self._boxes(axes), *self._labels(axes))),
            Layer("words", (*head.texts, *key, *words.texts, *bars, *foot.texts)),
        )
        height = _MARGIN_MM - foot.bottom
        page = Shape((Bounds(0.0, 0.0, WIDTH_MM, height).path,), None, PAPER, closed=True)
        content = moved(Drawing(layers), 0.0, height)
        return Drawing(
            (Layer("page", (page,)), *content.layers), f"Whom the sizes fit. {self._title}".strip()
        )

    def _axes(self, top: float, inner: float) -> _Axes:
        bust, hip = self._bust_edges, self._hip_edges
        across, up = float(bust[-1] - bust[0]), float(hip[-1] - hip[0])
        factor = min((inner - _LEFT_MM) / across, _TALLEST_MM / up)
        left = _MARGIN_MM + _LEFT_MM + (inner - _LEFT_MM - across * factor) / 2
        plot = Bounds(left, top - up * factor, left + across * factor, top)
        return _Axes(plot, float(bust[0]), float(hip[0]), factor)

    # women

    def _cells(self, axes: _Axes) -> Iterator[Item]:
        for rank, shade in enumerate(_SHADES):
            paths = [
                _rectangle(axes, self._bust_edges[i], self._hip_edges[j], self._cell).path
                for i, j in np.argwhere(self._counts > 0)
                if self._shade(self._counts[i, j]) == rank
            ]
            if paths:
                yield Shape(tuple(paths), None, shade, closed=True)

    def _limits(self) -> list[int]:
        """The most women in a cell of each shade; the last has no limit."""
        most = max(5.0, float(self._counts.max()))
        return [max(rank + 1, round(most * share)) for rank, share in enumerate(_SHARES)]

    def _shade(self, count: float) -> int:
        return sum(count > limit for limit in self._limits())

    def _grid(self, axes: _Axes) -> Iterator[Item]:
        plot = axes.plot
        for bust in self._ticks(self._bust_edges, axes.factor):
            x = axes.at(bust, 0.0).x
            yield Shape((polyline([Point(x, plot.bottom), Point(x, plot.top)]),), _RULE)
        for hip in self._ticks(self._hip_edges, axes.factor):
            y = axes.at(0.0, hip).y
            yield Shape((polyline([Point(plot.left, y), Point(plot.right, y)]),), _RULE)

    # axes

    def _ticks(self, edges: np.ndarray, factor: float) -> list[float]:
        unit = 25.4 if self._inches else 10.0
        steps = (1, 2, 4, 8, 16) if self._inches else (2, 5, 10, 20, 50)
        step = next((one for one in steps if one * unit * factor >= 9.0), steps[-1]) * unit
        first, last = math.ceil(edges[0] / step - 1e-9), math.floor(edges[-1] / step + 1e-9)
        return [number * step for number in range(first, last + 1)]

    def _figure(self, girth_mm: float) -> str:
        if self._inches:
            return format_fraction(nearest_inches(girth_mm))
        return format_cm(girth_mm).removesuffix(" cm")

    def _frame(self, axes: _Axes) -> Iterator[Item]:
        plot, unit = axes.plot, "in" if self._inches else "cm"
        yield Shape((plot.path,), _FRAME, closed=True)
        for bust in self._ticks(self._bust_edges, axes.factor):
            at = Point(axes.at(bust, 0.0).x, plot.bottom)
            yield Shape((polyline([at, Point(at.x, at.y - 1.2)]),), _TICK)
            yield _text(self._figure(bust), Point(at.x, at.y - 4.2), _SMALL_MM, Anchor.CENTER)
        for hip in self._ticks(self._hip_edges, axes.factor):
            at = Point(plot.left, axes.at(0.0, hip).y)
            yield Shape((polyline([at, Point(at.x - 1.2, at.y)]),), _TICK)
            yield Text(
                self._figure(hip),
                Point(at.x - 2.0, at.y),
                _SMALL_MM,
                INK,
                anchor=Anchor.RIGHT,
                baseline=Baseline.MIDDLE,
            )
        yield _text(
            f"bust girth ({unit})", Point(plot.center.x, plot.bottom - 9.0), _TYPE_MM, Anchor.CENTER
        )
        yield Text(
            f"hip girth ({unit})",
            Point(plot.left - 10.5, plot.center.y),
            _TYPE_MM,
            INK,
            rotation_rad=math.pi / 2,
            anchor=Anchor.CENTER,
        )

    def _average(self, axes: _Axes) -> Iterator[Item]:
        """The least-squares line of the hip on the bust, as far as there are women."""
        if len(set(self._bodies.bust.tolist())) < 2:
            return
        slope, level = np.polyfit(self._bodies.bust, self._bodies.hip, 1)
        ends = [float(self._bodies.bust.min()), float(self._bodies.bust.max())]
        line = polyline([axes.at(bust, float(slope * bust + level)) for bust in ends])
        yield Group((Shape((line,), _AVERAGE),), clip=axes.plot.path)

    # sizes

    def _boxes(self, axes: _Axes) -> Iterator[Item]:
        for size in self._found.sizes:
            yield Shape((axes.box(size).path,), self._pen(), closed=True)

    def _pen(self) -> Stroke:
        return _BOX if len(self._found.sizes) <= _MANY_SIZES else _FINE_BOX

    def _labels(self, axes: _Axes) -> Iterator[Item]:
        """Names in the middle of their boxes, on paper; those that find no room are left out.

        The first and the last size come first, so that the range is always told.
        """
        taken: list[Bounds] = []
        sizes = self._found.sizes
        order = dict.fromkeys((0, len(sizes) - 1, *range(len(sizes))))
        for number in order:
            name, box = sizes[number].name, axes.box(sizes[number])
            for size_mm in _LABEL_MM:
                width = text_width(name, size_mm, Weight.BOLD) + 1.0
                center = box.center
                plate = Bounds(
                    center.x - width / 2,
                    center.y - 0.5 * size_mm,
                    center.x + width / 2,
                    center.y + 0.5 * size_mm,
                )
                if not any(plate.meets(other) for other in taken) and _lies_in(plate, axes.plot):
                    taken.append(plate)
                    yield Shape((plate.path,), None, PAPER, closed=True, opacity=0.85)
                    yield Text(
                        name,
                        center,
                        size_mm,
                        INK,
                        anchor=Anchor.CENTER,
                        baseline=Baseline.MIDDLE,
                        weight=Weight.BOLD,
                    )
                    break

    # words

    def _key(self, top: float) -> tuple[list[Item], float]:
        """One line, broken where it grows too long; returns where it ends."""
        items: list[Item] = []
        x, y = _MARGIN_MM, top
        limits = self._limits()
        for rank, shade in enumerate(_SHADES):
            low = 1 if rank == 0 else limits[rank - 1] + 1
            if rank < len(limits):
                words = str(low) if low == limits[rank] else f"{low} to {limits[rank]}"
            else:
                cell = self._length(self._cell)
                words = f"{low} or more women in a cell of {cell} by {cell}"
            sample = Shape((_swatch(x, y).path,), None, shade, closed=True)
            x = self._entry(items, words, x, y, sample)
        x, y = _MARGIN_MM, y - 5.0
        x = self._entry(
            items, self._box_words(), x, y, Shape((_swatch(x, y).path,), self._pen(), closed=True)
        )
        line = polyline([Point(x, y), Point(x + 5.0, y)])
        self._entry(items, "average hip at each bust", x, y, Shape((line,), _AVERAGE))
        return items, y - 1.5

    def _entry(self, items: list[Item], words: str, x: float, y: float, sample: Item) -> float:
        items += [sample, _text(words, Point(x + 6.2, y - 0.9), _SMALL_MM)]
        return x + 6.2 + text_width(words, _SMALL_MM) + 4.5

    def _box_words(self) -> str:
        if self._found.tolerance_mm is None:
            most = self._length(LARGEST_HALF_STEP_MM)
            return "a size, as far as halfway to its neighbors" + (
                f", at most {most}" if self._found.shortened else ""
            )
        return f"a size, give or take {self._length(self._found.tolerance_mm)}"

    def _length(self, length_mm: float) -> str:
        return format_inches(length_mm) if self._inches else format_cm(length_mm)

    def _sentences(self) -> Iterator[Sentence]:
        found = self._found
        low, high = (_short(100 * end) for end in found.fits.interval)
        yield Sentence(
            f"{found.fits.per_hundred} of 100 fit a size at bust and hip",
            _TYPE_MM + 0.6,
            Weight.BOLD,
            color=INK,
        )
        yield Sentence(
            f"(the size of the sample leaves {low} to {high} of 100 plausible, 95 %)",
            _SMALL_MM,
            lead_mm=0.6,
            color=_GRAPHITE,
        )
        beyond = (Outcome.BUST_ONLY, Outcome.HIP_ONLY, Outcome.NEITHER)
        outside = Share(sum(found.outcomes[each].count for each in beyond), found.fits.of)
        bust, hip = (_few(found.region(region).within) for region in Region)
        lines = [
            f"Bust in one size, hip in another: {_few(found.outcomes[Outcome.BETWEEN])} of 100",
            f"Bust, hip or both in no size: {_few(outside)} of 100",
            f"Asked about alone, the bust is in some size in {bust} of 100, the hip in {hip} of "
            "100.",
        ]
        for number, line in enumerate(lines):
            yield Sentence(line, _TYPE_MM, lead_mm=1.2 if number == 0 else 0.7, color=INK)

    def _apart(self, room: Bounds) -> tuple[list[Item], float]:
        """Bars: of 100 women, how many have their hip so many sizes above or below their bust."""
        shares = _by_distance(self._found)
        heading = set_column(
            [
                Sentence(
                    "Where the hip is, counted from the size of the bust",
                    _TYPE_MM,
                    Weight.BOLD,
                    color=INK,
                )
            ],
            left=room.left,
            top=room.top,
            width_mm=room.width,
        )
        items: list[Item] = list(heading.texts)
        base = heading.bottom - 24.0
        pitch = room.width / len(shares)
        most = max((share.share for _, share in shares), default=0.0) or 1.0
        for number, (name, share) in enumerate(shares):
            x = room.left + pitch * (number + 0.5)
            height = 17.0 * share.share / most
            bar = Bounds(x - 0.36 * pitch, base, x + 0.36 * pitch, base + height)
            shade = _SHADES[4] if name == "same" else _SHADES[2]
            if height > 0.05:
                items.append(Shape((bar.path,), None, shade, closed=True))
            items.append(
                _text(_few(share), Point(x, base + height + 1.0), _SMALL_MM, Anchor.CENTER)
            )
            items.append(_text(name, Point(x, base - 3.4), _SMALL_MM, Anchor.CENTER))
        ends = [Point(room.left, base), Point(room.right, base)]
        items.append(Shape((polyline(ends),), _TICK))
        items.append(
            Text(
                "sizes lower or higher; women of 100",
                Point(room.center.x, base - 7.2),
                _SMALL_MM,
                _GRAPHITE,
                anchor=Anchor.CENTER,
            )
        )
        return items, base - 8.5

    def _foot(self) -> Iterator[Sentence]:
        if self._sentence:
            yield Sentence(self._sentence, _TYPE_MM, color=INK)
        text = (
            f"{SURVEY.people[0].upper()}{SURVEY.people[1:]}. {SURVEY.caveat} The waist is left "
            f"out: {SURVEY.waist[0].lower()}{SURVEY.waist[1:]} Source: {SURVEY.source}."
        )
        yield Sentence(text, _SMALL_MM, lead_mm=1.8, color=_GRAPHITE)


_SHARES = (0.05, 0.2, 0.4, 0.65)
"""Where shades change, as shares of the fullest cell. Our own choice: by the eye."""


def _by_distance(found: Coverage) -> list[tuple[str, Share]]:
    """From hip far below to hip far above the bust; the far ends are put together."""
    counts = {each.sizes: each.bodies for each in found.apart} | {0: found.fits}
    far = min(_MOST_SHOWN_APART, max(abs(sizes) for sizes in counts))
    told = []
    for sizes in range(-far, far + 1):
        alike = [share for other, share in counts.items() if max(-far, min(far, other)) == sizes]
        name = "same" if sizes == 0 else f"{'−' if sizes < 0 else '+'}{abs(sizes)}"
        if abs(sizes) == far < max(abs(other) for other in counts):
            name += "…"  # the far ends hold all beyond
        told.append((name, Share(sum(share.count for share in alike), found.fits.of)))
    return told


def _short(value: float) -> str:
    return f"{value:.1f}" if 0.0 < value < 0.95 else f"{value:.0f}"


def _few(share: Share) -> str:
    """Of a hundred, one decimal where a whole number would say none or all."""
    value = 100 * share.share
    if (share.count and value < 0.95) or (share.count < share.of and value > 99.05):
        return "under 0.1" if value < 0.05 else f"{min(value, 99.9):.1f}"
    return str(share.per_hundred)


def _rectangle(axes: _Axes, bust_mm: float, hip_mm: float, cell_mm: float) -> Bounds:
    """A cell, a little smaller than its room so that cells look like a weave."""
    low, high = axes.at(bust_mm, hip_mm), axes.at(bust_mm + cell_mm, hip_mm + cell_mm)
    return Bounds(low.x, low.y, high.x, high.y).grown(-0.12)


def _lies_in(inner: Bounds, outer: Bounds) -> bool:
    return all(outer.holds(corner) for corner in inner.corners)


def _swatch(x: float, y: float) -> Bounds:
    return Bounds(x, y - 1.5, x + 5.0, y + 1.5)


def _text(text: str, at: Point, size_mm: float, anchor: Anchor = Anchor.LEFT) -> Text:
    return Text(text, at, size_mm, INK, anchor=anchor)
