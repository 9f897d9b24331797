"""Folders to begin with: a design that works, to be changed into one's own."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from dataclasses import replace
from importlib import resources
from importlib.resources.abc import Traversable
from pathlib import Path
from uuid import uuid4

from clothwise.errors import Misuse, OutputError, did_you_mean
from clothwise.pattern.document.fabric_entry import parse_width
from clothwise.pattern.document.make_reader import parse_make
from clothwise.pattern.document.stash import STASH_FILE
from clothwise.pattern.document.writing import format_make

__all__ = ["DEFAULT_STARTER", "starter_names", "starting_design"]

DEFAULT_STARTER = "kiln-dress"


def starter_names() -> tuple[str, ...]:
    """Return what a new design can begin as."""
    return tuple(sorted(each.name for each in _starters().iterdir() if each.is_dir()))


def starting_design(kind: str, folder: Path, *, width: str = "") -> tuple[Path, ...]:
    """Write a new design folder and return its files.

    The folder appears complete or not at all; one that is there must be empty.

    Args:
        kind: one of `starter_names`.
        folder: to be made; its parent must exist.
        width: of all cloths but interfacing in its makes, such as `44/45in`; as they are if empty.

    Raises:
        UnitError: the width is no length.
        Misuse: no such kind, no such width, or the folder holds something.
        OutputError: it cannot be written; nothing is left behind.
    """
    if kind not in starter_names():
        raise Misuse(
            f"no design can begin as {kind[:40]!r}",
            what_to_do=did_you_mean(kind, starter_names(), of_what="beginnings"),
        )
    if width:
        parse_width(width)
    _refuse_existing(folder)
    draft = folder.parent / f".{folder.name[:100]}.{uuid4().hex}"
    try:
        names = [*_copied(_starters() / kind, draft)]
        if width:
            for name in names:
                _widen(draft / name, width)
        if folder.is_dir():
            folder.rmdir()  # it is empty
        draft.replace(folder)
    except OSError as error:
        raise OutputError(
            "the folder cannot be written",
            where=str(folder),
            how_much=error.strerror or type(error).__name__,
            what_to_do="Choose a place that exists, that you may write to, and with room on disk.",
        ) from error
    finally:
        shutil.rmtree(draft, ignore_errors=True)
    return tuple(folder / name for name in names)


def _starters() -> Traversable:
    return resources.files("clothwise") / "data" / "starters"


def _widen(file: Path, width: str) -> None:
    """Give the cloths of a make another width, and its selvages the usual one."""
    if file.suffix != ".yaml" or file.name in ("design.yaml", STASH_FILE):
        return
    text = file.read_text(encoding="utf-8")
    make = parse_make(text)
    fused = make.roles.get("interfacing")
    fabrics = tuple(
        each if each.name == fused else replace(each, width=width, usable_width="")
        for each in make.fabrics
    )
    file.write_text(format_make(replace(make, fabrics=fabrics), previous=text), encoding="utf-8")


def _refuse_existing(folder: Path) -> None:
    try:
        is_taken = os.path.lexists(folder) and (not folder.is_dir() or any(folder.iterdir()))
    except OSError:
        is_taken = True
    if is_taken:
        raise Misuse(
            "there is something at this place already",
            where=str(folder),
            what_to_do="Choose another name; nothing was changed.",
        )


def _copied(source: Traversable, target: Path) -> Iterator[Path]:
    """Copy a folder of texts; yield the files below it."""
    target.mkdir()
    for each in sorted(source.iterdir(), key=lambda one: one.name):
        if each.is_dir():
            for name in _copied(each, target / each.name):
                yield Path(each.name) / name
        else:
            (target / each.name).write_bytes(each.read_bytes())
            yield Path(each.name)
