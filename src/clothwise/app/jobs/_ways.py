"""In a worker: which components a refusal speaks of, and where in the Draft room they stand."""

from __future__ import annotations

import re
from collections.abc import Iterator

from clothwise.app.jobs.ways import Way
from clothwise.components.registry import component_class, kinds
from clothwise.pattern import Pattern
from clothwise.pattern.document import ComponentEntry, Design
from clothwise.pattern.plain_names import kind_called, piece_called, plain_name

__all__ = ["ways_out"]

MOST_WAYS = 3
"""More buttons than these under a refusal help nobody; our own choice."""


def ways_out(text: str, design: Design, pattern: Pattern | None, but: str = "") -> tuple[Way, ...]:
    """The places that a refusal speaks of: components of the design, and kinds that it has not.

    Args:
        text: of the refusal, in words.
        design: in which it stands.
        pattern: of it, if there is one.
        but: a component that is not told, as the page shows it already.
    """
    if not text:
        return ()
    said = text.lower().replace("hem or bind", "finish")  # what one does, not what is there
    found = [*_components(said, design, pattern, but), *_kinds(said, design, but)]
    return tuple(dict.fromkeys(found))[:MOST_WAYS]


def _components(said: str, design: Design, pattern: Pattern | None, but: str) -> Iterator[Way]:
    for entry in design.components:
        if entry.name != but and any(_stands(words, said) for words in _names(entry, pattern)):
            yield Way(f"Go to the {plain_name(entry.name)}", f"part-{entry.name}")


def _names(entry: ComponentEntry, pattern: Pattern | None) -> Iterator[str]:
    yield plain_name(entry.name)
    yield kind_called(entry.kind)
    for piece in pattern.pieces.values() if pattern else ():
        if piece.component == entry.name:
            yield piece_called(piece)


def _kinds(said: str, design: Design, but: str) -> Iterator[Way]:
    """Kinds that the design has not: where they could be put in, or exchanged for what is there."""
    there = {each.kind for each in design.components}
    families = {component_class(each.kind).family: each.name for each in design.components}
    same = [component_class(each.kind).family for each in design.components if each.name == but]
    for kind in kinds():
        words = kind_called(kind)
        if kind in there or " " not in words.replace("-", " ") or not _stands(words, said):
            continue
        family = component_class(kind).family
        name = families.get(family)
        if family in same:
            continue
        if name and family.is_exchangeable:
            yield Way(f"Exchange the {plain_name(name)} …", f"swap-{name}")
        else:
            yield Way(f"Add: {family.title.lower()} …", f"add-{family.value}")


def _stands(words: str, said: str) -> bool:
    """Tell whether words stand in a text, as words of their own."""
    return re.search(rf"(?<![\w-]){re.escape(words.lower())}s?(?![\w-])", said) is not None
