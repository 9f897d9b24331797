"""The folder that holds the designs: one sub-folder each, the app's own things in `.clothwise/`."""

from __future__ import annotations

import os
import shutil
import time
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import IO
from uuid import uuid4

from clothwise.app.design_folder import entitle, make_names, title_of
from clothwise.app.packets import FOLDER as PACKETS
from clothwise.app.security import folder_name, inside, is_folder_name
from clothwise.errors import Misuse, OutputError
from clothwise.pattern.commands.documents import DESIGN_DOCUMENT

__all__ = ["ARCHIVE", "OWN", "Found", "Workspace"]

OWN = ".clothwise"
ARCHIVE = "archive"
_MOSTDESIGN_DOCUMENTS = 500


@dataclass(frozen=True)
class Found:
    """A design as it stands on the shelf, known without reading it.

    Attributes:
        name: of its folder, and in addresses.
        title: as written in the design; the name, if it has none.
        changed_s: when it was changed last, in seconds of the clock.
        makes: names of its makes, as in addresses.
        is_archived: put away.
    """

    name: str
    title: str
    changed_s: float
    makes: tuple[str, ...] = ()
    is_archived: bool = False

    @property
    def changed(self) -> str:
        """When it was changed last, in words."""
        return _ago(time.time() - self.changed_s)


class Workspace:
    """The folder of all designs. Nothing in it is ever deleted by the app."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._lock: IO[str] | None = None

    @property
    def own(self) -> Path:
        """The folder of the app's own things; none of them is a source."""
        return self.folder / OWN

    def prepare(self) -> None:
        """Make the folder and the app's own one, for nobody else on this computer to read.

        Raises:
            OutputError: they cannot be made, or links in them lead elsewhere.
        """
        try:
            self.folder.parent.mkdir(parents=True, exist_ok=True)
            self.folder.mkdir(exist_ok=True, mode=0o700)
            if (link := self._link()) is not None:
                raise OutputError(
                    "a link stands where the app keeps things of its own",
                    where=str(link),
                    what_to_do="Take it away: what is written must stay in the folder of designs.",
                )
            self.own.mkdir(exist_ok=True, mode=0o700)
            if os.name == "posix" and self.own.stat().st_mode & 0o077:
                self.own.chmod(0o700)
        except OSError as error:
            raise OutputError(
                "the folder for the designs cannot be made",
                where=str(self.folder),
                how_much=error.strerror or type(error).__name__,
                what_to_do="Choose a folder that you may write to: clothwise open FOLDER",
            ) from error

    def _link(self) -> Path | None:
        """A link among what the app writes to by itself, if there is one."""
        for folder in (self.own, self.folder / PACKETS, self.folder / ARCHIVE):
            if folder.is_symlink():
                return folder
        for folder in (self.own, self.folder / PACKETS):
            for place, *names in os.walk(folder):
                paths = [Path(place, name) for name in (*names[0], *names[1])]
                if found := next((path for path in paths if path.is_symlink()), None):
                    return found
        return None

    # What is there

    def designs(self) -> tuple[Found, ...]:
        """Return the designs on the shelf, the one changed last first."""
        return self._in(self.folder)

    def archived(self) -> tuple[Found, ...]:
        """Return the designs that were put away."""
        return self._in(self.folder / ARCHIVE, is_archived=True)

    def folder_of(self, name: str) -> Path:
        """Return the folder of a design.

        Raises:
            Misuse: there is no such design on the shelf.
        """
        if is_folder_name(name):
            folder = inside(self.folder, name)
            if (folder / DESIGN_DOCUMENT).is_file():
                return folder
        raise Misuse(
            "there is no such design on the shelf",
            where=name[:40],
            what_to_do="It may have been archived or renamed. Choose one from the shelf.",
        )

    def _in(self, folder: Path, *, is_archived: bool = False) -> tuple[Found, ...]:
        if not folder.is_dir() or folder.is_symlink():
            return ()
        places = [each for each in folder.iterdir() if is_folder_name(each.name)]
        found = [
            Found(
                each.name,
                title_of(each),
                _changed_s(each),
                () if is_archived else make_names(each),
                is_archived,
            )
            for each in places[:_MOSTDESIGN_DOCUMENTS]
            if not each.is_symlink() and (each / DESIGN_DOCUMENT).is_file()
        ]
        return tuple(sorted(found, key=lambda each: (-each.changed_s, each.name)))

    # What is done

    def begin(self, kind: str, title: str) -> str:
        """Make a design from one of the beginnings; return its name.

        Raises:
            Misuse: no such beginning, or a title without a letter.
            OutputError: it cannot be written; nothing is left behind.
        """
        from clothwise.pattern.document import starting_design

        name = self.free_name(title)
        folder = inside(self.folder, name)
        starting_design(kind, folder)
        entitle(folder, title, is_new=True)
        return name

    def duplicate(self, name: str, title: str) -> str:
        """Copy a design, without its history; return the copy's name.

        Raises:
            Misuse: no such design, or a title without a letter.
            OutputError: it cannot be written; nothing is left behind.
        """
        source = self.folder_of(name)
        copy = self.free_name(title)
        self._appear(source, inside(self.folder, copy), title)
        return copy

    def take_in(
        self, title: str, documents: Mapping[str, str], photos: Mapping[str, bytes] | None = None
    ) -> str:
        """Make a design of documents and photos that came from elsewhere; return its name.

        Raises:
            Misuse: the title has no letter or digit.
            OutputError: it cannot be written; nothing is left behind.
        """
        name = self.free_name(title)
        with TemporaryDirectory(prefix=".import-", dir=self.own) as made:
            folder = Path(made) / name
            texts = {document: text.encode("utf-8") for document, text in documents.items()}
            for each, content in (*texts.items(), *(photos or {}).items()):
                path = inside(folder, *each.split("/"))
                path.parent.mkdir(parents=True, exist_ok=True)
                path.write_bytes(content)
            self._appear(folder, inside(self.folder, name), title)
        return name

    def archive(self, name: str) -> str:
        """Put a design away; return its name there."""
        return self._move(self.folder_of(name), self.folder / ARCHIVE)

    def restore(self, name: str) -> str:
        """Bring a design back from the archive; return its name on the shelf.

        Raises:
            Misuse: there is none of this name.
        """
        return self._move(self.archived_folder(name), self.folder)

    def archived_folder(self, name: str) -> Path:
        """Return the folder of a design that was put away.

        Raises:
            Misuse: there is none of this name.
        """
        if is_folder_name(name):
            folder = inside(self.folder, ARCHIVE, name)
            if (folder / DESIGN_DOCUMENT).is_file():
                return folder
        raise Misuse(
            "there is no such design in the archive",
            where=name[:40],
            what_to_do="It may be back on the shelf already.",
        )

    def free_name(self, title: str) -> str:
        """Return a folder for a new design with this title.

        Raises:
            Misuse: the title has no letter or digit.
        """
        name = folder_name(title)
        if not name:
            raise Misuse(
                "a design needs a name with a letter or digit in it",
                where=title[:40],
                what_to_do="Give it a name, such as “Summer dress”.",
            )
        return _free(name, {each.name for each in self.folder.iterdir()})

    def _appear(self, source: Path, target: Path, title: str) -> None:
        """Copy a folder so that the copy is there as a whole or not at all."""
        draft = self.folder / f".{target.name}.{uuid4().hex}"
        try:
            shutil.copytree(source, draft, ignore=_unwanted, symlinks=True)
            entitle(draft, title)
            draft.replace(target)
        except OSError as error:
            raise OutputError(
                "the copy cannot be written",
                where=target.name,
                how_much=error.strerror or type(error).__name__,
                what_to_do="See whether the disk is full. The design itself is as it was.",
            ) from error
        finally:
            shutil.rmtree(draft, ignore_errors=True)

    def _move(self, source: Path, into: Path) -> str:
        try:
            into.mkdir(exist_ok=True)
            name = _free(source.name, {each.name for each in into.iterdir()})
            source.rename(into / name)
        except OSError as error:
            raise OutputError(
                "the design cannot be moved",
                where=source.name,
                how_much=error.strerror or type(error).__name__,
                what_to_do="It is where it was. Close other programs that have it open.",
            ) from error
        return name

    # One server for one workspace

    def lock(self) -> bool:
        """Take the workspace until this process ends; False if another one has it."""
        file = (self.own / "lock").open("a+", encoding="utf-8")
        if not _locked(file):
            file.close()
            return False
        self._lock = file
        return True

    def unlock(self) -> None:
        """Give the workspace back."""
        if self._lock is not None:
            self._lock.close()
            self._lock = None


def _free(name: str, taken: Iterable[str]) -> str:
    lower = {each.lower() for each in taken}
    if name.lower() not in lower:
        return name
    numbers = (f"{name}-{number}" for number in range(2, 10_000))
    return next(each for each in numbers if each.lower() not in lower)


def _unwanted(folder: str, names: list[str]) -> list[str]:
    """Left out of a copy: what is hidden, and links, which could lead anywhere."""
    return [name for name in names if name.startswith(".") or Path(folder, name).is_symlink()]


def _changed_s(folder: Path) -> float:
    documents = [folder / DESIGN_DOCUMENT, *folder.glob("*.yaml"), *folder.glob("makes/*.yaml")]
    documents += folder.glob("*.csv")
    return max((each.stat().st_mtime for each in documents if each.is_file()), default=0.0)


def _ago(seconds: float) -> str:
    for size_s, unit in ((86_400, "day"), (3_600, "hour"), (60, "minute")):
        number = int(seconds // size_s)
        if number >= 1:
            return f"{number} {unit}{'s' if number > 1 else ''} ago"
    return "just now"


def _locked(file: IO[str]) -> bool:
    try:
        if os.name == "nt":
            import msvcrt

            file.seek(0)
            msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)  # type: ignore[attr-defined]
        else:
            import fcntl

            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    return True
