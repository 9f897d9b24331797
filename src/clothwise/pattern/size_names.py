"""What the names of sizes tell: numbers and letters have an order and an even spacing.

`34`, `18W` and `EU 40` are numbers, each with its own kind of name; `XXS` to `5XL` are letters. A
name of another kind, such as `one size`, tells nothing.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

__all__ = ["RankedName", "missing_names", "ranked_names"]

LETTERS = ("XXXS", "XXS", "XS", "S", "M", "L", "XL", "XXL", "3XL", "4XL", "5XL", "6XL")
"""Letter sizes in order."""
_SAME_LETTERS = {"3XS": "XXXS", "2XS": "XXS", "2XL": "XXL", "XXXL": "3XL", "XXXXL": "4XL"}
_NUMBER = re.compile(r"^(\D*?)\s*(\d+)\s*(\D*)$")
_FEWEST_STEPS = 3
"""Steps in a kind of name before one of them can be called uneven."""
_MUCH_WIDER = 1.9


@dataclass(frozen=True, slots=True)
class RankedName:
    """A size's name in the order of its kind.

    Attributes:
        at: the place of the size in the chart, from 0.
        name: as written.
        kind: names are compared only with others of their kind.
        rank: where it stands among them.
    """

    at: int
    name: str
    kind: str
    rank: float


def ranked_names(names: Sequence[str]) -> dict[str, tuple[RankedName, ...]]:
    """Return the names that have an order, by kind, each kind in order of the chart.

    >>> [each.rank for each in ranked_names(["00", "0", "2", "one size"])["number"]]
    [-2.0, 0.0, 2.0]
    """
    kinds: dict[str, list[RankedName]] = {}
    for at, name in enumerate(names):
        plain = name.upper().strip()
        letters = _SAME_LETTERS.get(plain, plain)
        number = _NUMBER.match(plain)
        if letters in LETTERS:
            found = RankedName(at, name, "letters", float(LETTERS.index(letters)))
        elif number:
            kind = " ".join(part for part in ("number", number[1].strip(), number[3]) if part)
            found = RankedName(at, name, kind, _number_rank(number[2], names))
        else:
            continue
        kinds.setdefault(found.kind, []).append(found)
    return {kind: tuple(found) for kind, found in kinds.items()}


def missing_names(ranked: Sequence[RankedName]) -> dict[int, str]:
    """Return what is missing before the size at a place, where the naming is even otherwise.

    Args:
        ranked: names of one kind, rising.

    >>> missing_names(ranked_names(["34", "36", "40", "42", "44"])["number"])
    {2: '38'}
    """
    steps = [after.rank - before.rank for before, after in pairwise(ranked)]
    found = {}
    for number, step in enumerate(steps if len(steps) >= _FEWEST_STEPS else ()):
        beside = [steps[each] for each in _beside(number, len(steps))]
        even = len(set(beside)) == 1 and beside[0] > 0
        if even and step >= _MUCH_WIDER * beside[0]:
            before, after = ranked[number], ranked[number + 1]
            found[after.at] = _between(before, after, beside[0])
    return found


def _number_rank(digits: str, names: Sequence[str]) -> float:
    """00 stands as far below 0 as 0 below the next one."""
    if set(digits) != {"0"} or len(digits) == 1:
        return float(digits)
    numbers = sorted(float(name) for name in names if name.isdigit() and name.strip("0"))
    return -(len(digits) - 1) * (numbers[0] if numbers else 1.0)


def _beside(number: int, count: int) -> tuple[int, ...]:
    """The two steps beside a step; of the first and the last, the two next to it."""
    if number == 0:
        return (1, 2)
    return (number - 1, number + 1) if number < count - 1 else (number - 1, number - 2)


def _between(before: RankedName, after: RankedName, step: float) -> str:
    """The names that are missing, as they would be written, or nothing if they are not whole."""
    count = round((after.rank - before.rank) / step) - 1
    ranks = [before.rank + step * (number + 1) for number in range(count)]
    if before.kind == "letters":
        return ", ".join(LETTERS[int(rank)] for rank in ranks)
    if any(rank != int(rank) or rank < 0 for rank in ranks):
        return ""
    return ", ".join(re.sub(r"\d+", str(int(rank)), before.name, count=1) for rank in ranks)
