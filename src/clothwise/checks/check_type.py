"""What a check is."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from clothwise.checks.derived import Derived
from clothwise.pattern import Finding


@dataclass(frozen=True)
class Check:
    """A function that returns all its findings, and the codes that they may have.

    Each code has a page in `docs/reference/findings/`.
    """

    codes: tuple[str, ...]
    run: Callable[[Derived], Iterable[Finding]]
