"""`clothwise buy`: the requirement table."""

from __future__ import annotations

from pathlib import Path

import click

from clothwise.cli.commands.options import CHOICE, JSON, SECONDS, TARGET, VIEW, effort

LAYERS = (
    "single",
    "folded",
    "partly folded",
    "folded to the middle",
    "folded crosswise",
    "face to face",
)
"""A test compares them with those that a make may state; not to load all that to show help."""


@click.command()
@TARGET
@click.option(
    "--make",
    "make_name",
    default="",
    help="Of this make and its own cloths: the name of its file without .yaml.",
)
@VIEW
@CHOICE
@click.option(
    "--size",
    "sizes",
    multiple=True,
    help="Only these sizes, such as 38 or 36,38,40. May be given several times.",
)
@click.option(
    "--width",
    "widths",
    multiple=True,
    metavar="[FABRIC=]WIDTH",
    help="Cloth of this width, such as 150cm or 45in, in place of what is stated; without FABRIC, "
    "for all but interfacing. May be given several times.",
)
@click.option(
    "--nap",
    type=click.Choice(["without", "with", "both"]),
    help="Cloth without nap, with nap (pieces all one way up), or a line for each.",
)
@click.option(
    "--layers",
    type=click.Choice(LAYERS),
    help="How the cloth lies to be cut, in place of what is stated.",
)
@SECONDS
@click.option(
    "--workers",
    type=click.IntRange(1, 256),
    default=None,
    help="How many processes share the work; without it, one for each core.",
)
@click.option(
    "--cluster",
    default="",
    metavar="ADDRESS",
    help="Give the work to this Dask scheduler, such as tcp://192.0.2.7:8786.",
)
@click.option(
    "--out",
    type=click.Path(path_type=Path, dir_okay=False),
    help="Also write it into this file: .pdf, .csv, .xlsx or .json.",
)
@JSON
def buy(
    target: Path,
    make_name: str,
    view: str,
    choices: tuple[str, ...],
    sizes: tuple[str, ...],
    widths: tuple[str, ...],
    nap: str | None,
    layers: str | None,
    seconds: int | None,
    workers: int | None,
    cluster: str,
    out: Path | None,
    json_: bool,
) -> int:
    """Tell how much fabric to buy, in every size, view and width.

    Every figure is that of a layout, rounded up as shops sell it. A design is worked out for the
    cloths that its fabric roles name; a make for its own. A folder that holds several designs is a
    catalog. Layouts that were found are kept: a table that was stopped goes on where it was.
    """
    from clothwise.cli import requirements, show
    from clothwise.cli.targets import chosen
    from clothwise.packet.requirement_data import requirement_data
    from clothwise.packet.requirement_table import TABLE_EFFORT, requirement_tables

    requirements.require_kind(out)
    asking = requirements.asking_of(sizes, widths, nap or "", layers or "")
    subjects = requirements.subjects_at(target, make_name, view, chosen(choices), asking)
    try:
        with show.ProgressBar() as bar:
            tables = requirement_tables(
                subjects,
                effort=TABLE_EFFORT if seconds is None else effort(seconds),
                workers=workers,
                cluster=cluster,
                progress=lambda at: bar.at(at.done, at.total, "layouts"),
            )
    except KeyboardInterrupt:
        click.echo("Layouts found so far are kept; the same command goes on from there.", err=True)
        raise
    if out is not None:
        requirements.write_tables(tables, out)
    if json_:
        show.as_json([requirement_data(table) for table in tables])
        return 0
    for table in tables:
        requirements.show_table(table)
        click.echo()
    if out is not None:
        click.echo(f"{out}: fabric requirement")
    return 0
