"""The buttoned cuff, folded at its lower edge, and the faced opening of the sleeve above it.

The cuff is drawn right side up as it hangs below the sleeve: its fold on y = 0, its outer half
above, the opening of the sleeve at x = 0 and again at `around_mm`, where it laps over.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from clothwise.components.closings.buttonhole import (
    BEYOND_BUTTON_MM,
    HOLE_CLEAR_MM,
    SMALL_BUTTON_THICKNESS_MM,
    buttonhole_mm,
)
from clothwise.components.component import Drafting
from clothwise.components.finishes.fusing import fuse
from clothwise.errors import ComponentError
from clothwise.geometry import Outline, Path, Point, Transform, join, polyline, straight
from clothwise.pattern.graph import (
    EdgeCare,
    Finish,
    FinishKind,
    Layer,
    Match,
    Placement,
    Pressing,
    Seam,
    SeamKind,
    run,
)
from clothwise.pattern.mark import Mark, MarkKind, NotchKind
from clothwise.pattern.operation import (
    Caution,
    Highlight,
    Notion,
    NotionUnit,
    Operation,
    Station,
)
from clothwise.pattern.piece import Grainline, Piece, Ply, Side, pair

INNER_ALLOWANCE_MM = 12.0
"""The inner edge of a band reaches this far beyond the seam it is stitched down on."""

FACING_HALF_MM = 22.0
"""The facing of an opening reaches this far to both sides; our own choice."""

FACING_ABOVE_MM = 20.0
"""And this far beyond its upper end; our own choice."""

OPENING_HALF_MM = 4.0
"""The opening is stitched this far from its slit at the lower edge, tapering to its end; own."""

CLOSES = "cuff closing"
"""Name of the buttons and buttonholes of a cuff, by which they are paired."""


@dataclass(frozen=True)
class Cuff:
    """A cuff: what it measures around when it is closed, and what laps under."""

    around_mm: float
    depth_mm: float
    lap_mm: float
    buttons: int
    diameter_mm: float
    thickness_mm: float = SMALL_BUTTON_THICKNESS_MM

    @property
    def hole_mm(self) -> float:
        """Length of a buttonhole."""
        return buttonhole_mm(self.diameter_mm, self.thickness_mm)

    def piece(self, drafting: Drafting) -> Piece:
        """The cuff, once folded.

        Raises:
            ComponentError: the buttons have no room on it.
        """
        around, depth, lap = self.around_mm, self.depth_mm, self.lap_mm
        return Piece(
            name=f"{drafting.name}-cuff",
            title="Cuff",
            outline=Outline(
                {
                    "inner-lap": straight(Point(-lap, -depth), Point(0.0, -depth)),
                    "inner": straight(Point(0.0, -depth), Point(around, -depth)),
                    "end-inner": straight(Point(around, -depth), Point(around, 0.0)),
                    "end-outer": straight(Point(around, 0.0), Point(around, depth)),
                    "outer": straight(Point(around, depth), Point(0.0, depth)),
                    "outer-lap": straight(Point(0.0, depth), Point(-lap, depth)),
                    "lap-end-outer": straight(Point(-lap, depth), Point(-lap, 0.0)),
                    "lap-end-inner": straight(Point(-lap, 0.0), Point(-lap, -depth)),
                }
            ),
            grain=Grainline(Point(0.2 * around, -depth / 2), Point(0.8 * around, -depth / 2)),
            copies=(
                *pair(drafting.role, drawn_side=Side.LEFT),
                *pair(drafting.interfacing_role, drawn_side=Side.LEFT, ply=Ply.INTERFACING),
            ),
            component=drafting.name,
            drawn_side=Side.LEFT,
            allowances={"inner": INNER_ALLOWANCE_MM},
            marks=(
                Mark(
                    MarkKind.FOLD_LINE,
                    "fold",
                    path=straight(Point(-lap, 0.0), Point(around, 0.0)),
                ),
                *self._closing(drafting),
            ),
        )

    def _closing(self, drafting: Drafting) -> Iterator[Mark]:
        """Buttons on the lap, buttonholes over them at the other end."""
        ends = drafting.neck_allowance_mm + BEYOND_BUTTON_MM + HOLE_CLEAR_MM
        inward = max(self.lap_mm / 2, ends)
        if self.lap_mm - inward < self.diameter_mm / 2:
            raise ComponentError(
                "the buttons have no room on the lap of the cuff",
                where=drafting.name,
                how_much=f"{self.diameter_mm:.0f} mm across, {self.lap_mm:.0f} mm of lap",
                what_to_do=f"Make lap {inward + self.diameter_mm / 2:.0f} mm or more, "
                "or take smaller buttons.",
            )
        for y in self._heights(drafting):
            yield Mark(MarkKind.BUTTON, CLOSES, at=Point(-inward, y), size_mm=self.diameter_mm)
            start = Point(self.around_mm - inward + BEYOND_BUTTON_MM, y)
            yield Mark(
                MarkKind.BUTTONHOLE, CLOSES, path=straight(start, Point(start.x - self.hole_mm, y))
            )

    def _heights(self, drafting: Drafting) -> list[float]:
        """Even along the depth, clear of the allowance of the seam above and of the fold."""
        share = self.depth_mm / (2 * self.buttons)
        high = self.depth_mm - max(share, drafting.seam_allowance_mm + HOLE_CLEAR_MM)
        low = max(min(share, high), self.diameter_mm / 2 + 1.0)
        apart = (high - low) / max(self.buttons - 1, 1)
        if high < low - 1e-6 or (self.buttons > 1 and apart < self.diameter_mm + 4.0):
            raise ComponentError(
                "the buttons have no room on the depth of the cuff",
                where=drafting.name,
                how_much=f"{self.buttons} of {self.diameter_mm:.0f} mm on {self.depth_mm:.0f} mm",
                what_to_do="Make the cuff deeper, or take fewer or smaller buttons.",
            )
        return [high - number * apart for number in range(self.buttons)]

    def seams(self, drafting: Drafting, piece: Piece, sleeve: Piece) -> tuple[Seam, ...]:
        """Both ends, turned, and the gathered seam to the lower edge of the sleeve.

        `sleeve` has the edges `hem-front` and `hem-back`, which meet at the opening.
        """
        cuff = piece.name
        back, front = (sleeve.edge(edge).length for edge in ("hem-back", "hem-front"))
        ease = back + front - self.around_mm
        seam_at = self.around_mm * back / (back + front)
        attached = Seam(
            name=f"{cuff}-sleeve",
            title="cuff seam",
            layers=(
                Layer(run(f"-{cuff}.outer")),
                Layer(run(f"{sleeve.name}.hem-back", f"{sleeve.name}.hem-front"), ease_mm=ease),
            ),
            allowance_mm=drafting.seam_allowance_mm,
            kind=SeamKind.GATHERED,
            pressing=Pressing.TOWARD_FIRST,
            care=EdgeCare.NONE,
            matches=(Match("sleeve seam", (seam_at, back), NotchKind.AT_SEAM),),
            component=drafting.name,
        )
        return (
            _turned(drafting, f"{cuff}-end", ("end-outer",), ("-end-inner",)),
            _turned(
                drafting,
                f"{cuff}-lap",
                ("-lap-end-outer", "-outer-lap"),
                ("lap-end-inner", "inner-lap"),
            ),
            attached,
        )

    def inner_finish(self, drafting: Drafting, piece: Piece) -> Finish:
        """The edge that is stitched down inside over the cuff seam."""
        return Finish(
            f"{piece.name}-inner",
            "inner edge of the cuffs",
            run(f"{piece.name}.inner"),
            FinishKind.OVERLOCKED,
            component=drafting.name,
        )

    def notion(self, name: str) -> Notion:
        """The buttons of both cuffs."""
        return Notion(
            "buttons",
            2 * self.buttons,
            NotionUnit.PIECES,
            f"{self.diameter_mm:.0f} mm across, for the cuffs",
            name,
        )

    def steps(self, name: str, piece: Piece) -> tuple[Operation, ...]:
        """From fusing to the buttons."""
        cuff = piece.name
        return (
            fuse(
                f"{name}-cuff",
                "Fuse the cuffs",
                "Iron the interfacing onto the wrong sides of the cuffs.",
                (cuff,),
                6,
            ),
            Operation(
                name=f"{name}-cuff-inner",
                title="Neaten the inner edge of the cuffs",
                text="Neaten (overlock or zigzag) the long edge of each cuff that is not "
                "sewn to the sleeve.",
                does=(f"{cuff}-inner",),
                minutes=4,
                component=name,
            ),
            Operation(
                name=f"{name}-cuff-attach",
                title="Gather the sleeves into the cuffs",
                text="Run two rows of long stitches along the lower edge of each sleeve, from one "
                "edge of the opening to the other, and draw them up until it is {ease} shorter. "
                "Sew the cuff to it, right sides together, with {allowance} allowance: one end "
                "flush with the edge of the opening nearer to the front, the lap beyond the edge "
                "nearer to the sleeve seam, {notches} on the sleeve seam. Press the seam into "
                "the cuff.",
                does=(f"{cuff}-sleeve",),
                minutes=35,
                cautions=(Caution.IRON,),
                component=name,
            ),
            Operation(
                name=f"{name}-cuff-ends",
                title="Sew the ends of the cuffs",
                text="Fold each cuff lengthwise, right sides together. Sew the end, and the end "
                "of the lap and along its upper edge as far as the sleeve, with {allowance} "
                "allowance. Clip to the end of the stitching, cut the corners off, turn and "
                "press.",
                does=(f"{cuff}-end", f"{cuff}-lap"),
                after=(f"{cuff}-sleeve", f"{cuff}-inner"),
                minutes=20,
                cautions=(Caution.IRON, Caution.BLADE),
                component=name,
            ),
            Operation(
                name=f"{name}-cuff-close",
                title="Stitch the cuffs down inside",
                text="Lay the neatened edge over the cuff seam inside, pin, and stitch from the "
                "right side in the seam, catching it.",
                after=(f"{cuff}-end", f"{cuff}-lap"),
                shows=(f"{cuff}.outer",),
                minutes=15,
                cautions=(Caution.NEEDLE,),
                component=name,
            ),
            Operation(
                name=f"{name}-cuff-buttons",
                title="Make the buttonholes of the cuffs and sew on their buttons",
                text="Work the buttonholes, {hole} long, on the end of each cuff that lies on "
                "top, after a trial on a scrap of the same layers; cut them open from both ends "
                "toward the middle. Sew the buttons to the lap.",
                after=(f"{name}-cuff-close",),
                shows=(cuff,),
                minutes=16.0 * self.buttons,
                cautions=(Caution.NEEDLE, Caution.BLADE),
                station=Station.MACHINE,
                highlight=Highlight.MARKS,
                values=(("hole", self.hole_mm),),
                component=name,
            ),
        )


def _turned(drafting: Drafting, name: str, outer: tuple[str, ...], inner: tuple[str, ...]) -> Seam:
    """A seam of the cuff with itself, both halves from the fold."""
    cuff = f"{drafting.name}-cuff"
    layers = tuple(
        Layer(
            run(
                *(
                    f"-{cuff}.{edge[1:]}" if edge.startswith("-") else f"{cuff}.{edge}"
                    for edge in edges
                )
            )
        )
        for edges in (outer, inner)
    )
    return Seam(
        name=name,
        title="end of the cuff" if len(outer) == 1 else "lapping end of the cuff",
        layers=layers,
        allowance_mm=drafting.neck_allowance_mm,
        pressing=Pressing.TURNED,
        care=EdgeCare.NONE,
        component=drafting.name,
    )


@dataclass(frozen=True)
class FacedOpening:
    """A slit up from the lower edge of a sleeve, faced: its place along the edge and its height.

    `lower` is the lower edge from front to back, `at_mm` the slit along it.
    """

    lower: Path
    at_mm: float
    height_mm: float

    def edges(self) -> dict[str, Path]:
        """The lower edge in front of the slit, and behind it."""
        front, back = self.lower.split(self.at_mm)
        return {"hem-front": front, "hem-back": back}

    def _foot(self) -> Point:
        return self.lower.point_at(self.at_mm)

    def _stitching(self) -> Path:
        """Up one side of the slit, around its end and down the other."""
        foot = self._foot()
        tip = Point(foot.x, foot.y + self.height_mm)
        half = 0.25 * OPENING_HALF_MM
        left = self.lower.point_at(self.at_mm - OPENING_HALF_MM)
        right = self.lower.point_at(self.at_mm + OPENING_HALF_MM)
        return polyline([left, Point(tip.x - half, tip.y), Point(tip.x + half, tip.y), right])

    def _along(self) -> Path:
        """The stretch of the lower edge that the facing lies on."""
        return self.lower.part(self.at_mm - FACING_HALF_MM, self.at_mm + FACING_HALF_MM)

    def marks(self) -> tuple[Mark, ...]:
        """On the sleeve: the slit, the stitching around it, and the place of the facing."""
        foot = self._foot()
        tip = Point(foot.x, foot.y + self.height_mm)
        return (
            Mark(MarkKind.STITCHING_LINE, "opening", path=self._stitching()),
            Mark(MarkKind.PLACEMENT_LINE, "facing of the opening", path=self._along()),
            Mark(MarkKind.DOT, "end of the opening", at=Point(tip.x, tip.y)),
        )

    def facing(self, drafting: Drafting) -> Piece:
        """The facing, drawn as it lies on the sleeve."""
        along = self._along()
        foot = self._foot()
        top = foot.y + self.height_mm + FACING_ABOVE_MM
        corners = Point(along.end.x, top), Point(along.start.x, top)
        move = Transform.shift(-foot.x, -foot.y)
        edges = {
            "lower": along,
            "outer": join(
                straight(along.end, corners[0]),
                straight(*corners),
                straight(corners[1], along.start),
            ),
        }
        return Piece(
            name=f"{drafting.name}-opening-facing",
            title="Facing of the sleeve opening",
            outline=Outline({name: path.transformed(move) for name, path in edges.items()}),
            grain=Grainline(
                Point(0.4 * FACING_HALF_MM, 0.2 * self.height_mm),
                Point(0.4 * FACING_HALF_MM, 0.8 * self.height_mm),
            ),
            copies=pair(drafting.role, drawn_side=Side.LEFT),
            component=drafting.name,
            drawn_side=Side.LEFT,
            marks=(
                Mark(MarkKind.STITCHING_LINE, "opening", path=self._stitching().transformed(move)),
            ),
        )

    def uses(self, drafting: Drafting, facing: Piece) -> tuple[Finish, Placement]:
        """The neatened edge of the facing, and its place on the sleeve."""
        name, foot = facing.name, self._foot()
        return (
            Finish(
                f"{name}-outer",
                "outer edge of the facing of the opening",
                run(f"{name}.outer"),
                FinishKind.OVERLOCKED,
                component=drafting.name,
            ),
            Placement(
                name=name,
                title="facing on the sleeve opening",
                piece=name,
                host=drafting.name,
                onto=Transform.shift(foot.x, foot.y),
                stitched=run(f"{name}.lower"),
                allowance_mm=drafting.seam_allowance_mm,
                component=drafting.name,
            ),
        )

    def steps(self, drafting: Drafting, facing: Piece) -> tuple[Operation, ...]:
        """Neatening the facing, and facing the slit."""
        name = drafting.name
        return (
            Operation(
                name=f"{facing.name}-neaten",
                title="Neaten the facings of the sleeve openings",
                text="Neaten (overlock or zigzag) the sides and the upper edge of each facing.",
                does=(f"{facing.name}-outer",),
                minutes=4,
                component=name,
            ),
            Operation(
                name=f"{facing.name}-sew",
                title="Face the sleeve openings",
                text="Lay the facing on the right side of the sleeve, right sides together, lower "
                "edges level and stitching lines matched. Stitch with short stitches from the "
                "lower edge to the end of the opening, one stitch across, and down the other "
                "side. Slit between the rows as far as the stitches, {height} up from the cuff "
                "seam, turn the facing inside and press. Baste the lower edges together.",
                does=(facing.name,),
                minutes=25,
                cautions=(Caution.IRON, Caution.BLADE),
                values=(("height", self.height_mm),),
                component=name,
            ),
        )
