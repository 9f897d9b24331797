"""The women of the survey in the example designs: drafted, checked, every seam measured.

Shared by the groups `first` and `check`; in one run each example is worked through once.
"""

from __future__ import annotations

import hashlib
import time
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cache, partial
from pathlib import Path

from clothwise.checks import check, refusal
from clothwise.components import DesignFile, read_design
from clothwise.errors import ClothwiseError
from clothwise.jobs import Packed, run_jobs
from clothwise.pattern import Body, Pattern, Severity
from clothwise.sizing import survey

EXAMPLES = Path(__file__).resolve().parent.parent / "examples"
WORKERS = 2


@dataclass(frozen=True)
class Outcome:
    """What became of one body in one view.

    `gap_mm` is the largest difference between a layer of a seam and what it lies on and its ease;
    `digest` stands for the pattern to the last digit, and for all that was found.
    """

    body: str
    refused: str = ""
    errors: tuple[str, ...] = ()
    warnings: tuple[str, ...] = ()
    gap_mm: float = 0.0
    digest: str = ""


@dataclass(frozen=True)
class Walked:
    """All outcomes of some bodies, view by view, and how long they took together."""

    outcomes: tuple[Outcome, ...]
    took_s: float


def examples() -> tuple[str, ...]:
    """Every example that has a design."""
    return tuple(sorted(path.parent.name for path in EXAMPLES.glob("*/design.yaml")))


@cache
def all_women(example: str) -> Walked:
    """Every woman of the survey in every view of an example, on `WORKERS` processes."""
    return walked(example, survey.women(), workers=WORKERS)


def without_body() -> int:
    """Rows of the survey that contradict themselves: refused before anything is drafted."""
    return len(survey.not_completed())


def walked(example: str, bodies: Sequence[Body], *, workers: int = 1, cluster: str = "") -> Walked:
    design = read_design(EXAMPLES / example)
    views = [view.name for view in design.design.views] or [""]
    jobs = [(view, body) for view in views for body in bodies]
    started = time.perf_counter()
    outcomes = run_jobs(
        partial(_outcome, Packed.of(design)), jobs, workers=workers, cluster=cluster
    )
    return Walked(tuple(outcomes), time.perf_counter() - started)


def _outcome(design: Packed[DesignFile], job: tuple[str, Body]) -> Outcome:
    view, body = job
    try:
        pattern = design.value.draft(view=view, body=body)
    except ClothwiseError as error:
        found = refusal(error, body)
        return Outcome(body.name, refused=found.code, digest=_digest(found))
    findings = check(pattern, body)
    return Outcome(
        body.name,
        errors=tuple(each.code for each in findings if each.severity is Severity.ERROR),
        warnings=tuple(each.code for each in findings if each.severity is Severity.WARNING),
        gap_mm=largest_gap_mm(pattern),
        digest=_digest((pattern, findings)),
    )


def _digest(value: object) -> str:
    return hashlib.sha256(repr(value).encode()).hexdigest()


def largest_gap_mm(pattern: Pattern) -> float:
    """How far a layer of any seam is from the length it must have."""
    gaps = []
    for seam in pattern.seams.values():
        base_mm = pattern.run_length(seam.layers[0].run)
        for layer in seam.layers[1:]:
            lain_on_mm = layer.span[1] - layer.span[0] if layer.span else base_mm
            gaps.append(abs(pattern.run_length(layer.run) - lain_on_mm - layer.ease_mm))
    return max(gaps, default=0.0)


def bodies(outcomes: Iterable[Outcome]) -> int:
    """How many different bodies these are."""
    return len({each.body for each in outcomes})


def counted(codes: Iterable[str]) -> str:
    """How often each code occurs, the most frequent first."""
    return ", ".join(f"{code}: {number}" for code, number in Counter(codes).most_common())
