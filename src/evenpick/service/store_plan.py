"""A made plan kept in the garden's book, so that `today` need not make it again.

It is no part of the diary and is never merged: the plan made last stays.
"""

from __future__ import annotations

import hashlib
import json
from datetime import UTC, datetime
from functools import lru_cache
from pathlib import Path

from evenpick.base.errors import BadRequest, Problem
from evenpick.base.language import tell
from evenpick.garden.garden_json import KeptPlan
from evenpick.service.answers import PlanAnswer
from evenpick.service.book import keep
from evenpick.service.plain import plain, read_plain
from evenpick.service.setups import setup_text, there_is
from evenpick.store.book import Book, book_path

AGAIN = "Make the plan again: evenpick plan"


def plan_path(garden: Path) -> Path:
    """The file beside the garden's that kept the plan before the book did; read where the book has none."""
    return garden.with_suffix(".plan.json")


def garden_digest(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()[:16]


def save_plan(garden: Path, answer: PlanAnswer) -> Path:
    """Keep the plan in the garden's book, and the garden file with it if it was changed; the book's path."""
    keep(garden, ())
    return keep_answer(garden, answer.made_from.garden, answer)


def keep_answer(file: Path, digest: str, answer: object) -> Path:
    """Keep an answer as the plan in a file's book, with a digest of what it was made of; the book's path."""
    path, made = book_path(file), datetime.now(UTC).isoformat(timespec="microseconds")
    body = json.dumps(plain(answer), ensure_ascii=False, separators=(",", ":"))
    Book(path).keep_plan(KeptPlan(made, digest, body))
    return path


def last_plan(garden: Path) -> PlanAnswer | None:
    """The plan that was last kept for a garden, whatever the garden file says by now; None if there is none,
    or one of a form that is not read any more."""
    kept, older = Book(book_path(garden)).plan(), plan_path(garden)
    try:
        if kept is not None:
            return _read(kept.body, book_path(garden))
        return _read(older.read_text(encoding="utf-8"), older) if older.exists() else None
    except BadRequest:
        return None


def kept_plan(garden: Path) -> PlanAnswer:
    """The plan made from this garden as it now stands; BadRequest where there is none."""
    kept = saved_plan(garden)
    if kept is None:
        what = tell("there is no plan for this garden as it now is.")
        raise BadRequest(Problem(what, tell("Make one with: evenpick plan"), str(garden)))
    return kept


def saved_plan(garden: Path) -> PlanAnswer | None:
    """The plan made from this garden as it now stands; None if none was, or the garden has changed.

    Raises BadRequest for a plan that can't be read.
    """
    if not there_is(garden):
        return None
    digest = garden_digest(setup_text(garden))
    kept = Book(book_path(garden)).plan()
    if kept is not None:
        return _read(kept.body, book_path(garden)) if kept.garden == digest else None
    older = plan_path(garden)
    answer = _read(older.read_text(encoding="utf-8"), older) if older.exists() else None
    return answer if answer and answer.made_from.garden == digest else None


@lru_cache(maxsize=2)
def _understood(text: str) -> PlanAnswer:
    """The plan that a text holds; a program that asks again has it from before."""
    answer: PlanAnswer = read_plain(PlanAnswer, json.loads(text))
    return answer


def _read(text: str, file: Path) -> PlanAnswer:
    try:
        return _understood(text)
    except (ValueError, TypeError, KeyError) as error:
        raise BadRequest(Problem(tell("the kept plan can't be read."), AGAIN, file=str(file))) from error
