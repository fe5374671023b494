"""What is in the seed tin, whether it will grow, and what is to be bought (docs/design/seed.md)."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from math import ceil, sqrt
from pathlib import Path
from statistics import NormalDist

from evenpick.base.days import day_date, day_number
from evenpick.base.errors import BadRequest, Problem
from evenpick.base.language import later, tell
from evenpick.climate.site import Site
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.crop import Crop
from evenpick.crops.seed import DAYS_IN_YEAR, FRESH, Keeping, germination, seed_of
from evenpick.garden.diary import SeedGot, SeedLeft, SeedTested
from evenpick.garden.garden import Garden
from evenpick.garden.record import Record
from evenpick.garden.tin import Tinned, tin
from evenpick.service.answers import Band, PlanAnswer
from evenpick.service.book import record_of, write
from evenpick.service.carried_out import carried_out
from evenpick.service.jobs import tag
from evenpick.service.seed_year import seed_year
from evenpick.service.setups import garden_of
from evenpick.service.store_plan import saved_plan

LOTS = 0.5
"""sd in probits by which lots of the same age differ (memory)"""
POOR, SPENT = 0.5, 0.2
"""likely germination below which it is tested first, and below which it is not worth sowing"""
LATE = timedelta(days=60)
"""a planned sowing that was not made is waited for so long"""
HOW = (
    later("Fold 20 to 50 seeds, counted, into a damp kitchen paper; put it in a bag or box that is not "
          "airtight."),
    later("Keep it as warm as the crop likes: about 20 °C (68 °F); lettuce, spinach and peas rather at "
          "15 °C (59 °F), beans, cucurbits and tomatoes at 25 °C (77 °F)."),
    later("Look every other day, take out what has a root, and count until nothing came for a week."),
    later("Write it down: evenpick tin --test PACKET --tried 50 --came 43. Twenty seeds tell good from "
          "dead; fifty tell 60 % from 85 %."),
)


@dataclass(frozen=True, slots=True)
class PacketRow:
    id: str
    tag: str
    """four characters that stand for the id on this page"""
    crop: str
    name: str
    variety: str
    year: int | None
    seeds: float | None
    grams: float | None
    """what is left; both None where nobody said"""
    grows: Band
    """share that would germinate now: 1 in 10 lots below, the middle, 1 in 10 above"""
    tested: tuple[date, int, int] | None
    """the last test: when, seeds tried, seeds that came"""
    verdict: str
    """good, sow thicker, test first, not worth sowing"""
    thicker: float
    """times as much seed to sow as good seed would want"""
    f1: bool | None
    saved: bool
    reckoned: bool


@dataclass(frozen=True, slots=True)
class ShopRow:
    crop: str
    name: str
    seeds: int
    grams: float | None
    """wanted by the plan in the coming year, were all seed to germinate as sold"""
    have: float | None
    """as good as so many such seeds; None where nothing in the tin says how much it is"""
    buy: int
    first: date
    """first day on which it is wanted"""


@dataclass(frozen=True, slots=True)
class TinAnswer:
    site: Site
    day: date
    kept: Keeping
    packets: tuple[PacketRow, ...]
    shopping: tuple[ShopRow, ...]
    unplanned: bool
    """no plan is kept, so nothing is known to be wanted"""
    covers: tuple[date, date]
    """first and last day of the weeks whose sowings the shopping is for"""


def tin_of(garden: Path, day: date) -> TinAnswer:
    """The tin on a day. BadGarden, BadBook."""
    described, record, plan = garden_of(garden), record_of(garden), saved_plan(garden)
    packets = [_row(one, described.kept, day) for one in _packets(described, record) if not _empty(one)]
    covers = seed_year(day if plan is None else max(day, plan.begins))
    wanted = [] if plan is None else list(_shopping(plan, record, packets, day, covers[1]))
    return TinAnswer(described.site, day, described.kept, tuple(packets), tuple(wanted), plan is None, covers)


def write_got(garden: Path, day: date, fact: SeedGot) -> str:
    """A packet comes into the tin; returns the mark it goes by."""
    return tag(write(garden, [(day, fact, "")])[0].id)


def write_test(garden: Path, day: date, packet: str, tried: int, came: int) -> None:
    """A germination test's counts. BadRequest where more came than were tried, or there is no such packet."""
    if not 0 <= came <= tried or tried < 1:
        raise BadRequest(Problem(tell("{came} of {tried} can't be.", came=came,
                                      tried=tried), tell("Give how many were tried and came.")))
    write(garden, [(day, SeedTested(_find(garden, packet), tried, came), "")])


def write_left(garden: Path, day: date, packet: str, seeds: float | None, grams: float | None) -> None:
    """What is left of a packet, counted or weighed again. BadRequest where there is no such packet."""
    write(garden, [(day, SeedLeft(_find(garden, packet), seeds, grams), "")])


def _find(garden: Path, packet: str) -> str:
    described = garden_of(garden)
    every = [one.id for one in _packets(described, record_of(garden))]
    found = [one for one in every if packet in (one, tag(one))]
    if len(found) != 1:
        what = tell("the tin has no packet '{packet}'.", packet=packet) if not found else tell(
                        "'{packet}' may be several packets.", packet=packet)
        raise BadRequest(Problem(what, tell("Take a mark of: evenpick tin"), field="packet"))
    return found[0]


def _packets(garden: Garden, record: Record) -> tuple[Tinned, ...]:
    per_g = {crop.key: crop.spacing.seeds_per_g for crop in load_catalogue().crops}
    return tin(garden.packets, record.entries, per_g)


def _empty(one: Tinned) -> bool:
    return one.seeds == 0 or one.grams == 0


def _row(one: Tinned, kept: Keeping, day: date) -> PacketRow:
    crop, last = load_catalogue().crop(one.crop), one.tests[-1] if one.tests else None
    grows = likely_germination(one, kept, day)
    verdict = _verdict(grows, last is not None)
    return PacketRow(
        one.id, tag(one.id), crop.key, crop.name, one.variety, one.year, one.seeds, one.grams, grows,
        None if last is None else (day_date(last.day), last.tried, last.came), verdict,
        FRESH / max(grows.likely, 0.05), one.f1, one.saved, one.reckoned,
    )


def likely_germination(one: Tinned, kept: Keeping, day: date) -> Band:
    """From its last test, else the maker's figure, else a fresh packet's; less what age has taken since."""
    seed, normal = seed_of(one.crop), NormalDist()
    if one.tests:
        last = one.tests[-1]
        low, middle, high = counted(last.came, last.tried)
        since = (day_number(day) - last.day) / DAYS_IN_YEAR
        return Band(*(germination(seed, share, since, kept) for share in (low, middle, high)))
    packed = day_number(date(one.year if one.year is not None else day.year, 1, 1))
    now = germination(seed, one.germination or FRESH, (day_number(day) - packed) / DAYS_IN_YEAR, kept)
    centre, tail = normal.inv_cdf(min(max(now, 1e-6), 1 - 1e-6)), LOTS * normal.inv_cdf(0.9)
    return Band(normal.cdf(centre - tail), now, normal.cdf(centre + tail))


def counted(came: int, tried: int) -> tuple[float, float, float]:
    """80 % interval and middle of a share from counts by Wilson's score (wilson1927), never quite 0 or 1."""
    z = NormalDist().inv_cdf(0.9)
    share, n = came / tried, tried + z**2
    centre = (came + z**2 / 2) / n
    half = z / n * sqrt(share * (1 - share) * tried + z**2 / 4)
    middle = (came + 0.5) / (tried + 1) if came in (0, tried) else share
    return max(centre - half, 1e-4), middle, min(centre + half, 1 - 1e-4)


def _verdict(grows: Band, tested: bool) -> str:
    if grows.high < SPENT or (tested and grows.likely < SPENT):
        return "not worth sowing"
    if grows.likely < POOR:
        return "sow thicker" if tested else "test first"
    return "good" if grows.likely >= 0.7 else "sow thicker"


def _shopping(
    plan: PlanAnswer, record: Record, packets: Sequence[PacketRow], day: date, last: date
) -> Iterator[ShopRow]:
    """What the planned sowings up to the `last` day want and the tin has not."""
    gone = carried_out(plan.sowings, record.sowings.values())
    ahead = [s for s in plan.sowings if s.id not in gone and day - LATE <= s.sow <= last]
    for key, name in dict.fromkeys((sowing.crop, sowing.name) for sowing in ahead):
        crop, mine = load_catalogue().crop(key), [s for s in ahead if (s.crop, s.name) == (key, name)]
        count = sum((s.seeds if crop.spacing.seeds_per_g else s.plants) or 0 for s in mine)
        own = [row for row in packets if (row.crop, crop.name) == (key, name)]  # no packet says its type
        have = _have(crop, own)
        buy = max(0, ceil(count - (have or 0.0) - 1e-6))
        grams = count / crop.spacing.seeds_per_g if crop.spacing.seeds_per_g else None
        yield ShopRow(key, name, count, grams, have, buy, min(s.sow for s in mine))


def _have(crop: Crop, packets: Sequence[PacketRow]) -> float | None:
    """As many seeds as sold as the packets are worth; None where none says how much is in it."""
    counts = []
    for row in packets:
        seeds = row.seeds
        if seeds is None and row.grams is not None and crop.spacing.seeds_per_g:
            seeds = row.grams * crop.spacing.seeds_per_g
        if seeds is not None and row.verdict != "not worth sowing":
            counts.append(seeds / max(row.thicker, 1.0))
    return sum(counts) if counts else None
