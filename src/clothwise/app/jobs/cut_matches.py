"""The places of pieces by which a maker may say what is to meet on stripes and checks."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import ClassVar

from clothwise.app.jobs.cut_making import MakeJob
from clothwise.app.work.job import Tell, Worker


@dataclass(frozen=True)
class PlacesOfPiece:
    """A piece with the places that it knows: its name, its title, and their names."""

    piece: str
    title: str
    places: tuple[str, ...]


@dataclass(frozen=True)
class MatchPlacesOf(MakeJob):
    """The places of all pieces of a make."""

    worker: ClassVar[Worker] = "back"

    @property
    def key(self) -> str:
        """Only the latest of these for a make matters."""
        return f"cut-places {self.design} {self.make}"

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> tuple[PlacesOfPiece, ...]:
        """Return them in the order of the cutting list."""
        from clothwise.cutting.match_points import match_places

        making = self.making()
        found = match_places(making.pattern)
        names = sorted(found, key=lambda name: making.numbers.get(name, 0))
        return tuple(
            PlacesOfPiece(name, making.pattern.piece(name).title, found[name]) for name in names
        )
