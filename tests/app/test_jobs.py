"""The jobs of the rooms, run as a worker runs them but in this process."""

from __future__ import annotations

from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest

from clothwise.app.jobs.board import Board, BoardOf
from clothwise.app.jobs.consequences import Consequences, ConsequencesOf
from clothwise.app.jobs.findings import Findings, FindingsOf
from clothwise.app.jobs.flat import FlatOf
from clothwise.app.work import JobCancelled, JobRefused, Shown
from clothwise.pattern.commands import AddEdit, SwapComponent, read_documents

ROOT = Path(__file__).resolve().parents[2]
KILN = read_documents(ROOT / "examples" / "kiln-dress")
SHOWN = Shown("kiln-dress", view="A", size="38")


def done(job: Any, told: list[Any] | None = None) -> Any:
    def tell(share: float, message: str = "", data: Any = None) -> None:
        if told is not None:
            told.append((share, message, data))

    return job.run(tell, lambda: False)


def with_flare(text: str) -> dict[str, str]:
    changed = KILN["design.yaml"].replace("mid-calf: 9cm", f"mid-calf: {text}")
    assert changed != KILN["design.yaml"]
    return {**KILN, "design.yaml": changed}


# The board


def board(documents: dict[str, str] = KILN, before: str = "", shown: Shown = SHOWN) -> Board:
    return done(BoardOf(shown, documents, before))


def test_the_board_holds_every_piece_as_svg_that_names_it() -> None:
    found = board()
    assert found.size == "38"
    assert found.refused is None
    assert found.changed == tuple(found.pieces)
    for name, piece in found.pieces.items():
        assert ElementTree.fromstring(piece.svg).get("data-piece") == name
        assert piece.box[0] < piece.box[2]
        assert piece.box[1] < piece.box[3]


def test_a_change_of_the_flare_changes_two_pieces_and_keeps_the_others_as_they_are() -> None:
    before = board()
    after = board(with_flare("10cm"), before.version)
    assert set(after.changed) == {"skirt-front", "skirt-back"}
    assert after.gone == ()
    assert after.version != before.version


def test_the_same_again_has_the_same_version_and_no_change() -> None:
    assert board(KILN, board().version).changed == ()


def test_what_a_page_shows_may_be_forgotten_then_all_is_new() -> None:
    found = board(KILN, "forgotten")
    assert found.changed == tuple(found.pieces)


def test_a_view_without_a_piece_tells_that_it_is_gone() -> None:
    before = board()
    other = board(KILN, before.version, Shown("kiln-dress", view="B", size="38"))
    assert set(other.gone) == set(before.pieces) - set(other.pieces) != set()


def test_a_value_out_of_range_is_told_beside_the_board_with_its_place() -> None:
    found = board(with_flare("90cm"), "shown")
    assert found.version == "shown"
    assert not found.pieces
    assert isinstance(found.refused, JobRefused)
    (fault,) = found.refused.faults
    assert "flare" in fault["path"]
    assert "allowed 2 cm to 26 cm" in str(found.refused)


def test_a_swap_that_once_never_ended_is_refused_in_words() -> None:
    """A skirt in place of the bodice: lines that are nearly parallel met thousands of km away."""
    text = KILN["design.yaml"].replace("component: darted-bodice", "component: pleated-skirt")
    head, _, rest = text.partition("    component: pleated-skirt\n")
    kept = rest[rest.index("\n  skirt:") :]
    found = board({**KILN, "design.yaml": f"{head}    component: pleated-skirt\n{kept}"})
    assert found.refused is not None
    assert "out of all proportion" in found.refused.what


def test_a_make_is_drafted_in_its_own_size_and_choices() -> None:
    found = board(shown=Shown("kiln-dress", make="makes/view-b.yaml"))
    assert found.refused is None
    assert found.choices["armhole"] == "bound"


# Findings


def test_a_sound_design_has_no_errors() -> None:
    assert done(FindingsOf(SHOWN, KILN)).count("error") == 0


def test_a_planted_fault_is_found_with_its_place_and_keeps_its_id() -> None:
    fault = (
        "edits:\n  long-side:\n    edit: reshape\n    piece: skirt-front\n    edge: side\n"
        '    through: "50% 4cm"\n    partner: stays\n'
    )
    documents = {**KILN, "design.yaml": KILN["design.yaml"] + fault}
    found, again = (done(FindingsOf(SHOWN, documents)).findings for _ in range(2))
    worst = next(each for each in found if each.severity == "error")
    assert worst == found[0]
    assert worst.piece.startswith("skirt")
    assert worst.at is not None
    assert worst.size == "38"
    assert [each.id for each in found] == [each.id for each in again]
    assert len({each.id for each in found}) == len(found)


def test_the_whole_range_is_told_draft_by_draft_and_can_be_stopped() -> None:
    told: list[Any] = []
    found: Findings = done(FindingsOf(SHOWN, KILN, whole_range=True), told)
    assert found.done == found.total == len(told)
    shares = [share for share, _, _ in told]
    assert shares == sorted(shares)
    with pytest.raises(JobCancelled):
        FindingsOf(SHOWN, KILN, whole_range=True).run(lambda *_, **__: None, lambda: True)


# Flats


def test_a_flat_is_drawn_once_and_then_read(tmp_path: Path) -> None:
    first = done(FlatOf(SHOWN, KILN, tmp_path))
    root = ElementTree.fromstring(first)
    assert root.tag.endswith("svg")
    (file,) = tmp_path.iterdir()
    file.write_text("kept", encoding="utf-8")
    assert done(FlatOf(SHOWN, KILN, tmp_path)) == "kept"
    assert done(FlatOf(SHOWN, with_flare("12cm"), tmp_path)) != "kept"


def test_a_flat_of_a_make_shows_its_fabrics() -> None:
    plain = done(FlatOf(SHOWN, KILN))
    made = done(FlatOf(Shown("kiln-dress", make="makes/view-a.yaml"), KILN))
    assert plain != made


# Consequences


def test_a_change_is_told_in_one_line_first_without_cloth() -> None:
    told: list[Any] = []
    found: Consequences = done(ConsequencesOf(SHOWN, KILN, with_flare("16cm")), told)
    assert "skirt" in found.pieces
    assert "hem" in found.seams or "skirt" in found.seams
    assert found.steps == ""
    assert told[0][2].fabric == ""
    assert "cloth, roughly" in found.fabric
    assert "Slate linen 3.8 m, before 2.9 m" in found.line


def test_no_change_is_told_too() -> None:
    assert done(ConsequencesOf(SHOWN, KILN, KILN)).line == "Nothing of the garment changes."
    swapped = SwapComponent("sleeve", "bishop-sleeve").apply(KILN)
    kept: Consequences = done(ConsequencesOf(SHOWN, KILN, swapped))
    assert kept.line.startswith("It keeps the length 31.6 cm (usual 59 cm). New: cuff")


LINE = {"piece": "skirt-front", "from": "side", "from_at": "30%", "to": "front-edge"}


def told_of_split(at: str, **more: Any) -> Consequences:
    split = AddEdit("split", {**LINE, "to_at": at}, name="low", **more)
    return done(ConsequencesOf(SHOWN, KILN, split.apply(KILN)))


def test_sizes_and_views_that_refuse_an_edit_are_told_with_the_reason() -> None:
    found = told_of_split("42%")
    reason = "the line runs through a button of the skirt front"
    assert found.refused == f"not made in size 52: {reason}"
    assert found.line.startswith(f"Not made in size 52: {reason}. New: ")
    refused = told_of_split("40%").refused
    assert refused.startswith(f"not made in size 48, nor in view B in size 52: {reason}; not made")
    assert told_of_split("42%", when={"hem": ("tunic",)}).refused == ""


def test_an_edit_that_a_change_drops_is_told_before_other_sizes_are_looked_at() -> None:
    dart = {"piece": "bodice-front", "dart": "bust-dart"}
    before = AddEdit("dart-to", dart).apply(KILN)
    after = AddEdit("move-dart", {**dart, "to": "shoulder"}).apply(before)
    told: list[Any] = []
    done(ConsequencesOf(SHOWN, before, after), told)
    assert told[0][2].line.startswith("The edit move dart is not made: ")
    assert all(each[2].line.lower().count("not made") == 1 for each in told)


def test_a_seam_that_changes_by_less_than_can_be_told_is_not_told() -> None:
    """In centimeters it is."""
    by = {"pieces": "skirt-front, skirt-back", "edge": "side", "at": "60%", "by": "0.6mm"}
    longer = AddEdit("lengthen", by).apply(KILN)
    in_cm: Consequences = done(ConsequencesOf(SHOWN, KILN, longer, unit="cm"))
    in_inches: Consequences = done(ConsequencesOf(SHOWN, KILN, longer, unit="in"))
    assert "0.1 cm longer" in in_cm.seams
    assert in_inches.seams == ""


def test_an_edit_that_was_not_made_before_is_not_told_anew() -> None:
    split = AddEdit("split", {**LINE, "to_at": "42%"}, name="low").apply(KILN)
    notch = AddEdit("notch", {"piece": "bodice-back", "edge": "side", "at": "50%"}).apply(split)
    found: Consequences = done(ConsequencesOf(SHOWN, split, notch))
    assert found.refused == ""


def test_other_views_and_mixtures_that_an_edit_changes_are_told() -> None:
    assert told_of_split("42%").elsewhere == "view B changes too"
    of_view = told_of_split("42%", when={"pockets": ("2",)})
    assert of_view.elsewhere == ""
    mixture = KILN["makes/view-a.yaml"].replace(
        "title: Kiln dress, view A\n", "title: Own mixture\nchoices: {pockets: 1}\n"
    )
    documents = {**KILN, "makes/mixture.yaml": mixture}
    split = AddEdit("split", {**LINE, "to_at": "42%"}, name="low").apply(documents)
    found: Consequences = done(ConsequencesOf(SHOWN, documents, split))
    assert found.elsewhere == "view B and the make Own mixture change too"
    assert "View B and the make Own mixture change too." in found.line
