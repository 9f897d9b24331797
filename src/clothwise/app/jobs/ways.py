"""Ways out of what is refused, as a page shows them: words, and where in the room they lead."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["Way"]


@dataclass(frozen=True)
class Way:
    """A way out.

    Attributes:
        words: on its button.
        target: id of the element of the Draft room that is opened, or of the button that is pushed.
    """

    words: str
    target: str
