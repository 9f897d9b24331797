"""`clothwise remnants`: what a make can be cut from of what is at hand."""

from __future__ import annotations

from pathlib import Path

import click

from clothwise.cli.commands.options import (
    FINDINGS,
    JSON,
    MAKE,
    MAKE_SIZE,
    PICTURES,
    SECONDS,
    TARGET,
    effort,
)


@click.command()
@TARGET
@MAKE
@MAKE_SIZE
@click.option(
    "--stash",
    type=click.Path(path_type=Path),
    default=None,
    help="Another file of cloths than the one the make names.",
)
@click.option(
    "--only",
    multiple=True,
    metavar="REMNANT",
    help="Use only this remnant of the stash. May be given several times.",
)
@click.option(
    "--at-hand",
    multiple=True,
    metavar="FABRIC=LENGTH",
    help="There is so much of a fabric and no more, such as linen=2.3m.",
)
@click.option(
    "--together",
    type=click.Choice(["copy", "piece", "role"]),
    default="piece",
    help="What must come from one cloth: a copy, all copies of a piece (the usual), or all that "
    "the design cuts from one fabric.",
)
@click.option(
    "--chosen-too",
    is_flag=True,
    help="Also take copies whose cloth the make names one by one; else they stay on it.",
)
@click.option(
    "--tries",
    type=click.IntRange(0, 10_000),
    default=None,
    help="How often to try whether pieces fit on a remnant; 60 if not stated.",
)
@click.option(
    "--adopt",
    is_flag=True,
    help="Write into the make which copies come from which remnant, and where they lie, so that "
    "cut and pack cut them from there.",
)
@SECONDS
@PICTURES
@JSON
def remnants(
    target: Path,
    make_name: str,
    size: str,
    stash: Path | None,
    only: tuple[str, ...],
    at_hand: tuple[str, ...],
    together: str,
    chosen_too: bool,
    tries: int | None,
    adopt: bool,
    seconds: int | None,
    pictures: Path | None,
    json_: bool,
) -> int:
    """Say what a make can be cut from of what is at hand.

    Shares its pieces out over the remnants of a stash so that least fabric is bought, says whether
    a length at hand suffices, and what is still to be bought. Ends with 1 if something has no
    place.
    """
    from clothwise.cli import remnants as told
    from clothwise.cli import show
    from clothwise.cli.changing import changing
    from clothwise.cutting.stash_search import DEFAULT_PACKINGS
    from clothwise.packet.from_stash import ByHand, Together, from_stash
    from clothwise.packet.opening import making_at
    from clothwise.packet.stash_pages import write_stash_pictures
    from clothwise.packet.stash_words import stash_data

    making = making_at(target, make_name, size)
    make, undo = changing(making.file.path) if adopt else None, ""
    line = show.ProgressLine()
    found = from_stash(
        making,
        told.remnants_of(making, stash, only),
        at_hand=told.lengths_of(at_hand),
        together=Together(together),
        by_hand=ByHand.MAY_MOVE if chosen_too else ByHand.STAYS,
        effort=effort(seconds),
        packings=DEFAULT_PACKINGS if tries is None else tries,
        progress=line.layout,
    )
    line.done()
    written = write_stash_pictures(making, found, pictures) if pictures else ()
    if make:
        from clothwise.packet.adopted_remnants import adopting

        undo = make.change(adopting(making, found, make.name, stash))
    if json_:
        show.as_json(stash_data(making, found))
    else:
        told.show_from_stash(making, found)
        for one in written:
            click.echo(f"{one.path}: {one.what}")
        if adopt:
            click.echo(f"{making.file.path}: cut from the remnants, as shown. {undo}")
    return 0 if found.fits else FINDINGS
