"""How a yoke is sewn: its seam, plain, gathered or over pleats, and the work."""

from __future__ import annotations

from dataclasses import dataclass

from clothwise.components.bodices.front_yoke import YOKE
from clothwise.components.component import Drafting
from clothwise.pattern.graph import EdgeCare, EdgeRef, Layer, Match, Pressing, Run, Seam, SeamKind
from clothwise.pattern.mark import NotchKind
from clothwise.pattern.operation import Caution, Highlight, Operation
from clothwise.pattern.piece import Piece

FLAT_SHARE = 0.3
"""This share of the yoke seam, beside the armhole, is not gathered; our own choice."""

FLAT_AT_NECK_SHARE = 0.12
"""Nor is this share beside the neckline, where a front yoke ends there; our own choice."""


@dataclass(frozen=True)
class YokeSeam:
    """A yoke and what is sewn to it.

    Attributes:
        below: name of the piece below.
        yoke: the panel above.
        edges: of the piece below, along the seam, from the armhole inward.
        more_mm: how much longer than the yoke they are.
        kind: plain, gathered or pleated.
    """

    below: str
    yoke: Piece
    edges: tuple[str, ...]
    more_mm: float
    kind: SeamKind

    @property
    def half(self) -> str:
        """Front or back."""
        return "front" if self.below.endswith("front") else "back"

    @property
    def ends_at_neck(self) -> bool:
        """True if the seam ends at the neckline and not at the center."""
        return self.yoke.edge_before(YOKE) == "neck"


def yoke_seam(drafting: Drafting, asked: YokeSeam) -> Seam:
    """Yoke and piece from the armhole inward; gathers lie between the notches."""
    across, more = asked.yoke.edge(YOKE).length, asked.more_mm
    is_full = asked.kind is not SeamKind.PLAIN
    notch = NotchKind.SINGLE if asked.half == "front" else NotchKind.DOUBLE
    at = FLAT_SHARE * across if is_full else across / 2
    if len(asked.edges) > 1:  # clear of the dart between them
        at = FLAT_SHARE * across / 2
    matches = [Match("yoke", (at, at), notch)]
    if is_full and asked.ends_at_neck:
        end = across * (1 - FLAT_AT_NECK_SHARE)
        matches.append(Match("end of the fullness", (end, end + more), notch))
    return Seam(
        name=f"{asked.below}-{YOKE}",
        title="front yoke seam" if asked.half == "front" else "yoke seam",
        layers=(
            Layer(Run((EdgeRef(asked.yoke.name, YOKE, reverse=True),))),
            Layer(
                Run(tuple(EdgeRef(asked.below, edge) for edge in asked.edges)),
                ease_mm=more if is_full else 0.0,
            ),
        ),
        allowance_mm=drafting.seam_allowance_mm,
        kind=asked.kind,
        pressing=Pressing.TOWARD_FIRST,
        care=EdgeCare.TOGETHER,
        matches=tuple(matches),
        component=drafting.name,
    )


def yoke_operations(name: str, asked: YokeSeam, seam: Seam, lower: Piece) -> tuple[Operation, ...]:
    """What is done to sew a yoke to the piece below it."""
    half = asked.half
    centers = "" if asked.ends_at_neck else f" and center {half}s"
    to = "neckline" if asked.ends_at_neck else f"center {half}"
    span = "between the notches" if asked.ends_at_neck else f"from notch to notch across {to}"
    threads = Operation(
        name=f"{seam.name}-threads",
        title=f"Run in the gathering threads of the {half}",
        text=f"With the longest stitch sew two rows along the upper edge of the {half} within the "
        f"allowance, {span}, and leave the threads long.",
        prepares=(f"{lower.name}.{YOKE}",),
        shows=(lower.name,),
        highlight=Highlight.GATHERING,
        minutes=6,
        component=name,
    )
    pleats = Operation(
        name=f"{seam.name}-pleats",
        title=f"Lay the pleats of the {half}",
        text="Fold each pleat along its line named fold, lay it toward the armhole on the line "
        "named lay fold here, and baste the folds down within the allowance of the upper edge; "
        "trim what stands over it. Below they open.",
        prepares=(f"{lower.name}.{YOKE}",),
        shows=(lower.name,),
        minutes=12,
        component=name,
    )
    filled = {
        SeamKind.GATHERED: f"Draw the threads up until the {half}, which is {{ease}} longer on "
        "each side, fits between the notches, and spread the gathers evenly. ",
        SeamKind.PLEATED: f"The {half}, {{ease}} longer on each side, fits with its pleats laid. ",
    }
    sewing = Operation(
        name=seam.name,
        title=f"Sew the {half} to its yoke",
        text=f"Pin the {half} to the yoke, right sides together, {{notches}}{centers} matched. "
        + filled.get(seam.kind, "")
        + f"Sew from armhole to {'armhole' if not asked.ends_at_neck else to} with {{allowance}} "
        "allowance. Neaten the edges together and press them toward the yoke; stitch the yoke down "
        "beside the seam if you like.",
        does=(seam.name,),
        shows=(asked.yoke.name,),
        minutes=10 if seam.kind is SeamKind.PLAIN else 18,
        cautions=(Caution.IRON,),
        component=name,
    )
    first = {SeamKind.GATHERED: (threads,), SeamKind.PLEATED: (pleats,)}
    return (*first.get(seam.kind, ()), sewing)
