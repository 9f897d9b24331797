"""`clothwise tune`: small changes of a design that save cloth."""

from __future__ import annotations

from pathlib import Path

import click

from clothwise.cli.commands.options import JSON, MAKE, MAKE_SIZE, TARGET


@click.command()
@TARGET
@MAKE
@MAKE_SIZE
@click.option("--search", "searching", is_flag=True, help="Look for the values that save most.")
@click.option("--fabric", default="", help="Save on this fabric of the make only.")
@click.option(
    "--seconds",
    type=click.IntRange(0, 60),
    default=1,
    show_default=True,
    help="How long each layout is searched; 0 lays in plain rows.",
)
@click.option(
    "--layouts",
    type=click.IntRange(1, 20),
    default=4,
    show_default=True,
    help="How many layouts, each by other chance, are compared.",
)
@click.option(
    "--tries",
    type=click.IntRange(2, 1000),
    default=30,
    show_default=True,
    help="How many sets of values one search lays out.",
)
@click.option(
    "--searches",
    type=click.IntRange(1, 20),
    default=1,
    show_default=True,
    help="How many searches, each by other chance; together they tell how far chance goes.",
)
@click.option(
    "--seed",
    type=click.IntRange(0, 2**31 - 1),
    default=None,
    help="Of the first search; without it, that of the make.",
)
@click.option(
    "--workers",
    type=click.IntRange(1, 256),
    default=None,
    help="How many processes search layouts; without it, one for each core.",
)
@click.option(
    "--pictures",
    type=click.Path(path_type=Path),
    help="Draw the layouts before and after into a folder: PDF, SVG and PNG.",
)
@click.option(
    "--apply", "applying", is_flag=True, help="Write what the search found into the make."
)
@JSON
def tune(
    target: Path,
    make_name: str,
    size: str,
    searching: bool,
    fabric: str,
    seconds: int,
    layouts: int,
    tries: int,
    searches: int,
    seed: int | None,
    workers: int | None,
    pictures: Path | None,
    applying: bool,
    json_: bool,
) -> int:
    """Show which small changes of the design save cloth.

    What may be changed, and how far, stands under `limits:` in the design. Each value is changed a
    little and everything is laid out anew; with --search, the values that save most are looked for.
    Ctrl and C together end a search early with what it has found.
    """
    from clothwise.cli.tuning import TuneAsk, run_tuning
    from clothwise.jobs import usual_workers
    from clothwise.packet.opening import making_at

    making = making_at(target, make_name, size)
    ask = TuneAsk(
        searching=searching or applying or pictures is not None,
        fabric=fabric,
        seconds=seconds,
        layouts=layouts,
        tries=tries,
        searches=searches,
        seed=making.file.make.seed if seed is None else seed,
        workers=workers or usual_workers(),
        pictures=pictures,
        applying=applying,
        as_json=json_,
    )
    return run_tuning(making, ask)
