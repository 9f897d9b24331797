"""A workspace with the kiln dress, and a window that has entered. No socket, no browser."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from clothwise.app.server import create_app
from clothwise.app.settings import Settings
from clothwise.app.work import asking
from clothwise.pattern.document import starting_design

TOKEN = "the-token-of-the-tests"


class Window(TestClient):
    """A browser window without a browser: it has entered and sends its page's token.

    `page(address)` is what a person sees, `part(address)` what htmx asks for, `change(address,
    **fields)` posts a form the way htmx does, with the head of `design` as its base.
    """

    csrf = ""

    def page(self, address: str, status: int = 200) -> str:
        answer = self.get(address, headers={"accept": "text/html"})
        assert answer.status_code == status, answer.text[:2000]
        return answer.text

    def part(self, address: str, status: int = 200) -> str:
        answer = self.get(address, headers={"accept": "text/html", "hx-request": "true"})
        assert answer.status_code == status, answer.text[:2000]
        return answer.text

    def change(self, address: str, **fields: str | list[str]):  # type: ignore[no-untyped-def]
        headers = {"hx-request": "true", "x-clothwise-token": self.csrf, "accept": "text/html"}
        return self.post(address, data=fields, headers=headers)

    def head(self, design: str = "kiln-dress") -> str:  # type: ignore[override]
        """The entry of the history that stands now."""
        shop = self.app.state.shop  # type: ignore[attr-defined]
        return str(shop.design(design).history.head)


@pytest.fixture(scope="session", autouse=True)
def _workers_stay() -> Iterator[None]:
    """A window that closes leaves workers without work to the next one.

    They know no workspace, and starting them takes longer than most of what is asked of them.
    """

    def end_those_that_work() -> None:
        for name, lane in tuple(asking._lanes.items()):
            if lane._running or lane._waiting:
                lane.close()
                asking._lanes.pop(name, None)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("clothwise.app.work.stop_workers", end_those_that_work)
        yield
    asking.stop_workers()


def entered(workspace: Path) -> Window:
    app = create_app(Settings(workspace, token=TOKEN, port=8765))
    window = Window(app, base_url="http://127.0.0.1:8765", raise_server_exceptions=True)
    answer = window.get(f"/enter?token={TOKEN}&next=/settings")
    found = re.search(r'name="clothwise-token" content="([0-9a-f]{64})"', answer.text)
    assert found, answer.text[:500]
    window.csrf = found[1]
    return window


@pytest.fixture
def workspace(tmp_path: Path) -> Path:
    folder = tmp_path / "designs"
    folder.mkdir()
    starting_design("kiln-dress", folder / "kiln-dress")
    return folder


@pytest.fixture
def window(workspace: Path) -> Iterator[Window]:
    with entered(workspace) as window:
        yield window


@pytest.fixture(scope="module")
def of_module(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Window]:
    """One for all tests of a module; `shared_window.as_at_first` makes it anew for each."""
    folder = tmp_path_factory.mktemp("designs")
    starting_design("kiln-dress", folder / "kiln-dress")
    with entered(folder) as window:
        yield window
