"""The booklet of a make: everything it says, gathered from what was derived."""

from __future__ import annotations

from collections.abc import Sequence

from clothwise.cutting.from_make import method_from
from clothwise.cutting.method import method_words
from clothwise.cutting.swatch import swatch_png
from clothwise.output import Color
from clothwise.output.bias_drawing import bias_drawing
from clothwise.output.booklet_content import (
    COVER_ROOM_MM,
    KEY_WIDTH_MM,
    LAYOUT_WIDTH_MM,
    STEP_ROOM_MM,
    Booklet,
    Care,
    ClothPages,
    Figure,
    Sitting,
    Table,
    WorkStep,
)
from clothwise.output.layout_drawing import layout_drawing
from clothwise.output.scene_drawing import Palette, common_factor, picture_drawing, picture_key
from clothwise.packet.both_units import all_unit_first, amounts
from clothwise.packet.cloth_facts import cloth_facts, limiting_sentences, tied
from clothwise.packet.finished import finished_measurements
from clothwise.packet.fused_across import across_sentences
from clothwise.packet.made_from import made_from
from clothwise.packet.making import ClothPlan, Making
from clothwise.packet.printing import of_design
from clothwise.pattern import Severity
from clothwise.pattern.measurements import shown_value
from clothwise.pattern.vocabulary import MEASUREMENTS
from clothwise.units import LengthUnit, format_length
from clothwise.work import (
    Session,
    Step,
    caution_footer,
    caution_text,
    cautions_of,
    flats,
    notions,
    scenes,
    sessions,
    spoken_minutes,
    total_minutes,
)

PAPER_TINT = "#d8d2c4"
"""Color of a fabric that states none."""


def booklet_of(making: Making, cloths: Sequence[ClothPlan], edition: str = "") -> Booklet:
    """Fill the booklet of a make whose fabrics are laid out.

    `edition` says which printing it is; may be empty.
    """
    order = making.order()
    steps = making.steps()
    pictures = scenes(making.pattern, order)
    palette = palette_of(making)
    roles = list(making.role_titles)
    front, back = flats(making.pattern)
    design = making.file.of.design
    factor = common_factor((front, back), *COVER_ROOM_MM)
    figures = [
        Figure(
            picture_drawing(
                flat, *COVER_ROOM_MM, palette=palette, roles=roles, captions=False, factor=factor
            ),
            caption=word,
            description=f"{making.title}, {word.lower()} view",
        )
        for flat, word in ((front, "Front"), (back, "Back"))
    ]
    step_figures = [
        Figure(
            picture_drawing(picture, *STEP_ROOM_MM, palette=palette, roles=roles),
            caption=picture.note,
            description=step.title,
        )
        for picture, step in zip(pictures, steps, strict=True)
    ]
    return Booklet(
        title=making.title,
        subtitle=of_design(_view_title(making), making),
        edition=edition,
        description=design.description,
        facts=(
            ("Fit", making.fit),
            ("Time", f"about {spoken_minutes(total_minutes(steps))} of sewing"),
            ("Pieces", str(len(making.pattern.pieces))),
        ),
        flats=tuple(figures),
        unit_note=_unit_note(making.unit),
        body=_body_table(making),
        finished=_finished_table(making),
        requirement=_requirement_table(cloths, making.unit),
        notions=_notions_table(making),
        before_cutting=_before_cutting(making),
        cloths=tuple(_cloth_pages(making, cloth) for cloth in cloths),
        before_sewing=_before_sewing(making),
        key=picture_key(pictures, palette=palette, roles=roles, width_mm=KEY_WIDTH_MM),
        steps=tuple(_work_step(step, fig) for step, fig in zip(steps, step_figures, strict=True)),
        cares=_cares(steps),
        care_footer=caution_footer(),
        sittings=_sittings(sessions(steps)),
        sittings_note="Each sitting can be put away as it is; times are estimates for somebody "
        "who sews now and then.",
    )


def color_of(color: str) -> Color:
    """A fabric's color as stated, or the tint of one that states none."""
    return Color.parse(color or PAPER_TINT)


def palette_of(making: Making) -> Palette:
    """The color of each copy: that of its fabric, interfacing left out."""
    colors = {entry.name: color_of(entry.color) for entry in making.file.make.fabrics}
    shell = {key: name for key, name in making.assignment.items() if "interfacing" not in key[1]}
    return Palette.of_fabrics(shell, colors)


def _view_title(making: Making) -> str:
    design = making.file.of.design
    chosen = making.file.choices
    for view in design.views:
        if design.chosen({}, view=view.name) == chosen:
            return f"View {view.name}: {view.title}"
    words = [
        f"{option.title}: {option.choices[chosen[option.name]]}"
        for option in design.options
        if option.name in chosen
    ]
    return "; ".join(words)


def _unit_note(unit: LengthUnit) -> str:
    if unit is LengthUnit.INCH:
        return "Lengths are in inches, to the nearest eighth."
    return "Lengths are in centimeters unless they say otherwise."


def _body_table(making: Making) -> Table:
    """Body measurements that the garment is made from; `clothwise measure` shows all."""
    body = making.file.body
    rows = []
    estimated = False
    for name in made_from(making.file):
        mark = "*" if body.is_estimated(name) else ""
        estimated = estimated or bool(mark)
        of = MEASUREMENTS[name]
        rows.append((of.label + mark, shown_value(of, body[name], making.unit)))
    note = (
        "* estimated from the other measurements or sizes; measure it if you can."
        if estimated
        else ""
    )
    return Table(("Body", ""), tuple(rows), flush_right=(1,), note=note)


def _finished_table(making: Making) -> Table:
    unit = making.unit
    rows = tuple(
        (
            name,
            format_length(garment, unit),
            format_length(garment - girth, unit) if girth else "",
        )
        for name, garment, girth in finished_measurements(making.pattern, making.file.body)
    )
    return Table(("Finished garment", "", "of it ease"), rows, flush_right=(1, 2))


def _requirement_table(cloths: Sequence[ClothPlan], unit: LengthUnit) -> Table:
    rows = []
    for cloth in cloths:
        needed, fabric = cloth.requirement, cloth.layout.fabric
        at_hand = cloth.suffices
        cost = (
            f"{needed.cost:.2f} {fabric.currency}".strip()
            if needed.cost is not None and not at_hand
            else ""
        )
        rows.append(
            (
                cloth.title,
                format_length(fabric.nominal_width_mm, unit),
                *(
                    ("nothing", "at hand")
                    if at_hand
                    else amounts(needed.meters, needed.yards, unit)
                ),
                cost,
            )
        )
    columns = 5 if any(row[-1] for row in rows) else 4
    return Table(
        ("Fabric", "width", "buy", "or", "cost")[:columns],
        tuple(row[:columns] for row in rows),
        flush_right=(1, 2, 3, 4)[: columns - 1],
        note="Rounded up as shops sell it; shrinkage in the first wash is included.",
    )


def _notions_table(making: Making) -> Table:
    lines = notions(making.pattern, making.unit)
    rows = tuple((line.name.capitalize(), line.amount, line.detail) for line in lines)
    return Table(("Notions", "amount", ""), rows, flush_right=(1,))


def _before_cutting(making: Making) -> tuple[str, ...]:
    return (
        "Wash, dry and press every fabric as you will the finished garment, before you cut.",
        "Print the pattern at full size and check the test squares before joining the pages.",
        "Lay each piece with its grainline along the selvage, unless the table of a fabric says "
        "otherwise. Keep blades sharp, and closed when not in use.",
        *method_words(method_from(making.file.make.cutting)),
    )


def _before_sewing(making: Making) -> tuple[str, ...]:
    notes = [
        "Seam allowances are included in the pattern; each step names its own.",
        "Try the stitching, the heat of the iron and the interfacing on scraps first.",
        *making.pressing,
    ]
    notes.extend(
        f"The checks note: {finding.message} {finding.remedy}"
        for finding in making.findings
        if finding.severity is not Severity.NOTE
    )
    return tuple(notes)


def _cloth_pages(making: Making, cloth: ClothPlan) -> ClothPages:
    layout = cloth.layout
    unit = making.unit
    rows = tuple(
        (
            str(line.number),
            line.title,
            line.amount,
            line.grain,
            line.remarks,
        )
        for line in cloth.lines
    )
    drawing = layout_drawing(
        layout,
        cloth.items,
        width_mm=LAYOUT_WIDTH_MM,
        unit=unit,
        cloth=color_of(cloth.entry.color),
        pinned=cloth.pinned,
        matches=cloth.matches,
    )
    return ClothPages(
        name=cloth.title,
        tint=color_of(cloth.entry.color),
        facts=cloth_facts(cloth, unit),
        pieces=Table(("No.", "piece", "cut", "grain", ""), rows, flush_right=(0,)),
        layouts=(
            Figure(drawing, description=f"How to lay the pieces on {cloth.title}"),
            *_strip_figures(cloth, unit),
        ),
        notes=tied(
            all_unit_first(
                (
                    *limiting_sentences(cloth, unit),
                    *across_sentences(cloth, making.pattern, unit),
                    *cloth.list_notes,
                    *layout.notes,
                ),
                unit,
            )
        ),
        swatch=swatch_png(making.file.path.parent / cloth.entry.photo)
        if cloth.entry.photo
        else b"",
    )


def _strip_figures(cloth: ClothPlan, unit: LengthUnit) -> list[Figure]:
    """How each block for bias strips is cut up."""
    return [
        Figure(
            bias_drawing(
                plan.block, width_mm=LAYOUT_WIDTH_MM, unit=unit, cloth=color_of(cloth.entry.color)
            ),
            caption=f"Block for bias strips{', cut twice' if plan.blocks > 1 else ''}",
            description=f"How to cut the block for bias strips of {cloth.title}",
        )
        for plan in cloth.strips
        if plan.block is not None
    ]


def _work_step(step: Step, figure: Figure) -> WorkStep:
    return WorkStep(
        number=step.number,
        title=step.title,
        text=step.text,
        station=step.station.value,
        time=spoken_minutes(step.minutes),
        cautions=tuple(caution.value for caution in step.cautions),
        figure=figure,
    )


def _cares(steps: Sequence[Step]) -> tuple[Care, ...]:
    found = cautions_of(tuple(step.operation for step in steps))
    return tuple(Care(caution.value.capitalize(), caution_text(caution)) for caution in found)


def _sittings(some: Sequence[Session]) -> tuple[Sitting, ...]:
    waits = [*(each.wait for each in some[1:]), ""]
    return tuple(_sitting(each, wait) for each, wait in zip(some, waits, strict=True))


def _sitting(session: Session, wait_after: str) -> Sitting:
    first, last = session.steps[0], session.steps[-1]
    which = f"step {first.number}" if first is last else f"steps {first.number} to {last.number}"
    return Sitting(
        title=f"Sitting {session.number}",
        steps=which,
        time=spoken_minutes(session.minutes),
        stations=", ".join(station.value for station in session.stations),
        ends_with=f"{last.title}; then {wait_after}" if wait_after else last.title,
    )
