"""`clothwise sew`: the order of work."""

from __future__ import annotations

from pathlib import Path

import click

from clothwise.cli.commands.options import JSON, MAKE, MAKE_SIZE, TARGET


@click.command()
@TARGET
@MAKE
@MAKE_SIZE
@click.option("--batched", is_flag=True, help="Group the work by machine, iron and hand.")
@click.option(
    "--outline",
    "as_outline",
    is_flag=True,
    help="Chapters of a sew-along: what to have at hand, what to show.",
)
@JSON
def sew(
    target: Path, make_name: str, size: str, batched: bool, as_outline: bool, json_: bool
) -> int:
    """Show the order of work and what to have at hand."""
    from clothwise.cli import show
    from clothwise.packet.opening import making_at
    from clothwise.packet.tables import step_data
    from clothwise.work import (
        OrderMode,
        caution_footer,
        caution_text,
        cautions_of,
        notions,
        spoken_minutes,
        total_minutes,
    )

    making = making_at(target, make_name, size)
    mode = OrderMode.BATCHED if batched else OrderMode.TEACHING
    if as_outline:
        from clothwise.packet.outline import outline, outline_data, outline_text

        found = outline(making, mode=mode)
        show.as_json(outline_data(found)) if json_ else click.echo(outline_text(found))
        return 0
    steps = making.steps(mode)
    if json_:
        show.as_json([step_data(step) for step in steps])
        return 0
    lines = notions(making.pattern, making.unit)
    show.table(
        ("notion", "amount", ""),
        [(line.name, line.amount, line.detail) for line in lines],
        title=f"{making.title}, {making.fit}",
        right=(1,),
    )
    for step in steps:
        click.echo(
            click.style(f"{step.number}. {step.title}", bold=True)
            + f"  ({step.station.value}, {spoken_minutes(step.minutes)})"
        )
        click.echo(click.wrap_text(step.text, 90, "   ", "   "))
    click.echo(f"\nAbout {spoken_minutes(total_minutes(steps))} of sewing.\n")
    for sentence in making.pressing:
        click.echo(click.wrap_text(sentence, 90))
    for caution in cautions_of(tuple(step.operation for step in steps)):
        click.echo(click.wrap_text(caution_text(caution), 90))
    click.echo(click.wrap_text(caution_footer(), 90))
    return 0
