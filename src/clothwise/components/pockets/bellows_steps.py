"""The work of a bellows pocket, in words: from fusing to the pocket on its host."""

from __future__ import annotations

from dataclasses import dataclass

from clothwise.components.finishes.fusing import fuse
from clothwise.pattern.operation import Caution, Operation


@dataclass(frozen=True)
class BellowsSteps:
    """What the wording needs to know.

    `pocket` is what it is called; `ends` what is turned in first, and then, at the ends of the
    gusset, mm; `placements` those that sew it on.
    """

    name: str
    pocket: str
    number: int
    pleat_mm: float
    is_square: bool
    has_flap: bool
    ends: tuple[float, float]
    placements: tuple[str, ...]

    def all(self) -> tuple[Operation, ...]:
        """From fusing to the pocket on its host."""
        return (
            self._fuse(),
            *self._fold(),
            self._neaten(),
            self._face(),
            self._hem_ends(),
            self._sew_gusset(),
            self._sew_on(),
        )

    @property
    def _many(self) -> bool:
        return self.number > 1

    @property
    def _them(self) -> str:
        """The pocket or pockets in a title."""
        return f"{self.pocket}{'s' if self._many else ''}"

    def _fuse(self) -> Operation:
        has_flap = self.has_flap
        s = "s" if self._many else ""
        flaps = f" and of the flap{s}, not of the under flap{s}" if has_flap else ""
        return fuse(
            self.name,
            f"Fuse the {self.pocket} facing{s}{f' and flap{s}' if has_flap else ''}",
            f"Iron the interfacing onto the wrong side of the facing{s} of the top edge{flaps}.",
            (f"{self.name}-facing", *((f"{self.name}-flap",) if has_flap else ())),
            6.0,
        )

    def _fold(self) -> tuple[Operation, ...]:
        if not self.pleat_mm:
            return ()
        return (
            Operation(
                name=f"{self.name}-pleat",
                title=f"Fold the pleat{'s' if self._many else ''} of the {self._them}",
                text="On "
                + ("each pocket" if self._many else "the pocket")
                + " fold along the outer fold lines, wrong sides together, and lay each fold on "
                "the line beside it, so that the inner folds meet behind the middle. The pleat is "
                "{pleat} wide. Press, and baste across it at the upper and the lower edge.",
                prepares=(f"{self.name}.top", f"{self.name}.bottom"),
                shows=(self.name,),
                minutes=5.0 * self.number,
                cautions=(Caution.IRON,),
                values=(("pleat", self.pleat_mm),),
                component=self.name,
            ),
        )

    def _neaten(self) -> Operation:
        return Operation(
            name=f"{self.name}-facing-neaten",
            title=f"Neaten the {self.pocket} facing{'s' if self._many else ''}",
            text="Neaten (overlock or zigzag) the lower edge of "
            + ("each facing." if self._many else "the facing."),
            does=(f"{self.name}-facing-lower",),
            minutes=1.5 * self.number,
            component=self.name,
        )

    def _face(self) -> Operation:
        return Operation(
            name=f"{self.name}-face",
            title=f"Face the top edge of the {self._them}",
            text=("Lay each facing on its pocket" if self._many else "Lay the facing on the pocket")
            + ", right sides together, upper edges level, and sew with {allowance} allowance. Trim "
            "to half, turn the facing inside, press, and stitch close to the fold and again along "
            "the lower edge of the facing.",
            does=(f"{self.name}-top",),
            after=(f"{self.name}-facing-neaten",),
            minutes=7.0 * self.number,
            cautions=(Caution.IRON, Caution.BLADE),
            component=self.name,
        )

    def _hem_ends(self) -> Operation:
        return Operation(
            name=f"{self.name}-gusset-ends",
            title=f"Hem the ends of the {self.pocket} gusset{'s' if self._many else ''}",
            text="At both ends of "
            + ("each gusset" if self._many else "the gusset")
            + " press {turn} to the wrong side, then {depth}, and stitch.",
            does=(f"{self.name}-gusset-left", f"{self.name}-gusset-right"),
            minutes=4.0 * self.number,
            cautions=(Caution.IRON,),
            values=(("turn", self.ends[0]), ("depth", self.ends[1])),
            component=self.name,
        )

    def _sew_gusset(self) -> Operation:
        is_square = self.is_square
        turn = (
            "At each lower corner stop with the needle down, clip the gusset to the stitching, "
            "spread it and turn. "
            if is_square
            else "Clip the allowance of the gusset round the lower corners, so that it spreads. "
        )
        return Operation(
            name=f"{self.name}-gusset",
            title=f"Sew the gusset{'s' if self._many else ''} to the {self._them}",
            text="Lay the gusset round the sides and the lower edge of the pocket, right sides "
            "together, its hemmed ends level with the finished top edge and {notches} matched at "
            "the corners. Sew with {allowance} allowance, catching the facing at the top. "
            + turn
            + "Neaten the edges together, press them into the gusset, fold along the seam, wrong "
            "sides together, and stitch close to the fold.",
            does=(f"{self.name}-gusset",),
            after=(f"{self.name}-gusset-ends",),
            minutes=18.0 * self.number,
            cautions=(Caution.IRON, Caution.BLADE),
            component=self.name,
        )

    def _sew_on(self) -> Operation:
        return Operation(
            name=f"{self.name}-sew-on",
            title=f"Sew on the {self._them}",
            text="Press {allowance} of the free edge of the gusset to the wrong side. Lay "
            + ("each pocket" if self._many else "the pocket")
            + " on its placement line, the ends of the gusset on the dots, and stitch the gusset "
            "close to its fold, one side, the lower edge, the other side, pivoting at the corners "
            "and keeping the pocket out of the way. Then lay the gusset flat behind the pocket "
            "and stitch a small triangle through all layers at both upper corners.",
            does=self.placements,
            minutes=20.0 * self.number,
            cautions=(Caution.IRON, Caution.NEEDLE),
            component=self.name,
        )
