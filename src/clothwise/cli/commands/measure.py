"""`clothwise measure`: sizes and bodies."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from clothwise.cli.commands.options import JSON, SIZE

if TYPE_CHECKING:
    from clothwise.cli.measured import Measured

_LIST = "list"


@click.command()
@click.argument("target", required=False, type=click.Path(path_type=Path))
@SIZE
@click.option(
    "--published",
    is_flag=False,
    flag_value=_LIST,
    default="",
    metavar="[NAME]",
    help="List the published size tables that come with Clothwise, or show this one.",
)
@click.option(
    "--height",
    default="",
    help="With --published: make a size chart of the table for this height, such as 165cm.",
)
@click.option(
    "--save",
    type=click.Path(path_type=Path),
    help="Write the size chart into this .csv file, for you to change.",
)
@click.option("--force", is_flag=True, help="With --save: write over a file that is there already.")
@click.option(
    "--coverage", is_flag=True, help="Show how many real bodies the sizes fit at bust and hip."
)
@click.option(
    "--tolerance",
    default="",
    help="With --coverage: how far a body may be from a size, such as 3cm; without it, as far as "
    "halfway to the next size.",
)
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    help="With --coverage: also draw it into this .pdf or .svg file.",
)
@JSON
def measure(
    target: Path | None,
    size: str,
    published: str,
    height: str,
    save: Path | None,
    force: bool,
    coverage: bool,
    tolerance: str,
    out: Path | None,
    json_: bool,
) -> int:
    """Show sizes and bodies.

    TARGET is a design, a make, a size chart or a list of people (.csv or .xlsx), or one person's
    body file. Measurements that were estimated from the others carry a star.
    """
    from clothwise.cli.coverage import require_coverage
    from clothwise.cli.measured import Measured, measured_at, require_new_csv
    from clothwise.cli.published_tables import (
        require_published_options,
        show_published,
        show_published_list,
    )

    require_coverage(coverage=coverage, tolerance=tolerance, out=out, size=size)
    require_published_options(published_=bool(published), target=target is not None, height=height)
    require_new_csv(save, force=force)
    wants_chart = bool(height) or coverage or save is not None
    if target is not None:
        measured = measured_at(target, size)
    elif published == _LIST and not wants_chart:
        return show_published_list(json_=json_)
    else:
        from clothwise.pattern import published as tables
        from clothwise.units import parse_length

        table = tables.published("" if published == _LIST else published)
        if not wants_chart:
            return show_published(table, size, json_=json_)
        height_mm = parse_length(height) if height else None
        measured = Measured.of_chart(table.chart(height_mm=height_mm), size)
    return _show(measured, save, coverage=coverage, tolerance=tolerance, out=out, json_=json_)


def _show(
    measured: Measured,
    save: Path | None,
    *,
    coverage: bool,
    tolerance: str,
    out: Path | None,
    json_: bool,
) -> int:
    from clothwise.cli import show
    from clothwise.cli.body_tables import show_people, show_sizes
    from clothwise.cli.coverage import show_coverage
    from clothwise.cli.measured import require_chart, saved
    from clothwise.sizing.chart_checks import chart_faults

    if save is not None:
        click.echo(saved(require_chart(measured.chart, "--save"), save), err=json_)
    if coverage:
        chart = require_chart(measured.chart, "--coverage")
        return show_coverage(chart, tolerance=tolerance, out=out, json_=json_)
    if json_:
        show.as_json({body.name: _data(body) for body in measured.bodies})
    elif measured.chart is None:
        show_people(measured.bodies, measured.unit, measured.title)
    else:
        show_sizes(measured.bodies, measured.unit, measured.title)
        if measured.all_sizes:
            show.findings(chart_faults(measured.chart))
    return 0


def _data(body: Any) -> dict[str, Any]:
    return {
        name: {"mm_or_rad": round(body[name], 4), "estimated": body.is_estimated(name)}
        for name in body
    }
