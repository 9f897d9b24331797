"""People whose measurements stand in files of their own, as makes name them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import ClassVar

from clothwise.app.jobs.measure import GridRow
from clothwise.app.work import Job, Tell
from clothwise.app.work.job import Worker

__all__ = ["BodiesOf", "BodyShown"]


@dataclass(frozen=True)
class BodyShown:
    """A person.

    Attributes:
        document: the file of the measurements.
        name: of the person; that of the file if it says none.
        makes: titles of the makes that are for this person.
        unit: of the figures shown.
        rows: one for each measurement, with one cell.
        fault: why the file cannot be read; empty if it can.
    """

    document: str
    name: str
    makes: tuple[str, ...]
    unit: str
    rows: tuple[GridRow, ...] = ()
    fault: str = ""


@dataclass(frozen=True)
class BodiesOf(Job):
    """Read the body files that the makes of a design name.

    Attributes:
        documents: of the design.
        unit: `cm` or `in`; empty takes that of the design.
    """

    worker: ClassVar[Worker] = "draft"

    documents: Mapping[str, str]
    unit: str = ""

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> tuple[BodyShown, ...]:
        """Read them."""
        from clothwise.app.jobs._bodies import bodies

        return bodies(self.documents, self.unit)
