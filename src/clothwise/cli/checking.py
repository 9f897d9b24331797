"""Checks what a target stands for: one make, or a whole design in all its sizes and views."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TypeAlias

from clothwise.checks import check, refusal
from clothwise.cli.targets import design_at, require
from clothwise.components import DesignFile, read_make
from clothwise.components.design_file import DESIGN_FILE
from clothwise.errors import (
    ComponentError,
    DocumentError,
    Fault,
    GeometryError,
    MeasurementError,
)
from clothwise.pattern import Body, Finding, Pattern
from clothwise.sizing.chart_checks import check_chart
from clothwise.sizing.grade_checks import check_grades

Tell: TypeAlias = Callable[[int, int, str], None]
"""Is told how many of how many are done, and what comes next."""


def check_target(
    target: Path, view: str, size: str, choices: dict[str, str], tell: Tell
) -> tuple[list[str], list[Finding]]:
    """What was checked, in words, and all findings.

    Args:
        target: a make, the folder of a design, or a folder with several of them (a catalog).
        view: only this view; all if empty.
        size: only this size; all if empty.
        choices: own choices, instead of those of a view.
        tell: is told how many of how many drafts are done, and which comes next.

    Raises:
        DocumentError: the files have faults.
        Misuse: unknown view, size or choice.
    """
    require(target)
    if target.is_file() and target.name != "design.yaml":
        make = read_make(target)
        found = _checked(make.of, make.choices, "", make.body)
        return [f"{make.make.title or make.of.design.title}, {make.body.name}"], found
    asked = [
        (design, name, each)
        for design in designs_at(target, view)
        for name in views_to_check(design, view, choices)
        for each in ([size] if size else design.sizes)
    ]
    found = [
        finding
        for design in {design.path: design for design, _, _ in asked}.values()
        for finding in chart_findings(design, size)
    ]
    drafts: dict[tuple[Path, str], tuple[DesignFile, list[Pattern]]] = {}
    for number, (design, name, each) in enumerate(asked):
        tell(number, len(asked), f"{_garment(design, name)}, size {each}")
        _, kept = drafts.setdefault((design.path, name), (design, []))
        found += _checked(design, choices, name, design.body(each), kept)
    for design, kept in drafts.values():
        found += check_grades(design.chart, kept)
    count = len({each for _, _, each in asked})
    words = f"{count} size{'s' if count > 1 else ''}"
    return [*dict.fromkeys(_garment(design, name) for design, name, _ in asked), words], found


def chart_findings(design: DesignFile, size: str = "") -> list[Finding]:
    """What is to be said of the size chart of a design, or of one of its sizes.

    What is estimated in every size is left to `clothwise measure`, which marks it.
    """
    return [
        finding
        for finding in check_chart(design.chart)
        if finding.code != "CHART-ESTIMATED" and size in ("", finding.size)
    ]


def designs_at(target: Path, view: str) -> tuple[DesignFile, ...]:
    """The design of a folder, or of each folder in a catalog, by name.

    Of a catalog only those that have the view, if one is named and any of them has it.

    Raises:
        DocumentError: with the faults of all of them.
    """
    inside = sorted(target.glob(f"*/{DESIGN_FILE}")) if target.is_dir() else []
    if not inside or (target / DESIGN_FILE).exists():
        return (design_at(target),)
    designs: list[DesignFile] = []
    faults: list[Fault] = []
    for file in inside:
        try:
            designs.append(design_at(file))
        except DocumentError as error:
            faults += error.faults
    if faults:
        raise DocumentError(faults)
    with_view = [each for each in designs if view in (known.name for known in each.design.views)]
    return tuple(with_view or designs)


def views_to_check(design: DesignFile, view: str, choices: dict[str, str]) -> list[str]:
    """The view that is asked for, else all of the design; an empty name stands for no view."""
    if view or choices or not design.design.views:
        return [view]
    return [each.name for each in design.design.views]


def _garment(design: DesignFile, view: str) -> str:
    return f"{design.design.title}, view {view}" if view else design.design.title


def _checked(
    design: DesignFile,
    choices: dict[str, str],
    view: str,
    body: Body,
    kept: list[Pattern] | None = None,
) -> list[Finding]:
    """As `checked`, but with one size, a parameter out of its range is a fault of the files."""
    return checked(design, choices, view, body, is_only=len(design.sizes) == 1, kept=kept)


def checked(
    design: DesignFile,
    choices: dict[str, str],
    view: str,
    body: Body,
    *,
    is_only: bool = False,
    kept: list[Pattern] | None = None,
) -> list[Finding]:
    """All findings about a design drafted for a body, or why there is no pattern for it.

    Where `kept` is given, the pattern is added to it.

    Raises:
        DocumentError: a parameter is out of its range, and this is the only body there is.
    """
    try:
        pattern = design.draft(choices, view=view, body=body)
    except (MeasurementError, GeometryError, ComponentError) as error:
        return [refusal(error, body)]
    except DocumentError as error:
        if is_only:
            raise
        return [refusal(_told(fault), body) for fault in error.faults]
    if kept is not None:
        kept.append(pattern)
    return list(check(pattern, body))


def _told(fault: Fault) -> ComponentError:
    """One fault of a file with its place, as the reason why there is no pattern."""
    line = f"line {fault.line}" if fault.line is not None else ""
    place = ", ".join(part for part in (fault.file, line, fault.path) if part)
    return ComponentError(fault.what, where=place, what_to_do=fault.remedy)
