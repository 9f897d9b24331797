"""What scripts may ask: every operation with what it takes and what it answers, in one place.

Scripts send the token of the opened address as `Authorization: Bearer TOKEN` and ask for
`application/json`. The description that follows from this module (OpenAPI 3.1) is served at
`/openapi.json` and kept in docs/reference/api.json; tests compare both, and ask each operation.
Addresses that answer pages and parts of pages for the browser are not listed.

    python -m clothwise.app.contract      writes docs/reference/api.json anew
"""

from __future__ import annotations

import json
import re
import sys
import types
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, NotRequired, TypedDict, Union, get_args, get_origin, get_type_hints

from clothwise import __version__

__all__ = ["OPERATIONS", "Operation", "openapi"]


# What is answered


class OnShelf(TypedDict):
    """A design in the workspace; `design` is its name in addresses."""

    design: str
    title: str
    makes: list[str]


class Shelf(TypedDict):
    """All designs, the one changed last first."""

    designs: list[OnShelf]
    archived: list[OnShelf]


class Named(TypedDict):
    """The design that was made, changed or moved."""

    design: str


class NamedMake(TypedDict):
    """The make that was made."""

    make: str


class Step(TypedDict):
    """One state of a design's documents, and what led to it."""

    id: str
    at: str
    words: str
    kind: str


class Steps(TypedDict):
    """The history of a design: what led to the head, oldest first, and what was undone."""

    head: str
    entries: list[Step]
    undone: list[Step]


class Moved(TypedDict):
    """Where the history stands now, and what was done."""

    head: str
    words: str


class Row(TypedDict):
    """One measurement: its value in every size, as text with the unit of the row."""

    unit: str
    values: list[str]
    estimated: list[bool]


class ChartFinding(TypedDict):
    """What is odd about a chart."""

    severity: str
    size: str
    message: str
    remedy: str


class Drawn(TypedDict):
    """A piece as a `g` of SVG in its own coordinates; `box` is left, top, width, height in mm."""

    svg: str
    box: str


class Lost(TypedDict):
    """An edit that is not made, and what to do."""

    message: str
    remedy: str


class NoPattern(TypedDict):
    """Why there is no pattern."""

    what: str
    where: str
    how_much: str
    what_to_do: str


class Board(TypedDict):
    """The pieces of a pattern; `places` are where their origins lie, mm, y downward."""

    version: str
    pieces: dict[str, Drawn]
    order: list[str]
    gone: list[str]
    places: dict[str, list[float]]
    extent: str
    size: str
    choices: dict[str, str]
    lost: list[Lost]
    refused: NoPattern | None


class Chart(TypedDict):
    """The size chart of a design."""

    head: str
    document: str
    title: str
    unit: str
    base_size: str
    sizes: list[str]
    measurements: dict[str, Row]
    findings: list[ChartFinding]


class Found(TypedDict):
    """A finding; `at` in mm in the coordinates of its piece, y up."""

    number: int
    sizes: list[str]
    id: str
    code: str
    severity: str
    message: str
    remedy: str
    piece: str
    edge: str
    seam: str
    size: str
    measured: str
    allowed: str
    at: list[float] | None


class FoundAll(TypedDict):
    """All findings."""

    findings: list[Found]


class RangeChecked(TypedDict):
    """How far the check of every view in every size is; ask for the findings to have them."""

    running: bool
    stopped: bool
    done: int
    total: int
    message: str
    error: dict[str, str | list[str]] | None


class StopOfWalk(TypedDict):
    """A place where both sides of a seam lie on each other."""

    kind: str
    title: str
    words: str
    is_off: bool


class Walk(TypedDict):
    """A seam walked from its start to its end."""

    seam: str
    title: str
    sides: list[str]
    summary: str
    is_off: bool
    stops: list[StopOfWalk]


class Cut(TypedDict):
    """Where a copy lies on its cloth."""

    copy: str
    along: str
    across: str


class Laid(TypedDict):
    """One fabric as it is laid out; `searched`: the length is that of a search, else of rows."""

    fabric: str
    length_mm: float
    buy: str
    cost: float | None
    currency: str
    searched: bool
    cuts: list[Cut]


class NotLaid(TypedDict):
    """A fabric that cannot be laid out, and why."""

    fabric: str
    what: str


class Layouts(TypedDict):
    """All fabrics of a make."""

    fabrics: list[Laid]
    refused: list[NotLaid]
    costs: list[str]


class Garment(TypedDict):
    """What a make is cut from: its fabrics by their fields, and the fabric of each copy."""

    title: str
    fabrics: list[dict[str, str]]
    copies: dict[str, str]


class Done(TypedDict):
    """The entry of the history that a change made, and its words."""

    id: str
    words: str


class Searching(TypedDict):
    """How far a search for shorter layouts is; `lengths_mm` are the shortest found, by fabric."""

    running: bool
    share: float
    message: str
    lengths_mm: dict[str, float]
    error: str


class SewStep(TypedDict):
    """A step of the work; `step` names it for good, `done` says when it was checked off."""

    step: str
    number: int
    title: str
    text: str
    station: str
    minutes: float
    pieces: list[str]
    cautions: list[str]
    done: str


class Sitting(TypedDict):
    """Steps that are sewn in one go."""

    number: int
    stations: str
    steps: list[SewStep]


class Work(TypedDict):
    """The order of work of a make."""

    title: str
    fit: str
    sittings: list[Sitting]


class SewMoment(TypedDict):
    """A step of a sew-along: what to come close to, what to warn of."""

    number: int
    title: str
    show: list[str]
    say_aloud: list[str]


class Chapter(TypedDict):
    """What is filmed or taught in one go."""

    number: int
    title: str
    minutes: float
    time: str
    at_hand: list[str]
    cautions: list[str]
    steps: list[SewMoment]


class Outline(TypedDict):
    """A sew-along in chapters."""

    title: str
    fit: str
    minutes: float
    time: str
    throughout: list[str]
    chapters: list[Chapter]


class Print(TypedDict):
    """What would be printed: names of the pages in order, and the numbers of those of a piece."""

    title: str
    subtitle: str
    paper: str
    pages: list[str]
    page_mm: list[float]
    across: int
    down: int
    pages_of: dict[str, list[int]]
    sizes: list[str]


class PacketFile(TypedDict):
    """What a file of a packet will hold."""

    name: str
    what: str
    holds: list[str]


class Contents(TypedDict):
    """What will be in a packet, and what speaks against building it."""

    files: list[PacketFile]
    errors: list[str]
    warnings: list[str]


class BuiltFile(TypedDict):
    """A file of a packet."""

    name: str
    what: str
    bytes: int


class Packet(TypedDict):
    """A packet that was built, from the state `head` of the documents."""

    number: int
    at: str
    head: str
    files: list[BuiltFile]


class Building(TypedDict):
    """How far a packet is, and those that were built."""

    running: bool
    share: float
    message: str
    error: dict[str, str] | None
    packets: list[Packet]


class OngoingWork(TypedDict):
    """A long work; `kind` is search, stash, table, packet or check."""

    work: str
    kind: str
    design: str
    make: str
    words: str
    share: float
    message: str


class Ongoing(TypedDict):
    """What runs or waits for its turn, in all designs."""

    ongoing: list[OngoingWork]


class Refusal(TypedDict):
    """Four parts, all faults of a document, and what became of the work."""

    what: str
    where: str
    how_much: str
    what_to_do: str
    faults: list[str]
    work: str


class Refused(TypedDict):
    """What every refusal looks like."""

    error: Refusal


class Alive(TypedDict):
    """Who answers."""

    app: NotRequired[str]


# What can be asked


@dataclass(frozen=True)
class Operation:
    """One thing that a script can ask.

    Attributes:
        method: GET or POST.
        path: with what it is about in braces.
        does: one sentence.
        answers: a class of this module; or a media type, for files; None for an empty answer.
        fields: of the form it takes: name to what it is; `*` at the end of a name: needed.
        query: what may be added to the address, likewise.
        status: of the answer.
    """

    method: str
    path: str
    does: str
    answers: type | str | None
    fields: Mapping[str, str] = field(default_factory=dict)
    query: Mapping[str, str] = field(default_factory=dict)
    status: int = 200


_D, _M = "/d/{design}", "/d/{design}/m/{make}"
_BASE = {"base*": "id of the history entry that the change was made from; see the history"}
_OF = {
    "of": "`view:NAME` or `make:NAME`; what is checked",
    "size": "of the chart",
}
_ORDER = {"order": "teaching or batched", "sitting": "minutes of one sitting"}
_PRINT = {
    "paper": "such as a4, letter, a4-or-letter, a0; else that of the make",
    "sizes": "of the chart, several times for several; else what the make is for",
    "chosen": "yes: only the layers that are named are printed",
    "layers": "stitching lines, marks, words; several times for several",
}

OPERATIONS: tuple[Operation, ...] = (
    Operation("GET", "/health", "Tell that the app answers; asks for no token.", Alive),
    Operation("GET", "/", "List the designs.", Shelf),
    Operation(
        *("POST", "/designs", "Begin a design.", Named),
        fields={"kind*": "what it begins with, such as kiln-dress", "title": "its name"},
        status=201,
    ),
    Operation(
        *("POST", "/designs/import", "Bring in a design: a zip, or its files.", Named),
        fields={"files*": "one or several, as multipart/form-data"},
        status=201,
    ),
    Operation(
        *("POST", f"{_D}/duplicate", "Copy a design.", Named),
        fields={"title": "of the copy"},
        status=201,
    ),
    Operation(
        *("POST", f"{_D}/rename", "Give a design another title.", Named),
        fields={"title*": "the new one"},
    ),
    Operation("POST", f"{_D}/archive", "Put a design away.", Named),
    Operation("POST", "/archive/{design}/restore", "Bring a design back.", Named),
    Operation("GET", f"{_D}/download", "All documents of a design.", "application/zip"),
    Operation(
        *("GET", f"{_D}/flat.svg", "The garment, front and back.", "image/svg+xml"),
        query={"view": "of the design", "size": "of the chart", "make": "instead of both"},
    ),
    Operation("GET", f"{_D}/history", "What was done to a design.", Steps),
    Operation("POST", f"{_D}/undo", "Take back the last change.", Moved, fields=_BASE),
    Operation("POST", f"{_D}/redo", "Do again what was undone last.", Moved, fields=_BASE),
    Operation("POST", f"{_D}/back-to/{{entry}}", "Go back to an older state.", Moved),
    Operation(
        *("POST", f"{_D}/commands", "Make a change; the header X-Clothwise-Head names its entry."),
        None,
        fields={"command*": "the change as JSON, with its kind; see the entries of a log", **_BASE},
        status=204,
    ),
    Operation(
        *("GET", f"{_D}/board", "The pieces, drawn; with `before` only what differs.", Board),
        query={
            "view": "of the design",
            "size": "of the chart",
            "o.OPTION": "a choice that differs from the view",
            "before": "version of a board that is known already",
        },
    ),
    Operation("GET", f"{_D}/measure", "The size chart.", Chart),
    Operation(
        *("POST", f"{_D}/measure/cells", "Write cells of the size chart.", Chart),
        fields={"cells*": "JSON: a list of [size, measurement, text]", **_BASE},
    ),
    Operation("GET", f"{_D}/measure/chart.csv", "The size chart as a file.", "text/csv"),
    Operation(
        *("POST", f"{_D}/measure/add-size", "Add a size to the chart.", Chart),
        fields={
            "size*": "its name",
            "MEASUREMENT": "such as bust_girth; at least height, bust, waist and hip",
            "after": "the size it stands behind; else it is the last",
            **_BASE,
        },
    ),
    Operation(
        *("POST", f"{_D}/measure/remove-size", "Take a size out of the chart.", Chart),
        fields={"size*": "its name", **_BASE},
    ),
    Operation("GET", "/ongoing", "What long work goes on, in all designs.", Ongoing),
    Operation(
        *("POST", "/ongoing/stop", "Stop a long work, whatever it is.", Ongoing),
        fields={"work*": "as `/ongoing` names it; one that has ended is left alone"},
    ),
    Operation(
        *("GET", f"{_D}/check/findings", "Check everything.", FoundAll),
        query={**_OF, "scope": "`range` for every view in every size; else what is shown"},
    ),
    Operation(
        *("POST", f"{_D}/check/range", "Begin to check every view in every size.", RangeChecked)
    ),
    Operation("POST", f"{_D}/check/range/stop", "Stop that; what was found is kept.", RangeChecked),
    Operation(
        *("GET", f"{_D}/check/walk", "Walk a seam.", Walk),
        query={**_OF, "seam": "its name; else the first one", "layer": "walked along the first"},
    ),
    Operation(
        *("POST", f"{_D}/makes", "Begin a make.", NamedMake),
        fields={
            "title*": "its name",
            "view": "of the design",
            "size": "of the chart",
            "like": "a make whose fabrics it takes over",
            **_BASE,
        },
        status=201,
    ),
    Operation("GET", f"{_M}/cut/garment", "What a make is cut from.", Garment),
    Operation("GET", f"{_M}/cut/layouts", "How its fabrics are laid out.", Layouts),
    Operation(
        *("POST", f"{_M}/cut/paint", "Cut copies from a fabric.", Done),
        fields={"copies*": "as piece/copy, several with | between", "fabric*": "its name", **_BASE},
    ),
    Operation(
        *("POST", f"{_M}/cut/pin", "Pin a copy; refused where it cannot lie.", Done),
        fields={
            "copy*": "as piece/copy",
            "along": "from the cut end, with unit",
            "across": "from the fold or the lower edge",
            "dx_mm": "further along",
            "dy_mm": "further across",
            "turn": "keep, or around for half a turn",
            **_BASE,
        },
    ),
    Operation("GET", f"{_M}/cut/search", "How far the search is.", Searching),
    Operation(
        *("POST", f"{_M}/cut/search", "Look for shorter layouts.", Searching),
        fields={"effort*": "quick, good or long", "only": "name of the only fabric"},
    ),
    Operation("POST", f"{_M}/cut/cancel", "Stop the search; what it found is kept.", Searching),
    Operation("GET", f"{_M}/sew/work", "The order of work.", Work, query=_ORDER),
    Operation(
        *("POST", f"{_M}/sew/done", "Check a step off, or take that back.", Work),
        fields={"step*": "its name", "done": "yes or no"},
    ),
    Operation(
        *("GET", f"{_M}/sew/outline", "The chapters of a sew-along.", Outline),
        query={"chapter": "minutes of one chapter", "order": "teaching or batched"},
    ),
    Operation("GET", f"{_M}/print/pages", "The pages of a print.", Print, query=_PRINT),
    Operation(
        *("GET", f"{_M}/print/page/{{number}}.svg", "One page of a print.", "image/svg+xml"),
        query=_PRINT,
    ),
    Operation(
        *("GET", f"{_M}/print.pdf", "The pattern to print.", "application/pdf"), query=_PRINT
    ),
    Operation("GET", f"{_M}/pack/contents", "What a packet will hold.", Contents),
    Operation("GET", f"{_M}/pack/state", "How far a packet is, and those there are.", Building),
    Operation(
        *("POST", f"{_M}/pack/build", "Begin to build a packet.", Building),
        fields={"effort": "of the search for layouts: quick, good or long"},
    ),
    Operation("POST", f"{_M}/pack/cancel", "Stop building.", Building),
    Operation("GET", f"{_M}/pack/{{number}}.zip", "A whole packet.", "application/zip"),
)


# The description


def openapi() -> dict[str, Any]:
    """Return the description of the interface, as OpenAPI 3.1 has it."""
    paths: dict[str, dict[str, Any]] = {}
    for each in OPERATIONS:
        paths.setdefault(each.path, {})[each.method.lower()] = _operation(each)
    schemas: dict[str, Any] = {}
    for each in OPERATIONS:
        if isinstance(each.answers, type):
            _collect(each.answers, schemas)
    _collect(Refused, schemas)
    return {
        "openapi": "3.1.0",
        "info": {
            "title": "Clothwise",
            "version": __version__,
            "description": (
                "The app on your own computer, for scripts. Lengths in names that end in _mm are "
                "millimeters; texts carry their unit."
            ),
        },
        "security": [{"token": []}],
        "paths": paths,
        "components": {
            "securitySchemes": {
                "token": {
                    "type": "http",
                    "scheme": "bearer",
                    "description": "the token of the address that `clothwise open` tells",
                }
            },
            "schemas": dict(sorted(schemas.items())),
        },
    }


def _operation(of: Operation) -> dict[str, Any]:
    parameters = [
        {"name": name, "in": "path", "required": True, "schema": {"type": "string"}}
        for name in re.findall(r"\{(\w+)\}", of.path)
    ]
    parameters += [
        {"name": name, "in": "query", "description": words, "schema": {"type": "string"}}
        for name, words in of.query.items()
    ]
    answer: dict[str, Any] = {"description": _first_line(of.answers) or "done"}
    if isinstance(of.answers, str):
        answer["content"] = {of.answers: {}}
    elif of.answers is not None:
        answer["content"] = {"application/json": {"schema": _schema(of.answers)}}
    told: dict[str, Any] = {
        "summary": of.does,
        "parameters": parameters,
        "responses": {
            str(of.status): answer,
            "4XX": {
                "description": "refused; nothing was changed",
                "content": {"application/json": {"schema": _schema(Refused)}},
            },
        },
    }
    if of.path == "/health":
        told["security"] = []
    if of.fields:
        told["requestBody"] = {"content": {_form_kind(of): {"schema": _form(of.fields)}}}
    return told


def _form_kind(of: Operation) -> str:
    uploads = "files*" in of.fields
    return "multipart/form-data" if uploads else "application/x-www-form-urlencoded"


def _form(fields: Mapping[str, str]) -> dict[str, Any]:
    return {
        "type": "object",
        "properties": {
            name.rstrip("*"): {"type": "string", "description": words}
            for name, words in fields.items()
        },
        "required": [name.rstrip("*") for name in fields if name.endswith("*")],
    }


def _first_line(answers: type | str | None) -> str:
    return (answers.__doc__ or "").split("\n")[0] if isinstance(answers, type) else ""


def _collect(kind: Any, schemas: dict[str, Any]) -> None:
    """Add the schema of a class, and of all it holds."""
    for inner in get_args(kind):
        _collect(inner, schemas)
    if (
        isinstance(kind, type)
        and hasattr(kind, "__required_keys__")
        and kind.__name__ not in schemas
    ):
        hints = get_type_hints(kind, include_extras=False)
        schemas[kind.__name__] = {
            "type": "object",
            "description": kind.__doc__,
            "properties": {name: _schema(hint) for name, hint in hints.items()},
            "required": sorted(kind.__required_keys__),
            "additionalProperties": False,
        }
        for hint in hints.values():
            _collect(hint, schemas)


_PLAIN: Mapping[Any, str] = {str: "string", int: "integer", float: "number", bool: "boolean"}


def _schema(kind: Any) -> dict[str, Any]:
    if kind in _PLAIN:
        return {"type": _PLAIN[kind]}
    if kind is type(None):
        return {"type": "null"}
    origin, inner = get_origin(kind), get_args(kind)
    if origin is list:
        return {"type": "array", "items": _schema(inner[0])}
    if origin is dict:
        return {"type": "object", "additionalProperties": _schema(inner[1])}
    if origin in (Union, types.UnionType):
        return {"anyOf": [_schema(each) for each in inner]}
    return {"$ref": f"#/components/schemas/{kind.__name__}"}


def _write(path: Path) -> None:
    from clothwise.pattern.saving import write_atomically

    write_atomically(path, json.dumps(openapi(), indent=2, ensure_ascii=False) + "\n")


if __name__ == "__main__":
    _write(Path(sys.argv[1] if len(sys.argv) > 1 else "docs/reference/api.json"))
