"""`clothwise cut`: layouts and what to buy."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING

import click

from clothwise.cli.commands.options import (
    JSON,
    MAKE,
    MAKE_SIZE,
    PICTURES,
    PIN,
    SECONDS,
    TARGET,
    effort,
)

if TYPE_CHECKING:
    from clothwise.cli.changing import Changing
    from clothwise.packet.making import ClothPlan, Making


@click.command()
@TARGET
@MAKE
@MAKE_SIZE
@SECONDS
@PICTURES
@PIN
@JSON
def cut(
    target: Path,
    make_name: str,
    size: str,
    seconds: int | None,
    pictures: Path | None,
    pins: tuple[str, ...],
    json_: bool,
) -> int:
    """Show what to cut and how much fabric to buy.

    Lays the pieces out on each fabric. Layouts that were found are kept in a folder .layouts beside
    the make, and used again. Of each layout it says what limits it: the pieces that lie one behind
    another from end to end, and how much wider the fabric would have to be for two of them to lie
    side by side. Where another way of laying the fabric takes clearly less, it says so too.
    """
    from clothwise.checks import check_pieces
    from clothwise.cli import show
    from clothwise.cli.changing import changing
    from clothwise.cutting.from_make import method_from
    from clothwise.cutting.method import method_words
    from clothwise.jobs import usual_workers
    from clothwise.packet.both_units import all_unit_first
    from clothwise.packet.cloth_facts import (
        both_bounds,
        bound_text,
        buy_sentence,
        limiting_sentences,
    )
    from clothwise.packet.fused_across import across_sentences
    from clothwise.packet.layout_pictures import write_layout_pictures
    from clothwise.packet.opening import making_at
    from clothwise.packet.other_plans import with_shorter_plans
    from clothwise.packet.tables import cloth_data
    from clothwise.units import format_length

    making = making_at(target, make_name, size)
    make = changing(making.file.path) if pins else None
    line = show.ProgressLine()
    cloths = making.cloths(effort=effort(seconds), at_once=usual_workers(), progress=line.layout)
    cloths = with_shorter_plans(making, cloths, progress=line.layout)
    line.done()
    written = write_layout_pictures(making, cloths, pictures) if pictures else ()
    undo = pin(make, making, cloths, pins) if make else ""
    if json_:
        show.as_json([cloth_data(cloth) for cloth in cloths])
        return 0
    for cloth in cloths:
        show.table(
            ("no.", "piece", "cut", "grain", "to be minded"),
            [
                (str(each.number), each.title, each.amount, each.grain, each.remarks)
                for each in cloth.lines
            ],
            title=f"{making.title}, {making.fit}: {cloth.title}",
            right=(0,),
        )
        length = format_length(cloth.layout.length_mm, making.unit)
        area, longest = both_bounds(cloth.layout, making.unit)
        show.say(
            f"{buy_sentence(cloth, making.unit)}; "
            f"the layout is {length} long and uses {100 * cloth.layout.used_share:.0f} % "
            f"of the cloth. No layout is shorter than {bound_text(cloth.layout, making.unit)}: "
            f"by the area of the pieces {area}, by the longest of them {longest}."
        )
        for sentence in limiting_sentences(cloth, making.unit):
            show.say(sentence, "  ")
        for sentence in across_sentences(cloth, making.pattern, making.unit):
            show.say(sentence, "  ")
        for note in all_unit_first((*cloth.list_notes, *cloth.layout.notes), making.unit):
            show.say(note, "  ")
        click.echo()
    for aside in check_pieces(making.pattern, making.file.make):
        click.echo(click.wrap_text(f"{aside.message} {aside.remedy}", 90))
    for sentence in method_words(method_from(making.file.make.cutting)):
        click.echo(click.wrap_text(sentence, 90))
    for one in written:
        click.echo(f"{one.path}: {one.what}")
    if pins:
        click.echo(
            f"{making.file.path}: {', '.join(pins)} pinned; the rest is packed around. {undo}"
        )
    return 0


def pin(make: Changing, making: Making, cloths: Sequence[ClothPlan], names: Sequence[str]) -> str:
    """Write into the make where copies lie, so that they stay there; return how to undo it.

    Raises:
        Misuse: nothing of that name is laid.
        CuttingError: a copy that has no fixed place.
    """
    from clothwise.packet.pins import pins_where_they_lie
    from clothwise.pattern.commands import SetPins

    pins = pins_where_they_lie(making, cloths, names)
    return make.change(SetPins(make.name, {copy: asdict(pin) for copy, pin in pins.items()}))
