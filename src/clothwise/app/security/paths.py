"""Names of folders that a page may ask for; nothing outside the workspace is ever reached."""

from __future__ import annotations

import re
import unicodedata
from pathlib import Path

from clothwise.errors import Misuse

__all__ = ["folder_name", "inside", "is_folder_name"]

LONGEST_NAME = 80
_NAME = re.compile(r"[^\W_][\w \-]*(?<! )")
_RESERVED = frozenset(
    {"con", "prn", "aux", "nul", "archive"}
    | {f"{port}{number}" for port in ("com", "lpt") for number in range(1, 10)}
)


def is_folder_name(name: str) -> bool:
    """Tell whether `name` can be the folder of a design on every computer.

    >>> is_folder_name("kiln-dress"), is_folder_name("../secret"), is_folder_name(".history")
    (True, False, False)
    """
    return (
        len(name) <= LONGEST_NAME
        and _NAME.fullmatch(name) is not None
        and name.lower() not in _RESERVED
    )


def folder_name(title: str) -> str:
    """Return the folder of a design with this title; empty if no letter is in it.

    >>> folder_name("Été, mid-calf / 2")
    'ete-mid-calf-2'
    """
    plain = unicodedata.normalize("NFKD", title).encode("ascii", "ignore").decode()
    name = re.sub(r"[^a-z0-9]+", "-", plain.lower()).strip("-")[:60].strip("-")
    return f"{name}-design" if name in _RESERVED else name


def inside(workspace: Path, *names: str) -> Path:
    """Return the path of what lies in the workspace under these names.

    Raises:
        Misuse: a name is none, or what it names lies elsewhere (a link leads out).
    """
    path = workspace.joinpath(*names)
    named = all(
        part not in ("", ".", "..") and not re.search(r'[/\\\0:*?"<>|]', part) for part in names
    )
    if not named or not path.resolve().is_relative_to(workspace.resolve()):
        raise Misuse(
            "this is not a place in the workspace",
            where=str(names[-1])[:40] if names else "",
            what_to_do="Choose a design from the shelf.",
        )
    return path
