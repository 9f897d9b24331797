"""The commands: thin, they parse, call and show. Each loads what it needs when it runs."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from clothwise import __version__

FINDINGS = 1

TARGET = click.argument("target", type=click.Path(path_type=Path))
VIEW = click.option("--view", default="", help="A view of the design.")
SIZE = click.option("--size", default="", help="A size of the chart; the base size otherwise.")
MAKE = click.option("--make", "make_name", default="", help="Which make, if there are several.")
JSON = click.option("--json", "json_", is_flag=True, help="Data instead of a table.")
CHOICE = click.option(
    "--choose", "choices", multiple=True, metavar="OPTION=CHOICE", help="Choose an option; repeat."
)
SECONDS = click.option(
    "--seconds",
    type=click.IntRange(0, 600),
    default=None,
    help="Seconds for each run of the layout search.",
)


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(__version__, prog_name="clothwise")
def commands() -> None:
    """From one description of a garment to a packet somebody can sew from.

    TARGET is the folder of a design, or a make file in it.
    """


@commands.command()
@TARGET
@SIZE
@JSON
def measure(target: Path, size: str, json_: bool) -> int:
    """Show the size chart, or all measurements of one size; estimated ones carry a star."""
    from clothwise.cli import show
    from clothwise.cli.targets import design_at
    from clothwise.pattern.vocabulary import MEASUREMENTS
    from clothwise.units import format_angle, format_length

    design = design_at(target)
    bodies = [design.body(size)] if size else list(design.chart.sizes)
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
        return text + ("*" if body.is_estimated(name) else "")

    names = list(bodies[0])
    rows = [(MEASUREMENTS[name].label, *(cell(body, name) for body in bodies)) for name in names]
    header = ("measurement", *(body.name for body in bodies))
    show.table(header, rows, title=design.chart.title, right=range(1, len(header)))
    click.echo("* estimated from the other measurements")
    return 0


@commands.command()
@TARGET
@VIEW
@SIZE
@CHOICE
@JSON
@click.option("--out", type=click.Path(path_type=Path), help="Write the pieces as SVG here.")
def draft(
    target: Path, view: str, size: str, choices: tuple[str, ...], json_: bool, out: Path | None
) -> int:
    """Draft the pieces and show them with the seams between them."""
    from clothwise.cli import show
    from clothwise.cli.targets import chosen, design_at
    from clothwise.packet.tables import pattern_data
    from clothwise.units import LengthUnit, format_length

    design = design_at(target)
    pattern = design.draft(chosen(choices), view=view, body=design.body(size))
    data = pattern_data(pattern)
    if out is not None:
        from clothwise.packet.printing import pieces_svg
        from clothwise.pattern.saving import write_atomically

        write_atomically(out, pieces_svg(pattern, design.design.title))
    if json_:
        show.as_json(data)
        return 0

    def text(length_mm: float) -> str:
        return format_length(length_mm, LengthUnit.CENTIMETER)

    show.table(
        ("piece", "copies", "cutting line"),
        [
            (
                f"{piece['title']}{' (half, on the fold)' if piece['on_fold'] else ''}",
                ", ".join(piece["copies"]),
                text(piece["cutting_line_mm"]),
            )
            for piece in data["pieces"]
        ],
        title=f"{design.design.title}, size {pattern.size or design.body(size).name}",
        right=(2,),
    )
    show.table(
        ("seam", "lengths", "allowance"),
        [
            (
                seam["title"],
                "  ".join(text(layer["length_mm"]) for layer in seam["layers"]),
                text(seam["allowance_mm"]),
            )
            for seam in data["seams"]
        ],
        right=(2,),
    )
    return 0


@commands.command()
@TARGET
@VIEW
@SIZE
@CHOICE
@JSON
def check(target: Path, view: str, size: str, choices: tuple[str, ...], json_: bool) -> int:
    """Check every seam: all sizes and views of a design, or what a make asks for."""
    from clothwise.cli import show
    from clothwise.cli.checking import check_target
    from clothwise.cli.targets import chosen
    from clothwise.packet.tables import finding_data
    from clothwise.pattern import Severity

    line = show.ProgressLine()
    done, found = check_target(target, view, size, chosen(choices), line.say)
    line.done()
    if json_:
        show.as_json([finding_data(finding) for finding in found])
    else:
        show.findings(found)
        click.echo(f"Checked {', '.join(done)}: {show.finding_counts(found)}.")
    return FINDINGS if any(finding.severity is Severity.ERROR for finding in found) else 0


@commands.command()
@TARGET
@MAKE
@SIZE
@SECONDS
@JSON
def cut(target: Path, make_name: str, size: str, seconds: int | None, json_: bool) -> int:
    """Show the cutting list and lay the pieces out: how much of each fabric to buy."""
    from clothwise.cli import show
    from clothwise.cli.targets import making_at
    from clothwise.packet.tables import cloth_data
    from clothwise.units import format_length, format_meters, format_yards

    making = making_at(target, make_name, size)
    line = show.ProgressLine()
    cloths = making.cloths(effort=_effort(seconds), progress=line.layout)
    line.done()
    if json_:
        show.as_json([cloth_data(cloth) for cloth in cloths])
        return 0
    for cloth in cloths:
        show.table(
            ("no.", "piece", "cut", "along the"),
            [(str(each.number), each.title, each.amount, each.to.value) for each in cloth.lines],
            title=f"{making.title}, size {making.size}: {cloth.title}",
            right=(0,),
        )
        needed = cloth.requirement
        length = format_length(cloth.layout.length_mm, making.unit)
        click.echo(
            f"Buy {format_meters(needed.meters)} or {format_yards(needed.yards)} of {cloth.title}; "
            f"the layout is {length} long and uses {100 * cloth.layout.used_share:.0f} % "
            "of the cloth."
        )
        for note in cloth.layout.notes:
            click.echo(f"  {note}")
        click.echo()
    return 0


@commands.command()
@TARGET
@MAKE
@SIZE
@click.option("--batched", is_flag=True, help="Group the work by machine, iron and hand.")
@JSON
def sew(target: Path, make_name: str, size: str, batched: bool, json_: bool) -> int:
    """Show the order of work, step by step, and what to have at hand."""
    from clothwise.cli import show
    from clothwise.cli.targets import making_at
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
    steps = making.steps(OrderMode.BATCHED if batched else OrderMode.TEACHING)
    if json_:
        show.as_json([step_data(step) for step in steps])
        return 0
    lines = notions(making.pattern, making.unit)
    show.table(
        ("notion", "amount", ""),
        [(line.name, line.amount, line.detail) for line in lines],
        title=f"{making.title}, size {making.size}",
        right=(1,),
    )
    for step in steps:
        click.echo(
            click.style(f"{step.number}. {step.title}", bold=True)
            + f"  ({step.station.value}, {spoken_minutes(step.minutes)})"
        )
        click.echo(click.wrap_text(step.text, 90, "   ", "   "))
    click.echo(f"\nAbout {spoken_minutes(total_minutes(steps))} of sewing.\n")
    for caution in cautions_of(tuple(step.operation for step in steps)):
        click.echo(click.wrap_text(caution_text(caution), 90))
    click.echo(click.wrap_text(caution_footer(), 90))
    return 0


@commands.command("print")
@TARGET
@MAKE
@SIZE
@click.option("--paper", default="", help="a4, letter, a4-or-letter, a0 ...; the make's otherwise.")
@click.option("--out", type=click.Path(path_type=Path), required=True, help="The PDF to write.")
def print_(target: Path, make_name: str, size: str, paper: str, out: Path) -> int:
    """Write the pattern as a PDF: home-printer pages, or large sheets."""
    from clothwise.cli.targets import making_at
    from clothwise.packet.printing import LARGE_PAPERS, sheet_pattern, tiled_pattern
    from clothwise.pattern.saving import write_atomically

    making = making_at(target, make_name, size)
    wanted = paper or making.file.make.paper
    file = (
        sheet_pattern(making, wanted) if wanted in LARGE_PAPERS else tiled_pattern(making, wanted)
    )
    write_atomically(out, file.pdf)
    click.echo(f"{out}: {file.pages} pages. Print at 100 % and check the test squares.")
    return 0


@commands.command()
@TARGET
@MAKE
@SIZE
@SECONDS
@click.option("--out", type=click.Path(path_type=Path), required=True, help="The folder to fill.")
@JSON
def pack(
    target: Path, make_name: str, size: str, seconds: int | None, out: Path, json_: bool
) -> int:
    """Write everything that belongs to a make, or to each make of a design, into one folder."""
    from clothwise.cli import show
    from clothwise.cli.targets import in_size, makes_at, making_at
    from clothwise.packet import Making
    from clothwise.packet import pack as pack_making

    if make_name:
        makings = [making_at(target, make_name, size)]
    else:
        makings = [Making(in_size(make, size)) for make in makes_at(target)]
    line = show.ProgressLine()
    rows, found = [], []
    for making in makings:
        folder = out / making.file.path.stem if len(makings) > 1 else out
        line.say(f"{making.title}: checking")
        found.extend(making.findings)
        written = pack_making(
            making,
            folder,
            effort=_effort(seconds),
            tell=lambda text, title=making.title: line.say(f"{title}: {text}"),
            progress=line.layout,
        )
        rows.extend(written)
    line.done()
    if json_:
        show.as_json(
            [{"path": str(row.path), "what": row.what, "bytes": row.size_bytes} for row in rows]
        )
    else:
        show.table(
            ("file", "what it is", "pages", "size"),
            [
                (
                    str(row.path),
                    row.what,
                    str(row.pages or ""),
                    f"{row.size_bytes / 1000:.0f} kB",
                )
                for row in rows
            ],
            right=(2, 3),
        )
        show.findings(found)
        names = ", ".join(making.title for making in makings)
        click.echo(f"Packed {names}: {show.finding_counts(found)}.")
    return FINDINGS if any(making.has_errors for making in makings) else 0


@commands.command()
@click.argument("kind")
@click.argument("folder", type=click.Path(path_type=Path))
def new(kind: str, folder: Path) -> int:
    """Start a design of your own in FOLDER from a starting garment (KIND)."""
    from clothwise.pattern.document import starting_design

    files = starting_design(kind, folder)
    for file in files:
        click.echo(str(file))
    click.echo(f"Change {folder / 'design.yaml'}, then: clothwise check {folder}")
    return 0


def _effort(seconds: int | None) -> Any:
    from clothwise.cutting import DEFAULT_EFFORT, Effort

    return DEFAULT_EFFORT if seconds is None else Effort(seconds, DEFAULT_EFFORT.runs)
