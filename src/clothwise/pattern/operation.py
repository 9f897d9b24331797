"""What components say about sewing: operations, cautions and notions."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


class Station(Enum):
    """Where work is done."""

    CUTTING_TABLE = "cutting table"
    FUSING = "fusing"
    MACHINE = "machine"
    IRON = "iron"
    HAND = "hand"


class Caution(Enum):
    """Work that can hurt; the wording defers to the machine's manual and local rules."""

    IRON = "iron"
    FUSING_HEAT = "fusing heat"
    BLADE = "blade"
    NEEDLE = "needle"
    CORD = "cord"
    TOOL = "setting tool"


class Highlight(Enum):
    """What a step's drawing brings out beside the edges that are sewn."""

    EDGES = "edges"
    MARKS = "marks"
    WHOLE_PIECE = "whole piece"
    GATHERING = "gathering threads"


@dataclass(frozen=True)
class Operation:
    """One piece of work, in a component's words.

    `does` names the seams, finishes and placements it carries out; each is carried out by exactly
    one operation. `prepares` names pieces, or single edges as `piece.edge`, that it must precede
    any other work on; edges are brought out in its drawing, unless that is to show the whole piece.
    `after` names operations, seams, finishes or placements that must be finished first, beyond what
    the seam graph itself demands. `shows` names pieces drawn beside those that `does` concerns,
    or single edges of them, which are brought out as well, but wait for nothing.

    `text` is a template; `{NAME}` stands for a value of `values`, and for each seam, finish or
    placement in `does` the planner supplies `{allowance}`, `{ease}`, `{notches}`, `{length}` of
    the first one. Values are lengths in mm and shown in the reader's unit. A passage in square
    brackets is left out if a value in it is nothing: "[Ease in {ease}. ]".

    `stitched_mm` is stitching over the whole garment beside what `does` names (topstitching), for
    the thread it takes. `wait` is what must pass before its work, longer than a sitting: `hang it
    for a day or two`; `minutes` do not count it.
    """

    name: str
    title: str
    text: str
    does: tuple[str, ...] = ()
    prepares: tuple[str, ...] = ()
    after: tuple[str, ...] = ()
    shows: tuple[str, ...] = ()
    station: Station = Station.MACHINE
    minutes: float = 5.0
    cautions: tuple[Caution, ...] = ()
    highlight: Highlight = Highlight.EDGES
    stitched_mm: float = 0.0
    values: tuple[tuple[str, float], ...] = ()
    component: str = ""
    wait: str = ""


class NotionUnit(Enum):
    """How a notion is counted."""

    PIECES = "pieces"
    LENGTH_MM = "length"


@dataclass(frozen=True)
class Notion:
    """Something to buy beside cloth. `amount` is a count or a length in mm, by `unit`."""

    name: str
    amount: float
    unit: NotionUnit
    detail: str = ""
    component: str = ""
