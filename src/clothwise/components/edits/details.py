"""Small changes: allowances, fabric roles, notches and marks."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum
from typing import ClassVar

from clothwise.components.edits.edit import Edit, Editing, cannot, names
from clothwise.components.edits.places import (
    at_edge,
    inside_of,
    piece_named,
    refuse_outside,
    seam_named,
)
from clothwise.components.parameter import Along, along, choice, length, text, words
from clothwise.errors import did_you_mean
from clothwise.geometry import straight
from clothwise.pattern.document.assignment import copy_key
from clothwise.pattern.graph import EdgeRef, Match, Run, Seam
from clothwise.pattern.mark import Mark, MarkKind, NotchKind
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Ply
from clothwise.pattern.plain_names import edge_of


@dataclass(frozen=True)
class Allowance(Edit):
    """Gives a seam another allowance, on all its edges."""

    kind: ClassVar[str] = "allowance"
    comes_last: ClassVar[bool] = True

    seam: str = text("", "The seam.")
    by_mm: float = length(10, 3, 60, "The new allowance.")

    def apply(self, pattern: Pattern, editing: Editing) -> Pattern:
        """Exchange the seam."""
        seam = replace(seam_named(pattern, self.seam), allowance_mm=self.by_mm)
        refuse_shared_edges(pattern, seam)
        changed = pattern
        for layer in seam.layers:
            changed = without_own_allowances(changed, layer.run)
        return replace(changed, seams={**pattern.seams, seam.name: seam})


def without_own_allowances(pattern: Pattern, run: Run) -> Pattern:
    """The pattern whose edges along a run are cut with what their seam or finish asks."""
    pieces = dict(pattern.pieces)
    for edge in run.edges:
        piece = pieces[edge.piece]
        own = {key: mm for key, mm in piece.allowances.items() if key != edge.edge}
        pieces[edge.piece] = replace(piece, allowances=own)
    return replace(pattern, pieces=pieces)


def refuse_shared_edges(pattern: Pattern, seam: Seam) -> None:
    """Refuse another allowance for a seam of one side whose edge has another on the other side.

    Raises:
        ComponentError: an edge of it is that of both copies of a pair, or of a piece on the fold.
    """
    for layer in seam.layers:
        for edge in layer.run.edges:
            for use in pattern.uses_of(edge.piece, edge.edge):
                if use.name != seam.name and use.allowance_mm != seam.allowance_mm:
                    raise cannot(
                        f"the {edge_of(pattern.piece(edge.piece), edge.edge)} is sewn on the "
                        "other side with another allowance, and both sides are cut alike",
                        how_much=f"{use.title}: {use.allowance_mm:.0f} mm, here "
                        f"{seam.allowance_mm:.0f} mm",
                        what_to_do="Part left from right first, by `asymmetric` or `unfold`.",
                    )


@dataclass(frozen=True)
class Fabric(Edit):
    """Gives pieces, or single copies of them, another fabric role."""

    kind: ClassVar[str] = "fabric"
    comes_last: ClassVar[bool] = True

    copies: str = text("", "Pieces, or copies as piece/copy, with commas between them.")
    role: str = text("", "The fabric role.")

    @property
    def concerns(self) -> tuple[str, ...]:
        """The pieces."""
        return tuple(name.partition("/")[0] for name in names(self.copies))

    def apply(self, pattern: Pattern, editing: Editing) -> Pattern:
        """Exchange the copies."""
        asked, role = names(self.copies), editing.role(self.role)
        known = [*pattern.pieces, *_copies(pattern)]
        for name in asked:
            if name not in known:
                raise cannot(
                    f"there is no piece or copy {name[:60]!r}",
                    what_to_do=did_you_mean(name, known, of_what="pieces and copies"),
                )
        pieces = {
            piece.name: replace(
                piece,
                copies=tuple(
                    replace(copy, role=role)
                    if copy_key(piece.name, copy.name) in asked
                    or (piece.name in asked and copy.ply is Ply.SHELL)
                    else copy
                    for copy in piece.copies
                ),
            )
            for piece in pattern.pieces.values()
        }
        return replace(pattern, pieces=pieces)


def _copies(pattern: Pattern) -> list[str]:
    return [
        copy_key(piece.name, copy.name)
        for piece in pattern.pieces.values()
        for copy in piece.copies
    ]


class Cuts(Enum):
    """How many notches are cut."""

    SINGLE = "single"
    DOUBLE = "double"


@dataclass(frozen=True)
class AddNotch(Edit):
    """Adds a notch to a seam, at a place of one of its edges and where that is met."""

    kind: ClassVar[str] = "notch"
    comes_last: ClassVar[bool] = True

    piece: str = text("", "The piece.")
    edge: str = text("", "The edge.")
    at: Along = along(0.5, "Where along the edge.")
    cuts: Cuts = choice(Cuts.SINGLE, "Whether it is cut once or twice.")

    def apply(self, pattern: Pattern, editing: Editing) -> Pattern:
        """Match the place on all layers."""
        piece = piece_named(pattern, self.piece)
        at_mm = at_edge(piece, self.edge, self.at)
        seams = [use for use in pattern.uses_of(piece.name, self.edge) if isinstance(use, Seam)]
        if not seams:
            raise cannot(
                f"the {edge_of(piece, self.edge)} is not sewn to anything",
                what_to_do="A notch tells where two edges meet; for a place alone add a mark.",
            )
        seam = seams[0]
        places_on = [
            pattern.along(layer.run, EdgeRef(piece.name, self.edge), at_mm) for layer in seam.layers
        ]
        own, along_run = next((n, at) for n, at in enumerate(places_on) if at is not None)
        if any(layer.span for layer in seam.layers):
            raise cannot(
                f"the {seam.title} joins layers that reach over parts of each other",
                what_to_do="Add a mark to each piece instead.",
            )
        places = tuple(
            _met_at(pattern, seam, own, along_run, number) for number in range(len(seam.layers))
        )
        match = Match(editing.name, places, NotchKind(self.cuts.value))
        return replace(
            pattern,
            seams={**pattern.seams, seam.name: replace(seam, matches=(*seam.matches, match))},
        )


def _met_at(pattern: Pattern, seam: Seam, own: int, at_mm: float, other: int) -> float:
    """Where a layer meets a place of another: in proportion between the matches beside it."""
    ends = tuple(pattern.run_length(seam.layers[number].run) for number in (own, other))
    known = [(0.0, 0.0), (ends[0], ends[1])]
    for match in seam.matches:
        here, there = match.at_mm[own], match.at_mm[other]
        if here is not None and there is not None:
            known.append((here, there))
    before = max((each for each in known if each[0] <= at_mm), default=known[0])
    after = min((each for each in known if each[0] > at_mm), default=known[1])
    if after[0] <= before[0]:
        return after[1]
    return before[1] + (at_mm - before[0]) / (after[0] - before[0]) * (after[1] - before[1])


class MarkWord(Enum):
    """What can be marked."""

    DOT = "dot"
    DRILL_HOLE = "drill-hole"
    PLACEMENT_LINE = "placement-line"
    FOLD_LINE = "fold-line"
    STITCHING_LINE = "stitching-line"


@dataclass(frozen=True)
class AddMark(Edit):
    """Adds a dot, a drill hole or a line to the face of a piece, seen from its edges.

    A point lies so far inside an edge; a line leads from one such point to another. The name is
    printed beside it.
    """

    kind: ClassVar[str] = "mark"
    comes_last: ClassVar[bool] = True

    piece: str = text("", "The piece.")
    what: MarkWord = choice(MarkWord.DOT, "What is marked.")
    label: str = words("What stands beside it; the edit's name if left out.")
    edge: str = text("", "The edge from which it is seen.")
    at: Along = along(0.5, "Where along that edge.")
    inside_mm: float = length(0, 0, 500, "How far inside the edge.")
    to_edge: str = words("For a line: the edge from which its other end is seen.")
    to_at: Along = along(0.5, "For a line: where along that edge.")
    to_inside_mm: float = length(0, 0, 500, "For a line: how far inside that edge.")

    def apply(self, pattern: Pattern, editing: Editing) -> Pattern:
        """Add the mark."""
        piece = piece_named(pattern, self.piece)
        kind = MarkKind(self.what.value.replace("-", " "))
        name = self.label or editing.name.replace("-", " ")
        start = inside_of(piece, self.edge, self.at, self.inside_mm)[0]
        if self.what in (MarkWord.DOT, MarkWord.DRILL_HOLE):
            mark = Mark(kind, name, at=start)
        else:
            if not self.to_edge:
                raise cannot("a line has no second end", what_to_do="Write to_edge and to_at.")
            end = inside_of(piece, self.to_edge, self.to_at, self.to_inside_mm)[0]
            if start.distance(end) < 1.0:
                raise cannot(
                    "the line has no length: it ends where it begins",
                    what_to_do="Give its ends different places.",
                )
            path = straight(start, end)
            refuse_outside(piece, path)
            mark = Mark(kind, name, path=path)
        marked = replace(piece, marks=(*piece.marks, mark))
        return replace(pattern, pieces={**pattern.pieces, piece.name: marked})
