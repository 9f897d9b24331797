"""A command that gives views, options and choices of a design other titles."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import ClassVar

from clothwise.errors import CommandError, did_you_mean
from clothwise.pattern.commands.command import Command, Touched
from clothwise.pattern.commands.design_texts import design_of, with_design
from clothwise.pattern.commands.documents import DESIGN_DOCUMENT, Documents
from clothwise.pattern.document.design import Design, View
from clothwise.pattern.plain_names import plain_name

__all__ = ["SetTitles", "retitled"]

LONGEST_TITLE = 200


@dataclass(frozen=True)
class SetTitles(Command):
    """Give views, options and choices other titles.

    Attributes:
        titles: by place: `views.A.title`, `views.A.description`, `options.hem.title` or
            `options.hem.choices.tunic`; an empty title leaves it as it is.
    """

    kind: ClassVar[str] = "set-titles"
    titles: Mapping[str, str]

    @property
    def words(self) -> str:
        told = (_told(place, title) for place, title in self.titles.items() if title)
        return ", ".join(filter(None, told))

    @property
    def touches(self) -> frozenset[Touched]:
        return frozenset((DESIGN_DOCUMENT, place) for place, title in self.titles.items() if title)

    def apply(self, before: Documents) -> dict[str, str]:
        return with_design(before, retitled(design_of(before), self.titles))


def retitled(design: Design, titles: Mapping[str, str]) -> Design:
    """Return a design with other titles.

    Args:
        design: as it is.
        titles: as of `SetTitles`.

    Raises:
        CommandError: there is no such place, or a title is too long.
    """
    for place, text in titles.items():
        title = " ".join(text.split())
        if len(title) > LONGEST_TITLE:
            raise CommandError(
                "a title is too long",
                where=place[:60],
                how_much=f"{len(title)} letters, at most {LONGEST_TITLE}",
                what_to_do="Shorten it.",
            )
        if title:
            design = _with_title(design, place, title)
    return design


def _with_title(design: Design, place: str, title: str) -> Design:
    match place.split("."):
        case ["views", name, "title" | "description" as field] if name in _names(design.views):
            return replace(
                design, views=tuple(_view(each, name, field, title) for each in design.views)
            )
        case ["options", name, "title"] if name in _names(design.options):
            options = tuple(
                replace(each, title=title) if each.name == name else each for each in design.options
            )
            return replace(design, options=options)
        case ["options", name, "choices", choice] if choice in _choices(design, name):
            options = tuple(
                replace(each, choices={**each.choices, choice: title})
                if each.name == name
                else each
                for each in design.options
            )
            return replace(design, options=options)
    raise CommandError(
        f"nothing stands at {place[:60]!r} that has a title",
        where=design.title,
        what_to_do=did_you_mean(place, [*_places(design)], of_what="places"),
    )


def _view(view: View, name: str, field: str, title: str) -> View:
    if view.name != name:
        return view
    return replace(view, title=title) if field == "title" else replace(view, description=title)


def _names(entries: tuple[object, ...]) -> set[str]:
    return {getattr(each, "name", "") for each in entries}


def _choices(design: Design, name: str) -> Mapping[str, str]:
    option = design.option(name)
    return option.choices if option else {}


def _places(design: Design) -> list[str]:
    views = [f"views.{view.name}.title" for view in design.views]
    options = [f"options.{option.name}.title" for option in design.options]
    choices = [
        f"options.{option.name}.choices.{choice}"
        for option in design.options
        for choice in option.choices
    ]
    return [*views, *options, *choices]


def _told(place: str, title: str) -> str:
    """What became of a place: `view A is now called “Tunic”`."""
    match place.split("."):
        case ["views", name, "description"]:
            return f"view {name} is described anew"
        case ["views", name, _]:
            return f"view {name} is now called “{title}”"
        case ["options", _, "choices", choice]:
            return f"the choice {plain_name(choice)} is now called “{title}”"
        case [_, name, *_]:
            return f"the choices of {plain_name(name)} are now called “{title}”"
    return f"{place}: {title}"
