"""A command that says what a view of a design is made of."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import ClassVar

from clothwise.errors import CommandError
from clothwise.pattern.commands.command import Command, Touched
from clothwise.pattern.commands.design_texts import design_of, with_design
from clothwise.pattern.commands.documents import DESIGN_DOCUMENT, Documents
from clothwise.pattern.commands.title_commands import SetTitles, retitled

__all__ = ["SetView"]


@dataclass(frozen=True)
class SetView(Command):
    """Let a view make other choices; what is not told stays as it is.

    Attributes:
        view: its name.
        choices: by the name of the option; they must go together with the others of the view.
        titles: that the view gets with it, as of `SetTitles`.
    """

    kind: ClassVar[str] = "set-view"
    view: str
    choices: Mapping[str, str]
    titles: Mapping[str, str] = field(default_factory=dict)

    @property
    def words(self) -> str:
        told = (f"{option}: {choice}" for option, choice in self.choices.items())
        return f"view {self.view}: {', '.join(told)}"[:160]

    @property
    def touches(self) -> frozenset[Touched]:
        places = (f"views.{self.view}.choices.{option}" for option in self.choices)
        named = SetTitles(self.titles).touches
        return frozenset((DESIGN_DOCUMENT, place) for place in places) | named

    def told(self, before: Documents) -> str:
        """Return what it does, in the titles of the design."""
        options = {each.name: each for each in design_of(before).options}
        told = (
            f"{options[option].title.lower()}: {options[option].choices.get(choice, choice)}"
            for option, choice in self.choices.items()
            if option in options
        )
        named = SetTitles(self.titles).words
        return "; ".join(filter(None, (f"view {self.view}: {', '.join(told)}"[:160], named)))

    def apply(self, before: Documents) -> dict[str, str]:
        """Return the documents with the view as it is then.

        Raises:
            CommandError: the choices do not go together.
            Misuse: there is no such view.
        """
        design = design_of(before)
        view = design.view(self.view)
        choices = {**view.choices, **self.choices}
        for problem in design.problems_of(choices):
            raise CommandError(
                f"view {self.view} cannot be so: {problem.what}", what_to_do=problem.remedy
            )
        changed = replace(view, choices=choices)
        views = tuple(changed if each.name == view.name else each for each in design.views)
        return with_design(before, retitled(replace(design, views=views), self.titles))
