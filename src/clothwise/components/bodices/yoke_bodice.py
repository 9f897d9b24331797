"""The bodice with yokes: a panel from the shoulders down, in the back, in front or both.

A back yoke ends in a level line, a front yoke along the shoulder or level. For gathers the part
below is slashed to the waist and spread at the yoke: what lies outside the slash turns about a
point of the waist seam, so that side, armhole and waist keep their lengths.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import Enum
from typing import ClassVar

from clothwise.components.bodices.bodice import DartedBodice
from clothwise.components.bodices.bodice_seams import bodice_operations
from clothwise.components.bodices.dart_seams import dart_seam
from clothwise.components.bodices.front_yoke import (
    YOKE,
    FrontLine,
    Fullness,
    Lower,
    center_x,
    on_armhole,
    opened,
    spread,
    with_pleats,
    yoke_line,
)
from clothwise.components.bodices.yoke_sewing import YokeSeam, yoke_operations, yoke_seam
from clothwise.components.component import Drafting
from clothwise.components.parameter import choice, count, length
from clothwise.geometry import Path, Point, straight
from clothwise.pattern.graph import SeamKind
from clothwise.pattern.operation import Operation
from clothwise.pattern.pattern import Contribution, Pattern
from clothwise.pattern.piece import Piece
from clothwise.pattern.rewiring import Rewiring, rewired, without_seams
from clothwise.pattern.splitting import Split, grained, split_piece

HINGE_SHARE = 0.5
"""Front and back are spread about the middle of the waist beside the center; our own choice."""


class Yokes(Enum):
    """Where a bodice has a yoke."""

    BACK = "back"
    FRONT = "front"
    BOTH = "both"


@dataclass(frozen=True)
class YokeBodice(DartedBodice):
    """Bodice with a yoke in the back, in front or both, to which the rest is sewn plain or full."""

    kind: ClassVar[str] = "yoke-bodice"

    bust_ease_mm: float = length(
        80,
        -100,
        250,
        "Room beyond the bust girth before gathers or pleats, whose width Check counts as room "
        "too; less in stretch.",
    )
    yoke: Yokes = choice(Yokes.BACK, "Where it has a yoke.")
    yoke_depth_mm: float = length(95, 75, 130, "Back yoke at center back, from the neckline down.")
    gathers_mm: float = length(
        0, 0, 60, "What is gathered into each half of the back yoke; 0 is plain."
    )
    front_line: FrontLine = choice(
        FrontLine.SHOULDER,
        "The front yoke ends along the shoulder, from armhole to neckline, or level across.",
    )
    front_yoke_mm: float = length(
        45, 30, 120, "Front yoke, below the shoulder seam; level, below the neckline in front."
    )
    front_fullness: Fullness = choice(
        Fullness.PLAIN,
        "Plain, the bust dart stays in the side; else it is moved into the front yoke seam, as "
        "gathers, pleats or a dart.",
    )
    front_gathers_mm: float = length(
        0, 0, 60, "What is gathered or pleated into each half of the front yoke beyond the dart."
    )
    front_pleats: int = count(2, 1, 4, "Pleats in each half of the front, if it has pleats.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Draft the darted bodice, and divide back and front at their yoke seams."""
        whole = Pattern().adding(super().contribute(drafting))
        if self.yoke is not Yokes.FRONT:
            whole = self._with_back_yoke(drafting, whole)
        if self.yoke is not Yokes.BACK:
            whole = self._with_front_yoke(drafting, whole)
        return Contribution(
            pieces=tuple(whole.pieces.values()),
            seams=tuple(whole.seams.values()),
            finishes=tuple(whole.finishes.values()),
            runs=whole.runs,
            operations=tuple(whole.operations),
            intended_corners=whole.intended_corners,
        )

    def _with_back_yoke(self, drafting: Drafting, whole: Pattern) -> Pattern:
        name = f"{drafting.name}-back"
        divided = _divided(whole, self._back_split(drafting, whole.piece(name)))
        lower, yoke = divided.piece(name), divided.piece(f"{name}-{YOKE}")
        if self.gathers_mm:
            lower = grained(spread(lower, self.gathers_mm, HINGE_SHARE))
            divided = replace(divided, pieces={**divided.pieces, name: lower})
        more = lower.edge(YOKE).length - yoke.edge(YOKE).length
        seam = YokeSeam(name, yoke, (YOKE,), more, SeamKind.GATHERED if more > 1e-6 else _PLAIN)
        return _sewn(drafting, divided, seam, lower)

    def _with_front_yoke(self, drafting: Drafting, whole: Pattern) -> Pattern:
        name = f"{drafting.name}-front"
        divided = _divided(whole, self._front_split(drafting, whole.piece(name)))
        before, yoke = divided.piece(name), divided.piece(f"{name}-{YOKE}")
        lower = opened(before, self.front_fullness, self.front_gathers_mm, HINGE_SHARE)
        kind = _PLAIN
        if lower.more_mm > 1e-6:
            pleats = self.front_fullness is Fullness.PLEATS
            kind = SeamKind.PLEATED if pleats else SeamKind.GATHERED
            if pleats:
                lower = Lower(with_pleats(lower, self.front_pleats), lower.more_mm)
        divided = _redrawn(drafting, divided, before, lower.piece)
        seam = YokeSeam(name, yoke, lower.edges, lower.more_mm, kind)
        return _sewn(drafting, divided, seam, lower.piece)

    def _front_split(self, drafting: Drafting, front: Piece) -> Split:
        line = yoke_line(front, self.front_line, self.front_yoke_mm, f"{drafting.name}, front")
        return _split(drafting, front, line, ("Bodice front", "Front yoke"))

    def _back_split(self, drafting: Drafting, back: Piece) -> Split:
        """From the armhole level to center back."""
        level = back.points["center back neck"].y - self.yoke_depth_mm
        end = on_armhole(
            back,
            level,
            "the yoke seam does not end on the armhole",
            f"{drafting.name}, back",
            lies=f"{self.yoke_depth_mm:.0f} mm below the neckline it lies ",
            remedies=("Raise yoke_depth.", "Lower yoke_depth."),
        )
        line = straight(end, Point(center_x(back), level))
        return _split(drafting, back, line, ("Bodice back", "Back yoke"))


_PLAIN = SeamKind.PLAIN


def _split(drafting: Drafting, piece: Piece, line: Path, titles: tuple[str, str]) -> Split:
    return Split(
        name=YOKE,
        piece=piece.name,
        line=line,
        left=(piece.name, titles[0]),
        right=(f"{piece.name}-{YOKE}", titles[1]),
        title="yoke seam",
        allowance_mm=drafting.seam_allowance_mm,
    )


def _divided(whole: Pattern, split: Split) -> Pattern:
    """The pattern with a piece in two, without the seam and the step that a split brings."""
    before = {operation.name for operation in whole.operations}
    divided = split_piece(whole, split)
    gone = f"{split.piece}-{YOKE}"
    return replace(
        divided,
        seams={name: seam for name, seam in divided.seams.items() if name != gone},
        operations=tuple(each for each in divided.operations if each.name in before),
    )


def _sewn(drafting: Drafting, divided: Pattern, asked: YokeSeam, lower: Piece) -> Pattern:
    """The pattern with a yoke seam and its work, after the staystitching of the neckline."""
    seam = yoke_seam(drafting, asked)
    operations = list(divided.operations)
    operations[1:1] = yoke_operations(drafting.name, asked, seam, lower)
    return replace(divided, seams={seam.name: seam, **divided.seams}, operations=tuple(operations))


def _redrawn(drafting: Drafting, divided: Pattern, before: Piece, lower: Piece) -> Pattern:
    """The pattern with the front below the yoke redrawn; its darts are others now."""
    if lower is before:
        return divided
    name = lower.name
    gone = tuple(each for each in before.edge_names if each not in lower.edge_names)
    changed = rewired(
        divided,
        Rewiring({name: (lower,)}, {(name, each): () for each in gone}),
    )
    lost = {f"{name}-{dart.leg_in.removesuffix('-in')}" for dart in before.darts}
    kept = {f"{name}-{dart.leg_in.removesuffix('-in')}" for dart in lower.darts}
    changed = without_seams(changed, lost - kept)
    added = {
        seam.name: seam
        for dart in lower.darts
        for seam in (
            dart_seam(
                f"{name}-{dart.leg_in.removesuffix('-in')}",
                f"{dart.name} of the front",
                lower,
                dart,
                drafting.name,
            ),
        )
        if seam.name not in changed.seams
    }
    back = changed.piece(f"{drafting.name}-back")
    told = {each.name: each for each in bodice_operations(drafting.name, lower, back)}
    return replace(
        changed,
        seams={**added, **changed.seams},
        operations=tuple(_told(changed.operations, told, f"{drafting.name}-front-darts")),
    )


def _told(
    operations: Iterable[Operation], told: dict[str, Operation], darts: str
) -> Iterable[Operation]:
    """The steps, with that of the darts of the front as they are now."""
    names = [each.name for each in operations]
    for number, each in enumerate(operations):
        if each.name == darts:
            yield told[darts]
            continue
        yield each
        if number == 0 and darts in told and darts not in names:
            yield told[darts]
