"""What a step says lies on what, its drawing shows so."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from clothwise.components import read_design
from clothwise.components.drafting import draft
from clothwise.work import plan, steps
from clothwise.work.scene import scenes

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").iterdir())
SAID = re.compile(r"Lay (?:each |the |both )?(.+?) on (?:its |the |their )?(.+?), right sides")
LITTLE = {"of", "the", "top"}
DRAWN = re.compile(r"(.+?) on (.+?), right sides together\.")


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda folder: folder.name)
def test_the_drawing_does_not_lay_the_other_one_on_top(example: Path) -> None:
    """Of a word that is in one of the two titles alone, the drawing has it in the same place."""
    file = read_design(example)
    for view in file.design.views:
        choices = file.design.chosen({}, view=view.name)
        pattern = draft(file.design, file.body(file.design.base_size), choices)
        order = plan(pattern)
        drawn = scenes(pattern, order)
        for step, picture in zip(steps(pattern, order), drawn, strict=True):
            said, shown = SAID.search(step.text), DRAWN.search(picture.note)
            if said is None or shown is None:
                continue
            above, below = (set(words.lower().split()) - LITTLE for words in said.groups())
            over, under = (set(words.lower().split()) - LITTLE for words in shown.groups())
            wrong = (above - below) & (under - over) | (below - above) & (over - under)
            assert not wrong, (step.text, picture.note)
