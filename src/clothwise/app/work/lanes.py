"""The kinds of worker: how urgent each is, and how much time and memory its jobs may take."""

from __future__ import annotations

from dataclasses import dataclass

GIBIBYTE = 1 << 30

REST_S = 120.0
"""Whoever builds one packet or searches once often does so again after a look at what came of it;
starting a process anew then takes about two seconds. Our own choice."""


@dataclass(frozen=True)
class LaneSettings:
    """What holds for every job of a worker.

    Attributes:
        niceness: added to that of the server; 0 is as urgent as the server itself.
        limit_s: a job that runs longer is ended.
        most_bytes: of address space; a job that needs more is refused.
        ends_running: whether a newer job of the same key ends one that runs already. Where jobs
            are short, the older one shows something on the way instead.
        loads: modules that are imported before the first job.
        loads_later: modules that are imported when there is nothing to do.
        rests_after_s: so long without a job the process is ended and its memory given back; the
            next job starts another one. None: it stays.
    """

    niceness: int
    limit_s: float
    most_bytes: int
    ends_running: bool
    loads: tuple[str, ...] = ()
    loads_later: tuple[str, ...] = ()
    rests_after_s: float | None = None


LANES: dict[str, LaneSettings] = {
    # A draft takes 0.03 to 0.1 s; 15 s leave room for a first import on a slow machine that is busy
    # with other things. Memory: the libraries map less than 1 GiB.
    "draft": LaneSettings(
        niceness=0,
        limit_s=15.0,
        most_bytes=2 * GIBIBYTE,
        ends_running=False,
        loads=("clothwise.app.jobs._drafting",),
        loads_later=("clothwise.components.registry:kinds",),
    ),
    "back": LaneSettings(
        niceness=10,
        limit_s=60.0,
        most_bytes=4 * GIBIBYTE,
        ends_running=True,
        loads=("clothwise.checks",),
        loads_later=("clothwise.packet.making",),  # the first garment in Cut need not wait for it
    ),
    # What somebody waits for, seconds to a minute or two: never behind a search or the table.
    "soon": LaneSettings(
        niceness=13,
        limit_s=1800.0,
        most_bytes=8 * GIBIBYTE,
        ends_running=True,
        rests_after_s=REST_S,
    ),
    "long": LaneSettings(
        niceness=19,
        limit_s=1800.0,
        most_bytes=8 * GIBIBYTE,
        ends_running=True,
        rests_after_s=REST_S,
    ),
}
