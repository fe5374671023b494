"""The plan that is kept of a cooperative, and from before its files were changed (cooperative.md, 5)."""

from __future__ import annotations

import json
from pathlib import Path

from evenpick.base.errors import BadRequest, NothingKept, Problem
from evenpick.base.language import tell
from evenpick.garden.garden_json import KeptPlan
from evenpick.service.cooperative_answer import CooperativeAnswer
from evenpick.service.cooperative_files import Described, cooperative_of
from evenpick.service.plain import read_plain
from evenpick.service.plan_at_hand import OLDER_TOGETHER
from evenpick.service.plan_command import plan_command
from evenpick.store.book import Book, book_path


def kept_cooperative(file: Path) -> CooperativeAnswer:
    """The plan kept for the cooperative as it now is; BadRequest where there is none."""
    found = saved_cooperative(cooperative_of(file))
    if found is None:
        raise _nothing_kept(file)
    return found


def _nothing_kept(file: Path) -> NothingKept:
    what = tell("there is no plan for this cooperative as it and its farms now are.")
    return NothingKept(Problem(what, tell("Make one with: {command}", command=plan_command(file)), str(file)))


def older_note(described: Described) -> str:
    """What is to be said where the plan kept is from before one of the files was changed, a farm joined or
    left; empty where it is of the files as they now are. NothingKept where there is none at all."""
    kept = _last(described)
    if _of_these_files(kept, described):
        _read(described.file, kept)  # or it is refused here
    return _note(kept, described)


def _note(kept: KeptPlan, described: Described) -> str:
    return "" if _of_these_files(kept, described) else tell(OLDER_TOGETHER)


def _of_these_files(kept: KeptPlan, described: Described) -> bool:
    return kept.garden in (described.digest, described.signs)


def _last(described: Described) -> KeptPlan:
    kept = Book(book_path(described.file)).plan()
    if kept is None:
        raise _nothing_kept(described.file)
    return kept


def saved_cooperative(described: Described) -> CooperativeAnswer | None:
    """The plan kept for the cooperative as it now is; BadRequest where what is kept can't be read."""
    kept = Book(book_path(described.file)).plan()
    if kept is None or not _of_these_files(kept, described):
        return None
    return _read(described.file, kept)


def last_cooperative(described: Described) -> tuple[CooperativeAnswer, str]:
    """The plan that was last kept, whatever its files say by now, and what is to be said of that, as
    `older_note`. NothingKept where there is none."""
    kept = _last(described)
    return _read(described.file, kept), _note(kept, described)


def _read(file: Path, kept: KeptPlan) -> CooperativeAnswer:
    try:
        answer: CooperativeAnswer = read_plain(CooperativeAnswer, json.loads(kept.body))
    except (ValueError, TypeError, KeyError) as error:
        mend = tell("Make it again: evenpick plan --garden {file}", file=file)
        raise BadRequest(Problem(tell("the kept plan can't be read."), mend, str(file))) from error
    return answer
