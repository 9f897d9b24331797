"""Group `wardrobe`: garments put together at random; every pair of components on real bodies."""

from __future__ import annotations

import sys
import time
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path

import people
from clothwise.checks import check
from clothwise.components import component_class, draft, kinds
from clothwise.components.garments import garment_with
from clothwise.components.parameter import ParameterKind
from clothwise.errors import ClothwiseError
from clothwise.jobs import run_jobs
from clothwise.pattern import Severity
from figures import Better, Row, rows

sys.path.append(str(Path(__file__).resolve().parent.parent / "tests"))

from garment_trials import Ended, Outcome, tried
from random_garments import bodies, plain_garment, random_garment

GROUP = "wardrobe"

SEED = 2026
GARMENTS = 2000
DRAWN_FOR_PAIRS = 6000
"""So many plain garments are drawn; a pair of components that none of them has is not sensible."""

WOMEN_AT_ENDS = 20
"""Every so manieth woman of those in the tests, for parameters at their ends."""

FITS = ("FIT-BUST", "FIT-WAIST", "FIT-HIP", "FIT-UPPER-ARM", "SLEEVE-HEM", "NECK-HEAD")
"""What says of a designer's value that it does not fit the body: an end of a range may not."""

TRUE_MM = 0.5
SHOWN = 12


# Random garments


def _tried(seed: int, number: int) -> Outcome:
    return tried(random_garment(seed, number))


@rows
def garments() -> Iterator[Row]:
    """Drafted, checked, worked and laid out; a refusal in words is no failure, and counted."""
    started = time.perf_counter()
    outcomes = run_jobs(partial(_tried, SEED), range(GARMENTS), workers=people.WORKERS)
    took_s = time.perf_counter() - started
    count = Counter(outcome.ended for outcome in outcomes)
    failed = [outcome for outcome in outcomes if outcome.ended.is_failure]
    note = "; ".join(
        f"{outcome.number}: {outcome.ended.value}: {outcome.detail[:110]}"
        for outcome in failed[:SHOWN]
    )
    yield Row("garments_failed", len(failed), "garments", 0, note=note or f"of {GARMENTS}")
    for ended in Ended:
        if ended.is_failure:
            name = f"garments_{ended.name.lower()}"
            yield Row(name, count[ended], "garments", 0, note=ended.value)
    drafted = GARMENTS - count[Ended.REFUSED]
    share = 100 * count[Ended.SOUND] / drafted
    note = f"of {drafted} that were drafted; seed {SEED}"
    yield Row("garments_sound", share, "%", 100, Better.HIGHER, note)
    share = 100 * count[Ended.REFUSED] / GARMENTS
    told = Counter(_told(o.detail) for o in outcomes if o.ended is Ended.REFUSED)
    note = "; ".join(f"{number} x {words}" for words, number in told.most_common(SHOWN))
    yield Row("garments_refused_in_words", share, "%", note=note)
    yield Row("garments_wider_than_cloth", count[Ended.TOO_WIDE], "garments", note="1.5 m wide")
    lost = sum(len(outcome.lost) for outcome in outcomes)
    edits = sum(kind not in kinds() for outcome in outcomes for kind in outcome.kinds)
    yield Row("edits_not_made_and_told", 100 * lost / edits, "%", note=f"of {edits} edits")
    warned = Counter(code for outcome in outcomes for code in set(outcome.warnings))
    note = ", ".join(f"{code}: {number}" for code, number in warned.most_common())
    share = 100 * sum(bool(outcome.warnings) for outcome in outcomes) / drafted
    yield Row("garments_with_warnings", share, "%", note=note)
    used = Counter(kind for outcome in outcomes for kind in set(outcome.kinds))
    rare = sorted(kinds(), key=lambda kind: used[kind])[:SHOWN]
    note = ", ".join(f"{kind}: {used[kind]}" for kind in rare)
    yield Row(
        "garments_with_the_rarest_component", min(used[kind] for kind in kinds()), "", note=note
    )
    yield Row("garments", took_s, "s", note=f"{people.WORKERS} processes")


def _told(message: str) -> str:
    """What was refused, without whose size and where, nor how much."""
    what = message.split(": ", 1)[-1] if message.startswith("size") else message
    return what.split(" (")[0][:70]


# Pairs


@dataclass(frozen=True)
class _Walked:
    """What became of a plain garment on all bodies."""

    number: int
    drafts: int
    refused: int
    gap_mm: float
    errors: tuple[str, ...]


def _pairs(number: int) -> frozenset[tuple[str, str]]:
    names = sorted(set(plain_garment(SEED, number).kinds))
    return frozenset((one, other) for one in names for other in names if one < other)


def _covering(of: dict[int, frozenset[tuple[str, str]]]) -> tuple[list[int], set[tuple[str, str]]]:
    """Garments that have all pairs between them, taken greedily, and the pairs that none has.

    One that is refused in the base size does not count.
    """
    left, chosen, of = set().union(*of.values()), [], dict(of)
    while left and of:
        best = max(of, key=lambda number: len(of[number] & left))
        if not of[best] & left:
            break
        if _is_drafted(best):
            chosen.append(best)
            left -= of[best]
        del of[best]
    return chosen, left


def _is_drafted(number: int) -> bool:
    garment = plain_garment(SEED, number)
    try:
        draft(garment.design, garment.body)
    except ClothwiseError:
        return False
    return True


def _walked(number: int) -> _Walked:
    garment = plain_garment(SEED, number)
    refused, gap_mm, errors, drafts = 0, 0.0, [], 0
    for body in (body for group in bodies() for body in group):
        drafts += 1
        try:
            pattern = draft(garment.design, body)
        except ClothwiseError:
            refused += 1
            continue
        gap_mm = max(gap_mm, people.largest_gap_mm(pattern))
        errors += [
            f"{body.name}: {finding.code}"
            for finding in check(pattern, body)
            if finding.severity is Severity.ERROR
        ]
    return _Walked(number, drafts, refused, gap_mm, tuple(errors))


@rows
def pairs() -> Iterator[Row]:
    """Every pair of components that a garment can have, with defaults, on sizes and women."""
    started = time.perf_counter()
    of = {number: _pairs(number) for number in range(DRAWN_FOR_PAIRS)}
    chosen, left = _covering(of)
    walked = run_jobs(_walked, chosen, workers=people.WORKERS)
    took_s = time.perf_counter() - started
    drafts = sum(each.drafts for each in walked)
    refused = sum(each.refused for each in walked)
    together = set().union(*(of[number] for number in chosen))
    missing = set(kinds()) - {kind for pair in together for kind in pair}
    note = f"in {len(chosen)} garments; in none: {', '.join(sorted(missing)) or 'nothing'}"
    yield Row("pairs_of_components", len(together), "pairs", note=note)
    note = ", ".join(" + ".join(pair) for pair in sorted(left)[:SHOWN])
    yield Row("pairs_only_in_refused_garments", len(left), "pairs", note=note)
    note = f"{drafts} drafts of {sum(map(len, bodies()))} bodies"
    yield Row(
        "pairs_largest_gap_of_a_seam", max(e.gap_mm for e in walked), "mm", TRUE_MM, note=note
    )
    wrong = [(each.number, error) for each in walked for error in each.errors]
    codes = Counter(error.split(": ")[-1] for _, error in wrong)
    told = "; ".join(f"garment {number}, {error}" for number, error in wrong[:SHOWN])
    note = f"{', '.join(f'{code}: {count}' for code, count in codes.most_common())} {told}".strip()
    yield Row("pairs_drafts_with_errors", len(wrong), "findings", 0, note=note)
    worst = sorted(walked, key=lambda each: -each.refused)[:SHOWN]
    note = ", ".join(f"garment {each.number}: {each.refused}" for each in worst if each.refused)
    yield Row("pairs_drafts_refused", 100 * refused / drafts, "%", note=note)
    yield Row("pairs", took_s, "s", note=f"{people.WORKERS} processes")


# Parameters at their ends


def _ends() -> list[tuple[str, str, str]]:
    """Component, parameter, and its value at each end of its range, or each word it may be."""
    units = {ParameterKind.LENGTH: "mm", ParameterKind.ANGLE: "rad"}
    return [
        (kind, name, value)
        for kind in kinds()
        for name, parameter in component_class(kind).parameters().items()
        for value in parameter.choices
        or [f"{end:.9f}{units.get(parameter.kind, '')}" for end in (parameter.low, parameter.high)]
    ]


@dataclass(frozen=True)
class _AtEnd:
    drafts: int
    refused: int
    gap_mm: float
    wrong: tuple[str, ...]


def _at_end(end: tuple[str, str, str]) -> _AtEnd:
    kind, name, value = end
    garment, called = garment_with(kind)
    entries = tuple(
        replace(entry, parameters={**entry.parameters, name: value})
        if entry.name == called
        else entry
        for entry in garment
    )
    design = replace(plain_garment(SEED, 0).design, components=entries)
    sizes, women = bodies()
    gap_mm, wrong, refused = 0.0, [], 0
    for body in (*sizes, *women[::WOMEN_AT_ENDS]):
        told = f"{kind}.{name} = {value}, {body.name}"
        try:
            pattern = draft(design, body)
            findings = check(pattern, body)
        except ClothwiseError:
            refused += 1
            continue
        except Exception as error:
            wrong.append(f"{told}: broke: {error!r}")
            continue
        gap_mm = max(gap_mm, people.largest_gap_mm(pattern))
        codes = {each.code for each in findings if each.severity is Severity.ERROR}
        wrong += [f"{told}: {code}" for code in sorted(codes - set(FITS))]
    return _AtEnd(len(sizes) + len(women[::WOMEN_AT_ENDS]), refused, gap_mm, tuple(wrong))


@rows
def parameter_ends() -> Iterator[Row]:
    """Each component in the garment that shows it, with one parameter at an end of its range."""
    started = time.perf_counter()
    ends = _ends()
    tried_ends = run_jobs(_at_end, ends, workers=people.WORKERS)
    took_s = time.perf_counter() - started
    drafts = sum(each.drafts for each in tried_ends)
    gap_mm = max(each.gap_mm for each in tried_ends)
    note = f"{len(ends)} ends, {drafts} drafts"
    yield Row("parameter_ends_largest_gap_of_a_seam", gap_mm, "mm", TRUE_MM, note=note)
    wrong = [each for one in tried_ends for each in one.wrong]
    places = Counter(f"{each.split(', ')[0]}: {each.split(': ')[-1][:40]}" for each in wrong)
    note = "; ".join(f"{place} ({count})" for place, count in places.most_common(3 * SHOWN))
    yield Row("parameter_ends_wrong", len(wrong), "findings", 0, note=note)
    refused = 100 * sum(each.refused for each in tried_ends) / drafts
    yield Row("parameter_ends_refused", refused, "%", note="in words")
    yield Row("parameter_ends", took_s, "s", note=f"{people.WORKERS} processes")
