"""Writes the reference pages that follow from the code: components, and the JSON Schemas.

    python -m clothwise.components.reference docs/reference

A test compares the pages with what this would write.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from clothwise.components.edits.registry import edit_class, edit_kinds
from clothwise.components.evaluation import format_parameter
from clothwise.components.parameter import Parameter, ParameterKind, Parametric
from clothwise.components.registry import component_class, kinds
from clothwise.components.schemas import design_schema, make_schema, parameter_default, stash_schema
from clothwise.pattern.commands import Command, command_kinds
from clothwise.pattern.commands.schemas import command_schema, field_help
from clothwise.pattern.saving import write_atomically
from clothwise.units import LengthUnit

__all__ = ["reference_pages", "write_reference"]

_PICTURES = "../pictures/components"

_OPENING = """\
# Components

The garment parts a design can be made of, with what may be said about each in `design.yaml`
([how](design-document.md)). A parameter that is left out has its default; lengths need a unit, and
any value may be a formula. Formulas call a parameter by its component's name in the design and
its own: the `length` of a component named `skirt` is `skirt_length`.

Pictures show the pieces of a middle size, to scale, with cutting and stitching lines; a component
that has no pieces of its own is shown in color on those of others.

This page is written by `python -m clothwise.components.reference docs/reference`, its pictures by
`python -m clothwise.packet.gallery docs/pictures/components`; `make reference` does both.
"""

_EDITS_OPENING = """\
# Edits

What a designer changes in what the components drafted, under `edits:` in `design.yaml`
([how](design-document.md#edits)). An edit names pieces, edges, darts and seams; `clothwise draft
--json` lists those of a design. Edits are made anew at every size and for every body, in their
order: those that change a shape as soon as its pieces are there, so that what is drafted later
follows; those that divide, join or mark pieces when all components are there. `after:` says
otherwise. One that cannot be made is a finding, [EDIT-LOST](findings/EDIT-LOST.md).

This page is written by `python -m clothwise.components.reference docs/reference`.
"""


_COMMANDS_OPENING = """\
# Changes as data

Every change of a design or of a make is a command: data that a page, a script or the command line
sends, with the documents of one folder before it and after it. Undo is the documents before
([why](../decisions/0022-undo-is-an-older-document.md)). As JSON, a command is its `kind` and its
fields:

```json
{"kind": "set-parameter", "component": "skirt", "parameter": "flare", "value": "10cm"}
```

Texts are written as in the documents: lengths with their unit, formulas as they are. What cannot
be done is refused in four parts, what, where, how much and what to do, and nothing is changed.

This page is written by `python -m clothwise.components.reference docs/reference`.
"""


def reference_pages() -> dict[str, str]:
    """Return the pages by file name."""
    return {
        "components.md": "\n".join([_OPENING, _index(), *(_section(kind) for kind in kinds())]),
        "edits.md": "\n".join([_EDITS_OPENING, *(_edit_section(kind) for kind in edit_kinds())]),
        "commands.md": "\n".join(
            [_COMMANDS_OPENING, *(_command_section(of) for of in command_kinds().values())]
        ),
        "design.schema.json": _json(design_schema()),
        "make.schema.json": _json(make_schema()),
        "stash.schema.json": _json(stash_schema()),
    }


def write_reference(folder: Path) -> None:
    """Write the pages into a folder that exists.

    Raises:
        OutputError: a page cannot be written.
    """
    for name, content in reference_pages().items():
        write_atomically(folder / name, content)


def _command_section(of: type[Command]) -> str:
    """A command with its fields."""
    schema, help_of = command_schema(of), field_help(of)
    rows = "".join(
        f"| `{name}` | {'needed' if name in schema['required'] else 'may be left out'} "
        f"| {_shape(entry)} | {_cell(help_of[name])} |\n"
        for name, entry in schema["properties"].items()
        if name != "kind"
    )
    table = f"| field | | is | what it says |\n| --- | --- | --- | --- |\n{rows}"
    return f"## {of.kind}\n\n{schema['description']}\n\n{table}"


def _cell(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}"


def _shape(schema: Mapping[str, Any]) -> str:
    """What a field holds, in words."""
    if schema["type"] == "object":
        inner = schema["additionalProperties"]
        return "names with " + ("texts" if inner["type"] == "string" else f"{_shape(inner)} each")
    if schema["type"] == "array":
        return "a list of " + ("texts" if schema["items"]["type"] == "string" else "lists")
    return {"string": "a text", "boolean": "true or false"}[str(schema["type"])]


def _index() -> str:
    """Links to all sections."""
    links = " · ".join(f"[{kind}](#{kind})" for kind in kinds())
    return f"{links}\n"


def _section(kind: str) -> str:
    component = component_class(kind)
    text = " ".join((component.__doc__ or "").split())
    picture = f"![Pieces of {kind}]({_PICTURES}/{kind}.svg)"
    lines = [f"## {kind}", "", text, "", picture, ""]
    if component.drafted_for is not None:
        bounds = "[bounds](blocks.md#what-these-blocks-are-not-for)"
        lines += [
            f"Drafted for {component.drafted_for.name}; other bodies are refused ({bounds}).",
            "",
        ]
    return "\n".join([*lines, *_table(component), ""])


def _edit_section(kind: str) -> str:
    edit = edit_class(kind)
    text = " ".join((edit.__doc__ or "").split())
    when = "when all components are there" if edit.comes_last else "when its pieces are there"
    return "\n".join([f"## {kind}", "", text, "", f"Made {when}.", "", *_table(edit), ""])


def _table(described: type[Parametric]) -> Iterator[str]:
    yield "| parameter | default | allowed | what it is |"
    yield "| --- | --- | --- | --- |"
    for name, parameter in described.parameters().items():
        allowed = " ".join(_allowed(parameter))
        default = parameter_default(described, name) or (
            "must be given" if parameter.is_needed else "none"
        )
        yield f"| `{name}` | {default} | {allowed} | {parameter.help} |"


def _allowed(parameter: Parameter) -> Iterator[str]:
    if parameter.kind is ParameterKind.CHOICE:
        yield " or ".join(f"`{word}`" for word in parameter.choices)
        return
    if parameter.kind is ParameterKind.TEXT:
        yield "a name or words"
        return
    if parameter.kind is ParameterKind.ALONG:
        yield "a share, or a length; from the end if negative"
        return
    if parameter.kind is ParameterKind.COUNT:
        yield "whole number,"
    unit = LengthUnit.MILLIMETER
    yield format_parameter(parameter.low, parameter.kind, unit).removesuffix(" mm")
    yield "to"
    yield format_parameter(parameter.high, parameter.kind, unit)


def _json(schema: object) -> str:
    return json.dumps(schema, indent=2, ensure_ascii=False) + "\n"


if __name__ == "__main__":
    if len(sys.argv) != 2 or not Path(sys.argv[1]).is_dir():
        sys.exit(f"Name the folder to write to:\n{(__doc__ or '').splitlines()[2].strip()}")
    write_reference(Path(sys.argv[1]))
