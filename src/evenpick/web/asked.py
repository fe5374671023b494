"""What a form or an address asks, checked: its token, ids, words and days."""

from __future__ import annotations

import re
from datetime import date
from typing import TypeVar

from fastapi import Request

from evenpick.base.days import refuse_far
from evenpick.base.errors import BadRequest, Problem
from evenpick.base.language import tell
from evenpick.web.problems import Refused
from evenpick.web.served import about_of

ID = re.compile(r"[0-9a-f]{32}")
Word = TypeVar("Word", bound=str)


def token(request: Request) -> str:
    return about_of(request).keys.token(session(request))


def session(request: Request) -> str:
    found: str = getattr(request.state, "session", "")
    return found


def check_token(request: Request, given: str) -> None:
    """Refused where a form does not come from a page of this session."""
    if not about_of(request).keys.token_holds(session(request), given):
        raise Refused(403, Problem(tell("this form was not made for you, or is too old."),
                                   tell("Open the page again; what you typed is still there if you go "
                                        "back.")))


def check_id(identity: str) -> str:
    """An entry's id as devices make them."""
    if not ID.fullmatch(identity):
        raise BadRequest(Problem(tell("this is no id of an entry."), tell("An id is 32 hexadecimal digits."),
                                 field="id"))
    return identity


def one_of(words: tuple[Word, ...], text: str, what: str, field_name: str) -> Word:
    """What a form chose among words; BadRequest for another."""
    found = next((word for word in words if word == text), None)
    if found is None:
        mend = tell("Say {words} or {words_2}.", words=", ".join(words[:-1]), words_2=words[-1])
        raise BadRequest(Problem(tell("'{text}' is no {what}.", text=text,
                                      what=what), mend, field=field_name))
    return found


def day_of(request: Request, text: str | None, field_name: str = "day") -> date:
    """A day as typed; today where none is: what a page of today sends, which may be open since yesterday."""
    if not text:
        return about_of(request).clock()
    try:
        found = date.fromisoformat(text)
    except ValueError as error:
        what = tell("'{text}' is not a date.", text=text)
        mend = tell("Write year-month-day, such as 2027-03-14.")
        raise BadRequest(Problem(what, mend, field=field_name)) from error
    refuse_far(found, field_name)
    return found
