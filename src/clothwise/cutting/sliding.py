"""How far one outline can be slid toward another until it touches it."""

from __future__ import annotations

import numpy as np

from clothwise.cutting.item import XY, Polyline

__all__ = ["slide_distance"]


def slide_distance(fixed: Polyline, moving: Polyline) -> float:
    """Return how far along x the moving outline must be put so that it just touches the fixed one.

    It comes from far right, moving toward the left. Exact for polygons: the distance between two
    outlines at one height is linear between their corners, so corners are all that need a look.
    Minus infinity if they share no height.
    """
    return max(_edge_reach(fixed, moving), _edge_reach(_flipped(moving), _flipped(fixed)))


def _edge_reach(fixed: Polyline, moving: Polyline) -> float:
    """Return the greatest distance from a corner of `moving` back to an edge of `fixed`."""
    a = np.asarray(fixed)
    b = np.roll(a, -1, axis=0)
    corners = np.asarray(moving)
    heights = corners[:, 1][:, None]
    low, high = np.minimum(a[:, 1], b[:, 1]), np.maximum(a[:, 1], b[:, 1])
    crossed = (low <= heights) & (heights <= high)
    rise = np.where(b[:, 1] == a[:, 1], 1.0, b[:, 1] - a[:, 1])
    t = np.where(b[:, 1] == a[:, 1], 0.0, (heights - a[:, 1]) / rise)
    edge_x = a[:, 0] + t * (b[:, 0] - a[:, 0])
    level = b[:, 1] == a[:, 1]
    edge_x = np.where(level, np.maximum(a[:, 0], b[:, 0]), edge_x)
    reach = np.where(crossed, edge_x - corners[:, 0][:, None], -np.inf)
    return float(reach.max())


def _flipped(outline: Polyline) -> tuple[XY, ...]:
    return tuple((-x, y) for x, y in outline)
