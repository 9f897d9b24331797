"""Arguments and options that several commands share."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

FINDINGS = 1

TARGET = click.argument("target", type=click.Path(path_type=Path))
VIEW = click.option("--view", default="", help="Only this view of the design, such as A.")
SIZE = click.option("--size", default="", help="Only this size of the size chart.")
BASE_SIZE = click.option(
    "--size", default="", help="A size of the size chart; without it, the design's base size."
)
MAKE_SIZE = click.option(
    "--size", default="", help="Another size of the chart than the one the make names."
)
MAKE = click.option(
    "--make",
    "make_name",
    default="",
    help="Which make, if there are several: the name of its file without .yaml.",
)
JSON = click.option("--json", "json_", is_flag=True, help="Data for other programs, as JSON.")
CHOICE = click.option(
    "--choose",
    "choices",
    multiple=True,
    metavar="OPTION=CHOICE",
    help="Make a choice of your own, such as pockets=1. May be given several times.",
)
PICTURES = click.option(
    "--pictures",
    type=click.Path(path_type=Path, file_okay=False),
    default=None,
    metavar="FOLDER",
    help="Write a page with the layout of each fabric into this folder, as PDF, SVG and PNG.",
)
SECONDS = click.option(
    "--seconds",
    type=click.IntRange(0, 600),
    default=None,
    help="How long each search for a layout may take. Longer saves cloth; 0 lays in plain rows.",
)


PIN = click.option(
    "--pin",
    "pins",
    multiple=True,
    metavar="PIECE[/COPY]",
    help="Keep this piece where it lies now: its place is written into the make, and from then on "
    "the rest is packed around it. May be given several times.",
)


def effort(seconds: int | None) -> Any:
    """The effort of a layout search that may take this long; the usual one if not stated."""
    from clothwise.cutting import DEFAULT_EFFORT, Effort

    return DEFAULT_EFFORT if seconds is None else Effort(seconds, DEFAULT_EFFORT.runs)
