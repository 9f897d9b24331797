"""Where pieces lie on the board, kept from one visit to the next; no part of a design."""

from __future__ import annotations

import json
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path

__all__ = ["keep_places", "kept_places"]

FOLDER = "boards"
_MOST_PIECES = 500

Places = Mapping[str, tuple[float, float]]


def kept_places(own: Path, design: str) -> dict[str, tuple[float, float]]:
    """Return the places that were kept for a design; none if there are none, or unreadable ones.

    Args:
        own: the app's own folder in the workspace.
        design: name of its folder.
    """
    try:
        data = json.loads((own / FOLDER / f"{design}.json").read_text(encoding="utf-8"))
        return {
            str(name): (float(x), float(y))
            for name, (x, y) in list(data.items())[:_MOST_PIECES]
            if abs(float(x)) < 1e6 and abs(float(y)) < 1e6
        }
    except (OSError, ValueError, TypeError, AttributeError):
        return {}


def keep_places(own: Path, design: str, places: Places) -> None:
    """Keep places; those of pieces that are not there now stay, for they may come back.

    A disk that is full costs the places, not the work: nothing is raised.
    """
    before = kept_places(own, design)
    now = {**before, **places}
    if now == before:
        return
    with suppress(OSError):
        folder = own / FOLDER
        folder.mkdir(exist_ok=True)
        draft = folder / f".{design}.json"
        kept = dict(list(now.items())[-_MOST_PIECES:])
        draft.write_text(json.dumps({name: list(at) for name, at in kept.items()}), "utf-8")
        draft.replace(folder / f"{design}.json")
