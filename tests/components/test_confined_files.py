"""What a stranger's documents name is not read outside the folder that was given."""

import os
import shutil
from pathlib import Path

import pytest

from clothwise.components import open_design, open_make, read_design, read_make
from clothwise.errors import DocumentError
from clothwise.pattern.commands import read_documents

EXAMPLES = Path(__file__).parents[2] / "examples"
SECRET = "name: Secret\nmeasurements:\n  secret_key: 12\n"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A design inside a workspace, with things outside the workspace that nobody may read."""
    (tmp_path / "secret.yaml").write_text(SECRET)
    (tmp_path / "secret.png").write_bytes(b"\x89PNG")
    shutil.copytree(EXAMPLES / "kiln-dress", tmp_path / "workspace" / "dress")
    shutil.copytree(EXAMPLES / "kiln-dress", tmp_path / "elsewhere")
    return tmp_path / "workspace" / "dress"


def with_line(folder: Path, line: str) -> Path:
    """The make with one line more at its end, or in its first fabric if it is indented."""
    file = folder / "makes" / "view-a.yaml"
    text = file.read_text()
    if line.startswith(" "):
        before, key, after = text.partition("fabrics:\n")
        first, _, rest = after.partition("\n")
        text = f"{before}{key}{first}\n{line}\n{rest}"
    else:
        text += f"{line}\n"
    file.write_text(text)
    return file


LEADING_OUT = {
    "body": "body: ../../../secret.yaml",
    "absolute body": "body: /etc/passwd",
    "stash": "stash: ../../../secret.yaml",
    "photo": "    photo: ../../../secret.png",
    "design": "design: ../../../elsewhere",
}


@pytest.mark.parametrize("line", LEADING_OUT.values(), ids=LEADING_OUT)
def test_make_names_nothing_outside_the_workspace(folder: Path, line: str) -> None:
    file = with_line(folder, line)
    with pytest.raises(DocumentError) as caught:
        read_make(file, within=folder.parent)
    assert "leads out of the folder that may be read" in str(caught.value)
    assert "secret_key" not in str(caught.value)


@pytest.mark.parametrize("line", LEADING_OUT.values(), ids=LEADING_OUT)
def test_make_among_documents_names_nothing_outside_them(folder: Path, line: str) -> None:
    with_line(folder, line)
    with pytest.raises(DocumentError) as caught:
        open_make(read_documents(folder), "makes/view-a.yaml", within=folder)
    assert "leads out of the folder that may be read" in str(caught.value)
    assert "secret_key" not in str(caught.value)


def test_whether_there_is_something_outside_is_not_told(folder: Path) -> None:
    messages = set()
    for name in ("secret.yaml", "nothing.yaml"):
        file = folder / "makes" / "one.yaml"
        file.write_text(f"size: 38\nbody: ../../../{name}\n")
        with pytest.raises(DocumentError) as caught:
            read_make(file, within=folder.parent)
        messages.add(str(caught.value).replace(name, "NAME"))
    assert len(messages) == 1


def test_links_that_lead_out_are_not_followed(folder: Path) -> None:
    outside = folder.parents[1] / "elsewhere" / "sizes.csv"
    (folder / "sizes.csv").unlink()
    os.symlink(outside, folder / "sizes.csv")
    assert "sizes.csv" not in read_documents(folder)
    for opened in (
        lambda: read_design(folder, within=folder.parent),
        lambda: open_design(read_documents(folder), within=folder),
    ):
        with pytest.raises(DocumentError, match=r"no file 'sizes\.csv'"):
            opened()
    read_design(folder)  # on the command line, people's own links are theirs


def test_what_lies_inside_may_be_named(folder: Path) -> None:
    (folder.parent / "cloths.yaml").write_text("schema: 1\nfabrics:\n  wool: {width: 150cm}\n")
    file = with_line(folder, "stash: ../../cloths.yaml")
    assert read_make(file, within=folder.parent).stash.fabrics[0].name == "wool"


def test_documents_open_as_their_files_do(folder: Path) -> None:
    documents = read_documents(folder)
    assert open_design(documents, within=folder) == read_design(folder)
    for name in ("makes/view-a.yaml", "makes/own-mixture.yaml"):
        assert open_make(documents, name, within=folder) == read_make(folder / name)
    without_folder = open_make(documents, "makes/view-b.yaml")
    assert without_folder.make == read_make(folder / "makes/view-b.yaml").make


def test_document_that_cannot_be_read_is_told(folder: Path) -> None:
    (folder / "sizes.csv").write_bytes(b"size,height\xff")
    with pytest.raises(DocumentError, match="is not UTF-8"):
        open_design(read_documents(folder), within=folder)
