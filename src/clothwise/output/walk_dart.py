"""Both legs of a dart laid side by side, as SVG for a page.

By hand one creases the paper at the point of the dart and lays one leg on the other. Drawn is what
matters of that: the paper beside each leg, with the open end and the point marked. The rest of the
piece would lie over both and hide them, as it is the same piece twice. The dart lies still and the
place of the stop goes along it.
"""

from __future__ import annotations

import math
from dataclasses import replace
from xml.sax.saxutils import quoteattr

import shapely

from clothwise.geometry import Point, Transform
from clothwise.output.numbers import number
from clothwise.output.walk_drawing import LaidPaper, LaidStop, seam_picture
from clothwise.pattern import Pattern, Run, Spot
from clothwise.pattern.piece import Dart, Piece

__all__ = ["begins_open", "dart_svg", "dart_walked", "laid_still"]

STRIP_MM = 36.0
"""How wide the paper beside a leg is drawn; our own choice: narrower than most darts are apart."""
BEYOND_MM = 16.0
"""How far the paper goes on beyond the ends of a leg, where there is paper; our own choice."""
BETWEEN_MM = 3.0
"""How far apart both legs are drawn, so that one does not hide the other; our own choice."""
AROUND_MM = 26.0
"""What is shown beyond the ends of the legs; our own choice."""
LETTERS = 0.024
"""The height of letters as a share of the width of the picture; our own choice."""
_NAME_MM = 11.0  # how far into the paper the name of an end stands
_STEP_MM = 4.0  # legs may be bent


def dart_walked(pattern: Pattern, runs: tuple[Run, Run]) -> Dart | None:
    """The dart whose legs two runs are; None for every other seam."""
    if any(len(run.edges) != 1 for run in runs):
        return None
    first, second = runs[0].edges[0], runs[1].edges[0]
    if first.piece != second.piece:
        return None
    dart = pattern.piece(first.piece).dart_of_leg(first.edge)
    legs = {dart.leg_in, dart.leg_out} if dart else set()
    return dart if {first.edge, second.edge} == legs else None


def laid_still(at: LaidStop, gone_mm: float, length_mm: float) -> tuple[LaidStop, float]:
    """Where both legs lie at a stop when the dart stays where it is, and where the stop then lies.

    Args:
        at: with the place of the stop in the middle.
        gone_mm: the way to that place along the first leg.
        length_mm: of the first leg, whose half lies in the middle of the picture.
    """
    here_mm = gone_mm - length_mm / 2
    shift = Transform.shift(here_mm, 0.0)
    first, second = (replace(paper, move=paper.move.then(shift)) for paper in (at.first, at.second))
    return LaidStop(first, second), here_mm


def dart_svg(
    pattern: Pattern,
    dart: Dart,
    runs: tuple[Run, Run],
    at: tuple[LaidStop, float],
    *,
    title: str,
) -> str:
    """The picture at one stop, wide enough for both ends of the legs.

    Colors and pens are the page's: `cut`, `walked`, `end` and `end-name` are classes.

    Args:
        pattern: which has the dart.
        dart: as `dart_walked` found it.
        runs: its legs.
        at: where both lie, and the stop: as `laid_still` tells it.
        title: what is shown, in words.
    """
    laid, here_mm = at
    width = max(pattern.run_length(run) for run in runs) + 2 * AROUND_MM
    sides = (("first", runs[0], laid.first, -1), ("second", runs[1], laid.second, 1))
    papers = "".join(
        f'<g transform="translate(0 {number(down * BETWEEN_MM / 2)})">'
        f"{_leg(pattern, dart, side, run, paper)}</g>"
        for side, run, paper, down in sides
    )
    letters = f'<g font-size="{number(width * LETTERS)}">{papers}</g>'
    return seam_picture(letters, width_mm=width, title=title, here_mm=here_mm)


def _leg(pattern: Pattern, dart: Dart, side: str, run: Run, paper: LaidPaper) -> str:
    length = pattern.run_length(run)
    steps = max(1, math.ceil(length / _STEP_MM))
    spots = [pattern.spot(run, length * step / steps) for step in range(steps + 1)]
    leg = [spot.point for spot in spots]
    ends = ("open end", "point") if begins_open(dart, run) else ("point", "open end")
    return (
        f'<g class="paper {side}" data-side="{side}" data-piece={quoteattr(paper.piece)} '
        f'transform="{paper.matrix}">'
        f'<path class="cut beside" d="{_drawn(_paper_beside(pattern, dart, spots))}Z"/>'
        f'<path class="edge walked" d="{_drawn(leg)}"/>'
        f"{_end(ends[0], spots[0], paper, 1)}{_end(ends[1], spots[-1], paper, -1)}</g>"
    )


def _paper_beside(pattern: Pattern, dart: Dart, spots: list[Spot]) -> list[Point]:
    """The outline of the paper beside a leg, up to the stitching lines of its piece.

    Other darts of the piece are paper, as nobody has cut them out.
    """
    first, last = spots[0], spots[-1]
    leg = [
        first.point - first.along * BEYOND_MM,
        *(spot.point for spot in spots),
        last.point + last.along * BEYOND_MM,
    ]
    inward = [first.inward, *(spot.inward for spot in spots), last.inward]
    edge = [at + way * STRIP_MM for at, way in zip(leg, inward, strict=True)]
    strip = shapely.Polygon([(each.x, each.y) for each in [*leg, *reversed(edge)]])
    piece = pattern.piece(first.edge.piece)
    others = [_wedge(piece, other) for other in piece.darts if other != dart]
    found = strip.buffer(0).intersection(shapely.union_all([piece.outline.polygon, *others]))
    parts = [each for each in shapely.get_parts(found) if isinstance(each, shapely.Polygon)]
    middle = spots[len(spots) // 2].point
    nearest = min(parts, key=shapely.Point(middle.x, middle.y).distance, default=strip)
    return [Point(x, y) for x, y in nearest.exterior.coords]


def _wedge(piece: Piece, dart: Dart) -> shapely.Polygon:
    """What a dart takes in."""
    legs = (piece.edge(dart.leg_in), piece.edge(dart.leg_out))
    points = [at for leg in legs for at in leg.flattened(0.5)]
    wedge = shapely.Polygon([(at.x, at.y) for at in points])
    return wedge.buffer(0.1)  # so that it has no gap to the outline


def begins_open(dart: Dart, run: Run) -> bool:
    """Whether the leg is walked from the open end: `leg_in` of a dart runs to its point."""
    edge = run.edges[0]
    return (edge.edge == dart.leg_in) != edge.reverse


def _end(name: str, spot: Spot, paper: LaidPaper, inside: int) -> str:
    """A ring at an end of a leg, and its name within the paper, upright however that lies."""
    at, move = spot.point, paper.move
    words = at + spot.inward * _NAME_MM + spot.along * (inside * 6.0)
    anchor = "start" if inside > 0 else "end"
    upright = " ".join(number(part, 6) for part in (move.a, move.c, move.b, move.d))
    return (
        f'<circle class="end" cx="{number(at.x)}" cy="{number(at.y)}" r="1.3"/>'
        f'<text class="end-name" text-anchor="{anchor}" '
        f'transform="translate({number(words.x)} {number(words.y)}) matrix({upright} 0 0)">'
        f"{name}</text>"
    )


def _drawn(points: list[Point]) -> str:
    return "M" + "L".join(f"{number(each.x)} {number(each.y)}" for each in points)
