"""Which rooms there are and where; a room whose module is not there yet is not listed."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from importlib import import_module
from importlib.util import find_spec
from urllib.parse import quote

from starlette.routing import BaseRoute

from clothwise.app.opening import OpenDesign
from clothwise.app.security.paths import is_folder_name

__all__ = ["ROOMS", "Room", "RoomLink", "joined", "rooms_of"]


@dataclass(frozen=True)
class Room:
    """One room of the app.

    Attributes:
        module: in `app/rooms/`.
        title: as on the tape.
        words: what is done there.
        of_make: whether it needs a make.
    """

    module: str
    title: str
    words: str
    of_make: bool = False

    @property
    def slug(self) -> str:
        """The last part of its address."""
        return self.module.rstrip("_")


@dataclass(frozen=True)
class RoomLink:
    """A room as a page links to it; without an address it needs a make first."""

    room: Room
    href: str


ROOMS = (
    Room("measure", "Measure", "the body and the size chart"),
    Room("draft", "Draft", "the pieces and what they are made from"),
    Room("check", "Check", "whether everything goes together"),
    Room("cut", "Cut", "fabrics and how the pieces lie on them", of_make=True),
    Room("sew", "Sew", "the order of work, step by step", of_make=True),
    Room("print_", "Print", "the pattern on paper", of_make=True),
    Room("pack", "Pack", "everything in one folder", of_make=True),
)
_WITHOUT_A_TITLE = (
    "shelf",
    "history",
    "settings",
    "tour",
    "makes",
    "for_whom",
    "flats",
    "events",
    "ongoing",
    "interface",
    "catalog",
)


@cache
def _present() -> frozenset[str]:
    """Modules of rooms that are there."""
    names = [*(room.module for room in ROOMS), *_WITHOUT_A_TITLE]
    return frozenset(name for name in names if find_spec(f"clothwise.app.rooms.{name}"))


def joined() -> list[BaseRoute]:
    """Return the routes of all rooms."""
    names = [*_WITHOUT_A_TITLE, *(room.module for room in ROOMS)]
    found: list[BaseRoute] = []
    for name in names:
        if name in _present():
            found += import_module(f"clothwise.app.rooms.{name}").ROUTES
    return found


def rooms_of(design: OpenDesign | None, make: str = "") -> tuple[RoomLink, ...]:
    """Return the rooms of a design, those of a make for this make or else its first one.

    From the rooms of a make the way to Check leads to that make.
    """
    if design is None:
        return ()
    from clothwise.app.pages import address

    makes = design.makes
    chosen = make if make in makes and is_folder_name(make) else next(iter(makes), "")
    links = []
    for room in ROOMS:
        if room.module in _present() and (chosen or not room.of_make):
            place = ("m", chosen) if room.of_make else ()
            there = address("d", design.name, *place, room.slug)
            if room.module == "check" and make == chosen:
                there += f"?of=make:{quote(make)}"
            links.append(RoomLink(room, there))
    return tuple(links)
