"""What every job of the cut room begins with: a make worked out, drafted once for each body."""

from __future__ import annotations

import hashlib
from collections import OrderedDict
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from clothwise.app.work.job import Job

if TYPE_CHECKING:
    from clothwise.packet.making import Making
    from clothwise.work.picture import Picture

_KEPT = 4
"""So many drafted garments are held ready in a worker; our own choice."""
_drafted: OrderedDict[str, tuple[Any, Any]] = OrderedDict()
_flats: OrderedDict[str, tuple[Any, ...]] = OrderedDict()


@dataclass(frozen=True)
class MakeJob(Job):
    """A job about a make.

    Attributes:
        design: name of its folder.
        documents: of the design.
        make: name of the make among them.
        folder: of the design on disk, beside whose makes layouts are kept.
        unit: of lengths that are shown; empty for that of the make.
    """

    design: str
    documents: Mapping[str, str]
    make: str
    folder: str
    unit: str = ""

    def making(self) -> Making:
        """Return the make worked out; for the same body and choices nothing is drafted again.

        Raises:
            DocumentError, ComponentError, MeasurementError: as `MakeFile.draft`.
        """
        from pathlib import Path

        from clothwise.components import open_make
        from clothwise.packet.making import Making
        from clothwise.units import LengthUnit

        opened = open_make(self.documents, self.make, within=Path(self.folder))
        make = opened.make
        if self.unit:
            make = replace(make, unit=LengthUnit(self.unit))
        making = Making(replace(opened, make=make, path=Path(self.folder) / self.make))
        key = self._garment_key(making)
        if key in _drafted:
            making.__dict__["pattern"], making.__dict__["corners"] = _drafted[key]
        return making if key in _drafted else _kept(_drafted, key, making)

    def flats(self, making: Making) -> tuple[Picture, ...]:
        """Return the garment from the front and the back; painting does not draw it again."""
        from clothwise.work import flats

        key = self._garment_key(making)
        if key not in _flats:
            _hold(_flats, key, flats(making.pattern))
        return _flats[key]

    def _garment_key(self, making: Making) -> str:
        """Of all that the drafted garment depends on, which fabrics do not belong to."""
        told = [
            *(
                f"{name}\n{text}"
                for name, text in sorted(self.documents.items())
                if name == "design.yaml" or not name.endswith((".yaml", ".yml"))
            ),
            repr(sorted(making.file.choices.items())),
            repr(sorted(making.file.body.items())),
            repr(sorted(making.file.make.adjust.items())),
        ]
        return hashlib.sha256("\0".join(told).encode()).hexdigest()


def _kept(store: OrderedDict[str, tuple[Any, Any]], key: str, making: Making) -> Making:
    _hold(store, key, (making.pattern, making.corners))
    return making


def _hold(store: OrderedDict[str, Any], key: str, value: Any) -> None:
    store[key] = value
    while len(store) > _KEPT:
        store.popitem(last=False)
