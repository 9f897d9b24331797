"""Tables as PDF pages, set like the booklet.

A table that fits stands on one page; a longer one goes on, with its heading repeated. Pages are
upright where that leaves the letters large enough, else turned. A table too wide for the paper
even in the smallest letters is cut into parts, each with the leading columns again.

>>> page = PageTable((PageColumn("Seam"), PageColumn("Length", flush_right=True)),
...                  ["Bodice", ("side seam", "20.3"), (PageCell("hem", "all round"), "200.2")])
>>> table_pdf("Truing sheet", "Size 38", [page])[:5]
b'%PDF-'
"""

from __future__ import annotations

import json
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product
from typing import Any, TypeAlias

from clothwise.output.drawing import Weight
from clothwise.output.fonts import text_width
from clothwise.output.paper import A4, Paper
from clothwise.output.typesetting import page_count, plain, typeset_pdf
from clothwise.units import MM_PER_POINT

__all__ = ["PageCell", "PageColumn", "PageRow", "PageTable", "page_count", "table_pdf"]

_MARGIN_MM = 14.0
_PADDING_MM = 1.4
"""On each side of a cell."""
_BODY_PT = (10.0, 9.5, 9.0, 8.5, 8.0, 7.5, 7.0)
"""Type sizes, tried from the largest."""
_SMALLEST_UPRIGHT_PT = 9.0
"""Smaller than this and the page is turned instead."""
_SMALLEST_FOR_ONE_PAGE_PT = 8.5
"""Letters are made no smaller than this to save a second page."""
_DENSE_PT = (8.5, 8.0, 7.5, 7.0, 6.5)
"""Of tables that are asked to stand on one page: a sheet for the workroom wall, read at arm's
length no more."""
_CUT_PT = 8.5
"""Of tables that must be cut into parts, so that they need not be small as well."""
_NARROWEST_WRAP_MM = 42.0
"""Room that a column of sentences needs."""
_LEADING = 0.37
_DENSE_LEADINGS = (0.3, 0.2)
"""Space above and below the text of a row, over its type size."""
_HEADER_SHARE = 0.92
"""Type size of headings and small lines over that of the cells, as in the template."""


@dataclass(frozen=True)
class PageColumn:
    """A column: `wraps` says that its texts may be broken into lines, and takes what is left."""

    title: str
    flush_right: bool = False
    wraps: bool = False


@dataclass(frozen=True)
class PageCell:
    """A text with a smaller line below it; `strong` sets it bold, `warn` in red thread."""

    text: str
    small: str = ""
    strong: bool = False
    warn: bool = False


PageRow: TypeAlias = str | Sequence[str | PageCell]
"""The cells of a row; or one text, a heading across all columns."""


@dataclass(frozen=True)
class PageTable:
    """A table; the first `kept_columns` are repeated if it has to be cut into parts."""

    columns: Sequence[PageColumn]
    rows: Sequence[PageRow]
    title: str = ""
    kept_columns: int = 1


def table_pdf(
    title: str,
    subtitle: str,
    tables: Sequence[PageTable],
    *,
    notes: Sequence[str] = (),
    paper: Paper = A4,
    language: str = "en",
    one_page: bool = False,
) -> bytes:
    """Tables below one title as a PDF; the same bytes for the same tables.

    Args:
        title: on the first page, and small on those that follow.
        subtitle: below the title; may be empty.
        tables: one after the other.
        notes: paragraphs after the last table.
        paper: A4, Letter, or any other at least as large.
        language: a code of ISO 639, for readers that speak.
        one_page: set rows closer and letters smaller if that brings everything on one page.

    Raises:
        ClothwiseError: the typesetter failed; this is a fault of ours.
    """
    upright, turned = sorted((paper.width_mm, paper.height_mm))
    page = (upright, turned)
    size = _fitting(tables, upright)
    if size < _SMALLEST_UPRIGHT_PT:
        page, size = (turned, upright), _fitting(tables, turned) or _CUT_PT
    setter = _Setter(title, subtitle, tables, notes, page, language)
    pdf = setter.pdf(size)
    if one_page and page_count(pdf) > 1:
        for smaller, leading in product(_DENSE_PT, _DENSE_LEADINGS):
            dense = replace(setter, page=(upright, turned), leading=leading).pdf(smaller)
            if page_count(dense) == 1:
                return dense
    if page_count(pdf) == 2:  # a little smaller, it may fit on one
        for smaller in (each for each in _BODY_PT if _SMALLEST_FOR_ONE_PAGE_PT <= each < size):
            on_one = setter.pdf(smaller)
            if page_count(on_one) == 1:
                return on_one
    return pdf


@dataclass(frozen=True)
class _Setter:
    """What is said, and the width and height of the page it is said on."""

    title: str
    subtitle: str
    tables: Sequence[PageTable]
    notes: Sequence[str]
    page: tuple[float, float]
    language: str
    leading: float = _LEADING

    def pdf(self, size_pt: float) -> bytes:
        width, height = self.page
        room = width - 2 * _MARGIN_MM
        parts = [part for table in self.tables for part in _parts(table, room, size_pt)]
        content = {
            "title": plain(self.title),
            "subtitle": plain(self.subtitle),
            "language": self.language,
            "size": size_pt,
            "leading": self.leading,
            "page": {"width": width, "height": height, "margin": _MARGIN_MM, "pad": _PADDING_MM},
            "tables": [_data(part) for part in parts],
            "notes": [plain(note) for note in self.notes],
        }
        files = {"table.json": json.dumps(content, ensure_ascii=True).encode()}
        return typeset_pdf("table.typ", files, title=self.title)


def _fitting(tables: Sequence[PageTable], width_mm: float) -> float:
    """The largest type size at which all tables fit a page this wide; 0 if there is none."""
    room = width_mm - 2 * _MARGIN_MM
    fits = (size for size in _BODY_PT if all(sum(_widths(t, size)) <= room for t in tables))
    return next(fits, 0.0)


def _widths(table: PageTable, size_pt: float) -> list[float]:
    """What each column needs, mm."""
    rows = [row for row in table.rows if not isinstance(row, str)]
    return [
        _NARROWEST_WRAP_MM
        if column.wraps
        else 2 * _PADDING_MM + max(_cell_width(cell, size_pt) for cell in _cells(column, rows, at))
        for at, column in enumerate(table.columns)
    ]


def _cells(
    column: PageColumn, rows: Sequence[Sequence[str | PageCell]], at: int
) -> Iterator[str | PageCell]:
    yield PageCell(column.title, strong=True)
    yield from (row[at] for row in rows if at < len(row))


def _cell_width(cell: str | PageCell, size_pt: float) -> float:
    found = cell if isinstance(cell, PageCell) else PageCell(cell)
    size_mm = size_pt * MM_PER_POINT
    weight = Weight.BOLD if found.strong else Weight.REGULAR
    return max(
        text_width(found.text, size_mm, weight),
        text_width(found.small, size_mm * _HEADER_SHARE, Weight.ITALIC),
    )


def _parts(table: PageTable, room_mm: float, size_pt: float) -> Iterator[PageTable]:
    """The table, or as many parts of equal numbers of columns as its width needs."""
    widths, kept = _widths(table, size_pt), table.kept_columns
    if sum(widths) <= room_mm or len(table.columns) <= kept + 1:
        yield table
        return
    widest = max(widths[kept:])
    at_once = max(1, int((room_mm - sum(widths[:kept])) / widest))
    many = len(table.columns) - kept
    at_once = math.ceil(many / math.ceil(many / at_once))
    for start in range(kept, len(table.columns), at_once):
        chosen = [*range(kept), *range(start, min(start + at_once, len(table.columns)))]
        yield replace(
            table,
            columns=[table.columns[at] for at in chosen],
            rows=[
                row if isinstance(row, str) else [row[at] if at < len(row) else "" for at in chosen]
                for row in table.rows
            ],
        )


def _data(table: PageTable) -> dict[str, Any]:
    wrapping = any(column.wraps for column in table.columns)
    return {
        "title": plain(table.title),
        "columns": [
            {"title": plain(one.title), "right": one.flush_right, "wraps": one.wraps}
            for one in table.columns
        ],
        "wide": wrapping,
        "rows": [
            {"band": plain(row), "cells": []}
            if isinstance(row, str)
            else {
                "band": "",
                "cells": [
                    _cell(row[at]) if at < len(row) else _cell("")
                    for at in range(len(table.columns))
                ],
            }
            for row in table.rows
        ],
    }


def _cell(cell: str | PageCell) -> dict[str, Any]:
    found = cell if isinstance(cell, PageCell) else PageCell(cell)
    return {
        "text": plain(found.text),
        "small": plain(found.small),
        "strong": found.strong,
        "warn": found.warn,
    }
