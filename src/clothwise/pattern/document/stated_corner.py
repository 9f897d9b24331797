"""Corners that a design states to be meant."""

from __future__ import annotations

import math
from dataclasses import dataclass

from clothwise.errors import Misuse
from clothwise.pattern.document.value import ALWAYS, Requirement
from clothwise.pattern.expression import parse_expression
from clothwise.pattern.graph import EdgeRef
from clothwise.pattern.quantity import QuantityKind
from clothwise.units import format_angle

__all__ = ["StatedCorner", "parse_corner_angle", "parse_corner_line"]

FULL_TURN_RAD = math.tau
"""No cloth has a corner of this angle or more."""


@dataclass(frozen=True)
class StatedCorner:
    """A corner that is meant, as it is written under a component.

    Attributes:
        line: the edge the line comes along, `piece.edge`, toward its corner: with `-` before it if
            that is where the edge starts.
        because: what it is, for people.
        angle: that of the joined cloth, such as `150deg`; empty if any corner will do.
        when: the choices for which it is there.
    """

    line: str
    because: str
    angle: str = ""
    when: Requirement = ALWAYS

    @property
    def edge(self) -> EdgeRef:
        """The edge as a run travels it toward the corner.

        Raises:
            Misuse: it is written in another way.
        """
        return parse_corner_line(self.line)

    @property
    def angle_rad(self) -> float | None:
        """The angle of the joined cloth; None if any will do.

        Raises:
            ExpressionError: it is no angle.
            Misuse: no corner can have it.
        """
        return parse_corner_angle(self.angle) if self.angle else None


def parse_corner_line(text: str) -> EdgeRef:
    """Return the edge that `piece.edge` or `-piece.edge` names.

    Raises:
        Misuse: it is written in another way.

    >>> parse_corner_line("-skirt-front.hem").reverse
    True
    """
    piece, _, edge = text.removeprefix("-").partition(".")
    if not (piece.strip() and edge.strip()):
        raise Misuse(
            f"{text[:60]!r} names no edge",
            what_to_do="Write the piece, a dot and the edge along which the line comes, such as "
            "bodice-front.neck; a - before it if the corner is where the edge starts.",
        )
    return EdgeRef.parse(text)


def parse_corner_angle(text: str) -> float:
    """Return the angle of a corner in radians.

    Raises:
        ExpressionError: it is no angle, or a formula that needs names.
        Misuse: no corner can have it.

    >>> round(parse_corner_angle("150deg"), 4)
    2.618
    """
    angle = parse_expression(text).evaluate({}, kind=QuantityKind.ANGLE).value
    if not 0.0 < angle < FULL_TURN_RAD:
        raise Misuse(
            f"no corner has an angle of {format_angle(angle)}",
            how_much="allowed between 0° and 360°",
            what_to_do="Write the angle of the joined cloth: 180deg runs straight on, the point of "
            "a V neck has more, a point that hangs down less.",
        )
    return angle
