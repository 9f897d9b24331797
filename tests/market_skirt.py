"""A flared skirt of invented market stalls, whose designer lets a few values be changed."""

from __future__ import annotations

from pathlib import Path

from clothwise.components import MakeFile, read_make

EXAMPLES = Path(__file__).resolve().parent.parent / "examples"
DESIGN = """\
# A skirt of four gores.
schema: 1
title: Market skirt
size_chart: sizes.csv
base_size: 38
unit: cm
options:
  band:
    title: Waist
    choices: {wide: Wide band, narrow: Narrow band}
components:
  skirt: {component: gored-skirt, gores: four, length: 70cm, flare: 11cm}
  waistband: {component: straight-waistband, width: {by: band, wide: 35mm, narrow: 25mm}}
  closure: {component: zip}
  hem: {component: double-hem, depth: 2cm}
limits:
  skirt_flare: {title: flare, less: 2cm, more: 1cm, step: 2mm}
  skirt_length: {title: length, less: 3cm, step: 5mm}
  hem_depth: {less: 5mm, more: 1cm, step: 5mm}
"""
MAKE = """\
# For the harvest market.
schema: 1
title: Market skirt
size: 38
fabrics:
  cord: {title: Needlecord, width: 100cm, nap: one way, price: 18 EUR/m}
  fusible: {title: Fusible, width: 90cm, price: 7 EUR/m}
roles: {main: cord, interfacing: fusible}
"""


def written(folder: Path, design: str = DESIGN, make: str = MAKE) -> Path:
    """Write the design with its chart and make into a folder; return the make."""
    chart = EXAMPLES / "half-circle-skirt" / "sizes.csv"
    (folder / "sizes.csv").write_bytes(chart.read_bytes())
    (folder / "design.yaml").write_text(design, encoding="utf-8")
    path = folder / "make.yaml"
    path.write_text(make, encoding="utf-8")
    return path


def market_skirt(folder: Path, design: str = DESIGN, make: str = MAKE) -> MakeFile:
    """Return the make of a skirt that was written into a folder."""
    return read_make(written(folder, design, make))


def with_limits(text: str) -> str:
    """Return the design with other limits: `skirt_flare: {less: 2cm}`, or none."""
    design, _, _ = DESIGN.partition("limits:\n")
    return f"{design}limits:\n  {text}\n" if text else design
