"""Every request passes here first: who may ask, from where, how much (docs/design/security.md)."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable
from contextlib import suppress
from dataclasses import dataclass
from html import escape
from http.cookies import CookieError, SimpleCookie
from urllib.parse import parse_qsl, urlsplit

from starlette.types import ASGIApp, Message, Receive, Scope, Send

from evenpick.base.language import chosen, tell
from evenpick.web.keys import Keys

COOKIE = "evenpick"
LARGEST = 1_000_000
"""bytes of a request's body"""
READS = ("GET", "HEAD", "OPTIONS")
LOOPBACK = frozenset({"127.0.0.1", "localhost", "::1"})
OPEN = ("/enter", "/static/", "/manifest.webmanifest", "/sw.js")
"""paths that need no session"""
POLICY = "; ".join((
    "default-src 'none'",
    *(f"{kind} 'self'" for kind in ("script-src", "style-src", "img-src", "connect-src", "form-action",
                                    "manifest-src", "worker-src")),
    "frame-ancestors 'none'", "base-uri 'none'",
))
HEADERS = (
    (b"content-security-policy", POLICY.encode()), (b"x-content-type-options", b"nosniff"),
    (b"referrer-policy", b"same-origin"), (b"cross-origin-resource-policy", b"same-origin"),
    (b"cross-origin-opener-policy", b"same-origin"),
)


@dataclass(frozen=True, slots=True)
class No:
    """A refusal."""

    status: int
    what: str
    mend: str


class TooLarge(Exception):
    """The body went on past what its head promised or what is taken."""


class Measured:
    """A request's body, counted as it comes."""

    def __init__(self, receive: Receive) -> None:
        self._receive, self._taken = receive, 0

    @property
    def over(self) -> bool:
        return self._taken > LARGEST

    async def receive(self) -> Message:
        message = await self._receive()
        self._taken += len(message.get("body", b""))
        if self.over:
            raise TooLarge
        return message


class Guard:
    """ASGI middleware. `names` are the hosts that this server answers to; `sessions` asks for one."""

    def __init__(
        self, app: ASGIApp, keys: Callable[[], Keys], names: Iterable[str] = LOOPBACK, sessions: bool = False
    ) -> None:
        self._app, self._keys, self._sessions = app, keys, sessions
        self._names = frozenset(name.casefold() for name in names)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        pairs = scope["headers"]
        head = {name.decode("latin-1").casefold(): value.decode("latin-1") for name, value in pairs}
        session = self._session(head.get("cookie", ""))
        no = self._refusal(scope, head, session)
        if no is not None:
            line = await _line(head, receive) if no.status == 401 and scope["method"] == "POST" else None
            await _refuse(scope, send, no, _sign_in(line, self._keys().token("")) if line else "")
            return
        scope["state"] = {**scope.get("state", {}), "session": session or ""}
        taken = Measured(receive)
        begun = False

        async def headed(message: Message) -> None:
            nonlocal begun
            if taken.over and not begun:
                return  # whatever the application makes of half a body
            if message["type"] == "http.response.start":
                begun = True
                message["headers"] = [*message.get("headers", []), *HEADERS]
            await send(message)

        with suppress(TooLarge):
            await self._app(scope, taken.receive, headed)
        if taken.over and not begun:
            await _refuse(scope, send, _too_large())

    def _refusal(self, scope: Scope, head: dict[str, str], session: str | None) -> No | None:
        host = _host(head.get("host", ""))
        if host not in self._names:
            return No(421, tell("this server does not answer to that name."),
                      tell("Use the address it was started with."))
        if scope["method"] not in READS:
            forged = _forged(head)
            if forged:
                return No(403, forged, tell("Open the page itself and try again."))
        length = head.get("content-length", "0")
        if not length.isdecimal() or int(length) > LARGEST:
            return _too_large()
        if self._sessions and session is None and not scope["path"].startswith(OPEN):
            return No(401, tell("nobody has signed in here."), tell("Sign in with the passphrase."))
        return None

    def _session(self, cookies: str) -> str | None:
        try:
            found = SimpleCookie(cookies).get(COOKIE)
        except CookieError:
            return None
        return found.value if found is not None and self._keys().session_holds(found.value) else None


def _host(given: str) -> str:
    """The name without its port."""
    try:
        return (urlsplit(f"//{given}").hostname or "").casefold()
    except ValueError:
        return ""


def _forged(head: dict[str, str]) -> str:
    """Why a writing request looks as if another site had made it; empty if it does not."""
    origin, host = head.get("origin"), head.get("host", "").casefold()
    if origin is not None and origin.casefold() not in (f"http://{host}", f"https://{host}"):
        return tell("another site asked for this.")
    if head.get("sec-fetch-site", "same-origin") not in ("same-origin", "none"):
        return tell("another site asked for this.")
    return ""


def _too_large() -> No:
    return No(413, tell("that is too much at once."), tell("Send at most {most} kB.", most=LARGEST // 1000))


async def _line(head: dict[str, str], receive: Receive) -> dict[str, str] | None:
    """The line of the diary and its day in a form sent after the session's end; None where it has none."""
    if not head.get("content-type", "").startswith("application/x-www-form-urlencoded"):
        return None
    taken, body, more = Measured(receive), b"", True
    try:
        while more:
            message = await taken.receive()
            body, more = body + message.get("body", b""), message.get("more_body", False)
    except TooLarge:
        return None
    sent = dict(parse_qsl(body.decode("utf-8", "replace")))
    return {name: sent.get(name, "") for name in ("line", "day")} if sent.get("line", "").strip() else None


def _sign_in(line: dict[str, str], token: str) -> str:
    """The passphrase's form with a line that is not lost meanwhile."""
    carried = "".join(f'<input type="hidden" name="{name}" value="{escape(text)}">'
                      for name, text in ({**line, "token": token}).items())
    return (f'<p>{tell("What you wrote is not lost: sign in, and it stands in the diary’s form again.")}</p>'
            f'<blockquote>{escape(line["line"])}</blockquote><form method="post" action="/enter">{carried}'
            f'<label>{tell("Passphrase of this garden")} <input type="password" name="passphrase" required '
            f'autocomplete="current-password" maxlength="500"></label> <button>{tell("Sign in")}</button>'
            f'</form>')


async def _refuse(scope: Scope, send: Send, no: No, more: str = "") -> None:
    """JSON for programs; for people a page that asks for the passphrase, or says no in words and `more`."""
    accepts = dict(scope["headers"]).get(b"accept", b"").decode("latin-1")
    page = "text/html" in accepts and not scope["path"].startswith("/api/")
    headers = list(HEADERS)
    status, kind, body = no.status, b"application/json", json.dumps(
        {"problems": [{"what": no.what, "mend": no.mend, "line": None, "field": None}]}
    )
    if page:
        kind, body = b"text/html; charset=utf-8", (
            f'<!doctype html><html lang="{chosen().replace("_", "-")}"><title>{tell("No")}</title>'
            f'<meta name="viewport" content="width=device-width, initial-scale=1">'
            f'<h1>{tell("No")}</h1><p>{no.what} {no.mend}</p>{more}'
            f'<p><a href="/">{tell("Today")}</a></p></html>')
        if no.status == 401 and scope["method"] in READS:
            status = 303
            headers.append((b"location", b"/enter"))
    await send({"type": "http.response.start", "status": status,
                "headers": [(b"content-type", kind), (b"connection", b"close"), *headers]})
    await send({"type": "http.response.body", "body": body.encode()})
