"""In a worker: a make for each person of a class, alike but for the measurements."""

from __future__ import annotations

from dataclasses import replace

from clothwise.app.jobs._makes import new_make
from clothwise.app.jobs.brought import MakesOfPeople
from clothwise.app.jobs.makes import NewMakeOf
from clothwise.app.measured_texts import with_unit
from clothwise.components import open_make
from clothwise.pattern.document import format_make, parse_make
from clothwise.pattern.size_chart import exact_text, parse_size_chart


def makes_of_people(asked: MakesOfPeople) -> dict[str, str]:
    """Return the texts of the makes, by document.

    Only the first is drafted, in the size that it is like: whether the design can be drafted for
    somebody is told where her make is opened.

    Raises:
        ClothwiseError: the design cannot be made at all.
    """
    chart = parse_size_chart(asked.text)
    view = open_make(asked.documents, asked.like).make.view if asked.like else ""
    first = next(iter(asked.names.values()))
    job = NewMakeOf(asked.documents, first, asked.like, "", view, "")
    plain = parse_make(new_make(job), file=first)
    makes = {}
    for body in chart:
        measured = {
            name: with_unit(name, exact_text(name, value, chart.unit), chart.unit.value)
            for name, value in body.given.items()
        }
        make = replace(plain, title=body.name, size="", body="", measurements=measured)
        makes[asked.names[body.name]] = format_make(make)
    return makes
