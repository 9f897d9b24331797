"""The rigid move that brings some points best onto others."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from clothwise.geometry import Point, Transform


def best_move(points: Sequence[Point], goals: Sequence[Point]) -> Transform:
    """The move, perhaps mirroring, after which the points are nearest to their goals.

    Nearest is meant in the sum of squares.

    Source: W. Kabsch, Acta Crystallographica A 32 (1976) 922, in the plane, mirroring allowed.
    """
    one = np.array([(point.x, point.y) for point in points])
    two = np.array([(point.x, point.y) for point in goals])
    middle, goal = one.mean(axis=0), two.mean(axis=0)
    left, _, right = np.linalg.svd((one - middle).T @ (two - goal))
    turn = right.T @ left.T
    shift = goal - turn @ middle
    values = (turn[0, 0], turn[1, 0], turn[0, 1], turn[1, 1], shift[0], shift[1])
    return Transform(*(float(value) for value in values))
