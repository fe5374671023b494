"""Begin: a few questions to a first plan, with sensible answers filled in."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Annotated, TypeVar

from fastapi import APIRouter, Form, Request
from fastapi.responses import RedirectResponse, Response

from evenpick.base.errors import EvenpickError
from evenpick.base.language import later, tell
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.amounts import with_points
from evenpick.garden.whose_words import ENGLISH, UNITS
from evenpick.report.beginning import left_out, read_back
from evenpick.service.beginning import answers_of
from evenpick.service.beginning import begin as begin_here
from evenpick.web.asked import check_token
from evenpick.web.problems import status_of
from evenpick.web.served import served
from evenpick.web.showing import show

router = APIRouter()
TITLE = later("Begin your garden")
Word = TypeVar("Word", bound=str)


@dataclass(frozen=True, slots=True)
class Given:
    where: str = ""
    ground: str = "40 m²"
    tunnel: str = "0"
    eaters: str = "2 people"
    likes: str = ""
    water: str = "yes"
    english: str = ""
    units: str = ""
    """empty: as where it is, and as the ground was typed"""


@router.get("/begin")
def begin_page(request: Request) -> Response:
    if served(request).begun:
        return RedirectResponse("/", 303)
    return show(request, "begin.html", tell(TITLE), given=Given())


@router.post("/begin")
def begin(
    request: Request, where: Annotated[str, Form()], ground: Annotated[str, Form()],
    tunnel: Annotated[str, Form()], eaters: Annotated[str, Form()], likes: Annotated[str, Form()] = "",
    english: Annotated[str, Form()] = "", units: Annotated[str, Form()] = "",
    water: Annotated[str, Form()] = "yes", token: Annotated[str, Form()] = "",
) -> Response:
    """Write the garden file and start on its plan; what can't be read is asked again with the rest kept."""
    check_token(request, token)
    given = Given(where, ground, tunnel, eaters, likes, water, english, units)
    try:
        answers = answers_of(where, with_points(ground), with_points(tunnel), eaters, likes, water)
        answers = replace(answers, english=_known(english, ENGLISH), units=_known(units, UNITS))
        first = begin_here(served(request).garden, answers, load_catalogue())
    except EvenpickError as error:
        return show(request, "begin.html", tell(TITLE), status=status_of(error), given=given,
                    problems=error.problems)
    here = served(request)
    here.read_back = (" ".join(read_back(answers, first, here.words())), *left_out(first))
    here.work.start()
    return RedirectResponse("/work", 303)


def _known(word: str, words: tuple[Word, ...]) -> Word | None:
    return next((each for each in words if each == word), None)
