"""`clothwise new`: a design to begin with."""

from __future__ import annotations

from pathlib import Path

import click


@click.command()
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
