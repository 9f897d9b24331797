"""Words as a list in a sentence."""

from __future__ import annotations

from collections.abc import Iterable


def enumerated(words: Iterable[str]) -> str:
    """Return words as a sentence lists them; empty for none.

    >>> enumerated(["belt", "collar", "cuff"])
    'belt, collar and cuff'
    >>> enumerated(["belt"])
    'belt'
    """
    *others, last = [*words] or [""]
    return f"{', '.join(others)} and {last}" if others else last
