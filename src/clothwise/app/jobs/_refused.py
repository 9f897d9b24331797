"""In a worker: refusals of a draft in the reader's words and unit, and where they are mended."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Any

from clothwise.app.jobs.ways import Way
from clothwise.app.measured_words import in_unit
from clothwise.app.mending_places import field_of, place_of
from clothwise.app.work import JobRefused
from clothwise.app.work.worker import portable
from clothwise.components.drafting import component_of
from clothwise.components.refusal_words import in_words
from clothwise.components.registry import component_class
from clothwise.errors import ClothwiseError, DocumentError, Fault
from clothwise.pattern.document import Design
from clothwise.pattern.plain_names import plain_name
from clothwise.units import LengthUnit

__all__ = ["first_told", "parameters_named", "refused_in_words", "ways_to_mend"]

_PARAMETER = re.compile(r"\b(?P<of>component|edit) (?P<name>[a-z0-9-]+)")
_CALLED_OTHERWISE = {"long": "length", "wide": "width", "high": "height", "deep": "depth"}
"""How a remedy speaks of a parameter whose name it does not use."""

MOST_WAYS = 3
"""More buttons than these under a refusal help nobody; our own choice."""


def refused_in_words(error: ClothwiseError, design: Design | None, unit: str) -> JobRefused | None:
    """Return a refusal as a page tells it; None if it is no refusal of the library.

    Args:
        error: as it was raised.
        design: whose names stand in it; None if it cannot be read.
        unit: `cm` or `in`; empty takes that of the design.
    """
    refused = portable(error)
    if not isinstance(refused, JobRefused) or design is None:
        return refused if isinstance(refused, JobRefused) else None
    liked = LengthUnit(unit) if unit else design.unit

    def said(text: str) -> str:
        return in_unit(in_words(text, design), liked)

    def fault(each: Mapping[str, Any]) -> dict[str, Any]:
        told = ("what", "how_much", "remedy")
        return {key: said(text) if key in told else text for key, text in each.items()}

    return JobRefused(
        said(refused.what),
        where=_PARAMETER.sub(lambda found: plain_name(found["name"]), refused.where),
        how_much=said(refused.how_much),
        what_to_do=said(refused.what_to_do),
        kind=refused.kind,
        faults=tuple(fault(each) for each in refused.faults),
        text=refused.text,
    )


def first_told(refused: JobRefused) -> tuple[str, str, str]:
    """What is wrong, how much, and what to do: of its first fault if it has several parts."""
    fault = refused.faults[0] if refused.faults else {}
    own = {
        "what": refused.what,
        "how_much": refused.how_much,
        "remedy": refused.what_to_do,
    }
    what, how_much, remedy = (str(fault.get(key) or text) for key, text in own.items())
    return what, how_much, remedy


def ways_to_mend(error: ClothwiseError, design: Design) -> tuple[Way, ...]:
    """The values that a refusal names, else the component that it is about."""
    fields = {field_of(fault.path): place_of(fault.path) for fault in _faults(error)}
    if there := {field: place for field, place in fields.items() if field}:
        return tuple(Way(f"Go to {place}", field) for field, place in there.items())[:MOST_WAYS]
    name = component_of(error)
    if name not in {each.name for each in design.components}:
        return ()
    of = plain_name(name)
    parameters = parameters_named(error, design)[:MOST_WAYS]
    values = tuple(
        Way(f"Go to {plain_name(each)} of {of}", f"param-{name}-{each}") for each in parameters
    )
    return values or (Way(f"Go to the {of}", f"part-{name}"),)


def _faults(error: ClothwiseError) -> tuple[Fault, ...]:
    return error.faults if isinstance(error, DocumentError) else ()


def parameters_named(error: ClothwiseError, design: Design) -> tuple[str, ...]:
    """The parameters of its component that a refusal tells to change, in its order."""
    entry = next((each for each in design.components if each.name == component_of(error)), None)
    if entry is None:
        return ()
    faults = getattr(error, "faults", ())
    if faults:
        return tuple(each.parameter for each in faults if each.component == entry.name)
    names = [*component_class(entry.kind).parameters()]
    found = dict(sorted(_named(error.what_to_do.lower(), names), reverse=True))
    return tuple(sorted(found, key=lambda name: found[name]))


def _named(said: str, names: list[str]) -> Iterator[tuple[str, int]]:
    """Every name with where it stands; a name within a longer one is not meant."""
    taken: list[tuple[int, int]] = []
    for name in sorted(names, key=len, reverse=True):
        words = {name, plain_name(name)} | {
            word for word, meant in _CALLED_OTHERWISE.items() if meant == name
        }
        choice = "|".join(re.escape(each.lower()) for each in sorted(words, key=len, reverse=True))
        for found in re.finditer(rf"(?<![\w-])(?:{choice})(?![\w-])", said):
            if not any(start <= found.start() < end for start, end in taken):
                taken.append(found.span())
                yield name, found.start()
