"""Shapes as convex parts, and how far two parts are apart in the best direction to part them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

__all__ = ["ConvexShape", "Partings", "convex_parts", "convex_shape", "partings"]

Points = NDArray[np.float64]
Numbers = NDArray[np.int64]

_FLAT = 1e-9
_LEAST_AREA_MM2 = 1e-6


@dataclass(frozen=True)
class ConvexShape:
    """A shape as convex parts, with what parting them from others needs.

    Attributes:
        corners: (n, 2), of all parts, one after the other.
        corner_starts: where the corners of each part start.
        normals: (m, 2), outward and of unit length, of all edges of all parts.
        normal_starts: where the normals of each part start.
        supports: (m,), how far the own part reaches along each normal, mm.
        boxes: (parts, 4), left, bottom, right, top of each part.
    """

    corners: Points
    corner_starts: Numbers
    normals: Points
    normal_starts: Numbers
    supports: Points
    boxes: Points


@dataclass(frozen=True)
class Partings:
    """Half-planes that keep two shapes apart, for each pair of their convex parts.

    Two parts are apart if, for one of their normals, the displacement of the second shape against
    the first, along the normal, is at least the distance.

    Attributes:
        still, moving: the two shapes.
        least_still: (parts of moving, normals of still), mm.
        least_moving: (parts of still, normals of moving), mm; their normals count reversed.
    """

    still: ConvexShape
    moving: ConvexShape
    least_still: Points
    least_moving: Points

    def nearest(self, apart: Points, within_mm: float) -> tuple[Points, Points]:
        """Return the normals and distances that part best the pairs of parts that lie near.

        Args:
            apart: displacement of the second shape against the first.
            within_mm: pairs that have more room than this are left out.

        Returns:
            (rows, 2) normals and (rows,) distances.
        """
        room_still = self.still.normals @ apart - self.least_still
        room_moving = -(self.moving.normals @ apart) - self.least_moving
        best_still = np.maximum.reduceat(room_still, self.still.normal_starts, axis=1).T
        best_moving = np.maximum.reduceat(room_moving, self.moving.normal_starts, axis=1)
        room = np.maximum(best_still, best_moving)
        normals, leasts = [], []
        for one, other in np.argwhere(room < within_mm).tolist():
            if best_still[one, other] >= best_moving[one, other]:
                start = self.still.normal_starts[one]
                end = _end(self.still.normal_starts, one, len(self.still.normals))
                at = start + int(room_still[other, start:end].argmax())
                normals.append(self.still.normals[at])
                leasts.append(self.least_still[other, at])
            else:
                start = self.moving.normal_starts[other]
                end = _end(self.moving.normal_starts, other, len(self.moving.normals))
                at = start + int(room_moving[one, start:end].argmax())
                normals.append(-self.moving.normals[at])
                leasts.append(self.least_moving[one, at])
        return np.asarray(normals).reshape(-1, 2), np.asarray(leasts)


def convex_parts(shape: BaseGeometry) -> tuple[Points, ...]:
    """Return convex rings, anticlockwise, that fill a shape; few, not the fewest.

    Triangles are joined to each other over their longest common edges while they stay convex.
    """
    triangles = [
        part
        for part in shapely.constrained_delaunay_triangles(shape).geoms
        if part.area > _LEAST_AREA_MM2
    ]
    parts: dict[int, list[tuple[float, float]]] = {}
    for number, triangle in enumerate(triangles):
        ring = list(triangle.exterior.coords)[:-1]
        parts[number] = ring if triangle.exterior.is_ccw else ring[::-1]
    owner: dict[tuple[tuple[float, float], tuple[float, float]], int] = {
        (a, b): number for number, ring in parts.items() for a, b in _edges(ring)
    }
    inner = sorted(
        {(a, b) for a, b in owner if (b, a) in owner and a < b},
        key=lambda edge: -_length(edge),
    )
    for a, b in inner:
        one, other = owner[a, b], owner[b, a]
        if one == other:
            continue
        joined = _joined(parts[one], parts[other], a, b)
        if joined is None:
            continue
        parts[one] = joined
        del parts[other]
        for edge in _edges(joined):
            owner[edge] = one
        del owner[a, b], owner[b, a]
    return tuple(np.asarray(ring) for ring in parts.values())


def convex_shape(parts: Sequence[Points]) -> ConvexShape:
    """Return parts made ready to be parted from those of others."""
    normals = [_outward(part) for part in parts]
    supports = [(part @ own.T).max(axis=0) for part, own in zip(parts, normals, strict=True)]
    return ConvexShape(
        np.vstack(parts),
        _starts(parts),
        np.vstack(normals),
        _starts(normals),
        np.concatenate(supports),
        np.array([(*part.min(axis=0), *part.max(axis=0)) for part in parts]),
    )


def partings(still: ConvexShape, moving: ConvexShape) -> Partings:
    """Return the directions in which the parts of two shapes can be parted, and how far."""
    of_moving = np.minimum.reduceat(moving.corners @ still.normals.T, moving.corner_starts, axis=0)
    of_still = np.minimum.reduceat(still.corners @ moving.normals.T, still.corner_starts, axis=0)
    return Partings(still, moving, still.supports - of_moving, moving.supports - of_still)


def _starts(arrays: Sequence[Points]) -> Numbers:
    return np.cumsum([0, *(len(array) for array in arrays[:-1])], dtype=np.int64)


def _end(starts: Numbers, part: int, count: int) -> int:
    return int(starts[part + 1]) if part + 1 < len(starts) else count


def _outward(ring: Points) -> Points:
    along = np.roll(ring, -1, axis=0) - ring
    normals = np.column_stack([along[:, 1], -along[:, 0]])
    lengths = np.hypot(normals[:, 0], normals[:, 1])
    return np.asarray(normals[lengths > _FLAT] / lengths[lengths > _FLAT, None])


_Edge = tuple[tuple[float, float], tuple[float, float]]


def _edges(ring: list[tuple[float, float]]) -> list[_Edge]:
    return list(zip(ring, [*ring[1:], ring[0]], strict=True))


def _length(edge: _Edge) -> float:
    (ax, ay), (bx, by) = edge
    return float(np.hypot(bx - ax, by - ay))


def _joined(
    one: list[tuple[float, float]],
    other: list[tuple[float, float]],
    a: tuple[float, float],
    b: tuple[float, float],
) -> list[tuple[float, float]] | None:
    """Both rings as one over their common edge a-b; None if that is not convex."""
    at = one.index(a)
    first = one[at + 1 :] + one[: at + 1]  # from b round to a
    at = other.index(b)
    second = other[at + 1 :] + other[: at + 1]  # from a round to b
    ring = first[:-1] + second[:-1]
    for number in range(len(ring)):
        p, q, r = ring[number - 1], ring[number], ring[(number + 1) % len(ring)]
        if (q[0] - p[0]) * (r[1] - q[1]) - (q[1] - p[1]) * (r[0] - q[0]) < -_FLAT:
            return None
    return ring if Polygon(ring).is_valid else None
