"""The shelf: what can be begun, copied, renamed, put away, brought back and brought in."""

from __future__ import annotations

import html
import io
import re
import zipfile
from pathlib import Path

import pytest
from PIL import Image

from clothwise.app.beginnings import picture, picture_file
from clothwise.app.ongoing import ongoing
from clothwise.components import make_files
from clothwise.pattern.document import parse_make, starter_names

from .conftest import Window, entered


def test_an_empty_shelf_says_what_to_do_next(tmp_path: Path) -> None:
    with entered(tmp_path / "new") as window:
        text = window.page("/")
    assert "The shelf is empty" in text
    assert "Choose a garment" in text


def test_designs_hang_with_their_makes_and_what_was_done_last(window: Window) -> None:
    text = window.page("/")
    assert "Kiln dress" in text
    assert "/d/kiln-dress/flat.svg?make=" in text
    assert "/d/kiln-dress/makes" in text
    window.change("/d/kiln-dress/rename", title="Kiln coat")
    assert "Title: Kiln coat" in window.page("/")


def test_makes_are_called_by_their_titles_in_every_room(window: Window, workspace: Path) -> None:
    make = workspace / "kiln-dress" / "makes" / "view-b.yaml"
    make.write_text(re.sub("(?m)^title:.*$", "title: Tunic for <Ada>", make.read_text()))
    for text in (
        window.page("/"),
        *(
            window.page(f"/d/kiln-dress/m/view-a/{room}")
            for room in ("cut", "sew", "print", "pack")
        ),
    ):
        assert ">View A</a>" in text
        assert ">Tunic for &lt;Ada&gt;</a>" in text
    assert "Tunic for &lt;Ada&gt;</option>" in window.page("/d/kiln-dress/check")


def test_makes_stand_in_one_order_everywhere(window: Window, workspace: Path) -> None:
    """Those named after a view come first: on the shelf, in every room, on the command line."""
    order = ["view-a", "view-b", "own-mixture"]

    def named_in(text: str, room: str) -> list[str]:
        return [*dict.fromkeys(re.findall(rf"/d/kiln-dress/m/([^/\"?]+)/{room}\"", text))]

    shelf = window.get("/", headers={"accept": "application/json"}).json()
    assert shelf["designs"][0]["makes"] == order
    assert named_in(window.page("/d/kiln-dress/makes"), "sew") == order
    nav = window.page("/d/kiln-dress/m/own-mixture/sew").partition('class="makes"')[2]
    assert named_in(nav.partition("</ul>")[0], "sew") == order
    checked = re.findall(r'value="make:([^"]+)"', window.page("/d/kiln-dress/check"))
    assert checked == order
    assert [each.stem for each in make_files(workspace / "kiln-dress")] == order


def test_makes_called_after_a_beginning_are_called_after_the_new_design(
    window: Window, workspace: Path
) -> None:
    window.change("/designs", kind="kiln-dress", title="Ada's dress")
    made = (workspace / "ada-s-dress" / "makes" / "view-a.yaml").read_text()
    assert parse_make(made, file="view-a.yaml").title == "Ada's dress, view A"


@pytest.mark.parametrize("kind", starter_names())
def test_no_make_of_a_new_design_has_the_name_of_the_beginning(
    kind: str, window: Window, workspace: Path
) -> None:
    window.change("/designs", kind=kind, title="Garden dress")
    titles = [
        parse_make(path.read_text(), file=path.name).title
        for path in make_files(workspace / "garden-dress")
    ]
    assert titles
    assert all(re.match(r"Garden dress\b", title) for title in titles), titles


def test_makes_that_are_called_after_a_design_follow_its_name_typed_ones_stay(
    window: Window, workspace: Path
) -> None:
    folder = workspace / "kiln-dress"
    typed = folder / "makes" / "view-b.yaml"
    typed.write_text(re.sub("(?m)^title:.*$", "title: Green linen, for Ada", typed.read_text()))
    before = (folder / "makes" / "view-a.yaml").read_text()
    window.change("/d/kiln-dress/rename", title="Garden dress")
    text = (folder / "makes" / "view-a.yaml").read_text()
    assert parse_make(text, file="").title == "Garden dress, view A"
    assert text == before.replace("Kiln dress, view A", "Garden dress, view A")
    assert "title: Green linen, for Ada" in typed.read_text()
    text = re.sub(r"<[^>]+>", "", window.page("/d/kiln-dress/m/view-a/sew"))
    assert "Kiln dress" not in text
    window.change("/d/kiln-dress/undo", base=window.head())
    assert (folder / "makes" / "view-a.yaml").read_text() == before


@pytest.mark.parametrize("kind", starter_names())
def test_every_beginning_can_be_begun(kind: str, window: Window, workspace: Path) -> None:
    answer = window.change("/designs", kind=kind, title="Été, for Ada")
    assert answer.status_code == 200
    assert str(answer.url).startswith("http://127.0.0.1:8765/d/ete-for-ada/")
    text = (workspace / "ete-for-ada" / "design.yaml").read_text()
    assert 'title: "Été, for Ada"' in text


def test_the_address_of_a_design_leads_to_its_room(window: Window) -> None:
    answer = window.get("/d/kiln-dress", follow_redirects=False)
    assert answer.headers["location"] == "/d/kiln-dress/draft"


def test_a_second_design_of_the_same_name_gets_a_folder_of_its_own(
    window: Window, workspace: Path
) -> None:
    window.change("/designs", kind="half-circle-skirt", title="Kiln dress")
    assert (workspace / "kiln-dress-2" / "design.yaml").is_file()
    assert "half" in (workspace / "kiln-dress-2" / "design.yaml").read_text().lower()


def test_a_copy_has_all_documents_and_a_history_of_its_own(window: Window, workspace: Path) -> None:
    window.change("/d/kiln-dress/rename", title="First")
    window.change("/d/kiln-dress/duplicate", title="Second")
    copy = workspace / "second"
    assert {each.name for each in (copy / "makes").iterdir()} == {
        each.name for each in (workspace / "kiln-dress" / "makes").iterdir()
    }
    assert "title: Second" in (copy / "design.yaml").read_text()
    history = window.page("/d/second/history")
    assert "Title: First" not in history


def test_the_shelf_says_which_card_is_the_copy(window: Window) -> None:
    window.change("/designs", kind="half-circle-skirt", title="Later")
    answer = window.change("/d/kiln-dress/duplicate", title="Second")
    assert str(answer.url).endswith("/?copy=second&of=kiln-dress#card-second")
    assert "This is the copy of Kiln dress." in answer.text
    assert answer.text.count("card--copy") == 1
    first, *others = re.findall(r'id="card-([\w-]+)"', answer.text)
    assert first == "second"
    assert set(others) == {"kiln-dress", "later"}
    assert "This is the copy" not in window.page("/")
    assert "This is the copy" not in window.page("/?copy=second&of=gone")


def test_a_make_is_looked_at_before_anything_is_searched_for_it(
    window: Window, workspace: Path
) -> None:
    """In Draft as it is made; what is made for own measurements in Check, which drafts for them."""
    make = workspace / "kiln-dress" / "makes" / "view-b.yaml"
    text = make.read_text(encoding="utf-8")
    make.write_text(f"{text}\nmeasurements:\n  waist_girth: 75cm\n", encoding="utf-8")
    for page in ("/", "/d/kiln-dress/makes"):
        shown = html.unescape(window.page(page))
        assert 'href="/d/kiln-dress/draft?view=A&size=38"' in shown
        assert 'href="/d/kiln-dress/check?of=make%3Aview-b"' in shown
    assert not ongoing().all()
    assert "/m/view-a/cut" not in window.page("/")
    for room in ("draft?view=A&size=38", "check?of=make%3Aview-b"):
        window.page(f"/d/kiln-dress/{room}")


@pytest.mark.parametrize("kind", starter_names())
def test_what_nobody_named_is_called_as_what_it_began_with(kind: str, window: Window) -> None:
    """`half-circle-skirt` was a Half circle skirt on the sheet and a Half Circle Skirt after it."""
    window.change("/designs", kind=kind, title="")
    shelf = window.page("/")
    (called,) = re.findall(rf'value="{kind}"[^>]*> <strong>([^<]+)</strong>', shelf)
    assert re.search(rf'id="card-{kind}[^"]*".*?<h2>{called}</h2>', shelf, re.DOTALL)


def test_a_name_can_be_changed_and_that_be_undone(window: Window, workspace: Path) -> None:
    window.change("/d/kiln-dress/rename", title="  Studio   dress ")
    assert "title: Studio dress" in (workspace / "kiln-dress" / "design.yaml").read_text()
    window.change("/d/kiln-dress/undo", base=window.head())
    assert "title: Kiln dress" in (workspace / "kiln-dress" / "design.yaml").read_text()


def test_what_is_put_away_comes_back_with_its_history(window: Window, workspace: Path) -> None:
    window.change("/d/kiln-dress/rename", title="Studio dress")
    assert "Bring back Studio dress" in window.change("/d/kiln-dress/archive").text
    assert "your work is as it was" in window.page("/d/kiln-dress/history", 422)
    window.change("/archive/kiln-dress/restore")
    assert "Title: Studio dress" in window.page("/d/kiln-dress/history")


def test_putting_away_never_writes_over_what_is_there(window: Window, workspace: Path) -> None:
    for _ in range(2):
        window.change("/d/kiln-dress/archive")
        window.change("/designs", kind="kiln-dress", title="Kiln dress")
    assert {each.name for each in (workspace / "archive").iterdir()} == {
        "kiln-dress",
        "kiln-dress-2",
    }


def brought_in(window: Window, *files: tuple[str, bytes]):  # type: ignore[no-untyped-def]
    return window.post(
        "/designs/import",
        files=[("files", each) for each in files],
        headers={"x-clothwise-token": window.csrf, "accept": "text/html"},
    )


def test_a_design_is_downloaded_and_brought_in_as_it_was(window: Window, workspace: Path) -> None:
    sent = window.get("/d/kiln-dress/download")
    assert sent.headers["content-type"] == "application/zip"
    names = zipfile.ZipFile(io.BytesIO(sent.content)).namelist()
    assert "kiln-dress/design.yaml" in names
    assert not [name for name in names if "/." in name]
    window.change("/d/kiln-dress/archive")
    assert brought_in(window, ("kiln-dress.zip", sent.content)).status_code == 200
    for name in names:
        document = name.partition("/")[2]
        assert (workspace / "kiln-dress" / document).read_text() == (
            workspace / "archive" / "kiln-dress" / document
        ).read_text()


def test_what_is_brought_in_beside_its_like_is_called_otherwise(window: Window) -> None:
    sent = window.get("/d/kiln-dress/download").content
    for _ in range(2):
        brought_in(window, ("kiln-dress.zip", sent))
    shelf = window.page("/")
    for title in ("Kiln dress", "Kiln dress, brought in", "Kiln dress, brought in 2"):
        assert shelf.count(f"<h2>{title}</h2>") == 1


@pytest.mark.parametrize(
    ("name", "what"),
    [
        ("my dress.pdf", "a PDF shows a pattern"),
        ("my dress.svg", "a drawing shows a pattern"),
        ("sizes.csv", "the file design.yaml, is not among"),
    ],
)
def test_what_is_no_design_is_refused_with_what_can_be_brought_in(
    window: Window, name: str, what: str
) -> None:
    answer = brought_in(window, (name, b"size,bust_girth_cm\n38,88\n"))
    assert answer.status_code == 422
    assert what in answer.text
    assert name in answer.text
    assert "Download as zip" in answer.text
    assert "upload" not in answer.text


def test_a_zip_without_a_design_says_so(window: Window) -> None:
    into = io.BytesIO()
    with zipfile.ZipFile(into, "w") as packed:
        packed.writestr("notes/list.csv", "a,b")
    answer = brought_in(window, ("things.zip", into.getvalue()))
    assert "this zip does not hold a design" in answer.text


def test_what_is_put_away_shows_its_picture(window: Window) -> None:
    shelf = window.change("/d/kiln-dress/archive").text
    assert 'src="/archive/kiln-dress/flat.svg"' in shelf
    picture = window.get("/archive/kiln-dress/flat.svg")
    assert picture.headers["content-type"].startswith("image/svg")
    assert picture.status_code == 200
    assert window.get("/archive/no-such-one/flat.svg").status_code == 422


def test_photos_of_cloth_travel_with_a_design(window: Window, workspace: Path) -> None:
    folder = workspace / "kiln-dress"
    (folder / "photos").mkdir()
    photo = _photo()
    (folder / "photos" / "rust.png").write_bytes(photo)
    (folder / "photos" / "unnamed.png").write_bytes(photo)
    make = folder / "makes" / "view-a.yaml"
    text = make.read_text().replace('color: "#b5603a"', "photo: ../photos/rust.png")
    make.write_text(text)
    sent = window.get("/d/kiln-dress/download").content
    names = zipfile.ZipFile(io.BytesIO(sent)).namelist()
    assert "kiln-dress/photos/rust.png" in names
    assert "kiln-dress/photos/unnamed.png" not in names
    answer = window.post(
        "/designs/import",
        files={"files": ("kiln-dress.zip", sent)},
        headers={"x-clothwise-token": window.csrf},
    )
    assert answer.status_code == 200
    assert (workspace / "kiln-dress-brought-in" / "photos" / "rust.png").read_bytes() == photo
    shown = window.get("/d/kiln-dress-brought-in/m/view-a/cut/photo/print")
    assert shown.headers["content-type"] == "image/png"


def test_what_only_calls_itself_a_photo_is_not_taken_in(window: Window, workspace: Path) -> None:
    into = io.BytesIO()
    with zipfile.ZipFile(into, "w") as packed:
        for name in ("design.yaml", "sizes.csv"):
            packed.write(workspace / "kiln-dress" / name, name)
        packed.writestr("photos/page.png", "<script>alert(1)</script>")
        packed.writestr("photos/.hidden/a.png", _photo())
        packed.writestr("../outside.png", _photo())
    answer = window.post(
        "/designs/import",
        files={"files": ("kiln-dress.zip", into.getvalue())},
        headers={"x-clothwise-token": window.csrf},
    )
    assert answer.status_code == 200
    assert not [*(workspace / "kiln-dress-brought-in").rglob("*.png")]
    assert not [*workspace.glob("*.png")]


def _photo() -> bytes:
    into = io.BytesIO()
    Image.new("RGB", (400, 300), (180, 90, 60)).save(into, "PNG")
    return into.getvalue()


def test_single_files_of_a_design_are_brought_in(window: Window, workspace: Path) -> None:
    folder = workspace / "kiln-dress"
    files = [
        ("files", (name, (folder / name).read_bytes())) for name in ("design.yaml", "sizes.csv")
    ]
    answer = window.post("/designs/import", files=files, headers={"x-clothwise-token": window.csrf})
    assert answer.status_code == 200
    assert (workspace / "kiln-dress-brought-in" / "sizes.csv").is_file()


def test_a_design_with_faults_stays_on_the_shelf_and_can_be_looked_at(
    window: Window, workspace: Path
) -> None:
    (workspace / "kiln-dress" / "design.yaml").write_text("title: [broken\n")
    text = window.page("/")
    assert "[broken" in text or "broken" in text


def test_no_folder_that_is_no_design_is_shown(window: Window, workspace: Path) -> None:
    (workspace / "zz-buttons-1907").mkdir()  # a name that no sentence of the page has
    (workspace / ".hidden").mkdir()
    (workspace / ".hidden" / "design.yaml").write_text("title: Hidden\n")
    text = window.page("/")
    assert "Kiln dress" in text
    assert "zz-buttons-1907" not in text
    assert "title: Hidden" not in text
    assert ">Hidden<" not in text
    assert "/d/.hidden" not in text


@pytest.mark.parametrize("kind", starter_names())
def test_the_picture_of_a_beginning_is_how_it_is_drawn_now(kind: str) -> None:
    """If this fails: `python -m clothwise.app.beginnings`, and look at what it wrote."""
    assert picture_file(kind).read_text(encoding="utf-8") == picture(kind)


# Makes


def test_a_new_make_is_like_another_or_plain(window: Window, workspace: Path) -> None:
    page = window.page("/d/kiln-dress/makes")
    assert "Kiln dress, own mixture" in page
    made = {"title": "Ada", "view": "B", "size": "42", "like": ""}
    answer = window.change("/d/kiln-dress/makes", base=window.head(), **made)
    assert answer.status_code == 200
    assert "/d/kiln-dress/m/ada/" in str(answer.url)
    text = (workspace / "kiln-dress" / "makes" / "ada.yaml").read_text()
    assert "view: B" in text
    assert "width: 140cm" in text
    made = {"title": "Bea", "view": "A", "size": "40", "like": "view-a"}
    window.change("/d/kiln-dress/makes", base=window.head(), **made)
    text = (workspace / "kiln-dress" / "makes" / "bea.yaml").read_text()
    assert "Slate linen" in text
    assert "size: 40" in text


def test_a_make_that_cannot_be_made_is_refused(window: Window, workspace: Path) -> None:
    made = {"title": "Ada", "view": "Z", "size": "42", "like": ""}
    answer = window.change("/d/kiln-dress/makes", base=window.head(), **made)
    assert answer.status_code == 422
    assert "your work is as it was" in answer.text
    assert not (workspace / "kiln-dress" / "makes" / "ada.yaml").exists()


def test_a_make_that_is_removed_comes_back_by_undo(window: Window, workspace: Path) -> None:
    path = workspace / "kiln-dress" / "makes" / "view-b.yaml"
    before = path.read_text()
    window.change("/d/kiln-dress/m/view-b/remove")
    assert not path.exists()
    window.change("/d/kiln-dress/undo", base=window.head())
    assert path.read_text() == before


# History


def test_history_reads_as_a_list_and_leads_back(window: Window, workspace: Path) -> None:
    for title in ("One", "Two", "Three"):
        window.change("/d/kiln-dress/rename", title=title)
    entries = window.get("/d/kiln-dress/history", headers={"accept": "application/json"}).json()[
        "entries"
    ]
    assert [each["words"] for each in entries[1:]] == ["title: One", "title: Two", "title: Three"]
    window.change(f"/d/kiln-dress/back-to/{entries[1]['id']}")
    assert "title: One" in (workspace / "kiln-dress" / "design.yaml").read_text()
    text = window.page("/d/kiln-dress/history")
    assert "Went back to “title: One”" in text
    assert text.index("Went back") < text.index("Title: Three")


def test_undo_survives_a_restart(workspace: Path) -> None:
    with entered(workspace) as window:
        window.change("/d/kiln-dress/rename", title="Changed")
    with entered(workspace) as window:
        assert "title: Changed" in window.page("/d/kiln-dress/history")
        answer = window.change("/d/kiln-dress/undo", base=window.head())
        assert answer.status_code == 204
        assert "Undone: title: Changed" in answer.headers["hx-trigger"]
    assert "title: Kiln dress" in (workspace / "kiln-dress" / "design.yaml").read_text()


def test_undo_of_an_old_page_is_told_and_changes_nothing(window: Window, workspace: Path) -> None:
    window.change("/d/kiln-dress/rename", title="One")
    stale = window.head()
    window.change("/d/kiln-dress/rename", title="Two")
    answer = window.change("/d/kiln-dress/undo", base=stale)
    assert answer.status_code == 409
    assert "another window" in answer.text
    assert "title: Two" in (workspace / "kiln-dress" / "design.yaml").read_text()


# Tour and settings


def test_the_tour_goes_through_five_rooms_and_can_be_left(window: Window) -> None:
    assert "New here?" in window.page("/")
    seen = []
    for stop in range(1, 6):
        answer = window.change("/tour", stop=str(stop), design="kiln-dress")
        seen.append(str(answer.url).rpartition("/")[2].partition("?")[0])
        assert f"Stop {stop} of 5" in window.page("/")
    assert len(set(seen)) >= 4, seen
    window.change("/tour", stop="seen")
    assert "New here?" not in window.page("/")
    assert "Stop" not in window.page("/")


def test_the_tour_is_of_the_sample_and_ends_with_a_way_to_the_shelf(window: Window) -> None:
    """Its words speak of the kiln dress, whatever was begun or brought in since."""
    window.change("/designs", kind="half-circle-skirt", title="Skirt")
    answer = window.change("/tour", stop="1", design="skirt")
    assert answer.url.path == "/d/kiln-dress/draft"
    last = window.change("/tour", stop="5", design="kiln-dress").text
    assert 'formaction="/tour?next=%2F">To the shelf' in last
    window.change("/d/kiln-dress/archive")
    assert window.change("/tour", stop="1", design="skirt").url.path == "/d/skirt/draft"


def test_settings_are_kept_and_shown_on_every_page(window: Window, workspace: Path) -> None:
    assert f"kept beside your designs, in {workspace}" in window.page("/settings")
    window.change("/settings", unit="in", theme="dark", type_size="table")
    assert 'data-theme="dark" data-type="table"' in window.page("/d/kiln-dress/history")
    with entered(workspace) as again:
        assert 'data-theme="dark" data-type="table"' in again.page("/")
        assert 'data-unit="in"' in again.page("/")


def test_settings_that_were_damaged_are_as_usual(window: Window, workspace: Path) -> None:
    for text in ("{", "[]", '{"theme": 3, "unit": "ell", "more": "x"}'):
        (workspace / ".clothwise" / "preferences.json").write_text(text)
        assert 'data-theme="auto"' in window.page("/")
