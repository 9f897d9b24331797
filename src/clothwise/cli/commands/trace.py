"""`clothwise trace`: the shape of a remnant from a photo."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from clothwise.cli.commands.options import JSON
from clothwise.errors import Misuse

if TYPE_CHECKING:
    from clothwise.packet.traced_remnant import TracedPhoto


@click.command()
@click.argument("photo", type=click.Path(path_type=Path), required=False)
@click.option(
    "--marks",
    metavar="LENGTH,WIDTH",
    default="",
    help="Measured from the middle of mark 1 to that of mark 2, along the warp, and from 2 to 3: "
    "such as 100cm,80cm.",
)
@click.option(
    "--corner",
    "corners",
    multiple=True,
    metavar="X,Y",
    help="Without printed marks: a corner of the rectangle in pixels from the upper left of the "
    "photo. Give four, the first two along the warp, anticlockwise as seen.",
)
@click.option(
    "--inward",
    default="",
    metavar="LENGTH",
    help="How far the outline is drawn in, for a frayed edge; 2 mm or a little more if left out.",
)
@click.option(
    "--stash",
    type=click.Path(path_type=Path, dir_okay=False),
    default=None,
    help="Write the remnant into this file of cloths; it is made if it is not there.",
)
@click.option("--name", default="", help="What the remnant is called in the stash.")
@click.option("--anew", is_flag=True, help="Replace the shape of a remnant of this name.")
@click.option(
    "--picture",
    type=click.Path(path_type=Path, dir_okay=False),
    default=None,
    help="Write the photo with the traced lines on it into this PNG file, to look at.",
)
@click.option(
    "--print-marks",
    type=click.Path(path_type=Path, dir_okay=False),
    default=None,
    help="Write a page with the four marks to print into this PDF file.",
)
@click.option(
    "--paper", type=click.Choice(["a4", "letter"]), default="a4", help="What it is printed on."
)
@JSON
def trace(
    photo: Path | None,
    marks: str,
    corners: tuple[str, ...],
    inward: str,
    stash: Path | None,
    name: str,
    anew: bool,
    picture: Path | None,
    print_marks: Path | None,
    paper: str,
    json_: bool,
) -> int:
    """Take the shape of a remnant from a photo.

    Print four marks, lay them around the cloth, measure how far apart they are, and take a photo
    from above: the outline and the holes then go into a stash, to scale.
    """
    from clothwise.pattern.saving import write_atomically

    if print_marks is not None:
        from clothwise.output import paper_named, to_pdf
        from clothwise.output.mark_sheet import mark_sheet

        write_atomically(print_marks, to_pdf(mark_sheet(paper_named(paper))))
        click.echo(f"{print_marks}: marks 1 to 4; print at full size")
        if photo is None:
            return 0
    found = traced(photo, marks, corners, inward)
    undo = put_into(stash, name, found, anew) if stash is not None else ""
    if picture is not None:
        write_atomically(picture, found.picture())
    show_traced(found, f"{stash}: {name}. {undo}" if stash else "", picture, json_)
    return 0


def put_into(stash: Path, name: str, found: TracedPhoto, anew: bool) -> str:
    """Write a traced remnant into a stash; return how to undo it.

    Raises:
        Misuse: there is a cloth of this name already, or it can be none.
        DocumentError: with all faults of the stash as it is.
        OutputError: it cannot be written; it is as it was.
    """
    from clothwise.cli.changing import changing
    from clothwise.packet.traced_remnant import into_stash, remnant_entry, seen_from
    from clothwise.pattern.document import Stash
    from clothwise.pattern.document.stash import STASH_FILE
    from clothwise.pattern.document.stash_file import read_stash

    document = changing(stash, apart=STASH_FILE)
    before = read_stash(stash) if stash.exists() else Stash()
    remnant = remnant_entry(name, found.traced, seen_from(stash.parent, found.path))
    return document.change(into_stash(before, document.name, name, remnant, anew=anew))


def traced(photo: Path | None, marks: str, corners: tuple[str, ...], inward: str) -> TracedPhoto:
    """Trace a photo as the options say.

    Raises:
        Misuse: something is missing, or cannot be read.
        CuttingError: the marks are not found, or the cloth is not.
    """
    from clothwise.packet.traced_remnant import trace_photo
    from clothwise.units import parse_length

    if photo is None or not marks:
        raise Misuse(
            "no photo is named" if photo is None else "nothing says how far apart the marks are",
            where="trace",
            what_to_do="Write clothwise trace PHOTO --marks 100cm,80cm with what you measured; "
            "clothwise trace --print-marks marks.pdf prints the marks.",
        )
    sides = [part.strip() for part in marks.split(",")]
    if len(sides) != 2:
        raise Misuse(
            f"{marks[:40]!r} is not a length and a width",
            where="--marks",
            what_to_do="Write both with their units, such as 100cm,80cm.",
        )
    length_mm, width_mm = (parse_length(side) for side in sides)
    return trace_photo(
        photo,
        length_mm,
        width_mm,
        corners=[_pixels(text) for text in corners],
        inward_mm=parse_length(inward) if inward else None,
    )


def _pixels(text: str) -> tuple[float, float]:
    try:
        x, y = (float(part) for part in text.split(","))
    except ValueError:
        raise Misuse(
            f"{text[:40]!r} is not a place in a photo",
            where="--corner",
            what_to_do="Write two numbers of pixels, such as 312,1480.",
        ) from None
    return x, y


def show_traced(found: TracedPhoto, written: str, picture: Path | None, json_: bool) -> None:
    """Show what was traced, and what was written where."""
    from clothwise.cli import show
    from clothwise.units import format_cm

    one = found.traced
    xs, ys = zip(*one.outline, strict=True)
    length, width = max(xs) - min(xs), max(ys) - min(ys)
    if json_:
        show.as_json(
            {
                "outline_mm": [list(point) for point in one.outline],
                "holes_mm": [[list(point) for point in hole] for hole in one.holes],
                "area_mm2": round(one.area_mm2, 1),
                "inward_mm": round(one.inward_mm, 2),
                "pixel_mm": round(one.pixel_mm, 3),
                "marks_too_large_by": None
                if one.scale_error is None
                else round(one.scale_error, 4),
                "color": one.color,
            }
        )
        return
    click.echo(
        f"{found.path}: a remnant of {format_cm(length)} along the warp by {format_cm(width)} "
        f"across, {one.area_mm2 / 1e6:.3f} m², {len(one.holes)} "
        f"hole{'' if len(one.holes) == 1 else 's'}."
    )
    if one.scale_error is not None:
        click.echo(
            f"  The marks come out {abs(one.scale_error):.1%} too "
            f"{'large' if one.scale_error > 0 else 'small'}; a pixel shows {one.pixel_mm:.1f} mm."
        )
    click.echo(f"  The outline is drawn in by {one.inward_mm:.1f} mm.")
    if written:
        click.echo(written.rstrip())
    if picture is not None:
        click.echo(f"{picture}: the photo with the traced lines")
