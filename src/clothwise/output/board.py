"""Pieces as they lie on the board of the app: lines with names, and not one color.

Each piece is a `g` of SVG in its own coordinates, one user unit to the millimeter, y turned
downward. Classes say what a line is, `data-` attributes what it belongs to; pens, colors and what
is shown at all are left to the style sheet. What stays the same size on the screen stands in a
`g` of class `steady`.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import chain
from xml.sax.saxutils import escape, quoteattr

from clothwise.geometry import Line, Path, Point, Transform, Vector, polyline
from clothwise.output.board_labels import LabelSpot, label_spots
from clothwise.output.board_words import EdgeOnBoard, edges_on_board
from clothwise.output.bounds import Bounds
from clothwise.output.cut_text import cut_texts
from clothwise.output.numbers import number
from clothwise.output.piece_drawing import NOTCH_BASE_MM, NOTCH_DEPTH_MM
from clothwise.output.piece_lines import DartLines, EdgeKind, NotchMark, PieceLines, piece_lines
from clothwise.output.piece_names import BUTTON_MM
from clothwise.pattern import Mark, MarkKind, Pattern, Piece, SeamCorners
from clothwise.pattern.first_letter import lowered
from clothwise.units import LengthUnit

HANDLE_SHARES = (0.0, 0.25, 0.5, 0.75, 1.0)
"""Where an edge can be taken hold of to draw it anew, its ends included."""

_ARROW_MM = 9.0  # heads of a grainline on the board: larger than on paper, seen from afar


@dataclass(frozen=True)
class PieceOnBoard:
    """A piece to be laid on the board.

    Attributes:
        svg: a `g`, in the coordinates of the piece with y turned downward.
        box: what it covers, in the coordinates of the piece.
        outline: points of its cutting line, x and y in mm, likewise.
        title: what it is called.
        component: which part of the garment it belongs to.
        cut: how often it is cut, and from what.
        edges: its edges in words, in order of travel.
        darts: its darts, by the name that edits know, and how they are called.
    """

    svg: str
    box: Bounds
    outline: tuple[tuple[float, float], ...]
    title: str
    component: str
    cut: str = ""
    edges: tuple[EdgeOnBoard, ...] = ()
    darts: tuple[tuple[str, str], ...] = ()


def board_pieces(
    pattern: Pattern,
    *,
    unit: LengthUnit = LengthUnit.CENTIMETER,
    fabric_titles: Mapping[str, str] | None = None,
    movable: Collection[str] = (),
) -> dict[str, PieceOnBoard]:
    """All pieces of a pattern, by name, in the order they were drafted.

    Args:
        pattern: whose pieces they are.
        unit: in which lengths are told.
        fabric_titles: what fabric roles are called.
        movable: names of the components whose pieces, laid on others, a hand may move there.

    Raises:
        OffsetCollapsed: an edge curves more tightly than its allowance.
    """
    corners = SeamCorners(pattern)
    titles = {role: lowered(title) for role, title in (fabric_titles or {}).items()}
    return {
        name: _piece(piece_lines(pattern, name, corners), pattern, unit, titles, movable)
        for name in pattern.pieces
    }


def size_outlines(pattern: Pattern, size: str, number_of_size: int) -> dict[str, str]:
    """The cutting line of each piece in one size, to lie under the others: one `path` each.

    Raises:
        OffsetCollapsed: an edge curves more tightly than its allowance.
    """
    corners = SeamCorners(pattern)
    found = {}
    for name in pattern.pieces:
        lines = piece_lines(pattern, name, corners)
        closed = lines.fold is None
        data = "".join(board_path(path, closed=closed) for path in lines.cut)
        data += "".join(board_path(leg) for dart in lines.darts for leg in dart.legs)
        found[name] = (
            f'<path class="size size-{number_of_size % 12}" data-size={_quoted(size)} '
            f'data-says={_quoted(f"size {size}")} d="{data}"/>'
        )
    return found


def board_path(path: Path, *, closed: bool = False) -> str:
    """The `d` attribute of a path on the board: to 0.01 mm, y downward."""
    parts = [f"M{_at(path.start)}"]
    for segment in path.segments:
        if isinstance(segment, Line):
            parts.append(f"L{_at(segment.end)}")
        else:
            parts.append(f"C{_at(segment.control1)} {_at(segment.control2)} {_at(segment.end)}")
    return "".join(parts) + ("Z" if closed else "")


def _piece(
    lines: PieceLines,
    pattern: Pattern,
    unit: LengthUnit,
    fabric_titles: Mapping[str, str],
    movable: Collection[str],
) -> PieceOnBoard:
    piece = lines.piece
    edges = edges_on_board(pattern, lines, unit)
    cut = cut_texts(piece, fabric_titles)
    parts = chain(
        _outline(lines),
        _placed(pattern, piece, movable),
        _edges(lines, edges),
        _darts(lines),
        _marks(lines),
        _grain(piece),
        _label(lines, _shortly(cut)),
    )
    head = (
        f'<g class="piece" data-piece={_quoted(piece.name)} '
        f"data-component={_quoted(piece.component)} data-title={_quoted(piece.title)}>"
    )
    outline = tuple((point.x, point.y) for point in lines.outline.points(0.5))
    return PieceOnBoard(
        svg=head + "".join(parts) + "</g>",
        box=_box(outline),
        outline=outline,
        title=piece.title,
        component=piece.component,
        cut="; ".join(cut),
        edges=edges,
        darts=tuple((_dart_key(dart.leg_in), dart.name) for dart in piece.darts),
    )


def _box(outline: tuple[tuple[float, float], ...]) -> Bounds:
    xs, ys = zip(*outline, strict=True)
    return Bounds(min(xs), min(ys), max(xs), max(ys))


def _outline(lines: PieceLines) -> Iterator[str]:
    whole = board_path(lines.outline.path, closed=True)
    if lines.fold is None:
        yield f'<path class="cloth cut" d="{whole}"/>'
        return
    yield f'<path class="cloth" d="{whole}"/>'
    yield f'<path class="cut" d="{"".join(map(board_path, lines.cut))}"/>'
    yield f'<path class="fold" d="{board_path(lines.fold)}"/>'


_EDGE_CLASS = {
    EdgeKind.SEWN: "sewn",
    EdgeKind.TURNED: "turned",
    EdgeKind.CUT: "raw",
    EdgeKind.FOLD: "on-fold",
    EdgeKind.DART_LEG: "leg",
}


def _edges(lines: PieceLines, edges: Iterable[EdgeOnBoard]) -> Iterator[str]:
    for (name, kind, path), said in zip(lines.edges, edges, strict=True):
        handles = ""
        if kind in (EdgeKind.SEWN, EdgeKind.TURNED, EdgeKind.CUT):
            at = (path.point_at(share * path.length) for share in HANDLE_SHARES)
            handles = f' data-handles="{" ".join(map(_at, at))}"'
        yield (
            f'<path class="edge {_EDGE_CLASS[kind]}" data-edge={_quoted(name)} '
            f"data-seam={_quoted(' '.join(said.uses))} "
            f"data-partners={_quoted(' '.join(said.partners))} "
            f'data-mm="{number(path.length, 2)}" '
            f"data-says={_quoted(f'{said.title}, {said.length}')} "
            f'data-meets={_quoted(said.meets)}{handles} d="{board_path(path)}"/>'
        )


def _darts(lines: PieceLines) -> Iterator[str]:
    for dart, of_piece in zip(lines.darts, lines.piece.darts, strict=True):
        mouth = (lines.piece.edge(of_piece.leg_in).start, lines.piece.edge(of_piece.leg_out).end)
        yield (
            f'<g class="dart" data-dart={_quoted(_dart_key(of_piece.leg_in))} '
            f"data-title={_quoted(dart.name)} "
            f'data-apex="{_at(dart.apex)}" data-mouth="{_at(mouth[0].toward(mouth[1], 0.5))}">'
            f"{_dart(dart)}</g>"
        )


def _dart(dart: DartLines) -> str:
    on = "".join(
        board_path(Path(leg.segments[:1])) for leg in dart.legs if len(leg.segments) > 1
    )  # from the cutting line to the mouth; the legs themselves are edges
    drawn_on = f'<path class="leg-on" d="{on}"/>' if on else ""
    return f'{drawn_on}<path class="middle" d="{board_path(dart.middle)}"/>' + _circle(
        "apex", dart.apex, 1.5
    )


def _placed(pattern: Pattern, piece: Piece, movable: Collection[str]) -> Iterator[str]:
    """What is laid on a piece, as it will lie there."""
    for placement in pattern.placements.values():
        if placement.host != piece.name:
            continue
        laid = pattern.laid_piece(placement)
        whole = Path(
            tuple(
                segment
                for path in laid.outline.transformed(placement.onto).edges.values()
                for segment in path.segments
            )
        )
        placed = pattern.piece(placement.piece)
        kind = "placed movable" if placement.component in movable else "placed"
        yield (
            f'<path class="{kind}" data-seam={_quoted(placement.name)} '
            f"data-placed={_quoted(placement.piece)} "
            f"data-component={_quoted(placement.component)} "
            f'data-top="{_at(_top_of(laid, placement.onto))}" '
            f"data-says={_quoted(placed.title)} "
            f'data-meets={_quoted(placement.title)} d="{board_path(whole, closed=True)}"/>'
        )


def _top_of(laid: Piece, onto: Transform) -> Point:
    """The middle of the top of what is laid on."""
    left, _, right, top = laid.outline.polygon.bounds
    return onto.point(Point((left + right) / 2, top))


_MARK_CLASS = {
    MarkKind.CENTER_LINE: "center",
    MarkKind.FOLD_LINE: "fold-line",
    MarkKind.PLACEMENT_LINE: "placing",
    MarkKind.STITCHING_LINE: "stitched",
    MarkKind.CUTTING_LINE: "cut-line",
    MarkKind.BUTTONHOLE: "buttonhole",
}


def _marks(lines: PieceLines) -> Iterator[str]:
    yield '<g class="marks">'
    if lines.notches:
        yield f'<path class="notch" d="{"".join(map(_notch, lines.notches))}"/>'
    for mark in lines.piece.marks:
        yield from _mark(mark)
    yield "</g>"


def _notch(notch: NotchMark) -> str:
    side = notch.inward.left * (NOTCH_BASE_MM / 2)
    corners = (
        notch.on_cut + side,
        notch.on_cut - side,
        notch.on_cut + notch.inward * NOTCH_DEPTH_MM,
    )
    return board_path(polyline(corners), closed=True)


def _mark(mark: Mark) -> Iterator[str]:
    side = f" ({mark.only_side})" if mark.only_side else ""
    says = f" data-says={_quoted(mark.name + side)}"
    if mark.kind is MarkKind.TEXT:
        if mark.middle is not None and mark.path is not None:
            yield _written(mark, mark.middle, mark.path.start_tangent)
        return
    if mark.path is not None:
        data = board_path(mark.path)
        if mark.kind is MarkKind.BUTTONHOLE:
            data += "".join(map(board_path, _bars(mark.path)))
        yield f'<path class="{_MARK_CLASS.get(mark.kind, "line")}"{says} d="{data}"/>'
    if mark.at is not None:
        radius = {
            MarkKind.BUTTON: (mark.size_mm or BUTTON_MM) / 2,
            MarkKind.EYELET: mark.size_mm / 2,
            MarkKind.DRILL_HOLE: 1.5,
        }.get(mark.kind, 1.1)
        name = {MarkKind.BUTTON: "button", MarkKind.EYELET: "eyelet", MarkKind.DOT: "dot"}
        yield _circle(name.get(mark.kind, "drill-hole"), mark.at, radius, says)


def _bars(path: Path) -> Iterator[Path]:
    for end, along in ((path.start, path.start_tangent), (path.end, path.end_tangent)):
        yield Path((Line(end - along.left * 2.0, end + along.left * 2.0),))


def _written(mark: Mark, at: Point, along: Vector) -> str:
    """Words that were asked for, at the size they have on the cloth."""
    x, y = along.x, along.y
    if x < -1e-6 or (abs(x) <= 1e-6 and y < 0):
        x, y = -x, -y
    matrix = " ".join(number(value, 4) for value in (x, -y, y, x))
    return (
        f'<text class="written" transform="matrix({matrix} {_at(at)})" '
        f'font-size="{number(mark.size_mm, 2)}">{escape(_printable(mark.name))}</text>'
    )


def _grain(piece: Piece) -> Iterator[str]:
    start, end = piece.grain.start, piece.grain.end
    along = (end - start).unit
    data = board_path(Path((Line(start, end),)))
    for tip, way in ((end, along), (start, -along)):
        back = tip - way * _ARROW_MM
        side = way.left * (_ARROW_MM * 0.28)
        data += board_path(polyline((back + side, tip, back - side)))
    yield f'<path class="grain" data-says="straight grain" d="{data}"/>'


def _label(lines: PieceLines, cut: str) -> Iterator[str]:
    """Name and cutting instruction, and the places where they may stand: x, y, room, turned."""
    piece = lines.piece
    spots = ";".join(
        f"{_at(spot.at)} {number(spot.width_mm, 1)} {number(spot.height_mm, 1)} {spot.is_turned:d}"
        for spot in _spots(piece)
    )
    first = spots.partition(";")[0].split()
    turn = " rotate(-90)" if first[4] == "1" else ""
    yield (
        f'<g class="label" data-spots="{spots}" '
        f'transform="translate({first[0]} {first[1]}){turn}"><g class="steady">'
        f'<text class="name">{escape(_printable(piece.title))}</text>'
        f'<text class="how-cut">{escape(_printable(cut))}</text></g></g>'
    )


def _shortly(cut: tuple[str, ...]) -> str:
    """How a piece is cut, for its label: from one cloth; that there are others."""
    if len(cut) < 2:
        return "".join(cut)
    return f"{cut[0]}, and from {len(cut) - 1} more cloth{'' if len(cut) == 2 else 's'}"


def _spots(piece: Piece) -> tuple[LabelSpot, ...]:
    marks = [mark.path for mark in piece.marks if mark.path is not None]
    marks += [piece.edge(leg) for dart in piece.darts for leg in (dart.leg_in, dart.leg_out)]
    grain = Path((Line(piece.grain.start, piece.grain.end),))
    return label_spots(piece.outline.flattened(0.5), marks, (grain,))


def _dart_key(leg_in: str) -> str:
    """How a design writes a dart: the name of its first leg without the end."""
    return leg_in.removesuffix("-in")


def _circle(name: str, at: Point, radius_mm: float, more: str = "") -> str:
    return (
        f'<circle class="{name}" cx="{number(at.x, 2)}" cy="{number(-at.y, 2)}" '
        f'r="{number(radius_mm, 2)}"{more}/>'
    )


def _at(point: Point) -> str:
    return f"{number(point.x, 2)} {number(-point.y, 2)}"


def _quoted(text: str) -> str:
    return quoteattr(_printable(text))


def _printable(text: str) -> str:
    """Control characters cannot stand in XML at all, not even escaped."""
    return "".join(letter for letter in text if letter.isprintable())
