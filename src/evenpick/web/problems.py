"""What went wrong, told once: which failure is which HTTP status."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Any

from evenpick.base.errors import (
    BadBook,
    BadDiary,
    BadGarden,
    BadRequest,
    BadWeatherFile,
    EvenpickError,
    Problem,
    UnknownCrop,
    UnknownPlace,
)
from evenpick.base.language import later, tell
from evenpick.service.job_answers import AnsweredMeanwhile

STATUSES: tuple[tuple[type[EvenpickError], int], ...] = (
    (UnknownPlace, 404), (UnknownCrop, 404), (AnsweredMeanwhile, 409), (BadRequest, 400), (BadDiary, 400),
    (BadGarden, 409), (BadWeatherFile, 409), (BadBook, 409), (EvenpickError, 400),
)
"""409: the asked is right, but another was quicker, or the garden's files must be mended first. What is not
listed is a bug: 500"""


class Refused(EvenpickError):
    """A request that may not be: its status with it."""

    def __init__(self, status: int, problem: Problem) -> None:
        self.status = status
        super().__init__(problem)


def status_of(error: EvenpickError) -> int:
    if isinstance(error, Refused):
        return error.status
    return next(status for kind, status in STATUSES if isinstance(error, kind))


def as_refused(error: EvenpickError | None) -> dict[str, Any]:
    """What `show` is told of a page that is shown again with what was refused; nothing of one that is not."""
    return {} if error is None else {"status": status_of(error), "problems": error.problems}


def shape_of(problems: Iterable[Problem]) -> dict[str, Any]:
    """{"problems": [{"what", "mend", and "line" and "field" where known}]}; no path of this machine."""
    return {"problems": [
        {"what": problem.what, "mend": problem.mend, "line": problem.line, "field": problem.field}
        for problem in problems
    ]}


def fault_of_program(fault: Mapping[str, Any]) -> Problem:
    """What does not fit the form of a request, for who wrote the program that made it."""
    return Problem(f"{fault['msg']}.", tell("See docs/interface.md, or /api/openapi.json."),
                   field=_field(fault))


def fault_of_form(fault: Mapping[str, Any]) -> Problem:
    """The same for who typed it."""
    given, bounds = fault.get("input"), fault.get("ctx", {})
    what = tell("'{text}' can't be taken.", text=str(given)[:60]) if given else tell("something is missing.")
    mend = tell("Go back and write it as the form asks.")
    if fault["type"].startswith("int_"):
        what = tell("'{text}' is not a number.", text=str(given)[:60])
        mend = tell("Write a whole number, such as 8.")
    elif "ge" in bounds or "le" in bounds:
        mend = (tell("Give {least} or more.", least=bounds["ge"]) if "ge" in bounds
                else tell("Give {most} at most.", most=bounds["le"]))
    return Problem(what, mend, field=_field(fault))


def _field(fault: Mapping[str, Any]) -> str:
    return ".".join(str(part) for part in fault["loc"][1:])


COMMAND = re.compile(r"[^.:]*(?::\s*)?\bevenpick (plan|log|tin|begin|lessons|trial|today)\b.*$", re.DOTALL)
ON_PAGES = {
    "plan": later("Make it: the plan stands at the foot of every page."),
    "log": later("See the diary."), "tin": later("See the seed tin."), "begin": later("Begin a garden."),
    "lessons": later("See the lessons."), "trial": later("See the trials."), "today": later("See today."),
}
"""what a page says in place of a command of the terminal"""


def on_a_page(problem: Problem) -> Problem:
    """A problem whose remedy is a command, told with the page that does the same."""
    found = COMMAND.search(problem.mend)
    if found is None:
        return problem
    return replace(problem, mend=f"{problem.mend[:found.start()]} {tell(ON_PAGES[found[1]])}".strip())
