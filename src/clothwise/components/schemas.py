"""Our documents as JSON Schema, so that editors complete keys and show their help.

A schema knows shapes, names and help. What needs more (formulas, ranges of lengths, names that
must exist) is checked when the document is read, with better messages.
"""

from __future__ import annotations

from typing import Any

from clothwise.components.cloth_schemas import cutting, fabric_keys, matches, pin, remnant
from clothwise.components.edits.registry import edit_class, edit_kinds
from clothwise.components.evaluation import format_parameter
from clothwise.components.parameter import Parameter, ParameterKind, Parametric, field_name
from clothwise.components.registry import component_class, kinds
from clothwise.components.schema_parts import (
    UNIT_OR_NAME,
    Schema,
    choices,
    length,
    named,
    object_of,
    ref,
    scalar,
    text,
    value_of,
    version,
    word,
)
from clothwise.pattern.document.design import STANDARD_ROLES
from clothwise.pattern.document.design_reader import UNITS
from clothwise.pattern.document.fabric_entry import LAYERS
from clothwise.pattern.document.make import DEFAULT_PAPER, DEFAULT_SEED, PAPERS
from clothwise.pattern.document.role_cloth import NAPS_ASKED
from clothwise.pattern.document.value import BY
from clothwise.pattern.measurements import MEASUREMENTS
from clothwise.units import LengthUnit

__all__ = [
    "Schema",
    "design_schema",
    "help_of",
    "make_schema",
    "parameter_default",
    "stash_schema",
]

_DIALECT = "https://json-schema.org/draft/2020-12/schema"


def design_schema() -> Schema:
    """Return the JSON Schema of `design.yaml`, with the components there are.

    >>> design_schema()["properties"]["title"]["description"]
    'What the design is called.'
    """
    return {
        "$schema": _DIALECT,
        "title": "Clothwise design",
        "type": "object",
        "required": ["schema", "title", "size_chart", "base_size", "components"],
        "additionalProperties": False,
        "properties": {
            "schema": version(),
            "title": text("What the design is called."),
            "description": text("What it is like and what it is for; may have several lines."),
            "size_chart": text("The CSV file with the size chart, in the design's folder."),
            "base_size": text("The size of the chart in which the design is thought out."),
            "unit": word(UNITS, "What lengths are shown in.", "cm"),
            "seam_allowance": length("Allowance of seams that state none of their own.", "15mm"),
            "neck_allowance": length(
                "Allowance of necklines, front edges and other edges that are turned.", "10mm"
            ),
            "fabric_roles": named(
                "What the fabrics are for. Without being stated there are "
                f"{', '.join(role.name for role in STANDARD_ROLES)}.",
                object_of(
                    {
                        "title": text("How it is printed."),
                        "advice": text("Which cloth suits it."),
                        "stretch": text(
                            "What the design is drafted for: how far the cloth gives across, such "
                            "as 30%; left out, woven cloth."
                        ),
                        "requirement": _role_cloth(),
                    },
                    required=["title"],
                ),
            ),
            "values": named(
                "Values of your own, to be used in formulas by their name.", ref("value")
            ),
            "options": named("What the maker may choose.", _option()),
            "conditions": {
                "description": "Choices that need other choices.",
                "type": "array",
                "items": object_of(
                    {
                        "when": ref("requirement"),
                        "needs": ref("requirement"),
                        "because": text("What to tell a maker who chooses otherwise."),
                    },
                    required=["when", "needs", "because"],
                ),
            },
            "views": named(
                "Named sets of choices, as published.",
                object_of(
                    {
                        "title": text("How it is printed."),
                        "description": text("What it looks like."),
                        "choices": choices("Options that differ from their default."),
                    }
                ),
            ),
            "components": named(
                "The parts of the garment, in the order in which they are drafted.",
                {
                    "type": "object",
                    "required": ["component"],
                    "properties": {"component": word(kinds(), "Which component it is.")},
                    "allOf": [
                        {
                            "if": {"properties": {"component": {"const": kind}}},
                            "then": ref(kind),
                        }
                        for kind in kinds()
                    ],
                },
            ),
            "edits": named(
                "What is changed in what the components drafted, in the order in which it is done.",
                {
                    "type": "object",
                    "required": ["edit"],
                    "properties": {"edit": word(edit_kinds(), "Which edit it is.")},
                    "allOf": [
                        {
                            "if": {"properties": {"edit": {"const": kind}}},
                            "then": ref(f"edit-{kind}"),
                        }
                        for kind in edit_kinds()
                    ],
                },
            ),
            "limits": named(
                "What may be changed to save cloth, and how far: a value by the name that formulas "
                "have for it, or an option.",
                _limit(),
            ),
            "matches": matches(),
        },
        "$defs": {
            **_shared_definitions(),
            "corner": _corner(),
            **{kind: _component(kind) for kind in kinds()},
            **{f"edit-{kind}": _edit(kind) for kind in edit_kinds()},
        },
    }


def make_schema() -> Schema:
    """Return the JSON Schema of a make."""
    return {
        "$schema": _DIALECT,
        "title": "Clothwise make",
        "type": "object",
        "required": ["schema"],
        "additionalProperties": False,
        "properties": {
            "schema": version(),
            "title": text("What this garment is called."),
            "design": text(
                "The folder of the design, seen from this file; left out, it is this file's "
                "folder or the one above."
            ),
            "view": text("The view it starts from."),
            "choices": choices("Options that differ from the view."),
            "size": text("A size of the design's chart; left out, the base size."),
            "measurements": {
                "description": "Own measurements, each with its unit. Beside a size they replace "
                "those of the size.",
                "type": "object",
                "additionalProperties": False,
                "properties": {
                    each.name: {"description": each.definition, "type": ["string", "number"]}
                    for each in MEASUREMENTS.values()
                },
            },
            "body": text("A file with somebody's measurements, instead of a size."),
            "adjust": choices(
                "Changes of values within the limits of the design: its name in formulas to how "
                "much, such as -8mm."
            ),
            "stash": text("A file of cloths, seen from this file; their names may be used here."),
            "fabrics": named("The cloths, as bought.", _fabric_of_make()),
            "roles": choices("Fabric role to fabric."),
            "copies": choices("`piece` or `piece/copy` to fabric; stronger than roles."),
            "cutting": cutting(),
            "pins": named(
                "Where copies lie on the washed cloth, by `piece/copy`; the rest goes around them.",
                pin(),
                names=False,
            ),
            "matches": matches(),
            "unit": word(UNITS, "What lengths are shown in; left out, the design's."),
            "paper": word(PAPERS, "What it is printed on.", DEFAULT_PAPER),
            "seed": {
                "description": "Repeats a search for layouts.",
                "type": "integer",
                "minimum": 0,
                "default": DEFAULT_SEED,
            },
        },
        "$defs": _shared_definitions(),
    }


def stash_schema() -> Schema:
    """Return the JSON Schema of a stash."""
    return {
        "$schema": _DIALECT,
        "title": "Clothwise stash",
        "type": "object",
        "required": ["schema"],
        "anyOf": [{"required": ["fabrics"]}, {"required": ["remnants"]}],
        "additionalProperties": False,
        "properties": {
            "schema": version(),
            "title": text("Whose cloths they are, or where they lie."),
            "fabrics": named("The cloths.", object_of(fabric_keys(), required=["width"])),
            "remnants": named("Leftover cloth of any shape.", remnant()),
        },
    }


def parameter_default(component: type[Parametric], name: str) -> str:
    """Return the default of a parameter as it is written in a design."""
    return str(_written_default(component, name, component.parameters()[name]))


def help_of(parameter: Parameter) -> str:
    """Return a parameter's help with its range."""
    if parameter.kind in (ParameterKind.CHOICE, ParameterKind.ALONG, ParameterKind.TEXT):
        return parameter.help
    low, high = (
        format_parameter(each, parameter.kind, LengthUnit.MILLIMETER)
        for each in (parameter.low, parameter.high)
    )
    return f"{parameter.help} {low} to {high}."


def _component(kind: str) -> Schema:
    component = component_class(kind)
    return {
        "description": " ".join((component.__doc__ or "").split()),
        "additionalProperties": False,
        "properties": {
            "component": {"const": kind},
            "role": value_of({"type": "string"}, "The fabric role of its pieces.", "main"),
            "interfacing_role": value_of(
                {"type": "string"}, "The fabric role of its interfacing.", "interfacing"
            ),
            "roles": named(
                "Other roles of single pieces or copies, by `piece` or `piece/copy`.",
                ref("value"),
                names=False,
            ),
            "when": {
                "description": "The choices for which it is there at all.",
                **ref("requirement"),
            },
            "corners": {
                "description": "Corners that are meant, where a line would otherwise have to run "
                "on across a seam or the center.",
                "type": "array",
                "items": ref("corner"),
            },
            **_parameters_of(component),
        },
    }


def _edit(kind: str) -> Schema:
    edit = edit_class(kind)
    needed = [name for name, each in edit.parameters().items() if each.is_needed]
    return {
        "description": " ".join((edit.__doc__ or "").split()),
        "additionalProperties": False,
        "required": ["edit", *needed],
        "properties": {
            "edit": {"const": kind},
            "after": text(
                "The component after which it is made; left out, when what it changes is there."
            ),
            "when": {
                "description": "The choices for which it is made at all.",
                **ref("requirement"),
            },
            **_parameters_of(edit),
        },
    }


def _parameters_of(described: type[Parametric]) -> Schema:
    return {
        name: value_of(
            _written(parameter),
            help_of(parameter),
            _written_default(described, name, parameter),
        )
        for name, parameter in described.parameters().items()
    }


def _written(parameter: Parameter) -> Schema:
    """Return the schema of a single value of a parameter."""
    if parameter.kind is ParameterKind.CHOICE:
        return {"enum": list(parameter.choices)}
    if parameter.kind in (ParameterKind.TEXT, ParameterKind.ALONG):
        return scalar()
    if parameter.kind in (ParameterKind.LENGTH, ParameterKind.ANGLE):
        return {"anyOf": [{"type": "string", "pattern": UNIT_OR_NAME}, {"const": 0}]}
    number = "integer" if parameter.kind is ParameterKind.COUNT else "number"
    return {
        "anyOf": [
            {"type": number, "minimum": parameter.low, "maximum": parameter.high},
            {"type": "string"},
        ]
    }


def _written_default(component: type[Parametric], name: str, parameter: Parameter) -> Any:
    default = getattr(component(), field_name(name, parameter))
    if parameter.kind is ParameterKind.CHOICE:
        return default.value
    if parameter.kind is ParameterKind.LENGTH:
        return f"{default:.6g}mm"
    if parameter.kind is ParameterKind.ALONG:
        return f"{100 * default.value:.6g}%"
    if parameter.kind is ParameterKind.ANGLE:
        return format_parameter(default, parameter.kind, LengthUnit.MILLIMETER).replace("°", "deg")
    return default


def _option() -> Schema:
    return object_of(
        {
            "title": text("How it is printed."),
            "choices": named("Each choice with its title.", {"type": ["string", "number"]}),
            "default": text("What is chosen where nobody chooses; left out, the first."),
        },
        required=["choices"],
    )


def _corner() -> Schema:
    return object_of(
        {
            "line": {
                "description": "The edge the line comes along, toward its corner: piece.edge, with "
                "a - before it if the corner is where the edge starts.",
                "type": "string",
                "pattern": r"^-?[^.]+\..+$",
            },
            "because": text("What it is, such as: point of the V neck."),
            "angle": {
                "description": "The angle of the joined cloth, such as 150deg; left out, any "
                "corner will do.",
                "type": "string",
                "pattern": UNIT_OR_NAME,
            },
            "when": {
                "description": "The choices for which it is there; left out, always.",
                **ref("requirement"),
            },
        },
        required=["line", "because"],
    )


def _limit() -> Schema:
    return object_of(
        {
            "title": text("How it is called in sentences, such as flare."),
            "less": text("How much it may be lowered, such as 2cm; left out, not at all."),
            "more": text("How much it may be raised; left out, not at all."),
            "step": text("It is changed by multiples of this; left out, 1mm, 1deg, 1 or 1%."),
            "choices": {
                "description": "Of an option: the choices that may be taken.",
                "type": "array",
                "minItems": 1,
                "items": scalar(),
            },
        }
    )


def _role_cloth() -> Schema:
    share = "Share of the {} to allow for the first wash, such as 4%."
    cloth = object_of(
        {
            "widths": {
                "description": "Of the cloths, from selvage to selvage.",
                "type": "array",
                "minItems": 1,
                "items": length("Such as 115cm."),
            },
            "nap": word(NAPS_ASKED, "Without nap, with nap, or a line for each.", NAPS_ASKED[0]),
            "layers": word(LAYERS, "How the cloth lies to be cut; left out, folded."),
            "shrinkage_along": text(share.format("length")),
            "shrinkage_across": text(share.format("width")),
        }
    )
    return {"description": "For which cloths the requirement table gives the amounts.", **cloth}


def _fabric_of_make() -> Schema:
    stash = text("The cloth of the stash that this is; what is left open is as stated there.")
    fabric = object_of({"stash": stash, **fabric_keys()})
    return {**fabric, "anyOf": [{"required": ["width"]}, {"required": ["stash"]}]}


def _shared_definitions() -> Schema:
    words = {"anyOf": [{"type": ["string", "number"]}, {"type": "array", "items": scalar()}]}
    alternative = {"type": "object", "minProperties": 1, "additionalProperties": words}
    return {
        "by_option": {
            "description": f"A value for each choice of an option: `{BY}: OPTION`, then the "
            "choices; `otherwise` for those that are not listed.",
            "type": "object",
            "required": [BY],
            "properties": {BY: {"type": "string"}},
            "additionalProperties": ref("value"),
        },
        "value": {"anyOf": [scalar(), ref("by_option")]},
        "requirement": {
            "description": "Options with the choices they must have; a list of such sets means "
            "that one of them is enough.",
            "anyOf": [alternative, {"type": "array", "minItems": 1, "items": alternative}],
        },
    }
