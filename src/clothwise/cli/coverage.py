"""`clothwise measure --coverage`: whom a chart fits, in the terminal and as a picture."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from clothwise.cli import show
from clothwise.errors import Misuse
from clothwise.units import LengthUnit, format_cm, format_inches, parse_length

if TYPE_CHECKING:
    from clothwise.pattern.size_chart import SizeChart
    from clothwise.sizing.coverage import Coverage, Share

__all__ = ["require_coverage", "show_coverage"]

_KINDS = (".pdf", ".svg")


def require_coverage(*, coverage: bool, tolerance: str, out: Path | None, size: str) -> None:
    """Refuse options that do not go together.

    Raises:
        Misuse: a tolerance or a picture of no coverage, or the coverage of a single size.
    """
    if coverage and size:
        raise Misuse(
            "coverage is counted for the whole size chart",
            where="--size",
            how_much=size,
            what_to_do="Leave --size away; the table has a row for each size.",
        )
    alone = "--tolerance" if tolerance else "--out" if out is not None else ""
    if alone and not coverage:
        raise Misuse(
            f"{alone} is about coverage, which was not asked for",
            what_to_do=f"Add --coverage, or leave {alone} away.",
        )


def show_coverage(chart: SizeChart, *, tolerance: str, out: Path | None, json_: bool) -> int:
    """Count, show, and draw into a file if one is named.

    Raises:
        UnitError: the tolerance is no length with a unit.
        Misuse: it is out of range or needed, or the file is of another kind.
        OutputError: the file cannot be written.
    """
    from clothwise.sizing.coverage import coverage
    from clothwise.sizing.suggestion import explained, suggestions

    _require_kind(out)
    tolerance_mm = parse_length(tolerance) if tolerance else None
    found = coverage(chart, tolerance_mm=tolerance_mm)
    changes = suggestions(chart, tolerance_mm=tolerance_mm)
    first, second = explained(found, changes, chart.unit)
    if out is not None:
        _draw(found, chart, second, out)
    if json_:
        from clothwise.packet.coverage_data import coverage_data

        show.as_json(coverage_data(found, changes, f"{first} {second}"))
        return 0
    _show(found, chart)
    click.echo(f"{first} {second}")
    return 0


def _require_kind(out: Path | None) -> None:
    if out is not None and out.suffix.lower() not in _KINDS:
        raise Misuse(
            "the picture of the coverage is not drawn into a file of this kind",
            where=str(out),
            what_to_do="Let its name end in .pdf or .svg.",
        )


def _draw(found: Coverage, chart: SizeChart, sentence: str, out: Path) -> None:
    from clothwise.output import to_pdf, to_svg
    from clothwise.output.coverage_drawing import coverage_drawing, coverage_page
    from clothwise.pattern.saving import write_atomically

    drawing = coverage_drawing(found, title=chart.title, unit=chart.unit, sentence=sentence)
    page = coverage_page(drawing)
    to_file = to_svg if out.suffix.lower() == ".svg" else to_pdf
    write_atomically(out, to_file(drawing, page=page))


# In the terminal ----------------------------------------------------------------------------------


def _show(found: Coverage, chart: SizeChart) -> None:
    from clothwise.sizing.coverage import Outcome
    from clothwise.sizing.survey import SURVEY

    def length(length_mm: float) -> str:
        if chart.unit is LengthUnit.INCH:
            return format_inches(length_mm).removesuffix(" in")
        return format_cm(length_mm).removesuffix(" cm")

    unit = "in" if chart.unit is LengthUnit.INCH else "cm"
    show.table(
        ("size", f"bust ({unit})", f"hip ({unit})", "women", "of 100", "no other size"),
        [
            (
                size.name,
                f"{length(size.bust.low_mm)} to {length(size.bust.high_mm)}",
                f"{length(size.hip.low_mm)} to {length(size.hip.high_mm)}",
                str(told.fits.count),
                _of_hundred(told.fits),
                str(told.only.count),
            )
            for size, told in zip(found.sizes, found.by_size, strict=True)
        ],
        title=f"Whom the sizes fit. {chart.title}".rstrip(),
        right=(3, 4, 5),
    )
    rows = [(outcome.value, found.outcomes[outcome]) for outcome in Outcome]
    for each in found.by_region:
        rows.append((f"{each.region.value} alone in some size", each.within))
        rows.append((f"{each.region.value} below the range", each.below))
        rows.append((f"{each.region.value} above the range", each.above))
        if each.in_gap.count:
            rows.append((f"{each.region.value} in a gap between sizes", each.in_gap))
    show.table(
        ("", "women", "of 100"),
        [(words, str(share.count), _of_hundred(share)) for words, share in rows],
        right=(1, 2),
    )
    if found.apart:
        show.table(
            ("between sizes: the hip is", "women", "of 100"),
            [
                (_apart(each.sizes), str(each.bodies.count), _of_hundred(each.bodies))
                for each in found.apart
            ],
            right=(1, 2),
        )
    if found.shortened:
        click.echo("Steps wider than 8 cm leave gaps: no size reaches further than 4 cm.")
    low, high = found.fits.interval
    click.echo(f"{SURVEY.people}. {SURVEY.caveat}")
    click.echo(
        f"A sample of this size leaves {100 * low:.1f} to {100 * high:.1f} of 100 plausible (95 %)."
    )
    click.echo(f"The waist is left out. {SURVEY.waist}")
    if found.navel is not None:
        gaps = (found.navel.low_mm, found.navel.median_mm, found.navel.high_mm)
        click.echo(
            "Of those who fit, the navel girth less the waist of their size is "
            f"{length(gaps[1])} {unit} in the middle, {length(gaps[0])} to {length(gaps[2])} "
            f"{unit} for eight of ten."
        )
    click.echo(f"Source: {SURVEY.source}.\n")


def _of_hundred(share: Share) -> str:
    return f"{100 * share.share:.1f}"


def _apart(sizes: int) -> str:
    number = abs(sizes)
    return f"{number} {'size' if number == 1 else 'sizes'} {'larger' if sizes > 0 else 'smaller'}"
