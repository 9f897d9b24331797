"""Darts given up for gathers, ease or a tuck."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum
from typing import ClassVar

from clothwise.components.edits.darts import seams_of
from clothwise.components.edits.edit import Edit, Editing
from clothwise.components.edits.exchange import exchanged, taken_in
from clothwise.components.edits.places import (
    dart_named,
    lapped_at,
    piece_named,
)
from clothwise.components.parameter import choice, text
from clothwise.geometry import (
    Outline,
    Path,
    join,
    smooth_through,
    straight,
)
from clothwise.pattern.graph import EdgeRef
from clothwise.pattern.mark import Mark, MarkKind
from clothwise.pattern.operation import Caution, Operation, Station
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Dart, Piece
from clothwise.pattern.rewiring import Rewiring, rewired, without_seams


class Fullness(Enum):
    """What the width of a dart becomes."""

    GATHERS = "gathers"
    EASE = "ease"
    TUCK = "tuck"


@dataclass(frozen=True)
class DartToFullness(Edit):
    """Gives a dart up: its width stays in the edge and is gathered, eased or laid in a tuck there.

    The edge runs on evenly over the former mouth, whose ends are marked with dots.
    """

    kind: ClassVar[str] = "dart-to"
    comes_last: ClassVar[bool] = True

    piece: str = text("", "The piece.")
    dart: str = text("", "The dart, such as waist-dart.")
    into: Fullness = choice(Fullness.GATHERS, "What its width becomes.")

    def apply(self, pattern: Pattern, editing: Editing) -> Pattern:
        """Draw the edge over the mouth of the dart."""
        piece = piece_named(pattern, self.piece)
        dart = dart_named(piece, self.dart)
        before, after = piece.edge_before(dart.leg_in), piece.edge_after(dart.leg_out)
        old_length = piece.edge(before).length + piece.edge(after).length
        line = _over_mouth(piece, dart, before, after)
        cuts = [line.nearest(piece.edge(leg).start) for leg in (dart.leg_in, after)]
        mouth = f"{editing.name}-mouth"
        paths = {
            before: line.part(0.0, cuts[0]),
            mouth: line.part(cuts[0], cuts[1]),
            after: line.part(cuts[1], line.length),
        }
        edges: dict[str, Path] = {}
        for name in piece.edge_names:
            if name == dart.leg_in:
                edges[mouth] = paths[mouth]
            elif name != dart.leg_out:
                edges[name] = paths.get(name, piece.edge(name))
        ends = tuple(
            Mark(MarkKind.DOT, f"{editing.name} {word}", at=at)
            for word, at in (("start", paths[mouth].start), ("end", paths[mouth].end))
        )
        allowances = dict(piece.allowances)
        if before in allowances:
            allowances[mouth] = allowances[before]
        plain = replace(
            piece,
            outline=Outline(edges),
            darts=tuple(each for each in piece.darts if each is not dart),
            marks=(*piece.marks, *ends),
            allowances=allowances,
        )
        # The edges beside the mouth hardly change; what lies along them goes with them.
        eased = replace(piece, outline=Outline(_with_legs(piece, paths, dart)))
        changed = exchanged(pattern, eased)
        changed = rewired(
            changed,
            Rewiring(
                {piece.name: (plain,)},
                {
                    (piece.name, before): (
                        EdgeRef(piece.name, before),
                        EdgeRef(piece.name, mouth),
                    )
                },
            ),
        )
        changed = without_seams(changed, seams_of(pattern, piece, dart))
        by_mm = line.length - old_length
        changed = taken_in(
            changed,
            piece.name,
            mouth,
            by_mm,
            is_gathered=self.into is Fullness.GATHERS,
            is_new=True,
        )
        return replace(
            changed, operations=(*changed.operations, self._operation(plain, mouth, by_mm, editing))
        )

    def _operation(self, piece: Piece, mouth: str, by_mm: float, editing: Editing) -> Operation:
        how = {
            Fullness.GATHERS: "Stitch two rows of long stitches from dot to dot, both inside the "
            "allowance. Draw the edge in by {width}, evenly, and fasten the threads.",
            Fullness.EASE: "Stitch one row of long stitches from dot to dot, inside the allowance, "
            "and draw the edge in by {width} without folds; shrink the fullness with steam.",
            Fullness.TUCK: "Bring the dots together, right sides inside, so that a fold of {width} "
            "lies on the wrong side. Baste it to the allowance.",
        }[self.into]
        verb = {"gathers": "Gather", "ease": "Ease", "tuck": "Lay the tuck of"}[self.into.value]
        is_ironed = self.into is Fullness.EASE
        return Operation(
            name=f"{piece.name}-{editing.name}",
            title=f"{verb} {piece.title} between the dots",
            text=how,
            prepares=(f"{piece.name}.{mouth}",),
            station=Station.MACHINE,
            minutes=8,
            cautions=(Caution.IRON,) if is_ironed else (),
            values=(("width", by_mm),),
            component=piece.component,
        )


def _over_mouth(piece: Piece, dart: Dart, before: str, after: str) -> Path:
    """A fair line along both edges and over the mouth between them.

    What laps over the center keeps its line, and crosses it as square as it did.
    """
    first, last = piece.edge(before), piece.edge(after)
    middle = piece.edge(dart.leg_in).start.toward(piece.edge(dart.leg_out).end, 0.5)
    start = lapped_at(piece, first) or 0.0
    end = lapped_at(piece, last) or last.length
    own, then = first.part(start, first.length), last.part(0.0, end)
    line = smooth_through(
        [
            own.start,
            own.point_at(own.length / 2),
            middle,
            then.point_at(then.length / 2),
            then.end,
        ],
        start_tangent=own.start_tangent,
        end_tangent=then.end_tangent,
    )
    if start > 0.0:
        line = join(first.part(0.0, start), line)
    return join(line, last.part(end, last.length)) if end < last.length else line


def _with_legs(piece: Piece, paths: dict[str, Path], dart: Dart) -> dict[str, Path]:
    """The outline with the new edges beside a dart that is still there."""
    mouth = next(path for name, path in paths.items() if name.endswith("-mouth"))
    apex = piece.apex(dart)
    legs = {dart.leg_in: straight(mouth.start, apex), dart.leg_out: straight(apex, mouth.end)}
    return {name: legs.get(name) or paths.get(name, piece.edge(name)) for name in piece.edge_names}
