"""Pockets that hang below the waist: the hand goes in, and reaches down to the bottom.

A placed piece is a pocket if part of its outline is not stitched to the host: that is its opening.
If that hangs below what is stitched, the piece is a flap. A bag with an edge `mouth` is a pocket
inside the garment.
Pockets on the upper body are for a pen or for show; the other hand gets there anyway.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from clothwise.checks.check_type import Check
from clothwise.checks.derived import Derived
from clothwise.checks.levels import HangingPiece, depth_of, hip_pieces
from clothwise.checks.texts import cm
from clothwise.geometry import Path, Point
from clothwise.pattern import Body, Finding, Placement, Severity

HAND_EASE_MM = 40.0
"""The opening is larger round than the hand over its knuckles: the thumb goes in too (common
practice, no source: half the hand and 2 cm, measured across)."""

NAPE_ABOVE_SHOULDER_SHARE = 0.037
"""The shoulder point lies below the nape by this share of the height: mean of the survey (1,595
women, nape 6.1 cm higher, sd 1.3 cm; computed by us)."""

FLAP_MM = 5.0
"""Free edges that hang lower than the stitched ones by more than this make a flap; our choice."""

MOUTH = "mouth"
"""The edge of a pocket bag along the opening; that of the garment beside it is as long."""

STRAIGHTENED_MM = 20.0
"""A hanging arm is straight, and shorter than measured over the bent elbow; as the estimate of
`arm_length` reckons."""


@dataclass(frozen=True)
class _Pocket:
    """A pocket on a piece that hangs from the waist.

    `opening` are the edges that are not stitched, where they lie on the host; depths are below the
    waist.
    """

    placement: Placement
    title: str
    opening: tuple[Path, ...]
    opening_depth_mm: float
    bottom_depth_mm: float
    bottom: Point

    @property
    def mouth_mm(self) -> float:
        """The opening all round: along the pocket, and back across the host."""
        across = self.opening[0].start.distance(self.opening[-1].end)
        return sum(path.length for path in self.opening) + across

    @property
    def at(self) -> Point:
        """The middle of the opening."""
        return self.opening[0].start.toward(self.opening[-1].end, 0.5)


def wrist_below_waist_mm(body: Body) -> float:
    """How far below the waist the wrist hangs beside the body.

    Source: geometry; where the shoulder point lies, see `NAPE_ABOVE_SHOULDER_SHARE`.
    """
    nape = body["back_neck_height"] - body["waist_height"]
    shoulder = nape - NAPE_ABOVE_SHOULDER_SHARE * body["height"]
    return body["arm_length"] - STRAIGHTENED_MM - shoulder


def fingertips_below_waist_mm(body: Body) -> float:
    """How far below the waist the fingertips hang.

    A hand is about as long as it is round over the knuckles: our own choice (decision 0012).
    """
    return wrist_below_waist_mm(body) + body["hand_girth"]


def pocket_openings(derived: Derived) -> Iterator[Finding]:
    """Pockets whose opening is too narrow for the hand."""
    body = derived.body
    if body is None:
        return
    needed = body["hand_girth"] + HAND_EASE_MM
    for pocket in _pockets(derived):
        if pocket.mouth_mm >= needed - 1e-6 or pocket.bottom_depth_mm <= 0:
            continue
        yield Finding(
            code="POCKET-OPENING",
            severity=Severity.WARNING,
            message=f"The opening of {pocket.title} measures {cm(pocket.mouth_mm / 2)} across, "
            f"too little for a hand of {cm(body['hand_girth'])} round.",
            remedy="Widen the pocket, or leave more of its edge open.",
            piece=pocket.placement.host,
            seam=pocket.placement.name,
            measured=cm(pocket.mouth_mm / 2),
            allowed=f"at least {cm(needed / 2)}",
            at=pocket.at,
        )


def pocket_reach(derived: Derived) -> Iterator[Finding]:
    """Pockets whose opening hangs below the wrist, or whose bottom no finger reaches."""
    body = derived.body
    if body is None:
        return
    wrist, fingertips = wrist_below_waist_mm(body), fingertips_below_waist_mm(body)
    for pocket in _pockets(derived):
        if pocket.opening_depth_mm > wrist:
            yield Finding(
                code="POCKET-REACH",
                severity=Severity.WARNING,
                message=f"The opening of {pocket.title} lies {cm(pocket.opening_depth_mm)} below "
                f"the waist, the wrist of the hanging arm {cm(wrist)}: one must bend for it.",
                remedy="Move the pocket up.",
                piece=pocket.placement.host,
                seam=pocket.placement.name,
                measured=cm(pocket.opening_depth_mm),
                allowed=f"at most {cm(wrist)} below the waist",
                at=pocket.at,
            )
        elif pocket.bottom_depth_mm > fingertips:
            yield Finding(
                code="POCKET-REACH",
                severity=Severity.WARNING,
                message=f"The bottom of {pocket.title} lies {cm(pocket.bottom_depth_mm)} below the "
                f"waist, the fingertips of the hanging arm {cm(fingertips)}: what falls to the "
                "bottom cannot be reached.",
                remedy="Move the pocket up, or make it shallower.",
                piece=pocket.placement.host,
                seam=pocket.placement.name,
                measured=cm(pocket.bottom_depth_mm),
                allowed=f"at most {cm(fingertips)} below the waist",
                at=pocket.bottom,
            )


def _pockets(derived: Derived) -> Iterator[_Pocket]:
    hanging = {part: each for each in hip_pieces(derived) for part in each.parts}
    placements = derived.pattern.placements.values()
    times = Counter((each.piece, each.host) for each in placements)
    for placement in placements:
        if times[placement.piece, placement.host] > 1:
            continue  # a band, stitched along several lines
        host = hanging.get(placement.host)
        opening = _opening(derived, placement) if host else ()
        if host is not None and opening and not _is_flap(derived, placement, host, opening):
            yield _pocket(derived, placement, host, opening)


def _is_flap(
    derived: Derived, placement: Placement, host: HangingPiece, opening: tuple[Path, ...]
) -> bool:
    """True if the free edges hang from the stitched ones."""
    laid = derived.pattern.laid_piece(placement)
    stitched = [
        laid.edge(edge.edge).transformed(placement.onto)
        for edge in derived.pattern.laid_run(placement).edges
    ]

    def lowest(paths: Iterable[Path]) -> float:
        return max(
            depth_of(derived, host, path.point_at(share * path.length))
            for path in paths
            for share in (0.0, 0.5, 1.0)
        )

    return lowest(opening) > lowest(stitched) + FLAP_MM


def _pocket(
    derived: Derived, placement: Placement, host: HangingPiece, opening: tuple[Path, ...]
) -> _Pocket:
    piece = derived.pattern.laid_piece(placement)
    outline = [
        placement.onto.point(point)
        for path in piece.outline.edges.values()
        for point in path.flattened()
    ]
    depths = [depth_of(derived, host, point) for point in outline]
    bottom = max(range(len(outline)), key=depths.__getitem__)
    middle = opening[0].start.toward(opening[-1].end, 0.5)
    return _Pocket(
        placement,
        piece.title,
        opening,
        depth_of(derived, host, middle),
        depths[bottom],
        outline[bottom],
    )


def _opening(derived: Derived, placement: Placement) -> tuple[Path, ...]:
    """The longest stretch of edges that is not stitched, where it lies on the host."""
    piece = derived.pattern.laid_piece(placement)
    stitched = {edge.edge for edge in derived.pattern.laid_run(placement).edges}
    names = piece.edge_names
    start = next((number for number, name in enumerate(names) if name in stitched), None)
    if start is None:
        return ()
    stretches: list[list[Path]] = [[]]
    for name in (*names[start:], *names[:start]):
        if name in stitched:
            stretches.append([])
        else:
            stretches[-1].append(piece.edge(name).transformed(placement.onto))
    return tuple(max(stretches, key=lambda paths: sum(path.length for path in paths)))


def bag_openings(derived: Derived) -> Iterator[Finding]:
    """Pockets inside the garment whose mouth is too short for the hand."""
    body = derived.body
    if body is None:
        return
    needed = body["hand_girth"] + HAND_EASE_MM
    seen: set[str] = set()
    for piece in derived.pattern.pieces.values():
        if MOUTH not in piece.edge_names or piece.component in seen:
            continue
        seen.add(piece.component)
        mouth = piece.edge(MOUTH)
        if 2 * mouth.length >= needed - 1e-6:
            continue
        yield Finding(
            code="POCKET-OPENING",
            severity=Severity.WARNING,
            message=f"The opening of the pocket of {piece.title} is {cm(mouth.length)} long, too "
            f"short for a hand of {cm(body['hand_girth'])} round.",
            remedy="Lengthen the opening of the pocket.",
            piece=piece.name,
            edge=MOUTH,
            measured=cm(mouth.length),
            allowed=f"at least {cm(needed / 2)}",
            at=mouth.point_at(mouth.length / 2),
        )


CHECKS = (
    Check(("POCKET-OPENING",), pocket_openings),
    Check(("POCKET-OPENING",), bag_openings),
    Check(("POCKET-REACH",), pocket_reach),
)
