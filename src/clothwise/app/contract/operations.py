"""What scripts may ask: every operation with what it takes and what it answers, in one place."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from clothwise.app.contract.answers import (
    Alive,
    Board,
    Building,
    Chart,
    Contents,
    Done,
    FoundAll,
    FromStash,
    Garment,
    Layouts,
    Moved,
    Named,
    NamedMake,
    Ongoing,
    Outline,
    Print,
    RangeChecked,
    Searching,
    Shelf,
    SmallChanges,
    Steps,
    ToBuy,
    Walk,
    Work,
)
from clothwise.pattern.commands import SetCells, command_kinds
from clothwise.pattern.commands.schemas import command_schema

__all__ = ["OPERATIONS", "Operation"]


@dataclass(frozen=True)
class Operation:
    """One thing that a script can ask.

    Attributes:
        method: GET or POST.
        path: with what it is about in braces.
        does: one sentence.
        answers: a class of `answers`; or a media type, for files; None for an empty answer.
        fields: of the form it takes: name to what it is; `*` at the end of a name: needed.
        query: what may be added to the address, likewise.
        holds: JSON Schemas of fields that hold JSON, by name.
        status: of the answer.
    """

    method: str
    path: str
    does: str
    answers: type | str | None
    fields: Mapping[str, str] = field(default_factory=dict)
    query: Mapping[str, str] = field(default_factory=dict)
    holds: Mapping[str, Any] = field(default_factory=dict)
    status: int = 200


_D, _M = "/d/{design}", "/d/{design}/m/{make}"
_BASE = {"base*": "id of the history entry that the change was made from; see the history"}
_OF = {
    "of": "`view:NAME` or `make:NAME`; what is checked",
    "size": "of the chart",
}
_TABLE = {
    "text": "the table with its headings, as a spreadsheet copies it or as CSV",
    "file": "instead of the text: CSV or XLSX, as multipart/form-data",
    "unit": "of its figures: cm, in or mm; else that of the room",
}
_ORDER = {"order": "teaching or batched", "sitting": "minutes of one sitting"}
_PRINT = {
    "paper": "such as a4, letter, a4-or-letter, a0; else that of the make",
    "sizes": "of the chart, several times for several; else what the make is for",
    "chosen": "yes: only the layers that are named are printed",
    "layers": "stitching lines, marks, words; several times for several",
}

_ANY_COMMAND = {
    "oneOf": [{"$ref": f"#/components/schemas/{kind}"} for kind in command_kinds()],
    "discriminator": {"propertyName": "kind"},
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
        fields={"command*": "the change as JSON, with its kind", **_BASE},
        holds={"command": _ANY_COMMAND},
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
        holds={"cells": command_schema(SetCells)["properties"]["cells"]},
    ),
    Operation(
        *(
            "POST",
            f"{_D}/measure/bring",
            "Take over a size chart in the place of that of now.",
            Done,
        ),
        fields={
            **_TABLE,
            "base_row": "which of its rows is the base of the design, if it lacks the base size",
            **_BASE,
        },
    ),
    Operation(
        *("POST", f"{_D}/measure/class", "Begin a make for each person of a table.", Done),
        fields={
            **_TABLE,
            "like": "a make whose view and cloths each takes over; else plain cloth",
            **_BASE,
        },
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
        *("POST", f"{_D}/measure/row-kind", "Say whether a row is a size or a person.", Chart),
        fields={"size*": "the name of the row", "row_kind*": "size or person", **_BASE},
    ),
    Operation(
        *("POST", f"{_D}/measure/move-size", "Let a row of the chart move one place.", Chart),
        fields={"size*": "the name of the row", "way*": "earlier or later", **_BASE},
    ),
    Operation(
        *("POST", f"{_D}/measure/remove-size", "Take a size out of the chart.", Chart),
        fields={"size*": "its name", **_BASE},
    ),
    Operation(
        *("GET", f"{_M}/for-whom/body.yaml", "Whom a make is for, as a file."),
        "application/yaml",
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
        *("POST", f"{_M}/cut/take-out", "Take out what is said of a copy that is gone.", Done),
        fields={"key*": "as piece/copy", **_BASE},
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
    Operation("GET", f"{_M}/cut/stash", "What comes out of the remnants at hand.", FromStash),
    Operation(
        *("POST", f"{_M}/cut/stash", "Look what comes out of the remnants.", FromStash),
        fields={"chosen_too": "anything: also copies whose cloth somebody chose"},
    ),
    Operation(
        *("POST", f"{_M}/cut/adopt", "Write into the make what comes out of the remnants.", Done),
        fields=_BASE,
    ),
    Operation("GET", f"{_M}/cut/table", "What to buy in every size, if it is known.", ToBuy),
    Operation("POST", f"{_M}/cut/table", "Work out what to buy in every size.", ToBuy),
    Operation("GET", f"{_M}/cut/tuning", "What small changes save, if tried.", SmallChanges),
    Operation(
        *("POST", f"{_M}/cut/tuning", "Try small changes that save cloth.", SmallChanges),
        fields={"how": "little: each by itself; most: look for what saves most"},
    ),
    Operation(
        *("POST", f"{_M}/cut/tuning/take", "Write into the make what saves cloth.", Done),
        fields={"row": "of one change; left out for what a search found", **_BASE},
    ),
    Operation(
        *("POST", f"{_M}/cut/flaw", "Write down a flaw that no piece may cover.", Done),
        fields={
            "cloth*": "its name",
            "of*": "fabric or remnant",
            "what": "flaws, or holes of a remnant",
            "along": "where it begins from the cut end, with unit",
            "across": "where it begins from the lower edge between the selvages",
            "length": "along the cloth",
            "width": "across it",
            "away": "instead: the number of one to take off the list, from 0",
            **_BASE,
        },
    ),
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
