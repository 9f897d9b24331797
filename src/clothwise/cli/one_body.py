"""The report of a draft for one body: nearest size, measurements, seams moved and why."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import click

from clothwise.cli import show
from clothwise.pattern.vocabulary import MEASUREMENTS
from clothwise.sizing.adjusting import Adjustment, Change, ChangeKind
from clothwise.sizing.nearest import Difference
from clothwise.units import LengthUnit, format_angle, format_cm, format_inches, format_mm

__all__ = ["adjustment_data", "show_adjustment"]

_LEAST_POINT_MM = 1.0
_NOTABLE_LENGTH_MM = 10.0
_FINEST_INCH = 16  # an eighth would hide a difference of a millimeter


def adjustment_data(found: Adjustment) -> dict[str, Any]:
    """The report as data for other programs; lengths in mm, angles in radians."""
    nearest = found.nearest
    return {
        "nearest_size": nearest.size.name,
        "chosen_by": nearest.chosen_by.value,
        "beyond_chart_mm": round(nearest.beyond_mm, 2),
        "measurements": [
            {
                "measurement": each.measurement,
                "size_mm_or_rad": round(each.size, 4),
                "body_mm_or_rad": round(each.body, 4),
                "difference_mm_or_rad": round(each.difference, 4),
                "estimated": each.body_estimated,
            }
            for each in nearest.differences
        ],
        "changes": [
            {
                "kind": each.kind.value,
                "name": each.name,
                "title": each.title,
                "size_mm": round(each.size_mm, 2),
                "body_mm": round(each.body_mm, 2),
                "moved_mm": round(each.moved_mm, 2),
                "causes_mm": {group.value: round(mm, 2) for group, mm in each.causes.items()},
                "only_in": each.only_in,
            }
            for each in found.changes
        ],
        "points": [
            {
                "piece": each.piece,
                "point": each.point,
                "right_mm": round(each.right_mm, 2),
                "up_mm": round(each.up_mm, 2),
            }
            for each in found.moves
            if each.far_mm >= _LEAST_POINT_MM
        ],
        "refused": list(found.refused),
    }


def show_adjustment(found: Adjustment, name: str, unit: LengthUnit) -> None:
    """Write the report to standard output."""
    nearest, by = found.nearest, MEASUREMENTS[found.nearest.chosen_by].label
    click.echo(f"\nNearest size for {name}: {nearest.size.name}, chosen by the {by}.")
    if nearest.beyond_mm:
        away = _length(nearest.beyond_mm, unit)
        click.echo(
            f"The {by} lies {away} beyond the size chart; the draft follows the measurements all "
            "the same."
        )
    _show_measurements(found, name, unit)
    _show_changes(found, name, unit)
    for each in (*found.refused, *_hints(found, unit)):
        click.echo(each)


def _hints(found: Adjustment, unit: LengthUnit) -> Iterator[str]:
    """What a person should measure, because a size's measurement beside her own misleads."""
    back = found.nearest.difference("back_neck_to_waist").difference
    front = found.nearest.difference("neck_shoulder_point_to_waist_front")
    if abs(back) >= _NOTABLE_LENGTH_MM and not front.is_notable and not front.body_estimated:
        yield (
            f"The back is {_length(abs(back), unit)} {'longer' if back > 0 else 'shorter'} than "
            "the size's, the front as long: the bust dart takes up the difference. Measure "
            f"{front.measurement} too."
        )


def _show_measurements(found: Adjustment, name: str, unit: LengthUnit) -> None:
    differing = [each for each in found.nearest.differences if each.is_notable]
    notable = [each for each in differing if not (each.body_estimated and each.size_estimated)]
    if not notable:
        click.echo("Every measurement is that of the size.")
        return
    show.table(
        ("measurement", f"size {found.nearest.size.name}", name, "difference"),
        [
            (
                MEASUREMENTS[each.measurement].label,
                _value(each, each.size, unit),
                _value(each, each.body, unit) + ("*" if each.body_estimated else ""),
                _signed(each.difference, _value(each, abs(each.difference), unit)),
            )
            for each in notable
        ],
        right=(1, 2, 3),
    )
    if any(each.body_estimated for each in notable):
        click.echo("* estimated from the other measurements; measure it if you can")
    if hidden := len(differing) - len(notable):
        click.echo(f"{hidden} more differ that were estimated for both; --json shows them.")
    click.echo()


def _show_changes(found: Adjustment, name: str, unit: LengthUnit) -> None:
    moved = [each for kind in ChangeKind for each in found.moved(kind)]
    if not moved:
        click.echo("No seam moved by a millimeter.")
        return
    show.table(
        ("moved", "", f"size {found.nearest.size.name}", name, "by", "because of"),
        [
            (
                each.title,
                each.kind.value,
                "none" if each.only_in == "body" else _length(each.size_mm, unit),
                "none" if each.only_in == "size" else _length(each.body_mm, unit),
                _signed(each.moved_mm, _length(abs(each.moved_mm), unit)),
                ", ".join(_causes(each, unit)),
            )
            for each in moved
        ],
        right=(2, 3, 4),
    )
    still = len(found.changes) - len(moved)
    click.echo(f"{still} more {'line' if still == 1 else 'lines'} moved by less than a millimeter.")


def _causes(change: Change, unit: LengthUnit) -> Iterator[str]:
    """The groups; with what each moved, where there are several."""
    told = change.main_causes
    for group, moved_mm in told:
        if len(told) == 1:
            yield group.value
        else:
            shown = _length(abs(moved_mm), unit).removesuffix(f" {unit.value}")
            yield f"{group.value} {_signed(moved_mm, shown)}"


def _value(of: Difference, value: float, unit: LengthUnit) -> str:
    return format_angle(value) if of.is_angle else _length(value, unit)


def _length(length_mm: float, unit: LengthUnit) -> str:
    """In the unit, fine enough to show a millimeter."""
    if unit is LengthUnit.INCH:
        return format_inches(length_mm, denominator=_FINEST_INCH)
    return format_cm(length_mm) if unit is LengthUnit.CENTIMETER else format_mm(length_mm)


def _signed(value: float, shown: str) -> str:
    return f"{'+' if value >= 0 else '-'}{shown}"
