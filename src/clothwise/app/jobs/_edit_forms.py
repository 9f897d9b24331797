"""In a worker: what the frame of the Draft room shows of a design, and the forms of its edits."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import suppress
from dataclasses import replace

from clothwise.app.jobs._drafting import drafted, opened_design
from clothwise.app.jobs.draft_room import (
    EditField,
    EditFormOf,
    EditShown,
    Overview,
    OverviewOf,
)
from clothwise.components.edits.edit import Edit
from clothwise.components.edits.places import dart_key
from clothwise.components.edits.registry import edit_class, edit_kinds
from clothwise.components.parameter import Parameter, ParameterKind
from clothwise.components.schemas import help_of, parameter_default
from clothwise.errors import ClothwiseError
from clothwise.pattern import Pattern
from clothwise.pattern.document import EditEntry
from clothwise.pattern.document.value import Choices, selected

__all__ = ["new_edit", "overview"]

SPLIT_MAIN = frozenset({"from", "from_at", "to", "to_at", "bend"})
_MAIN = {
    "split": SPLIT_MAIN,
    "move-dart": frozenset({"dart", "to", "to_at", "share"}),
    "reshape": frozenset({"edge", "through", "partner"}),
    "dart-point": frozenset({"dart", "by"}),
}
"""What stands in front in the forms of edits that are made by pointing."""

_EDGES = {"edge", "from", "to", "open", "hinge", "to_edge"}
_DARTS = {"dart", "into"}


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
        sizes=file.sizes,
        size=file.body(job.shown.size).name,
        unit=design.unit.value,
    )
    if not job.with_edits:
        return found
    pattern: Pattern | None = None
    with suppress(ClothwiseError):
        pattern = drafted(job.shown, job.documents).pattern
    edits = tuple(_shown(each, choices, pattern) for each in design.edits)
    return replace(found, edits=edits, kinds={kind: _title(kind) for kind in edit_kinds()})


def new_edit(job: EditFormOf) -> EditShown:
    """Put together the form of a new edit.

    Raises:
        ComponentError: there is no such edit.
    """
    edit = edit_class(job.edit)
    pattern: Pattern | None = None
    with suppress(ClothwiseError):
        pattern = drafted(job.shown, job.documents).pattern
    values = {key: text for key, text in job.values.items() if key in edit.parameters()}
    fields = tuple(_fields(edit, values, pattern))
    return EditShown("", job.edit, _title(job.edit), _help(edit), fields)


def _shown(entry: EditEntry, choices: Choices, pattern: Pattern | None) -> EditShown:
    edit = edit_class(entry.kind)
    values = {}
    for name, value in entry.parameters.items():
        with suppress(KeyError):
            values[name] = value if isinstance(value, str) else selected(value, choices).text
    return EditShown(
        entry.name,
        entry.kind,
        _title(entry.kind),
        _help(edit),
        tuple(_fields(edit, values, pattern)),
        _lost(entry, pattern),
        entry.when.describe(),
    )


def _lost(entry: EditEntry, pattern: Pattern | None) -> str:
    start = f"The edit {entry.name} ({entry.kind}) is not made: "
    for finding in pattern.findings if pattern else ():
        if finding.code == "EDIT-LOST" and finding.message.startswith(start):
            return f"{finding.message.removeprefix(start)} {finding.remedy}"
    return ""


def _fields(
    edit: type[Edit], values: Mapping[str, str], pattern: Pattern | None
) -> Iterator[EditField]:
    parameters = edit.parameters()
    main = _MAIN.get(edit.kind)
    piece = values.get("piece", "")
    for name, parameter in parameters.items():
        value = values.get(name, parameter_default(edit, name))
        choices = _choices(name, parameter, pattern, piece)
        if choices and value and value not in choices:
            choices = {value: value, **choices}
        yield EditField(
            name=name,
            label=_label(name),
            help=help_of(parameter),
            value=value,
            choices=choices,
            is_needed=parameter.is_needed,
            is_main=name in main if main else parameter.is_needed or name in values,
            written=name in values,
        )


def _choices(
    name: str, parameter: Parameter, pattern: Pattern | None, piece: str
) -> dict[str, str]:
    if parameter.kind is ParameterKind.CHOICE:
        return {each: each for each in parameter.choices}
    if pattern is None or parameter.kind is not ParameterKind.TEXT:
        return {}
    if name in ("piece", "over"):
        return {each.name: each.title for each in pattern.pieces.values()}
    if name == "seam":
        return {seam.name: seam.title for seam in pattern.seams.values()}
    of = pattern.pieces.get(piece)
    if of is None:
        return {}
    if name in _DARTS:
        return {dart_key(dart): dart.name for dart in of.darts}
    if name in _EDGES:
        edges = {each: _label(each) for each in of.edge_names if not of.dart_of_leg(each)}
        if name in ("from", "to"):
            edges |= {dart_key(dart): f"point of the {dart.name}" for dart in of.darts}
        return edges
    return {}


def _label(name: str) -> str:
    return name.replace("_", " ").replace("-", " ")


def _title(kind: str) -> str:
    return kind.replace("-", " ")


def _help(edit: type[Edit]) -> str:
    return " ".join((edit.__doc__ or "").split())
