"""The jobs of the page of makes: what a design can be made as, and the text of a new make."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import ClassVar

from clothwise.app.work import Job, Tell
from clothwise.app.work.job import Worker

__all__ = ["BaseOfMake", "BaseOfMakeOf", "MakeShown", "MakesOf", "MakesShown", "NewMakeOf"]


@dataclass(frozen=True)
class MakeShown:
    """One make in the list: words, or what is wrong with it.

    Attributes:
        document: the file of it.
        title: of it.
        view: its name.
        fit: for whom it is, such as `size 38`.
        fabrics: how they are called.
        fault: why it cannot be opened; empty if it can.
    """

    document: str
    title: str
    view: str = ""
    fit: str = ""
    fabrics: tuple[str, ...] = ()
    fault: str = ""


@dataclass(frozen=True)
class MakesShown:
    """What is there, and what can be chosen for another.

    Attributes:
        makes: in the order of their names.
        views: name to title; empty if the design has none.
        sizes: of the chart, and the people in it.
        people: which of them are people.
        base_size: the usual one.
        options: per option its title and its choices with their words.
    """

    makes: tuple[MakeShown, ...]
    views: Mapping[str, str]
    sizes: tuple[str, ...]
    base_size: str
    options: Mapping[str, tuple[str, Mapping[str, str]]] = field(default_factory=dict)
    people: tuple[str, ...] = ()


@dataclass(frozen=True)
class MakesOf(Job):
    """List the makes of a design."""

    worker: ClassVar[Worker] = "draft"

    documents: Mapping[str, str]

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> MakesShown:
        """Open the design and each make."""
        from clothwise.app.jobs._makes import makes_shown

        return makes_shown(self.documents)


@dataclass(frozen=True)
class BaseOfMake:
    """What a make that is not in the base size is told of that size.

    Attributes:
        size: the base size.
        problem: why it cannot be drafted, in words.
        paths: the places in the design where that is mended.
    """

    size: str
    problem: str
    paths: tuple[str, ...]


@dataclass(frozen=True)
class BaseOfMakeOf(Job):
    """Whether the base size of a design can be drafted, while a make is opened for another body."""

    worker: ClassVar[Worker] = "draft"

    documents: Mapping[str, str]
    make: str

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> BaseOfMake | None:
        """Return what is wrong; None if nothing is, or the make cannot be opened at all."""
        from clothwise.app.jobs._makes import base_of_make

        return base_of_make(self.documents, self.make)


@dataclass(frozen=True)
class NewMakeOf(Job):
    """Write the text of a new make.

    Attributes:
        documents: of the design.
        name: of the document that it will be.
        like: the make whose fabrics it takes over; empty: a plain cloth for each role.
        title, view, size: of it.
        choices: that it makes otherwise than its view.
    """

    worker: ClassVar[Worker] = "back"

    documents: Mapping[str, str]
    name: str
    like: str
    title: str
    view: str
    size: str
    choices: Mapping[str, str] = field(default_factory=dict)

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> str:
        """Write it, and draft it once: a make that cannot be made is refused here."""
        from clothwise.app.jobs._makes import new_make

        return new_make(self)
