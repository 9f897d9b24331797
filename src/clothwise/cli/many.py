"""Checks designs on many bodies, in several processes or on a cluster, and sums up the findings."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Any

from clothwise.checks.refusal import REFUSAL_CODES
from clothwise.components import DesignFile, read_make
from clothwise.errors import DocumentError, Fault, Misuse
from clothwise.jobs import Packed, Progress, run_jobs
from clothwise.packet.tables import finding_data
from clothwise.packet.whole_check import checked, designs_at, views_to_check
from clothwise.pattern import Body, Finding, Severity
from clothwise.pattern.testers import read_bodies

SURVEY = "survey"
"""Stands for the women of the survey that comes with Clothwise."""

_BODY_FILES = (".csv", ".xlsx", ".yaml", ".yml")
_RANK = {severity: rank for rank, severity in enumerate(Severity)}


@dataclass(frozen=True)
class Garment:
    """A design with the choices that are checked; `title` names both."""

    title: str
    design: DesignFile
    choices: dict[str, str]


@dataclass(frozen=True)
class Tried:
    """What was found about one garment on one body; `number` tells bodies of one name apart."""

    garment: str
    number: int
    body: str
    findings: tuple[Finding, ...]


@dataclass(frozen=True)
class CodeSummary:
    """All findings of one code and severity.

    `worst` is the one whose measured value lies furthest from the nearest value allowed, the
    first of them if they have no figures; it was found on `garment` and `body`.
    """

    severity: Severity
    code: str
    bodies: int
    worst: Finding
    garment: str
    body: str


def bodies_named(what: str) -> tuple[Body, ...]:
    """Everybody in a list or body file, in all such files of a folder, or the survey's women.

    Raises:
        DocumentError: with the faults of all files.
        Misuse: the folder holds no body.
    """
    if what == SURVEY:
        from clothwise.sizing.survey import women

        return women()
    path = Path(what)
    if not path.is_dir():
        return read_bodies(path)
    files = sorted(each for each in path.iterdir() if each.suffix.casefold() in _BODY_FILES)
    if not files:
        raise Misuse(
            "there is no body in this folder",
            where=what,
            what_to_do="Put a list, or one file for each person, there "
            f"({', '.join(_BODY_FILES)}).",
        )
    bodies: list[Body] = []
    faults: list[Fault] = []
    for file in files:
        try:
            bodies += read_bodies(file)
        except DocumentError as error:
            faults += error.faults
    if faults:
        raise DocumentError(faults)
    return tuple(bodies)


def garments_at(target: Path, view: str, choices: dict[str, str]) -> tuple[Garment, ...]:
    """What a target stands for: a make, or each view of a design or of each design of a catalog.

    Raises:
        DocumentError: with the faults of all files.
        Misuse: unknown view or choice.
    """
    if target.is_file() and target.name != "design.yaml":
        make = read_make(target)
        wanted = {**({} if view else make.choices), **choices}
        chosen = make.of.design.chosen(wanted, view=view)
        return (Garment(make.make.title or make.of.design.title, make.adjusted, chosen),)
    return tuple(
        Garment(
            f"{design.design.title}, view {name}" if name else design.design.title,
            design,
            design.design.chosen(choices, view=name),
        )
        for design in designs_at(target, view)
        for name in views_to_check(design, view, choices)
    )


def try_on(
    garments: Sequence[Garment],
    bodies: Sequence[Body],
    *,
    workers: int | None = None,
    cluster: str = "",
    progress: Callable[[Progress], None] | None = None,
) -> list[Tried]:
    """Draft and check every garment for every body, garment by garment.

    Raises:
        JobsError: workers cannot be had.
    """
    packed = Packed.of(tuple(garments))
    jobs = [(number, body) for number in range(len(garments)) for body in bodies]
    found = run_jobs(
        partial(_tried, packed),
        jobs,
        workers=workers,
        cluster=cluster,
        progress=progress,
        name=lambda job: f"{garments[job[0]].title}, {job[1].name}",
    )
    return [
        Tried(garments[number].title, place % len(bodies), body.name, findings)
        for place, ((number, body), findings) in enumerate(zip(jobs, found, strict=True))
    ]


def _tried(garments: Packed[tuple[Garment, ...]], job: tuple[int, Body]) -> tuple[Finding, ...]:
    number, body = job
    garment = garments.value[number]
    return checked(garment.design, garment.choices, "", body)


def summed_up(tried: Iterable[Tried]) -> tuple[CodeSummary, ...]:
    """One entry for each code and severity: errors first, then what most bodies have."""
    found: dict[tuple[Severity, str], list[tuple[Tried, Finding]]] = {}
    for each in tried:
        for finding in each.findings:
            found.setdefault((finding.severity, finding.code), []).append((each, finding))
    entries = []
    for (severity, code), pairs in found.items():
        where, worst = max(pairs, key=lambda pair: _excess(pair[1]))
        bodies = len({each.number for each, _ in pairs})
        entries.append(CodeSummary(severity, code, bodies, worst, where.garment, where.body))
    return tuple(sorted(entries, key=lambda entry: (_RANK[entry.severity], -entry.bodies)))


def _excess(finding: Finding) -> float:
    """How far the measured figure lies from the nearest allowed one; 0 without figures."""
    measured, allowed = _figures(finding.measured), _figures(finding.allowed)
    return min((abs(measured[0] - each) for each in allowed), default=0.0) if measured else 0.0


def _figures(text: str) -> list[float]:
    return [float(figure) for figure in re.findall(r"-?\d+(?:\.\d+)?", text)]


def refusals(tried: Iterable[Tried]) -> list[tuple[str, list[Finding]]]:
    """The bodies that were refused, and why; the same reason of several garments comes once."""
    refused: dict[int, tuple[str, list[Finding]]] = {}
    for each in tried:
        for finding in each.findings:
            if finding.code in REFUSAL_CODES:
                _, reasons = refused.setdefault(each.number, (each.body, []))
                if finding.message not in (reason.message for reason in reasons):
                    reasons.append(finding)
    return [refused[number] for number in sorted(refused)]


def bodies_with(tried: Iterable[Tried], severity: Severity) -> int:
    """On how many bodies anything of this severity was found."""
    return len(
        {
            each.number
            for each in tried
            if any(finding.severity is severity for finding in each.findings)
        }
    )


def as_data(tried: Sequence[Tried], bodies: int) -> dict[str, Any]:
    """Everything as JSON values."""
    return {
        "garments": list(dict.fromkeys(each.garment for each in tried)),
        "bodies": bodies,
        "summary": [
            {
                "severity": entry.severity.value,
                "code": entry.code,
                "bodies": entry.bodies,
                "worst": {
                    "garment": entry.garment,
                    "body": entry.body,
                    **finding_data(entry.worst),
                },
            }
            for entry in summed_up(tried)
        ],
        "refused": [
            {"body": body, "measurements": _measurements(reasons), "why": _messages(reasons)}
            for body, reasons in refusals(tried)
        ],
        "findings": [
            {"garment": each.garment, "body": each.body, **finding_data(finding)}
            for each in tried
            for finding in each.findings
        ],
    }


def _measurements(reasons: Sequence[Finding]) -> list[str]:
    """The names of what was out of range; of what cannot be drafted, nothing is known."""
    named = (reason.measured for reason in reasons if reason.code == "BODY-RANGE")
    return list(dict.fromkeys(name for names in named for name in names.split(", ")))


def _messages(reasons: Sequence[Finding]) -> list[str]:
    return [reason.message for reason in reasons]


def require_bodies_only(size: str, workers: int | None, cluster: str, bodies: str) -> None:
    """Refuse options that contradict each other.

    Raises:
        Misuse: a size is asked for beside bodies, or workers without bodies.
    """
    if bodies and size:
        raise Misuse(
            "both a size and bodies are asked for",
            where="check",
            how_much=f"--size {size} --bodies {bodies}",
            what_to_do="Leave one of them out: each body is drafted from its own measurements.",
        )
    if not bodies and (workers is not None or cluster):
        raise Misuse(
            "workers are for many bodies, and none are named",
            where="check",
            how_much=f"--cluster {cluster}" if cluster else f"--workers {workers}",
            what_to_do="Add --bodies with a list of testers, or --bodies survey.",
        )


def summary_rows(tried: Sequence[Tried]) -> Iterator[tuple[str, ...]]:
    """The rows of the table that sums up."""
    for entry in summed_up(tried):
        worst = entry.worst
        figures = worst.measured + (f" (allowed: {worst.allowed})" if worst.allowed else "")
        place = "/".join(part for part in (worst.piece, worst.edge) if part)
        yield (
            entry.severity.value,
            entry.code,
            str(entry.bodies),
            figures,
            entry.body,
            ", ".join(part for part in (entry.garment, place) if part),
        )
