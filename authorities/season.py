"""A whole season replayed day by day: jobs, diary, two losses, a cold spring; and what adapting was worth.

    python authorities/season.py > authorities/season.md

The garden and its grower are INVENTED; the weather is Dublin Airport's. The season is 2013, whose March was
the coldest of the record: the program is given the record up to 2012 and then, day by day, what was
measured. What truly grows is reckoned in the measured weather with the grower's own thermal times, stands and
yields, which the program does not know. One grower follows `today` and plans anew each month and after each
loss; the other carries out the first plan as it was. The same slugs and pigeons come to both.
"""

from __future__ import annotations

import tempfile
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date, timedelta
from pathlib import Path

import numpy as np

from evenpick.base.arrays import Floats
from evenpick.base.chance import stream
from evenpick.base.days import day_date, day_number, monday
from evenpick.climate.records import packaged_record
from evenpick.climate.site import Site
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.diary import Lost, Picked, Sowed
from evenpick.garden.garden import WeatherChoice
from evenpick.garden.reading import read_garden
from evenpick.outlook.grow import grow
from evenpick.outlook.outcome import Outcome
from evenpick.outlook.ripening import ripening
from evenpick.outlook.setting import Settings
from evenpick.outlook.stages import UNSEEN, Seen
from evenpick.plan.horizon import Horizon
from evenpick.plan.wanted import wanted_items
from evenpick.service.book import record_of, write
from evenpick.service.climate import weather_for
from evenpick.service.job_answers import answer_job
from evenpick.service.plan_answer import PlanAnswer
from evenpick.service.planning import make_plan, save_plan
from evenpick.service.today import today
from evenpick.service.today_answer import Job

SEED = 20_130_301
BEGIN, END = date(2013, 2, 1), date(2014, 1, 31)
SLUGS, PIGEONS = date(2013, 5, 25), date(2013, 7, 15)
LATER, WORSE, SPREAD = 0.04, 0.95, 0.12
"""the grower's garden: ln of thermal time over the book's, yield over the book's, spread of both by crop"""
WISHES = (
    ("radish", "radish", "250 g", "04-20", "10-15"), ("lettuce", "leaf-lettuce", "350 g", "05-01", "10-31"),
    ("carrots", "early-carrot", "600 g", "06-15", "11-15"),
    ("beetroot", "beetroot", "400 g", "06-15", "11-30"),
    ("peas", "pea", "400 g", "06-10", "08-10"), ("beans", "dwarf-bean", "400 g", "07-10", "09-30"),
    ("courgettes", "courgette", "600 g", "07-01", "10-05"), ("kale", "kale", "400 g", "09-15", "01-31"),
    ("chard", "chard", "400 g", "06-01", "12-15"), ("leeks", "leek", "500 g", "10-01", "01-31"),
    ("kohlrabi", "kohlrabi", "300 g", "06-01", "10-31"),
)
TEXT = """invented = true
[site]
name = "a garden by the airport"
at = "53.43, -6.24"
height = "71 m"
weather = "record.csv"
[plan]
from = {begin}
years = 20
[[ground]]
name = "garden"
cover = "open"
area = "70 m2"
[covers]
fleece = "10 m2"
[bench]
modules = 150
lowest = "16 °C"
{wishes}"""


@dataclass
class Truth:
    """What really grows, in the measured weather of the season."""

    settings: Settings
    start: int
    weeks: int
    outcomes: dict[tuple[str, str, str, int], Outcome] = field(default_factory=dict)

    def outcome(self, fact: Sowed, day: int) -> Outcome:
        key = fact.crop, fact.way, fact.cover, day
        if key not in self.outcomes:
            crop = load_catalogue().crop(fact.crop)
            factor = np.exp(np.array([[LATER + SPREAD * stream(SEED, "time", crop.key).normal()]]))
            self.outcomes[key] = grow(crop, crop.way(fact.way), fact.cover, self.settings,
                                      np.array([day - self.start]), factor, crop.purposes[0], UNDER_WAY)
        return self.outcomes[key]

    def day(self, fact: Sowed, sown: int, name: str) -> int:
        """Day number of 'up', 'place', 'first' or 'last'."""
        return int(getattr(self.outcome(fact, sown), name)[0, 0]) + self.start

    def produce(self, fact: Sowed, sown: int) -> Iterator[tuple[int, int, float]]:
        """(week it is ripe, last week it is good, kg) of the whole sowing, weeks from the axis's start."""
        crop, outcome = load_catalogue().crop(fact.crop), self.outcome(fact, sown)
        ripe = ripening(outcome, self.settings.cover(fact.cover), self.weeks)
        own = WORSE * np.exp(SPREAD * stream(SEED, "yield", crop.key).normal())
        stand = stream(SEED, "stand", crop.key, str(sown)).beta(6.8, 1.2) / 0.85
        for week, last, share in zip(ripe.ripe, ripe.last, ripe.share, strict=True):
            yield int(week), int(last), float(share * own * stand * crop.produce.kg_per_m2 * fact.area)


def measured(upto: date, path: Path) -> None:
    """The record as the grower has it on a day: every year but those of the season, and that up to then."""
    series, _ = packaged_record("dublin_airport")
    last = day_number(upto) - series.start
    columns = [getattr(series, name)[:last] for name in ("tmin", "tmax", "rain", "radiation")]
    rows = ["date,tmin_c,tmax_c,rain_mm,radiation_mj_m2"]
    for at in range(last):
        cells = ("" if np.isnan(column[at]) else f"{column[at]:.2f}" for column in columns)
        rows.append(f"{day_date(series.start + at)},{','.join(cells)}")
    path.write_text("\n".join(rows) + "\n", encoding="utf-8")


def truth() -> Truth:
    start = monday(day_number(BEGIN)) - 70
    airport = WeatherChoice(packaged="dublin_airport")
    whole = weather_for(Site("there", 53.43, -6.24, 71.0), airport, start, 700, SEED)
    at = whole.labels.index(str(day_date(start).year))
    return Truth(Settings(whole.of_years(np.array([at]))), start, 100)


@dataclass
class Season:
    """One grower's year: what was sown, what was lost, and what there was to pick."""

    truth: Truth
    sown: list[tuple[int, Sowed]] = field(default_factory=list)
    lost: dict[int, list[tuple[int, float]]] = field(default_factory=lambda: defaultdict(list))
    """by place in `sown`: (day, share lost)"""

    def eaten(self, on: int, crops: set[str], share: float, youngest: int, oldest: int) -> list[int]:
        """Places of the sowings that are so many days up, of which a share goes."""
        hit = [at for at, (day, fact) in enumerate(self.sown)
               if fact.crop in crops and youngest <= on - self.truth.day(fact, day, "up") <= oldest]
        for at in hit:
            self.lost[at].append((on, share))
        return hit

    def ripe(self) -> list[tuple[str, int, int, float]]:
        """(crop, week ripe, last week good, kg) of everything, losses taken off from their day."""
        found = []
        for at, (day, fact) in enumerate(self.sown):
            for week, last, kg in self.truth.produce(fact, day):
                left = 1.0
                for lost, share in self.lost.get(at, ()):
                    left *= 1 - share if lost <= self.truth.start + 7 * week + 6 else 1.0
                found.append((fact.crop, week, last, kg * left))
        return found


Judged = dict[str, tuple[float, float, float, int]]
"""by item: kg wanted, bare, spare, and weeks with less than half of the want"""


def judged(season: Season, wants: dict[str, Floats], crops: dict[str, str]) -> Judged:
    """What goes over first is eaten first."""
    ripe = season.ripe()
    found = {}
    for item, wanted in wants.items():
        stock = [[week, last, kg] for crop, week, last, kg in ripe if crops[item] == crop]
        picked, bare, poor = sum(kg for week, _, kg in stock if week < wanted.size), 0.0, 0
        for week in range(wanted.size):
            need = wanted[week]
            ready = (entry for entry in stock if entry[0] <= week <= entry[1] and entry[2] > 0)
            for entry in sorted(ready, key=lambda entry: entry[1]):
                took = min(need, entry[2])
                entry[2] -= took
                need -= took
            bare += need
            poor += bool(wanted[week] > 0 and need > wanted[week] / 2)
        found[item] = float(wanted.sum()), bare, picked - (wanted.sum() - bare), poor
    return found


def unadapted(plan: PlanAnswer, world: Truth) -> Season:
    season = Season(world)
    for sowing in plan.sowings:
        if sowing.sow <= END:
            fact = Sowed(sowing.crop, sowing.way, sowing.cover, sowing.area_m2)
            season.sown.append((day_number(sowing.sow), fact))
    for day, crops, share, ages in DISASTERS:
        season.eaten(day_number(day), crops, share, *ages)
    return season


UNDER_WAY = Seen(np.array([UNSEEN]), np.array([UNSEEN]))
"""what is sown is sown: it was not too cold to start, whatever becomes of it"""
DISASTERS = (
    (SLUGS, {"leaf-lettuce", "kohlrabi", "dwarf-bean"}, 1.0, (0, 45)),
    (PIGEONS, {"kale", "chard", "beetroot"}, 0.6, (0, 70)),
)


class Grower:
    """Does what today asks, writes it down, and plans anew each month and after a loss."""

    def __init__(self, folder: Path, world: Truth) -> None:
        self.garden, self.folder, self.truth = folder / "garden.toml", folder, world
        self.season = Season(world)
        self.ids: list[str] = []
        self.lines: list[str] = []
        self.jobs = 0

    def live(self) -> None:
        day = BEGIN
        while day <= END:
            measured(day, self.folder / "record.csv")
            for disaster, crops, share, ages in DISASTERS:
                if day == disaster:
                    self.disaster(day, crops, share, ages)
            if day.day == 1 and day > BEGIN:
                self.replan(day, "the month")
            self.work(day)
            if day.weekday() == 0:
                self.pick(day)
            day += timedelta(days=1)

    def disaster(self, day: date, crops: set[str], share: float, ages: tuple[int, int]) -> None:
        hit = self.season.eaten(day_number(day), crops, share, *ages)
        if hit:
            by = "slugs" if share == 1 else "pigeons"
            write(self.garden, [(day, Lost(self.ids[at], "eaten", share, by), "") for at in hit])
        self.replan(day, f"{len(hit)} sowings lost in part or whole")

    def replan(self, day: date, why: str) -> None:
        plan = make_plan(self.garden, day, mend=True)
        save_plan(self.garden, plan)
        self.lines.append(f"| {day} | {why} | {len(plan.changes)} | {plan.seconds:.1f} |")

    def work(self, day: date) -> None:
        for job in today(self.garden, day).jobs:
            if job.when <= day and self.can(job, day):
                self.done(job, day)

    def can(self, job: Job, day: date) -> bool:
        """Whether it is so yet: up, ready to go out, over."""
        if job.sowing is None:
            return True
        sown, fact = self.season.sown[self.ids.index(job.sowing)]
        stage = {"look": "up", "plant out": "place", "clear": "last"}.get(job.kind)
        if stage is None:
            return job.kind not in ("pick", "water", "cover")
        gone = job.kind == "clear" and record_of(self.garden).sowings[job.sowing].left < 0.05
        return gone or self.truth.day(fact, sown, stage) <= day_number(day)

    def done(self, job: Job, day: date) -> None:
        entries = answer_job(self.garden, job.id, "done", day)
        self.jobs += 1
        for entry in entries:
            if isinstance(entry.fact, Sowed):
                self.season.sown.append((entry.day, entry.fact))
                self.ids.append(entry.id)

    def pick(self, day: date) -> None:
        """Everything that became ripe in the week before, weighed."""
        week = (day_number(day) - self.truth.start) // 7 - 1
        facts = []
        for at, (sown, fact) in enumerate(self.season.sown):
            left = float(np.prod([1 - share for _, share in self.season.lost.get(at, ())]))
            kg = sum(each for ripe, _, each in self.truth.produce(fact, sown) if ripe == week) * left
            if kg > 0.01:
                facts.append((day, Picked(fact.crop, self.ids[at], kg=round(float(kg), 2)), ""))
        if facts:
            write(self.garden, facts)


def table(name: str, found: Judged) -> str:
    wanted, bare, spare, poor = (sum(row[k] for row in found.values()) for k in range(4))
    picked = wanted - bare + spare
    return f"| {name} | {wanted:.0f} | {100 * bare / wanted:.0f} | {100 * spare / picked:.0f} | {poor:.0f} |"


def main() -> None:
    world = truth()
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        wishes = "".join(
            f'[[wish]]\nitem = "{item}"\ncrops = ["{crop}"]\neach_week = "{kg}"\n'
            f'from = "{opens}"\nuntil = "{closes}"\n' for item, crop, kg, opens, closes in WISHES)
        garden = folder / "garden.toml"
        garden.write_text(TEXT.format(begin=BEGIN, wishes=wishes), encoding="utf-8")
        measured(BEGIN, folder / "record.csv")
        plan = make_plan(garden)
        save_plan(garden, plan)
        grower = Grower(folder, world)
        grower.live()
        described = read_garden(garden, load_catalogue())
        horizon = Horizon(day_number(BEGIN), 5)
        shift = (horizon.start - world.start) // 7
        until = (day_number(END) - world.start) // 7
        wants = {item.name: np.concatenate([np.zeros(shift), item.kg])[:until]
                 for item in wanted_items(described.wishes, horizon, frozenset())}
        crops = {item: crop for item, crop, *_ in WISHES}
        first, second = judged(unadapted(plan, world), wants, crops), judged(grower.season, wants, crops)
        entries = len(record_of(garden).entries)
    print("# A season replayed: agreement\n")
    print("Written by `python authorities/season.py`. Invented garden and grower, weather of Dublin Airport, "
          f"{BEGIN} to {END}; seed {SEED}. {grower.jobs} jobs done, {entries} entries. One season of one "
          "garden: it shows that the parts work together, not what adapting is worth on the whole.\n")
    print("| grower | wanted, kg | bare, % of wanted | spare, % of picked | item-weeks under half |")
    print("|---|---|---|---|---|")
    print(table("carries out the first plan as it was", first))
    print(table("keeps the diary and plans anew", second))
    print("\n| item | bare, kg, as it was | anew | spare, kg, as it was | anew |\n|---|---|---|---|---|")
    for item in wants:
        one, two = first[item], second[item]
        cells = (one[1], two[1], one[2], two[2])
        print(f"| {item} | " + " | ".join(f"{round(kg, 1) + 0.0:.1f}" for kg in cells) + " |")  # no -0.0
    print("\n| planned anew | because of | changes | seconds |\n|---|---|---|---|")
    print("\n".join(grower.lines))


if __name__ == "__main__":
    main()
