"""What a form or an address asks, checked: its token, ids, words and days."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date
from typing import TypeVar

from fastapi import Request

from evenpick.base.days import refuse_far
from evenpick.base.errors import BadGarden, BadRequest, Problem
from evenpick.base.language import tell
from evenpick.garden.amounts import quantity, with_points
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


def whole_number(text: str, least: int, most: int, field_name: str) -> int:
    """As typed; BadRequest for what is none, or none that can be."""
    if not re.fullmatch(r"[+-]?[0-9]{1,9}", text.strip()):
        raise BadRequest(Problem(tell("'{text}' is not a number.", text=text[:60]),
                                 tell("Write a whole number, such as 8."), field=field_name))
    return int(_within(float(text), text, least, most, field_name))


def figure(text: str, least: float, most: float, field_name: str) -> float:
    """As `whole_number`, with decimals after a point or a comma."""
    try:
        number, unit = quantity(with_points(text), tell("Write a figure such as 2.5."))
    except BadGarden as error:  # of what was typed, not of the garden
        raise BadRequest(replace(problem, field=field_name) for problem in error.problems) from error
    if unit:
        raise BadRequest(Problem(tell("'{text}' is not a number.", text=text[:60]),
                                 tell("Write a figure such as 2.5."), field=field_name))
    return _within(number, text, least, most, field_name)


def _within(number: float, text: str, least: float, most: float, field_name: str) -> float:
    if least <= number <= most:
        return number
    mend = (tell("Give {least} or more.", least=f"{least:g}") if number < least
            else tell("Give {most} at most.", most=f"{most:g}"))
    raise BadRequest(Problem(tell("'{text}' can't be taken.", text=text[:60]), mend, field=field_name))


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
