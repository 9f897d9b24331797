"""What somebody sent, as a file for as long as it is looked at."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

from clothwise.errors import ClothwiseError

__all__ = ["sent_file"]


@contextmanager
def sent_file(content: bytes, called: str) -> Iterator[Path]:
    """Give the path of a file with this content; what is refused there names what was sent.

    Args:
        content: of the file.
        called: its name, as the sender knows it.

    Raises:
        ClothwiseError: as it was raised within, with the name that the sender knows.
    """
    with TemporaryDirectory() as folder:
        path = Path(folder) / "photo"
        path.write_bytes(content)
        try:
            yield path
        except ClothwiseError as error:
            raise ClothwiseError(
                error.what,
                where=called[:60],
                how_much=error.how_much,
                what_to_do=error.what_to_do,
            ) from error
