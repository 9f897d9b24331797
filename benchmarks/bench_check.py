"""Group `check`: real bodies, a whole size range, and faults planted to be found."""

from __future__ import annotations

import sys
import time
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache, partial
from pathlib import Path

import people
from clothwise.checks import check
from clothwise.components import read_design
from clothwise.components.steps import forget_steps
from clothwise.jobs import run_jobs
from clothwise.pattern import Body, Severity
from clothwise.sizing.survey import women
from figures import Better, Row, figure, median_ms, rows

TESTS = Path(__file__).resolve().parent.parent / "tests"
sys.path.append(str(TESTS))

from checks import planted, random_faults  # noqa: E402 - lies among the tests

GROUP = "check"

MOST_REFUSED_PERCENT = 1.0
TRUE_MM = 0.5
ON_CLUSTER = 200  # women; all of them would take as long again as above
SIZES = 12
FAULTS = 1000
SEED = 2026


# Bodies


@rows
def survey() -> Iterator[Row]:
    """Every woman in every view of every example. No example is for men, so no man is drafted."""
    walked = [people.all_women(example) for example in people.examples()]
    outcomes = [each for one in walked for each in one.outcomes]
    total = len(women()) + people.without_body()
    refused = [each for each in outcomes if each.refused]
    wrong = [each for each in outcomes if each.errors]
    warned = [each for each in outcomes if each.warnings]
    note = f"{total} women, {len(outcomes)} drafts of {', '.join(people.examples())}"
    yield Row(
        "survey_largest_gap_of_a_seam",
        max(each.gap_mm for each in outcomes),
        "mm",
        TRUE_MM,
        note=note,
    )
    yield Row(
        "survey_refused",
        100 * (people.bodies(refused) + people.without_body()) / total,
        "%",
        MOST_REFUSED_PERCENT,
        note=people.counted(each.refused for each in refused),
    )
    yield Row(
        "survey_with_errors",
        people.bodies(wrong),
        "women",
        0,
        note=people.counted(code for each in wrong for code in set(each.errors)),
    )
    yield Row(
        "survey_with_warnings",
        people.bodies(warned),
        "women",
        note=people.counted(code for each in warned for code in set(each.warnings)),
    )
    took_s = sum(each.took_s for each in walked)
    yield Row("survey_two_processes", took_s, "s", note=f"{len(outcomes)} drafts checked")


@rows
def cluster() -> Iterator[Row]:
    """The same on a Dask cluster of two processes on this machine: equal to the last digit."""
    from distributed import LocalCluster

    some = women()[:: len(women()) // ON_CLUSTER]
    names = {body.name for body in some}
    with LocalCluster(
        n_workers=people.WORKERS,
        threads_per_worker=1,
        host="127.0.0.1",
        dashboard_address="127.0.0.1:0",
    ) as there:
        done = [
            people.walked(example, some, cluster=there.scheduler_address)
            for example in people.examples()
        ]
    here = [
        [each for each in people.all_women(example).outcomes if each.body in names]
        for example in people.examples()
    ]
    same = all(list(one.outcomes) == other for one, other in zip(done, here, strict=True))
    drafts = sum(len(one.outcomes) for one in done)
    note = f"{len(some)} women, {drafts} drafts"
    yield Row("cluster_gives_the_same", float(same), "", 1, Better.HIGHER, note)
    yield Row("cluster_two_processes", sum(one.took_s for one in done), "s", note=note)


# Sizes


@figure("twelve_sizes_drafted_and_checked", unit="s", bar=1)
def twelve_sizes() -> float:
    """View A of the dress in twelve sizes, one after the other in one process."""
    sizes = _twelve_sizes()
    return median_ms(lambda: [_draft_and_check(body) for body in sizes], runs=5) / 1000


@cache
def _twelve_sizes() -> tuple[Body, ...]:
    """Twelve even steps from the smallest to the largest size of its chart."""
    chart = tuple(read_design(people.EXAMPLES / "kiln-dress").chart)
    first, last = chart[0].given, chart[-1].given
    return tuple(
        Body.complete(
            {
                name: value + (last[name] - value) * step / (SIZES - 1)
                for name, value in first.items()
            },
            name=f"size {step + 1}",
        )
        for step in range(SIZES)
    )


def _draft_and_check(body: Body) -> None:
    forget_steps()
    design = read_design(people.EXAMPLES / "kiln-dress")
    check(design.draft(view="A", body=body), body)


# Faults


@figure("planted_faults_reported", unit="%", bar=100, better=Better.HIGHER)
def planted_faults() -> float:
    """Those listed in `tests/checks/planted.py`, each with place, figures and severity."""
    reported = [bool(planted.hits(fault)) for fault in planted.PLANTED]
    return 100 * sum(reported) / len(reported)


@figure("planted_faults", unit="faults")
def number_planted() -> float:
    return len(planted.PLANTED)


@dataclass(frozen=True)
class _Tried:
    """One random fault: its kind, and whether it is reported at its place."""

    kind: str
    reported: bool


def _tried(seed: int, number: int) -> _Tried:
    fault = random_faults.random_fault(seed, number)
    return _Tried(fault.kind, bool(random_faults.reports(fault)))


@rows
def random_faults_reported() -> Iterator[Row]:
    """Faults of every kind in turn, in random sizes and views; what is one, is said there."""
    started = time.perf_counter()
    tried = run_jobs(partial(_tried, SEED), range(FAULTS), workers=people.WORKERS)
    took_s = time.perf_counter() - started
    missed = Counter(each.kind for each in tried if not each.reported)
    asked = Counter(each.kind for each in tried)
    note = ", ".join(f"{kind}: {count} of {asked[kind]}" for kind, count in missed.most_common())
    share = 100 * sum(each.reported for each in tried) / len(tried)
    yield Row(
        "random_faults_reported",
        share,
        "%",
        98,
        Better.HIGHER,
        f"{FAULTS} faults of {len(asked)} kinds, seed {SEED}; missed: {note or 'none'}",
    )
    yield Row("random_faults", took_s, "s", note=f"{people.WORKERS} processes")


@rows
def false_alarms() -> Iterator[Row]:
    """Errors and warnings about the examples as they are, in all sizes and views."""
    told = [
        finding.code
        for place in random_faults.sound_places()
        for sound in [random_faults.sound(*place)]
        for finding in check(sound.pattern, sound.body)
        if finding.severity is not Severity.NOTE
    ]
    patterns = len(random_faults.sound_places())
    note = f"{patterns} patterns{': ' if told else ''}{people.counted(told)}"
    yield Row("false_alarms", len(told), "findings", 0, note=note)
