"""The design: what a designer writes down, and from which everything else is derived."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from clothwise.errors import Misuse, did_you_mean
from clothwise.pattern.document.edit_entry import EditEntry
from clothwise.pattern.document.limit import ValueLimit
from clothwise.pattern.document.match_entry import MatchEntry
from clothwise.pattern.document.role_cloth import RoleCloth
from clothwise.pattern.document.stated_corner import StatedCorner
from clothwise.pattern.document.stretch import parse_stretch
from clothwise.pattern.document.value import ALWAYS, Choices, Requirement, Value
from clothwise.pattern.expression import parse_expression
from clothwise.pattern.quantity import QuantityKind
from clothwise.units import LengthUnit

__all__ = [
    "SCHEMA_VERSION",
    "STANDARD_ROLES",
    "ChoiceProblem",
    "ComponentEntry",
    "Condition",
    "Design",
    "FabricRole",
    "Option",
    "View",
    "formula_name",
]

SCHEMA_VERSION = 1
"""The version of `design.yaml` and of makes that this program writes; older ones are migrated."""


@dataclass(frozen=True)
class FabricRole:
    """What a fabric is for.

    `advice` tells the maker which cloth suits it; `stretch` is what the design is drafted for, such
    as `30%`, and empty for woven cloth; `requirement` says for which cloths the amounts are worked
    out.
    """

    name: str
    title: str
    advice: str = ""
    stretch: str = ""
    requirement: RoleCloth = RoleCloth()

    @property
    def stretch_share(self) -> float:
        """How far its cloth gives across, as a share of its relaxed width; 0 for wovens."""
        return parse_stretch(self.stretch) if self.stretch else 0.0


STANDARD_ROLES = (
    FabricRole("main", "Main fabric"),
    FabricRole("contrast", "Contrast fabric"),
    FabricRole("lining", "Lining"),
    FabricRole("interfacing", "Interfacing"),
)
"""Roles that every design has without stating them."""


@dataclass(frozen=True)
class Option:
    """Something the maker may choose.

    `choices` are the choices by name, with their titles. Where every name is a whole number,
    formulas may use the option's name for the number.
    """

    name: str
    title: str
    choices: Mapping[str, str]
    default: str

    @property
    def is_number(self) -> bool:
        """Tell whether formulas may use this option as a number."""
        return all(name.isascii() and name.isdigit() for name in self.choices)


@dataclass(frozen=True)
class Condition:
    """A rule between options: where `when` holds, `needs` must hold too, `because` of this."""

    when: Requirement
    needs: Requirement
    because: str


@dataclass(frozen=True)
class View:
    """A named set of choices; options that it does not mention have their default."""

    name: str
    title: str
    choices: Mapping[str, str] = field(default_factory=dict)
    description: str = ""


@dataclass(frozen=True)
class ComponentEntry:
    """A component of a design.

    Attributes:
        name: begins the names of its pieces.
        kind: which component it is, from the registry.
        parameters: those that are not left at their default.
        role: the fabric role of its pieces, fixed or by option.
        interfacing_role: the role of its interfacing.
        roles: exceptions, by `piece` or `piece/copy`.
        when: the choices for which it is there at all.
        corners: those that are meant, of its pieces or of pieces before it.
    """

    name: str
    kind: str
    parameters: Mapping[str, Value] = field(default_factory=dict)
    role: Value = "main"
    interfacing_role: Value = "interfacing"
    roles: Mapping[str, Value] = field(default_factory=dict)
    when: Requirement = ALWAYS
    corners: tuple[StatedCorner, ...] = ()


@dataclass(frozen=True, slots=True)
class ChoiceProblem:
    """A choice that cannot be made. `option` is empty where several options are concerned."""

    option: str
    what: str
    remedy: str


@dataclass(frozen=True)
class Design:
    """A design as it stands in `design.yaml`; see `docs/reference/design-document.md`.

    Lengths and formulas are texts as written; they are worked out when a body is known. Components
    are drafted in the order listed, and edits are made in theirs. `limits` say what may be changed
    to save cloth, `matches` where the pattern of cloth runs on.
    """

    title: str
    size_chart: str
    base_size: str
    components: tuple[ComponentEntry, ...]
    description: str = ""
    unit: LengthUnit = LengthUnit.CENTIMETER
    seam_allowance: str = "15mm"
    neck_allowance: str = "10mm"
    fabric_roles: tuple[FabricRole, ...] = ()
    values: Mapping[str, Value] = field(default_factory=dict)
    options: tuple[Option, ...] = ()
    conditions: tuple[Condition, ...] = ()
    views: tuple[View, ...] = ()
    edits: tuple[EditEntry, ...] = ()
    limits: tuple[ValueLimit, ...] = ()
    matches: tuple[MatchEntry, ...] = ()

    @property
    def seam_allowance_mm(self) -> float:
        """The allowance of seams that state none of their own.

        Raises:
            ExpressionError: it is no length.
        """
        return _length_mm(self.seam_allowance)

    @property
    def neck_allowance_mm(self) -> float:
        """The allowance of necklines, front edges and other edges that are turned.

        Raises:
            ExpressionError: it is no length.
        """
        return _length_mm(self.neck_allowance)

    @cached_property
    def roles(self) -> dict[str, FabricRole]:
        """All fabric roles by name: the design's own, then the standard ones it leaves as are."""
        own = {role.name: role for role in self.fabric_roles}
        return {**own, **{role.name: role for role in STANDARD_ROLES if role.name not in own}}

    @property
    def entries(self) -> tuple[ComponentEntry | EditEntry, ...]:
        """What has parameters: the components, then the edits."""
        return (*self.components, *self.edits)

    @cached_property
    def default_choices(self) -> dict[str, str]:
        """What is chosen where nobody chooses."""
        return {option.name: option.default for option in self.options}

    def option(self, name: str) -> Option | None:
        """Return an option by name, if there is one."""
        return next((option for option in self.options if option.name == name), None)

    def limit(self, name: str) -> ValueLimit | None:
        """Return the limit of a value or an option by name, if there is one."""
        return next((limit for limit in self.limits if limit.name == name), None)

    def component(self, name: str) -> ComponentEntry:
        """Return a component by name.

        Raises:
            Misuse: there is none; suggests the ones that were probably meant.
        """
        for each in self.components:
            if each.name == name:
                return each
        names = [each.name for each in self.components]
        raise Misuse(
            f"the design has no component {name[:40]!r}",
            where=self.title,
            what_to_do=did_you_mean(name, names, of_what="components"),
        )

    def view(self, name: str) -> View:
        """Return a view by name.

        Raises:
            Misuse: there is none; suggests the ones that were probably meant.
        """
        for each in self.views:
            if each.name == name:
                return each
        raise Misuse(
            f"the design has no view {name[:40]!r}",
            where=self.title,
            what_to_do=did_you_mean(name, [each.name for each in self.views], of_what="views"),
        )

    def chosen(self, choices: Choices | None = None, *, view: str = "") -> dict[str, str]:
        """Return a choice for every option: those given, else the view's, else the defaults.

        Raises:
            Misuse: no such view, option or choice, or the choices contradict each other.
        """
        wanted = {**(self.view(view).choices if view else {}), **(choices or {})}
        problems = list(self.problems_of(wanted))
        if problems:
            raise Misuse(
                problems[0].what,
                where=self.title,
                how_much=f"and {len(problems) - 1} more" if len(problems) > 1 else "",
                what_to_do=problems[0].remedy,
            )
        return {**self.default_choices, **wanted}

    def problems_of(self, choices: Choices) -> Iterator[ChoiceProblem]:
        """Yield what is wrong with some choices: unknown ones, else the conditions they break."""
        unknown = False
        for name, choice in choices.items():
            problem = self._unknown(name, choice)
            if problem is not None:
                unknown = True
                yield problem
        if unknown:
            return
        complete = {**self.default_choices, **choices}
        for condition in self.conditions:
            if condition.when.holds(complete) and not condition.needs.holds(complete):
                yield ChoiceProblem(
                    "",
                    f"these choices do not go together: where {condition.when.describe()}, "
                    f"it must be that {condition.needs.describe()}",
                    condition.because,
                )

    def _unknown(self, name: str, choice: str) -> ChoiceProblem | None:
        option = self.option(name)
        if option is None:
            names = [option.name for option in self.options]
            return ChoiceProblem(
                name,
                f"the design has no option {name[:40]!r}",
                did_you_mean(name, names, of_what="options"),
            )
        if choice not in option.choices:
            return ChoiceProblem(
                name,
                f"{choice[:40]!r} cannot be chosen for {name}",
                did_you_mean(choice, option.choices, of_what="choices"),
            )
        return None


def formula_name(name: str) -> str:
    """Return how formulas spell a name: `tie-belt` is `tie_belt`."""
    return name.replace("-", "_")


def _length_mm(text: str) -> float:
    return parse_expression(text).evaluate({}, kind=QuantityKind.LENGTH).value
