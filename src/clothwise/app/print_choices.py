"""On which paper and in which sizes somebody prints. Kept in the workspace; never a source."""

from __future__ import annotations

import json
import re
import threading
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from clothwise.errors import OutputError

__all__ = ["LEFT_OUT", "WHICH", "PrintChoices", "states_paper"]

FILE = "prints.json"
WHICH = ("own", "all", "these")
"""Sizes in the pattern of a packet: that of the make, all of the chart, or chosen ones."""
LEFT_OUT = "out"
"""Of plain rectangles, in addresses, forms and what is kept: they are told, not printed."""

_PAPER = re.compile(r"^paper:", re.MULTILINE)
_MOST_SIZES = 60
_writing = threading.Lock()


def states_paper(make: str) -> bool:
    r"""Whether the text of a make says which paper it is printed on.

    >>> states_paper("design: .\npaper: letter\n"), states_paper("design: .\n")
    (True, False)
    """
    return _PAPER.search(make) is not None


class PrintChoices:
    """What was chosen for the prints and packets of one design; what cannot be read is nothing."""

    def __init__(self, own: Path, design: str) -> None:
        """Say whose.

        Args:
            own: the folder of the app's own things.
            design: name as in addresses.
        """
        self._path, self._design = own / FILE, design

    def paper(self, make: str, *, is_stated: bool) -> str:
        """The name of the paper for a make; empty for the one that the make states or has anyway.

        What was chosen for this make goes before what it states; what was chosen last for any
        other one goes before what is usual.

        Args:
            make: name as in addresses.
            is_stated: whether the make says which paper it is printed on.
        """
        data = self._read()
        own = _words(_mapping(self._of_design(data).get("papers")).get(make))
        return own or ("" if is_stated else _words(data.get("paper")))

    def keep_paper(self, make: str, paper: str) -> None:
        """Remember the paper that was chosen for a make, and last for any.

        Raises:
            OutputError: it cannot be written.
        """
        with _writing:
            data = self._read()
            of = self._of_design(data)
            kept = {**of, "papers": {**_mapping(of.get("papers")), make: paper}}
            self._write({**data, "paper": paper, "designs": self._with(data, kept)})

    @property
    def which(self) -> str:
        """One of `WHICH`: which sizes a packet holds."""
        found = self._of_design(self._read()).get("which")
        return found if found in WHICH else WHICH[0]

    @property
    def sizes(self) -> tuple[str, ...]:
        """Sizes that were printed on one another or chosen for a packet last."""
        found = self._of_design(self._read()).get("sizes")
        return tuple(map(str, found)) if isinstance(found, list) else ()

    @property
    def leaves_out_rectangles(self) -> bool:
        """Whether plain rectangles were left out of the print or packet before, to be told only."""
        return self._of_design(self._read()).get("rectangles") == LEFT_OUT

    def keep_rectangles(self, *, leaves_out: bool) -> None:
        """Remember whether plain rectangles are left out.

        Raises:
            OutputError: it cannot be written.
        """
        with _writing:
            data = self._read()
            of = self._of_design(data)
            kept = {name: each for name, each in of.items() if name != "rectangles"}
            kept |= {"rectangles": LEFT_OUT} if leaves_out else {}
            self._write({**data, "designs": self._with(data, kept)})

    def keep_sizes(self, sizes: Sequence[str], which: str = "") -> None:
        """Remember sizes of the chart and, if it is stated, which of them a packet holds.

        Raises:
            OutputError: it cannot be written.
        """
        with _writing:
            data = self._read()
            kept = {**self._of_design(data), "sizes": list(sizes)[:_MOST_SIZES]}
            if which in WHICH:
                kept["which"] = which
            self._write({**data, "designs": self._with(data, kept)})

    def _of_design(self, data: dict[str, Any]) -> dict[str, Any]:
        return _mapping(_mapping(data.get("designs")).get(self._design))

    def _with(self, data: dict[str, Any], kept: dict[str, Any]) -> dict[str, Any]:
        return {**_mapping(data.get("designs")), self._design: kept}

    def _read(self) -> dict[str, Any]:
        try:
            return _mapping(json.loads(self._path.read_text(encoding="utf-8")))
        except (OSError, ValueError):
            return {}

    def _write(self, data: dict[str, Any]) -> None:
        from clothwise.pattern.saving import write_atomically

        if self._read() == data:
            return
        try:
            self._path.parent.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise OutputError(
                "what is chosen for printing cannot be kept",
                where=str(self._path.parent),
                how_much=error.strerror or type(error).__name__,
                what_to_do="See whether you may write there. The design itself is as it was.",
            ) from error
        write_atomically(self._path, json.dumps(data, indent=1) + "\n")


def _mapping(found: object) -> dict[str, Any]:
    return found if isinstance(found, dict) else {}


def _words(found: object) -> str:
    return found if isinstance(found, str) else ""
