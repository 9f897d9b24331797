"""`docs/reference/blocks.md` names every constant the blocks are drafted with, and its value."""

from __future__ import annotations

import ast
import math
import re
from pathlib import Path
from types import ModuleType

import pytest

from clothwise.components.bodices import (
    bodice_armhole,
    bodice_block,
    bodice_measures,
    bodice_pieces,
    corselette,
    corselette_draft,
    front_shape,
    front_yoke,
    lapel_front,
    neck_shape,
    neckline,
    princess_bodice,
    princess_lines,
    waist_level,
    waistline,
    wrap_front,
    wrap_reach,
    yoke_bodice,
    yoke_sewing,
)
from clothwise.components.closings import (
    buttonhole,
    double_breasted_buttons,
    hooks,
    lacing,
    modesty_panel,
    opening_edges,
    zip,
)
from clothwise.components.collars import notched_collar
from clothwise.components.details import belt_loops, hanging_loop, shoulder_tab, ties
from clothwise.components.facings import lapel_facing
from clothwise.components.hems import ruffle
from clothwise.components.pockets import (
    bellows_pocket,
    in_seam_pocket,
    pocket_face,
    pocket_flap,
    slant_pocket,
)
from clothwise.components.skirts import (
    elastic_casing,
    pleated_skirt,
    pleats,
    skirt,
    tie_waistband,
    waist_facing,
    wrap_skirt,
)
from clothwise.components.sleeves import (
    bishop_sleeve,
    cap_sleeve,
    cuff,
    off_shoulder_holding,
    off_shoulder_sleeve,
    puff_sleeve,
    sleeve,
    sleeve_cap,
    sleeve_elastic,
    sleeve_shape,
)

PAGE = Path(__file__).resolve().parents[2] / "docs" / "reference" / "blocks.md"
MODULES = (
    belt_loops,
    bishop_sleeve,
    bodice_armhole,
    bodice_block,
    bodice_measures,
    bodice_pieces,
    cap_sleeve,
    corselette,
    corselette_draft,
    lacing,
    modesty_panel,
    off_shoulder_holding,
    off_shoulder_sleeve,
    opening_edges,
    princess_bodice,
    princess_lines,
    yoke_bodice,
    front_yoke,
    yoke_sewing,
    buttonhole,
    cuff,
    elastic_casing,
    hooks,
    double_breasted_buttons,
    front_shape,
    lapel_facing,
    lapel_front,
    neck_shape,
    neckline,
    notched_collar,
    pleated_skirt,
    pleats,
    hanging_loop,
    puff_sleeve,
    ties,
    ruffle,
    shoulder_tab,
    skirt,
    sleeve,
    sleeve_cap,
    sleeve_elastic,
    sleeve_shape,
    tie_waistband,
    waist_facing,
    waist_level,
    waistline,
    wrap_front,
    wrap_reach,
    wrap_skirt,
    zip,
)
PARTLY = (bellows_pocket, in_seam_pocket, pocket_face, pocket_flap, slant_pocket)
"""Of these only the rules of the drawn lines stand on the page, not the room for machine feet."""


def constants(module: ModuleType) -> dict[str, float]:
    """The public numbers that a module itself gives a name."""
    tree = ast.parse(Path(str(module.__file__)).read_text(encoding="utf-8"))
    targets = [
        target for node in tree.body if isinstance(node, ast.Assign) for target in node.targets
    ]
    names = [
        name.id
        for target in targets
        for name in ast.walk(target)
        if isinstance(name, ast.Name) and re.fullmatch(r"[A-Z][A-Z0-9_]+", name.id)
    ]
    values = {name: getattr(module, name) for name in names}
    return {name: float(value) for name, value in values.items() if not isinstance(value, str)}


def shown(name: str, value: float) -> str:
    if name.endswith("_MM"):
        return f"{value:g} mm"
    return f"{math.degrees(value):.4g}°" if name.endswith("_RAD") else f"{value:.3g}"


def listed() -> dict[str, str]:
    rows = re.findall(r"^\| `([A-Z0-9_]+)` \| ([^|]+) \|", PAGE.read_text("utf-8"), re.M)
    assert len(rows) == len(dict(rows))
    return dict(rows)


@pytest.mark.parametrize("module", MODULES, ids=lambda module: module.__name__.rpartition(".")[2])
def test_every_constant_stands_there_with_its_value(module: ModuleType) -> None:
    expected = {name: shown(name, value) for name, value in constants(module).items()}
    assert expected
    assert {name: listed().get(name) for name in expected} == expected


def test_nothing_else_stands_there() -> None:
    of_rules = {name for module in MODULES for name in constants(module)}
    partly = {
        name: shown(name, value) for each in PARTLY for name, value in constants(each).items()
    }
    rest = {name: value for name, value in listed().items() if name not in of_rules}
    assert rest == {name: partly.get(name) for name in rest}
    assert of_rules <= {*listed()}
