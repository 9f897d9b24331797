"""Random faults in sound patterns, and the rules by which one counts as reported.

A fault is one change of a drafted example, in a random size and view, that breaks something which
must agree. It is *reported* if a check has a new finding, error or warning, at its place:

- on an edge that changed, or within `NEAR_MM` of one on the same piece;
- on a seam, finish or placement that changed, that a changed edge takes part in, or on an edge of
  such a seam;
- on a piece, where what changed belongs to the whole piece (copies, grain, marks);
- on what an operation that changed carries out or prepares.

What is no fault is left out by these principles, before any check is asked:

- A line moved so that all sewn lengths still agree within `BROKEN_MM` is another design, not a
  fault; the same where an edge is sewn to itself (a center back seam), as both sides move.
- Where cloth is eased in, a notch may lie anywhere within the ease.
- A match without a notch is drawn nowhere, and one that a single layer has needs no partner, so
  that taking it away breaks nothing.
- What nobody sews (interfacing left out, a button chosen otherwise) is the designer's choice.
- A grainline more than 3 degrees off the fold is meant so: opened out, or on the bias (C07, I13).
- A shape that the geometry refuses (it crosses itself) is no pattern; nothing is left to check.
- A dart's point may be moved along its axis, and to the side as long as its legs agree.
- A garment is not too small for a body one or two sizes larger: that is what its ease is for.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path as FilePath
from random import Random

from checks.mutations import (
    allowance_set,
    corner_moved,
    finish_changed,
    finish_removed,
    layer_changed,
    marks_changed,
    match_changed,
    operation_changed,
    operation_removed,
    piece_changed,
    placement_moved,
    seam_changed,
    seam_removed,
    stretched,
)
from clothwise.checks import check
from clothwise.components import DesignFile, read_design
from clothwise.errors import GeometryError
from clothwise.geometry import Cubic, Outline, Path, Point, Transform, Vector, join, polyline
from clothwise.pattern import (
    Body,
    EdgeRef,
    Finding,
    Finish,
    FinishKind,
    Grainline,
    Mark,
    MarkKind,
    NotchKind,
    Operation,
    Pattern,
    Ply,
    Run,
    Seam,
    Severity,
    Side,
    Sides,
    Station,
    Use,
    runs_of,
)

EXAMPLES = FilePath(__file__).resolve().parents[2] / "examples"
DESIGNS = ("kiln-dress", "half-circle-skirt")

NEAR_MM = 50.0
"""A finding that points no further from a changed edge of its piece is at the right place."""

BROKEN_MM = 1.0
"""Twice the tolerance that docs/reference/findings/SEAM-LENGTH.md states for sewn lengths."""

_TRIES = 1000


@dataclass(frozen=True)
class Sound:
    """A pattern without a fault, and what it was drafted from."""

    example: str
    view: str
    body: Body
    pattern: Pattern

    @property
    def name(self) -> str:
        return f"{self.example}, view {self.view}, size {self.body.name}"


@dataclass(frozen=True)
class RandomFault:
    """A pattern with one fault of a kind; the body is another one where that is the fault."""

    kind: str
    sound: Sound
    pattern: Pattern
    body: Body


Change = Callable[[Random, Sound], Pattern | None]
"""A kind of fault: the changed pattern, or None where it cannot be planted or would be none."""


@cache
def _design(example: str) -> DesignFile:
    return read_design(EXAMPLES / example)


@cache
def sound(example: str, view: str, size: str) -> Sound:
    design = _design(example)
    body = design.body(size)
    return Sound(example, view, body, design.draft(view=view, body=body))


def sound_places() -> list[tuple[str, str, str]]:
    """Example, view and size of everything that is sound."""
    return [
        (example, view.name, size)
        for example in DESIGNS
        for view in _design(example).design.views
        for size in _design(example).sizes
    ]


def random_fault(seed: int, number: int) -> RandomFault:
    """The fault of this number; the same for the same seed, whatever was asked before.

    Kinds take turns, so that rare ones are tried as often as those that fit anywhere.
    """
    random = Random(f"{seed}/{number}")
    kind = list(KINDS)[number % len(KINDS)]
    for _ in range(_TRIES):
        where = sound(*random.choice(sound_places()))
        if kind == BODY_SWAPPED:
            return RandomFault(kind, where, where.pattern, _larger_body(random, where))
        try:
            pattern = KINDS[kind](random, where)
        except GeometryError:
            continue
        if pattern is None or (kind in RESHAPING and not _breaks_a_seam(where.pattern, pattern)):
            continue
        return RandomFault(kind, where, pattern, where.body)
    raise AssertionError(f"no fault of this kind could be planted: {kind}")


# Whether and where it is reported


def reports(fault: RandomFault) -> list[Finding]:
    """The findings that report a fault at its place; empty if it is missed."""
    before = _said_of_sound(fault.sound.example, fault.sound.view, fault.sound.body.name)
    found = [
        finding
        for finding in check(fault.pattern, fault.body)
        if finding.severity is not Severity.NOTE and not before & set(_said([finding]))
    ]
    if fault.kind == BODY_SWAPPED:
        return [finding for finding in found if finding.code.startswith("FIT-")]
    place = place_of(fault.sound.pattern, fault.pattern)
    return [finding for finding in found if place.has(finding, fault.pattern)]


@cache
def _said_of_sound(example: str, view: str, size: str) -> frozenset[tuple[object, ...]]:
    of = sound(example, view, size)
    return frozenset(_said(check(of.pattern, of.body)))


def _said(findings: tuple[Finding, ...] | list[Finding]) -> Iterator[tuple[object, ...]]:
    for each in findings:
        yield (each.code, each.piece, each.edge, each.seam, each.measured, each.severity)


@dataclass(frozen=True)
class Place:
    """What a change touched."""

    edges: frozenset[tuple[str, str]]
    uses: frozenset[str]
    pieces: frozenset[str]

    def has(self, finding: Finding, pattern: Pattern) -> bool:
        return (
            finding.seam in self.uses
            or finding.piece in self.pieces
            or (finding.piece, finding.edge) in self.edges
            or self._is_near(finding, pattern)
        )

    def _is_near(self, finding: Finding, pattern: Pattern) -> bool:
        if finding.at is None:
            return False
        for piece, edge in self.edges:
            if piece != finding.piece or edge not in pattern.pieces[piece].edge_names:
                continue
            path = pattern.pieces[piece].edge(edge)
            if path.point_at(path.nearest(finding.at)).distance(finding.at) <= NEAR_MM:
                return True
        return False


def place_of(before: Pattern, after: Pattern) -> Place:
    moved = {
        (name, edge)
        for name, piece in before.pieces.items()
        for edge in piece.edge_names
        if after.pieces[name].edge(edge) != piece.edge(edge)
        or after.pieces[name].allowances.get(edge) != piece.allowances.get(edge)
    }
    old, new = ({use.name: use for use in each.all_uses()} for each in (before, after))
    changed = {name for name in old.keys() | new.keys() if old.get(name) != new.get(name)}
    touched = {use.name for edge in moved for use in before.uses_of(*edge)}
    edges = moved | {
        edge for table in (old, new) for name in changed for edge in _edges(table.get(name))
    }
    pieces = {
        name
        for name, piece in before.pieces.items()
        if (piece.copies, piece.grain, piece.marks, piece.darts)
        != (
            after.pieces[name].copies,
            after.pieces[name].grain,
            after.pieces[name].marks,
            after.pieces[name].darts,
        )
    }
    operations = set(before.operations) ^ set(after.operations)
    names = {name for each in operations for name in (*each.does, *each.after, *each.prepares)}
    names_of_pieces = {name.partition(".")[0] for each in operations for name in each.prepares}
    return Place(
        frozenset(edges),
        frozenset(changed | touched | names),
        frozenset(pieces | names_of_pieces),
    )


def _edges(use: Use | None) -> Iterator[tuple[str, str]]:
    for each in runs_of(use) if use is not None else ():
        for edge in each.edges:
            yield edge.piece, edge.edge


def _breaks_a_seam(before: Pattern, after: Pattern) -> bool:
    """Tell whether a sewn length is further from what it lies on than before."""
    return any(
        abs(_excess(after, seam, number) - _excess(before, seam, number)) > BROKEN_MM
        for seam in before.seams.values()
        for number in range(1, len(seam.layers))
    )


def _excess(pattern: Pattern, seam: Seam, number: int) -> float:
    layer = seam.layers[number]
    if layer.span is not None:
        lain_on = layer.span[1] - layer.span[0]
    else:
        lain_on = pattern.run_length(seam.layers[0].run)
    return pattern.run_length(layer.run) - lain_on - layer.ease_mm


# Shapes


def _any_edge(random: Random, pattern: Pattern) -> tuple[str, str]:
    piece = random.choice(list(pattern.pieces.values()))
    return piece.name, random.choice(piece.edge_names)


def _next(pattern: Pattern, piece: str, edge: str, step: int = 1) -> str:
    names = pattern.pieces[piece].edge_names
    return names[(names.index(edge) + step) % len(names)]


def _sign(random: Random) -> float:
    return random.choice((-1.0, 1.0))


def _edge_lengthened(random: Random, of: Sound) -> Pattern:
    """The corner where an edge starts, moved along it."""
    piece, edge = _any_edge(random, of.pattern)
    tangent = of.pattern.pieces[piece].edge(edge).start_tangent
    return corner_moved(
        of.pattern, piece, edge, tangent * (_sign(random) * random.uniform(3.0, 8.0))
    )


def _corner_moved(random: Random, of: Sound) -> Pattern:
    piece, edge = _any_edge(random, of.pattern)
    by = Vector(random.uniform(3.0, 10.0), 0.0).turned(random.uniform(0.0, 2 * math.pi))
    return corner_moved(of.pattern, piece, edge, by)


def _edge_moved(random: Random, of: Sound) -> Pattern:
    """Both ends of an edge moved square to it, as if cut off or added."""
    piece, edge = _any_edge(random, of.pattern)
    path = of.pattern.pieces[piece].edge(edge)
    by = (path.end - path.start).unit.left * (_sign(random) * random.uniform(3.0, 10.0))
    moved = corner_moved(of.pattern, piece, edge, by)
    return corner_moved(moved, piece, _next(of.pattern, piece, edge), by)


def _facing_shortened(random: Random, of: Sound) -> Pattern | None:
    facings = [name for name in of.pattern.pieces if name.startswith("facing")]
    if not facings:
        return None
    piece = random.choice(facings)
    edge = random.choice(of.pattern.pieces[piece].edge_names)
    path = of.pattern.pieces[piece].edge(edge)
    by = (path.end - path.start).unit.left * random.uniform(3.0, 10.0)  # inward
    moved = corner_moved(of.pattern, piece, edge, by)
    return corner_moved(moved, piece, _next(of.pattern, piece, edge), by)


def _piece_stretched(random: Random, of: Sound) -> Pattern:
    piece = random.choice(list(of.pattern.pieces))
    return stretched(of.pattern, piece, 1.0 + _sign(random) * random.uniform(0.02, 0.06))


def _dart_leg_stretched(random: Random, of: Sound) -> Pattern | None:
    darts = [(name, dart) for name, piece in of.pattern.pieces.items() for dart in piece.darts]
    if not darts:
        return None
    piece, dart = random.choice(darts)
    by_mm = _sign(random) * random.uniform(3.0, 8.0)
    path = of.pattern.pieces[piece].edge
    if random.random() < 0.5:
        return corner_moved(of.pattern, piece, dart.leg_in, path(dart.leg_in).start_tangent * by_mm)
    after = _next(of.pattern, piece, dart.leg_out)
    return corner_moved(of.pattern, piece, after, path(dart.leg_out).end_tangent * by_mm)


def _dart_point_moved(random: Random, of: Sound) -> Pattern | None:
    darts = [(name, dart) for name, piece in of.pattern.pieces.items() for dart in piece.darts]
    if not darts:
        return None
    piece, dart = random.choice(darts)
    one, two = (of.pattern.pieces[piece].edge(leg) for leg in (dart.leg_in, dart.leg_out))
    across = (two.end - one.start).unit * (_sign(random) * random.uniform(5.0, 15.0))
    return corner_moved(of.pattern, piece, dart.leg_out, across)


def _bumped(random: Random, of: Sound) -> Pattern | None:
    """A bump, 30 mm wide and 4 to 7 mm high, in the middle of an edge."""
    piece, edge = _any_edge(random, of.pattern)
    path = of.pattern.pieces[piece].edge(edge)
    if path.length < 70.0 or edge == of.pattern.pieces[piece].fold_edge:
        return None
    at_mm = random.uniform(25.0, path.length - 25.0)
    bumped = _with_bump(path, at_mm, _sign(random) * random.uniform(4.0, 7.0))
    return _edge_replaced(of.pattern, piece, edge, bumped)


def _with_bump(path: Path, at_mm: float, height_mm: float) -> Path:
    before, after = at_mm - 15.0, at_mm + 15.0
    start, end = path.point_at(before), path.point_at(after)
    along = (end - start).unit
    top = path.point_at(at_mm) + along.left * height_mm
    up = Cubic(start, start + path.tangent_at(before) * 6.0, top - along * 6.0, top)
    down = Cubic(top, top + along * 6.0, end - path.tangent_at(after) * 6.0, end)
    return join(path.part(0.0, before), Path((up, down)), path.part(after, path.length))


def _end_turned(random: Random, of: Sound) -> Pattern | None:
    """An edge that arrives 8 to 15 degrees off where a line runs on, or at the fold."""
    piece, edge = _any_edge(random, of.pattern)
    path = of.pattern.pieces[piece].edge(edge)
    last = path.segments[-1]
    follows = _next(of.pattern, piece, edge)
    if not isinstance(last, Cubic) or not (
        follows == of.pattern.pieces[piece].fold_edge or _runs_on(of.pattern, piece, edge)
    ):
        return None
    turn = Transform.turn(_sign(random) * math.radians(random.uniform(8.0, 15.0)), last.end)
    curve = Cubic(last.start, last.control1, turn.point(last.control2), last.end)
    return _edge_replaced(of.pattern, piece, edge, Path((*path.segments[:-1], curve)))


def _runs_on(pattern: Pattern, piece: str, edge: str) -> bool:
    """Tell whether a run goes on from the end of an edge into another piece."""
    for use in pattern.uses_of(piece, edge):
        for run in runs_of(use):
            for before, after in zip(run.edges, run.edges[1:], strict=False):
                if before.piece == after.piece:
                    continue
                ends = EdgeRef(piece, edge, False), EdgeRef(piece, edge, True)
                if before == ends[0] or after == ends[1]:
                    return True
    return False


def _edge_replaced(pattern: Pattern, piece: str, edge: str, path: Path) -> Pattern:
    return piece_changed(
        pattern,
        piece,
        lambda old: replace(old, outline=Outline({**old.outline.edges, edge: path})),
    )


def _piece_of_another_size(random: Random, of: Sound) -> Pattern:
    other = sound(of.example, of.view, random.choice(_other_sizes(of, 1)))
    piece = random.choice(list(of.pattern.pieces))
    return piece_changed(of.pattern, piece, lambda _: other.pattern.pieces[piece])


def _other_sizes(of: Sound, least: int) -> list[str]:
    sizes = list(_design(of.example).sizes)
    number = sizes.index(of.body.name)
    return [size for place, size in enumerate(sizes) if abs(place - number) >= least]


BODY_SWAPPED = "checked against a body three or more sizes larger"


def _larger_body(random: Random, of: Sound) -> Body:
    """A body whose girths are those of three or more sizes larger."""
    design = _design(of.example)
    sizes = list(design.sizes)
    number = sizes.index(of.body.name)
    larger = sizes[number + 3 :]
    if larger:
        return design.body(random.choice(larger))
    girths = ("bust_girth", "waist_girth", "hip_girth")
    three_mm = {
        name: design.body(sizes[-1])[name] - design.body(sizes[-4])[name] for name in girths
    }
    return Body.complete(
        {
            "height": of.body["height"],
            **{name: of.body[name] + three_mm[name] for name in girths},
        },
        name=of.body.name,
    )


# Seams and finishes


def _any_seam(random: Random, pattern: Pattern) -> Seam:
    return random.choice(list(pattern.seams.values()))


def _seam_removed(random: Random, of: Sound) -> Pattern:
    return seam_removed(of.pattern, _any_seam(random, of.pattern).name)


def _finish_removed(random: Random, of: Sound) -> Pattern:
    return finish_removed(of.pattern, random.choice(list(of.pattern.finishes)))


def _placement_removed(random: Random, of: Sound) -> Pattern | None:
    return replace(of.pattern, placements={}) if of.pattern.placements else None


def _layer_reversed(random: Random, of: Sound) -> Pattern:
    seam = _any_seam(random, of.pattern)
    number = random.randrange(len(seam.layers))
    return layer_changed(
        of.pattern, seam.name, number, lambda layer: replace(layer, run=layer.run.reversed)
    )


def _layer_removed(random: Random, of: Sound) -> Pattern:
    seam = _any_seam(random, of.pattern)
    number = random.randrange(1, len(seam.layers))
    matches = tuple(
        replace(each, at_mm=each.at_mm[:number] + each.at_mm[number + 1 :]) for each in seam.matches
    )
    layers = seam.layers[:number] + seam.layers[number + 1 :]
    return seam_changed(
        of.pattern, seam.name, lambda old: replace(old, layers=layers, matches=matches)
    )


def _ease_changed(random: Random, of: Sound) -> Pattern:
    seam = _any_seam(random, of.pattern)
    number = random.randrange(1, len(seam.layers))
    by_mm = _sign(random) * random.uniform(3.0, 8.0)
    return layer_changed(
        of.pattern, seam.name, number, lambda old: replace(old, ease_mm=old.ease_mm + by_mm)
    )


def _span_moved(random: Random, of: Sound) -> Pattern | None:
    spans = [
        (seam.name, number, layer.span)
        for seam in of.pattern.seams.values()
        for number, layer in enumerate(seam.layers)
        if layer.span
    ]
    if not spans:
        return None
    seam, number, (start, end) = random.choice(spans)
    by_mm = _sign(random) * random.uniform(3.0, 10.0)
    return layer_changed(
        of.pattern, seam, number, lambda old: replace(old, span=(start + by_mm, end + by_mm))
    )


def _side_lost(random: Random, of: Sound) -> Pattern | None:
    """A seam or finish that is made on one side of the wearer only."""
    seams = [each.name for each in of.pattern.seams.values() if each.sides is Sides.BOTH]
    finishes = [each.name for each in of.pattern.finishes.values() if each.sides is Sides.BOTH]
    name = random.choice([*seams, *finishes])
    side = random.choice((Sides.LEFT, Sides.RIGHT))
    pieces = {piece for piece, _ in _edges(of.pattern.use(name))}
    copies = [copy.side for piece in pieces for copy in of.pattern.pieces[piece].copies]
    folds = [of.pattern.pieces[piece].fold_edge for piece in pieces]
    if Side.CENTER in copies and not any(folds):
        return None  # cut once without a fold: one side is all of it
    if name in seams:
        return seam_changed(of.pattern, name, lambda old: replace(old, sides=side))
    return finish_changed(of.pattern, name, lambda old: replace(old, sides=side))


def _run_disordered(random: Random, of: Sound) -> Pattern | None:
    """Two neighboring edges of a run, swapped."""
    long = [
        (seam.name, number)
        for seam in of.pattern.seams.values()
        for number, layer in enumerate(seam.layers)
        if len(layer.run.edges) > 1
    ]
    if not long:
        return None
    seam, number = random.choice(long)

    def swapped(run: Run) -> Run:
        edges = list(run.edges)
        at = random.randrange(len(edges) - 1)
        edges[at], edges[at + 1] = edges[at + 1], edges[at]
        return replace(run, edges=tuple(edges))

    return layer_changed(
        of.pattern, seam, number, lambda layer: replace(layer, run=swapped(layer.run))
    )


def _edge_twice(random: Random, of: Sound) -> Pattern:
    """An edge that is hemmed although something else is done with it."""
    piece, edge = _any_edge(random, of.pattern)
    extra = Finish("extra", "extra hem", Run((EdgeRef(piece, edge),)), FinishKind.SINGLE_HEM, 15.0)
    return replace(of.pattern, finishes={**of.pattern.finishes, "extra": extra})


def _unknown_edge(random: Random, of: Sound) -> Pattern:
    seam = _any_seam(random, of.pattern)
    number = random.randrange(len(seam.layers))

    def renamed(run: Run) -> Run:
        first = run.edges[0]
        return replace(run, edges=(replace(first, edge=f"{first.edge}-old"), *run.edges[1:]))

    return layer_changed(
        of.pattern, seam.name, number, lambda layer: replace(layer, run=renamed(layer.run))
    )


def _allowance_changed(random: Random, of: Sound) -> Pattern | None:
    piece, edge = _any_edge(random, of.pattern)
    free = (FinishKind.OVERLOCKED, FinishKind.CLOSURE)
    uses = of.pattern.uses_of(piece, edge)
    if any(isinstance(use, Finish) and use.kind in free for use in uses):
        return None  # such a finish works with whatever is cut
    allowance = of.pattern.allowance(piece, edge)
    by_mm = random.uniform(2.0, 8.0)
    smaller = allowance >= 2.0 and random.random() < 0.5
    return allowance_set(
        of.pattern, piece, edge, max(0.0, allowance - by_mm) if smaller else allowance + by_mm
    )


# Matches


def _matches(pattern: Pattern, *, drawn: bool) -> list[tuple[Seam, int, int]]:
    """Seam, number of the match and of a layer that has it, beside another layer that has it."""
    return [
        (seam, number, layer)
        for seam in pattern.seams.values()
        for number, match in enumerate(seam.matches)
        for layer, at_mm in enumerate(match.at_mm)
        if at_mm is not None
        and sum(each is not None for each in match.at_mm) > 1
        and not (drawn and match.notch is NotchKind.NONE)
    ]


def _match_moved(random: Random, of: Sound) -> Pattern:
    seam, number, layer = random.choice(_matches(of.pattern, drawn=False))
    match = seam.matches[number]
    at_mm = match.at_mm[layer]
    assert at_mm is not None
    # The first layer is the measure of all: there the ease of each of the others counts.
    eases = [each.ease_mm for each in seam.layers] if layer == 0 else [seam.layers[layer].ease_mm]
    by_mm = _sign(random) * (max(map(abs, eases)) + random.uniform(3.0, 15.0))
    places = (*match.at_mm[:layer], at_mm + by_mm, *match.at_mm[layer + 1 :])
    return match_changed(of.pattern, seam.name, match.name, places)


def _match_missing(random: Random, of: Sound) -> Pattern:
    seam, number, layer = random.choice(_matches(of.pattern, drawn=True))
    match = seam.matches[number]
    places = (*match.at_mm[:layer], None, *match.at_mm[layer + 1 :])
    return match_changed(of.pattern, seam.name, match.name, places)


# Copies, grain and marks


def _copy_removed(random: Random, of: Sound) -> Pattern:
    piece = random.choice(list(of.pattern.pieces.values()))
    shell = [copy for copy in piece.copies if copy.ply is Ply.SHELL]
    gone = random.choice(shell)
    copies = tuple(copy for copy in piece.copies if copy is not gone)
    return piece_changed(of.pattern, piece.name, lambda old: replace(old, copies=copies))


def _grain_turned(random: Random, of: Sound) -> Pattern | None:
    on_fold = [
        piece
        for piece in of.pattern.pieces.values()
        if piece.fold_edge and _is_along(piece.grain, piece.edge(piece.fold_edge))
    ]
    if not on_fold:
        return None
    piece = random.choice(on_fold)
    turn = Transform.turn(
        _sign(random) * math.radians(random.uniform(0.3, 2.7)),
        piece.grain.start.toward(piece.grain.end, 0.5),
    )
    grain = Grainline(turn.point(piece.grain.start), turn.point(piece.grain.end))
    return piece_changed(of.pattern, piece.name, lambda old: replace(old, grain=grain))


def _is_along(grain: Grainline, path: Path) -> bool:
    return abs((grain.end - grain.start).unit.cross((path.end - path.start).unit)) < 1e-3


def _grain_moved_out(random: Random, of: Sound) -> Pattern:
    piece = random.choice(list(of.pattern.pieces.values()))
    left, low, right, high = piece.outline.polygon.bounds
    by = Vector(right - left, high - low) * (_sign(random) * random.uniform(1.0, 1.5))
    grain = Grainline(piece.grain.start + by, piece.grain.end + by)
    return piece_changed(of.pattern, piece.name, lambda old: replace(old, grain=grain))


def _moved(mark: Mark, by: Vector) -> Mark:
    shift = Transform.shift(by.x, by.y)
    return replace(
        mark,
        at=shift.point(mark.at) if mark.at else None,
        path=mark.path.transformed(shift) if mark.path else None,
    )


def _marks(pattern: Pattern, *kinds: MarkKind) -> list[tuple[str, Mark]]:
    return [
        (name, mark)
        for name, piece in pattern.pieces.items()
        for mark in piece.marks
        if not kinds or mark.kind in kinds
    ]


def _mark_moved_out(random: Random, of: Sound) -> Pattern | None:
    marks = _marks(of.pattern)
    if not marks:
        return None
    piece, chosen = random.choice(marks)
    left, low, right, high = of.pattern.pieces[piece].outline.polygon.bounds
    by = Vector(right - left, high - low) * (_sign(random) * random.uniform(1.0, 1.5))
    return marks_changed(
        of.pattern, piece, lambda mark: _moved(mark, by) if mark is chosen else mark
    )


def _button_moved(random: Random, of: Sound) -> Pattern | None:
    """A button or a buttonhole, moved off its partner along the front."""
    marks = _marks(of.pattern, MarkKind.BUTTON, MarkKind.BUTTONHOLE)
    if not marks:
        return None
    piece, chosen = random.choice(marks)
    by = Vector(0.0, _sign(random) * random.uniform(4.0, 15.0))
    return marks_changed(
        of.pattern, piece, lambda mark: _moved(mark, by) if mark is chosen else mark
    )


def _button_lost(random: Random, of: Sound) -> Pattern | None:
    marks = _marks(of.pattern, MarkKind.BUTTON, MarkKind.BUTTONHOLE, MarkKind.PLACEMENT_LINE)
    if not marks:
        return None
    piece, chosen = random.choice(marks)
    return marks_changed(of.pattern, piece, lambda mark: None if mark is chosen else mark)


def _center_line_turned(random: Random, of: Sound) -> Pattern | None:
    marks = _marks(of.pattern, MarkKind.CENTER_LINE)
    if not marks:
        return None
    piece, chosen = random.choice(marks)
    assert chosen.path is not None
    start, end = chosen.path.start, chosen.path.end
    turn = Transform.turn(_sign(random) * math.radians(random.uniform(2.0, 4.0)), start)
    askew = polyline([start, turn.point(end)])
    return marks_changed(
        of.pattern, piece, lambda mark: replace(mark, path=askew) if mark is chosen else mark
    )


def _placement_moved(random: Random, of: Sound) -> Pattern | None:
    """The placed piece elsewhere, its mark where it was."""
    if not of.pattern.placements:
        return None
    name = random.choice(list(of.pattern.placements))
    placement = of.pattern.placements[name]
    by = Vector(random.uniform(3.0, 15.0), 0.0).turned(random.uniform(0.0, 2 * math.pi))
    onto = placement.onto.then(Transform.shift(by.x, by.y))
    return replace(
        of.pattern,
        placements={**of.pattern.placements, name: replace(placement, onto=onto)},
    )


def _placement_over_the_edge(random: Random, of: Sound) -> Pattern | None:
    """The placed piece and its marks so far to the side that it lies across a seam."""
    if not of.pattern.placements:
        return None
    name = random.choice(list(of.pattern.placements))
    placement = of.pattern.placements[name]
    left, _, right, _ = of.pattern.pieces[placement.host].outline.polygon.bounds
    by_mm = (right - left) * random.uniform(0.6, 0.9)
    center = placement.onto.point(Point(0.0, 0.0)).x
    return placement_moved(of.pattern, name, by_mm if center < (left + right) / 2 else -by_mm, 0.0)


# Work


def _step_removed(random: Random, of: Sound) -> Pattern:
    needed = [each for each in of.pattern.operations if each.does or each.station is Station.FUSING]
    return operation_removed(of.pattern, random.choice(needed).name)


def _any_doing(random: Random, pattern: Pattern) -> Operation:
    return random.choice([each for each in pattern.operations if each.does])


def _step_twice(random: Random, of: Sound) -> Pattern:
    done = random.choice(_any_doing(random, of.pattern).does)
    others = [each for each in of.pattern.operations if done not in each.does]
    return operation_changed(
        of.pattern,
        random.choice(others).name,
        lambda each: replace(each, does=(*each.does, done)),
    )


def _step_does_less(random: Random, of: Sound) -> Pattern:
    step = _any_doing(random, of.pattern)
    left = tuple(name for name in step.does if name != random.choice(step.does))
    if left == step.does:
        left = step.does[1:]
    return operation_changed(of.pattern, step.name, lambda each: replace(each, does=left))


def _step_unknown(random: Random, of: Sound) -> Pattern:
    step = random.choice(of.pattern.operations)
    which = random.choice(("does", "after", "prepares"))
    names = {
        "does": (*step.does, "no-such-seam"),
        "after": (*step.after, "no-such-seam"),
        "prepares": (*step.prepares, "no-such-piece"),
    }
    return operation_changed(
        of.pattern, step.name, lambda each: replace(each, **{which: names[which]})
    )


def _not_fused(random: Random, of: Sound) -> Pattern | None:
    steps = [
        each for each in of.pattern.operations if each.station is Station.FUSING and each.prepares
    ]
    if not steps:
        return None
    step = random.choice(steps)
    gone = random.choice(step.prepares)
    left = tuple(name for name in step.prepares if name != gone)
    return operation_changed(of.pattern, step.name, lambda each: replace(each, prepares=left))


KINDS: dict[str, Change] = {
    "edge lengthened or shortened": _edge_lengthened,
    "corner moved": _corner_moved,
    "edge moved": _edge_moved,
    "facing shortened": _facing_shortened,
    "piece stretched": _piece_stretched,
    "dart leg stretched": _dart_leg_stretched,
    "dart point moved": _dart_point_moved,
    "curve bumped": _bumped,
    "end turned": _end_turned,
    "piece of another size": _piece_of_another_size,
    BODY_SWAPPED: lambda _random, of: of.pattern,
    "seam removed": _seam_removed,
    "finish removed": _finish_removed,
    "placement removed": _placement_removed,
    "layer reversed": _layer_reversed,
    "layer removed": _layer_removed,
    "ease changed": _ease_changed,
    "span moved": _span_moved,
    "side lost": _side_lost,
    "run disordered": _run_disordered,
    "edge used twice": _edge_twice,
    "edge unknown": _unknown_edge,
    "allowance changed": _allowance_changed,
    "notch moved": _match_moved,
    "notch missing": _match_missing,
    "copy removed": _copy_removed,
    "grain turned": _grain_turned,
    "grain moved out": _grain_moved_out,
    "mark moved out": _mark_moved_out,
    "button moved": _button_moved,
    "mark lost": _button_lost,
    "center line turned": _center_line_turned,
    "placement moved": _placement_moved,
    "placement over the edge": _placement_over_the_edge,
    "step removed": _step_removed,
    "step twice": _step_twice,
    "step does less": _step_does_less,
    "step names nothing": _step_unknown,
    "piece not fused": _not_fused,
}

RESHAPING = frozenset(
    (
        "edge lengthened or shortened",
        "corner moved",
        "edge moved",
        "facing shortened",
        "piece stretched",
        "dart leg stretched",
        "dart point moved",
        "piece of another size",
    )
)
"""Kinds that are a fault only if a sewn length no longer agrees."""
