"""In a worker: documents are opened once, patterns and boards are kept as long as there is room."""

from __future__ import annotations

import hashlib
from collections import OrderedDict
from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import dataclass, replace
from typing import Generic, TypeVar

from clothwise.app.jobs._refused import refused_in_words, ways_to_mend
from clothwise.app.jobs.board import Board, BoardEdge, BoardPiece
from clothwise.app.jobs.findings import shown_finding
from clothwise.app.work import Shown
from clothwise.components import DesignFile, MakeFile, open_design, open_make
from clothwise.components.design_file import DESIGN_FILE
from clothwise.components.pointing import is_placed_by_pointing
from clothwise.errors import ClothwiseError
from clothwise.output.board import PieceOnBoard, board_pieces
from clothwise.pattern import Body, Pattern
from clothwise.pattern.document import Design
from clothwise.pattern.document.value import Choices
from clothwise.units import LengthUnit

__all__ = [
    "Drafted",
    "Kept",
    "board",
    "drafted",
    "drafts",
    "nearest_board",
    "opened_design",
    "opened_make",
    "version_of",
]

Value = TypeVar("Value")

PATTERNS_KEPT = 40
"""About 0.3 MB each: a range of twenty sizes before and after a change."""

BOARDS_KEPT = 40
"""About 0.1 MB each."""


@dataclass(frozen=True)
class Drafted:
    """A pattern and what it was drafted from."""

    pattern: Pattern
    design: DesignFile
    body: Body
    choices: Mapping[str, str]
    make: MakeFile | None = None


class Kept(Generic[Value]):
    """The values that were asked for last."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._values: OrderedDict[object, Value] = OrderedDict()

    def get(self, key: object) -> Value | None:
        """What was kept under a key."""
        if key in self._values:
            self._values.move_to_end(key)
        return self._values.get(key)

    def put(self, key: object, value: Value) -> Value:
        """Keep a value and return it; the one asked for longest ago gives way."""
        self._values[key] = value
        self._values.move_to_end(key)
        while len(self._values) > self._most:
            self._values.popitem(last=False)
        return value


_designs: Kept[DesignFile] = Kept(8)
_makes: Kept[MakeFile] = Kept(8)
_patterns: Kept[Drafted] = Kept(PATTERNS_KEPT)
_boards: Kept[Board] = Kept(BOARDS_KEPT)


def opened_design(documents: Mapping[str, str]) -> DesignFile:
    """Open a design from its texts; its base size is held to nothing before it is drafted.

    So the rooms in which it can be mended open, and say what there is to mend.

    Raises:
        DocumentError: carries all faults.
    """
    key = version_of(_of_design(documents))
    found = _designs.get(key)
    return found or _designs.put(key, open_design(documents, DESIGN_FILE, for_base=False))


def opened_make(documents: Mapping[str, str], name: str) -> MakeFile:
    """Open a make from its texts.

    Raises:
        DocumentError: carries all faults, of the design too.
    """
    key = (version_of(documents), name)
    return _makes.get(key) or _makes.put(key, open_make(documents, name))


def drafted(shown: Shown, documents: Mapping[str, str]) -> Drafted:
    """Draft what a page looks at: a make if it names one, else a view in a size.

    Raises:
        ClothwiseError: as reading and drafting do.
    """
    if shown.make:
        key: tuple[object, ...] = (version_of(documents), shown.make)
        found = _patterns.get(key)
        if found is not None:
            return found
        make = opened_make(documents, shown.make)
        return _patterns.put(key, Drafted(make.draft(), make.of, make.body, make.choices, make))
    design = opened_design(documents)
    choices, body = design.design.chosen(shown.choices, view=shown.view), design.body(shown.size)
    key = (version_of(_of_design(documents)), "", body.name, *sorted(choices.items()))
    found = _patterns.get(key)
    if found is not None:
        return found
    return _patterns.put(key, Drafted(design.draft(choices, body=body), design, body, choices))


def drafts(documents: Mapping[str, str]) -> Callable[[Choices, Body], Pattern]:
    """What drafts a design with all its choices for a body; sizes of its chart as `drafted` does.

    Raises:
        DocumentError: the design has faults.
    """
    design = opened_design(documents)

    def draft(choices: Choices, body: Body) -> Pattern:
        if body.name in design.sizes and body == design.body(body.name):
            return drafted(Shown("", "", size=body.name, choices=choices), documents).pattern
        return design.draft(choices, body=body)

    return draft


def board(shown: Shown, documents: Mapping[str, str], unit: str, before_version: str) -> Board:
    """Draw the board, and tell it against an earlier one."""
    seen = replace(shown, design="", version="")
    version = version_of({**documents, "\0shown": f"{seen}", "\0unit": unit})
    found = _boards.get(version)
    if found is None:
        try:
            found = _boards.put(version, _drawn(drafted(shown, documents), unit, version))
        except ClothwiseError as error:
            design = _readable(documents)
            refused = refused_in_words(error, design, unit)
            if refused is None:
                raise
            ways = ways_to_mend(error, design) if design else ()
            return Board(version=before_version, pieces={}, refused=refused, ways=ways)
    return found.since(_boards.get(before_version))


def nearest_board(
    shown: Shown, documents: Mapping[str, str], unit: str, refused: Board
) -> Board | None:
    """The board of the nearest size that can be drafted, told as such; None if there is none."""
    design = _readable(documents)
    if design is None:
        return None
    sizes = opened_design(documents).sizes
    at = sizes.index(shown.size) if shown.size in sizes else 0
    for number in sorted(range(len(sizes)), key=lambda each: (abs(each - at), each)):
        found = board(replace(shown, size=sizes[number]), documents, unit, "")
        if found.refused is None:
            return replace(found, refused=refused.refused, ways=refused.ways, instead=sizes[number])
    return None


def _readable(documents: Mapping[str, str]) -> Design | None:
    with suppress(ClothwiseError):
        return opened_design(documents).design
    return None


def _drawn(of: Drafted, unit: str, version: str) -> Board:
    design = of.design.design
    pieces = board_pieces(
        of.pattern,
        unit=LengthUnit(unit) if unit else design.unit,
        fabric_titles={name: role.title for name, role in design.roles.items()},
        movable={entry.name for entry in design.components if is_placed_by_pointing(entry)},
    )
    return Board(
        version=version,
        pieces={name: _light(piece) for name, piece in pieces.items()},
        size=of.body.name,
        choices=of.choices,
        part_of={name: piece.part_of for name, piece in of.pattern.pieces.items() if piece.part_of},
        findings=tuple(shown_finding(each) for each in of.pattern.findings),
    )


def _light(piece: PieceOnBoard) -> BoardPiece:
    """The same in types that a server can read without loading the library."""
    box = piece.box
    return BoardPiece(
        svg=piece.svg,
        box=(box.left, box.bottom, box.right, box.top),
        outline=piece.outline,
        title=piece.title,
        component=piece.component,
        cut=piece.cut,
        edges=tuple(
            BoardEdge(
                edge.name,
                edge.title,
                edge.kind.value,
                edge.length,
                edge.meets,
                edge.uses,
                edge.partners,
            )
            for edge in piece.edges
        ),
        darts=piece.darts,
    )


def _of_design(documents: Mapping[str, str]) -> dict[str, str]:
    """The documents that a design is drafted from: a change of a make drafts nothing anew."""
    return {
        name: text
        for name, text in documents.items()
        if not name.startswith("makes/") and name not in ("make.yaml", "stash.yaml")
    }


def version_of(documents: Mapping[str, str]) -> str:
    """A name for these very texts."""
    digest = hashlib.sha256()
    for name in sorted(documents):
        digest.update(f"{name}\0{len(documents[name])}\0{documents[name]}".encode())
    return digest.hexdigest()[:16]
