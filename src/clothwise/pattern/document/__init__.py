"""What people write and keep: designs and makes as plain text files.

A design says what a garment is, a make what is to be sewn of it, for whom and from which fabrics.
Both are read with all their faults at once, and written so that comments and order stay.
"""

from clothwise.pattern.document.assignment import (
    SetAside,
    assign,
    copies_named,
    copy_key,
    set_aside,
    without_set_aside,
)
from clothwise.pattern.document.cutting_entry import CuttingEntry, PinEntry
from clothwise.pattern.document.design import (
    SCHEMA_VERSION,
    ComponentEntry,
    Condition,
    Design,
    FabricRole,
    Option,
    View,
)
from clothwise.pattern.document.design_reader import parse_design
from clothwise.pattern.document.edit_entry import EditEntry
from clothwise.pattern.document.fabric_entry import FabricEntry
from clothwise.pattern.document.flaw_entry import FlawEntry
from clothwise.pattern.document.make import Make, body_for
from clothwise.pattern.document.make_reader import parse_make
from clothwise.pattern.document.match_entry import MatchEntry
from clothwise.pattern.document.reading import Source
from clothwise.pattern.document.remnant_entry import RemnantEntry
from clothwise.pattern.document.repeat_entry import RepeatEntry
from clothwise.pattern.document.role_cloth import RoleCloth
from clothwise.pattern.document.starting import starter_names, starting_design
from clothwise.pattern.document.stash import Stash, filled_from_stash, parse_stash
from clothwise.pattern.document.usual_widths import USUAL_WIDTHS, UsualWidth
from clothwise.pattern.document.value import ByOption, Choices, Requirement, Value
from clothwise.pattern.document.versions import kept_versions
from clothwise.pattern.document.writing import (
    format_design,
    format_make,
    format_stash,
)

__all__ = [
    "SCHEMA_VERSION",
    "USUAL_WIDTHS",
    "ByOption",
    "Choices",
    "ComponentEntry",
    "Condition",
    "CuttingEntry",
    "Design",
    "EditEntry",
    "FabricEntry",
    "FabricRole",
    "FlawEntry",
    "Make",
    "MatchEntry",
    "Option",
    "PinEntry",
    "RemnantEntry",
    "RepeatEntry",
    "Requirement",
    "RoleCloth",
    "SetAside",
    "Source",
    "Stash",
    "UsualWidth",
    "Value",
    "View",
    "assign",
    "body_for",
    "copies_named",
    "copy_key",
    "filled_from_stash",
    "format_design",
    "format_make",
    "format_stash",
    "kept_versions",
    "parse_design",
    "parse_make",
    "parse_stash",
    "set_aside",
    "starter_names",
    "starting_design",
    "without_set_aside",
]
