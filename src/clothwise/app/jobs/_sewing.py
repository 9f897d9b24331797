"""In a worker: the order of work of a make, and the picture of a step."""

from __future__ import annotations

from typing import TYPE_CHECKING

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

TYPE_MM = 3.3
"""Of the words in it: still to be read where a telephone shows it at half its size."""

SIGNS_WIDTH_MM = 130.0


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
    picture, note, signs = _picture(making, steps, at) if at is not None else ("", "", "")
    operations = tuple(step.operation for step in steps)
    return SewShown(
        title=making.title,
        fit=making.fit,
        time=spoken_minutes(total_minutes(steps)),
        left=spoken_minutes(total_minutes(_open_ones(job, steps))),
        finished=len(steps) - len(_open_ones(job, steps)),
        sittings=tuple(_sitting(making, each) for each in sessions(steps, job.sitting_min)),
        at=at.operation.name if at is not None else "",
        picture=picture,
        note=note,
        signs=signs,
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


def _picture(making: Making, steps: tuple[Step, ...], at: Step) -> tuple[str, str, str]:
    """The picture of a step, a note on it, and the key to its signs."""
    before = [each.operation for each in steps if each.number < at.number]
    done = {name for operation in before for name in operation.does}
    shown = scene(making.pattern, at.operation, done, making.corners)
    palette, roles = palette_of(making), list(making.role_titles)
    drawing = picture_drawing(shown, *ROOM_MM, palette=palette, roles=roles, type_mm=TYPE_MM)
    signs = picture_key([shown], palette=palette, roles=roles, width_mm=SIGNS_WIDTH_MM)
    return (
        to_svg(drawing, standalone=False, id_prefix="step-"),
        shown.note,
        to_svg(signs, standalone=False, id_prefix="signs-"),
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
