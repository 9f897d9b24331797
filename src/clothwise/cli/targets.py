"""From what is named on the command line to what is drafted."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from clothwise.components import DesignFile, read_design, read_make
from clothwise.errors import Misuse
from clothwise.packet.opening import in_size, require
from clothwise.pattern import Body
from clothwise.pattern.body_file import read_body
from clothwise.units import LengthUnit


@dataclass(frozen=True)
class ToDraft:
    """What one draft is made from.

    `is_person` tells that the body is somebody's own, not a size; `whom` it is called, and `unit`
    is for showing lengths.
    """

    design: DesignFile
    choices: dict[str, str]
    body: Body
    is_person: bool
    whom: str
    unit: LengthUnit


def to_draft_at(
    target: Path, view: str, size: str, own: dict[str, str], body_file: Path | None
) -> ToDraft:
    """What to draft: a design in a size, or a make as it is, unless something else is asked for.

    Raises:
        DocumentError: with all faults of the files.
        Misuse: both a size and a body, no such size or view, or choices that contradict.
    """
    if size and body_file is not None:
        raise Misuse(
            "both a size and a body are asked for",
            where="draft",
            how_much=f"--size {size} --body {body_file}",
            what_to_do="Leave one of them out; the nearest size is found by itself.",
        )
    require(target)
    if target.is_dir() or target.name == "design.yaml":
        design = read_design(target)
        choices, body = design.design.chosen(own, view=view), design.body(size)
        is_person, whom, unit = False, body.name, design.design.unit
    else:
        make = in_size(read_make(target), size)
        design, body = make.adjusted, make.body
        of_make = {} if view else make.choices
        choices = design.design.chosen({**of_make, **own}, view=view)
        is_person = bool(make.make.measurements or make.make.body)
        whom = body.name
        if is_person and body.name in design.sizes:
            whom = f"{body.name} with own measurements"
        unit = make.make.unit or design.design.unit
    if body_file is not None:
        body, is_person = read_body(body_file), True
        whom = body.name or body_file.stem
    return ToDraft(design, choices, body, is_person, whom, unit)


def chosen(pairs: tuple[str, ...]) -> dict[str, str]:
    """Choices from `option=choice` texts.

    Raises:
        Misuse: one has no equals sign.
    """
    choices = {}
    for pair in pairs:
        option, sign, value = pair.partition("=")
        if not sign:
            raise Misuse(
                f"{pair!r} is not a choice", what_to_do="Write option=choice, such as pockets=1."
            )
        choices[option.strip()] = value.strip()
    return choices
