"""A disk that knows what was forced to it: what may stand there after a power cut.

Everything a program does below one folder is done for real, and noted; only what is forced (fsync)
is noted and not waited for. At any moment the noted disk can be asked what a power cut would leave.
What POSIX promises is little: the content of a file is safe once the file is forced, its name once
its folder is. Of the rest anything may be there: all of it, none of it, names without content,
content without names, a torn part.
"""

from __future__ import annotations

import os
import random
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Generic, TypeVar

import pytest

__all__ = ["SURVIVALS", "Killed", "SimulatedDisk"]

SURVIVALS = ("least", "all", "names", "contents", "torn")
"""What of all that was not forced has reached the disk."""

T = TypeVar("T")


class Killed(BaseException):
    """The process ends here; what it would still do is not done."""


@dataclass(eq=False)
class _Kept(Generic[T]):
    """Something on the disk: as it is, as it was when it was forced, and all it was between."""

    now: T
    forced: T
    between: list[T] = field(default_factory=list)

    def becomes(self, now: T) -> None:
        self.now = now
        self.between.append(now)

    def force(self) -> None:
        self.forced, self.between = self.now, []


class _File(_Kept[bytes]):
    pass


class _Folder(_Kept[dict[str, "_File | _Folder"]]):
    pass


_CHANGES = ("write", "ftruncate", "fsync", "replace", "rename", "unlink", "mkdir")


class SimulatedDisk:
    """Notes what is done below a folder while it is `recording`."""

    def __init__(self, root: Path) -> None:
        self.root = root
        self.calls = 0
        self._top = _noted(root)
        self._handles: dict[int, tuple[_File | _Folder, int]] = {}
        self._after_each: Callable[[], None] = lambda: None
        self._last: int | None = None

    @contextmanager
    def recording(
        self, after_each: Callable[[], None] = lambda: None, *, last: int | None = None
    ) -> Iterator[None]:
        """Note all calls.

        Args:
            after_each: is called after each that changes or forces something.
            last: after so many of them the process is `Killed`.
        """
        self._after_each, self._last, self.calls = after_each, last, 0
        with pytest.MonkeyPatch.context() as patch:
            for name in ("open", "close", "lseek", *_CHANGES):
                patch.setattr(os, name, self._around(getattr(os, name), getattr(self, f"_{name}")))
            yield

    def leave(self, survives: str, seed: int, into: Path) -> None:
        """Write what a power cut would leave now into a folder that is not there yet."""
        _leave(self._top, survives, random.Random(seed), into)

    # What is noted. Each returns whether something was changed or forced.

    def _around(self, real: Callable[..., Any], note: Callable[..., bool]) -> Callable[..., Any]:
        is_change = note.__name__.removeprefix("_") in _CHANGES

        def noted(*arguments: Any, **more: Any) -> Any:
            if is_change and self._last is not None and self.calls >= self._last:
                raise Killed
            # What is forced is only noted: tests need not wait for the real disk.
            result = None if note == self._fsync else real(*arguments, **more)
            if note(result, *arguments, **more):
                self.calls += 1
                self._after_each()
            return result

        return noted

    def _place(self, path: Any) -> tuple[_Folder, str]:
        """The folder and the name in it; a folder that nobody asks for if it lies elsewhere."""
        try:
            parts = Path(os.path.abspath(path)).relative_to(self.root).parts
        except (TypeError, ValueError):
            return _Folder({}, {}), ""
        folder = self._top
        for part in parts[:-1]:
            found = folder.now.get(part)
            if not isinstance(found, _Folder):
                return _Folder({}, {}), ""
            folder = found
        return folder, parts[-1] if parts else "."

    def _open(self, handle: int, path: Any, flags: int, *_: Any, **__: Any) -> bool:
        folder, name = self._place(path)
        if not name:
            return False
        found = folder if name == "." else folder.now.get(name)
        is_new = found is None
        if found is None:
            found = _File(b"", b"")
            folder.becomes({**folder.now, name: found})
        self._handles[handle] = (found, 0)
        return is_new

    def _close(self, _: None, handle: int) -> bool:
        self._handles.pop(handle, None)
        return False

    def _lseek(self, at: int, handle: int, *_: Any) -> bool:
        if handle in self._handles:
            self._handles[handle] = (self._handles[handle][0], at)
        return False

    def _write(self, count: int, handle: int, content: bytes) -> bool:
        if handle not in self._handles:
            return False
        file, at = self._handles[handle]
        assert isinstance(file, _File)
        before = file.now[:at].ljust(at, b"\0")
        file.becomes(before + content[:count] + file.now[at + count :])
        self._handles[handle] = (file, at + count)
        return True

    def _ftruncate(self, _: None, handle: int, size: int) -> bool:
        if handle not in self._handles:
            return False
        file, _at = self._handles[handle]
        assert isinstance(file, _File)
        if len(file.now) != size:
            file.becomes(file.now[:size].ljust(size, b"\0"))
        return True

    def _fsync(self, _: None, handle: int) -> bool:
        if handle not in self._handles:
            return False
        self._handles[handle][0].force()
        return True

    def _replace(self, _: None, old: Any, new: Any) -> bool:
        (source, name), (target, other) = self._place(old), self._place(new)
        if not name:
            return False
        moved = source.now[name]
        if source is target:  # one step, also on the disk
            rest = {each: node for each, node in source.now.items() if each != name}
            source.becomes({**rest, other: moved})
        else:
            target.becomes({**target.now, other: moved})
            source.becomes({each: node for each, node in source.now.items() if each != name})
        return True

    _rename = _replace

    def _unlink(self, _: None, path: Any, *__: Any, **___: Any) -> bool:
        folder, name = self._place(path)
        if name:
            folder.becomes({each: node for each, node in folder.now.items() if each != name})
        return bool(name)

    def _mkdir(self, _: None, path: Any, *__: Any, **___: Any) -> bool:
        folder, name = self._place(path)
        if name:
            folder.becomes({**folder.now, name: _Folder({}, {})})
        return bool(name)


def _noted(path: Path) -> _Folder:
    """A folder as it stands, all of it on the disk."""
    names: dict[str, _File | _Folder] = {}
    for each in path.iterdir():
        if each.is_dir():
            names[each.name] = _noted(each)
        else:
            names[each.name] = _File(each.read_bytes(), each.read_bytes())
    return _Folder(names, names)


def _leave(folder: _Folder, survives: str, rng: random.Random, into: Path) -> None:
    into.mkdir()
    names = folder.now if survives in ("all", "names") else folder.forced
    if survives == "torn":
        names = rng.choice([folder.forced, *folder.between])
    for name, node in names.items():
        if isinstance(node, _Folder):
            _leave(node, survives, rng, into / name)
            continue
        content = node.now if survives in ("all", "contents") else node.forced
        if survives == "torn":
            content = _torn(rng, rng.choice([node.forced, *node.between]), node.forced)
        (into / name).write_bytes(content)


def _torn(rng: random.Random, content: bytes, forced: bytes) -> bytes:
    """A content of which some new blocks have not been written: they hold zeros, or are missing."""
    same = next(
        (at for at, pair in enumerate(zip(content, forced, strict=False)) if pair[0] != pair[1]),
        None,
    )
    begins = min(len(content), len(forced)) if same is None else same
    new = len(content) - begins
    if new <= 0 or rng.random() < 0.3:
        return content
    if rng.random() < 0.5:
        return content[: begins + rng.randrange(new)]
    gap = sorted(begins + rng.randrange(new) for _ in range(2))
    return content[: gap[0]] + b"\0" * (gap[1] - gap[0]) + content[gap[1] :]
