"""The seam graph: which run of edges is sewn to which, and how every other edge ends.

A run is written as a list of edges, `-` before one that is travelled against its piece's outline:
`run("-front.neck", "back.neck")` goes from center front up to the shoulder and on to center back.
Seams of a symmetric garment are described once, for one side; `Seam.sides` tells where they occur.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from clothwise.geometry import Outline, Transform
from clothwise.pattern.mark import NotchKind


class Sides(Enum):
    """Where a seam occurs: once on each side of the wearer, on one, or once across the center."""

    BOTH = "both"
    LEFT = "left"
    RIGHT = "right"
    CENTER = "center"


@dataclass(frozen=True, order=True)
class EdgeRef:
    """An edge of a piece as a run travels it."""

    piece: str
    edge: str
    reverse: bool = False

    @staticmethod
    def parse(text: str) -> EdgeRef:
        """Read `piece.edge` or `-piece.edge`.

        Raises:
            ValueError: there is no dot in it.
        """
        piece, dot, edge = text.removeprefix("-").partition(".")
        if not dot:
            raise ValueError(f"write an edge as piece.edge, not {text!r}")
        return EdgeRef(piece, edge, text.startswith("-"))

    def __str__(self) -> str:
        return f"{'-' if self.reverse else ''}{self.piece}.{self.edge}"

    @property
    def reversed(self) -> EdgeRef:
        """The same edge travelled the other way."""
        return EdgeRef(self.piece, self.edge, not self.reverse)


@dataclass(frozen=True)
class Run:
    """Edges sewn as one, in order. `closed` runs (an armhole) end where they start."""

    edges: tuple[EdgeRef, ...]
    closed: bool = False

    @property
    def reversed(self) -> Run:
        """The same run from its other end."""
        return Run(tuple(edge.reversed for edge in reversed(self.edges)), self.closed)

    @property
    def pieces(self) -> tuple[str, ...]:
        """Names of the pieces, in order, each once."""
        return tuple(dict.fromkeys(edge.piece for edge in self.edges))

    def then(self, after: Run) -> Run:
        """This run followed by another."""
        return Run(self.edges + after.edges)


def run(*edges: str, closed: bool = False) -> Run:
    """A run from edge names; `-` before an edge travelled backwards."""
    return Run(tuple(EdgeRef.parse(edge) for edge in edges), closed)


@dataclass(frozen=True)
class Layer:
    """One run laid into a seam.

    `ease_mm` is how much longer than the first layer it is meant to be, per side. `span` is the
    stretch of the first layer's run, in mm from its start, on which it lies; None means all of it.
    `is_gathered`: its ease is drawn up in gathers, though the seam itself is plain.
    """

    run: Run
    ease_mm: float = 0.0
    span: tuple[float, float] | None = None
    is_gathered: bool = False


@dataclass(frozen=True)
class Match:
    """A place of a seam where its layers meet: a length along each layer's run, mm.

    None stands for a layer that does not reach there.
    """

    name: str
    at_mm: tuple[float | None, ...]
    notch: NotchKind = NotchKind.NONE


class Pressing(Enum):
    """What happens to the allowances of a seam."""

    OPEN = "open"
    TOWARD_FIRST = "toward the first layer"
    TOWARD_LAST = "toward the last layer"
    TURNED = "turned inside"


class SeamKind(Enum):
    """How a seam is made; numbers of ISO 4916 where one fits (T05, from memory)."""

    PLAIN = "plain"
    DART = "dart"
    GATHERED = "gathered"
    PLEATED = "pleated"

    @property
    def iso_4916(self) -> str:
        """The number of the seam type, or an empty text."""
        return "1.01.01" if self is not SeamKind.DART else ""


class EdgeCare(Enum):
    """How the raw edges of a seam's allowances are kept from fraying."""

    NONE = "none"
    EACH = "each edge overlocked"
    TOGETHER = "edges overlocked together"
    FRENCH = "edges enclosed in a French seam"
    FELLED = "edges folded in and felled"
    BOUND = "each edge bound"
    BOUND_TOGETHER = "edges bound together"


@dataclass(frozen=True)
class Seam:
    """Two or more runs sewn together by one stitching; the first layer is the measure.

    `name` identifies it, `title` is printed ("side seam"). `matches` lists notches and other
    agreeing places once for all layers.
    """

    name: str
    title: str
    layers: tuple[Layer, ...]
    allowance_mm: float
    kind: SeamKind = SeamKind.PLAIN
    pressing: Pressing = Pressing.OPEN
    care: EdgeCare = EdgeCare.EACH
    sides: Sides = Sides.BOTH
    matches: tuple[Match, ...] = ()
    component: str = ""


class FinishKind(Enum):
    """How an edge ends that is sewn to nothing."""

    SINGLE_HEM = "single-turned hem"
    DOUBLE_HEM = "double-turned hem"
    BOUND = "bound"
    OVERLOCKED = "overlocked"
    CLOSURE = "closure"


@dataclass(frozen=True)
class Finish:
    """How a run of edges is finished.

    A hem turns up `depth_mm` and, double, `turn_mm` again; a bound edge has no allowance (I12),
    but its binding may be said to cover `cover_mm` of the face. A closure leaves `gap_mm` open
    between its edges, if it is laced.
    """

    name: str
    title: str
    run: Run
    kind: FinishKind
    depth_mm: float = 0.0
    turn_mm: float = 0.0
    sides: Sides = Sides.BOTH
    component: str = ""
    cover_mm: float = 0.0
    gap_mm: float = 0.0

    @property
    def allowance_mm(self) -> float:
        """What is cut beyond the stitching line."""
        return self.depth_mm + self.turn_mm


@dataclass(frozen=True)
class Placement:
    """A piece laid on the face of another and stitched along some of its edges.

    `onto` carries the piece's coordinates to the host's. `allowance_mm` is turned under along the
    stitched edges.

    A piece that does not lie flat (pleats folded, a gusset between it and the host) has its
    outline on the host in `shape`, in the piece's coordinates. `along` names the edges of that
    outline that lie on the placement line, where `stitched` are edges of something else.
    """

    name: str
    title: str
    piece: str
    host: str
    onto: Transform
    stitched: Run
    allowance_mm: float
    sides: Sides = Sides.BOTH
    component: str = ""
    shape: Outline | None = None
    along: tuple[str, ...] = ()
