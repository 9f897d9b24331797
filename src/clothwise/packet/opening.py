"""From the path of a design or make to what it holds, opened and checked."""

from __future__ import annotations

import os
from dataclasses import replace
from pathlib import Path

from clothwise.components import DesignFile, MakeFile, make_files, read_design, read_make
from clothwise.errors import Misuse, did_you_mean
from clothwise.packet.making import Making
from clothwise.pattern import Body
from clothwise.pattern.document.make import body_for

__all__ = ["bodies_at", "design_at", "in_size", "makes_at", "making_at", "require"]


def design_at(target: Path) -> DesignFile:
    """The design in a folder, in a `design.yaml`, or of a make.

    Raises:
        DocumentError: with all faults of the files.
    """
    require(target)
    if target.is_dir() or target.name == "design.yaml":
        return read_design(target)
    return read_make(target).of


def bodies_at(target: Path, size: str) -> tuple[Body, ...]:
    """The body of a size, whom a make is for, or all sizes of a design.

    Raises:
        DocumentError: with all faults of the files.
        Misuse: no size of that name.
    """
    design = design_at(target)
    if size:
        return (design.body(size),)
    if target.is_file() and target.name != "design.yaml":
        return (read_make(target).body,)
    return design.chart.sizes


def makes_at(target: Path) -> tuple[MakeFile, ...]:
    """The make in a file, or all makes in the folder of a design.

    Raises:
        DocumentError: with all faults of the files.
        Misuse: the folder holds no make.
    """
    require(target)
    if target.is_file() and target.name != "design.yaml":
        return (read_make(target),)
    folder = target.parent if target.name == "design.yaml" else target
    read_design(folder)
    found = make_files(folder)
    if not found:
        raise Misuse(
            "there is no make: nothing says which fabrics to cut",
            where=str(folder),
            what_to_do="Write a make.yaml beside the design that names view, size and fabrics; "
            "docs/tour.md shows one.",
        )
    return tuple(read_make(path) for path in found)


def making_at(target: Path, name: str, size: str) -> Making:
    """The one make that is meant.

    Raises:
        DocumentError: with all faults of the files.
        Misuse: there are several and none is named, or no size of that name.
    """
    makes = makes_at(target)
    if name:
        chosen = [make for make in makes if make.path.stem == name]
        if not chosen:
            stems = [make.path.stem for make in makes]
            raise Misuse(
                f"there is no make named {name}",
                where=str(target),
                what_to_do=did_you_mean(name, stems, of_what="makes"),
            )
        makes = tuple(chosen)
    if len(makes) > 1:
        names = ", ".join(make.path.stem for make in makes)
        raise Misuse(
            "there are several makes",
            where=str(target),
            how_much=names,
            what_to_do="Name one with --make, or give its file.",
        )
    return Making(in_size(makes[0], size))


def in_size(make: MakeFile, size: str) -> MakeFile:
    """The make in another size of its chart; its own measurements stay as they are.

    Raises:
        Misuse: the chart has no such size.
    """
    if not size:
        return make
    resized = replace(make.make, size=size, body="")
    body = body_for(resized, make.of.chart, make.of.design.base_size)
    return replace(make, body=body, make=resized)


def require(target: Path) -> None:
    """Refuse a target that is not there.

    Raises:
        Misuse: there is no such folder or file.
    """
    if not os.path.exists(target):  # unlike Path.exists, false where one may not look
        raise Misuse(
            "there is no such folder or file",
            where=str(target),
            what_to_do="Name the folder that holds design.yaml, or a make in it; "
            "`clothwise new` makes one to begin with.",
        )
