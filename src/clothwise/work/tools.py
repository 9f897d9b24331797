"""What lies at hand for sewing beside cloth and notions: by place of work, and as steps name it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from clothwise.pattern.operation import Caution, Station
from clothwise.work.steps import Step

__all__ = ["tools_of"]

_HAND = "hand needle and thread"
_OF_STATION = {
    Station.CUTTING_TABLE: ("scissors", "chalk or pencil, and a ruler"),
    Station.FUSING: ("iron and press cloth", "the leaflet of the interfacing"),
    Station.MACHINE: ("sewing machine, threaded", "pins and scissors"),
    Station.IRON: ("iron and board",),
    Station.HAND: (_HAND, "thimble"),
}
_OF_WORDS = (
    (re.compile(r"overlock|\bneaten", re.IGNORECASE), "overlocker, or the zigzag of the machine"),
    (re.compile(r"\A.*\bzip|zip foot", re.IGNORECASE), "zip foot"),
    (re.compile(r"by hand|slip ?stitch|catch ?stitch|hand needle", re.IGNORECASE), _HAND),
    (re.compile(r"\blevel the", re.IGNORECASE), "chalk and a long ruler, to level the hem"),
    (re.compile(r"\bhang the", re.IGNORECASE), "hanger with clips"),
)
"""What a step needs that says so; of a zip, in its title."""


def tools_of(some: Sequence[Step]) -> tuple[str, ...]:
    """What steps need beside cloth and notions, each once: by their places, then by their words."""
    stations = dict.fromkeys(step.station for step in some)
    if any(Caution.IRON in step.cautions for step in some):
        stations.setdefault(Station.IRON)
    by_place = (tool for each in stations for tool in _OF_STATION[each])
    return tuple(dict.fromkeys((*by_place, *_named(some))))


def _named(some: Sequence[Step]) -> Iterator[str]:
    for words, tool in _OF_WORDS:
        if any(words.search(f"{step.title}\n{step.text}") for step in some):
            yield tool
