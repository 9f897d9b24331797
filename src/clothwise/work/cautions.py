"""What to say about work that can hurt: usual care, then the manual, the label and local rules."""

from __future__ import annotations

from clothwise.pattern.operation import Caution, Operation, Station

_DEFERS = (
    "The machine's and the iron's own manuals, the care label of your fabric and the rules of "
    "your country, school or workshop come before anything said here."
)

_WORDING = {
    Caution.IRON: "The sole plate and the steam burn. Set the heat by the fabric's care label, "
    "try it on a scrap, and press on a firm, heatproof surface. Stand the iron on its heel when "
    "you put it down, let pieces cool before you handle them, and unplug it when you leave.",
    Caution.FUSING_HEAT: "Fusing presses hard and hot for a long time. Take heat and time from the "
    "interfacing's own leaflet, but never more heat than the fabric's care label allows; try a "
    "scrap of both, use a press cloth, open a window, and leave the pieces flat until cold.",
    Caution.BLADE: "Scissors, seam rippers and rotary cutters cut fingers as easily as cloth. Cut "
    "away from yourself and from the hand that holds the work, keep the blade sharp, closed when "
    "not in use, and out of the reach of children.",
    Caution.NEEDLE: "Keep fingers clear of the moving needle, take pins out in good time, "
    "and switch the machine off to thread it or to change needle or foot. Count pins and hand "
    "needles when you put them away.",
    Caution.CORD: "Ties, cords and loops can catch and strangle. On clothes for children keep them "
    "short or leave them out, have none at the hood or neck, and follow the rules of your country "
    "for cords and small parts on children's clothes.",
    Caution.TOOL: "Awls, punches, hammers and setting tools for eyelets pinch and pierce, and what "
    "is snapped off a bone or a rivet flies. Work on a steady base, keep fingers clear, protect "
    "your eyes, hold the awl away from yourself, and feel every rim and end for sharp edges "
    "afterward.",
}


def caution_text(caution: Caution) -> str:
    """What to mind, in whole sentences."""
    return _WORDING[caution]


def caution_footer() -> str:
    """The sentence that must stand below any list of cautions."""
    return _DEFERS


def cautions_of(operations: tuple[Operation, ...]) -> tuple[Caution, ...]:
    """All cautions that some operations call for, those that follow from the station included."""
    found = {caution for operation in operations for caution in operation.cautions}
    stations = {operation.station for operation in operations}
    if stations & {Station.MACHINE, Station.HAND}:
        found.add(Caution.NEEDLE)
    if Station.IRON in stations:
        found.add(Caution.IRON)
    if Station.FUSING in stations:
        found |= {Caution.FUSING_HEAT, Caution.IRON}
    if Station.CUTTING_TABLE in stations:
        found.add(Caution.BLADE)
    return tuple(caution for caution in Caution if caution in found)
