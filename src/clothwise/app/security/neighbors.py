"""Who else is on this computer: connections that another user's program has made.

A cookie for 127.0.0.1 goes to every port of it, so a page that another user serves here could learn
ours. On Linux the system tells whose program a connection belongs to; elsewhere it does not, and
everybody counts as oneself.
"""

from __future__ import annotations

import os
import sys
from ipaddress import IPv6Address, ip_address
from pathlib import Path

__all__ = ["is_of_another_user", "own_user"]

_TABLES = (Path("/proc/net/tcp"), Path("/proc/net/tcp6"))
_LOCAL, _REMOTE, _USER = 1, 2, 7  # columns
_ROOT = 0

Address = tuple[str, int]


def own_user() -> int | None:
    """Return who runs this program; None if everybody is welcome.

    Whom root works for cannot be told, so root asks nobody.
    """
    user = os.getuid() if hasattr(os, "getuid") else _ROOT
    return user if user != _ROOT and all(table.exists() for table in _TABLES[:1]) else None


def is_of_another_user(
    client: Address, server: Address, user: int, tables: tuple[Path, ...] = _TABLES
) -> bool:
    """Tell whether a connection was made by a program of neither this user nor root.

    Args:
        client: its end, as the server sees it.
        server: our end.
        user: that may connect.
        tables: of the system's connections.
    """
    ends = [(_coded(*client, wide), _coded(*server, wide)) for wide in (False, True)]
    for table in tables:
        try:
            lines = table.read_text(encoding="ascii").splitlines()[1:]
        except (OSError, UnicodeDecodeError):
            continue
        for line in lines:
            cells = line.split()
            if len(cells) > _USER and (cells[_LOCAL], cells[_REMOTE]) in ends:
                return cells[_USER] not in (str(user), str(_ROOT))
    return False  # of another kind, or gone already


def _coded(host: str, port: int, wide: bool) -> str:
    """An address as in the tables: words in the order of this computer's bytes, in hexadecimal."""
    address = ip_address(host.partition("%")[0])
    if wide and address.version == 4:
        address = IPv6Address(f"::ffff:{address}")
    data = address.packed
    words = [data[at : at + 4] for at in range(0, len(data), 4)]
    if sys.byteorder == "little":
        words = [word[::-1] for word in words]
    return f"{b''.join(words).hex().upper()}:{port:04X}"
