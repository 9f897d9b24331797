"""The princess bodice: center and side panels, the darts taken into the seams between them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import ClassVar

from clothwise.components.bodices.bodice import DartedBodice
from clothwise.components.bodices.bodice_block import WAIST_DART_STOPS_SHORT_MM
from clothwise.components.bodices.princess_lines import PANEL, Line, LineFrom, Panels, panels
from clothwise.components.component import Drafting
from clothwise.components.parameter import Parameter, choice, ratio
from clothwise.geometry import Point
from clothwise.pattern.graph import Layer, Match, Seam, SeamKind, run
from clothwise.pattern.mark import NotchKind
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.pattern import Contribution, Pattern
from clothwise.pattern.piece import Piece
from clothwise.pattern.rewiring import Rewiring, rewired

NOTCH_FROM_BUST_MM = 45.0
"""The notches of the front lie this far below and above the bust point; our own choice."""

FACING_ROOM_MM = 62.0
"""A line from the shoulder leaves this much of it beside the neck, for a facing; our own choice."""

FURTHEST_SHARE = 0.65
"""A line begins at most so far out on the shoulder; our own choice."""


@dataclass(frozen=True)
class PrincessBodice(DartedBodice):
    """Bodice of center and side panels, shaped by the seams between them instead of darts."""

    kind: ClassVar[str] = "princess-bodice"

    begins: LineFrom = choice(LineFrom.ARMHOLE, "Where the panel seams begin.")
    armhole_share: float = ratio(0.5, 0.3, 0.7, "How far up each armhole a panel seam begins.")
    shoulder_share: float = ratio(
        0.5, 0.35, 0.65, "How far from the neck a panel seam begins, as a share of the shoulder."
    )

    @classmethod
    def parameters(cls) -> dict[str, Parameter]:
        """Parameters by name; without the place of the bust dart, which it has not."""
        return {name: each for name, each in super().parameters().items() if name not in _GONE}

    def contribute(self, drafting: Drafting) -> Contribution:
        """Draft the darted block, and divide front and back along the princess lines."""
        name = drafting.name
        block = Pattern().adding(super().contribute(drafting))
        front, back = block.piece(f"{name}-front"), block.piece(f"{name}-back")
        front_line, back_line = self._line(front, _bust(front)), self._line(back, _blade(back))
        titles = ("Bodice center front", "Bodice side front")
        fronts = panels(front, front_line, titles)
        backs = panels(back, back_line, ("Bodice center back", "Bodice side back"))
        changed = rewired(
            block,
            Rewiring(
                {
                    front.name: (fronts.center, fronts.side),
                    back.name: (backs.center, backs.side),
                },
                {**fronts.edges, **backs.edges},
            ),
        )
        seams = {
            key: self._with_line(seam, fronts, backs)
            for key, seam in changed.seams.items()
            if seam.kind is not SeamKind.DART
        }
        added = (
            _front_seam(drafting, fronts, front_line.through),
            _back_seam(drafting, backs),
        )
        operations = [each for each in changed.operations if not _sews_darts(each, block)]
        operations[1:1] = _operations(name, added)
        return Contribution(
            pieces=tuple(changed.pieces.values()),
            seams=(*added, *seams.values()),
            finishes=tuple(changed.finishes.values()),
            runs=changed.runs,
            operations=tuple(operations),
            notions=changed.notions,
            findings=changed.findings,
            intended_corners=changed.intended_corners,
            gathers=changed.gathers,
        )

    def _line(self, piece: Piece, through: Point) -> Line:
        if self.begins is LineFrom.ARMHOLE:
            return Line(self.begins, self.armhole_share, through)
        shoulder = piece.edge("shoulder").length
        share = min(max(self.shoulder_share, FACING_ROOM_MM / shoulder), FURTHEST_SHARE)
        return Line(self.begins, share, through)

    def _with_line(self, seam: Seam, fronts: Panels, backs: Panels) -> Seam:
        """The shoulder seam with the panel seams of front and back matched."""
        if self.begins is not LineFrom.SHOULDER or not seam.name.endswith("-shoulder"):
            return seam
        places = (fronts.side.edge("shoulder").length, backs.side.edge("shoulder").length)
        match = Match("panel seam", places, NotchKind.AT_SEAM)
        return replace(seam, matches=(*seam.matches, match))


_GONE = frozenset({"bust_dart_drop"})


def _bust(front: Piece) -> Point:
    return front.points["bust point"]


def _blade(back: Piece) -> Point:
    """The point of the back's dart, or where it would be."""
    if back.darts:
        return back.apex(back.darts[0])
    underarm = back.points["underarm"]
    return Point(0.5 * underarm.x, underarm.y - WAIST_DART_STOPS_SHORT_MM / 2)


def _front_seam(drafting: Drafting, fronts: Panels, bust: Point) -> Seam:
    """Eased between its notches, below and above the bust."""
    line, ease = fronts.center.edge(PANEL), fronts.ease_mm
    at_bust = line.nearest(bust)
    below = max(at_bust - NOTCH_FROM_BUST_MM, at_bust / 2)
    above = min(at_bust + NOTCH_FROM_BUST_MM, (at_bust + line.length) / 2)
    return Seam(
        name=f"{drafting.name}-front-panels",
        title="panel seam of the front",
        layers=(
            Layer(run(f"{fronts.center.name}.{PANEL}")),
            Layer(run(f"-{fronts.side.name}.{PANEL}"), ease_mm=ease),
        ),
        allowance_mm=drafting.seam_allowance_mm,
        matches=(
            Match("below the bust", (below, below), NotchKind.SINGLE),
            Match("above the bust", (above, above + ease), NotchKind.SINGLE),
        ),
        component=drafting.name,
    )


def _back_seam(drafting: Drafting, backs: Panels) -> Seam:
    half = backs.center.edge(PANEL).length / 2
    return Seam(
        name=f"{drafting.name}-back-panels",
        title="panel seam of the back",
        layers=(
            Layer(run(f"{backs.center.name}.{PANEL}")),
            Layer(run(f"-{backs.side.name}.{PANEL}")),
        ),
        allowance_mm=drafting.seam_allowance_mm,
        matches=(Match("back panels", (half, half), NotchKind.DOUBLE),),
        component=drafting.name,
    )


def _sews_darts(operation: Operation, block: Pattern) -> bool:
    """True if darts are all that it sews."""
    seams = [block.seams[name] for name in operation.does if name in block.seams]
    return bool(seams) and all(seam.kind is SeamKind.DART for seam in seams)


def _operations(name: str, seams: tuple[Seam, Seam]) -> tuple[Operation, Operation]:
    front, back = seams
    return (
        Operation(
            name=front.name,
            title="Sew the panel seams of the front",
            text="Staystitch the curve of the center panel just inside the seam line and clip its "
            "allowance to the stitching, so that it opens. Lay it on the side panel, right sides "
            "together, {notches} matched[; ease in the side panel, which is {ease} longer, between "
            "the notches]. Sew from the waist up with {allowance} allowance. Notch the allowance "
            "of the side panel where it ripples, neaten the edges and press open over a rounded "
            "cushion.",
            does=(front.name,),
            minutes=24,
            cautions=(Caution.IRON, Caution.BLADE),
            component=name,
        ),
        Operation(
            name=back.name,
            title="Sew the panel seams of the back",
            text="Lay side on center back, right sides together, {notches} matched. Sew from the "
            "waist up with {allowance} allowance. Clip the curve, neaten the edges and press open.",
            does=(back.name,),
            minutes=16,
            cautions=(Caution.IRON, Caution.BLADE),
            component=name,
        ),
    )
