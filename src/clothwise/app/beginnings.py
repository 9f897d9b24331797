"""Pictures of the garments one can begin with; `python -m clothwise.app.beginnings` writes them.

They are kept in the package, so that the first shelf is there at once.
"""

from __future__ import annotations

from importlib.resources import as_file, files
from pathlib import Path

from clothwise.app.jobs.flat import FlatOf
from clothwise.app.pages import STATIC
from clothwise.app.work import Shown
from clothwise.pattern.commands import read_documents
from clothwise.pattern.document import starter_names
from clothwise.pattern.saving import write_atomically

__all__ = ["picture", "picture_file"]

_SHOWN = "makes/view-a.yaml"


def picture_file(kind: str) -> Path:
    """Return where the picture of a beginning is kept."""
    return STATIC / "beginnings" / f"{kind}.svg"


def picture(kind: str) -> str:
    """Draw a beginning, front and back, in the fabrics of its view A or its first make."""
    with as_file(files("clothwise") / "data" / "starters" / kind) as folder:
        documents = read_documents(folder)
    makes = sorted(name for name in documents if name.startswith("make"))
    make = _SHOWN if _SHOWN in makes else makes[0]
    return str(FlatOf(Shown(kind, make=make), documents).run(_nobody, lambda: False))


def _nobody(share: float, message: str = "", data: object = None) -> None:
    """Nobody waits for how far it is."""


def _write() -> None:
    for kind in starter_names():
        picture_file(kind).parent.mkdir(exist_ok=True)
        write_atomically(picture_file(kind), picture(kind))
        print(picture_file(kind))


if __name__ == "__main__":
    _write()
