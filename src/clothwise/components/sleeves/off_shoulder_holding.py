"""What holds an off-shoulder sleeve: buttons and loops, or ties, at like places of both edges.

Places are lengths along the upper edge of the bodice from center front. Under the arm the sleeve's
top lies along that edge, its seam at the side seam: a place lies as far from the side on both.
Sleeve and bodice meet edge to edge there, right sides facing each other; the buttons are inside the
bodice, where they do not press on the arm, and the loops of the sleeve reach over the edge to them.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TypeAlias

from clothwise.components.closings.buttonhole import SMALL_BUTTON_THICKNESS_MM
from clothwise.components.component import Drafting
from clothwise.components.sleeves.detachable_closing import (
    TIE_INSIDE_MM,
    Closing,
)
from clothwise.errors import ComponentError
from clothwise.geometry import Path
from clothwise.pattern.graph import Pressing, Run
from clothwise.pattern.mark import BUTTON_LOOP, LOOP_BUTTON, TIE, Mark, MarkKind
from clothwise.pattern.operation import (
    Caution,
    Highlight,
    Notion,
    NotionUnit,
    Operation,
    Station,
)
from clothwise.pattern.pattern import Pattern

BUTTON_INSIDE_MM = 14.0
"""Buttons lie this far below the edge of the bodice, on its facing; our own choice."""

LOOP_INSIDE_MM = 6.0
"""Loops are sewn on this far inside the edge of the sleeve, as ties are; our own choice."""

LOOP_SPARE_MM = 4.0
"""A loop reaches this much further than to its button; our own choice."""

LOOP_ENDS_MM = 12.0
"""What of each end of a loop is sewn on; our own choice."""

CLEAR_OF_BONE_MM = 16.0
"""Buttons and ties stay this far off the boned seams of the bodice; our own choice."""

CLEAR_SHARE, CLEAR_OF_SLANT_MM = 0.75, 6.0
"""Large buttons stay off them by this share of their diameter (F07, as of an edge), and by so much
more because the seam leans toward them below the edge; our own choice."""

MOST_UNDER_SHARE = 0.38
"""At most this share of the finished top lies between the fastenings under the arm; our own."""


@dataclass(frozen=True)
class TopEdge:
    """The upper edge of the bodice, from center front to center back.

    `facing` is the run behind it, or the edge itself if it is not faced. `front` and `back` lead
    from the side seam along the panels beside it.
    """

    run: Run
    facing: Run
    side_mm: float
    whole_mm: float
    front: Path
    back: Path


def top_edge_of(drafting: Drafting) -> TopEdge:
    """The upper edge so far.

    Raises:
        ComponentError: there is none, or it is not of a front and a back.
    """
    pattern = drafting.pattern
    if "top" not in pattern.runs:
        raise ComponentError(
            "an off-shoulder sleeve is held by the upper edge of a strapless bodice",
            where=drafting.name,
            how_much=f"edges so far: {', '.join(pattern.runs) or 'none'}",
            what_to_do="List it after a corselette; on a bodice with an armhole take a detachable "
            "sleeve.",
        )
    top = pattern.named_run("top", drafting.name)
    fronts = [edge for edge in top.edges if edge.reverse]
    backs = [edge for edge in top.edges if not edge.reverse]
    if not (fronts and backs):
        raise ComponentError(
            "an off-shoulder sleeve needs an upper edge of a front and a back",
            where=drafting.name,
            how_much=f"this one runs over {', '.join(top.pieces)}",
            what_to_do="Leave the sleeve out.",
        )
    return TopEdge(
        top,
        _behind(pattern, top),
        sum(pattern.edge_length(edge) for edge in fronts),
        pattern.run_length(top),
        pattern.path(fronts[-1]).reversed(),
        pattern.path(backs[0]),
    )


def _behind(pattern: Pattern, top: Run) -> Run:
    """The run of the facing that is turned along an edge; the edge itself without one."""
    for seam in pattern.seams.values():
        if seam.pressing is Pressing.TURNED and seam.layers[0].run == top:
            return seam.layers[1].run
    return top


@dataclass(frozen=True)
class Holding:
    """What holds the sleeve: how many in front and behind, how far apart; mm."""

    closing: Closing
    number: int
    spacing_mm: float
    diameter_mm: float
    tie_mm: float

    def held(
        self, drafting: Drafting, edge: TopEdge, around_mm: float, clear_mm: float
    ) -> tuple[float, ...]:
        """Places along the upper edge, from the front to the back.

        The outermost lie where the arm leaves the trunk, at half of the widths across front and
        back; nearer to the side where too much of the sleeve's top would lie between them, or where
        they and `clear_mm` more would pass the seam of the panel beside it.

        Raises:
            ComponentError: there is no room for so many.
        """
        body = drafting.body
        least = self._clear_mm + (self.number - 1) * self.spacing_mm
        most = [line.length - max(self._clear_mm, clear_mm) for line in (edge.front, edge.back)]
        if min(most) < least:
            raise ComponentError(
                "what holds the off-shoulder sleeve has no room beside the side seam",
                where=drafting.name,
                how_much=f"{min(most):.0f} mm, {least:.0f} mm needed",
                what_to_do="Take fewer buttons or ties, or less spacing.",
            )
        wanted = (
            edge.side_mm - body["across_front_width"] / 2,
            edge.whole_mm - edge.side_mm - body["across_back_width"] / 2,
        )
        front, back = (
            min(max(each, least), limit) for each, limit in zip(wanted, most, strict=True)
        )
        extra = min(front + back - MOST_UNDER_SHARE * around_mm, front + back - 2 * least)
        if extra > 0:
            share = extra / (front + back - 2 * least)
            front, back = front - share * (front - least), back - share * (back - least)
        steps = [step * self.spacing_mm for step in range(self.number)]
        return (
            *(edge.side_mm - front + step for step in steps),
            *(edge.side_mm + back - step for step in reversed(steps)),
        )

    @property
    def _clear_mm(self) -> float:
        """From a boned seam to the middle of a button or a tie."""
        if self.closing is Closing.TIES:
            return CLEAR_OF_BONE_MM
        return max(CLEAR_OF_BONE_MM, CLEAR_SHARE * self.diameter_mm + CLEAR_OF_SLANT_MM)

    def on_garment(
        self, drafting: Drafting, edge: TopEdge, held: tuple[float, ...]
    ) -> dict[str, tuple[Mark, ...]]:
        """Buttons, or dots for ties, by the piece of the facing they lie on."""
        marks: dict[str, tuple[Mark, ...]] = {}
        for at_mm in held:
            spot = drafting.pattern.spot(edge.facing, at_mm)
            if self.closing is Closing.BUTTONS:
                at = spot.point + spot.inward * BUTTON_INSIDE_MM
                mark = Mark(MarkKind.BUTTON, LOOP_BUTTON, at=at, size_mm=self.diameter_mm)
            else:
                mark = Mark(MarkKind.DOT, TIE, at=spot.point + spot.inward * TIE_INSIDE_MM)
            marks[spot.edge.piece] = (*marks.get(spot.edge.piece, ()), mark)
        return marks

    def on_sleeve(self, line: Path, edge: TopEdge, held: tuple[float, ...]) -> tuple[Mark, ...]:
        """Dots for loops or ties along the top, as far from the seam as on the bodice.

        `line` is the top of the sleeve from its seam at the back to its seam at the front.
        """
        buttons = self.closing is Closing.BUTTONS
        name, inside = (BUTTON_LOOP, LOOP_INSIDE_MM) if buttons else (TIE, TIE_INSIDE_MM)
        marks = []
        for at_mm in held:
            from_side = edge.side_mm - at_mm  # positive in front
            along = line.length - from_side if from_side > 0 else -from_side
            at = line.point_at(along) + line.tangent_at(along).left * inside
            marks.append(Mark(MarkKind.DOT, name, at=at))
        return tuple(marks)

    @property
    def loop_mm(self) -> float:
        """Length of cord for one loop: there and back, around the button, and its ends."""
        reach = LOOP_INSIDE_MM + BUTTON_INSIDE_MM + LOOP_SPARE_MM
        return 2 * (reach + LOOP_ENDS_MM) + self.diameter_mm + SMALL_BUTTON_THICKNESS_MM

    def notions(self, name: str) -> tuple[Notion, ...]:
        """For both sleeves."""
        places = 2 * self.number
        if self.closing is Closing.BUTTONS:
            detail = f"flat, {self.diameter_mm:.0f} mm across, for the off-shoulder sleeves"
            return (
                Notion("buttons", 2 * places, NotionUnit.PIECES, detail, name),
                Notion(
                    "round elastic",
                    2 * places * self.loop_mm,
                    NotionUnit.LENGTH_MM,
                    f"2 mm thick, for {2 * places} button loops",
                    name,
                ),
            )
        return (
            Notion(
                "ribbon or cord",
                4 * places * self.tie_mm,
                NotionUnit.LENGTH_MM,
                f"{4 * places} ties, for the off-shoulder sleeves",
                name,
            ),
        )

    def steps(
        self, drafting: Drafting, edge: TopEdge, marked: Iterable[str]
    ) -> tuple[Operation, ...]:
        """Making what holds the sleeves, last of all; `marked` are pieces of the bodice."""
        name, pattern = drafting.name, drafting.pattern
        uses = dict.fromkeys(
            use.name for ref in edge.run.edges for use in pattern.uses_of(ref.piece, ref.edge)
        )
        words = _BUTTONED if self.closing is Closing.BUTTONS else _TIED
        inside = BUTTON_INSIDE_MM if self.closing is Closing.BUTTONS else TIE_INSIDE_MM
        values = (
            ("loop", self.loop_mm),
            ("end", LOOP_ENDS_MM),
            ("inside", inside),
            ("tie", self.tie_mm),
        )
        on_sleeve, on_bodice = (
            Operation(
                name=f"{name}-{place}",
                title=title,
                text=text,
                after=after,
                shows=shows,
                station=Station.HAND,
                minutes=30,
                highlight=Highlight.MARKS,
                cautions=(Caution.NEEDLE, Caution.CORD),
                values=values,
                component=name,
            )
            for place, (title, text), after, shows in (
                ("held", words[0], (f"{name}-top",), (name,)),
                ("hold", words[1], (f"{name}-held", *uses), tuple(marked)),
            )
        )
        return on_sleeve, on_bodice


_Words: TypeAlias = tuple[str, str]

_BUTTONED: tuple[_Words, _Words] = (
    (
        "Sew on the loops of the sleeves",
        "Cut the round elastic into loops of {loop}. At each dot of the sleeve's top fold one in "
        "two and sew {end} of both its ends to the inside, through the facing only, so that the "
        "loop reaches up over the edge.",
    ),
    (
        "Sew on the buttons of the sleeves",
        "Hold each sleeve against the bodice, right sides facing, seam at side seam, single notch "
        "to the front, edge at edge, and see that loops and button marks meet. Sew the buttons to "
        "the facing inside the bodice, {inside} below its edge, through the facing only and clear "
        "of the bones. Hook the loops over the edge onto them: between those in front and those "
        "behind the sleeve hangs free under the arm. On clothes for children follow the local "
        "rules for small parts.",
    ),
)

_TIED: tuple[_Words, _Words] = (
    (
        "Sew the ties to the sleeves",
        "Cut the ribbon or cord into ties of {tie} and keep their ends from fraying. At each dot "
        "of the sleeve's top sew one to the inside, with a few stitches through the facing only.",
    ),
    (
        "Sew the ties to the bodice",
        "At each dot of the facing sew a tie to the inside of the bodice's edge, {inside} below "
        "it, through the facing only and clear of the bones. Tie the sleeves in, seam at side "
        "seam, single notch to the front: between the ties in front and those behind they hang "
        "free under the arm. On clothes for children follow the local rules for cords, or take "
        "buttons.",
    ),
)
