"""Documents as YAML text: written anew, or into an existing text whose comments and order stay.

What is written is read again before it is saved, so that nothing unreadable ever replaces a file.
"""

from __future__ import annotations

import io
from collections.abc import Mapping
from dataclasses import fields, replace
from typing import Any, TypeAlias

from clothwise.errors import DocumentError, Misuse
from clothwise.pattern.document.design import (
    SCHEMA_VERSION,
    ComponentEntry,
    Design,
    Option,
)
from clothwise.pattern.document.design_reader import ROLE_KEYS, parse_design
from clothwise.pattern.document.edit_entry import EditEntry
from clothwise.pattern.document.fabric_entry import FabricEntry
from clothwise.pattern.document.flaw_entry import FlawEntry
from clothwise.pattern.document.limit import ValueLimit
from clothwise.pattern.document.make import DEFAULT_PAPER, DEFAULT_SEED, Make
from clothwise.pattern.document.make_reader import parse_make
from clothwise.pattern.document.match_entry import MatchEntry
from clothwise.pattern.document.migration import SCHEMA_KEY
from clothwise.pattern.document.outline_entry import OutlineText
from clothwise.pattern.document.remnant_entry import RemnantEntry
from clothwise.pattern.document.role_cloth import RoleCloth
from clothwise.pattern.document.stash import STASH_FILE, Stash, parse_stash
from clothwise.pattern.document.stated_corner import StatedCorner
from clothwise.pattern.document.tree import parse_tree
from clothwise.pattern.document.value import BY, OTHERWISE, ByOption, Requirement, Value

__all__ = [
    "format_design",
    "format_make",
    "format_stash",
    "needs_quotes",
]

Data: TypeAlias = "str | list[Data] | dict[str, Data]"


class _InOrder(dict[str, Data]):
    """Keys whose order means something."""


def format_design(design: Design, *, previous: str = "") -> str:
    """Return a design as text: `parse_design(format_design(design)) == design`.

    Args:
        design: with texts in the form that reading gives them (single spaces, no empty titles).
        previous: the text to write into; its comments, order and spelling stay where the design
            is the same.

    Raises:
        Misuse: the design has something that a file cannot hold.
        DocumentError: `previous` is no YAML that could be written into.
    """
    text = _format(_design_data(design), previous, "design.yaml")
    _refuse_other(lambda: parse_design(text), design)
    return text


def format_make(make: Make, *, previous: str = "") -> str:
    """Return a make as text: `parse_make(format_make(make)) == make`.

    Paper and seed are stated if they are not the usual ones, or `previous` states them.

    Args:
        make: with texts in the form that reading gives them.
        previous: the text to write into; see `format_design`.

    Raises:
        Misuse: the make has something that a file cannot hold.
        DocumentError: `previous` is no YAML that could be written into.
    """
    text = _format(_make_data(make), previous, "make.yaml", usual=_USUAL_OF_MAKE)
    _refuse_other(lambda: parse_make(text), make)
    return text


def format_stash(stash: Stash, *, previous: str = "") -> str:
    """Return a stash as text: `parse_stash(format_stash(stash)) == stash`.

    Args:
        stash: with texts in the form that reading gives them.
        previous: the text to write into; see `format_design`.

    Raises:
        Misuse: the stash has something that a file cannot hold.
        DocumentError: `previous` is no YAML that could be written into.
    """
    text = _format(_stash_data(stash), previous, STASH_FILE)
    _refuse_other(lambda: parse_stash(text), stash)
    return text


def _refuse_other(read: Any, expected: object) -> None:
    try:
        found = read()
        reason = "it would read back differently" if found != expected else ""
    except DocumentError as error:
        reason = str(error.faults[0])
    if reason:
        raise Misuse(
            "this cannot be saved as a document",
            how_much=reason.rstrip("."),
            what_to_do="Correct that value; the file is as it was.",
        )


# From objects to data -----------------------------------------------------------------------------


def _design_data(design: Design) -> dict[str, Data]:
    """Return what stands in the file; what equals its default is left out."""
    data: dict[str, Data] = {SCHEMA_KEY: str(SCHEMA_VERSION), "title": design.title}
    if design.description:
        data["description"] = design.description
    data["size_chart"], data["base_size"] = design.size_chart, design.base_size
    data["unit"] = design.unit.value
    data["seam_allowance"] = design.seam_allowance
    data["neck_allowance"] = design.neck_allowance
    if design.fabric_roles:
        data["fabric_roles"] = _InOrder(
            {
                role.name: {
                    key: _role_cloth(value) if isinstance(value, RoleCloth) else value
                    for key in ROLE_KEYS
                    if (value := getattr(role, key))
                }
                for role in design.fabric_roles
            }
        )
    if design.values:
        data["values"] = {name: _value(value) for name, value in design.values.items()}
    if design.options:
        data["options"] = _InOrder({each.name: _option(each) for each in design.options})
    if design.conditions:
        data["conditions"] = [
            {
                "when": _requirement(each.when),
                "needs": _requirement(each.needs),
                "because": each.because,
            }
            for each in design.conditions
        ]
    if design.views:
        data["views"] = _InOrder(
            {
                view.name: {
                    "title": view.title,
                    **({"description": view.description} if view.description else {}),
                    "choices": dict(view.choices),
                }
                for view in design.views
            }
        )
    data["components"] = _InOrder({each.name: _component(each) for each in design.components})
    if design.edits:
        data["edits"] = _InOrder({each.name: _edit(each) for each in design.edits})
    if design.limits:
        data["limits"] = _InOrder({each.name: _limit(each) for each in design.limits})
    if design.matches:
        data["matches"] = _InOrder({each.name: _match(each) for each in design.matches})
    return data


def _role_cloth(cloth: RoleCloth) -> dict[str, Data]:
    texts = _stated(cloth)
    return {**texts, "widths": list(cloth.widths)} if cloth.widths else texts


def _option(option: Option) -> dict[str, Data]:
    return {
        "title": option.title,
        "choices": _InOrder(option.choices),
        "default": option.default,
    }


def _component(entry: ComponentEntry) -> dict[str, Data]:
    data: dict[str, Data] = {"component": entry.kind}
    if entry.when.alternatives:
        data["when"] = _requirement(entry.when)
    if entry.role != ComponentEntry.role:
        data["role"] = _value(entry.role)
    if entry.interfacing_role != ComponentEntry.interfacing_role:
        data["interfacing_role"] = _value(entry.interfacing_role)
    if entry.roles:
        data["roles"] = {key: _value(role) for key, role in entry.roles.items()}
    if entry.corners:
        data["corners"] = [_corner(corner) for corner in entry.corners]
    return {**data, **{name: _value(value) for name, value in entry.parameters.items()}}


def _edit(entry: EditEntry) -> dict[str, Data]:
    data: dict[str, Data] = {"edit": entry.kind}
    if entry.after:
        data["after"] = entry.after
    if entry.when.alternatives:
        data["when"] = _requirement(entry.when)
    return {**data, **{name: _value(value) for name, value in entry.parameters.items()}}


def _limit(limit: ValueLimit) -> dict[str, Data]:
    texts = {key: getattr(limit, key) for key in ("title", "less", "more", "step")}
    data: dict[str, Data] = {key: text for key, text in texts.items() if text}
    return {**data, "choices": list(limit.choices)} if limit.choices else data


def _match(entry: MatchEntry) -> Data:
    texts = _stated(entry)
    if not entry.points and [*texts] == ["directions"]:
        return entry.directions
    return {**texts, "points": dict(entry.points)} if entry.points else texts


def _corner(corner: StatedCorner) -> Data:
    data: dict[str, Data] = {"line": corner.line, "because": corner.because}
    if corner.angle:
        data["angle"] = corner.angle
    if corner.when.alternatives:
        data["when"] = _requirement(corner.when)
    return data


def _value(value: Value) -> Data:
    if not isinstance(value, ByOption):
        return value
    cases: dict[str, Data] = {choice: _value(case) for choice, case in value.cases.items()}
    rest = {} if value.otherwise is None else {OTHERWISE: _value(value.otherwise)}
    return {BY: value.option, **cases, **rest}


def _requirement(requirement: Requirement) -> Data:
    alternatives: list[Data] = [
        {
            option: choices[0] if len(choices) == 1 else list(choices)
            for option, choices in alternative.items()
        }
        for alternative in requirement.alternatives
    ]
    return alternatives[0] if len(alternatives) == 1 else alternatives


_USUAL_OF_MAKE = {"paper": DEFAULT_PAPER, "seed": str(DEFAULT_SEED)}


def _make_data(make: Make) -> dict[str, Data]:
    data: dict[str, Data] = {SCHEMA_KEY: str(SCHEMA_VERSION)}
    for key in ("title", "design", "view"):
        data[key] = getattr(make, key)
    data["choices"] = dict(make.choices)
    data["size"], data["body"] = make.size, make.body
    data["measurements"] = dict(make.measurements)
    data["adjust"] = dict(make.adjust)
    data["stash"] = make.stash
    data["fabrics"] = _InOrder({fabric.name: _fabric(fabric) for fabric in make.fabrics})
    data["roles"], data["copies"] = dict(make.roles), dict(make.copies)
    data["cutting"] = _stated(make.cutting)
    data["pins"] = {name: _stated(pin) for name, pin in make.pins.items()}
    data["matches"] = _InOrder({each.name: _match(each) for each in make.matches})
    data["unit"] = make.unit.value if make.unit else ""
    data["paper"], data["seed"] = make.paper, str(make.seed)
    return {key: value for key, value in data.items() if value}


def _stash_data(stash: Stash) -> dict[str, Data]:
    data: dict[str, Data] = {SCHEMA_KEY: str(SCHEMA_VERSION)}
    if stash.title:
        data["title"] = stash.title
    if stash.fabrics or not stash.remnants:
        data["fabrics"] = _InOrder({fabric.name: _fabric(fabric) for fabric in stash.fabrics})
    if stash.remnants:
        data["remnants"] = _InOrder({each.name: _remnant(each) for each in stash.remnants})
    return data


def _remnant(remnant: RemnantEntry) -> dict[str, Data]:
    data = _stated(remnant)
    if remnant.outline:
        data["outline"] = _outline(remnant.outline)
    for key, flaws in (("holes", remnant.holes), ("flaws", remnant.flaws)):
        if flaws:
            data[key] = [_flaw(flaw) for flaw in flaws]
    if remnant.roles:
        data["roles"] = remnant.roles[0] if len(remnant.roles) == 1 else list(remnant.roles)
    return data


def _fabric(fabric: FabricEntry) -> dict[str, Data]:
    """What stands in the file; a cloth of a stash states even what is usual, if it does."""
    data = _stated(fabric, even_defaults=bool(fabric.stash))
    if fabric.repeat:
        data["repeat"] = _stated(fabric.repeat)
    if fabric.flaws:
        data["flaws"] = [_flaw(flaw) for flaw in fabric.flaws]
    return data


def _flaw(flaw: FlawEntry) -> Data:
    if not flaw.outline:
        return _stated(flaw)
    return {"outline": _outline(flaw.outline)}


def _outline(corners: OutlineText) -> list[Data]:
    return [[along, across] for along, across in corners]


def _stated(entry: Any, *, even_defaults: bool = False) -> dict[str, Data]:
    """The texts of an entry under their names, without its own name and what was left out."""
    return {
        each.name: text
        for each in fields(entry)
        if isinstance(text := getattr(entry, each.name), str)
        and text
        and each.name != "name"
        and (even_defaults or text != each.default)
    }


# From data to text --------------------------------------------------------------------------------


def _format(
    data: dict[str, Data], previous: str, file: str, usual: Mapping[str, str] | None = None
) -> str:
    """Write data into a text; what is `usual` is written only where it is stated already."""
    yaml = _yaml()
    document = _loaded(yaml, previous, file) if previous.strip() else None
    left = {key for key, each in (usual or {}).items() if data.get(key) == each}
    data = {key: each for key, each in data.items() if key not in left or key in (document or ())}
    if document is not None:
        _write_into(document, data)
    else:
        document = _fresh(data)
    stream = io.StringIO()
    yaml.dump(document, stream)
    return stream.getvalue()


def _loaded(yaml: Any, previous: str, file: str) -> Any:
    """Return what stands in a text that may have been read under this name a moment ago."""
    try:
        _, faults = parse_tree(previous, file)
    except DocumentError as error:
        faults = error.faults
    if faults:
        raise DocumentError(replace(each, file="the file as it is now") for each in faults)
    return yaml.load(previous)


def _yaml() -> Any:
    """Return a reader and writer that keeps comments, and for which every plain scalar is a text.

    So `38`, `yes` and `0.50` are written as they were read.
    """
    from ruamel.yaml import YAML
    from ruamel.yaml.nodes import ScalarNode
    from ruamel.yaml.resolver import VersionedResolver
    from ruamel.yaml.tag import Tag

    class TextResolver(VersionedResolver):  # type: ignore[misc, unused-ignore]
        def resolve(self, kind: Any, value: Any, implicit: Any) -> Any:
            if kind is ScalarNode:
                return Tag(suffix="tag:yaml.org,2002:str")
            return super().resolve(kind, value, implicit)

    yaml = YAML(typ="rt", pure=True)
    yaml.Resolver = TextResolver
    yaml.preserve_quotes = True
    yaml.width = 100
    yaml.indent(mapping=2, sequence=4, offset=2)
    return yaml


def _write_into(old: Any, new: Mapping[str, Data]) -> None:
    """Change a loaded mapping into `new` with as few changes as possible."""
    for key in [key for key in old if key not in new]:
        del old[key]
    before = -1
    for key, value in new.items():
        keys = list(old)
        if key not in old:
            old.insert(before + 1, key, _fresh(value))
            before += 1
            continue
        old[key] = _merged(old[key], value)
        before = max(before, keys.index(key))
    if isinstance(new, _InOrder) and list(old) != list(new):
        for key in new:
            old.move_to_end(key)


def _merged(old: Any, new: Data) -> Any:
    if isinstance(new, dict) and isinstance(old, dict):
        _write_into(old, new)
        return old
    if isinstance(new, list) and isinstance(old, list):
        for index in range(min(len(old), len(new))):
            old[index] = _merged(old[index], new[index])
        del old[len(new) :]
        old.extend(_fresh(value) for value in new[len(old) :])
        return old
    if isinstance(new, str) and isinstance(old, str) and _same_text(old, new):
        return old
    return _fresh(new)


def _same_text(old: str, new: str) -> bool:
    """Tell whether reading makes the same of both."""
    lines = "\n".join(line.rstrip() for line in old.strip().splitlines())
    return lines == new or ("\n" not in lines and " ".join(lines.split()) == new)


def _fresh(data: Data) -> Any:
    from ruamel.yaml.comments import CommentedMap, CommentedSeq
    from ruamel.yaml.scalarstring import DoubleQuotedScalarString, LiteralScalarString

    if isinstance(data, str):
        if "\n" in data:
            return LiteralScalarString(data)
        return DoubleQuotedScalarString(data) if needs_quotes(data) else data
    if isinstance(data, list):
        items = CommentedSeq([_fresh(item) for item in data])
        if all(isinstance(item, str) for item in data):
            items.fa.set_flow_style()
        return items
    found = CommentedMap()
    for key, value in data.items():
        found[_fresh(key)] = _fresh(value)
    return found


def needs_quotes(text: str) -> bool:
    """Tell whether YAML readers of any version would take this for something else than a text."""
    return text.casefold() in _OTHER_MEANINGS


_OTHER_MEANINGS = {
    *("", "~", "null", "true", "false", "yes", "no", "on", "off", "y", "n"),
    *(".nan", ".inf", "-.inf", "<<", "="),
}
