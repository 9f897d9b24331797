"""`clothwise new`: a design to begin with."""

from __future__ import annotations

from pathlib import Path

import click


@click.command()
@click.argument("kind")
@click.argument("folder", type=click.Path(path_type=Path))
@click.option(
    "--width",
    default="",
    help="Width of the cloths in its makes, as it stands on the bolt. Usual are 36in, 44/45in, "
    "54in and 58/60in, or 90cm, 112/115cm, 137/140cm and 148/152cm.",
)
def new(kind: str, folder: Path, width: str) -> int:
    """Start a design of your own in FOLDER.

    KIND is the garment to begin with: half-circle-skirt, kiln-dress, kiln-mixtures, market-blouse,
    pilot-coat-dress, stage-corselette or tiered-skirt.
    """
    from clothwise.pattern.document import starting_design

    what = {
        "design.yaml": "what the garment is: views, parts, lengths",
        "sizes.csv": "the size chart",
    }
    files = starting_design(kind, folder, width=width)
    for file in files:
        click.echo(f"{file}  {what.get(file.name, 'a make: view, size and fabrics')}")
    click.echo(
        f"Open {folder / 'design.yaml'} in a text editor and change what you like, then: "
        f"clothwise check {folder}"
    )
    return 0
