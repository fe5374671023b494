"""What went wrong, told once: which failure is which HTTP status."""

from __future__ import annotations

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


def shape_of(error: EvenpickError) -> dict[str, Any]:
    """{"problems": [{"what", "mend", and "line" and "field" where known}]}; no path of this machine."""
    return {"problems": [
        {"what": problem.what, "mend": problem.mend, "line": problem.line, "field": problem.field}
        for problem in error.problems
    ]}
