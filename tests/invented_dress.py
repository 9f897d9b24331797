"""Pieces of an invented dress for the layout tests: cutting outlines in mm, grain along +y.

Every number is made up for the tests. Half pieces have their fold edge on x = 0 and lie at
x >= 0; outlines are anticlockwise; curves are flattened cubics.
"""

from __future__ import annotations

from collections.abc import Sequence

from clothwise.cutting import CutItem

XY = tuple[float, float]


def curve(p0: XY, p1: XY, p2: XY, p3: XY, steps: int = 16) -> list[XY]:
    """Return points on a cubic, without its start point."""
    points = []
    for step in range(1, steps + 1):
        t = step / steps
        s = 1 - t
        weights = (s**3, 3 * s * s * t, 3 * s * t * t, t**3)
        x = sum(w * p[0] for w, p in zip(weights, (p0, p1, p2, p3), strict=True))
        y = sum(w * p[1] for w, p in zip(weights, (p0, p1, p2, p3), strict=True))
        points.append((x, y))
    return points


def mirrored(points: Sequence[XY]) -> list[XY]:
    """Return the outline mirrored in x = 0, still anticlockwise."""
    return [(-x, y) for x, y in reversed(points)]


BACK_BODICE_HALF: list[XY] = [
    (0, 0),
    (230, 0),
    (238, 210),
    *curve((238, 210), (200, 225), (185, 290), (190, 400)),
    (80, 440),
    *curve((80, 440), (70, 415), (40, 405), (0, 405)),
]
FRONT_BODICE: list[XY] = [
    (-45, 0),
    (110, 0),
    (122, -12),
    (134, 0),
    (245, 12),
    (262, 120),
    (285, 150),
    (262, 180),
    (260, 220),
    *curve((260, 220), (205, 240), (190, 300), (192, 390)),
    (80, 435),
    *curve((80, 435), (75, 370), (50, 340), (-45, 335)),
]
BACK_SKIRT_HALF: list[XY] = [
    (0, 0),
    *curve((0, 0), (130, 0), (270, 12), (400, 48)),
    (262, 810),
    *curve((262, 810), (200, 790), (120, 782), (0, 780)),
]
FRONT_SKIRT: list[XY] = [
    (-45, 0),
    *curve((-45, 0), (130, 0), (260, 12), (385, 46)),
    (250, 805),
    *curve((250, 805), (190, 788), (110, 780), (-45, 778)),
]
SLEEVE: list[XY] = [
    (-165, 0),
    (165, 0),
    (190, 130),
    *curve((190, 130), (130, 140), (95, 270), (5, 275)),
    *curve((5, 275), (-90, 270), (-120, 140), (-190, 130)),
]
COLLAR_HALF: list[XY] = [
    (0, 0),
    *curve((0, 0), (80, 0), (150, 12), (200, 40)),
    (235, 118),
    *curve((235, 118), (160, 82), (80, 74), (0, 72)),
]
NECK_FACING_HALF: list[XY] = [
    (0, 0),
    *curve((0, 0), (70, 0), (140, 30), (165, 75)),
    (92, 110),
    *curve((92, 110), (80, 85), (45, 72), (0, 72)),
]
FRONT_FACING: list[XY] = [
    (0, 0),
    (85, 0),
    (85, 980),
    *curve((85, 980), (100, 1040), (130, 1080), (175, 1100)),
    (140, 1190),
    *curve((140, 1190), (130, 1130), (90, 1100), (0, 1095)),
]
POCKET: list[XY] = [(0, 0), (90, -35), (180, 0), (180, 215), (0, 215)]
BELT: list[XY] = [(0, 0), (75, 0), (75, 890), (37.5, 930), (0, 890)]


def item(
    name: str,
    outline: Sequence[XY],
    *,
    mirrored_copy: bool = False,
    on_fold: bool = False,
) -> CutItem:
    """Return one copy; its name is `piece.copy` or `piece`."""
    heights = [y for x, y in outline if x == 0]
    return CutItem(
        id=name,
        label=name.replace(".", ", "),
        outline=tuple(outline),
        mirrored=mirrored_copy,
        fold_edge=((0, min(heights)), (0, max(heights))) if on_fold else None,
        piece=name.split(".")[0],
    )


def pair(name: str, outline: Sequence[XY]) -> list[CutItem]:
    """Return the left and the right copy of a piece."""
    return [item(f"{name}.left", outline), item(f"{name}.right", outline, mirrored_copy=True)]


def dress() -> list[CutItem]:
    """Return all copies of the dress for folded cloth, half pieces on the fold."""
    return [
        item("back bodice", BACK_BODICE_HALF, on_fold=True),
        item("back skirt", BACK_SKIRT_HALF, on_fold=True),
        item("neck facing", NECK_FACING_HALF, on_fold=True),
        item("collar.upper", COLLAR_HALF, on_fold=True),
        item("collar.under", COLLAR_HALF, on_fold=True),
        *pair("front bodice", FRONT_BODICE),
        *pair("front skirt", FRONT_SKIRT),
        *pair("sleeve", SLEEVE),
        *pair("front facing", FRONT_FACING),
        item("belt.1", BELT),
        item("belt.2", BELT),
        item("pocket.1", POCKET),
        item("pocket.2", POCKET),
    ]
