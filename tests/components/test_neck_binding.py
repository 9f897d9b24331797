"""The bound neckline: tape as long as the neckline, of any shape, closed or open at an end."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from hypothesis import given, settings

from clothwise.checks import check
from clothwise.components.bindings.bias_strip import TURNED_IN_MM
from clothwise.errors import ComponentError
from clothwise.geometry import Transform, offset_path
from clothwise.pattern import Body, Pattern, Severity, Side
from clothwise.work import plan, steps
from component_cases import (
    Parameters,
    Parts,
    assert_seams_true,
    assert_sound,
    bodies_to_draft,
    body,
    chart,
    drafted,
    drafted_or_refused,
    parameters_in_range,
)

KIND = "neck-binding"
SHAPES = ("round", "scoop", "v", "square", "boat")
SIZES = (chart()[0], chart()[4], chart()[9])


def over_head(parameters: Parameters, **bodice: float | str) -> Parts:
    wide: Parameters = {"neck_widen": 50.0, "front_neck_drop": 70.0}
    return {
        "bodice": ("darted-bodice", {**wide, **bodice, "opening": "none", "waist": "none"}),
        "binding": (KIND, parameters),
        "arms": ("bound-armhole", {}),
        "hem": ("double-hem", {}),
    }


def buttoned(parameters: Parameters, **bodice: float | str) -> Parts:
    return {
        "bodice": ("darted-bodice", dict(bodice)),
        "skirt": ("a-line-skirt", {}),
        "band": ("button-band", {}),
        "binding": (KIND, parameters),
        "sleeve": ("set-in-sleeve", {}),
        "buttons": ("buttons", {}),
        "hem": ("double-hem", {}),
    }


def around_mm(pattern: Pattern) -> float:
    return 2 * pattern.run_length(pattern.finishes["binding"].run)


def text_of(pattern: Pattern, title: str) -> str:
    (found,) = (each.text for each in steps(pattern, plan(pattern)) if each.title == title)
    return found


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("source", ["bought", "fabric"])
@pytest.mark.parametrize("garment", [over_head, buttoned], ids=["over head", "buttoned"])
def test_every_neckline_is_bound(shape: str, source: str, garment: object) -> None:
    for size in SIZES:
        parts = garment({"source": source}, neckline=shape)  # type: ignore[operator]
        assert_sound(parts, size)


@pytest.mark.parametrize("garment", [over_head, buttoned], ids=["over head", "buttoned"])
def test_the_strip_may_be_cut_in_one_from_a_block(garment: object) -> None:
    chosen: Parameters = {"source": "fabric", "strips": "continuous"}
    assert_sound(garment(chosen), body())  # type: ignore[operator]
    pattern = drafted(garment(chosen))  # type: ignore[operator]
    assert "binding-block" in pattern.pieces
    assert "round and round" in text_of(pattern, "Cut the bias strip for the neckline")


@pytest.mark.parametrize("bodice", ["princess-bodice", "yoke-bodice"])
def test_other_bodices_are_bound_as_well(bodice: str) -> None:
    parts = buttoned({"source": "fabric"})
    assert_sound({**parts, "bodice": (bodice, {})}, body())


@pytest.mark.parametrize("width", [5.0, 8.0, 20.0])
@pytest.mark.parametrize("longest", [250.0, 900.0])
def test_the_strip_of_a_ring_is_as_long_as_the_neckline_and_its_join(
    width: float, longest: float
) -> None:
    chosen: Parameters = {"source": "fabric", "width": width, "longest": longest, "join": 40.0}
    pattern = drafted(over_head(chosen))
    strips = [each for name, each in pattern.pieces.items() if name.startswith("binding-strip")]
    lengths = [each.edge("edge").length for each in strips]
    assert sum(lengths) == pytest.approx(around_mm(pattern) + 40.0)
    assert max(lengths) <= longest
    assert {copy.side for each in strips for copy in each.copies} == {Side.CENTER}
    assert len(pattern.seams["binding-join"].layers) == 2


def test_a_strip_with_ends_reaches_beyond_them_when_they_are_cut_square() -> None:
    """Of a slanted strip, only what all its width covers can be turned in at both ends."""
    pattern = drafted(buttoned({"source": "fabric", "width": 15.0, "join": 20.0}))
    strip = pattern.piece("binding-strip")
    edge, fold = strip.edge("edge"), strip.edge("fold")
    covered = edge.end.x - fold.end.x
    assert covered == pytest.approx(around_mm(pattern) + 2 * TURNED_IN_MM)
    assert "binding-join" not in pattern.seams
    assert {"binding-strip-start", "binding-strip-end"} <= pattern.finishes.keys()


@pytest.mark.parametrize("opening", ["center back", "buttoned back"])
def test_a_neckline_that_opens_at_the_back_has_its_ends_there(opening: str) -> None:
    parts: Parts = {
        "bodice": ("darted-bodice", {"opening": opening, "neckline": "v"}),
        "skirt": ("a-line-skirt", {}),
        **({"facing": ("edge-facing", {})} if opening == "buttoned back" else {}),
        "binding": (KIND, {"source": "fabric"}),
        "arms": ("bound-armhole", {}),
        **({} if opening == "buttoned back" else {"zip": ("zip", {})}),
        "hem": ("double-hem", {}),
    }
    assert_sound(parts, body())
    pattern = drafted(parts)
    assert "each edge of the back opening" in text_of(pattern, "Bind the neckline")
    assert "Reinforce the point of the V neck" in {each.title for each in pattern.operations}


def test_bought_tape_is_on_the_list() -> None:
    pattern = drafted(over_head({"join": 60.0}))
    (tape,) = (each for each in pattern.notions if each.component == "binding")
    assert tape.amount == pytest.approx(around_mm(pattern) + 60.0)
    assert not [name for name in pattern.pieces if "strip" in name]


def test_the_edge_keeps_no_allowance() -> None:
    """I12 (Conover 1922): a bound edge keeps no allowance."""
    pattern = drafted(over_head({}))
    for piece in ("bodice-front", "bodice-back"):
        assert pattern.allowance(piece, "neck") == 0.0


@pytest.mark.parametrize("shape", ["round", "scoop", "v", "boat"])
def test_the_steps_tell_how_much_the_tape_is_stretched(shape: str) -> None:
    """The line that is sewn lies a width inside the edge, and is longer: offset and measured."""
    pattern = drafted(over_head({"width": 10.0}, neckline=shape))
    edges = [pattern.piece(name).edge("neck") for name in ("bodice-front", "bodice-back")]
    longer = 2 * sum(offset_path(edge, 10.0).length - edge.length for edge in edges)
    text = text_of(pattern, "Bind the neckline")
    told = re.search(r"curves, ([0-9.]+) cm in all", text)
    assert told
    assert float(told[1]) == pytest.approx(longer / 10, abs=0.1)


@pytest.mark.parametrize(
    ("shape", "words"), [("v", "point of the V neck"), ("square", "corners of the square neck")]
)
def test_corners_are_reinforced_clipped_and_mitred(shape: str, words: str) -> None:
    pattern = drafted(over_head({}, neckline=shape))
    order = [each.name for each in plan(pattern).operations]
    assert order.index("binding-corners") < order.index("binding-bind")
    assert words in text_of(pattern, f"Reinforce the {words}")
    text = text_of(pattern, "Bind the neckline")
    assert "mitre" in text
    assert f"At the {words} sew up to the clip" in text


def test_a_v_that_opens_has_no_corner() -> None:
    """Both fronts run on straight to their edges."""
    titles = [each.title for each in drafted(buttoned({}, neckline="v")).operations]
    assert not [title for title in titles if "V neck" in title]


def test_ends_are_turned_in_at_the_front_edges() -> None:
    text = text_of(drafted(buttoned({})), "Bind the neckline")
    assert "level with the front edges" in text
    assert "slanted seam" not in text


def test_the_top_button_keeps_clear_of_the_binding() -> None:
    plain, wide = (drafted(buttoned({"width": width})).piece("band").marks for width in (6.0, 12.0))
    tops = [max(mark.at.y for mark in marks if mark.size_mm and mark.at) for marks in (plain, wide)]
    assert tops[0] - tops[1] == pytest.approx(6.0, abs=0.5)


@pytest.mark.parametrize("source", ["bought", "fabric"])
def test_a_neckline_changed_after_the_binding_is_found(source: str) -> None:
    wearer = body()
    pattern = drafted(over_head({"source": source, "join": 20.0}), wearer)
    assert check(pattern, wearer) == ()
    front = pattern.piece("bodice-front")
    wider = replace(front, outline=front.outline.transformed(Transform(1.2, 0, 0, 1, 0, 0)))
    found = check(replace(pattern, pieces={**pattern.pieces, front.name: wider}), wearer)
    assert "BINDING-SHORT" in {each.code for each in found}


def test_what_is_faced_already_is_not_bound() -> None:
    parts = over_head({})
    faced = {"bodice": parts["bodice"], "facing": ("neck-facing", {}), "binding": parts["binding"]}
    with pytest.raises(ComponentError, match="finished already"):
        drafted(faced)


def test_a_neckline_with_lapels_is_not_bound() -> None:
    parts: Parts = {
        "bodice": ("darted-bodice", {}),
        "front": ("lapel-front", {}),
        "binding": (KIND, {}),
    }
    with pytest.raises(ComponentError, match="lapels"):
        drafted(parts)


@settings(max_examples=30)
@given(
    bodies_to_draft(),
    parameters_in_range(KIND),
    parameters_in_range("darted-bodice", opening="none", waist="none"),
)
def test_any_binding_reaches_round_any_neckline(
    wearer: Body, parameters: Parameters, bodice: Parameters
) -> None:
    parts = over_head(parameters)
    pattern = drafted_or_refused({**parts, "bodice": ("darted-bodice", bodice)}, wearer)
    if pattern is None:
        return
    assert_seams_true(pattern)
    assert not [
        each.message
        for each in check(pattern, wearer)
        if each.code == "BINDING-SHORT"
        or (each.severity is Severity.ERROR and each.piece.startswith("binding"))
    ]
