"""What to water in a garden today: every sowing under way by its own course, as the diary tells it
(docs/design/water.md, 22)."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from evenpick.base.arrays import Bools
from evenpick.base.chance import DEFAULT_SEED
from evenpick.base.days import day_date, day_number
from evenpick.base.errors import BadRequest, Problem
from evenpick.base.language import later, tell, together
from evenpick.base.trade import CoverName, WayName
from evenpick.climate.origin import ClimateOrigin
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.here import AsHere
from evenpick.garden.garden import Garden
from evenpick.garden.record import Record, Sowing
from evenpick.outlook.setting import Settings
from evenpick.service.book import lately
from evenpick.service.by_hand import Pot, by_hand
from evenpick.service.expected import AHEAD, BACK, MOST_YEARS, fewer
from evenpick.service.learning import as_kept
from evenpick.service.outlook import Asked
from evenpick.service.plan_answer import PlanAnswer
from evenpick.service.season_weather import season_weather
from evenpick.service.seedbeds import unwatered
from evenpick.service.setups import garden_of
from evenpick.service.store_plan import saved_plan
from evenpick.service.today import today
from evenpick.service.water import CAUTIONS, LEAD, SHOWN, notes_on, told_air, up_days, water
from evenpick.service.water_answer import ON_THE_DRILL, WaterAnswer, WaterDay, WateringAnswer, WaterRow
from evenpick.service.water_course import strips
from evenpick.service.water_days import left_dry
from evenpick.service.watered import Followed, Season, followed, last_watered, wanted

ADVICE = ("water", "perhaps", "leave")
UNWATERED = later("The garden file says that drills in the open can't be watered: what stands there is told "
                  "as left to the rain since its sowing, and no water is asked for it.")
FULL = later("Open ground is taken to have been full {lead} days before a sowing, ground in a tunnel "
             "soaked on the day before it is sown or planted, both watered as told here since.")

IN_POTS = later("Pots are taken to hold what round ones as wide do (15 l, or 4 US gallons, at 30 cm or "
                "12 in), of a compost a quarter of which is water that roots can take. A lighter compost, a "
                "dark pot, leaves that keep the rain off or a windy balcony want more: put a finger in every "
                "day.")

LEFT = later("What open ground held before a sowing is reckoned from a year of rain on it, with crops or "
             "weeds on it half of the time, and left to the rain since; ground in a tunnel is taken to have "
             "been soaked on the day before it is sown or planted, and watered as told here since.")


@dataclass(frozen=True, slots=True)
class _Season:
    """What every sowing of a garden shares: weather with all that was measured in it, as at one day."""

    garden: Garden
    plan: PlanAnswer | None
    on: int
    start: int
    settings: Settings
    recorded: Bools
    origin: ClimateOrigin
    as_here: AsHere

    @property
    def soil(self) -> str:
        return self.garden.soil


def watering(garden: Path, on: date) -> WateringAnswer:
    """What to water on a day: what the diary has under way, and what is to be sown in place this week.

    Raises BadGarden, BadBook, BadWeatherFile.
    """
    record, number = lately(garden, day_number(on)), day_number(on)
    growing = [one for one in record.sowings.values() if one.day <= number and not one.over(number)]
    here = [one for one in growing if not one.on_bench]
    season = _season(garden, record, here, on)
    rows = [_row(one, _follow(season, one), season, record) for one in here]
    rows += _to_sow(garden, season)
    bench = tuple((one.id, _name(one)) for one in growing if one.on_bench)
    return WateringAnswer(
        season.garden.site, season.origin, on, season.soil, tuple(sorted(rows, key=_need)), bench,
        _notes(season, any(row.pots for row in rows)), CAUTIONS,
    )


def _notes(season: _Season, in_pots: bool) -> tuple[str, ...]:
    said = (tell(FULL, lead=LEAD),) if season.garden.watered else (tell(UNWATERED), tell(LEFT))
    return *said, *([tell(IN_POTS)] if in_pots else []), told_air(season.settings.weather)


def water_sown(garden: Path, sowing: str, on: date) -> WaterAnswer:
    """The fortnight of one sowing under way, by its id; the same course as in `watering`.

    Raises BadRequest where the diary has no such sowing in its place on that day, BadGarden, BadBook.
    """
    record = lately(garden, day_number(on))
    one = record.sowings.get(sowing)
    number = day_number(on)
    if one is None or one.over(number) or one.day > number or one.on_bench:
        raise BadRequest(Problem(tell("nothing of that sowing stands in the ground on that day."),
                                 tell("See what is to be watered."), field="sowing"))
    season = _season(garden, record, [one], on)
    followed = _follow(season, one)
    described, want = season.garden, followed.want
    sow = day_date(one.day)
    worth = () if want.way.name != "direct" else water(
        described.site, described.weather, want.crop.key, sow, sow, described.soil, one.cover, "direct").steps
    named = want.crop.key, _name(one), want.way.name, want.cover, season.soil
    return WaterAnswer(
        described.site, season.origin, *named, sow, on, want.crop.spacing.row, strips(want).band,
        up_days(followed.course, followed.start), followed.days, _next_due(followed.days), worth,
        tuple(notes_on(want, season.settings.weather, worth, followed.course.watered)), CAUTIONS,
        left_dry(followed.course, number - followed.start),
    )


def _season(garden: Path, record: Record, sowings: Sequence[Sowing], on: date) -> _Season:
    """On one axis for all but the oldest, as for the jobs of today, so that both say the same."""
    described, plan, number = garden_of(garden), saved_plan(garden), day_number(on)
    start = min([number - BACK, *(one.day - LEAD for one in sowings)])
    made = season_weather(described.site, described.weather, start, number - start + AHEAD, {}, DEFAULT_SEED)
    return _Season(
        described, plan, number, start, Settings(
            fewer(made.weather, MOST_YEARS), unwatered(described.site, described.seedbed), described.lowest),
        made.rained, made.weather.origin,
        as_kept(() if plan is None else plan.learned),
    )


def _follow(season: _Season, one: Sowing) -> Followed:
    want = _asked(season, one.fact.crop, one.cover, one.fact.way)
    return _followed(season, want, one.day, [one], _pot(season, want, one.ground, one.area))


def _asked(season: _Season, crop: str, cover: CoverName, way: WayName) -> Asked:
    found = load_catalogue().crop(crop)
    return wanted(season.as_here(found.grown_for(found.purposes[0]), cover), cover, way)


def _pot(season: _Season, want: Asked, ground: str | None, area: float) -> Pot | None:
    return by_hand(season.garden).pot(ground, want.cover, area, want.crop.spacing)


def _followed(
    season: _Season, want: Asked, sow: int, diary: Sequence[Sowing], pot: Pot | None
) -> Followed:
    today = season.on - season.start
    of_day = Season(season.garden.site, season.settings, season.recorded, today, season.garden.seedbed,
                    by_hand(season.garden))
    return followed(of_day, want, sow, diary, SHOWN, pot)


def _row(one: Sowing, followed: Followed, season: _Season, record: Record) -> WaterRow:
    first, area = followed.days[0], one.area * one.left_on(season.on)
    return WaterRow(
        one.id, one.fact.planned, one.fact.crop, _name(one), one.fact.way, one.cover, one.ground,
        day_date(one.day), area, first, _litres(first, area, followed.want), _next_due(followed.days),
        last_watered(one, record, season.on, by_hand(season.garden)),
        left_dry(followed.course, season.on - followed.start),
        _pots(followed),
    )


def _to_sow(garden: Path, season: _Season) -> Iterator[WaterRow]:
    """What is to be sown or set in its place this week, as though that were done today."""
    if season.plan is None:
        return
    on = day_date(season.on)
    due = {job.planned for job in today(garden, on).jobs if job.kind in ("sow", "plant")}
    for one in season.plan.sowings:
        if one.id in due and one.way != "raised":
            want = _asked(season, one.crop, one.cover, one.way)
            place = together(one.beds) or None
            followed = _followed(season, want, season.on, [], _pot(season, want, place, one.area_m2))
            days = followed.days
            yield WaterRow(
                None, one.id, one.crop, one.name, one.way, one.cover, place, on,
                one.area_m2, days[0], _litres(days[0], one.area_m2, want), _next_due(days), None,
                left_dry(followed.course, season.on - followed.start), _pots(followed),
            )


def _pots(followed: Followed) -> int:
    return 0 if followed.course.pot is None else followed.course.pot.count


def _litres(day: WaterDay, area: float, want: Asked) -> float:
    """On the whole sowing: of its drills until it is up, of all its ground from then on."""
    if day.phase in ON_THE_DRILL:
        return day.per_metre * area / want.crop.spacing.row
    return day.per_m2 * area


def _next_due(days: Sequence[WaterDay]) -> date | None:
    return next((one.when for one in days if one.advice == "water"), None)


def _name(one: Sowing) -> str:
    return one.named(load_catalogue().crop(one.fact.crop).name)


def _need(row: WaterRow) -> tuple[bool, int, bool, float, date, str]:
    """What was watered today stands last; else what is due, drills before what has roots."""
    day = row.today
    return (row.watered == day.when, ADVICE.index(day.advice), day.phase not in ON_THE_DRILL, -day.share,
            row.sow, row.name)
