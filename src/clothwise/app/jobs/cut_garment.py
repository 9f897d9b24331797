"""The garment as paint targets: what is cut from which fabric, drawn."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from operator import attrgetter
from typing import TYPE_CHECKING, ClassVar
from urllib.parse import quote

from clothwise.app.jobs.cut_making import MakeJob
from clothwise.app.jobs.cut_shown import ClothShown, CopyShown, GarmentShown, LeftAside, PieceShown
from clothwise.app.work.job import Tell, Worker

if TYPE_CHECKING:
    from clothwise.packet.making import Making
    from clothwise.pattern.document import FabricEntry

FABRIC_FIELDS = (
    *("title", "width", "usable_width", "color", "pattern", "layers", "nap", "price", "fiber"),
    *("shrinkage_along", "shrinkage_across", "length", "repeat.along", "repeat.across"),
    *("repeat.start_along", "repeat.start_across", "repeat.border", "wrong_side_usable"),
    *("grainless", "stretch", "thickness", "off_grain"),
)
"""What the form of a fabric asks for, by the names that documents have for it."""


@dataclass(frozen=True)
class GarmentOf(MakeJob):
    """The garment of a make with its fabrics and copies.

    Attributes:
        photos: address under which the photo of each fabric is shown by its name.
    """

    worker: ClassVar[Worker] = "back"

    photos: str = ""

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> GarmentShown:
        """Return the garment, drawn in the fabrics that it is cut from."""
        from clothwise.checks import check_pieces
        from clothwise.output.cloth_fill import ClothLook, cloth_paints
        from clothwise.output.garment_targets import CutFrom, garment_targets, piece_targets
        from clothwise.output.layout_board import SCALE
        from clothwise.packet.booklet import color_of

        making = self.making()
        entries = making.file.make.fabrics
        paints = {entry.name: f"cloth-{nth}" for nth, entry in enumerate(entries)}
        looks = [
            ClothLook(
                paints[entry.name],
                color_of(entry.color),
                entry.pattern,
                entry.repeat.along_mm,
                entry.repeat.across_mm,
                self._photo(entry),
                entry.photo_width_mm,
            )
            for entry in entries
        ]
        titles = making.pattern.pieces
        cut_from = CutFrom(
            making.assignment,
            {name: f"url(#{paint})" for name, paint in paints.items()},
            making.fabric_titles,
            {key: _copy_title(titles[key[0]].title, key[1]) for key in making.assignment},
        )
        tiles = piece_targets(making.pattern, cut_from, making.corners)
        counts = Counter(making.assignment.values())
        return GarmentShown(
            making.title,
            making.fit,
            cloth_paints(looks, laid_at=1 / SCALE),
            garment_targets(self.flats(making), cut_from),
            tuple(
                _cloth(making, entry, cut_from.paints[entry.name], counts[entry.name])
                for entry in entries
            ),
            _pieces(making, cut_from.copies, tiles),
            tuple(
                LeftAside(each.measured, each.message, each.measured in making.file.make.copies)
                for each in check_pieces(making.pattern, making.file.make)
            ),
        )

    def _photo(self, entry: FabricEntry) -> str:
        """The address of a photo; another photo has another address."""
        if not (entry.photo and self.photos):
            return ""
        return f"{self.photos}/{quote(entry.name, safe='')}?v={quote(entry.photo, safe='')}"


def fabric_fields(entry: FabricEntry) -> dict[str, str]:
    """What a fabric states, by the names of `FABRIC_FIELDS`."""
    return {name: attrgetter(name)(entry) for name in FABRIC_FIELDS}


def _copy_title(piece: str, copy: str) -> str:
    return piece if copy == "whole" else f"{piece}, {copy}"


def _cloth(making: Making, entry: FabricEntry, paint: str, copies: int) -> ClothShown:
    from clothwise.units import format_length

    words = [f"{format_length(entry.width_mm, making.unit)} wide", _lies(entry.layers)]
    if entry.nap != "none":
        words.append("all pieces one way")
    if entry.price:
        words.append(entry.price)
    stated = making.file.stated
    own = next(
        (each for each in (stated.fabrics if stated else ()) if each.name == entry.name), None
    )
    return ClothShown(
        entry.name,
        entry.title or entry.name,
        paint,
        ", ".join(words),
        copies,
        fabric_fields(entry),
        bool(entry.photo),
        entry.photo_width,
        "" if own is not None and not own.stash else (own.stash if own else entry.name),
    )


def _lies(layers: str) -> str:
    return "in a single layer" if layers == "single" else layers


def _pieces(
    making: Making,
    titles: Mapping[tuple[str, str], str],
    tiles: Mapping[tuple[str, str], str],
) -> tuple[PieceShown, ...]:
    found = []
    for name, piece in making.pattern.pieces.items():
        copies = tuple(
            CopyShown(f"{name}/{copy}", titles[name, copy], fabric, tiles[name, copy])
            for (of, copy), fabric in making.assignment.items()
            if of == name
        )
        if copies:
            found.append(PieceShown(making.numbers.get(name, 0), name, piece.title, copies))
    return tuple(sorted(found, key=lambda each: each.number))
