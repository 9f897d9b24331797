"""A picture for each step, derived from the seam graph.

    darts            pieces side by side, wrong side up, the legs to be sewn
    one edge each    right sides together, the upper piece drawn a little off so that both are seen
    edges of one     the piece folded so that its edges meet
    joined edges     the two sides opened flat, facing each other across a gap
    many layers      each layer by itself, numbered from the lowest to the uppermost
    hems             wrong side up, the hem turned up
    placements       host and piece, right side up

Only pieces that the step works on, or shows, are drawn, in the state earlier steps left them in.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import replace

from shapely.geometry import LineString, Polygon

from clothwise.geometry import Point, Transform, Vector, polyline, straight
from clothwise.pattern.graph import (
    EdgeRef,
    Finish,
    FinishKind,
    Placement,
    Pressing,
    Run,
    Seam,
    SeamKind,
    Sides,
)
from clothwise.pattern.junctions import SeamCorners
from clothwise.pattern.mark import Mark, MarkKind
from clothwise.pattern.operation import Highlight, Operation, Station
from clothwise.pattern.pattern import Pattern, Use, runs_of
from clothwise.pattern.piece import Ply
from clothwise.work.assembly import (
    BENT_SHARE,
    Cloth,
    Sheet,
    Strip,
    aligned,
    apart,
    joined_sheets,
    sheet,
    stray,
    strip,
)
from clothwise.work.order import OrderOfWork
from clothwise.work.picture import Arrow, Button, Face, LineRole, Picture, Trace
from clothwise.work.shape import shape_of, tidied
from clothwise.work.stage import Layer, Stage, beside_each_other, shortened, window_around
from clothwise.work.steps import pieces_worked_on
from clothwise.work.wearing import Part, parts

OFF_SHARE = 0.03
"""How far an upper piece is drawn off the lower one, as a share of the picture; our own choice."""

REACH_MM = 240.0
"""At least this much cloth is shown around the edges that are sewn; our own choice."""

SPARED_SHARE = 0.12
"""A piece that would lose less than this share of itself is shown whole; our own choice."""

KEEP_MM = 260.0
"""Of a very long strip, what is shown at each end; our own choice."""


def scenes(pattern: Pattern, order: OrderOfWork) -> tuple[Picture, ...]:
    """A picture for each operation of an order of work, in its sequence."""
    corners = SeamCorners(pattern)
    done: set[str] = set()
    found = []
    for operation in order.operations:
        found.append(scene(pattern, operation, done, corners))
        done.update(operation.does)
    return tuple(found)


def scene(
    pattern: Pattern,
    operation: Operation,
    done: Iterable[str],
    corners: SeamCorners | None = None,
) -> Picture:
    """The picture of one operation after the seams, finishes and placements named in `done`."""
    director = _Director(Cloth(pattern, set(done), corners), operation)
    stage, note = director.stage()
    if _shows_one_of_two(stage):
        note = f"{note} One of two is shown.".strip()
    return shortened(stage, KEEP_MM).picture(operation.title, note)


def _shows_one_of_two(stage: Stage) -> bool:
    """True if some piece is drawn once that is cut twice."""
    drawn = Counter(layer.sheet.name for layer in stage.layers if layer.words)
    doubled = Counter(layer.sheet.name for layer in stage.layers)
    pieces = {layer.sheet.name: layer.sheet.shape.piece for layer in stage.layers}
    return any(
        doubled[name] == 1
        and pieces[name].fold_edge is None
        and sum(copy.ply is Ply.SHELL for copy in pieces[name].copies) > 1
        for name in drawn
    )


class _Director:
    """Sets up the stage for one operation."""

    def __init__(self, cloth: Cloth, operation: Operation) -> None:
        self._cloth, self._operation = cloth, operation
        self._pattern = cloth.pattern

    def stage(self) -> tuple[Stage, str]:
        uses = [self._pattern.use(name) for name in self._operation.does]
        if not uses:
            return self._without_uses()
        if all(isinstance(use, Seam) and use.kind is SeamKind.DART for use in uses):
            return self._darts(uses), ""
        stages: list[Stage] = []
        notes: list[str] = []
        shown: set[str] = set()
        for use in uses:
            if shown and _pieces(use) & shown:
                stages[-1] = self._also(stages[-1], use)
                continue
            stage, note = self._use(use)
            stages.append(stage)
            notes.append(note)
            shown |= _pieces(use)
        return (beside_each_other(stages) if len(stages) > 1 else stages[0]), notes[0]

    def _use(self, use: Use) -> tuple[Stage, str]:
        if isinstance(use, Placement):
            return self._placed(use)
        if isinstance(use, Finish):
            return self._finished(use)
        return self._sewn(use)

    # -- steps that carry out nothing of the seam graph

    def _without_uses(self) -> tuple[Stage, str]:
        operation = self._operation
        names = pieces_worked_on(self._pattern, operation)
        if operation.highlight is Highlight.MARKS:
            return self._marked(names), ""
        is_fusing = operation.station is Station.FUSING
        stages = []
        for name in names:
            piece = sheet(self._cloth, name)
            layer = self._layer(piece.turned_over() if is_fusing else piece)
            stage = Stage((replace(layer, fused=is_fusing),))
            role = LineRole.SEWN_NOW if operation.station is Station.MACHINE else LineRole.MEANT
            for prepared in operation.prepares:
                owner, _, edge = prepared.partition(".")
                if owner == name and edge:
                    stage = stage.adding(_line(piece.run(Run((EdgeRef(name, edge),))), role))
            stages.append(stage.unfolded())
        return beside_each_other(stages), ""

    def _marked(self, names: Sequence[str]) -> Stage:
        """Both sides of the pieces as they hang together, with their marks."""
        sheets = joined_sheets(self._cloth, names)
        sides = {
            mark.only_side
            for one in sheets
            for mark in one.shape.piece.marks
            if mark.only_side and mark.kind in (MarkKind.BUTTON, MarkKind.BUTTONHOLE)
        }
        if not sides:
            return self._with(sheets, marks="any").unfolded()
        drawn = sheets[0].shape.piece.drawn_side.value
        other = "right" if drawn == "left" else "left"
        mirrored = [one.moved(Transform.mirror()) for one in sheets]
        here, there = self._side(sheets, drawn), self._side(mirrored, other)
        return beside_each_other([there, here] if drawn == "left" else [here, there])

    def _side(self, sheets: Sequence[Sheet], side: str) -> Stage:
        """Sheets of one side of the wearer, named for it."""
        first, *others = self._with(sheets, marks=side).layers
        named = replace(first, words=f"wearer's {side}")
        return Stage((named, *(replace(other, words="") for other in others)))

    # -- seams

    def _darts(self, uses: Sequence[Use]) -> Stage:
        names = tuple(dict.fromkeys(name for use in uses for name in _in_order(use)))
        stages = []
        for name in names:
            piece = sheet(self._cloth, name).turned_over()
            stage = Stage((self._layer(piece),))
            for use in uses:
                legs = [piece.run(run) for run in runs_of(use) if name in run.pieces]
                if len(legs) < 2:
                    continue
                stage = stage.adding(*(_line(leg, LineRole.SEWN_NOW) for leg in legs))
                stage = stage.adding(*_fold_over(legs[0][0], legs[1][0], legs[0][-1]))
            stages.append(stage.unfolded())
        return beside_each_other(stages)

    def _sewn(self, seam: Seam) -> tuple[Stage, str]:
        layers = [layer.run for layer in seam.layers]
        if len(layers) > 2:
            return self._stacked(seam), "Laid on each other in this order."
        if layers[0] == layers[1]:
            return self._across_center(seam), "One side on the other, right sides together."
        if set(layers[0].pieces) == set(layers[1].pieces) and len(layers[0].pieces) == 1:
            return self._folded(seam), "Folded right sides together."
        if self._lie_on_each_other(seam):
            return self._laid(seam)
        return self._facing(seam), "Opened flat; sewn right sides together."

    def _lie_on_each_other(self, seam: Seam) -> bool:
        """True if no edge has to be bent to the other's shape, and the picture is plain.

        It is for single pieces, and for facings, which lie on what they face.
        """
        one, two = (strip(self._cloth, seam, layer.run) for layer in seam.layers)
        two = aligned(one, two, on_top=True)
        if stray(one.points, two.points) > BENT_SHARE:
            return False
        if len(one.sheets) == 1 and len(two.sheets) == 1:
            return True
        its_parts = parts(self._pattern)
        return all(its_parts.get(part.name) is Part.INSIDE for part in two.sheets)

    def _laid(self, seam: Seam) -> tuple[Stage, str]:
        """The layer on the fold, else the first, below; the other on it, wrong side up."""
        below, above = seam.layers[0].run, seam.layers[1].run
        if not self._on_fold(below) and self._on_fold(above):
            below, above = above, below
        lower = strip(self._cloth, seam, below)
        upper = aligned(lower, strip(self._cloth, seam, above), on_top=True).turned_over()
        over, under = (self._title(one.run.pieces[0]) for one in (upper, lower))
        note = f"{over} on {under[:1].lower()}{under[1:]}, right sides together."
        stage = self._offset_on(seam, lower, upper)
        if len(lower.sheets) + len(upper.sheets) > 2:
            reach = max(REACH_MM, 0.8 * _extent(lower.points))
            stage = stage.cropped(window_around(lower.points, reach), SPARED_SHARE)
        return stage.unfolded(), note

    def _title(self, piece: str) -> str:
        return self._pattern.piece(piece).title

    def _offset_on(self, seam: Seam, lower: Strip, upper: Strip) -> Stage:
        left, bottom, right, top = lower.polygon.union(upper.polygon).bounds
        off = _off(right - left, top - bottom)
        fold = upper.fold_end or lower.fold_end
        inward = fold[1] if fold and upper.fold_end and lower.fold_end else -upper.outward
        upper = upper.moved(Transform.shift(inward.x * off, inward.y * off))
        stage = self._with((*lower.sheets, *upper.sheets))
        return stage.adding(*self._sewing(seam, upper))

    def _across_center(self, seam: Seam) -> Stage:
        """The same run of both sides: the one side laid on the other."""
        lower = strip(self._cloth, seam, seam.layers[0].run)
        stage = self._offset_on(seam, lower, lower.turned_over())
        folds = [one.fold for one in lower.sheets if one.fold]
        return stage.adding(*(_line(fold, LineRole.FOLD) for fold in folds))

    def _folded(self, seam: Seam) -> Stage:
        """A piece folded so that two of its edges lie on each other."""
        lower = sheet(self._cloth, seam.layers[0].run.pieces[0])
        mirror, half, crease = _folding(lower, seam.layers[0].run, seam.layers[1].run)
        upper = lower.moved(mirror).turned_over()
        inside = tidied(lower.polygon.intersection(half))
        left, bottom, right, top = inside.bounds
        off = _off(right - left, top - bottom)
        toward = _toward(half, crease) * off
        upper = upper.moved(Transform.shift(toward.x, toward.y))
        over = tidied(upper.polygon.intersection(half))
        below = self._on_half(self._layer(lower), half, inside)
        above = self._on_half(self._layer(upper), half, over)
        stage = Stage((below, replace(above, words="")))
        points = upper.run(seam.layers[1].run)
        ticks = self._notches(seam, 1, (upper,))
        return stage.adding(_line(points, LineRole.SEWN_NOW), *ticks, _crease(crease, inside))

    def _on_half(self, layer: Layer, half: Polygon, area: Polygon) -> Layer:
        cropped = Stage((layer,)).cropped(half)
        return replace(cropped.layers[0], polygon=area) if cropped.layers else layer

    def _facing(self, seam: Seam) -> Stage:
        """Both sides of the seam opened flat, the edges facing each other."""
        below, above = seam.layers[0].run, seam.layers[1].run
        still = strip(self._cloth, seam, below)
        size = _extent(still.points)
        other = aligned(still, strip(self._cloth, seam, above), on_top=False)
        other = apart(still, other, max(0.12 * size, 30.0))
        stage = self._with((*still.sheets, *other.sheets))
        stage = stage.adding(*self._sewing(seam, still), *self._sewing(seam, other, 1))
        stage = stage.adding(*self._meeting(seam, still, other))
        window = window_around((*still.points, *other.points), max(REACH_MM, 0.95 * size))
        return stage.cropped(window, SPARED_SHARE).unfolded()

    def _stacked(self, seam: Seam) -> Stage:
        """Each layer by itself, from the lowest to the uppermost."""
        base = strip(self._cloth, seam, seam.layers[0].run)
        caught = [n for n, layer in enumerate(seam.layers) if layer.span is not None]
        full = [n for n, layer in enumerate(seam.layers) if n and layer.span is None]
        stages = []
        for place, number in enumerate([0, *self._outermost(seam, caught), *full], start=1):
            one = base
            if number:
                one = aligned(base, strip(self._cloth, seam, seam.layers[number].run), on_top=True)
                one = one.turned_over() if number in full else one
            layers = self._with(one.sheets).layers
            stage = Stage(
                tuple(
                    replace(layer, words=f"{place} {layer.words}" if layer.words else "")
                    for layer in layers
                )
            ).adding(*self._sewing(seam, one, number))
            reach = max(REACH_MM * 0.8, 0.8 * _extent(one.points))
            stages.append(stage.cropped(window_around(one.points, reach), SPARED_SHARE).unfolded())
        return beside_each_other(stages)

    def _outermost(self, seam: Seam, caught: list[int]) -> list[int]:
        """Of layers that were turned together before, only the last is seen."""
        seen = []
        for number in caught:
            mine = set(seam.layers[number].run.pieces)
            later = {
                name for other in caught if other > number for name in seam.layers[other].run.pieces
            }
            hidden = any(
                other.pressing is Pressing.TURNED
                and other.name in self._cloth.done
                and mine & _pieces(other)
                and later & _pieces(other)
                for other in self._pattern.seams.values()
            )
            if not hidden:
                seen.append(number)
        return seen

    # -- finishes and placements

    def _finished(self, finish: Finish) -> tuple[Stage, str]:
        if finish.kind in (FinishKind.SINGLE_HEM, FinishKind.DOUBLE_HEM):
            return self._hemmed(finish)
        role = {FinishKind.BOUND: LineRole.BOUND, FinishKind.OVERLOCKED: LineRole.NEATENED}.get(
            finish.kind, LineRole.SEWN_NOW
        )
        one = strip(self._cloth, finish, finish.run)
        stage = self._with(one.sheets)
        stage = stage.adding(_line(one.points, role))
        window = window_around(one.points, max(REACH_MM, 0.9 * _extent(one.points)))
        note = "Drawn opened flat." if finish.run.closed else ""
        return stage.cropped(window, SPARED_SHARE).unfolded(), note

    def _hemmed(self, finish: Finish) -> tuple[Stage, str]:
        """Wrong side up, the hem turned up; a tube is drawn lying flat."""
        turned = Cloth(self._pattern, {*self._cloth.done, finish.name}, self._cloth.corners)
        one = strip(turned, finish, finish.run).turned_over()
        layers: list[Layer] = []
        lines: list[Trace] = []
        for part in one.sheets:
            layers.append(self._layer(part))
            edge = part.run(finish.run)
            to_left = is_left_of_run(finish.run, part)
            band = _band(part, edge, finish.depth_mm, to_left=to_left)
            up = replace(part, face=Face.RIGHT)
            layers.append(Layer(up, band))
            lines += _parallel(part, edge, finish.depth_mm - 2.0, to_left=to_left)
        stage = Stage(tuple(layers)).adding(*lines)
        tube = self._tube(finish)
        if tube and len(one.sheets) == 1:
            first, second = tube.layers[0].run, tube.layers[1].run
            _, half, crease = _folding(one.sheets[0], first, second)
            inside = tidied(one.sheets[0].polygon.intersection(half))
            stage = replace(stage.cropped(half), cuts=()).adding(_crease(crease, inside))
            return stage, "Wrong side out, lying flat."
        window = window_around(one.points, max(REACH_MM, 0.6 * _extent(one.points)))
        return stage.cropped(window, SPARED_SHARE).unfolded(), "Wrong side up."

    def _tube(self, finish: Finish) -> Seam | None:
        """The seam that has closed the piece of a closed run to a tube."""
        if not finish.run.closed or len(finish.run.pieces) != 1:
            return None
        name = finish.run.pieces[0]
        for seam in self._pattern.seams.values():
            if (
                seam.name in self._cloth.done
                and len(seam.layers) == 2
                and all(layer.run.pieces == (name,) for layer in seam.layers)
                and seam.layers[0].run != seam.layers[1].run
                and seam.kind is not SeamKind.DART
            ):
                return seam
        return None

    def _placed(self, placement: Placement) -> tuple[Stage, str]:
        host = sheet(self._cloth, placement.host)
        done = Cloth(self._pattern, {*self._cloth.done, placement.name}, self._cloth.corners)
        piece = _onto(_laid(done, placement), host, placement)
        stage = Stage((self._layer(host), self._layer(piece)))
        sewn = self._pattern.laid_run(placement)
        stage = stage.adding(_line(piece.run(sewn), LineRole.SEWN_NOW))
        left, bottom, right, top = piece.polygon.bounds
        corners = (Point(left, bottom), Point(right, top))
        return stage.cropped(window_around(corners, 1.3 * REACH_MM)).unfolded(), "Right side up."

    # -- what lies on a sheet

    def _layer(self, of: Sheet, marks: str = "") -> Layer:
        """A sheet with its sewn seams, its marks and, right side up, what was placed on it."""
        shape = of.shape
        lines = [(tuple(of.points(dart)), LineRole.SEWN) for dart in shape.darts]
        for edge, points in shape.edges.items():
            for use in self._pattern.uses_of(of.name, edge):
                if use.name in self._cloth.done and isinstance(use, Seam):
                    lines.append((tuple(of.points(points)), LineRole.SEWN))
        buttons: list[Button] = []
        for mark in shape.piece.marks:
            role = self._mark_role(of, mark, marks)
            if mark.path and role:
                lines.append((tuple(of.points(shape.moved_path(mark.path).flattened())), role))
            if mark.at and mark.kind is MarkKind.BUTTON and _is_shown(mark, marks):
                buttons.append(Button(of.to.point(shape.move(mark.at)), mark.size_mm))
        return Layer(of, of.polygon, tuple(lines), tuple(buttons), words=shape.piece.title)

    def _mark_role(self, of: Sheet, mark: Mark, marks: str) -> LineRole | None:
        if mark.kind is MarkKind.FOLD_LINE:
            return LineRole.FOLD
        if mark.kind is MarkKind.PLACEMENT_LINE:
            waiting = [
                placement
                for placement in self._pattern.placements.values()
                if placement.host == of.name and placement.name not in self._cloth.done
            ]
            # Where a step brings out marks, so are the lines that its own component drew.
            is_own = marks == "any" and self._operation.component == of.shape.piece.component
            return LineRole.MARK if waiting or is_own else None
        if mark.kind is MarkKind.BUTTONHOLE and _is_shown(mark, marks):
            return LineRole.BUTTONHOLE
        return None

    def _with(self, sheets: Sequence[Sheet], marks: str = "") -> Stage:
        """Sheets with what earlier steps sewed onto them."""
        layers: list[Layer] = []
        for one in sheets:
            layers.append(self._layer(one, marks))
            for placement in self._pattern.placements.values():
                if placement.host != one.name or placement.name not in self._cloth.done:
                    continue
                piece = _onto(_laid(self._cloth, placement), one, placement)
                if marks in ("left", "right") and placement.sides.value in ("left", "right"):
                    if placement.sides.value != marks:
                        continue
                    kept = (True, True)
                else:
                    kept = self._kept(placement, one)
                if one.face is Face.RIGHT:
                    layers.append(Layer(piece, piece.polygon, kept=kept))
                else:
                    last = layers[-1]
                    layers[-1] = replace(
                        last,
                        lines=(*last.lines, (_ring(piece.polygon), LineRole.SEWN)),
                        kept_lines=(*last.kept_lines, (len(last.lines), kept)),
                    )
        return Stage(tuple(layers))

    def _kept(self, placement: Placement, host: Sheet) -> tuple[bool, bool]:
        """Whether a placed piece is on the copy of its host that is shown, and on the other."""
        if placement.sides not in (Sides.LEFT, Sides.RIGHT):
            return True, True
        is_drawn_copy = host.to.is_mirroring == (host.face is Face.WRONG)
        drawn = self._pattern.piece(host.name).drawn_side.value == placement.sides.value
        return drawn == is_drawn_copy, drawn != is_drawn_copy

    # -- what is sewn

    def _sewing(self, seam: Seam, on: Strip, layer: int | None = None) -> list[Trace]:
        """The edge that is sewn on one strip, and its notches."""
        if layer is None:
            layer = next(n for n, one in enumerate(seam.layers) if one.run == on.run)
        return [_line(on.points, LineRole.SEWN_NOW), *self._notches(seam, layer, on.sheets)]

    def _notches(self, seam: Seam, layer: int, sheets: Sequence[Sheet]) -> list[Trace]:
        run = seam.layers[layer].run
        found = []
        for match in seam.matches:
            at_mm = match.at_mm[layer] if layer < len(match.at_mm) else None
            if at_mm is None or match.notch.value not in ("single", "double"):
                continue
            spot = self._pattern.spot(run, at_mm)
            for one in sheets:
                if one.name == spot.edge.piece:
                    found += self._ticks(one, spot.edge, spot.point, spot.along, match.notch.cuts)
                    break
        return found

    def _ticks(self, of: Sheet, edge: EdgeRef, at: Point, along: Vector, cuts: int) -> list[Trace]:
        travel = -along if edge.reverse else along
        length = max(self._pattern.allowance(of.name, edge.edge), 8.0)
        found = []
        for number in range(cuts):
            place = at + travel * (6.0 * (number - (cuts - 1) / 2))
            foot = of.to.point(of.shape.move(place))
            outward = of.to.vector(-travel.left)
            found.append(Trace(straight(foot, foot + outward * length), LineRole.NOTCH, of.name))
        return found

    def _also(self, stage: Stage, use: Use) -> Stage:
        """The edges of a further use, on the pieces that are there already.

        Of two that lie on each other, only the upper one is drawn.
        """
        left, bottom, right, top = stage.bounds
        near = 2 * _off(right - left, top - bottom)
        drawn: list[LineString] = []
        for layer in reversed(stage.layers):
            for run in runs_of(use):
                points = layer.sheet.run(run)
                if len(points) < 2:
                    continue
                for trace in _clipped(_line(points, LineRole.SEWN_NOW), layer.polygon.buffer(1.0)):
                    line = LineString([(p.x, p.y) for p in trace.path.flattened()])
                    if all(line.hausdorff_distance(other) > near for other in drawn):
                        drawn.append(line)
                        stage = stage.adding(trace)
        return stage

    def _meeting(self, seam: Seam, still: Strip, other: Strip) -> list[Trace]:
        """Lines between places of two strips that will lie on each other."""
        pairs = [(still.points[0], other.points[0]), (still.points[-1], other.points[-1])]
        for match in seam.matches:
            first, second = match.at_mm[0], match.at_mm[1]
            if first is None or second is None:
                continue
            one, two = self._place(still, first), self._place(other, second)
            if one and two:
                pairs.append((one, two))
        return [Trace(straight(a, b), LineRole.MATCHED) for a, b in pairs if not a.is_close(b, 1.0)]

    def _place(self, on: Strip, at_mm: float) -> Point | None:
        spot = self._pattern.spot(on.run, at_mm)
        for one in on.sheets:
            if one.name == spot.edge.piece:
                return one.to.point(one.shape.move(spot.point))
        return None

    def _on_fold(self, run: Run) -> bool:
        return any(self._pattern.piece(name).fold_edge for name in run.pieces)


def is_left_of_run(run: Run, of: Sheet) -> bool:
    """True if the cloth of a sheet lies to the left of the run in the picture."""
    first = next(ref for ref in run.edges if ref.piece == of.name)
    return first.reverse == of.to.is_mirroring


def _pieces(use: Use) -> set[str]:
    names = {edge.piece for run in runs_of(use) for edge in run.edges}
    return names | {use.host} if isinstance(use, Placement) else names


def _in_order(use: Use) -> list[str]:
    return [edge.piece for run in runs_of(use) for edge in run.edges]


def _line(points: Sequence[Point], role: LineRole) -> Trace:
    return Trace(polyline(points), role)


def _extent(points: Sequence[Point]) -> float:
    xs, ys = [p.x for p in points], [p.y for p in points]
    return max(max(xs) - min(xs), max(ys) - min(ys))


def _ring(polygon: Polygon) -> tuple[Point, ...]:
    return tuple(Point(x, y) for x, y in polygon.exterior.coords)


def _off(width: float, height: float) -> float:
    """How far an upper piece is drawn off, less on narrow ones."""
    return min(OFF_SHARE * max(width, height), 0.12 * min(width, height))


def _fold_over(first: Point, second: Point, apex: Point) -> list[Arrow]:
    """An arrow from one leg of a dart to the other, just inside its mouth."""
    inside = 0.12
    return [Arrow(second.toward(apex, inside), first.toward(apex, inside))]


def _folding(of: Sheet, first: Run, second: Run) -> tuple[Transform, Polygon, tuple[Point, Point]]:
    """The fold that brings the second run onto the first.

    Returns the mirroring, the half plane on the side of the first run, and the fold line.
    """
    one, two = of.run(first), of.run(second)
    start, end = one[0].toward(two[0], 0.5), one[-1].toward(two[-1], 0.5)
    if start.distance(end) < 1.0:
        # Edges that start at the fold, as the ends of a cuff, are apart at their other ends.
        across = (two[0] - one[0], two[-1] - one[-1])
        end = start + max(across, key=lambda step: step.length).left
    along = (end - start).unit
    reach = 4000.0
    side = along.left if (one[0] - start).dot(along.left) > 0 else -along.left
    corners = (
        start - along * reach,
        start + along * reach,
        start + along * reach + side * reach,
        start - along * reach + side * reach,
    )
    half = Polygon([(p.x, p.y) for p in corners])
    return Transform.mirror(start, along), half, (start - along * reach, start + along * reach)


def _toward(half: Polygon, crease: tuple[Point, Point]) -> Vector:
    """Square to a fold line, out of the half plane, 1 mm long."""
    along = (crease[1] - crease[0]).unit
    center = half.centroid
    inward = Point(center.x, center.y) - crease[0]
    return -along.left if inward.dot(along.left) > 0 else along.left


def _crease(crease: tuple[Point, Point], inside: Polygon) -> Trace:
    line = LineString([(p.x, p.y) for p in crease]).intersection(inside.buffer(0.5))
    points = [Point(x, y) for x, y in line.coords]
    return _line(points, LineRole.FOLD)


def _drawn_on(edge: list[Point]) -> LineString:
    """An edge, drawn on at both ends beyond any allowance."""
    head = edge[0] + (edge[0] - edge[1]).unit * 60.0
    tail = edge[-1] + (edge[-1] - edge[-2]).unit * 60.0
    return LineString([(p.x, p.y) for p in (head, *edge, tail)])


def _band(of: Sheet, edge: list[Point], depth_mm: float, *, to_left: bool) -> Polygon:
    """The cloth within a depth of an edge."""
    line = _drawn_on(edge)
    wide = line.buffer(depth_mm if to_left else -depth_mm, single_sided=True)
    return tidied(wide.intersection(of.polygon))


def _parallel(of: Sheet, edge: list[Point], depth_mm: float, *, to_left: bool) -> list[Trace]:
    """The line at a depth inside an edge, as far as there is cloth."""
    line = _drawn_on(edge)
    inner = line.offset_curve(depth_mm if to_left else -depth_mm).intersection(of.polygon)
    parts = [inner] if isinstance(inner, LineString) else list(inner.geoms)
    return [
        _line([Point(x, y) for x, y in part.coords], LineRole.SEWN_NOW)
        for part in parts
        if part.length > 5.0
    ]


def _clipped(trace: Trace, window: Polygon) -> list[Trace]:
    line = LineString([(p.x, p.y) for p in trace.path.flattened()]).intersection(window)
    parts = [line] if isinstance(line, LineString) else list(line.geoms)
    return [
        _line([Point(x, y) for x, y in part.coords], trace.role)
        for part in parts
        if part.length > 5.0
    ]


def _is_shown(mark: Mark, marks: str) -> bool:
    """Whether a button or buttonhole belongs into a picture of the marks of a side, or of any."""
    return marks == "any" or (marks != "" and mark.only_side in ("", marks))


def _laid(cloth: Cloth, placement: Placement) -> Sheet:
    """A placed piece with the outline that it has on its host."""
    if placement.shape is None:
        return sheet(cloth, placement.piece)
    piece = cloth.pattern.laid_piece(placement)
    return Sheet(shape_of(piece), piece.outline.polygon)


def _onto(piece: Sheet, host: Sheet, placement: Placement) -> Sheet:
    """A placed piece where it lies on its host, whose darts may be closed."""
    onto = piece.moved(placement.onto)
    left, bottom, right, top = onto.polygon.bounds
    middle = Point((left + right) / 2, (bottom + top) / 2)
    step = host.shape.move(middle) - middle
    return replace(onto.moved(Transform.shift(step.x, step.y)).moved(host.to), face=host.face)
