"""The commands: thin, they parse, call and show. Each loads what it needs when it runs."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import click

from clothwise import __version__
from clothwise.errors import Misuse, did_you_mean

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
SECONDS = click.option(
    "--seconds",
    type=click.IntRange(0, 600),
    default=None,
    help="How long each search for a layout may take. Longer saves cloth; 0 lays in plain rows.",
)


class _InOrder(click.Group):
    """Lists its commands in the order of the work, and suggests what a wrong name meant."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """In the order in which a garment comes about."""
        return ["new", "measure", "draft", "check", "cut", "sew", "print", "pack"]

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Find the command.

        Raises:
            Misuse: there is none of that name.
        """
        name = args[0]
        if self.get_command(ctx, name) is None and not name.startswith("-"):
            raise Misuse(
                f"there is no command {name[:40]!r}",
                what_to_do=did_you_mean(name, self.list_commands(ctx), of_what="commands"),
            )
        return super().resolve_command(ctx, args)


HELP = (
    "From one description of a garment to a packet somebody can sew from.\n\n"
    "\b\n"  # what follows is shown line by line
    "clothwise new kiln-dress my-dress      a folder of your own, to change\n"
    "clothwise check my-dress               does everything still go together?\n"
    "clothwise pack my-dress --out packet   booklet, pattern, cutting list\n\n"
    "Most commands want a TARGET: the folder of a design, or a make in it. A design says what the "
    "garment is; a make says which view, size and fabrics are sewn this time."
)


@click.group(
    help=HELP,
    cls=_InOrder,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
)
@click.version_option(__version__, prog_name="clothwise")
def commands() -> None:
    """Parse nothing; the commands below do the work."""


@commands.command()
@TARGET
@SIZE
@JSON
def measure(target: Path, size: str, json_: bool) -> int:
    """Show the size chart, one size, or whom a make is for.

    Measurements that were estimated from the others carry a star.
    """
    from clothwise.cli import show
    from clothwise.cli.targets import bodies_at, design_at
    from clothwise.pattern.vocabulary import MEASUREMENTS
    from clothwise.units import LengthUnit, format_angle, format_length

    design = design_at(target)
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
    return 0


@commands.command()
@TARGET
@VIEW
@BASE_SIZE
@CHOICE
@JSON
@click.option(
    "--out", type=click.Path(path_type=Path), help="Also draw the pieces into this SVG file."
)
def draft(
    target: Path, view: str, size: str, choices: tuple[str, ...], json_: bool, out: Path | None
) -> int:
    """Draft the pieces and show them with the seams between them."""
    from clothwise.cli import show
    from clothwise.cli.targets import chosen, design_at
    from clothwise.packet.tables import pattern_data
    from clothwise.units import format_length

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
        return format_length(length_mm, design.design.unit)

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
    """Check that everything goes together.

    Looks at every size and view of a design, or at what one make asks for: lengths of seams that
    are sewn together, notches, darts, corners, hems, and that nothing is left out.
    """
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
    cloths = making.cloths(effort=_effort(seconds), progress=line.layout)
    line.done()
    if json_:
        show.as_json([cloth_data(cloth) for cloth in cloths])
        return 0
    for cloth in cloths:
        show.table(
            ("no.", "piece", "cut", "along the"),
            [(str(each.number), each.title, each.amount, each.to.value) for each in cloth.lines],
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
        for note in cloth.layout.notes:
            click.echo(f"  {note}")
        click.echo()
    return 0


@commands.command()
@TARGET
@MAKE
@MAKE_SIZE
@click.option("--batched", is_flag=True, help="Group the work by machine, iron and hand.")
@JSON
def sew(target: Path, make_name: str, size: str, batched: bool, json_: bool) -> int:
    """Show the order of work and what to have at hand."""
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
    for caution in cautions_of(tuple(step.operation for step in steps)):
        click.echo(click.wrap_text(caution_text(caution), 90))
    click.echo(click.wrap_text(caution_footer(), 90))
    return 0


@commands.command("print")
@TARGET
@MAKE
@MAKE_SIZE
@click.option(
    "--paper",
    default="",
    help="a4, letter, a4-or-letter (fits both), a0 and others; without it, the make's paper.",
)
@click.option("--out", type=click.Path(path_type=Path), required=True, help="The PDF to write.")
def print_(target: Path, make_name: str, size: str, paper: str, out: Path) -> int:
    """Write the pattern as a PDF, in pages or large sheets."""
    from clothwise.cli.targets import making_at
    from clothwise.packet.printing import printed_pattern
    from clothwise.pattern.saving import write_atomically

    making = making_at(target, make_name, size)
    file = printed_pattern(making, paper)
    write_atomically(out, file.pdf)
    pages = "1 page" if file.pages == 1 else f"{file.pages} pages"
    click.echo(f"{out}: {pages}. Print at 100 % (actual size) and check the test squares.")
    return 0


@commands.command()
@TARGET
@MAKE
@MAKE_SIZE
@SECONDS
@click.option("--out", type=click.Path(path_type=Path), required=True, help="The folder to fill.")
@JSON
def pack(
    target: Path, make_name: str, size: str, seconds: int | None, out: Path, json_: bool
) -> int:
    """Write the whole packet into one folder.

    Booklet, pattern for a home printer, pattern for a copy shop, and cutting list, for one make or
    for each make of a design.
    """
    from clothwise.cli import show
    from clothwise.cli.targets import in_size, makes_at, making_at
    from clothwise.packet import Making, Written
    from clothwise.packet import pack as pack_making
    from clothwise.pattern import Finding

    if make_name:
        makings = [making_at(target, make_name, size)]
    else:
        makings = [Making(in_size(make, size)) for make in makes_at(target)]
    line = show.ProgressLine()
    rows: list[Written] = []
    found: list[Finding] = []
    for making in makings:
        folder = out / making.file.path.stem if len(makings) > 1 else out
        line.say(f"{making.title}: checking")
        found.extend(making.findings)
        rows += pack_making(
            making,
            folder,
            effort=_effort(seconds),
            tell=_titled(making.title, line.say),
            progress=line.layout,
        )
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
                    str(row.path.relative_to(out)),
                    row.what,
                    str(row.pages or ""),
                    f"{row.size_bytes / 1000:.0f} kB",
                )
                for row in rows
            ],
            title=f"In {out}:",
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
    """Start a design of your own in FOLDER.

    KIND is the garment to begin with: kiln-dress or half-circle-skirt.
    """
    from clothwise.pattern.document import starting_design

    what = {
        "design.yaml": "what the garment is: views, parts, lengths",
        "sizes.csv": "the size chart",
    }
    files = starting_design(kind, folder)
    for file in files:
        click.echo(f"{file}  {what.get(file.name, 'a make: view, size and fabrics')}")
    click.echo(
        f"Open {folder / 'design.yaml'} in a text editor and change what you like, then: "
        f"clothwise check {folder}"
    )
    return 0


def _titled(title: str, say: Callable[[str], None]) -> Callable[[str], None]:
    return lambda text: say(f"{title}: {text}")


def _effort(seconds: int | None) -> Any:
    from clothwise.cutting import DEFAULT_EFFORT, Effort

    return DEFAULT_EFFORT if seconds is None else Effort(seconds, DEFAULT_EFFORT.runs)
