"""Bringing a size chart: a table as somebody has it, mended on the page until it can be read.

What is wrong is told all at once, beside the cells; nothing is kept before all of it can be.
"""

from __future__ import annotations

from collections.abc import Sequence

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData, UploadFile
from starlette.requests import Request
from starlette.responses import JSONResponse, RedirectResponse, Response

from clothwise.app.jobs.brought import Brought, MakesOfPeople, ReadBrought
from clothwise.app.jobs.measure import ChartOf, GridShown
from clothwise.app.pages import (
    address,
    after_commit,
    fragment,
    opened,
    preferences,
    refusal,
    wants_json,
)
from clothwise.app.security import folder_name
from clothwise.app.work import ask
from clothwise.errors import DocumentError, Fault, Misuse
from clothwise.pattern.commands import AddMakes, BringChart, Command

__all__ = ["bring", "bring_class"]

MOST_BYTES = 1_000_000
"""Of a chart that is brought: what the library reads at most."""

MOST_CELLS = 4000
"""Shown to be mended; a larger table is mended where it was made. Our own choice."""

MOST_PEOPLE = 60
"""In one step; a folder holds 200 documents. Our own choice."""

MOST_LETTERS = 200
"""Of a cell that is sent."""

_UNITS = ("cm", "in", "mm")


async def bring(request: Request) -> Response:
    """Take over a chart from a file or from pasted text; the old one stays in the history."""
    async with request.form(max_part_size=MOST_BYTES, max_fields=MOST_CELLS + 50) as form:
        return await _bring(request, form)


async def _bring(request: Request, form: FormData) -> Response:
    grid = await _grid(request)
    if grid.is_sheet:
        raise Misuse(
            "the chart of this design is a spreadsheet file, which is read and not written",
            where=grid.document,
            what_to_do="Press Make it an editable chart first; the spreadsheet stays as it is.",
        )
    brought = await _read(form, grid, needs_base=True)
    if not brought.text:
        return _to_mend(request, brought, grid)
    command = BringChart(grid.document, brought.text, brought.base)
    return await _kept(request, form, command, "measure")


async def bring_class(request: Request) -> Response:
    """Begin a make for each person in a table, in one step; the chart stays as it is."""
    async with request.form(max_part_size=MOST_BYTES, max_fields=MOST_CELLS + 50) as form:
        design = opened(request)
        grid = await _grid(request)
        brought = await _read(form, grid, needs_base=False)
        if not brought.text:
            return _to_mend(request, brought, grid, place="class")
        if len(brought.names) > MOST_PEOPLE:
            raise Misuse(
                "these are too many people for one step",
                how_much=f"{len(brought.names)}, at most {MOST_PEOPLE}",
                what_to_do="Bring some of them first.",
            )
        like = _text(form, "like")
        job = MakesOfPeople(
            dict(design.history.documents),
            brought.text,
            _documents(brought.names, design.makes),
            design.make_document(like) if like else "",
        )
        return await _kept(request, form, AddMakes(await ask(job)), "makes")


async def _read(form: FormData, grid: GridShown, *, needs_base: bool) -> Brought:
    name, content = await _content(form)
    cells = () if content else _cells(form)
    if not content and not cells:
        raise Misuse(
            "there is no chart to read",
            what_to_do="Choose a CSV or XLSX file, or paste a table with its headings.",
        )
    unit = _text(form, "unit")
    job = ReadBrought(
        name or "pasted table",
        content,
        tuple(_text(form, "facts").splitlines()),
        cells,
        unit if unit in _UNITS else grid.unit,
        grid.base_size,
        _text(form, "base_row"),
        needs_base,
    )
    brought: Brought = await ask(job)
    return brought


def _documents(names: Sequence[str], taken: Sequence[str]) -> dict[str, str]:
    """The document of a new make for each name, none of them there already."""
    found: dict[str, str] = {}
    used = {*taken, "make"}
    for name in names:
        stem = folder_name(name) or "person"
        numbered = (stem, *(f"{stem}-{number}" for number in range(2, 1_000)))
        free = next(each for each in numbered if each not in used)
        used.add(free)
        found[name] = f"makes/{free}.yaml"
    return found


async def _kept(request: Request, form: FormData, command: Command, room: str) -> Response:
    design = opened(request)
    base = _text(form, "base") or design.history.head
    entry = await run_in_threadpool(design.history.commit, base, command)
    headers = after_commit(request, entry)
    here = address("d", design.name, room)
    if wants_json(request):
        return JSONResponse({"id": entry.id, "words": entry.words}, headers=headers)
    if "HX-Request" in request.headers:
        return Response(status_code=204, headers={**headers, "HX-Redirect": here})
    return RedirectResponse(here, 303, headers=headers)


def _to_mend(
    request: Request, brought: Brought, grid: GridShown, place: str = "brought"
) -> Response:
    """The table with what is wrong beside it; without scripts, only what is wrong."""
    count = sum(map(len, brought.cells))
    if wants_json(request) or "HX-Request" not in request.headers or count > MOST_CELLS:
        return refusal(request, _told(brought, grid))
    there = {"HX-Retarget": f"#{place}", "HX-Reswap": "innerHTML"}
    return fragment(
        request,
        "_measure_brought.html",
        status=422,
        headers=there,
        brought=brought,
        place=place,
        lacks=grid.base_size if place == "brought" else "",
    )


def _told(brought: Brought, grid: GridShown) -> DocumentError | Misuse:
    faults = [Fault("", None, "", each.words, each.remedy) for each in brought.complaints]
    if faults:
        return DocumentError(faults)
    return Misuse(
        f"the chart has no size {grid.base_size}, which is the base size of the design",
        how_much=f"its rows: {', '.join(brought.names[:12])}",
        what_to_do="Send as base_row which of its rows is the base of the design.",
    )


async def _content(form: FormData) -> tuple[str, bytes]:
    """The name and the content of a chart that was sent as a file, or as text; may be empty."""
    file = form.get("file")
    if isinstance(file, UploadFile) and file.filename:
        content = await file.read(MOST_BYTES + 1)
        if len(content) > MOST_BYTES:
            raise Misuse(
                "the file is too large for a size chart",
                where=file.filename[-60:],
                how_much=f"at most {MOST_BYTES // 1000} kB",
                what_to_do="Take out what is no chart: pictures, other sheets.",
            )
        return file.filename[-60:], content
    text = form.get("text", "")
    if not isinstance(text, str) or not text.strip():
        return "", b""
    return "", text.strip("\r\n").encode()  # a tab before the first heading is an empty corner


def _cells(form: FormData) -> tuple[tuple[str, ...], ...]:
    """The cells as they were mended on the page: as many in each row as there are headings."""
    try:
        width = int(_text(form, "width") or "0")
    except ValueError:
        width = 0
    texts = [
        " ".join(each.split())[:MOST_LETTERS]
        for each in form.getlist("cell")
        if isinstance(each, str)
    ]
    if not 0 < width <= len(texts) <= MOST_CELLS or len(texts) % width:
        return ()
    rows = [tuple(texts[at : at + width]) for at in range(0, len(texts), width)]
    return (rows[0], *(row for row in rows[1:] if any(row)))


def _text(form: FormData, name: str) -> str:
    value = form.get(name, "")
    return value.strip() if isinstance(value, str) else ""


async def _grid(request: Request) -> GridShown:
    liked = preferences(request).length_unit
    documents = dict(opened(request).history.documents)
    found: GridShown = await ask(ChartOf(documents, liked.value if liked else "", "", False))
    return found
