"""Group `cut`: pieces shared out over remnants, and a remnant traced from a photo.

No bar is set for these: they are recorded, so that a change for the worse is seen. About a minute
on two quiet cores.
"""

from __future__ import annotations

import random
import shutil
import sys
import tempfile
import time
from collections.abc import Iterator
from itertools import product
from pathlib import Path

from clothwise.components import read_make
from clothwise.cutting import Bolt, Bundle, CutItem, Effort, Fabric, Layout, Spacing, lay, remnant
from clothwise.cutting.stash_search import cut_from_stash
from clothwise.packet import Making
from clothwise.packet.from_stash import from_stash
from clothwise.packet.traced_remnant import trace_photo
from figures import Better, Row, figure, rows

GROUP = "cut"

ROOT = Path(__file__).resolve().parent.parent
SEEDS = range(12)
TIGHT = Spacing(0.0, 0.0)
ROOM = {"one": 600.0, "two": 340.0, "three": 200.0}


@figure("remnants_best_way", unit="%")
def best_way() -> float:
    """How often the best way is found to share strips out over three remnants, of all there are."""
    return 100 * sum(_found_best(seed) for seed in SEEDS) / len(SEEDS)


def _found_best(seed: int) -> bool:
    """Strips as wide as the remnants: lengths alone decide, so every way can be tried."""
    chance = random.Random(seed)
    lengths = [float(chance.randrange(60, 400, 20)) for _ in range(7)]
    names = frozenset(ROOM)
    bundles = [
        Bundle(f"s{k}", (CutItem(f"s{k}", f"s{k}", _box(100.0, length)),), "bolt", names)
        for k, length in enumerate(lengths)
    ]
    sheets = [
        remnant(Fabric(name, 1400), _box(1.03 * length, 101.0)) for name, length in ROOM.items()
    ]
    bolt = Bolt("bolt", Fabric("bolt", 101, 100.5))
    plan = cut_from_stash(
        bundles, sheets, [bolt], spacing=TIGHT, rounds=4, packings=200, lay_bolt=_in_rows
    )
    moved = sum(lengths[int(name[1:])] for name, source in plan.sources.items() if source != "bolt")
    return moved == max(
        sum(length for length, r in zip(lengths, way, strict=True) if r)
        for way in product(["", *ROOM], repeat=len(lengths))
        if all(
            sum(length for length, r in zip(lengths, way, strict=True) if r == name) <= most
            for name, most in ROOM.items()
        )
    )


def _box(length: float, width: float) -> tuple[tuple[float, float], ...]:
    return ((0.0, 0.0), (length, 0.0), (length, width), (0.0, width))


def _in_rows(bolt: Bolt, items: tuple[CutItem, ...]) -> Layout:
    return lay(items, bolt.fabric, bolt.plan, effort=Effort(0, 1))


@rows
def mixtures() -> Iterator[Row]:
    """The dress of four fabrics from the two remnants of its stash, what is bought in rows."""
    with tempfile.TemporaryDirectory() as folder:
        copied = Path(folder) / "kiln"
        shutil.copytree(
            ROOT / "examples" / "kiln-mixtures", copied, ignore=shutil.ignore_patterns(".layouts")
        )
        making = Making(read_make(copied / "makes" / "four-fabrics.yaml"))
        making.cutting_list  # noqa: B018 - drafted before the clock starts
        started = time.perf_counter()
        found = from_stash(making, effort=Effort(0, 1))
        seconds = time.perf_counter() - started
    assert found.plan is not None
    saved = sum(each.saved_mm for each in found.plan.bought)
    used = sum(layout.piece_area_mm2 for layout in found.plan.remnants)
    note = f"{found.plan.packings} packings, {used / 100:,.0f} cm² from remnants"
    yield Row("remnants_shared_out", seconds, "s", note=note)
    yield Row(
        "remnants_saved",
        saved / 10,
        "cm",
        better=Better.HIGHER,
        note="of all fabrics, before rounding",
    )


@figure("remnant_traced", unit="s")
def traced() -> float:
    """A photo of 12 million pixels, from the file to the outline."""
    sys.path.insert(0, str(ROOT / "tests"))
    try:
        from photographed_cloth import LENGTH_MM, WIDTH_MM, photographed, save
    finally:
        sys.path.pop(0)
    with tempfile.TemporaryDirectory() as folder:
        photo = save(photographed(size=(4032, 3024))[0], Path(folder) / "photo.jpg")
        started = time.perf_counter()
        trace_photo(photo, LENGTH_MM, WIDTH_MM)
        return time.perf_counter() - started
