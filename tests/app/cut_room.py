"""The cut room of the kiln dress: one window for a whole file, which begins anew for each test."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from app.conftest import Window
from app.shared_window import as_at_first, shared_window
from clothwise.app.rooms import cut

__all__ = ["ROOM", "changed", "make_file", "of_file", "rows_only", "window"]

ROOM = "/d/kiln-dress/m/view-a/cut"


@pytest.fixture(scope="module")
def of_file(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Window, Path]]:
    """The window of a file, and the make that its tests look into."""
    folder = tmp_path_factory.mktemp("cut") / "designs"
    folder.mkdir()
    with shared_window(folder) as window:
        yield window, folder / "kiln-dress" / "makes" / "view-a.yaml"


@pytest.fixture
def rows_only(monkeypatch: pytest.MonkeyPatch) -> None:
    """No search begins by itself: layouts are those in rows, until one is begun."""
    monkeypatch.setattr(cut, "_look", lambda *_: None)


@pytest.fixture
def window(of_file: tuple[Window, Path], rows_only: None) -> Window:
    """The window with the design as it was at first."""
    return as_at_first(of_file[0])


@pytest.fixture
def make_file(of_file: tuple[Window, Path]) -> Path:
    """The document of the make."""
    return of_file[1]


def changed(window: Window, address: str, **fields: str | list[str]) -> None:
    """Make a change in the room that must be taken."""
    answer = window.change(f"{ROOM}/{address}", base=window.head(), **fields)
    assert answer.status_code == 204, answer.text
