"""The design that a request is about, with its history."""

from __future__ import annotations

import threading
from dataclasses import dataclass
from pathlib import Path

from starlette.requests import Request

from clothwise.app.design_folder import (
    make_document,
    make_looks,
    make_names,
    make_size,
    make_titles,
    people_in,
    title_of,
)
from clothwise.app.preferences import Preferences, read_preferences
from clothwise.app.settings import Settings
from clothwise.app.workspace import Workspace
from clothwise.pattern.history import DamagedHistory, Documents, History

__all__ = ["OpenDesign", "Shop", "opened", "preferences", "shop"]


@dataclass(frozen=True)
class OpenDesign:
    """A design that is being worked on.

    Attributes:
        name: of its folder, and in addresses.
        folder: where its documents lie.
        history: its documents, and all that was done to them.
    """

    name: str
    folder: Path
    history: History

    @property
    def title(self) -> str:
        """As written in the design."""
        return title_of(self.folder)

    @property
    def makes(self) -> tuple[str, ...]:
        """Names of its makes, as in addresses."""
        return make_names(self.folder)

    @property
    def make_titles(self) -> dict[str, str]:
        """How each make is called within the design, by its name."""
        return make_titles(self.folder)

    def make_size(self, make: str) -> str:
        """The size of the chart that a make states; empty if it states none."""
        return make_size(self.folder, make)

    @property
    def people(self) -> tuple[str, ...]:
        """Rows of its size chart that are people and no sizes; none if it cannot be read."""
        return people_in(self.history.documents)

    def make_looks(self, make: str) -> dict[str, str]:
        """The view, size and choices that a make states, as Draft asks for them.

        Raises:
            Misuse: there is none of this name.
        """
        return make_looks(self.folder, make)

    def make_document(self, make: str) -> str:
        """Return the document of a make, such as `makes/view-a.yaml`.

        Raises:
            Misuse: there is none of this name.
        """
        return make_document(self.folder, make)


class Shop:
    """What a server holds between requests: the workspace and the histories that are open."""

    def __init__(self, settings: Settings) -> None:
        self.settings = settings
        self.workspace = Workspace(settings.workspace)
        self._open: dict[str, OpenDesign] = {}
        self._opening = threading.Lock()

    def design(self, name: str) -> OpenDesign:
        """Return a design, with what other programs have written meanwhile taken in.

        Raises:
            Misuse: there is no such design.
            DocumentError: it is not there any more.
            OutputError: its folder cannot be written.
        """
        folder = self.workspace.folder_of(name)
        with self._opening:
            found = self._open.get(name)
            if found is None:
                found = self._open[name] = OpenDesign(name, folder, _history(folder))
                return found
        try:
            found.history.refresh()
        except DamagedHistory:
            self.close(name)
            return self.design(name)
        return found

    def close(self, name: str) -> None:
        """Forget a design that was moved away."""
        with self._opening:
            self._open.pop(name, None)


def _history(folder: Path) -> History:
    """Open a history; one that cannot be read is put aside, and the new one says so in its list.

    Whoever works in a browser could do no more about it, and the documents are untouched.
    """
    try:
        return History.open(folder, check=_check)
    except DamagedHistory:
        return History.begin_anew(folder, check=_check)


def _check(before: Documents, after: Documents) -> None:
    """Refuse a change after which the design, or a make, could not be opened any more."""
    from clothwise.components.document_check import check_change  # loads numpy: at the first change

    check_change(before, after)


def shop(request: Request) -> Shop:
    """Return what the server of a request holds."""
    found: Shop = request.app.state.shop
    return found


def opened(request: Request) -> OpenDesign:
    """Return the design that the address of a request names.

    Raises:
        Misuse: there is no such design.
        DocumentError: it is not there any more.
    """
    return shop(request).design(request.path_params["design"])


def preferences(request: Request) -> Preferences:
    """Return how whoever asks likes the pages."""
    return read_preferences(shop(request).workspace.own)
