"""In a worker: the order of work of a make, and the picture of a step."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from clothwise.app.jobs.sew import SewShown, SewSitting, SewStep
from clothwise.output import to_svg
from clothwise.output.scene_drawing import picture_drawing, picture_key
from clothwise.packet.booklet import palette_of
from clothwise.work import (
    OrderMode,
    Session,
    Step,
    caution_footer,
    caution_text,
    cautions_of,
    notions,
    scene,
    sessions,
    spoken_minutes,
    total_minutes,
)
from clothwise.work.tools import tools_of

if TYPE_CHECKING:
    from clothwise.app.jobs.sew import StepsOf
    from clothwise.packet.making import Making
    from clothwise.pattern.operation import Operation

__all__ = ["ordered", "sew_shown"]

ROOM_MM = (130.0, 84.0)
"""Width and height of the picture of a step; a page shows it as wide as it has room."""

NARROW_ROOM_MM = (68.0, 78.0)
"""The same where the page has little room, as on a telephone: the words are larger in it."""

TYPE_MM = 3.5
"""Of the words in it: 12 px high where the one is shown 446 px wide, and the other 234 px."""


def ordered(name: str) -> OrderMode:
    """Return the way of going about the work that is called so."""
    return OrderMode.BATCHED if name == "batched" else OrderMode.TEACHING


def sew_shown(job: StepsOf) -> SewShown:
    """Return the work on a make, with the picture of the step that is asked for.

    Raises:
        Misuse, DocumentError, ComponentError, MeasurementError: as `Making.steps`.
    """
    making, mode = job.making(), ordered(job.order)
    steps = making.steps(mode)
    at = _at(job, steps)
    pictures = _pictures(making, steps, at) if at is not None else _NO_PICTURES
    operations = tuple(step.operation for step in steps)
    return SewShown(
        title=making.title,
        fit=making.fit,
        time=spoken_minutes(total_minutes(steps)),
        left=spoken_minutes(total_minutes(_open_ones(job, steps))),
        finished=len(steps) - len(_open_ones(job, steps)),
        sittings=tuple(_sitting(making, each) for each in sessions(steps, job.sitting_min)),
        at=at.operation.name if at is not None else "",
        picture=pictures.wide,
        picture_narrow=pictures.narrow,
        note=pictures.note,
        signs=pictures.signs,
        signs_narrow=pictures.signs_narrow,
        notions=tuple(
            (line.name, line.amount, line.detail) for line in notions(making.pattern, making.unit)
        ),
        tools=tools_of(steps),
        before=(
            "Seam allowances are included in the pattern; each step names its own.",
            "Try the stitching, the heat of the iron and the interfacing on scraps first.",
            *making.pressing,
        ),
        cautions=_cautions(operations),
        footer=caution_footer(),
    )


def _at(job: StepsOf, steps: tuple[Step, ...]) -> Step | None:
    """The step that is asked for; else the next one to do, from the first again after the last."""
    wanted = next((each for each in steps if each.operation.name == job.at), None)
    if wanted is not None or not steps:
        return wanted
    numbers = [each.number for each in steps if each.operation.name == job.after]
    open_ones = _open_ones(job, steps)
    later = (each for each in open_ones if not numbers or each.number > numbers[0])
    return next(later, None) or next(iter(open_ones), None) or steps[-1]


def _open_ones(job: StepsOf, steps: tuple[Step, ...]) -> tuple[Step, ...]:
    return tuple(each for each in steps if each.operation.name not in job.done)


class _Pictures(NamedTuple):
    """The picture of a step and the key to its signs as SVGs, wide and narrow, and a note on it."""

    wide: str
    narrow: str
    note: str
    signs: str
    signs_narrow: str


_NO_PICTURES = _Pictures("", "", "", "", "")


def _pictures(making: Making, steps: tuple[Step, ...], at: Step) -> _Pictures:
    before = [each.operation for each in steps if each.number < at.number]
    done = {name for operation in before for name in operation.does}
    shown = scene(making.pattern, at.operation, done, making.corners)
    palette, roles = palette_of(making), list(making.role_titles)

    def drawn(room: tuple[float, float], prefix: str) -> str:
        drawing = picture_drawing(shown, *room, palette=palette, roles=roles, type_mm=TYPE_MM)
        return to_svg(drawing, standalone=False, id_prefix=prefix)

    def signs(width: float, prefix: str) -> str:
        key = picture_key([shown], palette=palette, roles=roles, type_mm=TYPE_MM, width_mm=width)
        return to_svg(key, standalone=False, id_prefix=prefix)

    return _Pictures(
        drawn(ROOM_MM, "step-"),
        drawn(NARROW_ROOM_MM, "narrow-step-"),
        shown.note,
        signs(ROOM_MM[0], "signs-"),
        signs(NARROW_ROOM_MM[0], "narrow-signs-"),
    )


def _sitting(making: Making, session: Session) -> SewSitting:
    return SewSitting(
        session.number,
        spoken_minutes(session.minutes),
        ", ".join(station.value for station in session.stations),
        tuple(_step(making, step) for step in session.steps),
        session.wait,
    )


def _step(making: Making, step: Step) -> SewStep:
    pieces = making.pattern.pieces
    return SewStep(
        key=step.operation.name,
        number=step.number,
        title=step.title,
        text=step.text,
        station=step.station.value,
        minutes=step.minutes,
        time=spoken_minutes(step.minutes),
        pieces=tuple(
            f"{pieces[name].title} (piece {making.numbers[name]})"
            for name in step.pieces
            if name in pieces
        ),
        reasons=step.reasons,
        cautions=_cautions((step.operation,)),
    )


def _cautions(operations: tuple[Operation, ...]) -> tuple[tuple[str, str], ...]:
    return tuple((each.value, caution_text(each)) for each in cautions_of(operations))
