"""What makes and edits say of pieces, under the names that those have after a change of an edit.

An edit that splits a piece, or parts left from right, names the pieces that it makes. When it
comes, goes or is changed, what was said of the old names goes along to the new ones.
"""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, field, replace
from functools import partial

from clothwise.errors import Misuse
from clothwise.pattern.commands.belonging import NAMING, parts_of, with_value_texts
from clothwise.pattern.commands.design_texts import with_design, with_makes
from clothwise.pattern.commands.documents import Documents
from clothwise.pattern.document.cutting_entry import PinEntry
from clothwise.pattern.document.design import Design
from clothwise.pattern.document.edit_entry import EditEntry
from clothwise.pattern.document.make import Make
from clothwise.pattern.document.match_entry import MatchEntry

__all__ = ["MADE_EARLY", "PieceNames", "piece_names", "with_piece_names"]

MADE_EARLY = frozenset({"dart-point", "lengthen", "reshape", "spread"})
"""Edits that are made as soon as their pieces are there, before those that wait for all of them.

They name what the components drafted, not what a split leaves under the same name. A test holds
them against the edits that there are.
"""

_SIDES = ("left", "right")


@dataclass(frozen=True)
class PieceNames:
    """How pieces and seams are called after a change of one edit.

    Attributes:
        edit: as it was, or as it is added.
        renamed: pieces, by what they were called.
        seams: the same for seams.
        parted: pieces that the edit now makes several of, with those that are cut as it was.
        joined: pieces that are one again, with the parts that they were in.
    """

    edit: EditEntry
    renamed: Mapping[str, str] = field(default_factory=dict)
    seams: Mapping[str, str] = field(default_factory=dict)
    parted: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    joined: Mapping[str, tuple[str, ...]] = field(default_factory=dict)

    def __bool__(self) -> bool:
        """Whether anything is called otherwise."""
        return bool(self.renamed or self.parted or self.joined)

    def make(self, make: Make) -> Make:
        """A make with all that it says of the pieces, under their new names."""
        return replace(
            make,
            copies=self._copies(make.copies),
            pins=self._pins(make.pins),
            matches=self.matches(make.matches),
        )

    def matches(self, matches: tuple[MatchEntry, ...]) -> tuple[MatchEntry, ...]:
        """Points that meet, under the new names of their pieces."""
        return tuple(
            replace(each, points={self._piece(key): at for key, at in each.points.items()})
            for each in matches
        )

    def entry(self, entry: EditEntry) -> EditEntry:
        """Another edit with the new names of the pieces and seams that it names."""
        parameters = dict(entry.parameters)
        for key in NAMING:
            if key in parameters:
                known = self.seams if key == "seam" else self.renamed
                parameters[key] = with_value_texts(
                    parameters[key], partial(_with_names, known=known)
                )
        return replace(entry, parameters=parameters)

    def lost_of(self, make: Make) -> tuple[str, ...]:
        """The pieces for which a make chose a cloth that stands for nothing any more."""
        keys = [key for key in make.copies if not self._keys(key, make.copies)]
        return tuple(dict.fromkeys(key.partition("/")[0] for key in keys))

    def _piece(self, key: str) -> str:
        return _with_name(key, self.renamed)

    def _copies(self, copies: Mapping[str, str]) -> dict[str, str]:
        found: dict[str, str] = {}
        for key, fabric in copies.items():
            for new in self._keys(key, copies):
                if new != key or new not in found:  # one that took this name has the last word
                    found[new] = fabric
        return found

    def _keys(self, key: str, copies: Mapping[str, str]) -> tuple[str, ...]:
        """The copies for which a key stands now; none where its parts were cut differently."""
        piece, slash, copy = key.partition("/")
        if piece in self.parted:
            return tuple(
                f"{part}{slash}{copy}"
                for part in self.parted[piece]
                if self.edit.kind == "split" or _is_of_side(part, copy)
            )
        for whole, parts in self.joined.items():
            if piece not in parts:
                continue
            if self.edit.kind != "split":
                return (f"{whole}/{copy or piece.rpartition('-')[2]}",)
            cloths = {copies.get(f"{part}{slash}{copy}", copies.get(part)) for part in parts}
            return (f"{whole}{slash}{copy}",) if len(cloths) == 1 else ()
        return (self._piece(key),)

    def _pins(self, pins: Mapping[str, PinEntry]) -> dict[str, PinEntry]:
        """Where copies lie; one that has another shape now lies nowhere yet."""
        others = {part for parts in self.joined.values() for part in parts}
        return {
            self._piece(key): pin
            for key, pin in pins.items()
            if key.partition("/")[0] not in {*self.parted, *others}
        }


def piece_names(before: EditEntry | None, after: EditEntry | None) -> PieceNames:
    """Return how pieces are called after an edit is added, changed or taken out.

    Args:
        before: the edit as it was; None if it is added.
        after: as it will be; None if it is taken out.
    """
    old, new = (parts_of(each) if each else {} for each in (before, after))
    edit = before or after
    assert edit is not None
    if before is None and after is not None:
        parted = {piece: _cut_as_before(after, parts) for piece, parts in new.items()}
        return PieceNames(edit, parted=parted)
    if after is None:
        return PieceNames(edit, joined=old)
    same = old.keys() & new.keys()
    names = PieceNames(
        edit,
        renamed={
            was: now
            for piece in same
            for was, now in zip(old[piece], new[piece], strict=True)
            if was != now
        },
        parted={piece: parts for piece, parts in new.items() if piece not in same},
        joined={piece: parts for piece, parts in old.items() if piece not in same},
    )
    return names if edit.kind != "split" or same else _of_another(edit, old, new)


def with_piece_names(
    documents: Documents, design: Design, names: PieceNames, *, makes_only: bool = False
) -> dict[str, str]:
    """Return the documents with what they say of pieces under new names.

    A make whose choices leave the edit out has none of its pieces, and is left alone.

    Args:
        documents: with the edit as it is to be.
        design: of them.
        names: how pieces are called.
        makes_only: whether nothing is said of them in the design.
    """
    if not names:
        return dict(documents)
    after = dict(documents)
    if names.renamed and not makes_only:
        changed, names = _with_others(design, names)
        if changed != design:
            after = with_design(after, changed)

    def has_pieces(make: Make) -> bool:
        with suppress(Misuse, KeyError):
            return names.edit.when.holds(design.chosen(make.choices, view=make.view))
        return False

    return with_makes(after, lambda make: names.make(make) if has_pieces(make) else make)


def _with_others(design: Design, names: PieceNames) -> tuple[Design, PieceNames]:
    """The design with the new names in other edits; and what those call otherwise in turn."""
    at = next(n for n, each in enumerate(design.edits) if each.name == names.edit.name)
    edits = [*design.edits]
    drafted = {*parts_of(names.edit)}
    for number, entry in enumerate(design.edits):
        if number == at:
            continue
        known = names if number > at else replace(names, renamed=_without(names.renamed, drafted))
        if entry.kind in MADE_EARLY or entry.after or not _goes_along(entry, names.edit):
            known = replace(known, renamed=_without(known.renamed, drafted))
        changed = known.entry(entry)
        edits[number] = changed
        if number > at:
            names = _in_turn(names, entry, changed)
    changed_design = replace(design, edits=tuple(edits))
    if names.edit.when.alternatives:  # what is said for every choice is said of the whole piece
        names_of_all = replace(names, renamed=_without(names.renamed, drafted))
        return replace(changed_design, matches=names_of_all.matches(design.matches)), names
    return replace(changed_design, matches=names.matches(design.matches)), names


def _in_turn(names: PieceNames, before: EditEntry, after: EditEntry) -> PieceNames:
    """The same with the pieces and the seam of a later edit, which are called after its piece."""
    old, new = parts_of(before), parts_of(after)
    renamed, seams = dict(names.renamed), dict(names.seams)
    for (piece, parts), (now, parts_now) in zip(old.items(), new.items(), strict=False):
        renamed |= {a: b for a, b in zip(parts, parts_now, strict=True) if a != b}
        if piece != now and before.kind == "split":
            seams[f"{piece}-{before.name}"] = f"{now}-{before.name}"
    return replace(names, renamed=renamed, seams=seams)


def _goes_along(entry: EditEntry, edit: EditEntry) -> bool:
    """Whether wherever an edit is made, another is made too."""
    return not edit.when.alternatives or entry.when == edit.when


def _of_another(
    edit: EditEntry, old: Mapping[str, tuple[str, ...]], new: Mapping[str, tuple[str, ...]]
) -> PieceNames:
    """A split that is led to another piece: what was said of a part with a name goes along."""
    renamed = {
        was: now
        for (piece, parts), (other, others) in zip(old.items(), new.items(), strict=False)
        for was, now in zip(parts, others, strict=True)
        if was not in (now, piece) and now != other
    }
    return PieceNames(edit, renamed=renamed)


def _cut_as_before(edit: EditEntry, parts: tuple[str, ...]) -> tuple[str, ...]:
    """The parts for which an edit that is added does not say another cloth."""
    if edit.kind != "split":
        return parts
    return tuple(
        part
        for part, side in zip(parts, _SIDES, strict=True)
        if not edit.parameters.get(f"{side}_role")
    )


def _is_of_side(part: str, copy: str) -> bool:
    return not copy or part.rpartition("-")[2] in copy.split()


def _without(names: Mapping[str, str], gone: set[str]) -> dict[str, str]:
    return {old: new for old, new in names.items() if old not in gone}


def _with_names(text: str, known: Mapping[str, str]) -> str:
    return ", ".join(_with_name(each, known) for each in text.split(","))


def _with_name(text: str, names: Mapping[str, str]) -> str:
    """A name with its sign and with what is in the piece, such as `-skirt-front/left`."""
    plain = text.strip()
    sign = "-" if plain.startswith("-") else ""
    bare = plain.removeprefix("-")
    ends = [at for at in (bare.find(mark) for mark in "/.") if at >= 0]
    end = min(ends, default=len(bare))
    return f"{sign}{names.get(bare[:end], bare[:end])}{bare[end:]}"
