"""`clothwise measure`: sizes and bodies."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from clothwise.cli.commands.options import JSON, SIZE, TARGET


@click.command()
@TARGET
@SIZE
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
    target: Path, size: str, coverage: bool, tolerance: str, out: Path | None, json_: bool
) -> int:
    """Show the size chart, one size, or whom a make is for.

    Measurements that were estimated from the others carry a star.
    """
    from clothwise.cli import show
    from clothwise.cli.checking import chart_findings
    from clothwise.cli.coverage import require_coverage, show_coverage
    from clothwise.cli.targets import bodies_at, design_at
    from clothwise.pattern.vocabulary import MEASUREMENTS
    from clothwise.units import LengthUnit, format_angle, format_length

    require_coverage(coverage=coverage, tolerance=tolerance, out=out, size=size)
    design = design_at(target)
    if coverage:
        return show_coverage(design.chart, tolerance=tolerance, out=out, json_=json_)
    bodies = bodies_at(target, size)
    if json_:
        show.as_json(
            {
                body.name: {
                    name: {"mm_or_rad": round(body[name], 4), "estimated": body.is_estimated(name)}
                    for name in body
                }
                for body in bodies
            }
        )
        return 0
    unit = design.chart.unit

    def cell(body: Any, name: str) -> str:
        if MEASUREMENTS[name].kind.name == "ANGLE":
            text = format_angle(body[name])
        else:
            text = format_length(body[name], unit)
            text = text if unit is LengthUnit.INCH else text.removesuffix(f" {unit.value}")
        return text + ("*" if body.is_estimated(name) else "")

    names = list(bodies[0])
    rows = [(MEASUREMENTS[name].label, *(cell(body, name) for body in bodies)) for name in names]
    header = (f"measurement ({unit.value})", *(body.name for body in bodies))
    show.table(header, rows, title=design.chart.title, right=range(1, len(header)))
    if any(body.is_estimated(name) for body in bodies for name in body):
        click.echo("* estimated from the other measurements; measure it if you can")
    if bodies == design.chart.sizes:
        show.findings(chart_findings(design))
    return 0
