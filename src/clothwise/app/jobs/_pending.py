"""In a worker: a design with a change that waits for a yes."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from clothwise.errors import CommandError, DocumentError
from clothwise.pattern.commands import command_from_data

__all__ = ["with_pending"]


def with_pending(documents: Mapping[str, str], pending: Mapping[str, Any]) -> Mapping[str, str]:
    """The documents as the board shows them: as they are where the change cannot be applied.

    Args:
        documents: as they are kept.
        pending: the change, as data; empty for none.
    """
    if not pending:
        return documents
    try:
        return command_from_data(pending).apply(documents)
    except (CommandError, DocumentError):
        return documents
