"""The set-in sleeve: its cap is fitted to the armhole it will be sewn into.

Drawn for the wearer's left arm, right side up: front toward smaller x, upper arm line on y = 0.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.component import Component, Drafting
from clothwise.components.hem import double_hem
from clothwise.components.parameter import length, ratio
from clothwise.errors import ComponentError
from clothwise.geometry import Outline, Path, Point, Vector, cubic_between, join, polar, straight
from clothwise.pattern.graph import Layer, Match, Pressing, Run, Seam, run
from clothwise.pattern.mark import NotchKind
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.pattern import Contribution
from clothwise.pattern.piece import Grainline, Piece, Side, pair

FRONT_EASE_SHARE = 0.45
"""The back of the cap takes at least as much ease as the front (common practice, L03)."""

NOTCH_SHARE = 0.42
"""The notches lie this far up each half of the armhole; our own choice."""

LOWEST_CAP_SHARE = 0.14
"""A cap lower than this share of the armhole is no set-in sleeve any more; our own choice."""


HAND_EASE_MM = 15.0
"""The hem passes the hand with this much room (L08, common practice: 1 to 2 cm)."""

TAPER_ROUNDS = 4
"""Rounds in which taper and width of the sleeve settle."""


@dataclass(frozen=True)
class SetInSleeve(Component):
    """Straight sleeve set into the armhole, with cap ease."""

    kind: ClassVar[str] = "set-in-sleeve"

    length_mm: float = length(330, 120, 700, "From the top of the cap to the finished hem.")
    cap_ease_mm: float = length(26, 0, 40, "How much longer the cap is than the armhole.")
    cap_height: float = ratio(0.31, 0.2, 0.38, "Height of the cap as a share of the armhole.")
    upper_arm_ease_mm: float = length(44, -60, 200, "Room beyond the upper arm, at least.")
    taper_mm: float = length(14, 0, 80, "How much each seam edge draws in toward the hem.")
    hem_depth_mm: float = length(25, 5, 80, "Height of the finished hem.")
    hem_turn_mm: float = length(8, 4, 30, "What is turned in first.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Draft the sleeve onto the run named `armhole`."""
        name = drafting.name
        armhole = drafting.pattern.named_run("armhole", name)
        front, back = _halves(drafting, armhole)
        cap = _Cap(self, drafting, front, back)
        piece = cap.piece()
        hem, hem_work = double_hem(
            f"{name}-hem",
            "sleeves",
            run(f"{piece.name}.hem", closed=True),
            self.hem_depth_mm,
            self.hem_turn_mm,
            component=name,
        )
        return Contribution(
            pieces=(piece,),
            seams=(self._underarm(drafting, piece), cap.seam(armhole, piece)),
            finishes=(hem,),
            operations=(*_operations(name), hem_work),
        )

    def _underarm(self, drafting: Drafting, piece: Piece) -> Seam:
        half = piece.edge("underarm-front").length / 2
        return Seam(
            name=f"{drafting.name}-underarm",
            title="sleeve seam",
            layers=(
                Layer(run(f"{piece.name}.underarm-front")),
                Layer(run(f"-{piece.name}.underarm-back")),
            ),
            allowance_mm=drafting.seam_allowance_mm,
            matches=(Match("sleeve seam", (half, half), NotchKind.SINGLE),),
            component=drafting.name,
        )


def _halves(drafting: Drafting, armhole: Run) -> tuple[float, float]:
    """Lengths of the armhole from the underarm to the shoulder, front and back, mm."""
    lengths: dict[str, float] = {}
    for edge in armhole.edges:
        lengths[edge.piece] = lengths.get(edge.piece, 0.0) + drafting.pattern.edge_length(edge)
    if len(lengths) != 2:
        raise ComponentError(
            "the sleeve needs an armhole of a front and a back",
            where=drafting.name,
            how_much=f"this one runs over {', '.join(lengths)}",
            what_to_do="Use another sleeve for this bodice.",
        )
    front, back = lengths.values()
    return front, back


class _Cap:
    """The cap, solved for its two half widths and its height."""

    def __init__(
        self, asked: SetInSleeve, drafting: Drafting, front_mm: float, back_mm: float
    ) -> None:
        self._asked, self._drafting = asked, drafting
        self._front, self._back = front_mm, back_mm
        self._front_ease = FRONT_EASE_SHARE * asked.cap_ease_mm
        self._taper = asked.taper_mm
        self._fit()
        self._let_the_hand_pass()

    def _fit(self) -> None:
        self._height = self._find_height()
        self._front_width, self._back_width = self._widths(self._height)

    def _let_the_hand_pass(self) -> None:
        """Taper less where the hem would be too narrow for the hand (L08)."""
        needed = self._drafting.body["hand_girth"] + HAND_EASE_MM
        for _ in range(TAPER_ROUNDS):
            most = (self._front_width + self._back_width - needed) / 2
            if self._taper <= most + 1e-6:
                return
            self._taper = max(most, 0.0)
            self._fit()

    def _widths(self, height: float) -> tuple[float, float]:
        """Half widths at which both halves of the cap have their length."""
        front = self._front + self._front_ease
        back = self._back + self._asked.cap_ease_mm - self._front_ease
        lean = self._seam_lean(height)
        return (
            _solve(lambda width: _front_cap(width, height, lean).length, front),
            _solve(lambda width: _back_cap(width, height, lean).length, back),
        )

    def _seam_lean(self, height: float) -> float:
        """How far the seam edges lean in toward the hem, radians."""
        below = max(self._asked.length_mm - height, 1.0)
        return math.atan2(min(self._taper, 0.5 * below), below)

    def _find_height(self) -> float:
        """The height asked for, lowered until the upper arm has its room (L07)."""
        armhole = self._front + self._back
        needed = self._drafting.body["upper_arm_girth"] + self._asked.upper_arm_ease_mm
        high = self._asked.cap_height * armhole
        if sum(self._widths(high)) >= needed:
            return high
        low = LOWEST_CAP_SHARE * armhole
        widest = sum(self._widths(low))
        if widest < needed:
            raise ComponentError(
                "the sleeve cannot be made wide enough for this armhole",
                where=self._drafting.name,
                how_much=f"{widest:.0f} mm wide at most, {needed:.0f} mm needed",
                what_to_do="Deepen the armhole (armhole_ease) or give less upper_arm_ease.",
            )
        for _ in range(40):
            middle = (low + high) / 2
            if sum(self._widths(middle)) >= needed:
                low = middle
            else:
                high = middle
        return low

    def piece(self) -> Piece:
        """The sleeve."""
        asked, height = self._asked, self._height
        below = asked.length_mm - height
        if below < 25:
            raise ComponentError(
                "the sleeve is shorter than its cap",
                where=self._drafting.name,
                how_much=f"length {asked.length_mm:.0f} mm, cap {height:.0f} mm high",
                what_to_do=f"Make it at least {height + 25:.0f} mm long.",
            )
        front, back = Point(-self._front_width, 0.0), Point(self._back_width, 0.0)
        lean = self._seam_lean(height)
        taper = below * math.tan(lean)
        hem_front, hem_back = Point(front.x + taper, -below), Point(back.x - taper, -below)
        hem = _square_hem(hem_front, hem_back, lean)
        middle = hem.segments[0].end
        edges = {
            "hem": hem,
            "underarm-back": straight(hem_back, back),
            "cap": join(_back_cap(back.x, height, lean), _front_cap(-front.x, height, lean)),
            "underarm-front": straight(front, hem_front),
        }
        return Piece(
            name=self._drafting.name,
            title="Sleeve",
            outline=Outline(edges),
            grain=Grainline(Point(0.0, 0.85 * middle.y), Point(0.0, 0.6 * height)),
            copies=pair(self._drafting.role, drawn_side=Side.LEFT),
            component=self._drafting.name,
            drawn_side=Side.LEFT,
            points={"cap top": Point(0.0, height)},
        )

    def seam(self, armhole: Run, piece: Piece) -> Seam:
        """The armhole seam: no ease below the notches, the rest over the cap (L03)."""
        ease = self._asked.cap_ease_mm
        front_notch, back_notch = NOTCH_SHARE * self._front, NOTCH_SHARE * self._back
        whole = self._front + self._back
        return Seam(
            name=f"{self._drafting.name}-armhole",
            title="armhole seam",
            layers=(Layer(armhole), Layer(run(f"-{piece.name}.cap", closed=True), ease_mm=ease)),
            allowance_mm=self._drafting.seam_allowance_mm,
            pressing=Pressing.TOWARD_LAST,
            matches=(
                Match("front notch", (front_notch, front_notch), NotchKind.SINGLE),
                Match("shoulder", (self._front, self._front + self._front_ease), NotchKind.AT_SEAM),
                Match(
                    "back notch",
                    (whole - back_notch, whole + ease - back_notch),
                    NotchKind.DOUBLE,
                ),
            ),
            component=self._drafting.name,
        )


def _front_cap(width: float, height: float, seam_lean: float) -> Path:
    """From the top of the cap down to the front underarm: hollow below, rounded above.

    It ends square to the seam edge, which leans by `seam_lean`, so that the sewn cap runs on
    across the sleeve seam without a corner (G07).
    """
    middle = Point(-0.53 * width, 0.46 * height)
    steep = polar(1.0, math.pi + _lean(width, height, 1.20))
    top = cubic_between(Point(0.0, height), Vector(-1.0, 0.0), middle, steep)
    foot = cubic_between(middle, steep, Point(-width, 0.0), polar(1.0, math.pi + seam_lean))
    return join(top, foot)


def _back_cap(width: float, height: float, seam_lean: float) -> Path:
    """From the back underarm up to the top of the cap: fuller than the front."""
    middle = Point(0.56 * width, 0.47 * height)
    steep = polar(1.0, math.pi - _lean(width, height, 1.10))
    foot = cubic_between(Point(width, 0.0), polar(1.0, math.pi - seam_lean), middle, steep)
    top = cubic_between(middle, steep, Point(0.0, height), Vector(-1.0, 0.0))
    return join(foot, top)


def _lean(width: float, height: float, steeper: float) -> float:
    return min(math.atan2(height, width) * steeper + math.radians(8), math.radians(80))


def _square_hem(front: Point, back: Point, lean: float) -> Path:
    """A hem that meets both slanted seam edges at right angles."""
    middle = Point((front.x + back.x) / 2, front.y + (back.x - front.x) / 4 * math.tan(lean / 2))
    along = Vector(1.0, 0.0)
    return join(
        cubic_between(front, along.turned(lean), middle, along),
        cubic_between(middle, along, back, along.turned(-lean)),
    )


def _solve(length_at: Callable[[float], float], wanted: float) -> float:
    """The width at which a cap half reaches its length; the length grows with the width."""
    low, high = 1.0, wanted
    for _ in range(50):
        middle = (low + high) / 2
        if length_at(middle) < wanted:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def _operations(name: str) -> tuple[Operation, ...]:
    return (
        Operation(
            name=f"{name}-seam",
            title="Sew the sleeve seams",
            text="Fold each sleeve right sides together and sew the sleeve seam, {notches} "
            "matched, with {allowance} allowance. Neaten the edges and press open.",
            does=(f"{name}-underarm",),
            minutes=10,
            cautions=(Caution.IRON,),
            component=name,
        ),
        Operation(
            name=f"{name}-set-in",
            title="Set in the sleeves",
            text="Run two rows of long stitches along the cap between the notches. Put the sleeve "
            "into the armhole, right sides together: sleeve seam on side seam, single notch at "
            "the front, double notch at the back, cap notch on the shoulder seam. [Draw up the "
            "{ease} of ease between the notches, none of it below them. ]Sew with {allowance} "
            "allowance, neaten, and press the seam into the sleeve.",
            does=(f"{name}-armhole",),
            minutes=35,
            cautions=(Caution.IRON,),
            component=name,
        ),
    )
