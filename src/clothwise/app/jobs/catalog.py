"""The jobs behind what a design is put together from: its choices, components, and offers."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any, ClassVar

from clothwise.app.jobs.ways import Way
from clothwise.app.work import Job, Shown, Tell
from clothwise.app.work.job import Worker

__all__ = [
    "AdditionsOf",
    "Catalog",
    "CatalogOf",
    "ChoiceShown",
    "ComponentShown",
    "NameShown",
    "OfferShown",
    "Offers",
    "OptionShown",
    "ParameterShown",
    "RemovalOf",
    "RemovalShown",
    "SwapsOf",
]

_AMOUNT = re.compile(r"(?<=\d)(?=(?:mm|cm|in)\b)")


@dataclass(frozen=True)
class ParameterShown:
    """A parameter with its field, and with its slider if there is something to slide.

    Attributes:
        name, label, help: in the design, in words, and what it is.
        range: what is allowed, in words; empty for words to choose.
        text: as written, for the choices shown; empty if it is left as usual.
        usual: what it is then, in words.
        number: what a formula amounts to, or a text in another unit; empty where the text says it.
        when: for which choices this text applies, in words; empty for all.
        choices: words that can be chosen.
        slides: whether there is a slider; the rest is for it, in `unit`.
        low, high, step, value: of the slider.
        stem, tail: the formula before its last amount, and that amount.
        problem: what is wrong with it, in sentences.
    """

    name: str
    label: str
    help: str
    range: str
    text: str
    usual: str
    number: str = ""
    when: str = ""
    choices: tuple[str, ...] = ()
    slides: bool = False
    unit: str = ""
    low: float = 0.0
    high: float = 0.0
    step: float = 0.0
    value: float = 0.0
    stem: str = ""
    tail: float = 0.0
    problem: str = ""

    @property
    def is_written(self) -> bool:
        """Tell whether the design says something about it."""
        return bool(self.text)

    @property
    def in_words(self) -> str:
        """The formula with its names as one says them; empty where there is no such name."""
        spaced = _AMOUNT.sub(" ", self.text)
        return spaced.replace("_", " ") if "_" in self.text else ""


@dataclass(frozen=True)
class ComponentShown:
    """A component of a design.

    Attributes:
        name, title: in the design, and in words.
        kind, kind_title, help: which it is, and what that is.
        is_there: whether it is, with the choices shown.
        when: with which choices it is, in words; empty for always.
        parameters: in the order of the class; those that are written first.
        role: its fabric; empty if that depends on a choice.
        problem: why it cannot be drafted, in sentences.
        can_swap: whether anything may stand in its place.
    """

    name: str
    title: str
    kind: str
    kind_title: str
    help: str
    is_there: bool
    when: str
    parameters: tuple[ParameterShown, ...]
    role: str
    problem: str = ""
    can_swap: bool = True

    @property
    def written(self) -> tuple[ParameterShown, ...]:
        """The parameters that the design says something about, or that have a problem."""
        return tuple(each for each in self.parameters if each.is_written or each.problem)

    @property
    def usual(self) -> tuple[ParameterShown, ...]:
        """The other parameters."""
        return tuple(each for each in self.parameters if not (each.is_written or each.problem))

    @property
    def has_problem(self) -> bool:
        """Tell whether something is wrong with it."""
        return bool(self.problem) or any(each.problem for each in self.parameters)


@dataclass(frozen=True)
class OptionShown:
    """An option of a design.

    Attributes:
        name, title: in the design, and in words.
        choices: titles by choice.
        chosen: the one that is shown.
        of_view: the one that the view makes.
        against: why a choice does not go together with the others, by choice.
    """

    name: str
    title: str
    choices: Mapping[str, str]
    chosen: str
    of_view: str
    against: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class Catalog:
    """What a design is put together from.

    Attributes:
        view: that is shown, as titled.
        options: in their order.
        problem: why the choices do not go together, in sentences.
        values: what the design has given names to.
        allowances: of all its seams.
        components: in the order in which they are drafted.
        families: what can be added, titles by name.
        roles: fabrics, titles by name.
        choices: a choice for every option, as shown.
        unit: that lengths are shown in, `cm` or `in`.
        view_name: of the view that is shown; empty for none.
        view_names: of it, that speak of what it has not with the choices that are shown.
        views, sizes: that can be shown: titles by name, and names.
        people: those of the sizes that are people in the chart.
        size: that is shown.
    """

    view: str
    options: tuple[OptionShown, ...]
    problem: str
    values: tuple[ParameterShown, ...]
    allowances: tuple[ParameterShown, ...]
    components: tuple[ComponentShown, ...]
    families: Mapping[str, str]
    roles: Mapping[str, str]
    choices: Mapping[str, str]
    unit: str = "cm"
    views: Mapping[str, str] = field(default_factory=dict)
    sizes: tuple[str, ...] = ()
    people: tuple[str, ...] = ()
    size: str = ""
    view_name: str = ""
    view_names: tuple[NameShown, ...] = ()

    @property
    def beside_view(self) -> dict[str, str]:
        """The choices that are otherwise than in the view, by the name of the option."""
        return {each.name: each.chosen for each in self.options if each.chosen != each.of_view}

    @property
    def changed(self) -> tuple[str, ...]:
        """Titles of the options that are chosen otherwise than in the view."""
        return tuple(each.title for each in self.options if each.chosen != each.of_view)


@dataclass(frozen=True)
class ChoiceShown:
    """A choice of an option.

    Attributes:
        option, choice: in the design.
        title: of the option.
        words: of the choice.
    """

    option: str
    choice: str
    title: str
    words: str


@dataclass(frozen=True)
class NameShown:
    """A name of a view or a choice that something new may make untrue.

    Attributes:
        place: what bears it, for the command.
        of: the same in words.
        text: as it is.
        suggestion: as it could be.
    """

    place: str
    of: str
    text: str
    suggestion: str


@dataclass(frozen=True)
class OfferShown:
    """A component that may be put in, or why it may not.

    Attributes:
        kind, title, help: which it is.
        command: that puts it in, as data; None if it is refused.
        refused, remedy: why, and what could be done.
        notes: what else comes of it.
        there: the choice with which the design has it already.
        names: that speak of what it takes the place of.
        ways: to what stands against it.
    """

    kind: str
    title: str
    help: str
    command: Mapping[str, Any] | None
    refused: str = ""
    remedy: str = ""
    notes: tuple[str, ...] = ()
    there: ChoiceShown | None = None
    names: tuple[NameShown, ...] = ()
    ways: tuple[Way, ...] = ()


@dataclass(frozen=True)
class Offers:
    """What may be put in a place, and what may not.

    Attributes:
        title: of the family, such as Sleeves and armholes.
        offers: all that were tried.
        name: of the component in whose place they would stand; empty if they are added.
        when: the choices with which it was tried, if not those shown.
    """

    title: str
    offers: tuple[OfferShown, ...]
    name: str = ""
    when: str = ""

    @property
    def possible(self) -> tuple[OfferShown, ...]:
        """Those that go together with the rest."""
        return tuple(each for each in self.offers if each.command is not None)

    @property
    def refused(self) -> tuple[OfferShown, ...]:
        """Those that do not."""
        return tuple(each for each in self.offers if each.command is None)


@dataclass(frozen=True)
class RemovalShown:
    """What goes with a component.

    Attributes:
        name, title: the component.
        also: titles of the components that go with it.
        lost: edits and limits that do.
        command: as data; None if it is refused.
        refused, remedy: why, and what could be done.
        notes: what is wrong then.
        ways: to what stands against it.
    """

    name: str
    title: str
    also: tuple[str, ...]
    lost: tuple[str, ...]
    command: Mapping[str, Any] | None
    refused: str = ""
    remedy: str = ""
    notes: tuple[str, ...] = ()
    ways: tuple[Way, ...] = ()


@dataclass(frozen=True)
class CatalogOf(Job):
    """Read what a design is put together from.

    Attributes:
        shown, documents: as for `BoardOf`.
        unit: `cm` or `in`; empty takes that of the design.
    """

    worker: ClassVar[Worker] = "draft"

    shown: Shown
    documents: Mapping[str, str]
    unit: str = ""

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> Catalog:
        """Read it."""
        from clothwise.app.jobs._catalog import catalog

        return catalog(self)


@dataclass(frozen=True)
class _OffersOf(Job):
    """Try components on what is shown.

    Attributes:
        shown, documents: as for `BoardOf`.
        window: of what is tried for one window only the latest matters.
        unit: `cm` or `in`; empty takes that of the design.
    """

    worker: ClassVar[Worker] = "back"

    shown: Shown
    documents: Mapping[str, str]
    window: str = ""
    unit: str = ""

    @property
    def key(self) -> str:
        """The window."""
        return f"offers {self.window}" if self.window else ""


@dataclass(frozen=True)
class SwapsOf(_OffersOf):
    """Try what may stand in the place of a component; each offer is told when it is found."""

    name: str = ""

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> Offers:
        """Try all of its family."""
        from clothwise.app.jobs._catalog import swaps_of

        return swaps_of(self, told, cancelled)


@dataclass(frozen=True)
class AdditionsOf(_OffersOf):
    """Try what of a family may be added; each offer is told when it is found."""

    family: str = ""

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> Offers:
        """Try all of it."""
        from clothwise.app.jobs._catalog import additions_of

        return additions_of(self, told, cancelled)


@dataclass(frozen=True)
class RemovalOf(_OffersOf):
    """Find out what must go with a component."""

    name: str = ""

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> RemovalShown:
        """Try it."""
        from clothwise.app.jobs._catalog import removal_of

        return removal_of(self)
