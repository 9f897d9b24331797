"""What a draft for one body changes against the nearest standard size, and why.

Nothing is scaled: both are drafts. The reason for each change is found by putting the person's
measurements in the place of the size's, group by group, and drafting every time. What a group
moves depends a little on what was put in before it, so this is done in two orders, one the
reverse of the other, and the mean is told. The parts always sum to the whole. Where a mixture of
person and size cannot be drafted, its change is told together with the next one's.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum

from clothwise.components import DesignFile
from clothwise.errors import ClothwiseError, Misuse
from clothwise.pattern import Body, Pattern, Piece, SeamKind
from clothwise.pattern.document.value import Choices
from clothwise.pattern.first_letter import lowered
from clothwise.pattern.measurements import BodyMeasurement
from clothwise.sizing.nearest import (
    LEAST_MOVE_MM,
    ChosenBy,
    NearestSize,
    chosen_by,
    sizes_by_nearness,
)

__all__ = [
    "GROUP_OF",
    "Adjustment",
    "Change",
    "ChangeKind",
    "Girths",
    "Group",
    "PointMove",
    "adjusted",
]

Girths = Callable[[Pattern, Body], tuple[tuple[str, float, float], ...]]
"""Measures finished girths: name, garment and body, mm. `checks.girths.measured_girths` is one."""


class Group(StrEnum):
    """Measurements that are looked at together."""

    LENGTHS = "lengths"
    BUST = "bust and cup"
    WAIST = "waist"
    HIP = "hip"
    SHOULDER = "shoulder"
    ARM = "arm"
    NECK = "neck"
    TOGETHER = "several together"


_MEMBERS: Mapping[Group, tuple[str, ...]] = {
    Group.LENGTHS: (
        *("height", "back_neck_to_waist", "scye_depth", "back_neck_height", "waist_height"),
        *("waist_to_knee", "inside_leg_height"),
    ),
    Group.BUST: (
        *("bust_girth", "under_bust_girth", "bust_point_width"),
        *("neck_shoulder_point_to_waist_front", "neck_shoulder_point_to_bust_point"),
    ),
    Group.WAIST: ("waist_girth",),
    Group.HIP: ("hip_girth", "top_hip_girth", "waist_to_hip", "thigh_girth", "calf_girth"),
    Group.SHOULDER: (
        *("shoulder_length", "shoulder_slope", "across_back_shoulder_width"),
        *("across_back_width", "across_front_width"),
    ),
    Group.ARM: (
        *("upper_arm_girth", "wrist_girth", "hand_girth", "arm_length", "shoulder_to_elbow"),
        "back_neck_to_wrist",
    ),
    Group.NECK: ("neck_base_girth", "neck_girth", "head_girth"),
}

GROUP_OF: Mapping[str, Group] = {name: group for group, names in _MEMBERS.items() for name in names}
"""The group of every measurement. The front length counts as a length as far as the back is longer
too; the rest of it is the bust's."""

_SHARED = "neck_shoulder_point_to_waist_front"


class ChangeKind(StrEnum):
    """What was measured on both drafts."""

    SEAM = "seam"
    FINISH = "edge"
    DART_LENGTH = "dart length"
    DART_INTAKE = "dart intake"
    GIRTH = "finished girth"


@dataclass(frozen=True)
class Change:
    """A length in the draft of the size and in that of the body, mm; 0 where it is not there.

    Attributes:
        kind: what was measured.
        name: of the seam, finish or dart in the pattern; of the region for a girth.
        title: the same in words.
        size_mm: in the nearest size.
        body_mm: in the body's draft.
        causes: how much each group moved it; their sum is `moved_mm`.
        only_in: "size" or "body" where the other draft does not have it.
    """

    kind: ChangeKind
    name: str
    title: str
    size_mm: float
    body_mm: float
    causes: Mapping[Group, float] = field(default_factory=dict)
    only_in: str = ""

    @property
    def moved_mm(self) -> float:
        """Positive where the body's is longer."""
        return self.body_mm - self.size_mm

    @property
    def has_moved(self) -> bool:
        """Tell whether it moved by a millimeter at least.

        The length of a dart that only one draft has is not told: its intake is.
        """
        if self.only_in and self.kind is ChangeKind.DART_LENGTH:
            return False
        return abs(self.moved_mm) >= LEAST_MOVE_MM

    @property
    def main_causes(self) -> tuple[tuple[Group, float], ...]:
        """Groups that moved it by a millimeter at least, the largest first; one if none did."""
        ranked = sorted(self.causes.items(), key=lambda each: -abs(each[1]))
        told = [each for each in ranked if abs(each[1]) >= LEAST_MOVE_MM]
        return tuple(told or ranked[:1])


@dataclass(frozen=True)
class PointMove:
    """How far a point of a piece lies from where it lies in the nearest size, mm.

    Positive is to the right and up on the piece as drafted, whose center and waist do not move.
    """

    piece: str
    point: str
    right_mm: float
    up_mm: float

    @property
    def far_mm(self) -> float:
        """The way it moved, whatever the direction."""
        return float((self.right_mm**2 + self.up_mm**2) ** 0.5)


@dataclass(frozen=True)
class Adjustment:
    """A draft for one body beside that of its nearest size.

    Attributes:
        nearest: the size, and how the body differs.
        pattern: drafted for the body.
        standard: drafted for the size.
        changes: seams, finished edges, dart intakes and girths, in the order of the pattern.
        moves: of all named points and corners that both drafts have.
        refused: sizes and groups that could not be looked at, in whole sentences.
    """

    nearest: NearestSize
    pattern: Pattern
    standard: Pattern
    changes: tuple[Change, ...]
    moves: tuple[PointMove, ...]
    refused: tuple[str, ...] = ()

    def moved(self, kind: ChangeKind) -> tuple[Change, ...]:
        """Changes of a kind of a millimeter and more."""
        return tuple(each for each in self.changes if each.kind is kind and each.has_moved)


def adjusted(
    design: DesignFile,
    choices: Choices,
    body: Body,
    *,
    girths: Girths | None = None,
) -> Adjustment:
    """Draft a design for a body, and tell what moved against the nearest size of its chart.

    Args:
        design: as read.
        choices: a choice for every option, or those that differ from the defaults.
        body: to draft for.
        girths: measures finished girths, if those are wanted.

    Raises:
        Misuse: unknown or contradicting choices.
        DocumentError: a parameter that this body, or every size, makes fall out of its range.
        ComponentError: a component cannot be drafted onto what is there.
        MeasurementError: the body lies outside what a component can be drafted for.
    """
    pattern = design.draft(choices, body=body)
    refused: dict[str, None] = {}
    nearest, standard = _standard(design, choices, body, chosen_by(pattern), refused)
    at_size = _measured(standard, nearest.size, girths)
    at_body = _measured(pattern, body, girths)

    def lengths_of(groups: frozenset[Group]) -> _Lengths | None:
        mixed = _mixture(nearest.size, body, groups)
        try:
            return _measured(design.draft(choices, body=mixed), mixed, girths)
        except ClothwiseError as error:
            names = ", ".join(sorted(group.value for group in groups))
            refused.setdefault(
                f"A draft with {names} of the body alone was refused: {error.problem}"
            )
            return None

    causes = _causes(at_size, at_body, _differing(nearest), lengths_of)
    return Adjustment(
        nearest=nearest,
        pattern=pattern,
        standard=standard,
        changes=tuple(_changes(at_size, at_body, causes)),
        moves=tuple(_moves(standard, pattern)),
        refused=tuple(refused),
    )


def _standard(
    design: DesignFile, choices: Choices, body: Body, by: ChosenBy, refused: dict[str, None]
) -> tuple[NearestSize, Pattern]:
    """Return the nearest size that can be drafted, and its draft; the error of the nearest if none.

    Why a nearer one is passed over goes to `refused`.
    """
    first: ClothwiseError | None = None
    for nearest in sizes_by_nearness(design.chart, body, by):
        try:
            return nearest, design.draft(choices, body=nearest.size)
        except Misuse:
            raise
        except ClothwiseError as error:
            first = first or error
            refused.setdefault(f"Size {nearest.size.name} cannot be drafted: {error.problem}")
    assert first is not None  # a chart has at least one size
    raise first


_Key = tuple[ChangeKind, str]
_Lengths = Mapping[_Key, tuple[str, float]]
"""Title and length of all that is measured on one draft."""


def _measured(pattern: Pattern, body: Body, girths: Girths | None) -> _Lengths:
    found: dict[_Key, tuple[str, float]] = {}
    for seam in pattern.seams.values():
        kind = ChangeKind.DART_LENGTH if seam.kind is SeamKind.DART else ChangeKind.SEAM
        found[kind, seam.name] = (seam.title, pattern.run_length(seam.layers[0].run))
    for finish in pattern.finishes.values():
        found[ChangeKind.FINISH, finish.name] = (finish.title, pattern.run_length(finish.run))
    for piece in pattern.pieces.values():
        for name, intakes in _intakes(piece).items():
            count = "" if len(intakes) == 1 else f"{len(intakes)} "
            darts = f"{count}{name}{'s' if count else ''}"
            title = f"{darts} of the {lowered(piece.title)}"
            found[ChangeKind.DART_INTAKE, f"{piece.name}.{name}"] = (title, sum(intakes))
    if girths is not None:
        for region, garment, _ in girths(pattern, body):
            found[ChangeKind.GIRTH, region] = (region, garment)
    return found


def _intakes(piece: Piece) -> dict[str, list[float]]:
    """Widths of the darts at their mouths, by name; numbered ones (`waist dart-2`) together."""
    found: dict[str, list[float]] = {}
    for dart in piece.darts:
        mouth = piece.edge(dart.leg_in).start.distance(piece.edge(dart.leg_out).end)
        found.setdefault(dart.name.partition("-")[0], []).append(mouth)
    return found


def _differing(nearest: NearestSize) -> tuple[Group, ...]:
    """Groups with any difference at all, in the order of the enum.

    Where a size leaves out what the person gives, blocks may draft otherwise for equal values.
    """
    found = {
        GROUP_OF[each.measurement]
        for each in nearest.differences
        if each.measurement != _SHARED
        and (each.difference or each.body_estimated != each.size_estimated)
    }
    if nearest.difference(_SHARED).difference != nearest.difference(_BACK).difference:
        found.add(Group.BUST)
    return tuple(group for group in Group if group in found)


_BACK = "back_neck_to_waist"


def _mixture(size: Body, body: Body, groups: frozenset[Group]) -> Body:
    """The size with some groups of measurements of the body, all as they were found.

    It is not completed anew: what was estimated for the size stays as it was, so that a group
    changes its own measurements only. The mixture need not be a body that anybody has.
    """
    parts = []
    for one, other in zip(size.measurements, body.measurements, strict=True):
        taken = other if GROUP_OF[one.name] in groups else one
        if one.name == _SHARED:
            taken = _shared_length(size, body, groups)
        parts.append(taken)
    return Body(body.name, tuple(parts))


def _shared_length(size: Body, body: Body, groups: frozenset[Group]) -> BodyMeasurement:
    longer = body[_BACK] - size[_BACK]
    value = size[_SHARED]
    value += longer if Group.LENGTHS in groups else 0.0
    value += body[_SHARED] - size[_SHARED] - longer if Group.BUST in groups else 0.0
    return BodyMeasurement(_SHARED, value)


def _causes(
    start: _Lengths,
    end: _Lengths,
    groups: Sequence[Group],
    lengths_of: Callable[[frozenset[Group]], _Lengths | None],
) -> Mapping[_Key, Mapping[Group, float]]:
    """What each group moved, the mean of two orders."""
    known: dict[frozenset[Group], _Lengths | None] = {frozenset(): start, frozenset(groups): end}

    def at(taken: frozenset[Group]) -> _Lengths | None:
        if taken not in known:
            known[taken] = lengths_of(taken)
        return known[taken]

    causes: dict[_Key, dict[Group, float]] = {key: {} for key in {**start, **end}}
    for order in (groups, groups[::-1]):
        for group, before, after in _steps(order, at):
            for key, parts in causes.items():
                moved = _length(after, key) - _length(before, key)
                parts[group] = parts.get(group, 0.0) + moved / 2
    return causes


def _steps(
    order: Sequence[Group], at: Callable[[frozenset[Group]], _Lengths | None]
) -> Iterator[tuple[Group, _Lengths, _Lengths]]:
    """Each group in turn, with the lengths before and after; refused ones join the next."""
    taken: frozenset[Group] = frozenset()
    before, waiting = at(taken), 0
    assert before is not None
    for group in order:
        taken |= {group}
        after = at(taken)
        if after is None:
            waiting += 1
            continue
        yield (Group.TOGETHER if waiting else group), before, after
        before, waiting = after, 0


def _length(lengths: _Lengths, key: _Key) -> float:
    return lengths[key][1] if key in lengths else 0.0


def _changes(
    start: _Lengths, end: _Lengths, causes: Mapping[_Key, Mapping[Group, float]]
) -> Iterator[Change]:
    for key in {**start, **end}:
        kind, name = key
        title, _ = end.get(key) or start[key]
        only_in = "" if key in start and key in end else "body" if key in end else "size"
        yield Change(
            kind, name, title, _length(start, key), _length(end, key), causes[key], only_in
        )


def _moves(standard: Pattern, pattern: Pattern) -> Iterator[PointMove]:
    for name, piece in pattern.pieces.items():
        if name not in standard.pieces:
            continue
        before = _points(standard.pieces[name])
        for point, (x, y) in _points(piece).items():
            if point in before:
                yield PointMove(name, point, x - before[point][0], y - before[point][1])


def _points(piece: Piece) -> dict[str, tuple[float, float]]:
    """Named points, and corners by the edges that meet there."""
    found = {name: (point.x, point.y) for name, point in piece.points.items()}
    names = piece.edge_names
    for before, after in zip((names[-1], *names[:-1]), names, strict=True):
        start = piece.edge(after).start
        found[f"{before}/{after}"] = (start.x, start.y)
    return found
