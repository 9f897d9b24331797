"""A body: what was measured on it, and what is estimated from that.

Lengths are in mm, angles in radians. The vocabulary, with ranges and estimate rules, is in
`vocabulary`; `docs/reference/measurements.md` shows it to readers.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache, cached_property

from clothwise.errors import MeasurementError, MeasurementFault, did_you_mean
from clothwise.pattern.expression import parse_expression
from clothwise.pattern.quantity import Quantity, QuantityKind
from clothwise.pattern.vocabulary import MEASUREMENTS, RELATIONS, REQUIRED, Measurement, Relation
from clothwise.units import LengthUnit, format_angle, format_length

__all__ = [
    "MEASUREMENTS",
    "RELATIONS",
    "REQUIRED",
    "Body",
    "BodyMeasurement",
    "Measurement",
    "Relation",
    "shown_value",
]


@dataclass(frozen=True, slots=True)
class BodyMeasurement:
    """One measurement of one body.

    Attributes:
        name: from the vocabulary.
        value: mm, or radians for an angle.
        rule: how it was estimated; empty if it was measured.
        is_of_chart: it was estimated from how the other sizes of its chart step.
    """

    name: str
    value: float
    rule: str = ""
    is_of_chart: bool = False

    @property
    def is_estimated(self) -> bool:
        """Tell whether nobody measured it."""
        return bool(self.rule)


@dataclass(frozen=True)
class Body(Mapping[str, float]):
    """All measurements of one body, each marked as measured or estimated.

    A body is a mapping from measurement name to mm (radians for `shoulder_slope`). It always has
    the whole vocabulary. Made by `Body.complete`.

    Attributes:
        name: a person or a size; may be empty.
        measurements: in the order of the vocabulary.
    """

    name: str
    measurements: tuple[BodyMeasurement, ...]

    @classmethod
    def complete(
        cls,
        given: Mapping[str, float],
        *,
        name: str = "",
        shown_in: LengthUnit = LengthUnit.CENTIMETER,
        of_chart: Mapping[str, float] | None = None,
    ) -> Body:
        """Return the body with these measurements, and the missing ones estimated.

        An estimate is what other sizes of the chart let expect, if they do, or that of the
        vocabulary. It is held within the plausible range and within `RELATIONS` to what is known
        already; its rule then says so.

        Args:
            given: what was measured, in mm and radians; at least `REQUIRED`.
            name: a person or a size, for messages and lists.
            shown_in: the unit of lengths in messages.
            of_chart: what nobody measured and other sizes tell, in mm and radians
                (`chart_gaps` has the formula); what is given as well counts as given.

        Raises:
            MeasurementError: carries all that is missing, unknown, outside the plausible range of
                an adult, or in contradiction to another measurement.

        >>> body = Body.complete(
        ...     {"height": 1680, "bust_girth": 920, "waist_girth": 740, "hip_girth": 980})
        >>> body["back_neck_to_waist"], body.is_estimated("back_neck_to_waist")
        (403.2, True)
        """
        faults = _single_faults(given, shown_in)
        if faults:
            raise MeasurementError(faults, where=name)
        known: dict[str, Quantity] = {
            each.name: Quantity(given[each.name], *_POWERS[each.kind])
            for each in MEASUREMENTS.values()
            if each.name in given
        }
        rules: dict[str, str] = {}
        steps = of_chart or {}
        for each in MEASUREMENTS.values():
            if each.name not in known:
                estimate, rules[each.name] = _estimate(each, known, steps.get(each.name))
                known[each.name] = Quantity(estimate, *_POWERS[each.kind])
        contradictions = _contradictions(known, rules, shown_in)
        if contradictions:
            raise MeasurementError(contradictions, where=name)
        return cls(
            name,
            tuple(
                BodyMeasurement(
                    each,
                    float(known[each].value),
                    rules.get(each, ""),
                    each in rules and each in steps,
                )
                for each in MEASUREMENTS
            ),
        )

    def __getitem__(self, name: str) -> float:
        return self._by_name[name].value

    def __iter__(self) -> Iterator[str]:
        return iter(self._by_name)

    def __len__(self) -> int:
        return len(self.measurements)

    @property
    def given(self) -> dict[str, float]:
        """What was measured: all else follows from it, unless other sizes of a chart told it."""
        return {each.name: each.value for each in self.measurements if not each.is_estimated}

    @property
    def estimated(self) -> dict[str, str]:
        """What was estimated, with the rule of each."""
        return {each.name: each.rule for each in self.measurements if each.is_estimated}

    def is_estimated(self, name: str) -> bool:
        """Tell whether nobody measured this."""
        return self._by_name[name].is_estimated

    def is_of_chart(self, name: str) -> bool:
        """Tell whether nobody measured this, and other sizes of the chart told it."""
        return self._by_name[name].is_of_chart

    def is_usual(self, name: str) -> bool:
        """Tell whether this is only what is usual for the rest, by the rule of the vocabulary."""
        of = self._by_name[name]
        return of.is_estimated and not of.is_of_chart

    def with_measured(self, changes: Mapping[str, float]) -> Body:
        """Return this body with more or other measurements; estimates follow.

        What other sizes of the chart told stays, like what was measured.

        Raises:
            MeasurementError: as for `complete`.
        """
        of_chart = {each.name: each.value for each in self.measurements if each.is_of_chart}
        return Body.complete({**self.given, **changes}, name=self.name, of_chart=of_chart)

    @cached_property
    def quantities(self) -> Mapping[str, Quantity]:
        """The measurements as formulas need them."""
        return {
            each.name: Quantity(each.value, *_POWERS[MEASUREMENTS[each.name].kind])
            for each in self.measurements
        }

    @cached_property
    def _by_name(self) -> dict[str, BodyMeasurement]:
        return {each.name: each for each in self.measurements}


_RANK = {name: rank for rank, name in enumerate(MEASUREMENTS)}
_POWERS = {QuantityKind.LENGTH: (1, 0), QuantityKind.ANGLE: (0, 1)}


_AS_THE_CHART = "the other sizes of the chart step"


def _estimate(
    wanted: Measurement, known: Mapping[str, Quantity], of_chart: float | None
) -> tuple[float, str]:
    """Return the value of a rule, held within what is plausible, and the rule in words.

    The words are in millimeters, like the rules, whatever the user's unit: equal bodies are equal.
    """
    rule = wanted.rule if of_chart is None else _AS_THE_CHART
    free = of_chart
    if free is None:
        free = parse_expression(wanted.rule).evaluate(known, kind=wanted.kind).value
    least, most = (wanted.smallest, "in an adult"), (wanted.largest, "in an adult")
    for relation in _relations_of(wanted.name):
        if relation.larger == wanted.name and relation.smaller in known:
            bound = relation.least_larger(known[relation.smaller].value)
            least = max(least, (bound, f"beside {relation.smaller}"))
        elif relation.smaller == wanted.name and relation.larger in known:
            bound = relation.most_smaller(known[relation.larger].value)
            most = min(most, (bound, f"beside {relation.larger}"))
    for held, beyond, word in ((least, free < least[0], "least"), (most, free > most[0], "most")):
        if beyond:
            value, why = held
            shown = shown_value(wanted, value, LengthUnit.MILLIMETER)
            return value, f"{rule}, but at {word} {shown} {why}"
    return free, rule


@cache
def _relations_of(name: str) -> tuple[Relation, ...]:
    return tuple(each for each in RELATIONS if name in (each.larger, each.smaller))


def _single_faults(given: Mapping[str, float], unit: LengthUnit) -> list[MeasurementFault]:
    """Return what is wrong with each measurement by itself."""
    faults = [_unknown(name) for name in given if name not in MEASUREMENTS]
    for each in MEASUREMENTS.values():
        if each.name in given:
            value = given[each.name]
            if not math.isfinite(value) or not each.smallest <= value <= each.largest:
                faults.append(_out_of_range(each, value, unit))
        elif each.is_required:
            faults.append(_missing(each))
    return faults


def _unknown(name: str) -> MeasurementFault:
    return MeasurementFault(
        name,
        f"{name} is not a measurement that Clothwise knows",
        remedy=did_you_mean(name, MEASUREMENTS, of_what="measurements"),
    )


def _missing(wanted: Measurement) -> MeasurementFault:
    return MeasurementFault(
        wanted.name,
        f"{wanted.name} is missing",
        how_much=f"at least {', '.join(REQUIRED)} must be given",
        remedy=f"Measure the {wanted.label}: {wanted.definition}",
    )


def _out_of_range(of: Measurement, value: float, unit: LengthUnit) -> MeasurementFault:
    if math.isnan(value):
        return MeasurementFault(of.name, f"{of.name} is not a number", remedy="Measure it again.")
    least, most = (shown_value(of, end, unit) for end in (of.smallest, of.largest))
    return MeasurementFault(
        of.name,
        f"{of.name} is {shown_value(of, value, unit)}",
        how_much=f"an adult has {least} to {most}",
        remedy=_likely_slip(of, value, unit),
    )


_SLIPS = (
    (10.0, None),  # a digit lost, or cm read as mm
    (0.1, None),  # a decimal point lost, or mm read as cm
    (2.54, LengthUnit.INCH),  # inches read as cm
    (25.4, LengthUnit.INCH),  # inches read as mm
    (1 / 2.54, LengthUnit.CENTIMETER),  # cm read as inches
    (1 / 25.4, LengthUnit.MILLIMETER),  # mm read as inches
)
"""How a length goes wrong on its way into a file: what it must be multiplied by, and the unit that
was meant; none where it is that of the messages."""


def _likely_slip(of: Measurement, value: float, unit: LengthUnit) -> str:
    """Return a remedy that names the value that was probably meant."""
    if of.kind is QuantityKind.ANGLE:
        return "Check the number and its unit, such as 21deg."
    middle = math.sqrt(of.smallest * of.largest)
    meant = [
        (abs(math.log(value * factor / middle)), _meant(value * factor, typed, unit))
        for factor, typed in _SLIPS
        if math.isfinite(value) and of.smallest <= value * factor <= of.largest
    ]
    if not meant:
        return f"Measure again. {of.definition}"
    return f"Check the unit and the decimal point: was {min(meant)[1]} meant?"


def _meant(length_mm: float, typed: LengthUnit | None, unit: LengthUnit) -> str:
    """A length as it was probably typed; in a message in inches, metric ones have both."""
    if unit is not LengthUnit.INCH:
        return format_length(length_mm, typed or LengthUnit.CENTIMETER)
    inches = format_length(length_mm, LengthUnit.INCH)
    if typed in (None, LengthUnit.INCH):
        return inches
    return f"{format_length(length_mm, typed)} ({inches})"


def _contradictions(
    known: Mapping[str, Quantity], rules: Mapping[str, str], unit: LengthUnit
) -> list[MeasurementFault]:
    """Return each relation that is broken and touches something measured."""
    faults = []
    for relation in RELATIONS:
        larger, smaller = known[relation.larger].value, known[relation.smaller].value
        if (
            larger >= relation.least_larger(smaller) - _SLACK_MM
            or {relation.larger, relation.smaller} <= rules.keys()
        ):
            continue
        faults.append(_contradiction(relation, larger, smaller, rules, unit))
    return faults


def _contradiction(
    relation: Relation, larger: float, smaller: float, rules: Mapping[str, str], unit: LengthUnit
) -> MeasurementFault:
    """Blame the measured one of the two, or of two measured ones the later in the vocabulary."""
    bounds = {
        relation.larger: f"at least {format_length(relation.least_larger(smaller), unit)}",
        relation.smaller: f"at most {format_length(relation.most_smaller(larger), unit)}",
    }
    values = {relation.larger: larger, relation.smaller: smaller}
    blamed, other = sorted(values, key=lambda name: (name in rules, -_RANK[name]))
    estimated = f", estimated as {rules[other]}" if other in rules else ""
    return MeasurementFault(
        blamed,
        f"{blamed} {format_length(values[blamed], unit)} does not go with "
        f"{other} {format_length(values[other], unit)}{estimated}",
        how_much=f"it would be {bounds[blamed]}",
        remedy=f"Measure both, {blamed} and {other}."
        if estimated
        else f"Measure {blamed} and {other} again.",
    )


_SLACK_MM = 1e-6  # so that an estimate held exactly at a bound does not break it by float noise


def shown_value(of: Measurement, value: float, unit: LengthUnit) -> str:
    """Return a measurement in words: a length, given in mm, in a unit; an angle in degrees."""
    if of.kind is QuantityKind.ANGLE:
        return format_angle(value)
    return format_length(value, unit) if math.isfinite(value) else str(value)
