"""What hangs together: pieces that are joined to each other, directly or by way of others."""

from __future__ import annotations

from collections.abc import Iterable, Set


def hanging_together(start: Iterable[str], groups: Iterable[Set[str]]) -> set[str]:
    """What is reached from some names by going over groups that share a name.

    >>> sorted(hanging_together({"cuff"}, [{"cuff", "sleeve"}, {"sleeve", "front"}, {"pocket"}]))
    ['cuff', 'front', 'sleeve']
    """
    found, left = set(start), list(groups)
    while reached := [group for group in left if not found.isdisjoint(group)]:
        left = [group for group in left if found.isdisjoint(group)]
        found.update(*reached)
    return found
