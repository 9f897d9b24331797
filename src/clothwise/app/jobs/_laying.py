"""In a worker: boards with places, changes tried out, and what pointing means."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import replace
from typing import Any

from shapely.geometry import Polygon

from clothwise.app.jobs._drafting import board, drafted, nearest_board, opened_design
from clothwise.app.jobs._pending import with_pending
from clothwise.app.jobs._ways import ways_out
from clothwise.app.jobs.board import Board, BoardPiece
from clothwise.app.jobs.draft_room import (
    DRAFTED,
    ChangedBoardOf,
    LaidBoard,
    LaidBoardOf,
    Pending,
    Places,
    PointedAt,
    PointOf,
    SizesOf,
    TapeOf,
)
from clothwise.app.work import Shown, Tell
from clothwise.components import draft
from clothwise.components.edits.replay import newly_lost
from clothwise.components.family import Family
from clothwise.components.pointing import (
    Pointed,
    dart_moved_by,
    dart_point_moved_by,
    end_slid_by,
    line_measured,
    pocket_moved_by,
    reshaped_by,
    split_by,
)
from clothwise.components.registry import component_class
from clothwise.errors import ClothwiseError, CommandError, DocumentError, Misuse
from clothwise.geometry import Point
from clothwise.output.board import size_outlines
from clothwise.output.board_apart import lying_pairs, moved_apart
from clothwise.output.board_order import on_the_body
from clothwise.output.board_places import GAP_MM, board_places
from clothwise.output.bounds import Bounds
from clothwise.pattern import Pattern
from clothwise.pattern.commands import (
    AddEdit,
    ChangeEdit,
    Command,
    SetParameters,
    command_from_data,
)
from clothwise.pattern.document import Design
from clothwise.pattern.plain_names import plain_name
from clothwise.units import LengthUnit

__all__ = ["changed_board", "laid_board", "pointed_at", "tape_words", "tell_sizes"]

_NOT_MEANT = " If it is not meant here"
"""Begins what is told of an edit that stands in the design already."""

LEAST_REACH_MM, MOST_REACH_MM = 0.5, 60.0
"""How near to a line a pointer may mean it: a page that is far out says more, within reason."""


def laid_board(job: LaidBoardOf) -> LaidBoard:
    """Draw the board and find the places; a page that has none yet gets the nearest size."""
    found = board(job.shown, job.documents, job.unit, job.before_version)
    if found.refused is not None and not job.before_version:
        other = nearest_board(job.shown, job.documents, job.unit, found)
        if other is not None:
            shown = replace(job.shown, size=other.instead)
            return _laid(other, replace(job, shown=shown), job.documents)
    return _laid(found, job, job.documents)


def changed_board(job: ChangedBoardOf, told: Tell) -> LaidBoard:
    """Draw the board after changes.

    Raises:
        CommandError: a change cannot be made.
        DocumentError: the design has faults after it.
    """
    after = _after(job.documents, [command_from_data(each) for each in job.commands])
    was_refused = False
    try:
        drafted(job.shown, after)
    except ClothwiseError:
        was_refused = not _drafts(job.shown, job.documents)
    else:
        told(0.5, DRAFTED, data=True)
    return replace(_laid_with_pending(job, after), was_refused=was_refused)


def _laid_with_pending(job: ChangedBoardOf, documents: Mapping[str, str]) -> LaidBoard:
    """The board with what waits for a yes; without it where that cannot be applied any more."""
    if not job.pending:
        return _laid_of(job, documents)
    command = command_from_data(job.pending)
    try:
        return _with_pending(_at_rest(job, command), documents, command)
    except (CommandError, DocumentError) as error:
        pending = Pending(command.words, (error.problem, error.what_to_do))
        return replace(_laid_of(job, documents), pending=pending)


def _at_rest(job: ChangedBoardOf, command: Command) -> ChangedBoardOf:
    """While a hand is at work, pieces stay where what waits has moved them before it began."""
    if job.moves_apart:
        return job
    rests = _laid_of(replace(job, moves_apart=True), command.apply(job.documents))
    return replace(job, kept={**job.kept, **rests.places})


def _with_pending(
    job: ChangedBoardOf | PointOf, documents: Mapping[str, str], command: Command
) -> LaidBoard:
    """The board after a change that waits for a yes, and what is told of that change."""
    after = command.apply(documents)
    lost = _missing(job.shown, documents, command) or _lost(job.shown, documents, after)
    design = opened_design(documents).design
    ways = ways_out(" ".join(lost), design, _pattern_of(job.shown, documents)) if lost[0] else ()
    pending = Pending(command.told(documents), lost, ways)
    return replace(_laid_of(job, after), pending=pending)


def _laid_of(job: ChangedBoardOf | PointOf, documents: Mapping[str, str]) -> LaidBoard:
    found = board(job.shown, documents, job.unit, job.before_version)
    return _laid(found, job, documents)


def _after(documents: Mapping[str, str], commands: list[Command]) -> dict[str, str]:
    after = dict(documents)
    for command in commands:
        after = command.apply(after)
    return after


def _drafts(shown: Shown, documents: Mapping[str, str]) -> bool:
    with suppress(ClothwiseError):
        drafted(shown, documents)
        return True
    return False


def _laid(
    found: Board, job: LaidBoardOf | ChangedBoardOf | PointOf, documents: Mapping[str, str]
) -> LaidBoard:
    """Lay the pieces: each at home, or moved aside from there where something lies in its way."""
    boxes = {name: Bounds(*piece.box) for name, piece in found.pieces.items()}
    shapes = {name: _shape(piece) for name, piece in found.pieces.items()}
    places: dict[str, Point] = {}
    homes: dict[str, Point] = {}
    if boxes:
        of = drafted(job.shown, documents)
        order = on_the_body(of.pattern, _families(of.design.design))
        homes = board_places(boxes, _upward({**job.kept, **job.homes}), found.part_of, order)
        if job.moves_apart:
            places = moved_apart(shapes, homes)
        else:
            places = board_places(boxes, _upward(job.kept), found.part_of, order)
    lying = {name for pair in lying_pairs(shapes, places) for name in pair}
    left = min((at.x + boxes[name].left for name, at in places.items()), default=0.0)
    right = max((at.x + boxes[name].right for name, at in places.items()), default=1000.0)
    top = max((at.y + boxes[name].top for name, at in places.items()), default=0.0)
    bottom = min((at.y + boxes[name].bottom for name, at in places.items()), default=-600.0)
    edge = GAP_MM / 3
    return LaidBoard(
        found,
        _downward(places),
        _downward(homes),
        (left - edge, -top - edge, right - left + 2 * edge, top - bottom + 2 * edge),
        lying=tuple(name for name in places if name in lying),
    )


def _upward(places: Places) -> dict[str, Point]:
    return {name: Point(x, -y) for name, (x, y) in places.items()}


def _downward(places: Mapping[str, Point]) -> dict[str, tuple[float, float]]:
    return {name: (round(at.x, 2), round(-at.y, 2)) for name, at in places.items()}


def _shape(piece: BoardPiece) -> Polygon:
    shape = Polygon(piece.outline)
    return shape if shape.is_valid else shape.buffer(0)


def _families(design: Design) -> dict[str, Family]:
    return {entry.name: component_class(entry.kind).family for entry in design.components}


# Pointing


def pointed_at(job: PointOf) -> PointedAt:
    """Find what a gesture means, and draw the board after it.

    Raises:
        ComponentError: it means nothing.
        Misuse: it is no gesture that is known.
    """
    pointed = _pointed(job)
    command = _command(job, pointed)
    return PointedAt(pointed.words, command.to_data(), _with_pending(job, job.documents, command))


def _pattern_of(shown: Shown, documents: Mapping[str, str]) -> Pattern | None:
    with suppress(ClothwiseError):
        return drafted(shown, documents).pattern
    return None


def _missing(
    shown: Shown, documents: Mapping[str, str], command: Command
) -> tuple[str, str] | None:
    """That a new edit is about a piece which what is shown has not, such as another view."""
    piece = command.parameters.get("piece", "") if isinstance(command, AddEdit) else ""
    pattern = _pattern_of(shown, documents) if piece else None
    if pattern is None or piece in pattern.pieces:
        return None
    return (
        f"what is shown has no {plain_name(piece)}",
        "Look at a view that has it; there it is shown again.",
    )


def _lost(shown: Shown, before: Mapping[str, str], after: Mapping[str, str]) -> tuple[str, str]:
    """Why an edit is not made, if it is new that it is not."""
    now, was = _pattern_of(shown, after), _pattern_of(shown, before)
    if now is None:
        return "", ""
    for finding in newly_lost(was, now):
        what = finding.message.partition("is not made: ")[2] or finding.message
        return what.rstrip("."), finding.remedy.partition(_NOT_MEANT)[0]
    return "", ""


def _pointed(job: PointOf) -> Pointed:
    gesture = job.gesture
    of = drafted(job.shown, job.documents)
    design, piece = of.design.design, _text(gesture, "piece")

    def again(changed: Design) -> Pattern:
        return draft(changed, of.body, of.choices)

    what = _text(gesture, "what")
    unit = LengthUnit(job.unit) if job.unit else design.unit
    if what == "split":
        start, end = _point(gesture, "from"), _point(gesture, "to")
        return split_by(of.pattern, piece, start, end, reach_mm=_reach(gesture), unit=unit)
    to = _point(gesture, "to")
    if what == "edge":
        share = _number(gesture, "share")
        return reshaped_by(design, again, piece, _text(gesture, "edge"), share, to, unit=unit)
    if what == "edge-end":
        edge, which = _text(gesture, "edge"), _text(gesture, "end")
        return end_slid_by(design, again, piece, edge, which, to, unit=unit)
    if what == "dart":
        return dart_moved_by(of.pattern, piece, _text(gesture, "dart"), to, unit=unit)
    if what == "dart-point":
        return dart_point_moved_by(design, of.pattern, piece, _text(gesture, "dart"), to, unit=unit)
    if what == "pocket":
        component = _text(gesture, "component")
        return pocket_moved_by(design, again, of.body, of.choices, component, piece, to, unit=unit)
    raise _no_gesture(f"{what[:40]!r}")


def _command(job: PointOf, pointed: Pointed) -> Command:
    design = opened_design(job.documents).design
    if any(entry.name == pointed.changes for entry in design.components):
        choices = drafted(job.shown, job.documents).choices
        return SetParameters(pointed.changes, dict(pointed.parameters), dict(choices))
    if pointed.changes:
        return ChangeEdit(pointed.changes, dict(pointed.parameters))
    return AddEdit(pointed.kind, dict(pointed.parameters))


def tape_words(job: TapeOf) -> str:
    """Say what a tape says."""
    of = drafted(job.shown, with_pending(job.documents, job.pending))
    unit = LengthUnit(job.unit) if job.unit else of.design.design.unit
    reach = min(max(job.reach_mm, LEAST_REACH_MM), MOST_REACH_MM)
    found = line_measured(
        of.pattern, job.piece, Point(*job.start), Point(*job.end), unit=unit, reach_mm=reach
    )
    return found.words


def _text(gesture: Mapping[str, Any], key: str) -> str:
    found = gesture.get(key)
    if not isinstance(found, str):
        raise _no_gesture(f"its {key} is missing")
    return found


def _number(gesture: Mapping[str, Any], key: str) -> float:
    try:
        found = float(gesture[key])
    except (KeyError, TypeError, ValueError):
        raise _no_gesture(f"its {key} is no number") from None
    if not abs(found) < 1e5:
        raise _no_gesture(f"its {key} is out of reach")
    return found


def _point(gesture: Mapping[str, Any], key: str) -> Point:
    found = gesture.get(key)
    if not isinstance(found, list | tuple) or len(found) != 2:
        raise _no_gesture(f"its {key} is no place")
    pair = dict(zip("xy", found, strict=True))
    return Point(_number(pair, "x"), _number(pair, "y"))


def _reach(gesture: Mapping[str, Any]) -> float:
    wanted = _number(gesture, "reach_mm") if "reach_mm" in gesture else 8.0
    return min(max(wanted, LEAST_REACH_MM), MOST_REACH_MM)


def _no_gesture(what: str) -> Misuse:
    return Misuse(
        "what was pointed at cannot be understood",
        how_much=what,
        what_to_do="Load the page anew and try again.",
    )


# Sizes


def tell_sizes(job: SizesOf, told: Tell, cancelled: Callable[[], bool]) -> int:
    """Tell the cutting lines of one size after the other; a size that cannot be drafted is left."""
    documents = with_pending(job.documents, job.pending)
    names = opened_design(documents).sizes
    for number, size in enumerate(names):
        if cancelled():
            break
        with suppress(ClothwiseError):
            pattern = drafted(replace(job.shown, size=size), documents).pattern
            outlines = size_outlines(pattern, size, number)
            told((number + 1) / len(names), size, (size, outlines))
    return len(names)
