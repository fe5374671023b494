"""Signing in with the garden's passphrase, and out (docs/design/security.md, S5)."""

from __future__ import annotations

import time
from math import ceil
from typing import Annotated
from urllib.parse import urlencode

from fastapi import APIRouter, Form, Request
from fastapi.responses import RedirectResponse, Response

from evenpick.base.errors import Problem
from evenpick.base.language import tell
from evenpick.web.asked import check_token
from evenpick.web.guard import COOKIE
from evenpick.web.keys import LONGEST_SESSION
from evenpick.web.pages.diary import LONGEST
from evenpick.web.problems import Refused
from evenpick.web.served import about_of
from evenpick.web.showing import show

router = APIRouter()


@router.get("/enter")
def enter_page(request: Request) -> Response:
    return show(request, "enter.html", tell("Sign in"), line_day="")


@router.post("/enter")
def enter(
    request: Request, passphrase: Annotated[str, Form(max_length=500)], token: Annotated[str, Form()] = "",
    line: Annotated[str, Form(max_length=2 * LONGEST)] = "", day: Annotated[str, Form(max_length=10)] = "",
) -> Response:
    """A session for the right passphrase; each wrong one makes the next wait longer. A `line` that was sent
    after the last session's end stands in the diary's form then."""
    check_token(request, token)
    about, who = about_of(request), request.client.host if request.client else ""
    wait = about.patience.guess(who, time.monotonic())
    if wait > 0:
        raise Refused(429,
                      Problem(tell("too many wrong guesses."),
                              tell("Try again in {wait} s.", wait=ceil(wait))))
    if not about.keys.opens(passphrase):
        return show(request, "enter.html", tell("Sign in"), status=401, line=line, line_day=day,
                    problems=[Problem(tell("that is not the passphrase."), tell("Try again."))])
    about.patience.succeeded(who)
    answer = RedirectResponse(f"/diary?{urlencode({'line': line, 'day': day})}" if line else "/", 303)
    answer.set_cookie(COOKIE, about.keys.new_session(), max_age=LONGEST_SESSION, httponly=True, secure=True,
                      samesite="strict", path="/")
    return answer


@router.get("/leave")
def leave_page(request: Request) -> Response:
    return show(request, "leave.html", tell("Sign out"))


@router.post("/leave")
def leave(request: Request, token: Annotated[str, Form()] = "") -> Response:
    check_token(request, token)
    answer = RedirectResponse("/enter", 303)
    answer.delete_cookie(COOKIE, path="/", secure=True, httponly=True, samesite="strict")
    return answer
