"""Size charts for tests of chart checks: published tables, and the example to plant faults in.

Heights are not in these tables; the survey's mean for women, 162.9 cm (check value B02), and two
others stand in for them. A table without a hip takes the bust and 6 cm.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

from clothwise.pattern import Body
from clothwise.pattern.size_chart import SizeChart, read_size_chart
from clothwise.units import LengthUnit

__all__ = ["HEIGHTS_MM", "PUBLISHED", "changed", "kiln", "published", "rows_of"]

HEIGHTS_MM = (1629.0, 1680.0, 1750.0)
Rows = list[tuple[str, dict[str, float]]]

_BUST, _WAIST, _HIP, _BACK = "bust_girth", "waist_girth", "hip_girth", "back_neck_to_waist"
_D5585_11 = ("head_girth", "neck_base_girth", "neck_girth", _BUST, "under_bust_girth", _WAIST)

PUBLISHED: dict[str, tuple[LengthUnit, tuple[str, ...], str]] = {
    # ASTM D5585-11e1 (2011), Table 1 as far as its public abstract page goes: seen. Sizes 00-20,
    # waist straight (Z01-Z03). Its upper chest, which exceeds the bust in sizes 00 to 2, is no
    # measurement of ours.
    "ASTM D5585-11 straight": (
        LengthUnit.INCH,
        _D5585_11,
        """00 21.25 13.25 12.375 31.125 25.75 25.375
        0 21.25 13.5 12.625 31.75 26.5 26.125
        2 21.5 13.75 12.875 33 27.25 26.875
        4 21.5 14 13.125 34.125 28 27.625
        6 21.75 14.25 13.375 35.25 29 28.5
        8 21.75 14.625 13.625 36.25 30 29.5
        10 22 14.875 13.875 37.25 31 30.5
        12 22 15.125 14.25 38.75 32.5 32.25
        14 22.25 15.5 14.625 40.375 34 34
        16 22.25 15.75 15 42.125 35.75 36
        18 22.5 16 15.5 44 37.625 38.25
        20 22.5 16.375 16 46 39.625 40.5""",
    ),
    # The same page, waist curvy: 1 1/2 in less in every size (Z03).
    "ASTM D5585-11 curvy": (
        LengthUnit.INCH,
        (_BUST, _WAIST),
        """00 31.125 23.875
        0 31.75 24.625
        2 33 25.375
        4 34.125 26.125
        6 35.25 27
        8 36.25 28
        10 37.25 29
        12 38.75 30.75
        14 40.375 32.5
        16 42.125 34.5
        18 44 36.75
        20 46 39""",
    ),
    # ASTM D5585-95: size 8 seen second-hand (New York Times, 1 March 2004), the others from memory
    # (Z04, Z05).
    "ASTM D5585-95": (
        LengthUnit.INCH,
        (_BUST, _WAIST, _HIP),
        """2 32 24 34.5
        4 33 25 35.5
        6 34 26 36.5
        8 35 27 37.5
        10 36 28 38.5
        12 37.5 29.5 40
        14 39 31 41.5
        16 40.5 32.5 43
        18 42.5 34.5 45
        20 44.5 36.5 47""",
    ),
    # EN 13402-3: bust seen second-hand (reference manual of the R package Anthropometry); waist
    # and hip from memory (Z09, Z10).
    "EN 13402-3": (
        LengthUnit.CENTIMETER,
        (_BUST, _WAIST, _HIP),
        """76 76 60 84
        80 80 64 88
        84 84 68 92
        88 88 72 96
        92 92 76 100
        96 96 80 104
        100 100 84 108
        104 104 88 112
        110 110 94 117
        116 116 100 122
        122 122 106 127
        128 128 112 132""",
    ),
    # Home sewing patterns for misses since 1968: common practice, no source (Z12, Z13).
    "home sewing misses": (
        LengthUnit.INCH,
        (_BUST, _WAIST, _HIP, _BACK),
        """6 30.5 23 32.5 15.5
        8 31.5 24 33.5 15.75
        10 32.5 25 34.5 16
        12 34 26.5 36 16.25
        14 36 28 38 16.5
        16 38 30 40 16.75
        18 40 32 42 17
        20 42 34 44 17.25
        22 44 37 46 17.375
        24 46 39 48 17.5""",
    ),
    # The same, women's: common practice, no source.
    "home sewing women's": (
        LengthUnit.INCH,
        (_BUST, _WAIST, _HIP, _BACK),
        """18W 40 33 42 17.125
        20W 42 35 44 17.25
        22W 44 37 46 17.375
        24W 46 39 48 17.5
        26W 48 41.5 50 17.625
        28W 50 44 52 17.75
        30W 52 46.5 54 17.875
        32W 54 49 56 18""",
    ),
    # US Voluntary Product Standard PS 42-70, misses: from memory (Z08).
    "PS 42-70": (
        LengthUnit.INCH,
        (_BUST, _WAIST, _HIP),
        """6 31.5 22.5 33.5
        8 32.5 23.5 34.5
        10 33.5 24.5 35.5
        12 35 26 37
        14 36.5 27.5 38.5
        16 38 29 40
        18 40 31 42
        20 42 33 44
        22 44 35 46""",
    ),
    # EN 13402-3 letters for women, middles of the bust bands 66-74 ... 131-143: from memory (Z11).
    # The waist and hip beside them are the bust's less 16 and plus 8 cm, our own choice.
    "EN 13402-3 letters": (
        LengthUnit.CENTIMETER,
        (_BUST, _WAIST, _HIP),
        """XXS 70 54 78
        XS 78 62 86
        S 86 70 94
        M 94 78 102
        L 102.5 86.5 110.5
        XL 113 97 121
        XXL 125 109 133
        3XL 137 121 145""",
    ),
}


@cache
def published(name: str, height_mm: float = HEIGHTS_MM[0]) -> SizeChart:
    """Return a published table as a chart, all sizes of one height."""
    unit, names, text = PUBLISHED[name]
    in_mm = 25.4 if unit is LengthUnit.INCH else 10.0
    bodies = []
    for line in text.splitlines():
        size, *figures = line.split()
        given = {each: float(figure) * in_mm for each, figure in zip(names, figures, strict=True)}
        given.setdefault(_HIP, given[_BUST] + 60.0)
        bodies.append(Body.complete({"height": height_mm, **given}, name=size))
    return SizeChart(tuple(bodies), unit)


@cache
def kiln() -> SizeChart:
    """Return the chart of the kiln dress."""
    examples = Path(__file__).resolve().parents[2] / "examples"
    return read_size_chart(examples / "kiln-dress" / "sizes.csv")


def rows_of(chart: SizeChart) -> Rows:
    """Return names and given measurements, to be changed."""
    return [(body.name, dict(body.given)) for body in chart]


def changed(rows: Rows, unit: LengthUnit = LengthUnit.CENTIMETER) -> SizeChart:
    """Return the chart of these rows."""
    return SizeChart(tuple(Body.complete(given, name=name) for name, given in rows), unit)
