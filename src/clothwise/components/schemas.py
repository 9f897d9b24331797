"""Our documents as JSON Schema, so that editors complete keys and show their help.

A schema knows shapes, names and help. What needs more (formulas, ranges of lengths, names that
must exist) is checked when the document is read, with better messages.
"""

from __future__ import annotations

from typing import Any, TypeAlias

from clothwise.components.edits.registry import edit_class, edit_kinds
from clothwise.components.evaluation import format_parameter
from clothwise.components.parameter import Parameter, ParameterKind, Parametric, field_name
from clothwise.components.registry import component_class, kinds
from clothwise.pattern.document.cutting_entry import BIAS_SOURCES, METHODS
from clothwise.pattern.document.design import SCHEMA_VERSION, STANDARD_ROLES
from clothwise.pattern.document.design_reader import UNITS
from clothwise.pattern.document.fabric_entry import LAYERS, NAPS, YES_OR_NO
from clothwise.pattern.document.make import DEFAULT_PAPER, DEFAULT_SEED, PAPERS
from clothwise.pattern.document.match_entry import DIRECTIONS, MATCH_RULES
from clothwise.pattern.document.reading import NAME
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

Schema: TypeAlias = dict[str, Any]

_DIALECT = "https://json-schema.org/draft/2020-12/schema"
_UNIT_OR_NAME = r'[A-Za-z°"″”]'
"""A length is never a plain number but 0."""


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
            "schema": _version(),
            "title": _text("What the design is called."),
            "description": _text("What it is like and what it is for; may have several lines."),
            "size_chart": _text("The CSV file with the size chart, in the design's folder."),
            "base_size": _text("The size of the chart in which the design is thought out."),
            "unit": _word(UNITS, "What lengths are shown in.", "cm"),
            "seam_allowance": _length("Allowance of seams that state none of their own.", "15mm"),
            "neck_allowance": _length(
                "Allowance of necklines, front edges and other edges that are turned.", "10mm"
            ),
            "fabric_roles": _named(
                "What the fabrics are for. Without being stated there are "
                f"{', '.join(role.name for role in STANDARD_ROLES)}.",
                _object(
                    {
                        "title": _text("How it is printed."),
                        "advice": _text("Which cloth suits it."),
                        "stretch": _text(
                            "What the design is drafted for: how far the cloth gives across, such "
                            "as 30%; left out, woven cloth."
                        ),
                        "requirement": _role_cloth(),
                    },
                    required=["title"],
                ),
            ),
            "values": _named(
                "Values of your own, to be used in formulas by their name.", _ref("value")
            ),
            "options": _named("What the maker may choose.", _option()),
            "conditions": {
                "description": "Choices that need other choices.",
                "type": "array",
                "items": _object(
                    {
                        "when": _ref("requirement"),
                        "needs": _ref("requirement"),
                        "because": _text("What to tell a maker who chooses otherwise."),
                    },
                    required=["when", "needs", "because"],
                ),
            },
            "views": _named(
                "Named sets of choices, as published.",
                _object(
                    {
                        "title": _text("How it is printed."),
                        "description": _text("What it looks like."),
                        "choices": _choices("Options that differ from their default."),
                    }
                ),
            ),
            "components": _named(
                "The parts of the garment, in the order in which they are drafted.",
                {
                    "type": "object",
                    "required": ["component"],
                    "properties": {"component": _word(kinds(), "Which component it is.")},
                    "allOf": [
                        {
                            "if": {"properties": {"component": {"const": kind}}},
                            "then": _ref(kind),
                        }
                        for kind in kinds()
                    ],
                },
            ),
            "edits": _named(
                "What is changed in what the components drafted, in the order in which it is done.",
                {
                    "type": "object",
                    "required": ["edit"],
                    "properties": {"edit": _word(edit_kinds(), "Which edit it is.")},
                    "allOf": [
                        {
                            "if": {"properties": {"edit": {"const": kind}}},
                            "then": _ref(f"edit-{kind}"),
                        }
                        for kind in edit_kinds()
                    ],
                },
            ),
            "limits": _named(
                "What may be changed to save cloth, and how far: a value by the name that formulas "
                "have for it, or an option.",
                _limit(),
            ),
            "matches": _matches(),
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
            "schema": _version(),
            "title": _text("What this garment is called."),
            "design": _text(
                "The folder of the design, seen from this file; left out, it is this file's "
                "folder or the one above."
            ),
            "view": _text("The view it starts from."),
            "choices": _choices("Options that differ from the view."),
            "size": _text("A size of the design's chart; left out, the base size."),
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
            "body": _text("A file with somebody's measurements, instead of a size."),
            "adjust": _choices(
                "Changes of values within the limits of the design: its name in formulas to how "
                "much, such as -8mm."
            ),
            "stash": _text("A file of cloths, seen from this file; their names may be used here."),
            "fabrics": _named("The cloths, as bought.", _fabric_of_make()),
            "roles": _choices("Fabric role to fabric."),
            "copies": _choices("`piece` or `piece/copy` to fabric; stronger than roles."),
            "cutting": _cutting(),
            "pins": _named(
                "Where copies lie on the washed cloth, by `piece/copy`; the rest goes around them.",
                _pin(),
                names=False,
            ),
            "matches": _matches(),
            "unit": _word(UNITS, "What lengths are shown in; left out, the design's."),
            "paper": _word(PAPERS, "What it is printed on.", DEFAULT_PAPER),
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
            "schema": _version(),
            "title": _text("Whose cloths they are, or where they lie."),
            "fabrics": _named("The cloths.", _object(_fabric(), required=["width"])),
            "remnants": _named("Leftover cloth of any shape.", _remnant()),
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
            "role": _value_of({"type": "string"}, "The fabric role of its pieces.", "main"),
            "interfacing_role": _value_of(
                {"type": "string"}, "The fabric role of its interfacing.", "interfacing"
            ),
            "roles": _named(
                "Other roles of single pieces or copies, by `piece` or `piece/copy`.",
                _ref("value"),
                names=False,
            ),
            "when": {
                "description": "The choices for which it is there at all.",
                **_ref("requirement"),
            },
            "corners": {
                "description": "Corners that are meant, where a line would otherwise have to run "
                "on across a seam or the center.",
                "type": "array",
                "items": _ref("corner"),
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
            "after": _text(
                "The component after which it is made; left out, when what it changes is there."
            ),
            "when": {
                "description": "The choices for which it is made at all.",
                **_ref("requirement"),
            },
            **_parameters_of(edit),
        },
    }


def _parameters_of(described: type[Parametric]) -> Schema:
    return {
        name: _value_of(
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
        return _scalar()
    if parameter.kind in (ParameterKind.LENGTH, ParameterKind.ANGLE):
        return {"anyOf": [{"type": "string", "pattern": _UNIT_OR_NAME}, {"const": 0}]}
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
    return _object(
        {
            "title": _text("How it is printed."),
            "choices": _named("Each choice with its title.", {"type": ["string", "number"]}),
            "default": _text("What is chosen where nobody chooses; left out, the first."),
        },
        required=["choices"],
    )


def _corner() -> Schema:
    return _object(
        {
            "line": {
                "description": "The edge the line comes along, toward its corner: piece.edge, with "
                "a - before it if the corner is where the edge starts.",
                "type": "string",
                "pattern": r"^-?[^.]+\..+$",
            },
            "because": _text("What it is, such as: point of the V neck."),
            "angle": {
                "description": "The angle of the joined cloth, such as 150deg; left out, any "
                "corner will do.",
                "type": "string",
                "pattern": _UNIT_OR_NAME,
            },
            "when": {
                "description": "The choices for which it is there; left out, always.",
                **_ref("requirement"),
            },
        },
        required=["line", "because"],
    )


def _limit() -> Schema:
    return _object(
        {
            "title": _text("How it is called in sentences, such as flare."),
            "less": _text("How much it may be lowered, such as 2cm; left out, not at all."),
            "more": _text("How much it may be raised; left out, not at all."),
            "step": _text("It is changed by multiples of this; left out, 1mm, 1deg, 1 or 1%."),
            "choices": {
                "description": "Of an option: the choices that may be taken.",
                "type": "array",
                "minItems": 1,
                "items": _scalar(),
            },
        }
    )


def _role_cloth() -> Schema:
    share = "Share of the {} to allow for the first wash, such as 4%."
    cloth = _object(
        {
            "widths": {
                "description": "Of the cloths, from selvage to selvage.",
                "type": "array",
                "minItems": 1,
                "items": _length("Such as 115cm."),
            },
            "nap": _word(NAPS_ASKED, "Without nap, with nap, or a line for each.", NAPS_ASKED[0]),
            "layers": _word(LAYERS, "How the cloth lies to be cut; left out, folded."),
            "shrinkage_along": _text(share.format("length")),
            "shrinkage_across": _text(share.format("width")),
        }
    )
    return {"description": "For which cloths the requirement table gives the amounts.", **cloth}


def _fabric_of_make() -> Schema:
    stash = _text("The cloth of the stash that this is; what is left open is as stated there.")
    fabric = _object({"stash": stash, **_fabric()})
    return {**fabric, "anyOf": [{"required": ["width"]}, {"required": ["stash"]}]}


def _fabric() -> Schema:
    share = "Share of the {} lost in the first wash, such as 4%."
    return {
        "title": _text("How it is printed."),
        "width": _length("From selvage to selvage."),
        "usable_width": _length("Between the selvages; left out, 2 cm less than the width."),
        "length": _length("At hand; left out, as much as is needed can be bought."),
        "shrinkage_along": _text(share.format("length")),
        "shrinkage_across": _text(share.format("width")),
        "stretch": _text("How far it gives across, such as 40%; left out, it is woven."),
        "nap": _word(NAPS, "Whether pile, sheen or print has a direction.", NAPS[0]),
        "wrong_side_usable": _word(
            YES_OR_NO, "Whether pieces may lie either side up.", YES_OR_NO[0]
        ),
        "off_grain": _text("How far the grain of small parts may stray, such as 2deg."),
        "repeat": {
            "description": "How stripes, checks or a print come again.",
            **_object(
                {
                    "along": _length("From one crosswise line to the next of its kind."),
                    "across": _length("From one lengthwise line to the next of its kind."),
                    "start_along": _measured("The first crosswise line, from the cut end."),
                    "start_across": _measured(
                        "The first lengthwise line, from the fold or the lower edge."
                    ),
                    "border": _length(
                        "On cloth with a border: from the lower edge between the selvages to where "
                        "finished lower edges lie."
                    ),
                }
            ),
            "minProperties": 1,
        },
        "flaws": {
            "description": "Holes, stains and faults, which no piece covers.",
            "type": "array",
            "items": _flaw(),
        },
        "layers": _word(LAYERS, "How the cloth lies to be cut.", LAYERS[0]),
        "price": _text("Such as 18.50 EUR/m or 12 USD/yd."),
        "fiber": _text("For the heat of the iron, such as linen."),
        "thickness": _length("Of one layer, such as 0.4mm."),
        "color": {
            "description": "For pictures.",
            "type": "string",
            "pattern": "^#[0-9a-fA-F]{6}$",
        },
        "pattern": _text("For pictures, such as stripe."),
        "photo": _text("A picture of it, seen from this file."),
    }


def _flaw() -> Schema:
    box = {
        "along": _measured("Where it begins, from the cut end."),
        "across": _measured("Where it begins, from the lower edge between the selvages."),
        "length": _length("Along the cloth."),
        "width": _length("Across the cloth."),
    }
    found = _object(
        {**box, "outline": _outline("Instead of a box: corners, each along and across.")}
    )
    return {**found, "oneOf": [{"required": [*box]}, {"required": ["outline"]}]}


def _outline(description: str) -> Schema:
    corner = {"type": "array", "items": _measured(""), "minItems": 2, "maxItems": 2}
    return {"description": description, "type": "array", "items": corner, "minItems": 3}


def _remnant() -> Schema:
    """What a remnant shares with a fabric is said in the same words."""
    fabric = _fabric()
    roles = {"type": "array", "items": {"type": "string", "pattern": f"^{NAME.pattern}$"}}
    share = "Share of the {} that it will still lose in the wash, such as 4%."
    found = _object(
        {
            "title": fabric["title"],
            "length": _length("Along the warp, of a rectangle."),
            "width": _length("Across, of a rectangle."),
            "outline": _outline("Of any other shape: corners, each along the warp and across."),
            "holes": {**fabric["flaws"], "description": "Where cloth is missing."},
            "flaws": {**fabric["flaws"], "description": "Cloth that no piece covers."},
            "shrinkage_along": _text(share.format("length")),
            "shrinkage_across": _text(share.format("width")),
            "nap": fabric["nap"],
            "wrong_side_usable": fabric["wrong_side_usable"],
            "roles": {
                "description": "Fabric roles that it may be cut for; left out, those of shell "
                "pieces.",
                "anyOf": [roles["items"], roles],
            },
            **{key: fabric[key] for key in ("fiber", "color", "pattern", "photo")},
        }
    )
    return {**found, "oneOf": [{"required": ["length", "width"]}, {"required": ["outline"]}]}


def _cutting() -> Schema:
    return {
        "description": "How the cloth is cut.",
        **_object(
            {
                "method": _word(METHODS, "What it is cut with.", METHODS[0]),
                "between": _measured(
                    "Cloth to leave between pieces; left out, what the method needs."
                ),
                "ends": _measured("Cloth to leave at both ends of the length."),
                "bias_strips": _word(
                    BIAS_SOURCES, "What bias strips are cut from.", BIAS_SOURCES[0]
                ),
            }
        ),
    }


def _matches() -> Schema:
    directions = _word(DIRECTIONS, "In which directions it runs on; none for not at all.")
    phase = "Where in the repeat {} they lie, such as 50%; left out, wherever saves most."
    changed = _object(
        {
            "directions": directions,
            "points": _choices(
                "Piece to a place that it knows, such as bust point, or to a notch of a seam, such "
                "as skirt-side/hip; under names of your own only."
            ),
            "phase_along": _text(phase.format("along")),
            "phase_across": _text(phase.format("across")),
        }
    )
    return _named(
        "Where stripes and checks run on from piece to piece: the rules "
        f"{', '.join(MATCH_RULES)}, and names of your own for points that meet.",
        {"anyOf": [directions, {**changed, "minProperties": 1}]},
    )


def _pin() -> Schema:
    return _object(
        {
            "along": _measured("From the cut end to the nearest point of the piece."),
            "across": _measured("From the fold, or the lower edge, to its nearest point."),
            "turn": _text("0deg: its top points away from the cut end; 180deg: toward it."),
            "turned_over": _word(
                YES_OR_NO, "On cloth usable on both sides: printed side down.", YES_OR_NO[0]
            ),
        },
        required=["along", "across"],
    )


def _shared_definitions() -> Schema:
    words = {"anyOf": [{"type": ["string", "number"]}, {"type": "array", "items": _scalar()}]}
    alternative = {"type": "object", "minProperties": 1, "additionalProperties": words}
    return {
        "by_option": {
            "description": f"A value for each choice of an option: `{BY}: OPTION`, then the "
            "choices; `otherwise` for those that are not listed.",
            "type": "object",
            "required": [BY],
            "properties": {BY: {"type": "string"}},
            "additionalProperties": _ref("value"),
        },
        "value": {"anyOf": [_scalar(), _ref("by_option")]},
        "requirement": {
            "description": "Options with the choices they must have; a list of such sets means "
            "that one of them is enough.",
            "anyOf": [alternative, {"type": "array", "minItems": 1, "items": alternative}],
        },
    }


def _scalar() -> Schema:
    return {"type": ["string", "number"]}


def _text(description: str) -> Schema:
    return {"description": description, **_scalar()}


def _version() -> Schema:
    return {"description": "The version of the schema.", "const": SCHEMA_VERSION}


def _word(words: Any, description: str, default: str = "") -> Schema:
    found: Schema = {"description": description, "enum": list(words)}
    return {**found, "default": default} if default else found


def _length(description: str, default: str = "") -> Schema:
    found = {"description": description, "type": "string", "pattern": _UNIT_OR_NAME}
    return {**found, "default": default} if default else found


def _measured(description: str) -> Schema:
    """A length that may be 0."""
    single = {"anyOf": [{"type": "string", "pattern": _UNIT_OR_NAME}, {"const": 0}]}
    return {"description": description, **single} if description else single


def _value_of(single: Schema, description: str, default: Any) -> Schema:
    return {
        "description": description,
        "default": default,
        "anyOf": [single, _ref("by_option")],
    }


def _object(properties: Schema, *, required: list[str] | None = None) -> Schema:
    found: Schema = {"type": "object", "additionalProperties": False, "properties": properties}
    return {**found, "required": required} if required else found


def _named(description: str, each: Schema, *, names: bool = True) -> Schema:
    found: Schema = {
        "description": description,
        "type": "object",
        "additionalProperties": each,
    }
    return {**found, "propertyNames": {"pattern": f"^{NAME.pattern}$"}} if names else found


def _choices(description: str) -> Schema:
    return {"description": description, "type": "object", "additionalProperties": _scalar()}


def _ref(name: str) -> Schema:
    return {"$ref": f"#/$defs/{name}"}
