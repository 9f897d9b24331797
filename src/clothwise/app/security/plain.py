"""Answers that need no template: a refusal before anything of the app is asked."""

from __future__ import annotations

from starlette.responses import PlainTextResponse

__all__ = ["refused"]


def refused(status: int, what: str, what_to_do: str) -> PlainTextResponse:
    """Return a short page of text; nothing of what was asked for is repeated in it."""
    return PlainTextResponse(f"{what} Nothing was changed. {what_to_do}\n", status)
