"""A plugin package adds a component by an entry point, and nothing else."""

import os
import subprocess
import sys
import textwrap
from pathlib import Path

import pytest

from clothwise.components import Component, component_class, kinds, registry
from clothwise.errors import ComponentError

PLUGIN = '''
"""A key loop, as somebody else might write it."""

from dataclasses import dataclass
from typing import ClassVar

from clothwise.components import Component, Drafting
from clothwise.components.parameter import length
from clothwise.pattern import Contribution, Notion, NotionUnit


@dataclass(frozen=True)
class KeyLoop(Component):
    """Loop of tape at the back neck."""

    kind: ClassVar[str] = "key-loop"

    length_mm: float = length(80, 40, 200, "Length of the tape.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Only a notion; the tape is bought."""
        tape = Notion("cotton tape", self.length_mm, NotionUnit.LENGTH_MM, "", drafting.name)
        return Contribution(notions=(tape,))
'''

SCRIPT = """
from clothwise.components import Drafting, component_class, kinds
from clothwise.pattern import Body, Pattern

assert kinds()[-1] == "key-loop", kinds()
loop = component_class("key-loop")(length_mm=95)
body = Body.complete(
    {"bust_girth": 900, "waist_girth": 720, "hip_girth": 960, "height": 1680}
)
part = loop.contribute(Drafting("loop", body, Pattern()))
print(part.notions[0].name, part.notions[0].amount)
"""


def test_plugin_adds_a_component_through_its_entry_point(tmp_path: Path) -> None:
    """A package that was only put on the path is found; ours comes first in the list."""
    (tmp_path / "key_loop.py").write_text(PLUGIN)
    info = tmp_path / "key_loop-1.0.dist-info"
    info.mkdir()
    (info / "METADATA").write_text("Metadata-Version: 2.1\nName: key-loop\nVersion: 1.0\n")
    (info / "entry_points.txt").write_text("[clothwise.components]\nkey-loop = key_loop:KeyLoop\n")
    done = subprocess.run(
        [sys.executable, "-c", textwrap.dedent(SCRIPT)],
        env={**os.environ, "PYTHONPATH": str(tmp_path)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.stderr == ""
    assert done.stdout == "cotton tape 95\n"


@pytest.mark.parametrize("kind", kinds())
def test_every_component_loads_and_explains_itself(kind: str) -> None:
    """Its kind is the one it is registered under, and each parameter has a range and help."""
    found = component_class(kind)
    assert issubclass(found, Component)
    assert found.kind == kind
    assert found.__doc__
    for parameter in found.parameters().values():
        assert parameter.help.endswith(".")
        assert parameter.choices or parameter.low < parameter.high


def test_unknown_component_suggests_the_one_that_was_meant() -> None:
    """The message tells what to do."""
    with pytest.raises(ComponentError, match="darted-bodice"):
        component_class("darted-bodise")


def test_every_component_is_found_without_loading_the_others() -> None:
    """Its module is named like it, or `_ELSEWHERE` names the module, and no other."""
    script = (
        "import sys; from clothwise.components.registry import component_class\n"
        "before = set(sys.modules); component_class({kind!r}); found = set(sys.modules) - before\n"
        "print('clothwise.components.closings.hooks' in found)"
    )
    for kind in ("hooks-and-eyes", "hanging-loop"):
        ran = subprocess.run(
            [sys.executable, "-c", script.format(kind=kind)],
            capture_output=True,
            text=True,
            check=True,
        )
        assert ran.stdout.strip() == str(kind == "hooks-and-eyes")


def test_no_component_is_found_only_by_loading_all() -> None:
    for kind in kinds():
        assert registry._named_alike(kind) is component_class(kind), f"add {kind} to _ELSEWHERE"
    elsewhere = {kind for kind, module in registry._ELSEWHERE.items() if kind not in kinds()}
    assert not elsewhere


@pytest.mark.parametrize("kind", ["", "../x", "edits.darts", "registry", "Zip", "component"])
def test_what_is_no_component_is_none(kind: str) -> None:
    with pytest.raises(ComponentError, match="there is no component"):
        component_class(kind)


def test_modules_of_parts_have_names_of_their_own_in_all_folders() -> None:
    """A component is found by the name of its module alone, whichever folder it is in."""
    home = Path(registry.__file__).parent
    names = [
        path.stem for path in home.glob("*/*.py") if path.parent.name not in registry._NO_PARTS
    ]
    named = [name for name in names if name != "__init__"]
    assert len(named) > 80
    assert len(set(named)) == len(named)
    for folder in registry._NO_PARTS:
        assert not any(
            "kind: ClassVar[str]" in path.read_text() and "(Component)" in path.read_text()
            for path in (home / folder).glob("*.py")
        )
