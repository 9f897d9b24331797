"""Errors as data: four parts, all faults of a document, and what is in conflict."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import asdict
from typing import Any

from starlette.requests import Request

from clothwise.app.mending_places import place_of, ways_to
from clothwise.app.opening import shop
from clothwise.app.work.errors import REFUSED_SIZE, JobRefused
from clothwise.errors import ClothwiseError, DocumentError, MeasurementError
from clothwise.pattern.history import Conflict

__all__ = ["conflict_in", "refused_size", "told_of", "ways_out"]

FAULTS_SHOWN = 12
"""So many are mended in one go; our own choice."""


def refused_size(error: ClothwiseError | None) -> str:
    """Return the size that was refused beside others that can be drafted; empty if it is none."""
    return error.where if isinstance(error, JobRefused) and error.kind == REFUSED_SIZE else ""


def told_of(request: Request, error: ClothwiseError) -> dict[str, Any]:
    """Return an error as data, with paths as they stand in the workspace."""
    told: dict[str, Any] = {
        "what": error.what,
        "where": error.where,
        "how_much": error.how_much,
        "what_to_do": error.what_to_do,
        "faults": [],
    }
    faults = _faults(error)
    if len(faults) == 1:
        told |= faults[0]
    elif faults:
        told["what"] = f"{len(faults)} things have to be mended first"
        told["what_to_do"] = ""
        told["faults"] = [_in_one_line(fault) for fault in faults[:FAULTS_SHOWN]]
        if len(faults) > FAULTS_SHOWN:
            told["how_much"] = f"the first {FAULTS_SHOWN} are listed"
    folder = str(shop(request).workspace.folder.resolve())
    cleaned: dict[str, Any] = json.loads(
        json.dumps(told).replace(json.dumps(f"{folder}/")[1:-1], "")
    )
    return cleaned


def ways_out(request: Request, error: ClothwiseError) -> list[dict[str, str]]:
    """Return the fields in which the faults of a design are mended: words and address of each."""
    faults: list[Mapping[str, Any]] = []
    if isinstance(error, DocumentError):
        faults += [asdict(fault) for fault in error.faults]
    elif isinstance(error, JobRefused) and error.kind == "DocumentError":
        faults += error.faults
    return ways_to(str(request.path_params.get("design", "")), faults)


def _faults(error: ClothwiseError) -> list[dict[str, str]]:
    """The faults of a document or of a body, each in four parts."""
    if isinstance(error, DocumentError | MeasurementError):
        return [_in_four_parts(error, asdict(fault)) for fault in error.faults]
    if isinstance(error, JobRefused) and error.kind in ("DocumentError", "MeasurementError"):
        return [_in_four_parts(error, fault) for fault in error.faults]
    return []


def _in_four_parts(error: ClothwiseError, fault: Mapping[str, Any]) -> dict[str, str]:
    line = f"line {fault['line']}" if fault.get("line") else ""
    path, file = str(fault.get("path", "")), str(fault.get("file", ""))
    where = ", ".join(part for part in (file, line, path) if part)
    if place := place_of(path):
        in_file = ", ".join(part for part in (file, line) if part)
        where = f"{place} ({in_file})" if in_file else place
    return {
        "what": str(fault["what"]),
        "where": where or error.where,
        "how_much": str(fault.get("how_much", "")),
        "what_to_do": str(fault.get("remedy", "")),
    }


def _in_one_line(fault: Mapping[str, str]) -> str:
    how_much = f" ({fault['how_much']})" if fault["how_much"] else ""
    return f"{fault['where']}: {fault['what']}{how_much}. {fault['what_to_do']}".strip()


def conflict_in(error: ClothwiseError) -> dict[str, Any] | None:
    """Return what was changed here and there; None if it is no conflict."""
    if not isinstance(error, Conflict):
        return None
    return {
        "mine": error.mine.id if error.mine else "",
        "words": error.mine.words if error.mine else "",
        "theirs": [entry.words for entry in error.theirs],
    }
