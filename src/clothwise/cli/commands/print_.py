"""`clothwise print`: pattern pages."""

from __future__ import annotations

from pathlib import Path

import click

from clothwise.cli.commands.options import MAKE, MAKE_SIZE, TARGET

LAYERS = ("stitching lines", "marks", "words")
"""What may be left out; a test asks that they are those of `PrintLayer`."""


@click.command("print")
@TARGET
@MAKE
@MAKE_SIZE
@click.option(
    "--paper",
    default="",
    help="a4, letter, a4-or-letter (fits both), a0 and others; without it, the make's paper.",
)
@click.option(
    "--sizes", default="", help="Several sizes on one another: 36,38,40, or all of the chart."
)
@click.option(
    "--without",
    multiple=True,
    type=click.Choice(LAYERS),
    help="Leave lines, marks or words out; may be given several times.",
)
@click.option(
    "--no-rectangles",
    is_flag=True,
    help="Leave plain rectangles out of the print; the first page tells how large they are.",
)
@click.option("--out", type=click.Path(path_type=Path), required=True, help="The PDF to write.")
def print_(
    target: Path,
    make_name: str,
    size: str,
    paper: str,
    sizes: str,
    without: tuple[str, ...],
    no_rectangles: bool,
    out: Path,
) -> int:
    """Write the pattern as a PDF, in pages or large sheets."""
    from clothwise.output import PrintLayer
    from clothwise.packet.nested_print import PrintChoice, chosen_pages, named_sizes
    from clothwise.packet.opening import making_at
    from clothwise.pattern.saving import write_atomically

    making = making_at(target, make_name, size)
    choice = PrintChoice(
        paper,
        named_sizes(sizes, making.file.of.sizes),
        frozenset(layer for layer in PrintLayer if layer.value not in without),
        leaves_out_rectangles=no_rectangles,
    )
    file = chosen_pages(making, choice).file()
    write_atomically(out, file.pdf)
    pages = "1 page" if file.pages == 1 else f"{file.pages} pages"
    click.echo(f"{out}: {pages}. Print at 100 % (actual size) and check the test squares.")
    return 0
