"""`clothwise cut`: layouts and what to buy."""

from __future__ import annotations

from pathlib import Path

import click

from clothwise.cli.commands.options import JSON, MAKE, MAKE_SIZE, SECONDS, TARGET, effort


@click.command()
@TARGET
@MAKE
@MAKE_SIZE
@SECONDS
@JSON
def cut(target: Path, make_name: str, size: str, seconds: int | None, json_: bool) -> int:
    """Show what to cut and how much fabric to buy.

    Lays the pieces out on each fabric. Layouts that were found are kept in a folder .layouts beside
    the make, and used again.
    """
    from clothwise.cli import show
    from clothwise.cli.targets import making_at
    from clothwise.packet.tables import cloth_data
    from clothwise.units import format_length, format_meters, format_yards

    making = making_at(target, make_name, size)
    line = show.ProgressLine()
    cloths = making.cloths(effort=effort(seconds), progress=line.layout)
    line.done()
    if json_:
        show.as_json([cloth_data(cloth) for cloth in cloths])
        return 0
    for cloth in cloths:
        show.table(
            ("no.", "piece", "cut", "grain", "to be minded"),
            [
                (str(each.number), each.title, each.amount, each.grain, each.remarks)
                for each in cloth.lines
            ],
            title=f"{making.title}, {making.fit}: {cloth.title}",
            right=(0,),
        )
        needed = cloth.requirement
        length = format_length(cloth.layout.length_mm, making.unit)
        click.echo(
            f"Buy {format_meters(needed.meters)} or {format_yards(needed.yards)} of {cloth.title}; "
            f"the layout is {length} long and uses {100 * cloth.layout.used_share:.0f} % "
            "of the cloth."
        )
        for note in (*cloth.list_notes, *cloth.layout.notes):
            click.echo(f"  {note}")
        click.echo()
    return 0
