"""Bodies, parameters and patterns for the tests of single components."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from pathlib import Path

from hypothesis import strategies as st

from clothwise.checks import check
from clothwise.components import component_class, draft, read_design
from clothwise.components.parameter import Parameter, ParameterKind, design_name
from clothwise.errors import ComponentError, MeasurementError
from clothwise.pattern import Body, Layer, Pattern, Seam
from clothwise.pattern.document import ComponentEntry, Design
from clothwise.pattern.document.edit_entry import EditEntry
from clothwise.work import OrderMode, plan, verify
from survey import survey_women

__all__ = [
    "EXAMPLES",
    "SEAM_TOLERANCE_MM",
    "Edits",
    "Parts",
    "assert_darts_close",
    "assert_seams_true",
    "assert_sound",
    "assert_sound_in_sizes",
    "bodies_to_draft",
    "body",
    "chart",
    "drafted",
    "drafted_or_refused",
    "dress_with",
    "only_seam",
    "parameter_ends",
    "parameters_in_range",
    "skirt_alone",
    "skirt_on_bodice",
]

EXAMPLES = Path(__file__).resolve().parent.parent / "examples"

SEAM_TOLERANCE_MM = 0.5
"""Both sides of a seam agree within this; common practice allows 1.5 mm. Our own choice."""

Parameters = dict[str, float | str]
Parts = dict[str, tuple[str, Parameters]]
"""Name to kind and parameters, by their names in a design, in mm, radians, numbers or words."""

Edits = Sequence[tuple[str, dict[str, str]]]
"""Kinds of edits and their parameters, as a design writes them."""


@cache
def _design() -> Design:
    return read_design(EXAMPLES / "kiln-dress").design


@cache
def chart() -> tuple[Body, ...]:
    """The ten sizes of the example dress."""
    return tuple(read_design(EXAMPLES / "kiln-dress").chart)


@cache
def _women() -> tuple[Body, ...]:
    return survey_women()


def body(**measured_mm: float) -> Body:
    """A body of medium size with some measurements changed."""
    usual = {"height": 1660.0, "bust_girth": 900.0, "waist_girth": 720.0, "hip_girth": 960.0}
    return Body.complete({**usual, **measured_mm})


@st.composite
def _near_the_chart(draw: st.DrawFn) -> Body:
    """A size of the chart with up to six measurements longer or shorter by up to 6 %."""
    size = draw(st.sampled_from(chart()))
    names = st.sampled_from(sorted(size.given))
    shares = draw(st.dictionaries(names, st.floats(0.94, 1.06), max_size=6))
    try:
        return size.with_measured({name: size[name] * share for name, share in shares.items()})
    except MeasurementError:  # two of them that no body has together
        return size


def bodies_to_draft() -> st.SearchStrategy[Body]:
    """Women of the survey, and bodies around the chart of the example dress."""
    return st.one_of(
        st.integers(0, len(_women()) - 1).map(lambda row: _women()[row]), _near_the_chart()
    )


def parameters_in_range(kind: str, **fixed: float | str) -> st.SearchStrategy[Parameters]:
    """Some parameters of a component, each anywhere in its range, ends included."""
    free = {
        name: _values(parameter)
        for name, parameter in component_class(kind).parameters().items()
        if name not in fixed
    }
    return st.fixed_dictionaries({}, optional=free).map(lambda drawn: {**drawn, **fixed})


def parameter_ends(kind: str) -> list[tuple[str, float | str]]:
    """Every parameter at both ends of its range, or at every word."""
    return [
        (name, value)
        for name, parameter in component_class(kind).parameters().items()
        for value in (parameter.choices or (parameter.low, parameter.high))
    ]


def _values(parameter: Parameter) -> st.SearchStrategy[float | str]:
    if parameter.kind is ParameterKind.CHOICE:
        return st.sampled_from(parameter.choices)
    if parameter.kind is ParameterKind.COUNT:
        return st.integers(round(parameter.low), round(parameter.high))
    low, high = parameter.low, parameter.high
    return st.one_of(st.sampled_from((low, high)), st.floats(low, high))


def skirt_alone(kind: str, parameters: Parameters) -> Parts:
    """A skirt with the waistband, zip and hem that it needs to be worn alone."""
    return {
        "skirt": (kind, parameters),
        "band": ("straight-waistband", {}),
        "closure": ("zip", {}),
        "hem": ("double-hem", {}),
    }


def skirt_on_bodice(kind: str, parameters: Parameters) -> Parts:
    """A skirt as the lower part of a dress."""
    return {"bodice": ("darted-bodice", {}), "skirt": (kind, parameters)}


def dress_with(more: Parts, bodice: Parameters | None = None) -> Parts:
    """A dress that is buttoned and faced at center front, with more parts before its hem."""
    return {
        "bodice": ("darted-bodice", bodice or {}),
        "skirt": ("a-line-skirt", {}),
        "facing": ("front-and-neck-facing", {}),
        **more,
        "hem": ("double-hem", {}),
    }


def drafted(parts: Parts, for_body: Body | None = None, edits: Edits = ()) -> Pattern:
    """The pattern of some components and edits, which are named edit-1 and so on."""
    entries = tuple(
        ComponentEntry(name, kind, _written(kind, parameters))
        for name, (kind, parameters) in parts.items()
    )
    made = tuple(EditEntry(f"edit-{n}", kind, words) for n, (kind, words) in enumerate(edits, 1))
    return draft(replace(_design(), components=entries, edits=made), for_body or body())


def drafted_or_refused(parts: Parts, for_body: Body | None = None) -> Pattern | None:
    """The pattern, or None if it was refused in four parts; any other exception passes."""
    try:
        return drafted(parts, for_body)
    except ComponentError as error:
        parts_told = [(error.what, error.where, error.how_much, error.what_to_do)]
    except MeasurementError as error:
        parts_told = [
            (fault.what, fault.measurement, fault.how_much, fault.remedy) for fault in error.faults
        ]
    assert parts_told
    assert all(part for told in parts_told for part in told), parts_told
    return None


def _written(kind: str, parameters: Parameters) -> dict[str, str]:
    known = {design_name(name): each for name, each in component_class(kind).parameters().items()}
    units = {ParameterKind.LENGTH: "mm", ParameterKind.ANGLE: "rad"}
    return {
        name: value if isinstance(value, str) else f"{value:.9f}{units.get(known[name].kind, '')}"
        for name, value in parameters.items()
    }


def _wanted_mm(pattern: Pattern, seam: Seam, layer: Layer) -> float:
    lain_on = (
        layer.span[1] - layer.span[0] if layer.span else pattern.run_length(seam.layers[0].run)
    )
    return lain_on + layer.ease_mm


def assert_seams_true(pattern: Pattern) -> None:
    """Every layer of every seam is as long as what it lies on and its ease; so are the matches."""
    for seam in pattern.seams.values():
        for number, layer in enumerate(seam.layers):
            length = pattern.run_length(layer.run)
            wanted = _wanted_mm(pattern, seam, layer)
            assert abs(length - wanted) <= SEAM_TOLERANCE_MM, (seam.name, length, wanted)
            for match in seam.matches:
                at = match.at_mm[number]
                assert at is None or -1e-3 <= at <= length + 1e-3, (seam.name, match)


def assert_sound(parts: Parts, wearer: Body) -> None:
    """Seams and darts true, nothing found, and both orders of work do all there is."""
    pattern = drafted(parts, wearer)
    assert_seams_true(pattern)
    assert_darts_close(pattern)
    assert [each.message for each in check(pattern, wearer)] == []
    for mode in OrderMode:
        assert verify(pattern, plan(pattern, mode)) == ()


def assert_sound_in_sizes(parts: Parts, edits: Edits = ()) -> None:
    """In every third size no check finds anything, and the order of work does all there is."""
    for wearer in chart()[::3]:
        pattern = drafted(parts, wearer, edits)
        assert check(pattern, wearer) == ()
        assert not verify(pattern, plan(pattern))


def assert_darts_close(pattern: Pattern) -> None:
    """The legs of each dart are equal within 0.5 mm (D06); its point lies inside the piece."""
    for piece in pattern.pieces.values():
        for dart in piece.darts:
            legs = piece.edge(dart.leg_in).length, piece.edge(dart.leg_out).length
            assert abs(legs[0] - legs[1]) <= SEAM_TOLERANCE_MM, (piece.name, dart.name, legs)


def only_seam(pattern: Pattern, first_edge: str) -> Seam:
    """The seam whose first layer begins with this edge."""
    (seam,) = (
        each
        for each in pattern.seams.values()
        if str(each.layers[0].run.edges[0]).removeprefix("-") == first_edge
    )
    return seam
