"""How the packer's inner loops are compiled, and where what was compiled is kept."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from hashlib import sha256
from pathlib import Path
from typing import Any

import numba

__all__ = ["compiled", "state_of"]


_SETTINGS: Any = numba.config  # set from a list of names, which types do not show
_FREEDOM = {"contract", "arcp", "nsz"}
"""What the compiler may do with sums: nothing that depends on how many numbers a machine adds at
once, so that all machines come to the same."""


def state_of(sources: Iterable[Path]) -> str:
    """Return letters that are others as soon as one of several files is."""
    digest = sha256()
    for source in sorted(sources):
        digest.update(source.name.encode() + b"\0" + source.read_bytes())
    return digest.hexdigest()[:12]


_HERE = Path(__file__).parent
_KEPT = f"compiled-{state_of(_HERE.glob('*.py'))}"
"""A loop holds the code of those that it calls in other files: a change in any of them counts."""


def compiled(function: Callable[..., Any]) -> Callable[..., Any]:
    """Compile a function, and keep it for the next start where a folder can be written to."""
    asked = _SETTINGS.CACHE_DIR
    _SETTINGS.CACHE_DIR = str(Path(asked or _HERE / "__pycache__") / _KEPT)
    try:
        return numba.njit(cache=True, fastmath=_FREEDOM, nogil=True)(function)
    except RuntimeError:  # no folder for the cache
        return numba.njit(fastmath=_FREEDOM, nogil=True)(function)
    finally:
        _SETTINGS.CACHE_DIR = asked
