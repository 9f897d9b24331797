"""What an edit does, as a history tells it: `split the skirt back from center to side`.

A history knows the design, not what is drafted from it: pieces and edges stand there by their
names, written as words.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping

from clothwise.pattern.document.edit_entry import EditEntry
from clothwise.pattern.plain_names import plain_name

__all__ = ["change_words", "edit_words", "parameter_words"]

_SENTENCES = {
    "split": "split the {piece} from {from} to {to}",
    "move-dart": "moved {share}the {dart} of the {piece}{was} to the {to}",
    "merge-darts": "closed the {dart} of the {piece} into the {into}",
    "dart-to": "gave up the {dart} of the {piece}: {into}",
    "dart-point": "made the {dart} of the {piece} {longer} by {by}",
    "spread": "slashed and spread the {piece} from {hinge} to {open}",
    "lengthen": "lengthened or shortened the {pieces}: {by}",
    "reshape": "drew the {edge} of the {piece} anew",
    "join": "joined the pieces at the {seam}",
    "asymmetric": "parted left from right: {pieces}",
    "unfold": "opened out the {piece}",
    "fold": "put the {piece} back on the fold",
    "casing": "casing for {draws} at the {edge} of the {piece}",
    "slit": "slit in the seam {seam}",
    "vent": "vent in the seam {seam}",
    "allowance": "allowance of the seam {seam}: {by}",
    "finish": "finished {what} otherwise: {as}",
    "fabric": "cut the {copies} from {role}",
    "grain": "turned the grain of the {pieces}: {by}",
    "notch": "notch at the {edge} of the {piece}",
    "mark": "{what} on the {piece}",
    "text": "wrote “{words}” on the {piece}",
    "narrower-under-front": "narrowed the front that lies under",
}
"""What is told of each kind; names of parameters stand in braces."""

_USUALLY = {
    "dart-to": {"into": "gathers"},
    "dart-point": {"by": "-20mm"},
    "casing": {"draws": "elastic"},
    "mark": {"what": "dot"},
    "finish": {"as": "overlocked"},
    "lengthen": {"by": "longer"},
    "allowance": {"by": "another"},
    "grain": {"by": "on the bias"},
}
"""What is told of a parameter that is left out."""

_AS_WRITTEN = frozenset({"words", "by"})
"""Parameters that are no names."""

_PARAMETERS = {
    "from": "begins at",
    "from_at": "how far along that edge it begins",
    "to_at": "how far along that edge it ends",
    "at": "how far along that edge",
    "bend": "bends to the left by",
    "left": "name of the part to the left",
    "right": "name of the part to the right",
    "left_title": "title of the part to the left",
    "right_title": "title of the part to the right",
    "left_role": "cloth of the part to the left",
    "right_role": "cloth of the part to the right",
    "share": "share of it that moves",
    "stops_short": "ends before the old point by",
    "hinge_by": "hinge becomes longer by",
    "lines": "number of slashes",
    "from_share": "first slash after this share",
    "to_share": "last slash before this share",
    "through": "through these places",
    "start_slides": "its start slides by",
    "end_slides": "its end slides by",
    "start_turns": "its start turns by",
    "end_turns": "its end turns by",
    "partner": "the edge that is sewn to it",
    "draws": "what is drawn through",
    "drawn_to": "drawn in to this share",
    "tail": "the cord hangs out by",
    "over": "piece that lies on top",
    "copies": "pieces or copies",
    "role": "cloth",
    "as": "how it is finished",
    "turn": "turned in first",
    "cuts": "single or double",
    "inside": "how far inside the edge",
    "to_edge": "edge at its other end",
    "to_inside": "how far inside that edge",
    "what": "what is marked",
    "label": "what stands beside it",
    "size": "size of the letters",
    "runs": "how the words run",
    "under": "front that lies under",
    "overlap": "laps over center front by",
    "open": "edge that becomes longer",
    "hinge": "edge that it hinges on",
}
"""Parameters whose names say too little."""

_OF_KIND = {
    ("split", "to"): "ends at",
    ("move-dart", "to"): "moves to",
    ("move-dart", "to_at"): "how far along that edge",
    ("dart-to", "into"): "its width becomes",
    ("merge-darts", "into"): "dart that takes it up",
    ("merge-darts", "dart"): "dart that is closed",
    ("dart-point", "by"): "longer by",
    ("lengthen", "by"): "longer by",
    ("spread", "by"): "open edge becomes longer by",
    ("allowance", "by"): "new allowance",
    ("grain", "by"): "turned by",
}
"""The same, where it depends on the kind of the edit."""

_THROUGH = "through"
"""A parameter that is too long to be told."""

_NAMES = re.compile(r"[a-z][a-z0-9_-]*(?:, [a-z][a-z0-9_-]*)*")
_MADE_DART = re.compile(r"move-dart(-\d+)?")


def parameter_words(kind: str, name: str) -> str:
    """A parameter of an edit in words.

    >>> parameter_words("split", "from_at"), parameter_words("vent", "width")
    ('how far along that edge it begins', 'width')
    """
    return _OF_KIND.get((kind, name)) or _PARAMETERS.get(name) or plain_name(name)


def edit_words(
    kind: str,
    parameters: Mapping[str, str],
    others: Iterable[EditEntry] = (),
    called: Callable[[str], str] = plain_name,
) -> str:
    """What an edit does, as a sentence without a period, in the past as a history tells it.

    Args:
        kind: of the edit.
        parameters: as they are written.
        others: edits of the design, among which a dart may have its name from.
        called: how a piece or a seam is called.

    >>> edit_words("move-dart", {"piece": "bodice-front", "dart": "bust-dart", "to": "shoulder"})
    'moved the bust dart of the bodice front to the shoulder'
    """
    told = {name: _words(name, text, called) for name, text in parameters.items() if text}
    told = {**_USUALLY.get(kind, {}), **told}
    share = parameters.get("share", "")
    told["share"] = "a share of " if share and share not in ("1", "100%") else ""
    told["was"] = ""
    if "dart" in told:
        dart, moved = parameters["dart"], [*others]
        told["dart"] = plain_name(_dart(dart, moved))
        before = next((each for each in moved if each.name == dart), None)
        if before is not None and isinstance(before.parameters.get("to"), str):
            told["was"] = f" from the {plain_name(str(before.parameters['to']))}"
    if kind == "dart-point":
        told["longer"] = "shorter" if told["by"].startswith("-") else "longer"
        told["by"] = told["by"].removeprefix("-")
    if kind == "finish":
        edge, piece, seam = (told.get(key, "") for key in ("edge", "piece", "seam"))
        told["what"] = f"the seam {seam}" if seam else f"the {edge} of the {piece}"
    sentence = _SENTENCES.get(kind, plain_name(kind))
    try:
        return sentence.format_map(told)
    except KeyError:  # a parameter that it needs is left out, which the draft refuses in its words
        return plain_name(kind)


def change_words(entry: EditEntry, parameters: Mapping[str, str], of: str) -> str:
    """What becomes of an edit: `split the skirt back from center to side: ends at 40%`.

    Args:
        entry: as it was.
        parameters: that are written; an empty text leaves one out, and what stays is not told.
        of: what the edit does.
    """
    told = []
    for name, text in parameters.items():
        written = entry.parameters.get(name, "")
        old = _value(name, written) if isinstance(written, str) else ""
        if text == written:
            continue
        if name == _THROUGH:
            told.append("through other places" if text else "through no places of its own")
            continue
        way = f"{old} → " if old and text else ""
        new = _value(name, text) or "as usual"
        told.append(f"{parameter_words(entry.kind, name)}: {way}{new}")
    return f"{of}; {', '.join(told)}" if told else of


def _value(name: str, text: str) -> str:
    """The value of a parameter as it is written, or names in words."""
    return plain_name(text) if name not in _AS_WRITTEN and _NAMES.fullmatch(text) else text


def _words(name: str, text: str, called: Callable[[str], str]) -> str:
    if name in _AS_WRITTEN:
        return text
    return " and ".join(called(each.strip()) for each in text.split(",") if each.strip())


def _dart(name: str, others: list[EditEntry]) -> str:
    """A dart by what it was called first: one that an edit has moved bears the edit's name."""
    entry = next((each for each in others if each.name == name and each.kind == "move-dart"), None)
    if entry is None or not _MADE_DART.fullmatch(name):
        return name
    title, share = entry.parameters.get("title"), entry.parameters.get("share", "1")
    if isinstance(title, str) and title:
        return title
    key = "dart" if share in ("1", "100%") else "to"
    old = entry.parameters.get(key)
    if not isinstance(old, str):
        return name
    rest = [each for each in others if each is not entry]
    return _dart(old, rest) if key == "dart" else f"{old}-dart"
