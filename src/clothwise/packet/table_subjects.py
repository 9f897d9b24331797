"""What a requirement table is about: garments in all their sizes, and the cloths they are cut from.

A design is asked for by its views, each fabric role being a cloth that nobody has bought yet; a
make is asked for as it is, with its own cloths. Both are makes in the end, so that one way leads
from there to layouts.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from clothwise.components import DesignFile, MakeFile
from clothwise.errors import Misuse, did_you_mean
from clothwise.packet.making import LAYOUT_FOLDER, layout_folder
from clothwise.pattern import Body
from clothwise.pattern.document import FabricEntry, FabricRole, Make
from clothwise.pattern.document.fabric_entry import LAYERS, parse_width
from clothwise.pattern.document.usual_widths import USUAL_WIDTHS
from clothwise.units import LengthUnit

__all__ = [
    "Asking",
    "CutCloth",
    "TableGarment",
    "TableSubject",
    "design_subject",
    "make_subject",
    "variants",
]

ASKED_WIDTHS = tuple(USUAL_WIDTHS[at].centimeters for at in (1, 3))
"""Asked for where nothing is stated: 44/45 and 58/60 in cloth, as most cover sheets have it."""
ASKED_OF_INTERFACING = (USUAL_WIDTHS[0].centimeters,)
"""Of fusible interfacing, 36 in. Source: common practice, no source."""
USUAL_LAYERS = LAYERS[1]
"""Cloth is sold folded, and a maker at a table at home cuts it so; our own choice."""
INTERFACING = "interfacing"


@dataclass(frozen=True)
class Asking:
    """What a table is asked for, beside what the documents state; all empty for just that.

    Attributes:
        sizes: names of sizes, in any order.
        widths: cloth widths, such as `115cm`, for all cloths but interfacing.
        widths_of: the same for one cloth, by its name; stronger than `widths`.
        naps: which of `NAPS`.
        layers: one of `LAYERS`.
    """

    sizes: tuple[str, ...] = ()
    widths: tuple[str, ...] = ()
    widths_of: tuple[tuple[str, tuple[str, ...]], ...] = ()
    naps: tuple[str, ...] = ()
    layers: str = ""


@dataclass(frozen=True)
class TableGarment:
    """One garment of a table: a view of a design, or a make.

    Attributes:
        title: which of them it is.
        make: for any of its sizes.
        cloths: what may stand in the place of each of its fabrics, by name: its widths and naps.
        own: the name under which somebody's own measurements stand beside the sizes; empty if the
            make is for a size.
    """

    title: str
    make: MakeFile
    cloths: Mapping[str, tuple[FabricEntry, ...]]
    own: str = ""

    def in_size(self, body: Body) -> MakeFile:
        """The same for another body; what was laid by hand was laid for one size only."""
        if self.own and body.name == self.own:
            return replace(self.make, make=replace(self.make.make, pins={}))
        made = replace(self.make.make, size=body.name, body="", measurements={}, pins={})
        return replace(self.make, make=made, body=body)


@dataclass(frozen=True)
class TableSubject:
    """What one table is about.

    Attributes:
        title: of the design or the make.
        garments: the views, or the one make.
        bodies: the sizes, in order.
        folder: where its layouts are kept.
        unit: of lengths that are shown.
        paper: what it is printed on.
        asking: what is asked for.
    """

    title: str
    garments: tuple[TableGarment, ...]
    bodies: tuple[Body, ...]
    folder: Path
    unit: LengthUnit
    paper: str
    asking: Asking

    @property
    def content(self) -> str:
        """All that the pieces and the cloths follow from, as text."""
        of_garments = [
            (each.title, each.make.of.design, each.make.choices, each.make.make, each.cloths)
            for each in self.garments
        ]
        return repr((of_garments, self.bodies, self.asking))


@dataclass(frozen=True)
class CutCloth:
    """A cloth that copies are cut from; `is_fused` if nothing but interfacing is."""

    name: str
    is_fused: bool


def design_subject(
    design: DesignFile,
    asking: Asking = Asking(),
    *,
    view: str = "",
    choices: Mapping[str, str] | None = None,
) -> TableSubject:
    """Return the table of a design: all its views, or one, or own choices.

    Raises:
        Misuse: an unknown view, choice, size or role.
    """
    own = dict(choices or {})
    _require_cloths(list(design.design.roles), asking, design.path)
    named = [each.name for each in design.design.views]
    views = [view] if view or own or not named else named
    return TableSubject(
        design.design.title,
        tuple(_garment(design, name, own) for name in views),
        _bodies(design, asking),
        design.folder / LAYOUT_FOLDER,
        design.design.unit,
        "a4-or-letter",
        asking,
    )


def make_subject(make: MakeFile, asking: Asking = Asking()) -> TableSubject:
    """Return the table of a make: its choices and its cloths, in all sizes of the chart.

    A make for somebody's own measurements has a column of its own at the end.

    Raises:
        Misuse: an unknown size, or a width for a cloth that it does not have.
    """
    cloths = {entry.name: (entry,) for entry in make.make.fabrics}
    _require_cloths(list(cloths), asking, make.path)
    title = make.make.title or make.of.design.title
    bodies = _bodies(make.of, asking)
    own = _own_name(make) if not asking.sizes else ""
    if own:
        bodies = (*bodies, replace(make.body, name=own))
    return TableSubject(
        title,
        (TableGarment(title, make, cloths, own),),
        bodies,
        layout_folder(make.path),
        make.make.unit or make.of.design.unit,
        make.make.paper,
        asking,
    )


def variants(garment: TableGarment, cloth: CutCloth, asking: Asking) -> tuple[FabricEntry, ...]:
    """Return the cloths that a table asks for in the place of one: its widths, each with its naps.

    Raises:
        Misuse: a width that no cloth has.
        UnitError: a width that is no length.
    """
    stated = garment.cloths[cloth.name]
    own = dict(asking.widths_of).get(cloth.name, ())
    widths = own or (() if cloth.is_fused else asking.widths)
    naps = () if cloth.is_fused else asking.naps
    wide = [_as_wide(stated[0], width) for width in widths] or _each_width(stated)
    asked_naps = naps or tuple(dict.fromkeys(entry.nap for entry in stated))
    layers = asking.layers or stated[0].layers
    return tuple(
        replace(entry, nap=nap, layers=layers, length="", flaws=())
        for entry in wide
        for nap in asked_naps
    )


def _each_width(stated: Sequence[FabricEntry]) -> list[FabricEntry]:
    return list({entry.width_mm: entry for entry in reversed(stated)}.values())[::-1]


def _as_wide(entry: FabricEntry, width: str) -> FabricEntry:
    """The cloth in another width, with selvages like its own."""
    wide_mm = parse_width(width)
    if wide_mm == entry.width_mm:
        return entry
    usable = ""
    if entry.usable_width_mm is not None:
        lost_mm = entry.width_mm - entry.usable_width_mm
        usable = f"{max(wide_mm - lost_mm, 1.0):g}mm"
    return replace(entry, width=width, usable_width=usable)


def _garment(design: DesignFile, view: str, choices: Mapping[str, str]) -> TableGarment:
    chosen = design.design.chosen(choices, view=view)
    found = next((each for each in design.design.views if each.name == view), None)
    title = design.design.title
    if found is not None:
        title = f"View {found.name}" + (f": {found.title}" if found.title else "")
    cloths = {name: _offered(role) for name, role in design.design.roles.items()}
    make = Make(
        title=title,
        choices=chosen,
        fabrics=tuple(entries[0] for entries in cloths.values()),
        roles={name: name for name in cloths},
    )
    file = MakeFile(design.path, make, design, design.body(), design.source)
    return TableGarment(title, file, cloths)


def _offered(role: FabricRole) -> tuple[FabricEntry, ...]:
    """The cloths for which a role is worked out: as the design states, else the usual ones."""
    stated, is_fused = role.requirement, role.name == INTERFACING
    widths = stated.widths or (ASKED_OF_INTERFACING if is_fused else ASKED_WIDTHS)
    return tuple(
        FabricEntry(
            role.name,
            width,
            title=role.title,
            layers=stated.layers or USUAL_LAYERS,
            nap=nap,
            shrinkage_along=stated.shrinkage_along,
            shrinkage_across=stated.shrinkage_across,
        )
        for width in widths
        for nap in stated.naps
    )


def _bodies(design: DesignFile, asking: Asking) -> tuple[Body, ...]:
    asked = [design.body(size).name for size in asking.sizes]  # refuses what the chart has not
    if not asked:
        return design.chart.range.sizes
    return tuple(body for body in design.chart if body.name in asked)


def _own_name(make: MakeFile) -> str:
    """What a column for own measurements is called; empty if the make has none."""
    if not (make.make.measurements or make.make.body):
        return ""
    name = make.body.name
    return f"{name}, own" if name in make.of.sizes else name or "own"


def _require_cloths(known: Sequence[str], asking: Asking, where: Path) -> None:
    for name, _ in asking.widths_of:
        if name not in known:
            raise Misuse(
                f"there is no fabric {name[:40]!r}",
                where=str(where),
                what_to_do=did_you_mean(name, known, of_what="fabrics"),
            )
