"""How much cloth a small change of each value takes or saves."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from clothwise.packet.tuning.dimension import Dimension, start_of
from clothwise.packet.tuning.trial import Trial, Trier

__all__ = ["A_LITTLE", "ClothChange", "Sensitivity", "cloth_changes", "sensitivities"]

A_LITTLE = 0.25
"""Share of the way to the end of a limit that counts as a little. Our own choice."""


@dataclass(frozen=True)
class ClothChange:
    """What a change does to one fabric; lengths are of cloth as bought, not rounded.

    Attributes:
        fabric, title: which.
        before_mm: for each seed, without the change; empty if the fabric is new.
        after_mm: for each seed, with it; empty if the fabric is no longer needed.
        pieces_mm: what the pieces alone take more or less, spread over the usable width. This
            part has no chance in it.
    """

    fabric: str
    title: str
    before_mm: tuple[float, ...]
    after_mm: tuple[float, ...]
    pieces_mm: float

    @property
    def change_mm(self) -> float:
        """From the shortest layout to the shortest layout; negative if cloth is saved."""
        return min(self.after_mm, default=0.0) - min(self.before_mm, default=0.0)

    @property
    def least_mm(self) -> float:
        """The change between the seeds where it comes out lowest."""
        return min(self.after_mm, default=0.0) - max(self.before_mm, default=0.0)

    @property
    def most_mm(self) -> float:
        """The change between the seeds where it comes out highest."""
        return max(self.after_mm, default=0.0) - min(self.before_mm, default=0.0)

    @property
    def is_clear(self) -> bool:
        """Whether every layout of one is longer than every layout of the other."""
        return self.most_mm < 0 or self.least_mm > 0


@dataclass(frozen=True)
class Sensitivity:
    """One value changed a little.

    Attributes:
        dimension: the value.
        number: which of its values was tried.
        trial: what came of it.
        changes: of each fabric whose pieces change.
    """

    dimension: Dimension
    number: int
    trial: Trial
    changes: tuple[ClothChange, ...]


def sensitivities(
    trier: Trier,
    seeds: Sequence[int],
    *,
    share: float = A_LITTLE,
    progress: Callable[[int, int, str], None] | None = None,
) -> tuple[Sensitivity, ...]:
    """Change each value a little both ways, as its limits allow, and lay everything out anew.

    Args:
        trier: of the make.
        seeds: of the layouts; the more, the better chance and change are told apart.
        share: of the way to the end of each limit.
        progress: told how many of how many are tried, and what is tried.

    Raises:
        LayoutCancelled, Misuse, DocumentError, CuttingError: as `Trier.trial` does.
    """
    start = start_of(trier.dimensions)
    steps = [
        (at, dimension, number)
        for at, dimension in enumerate(trier.dimensions)
        for number in dimension.a_little(share)
    ]
    points = [(*start[:at], number, *start[at + 1 :]) for at, _, number in steps]
    trier.prepare((start, *points), seeds, progress=_layouts(progress))
    before = trier.trial(start, seeds)
    found = []
    for done, ((_, dimension, number), point) in enumerate(zip(steps, points, strict=True)):
        if progress is not None:
            progress(done, len(steps), dimension.title)
        trial = trier.trial(point, seeds)
        found.append(Sensitivity(dimension, number, trial, cloth_changes(before, trial)))
    if progress is not None:
        progress(len(steps), len(steps), "")
    return tuple(found)


def _layouts(
    progress: Callable[[int, int, str], None] | None,
) -> Callable[[int, int], None] | None:
    if progress is None:
        return None
    return lambda done, total: progress(done, total, "layouts")


def cloth_changes(before: Trial, after: Trial) -> tuple[ClothChange, ...]:
    """Return what happens to each fabric of two trials; those whose pieces stay are left out."""
    return tuple(_changes(before, after)) if not after.refused else ()


def _changes(before: Trial, after: Trial) -> Iterator[ClothChange]:
    for name in dict.fromkeys((*before.cloths, *after.cloths)):
        old, new = before.cloths.get(name), after.cloths.get(name)
        if old is not None and new is not None and old.shapes == new.shapes:
            continue
        known = new or old
        assert known is not None
        yield ClothChange(
            name,
            known.title,
            old.buy_mm if old else (),
            new.buy_mm if new else (),
            (new.pieces_mm if new else 0.0) - (old.pieces_mm if old else 0.0),
        )
