"""Garment parts: each drafts its pieces, seams, marks, notions and work steps onto a pattern.

Components are loaded when they are first used; see `registry`.
"""

from clothwise.components.component import Component, Drafting
from clothwise.components.parameter import Parameter, ParameterKind
from clothwise.components.registry import component_class, kinds

__all__ = [
    "Component",
    "Drafting",
    "Parameter",
    "ParameterKind",
    "component_class",
    "kinds",
]
