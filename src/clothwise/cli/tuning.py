"""Runs what `clothwise tune` asks for and shows it."""

from __future__ import annotations

import signal
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from types import FrameType

import click

from clothwise.cli import show
from clothwise.cli.changing import Changing, changing
from clothwise.cutting import Effort, LayoutCancelled
from clothwise.errors import Misuse
from clothwise.packet import Making
from clothwise.packet.tuning import (
    ClothChange,
    Dimension,
    Found,
    SearchSize,
    Sensitivity,
    Trier,
    adjusted_fields,
    adjusted_lines,
    best_of,
    dimensions_of,
    found_data,
    found_sentences,
    measure_for,
    search,
    searches_sentence,
    seeds_after,
    sensitivities,
    sensitivity_data,
    signed_length,
    split_idle,
    verdict,
    write_pictures,
)
from clothwise.pattern.commands import SetMake
from clothwise.units import LengthUnit

RUNS = 1
"""Of the packer for one layout; rather more layouts than longer ones. Our own choice."""


@dataclass(frozen=True)
class TuneAsk:
    """What is asked; see the options of the command."""

    searching: bool
    fabric: str
    seconds: int
    layouts: int
    tries: int
    searches: int
    seed: int
    workers: int
    pictures: Path | None
    applying: bool
    as_json: bool


def run_tuning(making: Making, ask: TuneAsk) -> int:
    """Try what the limits of the design allow, and show what comes of it.

    Raises:
        Misuse: the design sets no limits, or none that concern this make.
        CuttingError: the make as it is cannot be laid out.
    """
    file, unit = making.file, making.unit
    dimensions, idle = split_idle(file, dimensions_of(file))
    if not dimensions:
        raise _nothing_to_change(making, idle)
    make = changing(file.path) if ask.applying else None
    measure = measure_for(file, ask.fabric)
    effort = Effort(ask.seconds, RUNS)
    with _stopped_once() as is_stopped, show.ProgressBar() as bar:
        trier = Trier(file, dimensions, effort, workers=ask.workers, cancelled=is_stopped)
        if not ask.searching:
            seeds = seeds_after(ask.seed, ask.layouts)
            try:
                tried = sensitivities(trier, seeds, progress=bar.at)
            except LayoutCancelled:
                raise KeyboardInterrupt from None
        else:
            size = SearchSize(ask.tries, ask.layouts)
            found = []
            for number in range(ask.searches):
                seed = ask.seed + number
                found.append(search(trier, measure, seed=seed, size=size, progress=bar.at))
                if is_stopped():
                    break
    if not ask.searching:
        _show_sensitivities(making, tried, idle, ask.as_json)
        return 0
    best = best_of(found)
    if ask.as_json:
        show.as_json([found_data(each, dimensions, unit) for each in found])
    else:
        _show_found(making, found, best, dimensions)
    if ask.pictures is not None:
        _draw(best, ask.pictures, tell=not ask.as_json)
    if make is not None:
        _apply(make, best, tell=not ask.as_json)
    return 0


def _nothing_to_change(making: Making, idle: Sequence[str]) -> Misuse:
    if making.file.of.design.limits:
        names = ", ".join(idle) or "components that this make does not have"
        return Misuse(
            "nothing that the limits of the design allow changes this make",
            where=making.title,
            how_much=names,
            what_to_do="Add limits for what its pieces depend on, such as a length or a flare.",
        )
    return Misuse(
        "the design sets no limits, so nothing of it may be changed",
        where=str(making.file.of.path),
        what_to_do="Write what may be changed and how far, such as `limits: {skirt_length: "
        "{less: 2cm}}`; docs/reference/saving-cloth.md tells how.",
    )


def _show_sensitivities(
    making: Making, tried: Sequence[Sensitivity], idle: Sequence[str], as_json: bool
) -> None:
    if as_json:
        show.as_json([sensitivity_data(each) for each in tried])
        return
    rows = []
    for each in tried:
        words = each.dimension.told(each.number, making.unit)
        if each.trial.refused:
            rows.append((words, "", "", "", f"cannot be made: {each.trial.refused}"))
        for change in each.changes:
            rows.append((words, *_change_cells(change, making.unit)))
            words = ""
        if not each.changes and not each.trial.refused:
            rows.append((words, "", "0", "0", "no piece changes"))
    show.table(
        ("change", "fabric", "cloth", "of it pieces", "from layout to layout"),
        rows,
        title=f"{making.title}, {making.fit}: what small changes do to the cloth",
        right=(2, 3),
    )
    for name in idle:
        click.echo(f"{name}: changes nothing in this make.")
    click.echo("`--search` looks for the values within the limits that save most.")


def _change_cells(change: ClothChange, unit: LengthUnit) -> tuple[str, str, str, str]:
    return (
        change.title,
        signed_length(change.change_mm, unit),
        signed_length(change.pieces_mm, unit),
        verdict(change, unit),
    )


def _show_found(
    making: Making, found: Sequence[Found], best: Found, dimensions: Sequence[Dimension]
) -> None:
    click.echo(f"{making.title}, {making.fit}")
    for sentence in found_sentences(best, dimensions, making.unit):
        click.echo(sentence)
    click.echo(f"`--seed {best.seed}` tries the same values again.")
    if len(found) > 1:
        click.echo(searches_sentence(found, dimensions, making.unit))
    lines = adjusted_lines(best)
    if lines:
        click.echo("In the make:")
        for line in lines:
            click.echo(f"  {line}")


def _draw(found: Found, folder: Path, *, tell: bool) -> None:
    for each in write_pictures(found, folder):
        if tell:
            click.echo(f"Drawn: {each.path}")


def _apply(make: Changing, found: Found, *, tell: bool) -> None:
    fields = adjusted_fields(found)
    if not fields:
        return
    undo = make.change(SetMake(make.name, fields))
    if tell:
        click.echo(f"Written into {make.path}. {undo}")


@contextmanager
def _stopped_once() -> Iterator[_Stop]:
    """Ctrl-C asks for an early end; a second one ends at once."""
    stop = _Stop()
    before = signal.signal(signal.SIGINT, stop.ask)
    try:
        yield stop
    finally:
        signal.signal(signal.SIGINT, before)


class _Stop:
    """Whether somebody wants an early end."""

    def __init__(self) -> None:
        self._asked = False

    def __call__(self) -> bool:
        return self._asked

    def ask(self, _signal: int, _frame: FrameType | None) -> None:
        """Take Ctrl-C."""
        if self._asked:
            raise KeyboardInterrupt
        self._asked = True
