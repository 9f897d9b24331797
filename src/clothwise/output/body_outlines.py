"""The lines of our own drawing of a body: front, back and side, in millimeters from the floor.

It is a drawing, not a body of the library: a standing adult of 1680 mm whose levels lie where the
estimate rules of the vocabulary put them (a test compares). Outlines are written as points that a
smooth line runs through; `/` begins a new line, that may leave the last one at a corner. The
wearer's front is to the left in the side view. Drawn by us, by eye.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from clothwise.geometry import Line, Path, Point, Segment, Transform, smooth_through

FIGURE_HEIGHT_MM = 1680.0
"""How tall the figure stands."""


class View(Enum):
    """From where the figure is seen."""

    FRONT = "front"
    BACK = "back"
    SIDE = "side"


@dataclass(frozen=True)
class FigureLines:
    """One view of the figure, from what lies at the back to what lies in front.

    Attributes:
        body: the closed outline of it.
        suit: closed; what it wears, to be cut off at `body`.
        hair: closed, laid over the body.
        details: thin open lines.
        arm: closed and laid over all else; None where the arms belong to `body`.
        knot: hair that stands out behind the body; None where it does not show.
    """

    body: Path
    suit: Path
    hair: Path
    details: tuple[Path, ...]
    arm: Path | None = None
    knot: Path | None = None


def drawn_through(text: str) -> Path:
    """The path through the points of a text such as `0,0 10,5 20,0 / 20,30`."""
    segments: list[Segment] = []
    for part in text.split("/"):
        points = [_point(word) for word in part.split()]
        if segments and points[0] != segments[-1].end:
            points.insert(0, segments[-1].end)
        through = smooth_through(points) if len(points) > 2 else Path((Line(*points),))
        segments += through.segments
    return Path(tuple(segments))


def _point(word: str) -> Point:
    x, y = word.split(",")
    return Point(float(x), float(y))


_MIRROR = Transform(-1, 0, 0, 1, 0, 0)


def _both_halves(text: str) -> Path:
    """A closed outline from its half at the right of the picture."""
    half = drawn_through(text)
    return Path((*half.segments, *half.transformed(_MIRROR).reversed().segments))


def _on_both_sides(*texts: str) -> tuple[Path, ...]:
    paths = tuple(drawn_through(text) for text in texts)
    return (*paths, *(path.transformed(_MIRROR) for path in paths))


_HEAD_AND_SHOULDER = (
    "0,1680 42,1669 67,1630 71,1585 63,1537 48,1494 / 44,1462 48,1445 61,1431 / "
    "61,1431 98,1418 146,1404 178,1390 198,1369 211,1335 "
)
_ARM = (
    "232,1262 252,1160 268,1078 287,1008 302,940 314,880 321,838 333,800 340,762 341,722 335,684 "
    "327,656 318,655 310,690 305,722 / 297,750 / 293,734 / 288,727 281,731 277,752 274,785 "
    "278,832 / 262,884 243,940 225,1000 214,1054 191,1139 164,1225 148,1262 / "
)
_TRUNK_AND_LEG = (
    "148,1262 141,1225 130,1150 117,1085 115,1047 121,1000 145,930 168,870 173,838 171,790 "
    "160,690 141,590 121,500 115,464 119,425 126,362 121,300 103,190 94,108 / "
)
_FOOT_FROM_THE_FRONT = "94,108 95,82 106,44 112,16 104,2 84,0 65,3 56,16 57,50 51,80 47,108 / "
_FOOT_FROM_THE_BACK = "94,108 92,80 97,48 97,18 88,3 74,0 61,3 53,18 53,48 51,80 47,108 / "
_INSIDE_LEG = "47,108 37,190 22,290 19,350 26,420 31,464 27,510 16,600 8,700 4,775 0,812"

_FRONT = FigureLines(
    body=_both_halves(
        _HEAD_AND_SHOULDER + _ARM + _TRUNK_AND_LEG + _FOOT_FROM_THE_FRONT + _INSIDE_LEG
    ),
    suit=_both_halves(
        "0,1303 40,1325 52,1370 66,1432 / 104,1422 / 104,1422 117,1355 128,1300 150,1258 / "
        "158,1200 / 160,1040 / 200,890 / 176,868 110,815 40,778 / 0,770"
    ),
    hair=drawn_through(
        "-63,1537 -75,1585 -71,1632 -44,1673 0,1685 44,1673 71,1632 75,1585 63,1537 / "
        "64,1568 50,1606 18,1636 -16,1648 / -40,1622 -57,1592 -63,1537"
    ),
    details=(
        drawn_through("-48,1494 -30,1472 0,1461 30,1472 48,1494"),
        drawn_through("0,1002 0,991"),
        *_on_both_sides(
            "66,1404 42,1392 14,1384",
            "34,1180 56,1165 88,1168 112,1184 126,1208",
            "58,481 77,471 96,481",
        ),
    ),
)

_BACK = FigureLines(
    body=_both_halves(
        _HEAD_AND_SHOULDER + _ARM + _TRUNK_AND_LEG + _FOOT_FROM_THE_BACK + _INSIDE_LEG
    ),
    suit=_both_halves(
        "0,1372 30,1384 52,1408 66,1432 / 104,1422 / 104,1422 112,1355 124,1300 150,1258 / "
        "158,1200 / 160,1040 / 200,880 / 176,858 116,800 62,775 / 0,768"
    ),
    hair=drawn_through(
        "-48,1500 -66,1540 -75,1588 -71,1634 -44,1673 0,1685 44,1673 71,1634 75,1588 66,1540 "
        "48,1500 / 48,1500 20,1490 -20,1490 -48,1500"
    ),
    details=(
        drawn_through("0,1578 26,1568 36,1546 26,1524 0,1514 -26,1524 -36,1546 -26,1568 0,1578"),
        *_on_both_sides(
            "56,1350 42,1310 46,1268",
            "12,786 44,776 82,782",
            "44,466 62,460 84,468",
        ),
    ),
)

_SIDE = FigureLines(
    body=drawn_through(
        "10,1680 -30,1676 -62,1650 -80,1610 -84,1582 -81,1568 / "
        "-92,1548 -102,1530 -97,1523 -87,1519 / -92,1508 -90,1500 -85,1497 / "
        "-88,1488 -83,1480 -83,1472 -80,1462 -68,1455 -48,1460 -30,1462 / "
        "-33,1430 -33,1400 -37,1384 / "
        "-37,1384 -60,1350 -86,1300 -116,1250 -133,1222 -128,1196 -106,1168 -99,1130 -99,1080 "
        "-102,1047 -112,980 -113,920 -104,865 -95,820 -95,760 -96,700 -88,600 -74,520 -68,464 "
        "-60,430 -46,370 -34,260 -30,150 -36,105 -62,68 -110,42 -152,28 -172,14 -168,2 / "
        "-60,0 / 40,0 / 62,4 68,26 58,60 46,104 56,180 78,290 84,350 74,420 58,475 60,530 82,640 "
        "98,730 104,785 / 124,815 134,850 130,895 106,950 84,1000 72,1047 72,1090 82,1150 100,1230 "
        "106,1300 98,1360 76,1412 60,1440 52,1462 52,1490 66,1520 92,1548 103,1590 96,1635 "
        "66,1668 10,1680"
    ),
    suit=drawn_through(
        "-36,1362 -14,1384 -6,1400 / 34,1404 / 46,1376 74,1356 110,1340 / 160,1300 / 160,900 / "
        "138,838 60,826 0,850 -60,884 -120,918 / -160,1000 / -160,1250 / -80,1330 / -36,1362"
    ),
    hair=drawn_through(
        "-66,1648 -40,1674 10,1685 66,1673 98,1637 107,1592 98,1556 / 70,1524 34,1532 / "
        "30,1560 12,1572 -10,1592 -38,1626 -66,1648"
    ),
    details=(drawn_through("14,1566 4,1556 6,1538 14,1530"),),
    arm=drawn_through(
        "-30,1345 -14,1380 16,1394 46,1380 62,1340 65,1280 62,1200 59,1110 57,1052 52,1000 40,930 "
        "28,870 22,838 22,800 18,768 8,722 -3,684 -15,654 -24,652 -28,672 -29,700 / -31,736 / "
        "-37,730 / -43,736 -42,758 -36,792 -25,838 -20,900 -18,960 -14,1010 -13,1052 -24,1130 "
        "-36,1230 -39,1295 -30,1345"
    ),
    knot=drawn_through("96,1572 120,1580 142,1563 142,1534 122,1516 96,1522 84,1546 96,1572"),
)

FIGURE: dict[View, FigureLines] = {View.FRONT: _FRONT, View.BACK: _BACK, View.SIDE: _SIDE}
"""The three views."""
