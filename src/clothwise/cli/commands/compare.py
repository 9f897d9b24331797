"""`clothwise compare`: what if another cloth were taken."""

from __future__ import annotations

from pathlib import Path

import click

from clothwise.cli.commands.options import JSON, MAKE, MAKE_SIZE, SECONDS, TARGET, effort


@click.command()
@TARGET
@MAKE
@MAKE_SIZE
@click.option(
    "--swap",
    "swaps",
    multiple=True,
    metavar="FABRIC,FABRIC",
    help="Cut from one fabric what is cut from the other, such as linen,print.",
)
@click.option(
    "--from",
    "cut_from",
    multiple=True,
    metavar="WHAT=FABRIC",
    help="Cut a role, a piece or one of its copies from this fabric, such as collar=linen.",
)
@click.option(
    "--cloth",
    "cloths",
    multiple=True,
    metavar="FABRIC.KEY=VALUE",
    help="Take another cloth: width, usable_width, nap, layers, shrinkage_along, shrinkage_across, "
    "price or length, such as linen.width=150cm.",
)
@SECONDS
@JSON
def compare(
    target: Path,
    make_name: str,
    size: str,
    swaps: tuple[str, ...],
    cut_from: tuple[str, ...],
    cloths: tuple[str, ...],
    seconds: int | None,
    json_: bool,
) -> int:
    """Tell what would be bought if other cloth were taken.

    Shows each fabric of a make before and after. Nothing is changed in the make; every option may
    be given several times, and they may be combined.
    """
    from clothwise.cli import comparing, show
    from clothwise.jobs import usual_workers
    from clothwise.packet.opening import making_at
    from clothwise.packet.what_if import what_if

    changes = comparing.changes_of(swaps, cut_from, cloths)
    making = making_at(target, make_name, size)
    line = show.ProgressLine()
    found = what_if(
        making, changes, effort=effort(seconds), at_once=usual_workers(), progress=line.layout
    )
    line.done()
    if json_:
        show.as_json(comparing.comparison_data(found))
    else:
        comparing.show_comparison(making, found)
    return 0
