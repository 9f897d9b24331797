"""What is drawn through a casing: how many lengths of it, how long, and what to buy."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from clothwise.components.edits.edit import cannot
from clothwise.pattern.graph import Run, Sides
from clothwise.pattern.junctions import end_corner, is_at_center, start_corner
from clothwise.pattern.operation import Caution, Notion, NotionUnit, Operation
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Ply

LAP_MM = 20.0
"""The ends of an elastic lap by this (common practice, no source)."""

HELD_MM = 15.0
"""An end that is sewn in at an end of its casing is this much longer; our own choice."""


class Drawing(Enum):
    """What is drawn through."""

    ELASTIC = "elastic"
    DRAWSTRING = "drawstring"


@dataclass(frozen=True)
class DrawnLine:
    """A line along which something is drawn in: `number` of them, each so long.

    `is_ring`: it closes on itself, all round the wearer or a sleeve.
    """

    number: int
    length_mm: float
    is_ring: bool


def drawn_line(pattern: Pattern, run: Run, sides: Sides) -> DrawnLine:
    """The lines that a run stands for on the whole garment.

    A run from center to center is half of a ring, one that ends at one center half of a line; any
    other occurs once on each side.
    """
    length = pattern.run_length(run)
    if run.closed:
        return DrawnLine(2 if sides is Sides.BOTH else 1, length, is_ring=True)
    if sides is not Sides.BOTH:
        return DrawnLine(1, length, is_ring=False)
    ends = (start_corner(pattern, run.edges[0]), end_corner(pattern, run.edges[-1]))
    centers = sum(is_at_center(pattern, corner) for corner in ends)
    if centers:
        return DrawnLine(1, 2 * length, is_ring=centers == 2)
    return DrawnLine(max(_times(pattern, name) for name in run.pieces), length, is_ring=False)


def _times(pattern: Pattern, name: str) -> int:
    copies = pattern.piece(name).copies
    return min(2, sum(copy.ply is Ply.SHELL for copy in copies)) or 1


@dataclass(frozen=True)
class Drawn:
    """What is drawn through the casings of one edit.

    Attributes:
        what: elastic or a drawstring.
        width_mm: of the elastic, or of the cord laid flat.
        asked_mm: length when drawn in, for one line; 0 if the share counts.
        share: of the line's length that is left when it is drawn in.
        tail_mm: of a drawstring, beyond the casing at each end.
    """

    what: Drawing
    width_mm: float
    asked_mm: float
    share: float
    tail_mm: float

    def drawn_to(self, line: DrawnLine) -> float:
        """How long the line is when it is drawn in.

        Raises:
            ComponentError: that is longer than the line.
        """
        drawn = self.asked_mm or self.share * line.length_mm
        if drawn > line.length_mm + 0.5:
            raise cannot(
                "what is drawn through is longer than its casing",
                how_much=f"{drawn:.0f} mm, the casing {line.length_mm:.0f} mm",
                what_to_do="Lower length, or leave it out and write drawn_to.",
            )
        return drawn

    def cut_mm(self, line: DrawnLine, *, held: bool = False) -> float:
        """How long one piece of it is cut; a cord may be held at one end."""
        if self.what is Drawing.DRAWSTRING:
            if held:
                return line.length_mm + self.tail_mm + HELD_MM
            return line.length_mm + 2 * self.tail_mm
        return self.drawn_to(line) + (LAP_MM if line.is_ring else 2 * HELD_MM)

    def _notion(
        self, lines: list[DrawnLine], where: str, component: str, *, held: bool = False
    ) -> Notion:
        """What to buy of it."""
        total = sum(line.number * self.cut_mm(line, held=held) for line in lines)
        name = "elastic" if self.what is Drawing.ELASTIC else "ribbon or cord"
        detail = f"{self.width_mm:.0f} mm wide, for the {where}"
        return Notion(name, total, NotionUnit.LENGTH_MM, detail, component)

    def through(
        self,
        name: str,
        of: str,
        lines: list[DrawnLine],
        after: tuple[str, ...],
        component: str,
        *,
        held: bool = False,
    ) -> Operation:
        """The step that draws it through; a cord may be held at one of its ends."""
        line = lines[0]
        cut, drawn = self.cut_mm(line, held=held), self.drawn_to(line)
        pieces = sum(each.number for each in lines)
        each = "one piece" if pieces == 1 else f"{pieces} pieces"
        is_elastic = self.what is Drawing.ELASTIC
        named = "elastic" if is_elastic else "the drawstring"
        words = _ELASTIC[line.is_ring] if is_elastic else f"{_CORD[held]} {_CHILDREN}"
        return Operation(
            name=name,
            title=f"Draw {named} through the casing of the {of}",
            text=f"Cut {each} of {named.removeprefix('the ')}, {{cut}} long{words}",
            after=after,
            minutes=15,
            cautions=(Caution.NEEDLE,) if is_elastic else (Caution.NEEDLE, Caution.CORD),
            values=(("cut", cut), ("drawn", drawn), ("lap", LAP_MM)),
            component=component,
        )

    def notions(
        self, lines: list[DrawnLine], of: str, component: str, eyelets: int, *, held: bool = False
    ) -> tuple[Notion, ...]:
        """What to buy: of what is drawn through, and eyelets."""
        bought = (self._notion(lines, of, component, held=held),)
        if not eyelets:
            return bought
        needed = Notion(
            "eyelets",
            eyelets,
            NotionUnit.PIECES,
            f"for the drawstring of the {of}; or work buttonholes",
            component,
        )
        return (*bought, needed)


_ELASTIC = {
    True: ". Draw it through with a bodkin or a safety pin, without a twist. Try it on: drawn in, "
    "the line measures {drawn}. Lap its ends by {lap}, sew them together in a square and close the "
    "gap. Spread the fullness evenly.",
    False: ". Draw it through with a bodkin or a safety pin, without a twist, and stitch its ends "
    "fast across both ends of the casing, inside the allowances: drawn in, the line measures "
    "{drawn}. Spread the fullness evenly.",
}
"""What is done with elastic in a ring, and in a casing with two ends."""

_CORD = {
    False: ", and keep the ends from fraying. Draw it through with a bodkin, so that both ends "
    "hang out alike, knot each end, and stitch through casing and cord opposite the ends, so that "
    "it cannot be pulled out.",
    True: ", and keep the ends from fraying. Draw each one through with a bodkin from an end of "
    "the casing to the nearest eyelet and out there. Stitch it fast at the end of the casing, "
    "inside the allowance, and knot the end that hangs out.",
}
"""What is done with a cord that runs through, and with cords held at the ends of a strip."""

_CHILDREN = (
    "On clothes for children take elastic instead where the rules of your country ask for it, and "
    "never a cord at neck or hood."
)
