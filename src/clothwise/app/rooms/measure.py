"""The measuring room: the size chart as a grid, where each measurement is taken, whom it fits.

Cells are changed in the page and sent as texts; the server reads them, as it reads a file. What
follows (figure, findings, coverage) is asked for anew after every change.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from typing import Any
from urllib.parse import urlencode

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import JSONResponse, RedirectResponse, Response
from starlette.routing import Route

from clothwise.app.jobs.bodies import BodiesOf, BodyShown
from clothwise.app.jobs.measure import ChartOf, CoverageOf, CoverageShown, GridShown
from clothwise.app.measured_texts import Typed, refuse_unreadable, reworded, with_unit
from clothwise.app.pages import (
    address,
    after_commit,
    fragment,
    opened,
    page,
    preferences,
    refusal,
    wants_json,
)
from clothwise.app.refused_fields import refused_fields
from clothwise.app.rooms.measure_bring import bring, bring_class
from clothwise.app.rooms.of_make import makes_in
from clothwise.app.work import Shown, ask
from clothwise.errors import DocumentError, Misuse
from clothwise.pattern.commands import (
    AddSize,
    Command,
    MakeChartEditable,
    MoveSize,
    RemoveSize,
    SetBody,
    SetCells,
    SetRowKind,
)
from clothwise.pattern.measurements import MEASUREMENTS, REQUIRED

__all__ = ["ROUTES"]

MOST_CELLS = 4000
"""Changed at once; 100 sizes with 40 measurements. Our own choice."""


async def _page(request: Request) -> Response:
    grid = await _grid(request)
    design = opened(request)
    if wants_json(request):
        return JSONResponse(_data(request, grid))
    return page(
        request,
        "measure.html",
        shown=Shown(design.name, design.history.head, size=grid.size),
        grid=grid,
        groups=_groups(grid),
        required=[MEASUREMENTS[name] for name in REQUIRED],
        doubted={(each.size, each.measurement) for each in grid.findings if each.measurement},
        makes=makes_in(request, "for-whom"),
        **_addresses(request),
    )


async def _cells(request: Request) -> Response:
    """Write cells; answers the whole grid as data, for the page to show."""
    async with request.form() as form:
        cells = _sent_cells(_text(form, "cells"))
        design = opened(request)
        grid = await _grid(request, with_figures=False)
        refuse_unreadable(
            Typed(name, text, grid.called(size), _spoken(grid, name, size))
            for size, name, text in cells
        )
        documents = design.history.documents
        heading = _heading(documents.get(grid.document, ""))
        written = tuple(
            (size, name, with_unit(name, text, grid.unit, heading)) for size, name, text in cells
        )
        return await _committed(request, form, SetCells(grid.document, written))


async def _add_size(request: Request) -> Response:
    async with request.form() as form:
        grid = await _grid(request, with_figures=False)
        size = _text(form, "size")
        if not size:
            raise Misuse(
                "the new size has no name",
                where=grid.title or grid.document,
                what_to_do="Give it a short name, such as 54 or your own.",
            )
        given = {
            name: with_unit(name, _text(form, name), grid.unit, "")
            for name in MEASUREMENTS
            if _text(form, name)
        }
        refuse_unreadable(
            Typed(name, _text(form, name), f"size {size}", _spoken(grid, name, grid.base_size))
            for name in MEASUREMENTS
        )
        after = _text(form, "after")
        return await _committed(request, form, AddSize(grid.document, size, given, after), size)


async def _row_kind(request: Request) -> Response:
    """Say of a row whether it is a size or a person."""
    async with request.form() as form:
        grid = await _grid(request, with_figures=False)
        size, row_kind = _text(form, "size"), _text(form, "row_kind")
        if size == grid.base_size and row_kind == "person":
            raise Misuse(
                f"size {size} is the base size, in which the design is drafted first",
                where=grid.title or grid.document,
                what_to_do="Call another row a person, or write another base size into the design.",
            )
        return await _committed(request, form, SetRowKind(grid.document, size, row_kind), size)


async def _move_size(request: Request) -> Response:
    """Let a row stand one place earlier or later."""
    async with request.form() as form:
        grid = await _grid(request, with_figures=False)
        size, is_earlier = _text(form, "size"), _text(form, "way") == "earlier"
        if size not in grid.sizes:
            raise Misuse(
                f"there is no size {size[:40]!r}",
                where=grid.title or grid.document,
                what_to_do="Load the page anew.",
            )
        others = [each for each in grid.sizes if each != size]
        place = grid.sizes.index(size) + (-1 if is_earlier else 1)
        if not 0 <= place < len(grid.sizes):
            raise Misuse(
                f"{size} stands {'first' if is_earlier else 'last'} already",
                where=grid.title or grid.document,
                what_to_do="Move another one.",
            )
        after = others[place - 1] if place else ""
        return await _committed(request, form, MoveSize(grid.document, size, after), size)


async def _remove_size(request: Request) -> Response:
    async with request.form() as form:
        grid = await _grid(request, with_figures=False)
        size = _text(form, "size")
        if size == grid.base_size:
            raise Misuse(
                f"size {size} is the base size, in which the design is drafted first",
                where=grid.title or grid.document,
                what_to_do="Take another size out, or write another base size into the design.",
            )
        return await _committed(request, form, RemoveSize(grid.document, size))


async def _make_editable(request: Request) -> Response:
    """Write the chart of a spreadsheet file as a chart that is edited here."""
    async with request.form() as form:
        grid = await _grid(request, with_figures=False)
        return await _committed(request, form, MakeChartEditable(grid.document))


async def _bodies(request: Request) -> Response:
    """The people whose measurements stand in files of their own."""
    found: tuple[BodyShown, ...] = await ask(_asked_bodies(request))
    return fragment(request, "_measure_bodies.html", bodies=found, **_addresses(request))


async def _body(request: Request) -> Response:
    """Write measurements of a person; what is as it was shown stays as it was written."""
    async with request.form(max_fields=len(MEASUREMENTS) + 10) as form:
        name = _text(form, "body")
        found: tuple[BodyShown, ...] = await ask(_asked_bodies(request))
        body = next((each for each in found if each.document == name), None)
        if body is None or body.fault:
            raise Misuse(
                f"there are no measurements called {name[:60]!r} that could be changed",
                what_to_do="Load the page anew: a make must name the file as its body.",
            )
        changed, typed = {}, []
        for row in body.rows:
            (cell,) = row.cells
            text = " ".join(_text(form, row.name).split()) if row.name in form else None
            if text is None or text == ("" if cell.is_estimated else cell.text):
                continue
            typed.append(Typed(row.name, text, body.name, cell.spoken))
            changed[row.name] = with_unit(row.name, text, body.unit, "")
        base = _text(form, "base") or opened(request).history.head
        try:
            refuse_unreadable(typed)
            if not changed:
                return Response(status_code=204)
            command = SetBody(name, changed)
            entry = await run_in_threadpool(opened(request).history.commit, base, command)
        except DocumentError as error:
            return refused_fields(request, reworded(error, body.name))
        except Misuse as error:
            return refused_fields(request, error)
        headers = after_commit(request, entry)
        if wants_json(request):
            return JSONResponse({"id": entry.id, "words": entry.words}, headers=headers)
        return Response(status_code=204, headers=headers)


def _asked_bodies(request: Request) -> BodiesOf:
    return BodiesOf(dict(opened(request).history.documents), _unit(request))


async def _coverage(request: Request) -> Response:
    design = opened(request)
    asked = CoverageOf(design.name, dict(design.history.documents), _unit(request))
    found: CoverageShown = await ask(asked)
    return fragment(request, "_measure_coverage.html", coverage=found)


async def _findings(request: Request) -> Response:
    grid = await _grid(request, with_figures=False)
    return fragment(request, "_measure_findings.html", grid=grid, **_addresses(request))


async def _chart(request: Request) -> Response:
    """The chart as a file."""
    grid = await _grid(request, with_figures=False)
    if grid.is_sheet:
        raise Misuse(
            "the chart of this design is a spreadsheet file already",
            where=grid.document,
            what_to_do="Take it from the folder of the design.",
        )
    text = opened(request).history.documents[grid.document]
    return Response(
        text,
        media_type="text/csv; charset=utf-8",
        headers={"Content-Disposition": f'attachment; filename="{_plain(grid.document)}"'},
    )


# What is sent


def _sent_cells(text: str) -> list[tuple[str, str, str]]:
    """The cells of a change: a list of size, measurement, text.

    Raises:
        Misuse: it is anything else.
    """
    try:
        sent = json.loads(text or "null")
    except (ValueError, RecursionError):
        sent = None
    cells: list[tuple[str, str, str]] = []
    for each in sent if isinstance(sent, list) else ():
        if not (
            isinstance(each, list)
            and len(each) == 3
            and all(isinstance(part, str) for part in each)
        ):
            cells.clear()
            break
        size, name, words = each
        cells.append((size, name, " ".join(words.split())))
    if not 0 < len(cells) <= MOST_CELLS:
        raise Misuse(
            "the change of the chart cannot be read",
            where="cells",
            how_much=f"1 to {MOST_CELLS} cells can be changed at once",
            what_to_do='Send a list of lists, such as [["38", "waist_girth", "72"]].',
        )
    return cells


def _spoken(grid: GridShown, name: str, size: str) -> str:
    """What a size has of a measurement, with its unit; empty if there is no such size."""
    row = next((row for row in grid.rows if row.name == name), None)
    if row is None or size not in grid.sizes:
        return ""
    return row.cells[grid.sizes.index(size)].spoken


def _heading(text: str) -> str:
    """The line of a chart that names its columns."""
    lines = (line for line in text.splitlines() if line.strip(' ,;\t"') and "#" not in line[:2])
    return next(lines, "")


def _text(form: FormData, name: str) -> str:
    value = form.get(name, "")
    return value.strip() if isinstance(value, str) else ""


def _plain(name: str) -> str:
    return re.sub(r"[^A-Za-z0-9._-]+", "-", name.rpartition("/")[2]) or "sizes.csv"


# What is asked and done


async def _grid(request: Request, *, with_figures: bool = True) -> GridShown:
    found: GridShown = await ask(
        ChartOf(
            dict(opened(request).history.documents),
            _unit(request),
            request.query_params.get("size", "")[:60],
            with_figures,
        )
    )
    return found


def _unit(request: Request) -> str:
    unit = preferences(request).length_unit
    return unit.value if unit else ""


async def _committed(
    request: Request, form: FormData, command: Command, size: str = ""
) -> Response:
    """Make a change and show the chart as it is then, with a size beside the figure."""
    design = opened(request)
    base = _text(form, "base") or design.history.head
    try:
        entry = await run_in_threadpool(design.history.commit, base, command)
    except DocumentError as error:
        return refusal(request, reworded(error))
    headers = after_commit(request, entry)
    here = address("d", design.name, "measure") + (f"?{urlencode({'size': size})}" if size else "")
    if isinstance(command, SetCells) or wants_json(request):
        return JSONResponse(_data(request, await _grid(request, with_figures=False)), 200, headers)
    if "HX-Request" in request.headers:
        return Response(status_code=204, headers={**headers, "HX-Redirect": here})
    return RedirectResponse(here, 303, headers=headers)


def _data(request: Request, grid: GridShown) -> dict[str, Any]:
    """The chart as data: for each measurement the value of every size, and whether estimated."""
    return {
        "head": opened(request).history.head,
        "document": grid.document,
        "title": grid.title,
        "unit": grid.unit,
        "base_size": grid.base_size,
        "sizes": list(grid.sizes),
        "people": list(grid.people),
        "measurements": {
            row.name: {
                "unit": row.unit,
                "values": [cell.text for cell in row.cells],
                "estimated": [cell.is_estimated for cell in row.cells],
            }
            for row in grid.rows
        },
        "findings": [
            {
                "severity": each.severity,
                "size": each.size,
                "measurement": each.measurement,
                "message": each.message,
                "remedy": each.remedy,
            }
            for each in grid.findings
        ],
    }


def _groups(grid: GridShown) -> list[tuple[str, list[Any]]]:
    """The rows in groups, in the order of the vocabulary."""
    groups: Mapping[str, list[Any]] = {
        "Needed from everybody": [row for row in grid.rows if row.is_required],
        "Around": [row for row in grid.rows if not row.is_required and row.name.endswith("_girth")],
        "Along and across": [
            row
            for row in grid.rows
            if not row.is_required and not row.name.endswith(("_girth", "_height"))
        ],
        "Up from the floor": [
            row for row in grid.rows if not row.is_required and row.name.endswith("_height")
        ],
    }
    return list(groups.items())


def _addresses(request: Request) -> dict[str, Any]:
    design = opened(request).name
    parts = ("cells", "add-size", "remove-size", "bring", "coverage", "findings", "chart.csv")
    more = ("make-editable", "bodies", "body", "row-kind", "move-size", "class")
    return {
        f"to_{part.partition('.')[0].replace('-', '_')}": address("d", design, "measure", part)
        for part in (*parts, *more)
    } | {"to_grid": address("d", design, "measure")}


_AT = "/d/{design}/measure"
ROUTES: list[Route] = [
    Route(_AT, _page),
    Route(f"{_AT}/cells", _cells, methods=["POST"]),
    Route(f"{_AT}/add-size", _add_size, methods=["POST"]),
    Route(f"{_AT}/row-kind", _row_kind, methods=["POST"]),
    Route(f"{_AT}/move-size", _move_size, methods=["POST"]),
    Route(f"{_AT}/remove-size", _remove_size, methods=["POST"]),
    Route(f"{_AT}/bring", bring, methods=["POST"]),
    Route(f"{_AT}/class", bring_class, methods=["POST"]),
    Route(f"{_AT}/make-editable", _make_editable, methods=["POST"]),
    Route(f"{_AT}/bodies", _bodies),
    Route(f"{_AT}/body", _body, methods=["POST"]),
    Route(f"{_AT}/coverage", _coverage),
    Route(f"{_AT}/findings", _findings),
    Route(f"{_AT}/chart.csv", _chart),
]
