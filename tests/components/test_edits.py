"""Edits keep the seam graph whole at every size, and what cannot be edited is told by name."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

from clothwise.checks import check, codes
from clothwise.components import Drafting, read_design
from clothwise.components.drafting import draft
from clothwise.components.edits.registry import edit_class, edit_kinds
from clothwise.components.parameter import Along
from clothwise.components.sleeves.sleeve import SetInSleeve
from clothwise.errors import ComponentError, DocumentError
from clothwise.geometry import Point, angle_between
from clothwise.packet.tables import pattern_data
from clothwise.pattern import (
    Body,
    Contribution,
    Finding,
    MarkKind,
    NotchKind,
    Pattern,
    SeamKind,
    Severity,
    cutting_line,
)
from clothwise.pattern.document import Design, format_design, parse_design
from clothwise.pattern.document.edit_entry import EditEntry
from clothwise.sizing import survey
from clothwise.work import plan, steps, verify

DRESS = read_design(Path(__file__).parents[2] / "examples" / "kiln-dress")
SIZES = ("34", "42", "52")

INTERNAL = re.compile(r"(?<!')\b(?:bodice|skirt|sleeve|collar)-[a-z]|[a-z]\.[a-z]")
"""What a name of a document looks like; one that was misspelled stands between quotes."""

EDITS: dict[str, tuple[tuple[str, dict[str, str]], ...]] = {
    "a yoke across the back": (
        ("split", {"piece": "bodice-back", "from": "armhole", "from_at": "60%", "to": "center",
                   "to_at": "12cm", "left": "back-yoke", "left_role": "contrast"}),
    ),
    "a princess seam from the waist dart": (
        ("split", {"piece": "bodice-back", "from": "waist-dart", "to": "shoulder",
                   "to_at": "50%", "left": "back-center", "right": "back-side"}),
    ),
    "a bent panel, then another across it": (
        ("split", {"piece": "skirt-back", "from": "side", "from_at": "40%", "to": "center",
                   "to_at": "10cm", "bend": "3cm", "left": "low"}),
        ("split", {"piece": "low", "from": "edit-1", "from_at": "40%", "to": "hem",
                   "left": "corner"}),
    ),
    "a skirt on the bias": (
        ("grain", {"pieces": "skirt-front, skirt-back", "by": "45deg"}),
    ),
    "a pocket of two cloths": (
        ("split", {"piece": "pocket", "from": "right", "from_at": "40%", "to": "left",
                   "to_at": "60%", "left_role": "contrast"}),
    ),
    "a slanted line that ends on the fold": (
        ("split", {"piece": "bodice-back", "from": "waist-center", "from_at": "55%",
                   "to": "center", "to_at": "30%"}),
    ),
    "the bust dart at the shoulder": (
        ("move-dart", {"piece": "bodice-front", "dart": "bust-dart", "to": "shoulder",
                       "stops_short": "1cm", "title": "shoulder dart"}),
    ),
    "half of the bust dart at the waist": (
        ("move-dart", {"piece": "bodice-front", "dart": "bust-dart", "to": "waist-side",
                       "share": "0.5"}),
    ),
    "one dart instead of two": (
        ("merge-darts", {"piece": "bodice-front", "dart": "bust-dart", "into": "waist-dart"}),
        ("dart-point", {"piece": "bodice-front", "dart": "waist-dart", "by": "0mm"}),
    ),
    "the back dart gathered": (
        ("dart-to", {"piece": "bodice-back", "dart": "waist-dart", "into": "gathers"}),
    ),
    "the front dart as a tuck": (
        ("dart-to", {"piece": "bodice-front", "dart": "waist-dart", "into": "tuck"}),
    ),
    "a longer dart": (
        ("dart-point", {"piece": "bodice-back", "dart": "waist-dart", "by": "1cm"}),
    ),
    "a flared back": (
        ("spread", {"piece": "skirt-back", "hinge": "waist-side", "open": "hem", "by": "12cm"}),
    ),
    "a fuller back, gathered at the waist": (
        ("spread", {"piece": "skirt-back", "hinge": "waist-side", "open": "hem", "by": "10cm",
                    "hinge_by": "6cm"}),
    ),
    "a longer skirt and a longer bodice": (
        ("lengthen", {"pieces": "skirt-front, skirt-back", "edge": "side", "at": "60%",
                      "by": "5cm"}),
        ("lengthen", {"pieces": "bodice-back, bodice-front", "edge": "side", "at": "30%",
                      "by": "2cm"}),
    ),
    "a shorter sleeve": (
        ("lengthen", {"pieces": "sleeve", "edge": "underarm-front", "by": "-1cm"}),
    ),
    "a shaped side, its partner too": (
        ("reshape", {"piece": "skirt-front", "edge": "side", "through": "30% 8mm, 70% -5mm",
                     "partner": "follows"}),
    ),
    "a lower neck": (
        ("reshape", {"piece": "bodice-front", "edge": "neck", "through": "50% -4mm"}),
    ),
    "a yoke and back again": (
        ("split", {"piece": "bodice-back", "from": "armhole", "from_at": "60%", "to": "center",
                   "to_at": "12cm", "left": "back-yoke"}),
        ("join", {"seam": "bodice-back-edit-1"}),
    ),
    "a left front of other cloth, with a panel": (
        ("asymmetric", {"pieces": "bodice-front"}),
        ("split", {"piece": "bodice-front-left", "from": "neck",
                "from_at": "30%", "to": "armhole",
                   "to_at": "75%", "bend": "2mm", "left": "left-corner",
                   "left_role": "contrast"}),
    ),
    "a slit at the side": (
        ("slit", {"seam": "skirt-side", "end": "start", "length": "20cm"}),
    ),
    "a mitred vent at the side": (
        ("vent", {"seam": "skirt-side", "length": "18cm", "corner": "mitred"}),
    ),
    "a French side seam and a rolled hem": (
        ("finish", {"seam": "skirt-side", "as": "French"}),
        ("finish", {"piece": "skirt-front", "edge": "hem", "as": "rolled hem"}),
    ),
    "a back with a panel on its left only": (
        ("unfold", {"piece": "skirt-back"}),
        ("split", {"piece": "skirt-back", "from": "side-left", "to": "hem-left",
                   "left": "corner", "left_role": "contrast"}),
    ),
    "a back unfolded, and folded again": (
        ("unfold", {"piece": "bodice-back"}),
        ("fold", {"piece": "bodice-back"}),
    ),
    "elastic in the sleeves and across the back": (
        ("casing", {"piece": "sleeve", "edge": "hem", "width": "10mm"}),
        ("casing", {"piece": "skirt-back", "edge": "side", "where": "across", "at": "75%",
                    "role": "contrast"}),
    ),
    "a drawstring in a faced edge": (
        ("casing", {"piece": "sleeve", "edge": "hem", "made": "strip", "draws": "drawstring",
                    "width": "8mm"}),
    ),
    "words on the back": (
        ("text", {"piece": "bodice-back", "words": "kiln 2", "edge": "neck", "inside": "8cm"}),
    ),
    "small things": (
        ("allowance", {"seam": "skirt-side", "by": "1cm"}),
        ("fabric", {"copies": "bodice-front/left, pocket", "role": "main"}),
        ("notch", {"piece": "skirt-front", "edge": "side", "at": "30%", "cuts": "double"}),
        ("mark", {"piece": "bodice-front", "what": "placement-line", "label": "badge",
                  "edge": "shoulder", "inside": "8cm", "to_edge": "armhole", "to_inside": "4cm"}),
    ),
}  # fmt: skip


def design(*edits: tuple[str, dict[str, str]]) -> Design:
    """The kiln dress with edits named edit-1, edit-2 ..."""
    entries = (
        EditEntry(f"edit-{number}", kind, parameters)
        for number, (kind, parameters) in enumerate(edits, 1)
    )
    return replace(DRESS.design, edits=tuple(entries))


def edited(*edits: tuple[str, dict[str, str]], body: Body | None = None, **view: str) -> Pattern:
    found = design(*edits)
    return draft(found, body or DRESS.body("42"), found.chosen({}, view=view.get("view", "A")))


def plain(body: Body | None = None) -> Pattern:
    return edited(body=body)


def serious(pattern: Pattern, body: Body) -> list[Finding]:
    return [each for each in check(pattern, body) if each.severity is not Severity.NOTE]


@pytest.mark.parametrize("what", EDITS)
def test_edited_dresses_are_sound_and_can_be_sewn(what: str) -> None:
    assert serious(plain(DRESS.body("42")), DRESS.body("42")) == []
    for size in SIZES:
        body = DRESS.body(size)
        pattern = edited(*EDITS[what], body=body)
        assert serious(pattern, body) == []
        order = plan(pattern)
        verify(pattern, order)
        done = [name for each in order.operations for name in each.does]
        assert sorted(done) == sorted(use.name for use in pattern.all_uses())


@pytest.mark.parametrize("what", EDITS)
def test_edits_suit_any_body(what: str) -> None:
    """What a check says of a real woman's edited dress is what it says without the edit.

    But for where a dart ends that an edit has turned: that is for the designer to see and to say.
    """
    for woman in survey.women()[::400]:
        before = {each.code for each in serious(plain(woman), woman)}
        after = {each.code for each in serious(edited(*EDITS[what], body=woman), woman)}
        assert after <= before | {"PLACEMENT-DART", "DART-BUST"}


@pytest.mark.parametrize("view", ["long-sleeveless", "blocks", "pockets"])
def test_the_mixtures_are_sound_in_every_size(view: str) -> None:
    mixed = read_design(DRESS.folder.parent / "kiln-mixtures")
    for size in mixed.sizes:
        body = mixed.body(size)
        assert check(mixed.draft(view=view, body=body), body) == ()


def test_the_parts_of_a_split_are_joined_before_they_are_joined_to_others() -> None:
    pattern = edited(*EDITS["a yoke across the back"])
    order = [each.name for each in plan(pattern).operations]
    assert order.index("bodice-back-edit-1") < order.index("bodice-shoulders")
    assert order.index("bodice-back-darts") < order.index("bodice-back-edit-1")


def test_a_pocket_of_two_cloths_is_joined_before_it_is_sewn_on() -> None:
    pattern = edited(*EDITS["a pocket of two cloths"])
    assert {copy.role for copy in pattern.piece("pocket-edit-1").copies} == {"contrast"}
    order = [each.name for each in plan(pattern).operations]
    assert order.index("pocket-edit-1") < order.index("pocket-sew-on")


def test_nothing_is_cut_beyond_the_fold_where_a_line_ends_on_it_at_a_slant() -> None:
    pattern = edited(*EDITS["a slanted line that ends on the fold"])
    on_fold = [each for each in pattern.pieces.values() if each.fold_edge == "center"]
    assert {"bodice-back", "bodice-back-edit-1"} & {piece.name for piece in on_fold}
    for piece in on_fold:
        assert min(point.x for point in cutting_line(pattern, piece.name).points()) > -1e-6


def test_every_edit_is_tried() -> None:
    tried = {kind for edits in EDITS.values() for kind, _ in edits}
    assert tried | {"narrower-under-front"} == set(edit_kinds()), "see test_left_and_right.py"


@pytest.mark.parametrize("kind", edit_kinds())
def test_every_edit_says_what_it_does(kind: str) -> None:
    edit = edit_class(kind)
    assert len((edit.__doc__ or "").split()) > 8
    assert all(parameter.help.endswith((".", "`.")) for parameter in edit.parameters().values())


def area(pattern: Pattern, *names: str) -> float:
    return sum(pattern.piece(name).outline.area for name in names)


def test_a_moved_dart_keeps_the_cloth_and_the_seams() -> None:
    """Turning cuts nothing off: areas and all sewn lengths stay what they were."""
    before = plain()
    after = edited(*EDITS["the bust dart at the shoulder"])
    assert area(after, "bodice-front") == pytest.approx(area(before, "bodice-front"), rel=0.01)
    exact = edited(("move-dart", {"piece": "bodice-front", "dart": "bust-dart", "to": "shoulder"}))
    assert area(exact, "bodice-front") == pytest.approx(area(before, "bodice-front"), abs=0.1)
    for name, seam in before.seams.items():
        if seam.kind is SeamKind.DART:
            continue
        lengths = [before.run_length(layer.run) for layer in seam.layers]
        assert lengths == pytest.approx(
            [exact.run_length(layer.run) for layer in exact.seams[name].layers], abs=1e-6
        )


def mouth_angle(pattern: Pattern, leg: str, about: Point) -> float:
    """The angle under which the mouth of a dart is seen from a point."""
    of = pattern.piece("bodice-front")
    start, end = of.edge(f"{leg}-in").start, of.edge(f"{leg}-out").end
    return abs(angle_between(start - about, end - about))


def test_shared_darts_take_up_together_what_the_one_did() -> None:
    """Angles about one point add up (Euclid, Elements I, proposition 13)."""
    before = plain()
    after = edited(
        (
            "move-dart",
            {"piece": "bodice-front", "dart": "bust-dart", "to": "shoulder", "share": "0.3"},
        ),
    )
    pivot = before.piece("bodice-front").edge("bust-dart-in").end
    whole = mouth_angle(before, "bust-dart", pivot)
    assert mouth_angle(after, "edit-1", pivot) == pytest.approx(0.3 * whole, abs=1e-9)
    assert mouth_angle(after, "bust-dart", pivot) == pytest.approx(0.7 * whole, abs=1e-9)


def test_a_dart_given_up_is_gathered_into_its_seam() -> None:
    before, after = plain(), edited(*EDITS["the back dart gathered"])
    dart = before.piece("bodice-back")
    mouth = dart.edge("waist-dart-in").start.distance(dart.edge("waist-dart-out").end)
    seam = next(each for each in after.seams.values() if each.kind is SeamKind.GATHERED)
    (gathered,) = (layer.ease_mm for layer in seam.layers if layer.ease_mm)
    assert gathered == pytest.approx(mouth, abs=1.0)
    assert after.gathers["waist"] == pytest.approx(gathered)
    assert {m.kind for m in after.piece("bodice-back").marks} == {MarkKind.DOT}


def test_a_spread_piece_keeps_its_hinge_and_opens_by_what_was_asked() -> None:
    before, after = plain(), edited(*EDITS["a flared back"])
    for edge, more, within in (
        ("waist-side", 0.0, 0.02),
        ("hem", 120.0, 0.02),
        ("side", 0.0, 0.01),
    ):
        was = before.piece("skirt-back").edge(edge).length
        now = after.piece("skirt-back").edge(edge).length
        assert now - was == pytest.approx(more, abs=within), edge
    fold = after.piece("skirt-back").edge("center")
    assert abs(fold.start.x - fold.end.x) < 1e-6


def test_a_longer_piece_is_longer_by_what_was_asked() -> None:
    before, after = plain(), edited(*EDITS["a longer skirt and a longer bodice"])
    for piece in ("skirt-back", "bodice-back"):
        more = 50.0 if piece == "skirt-back" else 20.0
        change = (
            after.piece(piece).edge("center").length - before.piece(piece).edge("center").length
        )
        assert change == pytest.approx(more)


def test_split_and_joined_is_as_before() -> None:
    before, after = plain(), edited(*EDITS["a yoke and back again"])
    assert set(after.pieces) - {"back-yoke"} == set(before.pieces) - {"bodice-back"}
    assert area(after, "back-yoke") == pytest.approx(area(before, "bodice-back"), abs=0.5)
    assert after.piece("back-yoke").fold_edge == "center"


def test_a_notch_is_cut_on_both_sides() -> None:
    after = edited(*EDITS["small things"])
    (match,) = (each for each in after.seams["skirt-side"].matches if each.name == "edit-3")
    assert match.notch is NotchKind.DOUBLE
    assert after.seams["skirt-side"].allowance_mm == 10.0


@pytest.mark.parametrize(
    ("edit", "says"),
    [
        (("split", {"piece": "skirt-frnt", "from": "side", "to": "hem"}), "skirt-front"),
        (("split", {"piece": "skirt-back", "from": "sides", "to": "hem"}), "side"),
        (("split", {"piece": "skirt-back", "from": "side", "from_at": "5m", "to": "hem"}),
         "beyond"),
        (("split", {"piece": "skirt-back", "from": "side", "to": "side"}), "no length"),
        (("split", {"piece": "skirt-back", "from": "side", "to": "hem", "left_role": "silk"}),
         "fabric role"),
        (("split", {"piece": "skirt-back", "from": "hem", "to": "center", "bend": "30cm"}),
         "bends too far"),
        (("move-dart", {"piece": "skirt-back", "dart": "bust-dart", "to": "side"}), "no dart"),
        (("move-dart", {"piece": "bodice-front", "dart": "bust-dart", "to": "shoulder",
                        "to_at": "1mm"}), "corner"),
        (("dart-point", {"piece": "bodice-front", "dart": "bust-dart", "by": "-20cm"}), "short"),
        (("merge-darts", {"piece": "bodice-front", "dart": "bust-dart", "into": "bust-dart"}),
         "itself"),
        (("spread", {"piece": "skirt-back", "hinge": "hem", "open": "hem"}), "another edge"),
        (("lengthen", {"pieces": "sleeve", "edge": "underarm-front", "by": "-40cm"}), "short"),
        (("reshape", {"piece": "sleeve", "edge": "hem", "through": "half way"}), "how far"),
        (("reshape", {"piece": "sleeve", "edge": "hem", "partner": "follows"}), "not sewn"),
        (("join", {"seam": "skirt-side"}), "lie on each other"),
        (("join", {"seam": "bodice-shoulder"}), "eased"),
        (("join", {"seam": "nothing"}), "no seam"),
        (("asymmetric", {"pieces": "skirt-back"}), "pair"),
        (("slit", {"seam": "skirt-side", "length": "90cm"}), "too long"),
        (("slit", {"seam": "skirt-side", "end": "end"}), "runs on across"),
        (("vent", {"seam": "sleeve-underarm", "length": "60cm"}), "too long"),
        (("vent", {"seam": "bodice-side"}), "no end"),
        (("vent", {"seam": "skirt-side", "end": "end"}), "runs on across"),
        (("vent", {"seam": "skirt-side", "over": "sleeve"}), "not sewn in this seam"),
        (("finish", {"seam": "skirt-side", "as": "rolled hem"}), "is a seam"),
        (("finish", {"piece": "skirt-back", "edge": "hem", "as": "French"}), "is an edge"),
        (("finish", {"as": "French"}), "what is to be finished"),
        (("finish", {"seam": "skirt-side", "as": "French", "width": "2cm"}), "so wide"),
        (("finish", {"seam": "skirt-side", "as": "French", "allowance": "6mm"}), "too narrow"),
        (("finish", {"seam": "bodice-front-waist-dart"}), "no raw edges"),
        (("casing", {"piece": "skirt-back", "edge": "side"}), "no free edge"),
        (("casing", {"piece": "skirt-back", "edge": "hem", "made": "strip"}), "hangs on"),
        (("casing", {"piece": "bodice-back", "edge": "side", "where": "across"}), "in the way"),
        (("casing", {"piece": "skirt-back", "edge": "hem", "where": "across"}), "across the piece"),
        (("casing", {"piece": "skirt-back", "edge": "side", "where": "across", "at": "5mm"}),
         "corner"),
        (("casing", {"piece": "skirt-front", "edge": "side", "where": "across",
                     "made": "grown-on"}), "grown on"),
        (("casing", {"piece": "sleeve", "edge": "hem", "length": "1m"}), "longer than its casing"),
        (("casing", {"piece": "sleeve", "edge": "hem", "made": "strip", "heading": "1cm"}),
         "heading"),
        (("text", {"piece": "pocket", "words": "a" * 61, "edge": "top"}), "too long"),
        (("text", {"piece": "pocket", "words": "a", "edge": "top", "inside": "50cm"}), "outside"),
        (("unfold", {"piece": "sleeve"}), "not cut on the fold"),
        (("fold", {"piece": "skirt-back"}), "on the fold already"),
        (("fold", {"piece": "sleeve"}), "no center line"),
        (("fabric", {"copies": "pokket", "role": "main"}), "pocket"),
        (("notch", {"piece": "pocket", "edge": "top"}), "not sewn"),
        (("mark", {"piece": "pocket", "edge": "top", "what": "fold-line"}), "second end"),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)  # fmt: skip
def test_an_edit_that_cannot_be_made_is_a_finding(
    edit: tuple[str, dict[str, str]], says: str
) -> None:
    """The faults planted for EDIT-LOST: the pattern is as without the edit."""
    pattern = edited(edit)
    (lost,) = pattern.findings
    assert (lost.code, lost.severity) == ("EDIT-LOST", Severity.ERROR)
    assert lost.code in codes()
    assert "edit 1" in lost.message
    assert not INTERNAL.search(lost.message.partition("is not made: ")[2])
    assert says in f"{lost.message} {lost.remedy}"
    assert "Traceback" not in lost.message
    assert lost.remedy.endswith(".")
    assert replace(pattern, findings=()) == plain()


def test_the_way_out_of_an_edit_that_cannot_be_made_is_no_line_of_a_file() -> None:
    pattern = edited(("notch", {"piece": "pocket", "edge": "top"}))
    (lost,) = pattern.findings
    assert lost.remedy.endswith("take it out, or let it be made for some choices only.")
    assert "`" not in lost.remedy.partition("If it is not meant")[2]


LINE = {"piece": "skirt-front", "from": "side", "from_at": "30%", "to": "front-edge",
        "to_at": "45%"}  # fmt: skip


@pytest.mark.parametrize(
    ("names", "titles"),
    [
        ({"left": "Skirt bottom", "right": "skirt-top"}, ("Skirt bottom", "Skirt top")),
        ({"left": "skirt-front-band"}, ("Skirt front, band", "Skirt front")),
        ({"left": "low", "left_title": "Hem part", "right": "top"}, ("Hem part", "Top")),
        ({"left": "skirt back"}, ("Skirt front, skirt back", "Skirt front")),
    ],
)
def test_a_part_with_a_name_of_its_own_is_called_by_that_alone(
    names: dict[str, str], titles: tuple[str, str]
) -> None:
    """The last of them would be called like the back: it says of which piece it is too."""
    pattern = edited(("split", {**LINE, **names}))
    left = pattern.piece(names.get("left", "skirt-front-edit-1"))
    right = pattern.piece(names.get("right", "skirt-front"))
    assert (left.title, right.title) == titles


@pytest.mark.parametrize("name", ["top/bottom", "top, bottom", "No. 2", "-top"])
def test_a_name_that_means_something_else_in_documents_is_refused(name: str) -> None:
    pattern = edited(("split", {**LINE, "right": name, "right_title": name}))
    (lost,) = pattern.findings
    assert "cannot be the short name of a part" in lost.message
    title = edited(("split", {**LINE, "right_title": name}))
    assert title.piece("skirt-front").title == name


def test_work_on_an_edge_is_work_on_the_part_of_a_split_that_has_it() -> None:
    """The neckline is stayed on the part that has it, not on the one below."""
    pattern = edited(*EDITS["a yoke across the back"])
    backs = ("bodice-back", "back-yoke")
    (with_neck,) = [each for each in backs if "neck" in pattern.piece(each).outline.edges]
    (stay,) = [each for each in pattern.operations if each.title == "Staystitch the neckline"]
    worked = {name.partition(".")[0] for name in (*stay.prepares, *stay.shows)}
    assert worked == {"bodice-front", with_neck}


def test_steps_name_the_parts_of_a_split_by_their_own_names() -> None:
    pattern = edited(("split", {**LINE, "left": "Skirt bottom", "right": "Skirt top"}))
    told = " ".join(f"{step.title}. {step.text}" for step in steps(pattern, plan(pattern)))
    assert "Lay Skirt bottom and Skirt top right sides together" in told
    assert "Skirt front, " not in told
    assert "skirt front, " not in told


def test_of_two_edits_that_contradict_each_other_the_second_is_named() -> None:
    pattern = edited(
        ("dart-to", {"piece": "bodice-front", "dart": "bust-dart"}),
        ("move-dart", {"piece": "bodice-front", "dart": "bust-dart", "to": "shoulder"}),
    )
    (lost,) = pattern.findings
    assert "The edit 2 (move dart)" in lost.message


def test_a_component_that_misses_its_edge_says_after_which_edit(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """A component from elsewhere may ask for an edge by name that an edit has given up."""

    def asks(_: SetInSleeve, drafting: Drafting) -> Contribution:
        drafting.pattern.piece("bodice-front").edge("bust-dart-in")
        return Contribution()

    monkeypatch.setattr(SetInSleeve, "contribute", asks)
    parameters = {"piece": "bodice-front", "dart": "bust-dart"}
    entry = EditEntry("early", "dart-to", parameters, after="bodice")
    found = replace(DRESS.design, edits=(entry,))
    with pytest.raises(ComponentError, match="early"):
        draft(found, DRESS.body("42"), found.chosen({}, view="A"))


def test_a_component_that_refuses_says_after_which_edit() -> None:
    """A neck drawn so wide that the facing has no room on the shoulder."""
    wide = ("reshape", {"piece": "bodice-front", "edge": "neck", "start_slides": "8cm"})
    with pytest.raises(ComponentError, match="after the edit edit-1"):
        edited(wide)


TEXT = """\
schema: 1
title: Skirt
size_chart: sizes.csv
base_size: 38
options:
  panel:
    choices: {yes: A panel, no: None}
components:
  skirt:
    component: a-line-skirt
edits:
  panel-line:
    edit: split
    after: skirt
    when: {panel: yes}
    piece: skirt-back
    from: side
    from_at: {by: panel, yes: 40%, no: 0.1}
    to: hem
"""


def test_edits_are_read_and_written() -> None:
    read = parse_design(TEXT)
    (entry,) = read.edits
    assert (entry.name, entry.kind, entry.after) == ("panel-line", "split", "skirt")
    assert parse_design(format_design(read)) == read
    assert "{by: panel, yes: 40%, no: 0.1}" in format_design(read, previous=TEXT)


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("edit: split", "edit: spilt", "Did you mean split?"),
        ("    edit: split\n", "", "which edit"),
        ("after: skirt", "after: shirt", "skirt"),
        ("    to: hem\n", "", "does not say its to"),
        ("    to: hem", "    to: hem\n    too_at: 3cm", "to_at"),
        ("40%", "140%", "0% to 100%"),
        ("40%", "40deg", "0% to 100%"),
        ("panel-line:", "skirt:", "a component is called skirt too"),
    ],
)
def test_slips_in_edits_are_told_with_their_line(
    tmp_path: Path, old: str, new: str, says: str
) -> None:
    assert old in TEXT
    (tmp_path / "design.yaml").write_text(TEXT.replace(old, new), encoding="utf-8")
    chart = DRESS.folder / DRESS.design.size_chart
    (tmp_path / "sizes.csv").write_bytes(chart.read_bytes())
    with pytest.raises(DocumentError) as raised:
        read_design(tmp_path)
    assert any(says in str(fault) and fault.line for fault in raised.value.faults), raised.value


def test_what_edits_name_is_listed_for_the_designer() -> None:
    listed = pattern_data(plain())
    (front,) = (each for each in listed["pieces"] if each["name"] == "bodice-front")
    assert front["darts"] == ["waist-dart", "bust-dart"]
    assert "armhole" in front["edges_mm"]
    assert "skirt-side" in {seam["name"] for seam in listed["seams"]}


def test_places_along_an_edge_count_from_either_end() -> None:
    assert Along(0.25).on(200.0) == 50.0
    assert Along(30.0, is_share=False).on(200.0) == 30.0
    assert Along(-30.0, is_share=False).on(200.0) == 170.0
