"""Shapes as convex parts, and how far two parts are apart in the best direction to part them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

__all__ = ["Partings", "convex_parts", "partings"]

Points = NDArray[np.float64]

_FLAT = 1e-9
_LEAST_AREA_MM2 = 1e-6


@dataclass(frozen=True)
class Partings:
    """Half-planes that keep two shapes apart, for each pair of their convex parts.

    The parts are apart if, for one of the directions of their pair, the displacement of the second
    shape against the first, along the direction, is at least the distance.

    Attributes:
        normals: (pairs, directions, 2), unit; repeated where a pair has fewer directions.
        least: (pairs, directions), mm; infinite where repeated.
    """

    normals: Points
    least: Points


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


def partings(still: tuple[Points, ...], moving: tuple[Points, ...]) -> Partings:
    """Return the directions in which the parts of two shapes can be parted, and how far."""
    found = [_parting(a, b) for a in still for b in moving]
    most = max(len(least) for _, least in found)
    normals = np.zeros((len(found), most, 2))
    leasts = np.full((len(found), most), np.inf)
    for number, (normal, least) in enumerate(found):
        normals[number, : len(least)] = normal
        leasts[number, : len(least)] = least
    return Partings(normals, leasts)


def _parting(a: Points, b: Points) -> tuple[Points, Points]:
    """The outward normals of what the moving part may not enter, from both parts' edges."""
    normals = np.vstack([_outward(a), -_outward(b)])
    reach = (a @ normals.T).max(axis=0) - (b @ normals.T).min(axis=0)
    return normals, reach


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
