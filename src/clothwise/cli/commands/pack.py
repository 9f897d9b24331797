"""`clothwise pack`: the packet of a make."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import click

from clothwise.cli.commands.options import FINDINGS, JSON, MAKE, MAKE_SIZE, SECONDS, TARGET, effort


@click.command()
@TARGET
@MAKE
@MAKE_SIZE
@click.option(
    "--sizes",
    default="",
    help="Several sizes on one another in the pattern: 36,38,40, or all of the chart. Booklet and "
    "layouts are made for the size of the make.",
)
@click.option(
    "--paper",
    default="",
    help="a4, letter, a4-or-letter and others, for the pages of the pattern; without it, the "
    "make's paper.",
)
@click.option(
    "--no-rectangles",
    is_flag=True,
    help="Leave plain rectangles out of the print; the first page tells how large they are.",
)
@SECONDS
@click.option("--out", type=click.Path(path_type=Path), required=True, help="The folder to fill.")
@JSON
def pack(
    target: Path,
    make_name: str,
    size: str,
    sizes: str,
    paper: str,
    no_rectangles: bool,
    seconds: int | None,
    out: Path,
    json_: bool,
) -> int:
    """Write the whole packet into one folder.

    Booklet, pattern for a home printer, pattern for a copy shop, and cutting list, for one make or
    for each make of a design.
    """
    from clothwise.checks.grouping import grouped
    from clothwise.cli import show
    from clothwise.jobs import usual_workers
    from clothwise.packet import Making, Written
    from clothwise.packet import pack as pack_making
    from clothwise.packet.nested_print import for_packet, named_sizes
    from clothwise.packet.opening import in_size, makes_at, making_at
    from clothwise.pattern import Finding

    if make_name:
        makings = [making_at(target, make_name, size)]
    else:
        makings = [Making(in_size(make, size)) for make in makes_at(target)]
    prints = [
        for_packet(
            each,
            paper,
            named_sizes(sizes, each.file.of.sizes),
            leaves_out_rectangles=no_rectangles,
        )
        for each in makings
    ]
    line = show.ProgressLine()
    rows: list[Written] = []
    found: list[Finding] = []
    for making, choice in zip(makings, prints, strict=True):
        folder = out / making.file.path.stem if len(makings) > 1 else out
        line.say(f"{making.title}: checking")
        found.extend(making.findings)
        rows += pack_making(
            making,
            folder,
            prints=choice,
            effort=effort(seconds),
            at_once=usual_workers(),
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
        show.finding_groups(grouped(making.findings for making in makings))
        names = ", ".join(making.title for making in makings)
        click.echo(f"Packed {names}: {show.finding_counts(found)}.")
    return FINDINGS if any(making.has_errors for making in makings) else 0


def _titled(title: str, say: Callable[[str], None]) -> Callable[[str], None]:
    return lambda text: say(f"{title}: {text}")
