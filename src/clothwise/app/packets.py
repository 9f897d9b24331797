"""The packets that were built: a numbered folder for each, in `packets/` of the workspace."""

from __future__ import annotations

import io
import json
import zipfile
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from clothwise.errors import Misuse

__all__ = ["ABOUT", "BUILDING", "Packet", "PacketFile", "Packets", "design_state"]

FOLDER = "packets"
ABOUT = ".about.json"
"""In the folder of a packet: what it is, for the list."""
BUILDING = ".building-"
"""Begins the name of a folder that is not finished."""
_MOST_SHOWN = 50


@dataclass(frozen=True)
class PacketFile:
    """A file of a packet."""

    name: str
    what: str
    pages: int
    size_bytes: int

    @property
    def size(self) -> str:
        """How large it is, in words."""
        if self.size_bytes >= 1_000_000:
            return f"{self.size_bytes / 1_000_000:.1f} MB"
        return f"{max(self.size_bytes // 1000, 1)} kB"


@dataclass(frozen=True)
class Packet:
    """A packet that was built.

    Attributes:
        number: counted from 1 for each make.
        title, fit: what is made, for whom.
        at: when it was finished, as ISO 8601 in UTC.
        head: of the history that it was made from.
        files: in it.
        pattern: the sizes of its pattern, if there are several: `sizes 36 to 40`.
        has_no_rectangles: whether plain rectangles are told in it, not printed.
    """

    number: int
    title: str
    fit: str
    at: str
    head: str
    files: tuple[PacketFile, ...]
    pattern: str = ""
    has_no_rectangles: bool = False

    @property
    def state(self) -> str:
        """Of the design that it was made from, as its pages name it."""
        return design_state(self.head)

    @property
    def when(self) -> str:
        """When it was finished, in the computer's own time."""
        try:
            at = datetime.strptime(self.at, "%Y-%m-%dT%H:%M:%SZ").replace(tzinfo=UTC)
        except ValueError:
            return ""
        here = at.astimezone()
        day = (
            "today"
            if here.date() == datetime.now().astimezone().date()
            else f"{here:%B} {here.day}"
        )
        return f"{day}, {here:%H:%M}"


def design_state(head: str) -> str:
    """What a state of a design is called on paper and in the list of packets.

    >>> design_state("0012-5c207c")
    'design 0012-5c207c'
    """
    return f"design {head}" if head else "design as it was"


class Packets:
    """The packets of one make."""

    def __init__(self, workspace: Path, design: str, make: str) -> None:
        """Say whose; names as in addresses."""
        self.folder = workspace / FOLDER / design / make
        self.place = f"{FOLDER}/{design}/{make}"

    def all(self) -> tuple[Packet, ...]:
        """Return them, the latest first."""
        if not self.folder.is_dir() or self.folder.is_symlink():
            return ()
        numbers = sorted(
            (int(each.name) for each in self.folder.iterdir() if _is_number(each.name)),
            reverse=True,
        )
        read = (self._read(number) for number in numbers[:_MOST_SHOWN])
        return tuple(each for each in read if each is not None)

    def packet(self, number: str) -> Packet:
        """Return one.

        Raises:
            Misuse: there is none of this number.
        """
        found = self._read(int(number)) if _is_number(number) else None
        if found is None:
            raise Misuse(
                f"there is no packet {number[:20]!r}",
                where=self.place,
                what_to_do="Choose one from the list; its folder may have been moved away.",
            )
        return found

    def file(self, number: str, name: str) -> Path:
        """Return where a file of a packet lies.

        Raises:
            Misuse: there is no such packet, or no such file in it.
        """
        packet = self.packet(number)
        path = self.folder / str(packet.number) / name
        listed = any(each.name == name for each in packet.files)
        if not listed or not path.is_file() or path.is_symlink():
            raise Misuse(
                f"there is no file {name[:40]!r} in this packet",
                where=f"{self.place}/{packet.number}",
                what_to_do="It may have been moved away. Build the packet once more.",
            )
        return path

    def zipped(self, number: str) -> bytes:
        """Return a whole packet as one ZIP file.

        Raises:
            Misuse: there is no such packet, or a file of it is gone.
        """
        packet = self.packet(number)
        out = io.BytesIO()
        with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
            for each in packet.files:
                inside = f"{self.folder.parent.name} {self.folder.name} {packet.number}/{each.name}"
                archive.write(self.file(number, each.name), inside)
        return out.getvalue()

    def _read(self, number: int) -> Packet | None:
        """A packet as its own notes have it; None if they cannot be read."""
        try:
            data = json.loads((self.folder / str(number) / ABOUT).read_text(encoding="utf-8"))
            files = tuple(
                PacketFile(
                    str(each["name"]),
                    str(each["what"]),
                    int(each["pages"]),
                    int(each["size_bytes"]),
                )
                for each in data["files"]
                if Path(str(each["name"])).name == str(each["name"])
            )
            title, fit, at, head = (str(data[key]) for key in ("title", "fit", "at", "head"))
            pattern = str(data.get("pattern", ""))  # these two are not told in packets of old
            has_no_rectangles = data.get("has_no_rectangles") is True
        except (OSError, ValueError, KeyError, TypeError):
            return None
        return Packet(number, title, fit, at, head, files, pattern, has_no_rectangles)


def _is_number(name: str) -> bool:
    return name.isascii() and name.isdigit() and len(name) < 7 and name[0] != "0"
