"""`clothwise draft`: the pieces."""

from __future__ import annotations

from pathlib import Path

import click

from clothwise.cli.commands.options import BASE_SIZE, CHOICE, JSON, TARGET, VIEW


@click.command()
@TARGET
@VIEW
@BASE_SIZE
@CHOICE
@JSON
@click.option(
    "--out", type=click.Path(path_type=Path), help="Also draw the pieces into this SVG file."
)
def draft(
    target: Path, view: str, size: str, choices: tuple[str, ...], json_: bool, out: Path | None
) -> int:
    """Draft the pieces and show them with the seams between them."""
    from clothwise.cli import show
    from clothwise.cli.targets import chosen, design_at
    from clothwise.packet.tables import pattern_data
    from clothwise.units import format_length

    design = design_at(target)
    pattern = design.draft(chosen(choices), view=view, body=design.body(size))
    data = pattern_data(pattern)
    if out is not None:
        from clothwise.packet.printing import pieces_svg
        from clothwise.pattern.saving import write_atomically

        write_atomically(out, pieces_svg(pattern, design.design.title))
    if json_:
        show.as_json(data)
        return 0

    def text(length_mm: float) -> str:
        return format_length(length_mm, design.design.unit)

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
        title=f"{design.design.title}, size {pattern.size or design.body(size).name}",
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
    return 0
