"""Where pieces lie on the board, kept from one visit to the next; no part of a design."""

from __future__ import annotations

import json
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path

__all__ = ["KeptPlaces", "keep_places", "kept_places"]

FOLDER = "boards"
_MOST_PIECES = 500

Places = Mapping[str, tuple[float, float]]


@dataclass(frozen=True)
class KeptPlaces:
    """Places by piece: x and y in mm, y downward.

    Attributes:
        shown: where each piece was seen last.
        homes: where it lies once nothing is in its way; other than `shown` if it was moved aside.
    """

    shown: Places = field(default_factory=dict)
    homes: Places = field(default_factory=dict)


def kept_places(own: Path, design: str) -> KeptPlaces:
    """Return the places that were kept for a design; none if there are none, or unreadable ones.

    Args:
        own: the app's own folder in the workspace.
        design: name of its folder.
    """
    try:
        data = json.loads((own / FOLDER / f"{design}.json").read_text(encoding="utf-8"))
        rows = [(str(name), [float(each) for each in at]) for name, at in data.items()]
        sound = [(name, at) for name, at in rows[:_MOST_PIECES] if max(map(abs, at)) < 1e6]
        return KeptPlaces(
            {name: (x, y) for name, (x, y, *_) in sound},
            {name: (at[-2], at[-1]) for name, at in sound},
        )
    except (OSError, ValueError, TypeError, AttributeError):
        return KeptPlaces()


def keep_places(own: Path, design: str, places: KeptPlaces) -> None:
    """Keep places; those of pieces that are not there now stay, for they may come back.

    Each is written as x and y; of a piece that was moved aside those of its home follow. A disk
    that is full costs the places, not the work: nothing is raised.
    """
    before = kept_places(own, design)
    shown, homes = {**before.shown, **places.shown}, {**before.homes, **places.homes}
    now = KeptPlaces(shown, homes)
    if now == before:
        return
    rows = {name: [*at] + [*homes[name]] * (at != homes[name]) for name, at in shown.items()}
    with suppress(OSError):
        folder = own / FOLDER
        folder.mkdir(exist_ok=True)
        draft = folder / f".{design}.json"
        draft.write_text(json.dumps(dict(list(rows.items())[-_MOST_PIECES:])), "utf-8")
        draft.replace(folder / f"{design}.json")
