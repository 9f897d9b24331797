"""Which steps of a make are finished. Kept in the workspace, beside the designs; never a source."""

from __future__ import annotations

import json
import threading
from collections.abc import Mapping
from datetime import UTC, datetime
from pathlib import Path

from clothwise.errors import OutputError

__all__ = ["CheckOffs"]

_FOLDER = "sewn"
_MOST_STEPS = 1000
_LONGEST_S = 30 * 24 * 3600
_writing = threading.Lock()


class CheckOffs:
    """The finished steps of one make: when each was checked off, and how long it took."""

    def __init__(self, own: Path, design: str, make: str) -> None:
        """Say whose.

        Args:
            own: the folder of the app's own things.
            design, make: names as in addresses.
        """
        self._path = own / _FOLDER / design / f"{make}.json"

    def done(self) -> Mapping[str, str]:
        """Return what is finished; what cannot be read is taken for nothing."""
        return {key: at for key, (at, _) in self._read().items()}

    def took(self) -> Mapping[str, int]:
        """Return the seconds that finished steps took, of those that were timed."""
        return {key: seconds for key, (_, seconds) in self._read().items() if seconds}

    def check(self, key: str, *, is_done: bool, seconds: int = 0) -> None:
        """Check a step off, or take that back.

        Args:
            key: of the step.
            is_done: whether it is finished.
            seconds: that it took; 0 if nobody timed it.

        Raises:
            OutputError: it cannot be written.
        """
        with _writing:
            done = dict(self._read())
            done.pop(key, None)
            if is_done and len(done) < _MOST_STEPS:
                now = datetime.now(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
                done[key] = (now, min(max(seconds, 0), _LONGEST_S))
            self._write(done)

    def forget(self) -> None:
        """Begin anew: nothing is finished.

        Raises:
            OutputError: it cannot be written.
        """
        with _writing:
            self._write({})

    def _read(self) -> Mapping[str, tuple[str, int]]:
        """When each step was checked off, and the seconds it took; 0 if it was not timed."""
        try:
            data = json.loads(self._path.read_text(encoding="utf-8"))
        except (OSError, ValueError):
            return {}
        found: dict[str, tuple[str, int]] = {}
        for key, kept in data.items() if isinstance(data, dict) else ():
            if isinstance(kept, str):
                found[key] = (kept, 0)
            elif isinstance(kept, dict) and isinstance(kept.get("at"), str):
                seconds = kept.get("seconds")
                found[key] = (kept["at"], seconds if isinstance(seconds, int) else 0)
        return found

    def _write(self, done: Mapping[str, tuple[str, int]]) -> None:
        from clothwise.pattern.saving import write_atomically

        try:
            self._path.parent.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise OutputError(
                "the steps that are finished cannot be kept",
                where=str(self._path.parent),
                how_much=error.strerror or type(error).__name__,
                what_to_do="See whether you may write there. The design itself is as it was.",
            ) from error
        kept = {
            key: {"at": at, "seconds": seconds} if seconds else at
            for key, (at, seconds) in done.items()
        }
        write_atomically(self._path, json.dumps(kept, indent=1) + "\n")
