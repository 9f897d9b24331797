"""In a worker: what the frame of the Draft room shows of a design, and the forms of its edits."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass, replace
from itertools import takewhile

from clothwise.app.jobs._beside_fields import amount_beside
from clothwise.app.jobs._drafting import Kept, drafted, opened_design, version_of
from clothwise.app.jobs._ways import ways_out
from clothwise.app.jobs.draft_room import (
    EditField,
    EditFormOf,
    EditKind,
    EditShown,
    Overview,
    OverviewOf,
)
from clothwise.components import DesignFile
from clothwise.components.edits.edit import Edit
from clothwise.components.edits.places import dart_key, place
from clothwise.components.edits.registry import edit_class
from clothwise.components.edits.replay import CODE, lost_start
from clothwise.components.edits.titles import EDIT_GROUPS, edit_title
from clothwise.components.parameter import Along, Parameter, ParameterKind
from clothwise.components.pointing import halves, place_called, titles_of_halves
from clothwise.components.schemas import help_of, parameter_default
from clothwise.errors import ClothwiseError
from clothwise.geometry import Point
from clothwise.pattern import Pattern, Piece
from clothwise.pattern.commands.edit_words import edit_words, parameter_words
from clothwise.pattern.document import Design, EditEntry
from clothwise.pattern.document.value import Choices, selected
from clothwise.pattern.first_letter import lowered
from clothwise.pattern.plain_names import edge_called, plain_name
from clothwise.units import LengthUnit, format_length, parse_length

__all__ = ["new_edit", "overview"]

SPLIT_MAIN = frozenset({"from", "from_at", "to", "to_at", "bend", "left_title", "right_title"})
_MAIN = {
    "split": SPLIT_MAIN,
    "move-dart": frozenset({"dart", "to", "to_at", "share"}),
    "reshape": frozenset({"edge", "through", "partner"}),
    "dart-point": frozenset({"dart", "by"}),
}
"""What stands in front in the forms of edits that are made by pointing."""

_EDGES = {"edge", "from", "to", "open", "hinge", "to_edge"}
_DARTS = {"dart", "into"}
_EDGE_OF = {"from_at": "from", "to_at": "to", "at": "edge"}
"""Which edge a place lies on, by the parameters of an edit."""

_OTHER_END = {"from_at": "to", "to_at": "from"}
"""The edge that the other end of a line lies on."""

_SHARE = re.compile(r"(-?\d+(?:\.\d+)?)%")

_PART_LABELS = {
    "_title": "name of the {part}",
    "": "short name of the {part}, for files",
    "_role": "cloth of the {part}",
}
"""What is said of a part of a split: ends of the names of parameters, as they follow in a form."""

_TO_THE_LEFT = "out to the left, as one goes along it"

_found: Kept[Pattern] = Kept(40)


@dataclass(frozen=True)
class _Form:
    """What a form needs beside its edit: the pattern that the edit finds, and how it is told.

    `size_words` say what is shown: `In size 38`, or `For Ada`, who is a person in the chart.
    """

    pattern: Pattern | None
    unit: LengthUnit
    size_words: str

    def piece(self, values: Mapping[str, str]) -> Piece | None:
        """The piece that an edit is about; of several the first."""
        text = values.get("piece") or values.get("pieces", "").partition(",")[0].strip()
        return self.pattern.pieces.get(text) if self.pattern else None


def overview(job: OverviewOf) -> Overview:
    """Read what the frame of the room shows.

    Raises:
        DocumentError: the design has faults.
        Misuse: the view, the size or a choice is not there.
    """
    file = opened_design(job.documents)
    design = file.design
    choices = design.chosen(job.shown.choices, view=job.shown.view)
    found = Overview(
        title=design.title,
        views={view.name: view.title for view in design.views},
        options={option.name: (option.title, dict(option.choices)) for option in design.options},
        choices=choices,
        sizes=file.chart.names,
        people=file.chart.people,
        size=file.body(job.shown.size).name,
        unit=design.unit.value,
    )
    if not job.with_edits:
        return found
    pattern = _pattern(job)
    unit = LengthUnit(job.unit) if job.unit else design.unit
    form = _Form(pattern, unit, _size_words(file, found.size))
    edits = tuple(
        _shown(each, design, choices, pattern, replace(form, pattern=_before(job, each) or pattern))
        for each in design.edits
    )
    groups = {
        group: tuple(EditKind(each.kind, each.title, each.line) for each in titles)
        for group, titles in EDIT_GROUPS.items()
    }
    return replace(found, edits=edits, groups=groups)


def new_edit(job: EditFormOf) -> EditShown:
    """Put together the form of a new edit.

    Raises:
        ComponentError: there is no such edit.
    """
    edit = edit_class(job.edit)
    file = opened_design(job.documents)
    unit = LengthUnit(job.unit) if job.unit else file.design.unit
    form = _Form(_pattern(job), unit, _size_words(file, file.body(job.shown.size).name))
    values = {key: text for key, text in job.values.items() if key in edit.parameters()}
    title = edit_title(job.edit)
    fields = tuple(_fields(edit, _titled(edit, values, form), form))
    return EditShown("", job.edit, title.title, _help(edit), fields, line=title.line)


def _size_words(file: DesignFile, name: str) -> str:
    return f"For {name}" if name in file.chart.people else f"In size {name}"


def _pattern(job: OverviewOf | EditFormOf) -> Pattern | None:
    with suppress(ClothwiseError):
        return drafted(job.shown, job.documents).pattern
    return None


def _before(job: OverviewOf, entry: EditEntry) -> Pattern | None:
    """The pattern that an edit finds, which has edges and darts that it takes away."""
    seen = replace(job.shown, design="", version="")
    key = (version_of(job.documents), f"{seen}", entry.name)
    known = _found.get(key)
    if known is not None:
        return known
    file = opened_design(job.documents)
    earlier = tuple(takewhile(lambda each: each is not entry, file.design.edits))
    with suppress(ClothwiseError):
        of = drafted(job.shown, job.documents)
        without = replace(file, design=replace(file.design, edits=earlier))
        return _found.put(key, without.draft(of.choices, body=of.body))
    return None


def _shown(
    entry: EditEntry, design: Design, choices: Choices, pattern: Pattern | None, form: _Form
) -> EditShown:
    edit = edit_class(entry.kind)
    values = {}
    for name, value in entry.parameters.items():
        with suppress(KeyError):
            values[name] = value if isinstance(value, str) else selected(value, choices).text

    def called(name: str) -> str:
        piece = form.pattern.pieces.get(name) if form.pattern else None
        seam = form.pattern.seams.get(name) if form.pattern else None
        return lowered(piece.title) if piece else seam.title if seam else plain_name(name)

    lost = _lost(entry, pattern)
    return EditShown(
        entry.name,
        entry.kind,
        edit_words(entry.kind, values, design.edits, called),
        _help(edit),
        tuple(_fields(edit, values, form)),
        lost,
        entry.when.describe(),
        line=edit_title(entry.kind).line,
        ways=ways_out(lost, design, form.pattern),
    )


def _lost(entry: EditEntry, pattern: Pattern | None) -> str:
    start = lost_start(entry)
    for finding in pattern.findings if pattern else ():
        if finding.code == CODE and finding.message.startswith(start):
            what = finding.message.removeprefix(start)
            remedy = finding.remedy.partition(" If it is not meant here")[0]
            return f"It is not made: {what} {remedy}"
    return ""


def _fields(edit: type[Edit], values: Mapping[str, str], form: _Form) -> Iterator[EditField]:
    """The fields in the order of the form: of a split what its parts are called stands first."""
    fields = list(_as_declared(edit, values, form))
    parts = _parts_seen(edit, values, form.piece(values))
    told = [
        replace(each, label=label.format(part=parts[side]), help=_seen(each.help, parts))
        for end, label in _PART_LABELS.items()
        for side in parts
        for each in fields
        if each.name == f"{side}{end}"
    ]
    called = _better_titles(edit, values, form)
    told = [replace(each, suggestion=called.get(each.name, "")) for each in told]
    names = {each.name for each in told}
    rest = [each for each in fields if each.name not in names]
    if parts:
        toward = _toward(parts["left"])
        rest = [
            replace(each, label=f"bends {toward} by", help=each.help.replace(_TO_THE_LEFT, toward))
            if each.name == "bend"
            else each
            for each in rest
        ]
    return iter([*told, *rest])


def _toward(part: str) -> str:
    """`toward the upper part`; of the part toward the center, `toward the center`."""
    return part.removeprefix("part ") if part.startswith("part ") else f"toward the {part}"


def _seen(help_text: str, parts: Mapping[str, str]) -> str:
    for side, part in parts.items():
        for told in (f"part to the {side} of the line", f"part to the {side}"):
            help_text = help_text.replace(told, part)
    return help_text


def _parts_seen(
    edit: type[Edit], values: Mapping[str, str], piece: Piece | None
) -> Mapping[str, str]:
    """How the parts beside the line of a split lie on the board, by the side of the line.

    What lies above or to the left stands first: `{"right": "upper part", "left": "lower part"}`.
    Empty for other edits, and while the line is not known.
    """
    ends = _line_of(edit, values, piece)
    if piece is None or ends is None:
        return {}
    return {each.side: each.words for each in halves(piece, *ends)}


def _line_of(
    edit: type[Edit], values: Mapping[str, str], piece: Piece | None
) -> tuple[Point, Point] | None:
    """The ends of the line of a split, if they are known."""
    if edit.kind != "split" or piece is None:
        return None
    start, end = (_place_of(piece, values, each) for each in ("from", "to"))
    return None if start is None or end is None else (start, end)


def _titled(edit: type[Edit], values: Mapping[str, str], form: _Form) -> Mapping[str, str]:
    """The values of a new split, with the titles of its parts where they are sure."""
    piece = form.piece(values)
    ends = _line_of(edit, values, piece)
    if piece is None or ends is None or form.pattern is None:
        return values
    return {**titles_of_halves(form.pattern, piece, *ends), **values}


def _better_titles(edit: type[Edit], values: Mapping[str, str], form: _Form) -> Mapping[str, str]:
    """What the parts of a split could be called that nobody gave titles, where that is sure."""
    if {"left_title", "right_title", "left", "right"} & values.keys():
        return {}
    titled = _titled(edit, values, form)
    return {name: titled[name] for name in titled.keys() - values.keys()}


def _place_of(piece: Piece, values: Mapping[str, str], end: str) -> Point | None:
    """Where a line of a split begins or ends, if that is known."""
    along = _along(values.get(f"{end}_at", "50%"))
    if not values.get(end) or along is None:
        return None
    with suppress(ClothwiseError):
        return place(piece, values[end], along)
    return None


def _as_declared(edit: type[Edit], values: Mapping[str, str], form: _Form) -> Iterator[EditField]:
    main = _MAIN.get(edit.kind)
    piece = form.piece(values)
    for name, parameter in edit.parameters().items():
        value = values.get(name, parameter_default(edit, name))
        choices = _choices(name, parameter, form.pattern, piece)
        if choices and value and value not in choices:
            choices = {value: plain_name(value), **choices}
        yield EditField(
            name=name,
            label=parameter_words(edit.kind, name),
            help=help_of(parameter),
            value=value,
            choices=choices,
            is_needed=parameter.is_needed,
            is_main=name in main if main else parameter.is_needed or name in values,
            written=name in values,
            comes_to=_comes_to(name, value, values, piece, form),
        )


def _comes_to(
    name: str, value: str, values: Mapping[str, str], piece: Piece | None, form: _Form
) -> str:
    """Where a place on an edge lies in the size shown, or a length in the unit that is liked."""
    if name not in _EDGE_OF:
        beside = amount_beside(value, form.unit)
        return f"That is {beside}." if beside else ""
    edge = values.get(_EDGE_OF[name], "")
    along = _along(value)
    if piece is None or along is None or edge not in piece.edge_names:
        return ""
    length = piece.edge(edge).length
    at_mm = along.on(length)
    if not 0 <= at_mm <= length:
        return ""
    beside = values.get(_OTHER_END.get(name, ""), "")
    where = place_called(piece, edge, at_mm, form.unit, beside=beside)
    return f"{form.size_words}: {where}, of {format_length(length, form.unit)}."


def _along(text: str) -> Along | None:
    """A place as it is mostly written, a share or a length; None for a formula."""
    share = _SHARE.fullmatch(text.strip())
    if share is not None:
        return Along(float(share[1]) / 100)
    with suppress(ClothwiseError):
        return Along(parse_length(text), is_share=False)
    return None


def _choices(
    name: str, parameter: Parameter, pattern: Pattern | None, of: Piece | None
) -> dict[str, str]:
    if parameter.kind is ParameterKind.CHOICE:
        return {each: plain_name(each) for each in parameter.choices}
    if pattern is None or parameter.kind is not ParameterKind.TEXT:
        return {}
    if name in ("piece", "over"):
        return {each.name: each.title for each in pattern.pieces.values()}
    if name == "seam":
        return {seam.name: seam.title for seam in pattern.seams.values()}
    if of is None:
        return {}
    if name in _DARTS:
        return {dart_key(dart): dart.name for dart in of.darts}
    if name in _EDGES:
        edges = {each: edge_called(of, each) for each in of.edge_names if not of.dart_of_leg(each)}
        if name in ("from", "to"):
            edges |= {dart_key(dart): f"point of the {dart.name}" for dart in of.darts}
        return edges
    return {}


def _help(edit: type[Edit]) -> str:
    return " ".join((edit.__doc__ or "").split())
