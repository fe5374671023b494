"""What people who grow for a table tend to want of each item, and when.

Helpings and seasons are common practice, no source: in the months a cool temperate kitchen asks for them;
half a year round in the south, all the year in the tropics.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import inf

from evenpick.crops.winter import has_winter
from evenpick.garden.fields import DAYS_IN_MONTH
from evenpick.garden.garden import MonthDay, in_season
from evenpick.garden.whose_words import English

Season = tuple[MonthDay, MonthDay]
ALL_YEAR: Season = ((1, 1), (12, 31))


@dataclass(frozen=True, slots=True)
class Helping:
    """What one person tends to want of an item in a week of its season (north of the tropics)."""

    item: str
    crops: tuple[str, ...]
    portions: float
    season: Season = ALL_YEAR
    needs_tunnel: bool = False
    american: str = ""
    """the item's name there, where it is another"""
    winterless: str = ""
    """the item's name in the tropics, where it is named after a season"""
    of_summer: bool = False
    """a fruit or pod eaten fresh, wanted for as long as a warm summer gives it"""
    of_tropics: bool = False
    """wished for by everybody where there is no winter"""
    on_little: bool = False
    """grown in pots and on a few square metres, for it gives much for its ground, or is wanted fresh and
    little at a time (common practice, no source)"""

    def named(self, english: English, lat: float) -> Helping:
        """The same with the item's name in that English, at that latitude."""
        here = self.winterless if not has_winter(lat) else self.american if english == "american" else ""
        return replace(self, item=here) if here else self


EVERYBODYS = (
    Helping("lettuce", ("leaf-lettuce", "cos-lettuce", "crisp-lettuce"), 3, ((5, 15), (10, 31)),
            on_little=True),
    Helping("winter salad", ("lambs-lettuce", "mizuna", "rocket"), 2, ((11, 1), (4, 30)),
            winterless="salad leaves", on_little=True),
    Helping("greens", ("chard", "spinach"), 2),
    Helping("kale and sprouting broccoli", ("kale", "sprouting-broccoli"), 2, ((11, 1), (5, 10))),
    Helping("cabbage", ("summer-cabbage", "winter-cabbage"), 1, ((7, 1), (3, 31))),
    Helping("calabrese", ("calabrese",), 1, ((7, 1), (10, 31)), american="broccoli"),
    Helping("carrots", ("early-carrot", "main-carrot"), 3, ((6, 15), (3, 15))),
    Helping("beetroot", ("beetroot",), 1, ((6, 15), (3, 15)), american="beets"),
    Helping("radish", ("radish",), 1, ((4, 20), (10, 15)), on_little=True),
    Helping("potatoes", ("early-potato", "main-potato"), 3, ((6, 15), (3, 15))),
    Helping("leeks", ("leek",), 1.5, ((10, 1), (4, 15))),
    Helping("onions", ("onion-sets", "onion"), 2, ((8, 1), (3, 31))),
    Helping("peas", ("pea", "mangetout"), 1, ((6, 10), (7, 31))),
    Helping("broad beans", ("broad-bean",), 1, ((6, 10), (7, 20)), american="fava beans"),
    Helping("beans", ("dwarf-bean", "climbing-bean", "runner-bean"), 2, ((7, 10), (10, 5)), of_summer=True),
    Helping("courgettes", ("courgette",), 2, ((7, 1), (10, 5)), american="zucchini", of_summer=True),
    Helping("tomatoes", ("tomato",), 3, ((7, 20), (10, 15)), needs_tunnel=True, of_summer=True,
            on_little=True),
    Helping("cucumbers", ("cucumber",), 1, ((7, 1), (9, 30)), needs_tunnel=True, of_summer=True),
    Helping("parsley", ("parsley",), 1, on_little=True),
)
"""wished for where no likes are named"""

SOMEBODYS = (
    Helping("cauliflower", ("cauliflower",), 1, ((7, 1), (10, 31))),
    Helping("brussels sprouts", ("brussels-sprout",), 2, ((10, 15), (2, 28))),
    Helping("chinese leaves", ("chinese-cabbage", "pak-choi"), 1, ((6, 15), (11, 15)),
            american="napa cabbage and bok choy"),
    Helping("kohlrabi", ("kohlrabi",), 1, ((6, 15), (11, 15))),
    Helping("swede", ("swede",), 1, ((10, 15), (3, 15)), american="rutabaga"),
    Helping("turnips", ("turnip",), 1, ((6, 1), (12, 15))),
    Helping("winter radish", ("winter-radish",), 1, ((9, 15), (1, 31))),
    Helping("parsnips", ("parsnip",), 1.5, ((10, 15), (3, 15))),
    Helping("celery", ("celery",), 1, ((8, 1), (10, 31))),
    Helping("celeriac", ("celeriac",), 1, ((10, 1), (3, 15)), american="celery root"),
    Helping("coriander", ("coriander",), 1, ((5, 15), (10, 15)), american="cilantro"),
    Helping("dill", ("dill",), 1, ((5, 15), (9, 30))),
    Helping("basil", ("basil",), 3, ((6, 15), (10, 5)), of_summer=True, on_little=True),
    Helping("chives", ("chives",), 2, ((4, 15), (10, 31)), on_little=True),
    Helping("fennel", ("florence-fennel",), 1, ((7, 1), (11, 15)), american="bulb fennel"),
    Helping("marrow", ("marrow",), 1, ((8, 1), (10, 15)), of_summer=True),
    Helping("winter squash", ("winter-squash",), 2, ((10, 1), (2, 15))),
    Helping("peppers", ("pepper",), 1, ((8, 1), (10, 15)), of_summer=True, of_tropics=True,
            on_little=True),
    Helping("chillies", ("chilli",), 1, ((8, 1), (10, 15)), american="hot peppers", of_summer=True),
    Helping("aubergines", ("aubergine",), 1, ((8, 1), (10, 10)), american="eggplants", of_summer=True,
            of_tropics=True),
    Helping("sweetcorn", ("sweetcorn",), 1, ((8, 10), (9, 25)), american="sweet corn", of_summer=True),
    Helping("okra", ("okra",), 1, ((7, 15), (10, 5)), of_summer=True, of_tropics=True),
    Helping("melons", ("melon",), 1, ((7, 20), (9, 25)), of_summer=True),
    Helping("watermelons", ("watermelon",), 1, ((7, 25), (9, 25)), of_summer=True),
    Helping("sweet potatoes", ("sweet-potato",), 2, ((9, 15), (3, 15)), of_tropics=True),
    Helping("yard-long beans", ("yardlong-bean",), 1, ((7, 15), (9, 30)), american="asparagus beans",
            of_summer=True),
    Helping("cowpeas", ("southern-pea",), 1, ((7, 10), (9, 30)), american="southern peas", of_summer=True),
    Helping("butter beans", ("lima-bean",), 1, ((7, 20), (9, 30)), american="lima beans", of_summer=True),
    Helping("edamame", ("edamame",), 1, ((7, 25), (9, 30)), of_summer=True),
    Helping("peanuts", ("peanut",), 2, ((9, 15), (3, 15))),
    Helping("collards", ("collards",), 1, ((9, 15), (5, 31))),
    Helping("turnip greens", ("turnip-greens",), 1, ((9, 15), (5, 31))),
    Helping("mustard greens", ("mustard-greens",), 1, ((9, 15), (5, 31))),
    Helping("leaf amaranth", ("amaranth",), 1, ((6, 15), (10, 5)), of_summer=True, of_tropics=True,
            on_little=True),
    Helping("Malabar spinach", ("malabar-spinach",), 1, ((7, 1), (10, 5)), of_summer=True),
    Helping("water spinach", ("water-spinach",), 1, ((7, 1), (9, 30)), of_summer=True),
    Helping("gai lan", ("gai-lan",), 1, ((6, 1), (11, 15))),
    Helping("endive and chicory", ("endive", "chicory"), 1, ((9, 1), (11, 30)),
            american="endive and radicchio"),
    Helping("summer spinach", ("new-zealand-spinach",), 1, ((7, 1), (9, 30))),
    Helping("spring onions", ("spring-onion",), 1, ((5, 15), (10, 15)), american="scallions",
            on_little=True),
    Helping("garlic", ("garlic",), 1, ((7, 20), (3, 15))),
    Helping("rocket", ("rocket",), 1, american="arugula"),
    Helping("mizuna", ("mizuna",), 1),
)
"""wished for where they are liked"""

ENOUGH_OUTDOORS = 0.55
"""of their usual seasons: what wants a tunnel elsewhere is everybody's where open ground gives all of it so
long, as in Vermont and not at Leeds (our choice)"""


LITTLE = 3.0
"""m²: less, be it pots or a bed by the door, is no kitchen garden (our choice)"""


def everybodys(lat: float | None, ground: float = inf) -> tuple[Helping, ...]:
    """What is wished for on so many m² where no likes are named; None: at a place not known yet."""
    tropics = lat is not None and not has_winter(lat)
    if ground >= LITTLE:
        return (*EVERYBODYS, *(one for one in SOMEBODYS if one.of_tropics and tropics))
    return tuple(one for one in (*EVERYBODYS, *SOMEBODYS)
                 if one.on_little and (tropics or not one.of_tropics))


def without_tunnel(
    wished: Sequence[Helping], seasons: Mapping[str, Sequence[Season]], lat: float
) -> list[Helping]:
    """What is everybody's where there is open ground alone, by the `seasons` in which it gives each item."""
    tender = [helping for helping in wished if helping.needs_tunnel]
    warm = all(_days(seasons[each.item]) >= ENOUGH_OUTDOORS * _days([usual_season(each, lat)])
               for each in tender)
    return [helping for helping in wished if warm or not helping.needs_tunnel]


def _days(seasons: Sequence[Season]) -> int:
    return sum(in_season(opens, closes, month, day) for opens, closes in seasons
               for month, days in enumerate(DAYS_IN_MONTH, 1) for day in range(1, days + 1))


def usual_season(helping: Helping, lat: float) -> Season:
    """Half a year on in the south, all the year in the tropics."""
    if helping.season == ALL_YEAR or not has_winter(lat):
        return ALL_YEAR
    opens, closes = helping.season
    return (_half_year_on(opens), _half_year_on(closes)) if lat < 0 else helping.season


def _half_year_on(day: MonthDay) -> MonthDay:
    month = (day[0] + 5) % 12 + 1
    return month, min(day[1], 28 if month == 2 else DAYS_IN_MONTH[month - 1])
