"""A small reader of what a PDF page paints, written apart from our writer: numbers in mm.

pypdf takes the file apart; here the graphics state is followed as ISO 32000-1, 8.3 to 8.5 say.
"""

from __future__ import annotations

import io
from dataclasses import dataclass, field
from typing import Any

import numpy as np
from pypdf import PdfReader
from pypdf.generic import ContentStream

MM_PER_POINT = 25.4 / 72
CURVE_STEPS = 64

Matrix = tuple[float, float, float, float, float, float]


@dataclass(frozen=True)
class Painted:
    """One painted path: its polylines, in mm from the lower left corner of the page."""

    lines: tuple[tuple[tuple[float, float], ...], ...]
    is_stroked: bool
    is_filled: bool
    width_mm: float
    dash_mm: tuple[float, ...]
    layer: str
    clip: tuple[float, float, float, float] | None

    @property
    def length_mm(self) -> float:
        return sum(float(np.hypot(*np.diff(np.array(line), axis=0).T).sum()) for line in self.lines)


@dataclass
class _State:
    matrix: Matrix
    width: float = 1.0
    dash: tuple[float, ...] = ()
    clip: tuple[float, float, float, float] | None = None

    def copy(self) -> _State:
        return _State(self.matrix, self.width, self.dash, self.clip)


@dataclass
class _Reading:
    reader: PdfReader
    painted: list[Painted] = field(default_factory=list)
    texts: int = 0


def read(pdf: bytes) -> PdfReader:
    return PdfReader(io.BytesIO(pdf), strict=True)


def painted_on(reader: PdfReader, number: int) -> list[Painted]:
    """Everything painted on a page (from 0), texts apart, with the layer it belongs to."""
    page = reader.pages[number]
    reading = _Reading(reader)
    contents = ContentStream(page["/Contents"].get_object(), reader)
    scale = MM_PER_POINT
    _run(reading, contents, page["/Resources"], _State((scale, 0, 0, scale, 0, 0)), "")
    return reading.painted


def page_size_mm(reader: PdfReader, number: int) -> tuple[float, float]:
    box = reader.pages[number].mediabox
    return float(box.width) * MM_PER_POINT, float(box.height) * MM_PER_POINT


def _run(
    reading: _Reading, contents: ContentStream, resources: Any, state: _State, layer: str
) -> None:
    stack: list[_State] = []
    marks: list[str] = []
    lines: list[list[tuple[float, float]]] = []
    clipping = False
    for operands, operator in contents.operations:
        numbers = [float(x) for x in operands] if operator in _NUMERIC else []
        if operator == b"q":
            stack.append(state.copy())
        elif operator == b"Q":
            state = stack.pop()
        elif operator == b"cm":
            state.matrix = _times(tuple(numbers), state.matrix)  # type: ignore[arg-type]
        elif operator == b"w":
            state.width = numbers[0] * _factor(state.matrix)
        elif operator == b"d":
            state.dash = tuple(float(x) * _factor(state.matrix) for x in operands[0])
        elif operator == b"m":
            lines.append([_at(state.matrix, *numbers)])
        elif operator == b"l":
            lines[-1].append(_at(state.matrix, *numbers))
        elif operator == b"c":
            points = [_at(state.matrix, *numbers[n : n + 2]) for n in (0, 2, 4)]
            lines[-1].extend(_curve(lines[-1][-1], *points))
        elif operator == b"h":
            lines[-1].append(lines[-1][0])
        elif operator == b"re":
            x, y, w, h = numbers
            corners = ((x, y), (x + w, y), (x + w, y + h), (x, y + h), (x, y))
            lines.append([_at(state.matrix, *corner) for corner in corners])
        elif operator in (b"W", b"W*"):
            clipping = True
        elif operator in (b"S", b"f*", b"B*", b"f", b"B", b"n"):
            if clipping:
                state.clip = _box(lines)
                clipping = False
            if operator != b"n":
                name = next((mark for mark in reversed(marks) if mark), layer)
                reading.painted.append(
                    Painted(
                        tuple(tuple(line) for line in lines),
                        operator in (b"S", b"B", b"B*"),
                        operator not in (b"S",),
                        state.width,
                        state.dash,
                        name,
                        state.clip,
                    )
                )
            lines = []
        elif operator == b"BDC":
            marks.append(_layer_name(operands, resources))
        elif operator == b"EMC":
            marks.pop()
        elif operator == b"Do":
            form = resources["/XObject"][operands[0]].get_object()
            inner = ContentStream(form, reading.reader)
            name = next((mark for mark in reversed(marks) if mark), layer)
            _run(reading, inner, form["/Resources"], state.copy(), name)
        elif operator == b"Tj":
            reading.texts += 1


_NUMERIC = {b"cm", b"w", b"m", b"l", b"c", b"re"}


def _layer_name(operands: Any, resources: Any) -> str:
    if operands[0] != "/OC":
        return ""
    return str(resources["/Properties"][operands[1]].get_object()["/Name"])


def _times(first: Matrix, then: Matrix) -> Matrix:
    a, b, c, d, e, f = first
    p, q, r, s, t, u = then
    return (
        a * p + b * r, a * q + b * s,
        c * p + d * r, c * q + d * s,
        e * p + f * r + t, e * q + f * s + u,
    )  # fmt: skip


def _at(matrix: Matrix, x: float, y: float) -> tuple[float, float]:
    a, b, c, d, e, f = matrix
    return a * x + c * y + e, b * x + d * y + f


def _factor(matrix: Matrix) -> float:
    a, b, c, d, _, _ = matrix
    return float(abs(a * d - b * c) ** 0.5)


def _curve(
    p0: tuple[float, float],
    p1: tuple[float, float],
    p2: tuple[float, float],
    p3: tuple[float, float],
) -> list[tuple[float, float]]:
    t = np.linspace(0, 1, CURVE_STEPS + 1)[1:, None]
    points = np.array([p0, p1, p2, p3])
    s = 1 - t
    along = (
        s**3 * points[0] + 3 * s * s * t * points[1] + 3 * s * t * t * points[2] + t**3 * points[3]
    )
    return [(float(x), float(y)) for x, y in along]


def _box(lines: list[list[tuple[float, float]]]) -> tuple[float, float, float, float]:
    spots = np.array([point for line in lines for point in line])
    (left, bottom), (right, top) = spots.min(axis=0), spots.max(axis=0)
    return float(left), float(bottom), float(right), float(top)
