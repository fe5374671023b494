"""How a page is put together from its template, and what comes with it."""

from __future__ import annotations

import hashlib
import time
from functools import cache
from importlib.resources import files
from typing import Any

from fastapi import Request
from fastapi.responses import HTMLResponse
from jinja2 import Environment, PackageLoader, StrictUndefined

from evenpick.base.errors import EvenpickError
from evenpick.base.language import chosen, tell, tell_n
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.diary import new_id
from evenpick.garden.whose_words import ENGLISH, UNITS
from evenpick.report.days import day, full_day
from evenpick.report.words import capital, sentence, words_for
from evenpick.web.asked import session, token
from evenpick.web.problems import on_a_page
from evenpick.web.script_words import script_words
from evenpick.web.served import about_of


@cache
def environment() -> Environment:
    made = Environment(loader=PackageLoader("evenpick.web"), autoescape=True, trim_blocks=True,
                       lstrip_blocks=True, undefined=StrictUndefined)
    made.add_extension("jinja2.ext.i18n")
    put: Any = made  # the extension's method is not in the type
    put.install_gettext_callables(tell, tell_n, newstyle=True)
    made.globals.update(capital=capital, short=day, full_day=full_day,
                        language=lambda: chosen().replace("_", "-"), script_words=script_words,
                        sentence=sentence, new_id=new_id,
                        static=static)
    return made


@cache
def asset(name: str) -> bytes:
    """A file that comes with the pages; KeyError for a name that is none of them."""
    folder = files("evenpick.web").joinpath("static")
    if name not in {each.name for each in folder.iterdir()}:
        raise KeyError(name)
    return folder.joinpath(name).read_bytes()


@cache
def static(name: str) -> str:
    """Its address, which changes with its words."""
    return f"/static/{name}?{hashlib.sha256(asset(name)).hexdigest()[:10]}"


def show(
    request: Request, template: str, title: str, here: str = "", status: int = 200, **more: Any
) -> HTMLResponse:
    """A page from its template."""
    return HTMLResponse(page(request, template, title, here, **more), status)


def page(request: Request, template: str, title: str, here: str = "", **more: Any) -> str:
    about = about_of(request)
    today = about.clock()
    may_know = bool(session(request)) or not about.sessions
    shared: dict[str, Any] = {
        "title": title, "here": here, "said": "", "problems": (), "token": token(request),
        # before a garden is begun every one of them would lead back to its questions
        "pages": about.pages if about.begun else (), "more": about.more if about.begun else (),
        "above": above(request) if may_know else None,
        "sessions": about.sessions, "signed_in": bool(session(request)), "words": None, "place": "",
        "whereabouts": "", "invented": False,
        "day": today, "today": today, "made": int(time.time()), "of_its_day": False, "instead": "",
        "corrects": "", "kept": "",
        "written_on": lambda day: "" if day == today else day.isoformat(),
        "line": "",
    }
    try:
        shared["words"] = about.words()
        if may_know:
            shared |= about.named()
    except EvenpickError:  # the garden's own faults are what the page tells
        shared["words"] = words_for(ENGLISH[0], UNITS[0], load_catalogue())
    imperial = shared["words"].imperial
    shared["example"] = tell("Sowed 12 ft carrots in the long beds") if imperial else tell(
        "Sowed 4 m carrots in the long beds")
    shared["rain_example"] = tell("half an inch of rain") if imperial else tell("12 mm of rain")
    told = tuple(map(on_a_page, more.get("problems", ())))
    return environment().get_template(template).render({**shared, **more, "problems": told})


def above(request: Request) -> tuple[str, str] | None:
    """Name and address of the cooperative's pages, by the name that the reader came by."""
    found = about_of(request).above
    return None if found is None else (found[0], str(request.base_url.replace(port=found[1])))
