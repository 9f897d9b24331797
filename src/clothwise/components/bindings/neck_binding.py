"""A neckline of any shape, closed or opened, bound with bias tape, bought or of the fabric."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.bindings.bias_strip import TURNED_IN_MM, BiasStrip, bias_tape
from clothwise.components.bindings.binding import Source
from clothwise.components.bindings.continuous_strip import StripsCut, strips_of
from clothwise.components.component import Component, Drafting
from clothwise.components.facings.facing_shape import neck_corners
from clothwise.components.family import Family
from clothwise.components.parameter import choice, length
from clothwise.errors import ComponentError
from clothwise.geometry import Path, angle_between
from clothwise.pattern.graph import EdgeRef, Finish, FinishKind, Run, Seam, Sides
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.pattern import Contribution, Pattern

REINFORCED_MM = 25.0
"""A corner is reinforced this far to both sides; common practice, no source."""


@dataclass(frozen=True)
class NeckBinding(Component):
    """Neckline bound with double-fold bias tape instead of a facing."""

    kind: ClassVar[str] = "neck-binding"
    family: ClassVar[Family] = Family.EDGE

    width_mm: float = length(8, 5, 20, "Finished width of the binding.")
    join_mm: float = length(
        50, 20, 120, "Tape beyond the neckline, for the join or for ends that are turned in."
    )
    source: Source = choice(Source.BOUGHT, "Tape that is bought, or a strip cut from the fabric.")
    longest_mm: float = length(
        900, 250, 1500, "Longest strip cut in one; a longer one is pieced. Of use with fabric."
    )
    strips: StripsCut = choice(
        StripsCut.PARTS,
        "Strips of the fabric: in parts, or continuous, cut round and round a tube.",
    )

    def contribute(self, drafting: Drafting) -> Contribution:
        """Bind the run named `neck-edge`, and `neck-under` with it; it keeps no allowance (I12)."""
        name, pattern = drafting.name, drafting.pattern
        neck = Neck.of(drafting)
        finishes = [
            Finish(
                name,
                "neckline binding",
                neck.run,
                FinishKind.BOUND,
                component=name,
                cover_mm=self.width_mm,
            )
        ]
        if "neck-under" in pattern.runs:
            under = pattern.runs["neck-under"]
            title = "upper edges of what lies under the neckline"
            finishes.append(Finish(f"{name}-under", title, under, FinishKind.BOUND, component=name))
        done = tuple(finish.name for finish in finishes)
        around = neck.copies * pattern.run_length(neck.run)
        reinforcing = self._reinforcing(name, neck)
        if self.source is Source.BOUGHT:
            tape = around + self.join_mm
            return Contribution(
                finishes=tuple(finishes),
                notions=(
                    bias_tape(name, neck.strips * tape, self.width_mm, "to bind the neckline"),
                ),
                operations=(*reinforcing, self._bind(name, neck, done, tape)),
            )
        needed = self._strip(neck, around)
        strip = strips_of(needed, self.strips)
        done += strip.bound_with(drafting)
        return Contribution(
            pieces=strip.pieces(drafting),
            seams=strip.seams(drafting),
            finishes=(*finishes, *strip.finishes(drafting)),
            operations=(
                *reinforcing,
                *strip.operations(name),
                self._bind(name, neck, done, needed.length_mm, of_fabric=True),
            ),
        )

    def _strip(self, neck: Neck, around: float) -> BiasStrip:
        """The strip; its slanted ends are cut square before they are turned in."""
        strip = BiasStrip(
            "neckline",
            around + self.join_mm,
            self.width_mm,
            self.longest_mm,
            sides=Sides.BOTH if neck.strips > 1 else Sides.CENTER,
            is_ring=neck.is_ring,
        )
        return strip if neck.is_ring else strip.with_square_ends(around)

    def _reinforcing(self, name: str, neck: Neck) -> tuple[Operation, ...]:
        if not neck.corners:
            return ()
        return (
            Operation(
                name=f"{name}-corners",
                title=f"Reinforce the {_corner_words(neck)}",
                text="The edge of the neckline has no allowance. Stitch with short stitches "
                "{width} from it, and {reach} to both sides beyond "
                f"the {_corner_words(neck)}, pivoting there. Clip from the edge to the stitching, "
                "but not into it.",
                prepares=neck.prepared,
                minutes=3.0 * len(neck.corners) + 3.0,
                cautions=(Caution.BLADE,),
                values=(("width", self.width_mm), ("reach", REINFORCED_MM)),
                component=name,
            ),
        )

    def _bind(
        self,
        name: str,
        neck: Neck,
        done: tuple[str, ...],
        tape: float,
        *,
        of_fabric: bool = False,
    ) -> Operation:
        kind = "strip" if of_fabric else "tape"
        many = neck.strips > 1
        begin = "Take the pressed strip. " if of_fabric else "Cut {tape} of bias tape. "
        if many:
            begin = (
                "Take a pressed strip for each side. "
                if of_fabric
                else "Cut two pieces of bias tape, each {tape} long. "
            )
        under = (
            "Lay what lies under the front edges in place, upper edges together: it is bound as "
            "one layer with the neckline. "
        )
        return Operation(
            name=f"{name}-bind",
            title="Bind the neckline",
            text=f"{under if f'{name}-under' in done else ''}{begin}{_start(neck, kind)} "
            f"[Stretch the {kind} a little around the curves, {{stretch}} in all, so that its "
            "fold will lie flat on the edge, which is shorter than the line you sew. ]"
            f"{_past_corners(neck, kind)}{_ends(neck, kind)} Turn the {kind} over the edge and "
            "stitch from the right side beside the seam, catching the fold behind."
            f"{_mitres(neck, kind)} Press over a rounded cushion.",
            does=done,
            after=(f"{name}-strip-edge",) if of_fabric else (),
            minutes=25.0 + 8.0 * len(neck.corners),
            cautions=(Caution.IRON, Caution.BLADE, Caution.NEEDLE)
            if neck.corners
            else (Caution.IRON, Caution.BLADE),
            values=(
                ("tape", tape),
                ("stretch", max(neck.bend_rad, 0.0) * self.width_mm),
                ("turn", TURNED_IN_MM),
            ),
            component=name,
        )


@dataclass(frozen=True)
class Neck:
    """A neckline to be bound: half of it, whether its ends are open, and its corners.

    `corners` are in words, each once; `prepared` the edges with corners, as operations prepare
    them. `bend_rad` is the angle that one strip turns by, inward, corners left out.
    """

    run: Run
    open_front: bool
    open_back: bool
    corners: tuple[str, ...]
    prepared: tuple[str, ...]
    bend_rad: float

    @property
    def is_ring(self) -> bool:
        """True if the binding goes all round."""
        return not self.open_front and not self.open_back

    @property
    def strips(self) -> int:
        """How many strips: two if it is open in front and at the back."""
        return 2 if self.open_front and self.open_back else 1

    @property
    def copies(self) -> int:
        """How many halves of the neckline one strip binds."""
        return 2 // self.strips

    @staticmethod
    def of(drafting: Drafting) -> Neck:
        """The neckline of the garment so far.

        Raises:
            ComponentError: there is none, it has lapels, or something is sewn to it.
        """
        pattern, name = drafting.pattern, drafting.name
        edges = pattern.named_run("neck-edge", name)
        _refuse(pattern, edges, name)
        corners: dict[str, None] = {}
        prepared: dict[str, None] = {}
        for each in dict.fromkeys(edge.piece for edge in edges.edges):
            piece = pattern.piece(each)
            for corner in neck_corners(pattern, piece):
                if corner.at_mm is not None or piece.fold_edge is not None:
                    corners[corner.why] = None
                    prepared[f"{each}.{corner.line.edge}"] = None
        open_front = _is_open(pattern, edges.edges[0].reversed)
        open_back = _is_open(pattern, edges.edges[-1])
        bend = sum(_inward(pattern, edge) for edge in edges.edges)
        copies = 1 if open_front and open_back else 2
        return Neck(edges, open_front, open_back, tuple(corners), tuple(prepared), copies * bend)


def _refuse(pattern: Pattern, edges: Run, name: str) -> None:
    for edge in edges.edges:
        piece = pattern.piece(edge.piece)
        if "lapel-edge" in piece.edge_names:
            raise ComponentError(
                "a neckline with lapels is not bound: its facings go on into the collar",
                where=name,
                how_much=f"{piece.name} has the edges {', '.join(piece.edge_names)}",
                what_to_do="Take a notched-collar, or a front without lapels.",
            )
        uses = pattern.uses_of(edge.piece, edge.edge)
        if uses:
            raise ComponentError(
                "the neckline is finished already",
                where=f"{name}, at {piece.title}",
                how_much=f"by the {uses[0].title} of {uses[0].component}",
                what_to_do="Leave out the facing or collar that does it, or the binding.",
            )


def _is_open(pattern: Pattern, last: EdgeRef) -> bool:
    """True if the neckline ends at the end of this edge: no fold and no center seam is there."""
    piece = pattern.piece(last.piece)
    beside = piece.edge_before(last.edge) if last.reverse else piece.edge_after(last.edge)
    if beside == piece.fold_edge:
        return False
    uses = pattern.uses_of(piece.name, beside)
    return not any(isinstance(use, Seam) and use.sides is Sides.CENTER for use in uses)


def _inward(pattern: Pattern, edge: EdgeRef) -> float:
    """By how much an edge turns around what lies outside its cloth, corners left out; radians."""
    segments = pattern.piece(edge.piece).edge(edge.edge).segments
    parts = [Path((segment,)) for segment in segments]
    return -sum(angle_between(part.start_tangent, part.end_tangent) for part in parts)


def _corner_words(neck: Neck) -> str:
    """`corners of the square neck and point of the V neck`."""
    return " and ".join(
        why.replace("corner ", "corners ", 1) if why.startswith("corner ") else why
        for why in neck.corners
    )


def _start(neck: Neck, kind: str) -> str:
    sew = f"the opened {kind} to the neckline, right sides together, along its first fold."
    if neck.is_ring:
        return f"Starting at a shoulder seam, sew {sew}"
    return f"Let {{turn}} of it stand out beyond {_where(neck)} and sew {sew}"


def _where(neck: Neck) -> str:
    if neck.open_front and neck.open_back:
        return "both ends of the neckline"
    return "each front edge" if neck.open_front else "each edge of the back opening"


def _past_corners(neck: Neck, kind: str) -> str:
    if not neck.corners:
        return ""
    return (
        f"At the {_corner_words(neck)} sew up to the clip, leave the needle down, lift the foot "
        f"and pull the clip open until the edge runs on straight, then sew on without a pleat in "
        f"cloth or {kind}. "
    )


def _ends(neck: Neck, kind: str) -> str:
    if neck.is_ring:
        return "Join the ends in a slanted seam."
    square = f"Cut the ends of the {kind} square and turn them in, level with "
    edges = {
        "each front edge": "the front edges",
        "each edge of the back opening": "the edges of the opening",
    }
    return f"{square}{edges.get(_where(neck), 'the edges of the openings')}."


def _mitres(neck: Neck, kind: str) -> str:
    if not neck.corners:
        return ""
    return (
        f" At the {_corner_words(neck)} lay the surplus of the {kind} in a slanted pleat, a "
        "mitre, on both faces of the cloth, the two pleats to opposite sides, and sew them down by "
        "hand."
    )
