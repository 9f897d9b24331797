"""Strips that face an edge, each cut to the shape of its piece, and joined at their ends."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import groupby, pairwise

from clothwise.components.hems.hem_strip import Strip, strip_along
from clothwise.geometry import Outline
from clothwise.pattern.first_letter import lowered, raised
from clothwise.pattern.graph import EdgeCare, EdgeRef, Layer, Run, Seam, Sides
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Grainline, Piece, Ply

GRAIN_SHARE = 0.6
"""Length of the grainline, as a share of the depth."""


@dataclass(frozen=True)
class StripPart:
    """The strip of one piece: what it faces, in the order of the run.

    `first` and `last` name its ends, `host_first` and `host_last` the edges of the host there.
    """

    piece: Piece
    host: Piece
    first: str
    last: str
    backward: bool
    host_first: str | None
    host_last: str | None

    @property
    def lower(self) -> EdgeRef:
        """The edge that is sewn to the host."""
        return EdgeRef(self.piece.name, "hem", self.backward)


@dataclass(frozen=True)
class EdgeStrips:
    """Strips along a run of edges, as deep all along.

    Attributes:
        name: begins the names of the pieces and seams.
        what: each of them is, for people: "hem facing".
        depth_mm: how deep.
        seam_allowance_mm: of the seams between them.
        role: fabric role; that of each host if empty.
        begins_mm: how far along the run the first one begins.
        component: that they belong to; `name` if empty.
    """

    name: str
    what: str
    depth_mm: float
    seam_allowance_mm: float
    role: str = ""
    begins_mm: float = 0.0
    component: str = ""

    def parts(self, pattern: Pattern, run: Run) -> list[StripPart]:
        """One strip for each piece that the run passes.

        Raises:
            ComponentError: a side of a piece is shorter than the strip is deep.
        """
        parts = []
        groups = [(n, tuple(g)) for n, g in groupby(run.edges, key=lambda e: e.piece)]
        from_mm = self.begins_mm
        for host_name, edges in groups:
            host = pattern.piece(host_name)
            length_mm = pattern.run_length(Run(edges))
            if from_mm >= length_mm:  # something else covers all of this piece
                from_mm -= length_mm
                continue
            backward = edges[0].reverse
            where = f"{self.name}, {host.title}"
            strip = strip_along(host, edges, self.depth_mm, from_mm, where)
            from_mm = 0.0
            first, last = ("end", "start") if backward else ("start", "end")
            host_first, host_last = (
                (strip.end, strip.start) if backward else (strip.start, strip.end)
            )
            piece = self._piece(host, strip)
            parts.append(StripPart(piece, host, first, last, backward, host_first, host_last))
        return parts

    def _piece(self, host: Piece, strip: Strip) -> Piece:
        lower = strip.edges["hem"]
        along = (host.grain.end - host.grain.start).unit
        inward = lower.tangent_at(lower.length / 2).left
        middle = lower.point_at(lower.length / 2) + inward * (self.depth_mm / 2)
        reach = along * (GRAIN_SHARE * self.depth_mm / 2)
        fold = next(
            (
                side
                for side, edge in (("start", strip.start), ("end", strip.end))
                if edge is not None and edge == host.fold_edge
            ),
            None,
        )
        return Piece(
            name=f"{self.name}-{host.name}",
            title=f"{raised(self.what)}, {lowered(host.title)}",
            outline=Outline(strip.edges),
            grain=Grainline(middle - reach, middle + reach),
            copies=tuple(
                replace(copy, role=self.role or copy.role)
                for copy in host.copies
                if copy.ply is Ply.SHELL
            ),
            component=self.component or self.name,
            drawn_side=host.drawn_side,
            fold_edge=fold,
        )

    def joins(
        self, pattern: Pattern, parts: Sequence[StripPart], *, closed: bool = False
    ) -> list[Seam]:
        """The seams between the strips, and across the center where the pieces have one.

        Strips along a `closed` run are joined to a ring.
        """

        def seam(number: int, first: Run, last: Run, sides: Sides) -> Seam:
            return Seam(
                name=f"{self.name}-join-{number}",
                title=f"seam of the {self.what}s",
                layers=(Layer(first), Layer(last)),
                allowance_mm=self.seam_allowance_mm,
                care=EdgeCare.NONE,
                sides=sides,
                component=self.component or self.name,
            )

        seams = []
        pairs = [*pairwise(parts), *([(parts[-1], parts[0])] if closed else [])]
        for number, (before, after) in enumerate(pairs, 1):
            one = EdgeRef(before.piece.name, before.last, before.last == "start")
            two = EdgeRef(after.piece.name, after.first, after.first == "start")
            seams.append(seam(number, Run((one,)), Run((two,)), Sides.BOTH))
        if closed:
            return seams
        for part, side, edge in (
            (parts[0], parts[0].first, parts[0].host_first),
            (parts[-1], parts[-1].last, parts[-1].host_last),
        ):
            uses = pattern.uses_of(part.host.name, edge) if edge else ()
            if any(isinstance(use, Seam) and use.sides is Sides.CENTER for use in uses):
                across = Run((EdgeRef(part.piece.name, side, side == "start"),))
                seams.append(seam(len(seams) + 1, across, across, Sides.CENTER))
        return seams

    def inner(self, parts: Sequence[StripPart], joins: Sequence[Seam]) -> Run:
        """The upper edges, and the ends that are sewn to nothing."""
        sewn = {
            (edge.piece, edge.edge)
            for join in joins
            for layer in join.layers
            for edge in layer.run.edges
        }

        def is_free(part: StripPart, side: str) -> bool:
            return side != part.piece.fold_edge and (part.piece.name, side) not in sewn

        first, last = parts[0], parts[-1]
        edges = [EdgeRef(part.piece.name, "inner", not part.backward) for part in parts]
        if is_free(first, first.first):
            edges.insert(0, EdgeRef(first.piece.name, first.first, not first.backward))
        if is_free(last, last.last):
            edges.append(EdgeRef(last.piece.name, last.last, not last.backward))
        return Run(tuple(edges))
