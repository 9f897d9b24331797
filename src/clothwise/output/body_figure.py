"""The figure that shows where each measurement is taken, as SVG for a page.

Each measurement is a link with its tape, its name and, where known, its figure; a line leads from
the name to the tape. Colors and pens are the page's: everything has a class. The links point at
`#measurement-waist_girth`, so the figure leads to the table beside it without any script.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from xml.sax.saxutils import escape, quoteattr

from clothwise.geometry import Path, Point, Transform
from clothwise.output.body_outlines import FIGURE, FIGURE_HEIGHT_MM, FigureLines, View
from clothwise.output.body_places import PLACES, LabelSide, Place
from clothwise.output.numbers import number
from clothwise.output.svg import path_data
from clothwise.pattern.measurements import MEASUREMENTS

__all__ = ["BodyLabel", "Reading", "View", "body_figure", "body_labels"]

NAME_MM = 40.0
"""Size of the names, in millimeters of the figure."""

LINE_MM = 46.0
"""From one line of a name to the next."""

_NO_ROOM = '<tspan font-size="0"> </tspan>'  # between lines for who hears them
_BETWEEN_MM = 26.0  # clear between two names
_LETTERS = 16  # in a line of a name
_COLUMN_MM = 330.0  # wide enough for them
_STUB_MM = 22.0  # how far the leading line runs level from the name
_ROOM_MM = 30.0  # around everything
_ENDS_MM = {View.FRONT: (372.0, 372.0), View.BACK: (372.0, 372.0), View.SIDE: (300.0, 268.0)}
"""How far from the middle of the figure the names begin: left, right."""


@dataclass(frozen=True)
class Reading:
    """What a body has there: words such as `72 cm`, and whether nobody measured it."""

    words: str
    is_estimated: bool = False


@dataclass(frozen=True)
class BodyLabel:
    """A name beside the figure.

    Attributes:
        place: what it names.
        lines: its words, broken to the width of its column.
        at: the end of its column that is next to the figure, at the middle of its height.
        leader: the line from there to the tape.
    """

    place: Place
    lines: tuple[str, ...]
    at: Point
    leader: tuple[Point, Point, Point]

    @property
    def height_mm(self) -> float:
        """Of all its lines."""
        return LINE_MM * len(self.lines)


def body_labels(view: View, readings: Mapping[str, Reading] | None = None) -> tuple[BodyLabel, ...]:
    """The names around one view: each as near to its tape as its neighbors let it."""
    readings = readings or {}
    left = _column(view, LabelSide.LEFT, readings)
    return (*left, *_column(view, LabelSide.RIGHT, readings))


def body_figure(
    view: View, readings: Mapping[str, Reading] | None = None, *, id_prefix: str = "figure-"
) -> str:
    """One view as SVG.

    Args:
        view: from where the figure is seen.
        readings: what stands under each name; names without one stand alone.
        id_prefix: put before each id, where several drawings share one web page.
    """
    readings = readings or {}
    left, right = _ENDS_MM[view]
    top = FIGURE_HEIGHT_MM + _ROOM_MM
    width = left + right + 2 * (_COLUMN_MM + _ROOM_MM)
    height = top + _ROOM_MM
    flip = Transform(1, 0, 0, -1, left + _COLUMN_MM + _ROOM_MM, top)
    drawn = _figure(FIGURE[view], flip, f"{id_prefix}{view.value}-body")
    labels = "".join(_measure(each, readings, flip) for each in body_labels(view, readings))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="body-figure" data-view="{view.value}" '
        f'viewBox="0 0 {number(width)} {number(height)}" role="group" '
        f'aria-label="Where the measurements are taken, seen from the {view.value}">'
        f'<g class="figure" aria-hidden="true">{drawn}</g>{labels}</svg>'
    )


def _figure(lines: FigureLines, flip: Transform, clip: str) -> str:
    def shape(path: Path, kind: str) -> str:
        return f'<path class="{kind}" d="{path_data(path.transformed(flip), closed=True)}"/>'

    def line(path: Path) -> str:
        return f'<path class="detail" d="{path_data(path.transformed(flip))}"/>'

    body = path_data(lines.body.transformed(flip), closed=True)
    return "".join(
        [
            f'<clipPath id="{clip}"><path d="{body}"/></clipPath>',
            shape(lines.knot, "hair") if lines.knot else "",
            f'<path class="skin" d="{body}"/>',
            f'<g clip-path="url(#{clip})">{shape(lines.suit, "suit")}</g>',
            f'<path class="outline" d="{body}"/>',
            shape(lines.hair, "hair"),
            *(line(each) for each in lines.details),
            shape(lines.arm, "skin outline") if lines.arm else "",
        ]
    )


def _measure(label: BodyLabel, readings: Mapping[str, Reading], flip: Transform) -> str:
    """A measurement as a link: its tape, the line to it, its name."""
    place = label.place
    name = place.measurement
    reading = readings.get(name)
    estimated = reading is not None and reading.is_estimated
    spoken = MEASUREMENTS[name].label + (f" {reading.words}" if reading else "")
    spoken += ", estimated" if estimated else ""
    kinds = f"measure {place.tape.value}" + (" is-estimated" if estimated else "")
    seen = "".join(path_data(path.transformed(flip)) for path in place.seen)
    hidden = "".join(path_data(path.transformed(flip)) for path in place.hidden)
    leader = "L".join(_pair(flip.point(each)) for each in label.leader)
    end = flip.point(place.pointed_at)
    return (
        f'<a class="{kinds}" href="#measurement-{name}" data-measurement="{name}" '
        f"aria-label={quoteattr(spoken)}>"
        + (f'<path class="behind" d="{hidden}"/>' if hidden else "")
        + f'<path class="reach" d="{seen}"/><path class="tape" d="{seen}"/>'
        f'<path class="leader" d="M{leader}"/>'
        f'<circle class="dot" cx="{number(end.x)}" cy="{number(end.y)}" r="7"/>'
        f"{_words(label, flip, has_reading=reading is not None)}</a>"
    )


def _words(label: BodyLabel, flip: Transform, *, has_reading: bool) -> str:
    at = flip.point(label.at)
    side = label.place.side
    anchor = "end" if side is LabelSide.LEFT else "start"
    first = at.y - label.height_mm / 2 + LINE_MM * 0.72
    lines = []
    for row, words in enumerate(label.lines):
        kind = ' class="reading"' if has_reading and row == len(label.lines) - 1 else ""
        place = f'x="{number(at.x)}" y="{number(first + LINE_MM * row)}"'
        lines.append(f"<tspan{kind} {place}>{escape(words)}</tspan>")
    left = at.x - (_COLUMN_MM if side is LabelSide.LEFT else 0.0)
    return (
        f'<rect class="area" x="{number(left)}" y="{number(at.y - label.height_mm / 2)}" '
        f'width="{number(_COLUMN_MM)}" height="{number(label.height_mm)}"/>'
        f'<text class="name" font-size="{number(NAME_MM)}" text-anchor="{anchor}">'
        f"{_NO_ROOM.join(lines)}</text>"
    )


def _pair(point: Point) -> str:
    return f"{number(point.x)} {number(point.y)}"


def _column(view: View, side: LabelSide, readings: Mapping[str, Reading]) -> tuple[BodyLabel, ...]:
    places = [place for place in PLACES.values() if (place.view, place.side) == (view, side)]
    places.sort(key=lambda place: -place.pointed_at.y)
    texts = [_lines(place.measurement, readings.get(place.measurement)) for place in places]
    heights = [LINE_MM * len(lines) + _BETWEEN_MM for lines in texts]
    middles = _spread([place.pointed_at.y for place in places], heights)
    sign, reach = (-1, _ENDS_MM[view][0]) if side is LabelSide.LEFT else (1, _ENDS_MM[view][1])
    labels = []
    for place, lines, y in zip(places, texts, middles, strict=True):
        at = Point(sign * reach, y)
        start = Point(sign * (reach - _STUB_MM / 2), y)
        bend = Point(sign * (reach - 2 * _STUB_MM), y)
        labels.append(BodyLabel(place, lines, at, (start, bend, place.pointed_at)))
    return tuple(labels)


def _lines(name: str, reading: Reading | None) -> tuple[str, ...]:
    """The words of a name, broken where the column ends, and the reading on a line of its own."""
    lines: list[str] = []
    for word in MEASUREMENTS[name].label.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and len(longer) <= _LETTERS:
            lines[-1] = longer
        else:
            lines.append(word)
    return (*lines, reading.words) if reading else tuple(lines)


def _spread(wanted: Sequence[float], heights: Sequence[float]) -> list[float]:
    """Middles from above downwards, nowhere nearer than their heights, as near as can be.

    Neighbors that would overlap become one stack around the mean of what they want; the whole is
    kept within the height of the figure.
    """
    stacks: list[tuple[list[int], float]] = []  # the rows, and the top of the first
    for row, middle in enumerate(wanted):
        stacks.append(([row], middle + heights[row] / 2))
        while len(stacks) > 1 and _bottom(stacks[-2], heights) < stacks[-1][1]:
            (above, high), (below, low) = stacks[-2], stacks[-1]
            inside = low + sum(heights[each] for each in above)  # where the first of all would be
            share = len(above) / (len(above) + len(below))
            stacks[-2:] = [(above + below, high * share + inside * (1 - share))]
    middles: list[float] = []
    for rows, top in stacks:
        total = sum(heights[each] for each in rows)
        y = min(max(top, total), FIGURE_HEIGHT_MM + _BETWEEN_MM)
        for each in rows:
            middles.append(y - heights[each] / 2)
            y -= heights[each]
    return middles


def _bottom(stack: tuple[list[int], float], heights: Sequence[float]) -> float:
    rows, top = stack
    return top - sum(heights[each] for each in rows)
