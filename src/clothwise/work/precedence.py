"""What must be sewn before what, and why: derived from the seam graph.

    RUNS_ACROSS     a run of several edges exists only after the seams that join them; a run that
                    ends at a seam across the center continues on the other side
    CLOSED_INSIDE   what a later seam takes in between its outer layers is finished before it
    ON_PLACED_PIECE everything on a piece is done before it is laid onto its host
    LIES_UNDER      a dart that a placed piece will cover is sewn before it
    PREPARES        fusing, staystitching and the like come before other work on their piece or edge
    ASKED           a component says so
    EASIER_FLAT     soft: given up where it would contradict the others

Edges, seams and finishes are named in the seam graph; the result speaks of operations.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from enum import Enum

from shapely.geometry import LineString

from clothwise.errors import did_you_mean
from clothwise.pattern.first_letter import lowered
from clothwise.pattern.graph import (
    Finish,
    FinishKind,
    Placement,
    Pressing,
    Run,
    Seam,
    SeamKind,
    Sides,
)
from clothwise.pattern.junctions import Corner, SeamCorners, end_corner, start_corner
from clothwise.pattern.operation import Operation, Station
from clothwise.pattern.pattern import Pattern, Use, pieces_of, runs_of
from clothwise.work.errors import WorkError
from clothwise.work.hanging import hanging_together


class PrecedenceKind(Enum):
    """Why one operation comes before another."""

    RUNS_ACROSS = "runs across"
    CLOSED_INSIDE = "closed inside"
    ON_PLACED_PIECE = "on a placed piece"
    LIES_UNDER = "lies under"
    PREPARES = "prepares"
    ASKED = "asked"
    EASIER_FLAT = "easier flat"


@dataclass(frozen=True)
class Precedence:
    """One operation that comes before another, with a reason to show.

    `reason` is a clause: "the waist seam runs across the side seam".
    """

    first: str
    then: str
    kind: PrecedenceKind
    reason: str

    @property
    def is_soft(self) -> bool:
        """True if it may be given up where it would contradict the others."""
        return self.kind is PrecedenceKind.EASIER_FLAT


def precedences(pattern: Pattern) -> tuple[Precedence, ...]:
    """Every precedence between the operations of a pattern, hard and soft, in a stable order.

    Raises:
        WorkError: a seam, finish or placement is carried out never or twice, an operation names
            something that does not exist, or two operations have one name.
    """
    return tuple(dict.fromkeys(_Derivation(pattern).all()))


def carriers(pattern: Pattern) -> dict[str, str]:
    """The operation that carries out each seam, finish and placement, by their names.

    Raises:
        WorkError: one of them is carried out never or twice, or an operation names another.
    """
    uses = {use.name: use for use in pattern.all_uses()}
    done: dict[str, str] = {}
    for operation in pattern.operations:
        for name in operation.does:
            if name not in uses:
                raise _unknown(operation, name, uses)
            if name in done:
                raise WorkError(
                    f"the {uses[name].title} is sewn twice",
                    where=f"operations {done[name]} and {operation.name}",
                    what_to_do="Let only one of the two operations do it.",
                )
            done[name] = operation.name
    missing = [use for name, use in uses.items() if name not in done]
    if missing:
        raise WorkError(
            f"no operation sews the {missing[0].title}",
            where=", ".join(use.name for use in missing),
            what_to_do="Add it to what an operation of its component does.",
        )
    return done


def _unknown(operation: Operation, name: str, known: Iterable[str]) -> WorkError:
    return WorkError(
        f"there is nothing named {name}",
        where=f"operation {operation.name}",
        what_to_do=did_you_mean(name, known, of_what="seams, finishes and operations"),
    )


class _Derivation:
    """The tables that the rules share."""

    def __init__(self, pattern: Pattern) -> None:
        self._pattern = pattern
        self._check_names()
        self._by = carriers(pattern)
        self._uses: Mapping[str, Use] = {use.name: use for use in pattern.all_uses()}
        self._corners = SeamCorners(pattern)
        self._pieces = {name: pieces_of(use) for name, use in self._uses.items()}

    def _check_names(self) -> None:
        seen: set[str] = set()
        for operation in self._pattern.operations:
            if operation.name in seen:
                raise WorkError(
                    f"two operations are named {operation.name}",
                    where=f"component {operation.component}",
                    what_to_do="Give one of them another name.",
                )
            seen.add(operation.name)

    def all(self) -> Iterator[Precedence]:
        for use in self._uses.values():
            yield from self._runs_across(use)
            yield from self._across_center(use)
        for seam in self._pattern.seams.values():
            yield from self._closed_inside(seam)
        for placement in self._pattern.placements.values():
            yield from self._on_placed_piece(placement)
            yield from self._lies_under(placement)
            yield from self._placed_flat(placement)
        for finish in self._pattern.finishes.values():
            yield from self._neatened_flat(finish)
        for operation in self._pattern.operations:
            yield from self._prepares(operation)
            yield from self._asked(operation)

    def _between(
        self, first: Use, then: Use, kind: PrecedenceKind, reason: str
    ) -> Iterator[Precedence]:
        before, after = self._by[first.name], self._by[then.name]
        if before != after:
            yield Precedence(before, after, kind, reason)

    def _runs_across(self, use: Use) -> Iterator[Precedence]:
        for name in sorted(self._corners.needed_before(use)):
            seam = self._pattern.seams[name]
            reason = f"the {use.title} runs across the {seam.title}"
            yield from self._between(seam, use, PrecedenceKind.RUNS_ACROSS, reason)

    def _across_center(self, use: Use) -> Iterator[Precedence]:
        """A run that ends where a seam across the center ends goes on beyond it."""
        if isinstance(use, Placement) or use.sides is not Sides.BOTH:
            return
        ends = {
            corner for run in runs_of(use) if not run.closed for corner in self._end_corners(run)
        }
        for seam in self._pattern.seams.values():
            if seam.sides is not Sides.CENTER or seam.name == use.name:
                continue
            if self._asks_to_precede(use, seam):
                continue
            if len({layer.run for layer in seam.layers}) == 1 and ends & self._end_corners(
                seam.layers[0].run
            ):
                reason = f"the {use.title} runs on across the {seam.title}"
                yield from self._between(seam, use, PrecedenceKind.RUNS_ACROSS, reason)

    def _asks_to_precede(self, use: Use, seam: Seam) -> bool:
        """True if the work on `use` is to be done before the seam, like an invisible zip."""
        edges = {f"{edge.piece}.{edge.edge}" for run in runs_of(seam) for edge in run.edges}
        by = self._by[use.name]
        return any(
            operation.name == by and not edges.isdisjoint(operation.prepares)
            for operation in self._pattern.operations
        )

    def _end_corners(self, run: Run) -> set[Corner]:
        return {
            start_corner(self._pattern, run.edges[0]),
            end_corner(self._pattern, run.edges[-1]),
        }

    def _closed_inside(self, seam: Seam) -> Iterator[Precedence]:
        """Turned seams between layers of `seam`, none of which is its first, lie inside it."""
        if len(seam.layers) < 3:
            return
        laid_on = {edge.piece for layer in seam.layers[1:] for edge in layer.run.edges}
        laid_on -= {edge.piece for edge in seam.layers[0].run.edges}
        for other in self._pattern.seams.values():
            if (
                other is not seam
                and other.pressing is Pressing.TURNED
                and self._pieces[other.name] <= laid_on
            ):
                reason = f"the {other.title} is closed inside the {seam.title}"
                yield from self._between(other, seam, PrecedenceKind.CLOSED_INSIDE, reason)

    def _on_placed_piece(self, placement: Placement) -> Iterator[Precedence]:
        piece = self._pattern.piece(placement.piece)
        own = self._own_part(placement)
        for use in self._uses.values():
            pieces = self._pieces[use.name]
            if use is placement or placement.piece not in pieces:
                continue
            if pieces <= own:
                reason = (
                    f"the {use.title} is out of reach once the {lowered(piece.title)} is sewn on"
                )
                yield from self._between(use, placement, PrecedenceKind.ON_PLACED_PIECE, reason)
            elif isinstance(use, Seam) and placement.host in pieces:
                reason = f"the {use.title} takes in the {lowered(piece.title)} with its host"
                yield from self._between(placement, use, PrecedenceKind.ON_PLACED_PIECE, reason)

    def _own_part(self, placement: Placement) -> set[str]:
        """The placed piece and what hangs on it without being sewn to the host."""
        seamed_to_host = {
            name
            for seam in self._pattern.seams.values()
            if placement.host in self._pieces[seam.name]
            for name in self._pieces[seam.name]
        }
        own = {placement.piece}
        others = (seamed_to_host | {placement.host}) - own
        groups = (
            self._pieces[use.name] - others for use in self._uses.values() if use is not placement
        )
        return hanging_together(own, groups)

    def _lies_under(self, placement: Placement) -> Iterator[Precedence]:
        """Darts of the host: those covered must come first, the others had better."""
        host, piece = self._pattern.piece(placement.host), self._pattern.laid_piece(placement)
        cover = piece.outline.transformed(placement.onto).polygon
        for seam in self._pattern.seams.values():
            if seam.kind is not SeamKind.DART or self._pieces[seam.name] != {host.name}:
                continue
            legs = [self._pattern.path(edge) for layer in seam.layers for edge in layer.run.edges]
            covered = any(
                cover.intersects(LineString([(p.x, p.y) for p in leg.flattened()])) for leg in legs
            )
            if covered:
                kind = PrecedenceKind.LIES_UNDER
                reason = f"the {lowered(piece.title)} covers the {seam.title}"
            else:
                kind = PrecedenceKind.EASIER_FLAT
                under = lowered(host.title)
                reason = f"the {lowered(piece.title)} is placed on the {under} as it is worn"
            yield from self._between(seam, placement, kind, reason)

    def _placed_flat(self, placement: Placement) -> Iterator[Precedence]:
        """It is easier to sew onto a host that still lies flat."""
        host = self._pattern.piece(placement.host)
        needed = self._corners.needed_before(placement)
        for seam in self._pattern.seams.values():
            pieces = self._pieces[seam.name]
            if host.name not in pieces or (len(pieces) == 1 and seam.kind is SeamKind.DART):
                continue
            if placement.piece in pieces or seam.name in needed:
                continue
            reason = (
                f"the {placement.title} is easier to sew while the {lowered(host.title)} is flat"
            )
            yield from self._between(placement, seam, PrecedenceKind.EASIER_FLAT, reason)

    def _neatened_flat(self, finish: Finish) -> Iterator[Precedence]:
        """It is easier to neaten the free edge of a part that is not sewn to anything yet."""
        if finish.kind is not FinishKind.OVERLOCKED:
            return
        needed = self._corners.needed_before(finish)
        part = self._pieces[finish.name]
        for seam in self._pattern.seams.values():
            pieces = self._pieces[seam.name]
            if seam.name in needed or not (pieces & part) or pieces <= part:
                continue
            reason = f"the {finish.title} is easier to reach before the {seam.title}"
            yield from self._between(finish, seam, PrecedenceKind.EASIER_FLAT, reason)

    def _prepares(self, operation: Operation) -> Iterator[Precedence]:
        for name in operation.prepares:
            piece, _, edge = name.partition(".")
            if piece not in self._pattern.pieces or (
                edge and edge not in self._pattern.piece(piece).outline.edges
            ):
                raise _unknown(operation, name, self._pattern.pieces)
            title = lowered(self._pattern.piece(piece).title)
            place = f"the {edge} edge of the {title}" if edge else f"the {title}"
            reason = f"“{operation.title}” comes before other work on {place}"
            for other in self._working_on(piece, edge):
                if other != operation.name:
                    yield Precedence(operation.name, other, PrecedenceKind.PREPARES, reason)
            if operation.station is Station.FUSING:
                yield from self._fused_first(operation, name, reason)

    def _working_on(self, piece: str, edge: str) -> list[str]:
        """Operations that carry out something on a piece, or on one edge of it."""
        if edge:
            uses: Iterable[Use] = self._pattern.uses_of(piece, edge)
        else:
            uses = (use for use in self._uses.values() if piece in self._pieces[use.name])
        return list(dict.fromkeys(self._by[use.name] for use in uses))

    def _fused_first(self, operation: Operation, name: str, reason: str) -> Iterator[Precedence]:
        for other in self._pattern.operations:
            if (
                other is not operation
                and other.station is not Station.FUSING
                and name in other.prepares
            ):
                yield Precedence(operation.name, other.name, PrecedenceKind.PREPARES, reason)

    def _asked(self, operation: Operation) -> Iterator[Precedence]:
        names = {other.name for other in self._pattern.operations}
        for name in operation.after:
            first = name if name in names else self._by.get(name)
            if first is None:
                raise _unknown(operation, name, [*names, *self._by])
            if first != operation.name:
                title = self._uses[name].title if name in self._uses else self._title(name)
                reason = f"“{operation.title}” waits for: {title}"
                yield Precedence(first, operation.name, PrecedenceKind.ASKED, reason)

    def _title(self, name: str) -> str:
        return next(one.title for one in self._pattern.operations if one.name == name)
