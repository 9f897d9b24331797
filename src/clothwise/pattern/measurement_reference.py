"""Writes the reference page of the body measurements from the vocabulary.

    python -m clothwise.pattern.measurement_reference docs/reference

A test compares the page with what this would write.
"""

from __future__ import annotations

import sys
from pathlib import Path

from clothwise.pattern.quantity import QuantityKind
from clothwise.pattern.saving import write_atomically
from clothwise.pattern.vocabulary import MEASUREMENTS, RELATIONS, REQUIRED, Measurement, Relation
from clothwise.units import format_angle, format_cm, format_inches, format_mm

__all__ = ["measurement_page", "write_measurement_page"]

_FILE_NAME = "measurements.md"

_OPENING = f"""\
# Body measurements

At least {", ".join(f"`{name}`" for name in REQUIRED)} must be given. Each other measurement that
is missing is estimated by its rule and marked as estimated; measuring is better. Rules are
formulas over measurements that stand before them here. An estimate is held within the plausible
range of an adult and within the [bounds](#bounds) to what is known already. In a size chart a
measurement that at least two sizes give goes on in the others [as these step](size-charts.md).

Names are the terms of ISO 8559-1:2017, with the clause where we know it; the definitions are in our
own words. "The survey" is ANSUR II (US Army, 2010 to 2012), 1,595 women: soldiers, mostly young.

How to write them in a file: lengths as `92cm`, `920mm`, `36 1/2 in` or `5 ft 6 in`, angles as
`21deg`; a size chart states the unit in its headings (`bust_girth_cm`) or in a line `# unit: cm`.

This page is written by `python -m clothwise.pattern.measurement_reference docs/reference`.
"""

_BOUNDS = """\
## Bounds

Two measurements that break one of these contradict each other, and are refused. The bounds are
wide: every woman of the survey keeps them. They are there to catch a slip of the pen.
"""


def measurement_page() -> str:
    """Return the page."""
    sections = [_section(each) for each in MEASUREMENTS.values()]
    bounds = [_bound(each) for each in RELATIONS]
    return "\n".join([_OPENING, *sections, _BOUNDS, *bounds]) + "\n"


def write_measurement_page(folder: Path) -> None:
    """Write the page into a folder that exists.

    Raises:
        OutputError: the page cannot be written.
    """
    write_atomically(folder / _FILE_NAME, measurement_page())


def _section(of: Measurement) -> str:
    lines = [f"## {of.name}", "", of.definition, ""]
    if of.iso_clause:
        lines.append(f"- ISO 8559-1:2017, {of.iso_clause}")
    lines.append(f"- Plausible: {_range(of)}")
    if of.rule:
        lines.append(f"- Estimate: `{of.rule}`")
        lines.append(f"- Source: {of.source}")
    else:
        lines.append("- Required")
    return "\n".join([*lines, ""])


def _range(of: Measurement) -> str:
    if of.kind is QuantityKind.ANGLE:
        return f"{format_angle(of.smallest)} to {format_angle(of.largest)}"
    inches = f"{format_inches(of.smallest)} to {format_inches(of.largest)}"
    return f"{format_cm(of.smallest)} to {format_cm(of.largest)} ({inches})"


def _bound(of: Relation) -> str:
    factor = "" if of.factor == 1 else f"{of.factor:g} × "
    gap = f" + {format_mm(of.gap_mm)}" if of.gap_mm else ""
    return f"- `{of.larger}` is at least {factor}`{of.smaller}`{gap}"


if __name__ == "__main__":
    write_measurement_page(Path(sys.argv[1]))
