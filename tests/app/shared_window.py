"""One server for all tests of a room: each begins with the design as it was at first.

Starting the workers takes longer than most of what is asked of them.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from app.conftest import Window, entered
from clothwise.app.preferences import PREFERENCES_FILE
from clothwise.pattern.document import starting_design

DESIGN = "kiln-dress"


@contextmanager
def shared_window(folder: Path) -> Iterator[Window]:
    """A window on a workspace with the kiln dress."""
    starting_design(DESIGN, folder / DESIGN)
    with entered(folder) as window:
        yield window


def as_at_first(window: Window) -> Window:
    """The same with the design and the settings as they were."""
    shop = window.app.state.shop  # type: ignore[attr-defined]
    history = shop.design(DESIGN).history
    if history.head != history.entries[0].id:
        history.back_to(history.entries[0].id)
    (shop.workspace.own / PREFERENCES_FILE).unlink(missing_ok=True)
    return window
