"""How the off-shoulder sleeve is sewn before it is fastened to anything."""

from __future__ import annotations

from clothwise.components.sleeves.sleeve_facing import closing_steps, fusing_step
from clothwise.components.sleeves.sleeve_shape import seam_step
from clothwise.pattern.operation import Caution, Highlight, Operation


def making_steps(
    name: str, facing: str, elastic_mm: float, casing_mm: tuple[float, float]
) -> tuple[Operation, ...]:
    """The work in its usual order; with elastic, if there is any, a firm facing otherwise."""
    return (
        *(() if elastic_mm else (fusing_step(name, facing),)),
        seam_step(name),
        *closing_steps(name, facing),
        Operation(
            name=f"{name}-top",
            title="Face the top of the sleeves",
            text="Lay each facing on the top of its sleeve, right sides together, {notches} and "
            "seams matched. Sew all round with {allowance} allowance, without stretching the "
            "edge. Grade the allowances, clip the hollows, turn the facing inside and press. "
            + (
                "Topstitch the facing down close to its lower edge."
                if elastic_mm
                else "Topstitch close to the edge, and catch the facing by hand on the allowances "
                "of the sleeve seam."
            ),
            does=(f"{name}-top",),
            minutes=30,
            cautions=(Caution.IRON, Caution.BLADE, Caution.NEEDLE),
            component=name,
        ),
        *((_elastic(name, elastic_mm, casing_mm),) if elastic_mm else ()),
    )


def _elastic(name: str, elastic_mm: float, casing_mm: tuple[float, float]) -> Operation:
    return Operation(
        name=f"{name}-elastic",
        title="Draw elastic through the tops of the sleeves",
        text="Stitch the casing over the arm through sleeve and facing, {upper} and {lower} below "
        "the edge, between the two lines where the elastic ends. Open a few stitches of the facing "
        "beside them and draw in a piece of elastic {cut} long with a bodkin or a safety pin, "
        "without a twist. Sew one end down across the casing, draw up to the other line, try the "
        "sleeve on, and sew the other end down. It should hold without pressing; the part under "
        "the arm stays flat. Spread the fullness and close the gaps.",
        after=(f"{name}-top",),
        shows=(name,),
        minutes=30,
        highlight=Highlight.MARKS,
        cautions=(Caution.NEEDLE,),
        values=(("upper", casing_mm[0]), ("lower", casing_mm[1]), ("cut", elastic_mm)),
        component=name,
    )
