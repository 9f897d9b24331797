"""What a draft keeps: a step is made once, and no draft differs from one that is made anew."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from clothwise.components import DesignFile, read_design, steps
from clothwise.components.component import Drafting
from clothwise.components.drafting import draft
from clothwise.components.skirts.straight_skirt import StraightSkirt
from clothwise.components.steps import forget_steps
from clothwise.errors import ComponentError
from clothwise.pattern import Contribution, Pattern
from clothwise.pattern.document import ComponentEntry, Design
from component_cases import Parts, body, drafted

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
SKIRT: Parts = {
    "skirt": ("straight-skirt", {}),
    "band": ("straight-waistband", {}),
    "closure": ("zip", {}),
}
WRITTEN = ("text", {"piece": "skirt-front", "words": "up", "edge": "hem"})


def design_of(parts: Parts) -> Design:
    entries = tuple(ComponentEntry(name, kind, {}) for name, (kind, _) in parts.items())
    return replace(read_design(EXAMPLES / "kiln-dress").design, components=entries, edits=())


def drafts(design: DesignFile) -> list[Pattern]:
    sizes = design.sizes[:: max(1, len(design.sizes) - 1)]
    views = [each.name for each in design.design.views]
    return [design.draft(view=view, body=design.body(size)) for view in views for size in sizes]


def anew(parts: Parts, edits: tuple[tuple[str, dict[str, str]], ...] = ()) -> Pattern:
    forget_steps()
    return drafted(parts, edits=edits)


def test_a_change_leaves_what_was_drafted_before_it() -> None:
    before = drafted(SKIRT)
    after = drafted({**SKIRT, "band": ("straight-waistband", {"width": 50.0})})
    assert after.piece("skirt-front") is before.piece("skirt-front")
    assert after.piece("band") != before.piece("band")


@pytest.mark.parametrize("folder", sorted(EXAMPLES.iterdir()), ids=lambda folder: folder.name)
def test_what_is_kept_is_what_would_be_drafted_anew(folder: Path) -> None:
    """All views and sizes one after the other share steps; each alone shares none."""
    design = read_design(folder)
    kept = drafts(design) and drafts(design)
    again = []
    for view in design.design.views:
        for size in design.sizes[:: max(1, len(design.sizes) - 1)]:
            forget_steps()
            again.append(design.draft(view=view.name, body=design.body(size)))
    assert [repr(each) for each in kept] == [repr(each) for each in again]


def test_every_value_counts() -> None:
    """Body, size, stretch, allowance, role and parameters: none is taken for another."""
    design = design_of(SKIRT)
    skirt, *others = design.components
    changed = [
        draft(design, body()),
        draft(design, body(waist_girth=741.0)),
        draft(design, body(), size="mine"),
        draft(replace(design, seam_allowance="12mm"), body()),
        draft(replace(design, components=(replace(skirt, role="other"), *others)), body()),
        draft(
            replace(design, components=(replace(skirt, roles={"skirt-back": "other"}), *others)),
            body(),
        ),
        draft(
            replace(design, components=(replace(skirt, parameters={"vent": "300mm"}), *others)),
            body(),
        ),
    ]
    told = [repr(each) for each in changed]
    assert len(set(told)) == len(told)


def test_an_edit_is_made_once_and_one_that_is_lost_is_found_each_time() -> None:
    lost = (WRITTEN[0], {**WRITTEN[1], "piece": "skirt-middle"})
    with_both, again = drafted(SKIRT, edits=(WRITTEN, lost)), drafted(SKIRT, edits=(WRITTEN,))
    assert [each.code for each in with_both.findings] == ["EDIT-LOST"]
    assert again.findings == ()
    assert again.piece("skirt-front") is with_both.piece("skirt-front")
    assert repr(drafted(SKIRT, edits=(WRITTEN, lost))) == repr(anew(SKIRT, (WRITTEN, lost)))


def test_a_step_that_fails_is_not_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    calls = []

    def fails(self: StraightSkirt, drafting: Drafting) -> Contribution:
        calls.append(drafting.name)
        raise ComponentError("no", where=drafting.name)

    before = drafted(SKIRT)
    with monkeypatch.context() as patch:
        patch.setattr(StraightSkirt, "contribute", fails)
        for _ in range(2):
            with pytest.raises(ComponentError):
                drafted(SKIRT)
    assert calls == ["skirt", "skirt"]
    assert drafted(SKIRT) is before


def test_what_is_kept_is_bounded(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(steps, "STEPS_KEPT", 2)
    forget_steps()
    first, second = drafted(SKIRT), drafted(SKIRT)
    assert len(steps._kept) == 2
    assert second is not first
    assert second == first
