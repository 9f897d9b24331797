"""Titles inside a sentence and at its start: only their first letter changes."""

from __future__ import annotations


def lowered(title: str) -> str:
    """A title as it stands inside a sentence; letters after the first stay as they are.

    >>> lowered("Front of A-line skirt")
    'front of A-line skirt'
    """
    return title[:1].lower() + title[1:]


def raised(words: str) -> str:
    """Words as they begin a sentence.

    >>> raised("hem facing")
    'Hem facing'
    """
    return words[:1].upper() + words[1:]
