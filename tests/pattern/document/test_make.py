"""The body a make is for, and its papers."""

from __future__ import annotations

import math

import pytest

from clothwise.errors import MeasurementError, Misuse
from clothwise.output.paper import PAPERS as PRINTED_PAPERS
from clothwise.pattern.document.fabric_entry import FabricEntry
from clothwise.pattern.document.make import PAPERS, Make, body_for
from clothwise.pattern.measurements import Body
from clothwise.pattern.size_chart import parse_size_chart

CHART = parse_size_chart(
    "size,height_cm,bust_girth_cm,waist_girth_cm,hip_girth_cm\n36,168,84,66,90\n38,168,88,70,94\n"
)
OWN = {"height": "170cm", "bust_girth": "36 in", "waist_girth": "74cm", "hip_girth": "100cm"}


def test_papers_of_a_make_are_those_that_can_be_printed() -> None:
    assert list(PAPERS) == list(PRINTED_PAPERS)


def test_without_anything_it_is_the_base_size() -> None:
    assert body_for(Make(), CHART, "38") == CHART.size("38")


def test_a_size_is_that_of_the_chart() -> None:
    assert body_for(Make(size="36"), CHART, "38").name == "36"
    with pytest.raises(Misuse, match="there is no size '40'"):
        body_for(Make(size="40"), CHART, "38")


def test_own_measurements_alone_are_a_body() -> None:
    body = body_for(Make(measurements={**OWN, "shoulder_slope": "23deg"}), CHART, "38")
    assert body["bust_girth"] == pytest.approx(914.4)
    assert body["shoulder_slope"] == pytest.approx(math.radians(23))
    assert body.is_estimated("arm_length")


def test_own_measurements_beside_a_size_replace_its_own() -> None:
    body = body_for(Make(size="38", measurements={"waist_girth": "74cm"}), CHART, "38")
    assert (body["waist_girth"], body["hip_girth"]) == (740, 940)


def test_own_measurements_alone_must_be_enough() -> None:
    with pytest.raises(MeasurementError, match="bust_girth is missing"):
        body_for(Make(measurements={"waist_girth": "74cm"}), CHART, "38")


def test_a_body_from_a_file_may_be_corrected() -> None:
    ada = Body.complete({"height": 1680, "bust_girth": 920, "waist_girth": 740, "hip_girth": 980})
    assert body_for(Make(body="ada.yaml"), CHART, "38", ada) == ada
    make = Make(body="ada.yaml", measurements={"waist_girth": "76cm"})
    assert body_for(make, CHART, "38", ada)["waist_girth"] == 760


def test_a_fabric_is_found_by_its_name() -> None:
    make = Make(fabrics=(FabricEntry("wool", "150cm"),))
    assert make.fabric("wool").width == "150cm"
    with pytest.raises(Misuse, match="no fabric 'wol'") as caught:
        make.fabric("wol")
    assert caught.value.what_to_do == "Did you mean wool?"
