"""What a server is started with."""

from __future__ import annotations

import secrets
from dataclasses import dataclass, field
from ipaddress import ip_address
from pathlib import Path

__all__ = ["Settings", "is_loopback", "new_token"]


def new_token() -> str:
    """Return what nobody guesses: 256 random bits, fit for an address."""
    return secrets.token_urlsafe(32)


def is_loopback(host: str) -> bool:
    """Tell whether only this computer can reach `host`."""
    try:
        return ip_address(host).is_loopback
    except ValueError:
        return host == "localhost"


@dataclass(frozen=True)
class Settings:
    """What a server is started with.

    Attributes:
        workspace: the folder whose sub-folders are the designs.
        token: whoever knows it may enter.
        host: the address that is listened on.
        port: of it.
        password_hash: argon2id; needed unless `host` is this computer only.
        known_as: further names under which other machines may ask for us.
        warms_workers: start them with the server, before anybody asks for something.
    """

    workspace: Path
    token: str = field(default_factory=new_token, repr=False)
    host: str = "127.0.0.1"
    port: int = 8765
    password_hash: str = field(default="", repr=False)
    known_as: tuple[str, ...] = ()
    warms_workers: bool = False

    @property
    def is_local(self) -> bool:
        """Whether only this computer can reach the server."""
        return is_loopback(self.host)

    @property
    def address(self) -> str:
        """Where a browser on this computer finds the server."""
        host = self.host if self.host not in ("0.0.0.0", "::") else "127.0.0.1"
        return f"http://{f'[{host}]' if ':' in host else host}:{self.port}"

    @property
    def opened_address(self) -> str:
        """The address that lets in whoever opens it."""
        return f"{self.address}/enter?token={self.token}"
