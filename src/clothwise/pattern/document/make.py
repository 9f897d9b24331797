"""A make: one garment to be made from a design, for somebody, of certain fabrics."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import PurePosixPath

from clothwise.errors import Misuse, did_you_mean
from clothwise.pattern.document.cutting_entry import CuttingEntry, PinEntry
from clothwise.pattern.document.fabric_entry import FabricEntry
from clothwise.pattern.document.match_entry import MatchEntry
from clothwise.pattern.measurements import MEASUREMENTS, Body
from clothwise.pattern.quantity import QuantityKind
from clothwise.pattern.size_chart import SizeChart
from clothwise.units import AngleUnit, LengthUnit, parse_angle, parse_length

__all__ = [
    "DEFAULT_PAPER",
    "DEFAULT_SEED",
    "PAPERS",
    "Make",
    "body_for",
    "make_order",
    "measured_value",
]

DEFAULT_PAPER = "a4-or-letter"
"""What prints at full size on the home printers of most countries."""
DEFAULT_SEED = 1
"""Of searches; any whole number would do."""
PAPERS = (
    *("a0", "a1", "a2", "a3", "a4", "letter", "legal", "tabloid", "a4-or-letter"),
    *("ansi-a", "ansi-b", "ansi-c", "ansi-d", "ansi-e"),
    *("arch-a", "arch-b", "arch-c", "arch-d", "arch-e", "arch-e1"),
)
"""Names of papers; a test compares them with those that `clothwise.output` can print on."""


@dataclass(frozen=True)
class Make:
    """One garment to be made, as it stands in a make file.

    Attributes:
        title: of this garment; may be empty.
        design: the folder of the design, relative to the make's own; empty for its own folder,
            or the one above.
        view: the view it starts from; may be empty.
        choices: what differs from the view, or from the defaults.
        size: of the design's chart; empty for the base size, or for own measurements only.
        measurements: own ones by name, as written; with `size`, they replace those of the size.
        body: a file with measurements, relative to the make's folder; may be empty.
        adjust: changes within the limits of the design, as written: `skirt_flare` to `-8mm`.
        stash: a file of cloths, relative to the make's folder, whose names may be used as if they
            stood under `fabrics`; empty if there is none.
        fabrics: at least one where there is something to cut, here or in the stash.
        roles: fabric role to fabric.
        copies: `piece` or `piece/copy` to fabric, stronger than `roles`.
        cutting: how it is cut.
        pins: `piece/copy` to where the maker laid it; the rest is packed around these.
        matches: where the pattern of cloth runs on; what it names goes before the design.
        unit: of lengths that are shown; None for the design's.
        paper: one of `PAPERS`.
        seed: of searches, so that they can be repeated.
    """

    title: str = ""
    design: str = ""
    view: str = ""
    choices: Mapping[str, str] = field(default_factory=dict)
    size: str = ""
    measurements: Mapping[str, str] = field(default_factory=dict)
    body: str = ""
    adjust: Mapping[str, str] = field(default_factory=dict)
    stash: str = ""
    fabrics: tuple[FabricEntry, ...] = ()
    roles: Mapping[str, str] = field(default_factory=dict)
    copies: Mapping[str, str] = field(default_factory=dict)
    cutting: CuttingEntry = CuttingEntry()
    pins: Mapping[str, PinEntry] = field(default_factory=dict)
    matches: tuple[MatchEntry, ...] = ()
    unit: LengthUnit | None = None
    paper: str = DEFAULT_PAPER
    seed: int = DEFAULT_SEED

    def fabric(self, name: str) -> FabricEntry:
        """Return a fabric by name.

        Raises:
            Misuse: there is none; suggests the ones that were probably meant.
        """
        for each in self.fabrics:
            if each.name == name:
                return each
        raise Misuse(
            f"the make has no fabric {name[:40]!r}",
            where=self.title,
            what_to_do=did_you_mean(name, [each.name for each in self.fabrics], of_what="fabrics"),
        )


def body_for(make: Make, chart: SizeChart, base_size: str, from_file: Body | None = None) -> Body:
    """Return the body that a make is for.

    Own measurements alone make a body, whose missing ones are estimated. Beside a size, or a
    file, they replace what the size or file has. With none of these it is the base size.

    Args:
        make: with texts that can be read.
        chart: of the design.
        base_size: of the design.
        from_file: the body in the file that `make.body` names.

    Raises:
        Misuse: the chart has no such size.
        UnitError: a measurement is no length or angle.
        MeasurementError: measurements that are missing, impossible or contradict each other.
    """
    own = {name: measured_value(name, text) for name, text in make.measurements.items()}
    if make.size or (not own and from_file is None):
        start = chart.size(make.size or base_size)
    elif from_file is not None:
        start = from_file
    else:
        return Body.complete(own, name="own measurements", shown_in=chart.unit)
    return start.with_measured(own) if own else start


def make_order(name: str) -> tuple[bool, bool, str]:
    """Return what makes are sorted by: `make.yaml`, those named after a view, all others by name.

    Those named after a view come first, because they show the design as it is meant.

    >>> sorted(["makes/ada.yaml", "makes/view-b.yaml", "makes/view-a.yaml"], key=make_order)
    ['makes/view-a.yaml', 'makes/view-b.yaml', 'makes/ada.yaml']
    """
    stem = PurePosixPath(name).stem
    return "/" in name, not stem.startswith("view"), stem


def measured_value(name: str, text: str) -> float:
    """Return a measurement in mm, or radians for an angle.

    Raises:
        UnitError: it cannot be read.
    """
    measurement = MEASUREMENTS.get(name)
    if measurement is not None and measurement.kind is QuantityKind.ANGLE:
        return parse_angle(text, default_unit=AngleUnit.DEGREE)
    return parse_length(text)
