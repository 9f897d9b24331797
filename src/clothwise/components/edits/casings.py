"""Casings for elastic or a drawstring: in a hem, in a strip that faces an edge, across a piece."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import Enum
from itertools import pairwise
from typing import ClassVar

from clothwise.components.edits.bands import band_across, caught_ends, strip_piece
from clothwise.components.edits.details import without_own_allowances
from clothwise.components.edits.drawn import Drawing, Drawn, DrawnLine, drawn_line
from clothwise.components.edits.edit import Edit, Editing, cannot
from clothwise.components.edits.eyelets import eyelets_of, with_eyelets
from clothwise.components.edits.finishing import (
    finishes_alike,
    refuse_held,
    stepping_alone,
)
from clothwise.components.edits.places import edge_named, piece_named
from clothwise.components.facings.edge_strips import EdgeStrips
from clothwise.components.hems.hem_depth import shell_part
from clothwise.components.parameter import Along, along, choice, length, ratio, text, words
from clothwise.geometry import Transform
from clothwise.pattern.first_letter import lowered
from clothwise.pattern.graph import (
    EdgeCare,
    EdgeRef,
    Finish,
    FinishKind,
    Layer,
    Match,
    Placement,
    Pressing,
    Run,
    Seam,
    Sides,
)
from clothwise.pattern.mark import Mark, MarkKind, NotchKind
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.pattern import Contribution, Pattern
from clothwise.pattern.piece import Piece, Ply, Side
from clothwise.pattern.plain_names import edge_of

ROOM_MM = 5.0
"""A casing is so much higher than what is drawn through is wide; as the elastic casing has it."""

TURN_MM = 8.0
"""What is turned in along the edges of a casing; our own choice."""

_TURNED = (FinishKind.SINGLE_HEM, FinishKind.DOUBLE_HEM)

GAP_MM = 40.0
"""Left open to thread it; our own choice."""


class Where(Enum):
    """Where a casing lies."""

    EDGE = "edge"
    ACROSS = "across"


class Made(Enum):
    """How a casing is made."""

    USUAL = "as is usual"
    GROWN_ON = "grown-on"
    STRIP = "strip"


@dataclass(frozen=True)
class Casing(Edit):
    """Adds a casing for elastic or a drawstring, along an edge or straight across a piece.

    Along a hemmed edge it is grown on, as a deeper hem, or a strip that faces the edge. Across a
    piece it is a strip on its face, its ends caught in the seams there; the line is square to the
    grain. Nothing is made wider: what is drawn in must be there. The casing is as high as the
    elastic needs.
    """

    kind: ClassVar[str] = "casing"
    comes_last: ClassVar[bool] = True

    piece: str = text("", "The piece.")
    edge: str = text("", "The edge; or, across the piece, the edge from which it starts.")
    where: Where = choice(Where.EDGE, "Along the edge, or across the piece.")
    at: Along = along(0.5, "Across the piece: where on the edge its middle starts.")
    made: Made = choice(Made.USUAL, "Grown on is usual along an edge, a strip across a piece.")
    draws: Drawing = choice(Drawing.ELASTIC, "What is drawn through it.")
    width_mm: float = length(20, 4, 60, "Width of the elastic, or of the cord laid flat.")
    heading_mm: float = length(
        0, 0, 60, "Grown on: a frill that stands out beyond the casing; none if 0."
    )
    length_mm: float = length(
        0, 0, 3000, "How long one line of it is when drawn in; by drawn_to if 0."
    )
    drawn_to: float = ratio(0.75, 0.2, 1, "To which share of its length the line is drawn in.")
    tail_mm: float = length(200, 50, 400, "How far a drawstring hangs out at each end.")
    role: str = words("Fabric role of a strip; that of the piece if left out.")

    def apply(self, pattern: Pattern, editing: Editing) -> Pattern:
        """Make the casing."""
        piece = piece_named(pattern, self.piece)
        edge_named(piece, self.edge)
        if self.role:
            editing.role(self.role)
        if self.where is Where.ACROSS:
            if self.made is Made.GROWN_ON:
                raise cannot(
                    "a casing across a piece cannot be grown on",
                    what_to_do="Take a strip, or make the casing along an edge.",
                )
            self._refuse_heading()
            return self._across(pattern, piece, editing)
        finish = self._free_edge(pattern, piece)
        if self.made is Made.STRIP:
            self._refuse_heading()
            return self._faced(pattern, finish, editing)
        return self._grown_on(pattern, finish, editing)

    @property
    def _height_mm(self) -> float:
        return self.width_mm + ROOM_MM

    @property
    def _drawn(self) -> Drawn:
        return Drawn(self.draws, self.width_mm, self.length_mm, self.drawn_to, self.tail_mm)

    def _refuse_heading(self) -> None:
        if self.heading_mm:
            raise cannot(
                "only a casing that is grown on has a heading",
                what_to_do="Leave heading out, or make it grown-on.",
            )

    def _free_edge(self, pattern: Pattern, piece: Piece) -> Finish:
        uses = pattern.uses_of(piece.name, self.edge)
        finish = next((use for use in uses if isinstance(use, Finish)), None)
        if finish is None:
            raise cannot(
                f"the {edge_of(piece, self.edge)} is no free edge",
                how_much=f"it is sewn in: {uses[0].title}" if uses else "it lies on the fold",
                what_to_do="Name an edge that is hemmed or neatened, or write `where: across`.",
            )
        if finish.kind not in _TURNED:
            raise cannot(
                f"the {finish.title} is {finish.kind.value}, not turned",
                what_to_do="Name a hem, or hem that edge first, by `finish`.",
            )
        refuse_held(pattern, finish)
        return finish

    def _grown_on(self, pattern: Pattern, finish: Finish, editing: Editing) -> Pattern:
        """A deeper hem, through which it is drawn."""
        alike = finishes_alike(pattern, finish)
        lines = [
            drawn_line(pattern, shell_part(pattern, each.run), each.sides)
            for each in alike.values()
        ]
        of = _of(finish)
        changed = stepping_alone(pattern, set(alike), finish.title, editing.name)
        step = next(each for each in changed.operations if finish.name in each.does)
        depth = self._height_mm + self.heading_mm
        casings = {
            name: replace(
                old,
                title=f"casing of the {of}",
                kind=FinishKind.DOUBLE_HEM,
                depth_mm=depth,
                turn_mm=TURN_MM,
            )
            for name, old in alike.items()
        }
        gap = "" if self._has_eyelets(lines) or not lines[0].is_ring else ", leaving {gap} open"
        made = replace(
            step,
            title=f"Make the casing of the {of}",
            text=f"{self._eyelet_words(lines)}Press {{turn}} of the edge to the wrong side, then "
            f"{{depth}} along the hem line, and pin. Stitch close to the inner fold{gap}.[ Stitch "
            "once more {heading} from the outer fold: what lies beyond stands out as a frill.]",
            station=Operation("", "", "").station,
            minutes=25,
            cautions=(Caution.IRON, Caution.NEEDLE),
            values=(
                ("turn", TURN_MM),
                ("depth", depth),
                ("heading", self.heading_mm),
                ("gap", GAP_MM),
            ),
        )
        for each in alike.values():
            changed = without_own_allowances(changed, each.run)
        through = replace(
            self._drawn.through(
                f"{finish.name}-{editing.name}", of, lines, tuple(alike), finish.component
            ),
            shows=tuple(dict.fromkeys(n for each in alike.values() for n in each.run.pieces)),
        )
        marked = changed
        if self._has_eyelets(lines):
            inside = self.heading_mm + self._height_mm / 2
            for each in alike.values():
                marked = with_eyelets(marked, shell_part(pattern, each.run), inside)
        operations = tuple(made if each is step else each for each in changed.operations)
        return replace(
            marked,
            finishes={**changed.finishes, **casings},
            operations=(*operations, through),
            notions=(
                *changed.notions,
                *self._drawn.notions(lines, of, editing.name, self._eyelets(lines)),
            ),
        )

    def _faced(self, pattern: Pattern, finish: Finish, editing: Editing) -> Pattern:
        """A strip of the edge's shape, sewn on, turned in and stitched down."""
        _refuse_faced(pattern, finish)
        changed = without_own_allowances(pattern, finish.run)
        changed = stepping_alone(changed, {finish.name}, finish.title, editing.name)
        step = next(each for each in changed.operations if finish.name in each.does)
        name, of, run = editing.name, _of(finish), finish.run
        strips = EdgeStrips(
            name=name,
            what="casing strip",
            depth_mm=self._height_mm,
            seam_allowance_mm=editing.seam_allowance_mm,
            role=self.role,
            component=finish.component,
        )
        parts = strips.parts(changed, run)
        joins = [
            replace(join, sides=finish.sides if join.sides is Sides.BOTH else join.sides)
            for join in strips.joins(changed, parts, closed=run.closed)
        ]
        lower = Run(tuple(part.lower for part in parts), run.closed)
        seam = _strip_seam(changed, finish, name, lower)
        inner = Finish(
            f"{name}-inner",
            f"inner edge of the casing of the {of}",
            replace(strips.inner(parts, joins), closed=run.closed),
            FinishKind.SINGLE_HEM,
            depth_mm=TURN_MM,
            sides=finish.sides,
            component=finish.component,
        )
        lines = [drawn_line(pattern, run, finish.sides)]
        without = replace(
            changed,
            finishes={key: each for key, each in changed.finishes.items() if key != finish.name},
            operations=tuple(
                _not_after(each, finish.name, seam.name)
                for each in changed.operations
                if each is not step
            ),
        )
        if self._has_eyelets(lines):
            without = with_eyelets(without, run, self._height_mm / 2)
        return without.adding(
            Contribution(
                pieces=tuple(part.piece for part in parts),
                seams=(*joins, seam),
                finishes=(inner,),
                operations=(
                    *self._strip_steps(name, of, step, joins, seam, inner, lines),
                    replace(
                        self._drawn.through(
                            f"{name}-through", of, lines, (seam.name, inner.name), finish.component
                        ),
                        shows=run.pieces,
                    ),
                ),
                notions=self._drawn.notions(lines, of, editing.name, self._eyelets(lines)),
            )
        )

    def _strip_steps(
        self,
        name: str,
        of: str,
        old: Operation,
        joins: list[Seam],
        seam: Seam,
        inner: Finish,
        lines: list[DrawnLine],
    ) -> Iterator[Operation]:
        if joins:
            yield Operation(
                name=f"{name}-join",
                title=f"Join the casing strips of the {of}",
                text="Sew the casing strips together at their ends, right sides together, in the "
                "order of the pieces they face, with {allowance} allowance. Press the seams open "
                "and trim them.",
                does=tuple(join.name for join in joins),
                minutes=8,
                cautions=(Caution.IRON, Caution.BLADE),
                component=seam.component,
            )
        yield Operation(
            name=f"{name}-inner-press",
            title=f"Turn in the inner edge of the casing of the {of}",
            text="Press {turn} of the upper edge of the strip to the wrong side, and the ends "
            "that are sewn to nothing.",
            does=(inner.name,),
            minutes=6,
            cautions=(Caution.IRON,),
            values=(("turn", TURN_MM),),
            component=seam.component,
        )
        gap = ", leaving {gap} open" if lines[0].is_ring and not self._has_eyelets(lines) else ""
        yield Operation(
            name=f"{name}-edge",
            title=f"Sew on the casing of the {of}",
            text=f"{self._eyelet_words(lines)}Lay the strip on the edge, right sides together, "
            "seams matched, and sew with {allowance} allowance. Grade the allowances, turn the "
            "strip to the inside and press, the seam rolled a little inward. Stitch its inner "
            f"edge down close to the fold{gap}.",
            does=(seam.name,),
            after=tuple(dict.fromkeys((*old.after, inner.name))),
            minutes=20,
            cautions=(Caution.IRON, Caution.NEEDLE, Caution.BLADE),
            values=(("gap", GAP_MM),),
            component=seam.component,
        )

    def _across(self, pattern: Pattern, host: Piece, editing: Editing) -> Pattern:
        """A strip on the face of the piece, its ends caught in the seams it meets."""
        band = band_across(host, self.edge, self.at, self._height_mm)
        name = editing.name
        strip = strip_piece(
            host, band, f"{name}-strip", f"Casing strip, {lowered(host.title)}", self.role
        )
        caught = list(caught_ends(pattern, host, strip, band))
        sides = _sides_of(host)
        placements = tuple(
            Placement(
                name=f"{name}-{edge}",
                title=f"{edge} edge of the casing on the {lowered(host.title)}",
                piece=strip.name,
                host=host.name,
                onto=Transform(),
                stitched=Run((EdgeRef(strip.name, edge),)),
                allowance_mm=TURN_MM,
                sides=sides,
                component=host.component,
            )
            for edge in ("lower", "upper")
        )
        lines = [_line_of(host, strip, self.draws)]
        of, eyelets = lowered(host.title), 0
        if self.draws is Drawing.DRAWSTRING:
            strip = replace(strip, marks=eyelets_of(strip, self._height_mm))
            eyelets = lines[0].number
        marks = tuple(
            Mark(MarkKind.PLACEMENT_LINE, "casing", path=path)
            for path in (band.lower, band.upper.reversed())
        )
        catches: dict[str, tuple[Layer, ...]] = {}
        for seam, layer in caught:
            catches[seam] = (*catches.get(seam, ()), layer)
        before = tuple(f"{e.piece}.{e.edge}" for _, la in caught for e in la.run.edges)
        return pattern.adding(
            Contribution(
                pieces=(strip,),
                placements=placements,
                marks={host.name: marks},
                catches=catches,
                operations=(
                    Operation(
                        name=f"{name}-strip",
                        title=f"Sew the casing onto the {of}",
                        text=f"{self._strip_eyelet_words()}Press {{allowance}} of both long edges "
                        "of the strip to the wrong side. Lay it on the right side of the piece, "
                        "on its placement lines, and stitch both long edges close to the fold; "
                        "the ends stay open.",
                        does=tuple(placement.name for placement in placements),
                        minutes=12,
                        cautions=(Caution.IRON, Caution.NEEDLE),
                        component=host.component,
                    ),
                    replace(
                        self._drawn.through(
                            f"{name}-through",
                            of,
                            lines,
                            tuple(placement.name for placement in placements),
                            host.component,
                            held=True,
                        ),
                        prepares=before,
                        shows=(host.name, strip.name),
                    ),
                ),
                notions=self._drawn.notions(lines, of, editing.name, eyelets, held=True),
            )
        )

    def _eyelets(self, lines: list[DrawnLine]) -> int:
        """How many eyelets there are along an edge: a pair in each ring."""
        return 2 * sum(line.number for line in lines) if self._has_eyelets(lines) else 0

    def _has_eyelets(self, lines: list[DrawnLine]) -> bool:
        """A drawstring in a ring comes out of eyelets; at an open end it comes out there."""
        return self.draws is Drawing.DRAWSTRING and lines[0].is_ring

    def _eyelet_words(self, lines: list[DrawnLine]) -> str:
        if not self._has_eyelets(lines):
            return ""
        return (
            "Back the places of the two eyelets with a scrap of interfacing on the wrong side, "
            "and work eyelets or short buttonholes there, through the outer layer only. "
        )

    def _strip_eyelet_words(self) -> str:
        if self.draws is not Drawing.DRAWSTRING:
            return ""
        return (
            "Back the places of the eyelets on the strip with a scrap of interfacing, and work "
            "eyelets or short buttonholes there. "
        )


def _of(finish: Finish) -> str:
    return finish.title.removeprefix("hem of the ").removeprefix("inner ")


def _refuse_faced(pattern: Pattern, finish: Finish) -> None:
    """Refuse an edge along which no strip can be sewn.

    Raises:
        ComponentError: its finish is in parts, or goes on over a facing.
    """
    alike = finishes_alike(pattern, finish)
    if len(alike) > 1:
        raise cannot(
            f"the {finish.title} is in parts",
            how_much=", ".join(alike),
            what_to_do="Make the casing grown-on, or leave the slit out.",
        )
    if shell_part(pattern, finish.run) != finish.run:
        raise cannot(
            f"the facing of the front hangs on the {finish.title}",
            what_to_do="Make the casing grown-on.",
        )


def _strip_seam(pattern: Pattern, finish: Finish, name: str, lower: Run) -> Seam:
    """What sews the strips, along their lower edges, to the edge that had the finish."""
    return Seam(
        name=f"{name}-edge",
        title=f"edge of the casing of the {_of(finish)}",
        layers=(Layer(finish.run), Layer(lower)),
        allowance_mm=TURN_MM,
        pressing=Pressing.TURNED,
        care=EdgeCare.NONE,
        sides=finish.sides,
        matches=tuple(_at_seams(pattern, finish.run)),
        component=finish.component,
    )


def _not_after(step: Operation, gone: str, now: str) -> Operation:
    after = tuple(now if name == gone else name for name in step.after)
    return replace(step, after=after)


def _at_seams(pattern: Pattern, run: Run) -> Iterator[Match]:
    """The seams between the pieces meet those between their strips."""
    at_mm = 0.0
    for before, after in pairwise(run.edges):
        at_mm += pattern.edge_length(before)
        if before.piece != after.piece:
            yield Match("seam", (at_mm, at_mm), NotchKind.AT_SEAM)


def _sides_of(host: Piece) -> Sides:
    sides = {copy.side for copy in host.copies if copy.ply is Ply.SHELL}
    if sides == {Side.LEFT}:
        return Sides.LEFT
    if sides == {Side.RIGHT}:
        return Sides.RIGHT
    return Sides.CENTER if sides == {Side.CENTER} and host.fold_edge is None else Sides.BOTH


def _line_of(host: Piece, strip: Piece, draws: Drawing) -> DrawnLine:
    """What is drawn through a strip: across the fold as one, else one on each copy.

    A drawstring is two cords, each from an end of the strip to its eyelet.
    """
    long, number = strip.edge("lower").length, sum(c.ply is Ply.SHELL for c in host.copies)
    if strip.fold_edge is not None:
        long, number = 2 * long, 1
    if draws is Drawing.DRAWSTRING:
        long, number = long / 2, 2 * number
    return DrawnLine(number, long, is_ring=False)
