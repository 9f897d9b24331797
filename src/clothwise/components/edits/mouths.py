"""Where a seam is left open at one of its ends, and what ran on across it there.

The mouth is the end of a seam that an edit opens: a slit, a vent. Before, its corners were one
place of the garment, and hems ran on across it; now each side ends there by itself.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from itertools import pairwise

from clothwise.components.edits.edit import cannot
from clothwise.pattern.graph import EdgeRef, Finish, FinishKind, Run, Seam, Sides
from clothwise.pattern.junctions import Corner, end_corner, start_corner
from clothwise.pattern.operation import Operation
from clothwise.pattern.pattern import Pattern, runs_of


def mouth_of(pattern: Pattern, seam: Seam, *, at_start: bool) -> frozenset[Corner]:
    """The corners of pieces that meet at an end of a seam."""
    runs = [layer.run for layer in seam.layers]
    if at_start:
        return frozenset(start_corner(pattern, run.edges[0]) for run in runs)
    return frozenset(end_corner(pattern, run.edges[-1]) for run in runs)


def refuse_sewn_across(pattern: Pattern, seam: Seam, mouth: frozenset[Corner], what: str) -> None:
    """Refuse to open a seam where something that is sewn runs on across its end.

    Raises:
        ComponentError: a seam or a placed piece does; or the garment opens there already.
    """
    for use in pattern.all_uses():
        if use.name == seam.name or (
            isinstance(use, Finish) and use.kind is not FinishKind.CLOSURE
        ):
            continue
        across = any(_crossing(pattern, run, mouth) is not None for run in runs_of(use))
        if seam.sides is Sides.CENTER:  # what ends there goes on over the other copy
            across |= any(not mouth.isdisjoint(_ends(pattern, run)) for run in runs_of(use))
        if across:
            raise cannot(
                f"the {use.title} runs on across this end of the {seam.title}",
                what_to_do=f"A {what} must end at a hem; choose the other end.",
            )


def parted_finishes(
    pattern: Pattern, mouth: frozenset[Corner], name: str
) -> tuple[Mapping[str, Finish], tuple[Operation, ...]]:
    """Hems that ran on across the mouth end there on both sides; one step still does both.

    A hem all round a sleeve becomes one from side to side. `name` is that of the edit.
    """
    found: dict[str, Finish] = {}
    operations = pattern.operations
    for finish in pattern.finishes.values():
        at = _crossing(pattern, finish.run, mouth)
        if at is None:
            found[finish.name] = finish
        elif finish.run.closed:
            edges = finish.run.edges
            found[finish.name] = replace(finish, run=Run((*edges[at:], *edges[:at])))
        else:
            other = f"{finish.name}-beyond-{name}"
            found[finish.name] = replace(finish, run=Run(finish.run.edges[:at]))
            found[other] = replace(finish, name=other, run=Run(finish.run.edges[at:]))
            operations = tuple(_also(each, finish.name, other) for each in operations)
    return found, operations


def _also(operation: Operation, name: str, other: str) -> Operation:
    """The step, doing a part of what it did and the other part too."""
    if name in operation.does:
        at = operation.does.index(name) + 1
        operation = replace(operation, does=(*operation.does[:at], other, *operation.does[at:]))
    if name in operation.after:
        operation = replace(operation, after=(*operation.after, other))
    return operation


def _crossing(pattern: Pattern, run: Run, mouth: frozenset[Corner]) -> int | None:
    """The number of the edge with which a run enters the piece on the other side of a mouth."""
    steps: Iterable[tuple[EdgeRef, EdgeRef]] = pairwise(run.edges)
    for number, (before, after) in enumerate(steps, 1):
        if _leads_across(pattern, before, after, mouth):
            return number
    if run.closed and _leads_across(pattern, run.edges[-1], run.edges[0], mouth):
        return 0
    return None


def _leads_across(
    pattern: Pattern, before: EdgeRef, after: EdgeRef, mouth: frozenset[Corner]
) -> bool:
    leaves, enters = end_corner(pattern, before), start_corner(pattern, after)
    return leaves != enters and {leaves, enters} <= mouth


def _ends(pattern: Pattern, run: Run) -> set[Corner]:
    if run.closed:
        return set()
    return {start_corner(pattern, run.edges[0]), end_corner(pattern, run.edges[-1])}


def longer_vent(pattern: Pattern, way_up: Run) -> Mapping[str, Run]:
    """The named runs with the longest opening from the hem upward as `vent`, and each by itself."""
    known = pattern.runs.get("vent")
    runs = dict(pattern.runs)
    if known is None or pattern.run_length(known) < pattern.run_length(way_up):
        if known is not None:
            runs[_free(runs)] = known
        runs["vent"] = way_up
    else:
        runs[_free(runs)] = way_up
    return runs


def _free(runs: Mapping[str, Run]) -> str:
    number = 2
    while f"vent-{number}" in runs:
        number += 1
    return f"vent-{number}"
