"""A lower edge with a facing cut to its shape: a deep hem on any flare, and for heavy cloth."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import groupby, pairwise
from typing import ClassVar

from clothwise.components.component import Component, Drafting
from clothwise.components.hem_depth import shell_part
from clothwise.components.hem_strip import Strip, strip_along
from clothwise.components.parameter import length
from clothwise.geometry import Outline
from clothwise.pattern.graph import (
    EdgeCare,
    EdgeRef,
    Finish,
    FinishKind,
    Layer,
    Match,
    Pressing,
    Run,
    Seam,
    Sides,
)
from clothwise.pattern.mark import NotchKind
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.pattern import Contribution, Pattern
from clothwise.pattern.piece import Grainline, Piece, Ply

UNDER_FACING_MM = 15.0
"""How far the hem facing reaches under the facing of an opened front; own choice."""

SHORTEST_MM = 30.0
"""A hem facing reaches further under the other one rather than be a strip shorter than this."""

GRAIN_SHARE = 0.6
"""Length of the grainline, as a share of the depth."""


@dataclass(frozen=True)
class _Part:
    """The facing of one piece: what it faces, in the order of the run."""

    piece: Piece
    host: Piece
    first: str
    last: str
    backward: bool
    host_first: str | None
    host_last: str | None

    @property
    def lower(self) -> EdgeRef:
        return EdgeRef(self.piece.name, "hem", self.backward)


@dataclass(frozen=True)
class FacedHem(Component):
    """Lower edge faced with strips of its own shape; suits any flare, and cloth that is short."""

    kind: ClassVar[str] = "faced-hem"

    depth_mm: float = length(50, 25, 120, "Depth of the facing.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Face the run named `hem`."""
        name, pattern = drafting.name, drafting.pattern
        edge = pattern.named_run("hem", name)
        shell = shell_part(pattern, edge)
        hung = Run(edge.edges[: len(edge.edges) - len(shell.edges)]).reversed
        begins = self._begins(pattern, shell, hung)
        parts = self._parts(drafting, shell, begins)
        total = pattern.run_length(shell)
        layers = [
            Layer(shell),
            Layer(Run(tuple(p.lower for p in parts)), span=(begins, total) if begins else None),
        ]
        if hung.edges:
            layers.append(Layer(hung, span=(0.0, pattern.run_length(hung))))
        seam = Seam(
            name=f"{name}-edge",
            title="lower edge",
            layers=tuple(layers),
            allowance_mm=drafting.neck_allowance_mm,
            pressing=Pressing.TURNED,
            care=EdgeCare.NONE,
            matches=_matches(pattern, shell, begins, hung),
            component=name,
        )
        joins = tuple(_joins(drafting, pattern, parts))
        inner = Finish(
            f"{name}-inner",
            "inner edge of the hem facing",
            _inner(parts, {str(e) for s in joins for la in s.layers for e in la.run.edges}),
            FinishKind.OVERLOCKED,
            component=name,
        )
        return Contribution(
            pieces=tuple(part.piece for part in parts),
            seams=(*joins, seam),
            finishes=(inner,),
            operations=_operations(name, pattern, joins, shell, hung),
        )

    def _begins(self, pattern: Pattern, shell: Run, hung: Run) -> float:
        """How far from the front edge the hem facing begins: under the facing that hangs there."""
        if not hung.edges:
            return 0.0
        begins, ends = max(pattern.run_length(hung) - UNDER_FACING_MM, 0.0), 0.0
        for _, edges in groupby(shell.edges, key=lambda edge: edge.piece):
            ends += pattern.run_length(Run(tuple(edges)))
            if ends - SHORTEST_MM < begins < ends:
                return max(ends - SHORTEST_MM, 0.0)
        return begins

    def _parts(self, drafting: Drafting, shell: Run, begins: float) -> list[_Part]:
        parts = []
        groups = [(n, tuple(g)) for n, g in groupby(shell.edges, key=lambda e: e.piece)]
        from_mm = begins
        for host_name, edges in groups:
            host = drafting.pattern.piece(host_name)
            length_mm = drafting.pattern.run_length(Run(edges))
            if from_mm >= length_mm:  # the other facing covers all of this piece
                from_mm -= length_mm
                continue
            backward = edges[0].reverse
            where = f"{drafting.name}, {host.title}"
            strip = strip_along(host, edges, self.depth_mm, from_mm, where)
            from_mm = 0.0
            piece = self._piece(drafting, host, strip)
            first, last = ("end", "start") if backward else ("start", "end")
            host_first, host_last = (
                (strip.end, strip.start) if backward else (strip.start, strip.end)
            )
            parts.append(_Part(piece, host, first, last, backward, host_first, host_last))
        return parts

    def _piece(self, drafting: Drafting, host: Piece, strip: Strip) -> Piece:
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
            name=f"{drafting.name}-{host.name}",
            title=f"Hem facing, {host.title[:1].lower()}{host.title[1:]}",
            outline=Outline(strip.edges),
            grain=Grainline(middle - reach, middle + reach),
            copies=tuple(
                replace(copy, role=drafting.role) for copy in host.copies if copy.ply is Ply.SHELL
            ),
            component=drafting.name,
            drawn_side=host.drawn_side,
            fold_edge=fold,
        )


def _matches(pattern: Pattern, shell: Run, begins: float, hung: Run) -> tuple[Match, ...]:
    """The seams between the pieces meet those between their facings, and a facing over them."""
    reaches_mm = pattern.run_length(hung) if hung.edges else 0.0
    found, along = [], 0.0
    for before, after in pairwise(shell.edges):
        along += pattern.edge_length(before)
        if before.piece != after.piece:
            at: tuple[float | None, ...] = (along, along - begins if along > begins else None)
            if hung.edges:
                at = (*at, along if along <= reaches_mm else None)
            found.append(Match("seam", at, NotchKind.AT_SEAM))
    return tuple(found)


def _joins(drafting: Drafting, pattern: Pattern, parts: list[_Part]) -> list[Seam]:
    """The seams between the facings, and across the center where the pieces have one."""

    def seam(number: int, first: Run, last: Run, sides: Sides) -> Seam:
        return Seam(
            name=f"{drafting.name}-join-{number}",
            title="seam of the hem facings",
            layers=(Layer(first), Layer(last)),
            allowance_mm=drafting.seam_allowance_mm,
            care=EdgeCare.NONE,
            sides=sides,
            component=drafting.name,
        )

    seams = []
    for number, (before, after) in enumerate(pairwise(parts), 1):
        one = EdgeRef(before.piece.name, before.last, before.last == "start")
        two = EdgeRef(after.piece.name, after.first, after.first == "start")
        seams.append(seam(number, Run((one,)), Run((two,)), Sides.BOTH))
    for part, side, edge in (
        (parts[0], parts[0].first, parts[0].host_first),
        (parts[-1], parts[-1].last, parts[-1].host_last),
    ):
        uses = pattern.uses_of(part.host.name, edge) if edge else ()
        if any(isinstance(use, Seam) and use.sides is Sides.CENTER for use in uses):
            across = Run((EdgeRef(part.piece.name, side, side == "start"),))
            seams.append(seam(len(seams) + 1, across, across, Sides.CENTER))
    return seams


def _inner(parts: list[_Part], joined: set[str]) -> Run:
    """The upper edges, and the ends that are sewn to nothing."""
    sewn = {name.removeprefix("-") for name in joined}

    def is_free(part: _Part, side: str) -> bool:
        return side != part.piece.fold_edge and f"{part.piece.name}.{side}" not in sewn

    first, last = parts[0], parts[-1]
    edges = [EdgeRef(part.piece.name, "inner", not part.backward) for part in parts]
    if is_free(first, first.first):
        edges.insert(0, EdgeRef(first.piece.name, first.first, not first.backward))
    if is_free(last, last.last):
        edges.append(EdgeRef(last.piece.name, last.last, not last.backward))
    return Run(tuple(edges))


def _operations(
    name: str, pattern: Pattern, joins: tuple[Seam, ...], shell: Run, hung: Run
) -> tuple[Operation, ...]:
    """Join, neaten, sew on."""
    operations = []
    if joins:
        operations.append(
            Operation(
                name=f"{name}-join",
                title="Join the hem facings",
                text="Sew the hem facings together at their ends, right sides together, in the "
                "order of the pieces they face, with {allowance} allowance. Press the seams open "
                "and trim them.",
                does=tuple(seam.name for seam in joins),
                minutes=10,
                cautions=(Caution.IRON, Caution.BLADE),
                component=name,
            )
        )
    operations.append(
        Operation(
            name=f"{name}-neaten",
            title="Neaten the inner edge of the hem facing",
            text="Overlock the upper edge of the hem facing, and any end that is sewn to nothing.",
            does=(f"{name}-inner",),
            minutes=6,
            component=name,
        )
    )
    folded = (
        "Fold the facings of the front back over it, right sides together, lower edges level: they "
        "cover the ends of the hem facing. "
    )
    operations.append(
        Operation(
            name=f"{name}-attach",
            title="Face the lower edge",
            text="Lay the hem facing on the lower edge, right sides together, seams matched. "
            f"{folded if hung.edges else ''}Sew with {{allowance}} allowance. Grade the allowances"
            f"{' and cut the corners off' if hung.edges else ''}, turn the facing to the inside, "
            "understitch it where the machine reaches, and press, the seam rolled a little to the "
            "inside. Sew the upper edge on by hand with loose stitches.",
            does=(f"{name}-edge",),
            after=_front_seams(pattern, shell, hung),
            minutes=35,
            cautions=(Caution.IRON, Caution.NEEDLE, Caution.BLADE),
            component=name,
        )
    )
    return tuple(operations)


def _front_seams(pattern: Pattern, shell: Run, hung: Run) -> tuple[str, ...]:
    """The seams that hang a facing on the front edge: the lower edge waits for them."""
    if not hung.edges:
        return ()
    pair = {shell.edges[0].piece, hung.edges[0].piece}
    return tuple(
        seam.name
        for seam in pattern.seams.values()
        if pair <= {edge.piece for layer in seam.layers for edge in layer.run.edges}
    )
