"""Files to be saved by the browser under a name, whatever letters are in it."""

from __future__ import annotations

from urllib.parse import quote

__all__ = ["saved_as"]


def saved_as(name: str) -> dict[str, str]:
    r"""Return the headers that make a browser save an answer as a file.

    Source: RFC 6266, with the name for old programs in plain letters.

    >>> saved_as("裙.zip")["Content-Disposition"]
    'attachment; filename="design.zip"; filename*=UTF-8\'\'%E8%A3%99.zip'
    """
    plain = name.encode("ascii", "ignore").decode().replace('"', "").replace("\\", "").strip()
    if not plain.partition(".")[0]:
        plain = f"design{plain}"
    said = f"attachment; filename=\"{plain}\"; filename*=UTF-8''{quote(name, safe='')}"
    return {"Content-Disposition": said}
