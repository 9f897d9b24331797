"""Commands about cloths: flaws, the cloths of a stash, and what has to meet on stripes."""

from __future__ import annotations

import posixpath
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import ClassVar, TypeVar

from clothwise.errors import CommandError, Misuse, did_you_mean
from clothwise.pattern.commands.command import Command, Touched
from clothwise.pattern.commands.design_texts import make_of, with_make, with_text
from clothwise.pattern.commands.documents import Documents, check_document_name, is_make_name
from clothwise.pattern.commands.fabric_fields import fields_told, with_fabric_fields
from clothwise.pattern.document.fabric_entry import FabricEntry
from clothwise.pattern.document.flaw_entry import FLAW_KEYS, FlawEntry
from clothwise.pattern.document.match_entry import MatchEntry
from clothwise.pattern.document.outline_entry import outline_from_text, outline_text
from clothwise.pattern.document.remnant_entry import REMNANT_KEYS, RemnantEntry
from clothwise.pattern.document.stash import Stash, parse_stash
from clothwise.pattern.document.writing import format_stash
from clothwise.pattern.plain_names import plain_name

__all__ = [
    "RemoveRemnant",
    "SetFlaws",
    "SetMatch",
    "SetRemnant",
    "SetStashFabric",
    "flaw_fields",
    "holes_text",
]

_BOX = FLAW_KEYS[:4]
_HOLES = "holes"
_Cloth = TypeVar("_Cloth", FabricEntry, RemnantEntry)


@dataclass(frozen=True)
class SetFlaws(Command):
    """Write where a cloth has flaws that no piece may cover, or where a remnant has holes.

    Attributes:
        document: the make or the stash in which the cloth stands.
        cloth: its name there.
        flaws: all of them, each with `along`, `across`, `length` and `width`, or with an
            `outline` such as `80cm 2cm; 84cm 2cm; 82cm 6cm`.
        what: `flaws`, or `holes` of a remnant.
    """

    kind: ClassVar[str] = "set-flaws"
    document: str
    cloth: str
    flaws: tuple[Mapping[str, str], ...]
    what: str = "flaws"

    @property
    def words(self) -> str:
        return f"{self.cloth}: {_count(len(self.flaws), self.what)}"

    @property
    def touches(self) -> frozenset[Touched]:
        tables = ("fabrics",) if is_make_name(self.document) else ("fabrics", "remnants")
        return frozenset((self.document, f"{each}.{self.cloth}.{self.what}") for each in tables)

    def told(self, before: Documents) -> str:
        cloth = self._cloth(before)
        known = [flaw_fields(each) for each in getattr(cloth, self.what)]
        one = self.what.removesuffix("s")
        new = [each for each in self.flaws if dict(each) not in known]
        if len(new) == 1:
            place = new[0]
            where = "of its own shape"
            if "outline" not in place:
                where = f"at {place.get('along')} along, {place.get('across')} across"
            return f"{cloth.title or cloth.name}: a {one} {where}"
        fewer = len(known) - len(self.flaws)
        if not new and fewer == 1:
            return f"{cloth.title or cloth.name}: one {one} fewer"
        return f"{cloth.title or cloth.name}: {_count(len(self.flaws), self.what)}"

    def apply(self, before: Documents) -> dict[str, str]:
        cloth = self._cloth(before)
        changed = {self.what: tuple(_flaw(each, self.what) for each in self.flaws)}
        if is_make_name(self.document):
            make = make_of(before, self.document)
            fabrics = tuple(
                replace(each, **changed) if each.name == self.cloth else each  # type: ignore[arg-type]
                for each in make.fabrics
            )
            return with_make(before, self.document, replace(make, fabrics=fabrics))
        stash = _stash_of(before, self.document)
        if isinstance(cloth, FabricEntry):
            return _with_stash(
                before,
                self.document,
                replace(stash, fabrics=_exchanged(stash.fabrics, replace(cloth, **changed))),  # type: ignore[arg-type]
            )
        other = replace(cloth, **changed)  # type: ignore[arg-type]
        return _with_stash(
            before, self.document, replace(stash, remnants=_exchanged(stash.remnants, other))
        )

    def _cloth(self, before: Documents) -> FabricEntry | RemnantEntry:
        fabrics: tuple[FabricEntry, ...]
        remnants: tuple[RemnantEntry, ...] = ()
        if is_make_name(self.document):
            fabrics = make_of(before, self.document).fabrics
        else:
            stash = _stash_of(before, self.document)
            fabrics, remnants = stash.fabrics, stash.remnants
        cloths: dict[str, FabricEntry | RemnantEntry] = {
            **{each.name: each for each in fabrics},
            **{each.name: each for each in remnants},
        }
        if self.cloth not in cloths:
            raise CommandError(
                f"there is no cloth {self.cloth[:40]!r}",
                where=self.document,
                what_to_do=did_you_mean(self.cloth, cloths, of_what="cloths"),
            )
        found = cloths[self.cloth]
        if self.what != "flaws" and not (self.what == _HOLES and isinstance(found, RemnantEntry)):
            raise CommandError(
                f"{self.cloth[:40]} can have no {self.what[:20]!r}",
                where=self.document,
                what_to_do="A fabric has flaws, a remnant has flaws and holes.",
            )
        return found


@dataclass(frozen=True)
class SetRemnant(Command):
    """Write what is known of a remnant of a stash, or a new remnant.

    Attributes:
        stash: the document, such as `stash.yaml`; a new one begins with this remnant.
        name: of the remnant.
        fields: as stashes call them; `outline` as `0 0; 80cm 2cm; 75cm 40cm`, `holes` as such
            outlines with `|` between, `roles` with commas between. An empty text leaves one out.
        make: a make that shall name the stash from now on, unless it names one; may be empty.
    """

    kind: ClassVar[str] = "set-remnant"
    stash: str
    name: str
    fields: Mapping[str, str]
    make: str = ""

    @property
    def words(self) -> str:
        return f"{self.name}: {fields_told(self.fields)}"

    @property
    def touches(self) -> frozenset[Touched]:
        own = frozenset((self.stash, f"remnants.{self.name}.{key}") for key in self.fields)
        return own | (frozenset({(self.make, "stash")}) if self.make else frozenset())

    def told(self, before: Documents) -> str:
        known = {each.name: each.title for each in _stash_of(before, self.stash).remnants}
        title = self.fields.get("title", "") or known.get(self.name, "") or self.name
        if self.name not in known:
            return f"new remnant {title}"
        told = []
        for key, text in self.fields.items():
            if key in ("outline", _HOLES):
                told.append("its shape" if key == "outline" else _HOLES)
            elif text or key not in ("length", "width"):
                told.append(f"{plain_name(key)} {text or 'left out'}")
        return f"{title}: {', '.join(told)[:120] or 'its shape'}"

    def apply(self, before: Documents) -> dict[str, str]:
        stash = _stash_of(before, self.stash)
        if self.name in stash.names:
            raise CommandError(
                f"the stash has a fabric {self.name[:40]!r} already",
                where=self.stash,
                what_to_do="Give the remnant another name.",
            )
        known = {each.name: each for each in stash.remnants}
        entry = known.get(self.name, RemnantEntry(self.name))
        for key, text in self.fields.items():
            entry = _with_remnant_field(entry, key, text)
        remnants = tuple({**known, self.name: entry}.values())
        after = _with_stash(before, self.stash, replace(stash, remnants=remnants))
        return _naming_stash(after, self.make, self.stash) if self.make else after


@dataclass(frozen=True)
class RemoveRemnant(Command):
    """Take a remnant out of a stash.

    Attributes:
        stash: the document.
        name: of the remnant.
    """

    kind: ClassVar[str] = "remove-remnant"
    stash: str
    name: str

    @property
    def words(self) -> str:
        return f"remnant {self.name} taken away"

    @property
    def touches(self) -> frozenset[Touched]:
        return frozenset({(self.stash, f"remnants.{self.name}")})

    def told(self, before: Documents) -> str:
        titles = {each.name: each.title for each in _stash_of(before, self.stash).remnants}
        return f"remnant {titles.get(self.name) or self.name} taken away"

    def apply(self, before: Documents) -> dict[str, str]:
        stash = _stash_of(before, self.stash)
        if self.name not in stash.remnant_names:
            raise CommandError(
                f"the stash has no remnant {self.name[:40]!r}",
                where=self.stash,
                what_to_do="Look at the list again: it may be gone already.",
            )
        left = tuple(each for each in stash.remnants if each.name != self.name)
        return _with_stash(before, self.stash, replace(stash, remnants=left))


@dataclass(frozen=True)
class SetStashFabric(Command):
    """Write what is known of a fabric of a stash, for every make that uses it.

    Attributes:
        stash: the document.
        name: of the fabric.
        fields: as documents call them, `repeat.along` for what is inside; an empty text leaves
            one out.
    """

    kind: ClassVar[str] = "set-stash-fabric"
    stash: str
    name: str
    fields: Mapping[str, str]

    @property
    def words(self) -> str:
        return f"{self.name} of the stash: {fields_told(self.fields)}"

    @property
    def touches(self) -> frozenset[Touched]:
        return frozenset((self.stash, f"fabrics.{self.name}.{key}") for key in self.fields)

    def apply(self, before: Documents) -> dict[str, str]:
        stash = _stash_of(before, self.stash)
        known = {each.name: each for each in stash.fabrics}
        if self.name not in known:
            raise CommandError(
                f"the stash has no fabric {self.name[:40]!r}",
                where=self.stash,
                what_to_do=did_you_mean(self.name, known, of_what="fabrics"),
            )
        fabric = with_fabric_fields(known[self.name], self.fields)
        return _with_stash(
            before, self.stash, replace(stash, fabrics=_exchanged(stash.fabrics, fabric))
        )


@dataclass(frozen=True)
class SetMatch(Command):
    """Write where stripes and checks of a make run on from piece to piece.

    Attributes:
        make: the document.
        name: of a rule, such as `seams`, or of points of one's own.
        fields: from `directions`, `phase_along`, `phase_across` and `points.PIECE`; nothing takes
            the entry out, so that it is again as the design says, or by rule.
    """

    kind: ClassVar[str] = "set-match"
    make: str
    name: str
    fields: Mapping[str, str]

    @property
    def words(self) -> str:
        told = [text for key, text in self.fields.items() if text and not key.startswith("points.")]
        return f"stripes and checks, {plain_name(self.name)}: {', '.join(told) or 'as usual'}"

    @property
    def touches(self) -> frozenset[Touched]:
        return frozenset({(self.make, f"matches.{self.name}")})

    def apply(self, before: Documents) -> dict[str, str]:
        make = make_of(before, self.make)
        entry = MatchEntry(self.name)
        points: dict[str, str] = {}
        for key, text in self.fields.items():
            table, dot, piece = key.partition(".")
            if dot and table == "points" and piece:
                points |= {piece: text} if text else {}
            elif key in ("directions", "phase_along", "phase_across"):
                entry = replace(entry, **{key: text})  # type: ignore[arg-type]
            else:
                raise CommandError(
                    f"{key[:40]!r} says nothing about matching",
                    what_to_do="Write directions, phase_along, phase_across, or points.PIECE.",
                )
        entry = replace(entry, points=points)
        others = tuple(each for each in make.matches if each.name != self.name)
        stated = (entry,) if entry != MatchEntry(self.name) else ()
        return with_make(before, self.make, replace(make, matches=(*others, *stated)))


def flaw_fields(flaw: FlawEntry) -> dict[str, str]:
    """Return a flaw as `SetFlaws` takes it."""
    if flaw.outline:
        return {"outline": outline_text(flaw.outline)}
    return {key: getattr(flaw, key) for key in _BOX}


def holes_text(holes: tuple[FlawEntry, ...]) -> str:
    """Return holes of any shape as `SetRemnant` takes them."""
    return " | ".join(outline_text(each.outline) for each in holes)


def _flaw(fields: Mapping[str, str], what: str) -> FlawEntry:
    unknown = [key for key in fields if key not in FLAW_KEYS]
    missing = [] if "outline" in fields else [key for key in _BOX if not fields.get(key)]
    if unknown or missing:
        raise CommandError(
            f"one of the {what[:20]} does not say where it is",
            how_much=f"{'unknown' if unknown else 'missing'}: {', '.join(unknown or missing)[:60]}",
            what_to_do="Write along, across, length and width, or an outline.",
        )
    if "outline" in fields:
        return FlawEntry(outline=_outline(fields["outline"]))
    along, across, length, width = (" ".join(fields[key].split()) for key in _BOX)
    return FlawEntry(along, across, length, width)


def _with_remnant_field(entry: RemnantEntry, key: str, text: str) -> RemnantEntry:
    if key not in REMNANT_KEYS or key == "flaws":
        raise CommandError(
            f"{key[:40]!r} is nothing that is known of a remnant",
            what_to_do=did_you_mean(key, REMNANT_KEYS, of_what="fields"),
        )
    if key == "outline":
        return replace(entry, outline=_outline(text))
    if key == _HOLES:
        holes = (_outline(each) for each in text.split("|") if each.strip())
        return replace(entry, holes=tuple(FlawEntry(outline=each) for each in holes))
    if key == "roles":
        return replace(entry, roles=tuple(each.strip() for each in text.split(",") if each.strip()))
    words = ("nap", "wrong_side_usable", "grainless")
    usual = {each: getattr(RemnantEntry(""), each) for each in words}
    return replace(entry, **{key: " ".join(text.split()) or usual.get(key, "")})  # type: ignore[arg-type]


def _outline(text: str) -> tuple[tuple[str, str], ...]:
    try:
        return outline_from_text(text)
    except Misuse as error:
        raise CommandError(
            error.what, how_much=error.how_much, what_to_do=error.what_to_do
        ) from error


def _stash_of(documents: Documents, name: str) -> Stash:
    """The stash of a document; an empty one if it is new."""
    check_document_name(name)
    if is_make_name(name):
        raise CommandError(
            f"{name[:60]!r} is a make, and no stash",
            what_to_do="Name the file that lists your cloths, such as stash.yaml.",
        )
    text = documents.get(name, "")
    return parse_stash(text, file=name) if text else Stash()


def _with_stash(documents: Documents, name: str, stash: Stash) -> dict[str, str]:
    return with_text(documents, name, format_stash(stash, previous=documents.get(name, "")))


def _naming_stash(documents: Documents, name: str, stash: str) -> dict[str, str]:
    make = make_of(documents, name)
    if make.stash:
        return dict(documents)
    seen = posixpath.relpath(stash, posixpath.dirname(name) or ".")
    return with_make(documents, name, replace(make, stash=seen))


def _exchanged(cloths: tuple[_Cloth, ...], other: _Cloth) -> tuple[_Cloth, ...]:
    return tuple(other if each.name == other.name else each for each in cloths)


def _count(number: int, what: str) -> str:
    if not number:
        return f"no {what}"
    return f"1 {what.removesuffix('s')}" if number == 1 else f"{number} {what}"
