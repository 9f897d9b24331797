"""Pictures of garments and the stream of events, as a browser asks for them."""

from __future__ import annotations

import asyncio
from pathlib import Path
from xml.etree import ElementTree

import pytest
from starlette.testclient import TestClient as Window

from clothwise.app.work.events import MOST_WAITING, Event, close_streams, publish, stream


def test_a_flat_is_a_picture_that_is_kept_and_not_sent_twice(
    window: Window, workspace: Path
) -> None:
    first = window.get("/d/kiln-dress/flat.svg?make=view-a")
    assert first.status_code == 200
    assert first.headers["content-type"].startswith("image/svg+xml")
    assert ElementTree.fromstring(first.text).tag.endswith("svg")
    assert len(list((workspace / ".clothwise" / "flats").iterdir())) == 1
    again = window.get(
        "/d/kiln-dress/flat.svg?make=view-a", headers={"if-none-match": first.headers["etag"]}
    )
    assert again.status_code == 304


def test_what_cannot_be_drawn_says_so_in_the_picture(window: Window, workspace: Path) -> None:
    design = workspace / "kiln-dress" / "design.yaml"
    text = design.read_text(encoding="utf-8")
    design.write_text(text.replace("mid-calf: 9cm", "mid-calf: 90cm"), encoding="utf-8")
    answer = window.get("/d/kiln-dress/flat.svg?view=A")
    assert answer.status_code == 422
    assert "It cannot be drawn yet" in answer.text
    ElementTree.fromstring(answer.text)


@pytest.mark.parametrize("asked", ["make=../../secret", "view=<script>", "size=999"])
def test_names_that_are_not_there_are_refused(window: Window, asked: str) -> None:
    answer = window.get(f"/d/kiln-dress/flat.svg?{asked}")
    assert answer.status_code == 422
    assert "<script>" not in answer.text


# Events


def test_windows_hear_what_is_published_about_their_design_only() -> None:
    async def heard() -> list[bytes]:
        one, two = stream("dress", "w1", (Event("hello", "head"),)), stream("coat", "w2")
        started = [await anext(one), await anext(two)]
        publish("dress", "changed", "a\nb")
        publish("dress", "only", "", window="w2")
        publish("dress", "mine", "", window="w1")
        got = [await anext(one), await anext(one)]
        close_streams()
        rest = [part async for part in one] + [part async for part in two]
        assert rest == []
        return [*started, *got]

    first, second, changed, mine = asyncio.run(heard())
    assert first == b"retry: 1500\n\nevent: hello\ndata: head\n\n"
    assert second == b"retry: 1500\n\n"
    assert changed == b"event: changed\ndata: a\ndata: b\n\n"
    assert mine == b"event: mine\ndata: \n\n"


def test_a_window_that_sleeps_does_not_fill_the_memory() -> None:
    async def overfull() -> list[bytes]:
        sleeping = stream("dress", "w1")
        await anext(sleeping)
        for number in range(MOST_WAITING + 5):
            publish("dress", "told", str(number))
        await asyncio.sleep(0)
        return [part async for part in sleeping]

    assert asyncio.run(overfull()) == []


def test_an_event_cannot_be_forged_by_its_text() -> None:
    assert Event("told", "x\r\n\r\nevent: changed\rdata: y").encoded() == (
        b"event: told\ndata: x\ndata: \ndata: event: changed\ndata: data: y\n\n"
    )
