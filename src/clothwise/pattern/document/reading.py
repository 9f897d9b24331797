"""Reads a document's tree key by key, notes every fault, and remembers where each value stands."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from clothwise.errors import ClothwiseError, Fault, did_you_mean
from clothwise.pattern.document.tree import Branch, Leaf, Node, NodeList, child_path

__all__ = [
    "LONGEST_PROSE",
    "LONGEST_TEXT",
    "NAME",
    "NAME_RULE",
    "Cursor",
    "Reading",
    "Source",
]

LONGEST_TEXT = 1000
"""Characters of a single-line text. Our own choice, that of the longest formula."""
LONGEST_PROSE = 20_000
"""Characters of a description. Our own choice."""
NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]{0,39}")
"""Names of components, options, choices, views, roles and fabrics."""
NAME_RULE = "Use letters, digits, - and _, at most 40."


@dataclass(frozen=True)
class Source:
    """Where the values of a document stand: the file, and the line of each path."""

    file: str
    lines: Mapping[str, int] = field(default_factory=dict)

    def line_of(self, path: str) -> int | None:
        """Return the line of a path, or of the nearest key above it that the file has.

        >>> Source("design.yaml", {"$.views": 7}).line_of("$.views.A.title")
        7
        """
        while path and path not in self.lines:
            path = path[: max(path.rfind("."), path.rfind("["))] if path != "$" else ""
        return self.lines.get(path)

    def fault(self, path: str, what: str, remedy: str) -> Fault:
        """Return a fault at this path, with its file and line."""
        return Fault(self.file, self.line_of(path), path, what, remedy)


class Reading:
    """The faults and lines gathered while one document is read."""

    def __init__(self, file: str, faults: Iterable[Fault] = ()) -> None:
        self.file = file
        self.faults: list[Fault] = [*faults]
        self.lines: dict[str, int] = {}

    def fault(self, path: str, line: int | None, what: str, remedy: str) -> None:
        """Note a fault."""
        self.faults.append(Fault(self.file, line, path, what, remedy))

    @property
    def faults_by_line(self) -> list[Fault]:
        """The faults in the order of the file, each once."""
        return sorted(dict.fromkeys(self.faults), key=lambda fault: fault.line or 0)

    @property
    def source(self) -> Source:
        """Where the values stand that were read so far."""
        return Source(self.file, self.lines)


@dataclass(frozen=True, slots=True)
class Cursor:
    """A place in a document while it is read. What is asked of it and not there is a fault."""

    node: Node
    path: str
    line: int
    reading: Reading

    @classmethod
    def at_root(cls, root: Branch, reading: Reading) -> Cursor:
        """Return the cursor at the whole document."""
        reading.lines["$"] = root.line
        return cls(root, "$", root.line, reading)

    def fault(self, what: str, remedy: str) -> None:
        """Note a fault at this place."""
        self.reading.fault(self.path, self.line, what, remedy)

    @property
    def is_branch(self) -> bool:
        """Tell whether keys stand here."""
        return isinstance(self.node, Branch)

    @property
    def is_list(self) -> bool:
        """Tell whether a list stands here."""
        return isinstance(self.node, NodeList)

    @property
    def is_empty(self) -> bool:
        """Tell whether the value was left out."""
        return isinstance(self.node, Leaf) and not self.node.text and not self.node.is_quoted

    def entries(self) -> dict[str, Cursor]:
        """Return what stands under each key; nothing, and a fault, if there are no keys here."""
        if not isinstance(self.node, Branch):
            what = "is empty" if self.is_empty else f"holds {self._describe()}"
            self.fault(f"{self._name} {what} where keys are needed", "Write `key: value` lines.")
            return {}
        found = {}
        for entry in self.node.entries:
            path = child_path(self.path, entry.key)
            self.reading.lines[path] = entry.line
            found[entry.key] = Cursor(entry.node, path, entry.line, self.reading)
        return found

    def known_entries(
        self, known: Sequence[str], *, required: Sequence[str] = (), of_what: str = "keys"
    ) -> dict[str, Cursor]:
        """Return the entries with a known key; other keys, and missing required ones, are faults.

        Args:
            known: the keys that may stand here.
            required: those that must.
            of_what: how the keys are called in messages.
        """
        found = self.entries()
        for key in [key for key in found if key not in known]:
            found.pop(key).fault(
                f"{key[:40]!r} is not known here", did_you_mean(key, known, of_what=of_what)
            )
        if isinstance(self.node, Branch):
            for key in required:
                if key not in found:
                    self.fault(f"{key} is missing", f"Add a line `{key}: ...`.")
        return found

    def named_entries(self, of_what: str) -> dict[str, Cursor]:
        """Return the entries under keys that are names; a key that is none is a fault."""
        found = {}
        for key, cursor in self.entries().items():
            if NAME.fullmatch(key):
                found[key] = cursor
            else:
                cursor.fault(f"{key[:40]!r} cannot be the name of {of_what}", NAME_RULE)
        return found

    def items(self) -> list[Cursor]:
        """Return the items of a list; nothing, and a fault, if there is none."""
        if not isinstance(self.node, NodeList):
            what = "is empty" if self.is_empty else f"holds {self._describe()}"
            self.fault(
                f"{self._name} {what} where a list is needed",
                "Begin each item with a dash, or write [a, b].",
            )
            return []
        found = []
        for index, item in enumerate(self.node.items):
            path = child_path(self.path, index)
            self.reading.lines[path] = item.line
            found.append(Cursor(item, path, item.line, self.reading))
        return found

    def text(self) -> str:
        """Return a text on one line, its spaces single; empty, and a fault, if there is none."""
        found = self._leaf(LONGEST_TEXT)
        return " ".join(found.split())

    def prose(self) -> str:
        """Return a text that may have several lines, without space at its ends or line ends."""
        found = self._leaf(LONGEST_PROSE)
        return "\n".join(line.rstrip() for line in found.strip().splitlines())

    def name(self, of_what: str) -> str:
        """Return a text that can be a name; empty, and a fault, if it cannot."""
        found = self.text()
        if found and not NAME.fullmatch(found):
            self.fault(f"{found[:40]!r} cannot be the name of {of_what}", NAME_RULE)
            return ""
        return found

    def one_of(self, words: Iterable[str], of_what: str) -> str:
        """Return one of the words; empty, and a fault, if another text stands here."""
        found, known = self.text(), [*words]
        if found and found not in known:
            self.fault(
                f"{found[:40]!r} is none of the {of_what}",
                did_you_mean(found, known, of_what=of_what),
            )
            return ""
        return found

    def checked(self, check: Callable[[str], object]) -> str:
        """Return the text here; empty, and a fault, if `check` raises something about it."""
        found = self.text()
        if found:
            try:
                check(found)
            except ClothwiseError as error:
                self.fault(error.problem, error.what_to_do)
                return ""
        return found

    def _leaf(self, longest: int) -> str:
        if not isinstance(self.node, Leaf):
            self.fault(
                f"{self._name} holds {self._describe()} where a single value is needed",
                "Write one value after the colon.",
            )
            return ""
        if not self.node.text.strip():
            self.fault(
                f"{self._name} is empty",
                "Write a value after the colon, or remove the line; "
                "a value that begins with # needs quotes.",
            )
            return ""
        if len(self.node.text) > longest:
            self.fault(
                f"{self._name} is too long ({len(self.node.text):,} characters, "
                f"at most {longest:,})",
                "Shorten it.",
            )
            return ""
        return self.node.text

    @property
    def _name(self) -> str:
        return self.path.rpartition(".")[2] if self.path != "$" else "the document"

    def _describe(self) -> str:
        if isinstance(self.node, Branch):
            return "keys"
        return "a list" if isinstance(self.node, NodeList) else "a single value"
