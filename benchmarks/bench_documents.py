"""Group `first`: opening a design folder, before anything is drafted or shown."""

from __future__ import annotations

from pathlib import Path

from clothwise.components import design_file
from clothwise.components.steps import forget_steps
from clothwise.pattern.document import format_design, tree
from clothwise.pattern.expression import parse_expression
from figures import figure, median_ms

GROUP = "first"

KILN_DRESS = Path(__file__).resolve().parent.parent / "examples" / "kiln-dress"


@figure("open_and_draft_kiln_dress", unit="ms", bar=40)
def open_and_draft_kiln_dress() -> float:
    """Files to pattern of the base size, everything loaded but nothing read before."""
    return median_ms(_open_and_draft)


@figure("save_kiln_dress", unit="ms", bar=100)
def save_kiln_dress() -> float:
    """A design into its own text, comments kept, read again to be sure; without the disk."""
    text = (KILN_DRESS / "design.yaml").read_text(encoding="utf-8")
    design = design_file.read_design(KILN_DRESS).design
    return median_ms(lambda: format_design(design, previous=text))


def _open_and_draft() -> None:
    for cached in (design_file._checked, tree.parse_tree, parse_expression):
        cached.cache_clear()
    forget_steps()
    design_file.read_design(KILN_DRESS).draft()
