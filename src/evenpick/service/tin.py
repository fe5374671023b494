"""What is in the seed tin, whether it will grow, and what is to be bought (docs/design/seed.md)."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from evenpick.base.days import day_date
from evenpick.base.errors import BadRequest, Problem
from evenpick.base.language import later, tell
from evenpick.climate.site import Site
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.seed import Keeping
from evenpick.garden.diary import SeedGot, SeedLeft, SeedTested
from evenpick.garden.garden import Garden
from evenpick.garden.reading import last_year
from evenpick.garden.record import Record
from evenpick.garden.tin import Tinned
from evenpick.garden.wishes import packed_later
from evenpick.service.book import record_of, write
from evenpick.service.carried_out import carried_out
from evenpick.service.gone import too_late
from evenpick.service.jobs import tag
from evenpick.service.outlook_answer import Band
from evenpick.service.packets import tin_now
from evenpick.service.plan_answer import PlanAnswer
from evenpick.service.seed_year import seed_year
from evenpick.service.setups import garden_of
from evenpick.service.store_plan import saved_plan
from evenpick.service.tin_worth import as_sold, to_buy, worth

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
    germination: float | None = None
    """share that grows by the packet or the garden file; a test in the diary goes before it"""


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
    there = [one for one in tin_now(described, record) if not _empty(one)]
    packets = [_row(one, described.kept, day) for one in there]
    covers = seed_year(day if plan is None else max(day, plan.begins))
    wanted = [] if plan is None else list(_shopping(plan, record, there, described.kept, day, covers[1]))
    return TinAnswer(described.site, day, described.kept, tuple(packets), tuple(wanted), plan is None, covers)


def write_got(garden: Path, day: date, fact: SeedGot) -> str:
    """A packet comes into the tin; returns the mark it goes by. BadRequest as `check_got`."""
    check_got(garden_of(garden), day, fact)
    return tag(write(garden, [(day, fact, "")])[0].id)


def check_got(garden: Garden, day: date, fact: SeedGot) -> None:
    """BadRequest for a packet of a later year than the garden file could name."""
    if fact.year is not None and fact.year > last_year(garden.plan, day):
        raise BadRequest(packed_later(fact.year))


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
    every = [one.id for one in tin_now(described, record_of(garden))]
    found = [one for one in every if packet in (one, tag(one))]
    if len(found) != 1:
        what = tell("the tin has no packet '{packet}'.", packet=packet) if not found else tell(
                        "'{packet}' may be several packets.", packet=packet)
        raise BadRequest(Problem(what, tell("Take a mark of: evenpick tin"), field="packet"))
    return found[0]


def _empty(one: Tinned) -> bool:
    return one.seeds == 0 or one.grams == 0


def _row(one: Tinned, kept: Keeping, day: date) -> PacketRow:
    crop, last = load_catalogue().crop(one.crop), one.tests[-1] if one.tests else None
    found = worth(one, kept, day)
    return PacketRow(
        one.id, tag(one.id), crop.key, crop.name, one.variety, one.year, one.seeds, one.grams, found.grows,
        None if last is None else (day_date(last.day), last.tried, last.came), found.verdict,
        found.thicker, one.f1, one.saved, one.reckoned, one.germination,
    )


def _shopping(
    plan: PlanAnswer, record: Record, packets: Sequence[Tinned], kept: Keeping, day: date, last: date
) -> Iterator[ShopRow]:
    """What the planned sowings up to the `last` day want and the tin has not."""
    gone = carried_out(plan.sowings, record.sowings.values())
    ahead = [s for s in plan.sowings
             if s.id not in gone and s.sow <= last and not too_late(s, record, day)]
    for key, name in dict.fromkeys((sowing.crop, sowing.name) for sowing in ahead):
        crop, mine = load_catalogue().crop(key), [s for s in ahead if (s.crop, s.name) == (key, name)]
        count = sum((s.seeds if crop.spacing.seeds_per_g else s.plants) or 0 for s in mine)
        own = [one for one in packets if (one.crop, crop.name) == (key, name)]  # no packet says its type
        have = as_sold(crop, own, kept, day)
        grams = count / crop.spacing.seeds_per_g if crop.spacing.seeds_per_g else None
        yield ShopRow(key, name, count, grams, have, to_buy(count, have), min(s.sow for s in mine))
