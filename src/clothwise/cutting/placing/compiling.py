"""How the packer's inner loops are compiled."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numba

__all__ = ["compiled"]


_FREEDOM = {"contract", "arcp", "nsz"}
"""What the compiler may do with sums: nothing that depends on how many numbers a machine adds at
once, so that all machines come to the same."""


def compiled(function: Callable[..., Any]) -> Callable[..., Any]:
    """Compile a function, and keep it for the next start where a folder can be written to."""
    try:
        return numba.njit(cache=True, fastmath=_FREEDOM, nogil=True)(function)
    except RuntimeError:  # no folder for the cache
        return numba.njit(fastmath=_FREEDOM, nogil=True)(function)
