"""Small INVENTED answers: no weather, no garden and no crop gave these numbers; they only try the pages."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from math import nan

from evenpick.base.language import Language, language
from evenpick.climate.origin import ClimateOrigin
from evenpick.climate.site import Site
from evenpick.report.words import Words
from evenpick.service.ground_answer import BedAnswer, BedSpan, GroundAnswer, NoRoom, TooSoon
from evenpick.service.outlook_answer import (
    Band,
    DrillDries,
    FirstPicking,
    LaterRow,
    MonthAnswer,
    MonthRow,
    OutlookAnswer,
    WindowRow,
    WindowsAnswer,
)
from evenpick.service.pickings_answer import ItemPickings, Measured, WeekOfItem
from evenpick.service.plan_answer import GivenUp, GroundUse, MadeFrom, PlanAnswer, PlannedSowing, SeedNeed
from evenpick.service.shares_answer import ShortShare, Takings, WeekShare
from evenpick.service.today_answer import AnsweredJob, Drill, Job, Pick, ThirstyBed, TodayAnswer, WorkDay
from evenpick.service.why_answer import WhyAnswer

BRITISH = Words("british", "metric", {}, {"runner-bean": ("never eat these beans raw",)})
AMERICAN = Words("american", "imperial", {"Runner bean": "Scarlet runner bean", "Rocket": "Arugula"},
                 BRITISH.cautions)



def language_of(page: str) -> Language:
    """The language a page is told in, by its name in the snapshots."""
    return language("en_US" if page.endswith("-american") else "en_GB")


SITE = Site("Testham", 51.5, -1.25, 60.0)
NEAR = ClimateOrigin("own daily record", "Testham mast", 0.0, 0.0, 30, "own", ("two days were filled.",))
FAR = ClimateOrigin("station normals", "Farfield", 212.0, 410.0, 30, "open")
MONDAY = date(2027, 2, 1)

WINDOWS = WindowsAnswer(
    SITE, NEAR,
    (
        WindowRow("rocket", "Rocket", "direct", "open", "baby leaf", (3, 14), (9, 20), False, 0.93,
                  (FirstPicking((4, 1), Band(31, 35, 41)),), "too cold to start", "slow growth"),
        WindowRow("rocket", "Rocket", "direct", "tunnel", "fresh", (1, 1), (12, 31), True, 0.999, (), "", ""),
    ),
    (("Runner bean", "frosted"),),
)

OUTLOOK = OutlookAnswer(
    SITE, NEAR, "runner-bean", "Runner bean", "raised", "open", "fresh", date(2027, 5, 1),
    Band(8, 10, 14), Band(25, 29, 34), Band(70, 81, 95), Band(140, 161, 250),
    (("good", 0.9), ("frosted", 0.1), ("bolted", 0.0)), 30,
)
HOPELESS = OutlookAnswer(
    SITE, FAR, "rocket", "Rocket", "direct", "open", "fresh", date(2027, 12, 1), None, None, None, None,
    (("too cold to start", 1.0),), 30, DrillDries("loam", 0.31, 0.02, can_water=True),
)

WHY = WhyAnswer(
    replace(OUTLOOK, purpose="baby leaf"), WINDOWS.windows, 0.6, 0.65, "not", "frosted", 0.84,
    (("killed by frost before picking", 0.1),),
    (("grows above", "7 °C", "memory"),), (("invented2027", "Nobody 2027, An invented source"),), (),
)


def month_row(name: str, **changes: object) -> MonthRow:
    values: dict[str, object] = {
        "crop": name.lower().replace(" ", "-"), "name": name, "way": "direct", "covers": ("open", "tunnel"),
        "from_day": 1, "to_day": 30, "bench": None, "depth": 0.013, "in_row": 0.15, "row": 0.3,
        "layout": "row", "picked_from": date(2027, 7, 9), "picked_to": date(2027, 7, 23), "success": 0.9,
        "interval": 12, "closes": (9, 2), "cautions": (), **changes,
    }
    return MonthRow(**values)  # type: ignore[arg-type]


MONTH = MonthAnswer(
    SITE, FAR, 2027, 6,
    (
        month_row("Rocket"),
        month_row("Rocket, baby leaf", crop="rocket", picked_from=date(2027, 6, 28),
                  picked_to=date(2027, 7, 5)),
        month_row("Mizuna, baby leaf", crop="mizuna", from_day=3),
        month_row("Early potato", way="planted", layout="station", depth=0.12, in_row=0.3, row=0.6,
                  interval=None, picked_to=date(2027, 8, 3)),
        month_row("Cress", layout="broadcast", depth=0.0, from_day=12),
        month_row("Cucumber", covers=("tunnel",), layout="station", depth=0.025, in_row=0.45, row=0.9,
                  interval=None, to_day=12),
        month_row("Rocket", way="raised", bench=5.0),
        month_row("Runner bean", way="raised", bench=16.0, layout="station", interval=None,
                  cautions=("never eat these beans raw",)),
    ),
    (
        LaterRow("winter-radish", "Winter radish", (7, 10), "bolted"),
        LaterRow("lambs-lettuce", "Lamb's lettuce", (7, 24), "bolted"),
        LaterRow("garlic", "Garlic", (9, 28), "out of season"),
        LaterRow("broad-bean", "Broad bean", None, "spoilt by heat"),
    ),
    (LaterRow("parsnip", "Parsnip", None, "slow growth"), LaterRow("leek", "Leek", None, "slow growth")),
)
POLAR = MonthAnswer(SITE, NEAR, 2027, 12, (), (LaterRow("kale", "Kale", (2, 24), "too cold to start"),
                                               LaterRow("cress", "Cress", (1, 30), "too cold to start")), ())
NOWHERE = MonthAnswer(SITE, NEAR, 2027, 12, (), (), ())


def weeks(
    wanted_from: int, wanted_to: int, wanted: float, likely: dict[int, float]
) -> tuple[WeekOfItem, ...]:
    """52 weeks; likely pickings by week number from 0, nothing elsewhere."""
    made = []
    for at in range(52):
        want = wanted if wanted_from <= at <= wanted_to else 0.0
        kg = likely.get(at, 0.0)
        made.append(WeekOfItem(MONDAY + timedelta(weeks=at), want, kg * 0.7, kg, kg * 1.3,
                               max(0.0, want - kg), max(0.0, kg - want)))
    return tuple(made)


RISING = {at: 0.12 * (at - 8) for at in range(9, 20)}
SALAD = ItemPickings("salad leaves", "bunch", 0.2,
                     weeks(0, 45, 1.0, RISING | dict.fromkeys(range(20, 44), 1.0)), 6)
GLUT = {23: 0.5, 24: 2.0, 25: 2.4, 26: 3.4, 27: 2.0, 28: 1.2, 36: 0.8}
BEANS = ItemPickings("runner beans and others", "kg", 1.0, weeks(22, 34, 2.0, GLUT), 0)

SOWINGS = (
    PlannedSowing(
        "runner-bean.raised.open.2027-05-08",
        2, date(2027, 5, 8), "runner beans and others", "runner-bean", "Runner bean", "raised", "open",
        3.0, 3.5, 24, 40, 42.0, date(2027, 6, 2), (date(2027, 7, 16), date(2027, 7, 24), date(2027, 8, 7)),
        date(2027, 10, 10), 0.91, (date(2027, 7, 19), date(2027, 9, 6)), date(2027, 6, 20),
        "fills 19 Jul-6 Sep; before 1 May frost closes its window",
    ),
    PlannedSowing(
        "rocket.direct.tunnel.2027-02-06",
        1, date(2027, 2, 6), "salad leaves", "rocket", "Rocket", "direct", "tunnel", 1.2, 4.8, None, 1234,
        0.62, None, (date(2027, 4, 1), date(2027, 4, 8), date(2027, 4, 20)), date(2027, 5, 10), 0.97, None,
        date(2027, 9, 20), "fills April; nothing closes its window",
    ),
    PlannedSowing(
        "garlic.planted.open.2027-11-06",
        3, date(2027, 11, 6), "salad leaves", "garlic", "Garlic", "planted", "open", 2.5, None, None, None,
        None, None, None, date(2028, 7, 20), 0.8, None, date(2027, 11, 20), "for next year",
    ),
)

PLAN = PlanAnswer(
    SITE, NEAR, MONDAY, True, SOWINGS, (SALAD, BEANS),
    (GroundUse("open", 60.0, (0.0, 3.0, 5.5)), GroundUse("tunnel", 8.0, (1.2, 1.2, 1.2))),
    (SeedNeed("rocket", "Rocket", 1234, 0.62, 2000.0, 0),
     SeedNeed("runner-bean", "Runner bean", 40, 42.0, None, 40),
     SeedNeed("garlic", "Garlic", None, None, None, None)),
    Measured(0.052, 0.11, 2.7, 0.12), Measured(0.38, 0.21, 16.5, 0.55), "every 14 days, equal areas",
    0.0234, 18.4, (("outlook", 3.0), ("solve", 15.4)),
    ("Salad leaves before April: nothing sown from now can be ripe; buy in, or sow under cover next "
     "autumn.",),
    MadeFrom("a1" * 32, "b2" * 32, "c3" * 32, 7, 20, 10, "0.1.0"), ("Weather years are invented here.",),
    given_up=(
        GivenUp("runner beans", 0.31, "not enough tunnel"), GivenUp("leeks", 0.29, "not enough ground"),
        GivenUp("peas", 0.06, "not enough tunnel"),
    ),
    short_of=("boxes: fewer than 3 different items are likely in 2 weeks of the first year.",), money="€",
    short_shares=(
        ShortShare("boxes", "weight", 4.0,
                   tuple(MONDAY + timedelta(weeks=at) for at in (0, 1, 2, 10, 20, 21)), 2),
        ShortShare("boxes", "worth", 12.5, (MONDAY,), 0),
    ),
    takings=(
        Takings("boxes", 5210.0, 6480.0, 7020.0, ((date(2027, 2, 1), 9.4), (date(2027, 3, 1), 118.0)),
                ("peas", "leeks")),
        Takings("stall", 0.0, 3.4, 88.0, ((date(2027, 2, 1), 0.0), (date(2027, 3, 1), 3.4)), ()),
        Takings(None, 5300.0, 6500.0, 7100.0, ((date(2027, 2, 1), 9.4), (date(2027, 3, 1), 121.0)), ()),
    ),
)
SHARES = (
    WeekShare("boxes", 3.43, 4.0, 11.2, 12.5, False, "€"),
    WeekShare("stall", 31.0, None, 9.0, None, True, "€"),
    WeekShare("kitchen", 0.8, 1.0, None, None, True, ""),
)
EMPTY = PlanAnswer(
    SITE, FAR, MONDAY, False, (), (), (), (), Measured(1.0, nan, 100.0, 1.0), Measured(1.0, nan, 100.0, 1.0),
    "every 21 days", 0.0, 0.2, (), (), PLAN.made_from, (),
)

SOW = Job(
    "sow:rocket.direct.tunnel.2027-02-06", "a1b2", date(2027, 2, 6), "sow", "rocket", "Rocket", 1.2, 6.0,
    None, 800, 0.4, Drill(0.01, 0.05, 0.2, None), "tunnel", "fills April", date(2027, 2, 13), False, 2,
    "rocket.direct.tunnel.2027-02-06", None,
)
CLEAR = Job(
    "clear:leek.raised.open.2026-03-01", "c3d4", date(2027, 2, 7), "clear", "leek", "Leek", 3.0, None, 45,
    None, None, None, "open", "", None, False, 1, "leek.raised.open.2026-03-01", None,
)
THIN = replace(SOW, id="thin:0", tag="e5f6", kind="thin", seeds=None, grams=None, drill=None, late=True,
               when=date(2027, 1, 30), why="they crowd", number=None, sowing="0" * 32)
OUT = replace(CLEAR, id="plant out:0", tag="0789", kind="plant out", when=date(2027, 2, 15),
              can_wait_until=date(2027, 3, 1))
TODAY = TodayAnswer(
    SITE, date(2027, 2, 3), (SOW, CLEAR, THIN),
    (Pick("salad leaves", "bunch", 0.2, Band(0.31, 0.46, 0.7)),), (OUT,),
    (("leeks", date(2027, 3, 15)),), (replace(SOW, tag="f00d", late=True),),
    (AnsweredJob("sow:radish.direct.tunnel.2027-02-01", "beef", "sow", "Radish", "done", date(2027, 2, 2)),),
    ("A note.",), thirsty=(ThirstyBed("1" * 32, "tomato", "Tomato", None, "tunnel", 138.4, "all gone"),),
)
SATURDAY, SUNDAY = date(2027, 2, 6), date(2027, 2, 7)
WEEK = replace(
    TODAY, days=(WorkDay(TODAY.day, 180, 130, 20), WorkDay(date(2027, 2, 4), 0), WorkDay(date(2027, 2, 5), 0),
                 WorkDay(SATURDAY, 60, 60), WorkDay(SUNDAY, 60, 5)),
    jobs=(replace(THIN, minutes=130, on=TODAY.day), replace(SOW, minutes=65, on=SATURDAY, ends=SUNDAY),
          replace(CLEAR, on=SATURDAY), replace(OUT, minutes=60)),
)
"""TODAY with 3 h on Wednesday, 1 h on Saturday and on Sunday: thinning, a sowing that goes on on Sunday, a
clearing of which nothing is known; no time to plant out"""
IDLE = TodayAnswer(SITE, date(2027, 1, 3), (), (), (), ())

_LEEK = BedSpan("0" * 32, None, "leek", "Leek", "Amaryllidaceae", 0.0, 4.0, 3, 4.8, date(2026, 6, 20),
                date(2027, 3, 29), "", None)
_ROCKET = BedSpan("rocket.direct.open.2027-04-03", 2, "rocket", "Rocket", "Brassicaceae", 0.0, 4.0, None, 4.8,
                  date(2027, 4, 3), date(2027, 6, 7), "Leek", 5)
_BEAN = BedSpan("runner-bean.raised.open.2027-04-24", 3, "runner-bean", "Runner bean", "Fabaceae", 4.0, 10.0,
                1, 7.2, date(2027, 5, 20), date(2027, 10, 25), "", None)
_CHARD = BedSpan("chard.direct.open.2027-04-24", 4, "chard", "Chard", "Amaranthaceae", 0.0, 3.5, None, 3.5,
                 date(2027, 4, 24), date(2027, 12, 27), "", None)
_LUPINS = BedSpan("rest.1", None, "", "blue lupins", "", 3.5, 8.0, None, 4.5, date(2027, 2, 1),
                  date(2027, 6, 1), "", None)
GROUND = GroundAnswer(
    SITE, MONDAY, True,
    (
        BedAnswer("gate", "long beds", "open", 10.0, 1.2, 12.0, ((2025, "Brassicaceae"),),
                  (_LEEK, _ROCKET, _BEAN)),
        BedAnswer("well", "long beds", "open", 10.0, 1.2, 12.0, (), ()),
        BedAnswer("corner", "corner", "open", None, None, 8.0, (), (_CHARD, _LUPINS)),
    ),
    (NoRoom("swede.direct.open.2027-06-05", 9, "Swede", date(2027, 6, 5), 3.4,
            "the open beds are full between then and 6 Dec 2027",
            "there is room from 26 Jun, still in its window"),),
    (TooSoon(_ROCKET.sowing, 2, "Rocket", "Brassicaceae", "gate", 0.0, 4.0, date(2027, 4, 3), 2025, "", 4),
     TooSoon(_ROCKET.sowing, 2, "Rocket", "Brassicaceae", "gate", 0.0, 4.0, date(2027, 4, 3), 2026, "Swede",
             4),
     TooSoon(_BEAN.sowing, 3, "Runner bean", "Fabaceae", "gate", 4.0, 10.0, date(2027, 5, 20), 2027,
             "Broad bean", 3, date(2027, 5, 17))),
    ("A note.",),
)
