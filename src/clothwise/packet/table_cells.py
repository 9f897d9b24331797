"""The cells of a requirement table: which question each of them asks, and the memory of that.

A cell is one garment in one size, and one cloth in one width and nap. To know its question it must
be drafted; so what was found is remembered by the texts it follows from, and a table without news
is answered without drafting anything.
"""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass
from functools import cache
from importlib.metadata import version
from pathlib import Path
from typing import Any

import clothwise
from clothwise.components.registry import component_class
from clothwise.cutting import (
    BiasFrom,
    LayoutQuestion,
    LowerBound,
    StripsPrepared,
    area_mm2,
    lower_bound,
)
from clothwise.errors import ClothwiseError
from clothwise.packet.making import Making
from clothwise.packet.table_subjects import CutCloth, TableSubject, variants
from clothwise.pattern import Ply
from clothwise.pattern.document import FabricEntry

__all__ = ["Asked", "Derived", "Question", "derived", "memory_key", "recalled", "told_again"]

_ENGINES = ("shapely", "kurbopy")
"""Packages that a drafted line depends on."""


@dataclass(frozen=True)
class Asked:
    """What a cell asks.

    Attributes:
        digest: of the question; empty if there is none.
        bound: lengths of washed cloth that cannot be beaten.
        area_mm2: cloth in all finished copies.
        refusal: why there is no question.
    """

    digest: str
    bound: LowerBound = LowerBound(0.0, 0.0)
    area_mm2: float = 0.0
    refusal: str = ""


@dataclass(frozen=True)
class Derived:
    """What was found about one garment of a table.

    Attributes:
        cloths: what its copies are cut from.
        cells: by cloth, then by variant, then by size.
    """

    cloths: tuple[CutCloth, ...]
    cells: tuple[tuple[tuple[Asked, ...], ...], ...]


@dataclass(frozen=True)
class Question:
    """What a cell asks, and what is to be cut from the gaps of its layout."""

    layout: LayoutQuestion
    strips: StripsPrepared


def derived(subject: TableSubject) -> tuple[tuple[Derived, ...], dict[str, Question]]:
    """Draft every garment of a table in every size; return what is asked, and the questions.

    Raises:
        Misuse, UnitError: a width that no cloth has.
    """
    questions: dict[str, Question] = {}
    found = []
    for garment in subject.garments:
        drafts = [_drafted(Making(garment.in_size(body))) for body in subject.bodies]
        cloths = _cloths(drafts)
        cells = []
        for cloth in cloths:
            rows = []
            for entry in variants(garment, cloth, subject.asking):
                row = []
                for draft in drafts:
                    row.append(_asked(draft, cloth, entry, questions))
                rows.append(tuple(row))
            cells.append(tuple(rows))
        found.append(Derived(cloths, tuple(cells)))
    return tuple(found), questions


def _drafted(making: Making) -> Making | str:
    """The making if it can be drafted, else why not."""
    try:
        _ = making.pattern, making.assignment
    except ClothwiseError as error:
        return str(error)
    return making


def _cloths(drafts: list[Making | str]) -> tuple[CutCloth, ...]:
    """What is cut in any size, in order of first use; interfacing last."""
    fused: dict[str, bool] = {}
    for making in drafts:
        if isinstance(making, Making):
            for line in making.cutting_list:
                fused[line.fabric] = fused.get(line.fabric, True) and line.ply is Ply.INTERFACING
    cloths = [CutCloth(name, is_fused) for name, is_fused in fused.items()]
    return tuple(sorted(cloths, key=lambda cloth: cloth.is_fused))


def _asked(
    making: Making | str, cloth: CutCloth, entry: FabricEntry, questions: dict[str, Question]
) -> Asked:
    """What a cell asks; its question is added to those there are."""
    if isinstance(making, str):
        return Asked("", refusal=making)
    if cloth.name not in making.assignment.values():
        return Asked("")  # in this size nothing is cut from it
    try:
        own = making.with_cloth(entry)
        question = own.question(cloth.name)
        own.refuse_wide(question)
        strips = own.strips(cloth.name)
    except ClothwiseError as error:
        return Asked("", refusal=str(error))
    questions[question.digest] = Question(question, strips)
    bound = lower_bound(question.items, question.fabric)
    return Asked(question.digest, bound, sum(area_mm2(item) for item in question.items))


# Memory


def memory_key(subject: TableSubject) -> str:
    """Return the key under which the cells of a table are remembered; empty if they must not be.

    Components of a plugin may change without our noticing, so nothing is remembered of those. Nor
    is where bias strips come from the gaps: how long a layout is then depends on its gaps.
    """
    content = subject.content
    kinds = {entry.kind for each in subject.garments for entry in each.make.of.design.components}
    ours = all(component_class(kind).__module__.startswith("clothwise.") for kind in kinds)
    gaps = any(
        BiasFrom(each.make.make.cutting.bias_strips) is BiasFrom.GAPS for each in subject.garments
    )
    if (
        gaps or not ours or " at 0x" in content
    ):  # an address: the text would be another one each time
        return ""
    return _digest("cells of a requirement table", _program(), content)


def told_again(cells: tuple[Derived, ...]) -> str:
    """Return the cells of a table as text, to be remembered."""
    return json.dumps(
        [
            {
                "cloths": [[cloth.name, cloth.is_fused] for cloth in each.cloths],
                "cells": [[[_data(asked) for asked in row] for row in of] for of in each.cells],
            }
            for each in cells
        ],
        ensure_ascii=False,
        separators=(",", ":"),
    )


def recalled(text: str) -> tuple[Derived, ...] | None:
    """Return the cells that a text remembers; None if it is damaged."""
    try:
        return tuple(
            Derived(
                tuple(CutCloth(str(name), bool(is_fused)) for name, is_fused in each["cloths"]),
                tuple(
                    tuple(tuple(_from_data(cell) for cell in row) for row in of)
                    for of in each["cells"]
                ),
            )
            for each in json.loads(text)
        )
    except (ValueError, LookupError, TypeError):
        return None


def _data(asked: Asked) -> list[Any]:
    bound = asked.bound
    return [asked.digest, bound.area_mm, bound.longest_piece_mm, asked.area_mm2, asked.refusal]


def _from_data(data: list[Any]) -> Asked:
    digest, area, longest, copies, refusal = data
    return Asked(str(digest), LowerBound(float(area), float(longest)), float(copies), str(refusal))


@cache
def _program() -> str:
    """Return a digest of all that drafts and lays: other code, other cells."""
    folder = Path(clothwise.__file__).parent
    files = sorted(folder.rglob("*.py"))
    contents = (f"{file.relative_to(folder)} {_sha(file.read_bytes())}" for file in files)
    return _digest(*contents, *(f"{name} {version(name)}" for name in _ENGINES))


def _digest(*texts: str) -> str:
    return _sha("\n".join(texts).encode("utf-8", "replace"))


def _sha(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()
