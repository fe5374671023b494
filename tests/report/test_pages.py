"""Pages exactly as they are read, of invented answers; `python tests/report/test_pages.py` renews them."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import invented
import pytest
from invented import AMERICAN, BRITISH, language_of

from evenpick.base.language import using
from evenpick.climate.origin import ClimateOrigin
from evenpick.report.ground import ground_page
from evenpick.report.how_good import gap_words
from evenpick.report.month import month_page
from evenpick.report.outlook import outlook_page, why_page
from evenpick.report.page import Heading, Items, Page, Table, Text
from evenpick.report.pickings import pickings_page
from evenpick.report.place import weather_lines
from evenpick.report.plan import ground_use, held_back, how_little, plan_page
from evenpick.report.plan_changes import changes
from evenpick.report.sowings import seed_words
from evenpick.report.terminal import WIDTH, render
from evenpick.report.today import no_amounts, today_page
from evenpick.report.windows import windows_page
from evenpick.report.words import Words
from evenpick.service.outlook_answer import LaterRow
from evenpick.service.pickings_answer import ItemPickings, WeekOfItem
from evenpick.service.plan_answer import Change, ChangeKind, GivenUp, GroundUse, Holding

SNAPSHOTS = Path(__file__).parent / "snapshots"
PAGES: dict[str, Callable[[], Page]] = {
    "windows": lambda: windows_page(invented.WINDOWS, BRITISH),
    "windows-american": lambda: windows_page(invented.WINDOWS, AMERICAN),
    "outlook": lambda: outlook_page(invented.OUTLOOK, BRITISH),
    "outlook-hopeless": lambda: outlook_page(invented.HOPELESS, BRITISH),
    "why": lambda: why_page(invented.WHY, BRITISH),
    "month": lambda: month_page(invented.MONTH, BRITISH),
    "month-american": lambda: month_page(invented.MONTH, AMERICAN),
    "month-polar": lambda: month_page(invented.POLAR, BRITISH),
    "month-nowhere": lambda: month_page(invented.NOWHERE, BRITISH),
    "plan": lambda: plan_page(invented.PLAN, invented.TODAY.jobs, BRITISH),
    "plan-american": lambda: plan_page(invented.PLAN, invented.TODAY.jobs, AMERICAN),
    "plan-empty": lambda: plan_page(invented.EMPTY, (), BRITISH),
    "pickings": lambda: pickings_page(invented.PLAN, BRITISH, date(2027, 7, 15), 4),
    "pickings-shares-american": lambda: pickings_page(
        replace(invented.PLAN, pickings=invented.PLAN.pickings[1:]), AMERICAN, date(2027, 7, 15), 1,
        lambda monday: invented.SHARES if monday == date(2027, 7, 12) else ()),
    "ground": lambda: ground_page(invented.GROUND, BRITISH, date(2027, 2, 1), 52),
    "ground-american": lambda: ground_page(invented.GROUND, AMERICAN, date(2027, 4, 20), 8),
    "today": lambda: today_page(invented.TODAY, BRITISH),
    "today-by-day": lambda: today_page(invented.WEEK, BRITISH),
    "today-idle": lambda: today_page(invented.IDLE, AMERICAN),
}


@pytest.mark.parametrize("name", PAGES)
def test_a_page_reads_as_it_did(name: str) -> None:
    with using(language_of(name)):
        text = render(PAGES[name]())
    assert text == (SNAPSHOTS / f"{name}.txt").read_text(encoding="utf-8")
    assert max(map(len, text.splitlines())) <= WIDTH


@pytest.mark.parametrize("name", PAGES)
def test_no_page_says_none_or_nan(name: str) -> None:
    words = render(PAGES[name]()).replace("(", " ").split()
    assert not {"None", "nan", "nan%", "inf"} & set(words)


@pytest.mark.parametrize(("gap", "said"), [
    (None, "was not proven"), (0.324, "Proven within 32.4 %"), (1.0, "nothing is proven yet"),
    (1.02, "nothing is proven yet"),
])
def test_how_near_the_best_a_plan_is_proven(gap: float | None, said: str) -> None:
    assert said in gap_words(replace(invented.PLAN, gap=gap))


def test_a_proof_that_is_far_off_says_what_of_it_may_be_its_own() -> None:
    """Four pots on a windowsill are proven within 10 %, and no search brings them nearer."""
    far, near = (gap_words(replace(invented.PLAN, gap=gap)) for gap in (0.097, 0.019))
    assert far.endswith("and the less the plan's own.")
    assert "parts of plants, pots and sowings" not in near


def test_what_counts_took_off_the_proof_is_told_with_it() -> None:
    told = gap_words(replace(invented.PLAN, gap=0.132, uncounted=0.049))
    assert "Proven within 13.2 %" in told
    assert "Before it was kept to the sowings in a week" in told
    assert "within 4.9 %" in told
    assert "kept to" not in gap_words(replace(invented.PLAN, gap=0.132))


@pytest.mark.parametrize(("score", "told"), [
    (0.646, "0.646"), (0.65, "0.65"), (0.6, "0.60"), (0.644, "0.64"),
])
def test_a_score_that_falls_short_does_not_read_as_enough(score: float, told: str) -> None:
    why = replace(invented.WHY, score=score, worth_from=0.65)
    said = " ".join(render(why_page(why, BRITISH)).split())
    assert f"Score of this day: {told}. The best day about then has 1; from 0.65 it is worth sowing." in said


@pytest.mark.parametrize(("km", "made", "far", "mends"), [
    (99.0, 60, False, False), (101.0, 60, True, True), (101.0, 0, True, False),
])
def test_a_far_station_is_cautioned_of_once_with_what_mends_it(
    km: float, made: int, far: bool, mends: bool
) -> None:
    """Normals from closer by are better than a station's so far off; real days have none to be typed."""
    origin = ClimateOrigin("station normals", "Somewhere", km, 0.0, 30, made=made)
    said = " ".join(line.text for line in weather_lines(invented.WINDOWS.site, origin, BRITISH))
    assert said.count("CAUTION: the weather was measured far away;") == far
    assert said.count("Twelve monthly normals from closer by are better.") == mends


def test_what_a_grower_needs_first_stands_within_a_screen() -> None:
    """The plan of a market garden told how good it is after 300 lines, and the raising bench last of all."""
    (sowing, *_), (need, *_) = invented.PLAN.sowings, invented.PLAN.seed
    seed = tuple(replace(need, name=f"crop {n}", buy_seeds=9) for n in range(40))
    long = replace(
        invented.PLAN, sowings=(sowing,) * 200, seed=seed,
        cannot=tuple(f"Item {n}: it can't be had. More of it." for n in range(9)),
        given_up=tuple(GivenUp(f"item {n}", 0.5 - n / 100, "ground") for n in range(30)),
        notes=("No raising bench is told.", "Years were drawn."), granted=("No raising bench is told.",))
    lines = render(plan_page(long, invented.TODAY.jobs, BRITISH)).splitlines()
    first = " ".join(lines[:35])
    for told in ("5 % of what was wanted was not there", "item 0 50 %, item 1 49 %",
                 "Item 2: it can't be had.", "6 more wishes can't be met", "No raising bench is told.",
                 "and 32 more", "THIS WEEK"):
        assert told in first, told
    assert "item 4" not in first
    assert "Years were drawn." not in first
    assert sum("No raising bench is told." in line for line in lines) == 1
    headings = [line for line in lines if line.isupper()]
    assert headings.index("THIS WEEK") < headings.index("HOW GOOD IT IS") < headings.index("SEED")
    assert headings.index("SEED") < headings.index("SOWINGS OF 2027")


def test_a_reason_is_told_once_for_all_items_it_holds_for() -> None:
    """In the order of what is missing most, each reason whole."""
    bad = "years that give less, and gaps too small to be worth another sowing"
    missing = [GivenUp("tomatoes", 0.41, bad), GivenUp("leeks", 0.39, "not enough open ground"),
               GivenUp("garlic", 0.15, bad), GivenUp("radish", 0.004, bad)]
    _, _, told = held_back((), missing, BRITISH)
    assert isinstance(told, Items)
    assert told.entries == (
        "Years that give less, and gaps too small to be worth another sowing: tomatoes 41 %, garlic 15 %, "
        "radish <1 %.",
        "Not enough open ground: leeks 39 %.",
    )
    assert held_back((), (), BRITISH) == []


def test_how_little_a_sowing_may_bring_is_told_where_less_would_mend_it_however_it_is_worded() -> None:
    other, mends = GivenUp("peas", 0.2, "not enough ground"), GivenUp("kale", 0.2, "so", None, True)
    assert list(how_little([other])) == []
    assert "worth_a_sowing" in next(how_little([other, mends])).text


def test_a_change_of_cover_is_seen() -> None:
    """A sowing dropped in the open and one made in the tunnel on the same day do not read alike; what has one
    reason stands together."""
    gone = Change("dropped", "a", "Spinach", "direct", date(2026, 11, 28), None, 1.35, 4.5, None, "as seen")
    made = replace(gone, kind="new", id="b", cover="tunnel")
    more = replace(gone, kind="more", why="the 5 Nov sowing was lost")
    assert changes("what is different", [gone, more, made], BRITISH) == [
        Heading("what is different"),
        Text("As seen:"),
        Items(("Spinach: no sowing on 28 Nov", "Spinach, tunnel: 4.5 m on 28 Nov, new")),
        Text("The 5 Nov sowing was lost:"), Items(("Spinach: 4.5 m more on 28 Nov",)),
    ]
    assert changes("what is different", [], BRITISH) == []


def test_a_change_of_way_is_seen() -> None:
    """'No sowing on 29 May' and '581 plants on 29 May, new' of one crop read as if each denied the other."""
    gone = Change("dropped", "a", "Kale", "direct", date(2027, 5, 29), None, 1.35, 4.5, None, "as seen")
    made = replace(gone, kind="new", id="b", way="raised", plants=581)
    other = replace(gone, id="c", name="Chard")
    lists = [block for block in changes("what is different", [gone, made, other], BRITISH)
             if isinstance(block, Items)]
    assert lists == [Items(("Kale, in place: no sowing on 29 May", "Kale, raised: 581 plants on 29 May, new",
                            "Chard: no sowing on 29 May"))]


def test_a_page_with_a_crop_to_pick_does_not_say_that_nothing_is_ripe() -> None:
    """Without a plan nothing tells how much."""
    ripe = replace(invented.TODAY.jobs[1], kind="pick")
    told = render(today_page(replace(invented.IDLE, jobs=(ripe,)), BRITISH))
    assert "What may be ripe is among the jobs" in " ".join(told.split())
    assert "Nothing is likely to be ripe" not in told
    assert no_amounts(invented.TODAY) == no_amounts(invented.IDLE) == ""


@pytest.mark.parametrize(("leverage", "said"), [
    (0.8, "Sown a week later it is first picked 6 days later."),
    (0.14, "Sown a week later it is first picked a day later."),
    (4.5, "Sown a week later it is first picked 32 days later."),
    (0.02, "A week of waiting hardly moves the first picking."),
    (-0.3, "Sown a week later it is first picked 2 days sooner."),
])
def test_what_waiting_does_is_told_in_days(leverage: float, said: str) -> None:
    assert said in " ".join(render(why_page(replace(invented.WHY, leverage=leverage), BRITISH)).split())


if __name__ == "__main__":
    for name, page in PAGES.items():
        with using(language_of(name)):
            (SNAPSHOTS / f"{name}.txt").write_text(render(page()), encoding="utf-8")


@pytest.mark.parametrize(("words", "unit", "portions"), [
    (BRITISH, "m²", "21.5"), (AMERICAN, "10 sq ft", "20.0"),
])
def test_what_one_more_of_the_ground_brings_is_of_the_growers_unit(
    words: Words, unit: str, portions: str
) -> None:
    _, table, *_ = held_back((Holding("open ground", "spring 2027", 0.9, 21.5, "m²"),), (), words)
    assert isinstance(table, Table)
    assert table.rows == ((f"open ground ({unit})", "spring 2027", f"{portions} portions"),)
    _, hours, *_ = held_back((Holding("hours", "spring 2027", 0.9, 21.5, "h"),), (), words)
    assert isinstance(hours, Table)
    assert hours.rows[0][0] == "hours (h)"


def test_what_is_left_until_later_is_too_late_for_this_season_alone() -> None:
    garlic = LaterRow("garlic", "Garlic", (9, 15), "too late")
    text = render(month_page(replace(invented.MONTH, later=(garlic,)), BRITISH))
    assert "too late for this season" in text.split("LEAVE UNTIL LATER")[1].split("TOO LATE NOW")[0]


def waiting(item: str, lead: int, likely: tuple[float, ...]) -> ItemPickings:
    """1 kg wanted each week from 1 March 2027."""
    weeks = tuple(WeekOfItem(date(2027, 3, 1) + timedelta(weeks=at), 1.0, 0.5 * kg, kg, 1.5 * kg, 0.0, 0.0)
                  for at, kg in enumerate(likely))
    return ItemPickings(item, "kg", 1.0, weeks, lead)


def test_weeks_in_which_nothing_can_be_ripe_yet_are_told_together() -> None:
    items = (waiting("peas", 3, (0.0, 0.0, 0.0, 0.0)), waiting("greens", 2, (0.0, 0.0, 1.0, 1.0)))
    text = render(pickings_page(replace(invented.PLAN, pickings=items), BRITISH, date(2027, 3, 1), 4))
    assert "WEEKS OF 1 MAR 2027 TO 8 MAR 2027\nToo soon for what is wanted: peas, greens.\n" in text
    assert text.count("WEEK OF") == 2  # of the third on greens are ripe


def test_a_bare_week_that_a_plan_could_have_filled_is_told_by_itself() -> None:
    text = render(pickings_page(replace(invented.PLAN, pickings=(waiting("peas", 1, (0.0, 0.0)),)), BRITISH,
                                date(2027, 3, 1), 2))
    assert "WEEK OF 1 MAR 2027\nToo soon for what is wanted: peas.\n" in text
    assert "WEEK OF 8 MAR 2027\n" in text
    assert "bare" in text.split("WEEK OF 8 MAR 2027")[1]


def test_all_of_the_ground_taken_is_told_as_all_there_is() -> None:
    """Two figures made 220 of 224.9 m² and 230 of 225.1."""
    use = (GroundUse("open", 224.9, (225.1, 225.1)), GroundUse("tunnel", 7.25, (7.0, 3.5)))
    text = render(Page("", tuple(ground_use(use, BRITISH))))
    assert text.split("open")[1].split("\n")[0].split() == ["225", "m²", "225", "m²", "225", "m²"]
    assert text.split("tunnel")[1].split("\n")[0].split() == ["7.25", "m²", "7.00", "m²", "5.25", "m²"]


def test_the_mean_of_ground_in_use_is_the_first_years() -> None:
    """The second year, most of which is not sown yet, made half of it: a full sill was a third used."""
    use = (GroundUse("open", 0.37, (0.35,) * 52 + (0.0,) * 52),)
    text = render(Page("", tuple(ground_use(use, BRITISH))))
    assert text.split("open")[1].split("\n")[0].split() == ["0.37", "m²", "0.35", "m²", "0.35", "m²"]


@pytest.mark.parametrize(("words", "seeds", "grams", "told"), [
    (AMERICAN, 520.0, 0.5, "520 seeds"), (AMERICAN, 900.0, 2.6, "0.09 oz of seed"),
    (BRITISH, 520.0, 0.5, "0.50 g of seed"),
])
def test_seed_too_light_for_ounces_is_counted(words: Words, seeds: float, grams: float, told: str) -> None:
    """43 ft of lettuce were "<0.01 oz of seed"."""
    assert seed_words(seeds, grams, words) == told


def test_many_sowings_missed_are_told_by_crop_and_after_what_is_new() -> None:
    """After a summer without the diary 37 lines of them stood before what is to be done now."""
    def change(kind: ChangeKind, name: str, sow: date, why: str, cover: str = "open") -> Change:
        return Change(kind, f"{name}.{sow}", name, "direct", sow, None, 0.3, 2.0, None, why, cover)

    missed = [change("missed", "Radish", date(2027, month, 5), "not made") for month in (6, 7, 8)]
    tunnel = change("missed", "Radish", date(2027, 6, 12), "not made", "tunnel")
    new = change("new", "Rocket", date(2027, 9, 4), "the loss")
    text = render(Page("t", tuple(changes("different", [*missed, tunnel, new], BRITISH))))
    lines = [line for line in text.splitlines() if line.startswith("-") or line.endswith(":")]
    assert lines == [
        "The loss:", "- Rocket: 2 m on 4 Sep, new", "Not made:", "- Radish: 3 sowings, 5 Jun-5 Aug",
        "- Radish, tunnel: 2 m on 12 Jun",
    ]


def test_a_balconys_pickings_are_told_in_grams() -> None:
    """They were told in hundredths of a kilogram, and a portion of parsley as <0.01."""
    small = replace(invented.SALAD, weeks=invented.weeks(0, 45, 0.11, {20: 0.004, 21: 0.11}))
    plan = replace(invented.PLAN, pickings=(small,))
    days = small.weeks[20].week
    said = render(pickings_page(plan, BRITISH, days, 2))
    assert "<0.01" not in said
    assert re.search(r"salad leaves +110 +2.8 +4.0 +5.2 ", said)
    assert "    g" in said
    assert "   kg" not in said
    ounces = render(pickings_page(plan, AMERICAN, days, 2))
    assert re.search(r"salad leaves +3.9 +0.10 +0.14 +0.18 ", ounces)
    assert "   oz" in ounces
    assert "   lb" not in ounces
    assert "   kg" in render(pickings_page(invented.PLAN, BRITISH, days, 2))


def test_of_next_to_nothing_picked_no_share_is_spare() -> None:
    """Peas of which one year in thirty ripened a handful too soon were 'bare 100 %, spare 100 %'."""
    def spare(kg: float) -> str:
        weeks = invented.weeks(20, 30, 1.0, {12: kg})
        plan = replace(invented.PLAN, pickings=(ItemPickings("peas", "kg", 1.0, weeks, 0),))
        return next(line for line in render(pickings_page(plan, BRITISH, date(2027, 2, 1), 1)).splitlines()
                    if line.startswith("peas"))

    assert spare(0.05).rstrip().endswith(" 100%")
    assert spare(0.05).count("%") == 1
    assert spare(0.5).count("%") == 2


def test_what_was_missed_may_still_be_sown_and_is_not_told_as_too_late() -> None:
    """'Too late for leeks' stood over 'sow by 19 May' on 12 April, and the mended plan sowed them."""
    said = " ".join(render(today_page(invented.TODAY, BRITISH)).split())
    assert "TOO LATE FOR" not in said
    missed = said.split("MISSED ")[1].split("TO PICK")[0]
    assert "Rocket" in missed
    assert "gets another day when the plan is mended" in missed
