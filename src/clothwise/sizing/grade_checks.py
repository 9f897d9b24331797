"""Findings about grades: jumps, reversals, and what some sizes have and others have not.

A length is compared with its own steps to the sizes before and after: on a sound range a step lies
between its neighbors, however unequal they are. Where it does not, the body may be the reason: the
step is compared again, reckoned per millimeter of each body measurement. Only what no measurement
of the chart explains is reported. All bounds are our own choice.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations, groupby, pairwise

from clothwise.pattern import Body, Finding, Pattern, Severity
from clothwise.pattern.size_chart import SizeChart
from clothwise.sizing.grade_topology import topology, words_of
from clothwise.sizing.grading import GradedEdge, Grades, grades
from clothwise.units import format_cm, format_mm

GRADE_CODES = ("GRADE-JUMP", "GRADE-REVERSAL", "GRADE-TOPOLOGY")

JUMP_MM = 3.0
"""A step this far out of line is a jump: half of what shows in a sewn seam of a whole garment."""
JUMP_SHARE = 0.15
"""... and this share of the neighboring steps, so that large steps may be less even."""
REVERSAL_MM = 1.0
"""A length may shrink by this much against its own trend."""
ABRUPT = 3.0
"""A line that turns smoothly changes its step from size to size by about as much as before; one
that turns abruptly by this many times as much."""
ROUNDED_MM = (2.5, 3.175, 5.0, 6.35, 10.0, 12.7)
"""Parameters are rounded to these: half and whole centimeters, quarters, halves of an inch ..."""
_ROUNDED_ALONG = 1.2
"""A slanting edge may change by this times the width that is rounded."""
_SAME_MM = 0.02
_NO_CHANGE = 1e-6
_FASTEST = 4.0
"""No edge grows by more than this times a measurement; half the hem of a full circle grows by pi
times its length."""
_PART_OF_GIRTH = 0.5
"""A piece grows by this share of a girth or less: half pieces; quarter pieces by half of it."""
_GIRTHS = ("bust_girth", "waist_girth", "hip_girth")


def check_grades(chart: SizeChart, patterns: Sequence[Pattern]) -> tuple[Finding, ...]:
    """Return all findings about the grades of one view, in order of pieces and sizes.

    Args:
        chart: the sizes; each pattern is for one of them.
        patterns: one for each size, or for those that could be drafted, in order of the chart.
            Those of rows that are people are left out.

    Raises:
        Misuse: a pattern is for a size that the chart does not have.
    """
    people = chart.people
    patterns = [pattern for pattern in patterns if pattern.size not in people]
    if len(patterns) < 2:
        return ()
    steps = _BodySteps([chart.size(pattern.size) for pattern in patterns])
    known = _Known(tuple(patterns), grades(patterns), steps)
    return (*topology(known.patterns), *_disorder(known), *_lengths(known))


class _BodySteps:
    """How the bodies of a chart grow from size to size."""

    def __init__(self, bodies: Sequence[Body]) -> None:
        names = [name for name in bodies[0] if all(name in body for body in bodies)]
        steps = {
            name: [after[name] - before[name] for before, after in pairwise(bodies)]
            for name in names
        }
        girths = [name for name in _GIRTHS if name in steps]
        for one, other in combinations(girths, 2):  # darts and side seams follow the difference
            steps[f"{one} - {other}"] = [
                step - less for step, less in zip(steps[one], steps[other], strict=True)
            ]
        self._steps = {name: row for name, row in steps.items() if max(map(abs, row)) > _NO_CHANGE}

    @cached_property
    def disordered(self) -> frozenset[int]:
        """Steps at which a girth goes against the range as a whole: rows out of order."""
        girths = [self._steps[name] for name in _GIRTHS if name in self._steps]
        against = set()
        for row in girths:
            whole = sum(row)
            against |= {at for at, step in enumerate(row) if step * whole < 0 and abs(step) > 1.0}
        return frozenset(against)

    def out_of_line(self, lengths_steps: Sequence[float], at: int) -> float:
        """By how much a step of a length is out of line, mm, after what the bodies explain."""
        plain = _beyond(lengths_steps, at, None)
        least = plain
        for row in self._steps.values():
            if abs(plain) <= _SAME_MM:
                break
            # A measurement explains the more, the more of it the length takes over all sizes.
            whole, own = sum(row), sum(lengths_steps)
            share = min(abs(own / whole), 1.0) if abs(whole) > abs(own) else 1.0
            kink = share * abs(_beyond(row, at, None))
            reckoned = _beyond(lengths_steps, at, row)
            left = abs(plain) - kink
            if left < abs(least):
                least = max(left, 0.0) * (1 if plain > 0 else -1)
            if abs(reckoned) < abs(least):
                least = reckoned
        return least

    def turns(self, at: int) -> float:
        """By how much of a piece's length the steps of the chart change here, at most, mm."""
        if at == 0:
            return 0.0
        kinks = (abs(row[at] - row[at - 1]) for row in self._steps.values())
        return _PART_OF_GIRTH * max(kinks, default=0.0)

    def falls(self, at: int) -> float:
        """By how much some measurement goes against its own trend at this step, at most, mm."""
        return max(
            (abs(row[at]) for row in self._steps.values() if row[at] * sum(row) <= _NO_CHANGE),
            default=0.0,
        )


def _beyond(steps: Sequence[float], at: int, per: Sequence[float] | None) -> float:
    """By how much a step lies outside what its neighbors span; signed, mm.

    With `per`, steps are reckoned per unit of it; infinite where that does not change, or so
    little that no piece could follow it. A first or last step may go on bending as the two beside
    it do, and it may die away, as where a width has reached its limit.
    """
    last = len(steps) - 1
    is_end = at in (0, last)
    near = [each for each in _beside(at, last) if 0 <= each <= last]
    if not near:
        return 0.0
    scale = per or [1.0] * len(steps)
    if any(abs(scale[each]) < _NO_CHANGE for each in (at, *near)):
        return float("inf")
    if per and any(abs(steps[each]) > _FASTEST * abs(per[each]) for each in (at, *near)):
        return float("inf")
    step = steps[at]
    usual = [steps[each] / scale[each] * scale[at] for each in near]
    if is_end:
        if min(usual[0], 0.0) <= step <= max(usual[0], 0.0):
            return 0.0
        usual = [usual[0], *(2 * usual[0] - further for further in usual[1:])]
    return step - min(max(step, min(usual)), max(usual))


def _beside(at: int, last: int) -> tuple[int, int]:
    """The steps that a step is compared with, the nearer one first."""
    if at == 0:
        return 1, 2
    return (at - 1, at + 1) if at < last else (at - 1, at - 2)


@dataclass(frozen=True)
class _Known:
    patterns: tuple[Pattern, ...]
    grades: Grades
    body: _BodySteps

    def title(self, piece: str) -> str:
        found = next(each.pieces[piece] for each in self.patterns if piece in each.pieces)
        return found.title or piece

    def reshaped(self, piece: str) -> set[int]:
        """Steps at which the piece, or one that is sewn to it, gets other edges.

        Such as where one dart becomes two: then its seams change, and what they are sewn to.
        """
        if not self._changes:
            return set()
        return {at for name in self._sewn_to(piece) for at in self._changes.get(name, ())}

    def _sewn_to(self, piece: str) -> set[str]:
        """The piece, and all that share a seam with it."""
        seams = [seam for each in self.patterns for seam in each.seams.values()]
        named = [{n for layer in seam.layers for n in layer.run.pieces} for seam in seams]
        return {piece, *(name for names in named if piece in names for name in names)}

    @cached_property
    def _changes(self) -> dict[str, set[int]]:
        """Steps at which pieces get other edges, by piece; only those that do."""
        found: dict[str, set[int]] = {}
        for at, (one, other) in enumerate(pairwise(self.patterns)):
            for name in {*one.pieces, *other.pieces}:
                pair = [each.pieces.get(name) for each in (one, other)]
                edges = [piece.edge_names if piece else () for piece in pair]
                if edges[0] != edges[1]:
                    found.setdefault(name, set()).add(at)
        return found


@dataclass(frozen=True)
class _Suspect:
    """A step of an edge that is out of line: how much, at which size, and against what."""

    code: str
    edge: GradedEdge
    size: int
    single: bool
    amount_mm: float
    usual_mm: tuple[float, float]


def _lengths(known: _Known) -> Iterator[Finding]:
    """Jumps and reversals, one for each piece and size, of the edge that is worst."""
    suspects: list[_Suspect] = []
    for piece, group in groupby(known.grades.edges, key=lambda edge: edge.piece):
        edges = list(group)
        rounded_mm = _rounding(edges)
        # Rows out of order, and another number of darts, are told by other findings. Beside such
        # a step every length is out of line.
        apart = known.body.disordered | known.reshaped(piece)
        quiet = frozenset(near for at in apart for near in (at - 1, at, at + 1))
        for edge in edges:
            suspects += _suspects(edge, known.body, rounded_mm, quiet)
    gathered: dict[tuple[str, int, str], list[_Suspect]] = {}
    for each in suspects:
        gathered.setdefault((each.edge.piece, each.size, each.code), []).append(each)
    for alike in gathered.values():
        yield _length_finding(known, alike)


def _suspects(
    edge: GradedEdge, body: _BodySteps, rounded_mm: float, quiet: frozenset[int]
) -> Iterator[_Suspect]:
    if any(length is None for length in edge.lengths_mm) or len(edge.lengths_mm) < 3:
        return
    steps = [step for step in edge.steps_mm if step is not None]
    out = [0.0 if at in quiet else body.out_of_line(steps, at) for at in range(len(steps))]
    jumps = [at for at in range(len(steps)) if _is_jump(steps, out, at, rounded_mm)]
    told = set()
    for at in jumps:
        if at in told:
            continue
        single = at + 1 in jumps and out[at] * out[at + 1] < 0
        told |= {at, at + 1} if single else {at}
        beside = (at - 1, at + (2 if single else 1))
        near = [steps[each] for each in beside if 0 <= each < len(steps)]
        yield _Suspect("GRADE-JUMP", edge, at + 1, single, out[at], (min(near), max(near)))
    for at in range(len(steps)):
        if at in quiet or {at - 1, at, at + 1} & set(jumps):
            continue
        if _is_reversal(steps, out, at, body):
            usual = [step for step in steps if step * steps[at] <= 0]
            yield _Suspect(
                "GRADE-REVERSAL", edge, at + 1, False, steps[at], (min(usual), max(usual))
            )


def _is_jump(steps: Sequence[float], out: Sequence[float], at: int, rounded_mm: float) -> bool:
    near = [abs(steps[each]) for each in (at - 1, at + 1) if 0 <= each < len(steps)]
    limit = max(JUMP_MM, JUMP_SHARE * max(near), _ROUNDED_ALONG * rounded_mm)
    return abs(out[at]) > limit


def _is_reversal(steps: Sequence[float], out: Sequence[float], at: int, body: _BodySteps) -> bool:
    """True if a step goes against the others, not as part of a smooth turn nor as the body does."""
    step = steps[at]
    if abs(step) <= REVERSAL_MM or abs(step) <= body.falls(at):
        return False
    against = sum(abs(each) for each in steps if each * step < 0)
    along = sum(abs(each) for each in steps if each * step > 0)
    before = steps[at - 1] if at else 0.0
    if against > along and abs(out[at]) > REVERSAL_MM and step * out[at] > 0:
        return True
    if at < 2 or before * step >= 0:
        return False
    changes = [abs(after - first) for first, after in pairwise(steps)]
    others = [changes[each] for each in (at - 2, at) if 0 <= each < len(changes)]
    turn = changes[at - 1]
    is_abrupt = turn > 2 * REVERSAL_MM and turn > ABRUPT * max(others)
    return is_abrupt and turn > body.turns(at)


def _rounding(edges: Sequence[GradedEdge]) -> float:
    """To what a width of a piece is rounded, mm; 0 if none seems to be.

    An edge whose lengths differ by multiples of a common rounding, unevenly, and only ever grow or
    only ever shrink, is taken for rounded; the other edges of its piece follow it.
    """
    found = 0.0
    for edge in edges:
        if any(step is None for step in edge.steps_mm):
            continue
        steps = [round(step, 2) for step in edge.steps_mm if step is not None]
        one_way = min(steps, default=0.0) >= 0 or max(steps, default=0.0) <= 0
        uneven = steps not in (sorted(steps), sorted(steps, reverse=True))
        stays = 0.0 in steps and any(steps)
        if one_way and (uneven or stays):
            found = max(found, next((grid for grid in ROUNDED_MM if _on_grid(steps, grid)), 0.0))
    return found


def _on_grid(steps: Sequence[float], grid_mm: float) -> bool:
    """True if every step is none, one or two of the grid."""
    return all(
        min(abs(abs(step) - times * grid_mm) for times in (0, 1, 2)) <= _SAME_MM for step in steps
    )


def _length_finding(known: _Known, group: Sequence[_Suspect]) -> Finding:
    worst = max(group, key=lambda each: abs(each.amount_mm))
    sizes, edge = known.grades.sizes, worst.edge
    size, before = sizes[worst.size], sizes[worst.size - 1]
    words = f"{words_of(edge.edge)} of {known.title(edge.piece)}"
    length = edge.lengths_mm[worst.size] or 0.0
    step = edge.steps_mm[worst.size - 1] or 0.0
    low, high = worst.usual_mm
    usual = _mm(low) if abs(high - low) < 0.05 else f"{_mm(low)} to {_mm(high)}"
    others = [words_of(each.edge.edge) for each in group if each is not worst]
    also = f" Also: {', '.join(others)}." if others else ""
    pattern = known.patterns[worst.size]
    path = pattern.pieces[edge.piece].edge(edge.edge)
    if worst.code == "GRADE-JUMP":
        what = (
            f"In size {size} the {words} is {format_mm(abs(worst.amount_mm), decimals=1)} "
            f"{'longer' if worst.amount_mm > 0 else 'shorter'} than the sizes beside it let expect"
            if worst.single
            else f"From size {before} to {size} the {words} changes by {_mm(step)}, "
            f"{format_mm(abs(worst.amount_mm), decimals=1)} out of line with its neighbors"
        )
        remedy = (
            f"Compare the measurements and parameters of size {size} with the sizes beside it: "
            "nothing in the size chart accounts for this step."
        )
    else:
        verb = "shrinks" if step < 0 else "grows"
        what = f"From size {before} to {size} the {words} {verb} by {_mm(abs(step), sign=False)}, "
        what += "against all other sizes" if low * high >= 0 else "against the sizes before"
        remedy = (
            f"Look for a parameter or measurement that turns round at size {size}; if the line is "
            "meant to, nothing needs doing."
        )
    return Finding(
        code=worst.code,
        severity=Severity.WARNING,
        message=f"{what}.{also}",
        remedy=remedy,
        piece=edge.piece,
        edge=edge.edge,
        size=size,
        measured=f"{format_cm(length, decimals=2)}, step {_mm(step)}",
        allowed=f"steps beside it {usual}",
        at=path.point_at(path.length / 2),
    )


def _disorder(known: _Known) -> Iterator[Finding]:
    """Where the chart itself goes back: once for each step, with the edge that shrinks most."""
    sizes = known.grades.sizes
    for at in sorted(known.body.disordered):
        falling = []
        for edge in known.grades.edges:
            step = edge.steps_mm[at]
            trend = [each for each in edge.steps_mm if each is not None]
            if step is not None and abs(step) > REVERSAL_MM and step * sum(trend) < 0:
                falling.append((abs(step), edge))
        if not falling:
            continue
        _, edge = max(falling, key=lambda pair: pair[0])
        pieces = len({each.piece for _, each in falling})
        path = known.patterns[at + 1].pieces[edge.piece].edge(edge.edge)
        yield Finding(
            code="GRADE-REVERSAL",
            severity=Severity.WARNING,
            message=f"From size {sizes[at]} to {sizes[at + 1]} {len(falling)} edges of {pieces} "
            f"piece{'s' if pieces > 1 else ''} go against all other sizes, most of all the "
            f"{words_of(edge.edge)} of {known.title(edge.piece)}: the girths in the size chart go "
            "back there.",
            remedy=f"Look at the rows {sizes[at]} and {sizes[at + 1]} of the size chart: they may "
            "be swapped, or a number mistyped.",
            piece=edge.piece,
            edge=edge.edge,
            size=sizes[at + 1],
            measured=f"step {_mm(edge.steps_mm[at] or 0.0)}",
            allowed="steps in the direction of all other sizes",
            at=path.point_at(path.length / 2),
        )


def _mm(amount_mm: float, *, sign: bool = True) -> str:
    text = format_mm(amount_mm, decimals=1)
    return f"+{text}" if sign and amount_mm > 0 and not text.startswith("0 ") else text
