"""The job behind the page that says for whom a make is: a size, a person, own measurements."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import ClassVar

from clothwise.app.work import Job, Tell
from clothwise.app.work.job import Worker

__all__ = ["OWN", "PERSON", "SIZE", "BodyFileOf", "ForWhomOf", "ForWhomShown", "OwnRow", "ReadBody"]

SIZE, PERSON, OWN = "size:", "person:", "own"
"""What a make begins with: `size:38`, `person:bodies/ada.yaml`, or own measurements alone."""


@dataclass(frozen=True)
class OwnRow:
    """One measurement of a make.

    Attributes:
        name: from the vocabulary.
        label: as it is read.
        definition: how it is taken.
        unit: of the texts: `cm`, `in` or `°`.
        is_required: own measurements alone need it.
        usual: what it is without an own one, without its unit; empty if nobody knows.
        spoken: the same with its unit.
        is_estimated: nobody measured that.
        own: what the make says instead, in `unit`; empty if it says nothing.
    """

    name: str
    label: str
    definition: str
    unit: str
    is_required: bool
    usual: str
    spoken: str
    is_estimated: bool
    own: str


@dataclass(frozen=True)
class ForWhomShown:
    """For whom a make is.

    Attributes:
        document: of the make.
        title: of it.
        fit: for whom it is, in words.
        size, body: as the make says them; may be empty.
        start: what it begins with, one of the values in `starts`.
        starts: groups of what it could begin with: values with words for each.
        rows: one for each measurement.
        figures: pictures of the body, by view.
        seed: what searches begin with.
        unit: `cm`, `in` or `mm`: of lengths.
        problem: why no pattern can be drafted for this body; empty if it can.
        instead: the size whose figures are shown, as long as too little is known of the body.
    """

    document: str
    title: str
    fit: str
    size: str
    body: str
    start: str
    starts: Mapping[str, Mapping[str, str]]
    rows: tuple[OwnRow, ...]
    figures: Mapping[str, str]
    seed: int
    unit: str
    problem: str
    instead: str


@dataclass(frozen=True)
class ForWhomOf(Job):
    """Read for whom a make is.

    Attributes:
        documents: of the design.
        make: the document.
        unit: `cm` or `in`; empty takes that of the chart.
        start: what to begin with instead of what the make says; only looked at.
        typed: own measurements as they are typed at the moment; None for those of the make.
    """

    worker: ClassVar[Worker] = "draft"

    documents: Mapping[str, str]
    make: str
    unit: str = ""
    start: str = ""
    typed: Mapping[str, str] | None = None

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> ForWhomShown:
        """Read it, and draft it once for its body."""
        from clothwise.app.jobs._for_whom import for_whom

        return for_whom(self)


@dataclass(frozen=True)
class BodyFileOf(Job):
    """Write the body of a make as a file.

    Attributes:
        documents: of the design.
        make: the document.
        unit: `cm` or `in`; empty takes that of the chart.
    """

    worker: ClassVar[Worker] = "draft"

    documents: Mapping[str, str]
    make: str
    unit: str = ""

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> str:
        """Return the text of the file."""
        from clothwise.app.jobs._for_whom import body_file

        return body_file(self)


@dataclass(frozen=True)
class ReadBody(Job):
    """Read the body file of a person that somebody brings.

    Attributes:
        name: of the file; its ending tells CSV from YAML.
        text: of the file.
    """

    worker: ClassVar[Worker] = "draft"

    name: str
    text: str

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> dict[str, str]:
        """Return what was measured, each as a text with its unit."""
        from clothwise.app.jobs._for_whom import brought_body

        return brought_body(self)
