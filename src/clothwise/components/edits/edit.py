"""What an edit is, and what it is given to work with."""

from __future__ import annotations

from abc import ABC, abstractmethod
from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.parameter import Parametric
from clothwise.errors import ComponentError, did_you_mean
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.plain_names import plain_name


@dataclass(frozen=True)
class Editing:
    """What an edit works with beside the pattern: its name, and what the design says.

    `roles` are the fabric roles that there are.
    """

    name: str
    seam_allowance_mm: float = 15.0
    roles: tuple[str, ...] = ()

    def role(self, name: str) -> str:
        """A fabric role of the design.

        Raises:
            ComponentError: there is none of that name; suggests the ones that were probably meant.
        """
        if name not in self.roles:
            raise cannot(
                f"there is no fabric role {name[:60]!r}",
                what_to_do=did_you_mean(name, self.roles, of_what="fabric roles"),
            )
        return name


@dataclass(frozen=True)
class Edit(Parametric, ABC):
    """A change of a pattern that keeps its seam graph whole.

    A subclass is a frozen dataclass whose fields are made as those of a component. An edit that
    `comes_last` waits for all components; another is made as soon as the pieces it concerns are
    there, so that what is drafted later follows it. Where `others_wait`, edits of the same pieces
    that stand after it in the design are not made before it.
    """

    comes_last: ClassVar[bool] = False
    others_wait: ClassVar[bool] = False

    @abstractmethod
    def apply(self, pattern: Pattern, editing: Editing) -> Pattern:
        """The pattern after the edit.

        Raises:
            ComponentError: what it names is not there, or it cannot be done to it.
            GeometryError: its lines cannot be drawn.
        """

    @property
    def concerns(self) -> tuple[str, ...]:
        """Names of the pieces it waits for: those of its parameter `piece` or `pieces`, if any."""
        return names(getattr(self, "piece", "") or getattr(self, "pieces", ""))


def names(text: str) -> tuple[str, ...]:
    """The names in a text, which stand between commas.

    >>> names("skirt-front, skirt-back")
    ('skirt-front', 'skirt-back')
    """
    return tuple(name for each in text.split(",") if (name := each.strip()))


def called(kind: str, name: str, usual: str) -> str:
    """How what an edit makes is called if nobody says: by the edit's name, in words.

    Where that is only the kind of the edit, as whoever made it gave it none, the usual word stands
    in its place.

    >>> called("split", "split", "panel"), called("split", "split-2", "panel")
    ('panel', 'panel 2')
    >>> called("split", "back-yoke", "panel")
    'back yoke'
    """
    if name == kind:
        return usual
    start, _, number = name.rpartition("-")
    return f"{usual} {number}" if start == kind and number.isdigit() else plain_name(name)


def cannot(what: str, how_much: str = "", what_to_do: str = "") -> ComponentError:
    """The error of an edit that cannot be made; who catches it adds the edit's name."""
    return ComponentError(what, how_much=how_much, what_to_do=what_to_do)
