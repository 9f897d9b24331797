"""The jobs of the sew room: the order of work with the picture of one step, and the outline."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, ClassVar

from clothwise.app.jobs.cut_making import MakeJob
from clothwise.app.work.job import Tell, Worker

__all__ = ["ORDERS", "OutlineOf", "SewShown", "SewSitting", "SewStep", "StepsOf"]

ORDERS = ("teaching", "batched")
"""Ways to go about the work, by the names of `OrderMode`."""


@dataclass(frozen=True)
class SewStep:
    """One step for a page; `key` names its operation and stays when numbers move."""

    key: str
    number: int
    title: str
    text: str
    station: str
    minutes: float
    time: str
    pieces: tuple[str, ...]
    reasons: tuple[str, ...]
    cautions: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class SewSitting:
    """Steps that are sewn in one go; `wait` is what must pass before it, in words."""

    number: int
    time: str
    stations: str
    steps: tuple[SewStep, ...]
    wait: str = ""


@dataclass(frozen=True)
class SewShown:
    """The work on a make.

    Attributes:
        title, fit: what is made, for whom.
        time, left: all of it, and what is not finished, in words.
        finished: how many steps are.
        sittings: all steps, shared out.
        at: key of the step whose picture is here.
        picture: of that step, an SVG; empty if there is no step.
        picture_narrow: the same with larger words, for where there is little room.
        note: what to know about the picture.
        signs: what the lines of the picture mean, an SVG.
        signs_narrow: the same for where there is little room.
        notions: what to have at hand beside cloth: name, amount, detail.
        tools: what else to have at hand.
        before: what to know before sewing.
        cautions: what to mind in all of it: a word, and sentences.
        footer: what comes before all cautions.
    """

    title: str
    fit: str
    time: str
    left: str
    finished: int
    sittings: tuple[SewSitting, ...]
    at: str
    picture: str
    picture_narrow: str
    note: str
    signs: str
    signs_narrow: str
    notions: tuple[tuple[str, str, str], ...]
    tools: tuple[str, ...]
    before: tuple[str, ...]
    cautions: tuple[tuple[str, str], ...]
    footer: str

    @property
    def steps(self) -> tuple[SewStep, ...]:
        """All steps in order."""
        return tuple(step for sitting in self.sittings for step in sitting.steps)


@dataclass(frozen=True)
class StepsOf(MakeJob):
    """The order of work, shared out over sittings, with the picture of one step.

    Attributes:
        order: one of `ORDERS`.
        sitting_min: how long a sitting is at most.
        at: key of the step to draw.
        after: without that, the first step after this one is drawn that is not finished.
        done: keys of the steps that are finished.
    """

    worker: ClassVar[Worker] = "back"

    order: str = "teaching"
    sitting_min: int = 90
    at: str = ""
    after: str = ""
    done: tuple[str, ...] = ()

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> SewShown:
        """Work it out; where nothing else is asked for, the first unfinished step is drawn."""
        from clothwise.app.jobs._sewing import sew_shown

        return sew_shown(self)


@dataclass(frozen=True)
class OutlineOf(MakeJob):
    """The outline of a sew-along: as data for a page, and as text."""

    worker: ClassVar[Worker] = "back"

    order: str = "teaching"
    chapter_min: int = 60

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> tuple[dict[str, Any], str]:
        """Work it out."""
        from clothwise.app.jobs._sewing import ordered
        from clothwise.packet.outline import outline, outline_data, outline_text

        found = outline(self.making(), mode=ordered(self.order), chapter_min=self.chapter_min)
        return outline_data(found), outline_text(found)
