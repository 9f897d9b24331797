"""Garment parts: each drafts its pieces, seams, marks, notions and work steps onto a pattern.

Components are loaded when they are first used; see `registry`.
"""

from clothwise.components.component import Component, Drafting
from clothwise.components.design_file import (
    DesignFile,
    MakeFile,
    make_files,
    open_design,
    open_make,
    read_design,
    read_make,
)
from clothwise.components.drafting import draft
from clothwise.components.evaluation import ParameterError, ParameterFault
from clothwise.components.parameter import Parameter, ParameterKind
from clothwise.components.registry import component_class, kinds

__all__ = [
    "Component",
    "DesignFile",
    "Drafting",
    "MakeFile",
    "Parameter",
    "ParameterError",
    "ParameterFault",
    "ParameterKind",
    "component_class",
    "draft",
    "kinds",
    "make_files",
    "open_design",
    "open_make",
    "read_design",
    "read_make",
]
