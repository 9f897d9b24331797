"""Numbers as they are written into files: fixed places, no exponent, no negative zero."""

from __future__ import annotations


def number(value: float, places: int = 3) -> str:
    """A number with at most so many decimals; trailing zeros go.

    >>> number(12.5), number(-0.0001), number(300.0), number(239.6, 0)
    ('12.5', '0', '300', '240')
    """
    text = f"{value:.{places}f}"
    if places > 0:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
