"""A YAML text as a tree of texts with their lines, and everything refused that could do harm.

Only the shape is taken from YAML: what a scalar means (a length, a word, a formula) is decided by
who reads it, from the text as written. So `38`, `yes` and `1 5/8in` stay what they are. Anchors,
aliases and tags are refused: a design needs none, and aliases can make a small file enormous.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, TypeAlias

from clothwise.errors import DocumentError, Fault

__all__ = [
    "MAX_DEPTH",
    "MAX_DOCUMENT_CHARACTERS",
    "Branch",
    "Entry",
    "Leaf",
    "Node",
    "NodeList",
    "child_path",
    "parse_tree",
]

MAX_DOCUMENT_CHARACTERS = 200_000
"""Longer documents are refused. Our own choice: a design of 100 components has about 50,000."""
MAX_DEPTH = 12
"""Levels of keys and lists inside each other. Our own choice; a design has 7."""
_SHOWN = 60  # characters of a wrong text that a message repeats


@dataclass(frozen=True, slots=True)
class Leaf:
    """A text. `is_quoted` tells an empty text in quotes from a value that was left out."""

    text: str
    line: int
    is_quoted: bool = False


@dataclass(frozen=True, slots=True)
class Entry:
    """One key of a branch with what stands under it; `line` is the key's."""

    key: str
    line: int
    node: Node


@dataclass(frozen=True, slots=True)
class Branch:
    """Keys in the order of the file, each once."""

    entries: tuple[Entry, ...]
    line: int


@dataclass(frozen=True, slots=True)
class NodeList:
    """The items of a list."""

    items: tuple[Node, ...]
    line: int


Node: TypeAlias = Leaf | Branch | NodeList


@lru_cache(maxsize=16)
def parse_tree(text: str, file: str) -> tuple[Branch, tuple[Fault, ...]]:
    """Return the tree of a document, and the faults that do not keep it from being read on.

    Args:
        text: the content of the file.
        file: its name, for messages.

    Raises:
        DocumentError: the text is empty, too long, nested too deeply, no YAML, or not one set of
            keys.
    """
    if len(text) > MAX_DOCUMENT_CHARACTERS:
        raise _single(
            file,
            None,
            f"the file is too long ({len(text):,} characters, at most {MAX_DOCUMENT_CHARACTERS:,})",
            "Is this the right file?",
        )
    builder = _Builder(text, file)
    root = builder.document()
    if not isinstance(root, Branch):
        what = "a list" if isinstance(root, NodeList) else "plain text"
        raise DocumentError(
            [
                *builder.faults,
                Fault(
                    file,
                    root.line,
                    "$",
                    f"the file holds {what} where keys such as title: are needed",
                    "Write `key: value` lines. Is this the right file?",
                ),
            ]
        )
    return root, tuple(builder.faults)


def child_path(path: str, key: str | int) -> str:
    """Return the path of what stands under a key or index: `$.a.b`, `$[0]`, `$["odd key"]`."""
    if isinstance(key, int):
        return f"{path}[{key}]"
    if re.fullmatch(r"[A-Za-z0-9_-]+", key):
        return f"{path}.{key}"
    shown = key if len(key) <= _SHOWN else f"{key[:_SHOWN]}…"
    return f'{path}["{" ".join(shown.split())}"]'


class _Builder:
    """Builds the tree from the YAML reader's events, one pass, bounded in depth."""

    def __init__(self, text: str, file: str) -> None:
        self.faults: list[Fault] = []
        self._text, self._file = text, file
        self._events = _events(text, file, self.faults)

    def document(self) -> Node:
        root: Node | None = None
        for event in self._events:
            kind = type(event).__name__
            if kind == "DocumentStartEvent" and root is not None:
                self._fault(
                    event,
                    "$",
                    "a second document begins here",
                    "Keep one document in the file; remove the line ---.",
                )
                break
            if kind.startswith(("Scalar", "Mapping", "Sequence", "Alias")):
                root = self._node(event, "$", 0)
        if root is None or (isinstance(root, Leaf) and not root.text and not root.is_quoted):
            raise _single(
                self._file,
                1,
                "the file is empty",
                "Write it anew, or undo: the history of a design has what stood there before.",
            )
        return root

    def _node(self, event: Any, path: str, depth: int) -> Node:
        line = event.start_mark.line + 1
        if depth > MAX_DEPTH:
            raise DocumentError(
                [
                    *self.faults,
                    Fault(
                        self._file,
                        line,
                        path if len(path) < 2 * _SHOWN else f"{path[: 2 * _SHOWN]}…",
                        f"keys and lists are nested too deeply (at most {MAX_DEPTH} levels)",
                        "Check brackets and indentation around this line.",
                    ),
                ]
            )
        self._refuse_extras(event, path)
        kind = type(event).__name__
        if kind == "MappingStartEvent":
            return self._branch(path, depth, line)
        if kind == "SequenceStartEvent":
            return self._list(path, depth, line)
        if kind == "ScalarEvent":
            return Leaf(event.value, line, event.style is not None)
        return Leaf("", line)  # an alias; its fault is noted already

    def _branch(self, path: str, depth: int, line: int) -> Branch:
        entries: dict[str, Entry] = {}
        for event in self._events:
            if type(event).__name__ == "MappingEndEvent":
                break
            key_line = event.start_mark.line + 1
            key = self._key(event, path, depth)
            node = self._node(next(self._events), child_path(path, key), depth + 1)
            if key in entries:
                self.faults.append(
                    Fault(
                        self._file,
                        key_line,
                        child_path(path, key),
                        f"{_shown(key)} stands in line {entries[key].line} already",
                        "Keep one of the two.",
                    )
                )
            else:
                entries[key] = Entry(key, key_line, node)
        return Branch(tuple(entries.values()), line)

    def _key(self, event: Any, path: str, depth: int) -> str:
        node = self._node(event, path, depth + 1)
        if isinstance(node, Leaf):
            return node.text
        self._fault(
            event,
            path,
            "brackets or braces stand where a key should",
            "Put the text in quotes, or write a plain key.",
        )
        return f"line {node.line}"

    def _list(self, path: str, depth: int, line: int) -> NodeList:
        items: list[Node] = []
        for event in self._events:
            if type(event).__name__ == "SequenceEndEvent":
                break
            items.append(self._node(event, child_path(path, len(items)), depth + 1))
        return NodeList(tuple(items), line)

    def _refuse_extras(self, event: Any, path: str) -> None:
        kind = type(event).__name__
        if kind == "AliasEvent":
            what, remedy = "an alias (*) stands here", "Write the value itself."
        elif event.anchor is not None:
            what = f"an anchor (&{_shown(event.anchor)}) stands here"
            remedy = "Remove it, and write values where they belong."
        elif getattr(event, "tag", None) is not None and event.tag != "!":
            what = f"a tag ({_shown(event.tag)}) stands here"
            remedy = "Remove it; a text that begins with ! needs quotes."
        else:
            return
        self._fault(event, path, what, remedy)

    def _fault(self, event: Any, path: str, what: str, remedy: str) -> None:
        self.faults.append(Fault(self._file, event.start_mark.line + 1, path, what, remedy))


def _events(text: str, file: str, faults: list[Fault]) -> Iterator[Any]:
    """Yield what the YAML reader finds; its complaints become our faults."""
    from ruamel.yaml import YAML  # takes 30 ms to load; not every command reads a document
    from ruamel.yaml.error import MarkedYAMLError, YAMLError
    from ruamel.yaml.reader import ReaderError

    try:
        yield from YAML(typ="safe", pure=True).parse(text)
    except ReaderError as error:
        line = text.count("\n", 0, error.position) + 1
        what = f"a character that no text holds (U+{ord(text[error.position]):04X})"
        faults.append(Fault(file, line, "", what, "Remove it. Is this the right file?"))
    except MarkedYAMLError as error:
        faults += _syntax_faults(error, text, file)
    except (YAMLError, ValueError, AssertionError, IndexError, AttributeError, TypeError) as error:
        # The reader is known to trip over some malformed escapes instead of refusing them.
        what = f"this is not valid YAML: {(str(error).splitlines() or [''])[0][:_SHOWN]}"
        faults.append(Fault(file, None, "", what, "Check quotes and escapes."))
    else:
        return
    raise DocumentError(faults)


def _syntax_faults(error: Any, text: str, file: str) -> list[Fault]:
    """Return the fault at which the YAML reader stopped, or all lines indented by tabs."""
    problem = str(error.problem or error.context or "")
    mark = error.problem_mark or error.context_mark
    line = mark.line + 1 if mark is not None else None
    if "'\\t'" in problem:
        lines = enumerate(text.split("\n"), start=1)
        tabbed: list[int | None] = [n for n, each in lines if re.match(r" *\t", each)]
        return [
            Fault(
                file,
                number,
                "",
                "a tab stands in the indentation",
                "Indent with spaces, two for each level.",
            )
            for number in tabbed or [line]
        ]
    if error.context_mark is not None and "end of stream" in problem:
        line = error.context_mark.line + 1
        return [
            Fault(
                file,
                line,
                "",
                "a quote or bracket is opened here and never closed",
                "Close it, or put the text in quotes.",
            )
        ]
    for sign, (what, remedy) in _PLAIN_WORDS.items():
        if sign in problem:
            return [Fault(file, line, "", what, remedy)]
    what = f"this is not valid YAML: {problem}"
    return [Fault(file, line, "", what, "Check indentation, colons and quotes around this line.")]


_PLAIN_WORDS = {
    "mapping values are not allowed": (
        "a colon follows where no key can begin",
        "Check the indentation and the line above; a text that holds a colon needs quotes.",
    ),
    "could not find expected ':'": (
        "a key without its colon",
        "Write `key: value`, with a space after the colon.",
    ),
    "expected <block end>": (
        "the indentation fits no line above",
        "Indent this line like the others of its group.",
    ),
    "expected ',' or": (
        "a bracket or brace of this line, or of one above, is not closed",
        "Close it; separate what is inside with commas.",
    ),
    "that cannot start any token": (
        "a text begins with a sign that YAML reserves",
        "Put the text in quotes.",
    ),
}


def _shown(text: object) -> str:
    flat = " ".join(str(text).split())
    return flat if len(flat) <= _SHOWN else f"{flat[:_SHOWN]}…"


def _single(file: str, line: int | None, what: str, remedy: str) -> DocumentError:
    return DocumentError([Fault(file, line, "$", what, remedy)])
