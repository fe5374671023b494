"""A made plan kept in the garden's book, so that `today` need not make it again.

It is no part of the diary and is never merged: the plan made last stays.
"""

from __future__ import annotations

import hashlib
import json
import tomllib
from dataclasses import replace
from datetime import UTC, datetime
from functools import lru_cache
from pathlib import Path

from evenpick.base.errors import BadPlan, BadRequest, NothingKept, Problem
from evenpick.base.language import later, tell
from evenpick.garden.garden_json import KeptPlan
from evenpick.service.book import keep
from evenpick.service.plain import plain, read_plain
from evenpick.service.plan_answer import PlanAnswer
from evenpick.service.plan_command import plan_command
from evenpick.service.setups import garden_of, setup_text, text_if_any, there_is
from evenpick.store.book import Book, book_path

TOLD_IN = ("english", "units", "language")
"""of a garden's [words]"""
AGAIN = "Make the plan again: evenpick plan"
MAKE_ONE = later("Make one with: {command}")


def plan_path(garden: Path) -> Path:
    """The file beside the garden's that kept the plan before the book did; read where the book has none."""
    return garden.with_suffix(".plan.json")


def garden_digest(text: str) -> str:
    """Of all in a garden file that a plan hangs on: not of comments, of white space, nor of the words and
    units that it is told in. Of a text that can't be read, of every sign."""
    try:
        told = tomllib.loads(text.removeprefix("\ufeff").replace("\r\n", "\n"))
    except tomllib.TOMLDecodeError:
        return text_digest(text)
    words = {name: value for name, value in _table(told.get("words")).items() if name not in TOLD_IN}
    kept = {name: value for name, value in told.items() if name != "words"}
    kept |= {"words": words} if words else {}
    return text_digest(json.dumps(kept, sort_keys=True, ensure_ascii=False, default=str))


def text_digest(text: str) -> str:
    """Of every sign: what `garden_digest` was, and plans of then are still known by."""
    return hashlib.sha256(text.encode()).hexdigest()[:16]


def _table(told: object) -> dict[str, object]:
    return told if isinstance(told, dict) else {}


def save_plan(garden: Path, answer: PlanAnswer) -> Path:
    """Keep the plan in the garden's book, and the garden file with it if it was changed; the book's path."""
    keep(garden, ())
    return keep_answer(garden, answer.made_from.garden, answer)


def better_kept(garden: Path, answer: PlanAnswer) -> PlanAnswer | None:
    """The plan kept, where it was made for the same first day, of the same garden, weather, crops and diary,
    and is proven nearer to the best than this one, which was stopped sooner; None where it is not."""
    try:
        kept = saved_plan(garden)
    except BadPlan:  # a plan made again takes its place
        return None
    if kept is None or kept.gap is None or answer.gap is None or not kept.made_from.diary:
        return None
    same = (kept.begins, kept.made_from) == (answer.begins, answer.made_from)
    return kept if same and kept.gap < answer.gap else None


def kept_when(file: Path) -> str | None:
    """The moment that the plan in a file's book was kept; None where there is none or it is damaged."""
    try:
        kept = Book(book_path(file)).plan()
    except BadPlan:
        return None
    return None if kept is None else kept.made


def keep_answer(file: Path, digest: str, answer: object) -> Path:
    """Keep an answer as the plan in a file's book, with a digest of what it was made of; the book's path."""
    path, made = book_path(file), datetime.now(UTC).isoformat(timespec="microseconds")
    body = json.dumps(plain(answer), ensure_ascii=False, separators=(",", ":"))
    Book(path).keep_plan(KeptPlan(made, digest, body))
    return path


def last_plan(garden: Path) -> PlanAnswer | None:
    """The plan that was last kept for a garden, whatever the garden file says by now; None if there is none,
    or one that is damaged, or of a form that is not read any more."""
    try:
        answer = _kept(garden, Book(book_path(garden)).plan())
    except (BadRequest, BadPlan):
        return None
    text = text_if_any(garden)
    return answer if answer is None or text is None else _by_its_digest(answer, text)


def kept_plan(garden: Path) -> PlanAnswer:
    """The plan made from this garden as it now stands; NothingKept where there is none."""
    kept = saved_plan(garden)
    if kept is None:
        what = tell("there is no plan for this garden as it now is.")
        together = garden_of(garden).cooperative if there_is(garden) else None
        mend = tell(MAKE_ONE, command=plan_command(together))
        raise NothingKept(Problem(what, mend, str(garden)))
    return kept


def saved_plan(garden: Path) -> PlanAnswer | None:
    """The plan made from this garden as it now stands; None if none was, or the garden has changed.

    Raises BadRequest for a plan that can't be read, BadPlan for one that is damaged.
    """
    if not there_is(garden):
        return None
    text, kept = setup_text(garden), Book(book_path(garden)).plan()
    digest = garden_digest(text)
    if kept is not None and kept.garden not in (digest, text_digest(text)):
        return None
    answer = _kept(garden, kept)
    found = None if answer is None else _by_its_digest(answer, text)
    return found if found is not None and found.made_from.garden == digest else None


def _kept(garden: Path, kept: KeptPlan | None) -> PlanAnswer | None:
    """The plan `kept` in the book, or else in the older file. BadRequest where it can't be read."""
    if kept is not None:
        return _read(kept.body, book_path(garden))
    older = plan_path(garden)
    return _read(older.read_text(encoding="utf-8"), older) if older.exists() else None


def _by_its_digest(answer: PlanAnswer, text: str) -> PlanAnswer:
    """A plan made when every sign of the garden's text counted, under the digest that it would have now."""
    if answer.made_from.garden != text_digest(text):
        return answer
    return replace(answer, made_from=replace(answer.made_from, garden=garden_digest(text)))


@lru_cache(maxsize=8)
def _understood(text: str) -> PlanAnswer:
    """The plan that a text holds; a program that asks again has it from before, and
    those of a cooperative's farms beside each other."""
    answer: PlanAnswer = read_plain(PlanAnswer, json.loads(text))
    return answer


def _read(text: str, file: Path) -> PlanAnswer:
    try:
        return _understood(text)
    except (ValueError, TypeError, KeyError) as error:
        raise BadRequest(Problem(tell("the kept plan can't be read."), AGAIN, file=str(file))) from error
