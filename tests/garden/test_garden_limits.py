"""Limits of a garden file: hours, days away, resting ground, rotation, seed to buy, what is put by."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

import pytest
from small_garden import SMALL

from evenpick.base.days import day_number
from evenpick.base.errors import EvenpickError, Problem
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.families import families
from evenpick.crops.kinds import KINDS, kinds
from evenpick.garden.garden import WORTH_A_SOWING, Garden

Read = Callable[[str], Garden]
Faults = Callable[[str], tuple[Problem, ...]]


def day(year: int, month: int, of: int) -> int:
    return day_number(date(year, month, of))


def test_nothing_said_is_no_limit(read: Read) -> None:
    limits = read(SMALL).limits
    assert (limits.hours, limits.sowings_a_week, limits.away, limits.rests) == (None, None, (), ())
    assert limits.rotation == {}
    assert (limits.buying.no_more, limits.buying.packets) == ((), None)


def test_what_makes_a_sowing_worth_its_bother(read: Read, faults: Faults) -> None:
    said = SMALL.replace("from = 2027-02-01", "from = 2027-02-01\nworth_a_sowing = {}")
    assert read(SMALL).plan.worth_a_sowing == WORTH_A_SOWING == 2.0
    assert read(said.format("1.2")).plan.worth_a_sowing == 1.2
    for ground, worth in (("2 m²", 1.0), ("7.5 m²", 1.5), ("10 m²", 2.0)):  # a pot of lettuce brings two
        few = SMALL.replace('area = "60 m²"', f'area = "{ground}"')
        assert f'area = "{ground}"' in few
        assert read(few).plan.worth_a_sowing == worth
    assert read(said.format("2").replace('area = "60 m²"', 'area = "2 m²"')).plan.worth_a_sowing == 2.0
    for wrong, what in (("0", "out of bounds"), ('"2 portions"', "not a plain number")):
        (fault,) = faults(said.format(wrong))
        assert what in fault.what
        assert fault.line == 8


def test_hours_and_days_away(read: Read) -> None:
    limits = read(SMALL + '''
[hours]
week = "90 min"
[[away]]
from = 2027-07-10
until = 2027-07-24
[[away]]
from = 2027-08-01
until = 2027-08-07
hours = "50 %"
''').limits
    assert limits.hours == 1.5
    assert [(span.first, span.last, span.hours) for span in limits.away] == [
        (day(2027, 7, 10), day(2027, 7, 24), 0.0), (day(2027, 8, 1), day(2027, 8, 7), 0.5)]


BY_DAY = '\n[hours]\ndays = { tuesday = "3 h", saturday = "90 min" }\n'


def test_hours_by_the_day_sum_to_the_week(read: Read) -> None:
    """3 h on Tuesday and 1.5 h on Saturday are 4.5 h a week; no other day has any."""
    limits = read(SMALL + BY_DAY).limits
    assert limits.by_day == (0.0, 3.0, 0.0, 0.0, 0.0, 1.5, 0.0)
    assert limits.hours == 4.5
    headed = read(SMALL + """
[hours]
week = "4.5 h"
[hours.days]
tuesday = "3 h"
saturday = "1.5 h"
""").limits
    assert (headed.by_day, headed.hours) == (limits.by_day, limits.hours)
    assert read(SMALL + '\n[hours]\nweek = "9 h"\n').limits.by_day is None


def test_a_share_away_is_of_each_day(read: Read) -> None:
    """13 April 2027 is a Tuesday. Nobody on the 13th, half of all on the 24th; the last span told holds."""
    limits = read(SMALL + BY_DAY + """
[[away]]
from = 2027-04-12
until = 2027-04-16
[[away]]
from = 2027-04-24
until = 2027-04-30
hours = "50 %"
[[away]]
from = 2027-04-27
until = 2027-04-27
hours = "20 %"
""").limits
    hours = [limits.hours_on(day(2027, 4, of)) for of in (6, 7, 13, 17, 24, 27)]
    assert hours == pytest.approx([3.0, 0.0, 0.0, 1.5, 0.75, 0.6])


@pytest.mark.parametrize(("said", "days"), [
    ('"friday"', (4,)), ('["friday"]', (4,)), ('["friday", "tuesday"]', (1, 4)),
    ('["monday", "Sunday", "wednesday"]', (0, 2, 6)),
])
def test_days_of_sowing(read: Read, said: str, days: tuple[int, ...]) -> None:
    plan = read(SMALL.replace("from = 2027-02-01", f"from = 2027-02-01\nsowing_day = {said}")).plan
    assert plan.sowing_days == days
    assert plan.sowing_weekday == days[0]
    assert read(SMALL).plan.sowing_days == (5,)


@pytest.mark.parametrize(("said", "what"), [
    ("[]", "list of days is empty"), ('["friday", "friday"]', "'friday' is given twice"),
    ('["friday", "frieday"]', "'frieday' is not known here"), ("[5]", "not in quotes"),
    ("5", "not in quotes"), ('"tuesday, friday"', "not known here"),
])
def test_a_fault_in_the_days_of_sowing(faults: Faults, said: str, what: str) -> None:
    (fault,) = faults(SMALL.replace("from = 2027-02-01", f"from = 2027-02-01\nsowing_day = {said}"))
    assert what in fault.what
    assert fault.line == 8
    assert fault.mend


def test_resting_ground_is_a_part_or_all_of_it(read: Read) -> None:
    rests = read(SMALL + '''
[[rest]]
ground = "bed"
area = "20 m²"
from = 2027-09-01
until = 2028-03-31
for = "green manure"
[[rest]]
ground = "bed"
from = 2028-04-01
until = 2028-04-30
''').limits.rests
    assert [(rest.area, rest.why, rest.cover) for rest in rests] == [
        (20.0, "green manure", "open"), (60.0, "", "open")]


def test_rotation_has_the_years_of_the_table_and_the_growers_own(read: Read) -> None:
    """Brassicas after four years (UK and US organic practice, memory); alliums as this grower says."""
    rotation = read(SMALL + "\n[rotation]\nyears = { alliums = 6 }\n").limits.rotation
    assert rotation["Brassicaceae"] == 4
    assert rotation["Amaryllidaceae"] == 6
    assert set(rotation) == set(families())
    assert read(SMALL + "\n[rotation]\nkeep = false\n").limits.rotation == {}


def test_what_is_put_by_and_what_may_be_bought(read: Read) -> None:
    garden = read(SMALL + '''
[[wish]]
item = "beans"
crops = ["dwarf-bean"]
outlet = "house"
keep = "5 kg"
from = "07-01"
until = "09-30"
[tin]
no_more = ["parsley"]
packets = 3
''')
    kept = garden.wishes[-1]
    assert kept.keep
    assert kept.kg_per_week == 5.0 * garden.outlet("house").shares
    assert (garden.limits.buying.no_more, garden.limits.buying.packets) == (("parsley",), 3)


def test_the_same_may_be_eaten_and_put_by(read: Read) -> None:
    """Who asked for both in one wish was told to make two of it, and these were refused for their weeks."""
    eaten, kept = ("""
[[wish]]
item = "beans"
crops = ["dwarf-bean"]
outlet = "house"
from = "07-01"
until = "09-30"
""" + amount for amount in ('each_week = "0.5 kg"', 'keep = "5 kg"'))
    assert [wish.keep for wish in read(SMALL + eaten + kept).wishes if wish.item == "beans"] == [False, True]
    with pytest.raises(EvenpickError, match="wished for twice"):
        read(SMALL + eaten + kept + kept)


def test_every_crop_has_a_kind() -> None:
    assert set(kinds()) == {crop.key for crop in load_catalogue().crops}
    assert set(kinds().values()) == set(KINDS)


@pytest.mark.parametrize(("text", "said"), [
    ('[hours]\nweek = "twelve"', "can't be read as an amount"),
    ('[hours]\nweek = "12 kg"', "not a number of hours"),
    ("[hours]\nweek = 12", "not in quotes"),
    ('[hours]\nweek = "8 h"\ndays = { tuesday = "3 h", saturday = "6 h" }', "come to 9 h and the week has 8"),
    ('[hours]\ndays = "tuesday"', "no day with its hours is told"),
    ("[hours]\ndays = {}", "no day with its hours is told"),
    ('[hours]\ndays = { tuesdy = "3 h" }', "'tuesdy' is not a name"),
    ("[hours]\ndays = { tuesday = 3 }", "not in quotes"),
    ('[hours]\ndays = { tuesday = "0 h" }', "nought or less"),
    ('[hours]\ndays = { tuesday = "3 kg" }', "not a number of hours"),
    ('[hours]\ndays = { tuesday = "1441 h" }', "more than a day of sixty people"),
    ("[[away]]\nfrom = 2027-07-24\nuntil = 2027-07-10", "before 'from'"),
    ("[[away]]\nfrom = 2027-07-24", "'until' is missing"),
    ('[[away]]\nfrom = 2027-07-01\nuntil = 2027-07-10\nhours = "50 %"', "needs the hours of a week"),
    ('[[rest]]\nground = "bet"\nfrom = 2027-07-01\nuntil = 2027-07-10', "no [[ground]] is called 'bet'"),
    ('[[rest]]\nground = "bed"\narea = "90 m²"\nfrom = 2027-07-01\nuntil = 2027-07-10', "more than 'bed'"),
    ('[[rest]]\nground = "bed"\nfrom = 2027-07-01\nuntil = 2072-07-10', "longer than five years"),
    ('[[rest]]\nground = "bed"\nfrom = 2027-07-01\nuntil = 2027-07-10\n'
     '[[rest]]\nground = "bed"\narea = "10 m²"\nfrom = 2027-07-05\nuntil = 2027-07-20',
     "at rest on 5 Jul 2027 it makes 70 m², more than there is"),
    ("[rotation]\nyears = { onoins = 6 }", "no family is called 'onoins'"),
    ("[rotation]\nyears = { alliums = 0 }", "out of bounds"),
    ("[rotation]\nyears = 4", "no table"),
    ('[tin]\nno_more = ["parsely"]', "parsely"),
    ("[tin]\npackets = -1", "out of bounds"),
    ('[[anyway]]\nitem = "rhubarb"\nserves = "rhubarb"\neach_week = "1 kg"', "nobody wishes for 'rhubarb'"),
    ('[[anyway]]\nitem = "rhubarb"\neach_week = "1 bunch"', "not a weight"),
    ('[[wish]]\nitem = "pea"\noutlet = "house"\nkeep = "5 kg"', "no season"),
])  # fmt: skip
def test_a_fault_is_told_where_it_stands(faults: Faults, text: str, said: str) -> None:
    found = faults(f"{SMALL}\n{text}\n")
    ours = [problem for problem in found if said in problem.what]
    assert ours, found
    assert ours[0].line is not None
    assert ours[0].line > len(SMALL.splitlines())
    assert ours[0].mend
