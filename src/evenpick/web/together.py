"""A cooperative as it is served: its plan, and each farm as it is served at a port of its own."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from pathlib import Path
from typing import Any

from fastapi import Request

from evenpick.base.errors import EvenpickError, NothingKept, Problem
from evenpick.base.language import SOURCE, language_of, later, tell
from evenpick.crops.catalogue import load_catalogue
from evenpick.report.how_good import gap_words
from evenpick.report.words import Words, words_for
from evenpick.service.cooperative_answer import CooperativeAnswer
from evenpick.service.cooperative_files import Described, cooperative_of, seen_from
from evenpick.service.cooperative_now import less_lost_by_farm, older_together, records_of
from evenpick.service.kept_together import last_cooperative, older_note, saved_cooperative
from evenpick.service.plan_command import NO_COMMAND
from evenpick.web.keys import Keys, Patience, keys_of
from evenpick.web.latest import Latest
from evenpick.web.served import NoPlan, Served
from evenpick.web.work import Work

SHARED_PAGES = (
    ("/", later("Today")), ("/pickings", later("Pickings")), ("/ground", later("Ground")),
    ("/plan", later("The plan")),
)


@dataclass(slots=True)
class Together:
    """The farms of one file and what is kept of them between two requests (an `About`)."""

    file: Path
    keys: Keys
    farms: Mapping[Path, Served]
    """by garden file; those of the file when serving began"""
    ports: Mapping[Path, int]
    """at which each farm's own pages are"""
    sessions: bool = False
    clock: Callable[[], date] = date.today
    patience: Patience = field(default_factory=Patience)
    work: Work = field(init=False)
    latest: Latest = field(init=False)
    begun: bool = True
    pages: Sequence[tuple[str, str]] = SHARED_PAGES
    more: Sequence[tuple[str, str]] = ()
    above: tuple[str, int] | None = None
    read_back: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        self.work, self.latest = Work(self.file), Latest(self.file, tuple(self.farms))

    def described(self) -> Described:
        """As the files now are: a plan is of them all."""
        found = self.latest.get("described", lambda: cooperative_of(self.file), set_up=True)
        farms = tuple(farm.file for farm in found.own.farms)
        if self.latest.gardens == (self.file, *farms):
            return found
        self.latest = Latest(self.file, farms)  # another farm's files are looked at too
        return self.described()

    def words(self) -> Words:
        own = self.described().own
        return words_for(own.english, own.units, load_catalogue())

    def named(self) -> dict[str, Any]:
        own = self.described().own
        return {"place": own.name, "invented": own.invented}

    def language(self) -> str:
        try:
            return language_of(self.described().own.english)
        except EvenpickError:
            return SOURCE

    def placed(self, problem: Problem) -> Problem:
        """Of a farm's file its name, as seen from the cooperative's, and the line go before the field."""
        if problem.file is None or Path(problem.file) == self.file:
            return problem
        line = None if problem.line is None else tell("line {line}", line=problem.line)
        parts = (seen_from(Path(problem.file), self.file), line, problem.field)
        return replace(problem, field=", ".join(part for part in parts if part))

    def gap_told(self) -> str:
        kept = self._saved(self.described())
        return "" if kept is None else gap_words(kept.farms[0].plan)

    def older(self, described: Described) -> str:
        """What is said of a plan from before the files were changed; empty of one made since. NoPlan where
        there is none at all."""
        try:
            return self.latest.get(("older", described.digest), lambda: older_note(described))
        except NothingKept as error:
            raise NoPlan(Problem(error.problems[0].what, tell("Make one."))) from error

    def plan(self, described: Described) -> CooperativeAnswer:
        """The plan of the cooperative as it now is; NoPlan where there is none."""
        kept = self._saved(described)
        if kept is None:
            raise NoPlan(Problem(tell("there is no plan for this cooperative as it and its farms now are."),
                                 tell("Make one.")))
        return kept

    def plan_now(self, described: Described, day: date) -> CooperativeAnswer:
        """The plan as it can still be picked on a day, with a word where it is from before one of the files
        was changed; NoPlan where there is none."""
        older = self.older(described)

        def found() -> CooperativeAnswer:
            answer = last_cooperative(described)[0] if older else self.plan(described)
            records = records_of(described, answer, lambda farm: self.farm(farm).known(day).record)
            left = less_lost_by_farm(answer, records, day, NO_COMMAND)
            return older_together(left, older, NO_COMMAND)

        return self.latest.get(("plan now", described.digest, day), found)

    def _saved(self, described: Described) -> CooperativeAnswer | None:
        return self.latest.get(("plan", described.digest), lambda: saved_cooperative(described))

    def farm(self, file: Path) -> Served:
        """A farm as it is served; one that came since serving began is looked at all the same."""
        return self.farms.get(file) or Served(file, self.keys, self.sessions, self.clock)


def served_together(
    file: Path, ports: Sequence[int], sessions: bool = False, clock: Callable[[], date] = date.today
) -> Together:
    """The cooperative at the first of the ports, its farms at the others in their order. One passphrase opens
    all and guessing at any slows all. BadGarden as of `cooperative_of`."""
    described, keys, patience = cooperative_of(file), keys_of(file), Patience()
    above, *own = ports
    farms, link = described.own.farms, (described.own.name, above)
    served = {one.file: Served(one.file, keys, sessions, clock, patience, link, one.name) for one in farms}
    at = {farm.file: port for farm, port in zip(farms, own, strict=True)}
    return Together(file, keys, served, at, sessions, clock, patience)


def together_of(request: Request) -> Together:
    found: Together = request.app.state.served
    return found
