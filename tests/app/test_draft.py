"""The Draft room as a page, and as an interface for scripts."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from app.conftest import Window, entered
from clothwise.app.jobs import _comparing
from clothwise.app.jobs.consequences import ConsequencesOf
from clothwise.app.jobs.refusing import RefusingSizesOf
from clothwise.app.work import Shown
from clothwise.components import DesignFile
from clothwise.pattern import Pattern
from clothwise.pattern.commands import AddEdit, Command, SetParameter, SetParameters
from clothwise.pattern.document import starting_design
from clothwise.pattern.history import Entry, History

ROOM = "/d/kiln-dress/draft"


@pytest.fixture(scope="module")
def still(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Window]:
    """A window in which no test changes anything, so that all of them may look through it."""
    folder = tmp_path_factory.mktemp("designs")
    starting_design("kiln-dress", folder / "kiln-dress")
    with entered(folder) as window:
        yield window


def board(window: Window, **fields: str) -> dict[str, Any]:
    answer = window.get("/d/kiln-dress/board", params={"view": "A", **fields})
    assert answer.status_code == 200, answer.text[:1000]
    found: dict[str, Any] = answer.json()
    return found


def posted(window: Window, path: str, **fields: str) -> Any:
    """As the page sends it: a form, answered as data."""
    headers = {"x-clothwise-token": window.csrf, "accept": "application/json"}
    data = {"view": "A", "base": window.head(), **fields}
    return window.post(f"/d/kiln-dress/{path}", data=data, headers=headers)


def untold(*_: object, **__: object) -> None:
    """For jobs that tell on the way what is not looked at here."""


def flare(text: str) -> str:
    return json.dumps(
        {
            "kind": "set-parameter",
            "component": "skirt",
            "parameter": "flare",
            "value": text,
            "choices": {"hem": "mid-calf"},
        }
    )


def test_the_room_shows_view_size_and_tools(still: Window) -> None:
    page = still.page(ROOM)
    assert "A: Mid-calf, with elbow sleeves" in page
    assert '<option value="38" selected>' in page
    for tool in ("look", "tape", "split", "shape", "dart", "pocket"):
        assert f'data-tool-of="{tool}"' in page
    assert "style=" not in page


def test_the_board_brings_all_pieces_once_and_then_what_changed(still: Window) -> None:
    first = board(still)
    assert "skirt-front" in first["pieces"]
    assert set(first["places"]) == set(first["order"]) == set(first["pieces"])
    again = board(still, before=first["version"])
    assert again["pieces"] == {}
    assert again["gone"] == []
    other = board(still, before=first["version"], view="B")
    assert "sleeve" in other["gone"]


def test_a_change_is_kept_and_its_board_comes_with_the_answer(window: Window) -> None:
    first = board(window)
    answer = posted(window, "commands", command=flare("10cm"), before=first["version"])
    assert answer.status_code == 200, answer.text[:1000]
    data = answer.json()
    assert sorted(data["pieces"]) == ["skirt-back", "skirt-front"]
    assert data["places"]["skirt-front"] == first["places"]["skirt-front"]
    assert data["head"] == window.head()
    assert "cw:changed" in answer.headers["HX-Trigger"]
    assert "10cm" in window.part("/d/kiln-dress/draft/history")


def test_a_board_drawn_before_another_window_changed_something_says_so(
    window: Window, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = board(window)
    answer = posted(window, "commands", command=flare("10cm"), before=first["version"])
    assert answer.json()["behind"] is False
    commit = History.commit

    def after_another(self: History, base: str, command: Command) -> Entry:
        commit(self, self.head, SetParameter("bodice", "bust_ease", "11cm"))
        return commit(self, base, command)

    monkeypatch.setattr(History, "commit", after_another)
    answer = posted(window, "commands", command=flare("9cm"), before=first["version"])
    assert answer.json()["behind"] is True


def test_a_preview_that_cannot_be_drafted_says_why_in_four_parts(still: Window) -> None:
    answer = posted(still, "commands", command=flare("90cm"), preview="yes", before="")
    assert answer.json()["refused"] == {
        "what": "flare is 90 cm (allowed 2 cm to 26 cm)",
        "where": "",
        "how_much": "",
        "what_to_do": "Write a value of 2 cm to 26 cm. What it is: How far each side seam swings "
        "out from hip to hem.",
    }


@pytest.fixture
def short_sleeved(window: Window) -> Window:
    """Flutter sleeves of 20 cm, which sizes 48 and more cannot have."""
    for command in (
        {"kind": "swap-component", "name": "sleeve", "component": "flutter-sleeve"},
        {"kind": "set-parameters", "component": "sleeve", "values": {"length": "20cm"}},
    ):
        assert posted(window, "commands", command=json.dumps(command), before="").is_success
    return window


def test_a_page_that_begins_with_a_refused_size_gets_the_nearest_that_can_be_drafted(
    short_sleeved: Window,
) -> None:
    """What it has already it keeps."""
    asked = "/d/kiln-dress/board?view=A&size=52"
    found = short_sleeved.get(asked).json()
    assert found["instead"] == found["size"] == "46"
    assert found["refused"]["where"] == "size 52, sleeve"
    assert "sleeve" in found["pieces"]
    assert found["extent"]
    again = short_sleeved.get(f"{asked}&before={found['version']}").json()
    assert again["refused"] == found["refused"]
    assert not again["instead"]
    assert not again["pieces"]


def test_a_refusal_is_in_the_unit_that_is_liked_and_leads_to_what_it_names(
    short_sleeved: Window,
) -> None:
    asked = "/d/kiln-dress/board?view=A&size=52"
    found = short_sleeved.get(asked).json()
    assert found["refused"]["what_to_do"] == "Make length 22.4 cm or more, or flare it less."
    assert [each["target"] for each in found["ways"]] == [
        "param-sleeve-length",
        "param-sleeve-flare",
    ]
    html = short_sleeved.part("/d/kiln-dress/catalog?view=A&size=52")
    row = html[html.index('id="param-sleeve-length"') :]
    row = row[: row.index("</div>")]
    assert 'aria-invalid="true"' in row
    assert "Make length 22.4 cm or more" in row
    assert "mm" not in row
    short_sleeved.change("/settings", unit="in", theme="auto", type_size="usual")
    found = short_sleeved.get(asked).json()
    assert found["refused"]["how_much"] == "1/8 in, at least 1 in needed"
    assert found["refused"]["what_to_do"] == "Make length 8 7/8 in or more, or flare it less."


def test_what_waits_is_tried_in_every_size(still: Window) -> None:
    """Also an edit that is not made in some."""
    fields = {"view": "A", "size": "38"}
    short = {"kind": "swap-component", "name": "sleeve", "component": "flutter-sleeve"}
    shorter = {**short, "parameters": {"length": "20cm"}}
    told = still.change("/d/kiln-dress/refusing", **fields, pending=json.dumps(shorter)).json()
    assert told["words"] == (
        "Cannot be drafted in sizes 48 to 52: the flared sleeve has no seam left under the arm "
        "(in size 52: Make length 22.4 cm or more, or flare it less)."
    )
    told = still.change("/d/kiln-dress/refusing", **fields, pending=json.dumps(short)).json()
    assert told["words"] == ""
    head = still.head()
    split = {
        "kind": "add-edit",
        "edit": "split",
        "parameters": {
            "piece": "skirt-back",
            "from": "hem",
            "from_at": "33cm",
            "to": "center",
            "to_at": "50%",
        },
    }
    told = still.change("/d/kiln-dress/refusing", **fields, pending=json.dumps(split)).json()
    assert told["words"].startswith(
        "Not made in size 34, nor in view B in sizes 34 to 42: the place"
    )
    assert still.head() == head


def test_the_line_of_an_exchange_tells_sizes_that_cannot_be_drafted_then(
    short_sleeved: Window,
) -> None:
    shop = short_sleeved.app.state.shop  # type: ignore[attr-defined]
    documents = dict(shop.design("kiln-dress").history.documents)
    wide = SetParameters("sleeve", {"length": "30cm"}).apply(documents)
    shown = Shown("kiln-dress", "", size="38", view="A")
    job = ConsequencesOf(shown, wide, documents)
    found = job.run(untold, lambda: False)
    assert found.line.startswith("Cannot be drafted in sizes 48 to 52: the flared sleeve has no")


def test_after_a_changed_edit_each_size_and_view_is_drafted_once(
    still: Window, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Also what is asked for by its view and by its choices, or tried before it is kept."""
    shop = still.app.state.shop  # type: ignore[attr-defined]
    documents = dict(shop.design("kiln-dress").history.documents)
    split = AddEdit("split", {"piece": "skirt-back", "from": "hem", "to": "center", "to_at": "37%"})
    drafts: list[tuple[Any, ...]] = []
    really = DesignFile.draft

    def counted(file: DesignFile, choices: Any = None, **more: Any) -> Pattern:
        name = more["body"].name
        drafts.append((len(file.design.edits), name, *sorted(choices.items())))
        return really(file, choices, **more)

    monkeypatch.setattr(DesignFile, "draft", counted)
    monkeypatch.setattr(_comparing, "_fabric", lambda *_: "")  # of a make, which is its own draft
    shown = Shown("kiln-dress", "", size="38", view="A")
    RefusingSizesOf(shown, documents, split.to_data()).run(untold, lambda: False)
    assert sorted(drafts) == sorted(set(drafts))
    assert len([each for each in drafts if each[0] == 1]) >= 20
    tried = set(drafts)
    drafts.clear()
    ConsequencesOf(shown, documents, split.apply(documents)).run(untold, lambda: False)
    assert tried.isdisjoint(drafts)


def test_a_preview_keeps_nothing(still: Window) -> None:
    head, first = still.head(), board(still)
    answer = posted(
        still, "commands", command=flare("11cm"), preview="yes", before=first["version"]
    )
    assert sorted(answer.json()["pieces"]) == ["skirt-back", "skirt-front"]
    assert still.head() == head


@pytest.mark.parametrize(
    ("command", "says"),
    [
        (flare("90cm"), "flare is 90 cm"),
        (flare("a lot"), ""),
        ("no data", "cannot be read"),
        ('{"kind": "sing"}', ""),
        (json.dumps({"kind": "remove-component", "name": "bodice"}), ""),
    ],
)
def test_a_change_without_a_pattern_after_it_is_refused(
    still: Window, command: str, says: str
) -> None:
    head = still.head()
    answer = posted(still, "commands", command=command, before="")
    assert answer.status_code == 422
    told = answer.json()["error"]
    assert says in told["what"] + told["how_much"]
    assert told["what_to_do"]
    assert "as it was" in told["work"]
    assert still.head() == head


def test_a_change_from_an_older_state_is_a_conflict(window: Window) -> None:
    old = window.head()
    assert posted(window, "commands", command=flare("10cm"), before="").status_code == 200
    answer = posted(window, "commands", command=flare("11cm"), before="", base=old)
    assert answer.status_code == 409


def gesture(what: str, **fields: Any) -> str:
    return json.dumps({"what": what, **fields})


def test_a_drawn_line_is_shown_and_waits_for_a_yes(still: Window) -> None:
    head, first = still.head(), board(still)
    answer = posted(
        still,
        "point",
        gesture=gesture("split", piece="skirt-back", **{"from": [-40, -300], "to": [400, -340]}),
        stage="done",
        before=first["version"],
    )
    data = answer.json()
    assert data["words"].startswith("Splits the skirt back from the center")
    assert re.search(r"[\d.]+ cm from the [\w ]+ \(kept as [\d.]+%\)", data["words"]), data["words"]
    assert data["command"]["kind"] == "add-edit"
    assert len(data["pieces"]) >= 2
    assert still.head() == head
    fields = {f"p.{key}": value for key, value in data["command"]["parameters"].items()}
    answer = still.get(
        "/d/kiln-dress/edits/new",
        params={"edit": "split", "proposed": "yes", "view": "A", **fields},
        headers={"hx-request": "true"},
    )
    assert data["command"]["parameters"]["to_at"] in answer.text
    assert "Split it so" in answer.text


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        (
            {"what": "edge", "piece": "skirt-back", "edge": "side", "share": 0.5},
            "drew the side of the skirt back anew",
        ),
        (
            {"what": "dart-point", "piece": "skirt-back", "dart": "waist-dart"},
            "made the waist dart of the skirt back shorter by ",
        ),
    ],
)
def test_what_is_dragged_is_kept_when_let_go(
    window: Window, fields: dict[str, Any], words: str
) -> None:
    to = [310.0, -400.0] if fields["what"] == "edge" else [100.0, -110.0]
    answer = posted(
        window, "point", gesture=json.dumps({**fields, "to": to}), stage="done", before=""
    )
    assert answer.status_code == 200, answer.text
    assert words in window.part("/d/kiln-dress/draft/history").lower()
    edits = window.part("/d/kiln-dress/edits?view=A")
    assert "skirt back" in edits
    assert "not made" not in edits


def test_a_pocket_is_placed_by_dragging_as_one_step(window: Window) -> None:
    sent = gesture("pocket", piece="skirt-front", component="pocket", to=[150.0, -160.0])
    assert posted(window, "point", gesture=sent, stage="done", before="").status_code == 200
    text = (window.app.state.shop.workspace.folder / "kiln-dress" / "design.yaml").read_text()  # type: ignore[attr-defined]
    assert "below_top: 16cm" in text
    assert "across:" in text
    posted(window, "undo")
    assert (
        "below_top"
        not in (
            window.app.state.shop.workspace.folder / "kiln-dress" / "design.yaml"  # type: ignore[attr-defined]
        ).read_text()
    )


def test_only_what_pointing_can_place_is_drawn_as_movable(window: Window) -> None:
    """The facing of a sleeve opening is laid on too, but no hand can move it there."""
    workspace = window.app.state.shop.workspace.folder  # type: ignore[attr-defined]
    starting_design("market-blouse", workspace / "market-blouse")
    kiln = " ".join(each["svg"] for each in board(window)["pieces"].values())
    blouse = window.get("/d/market-blouse/board", headers={"accept": "application/json"}).json()
    laid_on = " ".join(each["svg"] for each in blouse["pieces"].values())
    assert 'class="placed movable"' in kiln
    assert 'class="placed"' in laid_on
    assert "movable" not in laid_on


@pytest.mark.parametrize(
    "sent",
    [
        "[]",
        "nothing",
        gesture("dance", piece="skirt-front", to=[0, 0]),
        gesture("edge", piece="skirt-front", edge="side", share="half", to=[0, 0]),
        gesture("split", piece="skirt-front", **{"from": [0], "to": [1e9, 0]}),
        gesture("dart", piece="skirt-front", dart=7, to=[0, 0]),
        gesture("split", piece="no-such", **{"from": [0, 0], "to": [10, 0]}),
        gesture("dart", piece="bodice-back", dart="waist-dart", to=[-50, 180]),
    ],
)
def test_what_cannot_be_meant_is_refused_in_four_parts(still: Window, sent: str) -> None:
    head = still.head()
    answer = posted(still, "point", gesture=sent, stage="done", before="")
    assert answer.status_code == 422
    assert answer.json()["error"]["what_to_do"]
    assert still.head() == head


def test_a_tape_measures_in_the_unit_that_is_liked(still: Window) -> None:
    place = {"view": "A", "piece": "skirt-front", "from": "-20,-400", "to": "280,-400"}
    words = still.get("/d/kiln-dress/tape", params=place).json()["words"]
    assert words.endswith("straight, from the front edge to the side")
    assert "cm" in words
    assert still.get("/d/kiln-dress/tape", params={**place, "to": "here"}).status_code == 422


def test_all_sizes_come_one_after_the_other(still: Window) -> None:
    answer = still.get("/d/kiln-dress/sizes", params={"view": "A"})
    lines = [json.loads(line) for line in answer.text.splitlines()]
    assert lines[0]["size"] == "34"
    assert len(lines) == 10
    assert all("skirt-front" in line["pieces"] for line in lines)


def test_pieces_and_edges_are_told_in_words(still: Window) -> None:
    text = still.part("/d/kiln-dress/pieces?view=A")
    assert "Sewn to skirt back in the side seam of the skirt" in text
    assert 'data-edge="waist-dart-in"' in text
    assert "79.7 cm" in text


def test_edits_are_listed_with_their_forms_and_taken_out(window: Window) -> None:
    edit = {
        "kind": "add-edit",
        "edit": "split",
        "name": "yoke",
        "parameters": {"piece": "skirt-back", "from": "center", "to": "side", "to_at": "60%"},
    }
    assert posted(window, "commands", command=json.dumps(edit), before="").status_code == 200
    text = window.part("/d/kiln-dress/edits?view=A")
    assert "Split the skirt back from" in text
    assert 'data-remove-edit="yoke"' in text
    change = {"kind": "change-edit", "name": "yoke", "parameters": {"bend": "20mm"}}
    assert posted(window, "commands", command=json.dumps(change), before="").status_code == 200
    remove = json.dumps({"kind": "remove-edit", "name": "yoke"})
    assert posted(window, "commands", command=remove, before="").status_code == 200
    assert "No edits yet" in window.part("/d/kiln-dress/edits?view=A")


def test_edits_are_chosen_from_groups_and_tell_places_in_centimeters(window: Window) -> None:
    html = window.part("/d/kiln-dress/edits?view=A")
    assert html.count("<optgroup") == 6
    assert '<option value="dart-to">Turn a dart into gathers, ease or a tuck</option>' in html
    assert "<dd>Its point moves along the middle of the dart.</dd>" in html
    values = {"p.piece": "skirt-back", "p.from": "side", "p.from_at": "30%", "p.to": "center"}
    form = window.get(
        "/d/kiln-dress/edits/new", params={"view": "A", "size": "38", "edit": "split", **values}
    ).text
    assert "In size 38: the side, 55.8 cm from the waist side, of 79.7 cm." in form
    window.post("/settings", data={"unit": "in", "csrf": window.csrf})
    form = window.get(
        "/d/kiln-dress/edits/new", params={"view": "A", "size": "38", "edit": "split", **values}
    ).text
    assert "In size 38: the side, 22 in from the waist side, of 31 3/8 in." in form


def test_an_edit_that_is_not_made_says_so_in_words_and_leads_on(window: Window) -> None:
    """A line across the pocket: the pocket is what blocks, and the way there is a button."""
    edit = {
        "kind": "add-edit",
        "edit": "split",
        "parameters": {
            "piece": "skirt-front",
            "from": "side",
            "from_at": "70%",
            "to": "front-edge",
        },
    }
    answer = posted(window, "commands", command=json.dumps(edit), before="")
    assert answer.status_code == 200, answer.text
    html = window.part("/d/kiln-dress/edits?view=A")
    assert "Split the skirt front from side to front edge" in html
    assert "It is not made: the line runs across the pocket." in html
    assert "`when" not in html
    assert 'data-way="part-pocket"' in html


def test_pieces_that_lie_on_one_another_are_told_and_moved_apart_once_it_is_kept(
    window: Window,
) -> None:
    """Nothing jumps under a hand; what is not in the way stays where it is."""
    first = board(window)
    assert first["lying"] == []
    longer = json.dumps(
        {
            "kind": "set-parameter",
            "component": "skirt",
            "parameter": "length",
            "value": "waist_to_knee + 45cm",
            "choices": {"hem": "mid-calf"},
        }
    )
    data = posted(window, "commands", command=longer, before=first["version"], preview="yes").json()
    assert {"skirt-front", "skirt-back"} & set(data["lying"])
    assert data["places"] == first["places"]
    data = posted(window, "commands", command=longer, before=data["version"]).json()
    assert data["lying"] == []
    moved = {name for name, at in data["places"].items() if at != first["places"][name]}
    assert moved
    assert "bodice-front" not in moved
    assert len(moved) < len(first["places"]) / 2
    assert all(max(abs(x), abs(y)) < 400.0 for x, y in steps(first, data).values())
    again = board(window)
    assert again["places"] == data["places"]
    preview = posted(window, "commands", command=flare("5cm"), before="", preview="yes").json()
    assert preview["places"] == data["places"]
    tidied = posted(window, "board/tidy", before=data["version"]).json()
    assert tidied["lying"] == []


def steps(before: dict[str, Any], after: dict[str, Any]) -> dict[str, tuple[float, float]]:
    """How far the pieces moved that did."""
    pairs = {name: (before["places"][name], at) for name, at in after["places"].items()}
    return {
        name: (x - x0, y - y0) for name, ((x0, y0), (x, y)) in pairs.items() if [x, y] != [x0, y0]
    }


def test_pieces_that_a_change_moved_aside_come_back_once_it_is_undone(window: Window) -> None:
    first = board(window)
    change = {"kind": "set-parameter", "component": "skirt", "parameter": "length"}
    longer = json.dumps({**change, "value": "waist_to_knee + 45cm", "choices": {"hem": "mid-calf"}})
    data = posted(window, "commands", command=longer, before=first["version"]).json()
    assert steps(first, data)
    assert window.change("/d/kiln-dress/undo").is_success
    assert board(window)["places"] == first["places"]


def test_pieces_whose_allowances_lie_on_one_another_are_moved_apart(
    window: Window, workspace: Path
) -> None:
    """Only one of them moves, and no further than it takes."""
    places = board(window)["places"]
    x, y = places["skirt-front"]
    near = {**places, "skirt-front": [x, round(y - 84.0, 2)]}
    (workspace / ".clothwise" / "boards" / "kiln-dress.json").write_text(json.dumps(near))
    moved = steps({"places": near}, board(window))
    assert list(moved) in (["bodice-front"], ["skirt-front"]), moved
    assert all(max(abs(x), abs(y)) < 60.0 for x, y in moved.values())


def test_pieces_that_a_waiting_change_moved_aside_stay_there_under_a_hand(window: Window) -> None:
    board(window)
    change = {"kind": "set-parameter", "component": "skirt", "parameter": "length"}
    longer = json.dumps({**change, "value": "waist_to_knee + 45cm", "choices": {"hem": "mid-calf"}})
    waits = posted(window, "commands", pending=longer, preview="yes", before="").json()
    assert waits["lying"] == []
    fields = {"pending": longer, "preview": "yes", "before": ""}
    data = posted(window, "commands", command=flare("8cm"), **fields).json()
    assert data["places"] == waits["places"]


def test_the_parts_of_a_split_lie_beside_each_other(window: Window) -> None:
    first = board(window)
    edit = {
        "kind": "add-edit",
        "edit": "split",
        "name": "yoke",
        "parameters": {"piece": "skirt-back", "from": "center", "to": "side"},
    }
    data = posted(window, "commands", command=json.dumps(edit), before=first["version"]).json()
    new = next(name for name in data["pieces"] if name not in first["pieces"])
    x, y = data["places"][new]
    x0, y0 = data["places"]["skirt-back"]
    assert abs(x - x0) + abs(y - y0) < 80.0
    assert [x0, y0] == first["places"]["skirt-back"]


def test_pieces_that_came_together_are_laid_out_anew(window: Window, workspace: Path) -> None:
    first = board(window)
    crowded = {name: [0.0, 0.0] for name in first["places"]}
    (workspace / ".clothwise" / "boards" / "kiln-dress.json").write_text(json.dumps(crowded))
    apart = board(window)
    assert apart["lying"] == []
    assert apart["places"] != first["places"]
    assert posted(window, "board/tidy", before="").json()["places"] == first["places"]
    assert board(window)["places"] == first["places"]


def test_a_design_with_faults_says_so_in_the_room(window: Window, workspace: Path) -> None:
    path = workspace / "kiln-dress" / "design.yaml"
    path.write_text(path.read_text().replace("component: set-in-sleeve", "component: wing"))
    page = window.get(ROOM, headers={"accept": "text/html"})
    assert page.status_code == 422
    assert "wing" in page.text


def test_places_on_the_board_outlive_the_server(window: Window, workspace: Path) -> None:
    first = board(window)
    kept = json.loads((workspace / ".clothwise" / "boards" / "kiln-dress.json").read_text())
    assert {name: list(at) for name, at in kept.items()} == first["places"]
    (workspace / ".clothwise" / "boards" / "kiln-dress.json").write_text("{broken")
    assert board(window)["places"] == first["places"]


def test_a_view_a_size_or_a_choice_that_is_not_there_is_refused_in_words(still: Window) -> None:
    for query, says in (("view=Z", "Z"), ("size=999", "999"), ("view=A&o.hem=floor", "floor")):
        page = still.page(f"{ROOM}?{query}", status=422)
        assert says in page
        assert "What to do" in page
        refused = still.get(f"/d/kiln-dress/board?{query}").json()["refused"]
        assert refused["what_to_do"]


SPLIT = json.dumps(
    {
        "kind": "add-edit",
        "edit": "split",
        "parameters": {"piece": "skirt-back", "from": "center", "to": "side", "to_at": "60%"},
    }
)
"""A line that was drawn and that nobody has said yes to."""


@pytest.mark.parametrize("looks_at", [{"view": "B"}, {"size": "44"}, {"o.hem": "tunic"}])
def test_what_waits_for_a_yes_is_shown_whatever_one_looks_at(
    still: Window, looks_at: dict[str, str]
) -> None:
    head = still.head()
    data = posted(still, "commands", pending=SPLIT, preview="yes", before="", **looks_at).json()
    assert "skirt-back-split" in data["pieces"]
    assert data["pending"] == {"words": "split the skirt back from center to side", "lost": None}
    assert still.head() == head
    assert "skirt-back-split" not in board(still, **looks_at)["pieces"]


def test_what_waits_for_a_yes_stays_on_the_board_while_something_else_is_changed(
    window: Window, workspace: Path
) -> None:
    first = board(window)
    shown = posted(window, "commands", pending=SPLIT, preview="yes", before=first["version"]).json()
    fields = {"command": flare("10cm"), "pending": SPLIT}
    slid = posted(window, "commands", preview="yes", before=shown["version"], **fields).json()
    assert {"skirt-front", "skirt-back", "skirt-back-split"} == set(slid["pieces"])
    kept = posted(window, "commands", before=slid["version"], **fields).json()
    assert kept["words"] == "flare of skirt: 9cm → 10cm"
    assert kept["pieces"] == {}, "the board is the one that was seen while it slid"
    assert kept["gone"] == []
    design = (workspace / "kiln-dress" / "design.yaml").read_text()
    assert "10cm" in design
    assert "split" not in design
    places = json.loads((workspace / ".clothwise" / "boards" / "kiln-dress.json").read_text())
    assert "skirt-back-split" not in places
    assert board(window, before=kept["version"])["gone"] == ["skirt-back-split"]


def test_what_waits_and_can_no_longer_be_applied_says_so_and_the_rest_is_kept(
    window: Window,
) -> None:
    gone = json.dumps({"kind": "change-edit", "name": "no-such", "parameters": {"bend": "20mm"}})
    answer = posted(window, "commands", command=flare("10cm"), pending=gone, before="")
    assert answer.status_code == 200, answer.text
    assert "no-such" in answer.json()["pending"]["lost"]["what"]
    assert answer.json()["pieces"]
    assert "10cm" in window.part("/d/kiln-dress/draft/history")


def test_what_cannot_be_made_in_another_view_is_told_with_the_board(still: Window) -> None:
    sleeve = json.dumps(
        {
            "kind": "add-edit",
            "edit": "split",
            "parameters": {"piece": "sleeve", "from": "hem", "to": "cap"},
        }
    )
    seen = posted(still, "commands", pending=sleeve, preview="yes", before="").json()
    assert seen["pending"]["lost"] is None
    lost = posted(still, "commands", pending=sleeve, preview="yes", before="", view="B").json()
    told = lost["pending"]["lost"]
    assert told["what"] == "what is shown has no sleeve"
    assert told["what_to_do"] == "Look at a view that has it; there it is shown again."


def test_a_tape_measures_a_part_that_waits_for_a_yes(still: Window) -> None:
    place = {
        "view": "A",
        "piece": "skirt-back-split",
        "from": "-20,-200",
        "to": "600,-200",
        "pending": SPLIT,
    }
    words = still.get("/d/kiln-dress/tape", params=place).json()["words"]
    assert words == "62 cm straight"
    assert still.get("/d/kiln-dress/tape", params={**place, "pending": ""}).status_code == 422


def test_what_stands_beside_the_board_shows_what_waits_and_says_so(still: Window) -> None:
    waits = {"view": "A", "pending": SPLIT}
    headers = {"hx-request": "true"}
    told = still.get("/d/kiln-dress/pieces", params=waits, headers=headers).text
    assert 'id="piece-skirt-back-split"' in told
    assert "with what is not kept yet: split the skirt back from center to side." in told
    kept = still.get("/d/kiln-dress/pieces", params={"view": "A"}, headers=headers).text
    assert "skirt-back-split" not in kept
    assert "not kept yet" not in kept
    lines = still.get("/d/kiln-dress/sizes", params=waits).text.splitlines()
    assert all("skirt-back-split" in json.loads(line)["pieces"] for line in lines)
    assert len(lines) == 10


def test_findings_on_the_board_are_those_of_what_waits(still: Window) -> None:
    def found(**fields: str) -> set[str]:
        answer = still.get("/d/kiln-dress/board/findings", params={"view": "A", **fields})
        return {each["code"] for each in answer.json()["findings"]}

    gone = json.loads(SPLIT)
    gone["parameters"] |= {"piece": "no-such-piece"}
    assert "EDIT-LOST" not in found()
    assert "EDIT-LOST" in found(pending=json.dumps(gone))
    assert "EDIT-LOST" not in found(pending=SPLIT)
    nowhere = {"kind": "change-edit", "name": "no-such", "parameters": {"bend": "20mm"}}
    assert found(pending=json.dumps(nowhere)) == found()


def test_findings_have_the_numbers_that_check_gives_them(tmp_path: Path) -> None:
    """A hem that is too deep in three places is one finding in both rooms."""
    design = tmp_path / "designs" / "skirt" / "design.yaml"
    design.parent.parent.mkdir()
    starting_design("half-circle-skirt", design.parent)
    text = design.read_text(encoding="utf-8")
    design.write_text(text.replace("depth: 7mm", "depth: 9cm"), encoding="utf-8")
    with entered(tmp_path / "designs") as window:
        asked = {"of": "view:knee"}
        kept = {"accept": "application/json"}
        drawn = window.get("/d/skirt/board/findings", params={"view": "knee"}).json()["findings"]
        checked = window.get("/d/skirt/check/findings", params=asked, headers=kept).json()
    assert len(drawn) > len(checked["findings"]) > 0
    numbers = {each["id"]: each["number"] for each in checked["findings"]}
    assert {each["id"]: each["number"] for each in drawn} == numbers


@pytest.mark.parametrize(
    ("start", "end", "upper"),
    [("center", "side", "left"), ("side", "center", "right")],
)
def test_the_parts_of_a_split_are_called_as_they_lie_on_the_board(
    still: Window, start: str, end: str, upper: str
) -> None:
    """Whichever way the line runs, the part above stands first and is called so."""
    fields = {"p.piece": "skirt-back", "p.from": start, "p.to": end}
    form = still.get(
        "/d/kiln-dress/edits/new",
        params={"edit": "split", "proposed": "yes", "view": "A", **fields},
        headers={"hx-request": "true"},
    ).text
    front, _, behind = form.partition("<details")
    lower = "right" if upper == "left" else "left"
    assert re.findall(r'data-parameter="(\w+)_title"', front) == [upper, lower]
    assert re.findall(r'for="edit-proposed-(\w+)_title">([^<]+)<', form) == [
        (upper, "Name of the upper part"),
        (lower, "Name of the lower part"),
    ]
    assert (
        f'for="edit-proposed-bend">Bends toward the {"upper" if upper == "left" else "lower"}'
        in (form)
    )
    assert "to the left" not in form
    assert re.findall(r'data-parameter="(left|right)"', behind) == [upper, lower]


@pytest.mark.parametrize(
    ("line", "parts", "titles"),
    [
        (
            ("skirt-front", "waist-dart", "hem"),
            ["center front", "side front"],
            ["Skirt center front", "Skirt side front"],
        ),
        (("sleeve", "cap", "hem"), ["front part", "back part"], ["Sleeve, front part"]),
        (("pocket", "top", "bottom"), ["left part", "right part"], []),
        (
            ("collar-upper", "neck", "outer"),
            ["part toward the center", "part away from the center"],
            [],
        ),
    ],
)
def test_parts_beside_an_upright_line_are_called_as_they_lie_on_the_body_where_that_is_sure(
    still: Window, line: tuple[str, str, str], parts: list[str], titles: list[str]
) -> None:
    fields = dict(zip(("p.piece", "p.from", "p.to"), line, strict=True))
    form = still.get(
        "/d/kiln-dress/edits/new",
        params={"edit": "split", "proposed": "yes", "view": "A", **fields},
        headers={"hx-request": "true"},
    ).text
    found = re.findall(r'_title">(Name of the [^<]+)<', form)
    assert found == [f"Name of the {each}" for each in parts]
    written = re.findall(r'_title" data-value="([^"]+)"', form)
    assert written[: len(titles)] == titles
    assert bool(written) == bool(titles)


def test_the_room_tells_what_is_not_kept_yet_and_how_lines_are_drawn(still: Window) -> None:
    page = still.page(ROOM)
    strip = page.partition('id="pending"')[2].partition("</section>")[0]
    assert "Not kept yet" in strip
    assert re.findall(r">(\w+ it)<", strip) == ["Keep it", "Drop it"]
    assert page.index('id="pending"') > page.index('id="board"')
    assert "Click where the line begins and where it ends, or drag it" in page


def with_ada(workspace: Path) -> None:
    """Somebody with the figures of size 38 is a row of the chart."""
    (chart,) = (workspace / "kiln-dress").glob("*.csv")
    text = chart.read_text(encoding="utf-8")
    figures = next(line for line in text.splitlines() if line.startswith("38,"))
    chart.write_text(f"{text.rstrip()}\n{figures.replace('38,', 'Ada,', 1)}\n", encoding="utf-8")


def test_a_person_in_the_chart_is_told_apart_from_its_sizes(workspace: Path) -> None:
    with_ada(workspace)
    with entered(workspace) as window:
        draft = window.page(f"{ROOM}?view=A&size=Ada")
        check = window.page("/d/kiln-dress/check?of=view:A&size=Ada")
        for page in (draft, check):
            people = page.partition('<optgroup label="People in the chart">')[2]
            sizes = page.partition('<optgroup label="Sizes">')[2].partition("</optgroup>")[0]
            assert people.partition("</optgroup>")[0].count("<option") == 1
            assert '<option value="Ada" selected>Ada</option>' in people
            assert sizes.count("<option") == 10
        assert "data-people='[\"Ada\"]'" in window.part("/d/kiln-dress/catalog?view=A")
        split = (
            "/d/kiln-dress/edits/new?view=A&size=Ada&edit=split&p.piece=skirt-back"
            "&p.from=center&p.from_at=50%25&p.to=side&p.to_at=50%25"
        )
        assert "For Ada: " in window.part(split)
        assert "In size 38: " in window.part(split.replace("Ada", "38"))


def test_a_chart_without_people_is_listed_as_it_is(still: Window) -> None:
    assert "<optgroup" not in still.page(ROOM)


def test_a_length_in_the_form_of_an_edit_is_told_in_inches_beside_its_field(
    window: Window,
) -> None:
    form = "/d/kiln-dress/edits/new?view=A&edit=dart-point&p.piece=skirt-front&p.by=2cm"
    assert "That is" not in window.part(form)
    window.change("/settings", unit="in", theme="auto", type_size="usual")
    part = window.part(form)
    assert 'value="2cm"' in part
    assert "That is about 13/16 in." in part


def test_a_line_beside_the_center_bends_toward_it_or_away_from_it(still: Window) -> None:
    form = still.part(
        "/d/kiln-dress/edits/new?view=A&edit=split&p.piece=collar-upper&p.from=neck&p.to=outer"
    )
    assert re.search(r">Bends (toward|away from) the center by<", form)
    assert "toward the part toward" not in form


def test_parts_of_a_split_without_titles_are_offered_those_of_a_dressmaker(
    window: Window,
) -> None:
    """Not again once one of them has a title."""
    split = {"piece": "skirt-back", "from": "center", "to": "side"}
    sent = {"kind": "add-edit", "edit": "split", "parameters": split}
    assert posted(window, "commands", command=json.dumps(sent)).status_code == 204
    offered = re.findall(r'data-suggest="([^"]+)"', window.part("/d/kiln-dress/edits?view=A"))
    assert offered == ["Skirt back, upper part", "Skirt back, lower part"]
    named = {
        "kind": "change-edit",
        "name": "split",
        "parameters": {"left_title": "Skirt back, upper part"},
    }
    assert posted(window, "commands", command=json.dumps(named)).status_code == 204
    assert "data-suggest" not in window.part("/d/kiln-dress/edits?view=A")


OF_OWN_MIXTURE = "view=B&size=40&o.armhole=sleeve&o.collar=two-piece&o.pockets=1"


def test_a_make_with_own_measurements_is_told_apart_from_the_size_that_the_board_shows(
    still: Window,
) -> None:
    page = still.page(f"{ROOM}?{OF_OWN_MIXTURE}")
    told = re.sub(r"<[^>]+>", "", page.partition('id="made-otherwise">')[2].partition("</p>")[0])
    assert told.startswith("The board shows size 40 of the chart. Own mixture is made for")
    assert 'href="/d/kiln-dress/check?of=make:own-mixture"' in page
    assert 'href="/d/kiln-dress/m/own-mixture/for-whom"' in page


@pytest.mark.parametrize("query", ["", "?view=A&size=38", f"?{OF_OWN_MIXTURE}".replace("40", "42")])
def test_nothing_is_told_of_own_measurements_where_no_such_make_leads(
    still: Window, query: str
) -> None:
    assert "made-otherwise" not in still.page(ROOM + query)


def test_a_damaged_make_is_not_said_to_have_measurements(window: Window, workspace: Path) -> None:
    (workspace / "kiln-dress" / "makes" / "own-mixture.yaml").write_text("nothing: [")
    assert "made-otherwise" not in window.page(ROOM)
