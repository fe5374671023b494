"""One question to a weather service over the network: only when the grower asks, once, with a limit to all.

Nothing is tried again here (services.py asks once more, for less, where a service says no), nothing is
followed elsewhere, and nothing is sent but what stands in the address.
"""

from __future__ import annotations

import time
from http.client import HTTPException
from typing import IO, Any
from urllib.error import HTTPError, URLError
from urllib.parse import urlsplit
from urllib.request import HTTPRedirectHandler, Request, build_opener

from evenpick import __version__
from evenpick.base.errors import BadWeatherFile, Problem
from evenpick.base.language import later, tell, tell_n

USER_AGENT = f"evenpick/{__version__} (weather of one garden, asked by hand)"
PATIENCE = 20.0
"""seconds without a byte"""
LONGEST = 60.0
"""seconds in all"""
LARGEST = 4_000_000
"""bytes; 400 days of four figures are under 40 thousand"""
MISASKED = (400, 422)
"""answers to a question that the service can't make out"""
MOST_SAID = 4_000  # bytes of why not
LOOPBACK = ("127.0.0.1", "::1", "localhost")
LATER = later("Nothing was changed. Ask again later, or give a file of days yourself "
              "(docs/formats/daily-csv.md).")


class SaidNo(BadWeatherFile):
    """The service was reached, and does not answer what it was asked."""

    def __init__(self, problem: Problem, said: str) -> None:
        super().__init__(problem)
        self.said = said
        """in its own words, as far as there are any"""


class _Stay(HTTPRedirectHandler):
    """Refuses to be sent elsewhere."""

    def redirect_request(
        self, req: Request, fp: IO[bytes], code: int, msg: str, headers: Any, newurl: str
    ) -> None:
        return None


def ask(service: str, address: str) -> bytes:
    """The body of a service's answer. BadWeatherFile with what went wrong: no connection, too slow, an answer
    that says no, too long, or cut short. The address must be https, but for this machine itself."""
    parts = urlsplit(address)
    if parts.scheme != "https" and not (parts.scheme == "http" and parts.hostname in LOOPBACK):
        raise ValueError(f"{address} is not asked: it is not https")
    began = time.monotonic()
    request = Request(address, headers={"User-Agent": USER_AGENT, "Accept": "application/json"})
    try:
        with build_opener(_Stay()).open(request, timeout=PATIENCE) as answer:
            return _body(service, answer, began)
    except HTTPError as error:
        with error:
            raise _refused(service, error) from error
    except (HTTPException, OSError) as error:
        raise _failed(service, _why(error)) from error


def _why(error: HTTPException | OSError) -> str:
    reason = error.reason if isinstance(error, URLError) else error
    if isinstance(reason, TimeoutError):
        return tell("did not answer within {patience:.0f} seconds", patience=PATIENCE)
    if isinstance(error, URLError):
        return tell("can't be reached ({reason})", reason=reason)
    return tell("broke off its answer ({error})", error=str(error) or type(error).__name__)


def _body(service: str, answer: Any, began: float) -> bytes:
    """Read piece by piece, so that neither a trickle nor a flood goes on for ever."""
    body = b""
    while piece := answer.read1(65_536):
        body += piece
        if len(body) > LARGEST:
            raise _failed(service, tell("sent more than any season of days"))
        if time.monotonic() - began > LONGEST:
            raise _failed(service, tell("took longer than {longest:.0f} seconds to answer", longest=LONGEST))
    promised = answer.headers.get("Content-Length")
    if promised and promised.isdecimal() and len(body) < int(promised):
        raise _failed(service, tell("broke off its answer"))
    return body


def _refused(service: str, error: HTTPError) -> BadWeatherFile:
    if error.code in MISASKED:
        why = tell("would not answer") + f" ({error.code} {error.reason})"
        return SaidNo(_failed(service, why).problems[0], _own_words(error))
    if error.code == 429:
        wait = error.headers.get("Retry-After", "")
        after = tell_n(" for {n} second", " for {n} seconds", int(wait)) if wait.isdecimal() else ""
        return _failed(service, tell("wants to be left alone{after} (429)", after=after))
    if 300 <= error.code < 400:
        return _failed(service, tell("sent us elsewhere ({code}), which is not followed", code=error.code))
    said = tell("has a fault of its own") if error.code >= 500 else tell("would not answer")
    return _failed(service, f"{said} ({error.code} {error.reason})")


def _own_words(error: HTTPError) -> str:
    """Why it says no; where that breaks off, its number alone must do."""
    try:
        return error.read(MOST_SAID).decode("utf-8", "replace")
    except (HTTPException, OSError):
        return ""


def _failed(service: str, why: str) -> BadWeatherFile:
    return BadWeatherFile(Problem(f"{service} {why}.", tell(LATER)))
