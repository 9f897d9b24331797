"""Garments put together at random from the library.

A garment is drawn from a seed: a frame (dress, tunic, skirt, corselette), then what such a garment
has, of any kind that may stand there, with parameters in the middle of their ranges, several
fabrics and some edits. Nothing is drawn that a component says it cannot be put onto (a waistband
onto a dress); all else is, whether an example has it or not.
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

from clothwise.components import DesignFile, component_class, draft, read_design
from clothwise.components.parameter import Parameter, ParameterKind, field_name
from clothwise.pattern import Body
from clothwise.pattern.document import ComponentEntry, Design, FabricRole
from garment_edits import garment_edits
from survey import survey_women

__all__ = ["Garment", "bodies", "plain_garment", "random_garment"]

EXAMPLES = Path(__file__).resolve().parent.parent / "examples"

MIDDLE = (0.2, 0.8)
"""Parameters are drawn from this part of their range; the ends are tested one by one."""

FREE = 0.35
"""How often a parameter is not left at its default."""

NEAR_USUAL = ("ease", "fullness", "taper")
SHARE_OF_USUAL = 0.4
"""Parameters with such a word go only so far from their default toward the middle's ends: less ease
is for stretch, and more is no garment."""

ROLES = ("main", "contrast", "third", "fourth")

OVER_THE_HEAD = {"neckline": "scoop", "neck_widen": "45mm", "front_neck_drop": "110mm"}
"""A neckline that needs no opening."""

NEVER_DRAWN = (
    *("longest", "widest_panel", "grain"),
    *("gap", "back_opening", "reach", "tiers", "stitched", "shoulder_width"),
    *("below_waist", "above_waist", "part", "place", "seams"),
)
"""What follows from something else in the garment or from the body."""


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


def random_garment(seed: int, number: int) -> Garment:
    """The garment of this number; always the same one."""
    drawn = random.Random(f"{seed} {number}")  # each parameter has its own: see `_part`
    wearer = drawn.choice(drawn.choice(bodies()))
    design = _design(_Drawing(drawn, f"{seed} {number}", FREE))
    design = replace(design, seam_allowance=drawn.choice(("10mm", "12mm", "15mm")))
    edits = drawn.choice((0, 0, 0, 1, 1, 2, 3))
    if edits:
        with suppress(Exception):  # told when it is tried
            pattern = draft(design, wearer)
            design = replace(design, edits=tuple(garment_edits(drawn, pattern, ROLES, edits)))
    return Garment(seed, number, design, wearer)


def plain_garment(seed: int, number: int) -> Garment:
    """A garment of random components with their defaults, without edits, in the base size."""
    design = _design(_Drawing(random.Random(f"plain {seed} {number}"), "", 0.0))
    sizes = bodies()[0]
    return Garment(seed, number, design, next(each for each in sizes if each.name == "38"))


@cache
def bodies() -> tuple[tuple[Body, ...], tuple[Body, ...]]:
    """The sizes of a chart, and women of the survey."""
    return tuple(_usual().chart), survey_women()


@cache
def _usual() -> DesignFile:
    return read_design(EXAMPLES / "kiln-dress")


def _design(drawing: _Drawing) -> Design:
    return replace(
        _usual().design,
        components=tuple(drawing.components()),
        edits=(),
        fabric_roles=tuple(FabricRole(role, f"{role} fabric") for role in ROLES),
    )


class _Drawing:
    """Draws the components of one garment, in the order in which they are drafted.

    `free` is how often a parameter is drawn too.
    """

    def __init__(self, drawn: random.Random, seed: str, free: float) -> None:
        self._drawn, self._seed, self._free = drawn, seed, free
        self._sleeved = self._tabbed = False

    def components(self) -> Iterator[ComponentEntry]:
        frames = (self._dress, self._tunic, self._skirt, self._corselette)
        (frame,) = self._drawn.choices(frames, weights=(6, 2, 3, 1))
        yield from frame()

    # Frames

    def _dress(self) -> Iterator[ComponentEntry]:
        front = self._one_of(
            "plain", "plain", "banded", "wrap", "wrap to the side", "lapel", "zip at back",
            "buttoned back",
        )  # fmt: skip
        waist = self._one_of("natural", "natural", "empire", "dropped")
        yield self._bodice(front, waist=waist)
        yield from self._front(front)
        kinds = ("a-line-skirt", "pleated-skirt", "gathered-skirt", "tiered-skirt")
        kind = self._one_of(*kinds, "straight-skirt", "gored-skirt")
        yield self._part("skirt", kind)
        lower_edge = self._lower_edge(
            ruffled=kind != "straight-skirt" and front not in ("zip at back", "buttoned back")
        )
        yield from lower_edge[:-1]
        yield from self._neck(front)
        yield from self._armholes()
        yield from self._skirt_pockets(kind)
        yield from self._bodice_pockets()
        yield from self._small_parts(with_skirt=True)
        yield from self._closing(front)
        yield lower_edge[-1]
        is_turned = lower_edge[-1].kind != "faced-hem" and len(lower_edge) == 1
        if is_turned and kind != "tiered-skirt" and self._chance(0.2):
            yield self._part("lengths", "shorter-lengths", number="2", step="20mm")
        yield from self._finishes(front, "waist" if "pleated" not in kind else "armhole")

    def _tunic(self) -> Iterator[ComponentEntry]:
        front = self._one_of(
            "plain", "plain", "banded", "wrap", "lapel", "closed", "closed", "slit at back"
        )
        yield self._bodice(front, waist="none")
        yield from self._front(front)
        lower_edge = self._lower_edge(ruffled=True)
        yield from lower_edge[:-1]
        yield from self._neck(front)
        yield from self._armholes()
        if self._chance(0.25):
            yield self._part("in-seam", "in-seam-pocket", kept=("below_waist",))
        yield from self._bodice_pockets()
        yield from self._small_parts(with_skirt=False)
        yield from self._closing(front)
        yield lower_edge[-1]
        yield from self._finishes(front, "armhole")

    def _skirt(self) -> Iterator[ComponentEntry]:
        kind = self._one_of(
            "straight-skirt", "gored-skirt", "pleated-skirt", "gathered-skirt", "tiered-skirt",
            "circle-skirt", "wrap-skirt",
        )  # fmt: skip
        gathered = kind in ("gathered-skirt", "tiered-skirt")
        pulled_on = gathered and self._chance(0.4)
        opens = {"opens": "nowhere" if pulled_on else "center back"} if gathered else {}
        yield self._part("skirt", kind, **opens)
        if kind == "wrap-skirt":
            yield self._part("band", "tie-waistband")
        elif pulled_on:
            yield self._part("casing", "elastic-casing")
        else:
            tops = ("straight-waistband", "waist-facing")
            yield self._part("top", tops[0] if gathered else self._one_of(*tops))
            yield self._part("closure", self._one_of("zip", "zip", "hooks-and-eyes"))
        yield from self._skirt_pockets(kind)
        if self._chance(0.2):
            yield self._part("loops", "belt-loops")
        yield from self._lower_edge(
            ruffled=kind not in ("straight-skirt", "wrap-skirt", "circle-skirt")
        )
        yield from self._finishes("skirt", "waist")

    def _corselette(self) -> Iterator[ComponentEntry]:
        closing, skirt = self._one_of("zip", "hooks-and-eyes", "lacing"), self._chance(0.3)
        fixed = {"gap": "40mm"} if closing == "lacing" and not skirt else {}
        yield self._part("corselette", "corselette", **fixed)
        if skirt:
            yield self._part("skirt", self._one_of("a-line-skirt", "gathered-skirt"))
        style = {"style": "centered"} if closing == "zip" else {}
        yield self._part("closure", closing, **style)
        if closing == "lacing" and skirt:
            yield self._part("closure-below", self._one_of("zip", "hooks-and-eyes"))
        if self._chance(0.4):
            yield self._part("sleeve", "off-shoulder-sleeve")
        yield from self._lower_edge(ruffled=False)
        yield from self._finishes("corselette", "")

    # What they have

    def _bodice(self, front: str, **fixed: str) -> ComponentEntry:
        """A bodice that opens as its front asks; a front that is redrawn must have no yoke."""
        kind = self._one_of("darted-bodice", "princess-bodice", "yoke-bodice")
        kept = ("back_neck_drop", "yoke_depth") if kind == "yoke-bodice" else ()
        if kind == "yoke-bodice" and front.startswith(("wrap", "lapel")):
            kept = (*kept, "yoke")
        return self._part("bodice", kind, kept=kept, **fixed, **self._opening(front))

    def _opening(self, front: str) -> dict[str, str]:
        return {
            "closed": {"opening": "none", **OVER_THE_HEAD},
            "zip at back": {"opening": "center back"},
            "buttoned back": {"opening": "buttoned back"},
            "slit at back": {"opening": "center back", "back_opening": "180mm"},
        }.get(front, {"opening": "center front"})

    def _front(self, front: str) -> Iterator[ComponentEntry]:
        if front in ("wrap", "lapel"):
            yield self._part("front", f"{front}-front")
        elif front == "wrap to the side":
            yield self._part("front", "wrap-front", reach=f"{self._drawn.uniform(0.5, 0.95):.2f}")

    def _neck(self, front: str) -> Iterator[ComponentEntry]:
        if front == "lapel":
            yield self._part("collar", "notched-collar")
        elif front == "wrap to the side":
            yield self._part("facing", "wrap-facing")
        elif front == "banded":
            yield self._part("band", "button-band")
            if self._chance(0.5):
                yield self._part("collar", "shirt-collar")
            else:
                yield self._part("binding", "neck-binding")
        elif front in ("plain", "buttoned back") and self._chance(0.2):
            yield self._part("facing", "edge-facing")
            yield self._part("binding", "neck-binding")
            return
        elif front == "closed":
            if self._chance(0.4):
                yield self._part("binding", "neck-binding")
            else:
                yield self._part("facing", "neck-facing", shoulder_width="40mm")
        elif front in ("zip at back", "slit at back"):
            yield self._part("facing", self._one_of("neck-facing", "neck-binding"))
        elif front == "buttoned back":
            yield self._part("facing", "back-and-neck-facing")
        else:
            yield self._part("facing", "front-and-neck-facing")
        if front == "plain" and self._chance(0.5):
            collars = ("two-piece-collar", "shirt-collar", "flat-collar")
            yield self._part("collar", self._one_of(*collars))
        if "back" not in front and self._chance(0.2):
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
        self._sleeved = "sleeve" in sleeve
        if sleeve in ("bound-armhole", "armhole-facing") and self._chance(0.3):
            yield self._part("detachable", "detachable-sleeve")
        if sleeve == "set-in-sleeve" and self._chance(0.2):
            yield self._part("elastic", "sleeve-elastic")

    def _skirt_pockets(self, kind: str) -> Iterator[ComponentEntry]:
        patch = kind not in ("tiered-skirt", "circle-skirt") and self._chance(0.35)
        if patch:
            pocket = self._one_of("turned-patch-pocket", "bellows-pocket")
            size = {"width": self._mm(110, 150), "height": self._mm(110, 160)}
            host = self._one_of("skirt front", "skirt back")
            yield self._pocket("skirt-pocket", pocket, host=host, **size)
        if kind in ("tiered-skirt", "circle-skirt", "wrap-skirt") or not self._chance(0.3):
            return
        slanted = kind in ("a-line-skirt", "straight-skirt", "gored-skirt") and not patch
        yield self._part(
            "side-pocket",
            self._one_of("in-seam-pocket", "slant-pocket") if slanted else "in-seam-pocket",
        )

    def _bodice_pockets(self) -> Iterator[ComponentEntry]:
        if self._chance(0.25):
            pocket = self._one_of("turned-patch-pocket", "bellows-pocket")
            size = {"width": "80mm", "height": "90mm"}
            yield self._pocket("breast-pocket", pocket, host="bodice front", number="1", **size)

    def _pocket(self, name: str, kind: str, **fixed: str) -> ComponentEntry:
        return self._part(name, kind, kept=("from_center", "from_side", "below_top"), **fixed)

    def _small_parts(self, *, with_skirt: bool) -> Iterator[ComponentEntry]:
        self._tabbed = self._chance(0.2)
        if self._tabbed:
            yield self._part("tab", "shoulder-tab")
        if with_skirt and self._chance(0.2):
            yield self._part("loops", "belt-loops")
        if self._chance(0.3):
            yield self._part("belt", "tie-belt")
        elif self._chance(0.2):
            yield self._part("ties", "side-ties")

    def _closing(self, front: str) -> Iterator[ComponentEntry]:
        kind = {
            "plain": "buttons",
            "banded": "buttons",
            "wrap to the side": self._one_of("wrap-ties", "wrap-buttons"),
            "buttoned back": "buttons",
            "wrap": "double-breasted-buttons",
            "lapel": "double-breasted-buttons",
            "zip at back": "zip",
            "slit at back": "button-and-loop",
        }.get(front)
        if kind is not None:
            yield self._part("closing", kind)

    def _lower_edge(self, *, ruffled: bool) -> list[ComponentEntry]:
        """A ruffle or none, which is listed before a facing closes its end; and the hem."""
        hems = ("double-hem", "single-hem", "rolled-hem", "bound-hem", "faced-hem")
        if ruffled and self._chance(0.12):
            narrow = self._part("hem", self._one_of("double-hem", "rolled-hem"))
            return [self._part("hem-ruffle", "ruffle", edge="hem"), narrow]
        return [self._part("hem", self._one_of(*hems))]

    def _finishes(self, front: str, stayed: str) -> Iterator[ComponentEntry]:
        """What is done to seams and edges; `stayed` is an edge that may be staystitched."""
        kept = ("allowance", "width", "distance")
        if self._chance(0.15):
            finish = {"finish": "overlocked together"} if front in ("skirt", "corselette") else {}
            yield self._part("added-finish", "seam-finish", kept=kept, seams="all", **finish)
        if front in ("plain", "lapel", "wrap", "buttoned back"):  # these have facings
            for kind in ("topstitching", "interfacing"):
                if self._chance(0.2):
                    yield self._part(f"added-{kind}", kind, kept=kept)
        open_armhole = stayed != "armhole" or (self._sleeved and not self._tabbed)
        if stayed and open_armhole and self._chance(0.2):
            yield self._part("added-stay", "staystitching", edge=stayed, kept=("inside",))

    # One of them

    def _part(
        self, name: str, kind: str, *, kept: tuple[str, ...] = (), **fixed: str
    ) -> ComponentEntry:
        """A component with some parameters drawn, each from a seed of its own.

        So a garment stays as it is when a component that it has learns another parameter.
        """
        of, drawn = component_class(kind), {}
        for each, parameter in of.parameters().items():
            own = random.Random(f"{self._seed} {name} {kind} {each}")
            if each in fixed or each in kept or each in NEVER_DRAWN or own.random() >= self._free:
                continue
            drawn[each] = _value(own, each, parameter, getattr(of, field_name(each, parameter)))
        role = self._one_of("main", "main", "main", *ROLES)
        return ComponentEntry(name, kind, {**drawn, **fixed}, role=role)

    def _mm(self, low: float, high: float) -> str:
        return f"{self._drawn.uniform(low, high):.1f}mm"

    def _one_of(self, *words: str) -> str:
        return self._drawn.choice(words)

    def _chance(self, share: float) -> bool:
        return self._drawn.random() < share


def _value(drawn: random.Random, name: str, parameter: Parameter, usual: float) -> str:
    """A value in the middle of its range, or near its default."""
    if parameter.kind is ParameterKind.CHOICE:
        return drawn.choice(parameter.choices)
    low, high = (parameter.low + share * (parameter.high - parameter.low) for share in MIDDLE)
    if parameter.kind is ParameterKind.COUNT:
        return str(drawn.randint(round(low), round(high)))
    if any(word in name for word in NEAR_USUAL):
        low = usual - SHARE_OF_USUAL * (usual - max(parameter.low, 0.0))
        high = usual + SHARE_OF_USUAL * (high - usual)
    unit = {ParameterKind.LENGTH: "mm", ParameterKind.ANGLE: "rad"}.get(parameter.kind, "")
    return f"{drawn.uniform(low, high):.4f}{unit}"
