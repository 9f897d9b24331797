"""For whom a make is: a size, a person, own measurements, or a size with some own."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from app.conftest import Window
from app.measured_chart import with_size
from app.shared_window import as_at_first
from clothwise.components import read_make
from clothwise.pattern.body_file import parse_body_yaml

WHOM = "/d/kiln-dress/m/view-a/for-whom"


@pytest.fixture
def window(of_module: Window) -> Window:
    return as_at_first(of_module)


@pytest.fixture
def make(of_module: Window) -> Path:
    folder: Path = of_module.app.state.shop.workspace.folder  # type: ignore[attr-defined]
    return folder / "kiln-dress" / "makes" / "view-a.yaml"


def keep(window: Window, **fields: str):  # type: ignore[no-untyped-def]
    return window.change(WHOM, base=window.head(), **fields)


def words(text: str) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", text)).replace("&#39;", "'")


def test_every_way_leads_to_it(window: Window) -> None:
    for page in (
        "/d/kiln-dress/makes",
        *(f"/d/kiln-dress/m/view-a/{room}" for room in ("cut", "sew", "print", "pack")),
    ):
        assert f'href="{WHOM}"' in window.page(page), page
    assert "own measurements</a>" in window.page("/")  # the shelf leads to the page of makes


def test_single_measurements_differ_from_the_size(window: Window, make: Path) -> None:
    page = window.page(WHOM)
    assert "Kiln dress, view A: size 38" in words(page)
    assert re.search('name="waist_girth" value="" placeholder="70"', page)
    assert keep(window, start="size:38", waist_girth="74", hip_girth="").status_code == 204
    assert "waist_girth: 74 cm" in make.read_text()
    body = read_make(make).body
    assert (body.name, body["waist_girth"], body["bust_girth"]) == ("38", 740, 880)
    assert "For Size 38 with own waist girth" in words(window.page("/d/kiln-dress/makes"))
    assert 'value="74" placeholder="70"' in window.page(WHOM)
    assert "size 38 with own measurements" in window.page("/d/kiln-dress/m/view-a/print/pages")


def test_figures_of_a_size_are_not_shown_as_those_of_somebody(window: Window) -> None:
    nobody = words(window.page(f"{WHOM}?start=own"))
    assert "Size 38, not this body" in nobody
    assert "The figures below are those of size 38" in nobody
    assert "This body" not in nobody
    measured = "height=168&bust_girth=96&waist_girth=75&hip_girth=101"
    hers = words(window.part(f"{WHOM}/form?start=own&{measured}"))
    assert "This body" in hers
    assert "The figures below are those" not in hers
    assert "This body" in words(window.page(WHOM))


def test_the_room_of_measurements_is_lit(window: Window) -> None:
    assert re.search(r'href="/d/kiln-dress/measure"[^>]*aria-current="page"', window.page(WHOM))


def test_it_is_undone_and_emptied_again(window: Window, make: Path) -> None:
    before = make.read_text()
    keep(window, waist_girth="74")
    window.change("/d/kiln-dress/undo", base=window.head())
    assert make.read_text() == before
    keep(window, waist_girth="74", bust_girth="90")
    keep(window, waist_girth="")
    assert read_make(make).make.measurements == {"bust_girth": "90 cm"}
    head = window.head()
    keep(window, waist_girth="", bust_girth="90", start="size:38", seed="1")
    assert window.head() == head  # nothing differs from what was shown


def test_another_size_and_seed_are_kept_beside_what_the_make_says(
    window: Window, make: Path
) -> None:
    fabrics = read_make(make).make.fabrics
    keep(window, start="size:44", seed="7")
    made = read_make(make).make
    assert (made.size, made.seed, made.body) == ("44", 7, "")
    assert made.fabrics == fabrics


def test_own_measurements_alone_make_a_body(window: Window, make: Path) -> None:
    own = {"height": "172", "bust_girth": "95", "waist_girth": "78", "hip_girth": "41 in"}
    keep(window, start="own", **own)
    made = read_make(make)
    assert made.make.size == ""
    assert made.body["hip_girth"] == pytest.approx(41 * 25.4)
    assert made.body.is_estimated("neck_girth")
    assert "own measurements" in words(window.page(WHOM))
    assert "For Own measurements" in words(window.page("/d/kiln-dress/makes"))


def test_own_measurements_alone_are_refused_if_some_are_missing(window: Window, make: Path) -> None:
    before = make.read_text()
    answer = keep(window, start="own", height="172", bust_girth="95")
    assert answer.status_code == 422
    assert "own measurements alone need waist girth and hip girth" in words(answer.text).casefold()
    assert "Kiln dress, view A" in answer.text
    assert "2 of 4 are missing" in answer.text
    assert make.read_text() == before


@pytest.mark.parametrize(
    ("name", "text", "told"),
    [
        ("waist_girth", "abc", "'abc' is not a length"),
        ("waist_girth", "7", "45 cm to 190 cm"),
        ("waist_girth", "150", "Waist girth"),
        ("shoulder_slope", "steep", "such as 21°"),
    ],
)
def test_what_no_body_has_is_refused_by_its_name(
    window: Window, make: Path, name: str, text: str, told: str
) -> None:
    before = make.read_text()
    answer = keep(window, start="size:38", **{name: text})
    assert answer.status_code == 422
    assert told in words(answer.text)
    assert f"{name.replace('_', ' ').capitalize()}, Kiln dress, view A" in words(answer.text)
    assert "view-a.yaml" not in answer.text
    assert make.read_text() == before


def test_an_example_is_one_of_that_measurement(window: Window) -> None:
    """Also where nothing stands that it could be taken from."""
    answer = keep(window, start="own", height="tall", shoulder_slope="steep")
    told = words(answer.text)
    assert re.search(
        r"Height, Kiln dress, view A: 'tall' is not a length.* such as 1[5-9]\d cm", told
    )
    assert re.search(r"Shoulder slope, .*such as \d\d°", told)


def test_a_seed_is_a_number(window: Window, make: Path) -> None:
    before = make.read_text()
    answer = keep(window, seed="often")
    assert answer.status_code == 422
    assert "Write a whole number" in answer.text
    assert make.read_text() == before


@pytest.mark.parametrize("start", ["size:999", "person:design.yaml", "nobody"])
def test_no_size_and_no_person_that_is_not_there(window: Window, make: Path, start: str) -> None:
    before = make.read_text()
    answer = keep(window, start=start)
    assert answer.status_code == 422
    assert "no such size or person" in answer.text
    assert make.read_text() == before


def test_a_person_with_a_file_can_be_chosen(window: Window, make: Path) -> None:
    bodies = make.parents[1] / "bodies"
    bodies.mkdir(exist_ok=True)
    (bodies / "ada.yaml").write_text(
        "name: Ada\nunit: cm\nmeasurements:\n  height: 168\n"
        "  bust_girth: 92\n  waist_girth: 74\n  hip_girth: 99\n"
    )
    assert 'value="person:bodies/ada.yaml"' in window.page(WHOM)
    keep(window, start="person:bodies/ada.yaml", waist_girth="76")
    made = read_make(make)
    assert made.make.body == "../bodies/ada.yaml"
    assert (made.body["hip_girth"], made.body["waist_girth"]) == (990, 760)
    assert "For Ada with own waist girth" in words(window.page("/d/kiln-dress/makes"))


def test_another_beginning_is_looked_at_before_it_is_kept(window: Window, make: Path) -> None:
    head = window.head()
    part = window.part(f"{WHOM}/form?start=size:44&waist_girth=88&bust_girth=")
    assert re.search('name="waist_girth" value="88" placeholder="82"', part)
    assert "waist girth" in part
    own = window.part(f"{WHOM}/form?start=own&waist_girth=&bust_girth=")
    assert "needed" in own
    assert window.head() == head


def test_in_inches_a_bare_figure_means_inches(window: Window, make: Path) -> None:
    window.change("/settings", unit="in")
    try:
        assert keep(window, waist_girth="29 1/2").status_code == 204
        assert read_make(make).make.measurements == {"waist_girth": "29 1/2 in"}
        assert 'value="29 1/2"' in window.page(WHOM)
    finally:
        window.change("/settings", unit="")


def test_a_new_make_can_be_begun_with_own_measurements(window: Window) -> None:
    answer = window.change(
        "/d/kiln-dress/makes", base=window.head(), title="For Bo", view="A", size="own:", like=""
    )
    there = "/d/kiln-dress/m/for-bo/for-whom?start=own"
    assert str(answer.url).endswith(there)
    page = window.page(there)
    assert re.search('<option value="own" selected>', page)
    assert "needed" in page


def test_a_body_for_which_nothing_can_be_drafted_says_so(window: Window, make: Path) -> None:
    make.write_text(make.read_text().replace("size: 38", "size: 99"))
    page = window.page(WHOM)
    assert "No pattern can be drafted for this body" in page
    assert "99" in words(page)
    assert keep(window, start="size:40").status_code == 204
    assert "No pattern can be drafted" not in window.page(WHOM)


def test_a_room_of_a_make_offers_another_size_and_leads_back(window: Window, make: Path) -> None:
    for room in ("cut", "sew", "print", "pack"):
        page = window.page(f"/d/kiln-dress/m/view-a/{room}")
        assert f'action="{WHOM}?back={room}" data-made-in="38" data-people=\'[]\' hidden' in page
    answer = window.change(f"{WHOM}?back=print", base=window.head(), start="size:44")
    assert answer.url.path == "/d/kiln-dress/m/view-a/print"
    assert "size: 44" in make.read_text()
    assert 'data-made-in="44"' in answer.text
    elsewhere = window.change(f"{WHOM}?back=//evil", base=window.head(), start="size:42")
    assert elsewhere.url.path == WHOM


def test_a_make_for_somebody_is_offered_no_size(window: Window) -> None:
    own = {"height": "171", "bust_girth": "98", "waist_girth": "84", "hip_girth": "107"}
    keep(window, start="own", **own)
    assert "data-made-in" not in window.page("/d/kiln-dress/m/view-a/print")


def test_a_person_of_the_chart_is_offered_as_one(window: Window) -> None:
    """For a new make and for this one; the make is told by the name, and not as a size."""
    with_size(window, "Ada")
    assert ">Ada, a person of the chart</option>" in window.page("/d/kiln-dress/makes")
    assert keep(window, start="size:Ada").status_code == 204
    assert "Kiln dress, view A: Ada" in words(window.page(WHOM))


def bring(window: Window, name: str, content: bytes):  # type: ignore[no-untyped-def]
    return window.post(
        f"{WHOM}/bring",
        data={"base": window.head()},
        files={"file": (name, content, "application/yaml")},
        headers={"hx-request": "true", "x-clothwise-token": window.csrf, "accept": "text/html"},
    )


def test_measurements_are_saved_as_a_file_and_brought_into_another_make(
    window: Window, make: Path
) -> None:
    keep(window, start="size:42", waist_girth="84", arm_length="61.5")
    before = dict(read_make(make).body)
    page = window.page(WHOM)
    assert f'href="{WHOM}/body.yaml"' in page
    saved = window.get(f"{WHOM}/body.yaml")
    assert saved.status_code == 200
    assert 'filename="view-a-measurements.yaml"' in saved.headers["content-disposition"]
    assert parse_body_yaml(saved.text)["waist_girth"] == 840
    keep(window, start="size:36", waist_girth="", arm_length="", neck_girth="34")
    assert bring(window, "ida.yaml", saved.content).status_code == 204
    made = read_make(make)
    assert (made.make.size, made.make.body) == ("", "")
    assert "neck_girth" not in made.make.measurements
    assert dict(made.body) == pytest.approx(before, abs=1e-6)
    window.change("/d/kiln-dress/undo", base=window.head())
    assert read_make(make).make.size == "36"


def test_a_csv_file_is_brought_in_too(window: Window, make: Path) -> None:
    lines = ["measurement,value", "height,168", "bust_girth,36 1/2 in", "waist_girth,72",
             "hip_girth,98"]  # fmt: skip
    assert bring(window, "ida.csv", "\n".join(["# unit: cm", *lines]).encode()).status_code == 204
    assert read_make(make).body["bust_girth"] == pytest.approx(927.1)


@pytest.mark.parametrize(
    ("name", "content", "told"),
    [
        ("ida.yaml", b"measurements:\n  height: tall\n", "'tall' is not a length"),
        ("ida.yaml", b"\xff\xfe\x00", "no list of measurements"),
        ("ida.yaml", b"#" * 30_000, "no list of measurements"),
        ("", b"", "no measurements to read"),
    ],
)
def test_a_file_that_is_none_is_refused_in_words(
    window: Window, make: Path, name: str, content: bytes, told: str
) -> None:
    before = make.read_text()
    answer = bring(window, name, content)
    assert answer.status_code == 422
    assert told in words(answer.text)
    assert make.read_text() == before
