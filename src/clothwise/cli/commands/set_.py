"""`clothwise set`, `swap` and `edit`: values, components and edits of a design changed."""

from __future__ import annotations

from pathlib import Path

import click

from clothwise.cli.commands.options import CHOICE, TARGET


@click.command(name="set")
@TARGET
@click.argument("component")
@click.argument("values", nargs=-1, required=True, metavar="PARAMETER=VALUE...")
@CHOICE
def set_(target: Path, component: str, values: tuple[str, ...], choices: tuple[str, ...]) -> int:
    """Write other values into a design.

    They are those of a COMPONENT or an edit, such as: skirt flare=10cm. Where a value depends on
    an option, the one for your choices is written. Nothing after the = leaves it out.
    """
    from clothwise.cli.changing import change, pairs
    from clothwise.pattern.commands import SetParameter, SetParameters

    stated, chosen = pairs(values), pairs(choices)
    if len(stated) == 1:
        ((name, text),) = stated.items()
        change(target, SetParameter(component, name, text, chosen))
    else:
        change(target, SetParameters(component, stated, chosen))
    return 0


@click.command()
@TARGET
@click.argument("component")
@click.argument("kind")
def swap(target: Path, component: str, kind: str) -> int:
    """Put a component of another kind in the place of one.

    The COMPONENT keeps its name and becomes one of that KIND, such as: sleeve puff-sleeve. Its
    parameters stay where the new kind has them.
    """
    from clothwise.cli.changing import change, history_of
    from clothwise.components.swapping import swapping

    change(target, swapping(history_of(target).documents, component, kind))
    return 0


@click.command()
@TARGET
@click.argument("kind")
@click.argument("values", nargs=-1, required=True, metavar="PARAMETER=VALUE...")
@click.option("--name", default="", help="Names what the edit makes; without it, its kind.")
def edit(target: Path, kind: str, values: tuple[str, ...], name: str) -> int:
    """Change a piece of what was drafted, by an edit.

    KIND is one of those in docs/reference/edits.md: split piece=skirt-front from=side to=hem.
    """
    from clothwise.cli.changing import change, pairs
    from clothwise.pattern.commands import AddEdit

    change(target, AddEdit(kind, pairs(values), name=name))
    return 0
