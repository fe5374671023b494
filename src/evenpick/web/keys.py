"""What the served garden keeps to itself, in a folder beside it that only its owner may read: the secret that
signs forms and sessions, the passphrase as scrypt leaves it, and how guessing is slowed down.

docs/design/security.md, S3 to S6.
"""

from __future__ import annotations

import hashlib
import hmac
import json
import os
import secrets
import threading
import time
from dataclasses import dataclass, field
from pathlib import Path

from evenpick.base.errors import BadRequest, Problem
from evenpick.base.language import tell
from evenpick.base.whole import write_whole

COST = {"n": 2**15, "r": 8, "p": 1, "maxmem": 2**26}
"""scrypt: 32 MB and about a tenth of a second a guess (RFC 7914)"""
LONGEST_SESSION = 30 * 86400
"""seconds"""
SHORTEST_PASSPHRASE = 8
FREE_GUESSES, FIRST_WAIT, LONGEST_WAIT = 3, 1.0, 300.0
"""wrong guesses before waiting begins; each one more doubles the wait, s"""


def folder(garden: Path) -> Path:
    return garden.with_suffix(".serve")


@dataclass(frozen=True, slots=True)
class Keys:
    """Signs and checks; made once a garden, so that a page open in a browser outlives the program."""

    path: Path
    secret: bytes
    salt: bytes | None
    passphrase: bytes | None
    """scrypt of the passphrase; None where none was set"""

    def token(self, session: str) -> str:
        """What every form of a session carries."""
        return self._sign(f"form:{session}")

    def token_holds(self, session: str, token: str) -> bool:
        return hmac.compare_digest(self.token(session).encode(), token.encode())

    def new_session(self, now: float | None = None) -> str:
        """A cookie's value: when it ends, a number by chance, and the signature of both."""
        ends = int((time.time() if now is None else now) + LONGEST_SESSION)
        said = f"{ends}.{secrets.token_hex(16)}"
        return f"{said}.{self._sign(f'session:{said}')}"

    def session_holds(self, cookie: str, now: float | None = None) -> bool:
        said, _, signature = cookie.rpartition(".")
        ends = said.partition(".")[0]
        if not ends.isascii() or not ends.isdecimal() or len(ends) > 12:
            return False
        right = hmac.compare_digest(self._sign(f"session:{said}").encode(), signature.encode())
        return right and int(ends) > (time.time() if now is None else now)

    def opens(self, passphrase: str) -> bool:
        if self.passphrase is None or self.salt is None:
            return False
        return hmac.compare_digest(_scrypt(passphrase, self.salt), self.passphrase)

    def _sign(self, text: str) -> str:
        return hmac.new(self.secret, text.encode(), hashlib.sha256).hexdigest()


def keys_of(garden: Path) -> Keys:
    """The keys of a garden, made where there are none. BadRequest where the file can't be read."""
    path = folder(garden) / "keys.json"
    if not path.exists():
        keys = Keys(path, secrets.token_bytes(32), None, None)
        _keep(keys)
        return keys
    try:
        shape = json.loads(path.read_text(encoding="utf-8"))
        salt, passphrase = (bytes.fromhex(shape[name]) if shape[name] else None
                            for name in ("salt", "passphrase"))
        return Keys(path, bytes.fromhex(shape["secret"]), salt, passphrase)
    except (OSError, ValueError, KeyError, TypeError) as error:
        raise BadRequest(Problem(tell("the keys of the served garden can't be read."),
                                 tell("Delete the file; everybody then signs in again."),
                                 str(path))) from error


def set_passphrase(keys: Keys, passphrase: str) -> Keys:
    """Keys with a new passphrase and a new secret, so that every session ends. BadRequest if it is short."""
    if len(passphrase.strip()) < SHORTEST_PASSPHRASE:
        raise BadRequest(Problem(tell("the passphrase is short."),
                                 tell("Use {shortest} letters and more: a few words are best.",
                                      shortest=SHORTEST_PASSPHRASE)))
    salt = secrets.token_bytes(16)
    made = Keys(keys.path, secrets.token_bytes(32), salt, _scrypt(passphrase, salt))
    _keep(made)
    return made


def _scrypt(passphrase: str, salt: bytes) -> bytes:
    return hashlib.scrypt(passphrase.strip().encode(), salt=salt, dklen=32, **COST)


def _keep(keys: Keys) -> None:
    keys.path.parent.mkdir(mode=0o700, exist_ok=True)
    shape = {"secret": keys.secret.hex(), "salt": (keys.salt or b"").hex(),
             "passphrase": (keys.passphrase or b"").hex()}
    write_whole(keys.path, json.dumps(shape).encode())
    os.chmod(keys.path, 0o600)


@dataclass(slots=True)
class Patience:
    """Slows guessing down, for each address and for all together."""

    wrong: dict[str, tuple[int, float]] = field(default_factory=dict)
    """by address: wrong guesses in a row and the moment of the last"""
    _lock: threading.Lock = field(default_factory=threading.Lock, repr=False, compare=False)

    def guess(self, who: str, now: float) -> float:
        """Seconds until `who` may guess again; at 0 it may now, and counts as wrong until it `succeeded`, so
        that guesses made at once wait for one another."""
        with self._lock:
            wait = self.wait(who, now)
            if wait == 0.0:
                self.failed(who, now)
            return wait

    def wait(self, who: str, now: float) -> float:
        """Seconds until `who` may guess again."""
        guesses, last = self.wrong.get(who, (0, 0.0))
        if guesses < FREE_GUESSES:
            return 0.0
        pause = min(LONGEST_WAIT, FIRST_WAIT * 2.0 ** min(30, guesses - FREE_GUESSES))
        return max(0.0, last + pause - now)

    def failed(self, who: str, now: float) -> None:
        if len(self.wrong) > 10_000:
            self.wrong.clear()
        self.wrong[who] = (self.wrong.get(who, (0, 0.0))[0] + 1, now)

    def succeeded(self, who: str) -> None:
        with self._lock:
            self.wrong.pop(who, None)
