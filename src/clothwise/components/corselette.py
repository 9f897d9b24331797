"""The strapless corselette: princess panels to the waist, boned along the seams, faced at the top.

It is cut from the panels of the princess bodice and opens at center back. Every top line meets the
seams at right angles, so that the upper edge runs on without a corner.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import accumulate
from typing import ClassVar

from clothwise.components.bodice_block import Opening
from clothwise.components.component import Component, Drafting
from clothwise.components.corselette_sewing import corselette_operations
from clothwise.components.parameter import length
from clothwise.components.princess_bodice import PrincessBodice
from clothwise.components.princess_lines import PANEL
from clothwise.components.wearers import WOMEN, Wearers
from clothwise.geometry import Outline, Path, Point, Vector, cubic_between, straight
from clothwise.pattern.graph import EdgeCare, Finish, FinishKind, Layer, Match, Pressing, Seam, run
from clothwise.pattern.mark import NotchKind
from clothwise.pattern.operation import Notion, NotionUnit
from clothwise.pattern.pattern import Contribution
from clothwise.pattern.piece import Copy, Grainline, Piece, Ply, pair, single

UNDERARM_BELOW_MM = 20.0
"""The upper edge lies this far below the armpit at the side; our own choice."""

LEAST_BELOW_TOP_MM = 15.0
"""The upper edge ends this far below the end of the princess line, at least; our own choice."""

EASED_SHARE = 0.6
"""The upper notch lies this share of the way from the bust point to the upper edge; our choice."""

BONE_SHORT_MM = 20.0
"""A bone is this much shorter than its seam, clear of both edges; our own choice."""

CHANNEL_MORE_MM = 20.0
"""Channel tape for each bone beyond the bone; our own choice."""

GRAIN_STEPS = 40
"""Steps along an edge in which the end of the grainline is looked for; our own choice."""

TOP = "top"
"""The name of the upper edge of every panel."""


@dataclass(frozen=True)
class Corselette(Component):
    """Strapless corselette of princess panels, boned and faced, open at center back."""

    kind: ClassVar[str] = "corselette"
    drafted_for: ClassVar[Wearers | None] = WOMEN

    bust_ease_mm: float = length(20, -60, 60, "Room beyond the bust girth; less in stretch.")
    waist_ease_mm: float = length(15, -60, 60, "Room beyond the waist girth; less in stretch.")
    rise_mm: float = length(60, 40, 80, "From the bust point up to the upper edge, at the seam.")
    center_dip_mm: float = length(20, 0, 50, "How much lower the upper edge is at center front.")
    back_dip_mm: float = length(10, 0, 50, "How much lower it is at center back than at the side.")
    facing_mm: float = length(50, 35, 60, "Depth of the facing.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Draft the panels, their facings, and what joins and stiffens them."""
        name = drafting.name
        drawn = _Draft(self, drafting)
        shell, facing = drawn.shell(), drawn.facings()
        seams = (
            *_joins(drafting, shell, drawn.ease_mm, drawn.notch_mm),
            *_joins(drafting, facing, 0.0, None),
            _top_seam(drafting, shell, facing),
        )
        inner = Finish(
            f"{name}-inner",
            "lower edge of the facing",
            run(
                *(
                    f"{'-' if number > 1 else ''}{each.name}.lower"
                    for number, each in enumerate(facing)
                )
            ),
            FinishKind.OVERLOCKED,
            component=name,
        )
        bones = _bones_mm(shell)
        return Contribution(
            pieces=(*shell, *facing),
            seams=seams,
            finishes=(inner,),
            runs={
                "top": seams[-1].layers[0].run,
                "hem": run(
                    f"{shell[0].name}.waist-center",
                    f"{shell[1].name}.waist-side",
                    f"-{shell[2].name}.waist-side",
                    f"-{shell[3].name}.waist-center",
                ),
                "opening": run(f"-{shell[3].name}.opening", f"{facing[3].name}.end-inner"),
            },
            operations=corselette_operations(name, shell, facing, len(bones)),
            notions=(
                Notion("boning", sum(bones), NotionUnit.LENGTH_MM, _lengths(bones), name),
                Notion(
                    "boning channel tape",
                    sum(bones) + CHANNEL_MORE_MM * len(bones),
                    NotionUnit.LENGTH_MM,
                    "as wide as the bones ask for",
                    name,
                ),
                Notion("bone tips", 2 * len(bones), NotionUnit.PIECES, "to cap both ends", name),
            ),
        )


class _Draft:
    """Panels in the order center front, side front, side back, center back."""

    def __init__(self, asked: Corselette, drafting: Drafting) -> None:
        self._asked, self._drafting = asked, drafting
        block = PrincessBodice(
            bust_ease_mm=asked.bust_ease_mm,
            waist_ease_mm=asked.waist_ease_mm,
            armhole_ease_mm=UNDERARM_BELOW_MM,
            opening=Opening.NONE,
        ).contribute(drafting)
        pieces = {piece.name.removeprefix(f"{drafting.name}-"): piece for piece in block.pieces}
        order = ("front", "front-side", "back-side", "back")
        self._panels = [pieces[word] for word in order]
        lines = [self._upward(piece) for piece in self._panels]
        self._bust_mm = lines[0].nearest(self._panels[0].points["bust point"])
        self.ease_mm = lines[1].length - lines[0].length
        front = self._bust_mm + min(
            asked.rise_mm, lines[0].length - self._bust_mm - LEAST_BELOW_TOP_MM
        )
        level = self._panels[2].edge("side").end.y
        back = next(
            (
                at
                for at in (lines[3].length * share / 40 for share in range(10, 40))
                if lines[3].point_at(at).y >= level - asked.back_dip_mm / 2
            ),
            lines[3].length,
        )
        back = min(back, lines[3].length - LEAST_BELOW_TOP_MM)
        self.notch_mm = (
            self._bust_mm / 2,
            self._bust_mm + EASED_SHARE * (front - self._bust_mm),
        )
        self._lines = [
            lines[0].part(0.0, front),
            lines[1].part(0.0, front + self.ease_mm),
            lines[2].part(0.0, back),
            lines[3].part(0.0, back),
        ]
        self._centers = (
            self._lines[0].end.y - asked.center_dip_mm,
            level - asked.back_dip_mm,
        )

    @staticmethod
    def _upward(piece: Piece) -> Path:
        path = piece.edge(PANEL)
        return path if path.end.y > path.start.y else path.reversed()

    def shell(self) -> tuple[Piece, ...]:
        """The four panels."""
        role = self._drafting.role
        made = []
        for number, piece in enumerate(self._panels):
            lower = piece.edge_names[0]
            edges = {lower: piece.edge(lower), **self._upper(number, None)}
            copies = single(role) if number == 0 else pair(role, drawn_side=piece.drawn_side)
            made.append(self._piece(number, piece.name, _TITLES[number], edges, copies))
        return tuple(made)

    def facings(self) -> tuple[Piece, ...]:
        """What lies behind the upper part of each panel, fused."""
        role, fusible = self._drafting.role, self._drafting.interfacing_role
        made = []
        for number, piece in enumerate(self._panels):
            edges = self._upper(number, self._asked.facing_mm)
            side = piece.drawn_side
            copies = (
                (*single(role), *single(fusible, ply=Ply.INTERFACING, name="interfacing"))
                if number == 0
                else (
                    *pair(role, drawn_side=side),
                    *pair(fusible, drawn_side=side, ply=Ply.INTERFACING),
                )
            )
            name = piece.name.replace(
                f"{self._drafting.name}-", f"{self._drafting.name}-facing-", 1
            )
            made.append(self._piece(number, name, f"{_TITLES[number]} facing", edges, copies))
        return tuple(made)

    def _upper(self, number: int, depth: float | None) -> dict[str, Path]:
        """The edges of a panel above its lower edge; with a lower edge of its own at a depth."""
        line = self._lines[number]
        if depth is not None:
            line = line.part(line.length - depth, line.length)
        if number in (0, 3):
            top = Point(0.0, self._centers[number == 3])
            foot = Point(0.0, 0.0 if depth is None else top.y - depth)
            end = "center" if number == 0 else "opening" if depth is None else "end-inner"
            edges = (
                {}
                if depth is None
                else {
                    "lower": cubic_between(
                        foot, Vector(1.0, 0.0), line.start, -line.start_tangent.left
                    )
                }
            )
            return {
                **edges,
                PANEL: line,
                TOP: cubic_between(line.end, line.end_tangent.left, top, Vector(-1.0, 0.0)),
                end: straight(top, foot),
            }
        side = self._panels[number].edge("side")
        if depth is not None:
            side = side.part(side.length - depth, side.length)
        edges = (
            {}
            if depth is None
            else {
                "lower": cubic_between(
                    line.start, -line.start_tangent.left, side.start, -side.start_tangent.left
                )
            }
        )
        return {
            **edges,
            "side": side,
            TOP: cubic_between(side.end, side.end_tangent.left, line.end, line.end_tangent.left),
            PANEL: line.reversed(),
        }

    def _piece(
        self, number: int, name: str, title: str, edges: dict[str, Path], copies: tuple[Copy, ...]
    ) -> Piece:
        outline = Outline(edges)
        lower, upper = next(iter(edges.values())), edges[TOP]
        halfway = [path.point_at(path.length / 2).x for path in (lower, upper)]
        x = 0.0 if number == 0 else sum(halfway) / 2
        low, high = (path.point_at(_level_at(path, x)).y for path in (lower, upper))
        return Piece(
            name=name,
            title=title,
            outline=outline,
            grain=Grainline(Point(x, low + 0.3 * (high - low)), Point(x, low + 0.7 * (high - low))),
            copies=copies,
            component=self._drafting.name,
            drawn_side=self._panels[number].drawn_side,
            fold_edge="center" if number == 0 else None,
        )


def _level_at(path: Path, x: float) -> float:
    """The place along a line that leads across, where it passes x."""
    steps = [path.length * step / GRAIN_STEPS for step in range(GRAIN_STEPS + 1)]
    return min(steps, key=lambda at: abs(path.point_at(at).x - x))


_TITLES = ("Center front", "Side front", "Side back", "Center back")


def _joins(
    drafting: Drafting,
    panels: tuple[Piece, ...],
    ease: float,
    notch_mm: tuple[float, float] | None,
) -> tuple[Seam, ...]:
    """Panel seams and side seams; the side front is eased onto the center between its notches."""
    front, side_front, side_back, back = panels
    faced = notch_mm is None
    of = " of the facing" if faced else ""
    prefix = f"{drafting.name}-facing" if faced else drafting.name

    def seam(
        name: str, title: str, one: str, other: str, at: tuple[Match, ...], more: float = 0.0
    ) -> Seam:
        return Seam(
            name=f"{prefix}-{name}",
            title=f"{title}{of}",
            layers=(Layer(run(one)), Layer(run(other), ease_mm=more)),
            allowance_mm=drafting.seam_allowance_mm,
            care=EdgeCare.NONE if faced else EdgeCare.EACH,
            matches=() if faced else at,
            component=drafting.name,
        )

    below, above = notch_mm or (0.0, 0.0)
    half_side = side_front.edge("side").length / 2
    half_back = back.edge(PANEL).length / 2
    return (
        seam(
            "front-panels",
            "panel seam of the front",
            f"{front.name}.{PANEL}",
            f"-{side_front.name}.{PANEL}",
            (
                Match("below the bust", (below, below), NotchKind.SINGLE),
                Match("above the bust", (above, above + ease), NotchKind.SINGLE),
            ),
            ease,
        ),
        seam(
            "back-panels",
            "panel seam of the back",
            f"{back.name}.{PANEL}",
            f"-{side_back.name}.{PANEL}",
            (Match("back panels", (half_back, half_back), NotchKind.DOUBLE),),
        ),
        seam(
            "side",
            "side seam",
            f"{side_front.name}.side",
            f"{side_back.name}.side",
            (Match("side", (half_side, half_side), NotchKind.SINGLE),),
        ),
    )


def _top_seam(drafting: Drafting, shell: tuple[Piece, ...], facing: tuple[Piece, ...]) -> Seam:
    def along(panels: tuple[Piece, ...]) -> Layer:
        signs = ("-", "-", "", "")
        return Layer(
            run(*(f"{sign}{each.name}.{TOP}" for sign, each in zip(signs, panels, strict=True)))
        )

    places = list(accumulate(each.edge(TOP).length for each in shell))[:-1]
    return Seam(
        name=f"{drafting.name}-top",
        title="upper edge",
        layers=(along(shell), along(facing)),
        allowance_mm=drafting.neck_allowance_mm,
        pressing=Pressing.TURNED,
        care=EdgeCare.NONE,
        matches=tuple(
            Match(f"seam {n}", (at, at), NotchKind.AT_SEAM) for n, at in enumerate(places, start=1)
        ),
        component=drafting.name,
    )


def _bones_mm(shell: tuple[Piece, ...]) -> list[float]:
    """One bone along each seam and beside each edge of the opening."""
    front, side_front, _, back = shell
    one_side = (
        front.edge(PANEL).length,
        side_front.edge("side").length,
        back.edge(PANEL).length,
        back.edge("opening").length,
    )
    return [each - BONE_SHORT_MM for each in one_side for _ in range(2)]


def _lengths(bones: list[float]) -> str:
    return "2 each of " + ", ".join(f"{each / 10:.1f} cm" for each in bones[::2])
