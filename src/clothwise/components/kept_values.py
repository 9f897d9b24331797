"""What an exchanged component keeps of the old one though it is usually otherwise."""

from __future__ import annotations

from clothwise.components.evaluation import evaluate, format_parameter
from clothwise.components.parameter import ParameterKind
from clothwise.components.parameter_values import amount_of, parameter_values, scale_of
from clothwise.pattern.document.design import Design
from clothwise.pattern.document.value import Choices
from clothwise.pattern.measurements import Body
from clothwise.pattern.plain_names import plain_name
from clothwise.units import LengthUnit

__all__ = ["kept_values"]

_ROUNDING_MM = 0.5
"""Less of a difference is not shown."""


def kept_values(
    design: Design, body: Body, choices: Choices, name: str, unit: LengthUnit
) -> tuple[str, ...]:
    """Return in a sentence what a component has otherwise than is usual; nothing if as usual.

    Args:
        design: with the component as it is now.
        body: for whom it is drafted.
        choices: one for every option.
        name: of the component.
        unit: in which lengths are told.
    """
    entry = design.component(name)
    told = []
    for value in parameter_values(entry, evaluate(design, body, choices), choices):
        scale = scale_of(value.parameter, unit)
        if not value.text or value.value is None or scale is None:
            continue
        usual = amount_of(value.usual, scale).tail * scale.per_unit
        rounding = _ROUNDING_MM if value.parameter.kind is ParameterKind.LENGTH else 1e-6
        if abs(value.value - usual) > rounding:
            now, then = (
                format_parameter(each, value.parameter.kind, unit) for each in (value.value, usual)
            )
            told.append(f"the {plain_name(value.name)} {now} (usual {then})")
    return (f"It keeps {', '.join(told)}.",) if told else ()
