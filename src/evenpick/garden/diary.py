"""The diary: dated facts that are only ever added to (docs/design/record.md).

Units: m², kg, grams, °C, mm, litres.

A fact says what was seen or done. None always means "not said", never nought: a picking without kg was not
weighed. An entry's id is made where it is written and sorts by the moment of writing.
"""

from __future__ import annotations

import os
import time
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import ClassVar, Literal, TypeAlias

from evenpick.base.trade import CoverName, WayName

Tending = Literal[
    "thinned", "pricked out", "potted on", "hardened off", "earthed up", "covered", "uncovered", "weeded",
    "fed", "supported", "mulched",
]
Cause = Literal[
    "not up", "dried", "eaten", "diseased", "frosted", "scorched", "bolted", "not picked", "other",
]
JobAnswer = Literal["done", "put off", "refused"]
Decision = Literal["fixed", "refused", "freed"]


@dataclass(frozen=True, slots=True)
class Sowed:
    """Sown, or planted as sets, cloves, tubers or bought plants. The entry's id is the sowing's from then."""

    kind: ClassVar[str] = "sowed"
    crop: str
    """catalogue key"""
    way: WayName
    cover: CoverName
    area: float
    """m² that it takes, or will take once planted out"""
    variety: str = ""
    ground: str | None = None
    """bed or piece of ground; None for what is raised, or where it was not said"""
    seeds: float | None = None
    packet: str | None = None
    """id of the packet's entry"""
    planned: str | None = None
    """id of the planned sowing it carries out"""
    bought: bool = False
    """plants that were raised elsewhere (way raised); the entry's day is that of planting out"""


@dataclass(frozen=True, slots=True)
class CameUp:
    kind: ClassVar[str] = "came up"
    sowing: str
    share: float | None = None
    """of the seeds sown; 0 to 1"""


@dataclass(frozen=True, slots=True)
class PlantedOut:
    kind: ClassVar[str] = "planted out"
    sowing: str
    ground: str | None = None
    cover: CoverName | None = None
    area: float | None = None
    """m²; None: all of it"""


@dataclass(frozen=True, slots=True)
class Tended:
    kind: ClassVar[str] = "tended"
    what: Tending
    sowing: str | None = None
    ground: str | None = None


@dataclass(frozen=True, slots=True)
class Watered:
    kind: ClassVar[str] = "watered"
    sowing: str | None = None
    ground: str | None = None
    litres: float | None = None


@dataclass(frozen=True, slots=True)
class Picked:
    kind: ClassVar[str] = "picked"
    crop: str
    sowing: str | None = None
    ground: str | None = None
    kg: float | None = None
    """None: not weighed"""
    pieces: float | None = None
    """heads, roots, bunches: as the crop is counted"""


@dataclass(frozen=True, slots=True)
class Lost:
    kind: ClassVar[str] = "lost"
    sowing: str
    cause: Cause
    share: float
    """of what then stood; 1 is all of it"""
    by: str = ""
    """slugs, pigeons, a late frost: the grower's own words"""


@dataclass(frozen=True, slots=True)
class Cleared:
    kind: ClassVar[str] = "cleared"
    sowing: str


@dataclass(frozen=True, slots=True)
class Reading:
    """The grower's own instruments on that day."""

    kind: ClassVar[str] = "weather"
    tmin: float | None = None
    tmax: float | None = None
    rain: float | None = None


@dataclass(frozen=True, slots=True)
class SeedGot:
    """A packet came into the tin; the entry's id is the packet's."""

    kind: ClassVar[str] = "seed got"
    crop: str
    variety: str = ""
    year: int | None = None
    """packed or saved"""
    seeds: float | None = None
    grams: float | None = None
    germination: float | None = None
    """the maker's share, 0 to 1"""
    f1: bool | None = None
    saved: bool = False
    """the grower's own seed"""


@dataclass(frozen=True, slots=True)
class SeedTested:
    kind: ClassVar[str] = "seed tested"
    packet: str
    tried: int
    came: int
    days: int | None = None


@dataclass(frozen=True, slots=True)
class SeedLeft:
    """Counted or weighed again; nought is an empty packet."""

    kind: ClassVar[str] = "seed left"
    packet: str
    seeds: float | None = None
    grams: float | None = None


@dataclass(frozen=True, slots=True)
class Answered:
    """What became of a job of `today`."""

    kind: ClassVar[str] = "job"
    job: str
    answer: JobAnswer
    until: int | None = None
    """day number it is put off to"""
    wrote: str | None = None
    """id of the entry that was written with it, such as the sowing"""


@dataclass(frozen=True, slots=True)
class Decided:
    """The grower's word on a planned sowing: kept as it is, never offered again, or free again."""

    kind: ClassVar[str] = "decided"
    planned: str
    decision: Decision
    area: float | None = None
    """m² to fix it at; None: as planned"""
    sow: int | None = None
    """day number to fix it on; None: as planned"""


@dataclass(frozen=True, slots=True)
class SetUp:
    """The garden file as it stood from that moment."""

    kind: ClassVar[str] = "set up"
    text: str
    after: str | None = None
    """id of the set-up it was made from"""


@dataclass(frozen=True, slots=True)
class TrialLaid:
    """A comparison of varieties as it was laid out (docs/formats/trial-csv.md)."""

    kind: ClassVar[str] = "trial laid"
    name: str
    layout: str
    """the layout file's text"""


@dataclass(frozen=True, slots=True)
class TrialRecorded:
    kind: ClassVar[str] = "trial recorded"
    trial: str
    """id of the entry that laid it"""
    plot: str
    measure: str
    value: float | None
    """None: the plot was lost"""


@dataclass(frozen=True, slots=True)
class LeftOut:
    """Learning is not to use what was recorded of a sowing."""

    kind: ClassVar[str] = "left out"
    sowing: str


@dataclass(frozen=True, slots=True)
class Relearned:
    """Learning begins anew: what is older than this day counts no more, of one crop or of all."""

    kind: ClassVar[str] = "learning reset"
    crop: str | None = None


@dataclass(frozen=True, slots=True)
class Noted:
    """Free words, in the entry's note."""

    kind: ClassVar[str] = "noted"


@dataclass(frozen=True, slots=True)
class Undid:
    kind: ClassVar[str] = "undid"
    entry: str


@dataclass(frozen=True, slots=True)
class Corrected:
    """Another entry as it should have been."""

    kind: ClassVar[str] = "corrected"
    entry: str
    """id of the first entry, not of an earlier correction"""
    day: int
    fact: Fact
    after: str | None = None
    """id of the correction it was made upon"""


Fact: TypeAlias = (
    Sowed | CameUp | PlantedOut | Tended | Watered | Picked | Lost | Cleared | Reading | SeedGot | SeedTested
    | SeedLeft | Answered | Decided | SetUp | TrialLaid | TrialRecorded | LeftOut | Relearned | Noted | Undid
    | Corrected
)


@dataclass(frozen=True, slots=True)
class Entry:
    id: str
    """32 hexadecimal digits: 12 of the millisecond it was written, 20 by chance"""
    day: int
    """day number that the fact is about"""
    fact: Fact
    note: str = ""
    """the line as it was typed, or words of the grower's own"""
    by: str = ""
    """who wrote it, where several do"""


def new_id(now: float | None = None, after: str = "") -> str:
    """An id for an entry written at `now` (seconds since 1970; the clock's by default), later than the id
    `after`: a clock that was set back does not write before what is written."""
    moment = int((time.time() if now is None else now) * 1000)
    if after:
        moment = min(max(moment, int(after[:12], 16) + 1), 16**12 - 1)
    return f"{moment:012x}{os.urandom(10).hex()}"


def following(identity: str, at: int = 1) -> str:
    """The id of what is written `at` places after an entry and together with it: whoever sends that entry
    again makes the same one."""
    return f"{(int(identity, 16) + at) % 16**32:032x}"


def written(entry_id: str) -> datetime:
    """When an entry was written, by the clock of the device it was written on."""
    return datetime.fromtimestamp(int(entry_id[:12], 16) / 1000, UTC)
