"""`clothwise print`: pattern pages."""

from __future__ import annotations

from pathlib import Path

import click

from clothwise.cli.commands.options import MAKE, MAKE_SIZE, TARGET


@click.command("print")
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
