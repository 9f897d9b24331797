"""The booklet as a PDF, set by typst from a template and data."""

from __future__ import annotations

import base64
import json
import math
import re
from collections.abc import Iterable, Mapping
from typing import Any

from clothwise.errors import Misuse
from clothwise.output.booklet_content import (
    COVER_ROOM_MM,
    KEY_WIDTH_MM,
    LAYOUT_WIDTH_MM,
    STEP_ROOM_MM,
    TEXT_WIDTH_MM,
    Booklet,
    ClothPages,
    Figure,
    Table,
    WorkStep,
)
from clothwise.output.bounds import Bounds, drawing_bounds
from clothwise.output.drawing import (
    leaves,
    scaled,
)
from clothwise.output.paper import A4, Paper
from clothwise.output.typeset_drawing import lines_svg, words_data
from clothwise.output.typesetting import page_count, plain, typeset_pdf

__all__ = ["HEADINGS", "SESSIONS_HEADER", "booklet_pdf", "page_count"]

HEADINGS: Mapping[str, str] = {
    "needs": "What you need",
    "requirement": "Fabric",
    "notions": "Notions",
    "body": "Body measurements",
    "finished": "Finished measurements",
    "cutting": "Cutting",
    "order": "Order of work",
    "sessions": "Plan by sessions",
    "cares": "Take care",
    "mind": "Mind:",
}
"""The booklet's own words, in English."""
SESSIONS_HEADER = ("Session", "Steps", "Time", "What to set up", "Ends with")

_TALLEST_LAYOUT_MM = 190.0
_LONG_TEXT = 1800
"""Letters above which a step may be broken over pages; no drafted step comes near."""
_LETTER_MM, _CELL_PADDING_MM = 1.95, 6.0
"""What a letter and the sides of a cell take in a table, generously."""
_SHORT_TEXT = 14
"""Letters up to which a column of a table is not wrapped."""
_LARGEST_TITLE_PT, _SMALLEST_TITLE_PT = 38.0, 18.0
_LANGUAGE = re.compile(r"[a-z]{2,3}")


def booklet_pdf(
    booklet: Booklet, paper: Paper = A4, *, headings: Mapping[str, str] = HEADINGS
) -> bytes:
    """The booklet as a PDF; the same bytes for the same booklet.

    Args:
        booklet: what to say.
        paper: A4 or Letter, or any other that is no narrower and no lower.
        headings: the booklet's own words by their keys in `HEADINGS`.

    Raises:
        Misuse: the language is no code of ISO 639, or the paper is too small.
        ClothwiseError: the typesetter failed; this is a fault of ours.
    """
    if not _LANGUAGE.fullmatch(booklet.language):
        raise Misuse(
            f"{booklet.language!r} is not a language",
            where="the booklet",
            what_to_do="Use a code of two or three small letters, such as en or de.",
        )
    if paper.width_mm < TEXT_WIDTH_MM + 20 or paper.height_mm < 250:
        raise Misuse(
            "this paper is too small for a booklet",
            where=paper.name,
            how_much=f"{paper.width_mm:.0f} x {paper.height_mm:.0f} mm; "
            f"{TEXT_WIDTH_MM + 20:.0f} x 250 mm are needed",
            what_to_do="Use A4 or Letter.",
        )
    return _Setter(paper, headings).pdf(booklet)


class _Setter:
    """Gathers the data of a booklet and the files of its drawings."""

    def __init__(self, paper: Paper, headings: Mapping[str, str]) -> None:
        self._paper, self._headings = paper, {**HEADINGS, **headings}
        self._files: dict[str, bytes] = {}

    def pdf(self, booklet: Booklet) -> bytes:
        content = json.dumps(self._booklet(booklet), ensure_ascii=True)
        files = {"booklet.json": content.encode(), **self._files}
        return typeset_pdf("booklet.typ", files, title=booklet.title)

    def _booklet(self, booklet: Booklet) -> dict[str, Any]:
        tables = {
            name: self._table(getattr(booklet, name))
            for name in ("body", "finished", "requirement", "notions")
        }
        key = booklet.key and self._figure(Figure(booklet.key), KEY_WIDTH_MM, 60.0)
        return {
            **tables,
            "page": {
                "width": self._paper.width_mm,
                "height": self._paper.height_mm,
                "text": TEXT_WIDTH_MM,
                "figure": STEP_ROOM_MM[0],
            },
            "say": {**self._headings, "sessions_header": list(SESSIONS_HEADER)},
            "title": plain(booklet.title),
            "title_size": _title_size(booklet.title),
            "subtitle": plain(booklet.subtitle),
            "edition": plain(booklet.edition),
            "description": _paragraphs(booklet.description),
            "language": booklet.language,
            "facts": _pairs(booklet.facts),
            "flats": [self._figure(one, *self._cover_room(booklet)) for one in booklet.flats],
            "unit_note": plain(booklet.unit_note),
            "needs": any(table["rows"] for table in tables.values()),
            "before_cutting": _plains(booklet.before_cutting),
            "cloths": [self._cloth(number, one) for number, one in enumerate(booklet.cloths)],
            "before_sewing": _plains(booklet.before_sewing),
            "key": key,
            "steps": [self._step(one) for one in booklet.steps],
            "cares": [
                {"title": plain(one.title), "text": plain(one.text)} for one in booklet.cares
            ],
            "care_footer": plain(booklet.care_footer),
            "sittings": len(booklet.sittings),
            "sittings_table": self._table(_sittings(booklet)),
            "sittings_note": plain(booklet.sittings_note),
            "credits": _plains(booklet.credits),
        }

    def _cover_room(self, booklet: Booklet) -> tuple[float, float]:
        width, height = COVER_ROOM_MM
        return (width, height) if len(booklet.flats) > 1 else (TEXT_WIDTH_MM, height)

    def _cloth(self, number: int, cloth: ClothPages) -> dict[str, Any]:
        swatch = f"swatch-{number}.svg" if cloth.swatch else None
        if swatch:
            self._files[swatch] = _framed(cloth.swatch)
        return {
            "swatch": swatch,
            "name": plain(cloth.name),
            "tint": cloth.tint.hex,
            "facts": _pairs(cloth.facts),
            "pieces": self._table(cloth.pieces),
            "layouts": [
                self._figure(one, LAYOUT_WIDTH_MM, _TALLEST_LAYOUT_MM) for one in cloth.layouts
            ],
            "notes": _plains(cloth.notes),
        }

    def _step(self, step: WorkStep) -> dict[str, Any]:
        return {
            "number": step.number,
            "title": plain(step.title),
            "text": _paragraphs(step.text),
            "station": plain(step.station),
            "time": plain(step.time),
            "cautions": _plains(step.cautions),
            "long": len(step.text) > _LONG_TEXT,
            "figure": step.figure and self._figure(step.figure, *STEP_ROOM_MM),
        }

    def _table(self, table: Table) -> dict[str, Any]:
        count = table.columns

        def filled(row: tuple[str, ...]) -> list[str]:
            return _plains((*row, *[""] * (count - len(row))))

        everything = ((table.header,) if table.header else ()) + table.rows
        lengths = [
            max((len(row[at]) for row in everything if at < len(row)), default=0)
            for at in range(count)
        ]
        natural = sum(length * _LETTER_MM + _CELL_PADDING_MM for length in lengths)
        # A table of short texts is as wide as they are; else long columns share what is left.
        widths = [0] * count
        if natural > TEXT_WIDTH_MM:
            widths = [min(length, 60) if length > _SHORT_TEXT else 0 for length in lengths]
        return {
            "header": filled(table.header) if table.header else [],
            "rows": [filled(row) for row in table.rows],
            "flush_right": list(table.flush_right),
            "note": plain(table.note),
            "widths": widths,
            "natural": natural,
        }

    def _figure(self, figure: Figure, width_mm: float, height_mm: float) -> dict[str, Any]:
        drawing = figure.drawing
        drawn = any(True for _ in leaves(drawing))
        frame = drawing_bounds(drawing) if drawn else Bounds(0.0, 0.0, 1.0, 1.0)
        factor = min(1.0, width_mm / frame.width, height_mm / frame.height)
        if factor < 1.0:
            drawing = scaled(drawing, factor)
            frame = drawing_bounds(drawing)
        name = f"figure-{len(self._files) + 1}.svg"
        self._files[name] = lines_svg(drawing, frame)
        description = figure.description or figure.drawing.title or figure.caption
        return {
            **words_data(drawing, frame, name),
            "caption": plain(figure.caption),
            "description": plain(description),
        }


def _sittings(booklet: Booklet) -> Table:
    rows = tuple(
        (one.title, one.steps, one.time, one.stations, one.ends_with) for one in booklet.sittings
    )
    used = [at for at in range(5) if any(row[at] for row in rows)]
    picked = tuple(tuple(row[at] for at in used) for row in rows)
    flush_right = tuple(place for place, at in enumerate(used) if at == 2)
    return Table(tuple(SESSIONS_HEADER[at] for at in used), picked, flush_right)


def _plains(texts: Iterable[str]) -> list[str]:
    return [plain(text) for text in texts]


def _pairs(pairs: Iterable[tuple[str, str]]) -> list[list[str]]:
    return [[plain(name), plain(value)] for name, value in pairs]


def _framed(png: bytes) -> bytes:
    """A picture as SVG, since the typesetter takes texts only."""
    data = base64.b64encode(png).decode("ascii")
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 14 10">'
        f'<image width="14" height="10" preserveAspectRatio="none" '
        f'href="data:image/png;base64,{data}"/></svg>'
    ).encode()


def _paragraphs(text: str) -> list[str]:
    return [said for line in text.splitlines() if (said := plain(line))]


def _title_size(title: str) -> float:
    """Type size of the title, smaller the longer it is, pt."""
    fitting = _LARGEST_TITLE_PT * math.sqrt(min(1.0, 26 / max(len(title), 1)))
    return round(max(_SMALLEST_TITLE_PT, fitting), 1)
