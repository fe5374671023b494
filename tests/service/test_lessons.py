"""Lessons from an invented diary in real weather of Dublin Airport (docs/design/learning.md)."""

from __future__ import annotations

import pickle
from datetime import date, timedelta
from pathlib import Path

import pytest

from evenpick.base.days import day_date
from evenpick.base.errors import BadRequest
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.here import as_catalogued
from evenpick.garden.diary import Cleared, Fact, Lost, Picked, Sowed
from evenpick.garden.reading import read_garden
from evenpick.report.lessons import lessons_page
from evenpick.report.terminal import render
from evenpick.report.words import words_for
from evenpick.service.book import record_of, write
from evenpick.service.expected import expected
from evenpick.service.learning import as_kept, grown_here, learn_from
from evenpick.service.lessons import leave_out, lessons, reset
from evenpick.service.plan_answer import GrownHere

TEXT = """
[site]
at = "53.4, -6.2"
weather = "dublin-airport"
[[ground]]
name = "bed 3"
cover = "open"
area = "30 m2"
[[wish]]
item = "peas"
crops = ["pea"]
each_week = "1 kg"
from = "06-01"
until = "07-31"
"""
LATE = 9
SPRING = [date(2018, 4, 1) + timedelta(days=14 * n) for n in range(6)]
END = date(2019, 3, 1)


def likely_first(garden: Path, sowing: str) -> date:
    """What the catalogue expects of a sowing in the weather that was measured."""
    described = read_garden(garden, load_catalogue())
    one = record_of(garden).sowings[sowing]
    first = expected(described.site, described.weather, [one], {}, day_date(one.day))[sowing].first
    assert first is not None
    return first[1]


def sown(garden: Path, when: date, crop: str = "beetroot", area: float = 1.2) -> str:
    return write(garden, [(when, Sowed(crop, "direct", "open", area), "")])[0].id


def later(garden: Path, days: int) -> list[str]:
    """Six sowings of beetroot in 2018, each first picked so many days after the catalogue's day."""
    made = [sown(garden, when) for when in SPRING]
    for sowing in made:
        write(garden, [(likely_first(garden, sowing) + timedelta(days=days), Picked("beetroot", sowing), "")])
    return made


def test_nine_days_later_than_the_book(garden: Path) -> None:
    later(garden, LATE)
    answer = lessons(garden, END)
    assert [(one.crop, one.records, one.doubted) for one in answer.timing] == [("beetroot", 6, 0)]
    assert answer.timing[0].days_later == pytest.approx(LATE, abs=2)
    assert answer.unweighed == (("Beetroot", 6),)
    assert not answer.yields


@pytest.mark.parametrize(("days_away", "taught"), [(42, 0), (5, 1)])
def test_what_ripened_while_nobody_was_there_is_not_late(garden: Path, days_away: int, taught: int) -> None:
    """'Your early carrot: 39 days later than the book' was learned of a school's holidays."""
    sowing = sown(garden, SPRING[0])
    back = likely_first(garden, sowing) + timedelta(days=30)
    write(garden, [(back + timedelta(days=2), Picked("beetroot", sowing), "")])
    assert len(lessons(garden, END).timing) == 1
    away = f"[[away]]\nfrom = {back - timedelta(days=days_away)}\nuntil = {back}\n"
    garden.write_text(TEXT + away, encoding="utf-8")
    assert len(lessons(garden, END).timing) == taught


def test_what_was_learned_moves_what_is_expected(garden: Path) -> None:
    later(garden, LATE)
    next_year = sown(garden, date(2027, 5, 1))
    described, record = read_garden(garden, load_catalogue()), record_of(garden)
    kept = as_kept(grown_here(learn_from(described.site, described.weather, record).learned, ["beetroot"]))
    on, one = date(2027, 5, 1), [record.sowings[next_year]]
    before, after = (expected(described.site, described.weather, one, {}, on, as_here=each)[next_year].first
                     for each in (as_catalogued, kept))
    assert before is not None
    assert after is not None
    assert (after[1] - before[1]).days == pytest.approx(LATE, abs=3)
    assert after[2] - after[0] < before[2] - before[0]


def test_what_was_learned_can_be_sent_to_another_process() -> None:
    assert as_kept(()) is as_catalogued
    beetroot = load_catalogue().crop("beetroot")
    kept = pickle.loads(pickle.dumps(as_kept([GrownHere("beetroot", "open", 1.1, 0.1, 0.9, 0.2)])))
    assert kept(beetroot, "open").thermal_time == pytest.approx(1.1 * beetroot.thermal_time)
    assert kept(beetroot, "tunnel") is beetroot


def test_as_the_book_has_it_is_no_lesson(garden: Path) -> None:
    later(garden, 0)
    assert not lessons(garden, END).timing


def test_left_out_and_reset_sowings_teach_nothing(garden: Path) -> None:
    made = later(garden, LATE)
    leave_out(garden, made[0], END)
    answer = lessons(garden, END)
    assert (answer.timing[0].records, answer.left_out) == (5, 1)
    assert made[0] not in {one.sowing for one in answer.records}
    reset(garden, "beetroot", END)
    assert not lessons(garden, END).timing
    with pytest.raises(BadRequest, match="no sowing"):
        leave_out(garden, "none", END)


def test_a_glut_of_peas_is_told_with_what_would_have_done(garden: Path) -> None:
    peas = sown(garden, date(2018, 3, 20), "pea", 8 * 0.6)
    facts: list[tuple[date, Fact, str]] = [
        (date(2018, 6, 10 + n), Picked("pea", peas, kg=0.9), "") for n in range(10)]
    write(garden, facts)
    want = next(iter(lessons(garden, END).wants))
    assert (want.item, want.month, want.sowings) == ("peas", date(2018, 6, 1), 1)
    assert want.wanted == pytest.approx(30 / 7)
    assert want.picked == pytest.approx(9.0)
    assert want.would_do == pytest.approx(want.wanted / want.picked)


def test_what_is_put_by_is_not_judged_by_the_month(garden: Path) -> None:
    """Eight kilograms to keep were counted as eight a week: nine in June read as too few of 34."""
    garden.write_text(TEXT.replace("each_week", "keep").replace("1 kg", "8 kg"), encoding="utf-8")
    peas = sown(garden, date(2018, 3, 20), "pea", 8 * 0.6)
    write(garden, [(date(2018, 6, 10 + n), Picked("pea", peas, kg=0.9), "") for n in range(10)])
    answer = lessons(garden, END)
    assert (answer.wants, answer.unfinished) == ((), ())


def test_a_month_with_a_picking_not_weighed_says_nothing_of_wants(garden: Path) -> None:
    write(garden, [(date(2018, 6, 10), Picked("pea", kg=9.0), ""), (date(2018, 6, 12), Picked("pea"), "")])
    assert not lessons(garden, END).wants


def test_what_is_not_written_down_is_not_taken_as_nothing(garden: Path) -> None:
    """One picking of a sowing that still stands: it was told that eight times as much had to be sown."""
    peas = sown(garden, date(2018, 3, 20), "pea", 8 * 0.6)
    write(garden, [(date(2018, 6, 10), Picked("pea", peas, kg=0.5), "")])
    answer = lessons(garden, END)
    assert (answer.wants, answer.unfinished) == ((), (("peas", date(2018, 6, 1)),))
    assert "something that stood in June 2018 is not cleared" in " ".join(
        render(lessons_page(answer, words_for("british", "metric", load_catalogue()))).split())
    write(garden, [(date(2018, 7, 20), Cleared(peas), "")])
    answer = lessons(garden, END)
    assert ([want.picked for want in answer.wants], answer.unfinished) == ([0.5], ())


def test_a_sowing_that_was_picked_from_later_does_not_hide_a_lesson(garden: Path) -> None:
    early, late = sown(garden, date(2018, 3, 20), "pea"), sown(garden, date(2018, 5, 20), "pea")
    write(garden, [(date(2018, 6, 10), Picked("pea", early, kg=0.5), ""),
                   (date(2018, 7, 10), Cleared(early), "")])
    assert not lessons(garden, END).wants
    write(garden, [(date(2018, 7, 28), Picked("pea", late, kg=9.0), "")])
    assert [want.month for want in lessons(garden, END).wants] == [date(2018, 6, 1), date(2018, 7, 1)]


def test_too_little_of_which_no_sowing_is_named_is_no_lesson(garden: Path) -> None:
    write(garden, [(date(2018, 6, 10), Picked("pea", kg=0.5), "")])
    assert not lessons(garden, END).wants


def test_a_month_not_over_says_nothing(garden: Path) -> None:
    write(garden, [(date(2018, 6, 10), Picked("pea", kg=9.0), "")])
    assert not lessons(garden, date(2018, 6, 30)).wants
    assert lessons(garden, date(2018, 7, 1)).wants


def test_yield_counts_what_was_weighed_to_the_end(garden: Path) -> None:
    beet = sown(garden, SPRING[0], area=2.0)
    write(garden, [(date(2018, 7, 10), Picked("beetroot", beet, kg=3.0), ""),
                   (date(2018, 8, 1), Picked("beetroot", beet, kg=3.0), ""),
                   (date(2018, 8, 2), Cleared(beet), "")])
    used = next(iter(lessons(garden, END).records))
    assert used.kg_per_m2 == pytest.approx(3.0)


def test_losses_are_kept_apart_by_cause(garden: Path) -> None:
    one, two = sown(garden, SPRING[0], "kohlrabi", 2.0), sown(garden, SPRING[1], "kohlrabi", 2.0)
    write(garden, [(SPRING[2], Lost(one, "eaten", 0.5, "Slugs"), ""),
                   (SPRING[3], Lost(one, "bolted", 0.5), ""),
                   (SPRING[3], Lost(two, "eaten", 1.0, "slugs"), "")])
    told = {(one.cause, one.by): (one.hit, one.sowings, one.share) for one in lessons(garden, END).losses}
    assert told == {("eaten", "slugs"): (2, 2, pytest.approx(0.75))}


def test_the_page_reads_in_one_line_a_lesson(garden: Path) -> None:
    later(garden, LATE)
    slugs = sown(garden, SPRING[0], "kohlrabi")
    write(garden, [(SPRING[2], Lost(slugs, "eaten", 1.0, "slugs"), "")])
    answer = lessons(garden, END)
    text = render(lessons_page(answer, words_for("british", "metric", load_catalogue()), True))
    days = f"{answer.timing[0].days_later:.0f}"
    assert f"Your beetroot: {days} days later than the book, 6 records." in text
    assert "Kohlrabi: 100 % lost to slugs, in 1 of 1 sowing;" in text
    assert "SOWINGS THAT TEACH" in text


@pytest.mark.parametrize(("opens", "learned"), [(None, True), (-3, False), (-40, True), (40, True)])
def test_what_stood_until_it_was_wished_for_teaches_no_timing(
    garden: Path, opens: int | None, learned: bool
) -> None:
    """The plan itself has carrots ripe weeks before they are wanted; picked on that first day, as planned,
    they taught that carrots are 24 days later here. `opens`: days from the first picking."""
    one = sown(garden, SPRING[1])
    first = likely_first(garden, one) + timedelta(days=25)
    write(garden, [(first, Picked("beetroot", one), "")])
    if opens is not None:
        season = first + timedelta(days=opens)
        garden.write_text(f'{TEXT}[[wish]]\nitem = "beetroot"\neach_week = "1 kg"\nfrom = "{season:%m-%d}"\n'
                          'until = "12-31"\n')
    assert bool(lessons(garden, END).timing) is learned
    assert bool(lessons(garden, END).records) is learned


def test_what_was_picked_sooner_than_the_book_is_known_to_have_been_ripe(garden: Path) -> None:
    one = sown(garden, SPRING[1])
    first = likely_first(garden, one) - timedelta(days=12)
    write(garden, [(first, Picked("beetroot", one), "")])
    garden.write_text(f'{TEXT}[[wish]]\nitem = "beetroot"\neach_week = "1 kg"\nfrom = "{first:%m-%d}"\n'
                      'until = "12-31"\n')
    assert lessons(garden, END).timing[0].days_later < 0
