"""Garments put together at random from the library, and what became of each.

A garment is drawn from a seed: a frame (dress, tunic, skirt, corselette), then what such a garment
has, of any kind that may stand there, with parameters in the middle of their ranges, several
fabrics and some edits. Nothing is drawn that a component says it cannot be put onto (a waistband
onto a dress); all else is, whether an example has it or not.
"""

from __future__ import annotations

import random
import traceback
from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import Enum
from functools import cache
from pathlib import Path

from clothwise.checks import check
from clothwise.components import DesignFile, component_class, draft, read_design
from clothwise.components.parameter import Parameter, ParameterKind, field_name
from clothwise.cutting import Effort, Fabric, LayerPlan, lay
from clothwise.cutting import verify as layout_faults
from clothwise.cutting.cutting_list import cut_items
from clothwise.errors import ClothwiseError, CuttingError
from clothwise.pattern import Body, Pattern, Piece, Severity
from clothwise.pattern.document import ComponentEntry, Design, EditEntry, FabricRole
from clothwise.work import OrderMode, plan, steps, verify
from survey import survey_women

EXAMPLES = Path(__file__).resolve().parent.parent / "examples"

__all__ = ["Ended", "Garment", "Outcome", "random_garment", "tried"]

MIDDLE = (0.2, 0.8)
"""Parameters are drawn from this part of their range; the ends are tested one by one."""

FREE = 0.35
"""How often a parameter is not left at its default."""

SHARE_OF_USUAL = 0.4
"""How far eases and fullness go from their default toward the ends that wovens have."""

NEAR_USUAL = ("ease", "fullness", "taper")

ROLES = ("main", "contrast", "third", "fourth")

OVER_THE_HEAD = {"neckline": "scoop", "neck_widen": "45mm", "front_neck_drop": "110mm"}
"""A neckline that needs no opening."""

CLOTH = Fabric(name="cloth", nominal_width_mm=1500.0)
"""Wide enough for whatever is cut on the fold of usual cloth."""


class Ended(Enum):
    """How trying a garment ended."""

    SOUND = "sound"
    REFUSED = "refused in words"
    TOO_WIDE = "wider than the cloth"
    FOUND = "findings"
    ORDER = "order of work"
    LAYOUT = "layout"
    BROKE = "broke"


@dataclass(frozen=True)
class Garment:
    """A garment that was drawn: its design and whom it is for."""

    seed: int
    number: int
    design: Design
    body: Body

    @property
    def kinds(self) -> tuple[str, ...]:
        """The components and edits that it has."""
        return tuple(entry.kind for entry in self.design.entries)


@dataclass(frozen=True)
class Outcome:
    """What became of a garment.

    `detail` says why it is not sound; `lost` are edits that could not be made and said so,
    `warnings` the codes of what was warned of.
    """

    number: int
    ended: Ended
    kinds: tuple[str, ...]
    detail: str = ""
    lost: tuple[str, ...] = ()
    warnings: tuple[str, ...] = ()


def random_garment(seed: int, number: int) -> Garment:
    """The garment of this number; always the same one."""
    drawn = random.Random(f"{seed} {number}")  # parameters have their own: see `_part`
    wearer = _body(drawn)
    design = replace(
        _usual().design,
        components=tuple(_Drawing(drawn, f"{seed} {number}").components()),
        edits=(),
        fabric_roles=tuple(FabricRole(role, f"{role} fabric") for role in ROLES),
        seam_allowance=drawn.choice(("10mm", "12mm", "15mm")),
    )
    return Garment(seed, number, replace(design, edits=_edits(drawn, design, wearer)), wearer)


def tried(garment: Garment) -> Outcome:
    """Draft, check, plan and lay a garment out, and check all of that again."""
    try:
        return _tried(garment)
    except Exception:
        told = traceback.format_exc(limit=-2).strip().splitlines()
        return Outcome(garment.number, Ended.BROKE, garment.kinds, " | ".join(told[-4:]))


def _tried(garment: Garment) -> Outcome:
    def ended(how: Ended, detail: str = "") -> Outcome:
        return Outcome(garment.number, how, garment.kinds, detail, lost, warnings)

    lost: tuple[str, ...] = ()
    warnings: tuple[str, ...] = ()
    try:
        pattern = draft(garment.design, garment.body)
    except ClothwiseError as error:
        return ended(Ended.REFUSED, str(error))
    findings = check(pattern, garment.body)
    lost = tuple(each.message for each in findings if each.code == "EDIT-LOST")
    warnings = tuple(each.code for each in findings if each.severity is Severity.WARNING)
    wrong = [
        each
        for each in findings
        if each.severity is Severity.ERROR and each.code not in ("EDIT-LOST",)
    ]
    if wrong:
        return ended(Ended.FOUND, "; ".join(f"{each.code}: {each.message}" for each in wrong[:3]))
    for mode in OrderMode:
        order = plan(pattern, mode)
        faults = verify(pattern, order)
        if faults:
            return ended(Ended.ORDER, "; ".join(fault.message for fault in faults[:3]))
        steps(pattern, order, garment.design.unit)
    try:
        faults = [fault for role in _roles(pattern) for fault in _laid(pattern, role)]
    except CuttingError as error:
        return ended(Ended.TOO_WIDE if "wide" in str(error) else Ended.LAYOUT, str(error))
    if faults:
        return ended(Ended.LAYOUT, "; ".join(faults[:3]))
    return ended(Ended.SOUND)


def _roles(pattern: Pattern) -> list[str]:
    return sorted({copy.role for piece in pattern.pieces.values() for copy in piece.copies})


def _laid(pattern: Pattern, role: str) -> list[str]:
    """The faults of a layout of all copies of a fabric role, in rows."""
    assigned = {
        (piece.name, copy.name): copy.role
        for piece in pattern.pieces.values()
        for copy in piece.copies
    }
    items = cut_items(pattern, assigned, role, LayerPlan.SINGLE)
    layout = lay(items, CLOTH, LayerPlan.SINGLE, effort=Effort(seconds=0, runs=1))
    return [str(fault) for fault in layout_faults(layout, items)]


# Components


class _Drawing:
    """Draws the components of one garment, in the order in which they are drafted."""

    def __init__(self, drawn: random.Random, seed: str) -> None:
        self._drawn, self._seed = drawn, seed

    def components(self) -> Iterator[ComponentEntry]:
        frames = (self._dress, self._tunic, self._skirt, self._corselette)
        (frame,) = self._drawn.choices(frames, weights=(6, 2, 3, 1))
        yield from frame()

    def _dress(self) -> Iterator[ComponentEntry]:
        front = self._one_of("plain", "plain", "wrap", "lapel")
        waist = self._one_of("natural", "natural", "empire", "dropped")
        yield self._bodice(opening="center front", waist=waist)
        yield from self._front(front)
        skirt = self._one_of(
            "a-line-skirt", "straight-skirt", "gored-skirt", "pleated-skirt", "gathered-skirt",
            "tiered-skirt",
        )  # fmt: skip
        yield self._part("skirt", skirt)
        lower_edge = self._lower_edge(ruffled=skirt != "straight-skirt")
        yield from lower_edge[:-1]
        yield from self._neck(front)
        yield from self._armholes()
        yield from self._pockets(with_skirt=skirt != "tiered-skirt")
        yield from self._small_parts(with_skirt=True)
        yield from self._buttons(front)
        yield lower_edge[-1]
        yield from self._finishes("armhole", "waist")

    def _tunic(self) -> Iterator[ComponentEntry]:
        opens = self._chance(0.5)
        front = self._one_of("plain", "plain", "wrap", "lapel") if opens else "closed"
        opening = {"opening": "center front"} if opens else {"opening": "none", **OVER_THE_HEAD}
        yield self._bodice(waist="none", **opening)
        yield from self._front(front)
        lower_edge = self._lower_edge(ruffled=True)
        yield from lower_edge[:-1]
        yield from self._neck(front)
        yield from self._armholes()
        yield from self._pockets(with_skirt=False)
        yield from self._small_parts(with_skirt=False)
        yield from self._buttons(front)
        yield lower_edge[-1]
        yield from self._finishes("armhole")

    def _skirt(self) -> Iterator[ComponentEntry]:
        kind = self._one_of(
            "straight-skirt", "gored-skirt", "pleated-skirt", "gathered-skirt", "tiered-skirt",
            "circle-skirt", "wrap-skirt",
        )  # fmt: skip
        pulled_on = kind in ("gathered-skirt", "tiered-skirt") and self._chance(0.4)
        fixed = {"opens": "nowhere"} if pulled_on else {}
        if kind in ("gathered-skirt", "tiered-skirt") and not pulled_on:
            fixed = {"opens": "center back"}
        yield self._part("skirt", kind, **fixed)
        if kind == "wrap-skirt":
            yield self._part("band", "tie-waistband")
        elif pulled_on:
            yield self._part("casing", "elastic-casing")
        else:
            gathered = kind in ("gathered-skirt", "tiered-skirt", "pleated-skirt")
            tops = ("straight-waistband",) if gathered else ("straight-waistband", "waist-facing")
            yield self._part("top", self._one_of(*tops))
            yield self._part("closure", self._one_of("zip", "zip", "hooks-and-eyes"))
        if kind != "wrap-skirt" and self._chance(0.4):
            yield self._part("in-seam", "in-seam-pocket")
        if kind not in ("circle-skirt", "tiered-skirt") and self._chance(0.4):
            yield self._pocket("pocket", "skirt front", "skirt back")
        if self._chance(0.2):
            yield self._part("loops", "belt-loops")
        yield from self._lower_edge(ruffled=kind not in ("straight-skirt", "wrap-skirt"))
        yield from self._finishes("waist")

    def _corselette(self) -> Iterator[ComponentEntry]:
        yield self._part("corselette", "corselette")
        yield self._part("closure", self._one_of("zip", "hooks-and-eyes"))
        yield from self._lower_edge(ruffled=False)
        yield from self._finishes()

    def _bodice(self, **fixed: str) -> ComponentEntry:
        kind = self._one_of("darted-bodice", "princess-bodice", "yoke-bodice")
        kept = ("back_neck_drop",) if kind == "yoke-bodice" else ()
        return self._part("bodice", kind, kept=kept, **fixed)

    def _front(self, front: str) -> Iterator[ComponentEntry]:
        if front in ("wrap", "lapel"):
            yield self._part("front", f"{front}-front")

    def _neck(self, front: str) -> Iterator[ComponentEntry]:
        if front == "lapel":
            yield self._part("collar", "notched-collar")
        elif front == "closed":
            yield self._part("facing", "neck-facing", shoulder_width="40mm")
        else:
            yield self._part("facing", "front-and-neck-facing")
        if front == "plain" and self._chance(0.5):
            yield self._part(
                "collar", self._one_of("two-piece-collar", "shirt-collar", "flat-collar")
            )
        if self._chance(0.2):
            yield self._part("loop", "hanging-loop", kept=("length", "spread"))

    def _armholes(self) -> Iterator[ComponentEntry]:
        sleeve = self._one_of(
            "set-in-sleeve", "set-in-sleeve", "puff-sleeve", "flutter-sleeve", "cap-sleeve",
            "bishop-sleeve", "bound-armhole", "armhole-facing", "ruffle",
        )  # fmt: skip
        if sleeve == "ruffle":
            yield self._part("arm-ruffle", "ruffle", edge="armhole")
            return
        yield self._part("sleeve", sleeve)
        if sleeve in ("bound-armhole", "armhole-facing") and self._chance(0.3):
            yield self._part("detachable", "detachable-sleeve")
        if sleeve in ("set-in-sleeve",) and self._chance(0.2):
            yield self._part("elastic", "sleeve-elastic")

    def _pockets(self, *, with_skirt: bool) -> Iterator[ComponentEntry]:
        if with_skirt and self._chance(0.4):
            yield self._pocket("skirt-pocket", "skirt front", "skirt back")
        if self._chance(0.25):
            yield self._pocket("breast-pocket", "bodice front", number="1")
        if self._chance(0.25):
            yield self._part(
                "in-seam", "in-seam-pocket", kept=() if with_skirt else ("below_waist",)
            )

    def _pocket(self, name: str, *hosts: str, **fixed: str) -> ComponentEntry:
        kind = self._one_of("turned-patch-pocket", "bellows-pocket")
        small = {"width": "90mm", "height": "100mm"} if "bodice front" in hosts else {}
        sizes = {} if small else {"width": self._mm(110, 150), "height": self._mm(110, 160)}
        host = self._one_of(*hosts)
        kept = ("from_center", "from_side", "below_top")
        return self._part(name, kind, kept=kept, host=host, **small, **sizes, **fixed)

    def _small_parts(self, *, with_skirt: bool) -> Iterator[ComponentEntry]:
        if self._chance(0.2):
            yield self._part("tab", "shoulder-tab")
        if with_skirt and self._chance(0.2):
            yield self._part("loops", "belt-loops")
        if self._chance(0.3):
            yield self._part("belt", "tie-belt")
        elif self._chance(0.2):
            yield self._part("ties", "side-ties")

    def _buttons(self, front: str) -> Iterator[ComponentEntry]:
        if front == "plain":
            yield self._part("buttons", "buttons")
        elif front in ("wrap", "lapel"):
            yield self._part("buttons", "double-breasted-buttons")

    def _lower_edge(self, *, ruffled: bool) -> list[ComponentEntry]:
        """A ruffle or none, which is listed before a facing closes its end; and the hem."""
        hems = ("double-hem", "single-hem", "rolled-hem", "bound-hem", "faced-hem")
        if ruffled and self._chance(0.12):
            narrow = self._part("hem", self._one_of("double-hem", "rolled-hem"))
            return [self._part("hem-ruffle", "ruffle", edge="hem"), narrow]
        return [self._part("hem", self._one_of(*hems))]

    def _finishes(self, *stayed: str) -> Iterator[ComponentEntry]:
        for kind in ("seam-finish", "topstitching", "interfacing"):
            if self._chance(0.15):
                kept = ("allowance", "width", "distance", "seams", "place", "part")
                yield self._part(f"added-{kind}", kind, kept=kept)
        if stayed and self._chance(0.15):
            yield self._part("added-stay", "staystitching", edge=self._one_of(*stayed))

    def _part(
        self, name: str, kind: str, *, kept: tuple[str, ...] = (), **fixed: str
    ) -> ComponentEntry:
        """A component with some parameters drawn, each from a seed of its own.

        So a garment stays as it is when a component that it has learns another parameter.
        """
        drawn = {}
        kept += ("longest", "widest_panel", "grain")  # of what is cut in one
        of = component_class(kind)
        for each, parameter in of.parameters().items():
            own = random.Random(f"{self._seed} {name} {kind} {each}")
            if each not in fixed and each not in kept and own.random() < FREE:
                usual = getattr(of, field_name(each, parameter))
                drawn[each] = _value(own, each, parameter, usual)
        role = self._one_of("main", "main", "main", *ROLES)
        return ComponentEntry(name, kind, {**drawn, **fixed}, role=role)

    def _mm(self, low: float, high: float) -> str:
        return f"{self._drawn.uniform(low, high):.1f}mm"

    def _one_of(self, *words: str) -> str:
        return self._drawn.choice(words)

    def _chance(self, share: float) -> bool:
        return self._drawn.random() < share


def _value(drawn: random.Random, name: str, parameter: Parameter, usual: float) -> str:
    """A value in the middle of its range; of an ease, not much less than is usual in wovens."""
    if parameter.kind is ParameterKind.CHOICE:
        return drawn.choice(parameter.choices)
    low, high = (parameter.low + share * (parameter.high - parameter.low) for share in MIDDLE)
    if parameter.kind is ParameterKind.COUNT:
        return str(drawn.randint(round(low), round(high)))
    if any(word in name for word in NEAR_USUAL):
        low, high = (
            usual - SHARE_OF_USUAL * (usual - parameter.low * (parameter.low > 0)),
            usual + SHARE_OF_USUAL * (high - usual),
        )
    unit = {ParameterKind.LENGTH: "mm", ParameterKind.ANGLE: "rad"}.get(parameter.kind, "")
    return f"{drawn.uniform(low, high):.4f}{unit}"


# Bodies and edits


@cache
def _usual() -> DesignFile:
    return read_design(EXAMPLES / "kiln-dress")


def _body(drawn: random.Random) -> Body:
    """A size of a chart as often as a woman of the survey."""
    return drawn.choice(drawn.choice((tuple(_usual().chart), survey_women())))


def _edits(drawn: random.Random, design: Design, body: Body) -> tuple[EditEntry, ...]:
    """Up to three edits of what the components draft; none where they are refused."""
    number = drawn.choice((0, 0, 0, 1, 1, 2, 3))
    if not number:
        return ()
    try:
        pattern = draft(design, body)
    except ClothwiseError:
        return ()
    drawing = _EditDrawing(drawn, pattern)
    return tuple(
        EditEntry(f"edit-{each}", *drawn.choice(drawing.ways)(f"edit-{each}"))
        for each in range(1, number + 1)
    )


_Entry = tuple[str, dict[str, str]]


class _EditDrawing:
    """Draws edits of a pattern, by the names of its pieces, edges, darts and seams."""

    def __init__(self, drawn: random.Random, pattern: Pattern) -> None:
        self._drawn, self._pattern = drawn, pattern
        self._pieces = [
            piece
            for piece in pattern.pieces.values()
            if any(word in piece.title.lower() for word in ("front", "back", "sleeve", "skirt"))
            and "facing" not in piece.title.lower()
        ] or list(pattern.pieces.values())
        self.ways = (
            self._split,
            self._split,
            self._allowance,
            self._fabric,
            self._fabric,
            self._asymmetric,
            self._notch,
            self._mark,
            self._dart,
            self._lengthen,
            self._spread,
            self._slit,
        )

    def _split(self, name: str) -> _Entry:
        piece = self._piece()
        start, end = self._drawn.sample(self._edges(piece), 2)
        at = {"from_at": self._share(), "to_at": self._share()}
        role = {"left_role": self._drawn.choice(ROLES)}
        return "split", {"piece": piece.name, "from": start, "to": end, **at, **role}

    def _allowance(self, name: str) -> _Entry:
        return "allowance", {"seam": self._seam(), "by": f"{self._drawn.uniform(8, 16):.1f}mm"}

    def _fabric(self, name: str) -> _Entry:
        piece = self._drawn.choice(list(self._pattern.pieces.values()))
        shell = [copy.name for copy in piece.copies if copy.role != "interfacing"]
        copies = f"{piece.name}/{self._drawn.choice(shell)}" if shell else piece.name
        return "fabric", {"copies": copies, "role": self._drawn.choice(ROLES)}

    def _asymmetric(self, name: str) -> _Entry:
        return "asymmetric", {"pieces": self._piece().name}

    def _notch(self, name: str) -> _Entry:
        piece = self._piece()
        edge = self._drawn.choice(self._edges(piece))
        return "notch", {"piece": piece.name, "edge": edge, "at": self._share()}

    def _mark(self, name: str) -> _Entry:
        piece = self._piece()
        edge = self._drawn.choice(self._edges(piece))
        inside = f"{self._drawn.uniform(10, 40):.1f}mm"
        return "mark", {"piece": piece.name, "edge": edge, "at": self._share(), "inside": inside}

    def _dart(self, name: str) -> _Entry:
        darted = [piece for piece in self._pieces if piece.darts]
        if not darted:
            return self._fabric(name)
        piece = self._drawn.choice(darted)
        dart = {"piece": piece.name, "dart": self._drawn.choice(piece.darts).name}
        if self._drawn.random() < 0.4:
            return "dart-to", {**dart, "into": self._drawn.choice(("gathers", "ease", "tuck"))}
        if self._drawn.random() < 0.4:
            return "dart-point", {**dart, "by": f"{self._drawn.uniform(-30, 10):.1f}mm"}
        legs = {f"{each.leg_in} {each.leg_out}" for each in piece.darts}
        edges = [edge for edge in self._edges(piece) if not any(edge in each for each in legs)]
        to = self._drawn.choice(edges)
        return "move-dart", {**dart, "to": to, "to_at": self._share()}

    def _lengthen(self, name: str) -> _Entry:
        component = self._piece().component
        pieces = [piece for piece in self._pieces if piece.component == component]
        edges = [edge for edge in self._edges(pieces[0]) if edge in ("side", "center")]
        edge = self._drawn.choice(edges or self._edges(pieces[0]))
        by = f"{self._drawn.uniform(-20, 40):.1f}mm"
        named = ", ".join(piece.name for piece in pieces)
        return "lengthen", {"pieces": named, "edge": edge, "at": self._share(), "by": by}

    def _spread(self, name: str) -> _Entry:
        flaring = [piece for piece in self._pieces if {"hem", "waist"} <= set(self._edges(piece))]
        if not flaring:
            return self._fabric(name)
        by = f"{self._drawn.uniform(20, 120):.1f}mm"
        named = self._drawn.choice(flaring).name
        return "spread", {"piece": named, "open": "hem", "hinge": "waist", "by": by}

    def _slit(self, name: str) -> _Entry:
        return "slit", {"seam": self._seam(), "length": f"{self._drawn.uniform(60, 160):.1f}mm"}

    def _piece(self) -> Piece:
        return self._drawn.choice(self._pieces)

    def _seam(self) -> str:
        return self._drawn.choice(sorted(self._pattern.seams))

    def _edges(self, piece: Piece) -> list[str]:
        return [edge for edge in piece.edge_names if piece.dart_of_leg(edge) is None]

    def _share(self) -> str:
        return f"{self._drawn.uniform(0.25, 0.75):.3f}"
