"""Schemas of what a make or a stash says of cloth: fabrics, remnants, cutting, matches, pins."""

from __future__ import annotations

from clothwise.components.schema_parts import (
    Schema,
    choices,
    length,
    measured,
    named,
    object_of,
    text,
    word,
)
from clothwise.pattern.document.cutting_entry import BIAS_SOURCES, METHODS
from clothwise.pattern.document.fabric_entry import LAYERS, NAPS, YES_OR_NO
from clothwise.pattern.document.match_entry import DIRECTIONS, MATCH_RULES
from clothwise.pattern.document.reading import NAME


def fabric_keys() -> Schema:
    """The keys of a fabric."""
    share = "Share of the {} lost in the first wash, such as 4%."
    return {
        "title": text("How it is printed."),
        "width": length("From selvage to selvage."),
        "usable_width": length("Between the selvages; left out, 2 cm less than the width."),
        "length": length("At hand; left out, as much as is needed can be bought."),
        "shrinkage_along": text(share.format("length")),
        "shrinkage_across": text(share.format("width")),
        "stretch": text("How far it gives across, such as 40%; left out, it is woven."),
        "nap": word(NAPS, "Whether pile, sheen or print has a direction.", NAPS[0]),
        "wrong_side_usable": word(
            YES_OR_NO, "Whether pieces may lie either side up.", YES_OR_NO[0]
        ),
        "grainless": word(
            YES_OR_NO,
            "Whether it has no grain, so that pieces may lie at any quarter turn; not with a nap.",
            YES_OR_NO[0],
        ),
        "off_grain": text("How far the grain of small parts may stray, such as 2deg."),
        "repeat": {
            "description": "How stripes, checks or a print come again.",
            **object_of(
                {
                    "along": length("From one crosswise line to the next of its kind."),
                    "across": length("From one lengthwise line to the next of its kind."),
                    "start_along": measured("The first crosswise line, from the cut end."),
                    "start_across": measured(
                        "The first lengthwise line, from the fold or the lower edge."
                    ),
                    "border": length(
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
            "items": flaw(),
        },
        "layers": word(LAYERS, "How the cloth lies to be cut.", LAYERS[0]),
        "price": text("Such as 18.50 EUR/m or 12 USD/yd."),
        "fiber": text("For the heat of the iron, such as linen."),
        "thickness": length("Of one layer, such as 0.4mm."),
        "color": {
            "description": "For pictures.",
            "type": "string",
            "pattern": "^#[0-9a-fA-F]{6}$",
        },
        "pattern": text("For pictures, such as stripe."),
        "photo": text("A picture of it, seen from this file."),
        "photo_width": length("How much cloth its swatch shows from left to right."),
    }


def flaw() -> Schema:
    """What may not be covered on a fabric."""
    box = {
        "along": measured("Where it begins, from the cut end."),
        "across": measured("Where it begins, from the lower edge between the selvages."),
        "length": length("Along the cloth."),
        "width": length("Across the cloth."),
    }
    found = object_of(
        {**box, "outline": outline("Instead of a box: corners, each along and across.")}
    )
    return {**found, "oneOf": [{"required": [*box]}, {"required": ["outline"]}]}


def outline(description: str) -> Schema:
    """Corners, from the cut end and the lower selvage."""
    corner = {"type": "array", "items": measured(""), "minItems": 2, "maxItems": 2}
    return {"description": description, "type": "array", "items": corner, "minItems": 3}


def remnant() -> Schema:
    """What a remnant shares with a fabric is said in the same words."""
    fabric = fabric_keys()
    roles = {"type": "array", "items": {"type": "string", "pattern": f"^{NAME.pattern}$"}}
    share = "Share of the {} that it will still lose in the wash, such as 4%."
    found = object_of(
        {
            "title": fabric["title"],
            "length": length("Along the warp, of a rectangle."),
            "width": length("Across, of a rectangle."),
            "outline": outline("Of any other shape: corners, each along the warp and across."),
            "holes": {**fabric["flaws"], "description": "Where cloth is missing."},
            "flaws": {**fabric["flaws"], "description": "Cloth that no piece covers."},
            "shrinkage_along": text(share.format("length")),
            "shrinkage_across": text(share.format("width")),
            "nap": fabric["nap"],
            "wrong_side_usable": fabric["wrong_side_usable"],
            "grainless": fabric["grainless"],
            "roles": {
                "description": "Fabric roles that it may be cut for; left out, those of shell "
                "pieces.",
                "anyOf": [roles["items"], roles],
            },
            **{key: fabric[key] for key in ("fiber", "color", "pattern", "photo")},
        }
    )
    return {**found, "oneOf": [{"required": ["length", "width"]}, {"required": ["outline"]}]}


def cutting() -> Schema:
    """How a make is cut."""
    return {
        "description": "How the cloth is cut.",
        **object_of(
            {
                "method": word(METHODS, "What it is cut with.", METHODS[0]),
                "between": measured(
                    "Cloth to leave between pieces; left out, what the method needs."
                ),
                "ends": measured("Cloth to leave at both ends of the length."),
                "bias_strips": word(
                    BIAS_SOURCES, "What bias strips are cut from.", BIAS_SOURCES[0]
                ),
            }
        ),
    }


def matches() -> Schema:
    """Where the pattern of the cloth runs on."""
    directions = word(DIRECTIONS, "In which directions it runs on; none for not at all.")
    phase = "Where in the repeat {} they lie, such as 50%; left out, wherever saves most."
    changed = object_of(
        {
            "directions": directions,
            "points": choices(
                "Piece to a place that it knows, such as bust point, or to a notch of a seam, such "
                "as skirt-side/hip; under names of your own only."
            ),
            "phase_along": text(phase.format("along")),
            "phase_across": text(phase.format("across")),
        }
    )
    return named(
        "Where stripes and checks run on from piece to piece: the rules "
        f"{', '.join(MATCH_RULES)}, and names of your own for points that meet.",
        {"anyOf": [directions, {**changed, "minProperties": 1}]},
    )


def pin() -> Schema:
    """Where a copy stays."""
    return object_of(
        {
            "along": measured("From the cut end to the nearest point of the piece."),
            "across": measured("From the fold, or the lower edge, to its nearest point."),
            "turn": text("0deg: its top points away from the cut end; 180deg: toward it."),
            "turned_over": word(
                YES_OR_NO, "On cloth usable on both sides: printed side down.", YES_OR_NO[0]
            ),
            "flap": length(
                "On partly folded cloth: how deep one selvage is folded over, with the selvage."
            ),
        },
        required=["along", "across"],
    )
