"""Changes of the documents of a design as data, shared by command line and app.

A command makes new documents of old ones; undo is the older documents (decision 0022).
"""

from clothwise.pattern.commands.body_commands import SetBody
from clothwise.pattern.commands.chart_commands import (
    AddSize,
    BringChart,
    MakeChartEditable,
    MoveSize,
    RemoveSize,
    SetCells,
    SetRowKind,
)
from clothwise.pattern.commands.cloth_commands import (
    RemoveRemnant,
    SetFlaws,
    SetMatch,
    SetRemnant,
    SetStashFabric,
)
from clothwise.pattern.commands.command import (
    EVERY_KEY,
    Command,
    command_from_data,
    command_kinds,
)
from clothwise.pattern.commands.component_commands import (
    AddComponent,
    SetComponent,
    SwapComponent,
)
from clothwise.pattern.commands.design_commands import Rename, SetDesign, SetParameter
from clothwise.pattern.commands.documents import (
    Documents,
    check_document_name,
    is_make_name,
    is_sheet,
    make_names,
    read_documents,
)
from clothwise.pattern.commands.edit_commands import AddEdit, ChangeEdit, RemoveEdit
from clothwise.pattern.commands.file_commands import AddMakes, RemoveFile, ReplaceFile
from clothwise.pattern.commands.left_aside_commands import TakeOutCopy
from clothwise.pattern.commands.make_commands import (
    PaintCopies,
    RemoveFabric,
    SetFabric,
    SetMake,
    SetPins,
)
from clothwise.pattern.commands.parameter_commands import SetParameters
from clothwise.pattern.commands.remnant_commands import CutFromRemnants
from clothwise.pattern.commands.removal_commands import RemoveComponent, RemoveComponents
from clothwise.pattern.commands.renaming_commands import RenameComponent
from clothwise.pattern.commands.title_commands import SetTitles
from clothwise.pattern.commands.view_commands import SetView

__all__ = [
    "EVERY_KEY",
    "AddComponent",
    "AddEdit",
    "AddMakes",
    "AddSize",
    "BringChart",
    "ChangeEdit",
    "Command",
    "CutFromRemnants",
    "Documents",
    "MakeChartEditable",
    "MoveSize",
    "PaintCopies",
    "RemoveComponent",
    "RemoveComponents",
    "RemoveEdit",
    "RemoveFabric",
    "RemoveFile",
    "RemoveRemnant",
    "RemoveSize",
    "Rename",
    "RenameComponent",
    "ReplaceFile",
    "SetBody",
    "SetCells",
    "SetComponent",
    "SetDesign",
    "SetFabric",
    "SetFlaws",
    "SetMake",
    "SetMatch",
    "SetParameter",
    "SetParameters",
    "SetPins",
    "SetRemnant",
    "SetRowKind",
    "SetStashFabric",
    "SetTitles",
    "SetView",
    "SwapComponent",
    "TakeOutCopy",
    "check_document_name",
    "command_from_data",
    "command_kinds",
    "is_make_name",
    "is_sheet",
    "make_names",
    "read_documents",
]
