"""The cap of every set-in sleeve: fitted to the armhole it will be sewn into, plain or gathered.

Drawn for the wearer's left arm, right side up: front toward smaller x, upper arm line on y = 0,
the top of the cap at x = 0.
"""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import TypeAlias

from clothwise.components.bodices.free_armhole import free_armhole
from clothwise.components.component import Drafting
from clothwise.errors import ComponentError
from clothwise.geometry import Path, Point, Vector, join, polar, smooth_through
from clothwise.pattern.graph import Layer, Match, Pressing, Run, Seam, SeamKind, run
from clothwise.pattern.mark import NotchKind
from clothwise.pattern.piece import Piece

FRONT_EASE_SHARE = 0.45
"""The back of the cap takes at least as much ease as the front (common practice, L03)."""

NOTCH_SHARE = 0.42
"""The notches lie this far up each half of the armhole; our own choice."""

LOWEST_CAP_SHARE = 0.14
"""A cap lower than this share of the armhole is no set-in sleeve any more; our own choice."""


@dataclass(frozen=True)
class Armhole:
    """The run named `armhole`, and its halves from the underarm to the shoulder, mm."""

    run: Run
    front_mm: float
    back_mm: float

    @property
    def whole_mm(self) -> float:
        """All of it."""
        return self.front_mm + self.back_mm


def armhole_of(drafting: Drafting, *, is_sewn_in: bool = True) -> Armhole:
    """The armhole of the pattern so far, free if the sleeve is to be sewn into it.

    Raises:
        ComponentError: there is none, it is not made of a front and a back, or something is sewn
            to it already.
    """
    if is_sewn_in:
        armhole = free_armhole(drafting)
    else:
        armhole = drafting.pattern.named_run("armhole", drafting.name)
    front, back = drafting.pattern.half_lengths(armhole)
    if not (front and back):
        raise ComponentError(
            "the sleeve needs an armhole of a front and a back",
            where=drafting.name,
            how_much=f"this one runs over {', '.join(armhole.pieces)}",
            what_to_do="Use another sleeve for this bodice.",
        )
    return Armhole(armhole, front, back)


def gathered_ease(armhole: Armhole, fullness: float) -> float:
    """What a head gathered by `fullness` above the notches is longer than the armhole, mm."""
    return (fullness - 1.0) * (1.0 - NOTCH_SHARE) * armhole.whole_mm


@dataclass(frozen=True)
class CapAsked:
    """What a cap shall be: its ease, its height as a share of the armhole, and its least width.

    `rise_mm` is height beyond the share, for a gathered head.
    """

    ease_mm: float
    height_share: float
    least_width_mm: float
    rise_mm: float = 0.0


@dataclass(frozen=True)
class Cap:
    """A cap that has its length on both sides of the shoulder.

    `lean_rad` is how far the seam edges below lean in toward the hem; out if it is negative.
    """

    armhole: Armhole
    ease_mm: float
    height_mm: float
    front_width_mm: float
    back_width_mm: float
    lean_rad: float

    @property
    def width_mm(self) -> float:
        """From underarm to underarm."""
        return self.front_width_mm + self.back_width_mm

    @property
    def top(self) -> Point:
        """Where it meets the shoulder seam."""
        return Point(0.0, self.height_mm)

    @property
    def front_foot(self) -> Point:
        """The front underarm."""
        return Point(-self.front_width_mm, 0.0)

    @property
    def back_foot(self) -> Point:
        """The back underarm."""
        return Point(self.back_width_mm, 0.0)

    def path(self) -> Path:
        """From the back underarm over the top to the front underarm."""
        return join(
            _back_cap(self.back_width_mm, self.height_mm, self.lean_rad),
            _front_cap(self.front_width_mm, self.height_mm, self.lean_rad),
        )

    def seam(self, drafting: Drafting, piece: Piece, kind: SeamKind = SeamKind.PLAIN) -> Seam:
        """The armhole seam: no ease below the notches, the rest over the cap (L03)."""
        hole, ease = self.armhole, self.ease_mm
        front_notch, back_notch = NOTCH_SHARE * hole.front_mm, NOTCH_SHARE * hole.back_mm
        whole = hole.whole_mm
        shoulder = hole.front_mm
        return Seam(
            name=f"{drafting.name}-armhole",
            title="armhole seam",
            layers=(
                Layer(hole.run),
                Layer(run(f"-{piece.name}.cap", closed=True), ease_mm=ease),
            ),
            allowance_mm=drafting.seam_allowance_mm,
            kind=kind,
            pressing=Pressing.TOWARD_LAST,
            matches=(
                Match("front notch", (front_notch, front_notch), NotchKind.SINGLE),
                Match("shoulder", (shoulder, shoulder + _front_ease(ease)), NotchKind.AT_SEAM),
                Match(
                    "back notch",
                    (whole - back_notch, whole + ease - back_notch),
                    NotchKind.DOUBLE,
                ),
            ),
            component=drafting.name,
        )


def fitted_cap(
    drafting: Drafting, armhole: Armhole, asked: CapAsked, lean_at: Callable[[float], float]
) -> Cap:
    """The cap of the height asked for, lowered until the upper arm has its room (L07).

    Args:
        drafting: for whom, and where faults are.
        armhole: what it is sewn into.
        asked: what it shall be.
        lean_at: how far the seam edges lean in, radians, by the height of the cap.

    Raises:
        ComponentError: no cap of this armhole is wide enough.
    """
    front_mm = armhole.front_mm + _front_ease(asked.ease_mm)
    back_mm = armhole.back_mm + asked.ease_mm - _front_ease(asked.ease_mm)

    def widths_of(height: float) -> tuple[Iterator[_Bounds], Iterator[_Bounds]]:
        lean = lean_at(height)
        return (
            _narrowed(lambda width: _front_cap(width, height, lean).length, front_mm),
            _narrowed(lambda width: _back_cap(width, height, lean).length, back_mm),
        )

    def cap_of(height: float) -> Cap:
        front, back = (_middle_of_last(widths) for widths in widths_of(height))
        return Cap(armhole, asked.ease_mm, height, front, back, lean_at(height))

    high = asked.height_share * armhole.whole_mm + asked.rise_mm
    highest = cap_of(high)
    if highest.width_mm >= asked.least_width_mm:
        return highest
    low = LOWEST_CAP_SHARE * armhole.whole_mm
    widest = cap_of(low).width_mm
    if widest < asked.least_width_mm:
        raise ComponentError(
            "the sleeve cannot be made wide enough for this armhole",
            where=drafting.name,
            how_much=f"{widest:.0f} mm wide at most, {asked.least_width_mm:.0f} mm needed",
            what_to_do="Deepen the armhole (armhole_ease) or give less upper_arm_ease.",
        )
    for _ in range(40):
        middle = (low + high) / 2
        if _are_as_wide(*widths_of(middle), asked.least_width_mm):
            low = middle
        else:
            high = middle
    return cap_of(low)


def _front_ease(ease_mm: float) -> float:
    return FRONT_EASE_SHARE * ease_mm


def _front_cap(width: float, height: float, seam_lean: float) -> Path:
    """From the top of the cap down to the front underarm: hollow below, rounded above.

    It ends square to the seam edge, which leans by `seam_lean`, so that the sewn cap runs on
    across the sleeve seam without a corner (G07). It changes its bend once.
    """
    return smooth_through(
        (Point(0.0, height), Point(-0.53 * width, 0.46 * height), Point(-width, 0.0)),
        start_tangent=Vector(-1.0, 0.0),
        end_tangent=polar(1.0, math.pi + seam_lean),
    )


def _back_cap(width: float, height: float, seam_lean: float) -> Path:
    """From the back underarm up to the top of the cap: fuller than the front."""
    return smooth_through(
        (Point(width, 0.0), Point(0.56 * width, 0.47 * height), Point(0.0, height)),
        start_tangent=polar(1.0, math.pi - seam_lean),
        end_tangent=Vector(-1.0, 0.0),
    )


_Bounds: TypeAlias = tuple[float, float]
"""Between which a width lies, mm."""


def _narrowed(length_at: Callable[[float], float], wanted: float) -> Iterator[_Bounds]:
    """Ever closer bounds of the width at which a cap half reaches its length.

    The length grows with the width.
    """
    low, high = 1.0, wanted
    for _ in range(50):
        middle = (low + high) / 2
        if length_at(middle) < wanted:
            low = middle
        else:
            high = middle
        yield low, high


def _middle_of_last(bounds: Iterator[_Bounds]) -> float:
    (last,) = deque(bounds, maxlen=1)
    return sum(last) / 2


def _are_as_wide(front: Iterator[_Bounds], back: Iterator[_Bounds], least_mm: float) -> bool:
    """Whether both halves together are so wide; known long before their widths are."""
    for (front_low, front_high), (back_low, back_high) in zip(front, back, strict=True):
        if front_low + back_low >= least_mm:
            return True
        if front_high + back_high < least_mm:
            return False
    return (front_low + front_high) / 2 + (back_low + back_high) / 2 >= least_mm
