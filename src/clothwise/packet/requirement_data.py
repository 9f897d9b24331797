"""The requirement table as plain values; nothing that draws is loaded for it."""

from __future__ import annotations

from typing import Any

from clothwise.packet.requirement_table import RequirementTable, TableCell
from clothwise.packet.requirement_words import notes_of

__all__ = ["REQUIREMENT_KINDS", "requirement_data"]

REQUIREMENT_KINDS = (".pdf", ".csv", ".xlsx", ".json")
"""What `requirement_file` can write."""


def requirement_data(table: RequirementTable) -> dict[str, Any]:
    """A table as JSON values; lengths in mm, of washed cloth but for `buy_length_mm`."""
    return {
        "title": table.title,
        "sizes": list(table.sizes),
        "rows": [
            {
                "garment": row.garment,
                "fabric": row.entry.name,
                "title": row.cloth,
                "width_mm": round(row.width_mm, 1),
                "nap": row.entry.nap,
                "layers": row.entry.layers,
                "cells": [_cell_data(cell) for cell in row.cells],
            }
            for row in table.rows
        ],
        "notes": list(notes_of(table)),
    }


def _cell_data(cell: TableCell) -> dict[str, Any]:
    needed = cell.requirement
    if needed is None:
        return {"size": cell.size, "buy_m": None, "buy_yd": None, "refusal": cell.refusal}
    return {
        "size": cell.size,
        "buy_m": float(needed.meters),
        "buy_yd": float(needed.yards),
        "buy_length_mm": round(needed.buy_length_mm, 1),
        "layout_length_mm": round(needed.layout_length_mm, 1),
        "lower_bound_mm": round(cell.bound_mm, 1),
        "gap_share": round(cell.gap_share, 4),
        "used_share": round(cell.used_share, 4),
        "cost": None if needed.cost is None else round(needed.cost, 2),
        "currency": needed.fabric.currency,
        "refusal": "",
    }
