"""Checks what a target stands for: one make, or a whole design in all its sizes and views."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path
from typing import TypeAlias

from clothwise.checks import Derived, check, check_cloths, refusal
from clothwise.checks.grouping import FindingGroup, grouped
from clothwise.components import DesignFile, MakeFile, read_make
from clothwise.components.design_file import DESIGN_FILE
from clothwise.cutting.list_check import check_list_of_make
from clothwise.cutting.width_check import check_fabric_widths
from clothwise.errors import (
    ComponentError,
    DocumentError,
    Fault,
    GeometryError,
    MeasurementError,
)
from clothwise.packet.opening import design_at, require
from clothwise.pattern import Body, Finding, Pattern
from clothwise.sizing.chart_checks import chart_faults
from clothwise.sizing.grade_checks import check_grades
from clothwise.units import LengthUnit

__all__ = [
    "Checked",
    "CheckedDraft",
    "Tell",
    "check_designs",
    "check_make",
    "check_target",
    "checked",
    "designs_at",
    "views_to_check",
]

Tell: TypeAlias = Callable[[int, int, str], None]
"""Is told how many of how many are done, and what comes next."""


@dataclass(frozen=True)
class CheckedDraft:
    """A garment in one size and what was found; `derived` is None if it could not be drafted."""

    garment: str
    size: str
    unit: LengthUnit
    findings: tuple[Finding, ...]
    derived: Derived | None


@dataclass(frozen=True)
class Checked:
    """Everything that was checked.

    Attributes:
        words: what it was.
        of_range: what was found about the size charts, and from size to size.
        drafts: each view in each size.
    """

    words: tuple[str, ...]
    of_range: tuple[Finding, ...]
    drafts: tuple[CheckedDraft, ...]

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """All of them."""
        of_drafts = (finding for draft in self.drafts for finding in draft.findings)
        return (*self.of_range, *of_drafts)

    @cached_property
    def groups(self) -> tuple[FindingGroup, ...]:
        """The findings numbered; draft 0 of a group stands for the whole range."""
        return grouped([self.of_range, *(draft.findings for draft in self.drafts)])


def check_target(
    target: Path, view: str, size: str, choices: dict[str, str], tell: Tell
) -> Checked:
    """Draft and check what a target stands for.

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
        return check_make(read_make(target))
    return check_designs(designs_at(target, view), view, size, choices, tell)


def check_make(make: MakeFile) -> Checked:
    """Draft and check a make, with its cloths, its cutting list and the widths of its fabrics."""
    title = make.make.title or make.of.design.title
    draft = _checked(make.of, make.choices, "", make.body, title)
    if draft.derived is not None:
        of_make = (
            *check_cloths(draft.derived.pattern, make.of.design, make.make),
            *check_list_of_make(draft.derived.pattern, make.make),
            *check_fabric_widths(
                draft.derived.pattern,
                make.make,
                seam_allowance_mm=make.of.design.seam_allowance_mm,
            ),
        )
        draft = replace(draft, findings=(*draft.findings, *of_make))
    return Checked((f"{title}, {make.body.name}",), (), (draft,))


def check_designs(
    designs: Sequence[DesignFile],
    view: str,
    size: str,
    choices: dict[str, str],
    tell: Tell,
    each_draft: Callable[[CheckedDraft], None] = lambda _: None,
) -> Checked:
    """Draft and check designs in all sizes and views, or in those that are asked for.

    Args:
        designs: at least one.
        view, size, choices, tell: as for `check_target`; what `tell` raises ends the work.
        each_draft: is handed each draft as soon as it is checked.

    Raises:
        DocumentError: a parameter is out of its range, and there is only one size.
        Misuse: unknown view, size or choice.
    """
    asked = [
        (design, name, each)
        for design in designs
        for name in views_to_check(design, view, choices)
        for each in ([size] if size else design.sizes)
    ]
    of_range: list[Finding] = []
    for design in designs:
        of_range += chart_faults(design.chart, size)
    drafts: list[CheckedDraft] = []
    by_garment: dict[tuple[Path, str], tuple[DesignFile, list[Pattern]]] = {}
    for number, (design, name, each) in enumerate(asked):
        title = _garment(design, name)
        tell(number, len(asked), f"{title}, size {each}")
        drafts.append(_checked(design, choices, name, design.body(each), title))
        each_draft(drafts[-1])
        _, patterns = by_garment.setdefault((design.path, name), (design, []))
        if (derived := drafts[-1].derived) is not None:
            patterns.append(derived.pattern)
    for design, patterns in by_garment.values():
        of_range += check_grades(design.chart, patterns)
    count = len({each for _, _, each in asked})
    garments = dict.fromkeys(_garment(design, name) for design, name, _ in asked)
    words = (*garments, f"{count} size{'s' if count > 1 else ''}")
    return Checked(words, tuple(of_range), tuple(drafts))


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
    design: DesignFile, choices: dict[str, str], view: str, body: Body, title: str
) -> CheckedDraft:
    """A checked draft; with one size, a parameter out of its range is a fault of the files."""
    pattern, findings = _drafted(design, choices, view, body, is_only=len(design.sizes) == 1)
    derived = Derived(pattern, body) if pattern else None
    found = check(pattern, body, derived=derived) if pattern else ()
    return CheckedDraft(title, body.name, design.design.unit, (*findings, *found), derived)


def checked(
    design: DesignFile, choices: dict[str, str], view: str, body: Body
) -> tuple[Finding, ...]:
    """All findings about a design drafted for a body, or why there is no pattern for it."""
    pattern, findings = _drafted(design, choices, view, body, is_only=False)
    return (*findings, *(check(pattern, body) if pattern else ()))


def _drafted(
    design: DesignFile, choices: dict[str, str], view: str, body: Body, *, is_only: bool
) -> tuple[Pattern | None, tuple[Finding, ...]]:
    """The pattern, or why there is none.

    Raises:
        DocumentError: a parameter is out of its range, and this is the only body there is.
    """
    try:
        return design.draft(choices, view=view, body=body), ()
    except (MeasurementError, GeometryError, ComponentError) as error:
        return None, (refusal(error, body),)
    except DocumentError as error:
        if is_only:
            raise
        return None, tuple(refusal(_told(fault), body) for fault in error.faults)


def _told(fault: Fault) -> ComponentError:
    """One fault of a file with its place, as the reason why there is no pattern."""
    line = f"line {fault.line}" if fault.line is not None else ""
    place = ", ".join(part for part in (fault.file, line, fault.path) if part)
    return ComponentError(fault.what, where=place, what_to_do=fault.remedy)
