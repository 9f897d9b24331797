"""The pack room: what will be in a packet, building it, packets by number, downloads."""

from __future__ import annotations

import io
import json
import re
import time
import zipfile
from dataclasses import replace
from pathlib import Path

import pypdfium2
import pytest

from app.conftest import Window
from clothwise.app.jobs import _packing
from clothwise.app.jobs._packing import packed
from clothwise.app.jobs.pack import PackOf
from clothwise.app.packets import ABOUT, Packets
from clothwise.app.work import REFUSED_SIZE, JobRefused
from clothwise.errors import Misuse
from clothwise.jobs import JobsCancelled
from clothwise.pattern.document import starting_design

PACK = "/d/half-circle-skirt/m/make/pack"
NAMES = {
    *("booklet.pdf", "pattern-pages.pdf", "pattern-a0.pdf", "cutting-list.csv"),
    *("measurement-sheet.pdf", "measurement-sheet.xlsx", "packet.json"),
}


@pytest.fixture
def skirt(workspace: Path) -> Path:
    """A second design, quicker to lay out than the dress."""
    folder = workspace / "half-circle-skirt"
    starting_design("half-circle-skirt", folder)
    return folder


def state(window: Window) -> dict[str, object]:
    found: dict[str, object] = window.get(
        f"{PACK}/state", headers={"accept": "application/json"}
    ).json()
    return found


def job(folder: Path, into: Path) -> PackOf:
    """The job of the room, to be run here."""
    names = [path for path in folder.iterdir() if path.suffix in (".yaml", ".csv")]
    documents = {path.name: path.read_text() for path in names}
    return PackOf("skirt", documents, "make.yaml", str(folder), into=str(into), effort="quick")


def test_what_will_be_in_it_is_told_before(window: Window, skirt: Path) -> None:
    shown = window.part(f"{PACK}/contents")
    assert "7 files in one folder" in shown
    assert all(name in shown for name in NAMES)
    assert "None yet" in window.part(f"{PACK}/state")
    # On a phone the list of files stands before what builds them; the way there is short.
    assert '<a class="button" href="#state">Build it</a>' in shown


def test_sizes_and_paper_of_the_pattern_are_chosen_and_remembered(
    window: Window, skirt: Path
) -> None:
    """Those that were printed on one another last are offered; the own one is always among them."""
    shown = window.part(f"{PACK}/contents")
    assert re.search('id="pack-own"[^>]* checked', shown)
    assert "All 10 sizes: 34 to 52" in shown
    print_ = PACK.replace("/pack", "/print")
    window.get(
        f"{print_}/pages?paper=letter&chosen=yes&several=yes&sizes=40&sizes=42&paper_was=a4",
        headers={"HX-Request": "true"},
    )
    kept = re.findall(r'<option value="(\S+)" selected', window.part(f"{PACK}/contents"))
    assert kept == ["letter"]
    fields = {"paper": "letter", "paper_was": "letter"}
    checked = r'name="sizes" value="(\S+)" checked'
    these = window.change(f"{PACK}/choose", which="these", **fields).text  # those of Print
    assert re.findall(checked, these) == ["38", "40", "42"]
    assert 'name="sizes_shown"' in these
    boxes = {"sizes": ["40", "44"], "sizes_shown": "yes"}
    other = window.change(f"{PACK}/choose", which="these", **boxes, **fields).text
    assert re.findall(checked, other) == ["38", "40", "44"]
    assert "38, 40 and 44 drawn inside each other" in other
    assert "on Letter pages" in window.part(f"{PACK}/contents")
    every = window.change(f"{PACK}/choose", which="all", **fields).text
    assert "sizes 34 to 52 drawn inside each other" in every


def test_a_make_for_own_measurements_has_no_sizes_to_choose(window: Window, skirt: Path) -> None:
    make = skirt / "make.yaml"
    make.write_text(f"{make.read_text()}size: 38\nmeasurements:\n  waist_girth: 71cm\n")
    window.change(f"{PACK}/choose", which="all", paper="a4", paper_was="a4")
    shown = window.part(f"{PACK}/contents")
    assert "Sizes in the pattern" not in shown
    assert "drawn inside each other" not in shown


def test_a_paper_that_is_not_there_is_refused(window: Window, skirt: Path) -> None:
    answer = window.change(f"{PACK}/choose", which="own", paper="papyrus")
    assert answer.status_code == 422
    assert "no paper named" in answer.text


def test_a_build_packs_the_sizes_that_are_chosen(skirt: Path, tmp_path: Path) -> None:
    """A size that cannot be drafted is refused by its name, and nothing is left behind."""
    into = tmp_path / "packets"
    chosen = replace(job(skirt, into), which="these", sizes=("36", "40", "gone"), paper="letter")
    number = packed(chosen, lambda *_: None, lambda: False)
    pdf = pypdfium2.PdfDocument(into / str(number) / "pattern-a0.pdf")
    assert "Sizes 36 to 40" in pdf[0].get_textpage().get_text_bounded()
    found = json.loads((into / str(number) / ABOUT).read_text())
    assert found["pattern"] == "sizes 36 to 40"
    assert "Packet 1, design as it was" in pdf[0].get_textpage().get_text_bounded()
    design = skirt / "design.yaml"
    wider = "waist_ease: 15mm + waist_girth - 70cm"  # 15 mm in size 38, far too much in size 52
    design.write_text(design.read_text().replace("waist_ease: 15mm", wider))
    with pytest.raises(JobRefused) as refused:
        packed(replace(job(skirt, into), which="all"), lambda *_: None, lambda: False)
    assert refused.value.kind == REFUSED_SIZE
    assert "Or take it out of the sizes in the pattern." in refused.value.what_to_do
    assert [each.name for each in into.iterdir()] == [str(number)]


def test_plain_rectangles_are_left_out_of_the_packet_as_of_the_print(
    window: Window, skirt: Path, tmp_path: Path
) -> None:
    """What is chosen in Print stands in Pack and the other way round; the packet follows."""
    shown = window.part(f"{PACK}/contents")
    assert re.search('id="pack-rectangles"[^>]*>', shown)
    assert not re.search('id="pack-rectangles"[^>]* checked', shown)
    assert "Leave plain rectangles out of the print" in shown
    assert "Waistband: the first page tells all" in shown
    pieces = int(re.findall(r"(\d+) pieces? on", shown)[0])
    pages = PACK.replace("/pack", "/print/pages")
    query = "paper=a4&chosen=yes&several=no&rectangles=out&paper_was=a4"
    window.get(f"{pages}?{query}", headers={"HX-Request": "true"})
    shown = window.part(f"{PACK}/contents")
    assert re.search('id="pack-rectangles"[^>]* checked', shown)
    assert f"{pieces - 1} piece" in shown
    assert "without Waistband, to be measured out on the cloth" in shown
    assert "Measured out" in window.part(pages)
    assert "Measured out" not in window.page(f"{pages}?paper=a4&chosen=yes")  # an address says it
    fields = {"paper": "a4", "paper_was": "a4", "which": "own"}
    assert "without Waistband" in window.change(f"{PACK}/choose", **fields).text  # no box was shown
    again = window.change(f"{PACK}/choose", rectangles_shown="yes", **fields).text
    assert "without Waistband" not in again
    assert "Measured out" not in window.part(pages)


def test_a_packet_without_plain_rectangles_tells_how_to_measure_them_out(
    skirt: Path, tmp_path: Path
) -> None:
    into = tmp_path / "packets"
    number = packed(replace(job(skirt, into), no_rectangles=True), lambda *_: None, lambda: False)
    for name in ("pattern-pages.pdf", "pattern-a0.pdf"):
        pdf = pypdfium2.PdfDocument(into / str(number) / name)
        words = "".join(each.get_textpage().get_text_bounded() for each in pdf)
        assert "These rectangles are not printed." in words, name
        assert "Waistband" in words, name
    assert json.loads((into / str(number) / ABOUT).read_text())["has_no_rectangles"] is True


def test_a_packet_without_any_plain_rectangle_is_not_said_to_lack_them(
    workspace: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The choice is of the design; this make of it has none."""
    monkeypatch.setattr(_packing, "pack", lambda *_, **__: ())  # what is in it is not asked here
    monkeypatch.setattr(_packing, "told_rectangles", lambda _: ())
    folder = workspace / "half-circle-skirt"
    starting_design("half-circle-skirt", folder)
    into = tmp_path / "packets"
    asked = replace(job(folder, into), no_rectangles=True)
    monkeypatch.setattr(_packing, "write_atomically", _written)
    number = packed(asked, lambda *_: None, lambda: False)
    assert json.loads((into / str(number) / ABOUT).read_text())["has_no_rectangles"] is False


def _written(path: Path, text: str) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text)


def test_of_how_many_sizes_it_is_known_that_they_go_together_is_told(
    window: Window, skirt: Path
) -> None:
    shown = window.part(f"{PACK}/contents")
    assert "Everything goes together for size 38" in shown
    assert "The other sizes of the chart are not checked here" in shown
    assert 'href="/d/half-circle-skirt/check?scope=range"' in shown


def test_a_make_whose_size_cannot_be_drafted_is_told_by_its_size(
    window: Window, skirt: Path, tmp_path: Path
) -> None:
    design, make = skirt / "design.yaml", skirt / "make.yaml"
    wider = "waist_ease: 15mm + waist_girth - 70cm"  # 15 mm in size 38, far too much in size 52
    design.write_text(design.read_text().replace("waist_ease: 15mm", wider))
    make.write_text(f"{make.read_text()}size: 52\n")
    answer = window.get(f"{PACK}/contents", headers={"accept": "text/html"})
    assert answer.status_code == 422
    assert "Size 52 cannot be drafted: " in answer.text, re.sub("<[^>]+>", "", answer.text)[-900:]
    assert "Or give the make another size." in answer.text
    assert 'href="/d/half-circle-skirt/draft?size=52"' in answer.text
    assert "design.yaml" not in answer.text
    with pytest.raises(JobRefused) as refused:
        packed(job(skirt, tmp_path), lambda *_: None, lambda: False)
    assert (refused.value.kind, refused.value.where) == (REFUSED_SIZE, "52")


def test_a_packet_is_built_listed_and_downloaded(
    window: Window, skirt: Path, workspace: Path
) -> None:
    begun = window.change(f"{PACK}/build", effort="quick").text
    assert "packing-bar" in begun
    assert "You can go to other rooms meanwhile" in begun
    ends = time.monotonic() + 110
    while state(window)["running"] and time.monotonic() < ends:
        time.sleep(0.2)
    shown = window.part(f"{PACK}/state")
    assert "Packet 1 is finished" in shown, shown
    assert "made from the design as it is now" in shown
    assert '<option value="quick" selected' in shown  # the search that was chosen stays chosen
    assert {path.name for path in (workspace / "packets/half-circle-skirt/make/1").iterdir()} == {
        *NAMES,
        ABOUT,
    }
    pdf = window.get(f"{PACK}/1/booklet.pdf")
    assert pdf.headers["content-disposition"].startswith("attachment")
    booklet = pypdfium2.PdfDocument(io.BytesIO(pdf.content))
    assert len(booklet) > 2
    marked = f"Packet 1, design {window.head('half-circle-skirt')}"
    assert f"Its pages are marked {marked}." in shown
    for page in booklet:
        assert marked in page.get_textpage().get_text_bounded()
    archive = zipfile.ZipFile(io.BytesIO(window.get(f"{PACK}/1.zip").content))
    assert {Path(name).name for name in archive.namelist()} == NAMES
    _refuses_what_is_not_in_it(window)


def test_a_packet_is_out_of_date_after_a_change_of_what_it_was_made_from(
    window: Window, skirt: Path, workspace: Path
) -> None:
    """By which change is told first; it stays to be downloaded, and undo makes it good again."""
    head = window.head("half-circle-skirt")
    folder = workspace / "packets/half-circle-skirt/make/1"
    folder.mkdir(parents=True)
    (folder / "booklet.pdf").write_bytes(b"%PDF")
    files = [{"name": "booklet.pdf", "what": "booklet", "pages": 1, "size_bytes": 4}]
    about = {"title": "Skirt", "fit": "size 38", "at": "2026-11-26T10:15:02Z", "head": head}
    (folder / ABOUT).write_text(json.dumps({**about, "files": files}))
    shown = window.part(f"{PACK}/state")
    assert "made from the design as it is now" in shown
    assert "out of date" not in shown
    design = skirt / "design.yaml"
    before = design.read_text()
    design.write_text(before.replace("waist_ease: 15mm", "waist_ease: 20mm"))
    shown = window.part(f"{PACK}/state")
    assert "<strong>Packet 1 is out of date.</strong> Changed since it was built:" in shown
    assert "<ul><li>Changed outside the program</li></ul>" in shown
    assert "is finished" not in shown
    assert f'href="{PACK}/1.zip"' in shown
    assert "1 change made since" in shown
    design.write_text(before)
    assert "made from the design as it is now" in window.part(f"{PACK}/state")


def _refuses_what_is_not_in_it(window: Window) -> None:
    for address in ("1/.about.json", "1/..%2F..%2F..%2F..%2Fdesign.yaml", "2/booklet.pdf", "x.zip"):
        answer = window.get(f"{PACK}/{address}", headers={"accept": "text/html"})
        assert answer.status_code in (404, 422), address


def test_a_build_can_be_stopped_and_leaves_nothing(
    window: Window, skirt: Path, workspace: Path
) -> None:
    window.change(f"{PACK}/build", effort="long")
    stopped = window.change(f"{PACK}/cancel").text
    assert "Stopped. No packet was made" in stopped
    assert state(window)["packets"] == []


def test_a_search_that_is_not_there_is_refused(window: Window, skirt: Path) -> None:
    answer = window.change(f"{PACK}/build", effort="forever")
    assert answer.status_code == 422
    assert "no search called" in answer.text


def test_a_stopped_job_leaves_no_folder(skirt: Path, tmp_path: Path) -> None:
    into = tmp_path / "packets"
    with pytest.raises(JobsCancelled):
        packed(job(skirt, into), lambda *_: None, lambda: True)
    assert list(into.iterdir()) == []


def test_a_build_that_was_killed_is_swept_up_and_numbers_go_on(skirt: Path, tmp_path: Path) -> None:
    into = tmp_path / "packets"
    (into / ".building-0123").mkdir(parents=True)
    (into / ".building-0123/booklet.pdf").write_text("half")
    (into / "4").mkdir()
    heard: list[tuple[float, str]] = []
    number = packed(
        job(skirt, into), lambda share, words="", data=None: heard.append((share, words)), bool
    )
    assert number == 5
    assert sorted(path.name for path in into.iterdir()) == ["4", "5"]
    shares = [share for share, _ in heard]
    assert shares == sorted(shares)
    assert [words for _, words in heard][-1] == "measuring all sizes"


def test_packets_whose_notes_are_damaged_are_passed_over(tmp_path: Path) -> None:
    packets = Packets(tmp_path, "dress", "make")
    for number, text in ((1, "{"), (2, "[]"), (3, json.dumps({"files": 3}))):
        (packets.folder / str(number)).mkdir(parents=True)
        (packets.folder / str(number) / ABOUT).write_text(text)
    assert packets.all() == ()


def test_a_file_that_leads_elsewhere_is_not_handed_out(tmp_path: Path) -> None:
    packets = Packets(tmp_path, "dress", "make")
    folder = packets.folder / "1"
    folder.mkdir(parents=True)
    secret = tmp_path / "secret.txt"
    secret.write_text("secret")
    (folder / "booklet.pdf").symlink_to(secret)
    files = [{"name": name, "what": "", "pages": 0, "size_bytes": 1} for name in ("booklet.pdf",)]
    files.append({"name": "../../../secret.txt", "what": "", "pages": 0, "size_bytes": 1})
    about = {"title": "", "fit": "", "at": "", "head": "", "files": files}
    (folder / ABOUT).write_text(json.dumps(about))
    for name in ("booklet.pdf", "../../../secret.txt"):
        with pytest.raises(Misuse):
            packets.file("1", name)
