"""`clothwise draft`: the pieces."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from clothwise.cli.commands.options import BASE_SIZE, CHOICE, JSON, TARGET, VIEW


@click.command()
@TARGET
@VIEW
@BASE_SIZE
@CHOICE
@click.option(
    "--body",
    "body_file",
    type=click.Path(path_type=Path),
    help="Draft for the person in this file, and report what moved against the nearest size.",
)
@click.option(
    "--grades",
    type=click.Path(path_type=Path),
    help="Also write how every point moves from size to size: a .csv, .xlsx or .pdf file.",
)
@click.option(
    "--sheet",
    type=click.Path(path_type=Path),
    help="Also write the finished measurements of all sizes: a .csv, .xlsx or .pdf file.",
)
@JSON
@click.option(
    "--out", type=click.Path(path_type=Path), help="Also draw the pieces into this SVG file."
)
def draft(
    target: Path,
    view: str,
    size: str,
    choices: tuple[str, ...],
    body_file: Path | None,
    grades: Path | None,
    sheet: Path | None,
    json_: bool,
    out: Path | None,
) -> int:
    """Draft the pieces and show them with the seams between them.

    A make is drafted with its own choices, for whom it is for; if that is a person, or with
    --body, what moved against the nearest size of the chart is told as well.
    """
    from clothwise.cli import show
    from clothwise.cli.targets import chosen, to_draft_at
    from clothwise.packet.tables import pattern_data

    asked = to_draft_at(target, view, size, chosen(choices), body_file)
    adjustment = None
    if asked.is_person:
        from clothwise.checks.girths import measured_girths
        from clothwise.sizing.adjusting import adjusted

        adjustment = adjusted(asked.design, asked.choices, asked.body, girths=measured_girths)
        pattern = adjustment.pattern
    else:
        pattern = asked.design.draft(asked.choices, body=asked.body)
    if grades is not None or sheet is not None:
        from clothwise.cli.grading import write_tables

        write_tables(asked.design, asked.choices, view, asked.unit, grades=grades, sheet=sheet)
    data = pattern_data(pattern)
    if out is not None:
        from clothwise.packet.printing import pieces_svg
        from clothwise.pattern.saving import write_atomically

        write_atomically(out, pieces_svg(pattern, asked.design.design.title))
    if json_:
        if adjustment is not None:
            from clothwise.cli.one_body import adjustment_data

            data = {**data, "adjustment": adjustment_data(adjustment)}
        show.as_json(data)
        return 0
    title = asked.design.design.title
    whom = asked.whom
    _show_pattern(data, f"{title}, {'for' if asked.is_person else 'size'} {whom}", asked.unit)
    if adjustment is not None:
        from clothwise.cli.one_body import show_adjustment

        show_adjustment(adjustment, whom, asked.unit)
    return 0


def _show_pattern(data: dict[str, Any], title: str, unit: Any) -> None:
    from clothwise.cli import show
    from clothwise.units import format_length

    def text(length_mm: float) -> str:
        return format_length(length_mm, unit)

    show.table(
        ("piece", "copies", "cutting line"),
        [
            (
                f"{piece['title']}{' (half, on the fold)' if piece['on_fold'] else ''}",
                ", ".join(piece["copies"]),
                text(piece["cutting_line_mm"]),
            )
            for piece in data["pieces"]
        ],
        title=title,
        right=(2,),
    )
    show.table(
        ("seam", "lengths", "allowance"),
        [
            (
                seam["title"],
                "  ".join(text(layer["length_mm"]) for layer in seam["layers"]),
                text(seam["allowance_mm"]),
            )
            for seam in data["seams"]
        ],
        right=(2,),
    )
