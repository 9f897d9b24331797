"""Writes the reference pages that follow from the code: components, and the JSON Schemas.

    python -m clothwise.components.reference docs/reference

A test compares the pages with what this would write.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator
from pathlib import Path

from clothwise.components.evaluation import format_parameter
from clothwise.components.parameter import Parameter, ParameterKind
from clothwise.components.registry import component_class, kinds
from clothwise.components.schemas import design_schema, make_schema, parameter_default
from clothwise.pattern.saving import write_atomically
from clothwise.units import LengthUnit

__all__ = ["reference_pages", "write_reference"]

_OPENING = """\
# Components

The garment parts a design can be made of, with what may be said about each in `design.yaml`
([how](design-document.md)). A parameter that is left out has its default; lengths need a unit, and
any value may be a formula. Formulas call a parameter by its component's name in the design and
its own: the `length` of a component named `skirt` is `skirt_length`.

This page is written by `python -m clothwise.components.reference docs/reference`.
"""


def reference_pages() -> dict[str, str]:
    """Return the pages by file name."""
    return {
        "components.md": "\n".join([_OPENING, *(_section(kind) for kind in kinds())]),
        "design.schema.json": _json(design_schema()),
        "make.schema.json": _json(make_schema()),
    }


def write_reference(folder: Path) -> None:
    """Write the pages into a folder that exists.

    Raises:
        OutputError: a page cannot be written.
    """
    for name, content in reference_pages().items():
        write_atomically(folder / name, content)


def _section(kind: str) -> str:
    component = component_class(kind)
    text = " ".join((component.__doc__ or "").split())
    lines = [f"## {kind}", "", text, ""]
    if component.drafted_for is not None:
        bounds = "[bounds](blocks.md#what-these-blocks-are-not-for)"
        lines += [
            f"Drafted for {component.drafted_for.name}; other bodies are refused ({bounds}).",
            "",
        ]
    lines += ["| parameter | default | allowed | what it is |", "| --- | --- | --- | --- |"]
    for name, parameter in component.parameters().items():
        allowed = " ".join(_allowed(parameter))
        default = parameter_default(component, name)
        lines.append(f"| `{name}` | {default} | {allowed} | {parameter.help} |")
    return "\n".join([*lines, ""])


def _allowed(parameter: Parameter) -> Iterator[str]:
    if parameter.kind is ParameterKind.CHOICE:
        yield " or ".join(f"`{word}`" for word in parameter.choices)
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
