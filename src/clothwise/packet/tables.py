"""Derived data as plain values, for JSON and CSV."""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Iterable, Sequence
from typing import Any

from clothwise.cutting import StripPlan
from clothwise.output.spreadsheet import inert
from clothwise.packet.cloth_facts import limit_data
from clothwise.packet.making import ClothPlan
from clothwise.pattern import Finding, Pattern, cutting_line
from clothwise.pattern.junctions import SeamCorners
from clothwise.work import Step, heat_of


def finding_data(finding: Finding) -> dict[str, Any]:
    """A finding as JSON values; places are in mm on the piece."""
    at = finding.at
    return {
        "code": finding.code,
        "severity": finding.severity.value,
        "size": finding.size,
        "piece": finding.piece,
        "edge": finding.edge,
        "seam": finding.seam,
        "message": finding.message,
        "measured": finding.measured,
        "allowed": finding.allowed,
        "remedy": finding.remedy,
        "at_mm": [round(at.x, 2), round(at.y, 2)] if at else None,
    }


def pattern_data(pattern: Pattern, corners: SeamCorners | None = None) -> dict[str, Any]:
    """Pieces with the lengths of their edges and seams with the lengths of their layers, mm."""
    corners = corners or SeamCorners(pattern)
    return {
        "size": pattern.size,
        "pieces": [
            {
                "name": piece.name,
                "title": piece.title,
                "on_fold": piece.fold_edge is not None,
                "copies": [copy.name for copy in piece.copies],
                "edges_mm": {
                    name: round(path.length, 2) for name, path in piece.outline.edges.items()
                },
                "darts": [dart.leg_in.removesuffix("-in") for dart in piece.darts],
                "cutting_line_mm": round(cutting_line(pattern, piece.name, corners).path.length, 2),
            }
            for piece in pattern.pieces.values()
        ],
        "seams": [
            {
                "name": seam.name,
                "title": seam.title,
                "allowance_mm": seam.allowance_mm,
                "layers": [
                    {
                        "run": [str(edge) for edge in layer.run.edges],
                        "length_mm": round(pattern.run_length(layer.run), 2),
                        "ease_mm": round(layer.ease_mm, 2),
                    }
                    for layer in seam.layers
                ],
            }
            for seam in pattern.seams.values()
        ],
    }


def cloth_data(cloth: ClothPlan) -> dict[str, Any]:
    """What is cut from a fabric and how much to buy."""
    layout, needed = cloth.layout, cloth.requirement
    return {
        "fabric": cloth.entry.name,
        "title": cloth.title,
        "plan": layout.plan.value,
        "cloth": _cloth_as_stated(cloth),
        "between_mm": layout.spacing.between_mm,
        "ends_mm": layout.spacing.ends_mm,
        "pinned": list(cloth.pinned),
        "pieces": [
            {
                "number": line.number,
                "piece": line.piece,
                "title": line.title,
                "cut": line.amount,
                "copies": list(line.copies),
                "mirrored": line.mirrored,
                "on_fold": line.on_fold,
                "interfaced": line.interfaced,
                "grain": line.grain,
                "ply": line.ply.value,
                "to": line.cut_along,
                "notes": list(line.notes),
            }
            for line in cloth.lines
        ],
        "layout_length_mm": round(layout.length_mm, 1),
        "used_share": round(layout.used_share, 4),
        "left_over_share": round(1 - layout.used_share, 4),
        "lower_bound_mm": round(layout.bound.length_mm, 1),
        "area_bound_mm": round(layout.bound.area_mm, 1),
        "longest_piece_bound_mm": round(layout.bound.longest_piece_mm, 1),
        "over_lower_bound_share": round(layout.gap_share, 4),
        "limits": limit_data(cloth),
        "shorter_plans": [
            {"layers": each.plan.value, "layout_length_mm": round(each.length_mm, 1)}
            for each in cloth.shorter_plans
        ],
        "needed_length_mm": round(needed.buy_length_mm, 1),
        **_bought_data(cloth),
        "currency": layout.fabric.currency,
        "notes": list(layout.notes),
        "bias_strips": [strip_data(plan) for plan in cloth.strips],
        "matching": matching_data(cloth),
    }


def _bought_data(cloth: ClothPlan) -> dict[str, Any]:
    """What is bought: nothing, if the length at hand suffices."""
    needed = cloth.requirement
    if cloth.suffices:
        return {"buy_length_mm": 0.0, "buy_m": 0.0, "buy_yd": 0.0, "cost": None}
    return {
        "buy_length_mm": round(needed.buy_length_mm, 1),
        "buy_m": float(needed.meters),
        "buy_yd": float(needed.yards),
        "cost": None if needed.cost is None else round(needed.cost, 2),
    }


def _cloth_as_stated(cloth: ClothPlan) -> dict[str, Any]:
    """The cloth as bought; None for what is not known of it."""
    fabric, heat = cloth.layout.fabric, heat_of(cloth.entry.fiber)
    at_hand = fabric.length_mm
    return {
        "width_mm": round(fabric.nominal_width_mm, 1),
        "usable_width_mm": round(fabric.usable_width_mm, 1),
        "length_at_hand_mm": round(at_hand, 1) if math.isfinite(at_hand) else None,
        "shrinkage_along": fabric.shrinkage_along,
        "shrinkage_across": fabric.shrinkage_across,
        "nap": fabric.nap.value,
        "wrong_side_usable": fabric.wrong_side_usable,
        "grainless": fabric.grainless,
        "thickness_mm": fabric.thickness_mm or None,
        "flaws": len(fabric.flaws),
        "fiber": fabric.fiber or None,
        "iron_dots": heat.dots if heat else None,
        "iron_most_c": heat.most_c if heat else None,
    }


def matching_data(cloth: ClothPlan) -> dict[str, Any] | None:
    """What meets on the pattern of a fabric and how much more that takes; None if nothing does."""
    extra_mm = cloth.extra_for_matching_mm
    if extra_mm is None:
        return None
    groups: dict[str, list[dict[str, Any]]] = {}
    for match in cloth.matches:
        groups.setdefault(match.group, []).append(
            {
                "copy": match.item_id,
                "at_mm": [round(each, 2) for each in match.point],
                "along": match.along,
                "across": match.across,
            }
        )
    return {"extra_mm": round(extra_mm, 1), "groups": groups}


def strip_data(plan: StripPlan) -> dict[str, Any]:
    """How bias strips of one width are cut, from a block or from the gaps."""
    block = plan.block
    return {
        "from": plan.source.value,
        "width_mm": round(plan.needs[0].width_mm, 1),
        "joins": plan.joins,
        "strips": [
            {
                "component": need.component,
                "copies": list(need.item_ids),
                "length_mm": round(need.length_mm, 1),
            }
            for need in plan.needs
        ],
        "blocks": plan.blocks,
        "block_length_mm": round(block.length_mm, 1) if block else None,
        "block_breadth_mm": round(block.breadth_mm, 1) if block else None,
        "parts_mm": (
            [round(part.length_mm, 1) for part in block.parts]
            if block
            else [[round(part, 1) for part in parts] for parts in plan.parts_mm]
        ),
        "extra_mm": round(plan.extra_mm, 1),
    }


def step_data(step: Step) -> dict[str, Any]:
    """A step of the order of work."""
    return {
        "number": step.number,
        "title": step.title,
        "text": step.text,
        "station": step.station.value,
        "minutes": step.minutes,
        "cautions": [caution.value for caution in step.cautions],
        "pieces": list(step.pieces),
        "reasons": list(step.reasons),
    }


def csv_text(header: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    """Rows as CSV text with line ends of its own standard (RFC 4180); no cell is a formula."""
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(header)
    writer.writerows(
        [inert(cell) if isinstance(cell, str) else cell for cell in row] for row in rows
    )
    return out.getvalue()
