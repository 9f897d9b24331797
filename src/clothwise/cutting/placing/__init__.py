"""Our own packer: outlines on a strip or a sheet, under the rules of cloth. Deterministic.

It knows nothing of garments: `Thing`s with the ways in which each may lie, on a `Field`.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from clothwise.cutting.placing.field import Field, Lying, Steps, Thing, Way, lying_outline

__all__ = ["Field", "Lying", "Steps", "Thing", "Way", "lying_outline", "pack"]


def pack(
    things: Sequence[Thing],
    field: Field,
    *,
    rounds: int,
    seed: int,
    told: Callable[[tuple[Lying, ...], float], None] | None = None,
    cancelled: Callable[[], bool] = lambda: False,
    enough_mm: float = 0.0,
) -> tuple[Lying, ...] | None:
    """Return where all things lie, as `packing_search.pack` does.

    The packer is loaded when it is first used: its compiler takes longer than most commands.
    """
    from clothwise.cutting.placing import packing_search

    return packing_search.pack(
        things,
        field,
        rounds=rounds,
        seed=seed,
        told=told,
        cancelled=cancelled,
        enough_mm=enough_mm,
    )
