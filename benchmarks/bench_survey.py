"""Group `first`: every woman of the open survey, drafted in both views of the dress and checked."""

from __future__ import annotations

import time
from collections import Counter
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from functools import cache
from pathlib import Path

from clothwise.checks import check, refusal
from clothwise.components import DesignFile, read_design
from clothwise.errors import ClothwiseError
from clothwise.pattern import Body, Severity
from clothwise.sizing.survey import not_completed, women
from figures import Row, rows

GROUP = "first"

ROOT = Path(__file__).resolve().parent.parent
VIEWS = ("A", "B")
MOST_REFUSED_PERCENT = 1.0
WORKERS = 2


@rows
def survey() -> Iterator[Row]:
    """A woman is refused, or has errors, if she is or has in any view."""
    people, left_out = women(), [f"refused {refusal(each.error).code}" for each in not_completed()]
    started = time.perf_counter()
    with ProcessPoolExecutor(WORKERS) as pool:
        told = [*pool.map(_codes, people, chunksize=20), *({code} for code in left_out)]
    took = time.perf_counter() - started
    refused = [codes for codes in told if any(code.startswith("refused") for code in codes)]
    wrong = [codes for codes in told if any(code.startswith("error") for code in codes)]
    name = f"survey_all_{len(told)}_women"
    share = 100 * len(refused) / len(told)
    yield Row(f"{name}_refused", share, "%", MOST_REFUSED_PERCENT, note=_listed(refused))
    yield Row(f"{name}_with_errors", len(wrong), "women", 0, note=_listed(wrong))
    yield Row(f"{name}_two_views", took, "s", note=f"{WORKERS} processes")


def _listed(told: list[set[str]]) -> str:
    """How many women each code was told of."""
    counted = Counter(code for codes in told for code in codes)
    return ", ".join(f"{code}: {number}" for code, number in counted.most_common())


@cache
def _dress() -> DesignFile:
    return read_design(ROOT / "examples" / "kiln-dress")


def _codes(body: Body) -> set[str]:
    """Return what stands in this woman's way, over all views; empty if nothing does."""
    return {code for view in VIEWS for code in _codes_of_view(body, view)}


def _codes_of_view(body: Body, view: str) -> set[str]:
    try:
        pattern = _dress().draft(view=view, body=body)
    except ClothwiseError as error:
        return {f"refused {refusal(error, body).code}"}
    return {
        f"error {finding.code}"
        for finding in check(pattern, body)
        if finding.severity is Severity.ERROR
    }
