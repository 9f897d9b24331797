"""Which rows of a size chart are sizes, and which are people.

The file says it, in a column `kind` with `size` or `person`. Where it does not, the name tells: in
a chart most of whose names have an order (`size_names`), a row whose name has none, such as `Ada`,
is a person; all else is a size. That most is enough is our own choice.

A person is no step of the range: no grade, table or nest has it, and its measurements are compared
with no size. It can be drafted and chosen for a make like any row.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from enum import Enum

from clothwise.pattern.size_names import ranked_names

__all__ = ["RowKind", "names_alone", "people_among"]

FEWEST_SIZES = 2
"""This many sizes with an order make a range. Our own choice."""
FEWEST_BESIDE = 3
"""So many names of one kind make a name of another kind stand out. Our own choice."""


class RowKind(Enum):
    """What a row of a chart is."""

    SIZE = "size"
    PERSON = "person"


def people_among(names: Sequence[str], stated: Mapping[str, RowKind]) -> tuple[str, ...]:
    """Return the names of the rows that are people, in order of the chart.

    Args:
        names: of all rows.
        stated: what the file says of some of them.

    >>> people_among(("36", "38", "40", "Ada", "Eve 2"), {})
    ('Ada',)
    >>> people_among(("36", "38", "40", "Ada", "Eve 2"), {"Eve 2": RowKind.PERSON})
    ('Ada', 'Eve 2')
    """
    sizes = [name for name in names if stated.get(name) is not RowKind.PERSON]
    ranked = {sizes[each.at] for kind in ranked_names(sizes).values() for each in kind}
    unnamed = {name for name in sizes if name not in ranked and name not in stated}
    by_name = unnamed if len(ranked) >= max(FEWEST_SIZES, len(unnamed) + 1) else set()
    return tuple(name for name in names if name not in sizes or name in by_name)


def names_alone(names: Sequence[str], stated: Mapping[str, RowKind]) -> tuple[str, ...]:
    """Return the sizes, by their names, whose name has no order among the others.

    They may be sizes of another kind, or people: only somebody who knows can say.

    Args:
        names: of all rows.
        stated: what the file says of some of them; of these there is no doubt.

    >>> names_alone(("36", "38", "40", "Ada", "Eve 2", "M"), {})
    ('Eve 2', 'M')
    >>> names_alone(("36", "38", "40", "Eve 2", "Eve 4"), {})
    ()
    """
    people = people_among(names, stated)
    sizes = [name for name in names if name not in people]
    kinds = ranked_names(sizes).values()
    if max(map(len, kinds), default=0) < FEWEST_BESIDE:
        return ()
    lone = {sizes[kind[0].at] for kind in kinds if len(kind) == 1}
    return tuple(name for name in sizes if name in lone and name not in stated)
