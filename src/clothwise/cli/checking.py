"""Checks what a target stands for: one make, or a whole design in all its sizes and views."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from clothwise.checks import check, refusal
from clothwise.cli.targets import design_at, require
from clothwise.components import DesignFile, read_make
from clothwise.errors import (
    ComponentError,
    DocumentError,
    Fault,
    GeometryError,
    MeasurementError,
)
from clothwise.pattern import Body, Finding


def check_target(
    target: Path, view: str, size: str, choices: dict[str, str], tell: Callable[[str], None]
) -> tuple[list[str], list[Finding]]:
    """What was checked, in words, and all findings.

    Raises:
        DocumentError: the files have faults.
        Misuse: unknown view, size or choice.
    """
    require(target)
    if target.is_file() and target.name != "design.yaml":
        make = read_make(target)
        found = _checked(make.of, make.choices, "", make.body)
        return [f"{make.make.title or make.of.design.title}, {make.body.name}"], found
    design = design_at(target)
    views = (
        [view]
        if view or choices or not design.design.views
        else [each.name for each in design.design.views]
    )
    sizes = [size] if size else list(design.sizes)
    found = []
    for name in views:
        for each in sizes:
            tell(f"view {name or '(own choices)'}, size {each}")
            found += _checked(design, choices, name, design.body(each))
    words = f"{len(sizes)} size{'s' if len(sizes) > 1 else ''}"
    return [
        f"{design.design.title}, view {name}" if name else design.design.title for name in views
    ] + [words], found


def _checked(design: DesignFile, choices: dict[str, str], view: str, body: Body) -> list[Finding]:
    try:
        pattern = design.draft(choices, view=view, body=body)
    except (MeasurementError, GeometryError, ComponentError) as error:
        return [refusal(error, body)]
    except DocumentError as error:
        if len(design.sizes) == 1:
            raise
        return [refusal(_told(fault), body) for fault in error.faults]
    return list(check(pattern, body))


def _told(fault: Fault) -> ComponentError:
    """One fault of a file with its place, as the reason why there is no pattern."""
    line = f"line {fault.line}" if fault.line is not None else ""
    place = ", ".join(part for part in (fault.file, line, fault.path) if part)
    return ComponentError(fault.what, where=place, what_to_do=fault.remedy)
