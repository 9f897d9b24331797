"""What meets on striped and checked cloth, read from the seam graph and changed by documents."""

from __future__ import annotations

from pathlib import Path

import pytest

from clothwise.components import read_make
from clothwise.cutting import CutItem, Fabric, LayerPlan
from clothwise.cutting.cutting_list import cut_items
from clothwise.cutting.match_points import matches_for, missing_pieces
from clothwise.cutting.meetings import MatchRule, Meeting, body_pieces, meetings
from clothwise.cutting.repeat import MatchPoint, Repeat
from clothwise.errors import Misuse
from clothwise.pattern import Pattern, Side, Sides
from clothwise.pattern.document.match_entry import MATCH_RULES, MatchEntry

EXAMPLES = Path(__file__).parents[2] / "examples"
CHECK = Fabric("check", 1500, repeat=Repeat(80, 60))


class Drafted:
    """An example, drafted, with all that is cut from its main fabric."""

    def __init__(self, path: str, fabric: str) -> None:
        file = read_make(EXAMPLES / path)
        self.pattern: Pattern = file.draft()
        assignment = file.assign(self.pattern)
        self.items: tuple[CutItem, ...] = cut_items(
            self.pattern, assignment, fabric, LayerPlan.SINGLE
        )

    def matches(self, *entries: MatchEntry, fabric: Fabric = CHECK) -> dict[str, list[MatchPoint]]:
        groups: dict[str, list[MatchPoint]] = {}
        for point in matches_for(self.pattern, self.items, fabric, entries):
            groups.setdefault(point.group, []).append(point)
        return groups


@pytest.fixture(scope="module")
def kiln() -> Drafted:
    """A dress that buttons in front, sleeves set in, one main fabric, pockets of another."""
    return Drafted("kiln-dress/makes/view-a.yaml", "linen")


@pytest.fixture(scope="module")
def coat() -> Drafted:
    """A coat dress with a center back seam and pockets."""
    return Drafted("pilot-coat-dress/makes/view-b.yaml", "gabardine")


def by_rule(pattern: Pattern, rule: MatchRule) -> list[Meeting]:
    return [meeting for meeting in meetings(pattern) if meeting.rule is rule]


def test_documents_know_the_rules() -> None:
    assert sorted(rule.value for rule in MatchRule) == sorted(MATCH_RULES)


def test_body_pieces_are_those_whose_lengthwise_seams_show(kiln: Drafted) -> None:
    assert body_pieces(kiln.pattern) == {
        *("bodice-front", "bodice-back", "skirt-front", "skirt-back", "sleeve"),
    }


def test_side_seams_meet_at_their_notch(kiln: Drafted) -> None:
    (bodice, skirt) = by_rule(kiln.pattern, MatchRule.SEAMS)
    assert (bodice.title, skirt.title) == ("side seam of the bodice", "side seam of the skirt")
    assert bodice.sides is Sides.BOTH
    assert (bodice.along, bodice.across) == (True, False)
    front, back = skirt.places
    assert (front.piece, back.piece) == ("skirt-front", "skirt-back")
    seam = kiln.pattern.seams["skirt-side"]
    for place, layer, at_mm in zip(skirt.places, seam.layers, seam.matches[0].at_mm, strict=True):
        assert at_mm is not None
        assert kiln.pattern.spot(layer.run, at_mm).point == place.point


def test_centers_are_marked_folded_or_sewn(kiln: Drafted, coat: Drafted) -> None:
    found = {meeting.title: meeting for meeting in by_rule(kiln.pattern, MatchRule.CENTERS)}
    assert {place.piece for place in found["center front"].places} == {
        "bodice-front",
        "skirt-front",
    }
    assert found["center front"].even
    assert found["middle of Bodice back"].even
    assert {place.piece for place in found["waist seam at the center, back"].places} == {
        "bodice-back",
        "skirt-back",
    }
    seam = next(
        meeting
        for meeting in by_rule(coat.pattern, MatchRule.CENTERS)
        if meeting.title == "center back seam, lengthwise line"
    )
    assert [place.piece for place in seam.places] == ["skirt-back"]


def test_titles_are_never_shared(kiln: Drafted, coat: Drafted) -> None:
    for drafted in (kiln, coat):
        titles = [meeting.title for meeting in meetings(drafted.pattern)]
        assert len(titles) == len(set(titles))


def test_each_side_is_a_group_of_its_own(kiln: Drafted) -> None:
    groups = kiln.matches()
    left, right = groups["side seam of the skirt, left"], groups["side seam of the skirt, right"]
    assert {point.item_id for point in left} == {"skirt-front/left", "skirt-back/whole"}
    assert {point.item_id for point in right} == {"skirt-front/right", "skirt-back/whole"}
    (left_back,) = (point for point in left if point.item_id == "skirt-back/whole")
    (right_back,) = (point for point in right if point.item_id == "skirt-back/whole")
    assert left_back.point[0] == pytest.approx(-right_back.point[0]), "mirrored in the fold"
    assert kiln.pattern.piece("skirt-back").drawn_side is Side.RIGHT
    assert right_back.point[0] > 0


def test_only_copies_of_the_fabric_and_of_the_outer_layer_are_matched(kiln: Drafted) -> None:
    """The pockets are of another fabric, so that they cannot vanish on the front."""
    groups = kiln.matches()
    assert not any("pocket" in title for title in groups)
    assert not any("interfacing" in p.item_id for group in groups.values() for p in group)


def test_pockets_vanish_on_their_host(coat: Drafted) -> None:
    groups = coat.matches()
    titles = [title for title in groups if "pocket" in title]
    for title in titles:
        assert all(point.along and point.across for point in groups[title])
    mixed = Drafted("kiln-dress/makes/own-mixture.yaml", "chambray")
    assert not any("pocket" in title for title in mixed.matches())


def test_sleeves_go_on_with_the_front(kiln: Drafted) -> None:
    group = kiln.matches()["armhole seam, left"]
    assert {point.item_id for point in group} == {"bodice-front/left", "sleeve/left"}
    assert all(point.along and not point.across for point in group)


def test_plain_cloth_is_not_matched(kiln: Drafted) -> None:
    assert kiln.matches(fabric=Fabric("plain", 1500)) == {}


def test_rules_are_left_out_changed_and_added(kiln: Drafted) -> None:
    groups = kiln.matches(
        MatchEntry("sleeves", "none"),
        MatchEntry("seams", "both"),
        MatchEntry("waist", "along"),
        MatchEntry("centers", phase_across="50%"),
    )
    assert "armhole seam, left" not in groups
    assert all(point.across for point in groups["side seam of the skirt, left"])
    assert any(title.startswith("waist seam at the center, back, along") for title in groups)
    front = groups["center front"]
    assert all(point.phase_across == 0.5 and not point.even for point in front)


def test_of_two_entries_of_one_name_the_later_holds(kiln: Drafted) -> None:
    """The make after the design."""
    groups = kiln.matches(MatchEntry("sleeves", "none"), MatchEntry("sleeves", "across"))
    assert all(point.across and not point.along for point in groups["armhole seam, left"])


def test_points_of_ones_own(kiln: Drafted) -> None:
    entry = MatchEntry(
        "bust-line",
        "along",
        {"bodice-front": "bust point", "sleeve": "sleeve-armhole/front notch"},
        phase_along="25%",
    )
    groups = kiln.matches(entry)
    assert [*groups][:2] == ["bust-line, left", "bust-line, right"], "before those by rule"
    front, sleeve = groups["bust-line, left"]
    bust = kiln.pattern.piece("bodice-front").points["bust point"]
    assert front.point == (bust.x, bust.y)
    assert sleeve.item_id == "sleeve/left"
    assert front.phase_along == 0.25


@pytest.mark.parametrize(
    ("points", "told"),
    [
        ({"bodice-front": "bust pint"}, r"matches, own: .*no place 'bust pint'.*bust point"),
        ({"sleeve": "skirt-side/hip"}, r"Sleeve has no place 'skirt-side/hip'"),
    ],
)
def test_names_that_are_not_there_are_told(
    kiln: Drafted, points: dict[str, str], told: str
) -> None:
    with pytest.raises(Misuse, match=f"(?s){told}"):
        kiln.matches(MatchEntry("own", "both", points))


def test_a_piece_of_another_view_is_left_out_and_told(kiln: Drafted) -> None:
    entry = MatchEntry("own", "along", {"bodice-frnt": "bust point", "sleeve": "cap top"})
    assert not any(title.startswith("own") for title in kiln.matches(entry)), "one point alone"
    (told,) = missing_pieces(kiln.pattern, [entry])
    assert told.startswith("Not matched: own at bodice-frnt, which is no piece of this garment.")
    assert "bodice-front" in told
