"""The seed tin (docs/design/seed.md). Invented packets."""

from __future__ import annotations

import sys
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest
from scipy import stats

from evenpick.base.errors import BadGarden, BadRequest
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.seed import FRESH
from evenpick.garden.diary import SeedGot, Sowed
from evenpick.garden.tin import Tinned
from evenpick.report.terminal import render
from evenpick.report.tin import tin_page
from evenpick.report.words import words_for
from evenpick.service.book import record_of, write
from evenpick.service.garden_task import Taken
from evenpick.service.job_answers import answer_job
from evenpick.service.packets import tin_now
from evenpick.service.plan_answer import PlanAnswer
from evenpick.service.plan_limits import in_tin
from evenpick.service.planning import save_plan
from evenpick.service.setups import garden_of
from evenpick.service.sowings import seed_needs
from evenpick.service.store_plan import garden_digest
from evenpick.service.tin import PacketRow, ShopRow, tin_of, write_got, write_left, write_test
from evenpick.service.tin_worth import as_sold, counted

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "report"))
import invented

TEXT = """
[site]
at = "53.4, -6.2"
weather = "dublin-airport"
[[ground]]
name = "bed"
cover = "open"
area = "30 m2"
[[wish]]
item = "rocket"
each_week = "250 g"
[tin]
kept = "cool"
[[seed]]
crop = "leek"
year = 2024
amount = "2 g"
"""
DAY = date(2027, 2, 1)


def row(garden: Path, crop: str, day: date = DAY) -> PacketRow:
    return next(one for one in tin_of(garden, day).packets if one.crop == crop)


def test_old_leeks_are_poor_and_fresh_ones_good(garden: Path) -> None:
    write_got(garden, DAY, SeedGot("leek", "Winter Giant", 2027, grams=3.0))
    old, fresh = (one for one in tin_of(garden, DAY).packets if one.crop == "leek")
    assert old.grows.likely < fresh.grows.likely
    assert (fresh.verdict, fresh.variety) == ("good", "Winter Giant")
    assert old.grows.low < old.grows.likely < old.grows.high


def test_a_packet_is_not_of_a_year_that_is_still_to_come(garden: Path) -> None:
    """As a packet of the garden file (docs/formats/garden-toml.md): this year, or that of [plan] from."""
    with pytest.raises(BadRequest, match="the packet's year 2028 lies in the future"):
        write_got(garden, DAY, SeedGot("radish", "", 2028, seeds=500))
    garden.write_text(f"[plan]\nfrom = 2028-02-01\n{TEXT}", encoding="utf-8")
    write_got(garden, DAY, SeedGot("radish", "", 2028, seeds=500))
    assert row(garden, "radish").year == 2028


def test_seed_that_is_all_but_dead_is_told_once(garden: Path) -> None:
    write_got(garden, DAY, SeedGot("radish", "", 1950, seeds=1))
    page = render(tin_page(tin_of(garden, DAY), words_for("british", "metric", load_catalogue()), how=False))
    (line,) = (line for line in page.splitlines() if "1950" in line)
    assert "<1-<1" not in line
    assert line.split()[1:6] == ["Radish", "1950", "1", "seed", "<1"]


def test_tubers_are_tubers_and_what_the_garden_file_tested_is_told(garden: Path) -> None:
    """600 tubers were told as 600 seeds, and a test of the garden file counted without being shown."""
    more = ('[[seed]]\ncrop = "early-potato"\nyear = 2026\namount = "600 tubers"\n'
            '[[seed]]\ncrop = "mizuna"\nyear = 2021\namount = "20 g"\ntested = 40\n')
    garden.write_text(TEXT + more, encoding="utf-8")
    page = render(tin_page(tin_of(garden, DAY), words_for("british", "metric", load_catalogue())))
    lines = {crop: next(line for line in page.splitlines() if crop in line) for crop in ("potato", "Mizuna")}
    assert "600 tubers" in lines["potato"]
    assert "40 %" in lines["Mizuna"]
    assert "undated" in page
    assert row(garden, "mizuna").germination == pytest.approx(0.4)


def test_a_test_of_no_day_may_be_as_old_as_the_packet_or_of_yesterday(garden: Path) -> None:
    """61 % tried this winter of leeks packed three years before was told as not worth sowing."""
    more = '[[seed]]\ncrop = "leek"\nvariety = "Tried"\nyear = 2024\namount = "2 g"\ntested = 61\n'
    garden.write_text(TEXT.replace("cool", "warm") + more, encoding="utf-8")
    (packet,) = (one for one in tin_of(garden, DAY).packets if one.variety == "Tried")
    assert packet.grows.low < 0.05
    assert packet.grows.high > 0.61
    assert packet.verdict == "test first"


def test_what_is_not_worth_sowing_counts_as_none_not_as_not_said() -> None:
    leek = load_catalogue().crop("leek")
    spent = Tinned("a", "leek", "", 1970, 500.0, None, None)
    assert as_sold(leek, [spent], "room", DAY) == 0.0
    assert as_sold(leek, [replace(spent, seeds=None)], "room", DAY) is None


def test_what_is_to_be_bought_says_what_it_is_of(garden: Path) -> None:
    """46 of new potatoes were told bare beside 46 seeds of lettuce; the plan's own list said tubers."""
    rows = (ShopRow("early-potato", "Early potato", 46, None, 4.0, 42, DAY),
            ShopRow("garlic", "Garlic", 26, None, None, 26, DAY),
            ShopRow("kale", "Kale", 41, 0.1, 0.0, 41, DAY))
    answer = replace(tin_of(garden, DAY), shopping=rows, unplanned=False)
    page = render(tin_page(answer, words_for("british", "metric", load_catalogue())))
    said = [" ".join(line.split()) for line in page.splitlines()]
    assert any(line.startswith("Early potato 46 tubers 4 tubers 42 tubers") for line in said)
    assert any(line.startswith("Garlic 26 cloves not said 26 cloves") for line in said)
    assert any(line.startswith("Kale 41 0.10 g 0 41") for line in said)


def test_a_test_of_ones_own_goes_before_age(garden: Path) -> None:
    before = row(garden, "leek")
    write_test(garden, DAY, before.tag, 50, 12)
    after = row(garden, "leek")
    assert after.grows.likely == pytest.approx(12 / 50)
    assert after.tested == (DAY, 50, 12)
    assert after.verdict == "sow thicker"
    write_test(garden, DAY, before.tag, 50, 3)
    assert row(garden, "leek").verdict == "not worth sowing"


def test_what_is_sown_is_less_in_the_tin_and_a_count_sets_it_right(garden: Path) -> None:
    mark = write_got(garden, DAY, SeedGot("radish", "", 2026, seeds=500))
    write(garden, [(DAY, Sowed("radish", "direct", "open", 1.0, seeds=120), "")])
    assert row(garden, "radish").seeds == 380
    write(garden, [(DAY, Sowed("radish", "direct", "open", 1.0), "")])
    assert row(garden, "radish").reckoned
    write_left(garden, DAY, mark, 300, None)
    assert (row(garden, "radish").seeds, row(garden, "radish").reckoned) == (300, False)
    write_left(garden, DAY, mark, 0, None)
    assert "radish" not in {one.crop for one in tin_of(garden, DAY).packets}


def test_a_sowing_that_could_be_from_two_packets_takes_from_neither(garden: Path) -> None:
    for variety in ("Early", "Late"):
        write_got(garden, DAY, SeedGot("radish", variety, 2026, seeds=500))
    write(garden, [(DAY, Sowed("radish", "direct", "open", 1.0, seeds=120), "")])
    assert {one.seeds for one in tin_of(garden, DAY).packets if one.crop == "radish"} == {500}
    write(garden, [(DAY, Sowed("radish", "direct", "open", 1.0, variety="late", seeds=120), "")])
    assert sorted(one.seeds or 0 for one in tin_of(garden, DAY).packets if one.crop == "radish") == [380, 500]


def test_the_shopping_list_counts_what_would_germinate(garden: Path) -> None:
    plan: PlanAnswer = replace(
        invented.PLAN, made_from=replace(invented.PLAN.made_from, garden=garden_digest(TEXT)))
    save_plan(garden, plan)
    wanted = sum(sowing.seeds or 0 for sowing in plan.sowings if sowing.crop == "rocket")
    line = next(one for one in tin_of(garden, DAY).shopping if one.crop == "rocket")
    assert (line.seeds, line.have, line.buy) == (wanted, None, wanted)
    mark = write_got(garden, DAY, SeedGot("rocket", "", 2027, seeds=400))
    write_test(garden, DAY, mark, 100, 45)
    line = next(one for one in tin_of(garden, DAY).shopping if one.crop == "rocket")
    assert line.have == pytest.approx(200)
    assert line.buy == wanted - 200


def test_nothing_is_bought_for_what_is_too_late(garden: Path) -> None:
    """While it can wait it is bought for; then, or once it is refused, no more."""
    save_plan(garden, replace(
        invented.PLAN, made_from=replace(invented.PLAN.made_from, garden=garden_digest(TEXT))))
    (rocket,) = [one for one in invented.PLAN.sowings if one.crop == "rocket"]

    def bought(day: date) -> bool:
        return "rocket" in {one.crop for one in tin_of(garden, day).shopping}

    assert bought(rocket.sow + timedelta(days=8))
    assert not bought(rocket.sow + timedelta(days=20))
    answer_job(garden, f"sow:{rocket.id}", "refused", rocket.sow)
    assert not bought(rocket.sow)


def test_the_tin_buys_for_the_weeks_that_the_plan_counts_seed_for(garden: Path) -> None:
    """On the plan's first day, a Wednesday: a sowing on the last Sunday of 52 weeks counts, one on the
    Monday after it does not, in neither place."""
    begins = date(2027, 2, 3)
    rocket = next(one for one in invented.PLAN.sowings if one.crop == "rocket")
    days = (begins, date(2028, 1, 30), date(2028, 1, 31), date(2028, 2, 3))
    sowings = tuple(replace(rocket, id=str(day), sow=day, seeds=100) for day in days)
    made_from = replace(invented.PLAN.made_from, garden=garden_digest(TEXT))
    save_plan(garden, replace(invented.PLAN, begins=begins, sowings=sowings, made_from=made_from))
    answer = tin_of(garden, begins)
    assert answer.covers == (date(2027, 2, 1), date(2028, 1, 30))
    (line,) = answer.shopping
    planned = Taken(begins, sowings, (), (), ()).first_year()
    assert [one.sow for one in planned] == list(days[:2])
    assert line.seeds == sum(one.seeds or 0 for one in planned) == 200


def test_the_plan_has_as_much_in_the_tin_as_the_tin(garden: Path) -> None:
    """Leeks of 2024 kept cool, untested, and rocket of which 45 of 100 came: both are worth less than their
    count, and the plan's list says of each what the tin's does."""
    mark = write_got(garden, DAY, SeedGot("rocket", "", 2027, seeds=400))
    write_test(garden, DAY, mark, 100, 45)
    rocket = next(one for one in invented.PLAN.sowings if one.crop == "rocket")
    leek = replace(rocket, id="leek", crop="leek", name="Leek", sow=DAY, seeds=900)
    made_from = replace(invented.PLAN.made_from, garden=garden_digest(TEXT))
    save_plan(garden, replace(invented.PLAN, begins=DAY, sowings=(rocket, leek), made_from=made_from))
    described, crops = garden_of(garden), {key: load_catalogue().crop(key) for key in ("leek", "rocket")}
    needs = seed_needs((rocket, leek), tin_now(described, record_of(garden)), crops, described.kept, DAY)
    lines = {one.crop: one for one in tin_of(garden, DAY).shopping}
    assert {one.crop for one in needs} == {"leek", "rocket"}
    for need in needs:
        line = lines[need.crop]
        assert (need.seeds, need.have_seeds, need.buy_seeds) == (line.seeds, line.have, line.buy)
    assert lines["rocket"].have == pytest.approx(200)
    assert 0 < (lines["leek"].have or 0) < 2.0 * (crops["leek"].spacing.seeds_per_g or 0)


@pytest.mark.parametrize(("came", "tried"), [(43, 50), (5, 20), (20, 20), (0, 20)])
def test_counts_by_wilsons_score(came: int, tried: int) -> None:
    """Against scipy's own Wilson interval."""
    low, _, high = counted(came, tried)
    other = stats.binomtest(came, tried).proportion_ci(0.8, "wilson")
    assert (low, high) == pytest.approx((max(other.low, 1e-4), min(other.high, 1 - 1e-4)))


def test_bad_tests_and_packets_are_told(garden: Path) -> None:
    with pytest.raises(BadRequest, match="60 of 50 can't be"):
        write_test(garden, DAY, row(garden, "leek").tag, 50, 60)
    with pytest.raises(BadRequest, match="no packet 'none'"):
        write_left(garden, DAY, "none", 1, None)


def test_a_bad_way_of_keeping_has_its_line(garden: Path) -> None:
    garden.write_text(TEXT.replace('"cool"', '"somewhere"'), encoding="utf-8")
    with pytest.raises(BadGarden, match="line 13"):
        tin_of(garden, DAY)


def test_what_limits_a_plan_is_what_the_tin_is_worth(garden: Path) -> None:
    """It was the packets' count times the last test's share: a plan bought seed that the tin was to give."""
    leek, rocket = (load_catalogue().crop(key) for key in ("leek", "rocket"))
    assert leek.spacing.seeds_per_g is not None
    packed = 2.0 * leek.spacing.seeds_per_g

    def there() -> tuple[float | None, float | None]:
        described = garden_of(garden)
        packets = tin_now(described, record_of(garden))
        found = [in_tin(crop, packets, described.kept, DAY) for crop in (leek, rocket)]
        of_each = [[one for one in packets if one.crop == crop.key] for crop in (leek, rocket)]
        assert found == [as_sold(crop, own, described.kept, DAY) or 0.0
                         for crop, own in zip((leek, rocket), of_each, strict=True)]
        return found[0], found[1]

    leeks, none = there()
    assert leeks is not None
    assert 0 < leeks < packed
    assert none == 0.0
    write(garden, [(DAY, Sowed("leek", "raised", "tunnel", 1.0, seeds=100.0), "")])
    assert there()[0] == pytest.approx(leeks * (1 - 100 / packed))
    mark = write_got(garden, DAY, SeedGot("rocket", "", 2027, seeds=500.0))
    assert there()[1] == pytest.approx(500.0, rel=0.02)
    write_test(garden, DAY, mark, 50, 40)
    assert there()[1] == pytest.approx(500.0 * 0.8 / FRESH)


def test_a_spent_packet_limits_and_one_that_says_nothing_does_not(garden: Path) -> None:
    leek, kept = load_catalogue().crop("leek"), garden_of(garden).kept
    spent = Tinned("a", "leek", "", 1970, 500.0, None, None)
    assert in_tin(leek, [spent], kept, DAY) == 0.0
    assert in_tin(leek, [replace(spent, seeds=None)], kept, DAY) is None
