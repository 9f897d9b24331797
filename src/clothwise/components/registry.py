"""The components there are: our own, found in the folders here, and those that plugins add.

A component of ours is a class with a `kind`, in a module named like it in one of the folders:
`hanging-loop` is in `details/hanging_loop.py`. It is entered nowhere. A plugin package adds one
with an entry point of the group `clothwise.components`, whose name is the component's kind and
whose value is its class.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import cache, lru_cache
from importlib import import_module
from pathlib import Path
from pkgutil import iter_modules

from clothwise.components.component import Component
from clothwise.errors import ComponentError, did_you_mean

__all__ = ["ENTRY_POINT_GROUP", "component_class", "kinds"]

ENTRY_POINT_GROUP = "clothwise.components"

_FOLDER = "clothwise.components"

_NO_PARTS = {"edits", "pointing"}
"""Folders that hold no components: they need not be loaded to know all kinds."""

_ELSEWHERE = {
    "darted-bodice": "bodice",
    "a-line-skirt": "skirt",
    "gathered-skirt": "tiered_skirt",
    "set-in-sleeve": "sleeve",
    "bound-armhole": "binding",
    "two-piece-collar": "collar",
    "front-and-neck-facing": "facing",
    "turned-patch-pocket": "pocket",
    "tie-belt": "belt",
    "side-ties": "ties",
    "straight-waistband": "waistband",
    "hooks-and-eyes": "hooks",
    "double-hem": "hem",
    "single-hem": "hem",
    "rolled-hem": "hem",
}
"""Components in a module with a name of its own, so that they too are loaded only when used."""


def kinds() -> tuple[str, ...]:
    """Names of all components, ours first, each part by the alphabet; this loads all of ours."""
    own = _own()
    return (*own, *sorted(set(_plugins()) - set(own)))


@cache
def component_class(kind: str) -> type[Component]:
    """The class of a component, imported when it is first asked for.

    Raises:
        ComponentError: there is no such component, or a plugin's class cannot be loaded.
    """
    own = _named_alike(kind)
    if own is not None:
        return own
    target = _plugins().get(kind)
    if target is None:
        raise ComponentError(
            f"there is no component named {kind}",
            what_to_do=did_you_mean(kind, kinds()) or "Known: " + ", ".join(kinds()) + ".",
        )
    return _loaded(kind, target)


@cache
def _own() -> tuple[str, ...]:
    """The kinds in all folders."""
    return tuple(sorted(found.kind for module in _modules() for found in _components_in(module)))


@cache
def _modules() -> Mapping[str, str]:
    """Full names of the modules in all folders of parts, by their own: none of them is loaded."""
    home = Path(__file__).parent
    folders = {each.name for each in iter_modules([str(home)]) if each.ispkg} - _NO_PARTS
    return {
        each.name: f"{_FOLDER}.{folder}.{each.name}"
        for folder in sorted(folders)
        for each in iter_modules([str(home / folder)])
    }


def _components_in(module: str) -> Iterator[type[Component]]:
    """The classes that a module of ours itself gives a kind."""
    name = _modules()[module]
    for each in vars(import_module(name)).values():
        is_here = isinstance(each, type) and each.__module__ == name
        if is_here and issubclass(each, Component) and "kind" in vars(each):
            yield each


def _named_alike(kind: str) -> type[Component] | None:
    """One of ours, by the name of its module."""
    if not re.fullmatch(r"[a-z][a-z0-9-]*", kind):
        return None
    module = _ELSEWHERE.get(kind, kind.replace("-", "_"))
    if module not in _modules():
        return None
    return next((each for each in _components_in(module) if each.kind == kind), None)


@lru_cache(maxsize=1)
def _plugins() -> dict[str, str]:
    from importlib.metadata import entry_points  # slow to load, and rarely needed

    return {point.name: point.value for point in entry_points(group=ENTRY_POINT_GROUP)}


def _loaded(kind: str, target: str) -> type[Component]:
    """The class that a plugin names."""
    module, _, name = target.partition(":")
    try:
        found = getattr(import_module(module), name)
    except (ImportError, AttributeError) as error:
        raise ComponentError(
            f"the component {kind} cannot be loaded",
            where=target,
            how_much=str(error),
            what_to_do="Reinstall the package that provides it, or remove it from the design.",
        ) from error
    if not (isinstance(found, type) and issubclass(found, Component)):
        raise ComponentError(
            f"the component {kind} is not a component",
            where=target,
            what_to_do="Its class must derive from clothwise.components.Component.",
        )
    return found
