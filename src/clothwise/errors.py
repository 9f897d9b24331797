"""Everything that can go wrong in a way the user should hear about.

    ClothwiseError                 what, where, how much, what to do
    ├── Misuse                     something was asked for that is not there
    ├── UnitError                  a text that should be a length or an angle is not one
    ├── GeometryError              a line, an outline or an offset that cannot exist (see geometry)
    ├── DocumentError              a file with faults; carries all of them
    ├── MeasurementError           body measurements that are missing, impossible or contradict
    ├── ExpressionError            a formula that cannot be read or worked out
    │   ├── CircularReference      formulas that lead back to themselves; carries the circle
    │   └── UnresolvedExpressions  several formulas of one set failed; carries each failure
    ├── ComponentError             a garment part that cannot be drafted with these parameters
    ├── CommandError               a change that cannot be made to these documents
    ├── CuttingError               pieces that cannot be laid on, or cut from, this fabric
    └── OutputError                a file that cannot be written

An exception means that the call cannot be answered. A fault of the *pattern* is not an exception
but a finding, and belongs to `checks`.

Each message has four parts, and each part is a field, so that the command line and the app can
point at the place: `what` is wrong, `where`, `how_much` it is out, and `what_to_do` about it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

_LONGEST_COMPARED = 80  # characters of a wrong name that are compared; keeps hostile input cheap
_LEAST_LIKENESS = 0.65  # of two spellings, 0 to 1, for one to be suggested in place of the other
_LIKENESS_SPREAD = 0.08  # how much less alike than the best a second suggestion may be (0 to 1)

__all__ = [
    "CircularReference",
    "ClothwiseError",
    "CommandError",
    "ComponentError",
    "CuttingError",
    "DocumentError",
    "ExpressionError",
    "Fault",
    "GeometryError",
    "MeasurementError",
    "MeasurementFault",
    "Misuse",
    "OutputError",
    "UnitError",
    "UnresolvedExpressions",
    "did_you_mean",
    "meant_instead",
]


class ClothwiseError(Exception):
    """The base of all our exceptions: a message in four parts.

    Args:
        what: what is wrong, as a sentence without its period.
        where: the file, piece, edge, measurement or formula concerned; may be empty.
        how_much: the number against what is allowed; may be empty.
        what_to_do: the way out, as one or more whole sentences; may be empty.

    >>> print(ClothwiseError("the cap is 31.4 mm longer than the armhole", where="sleeve",
    ...                      how_much="allowed 15 to 25 mm", what_to_do="Lower the crown."))
    sleeve: the cap is 31.4 mm longer than the armhole (allowed 15 to 25 mm). Lower the crown.
    """

    def __init__(
        self, what: str, *, where: str = "", how_much: str = "", what_to_do: str = ""
    ) -> None:
        super().__init__(what)
        self.what = what
        self.where = where
        self.how_much = how_much
        self.what_to_do = what_to_do

    @property
    def problem(self) -> str:
        """The message without the remedy, and without a period."""
        place = f"{self.where}: " if self.where else ""
        amount = f" ({self.how_much})" if self.how_much else ""
        return f"{place}{self.what}{amount}"

    def __str__(self) -> str:
        return _sentences(self.problem, self.what_to_do)


class Misuse(ClothwiseError, ValueError):
    """The program or a function was asked for something that it does not have."""


class UnitError(ClothwiseError, ValueError):
    """A text that should be a length or an angle cannot be read as one."""


class GeometryError(ClothwiseError, ValueError):
    """A line, outline or operation on them that has no valid result."""


@dataclass(frozen=True, slots=True)
class Fault:
    """One fault of a file.

    Attributes:
        file: the file's name as the user knows it.
        line: counted from 1; None where no line applies.
        path: the place inside, such as `$.pieces[2].edges[0]` or `size 4, column bust_girth_cm`.
        what: what is wrong there, without a period.
        remedy: what to do about it, in whole sentences; may be empty.
    """

    file: str
    line: int | None
    path: str
    what: str
    remedy: str = ""

    def __str__(self) -> str:
        line = f"line {self.line}" if self.line is not None else ""
        place = ", ".join(part for part in (self.file, line, self.path) if part)
        problem = f"{place}: {self.what}" if place else self.what
        return _sentences(problem, self.remedy)


class DocumentError(ClothwiseError):
    """A file with faults. `faults` holds all that were found, in the order of the file."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        found = tuple(faults)
        files = tuple(dict.fromkeys(fault.file for fault in found))
        super().__init__(
            _count(len(found), "fault"),
            where=", ".join(files),
            what_to_do=" ".join(fault.remedy for fault in found[:1] if fault.remedy),
        )
        self.args = (found,)  # so that the exception survives pickling
        self.faults = found

    def __str__(self) -> str:
        if len(self.faults) == 1:
            return str(self.faults[0])
        return _listing(f"{self.where}: {self.what}", self.faults)


@dataclass(frozen=True, slots=True)
class MeasurementFault:
    """One measurement that is missing, impossible, or contradicts another.

    Attributes:
        measurement: its name, such as `waist_girth`.
        what: what is wrong with it, without a period.
        how_much: the range or the other measurement it was held against; may be empty.
        remedy: what to do, in whole sentences.
    """

    measurement: str
    what: str
    how_much: str = ""
    remedy: str = ""

    @property
    def problem(self) -> str:
        """The fault without its remedy, and without a period."""
        return f"{self.what} ({self.how_much})" if self.how_much else self.what

    def __str__(self) -> str:
        return _sentences(self.problem, self.remedy)


class MeasurementError(ClothwiseError, ValueError):
    """Body measurements that no body can have. `faults` holds all that were found.

    Args:
        faults: at least one.
        where: the body or size concerned; may be empty.
    """

    def __init__(self, faults: Iterable[MeasurementFault], where: str = "") -> None:
        found = tuple(faults)
        super().__init__(
            found[0].what if len(found) == 1 else _count(len(found), "measurement fault"),
            where=where,
            how_much=found[0].how_much if len(found) == 1 else "",
            what_to_do=found[0].remedy if found else "",
        )
        self.args = (found, where)
        self.faults = found

    def __str__(self) -> str:
        if len(self.faults) == 1:
            return super().__str__()
        return _listing(self.problem, self.faults)


class ExpressionError(ClothwiseError, ValueError):
    """A formula that cannot be read, or not be worked out. `text` is the formula as written."""

    def __init__(
        self,
        what: str,
        *,
        where: str = "",
        how_much: str = "",
        what_to_do: str = "",
        text: str = "",
    ) -> None:
        super().__init__(what, where=where, how_much=how_much, what_to_do=what_to_do)
        self.text = text


class CircularReference(ExpressionError):
    """Formulas that lead back to themselves.

    `cycle` names them in order; the last one leads to the first.
    """

    def __init__(self, cycle: Sequence[str]) -> None:
        names = tuple(cycle)
        round_trip = " → ".join((*names, names[0]))
        what = (
            f"{names[0]} is worked out from itself"
            if len(names) == 1
            else f"these need each other: {round_trip}"
        )
        super().__init__(
            what,
            what_to_do=f"Give one of them ({', '.join(names)}) a value that needs none of the rest."
            if len(names) > 1
            else f"Give {names[0]} a value that does not mention {names[0]}.",
        )
        self.args = (names,)
        self.cycle = names


class UnresolvedExpressions(ExpressionError):
    """Some formulas of a set failed. `errors` pairs each failed name with its own error.

    Formulas that fail only because they need a failed one are not listed.
    """

    def __init__(self, errors: Iterable[tuple[str, ExpressionError]]) -> None:
        found = tuple(errors)
        super().__init__(
            f"{_count(len(found), 'formula')} cannot be worked out",
            where=", ".join(name for name, _ in found),
            what_to_do=found[0][1].what_to_do if found else "",
        )
        self.args = (found,)
        self.errors = found

    def __str__(self) -> str:
        lines = [f"{name}: {error}" for name, error in self.errors]
        return lines[0] if len(lines) == 1 else _listing(self.what, lines)


class ComponentError(ClothwiseError):
    """A garment part that cannot be drafted with these parameters and this body."""


class CommandError(ClothwiseError, ValueError):
    """A change that cannot be made to the documents as they are; they stay as they were."""


class CuttingError(ClothwiseError):
    """Pieces that cannot be laid on, or cut from, this fabric."""


class OutputError(ClothwiseError):
    """A file that cannot be written, or a drawing that cannot be put on this paper."""


def did_you_mean(wrong: str, known: Iterable[str], *, of_what: str = "names") -> str:
    """Return a sentence that suggests what was meant by a name that is not known.

    Close spellings are suggested first; if there is none, all are listed when they are few.

    >>> did_you_mean("waist_grith", ["waist_girth", "hip_girth"])
    'Did you mean waist_girth?'
    """
    choices = list(dict.fromkeys(known))
    if near := meant_instead(wrong, choices):
        return near
    if not choices:
        return f"There are no {of_what} to choose from."
    if len(choices) <= 12:
        return f"The {of_what} are: {', '.join(choices)}."
    return f"There are {len(choices)} {of_what}; the first are {', '.join(choices[:5])}."


def meant_instead(wrong: str, known: Iterable[str]) -> str:
    """Return a sentence with the names that are spelled much like a wrong one; empty if none is.

    >>> meant_instead("abc", ["waist_girth", "hip_girth"])
    ''
    """
    close = _closest(wrong, list(dict.fromkeys(known)))
    return f"Did you mean {_alternatives(close)}?" if close else ""


def _closest(wrong: str, choices: Sequence[str]) -> list[str]:
    """Return up to three choices spelled like `wrong`, or else having a word that is."""
    from difflib import SequenceMatcher  # loaded only when something is wrong already

    matcher = SequenceMatcher(autojunk=False)
    matcher.set_seq2(wrong.casefold()[:_LONGEST_COMPARED])

    def likeness(text: str) -> float:
        matcher.set_seq1(text.casefold()[:_LONGEST_COMPARED])
        if matcher.quick_ratio() < _LEAST_LIKENESS:
            return 0.0
        return matcher.ratio()

    def likeness_of_words(text: str) -> float:
        return max((likeness(word) for word in text.split("_") if len(word) > 2), default=0.0)

    for measure in (likeness, likeness_of_words):
        scores = {choice: measure(choice) for choice in choices}
        best = max(scores.values(), default=0.0)
        if best >= _LEAST_LIKENESS:
            close = [name for name in choices if scores[name] > best - _LIKENESS_SPREAD]
            return sorted(close, key=lambda name: -scores[name])[:3]
    return []


def _alternatives(choices: Sequence[str]) -> str:
    if len(choices) == 1:
        return choices[0]
    return f"{', '.join(choices[:-1])} or {choices[-1]}"


def _sentences(problem: str, remedy: str) -> str:
    ended = problem if problem.endswith((".", "!", "?")) else f"{problem}."
    return f"{ended} {remedy}" if remedy else ended


def _listing(heading: str, entries: Iterable[object]) -> str:
    return "\n".join([f"{heading}:", *(f"  {entry}" for entry in entries)])


def _count(number: int, noun: str) -> str:
    plural = "formulas" if noun == "formula" else f"{noun}s"
    return f"{number} {noun if number == 1 else plural}"
