"""How somebody likes the pages: unit, light or dark, size of type. Kept in the workspace."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass, fields, replace
from pathlib import Path

from clothwise.errors import Misuse, did_you_mean
from clothwise.units import LengthUnit

__all__ = ["CHOICES", "Preferences", "chosen", "read_preferences", "write_preferences"]

PREFERENCES_FILE = "preferences.json"

CHOICES: Mapping[str, Mapping[str, str]] = {
    "unit": {"chart": "as the design has it", "cm": "centimeters", "in": "inches"},
    "theme": {"auto": "as this computer", "light": "light", "dark": "dark, for the evening"},
    "type_size": {"usual": "usual", "large": "large", "table": "to be read from the sewing table"},
    "tour": {"ahead": "offered", **{f"{stop}": f"at stop {stop}" for stop in range(1, 6)}}
    | {"seen": "seen or skipped"},
}
"""What can be chosen, with the words for it; the first is the usual one."""


@dataclass(frozen=True)
class Preferences:
    """What was chosen; each attribute is a key of `CHOICES`."""

    unit: str = "chart"
    theme: str = "auto"
    type_size: str = "usual"
    tour: str = "ahead"

    @property
    def length_unit(self) -> LengthUnit | None:
        """The unit lengths are shown in; None: the one of the design."""
        return None if self.unit == "chart" else LengthUnit(self.unit)


def read_preferences(folder: Path) -> Preferences:
    """Return what was chosen; what is missing or unreadable is as usual."""
    try:
        data = json.loads((folder / PREFERENCES_FILE).read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return Preferences()
    known = {field.name for field in fields(Preferences)}
    kept = {
        name: value
        for name, value in (data.items() if isinstance(data, dict) else ())
        if name in known and isinstance(value, str) and value in CHOICES[name]
    }
    return Preferences(**kept)


def write_preferences(preferences: Preferences, folder: Path) -> None:
    """Keep what was chosen.

    Raises:
        OutputError: it cannot be written.
    """
    from clothwise.pattern.saving import write_atomically

    write_atomically(folder / PREFERENCES_FILE, json.dumps(asdict(preferences), indent=1) + "\n")


def chosen(preferences: Preferences, choices: Mapping[str, str]) -> Preferences:
    """Return the preferences with these choices.

    Raises:
        Misuse: there is no such choice.
    """
    for name, value in choices.items():
        if name not in CHOICES or value not in CHOICES[name]:
            raise Misuse(
                f"no such setting: {name[:20]!r} as {value[:20]!r}",
                what_to_do=did_you_mean(value, CHOICES.get(name, CHOICES), of_what="choices"),
            )
    return replace(preferences, **choices)
