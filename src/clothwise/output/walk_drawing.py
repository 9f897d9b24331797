"""Both sides of a seam laid along each other, as SVG for a page.

The stitching line runs from left to right through the middle of the picture: above it lies the
first side, below it the second, each as true to shape as it is cut. At every stop both papers are
moved so that the same place of the seam lies in the middle; a side that has to be turned face down
for that is said to be. The picture holds every piece once, and a list says where each lies at each
stop, so that a page can walk without asking again.
"""

from __future__ import annotations

from dataclasses import dataclass
from xml.sax.saxutils import quoteattr

from clothwise.geometry import Path, Transform
from clothwise.output.numbers import number
from clothwise.output.piece_lines import PieceLines, piece_lines
from clothwise.output.svg import path_data
from clothwise.pattern import Pattern, Run, SeamCorners, Spot

NEAR_MM = (320.0, 220.0)
"""What the picture shows from close by: its width and height on the paper."""


@dataclass(frozen=True)
class LaidPaper:
    """Where a piece lies at a stop: its name, the move, and whether face down."""

    piece: str
    move: Transform
    is_turned: bool

    @property
    def matrix(self) -> str:
        """The move as SVG writes it."""
        move = self.move
        parts = (move.a, move.b, move.c, move.d, move.e, move.f)
        return f"matrix({' '.join(number(part, 6) for part in parts)})"


@dataclass(frozen=True)
class LaidStop:
    """Where the pieces of both sides lie at a stop."""

    first: LaidPaper
    second: LaidPaper


def laid(spot: Spot, *, below: bool) -> Transform:
    """The move that brings a place of a seam to the middle of a picture whose y points down.

    The seam then runs to the right there, and the piece lies below the seam, or above it.
    """
    along, down = spot.along, spot.inward if below else -spot.inward
    place = spot.point
    return Transform(
        along.x,
        down.x,
        along.y,
        down.y,
        -(along.x * place.x + along.y * place.y),
        -(down.x * place.x + down.y * place.y),
    )


def laid_stop(first: Spot, second: Spot) -> LaidStop:
    """Where both pieces lie when these two places are on each other."""
    return LaidStop(_laid_paper(first, below=False), _laid_paper(second, below=True))


def _laid_paper(spot: Spot, *, below: bool) -> LaidPaper:
    move = laid(spot, below=below)
    # Pictures have y down: a move that keeps the sense of turning shows the back of the paper.
    is_turned = move.a * move.d - move.b * move.c > 0
    return LaidPaper(spot.edge.piece, move, is_turned)


def walk_svg(pattern: Pattern, runs: tuple[Run, Run], at: LaidStop, *, title: str) -> str:
    """The picture at one stop. Pieces that do not lie there are in it, hidden.

    Colors and pens are the page's: `paper`, `cut`, `edge`, `walked` and `notch` are classes.
    """
    corners = SeamCorners(pattern)
    groups = []
    for side, run, paper in (("first", runs[0], at.first), ("second", runs[1], at.second)):
        walked: dict[str, set[str]] = {}
        for edge in run.edges:
            walked.setdefault(edge.piece, set()).add(edge.edge)
        for piece, edges in walked.items():
            lines = piece_lines(pattern, piece, corners)
            here = paper.matrix if paper.piece == piece else ""
            groups.append(_paper(side, lines, edges, here))
    return seam_picture("".join(groups), width_mm=NEAR_MM[0], title=title)


def seam_picture(papers: str, *, width_mm: float, title: str, here_mm: float = 0.0) -> str:
    """A picture around papers that are laid already; the stop is so far right of its middle."""
    width, height = width_mm, width_mm * NEAR_MM[1] / NEAR_MM[0]
    box = " ".join(number(each) for each in (-width / 2, -height / 2, width, height))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="seam-walk" viewBox="{box}" role="img" '
        f"aria-label={quoteattr(title)}>{papers}"
        f'<path class="here" transform="translate({number(here_mm)} 0)" d="M0 -26V26"/></svg>'
    )


def _paper(side: str, lines: PieceLines, walked: set[str], matrix: str) -> str:
    def path(kind: str, line: Path, *, closed: bool = False) -> str:
        return f'<path class="{kind}" d="{path_data(line, closed=closed)}"/>'

    name = lines.piece.name
    shown = f' transform="{matrix}"' if matrix else ' display="none"'
    notches = "".join(
        f"M{number(mark.on_stitching.x)} {number(mark.on_stitching.y)}"
        f"L{number(mark.on_cut.x)} {number(mark.on_cut.y)}"
        for mark in lines.notches
    )
    edges = "".join(
        path("edge walked" if edge in walked else "edge", line) for edge, _, line in lines.edges
    )
    return (
        f'<g class="paper {side}" data-side="{side}" data-piece={quoteattr(name)}{shown}>'
        f"{path('cut', lines.outline.path, closed=True)}{edges}"
        + (f'<path class="notch" d="{notches}"/>' if notches else "")
        + "</g>"
    )
