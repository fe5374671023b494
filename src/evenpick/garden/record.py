"""The diary folded: every sowing with its state, and the answers and decisions that stand (record.md, R6)."""

from __future__ import annotations

from bisect import bisect_left, insort
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import prod
from operator import attrgetter
from typing import Any, Literal, TypeVar

from evenpick.base.trade import CoverName
from evenpick.garden.diary import (
    Answered,
    CameUp,
    Cause,
    Cleared,
    Corrected,
    Decided,
    Decision,
    Entry,
    LeftOut,
    Lost,
    Picked,
    PlantedOut,
    Reading,
    Sowed,
    Tended,
)
from evenpick.garden.effective import Conflict, Judged, counted, disputed, judged, setups

Told = TypeVar("Told", Answered, Decided)
State = Literal["sown", "up", "planted out", "standing", "picking", "cleared", "lost"]
FORGOTTEN = 3 * 365
"""days after which a sowing that nobody cleared counts as cleared: no crop of the catalogue stands so long
(our choice)"""
RESTING = 21
"""days without a picking after which what is left counts as standing (common practice, no source)"""
RAISED_WITHIN = 90
"""days from seed to the planting out of bought plants, at most (common practice, no source)"""
NOTHING_LEFT = 0.02
"""share of a sowing below which it counts as lost"""


@dataclass(frozen=True, slots=True)
class Loss:
    day: int
    cause: Cause
    share: float
    by: str


@dataclass(frozen=True, slots=True)
class Taken:
    """One picking of a sowing; kg None where it was not weighed."""

    day: int
    kg: float | None
    pieces: float | None


@dataclass(frozen=True, slots=True)
class Sowing:
    """A sowing as the diary tells it."""

    id: str
    day: int
    fact: Sowed
    ground: str | None
    """where it is now"""
    cover: CoverName
    area: float
    """m² sown or planted out, losses not taken off"""
    up: int | None = None
    up_share: float | None = None
    planted_out: int | None = None
    tended: tuple[tuple[int, str], ...] = ()
    pickings: tuple[Taken, ...] = ()
    losses: tuple[Loss, ...] = ()
    cleared: int | None = None
    left_out: bool = False

    @property
    def left(self) -> float:
        """Share that no loss has taken, as far as the diary goes."""
        return _left(self.losses)

    def left_on(self, on: int) -> float:
        """Share that no loss had taken by a day."""
        return _left(loss for loss in self.losses if loss.day <= on)

    @property
    def picked_kg(self) -> float:
        """What was weighed; pickings not weighed are not in it."""
        return sum(taken.kg for taken in self.pickings if taken.kg is not None)

    @property
    def unweighed(self) -> int:
        return sum(taken.kg is None for taken in self.pickings)

    def named(self, crop: str) -> str:
        """A name of its crop with its variety."""
        return f"{crop}, {self.fact.variety}" if self.fact.variety else crop

    @property
    def on_bench(self) -> bool:
        """Whether it is raised and not planted out yet."""
        return self.fact.way == "raised" and self.planted_out is None

    @property
    def before(self) -> int:
        """Days before its own that bear on how it grows: those in which bought plants were raised."""
        return RAISED_WITHIN if self.fact.bought else 0

    @property
    def ended(self) -> int | None:
        """The day on which it was cleared, or else nothing was left of it; None where neither is told."""
        if self.cleared is not None or self.left > NOTHING_LEFT:
            return self.cleared
        return next(loss.day for loss in self.losses if self.left_on(loss.day) <= NOTHING_LEFT)

    def over(self, on: int) -> bool:
        """Whether it was cleared, or nothing was left of it, by a day."""
        return self.state(on) in ("cleared", "lost")

    def state(self, on: int) -> State:
        """Its state on a day, as far as it was written down."""
        if (self.cleared is not None and self.cleared <= on) or on - self.day > FORGOTTEN:
            return "cleared"
        if self.left_on(on) <= NOTHING_LEFT:
            return "lost"
        pickings = [taken.day for taken in self.pickings if taken.day <= on]
        if pickings:
            return "picking" if on - max(pickings) <= RESTING else "standing"
        if self.planted_out is not None and self.planted_out <= on:
            return "planted out"
        if self.up is not None and self.up <= on:
            return "up"
        return "sown"


def _left(losses: Iterable[Loss]) -> float:
    return prod(1.0 - loss.share for loss in losses)


@dataclass(frozen=True, slots=True)
class Record:
    """The whole diary, folded."""

    entries: tuple[Entry, ...]
    """those that count, as corrected, by day"""
    sowings: Mapping[str, Sowing]
    answers: Mapping[str, Answered]
    """the latest, by job"""
    decisions: Mapping[str, Decided]
    """the latest, by planned sowing; freed ones left out"""
    setup: Entry | None
    """the set-up that stands"""
    conflicts: tuple[Conflict, ...]
    corrections: Mapping[str, tuple[Entry, ...]]
    """of an entry: all that were not undone, oldest first"""

    def decided(self, decision: Decision) -> set[str]:
        """Planned sowings of which that was decided last."""
        return {planned for planned, fact in self.decisions.items() if fact.decision == decision}

    @property
    def readings(self) -> Mapping[int, Reading]:
        """The grower's own instruments, by day number."""
        return readings_over({}, self.entries)


def readings_over(before: Mapping[int, Reading], entries: Iterable[Entry]) -> Mapping[int, Reading]:
    """What entries, in the order in which they count, tell of each day over what was known before: each
    minimum, maximum and rain as told last, so that a day's frost and its rain may be two entries."""
    found = dict(before)
    for entry in entries:
        if isinstance(entry.fact, Reading):
            found[entry.day] = _over(found.get(entry.day, Reading()), entry.fact)
    return found


def _over(before: Reading, told: Reading) -> Reading:
    return Reading(
        before.tmin if told.tmin is None else told.tmin, before.tmax if told.tmax is None else told.tmax,
        before.rain if told.rain is None else told.rain,
    )


def fold(entries: Iterable[Entry]) -> Record:
    """The record of a diary; what is told of a sowing not there (undone, not yet merged) is left aside."""
    diary = judged(entries)
    count = counted(diary)
    sown, about = _by_sowing(count)
    sowings = {identity: _sowing(entry, fact, about[identity]) for identity, (entry, fact) in sown.items()}
    answers = {fact.job: fact for fact in _facts(count, Answered)}
    decisions = {fact.planned: fact for fact in _facts(count, Decided)}
    standing = setups(count)
    return Record(
        count, sowings, answers,
        {planned: fact for planned, fact in decisions.items() if fact.decision != "freed"},
        standing[-1] if standing else None, disputed(diary), _corrections(diary),
    )


def _by_sowing(count: tuple[Entry, ...]) -> tuple[dict[str, tuple[Entry, Sowed]], dict[str, list[Entry]]]:
    """Sowings by id, and what is told of each, be it told before or after."""
    sown = {entry.id: (entry, entry.fact) for entry in count if isinstance(entry.fact, Sowed)}
    about: dict[str, list[Entry]] = {identity: [] for identity in sown}
    for entry in count:
        sowing = getattr(entry.fact, "sowing", None)
        if sowing in about:
            about[sowing].append(entry)
    return sown, about


class Sowings:
    """The sowings of a diary that goes on: of what is added only the sowing that it is told of is folded
    anew, where `fold` would take all there are each time."""

    def __init__(self, record: Record) -> None:
        self._sown, self._told = _by_sowing(record.entries)
        self._there = list(record.sowings.values())

    def add(self, entry: Entry) -> None:
        """Takes an entry that is told of none before it but by its sowing: no correction, no undoing."""
        which = self._take(entry)
        if which is None:
            return
        made = _sowing(*self._sown[which], self._told[which])
        at = bisect_left(self._there, (made.day, made.id), key=_by_day)
        there = at < len(self._there) and self._there[at].id == made.id
        self._there[at : at + there] = [made]

    def there(self) -> tuple[Sowing, ...]:
        """All of them, by day and id as those of a record are."""
        return tuple(self._there)

    def _take(self, entry: Entry) -> str | None:
        """The id of the sowing that the entry is told of; None where it is of none that is there."""
        if isinstance(entry.fact, Sowed):
            self._sown[entry.id] = entry, entry.fact
            self._told.setdefault(entry.id, [])
            return entry.id
        which: str | None = getattr(entry.fact, "sowing", None)
        if which is None or which not in self._sown:
            return None
        insort(self._told[which], entry, key=attrgetter("day", "id"))
        return which


def _by_day(sowing: Sowing) -> tuple[int, str]:
    return sowing.day, sowing.id


def _corrections(diary: Judged) -> Mapping[str, tuple[Entry, ...]]:
    found: dict[str, tuple[Entry, ...]] = {}
    for each in sorted(map(diary.every.__getitem__, diary.alive), key=lambda each: each.id):
        if isinstance(each.fact, Corrected):
            found[each.fact.entry] = (*found.get(each.fact.entry, ()), each)
    return found


def _facts(entries: Iterable[Entry], kind: type[Told]) -> list[Told]:
    """Facts of one kind in the order of writing."""
    by_writing = sorted((each for each in entries if isinstance(each.fact, kind)), key=lambda each: each.id)
    return [entry.fact for entry in by_writing if isinstance(entry.fact, kind)]


def _sowing(entry: Entry, sowed: Sowed, later: list[Entry]) -> Sowing:
    told: dict[type, list[tuple[int, Any]]] = {}
    for each in later:
        told.setdefault(type(each.fact), []).append((each.day, each.fact))
    up = next(((day, fact.share) for day, fact in told.get(CameUp, ())), (None, None))
    out = told.get(PlantedOut, [])
    ground, cover, area = sowed.ground, sowed.cover, sowed.area
    for _day, fact in out:
        ground, cover = fact.ground or ground, fact.cover or cover
    said = [fact.area for _day, fact in out]
    if said and None not in said:
        area = sum(said)
    return Sowing(
        entry.id, entry.day, sowed, ground, cover, area, up[0], up[1],
        entry.day if sowed.bought else out[0][0] if out else None,
        tuple((day, fact.what) for day, fact in told.get(Tended, ())),
        tuple(Taken(day, fact.kg, fact.pieces) for day, fact in told.get(Picked, ())),
        tuple(Loss(day, fact.cause, fact.share, fact.by) for day, fact in told.get(Lost, ())),
        max((day for day, _fact in told.get(Cleared, ())), default=None), LeftOut in told,
    )
