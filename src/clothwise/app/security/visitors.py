"""Who has entered: by the address with the token, by the password, or as a script."""

from __future__ import annotations

import hmac
import math
import secrets
import threading
import time
from collections import OrderedDict
from dataclasses import dataclass
from hashlib import sha256

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError
from starlette.requests import Request

from clothwise.app.settings import Settings

__all__ = ["Visitor", "Visitors", "hashed", "visitor"]

MOST_VISITORS = 200
LONGEST_AWAY_S = 12 * 3600.0
"""After this, who came from another machine is asked for the password once more. Our own choice:
a day at the cutting table."""
_NOBODY = "-"


@dataclass(frozen=True)
class Visitor:
    """Somebody who may ask.

    Attributes:
        csrf: what pages of this visitor send with every change.
        is_script: came with the token in a header, which no page elsewhere can send.
    """

    csrf: str
    is_script: bool = False


class Visitors:
    """All who have entered since the server was started."""

    def __init__(self, settings: Settings) -> None:
        self._token = settings.token
        self._password_hash = settings.password_hash
        self._lock = threading.Lock()
        self._key = secrets.token_bytes(32)
        self._longest_away_s = math.inf if settings.is_local else LONGEST_AWAY_S
        self._entered: OrderedDict[str, float] = OrderedDict()  # when each was seen last

    def enter_by_token(self, token: str) -> str:
        """Return the cookie of a new visitor; empty if the token is wrong."""
        right = hmac.compare_digest(token.encode(), self._token.encode())
        return self._new() if right else ""

    def enter_by_password(self, password: str) -> str:
        """Return the cookie of a new visitor; empty if the password is wrong. Takes 50 ms."""
        if not self._password_hash:
            return ""
        try:
            PasswordHasher().verify(self._password_hash, password)
        except (VerificationError, InvalidHashError):
            return ""
        return self._new()

    def leave(self, cookie: str) -> None:
        """Forget a visitor."""
        with self._lock:
            self._entered.pop(cookie, None)

    def of_cookie(self, cookie: str) -> Visitor | None:
        """Return who this cookie was given to."""
        now = time.monotonic()
        with self._lock:
            seen = self._entered.pop(cookie, None)
            if seen is None or now - seen > self._longest_away_s:
                return None
            self._entered[cookie] = now
        return Visitor(self._csrf(cookie))

    def of_script(self, authorization: str) -> Visitor | None:
        """Return the script that sends the token as `Authorization: Bearer TOKEN`."""
        kind, _, token = authorization.partition(" ")
        if kind.lower() != "bearer":
            return None
        right = hmac.compare_digest(token.strip().encode(), self._token.encode())
        return Visitor(self._csrf(_NOBODY), is_script=True) if right else None

    def _new(self) -> str:
        cookie = secrets.token_urlsafe(32)
        with self._lock:
            self._entered[cookie] = time.monotonic()
            while len(self._entered) > MOST_VISITORS:
                self._entered.popitem(last=False)
        return cookie

    def _csrf(self, cookie: str) -> str:
        return hmac.new(self._key, cookie.encode(), sha256).hexdigest()


def hashed(password: str) -> str:
    """Return the argon2id hash of a password."""
    return PasswordHasher().hash(password)


def visitor(request: Request) -> Visitor:
    """Return who asks."""
    found: Visitor = request.scope["clothwise.visitor"]
    return found
