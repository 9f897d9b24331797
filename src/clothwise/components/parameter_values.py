"""The parameters of a component as somebody sees and changes them: text, number, range, step.

A parameter is written as a text with its unit, often as a formula. What a slider shows is the
number that the text amounts to; moving it writes the text anew. Of a formula only the amount at its
end changes: `waist_to_knee + 22cm` becomes `waist_to_knee + 23cm`.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from clothwise.components.component import Component
from clothwise.components.evaluation import Evaluation, ParameterFault, class_of
from clothwise.components.parameter import Parameter, ParameterKind, field_name
from clothwise.components.schemas import parameter_default
from clothwise.errors import ExpressionError, UnitError
from clothwise.pattern.document.design import ComponentEntry
from clothwise.pattern.document.value import ByOption, Choices, Value, selected
from clothwise.pattern.expression import parse_expression
from clothwise.units import LengthUnit, parse_angle, parse_length

__all__ = ["Amount", "ParameterValue", "Scale", "amount_of", "parameter_values", "scale_of"]

_FINE_STEPS_UP_TO_MM, _MIDDLE_STEPS_UP_TO_MM = 80.0, 600.0
"""A span up to the first goes by millimeters, up to the second by half centimeters."""
_STEPS = {LengthUnit.CENTIMETER: (0.1, 0.5, 1.0), LengthUnit.INCH: (1 / 16, 1 / 8, 1 / 4)}
"""Of a slider, for short, middle and long spans: divisions that are on a tape measure."""
_MOST_STEPS_OF_A_RATIO = 60

_TAIL = re.compile(
    r"(?P<stem>.*\S)\s*(?P<sign>[+-])\s*(?P<number>[0-9]+(?:\.[0-9]+)?)\s*(?P<unit>[a-z]*)\s*"
)


@dataclass(frozen=True)
class Scale:
    """What a slider goes through, in the unit that is shown.

    Attributes:
        unit: written right after a number, such as `cm`; empty for plain numbers.
        low, high: its ends, whole steps within what is allowed.
        step: between two of its places.
        per_unit: mm or radians to the unit; 1 for plain numbers.
    """

    unit: str
    low: float
    high: float
    step: float
    per_unit: float


@dataclass(frozen=True)
class Amount:
    """A text as something to which an amount can be added.

    Attributes:
        stem: the formula before its last amount; empty if the text is one plain amount.
        tail: that amount, in the unit of the scale; 0 if none can be told from the formula.
    """

    stem: str
    tail: float


@dataclass(frozen=True)
class ParameterValue:
    """A parameter of a component.

    Attributes:
        name: in the design.
        parameter: what may be said about it.
        text: as written, for the choices shown; empty if it is left as usual.
        usual: what it is if nothing is written.
        value: what it amounts to, in mm, radians or plain; None for words and where it is unknown.
        option: on which the text depends; empty if on none.
        keys: the choices for which this text applies.
        faults: what is wrong with it.
    """

    name: str
    parameter: Parameter
    text: str
    usual: str
    value: float | None
    option: str = ""
    keys: tuple[str, ...] = ()
    faults: tuple[ParameterFault, ...] = ()

    @property
    def is_formula(self) -> bool:
        """Tell whether it is worked out from something else."""
        if self.parameter.kind in (ParameterKind.CHOICE, ParameterKind.TEXT):
            return False
        try:
            return bool(self.text) and bool(parse_expression(self.text).names)
        except ExpressionError:
            return False


def parameter_values(
    entry: ComponentEntry, evaluation: Evaluation, choices: Choices
) -> Iterator[ParameterValue]:
    """Yield the parameters of a component in the order of its class.

    Args:
        entry: of a design.
        evaluation: of that design, with these choices.
        choices: one for every option.

    Raises:
        ComponentError: there is no such component.
    """
    of = class_of(entry)
    assert issubclass(of, Component)
    arguments = evaluation.arguments.get(entry.name)
    faults = [each for each in evaluation.faults if each.component == entry.name]
    for name, parameter in of.parameters().items():
        stated = entry.parameters.get(name)
        text, option, keys = _selected(stated, choices)
        field = field_name(name, parameter)
        value = None
        if not _is_word(parameter):
            if arguments is not None and field in arguments:
                value = float(arguments[field])
            elif stated is None:
                value = float(getattr(of, field))
        yield ParameterValue(
            name,
            parameter,
            text,
            parameter_default(of, name),
            value,
            option,
            keys,
            tuple(each for each in faults if each.parameter == name),
        )


def scale_of(parameter: Parameter, unit: LengthUnit) -> Scale | None:
    """Return what a slider goes through; None where there is nothing to slide.

    Args:
        parameter: of any kind.
        unit: that lengths are shown in; what is neither inches nor centimeters is centimeters.
    """
    shown, per_unit, step = "", 1.0, 1.0
    span = parameter.high - parameter.low
    if parameter.kind is ParameterKind.LENGTH:
        of = LengthUnit.INCH if unit is LengthUnit.INCH else LengthUnit.CENTIMETER
        fine, middle, coarse = _STEPS[of]
        step = fine if span <= _FINE_STEPS_UP_TO_MM else middle
        step = coarse if span > _MIDDLE_STEPS_UP_TO_MM else step
        shown, per_unit = of.value, float(of.exact_mm)
    elif parameter.kind is ParameterKind.ANGLE:
        shown, per_unit = "deg", math.pi / 180
        step = 1.0 if span / per_unit > 20 else 0.5
    elif parameter.kind is ParameterKind.RATIO:
        step = _round_step(span / _MOST_STEPS_OF_A_RATIO)
    elif parameter.kind is not ParameterKind.COUNT:
        return None
    low = math.ceil(parameter.low / per_unit / step - 1e-6) * step
    high = math.floor(parameter.high / per_unit / step + 1e-6) * step
    return Scale(shown, low, high, step, per_unit) if high > low else None


def amount_of(text: str, scale: Scale) -> Amount:
    """Return a text as something to which an amount can be added.

    >>> cm = Scale("cm", 2.0, 26.0, 0.5, 10.0)
    >>> amount_of("waist_to_knee + 22cm", cm)
    Amount(stem='waist_to_knee', tail=22.0)
    >>> amount_of("hip_girth / 4", cm), amount_of("9cm", cm)
    (Amount(stem='hip_girth / 4', tail=0.0), Amount(stem='', tail=9.0))
    """
    plain = _plain(text, scale)
    if plain is not None:
        return Amount("", plain)
    found = _TAIL.fullmatch(text.strip())
    if found is None or found["unit"] != scale.unit or not _is_whole(found["stem"]):
        return Amount(text.strip(), 0.0)
    number = float(found["number"])
    return Amount(found["stem"], -number if found["sign"] == "-" else number)


def problems_of(faults: Iterable[ParameterFault]) -> str:
    """Return faults in sentences, to stand beside a field."""
    return " ".join(
        f"{each.problem[:1].upper()}{each.problem[1:]}. {each.remedy}" for each in faults
    )


def _is_word(parameter: Parameter) -> bool:
    return parameter.kind in (ParameterKind.CHOICE, ParameterKind.TEXT, ParameterKind.ALONG)


def _selected(value: Value | None, choices: Choices) -> tuple[str, str, tuple[str, ...]]:
    """Return the text that applies, the option it depends on, and the choices it is for."""
    if value is None:
        return "", "", ()
    option = value.option if isinstance(value, ByOption) else ""
    try:
        found = selected(value, choices)
    except KeyError:
        return "", option, ()
    return found.text, option, found.keys


def _plain(text: str, scale: Scale) -> float | None:
    """Return the amount of a text that is nothing else, in the unit of the scale."""
    try:
        if scale.unit == "deg":
            return parse_angle(text) / scale.per_unit
        return parse_length(text) / scale.per_unit if scale.unit else float(text)
    except (UnitError, ValueError):
        return None


def _is_whole(stem: str) -> bool:
    """Tell whether what stands before an amount is a formula of its own."""
    try:
        parse_expression(stem)
    except ExpressionError:
        return False
    return True


def _round_step(step: float) -> float:
    """Return the next of 1, 2, 5, 10 ... that is not less.

    >>> _round_step(0.013), _round_step(0.06)
    (0.02, 0.1)
    """
    power = math.floor(math.log10(step))
    return next(
        round(base * 10.0**power, 9) for base in (1, 2, 5, 10) if base * 10.0**power >= step - 1e-12
    )
