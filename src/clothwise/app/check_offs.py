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
_writing = threading.Lock()


class CheckOffs:
    """The finished steps of one make: key of the step to when it was checked off."""

    def __init__(self, own: Path, design: str, make: str) -> None:
        """Say whose.

        Args:
            own: the folder of the app's own things.
            design, make: names as in addresses.
        """
        self._path = own / _FOLDER / design / f"{make}.json"

    def done(self) -> Mapping[str, str]:
        """Return what is finished; what cannot be read is taken for nothing."""
        try:
            data = json.loads(self._path.read_text(encoding="utf-8"))
        except (OSError, ValueError):
            return {}
        found = data.items() if isinstance(data, dict) else ()
        return {key: at for key, at in found if isinstance(at, str)}

    def check(self, key: str, *, is_done: bool) -> None:
        """Check a step off, or take that back.

        Raises:
            OutputError: it cannot be written.
        """
        with _writing:
            done = dict(self.done())
            done.pop(key, None)
            if is_done and len(done) < _MOST_STEPS:
                done[key] = datetime.now(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
            self._write(done)

    def forget(self) -> None:
        """Begin anew: nothing is finished.

        Raises:
            OutputError: it cannot be written.
        """
        with _writing:
            self._write({})

    def _write(self, done: Mapping[str, str]) -> None:
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
        write_atomically(self._path, json.dumps(done, indent=1) + "\n")
