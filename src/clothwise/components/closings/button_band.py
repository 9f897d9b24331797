"""A separate band along an opened front, in place of the grown-on button stand.

The fronts end half a width inside center front, the band reaches as far beyond it: center front is
the middle of the band, where buttons and buttonholes go. It is cut double and folded along the
front edge, or of an outer and an inner piece.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum
from itertools import accumulate, pairwise
from typing import ClassVar

from clothwise.components.bodices.cut_back import (
    BAND_EDGE,
    CutFront,
    corners_at_center,
    corners_of_edge,
    cut_back,
    kept_corners,
    shortened_seams,
)
from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.finishes.fusing import fuse, interfaced_pair
from clothwise.components.parameter import choice, length
from clothwise.errors import ComponentError
from clothwise.geometry import Outline, Path, Point, Transform, join, straight
from clothwise.pattern.graph import EdgeCare, EdgeRef, Layer, Match, Pressing, Run, Seam, run
from clothwise.pattern.mark import Mark, MarkKind, NotchKind
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.pattern import Contribution
from clothwise.pattern.piece import Grainline, Piece, Side, pair

HELD_DOWN_MM = 2.0
"""The inner edge is stitched down this close to its fold; common practice, no source."""


class BandMake(Enum):
    """How a band is cut."""

    FOLDED = "folded"
    TWO_PIECES = "two pieces"


@dataclass(frozen=True)
class ButtonBand(Component):
    """Interfaced band along both fronts of an opened front, from the neck to the hem."""

    kind: ClassVar[str] = "button-band"
    family: ClassVar[Family] = Family.EDGE

    width_mm: float = length(30, 22, 70, "Finished width of the band; its middle is center front.")
    make: BandMake = choice(
        BandMake.FOLDED, "Cut double and folded at the front edge, or in two with a seam there."
    )

    def contribute(self, drafting: Drafting) -> Contribution:
        """Cut back the pieces of the run named `front-edge` and sew the band to them."""
        pattern, name = drafting.pattern, drafting.name
        fronts = _fronts(drafting)
        cuts = tuple(cut_back(drafting, piece, self.width_mm / 2) for piece in fronts)
        lines = _Lines.of(cuts, self.width_mm)
        folded = self.make is BandMake.FOLDED
        bands = self._folded(drafting, lines) if folded else self._pair(drafting, lines)
        along = run(*(f"{cut.after.name}.{BAND_EDGE}" for cut in cuts))
        top, hem = bands[0].name, pattern.named_run("hem", name)
        first = fronts[0].name
        neck_edge = pattern.named_run("neck-edge", name)
        rest = Run(tuple(e for e in neck_edge.edges if e != EdgeRef(first, "neck-stand", True)))
        under = run(f"{top}.under-neck-stand", f"{top}.under-neck")
        if not folded:
            under = run(f"-{bands[1].name}.neck-stand", f"-{bands[1].name}.neck")
        lower = run(f"{top}.hem") if folded else run(f"-{bands[1].name}.hem", f"{top}.hem")
        return Contribution(
            pieces=bands,
            reshaped=tuple(cut.after for cut in cuts),
            resewn=tuple(shortened_seams(pattern, cuts)),
            seams=tuple(self._seams(drafting, cuts, along, bands)),
            runs={
                "neck": run(f"-{top}.neck").then(pattern.named_run("neck", name)),
                "neck-edge": run(f"-{top}.neck-stand", f"-{top}.neck").then(rest),
                "neck-under": under,
                "front-edge": run(f"-{top}.inner") if folded else run(f"{top}.front-edge"),
                "hem": lower.then(hem),
            },
            operations=_operations(name, bands, folded=folded),
            intended_corners=(
                *kept_corners(pattern, cuts[0]),
                *corners_of_edge(cuts, name),
                *(
                    replace(corner, line=EdgeRef(top, "neck"), angle_rad=None, component=name)
                    for corner in corners_at_center(pattern, cuts[0])
                ),
            ),
        )

    def _folded(self, drafting: Drafting, lines: _Lines) -> tuple[Piece, ...]:
        """One piece of both halves, the fold between them at the front edge."""
        over = Transform.mirror(Point(-self.width_mm / 2, 0.0))

        def under(path: Path) -> Path:
            return path.transformed(over).reversed()

        outline = Outline(
            {
                "hem": join(under(lines.hem), lines.hem),
                "inner": lines.inner,
                "neck": lines.neck,
                "neck-stand": lines.stand,
                "under-neck-stand": under(lines.stand),
                "under-neck": under(lines.neck),
                "under-inner": under(lines.inner),
            }
        )
        fold = Mark(MarkKind.FOLD_LINE, "front edge", path=lines.front_edge)
        band = _piece(drafting, drafting.name, "Button band", outline, lines)
        return (replace(band, marks=(*band.marks, fold)),)

    def _pair(self, drafting: Drafting, lines: _Lines) -> tuple[Piece, ...]:
        outline = Outline(
            {
                "hem": lines.hem,
                "inner": lines.inner,
                "neck": lines.neck,
                "neck-stand": lines.stand,
                "front-edge": lines.front_edge,
            }
        )
        outer = _piece(drafting, f"{drafting.name}-outer", "Button band, outer", outline, lines)
        inner = replace(
            outer,
            name=f"{drafting.name}-inner",
            title="Button band, inner",
            copies=pair(drafting.role, drawn_side=Side.LEFT),
            marks=(),
            points={},
        )
        return outer, inner

    def _seams(
        self, drafting: Drafting, cuts: tuple[CutFront, ...], along: Run, bands: tuple[Piece, ...]
    ) -> list[Seam]:
        name, top = drafting.name, bands[0].name
        folded = len(bands) == 1
        inner = run(f"{top}.under-inner") if folded else run(f"-{bands[1].name}.inner")
        lengths = [cut.after.edge(BAND_EDGE).length for cut in cuts]
        places = [*accumulate(lengths)][:-1]
        matches = tuple(Match("seam of the front", (at,) * 3, NotchKind.AT_SEAM) for at in places)
        half = lengths[0] / 2
        seams = [
            Seam(
                name=f"{name}-seam",
                title="seam of the button band",
                layers=(Layer(along), Layer(run(f"-{top}.inner")), Layer(inner)),
                allowance_mm=drafting.neck_allowance_mm,
                pressing=Pressing.TOWARD_LAST,
                care=EdgeCare.NONE,
                matches=(Match("band", (half,) * 3, NotchKind.SINGLE), *matches),
                component=name,
            )
        ]
        if not folded:
            whole = bands[0].edge("front-edge").length
            seams.append(
                Seam(
                    name=f"{name}-edge",
                    title="front edge of the button band",
                    layers=tuple(Layer(run(f"{band.name}.front-edge")) for band in bands),
                    allowance_mm=drafting.neck_allowance_mm,
                    pressing=Pressing.TURNED,
                    care=EdgeCare.NONE,
                    matches=(Match("band", (whole / 2, whole / 2), NotchKind.SINGLE),),
                    component=name,
                )
            )
        return seams


@dataclass(frozen=True)
class _Lines:
    """Edges of the outer half of the band, anticlockwise, and places on its center line."""

    hem: Path
    inner: Path
    neck: Path
    stand: Path
    front_edge: Path
    center: Path
    points: dict[str, Point]

    @staticmethod
    def of(cuts: tuple[CutFront, ...], width_mm: float) -> _Lines:
        """From what was cut off the fronts, one below the other."""
        first, last = cuts[0], cuts[-1]
        down = 0.0
        for above, below in pairwise(cuts):
            foot = above.after.edge(BAND_EDGE).end.y + down
            down = foot - below.after.edge(BAND_EDGE).start.y
        lift = Transform.shift(0.0, down)
        half, neck = width_mm / 2, first.top.reversed()
        beyond = neck.end_tangent
        top = neck.end + beyond * (half / -beyond.x)
        part = last.foot.transformed(lift)
        out = Point(-half, part.start.y)
        whole = first.before.part_of
        parts = [
            cut.before for cut in cuts if cut is first or (whole and cut.before.part_of == whole)
        ]
        points = {key: at for part in parts for key, at in part.points.items()}
        return _Lines(
            hem=join(straight(out, part.start), part),
            inner=straight(part.end, neck.start),
            neck=neck,
            stand=straight(neck.end, top),
            front_edge=straight(top, out),
            center=straight(neck.end, part.start),
            points={
                **{key: points[key] for key in ("bust point",) if key in points},
                "center front waist": points["center front waist"],
                "center front neck": neck.end,
                "center front hem": part.start,
            },
        )


def _fronts(drafting: Drafting) -> list[Piece]:
    """The pieces of the front edge, from the neck down.

    Raises:
        ComponentError: the fronts lap over in another way, or end above the hem.
    """
    pattern, name = drafting.pattern, drafting.name
    edge, neck = pattern.named_run("front-edge", name), pattern.named_run("neck-edge", name)
    pieces = [pattern.piece(each) for each in edge.pieces]
    used = [use for piece in pieces for use in pattern.uses_of(piece.name, "front-edge")]
    if used:
        raise ComponentError(
            "the front edges are finished already",
            where=f"{name}, at {pieces[0].title}",
            how_much=f"by the {used[0].title} of {used[0].component}",
            what_to_do="Leave out what does it, or the button band.",
        )
    told = [key for key in ("break point", "center front neck") if key in pieces[0].points]
    if told != ["center front neck"] or neck.edges[0] != EdgeRef(
        pieces[0].name, "neck-stand", True
    ):
        raise ComponentError(
            "the button band needs fronts that meet at center front from the neck down",
            where=name,
            how_much=f"{pieces[0].name} has the edges {', '.join(pieces[0].edge_names)}",
            what_to_do="List it after a bodice and its skirt, without lapels, wrap or facing.",
        )
    return pieces


def _piece(drafting: Drafting, name: str, title: str, outline: Outline, lines: _Lines) -> Piece:
    low, high = lines.center.end.y, lines.center.start.y
    return Piece(
        name=name,
        title=title,
        outline=outline,
        grain=Grainline(Point(0.0, low + 0.2 * (high - low)), Point(0.0, low + 0.4 * (high - low))),
        copies=interfaced_pair(drafting, Side.LEFT),
        component=drafting.name,
        drawn_side=Side.LEFT,
        marks=(Mark(MarkKind.CENTER_LINE, "center front", path=lines.center),),
        points=lines.points,
    )


def _operations(name: str, bands: tuple[Piece, ...], *, folded: bool) -> tuple[Operation, ...]:
    fused = (
        "the wrong sides of the button bands" if folded else "the wrong sides of the outer bands"
    )
    turned = (
        "Fold the band along its fold line"
        if folded
        else "Turn the inner band inside along the front edge"
    )
    joined = Operation(
        name=f"{name}-join",
        title="Join outer and inner button bands",
        text="Lay each inner band on its outer one, right sides together. Sew the front edge with "
        "{allowance} allowance, grade and press the allowances toward the inner band.",
        does=(f"{name}-edge",),
        minutes=10,
        cautions=(Caution.IRON, Caution.BLADE),
        component=name,
    )
    return (
        fuse(
            name,
            "Fuse the button bands",
            f"Iron the interfacing onto {fused}.",
            (bands[0].name,),
            8,
        ),
        *(() if folded else (joined,)),
        Operation(
            name=f"{name}-attach",
            title="Sew on the button bands",
            text="Lay each band on its front, right sides together, {notches} and cross seams "
            "matched. Sew from the neckline down with {allowance} allowance, and press the "
            f"allowances into the band. {turned}, wrong sides together, and press. Turn its free "
            "edge under along the stitching line, lay it over the seam inside and pin. Stitch it "
            "down from the right side, {close} from the seam, and stitch as far from the front "
            "edge. Baste the layers of the band together at the neckline and at the lower edge: "
            "they are finished as one.",
            does=(f"{name}-seam",),
            minutes=35,
            cautions=(Caution.IRON,),
            values=(("close", HELD_DOWN_MM),),
            component=name,
        ),
    )
