"""Tables and progress in the terminal. Loads what draws them only when it is used."""

from __future__ import annotations

import json
import shutil
import sys
import textwrap
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Any

import click

from clothwise.checks.grouping import FindingGroup, grouped
from clothwise.cutting import Progress
from clothwise.pattern import Finding, Severity

if TYPE_CHECKING:
    from rich.text import Text

MOST_SIZES_LISTED = 4

_PIPE_WIDTH = 120  # characters, where the text does not go to a terminal
_READ_WIDTH = 100  # of sentences, however wide the terminal is
_ANY_HEIGHT = 100  # lines; without it a plain terminal is taken to be 80 characters wide
_STYLE = {Severity.ERROR: "red", Severity.WARNING: "yellow", Severity.NOTE: "cyan"}


def as_json(data: Any) -> None:
    """Write data as JSON to standard output."""
    click.echo(json.dumps(data, indent=1, ensure_ascii=False))


def width() -> int:
    """Return how many characters a line may have."""
    return shutil.get_terminal_size().columns if sys.stdout.isatty() else _PIPE_WIDTH


def say(sentence: str, indent: str = "") -> None:
    """Write a sentence to standard output in lines that are easy to read, no word parted.

    Args:
        sentence: of any length.
        indent: before each line.
    """
    click.echo(
        textwrap.fill(
            sentence,
            min(width(), _READ_WIDTH),
            initial_indent=indent,
            subsequent_indent=indent,
            break_on_hyphens=False,
        )
    )


def table(
    header: Sequence[str],
    rows: Iterable[Sequence[str | Text]],
    *,
    title: str = "",
    right: Sequence[int] = (),
) -> None:
    """Write a table to standard output."""
    from rich.box import SIMPLE_HEAD
    from rich.console import Console
    from rich.table import Table
    from rich.text import Text

    if title:
        click.echo(title)  # not the table's own title, which is broken at the table's width
    shown = Table(box=SIMPLE_HEAD, pad_edge=False)
    for number, name in enumerate(header):
        shown.add_column(name, justify="right" if number in right else "left")
    for row in rows:
        shown.add_row(*(Text(cell) if isinstance(cell, str) else cell for cell in row))
    console = Console(width=width(), height=_ANY_HEIGHT)
    with console.capture() as text:
        console.print(shown)
    click.echo(text.get(), nl=False)


def findings(found: Sequence[Finding]) -> None:
    """Write the findings of one draft as a table."""
    finding_groups(grouped([found]))


def finding_groups(groups: Sequence[FindingGroup]) -> None:
    """Write a table of findings: number, place, figures, and what to do."""
    from rich.text import Text

    if not groups:
        return
    rows = []
    for group in groups:
        finding = group.first
        head = Text(finding.severity.value, style=f"bold {_STYLE[finding.severity]}")
        head.append(f"\n{finding.code}", style="bold")
        figures = [f"{finding.measured}" if finding.measured else ""]
        if finding.allowed:
            figures.append(f"allowed {finding.allowed}")
        words = " ".join(text for text in (finding.message, finding.remedy) if text)
        rows.append((str(group.number), head, _place(group), "\n".join(figures), words))
    table(("", "finding", "where", "measured", "what it means, what to do"), rows, right=(0,))


def _place(group: FindingGroup) -> str:
    """Seam or piece, edge, and the sizes."""
    finding, sizes = group.first, group.sizes
    words = [finding.seam or finding.piece, finding.edge]
    if len(sizes) > MOST_SIZES_LISTED:
        words.append(f"{len(sizes)} sizes, {sizes[0]} to {sizes[-1]}")
    elif sizes:
        words.append(f"size{'s' if len(sizes) > 1 else ''} {', '.join(sizes)}")
    if len(group.places) > 1:
        words.insert(2, f"{len(group.places)} places")
    return "\n".join(word for word in words if word)


def finding_counts(found: Sequence[Finding]) -> str:
    """How many findings there are of each kind, in one phrase."""
    counts = [
        f"{number} {severity.value}{'s' if number > 1 else ''}"
        for severity in Severity
        if (number := sum(finding.severity is severity for finding in found))
    ]
    return ", ".join(counts) or "no findings"


class ProgressLine:
    """One line on standard error that shows how far long work has come."""

    def __init__(self) -> None:
        """Show nothing if nobody is looking."""
        self._shown = sys.stderr.isatty()
        self._width = 0

    def layout(self, progress: Progress) -> None:
        """Show a layout search."""
        self.say(f"{progress.message}  {100 * progress.share:.0f} %")

    def say(self, text: str) -> None:
        """Show a sentence in place of the last one."""
        if self._shown:
            click.echo("\r" + text[:78].ljust(self._width), nl=False, err=True)
            self._width = min(len(text), 78)

    def done(self) -> None:
        """Clear the line."""
        if self._shown and self._width:
            click.echo("\r" + " " * self._width + "\r", nl=False, err=True)
            self._width = 0


class ProgressBar:
    """A bar on standard error with the time left; a context manager that clears it in the end."""

    def __init__(self) -> None:
        """Show nothing if nobody is looking."""
        self._bar: Any = None
        self._task: Any = None

    def __enter__(self) -> ProgressBar:
        if sys.stderr.isatty():
            from rich.console import Console
            from rich.progress import (
                BarColumn,
                MofNCompleteColumn,
                Progress,
                TextColumn,
                TimeRemainingColumn,
            )

            self._bar = Progress(
                BarColumn(),
                MofNCompleteColumn(),
                TimeRemainingColumn(compact=True),
                TextColumn("{task.description}", markup=False),
                console=Console(stderr=True),
                transient=True,
            )
            self._task = self._bar.add_task("", total=None)
            self._bar.start()
        return self

    def __exit__(self, *_: object) -> None:
        if self._bar is not None:
            self._bar.stop()

    def at(self, done: int, total: int, words: str = "") -> None:
        """Show how many of how many are done, and what comes next."""
        if self._bar is not None:
            self._bar.update(self._task, completed=done, total=total, description=words)
