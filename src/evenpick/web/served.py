"""What every page needs of the garden that is served, and how a page is put together."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import Any, Protocol

from fastapi import Request

from evenpick.base.days import day_number
from evenpick.base.errors import BadRequest, EvenpickError, Problem
from evenpick.base.language import SOURCE, language_of, later, tell
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.here import AsHere
from evenpick.garden.garden import Garden
from evenpick.garden.record import Record
from evenpick.garden.whose_words import ENGLISH, UNITS
from evenpick.report.how_good import gap_words
from evenpick.report.place import title_place, whereabouts
from evenpick.report.words import Words, words_for
from evenpick.service.book import Following
from evenpick.service.learned_here import learned_here
from evenpick.service.less_lost import less_lost
from evenpick.service.other_farms import OtherFarms, others_now
from evenpick.service.plan_answer import PlanAnswer
from evenpick.service.plan_at_hand import older_told, plan_at_hand
from evenpick.service.plan_command import NO_COMMAND
from evenpick.service.setups import garden_of, there_is
from evenpick.service.store_plan import saved_plan
from evenpick.service.today import Known
from evenpick.web.keys import Keys, Patience
from evenpick.web.latest import Latest
from evenpick.web.soon import Soon
from evenpick.web.trying import Trying
from evenpick.web.work import Work

PAGES = (
    ("/", later("Today")), ("/pickings", later("Pickings")), ("/sowings", later("Sowings")),
    ("/ground", later("Ground")), ("/water", later("Water")), ("/tin", later("Seed tin")),
    ("/weather", later("Weather")), ("/diary", later("Diary")), ("/lessons", later("Lessons")),
    ("/trials", later("Trials")),
)
MORE = (
    ("/when", later("When to sow")), ("/month", later("This month")), ("/losses", later("Losses")),
    ("/plan", later("The plan and how good it is")),
)
"""at every page's foot"""


class About(Protocol):
    """What every page needs to know of what is served: one garden, or a cooperative's farms together."""

    keys: Keys
    sessions: bool
    patience: Patience
    above: tuple[str, int] | None
    """name of the cooperative that a farm is served with, and the port of its pages"""
    work: Work
    read_back: tuple[str, ...]
    """how the answers of a garden begun here were understood and what was left out, until its next plan"""

    def clock(self) -> date:
        """The day that it is."""

    @property
    def begun(self) -> bool:
        """Whether there is a file of it yet."""

    @property
    def pages(self) -> Sequence[tuple[str, str]]:
        """Path and name, for the head of every page."""

    @property
    def more(self) -> Sequence[tuple[str, str]]:
        """The same for its foot."""

    def words(self) -> Words:
        """Raises EvenpickError where its file is at fault."""

    def named(self) -> dict[str, Any]:
        """Its `place` (of one garden its `whereabouts` too) and whether it is `invented`, for who may know;
        raises as `words`."""

    def language(self) -> str:
        """That of its file; the source language where it can't be read."""

    def gap_told(self) -> str:
        """How near the plan kept is proven to be to the best; empty where there is none."""

    def placed(self, problem: Problem) -> Problem:
        """A problem with its place as the reader knows it: where several files are served, in which."""


@dataclass(slots=True)
class Served:
    """One garden and all that is kept of it between two requests."""

    garden: Path
    keys: Keys
    sessions: bool = False
    """whether who asks must have signed in"""
    clock: Callable[[], date] = date.today
    patience: Patience = field(default_factory=Patience)
    above: tuple[str, int] | None = None
    farm: str = ""
    """its name among a cooperative's"""
    read_back: tuple[str, ...] = ()
    latest: Latest = field(init=False)
    work: Work = field(init=False)
    trying: Trying = field(init=False)
    following: Following = field(init=False)
    soon: Soon = field(default_factory=Soon)

    def __post_init__(self) -> None:
        self.latest, self.work = Latest(self.garden), Work(self.garden)
        self.trying, self.following = Trying(self.garden), Following(self.garden)

    @property
    def begun(self) -> bool:
        return there_is(self.garden)

    @property
    def pages(self) -> Sequence[tuple[str, str]]:
        return PAGES

    @property
    def more(self) -> Sequence[tuple[str, str]]:
        return MORE

    def named(self) -> dict[str, Any]:
        if not self.begun:
            return {}
        described = self.described()
        return {"place": title_place(described.site, self.words()),
                "whereabouts": whereabouts(described.site), "invented": described.invented_by_demo}

    def placed(self, problem: Problem) -> Problem:
        return problem

    def gap_told(self) -> str:
        kept = self.kept_plan()
        return "" if kept is None else gap_words(kept)

    def described(self) -> Garden:
        return self.latest.get("garden", lambda: garden_of(self.garden), set_up=True)

    def words(self) -> Words:
        return self.latest.get("words", self._words, set_up=True)

    def _words(self) -> Words:
        if not self.begun:
            return words_for(ENGLISH[0], UNITS[0], load_catalogue())
        garden = self.described()
        return words_for(garden.english, garden.units, load_catalogue())

    def language(self) -> str:
        """The garden's; the source language while it has none that can be read."""
        try:
            return self.latest.get("language", self._language, set_up=True)
        except EvenpickError:
            return SOURCE

    def _language(self) -> str:
        if not self.begun:
            return SOURCE
        described = self.described()
        return language_of(described.english, described.language)

    def record(self) -> Record:
        return self.latest.get("record", self.following.record)

    def known(self, day: date) -> Known:
        """The garden as it bears on a day."""
        number = day_number(day)
        record = self.latest.get(("lately", number), lambda: self.following.lately(number))
        found = self.latest.get("plan at hand", lambda: plan_at_hand(self.garden, self.described()))
        return Known(self.described(), found.plan, record, found.older, self._others(found.plan, day))

    def _others(self, plan: PlanAnswer | None, day: date) -> OtherFarms | None:
        if plan is None:
            return None
        return self.latest.get(("others", day),
                               lambda: others_now(self.garden, self.described(), plan, day))

    def shared(self) -> bool:
        """Whether what is wanted of it is shared with other farms."""
        return self.described().cooperative is not None

    def learned(self) -> AsHere:
        """Crops as the diary taught them."""
        return self.latest.get("learned", lambda: learned_here(self.garden))

    def kept_plan(self) -> PlanAnswer | None:
        return self.latest.get("plan", lambda: saved_plan(self.garden))

    def plan(self) -> PlanAnswer:
        """The plan of the garden as it now is; NoPlan where there is none."""
        kept = self.kept_plan()
        if kept is None:
            raise NoPlan(Problem(tell("there is no plan for this garden as it now is."), tell("Make one.")))
        return kept

    def plan_now(self, day: date) -> PlanAnswer:
        """The plan as it can still be picked on a day, with a word where it is from before the garden's file
        was changed; NoPlan where there is none."""
        found = self.plan_at_hand_now(day)
        return self.plan() if found is None else found

    def plan_at_hand_now(self, day: date) -> PlanAnswer | None:
        """The same; None where there is none."""
        def found() -> PlanAnswer | None:
            known = self.known(day)
            if known.plan is None:
                return None
            left = less_lost(known.plan, known.record, day, NO_COMMAND, known.others)
            return older_told(left, known.older, NO_COMMAND)

        return self.latest.get(("plan now", day), found)


class NoPlan(BadRequest):
    """A page that reads the plan was asked for before there is one."""


def served(request: Request) -> Served:
    """The one garden that is served."""
    found: Served = request.app.state.served
    return found


def about_of(request: Request) -> About:
    """What is served, be it one garden or several together."""
    found: About = request.app.state.served
    return found
