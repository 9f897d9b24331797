"""A pattern: pieces, the seam graph over them, and what the components say about sewing them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import TypeAlias, TypeVar

from clothwise.errors import ComponentError
from clothwise.geometry import Path, Point, Vector
from clothwise.pattern.finding import Finding
from clothwise.pattern.graph import EdgeRef, Finish, Layer, Placement, Run, Seam
from clothwise.pattern.intended_corner import IntendedCorner
from clothwise.pattern.mark import Mark
from clothwise.pattern.operation import Notion, Operation
from clothwise.pattern.piece import Piece

Use: TypeAlias = Seam | Finish | Placement
"""What becomes of an edge."""

FOLD = "fold"
"""The use of an edge that lies on the fold of the cloth."""

REACH_TOLERANCE_MM = 0.5
"""A layer that ends this near to a place still reaches it; as for drafted runs that agree (own)."""


@dataclass(frozen=True)
class Contribution:
    """What one component adds to a pattern.

    `runs` names runs that later components attach to ("armhole", "neck", "waist", "hem"); a name
    already taken is replaced. `marks` are drawn on pieces of other components. `catches` adds
    layers to seams of other components. `intended_corners` are lines that do not run on. `gathers`
    says by how much a named run is drawn in when it is sewn, mm on each side of the wearer;
    `pleated` names the runs among them whose pleats do so, so that nothing is left to gather.
    `reshaped` are pieces of earlier components, redrawn: edges that already have a use keep their
    names; corners that were meant on lines that are gone are forgotten.
    `resewn` and `reworded` are seams and operations of earlier components, by their names, that
    are now sewn or told otherwise.
    """

    pieces: tuple[Piece, ...] = ()
    seams: tuple[Seam, ...] = ()
    finishes: tuple[Finish, ...] = ()
    placements: tuple[Placement, ...] = ()
    runs: Mapping[str, Run] = field(default_factory=dict)
    marks: Mapping[str, tuple[Mark, ...]] = field(default_factory=dict)
    catches: Mapping[str, tuple[Layer, ...]] = field(default_factory=dict)
    operations: tuple[Operation, ...] = ()
    notions: tuple[Notion, ...] = ()
    findings: tuple[Finding, ...] = ()
    intended_corners: tuple[IntendedCorner, ...] = ()
    gathers: Mapping[str, float] = field(default_factory=dict)
    resewn: tuple[Seam, ...] = ()
    reworded: tuple[Operation, ...] = ()
    pleated: frozenset[str] = frozenset()
    reshaped: tuple[Piece, ...] = ()


@dataclass(frozen=True)
class Spot:
    """A place on a run: the edge it falls on, the point, and the direction of travel there."""

    edge: EdgeRef
    point: Point
    along: Vector

    @property
    def inward(self) -> Vector:
        """The direction square to the edge into its piece: outlines run anticlockwise."""
        return -self.along.left if self.edge.reverse else self.along.left


@dataclass(frozen=True)
class Pattern:
    """Pieces and their seam graph for one body or size.

    `stretch` says how far the cloth of each fabric role gives across, as a share of its relaxed
    width; a role that it does not name is for woven cloth.
    """

    pieces: Mapping[str, Piece] = field(default_factory=dict)
    seams: Mapping[str, Seam] = field(default_factory=dict)
    finishes: Mapping[str, Finish] = field(default_factory=dict)
    placements: Mapping[str, Placement] = field(default_factory=dict)
    runs: Mapping[str, Run] = field(default_factory=dict)
    operations: tuple[Operation, ...] = ()
    notions: tuple[Notion, ...] = ()
    findings: tuple[Finding, ...] = ()
    size: str = ""
    intended_corners: tuple[IntendedCorner, ...] = ()
    stretch: Mapping[str, float] = field(default_factory=dict)
    gathers: Mapping[str, float] = field(default_factory=dict)
    pleated: frozenset[str] = frozenset()

    def piece(self, name: str) -> Piece:
        """A piece by name.

        Raises:
            ComponentError: there is none.
        """
        try:
            return self.pieces[name]
        except KeyError:
            raise ComponentError(
                what=f"There is no piece named {name}",
                where="pieces so far: " + (", ".join(self.pieces) or "none"),
                what_to_do="List the component that makes it earlier in the design.",
            ) from None

    def parts_with(self, name: str) -> tuple[str, ...]:
        """All parts of the split piece that this one is a part of; itself alone if it is none."""
        whole = self.piece(name).part_of
        if not whole:
            return (name,)
        return tuple(each.name for each in self.pieces.values() if each.part_of == whole)

    def path(self, edge: EdgeRef) -> Path:
        """The path of an edge as a run travels it."""
        path = self.piece(edge.piece).edge(edge.edge)
        return path.reversed() if edge.reverse else path

    def edge_length(self, edge: EdgeRef) -> float:
        """Length of an edge, mm."""
        return self.piece(edge.piece).edge(edge.edge).length

    def run_length(self, run: Run) -> float:
        """Length of a run on the stitching line, mm (G06)."""
        return sum(self.edge_length(edge) for edge in run.edges)

    def half_lengths(self, run: Run) -> tuple[float, float]:
        """Lengths of the front and of the back half of a run from front to back, mm.

        Fronts are drawn for the wearer's left and backs for the right, so that such a run (an
        armhole, a waist) travels fronts with their outline and backs against it, in any number
        of panels.
        """
        front = sum(self.edge_length(edge) for edge in run.edges if not edge.reverse)
        return front, self.run_length(run) - front

    def laid_piece(self, placement: Placement) -> Piece:
        """The placed piece with the outline it has on its host, in its own coordinates."""
        piece = self.piece(placement.piece)
        if placement.shape is None:
            return piece
        marks = tuple(mark for mark in piece.marks if mark.path is None)  # folded, lines move
        return replace(piece, outline=placement.shape, darts=(), fold_edge=None, marks=marks)

    def laid_run(self, placement: Placement) -> Run:
        """The edges of the placed piece, as it is laid, that lie on the placement line."""
        if not placement.along:
            return placement.stitched
        return Run(tuple(EdgeRef(placement.piece, edge) for edge in placement.along))

    def spot(self, run: Run, at_mm: float) -> Spot:
        """The place at a length along a run; a junction belongs to the edge before it."""
        before = 0.0
        for edge in run.edges:
            length = self.edge_length(edge)
            if at_mm <= before + length + 1e-6 or edge is run.edges[-1]:
                along = min(max(at_mm - before, 0.0), length)
                path = self.path(edge)
                return Spot(edge, path.point_at(along), path.tangent_at(along))
            before += length
        raise ComponentError(what="a run has no edges")

    def along(self, run: Run, edge: EdgeRef, at_mm: float) -> float | None:
        """Where on a run a place of an edge lies, mm from the run's start: `spot` undone.

        `at_mm` is from the start of the edge as its outline travels it, whatever the direction of
        `edge`. None if the run does not pass the edge.
        """
        before = 0.0
        for each in run.edges:
            length = self.edge_length(each)
            if (each.piece, each.edge) == (edge.piece, edge.edge):
                return before + (length - at_mm if each.reverse else at_mm)
            before += length
        return None

    def use(self, name: str) -> Use:
        """The seam, finish or placement of this name.

        Raises:
            KeyError: there is none.
        """
        for table in (self.seams, self.finishes, self.placements):
            if name in table:
                return table[name]
        raise KeyError(name)

    def all_uses(self) -> Iterator[Use]:
        """Seams, then finishes, then placements."""
        yield from self.seams.values()
        yield from self.finishes.values()
        yield from self.placements.values()

    @cached_property
    def _uses_by_edge(self) -> dict[tuple[str, str], tuple[Use, ...]]:
        table: dict[tuple[str, str], tuple[Use, ...]] = {}
        for use in self.all_uses():
            for run in runs_of(use):
                for edge in run.edges:
                    key = (edge.piece, edge.edge)
                    table[key] = (*table.get(key, ()), use)
        return table

    def uses_of(self, piece: str, edge: str) -> tuple[Use, ...]:
        """Everything an edge takes part in; an edge on the fold takes part in nothing."""
        return self._uses_by_edge.get((piece, edge), ())

    def allowance(self, piece: str, edge: str) -> float:
        """Allowance of an edge in mm: its own, else what its seam or finish asks, else none."""
        own = self.piece(piece).allowances.get(edge)
        if own is not None:
            return own
        uses = self.uses_of(piece, edge)
        return uses[0].allowance_mm if uses else 0.0

    def named_run(self, name: str, needed_by: str) -> Run:
        """A run that an earlier component left to attach to.

        Raises:
            ComponentError: no earlier component has such a run.
        """
        try:
            return self.runs[name]
        except KeyError:
            words = name.replace("-", " ")
            named = f"{'an' if words[0] in 'aeiou' else 'a'} {words}"
            raise ComponentError(
                what=f"The component {needed_by} needs something with {named} to attach to",
                where=needed_by,
                how_much="runs so far: " + (", ".join(self.runs) or "none"),
                what_to_do=f"List a component that makes {named} before {needed_by}.",
            ) from None

    def adding(self, part: Contribution) -> Pattern:
        """This pattern with a component's contribution.

        Raises:
            ComponentError: a piece, seam, finish, placement or operation of that name exists; or
                a piece is reshaped that does not exist, or without an edge that has a use.
        """
        marked = {**self.pieces, **self._reshaped(part.reshaped)}
        _add_new(marked, part.pieces, "piece")
        for name, marks in part.marks.items():
            host = marked[self.piece(name).name]
            marked[name] = replace(host, marks=(*host.marks, *marks))
        seams = dict(self.seams)
        _add_new(seams, part.seams, "seam")
        for seam in part.resewn:
            if seam.name not in self.seams:
                raise ComponentError(what=f"There is no seam named {seam.name} to sew otherwise")
            seams[seam.name] = seam
        for name, layers in part.catches.items():
            if name not in seams:
                raise ComponentError(what=f"There is no seam named {name} to catch a layer in")
            seams[name] = _catching(seams[name], layers)
        finishes, placements = dict(self.finishes), dict(self.placements)
        _add_new(finishes, part.finishes, "finish")
        _add_new(placements, part.placements, "placement")
        return replace(
            self,
            pieces=marked,
            seams=seams,
            finishes=finishes,
            placements=placements,
            runs={**self.runs, **part.runs},
            operations=(*self._reworded(part.reworded), *part.operations),
            notions=(*self.notions, *part.notions),
            findings=(*self.findings, *part.findings),
            intended_corners=(*self._corners_left(part.reshaped), *part.intended_corners),
            gathers={**self.gathers, **part.gathers},
            pleated=self.pleated | part.pleated,
        )

    def _reshaped(self, pieces: tuple[Piece, ...]) -> dict[str, Piece]:
        """The redrawn pieces by name, after a look at the edges that something is sewn to."""
        for piece in pieces:
            for edge in self.piece(piece.name).edge_names:
                uses = self.uses_of(piece.name, edge)
                if uses and edge not in piece.edge_names:
                    raise ComponentError(
                        what=f"The edge {edge} of {piece.name} is redrawn, but it is already used",
                        where=f"in {uses[0].title}, of the component {uses[0].component}",
                        what_to_do="List the component that redraws the piece earlier.",
                    )
        return {piece.name: piece for piece in pieces}

    def _reworded(self, operations: tuple[Operation, ...]) -> tuple[Operation, ...]:
        """The operations so far, some of them exchanged for those of the same name."""
        now = {operation.name: operation for operation in operations}
        missing = now.keys() - {operation.name for operation in self.operations}
        if missing:
            raise ComponentError(what=f"There is no operation named {min(missing)} to reword")
        return tuple(now.get(operation.name, operation) for operation in self.operations)

    def _corners_left(self, reshaped: tuple[Piece, ...]) -> Iterator[IntendedCorner]:
        """The corners that are still meant: not those of lines that were redrawn."""
        redrawn = {piece.name: piece for piece in reshaped}
        for corner in self.intended_corners:
            name, edge = corner.line.piece, corner.line.edge
            now = redrawn.get(name)
            if now is None or now.outline.edges.get(edge) == self.piece(name).edge(edge):
                yield corner


def runs_of(use: Use) -> tuple[Run, ...]:
    """The runs that take part in a seam, finish or placement."""
    if isinstance(use, Seam):
        return tuple(layer.run for layer in use.layers)
    if isinstance(use, Finish):
        return (use.run,)
    return (use.stitched,)


def pieces_of(use: Use) -> frozenset[str]:
    """Names of the pieces that take part in a seam, finish or placement, the host included."""
    names = {edge.piece for run in runs_of(use) for edge in run.edges}
    if isinstance(use, Placement):
        names |= {use.piece, use.host}
    return frozenset(names)


def _catching(seam: Seam, layers: tuple[Layer, ...]) -> Seam:
    """The seam with further layers; places it already matches are carried to them by length."""
    matches = tuple(
        replace(match, at_mm=match.at_mm + tuple(_on_layer(match.at_mm[0], x) for x in layers))
        for match in seam.matches
    )
    return replace(seam, layers=(*seam.layers, *layers), matches=matches)


def _on_layer(at_mm: float | None, layer: Layer) -> float | None:
    """Where a place of the first layer lies on a layer that is caught: gathers are even."""
    if at_mm is None or (layer.ease_mm and not layer.is_gathered):
        return None
    start, end = layer.span or (0.0, float("inf"))
    if not start - REACH_TOLERANCE_MM <= at_mm <= end + REACH_TOLERANCE_MM:
        return None
    along = min(max(at_mm, start), end) - start
    return along * (1 + layer.ease_mm / (end - start)) if layer.ease_mm else along


_Named = TypeVar("_Named", Piece, Seam, Finish, Placement)


def _add_new(table: dict[str, _Named], new: Iterable[_Named], kind: str) -> None:
    for item in new:
        if item.name in table:
            raise ComponentError(
                what=f"Two components make a {kind} named {item.name}",
                where=f"components {table[item.name].component} and {item.component}",
                what_to_do="Give one of the components another name in the design.",
            )
        table[item.name] = item
