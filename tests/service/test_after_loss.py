"""What a lost sowing leaves bare and what can fill it (docs/design/season.md, 8). Invented garden and diary,
real weather."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import pytest

from evenpick.base.errors import BadRequest
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.kinds import kinds, salads
from evenpick.garden.diary import Lost, Sowed, Undid
from evenpick.report.losses import after_loss_page
from evenpick.report.terminal import render
from evenpick.report.words import words_for
from evenpick.service.after_loss import LIKELY, SOON, SURE, _asked, _grown, _missing, after_loss
from evenpick.service.book import write
from evenpick.service.loss_answer import AfterLoss
from evenpick.service.planning import make_plan, save_plan

TEXT = """
[site]
at = "53.4, -6.2"
weather = "dublin-airport"
[plan]
years = 8
[[ground]]
name = "beds"
cover = "open"
area = "12 m2"
[[wish]]
item = "radish"
each_week = "250 g"
from = "05-01"
until = "09-30"
[[wish]]
item = "peas"
crops = ["pea"]
each_week = "500 g"
from = "06-10"
until = "07-20"
"""
TODAY = date(2027, 6, 23)


def lost(garden: Path, crop: str, sown: date, share: float = 1.0) -> AfterLoss:
    (sowing,) = write(garden, [(sown, Sowed(crop, "direct", "open", 2.0), "")])
    write(garden, [(TODAY, Lost(sowing.id, "eaten", share), "")])
    return after_loss(garden, sowing.id, TODAY)


def test_a_quick_crop_fills_the_weeks_of_a_lost_one(garden: Path) -> None:
    answer = lost(garden, "radish", date(2027, 6, 5))
    assert answer.item == "radish"
    assert answer.weeks
    assert all(had < 0.5 * wanted for _, wanted, had in answer.weeks)
    best = answer.fillings[0]
    assert best.crop == "radish"
    assert TODAY <= best.sow <= TODAY + timedelta(days=SOON + 7)
    assert {week for week, _ in best.weeks} <= {week for week, *_ in answer.weeks}
    assert all(share >= LIKELY for _, share in best.weeks)
    assert not answer.instead
    assert "more than half bare. Radish sown on" in answer.words


def test_after_blight_the_same_ground_and_what_was_left_in_it_are_warned_of(garden: Path) -> None:
    """Potatoes were told as what can still fill the weeks of potatoes lost to blight, without a word."""
    def caution(crop: str, by: str) -> str:
        (sowing,) = write(garden, [(date(2027, 4, 10), Sowed(crop, "planted", "open", 2.0), "")])
        write(garden, [(TODAY, Lost(sowing.id, "other", 1.0, by), "")])
        answer = after_loss(garden, sowing.id, TODAY)
        page = render(after_loss_page(answer, words_for("british", "metric", load_catalogue())))
        assert " ".join(answer.caution.split()) in " ".join(page.split())
        return answer.caution

    for crop in ("early-potato", "main-potato"):
        said = caution(crop, "late blight")
        assert "no potatoes or tomatoes into that ground" in said
        assert "common practice, no source" in said
    assert caution("main-potato", "slugs") == caution("onion-sets", "blight") == ""


def test_where_nothing_of_it_can_the_answer_says_so_and_names_what_is_quick(garden: Path) -> None:
    """Peas sown at the end of June are not picked by 20 July; a radish may be, in three to four weeks."""
    answer = lost(garden, "pea", date(2027, 4, 10))
    assert answer.weeks
    assert answer.fillings == ()
    assert "nothing of its use at the table stands in for it" in answer.words
    assert not answer.instead
    assert "radish" in {each.crop for each in answer.besides}
    assert all(each.crop != "pea" and each.success >= SURE for each in answer.besides)


def test_what_stands_in_is_of_the_same_use_at_the_table(garden: Path) -> None:
    """Potatoes lost in June: rocket was offered. Roots are."""
    garden.write_text(TEXT + """
[[wish]]
item = "potatoes"
crops = ["early-potato"]
each_week = "2 kg"
from = "07-01"
until = "08-20"
""", encoding="utf-8")
    (sowing,) = write(garden, [(date(2027, 3, 27), Sowed("early-potato", "planted", "open", 6.0), "")])
    write(garden, [(TODAY, Lost(sowing.id, "diseased", 1.0), "")])
    answer = after_loss(garden, sowing.id, TODAY)
    assert answer.weeks
    assert not answer.fillings
    assert {kinds()[each.crop] for each in answer.instead} == {"rooty"}
    assert not {each.crop for each in answer.instead} & salads()
    assert not answer.besides
    assert "What can stand in for it: " in answer.words


def test_a_small_loss_leaves_nothing_bare(garden: Path) -> None:
    answer = lost(garden, "radish", date(2027, 6, 5), share=0.02)
    assert answer.weeks == ()
    assert "at least half" in answer.words


def test_what_nobody_wishes_for_leaves_nothing_bare(garden: Path) -> None:
    answer = lost(garden, "beetroot", date(2027, 5, 1))
    assert answer.item is None
    assert "Nobody wishes" in answer.words


def test_what_was_not_lost_is_refused(garden: Path) -> None:
    (sowing,) = write(garden, [(date(2027, 6, 5), Sowed("radish", "direct", "open", 2.0), "")])
    for name in (sowing.id, "none such"):
        with pytest.raises(BadRequest, match="no loss"):
            after_loss(garden, name, TODAY)


def test_a_sowing_lost_before_it_was_up_is_held_against_the_best_day_and_not_its_own(garden: Path) -> None:
    """Less of a radish sown in the cold comes up than in May: what was lost was never a full stand."""
    (sowing,) = write(garden, [(date(2027, 3, 8), Sowed("radish", "direct", "open", 2.0), "")])
    write(garden, [(date(2027, 3, 12), Lost(sowing.id, "eaten", 1.0), "")])
    asked, crop = _asked(garden, sowing.id, date(2027, 3, 13)), load_catalogue().crop("radish")
    made = _grown(asked, {"radish": crop})
    assert _missing(asked, crop, made).kg.sum() < 0.95 * _missing(asked, crop, {}).kg.sum()


def test_a_sowing_lost_on_the_day_it_was_planned_for_is_not_counted_as_still_to_be_sown(
    garden: Path,
) -> None:
    """The plan's radish of its first day was sown and lost on that day: nothing of it is to come. Nor is it
    where it was sown without a word of the plan, for it is the nearest of its kind."""
    plan = make_plan(garden, TODAY, seconds=2)
    save_plan(garden, plan)
    first = next(one for one in plan.sowings if one.crop == "radish")
    for named in (first.id, None):
        fact = Sowed("radish", first.way, first.cover, first.area_m2, planned=named)
        (sowing,) = write(garden, [(first.sow, fact, "")])
        write(garden, [(first.sow, Lost(sowing.id, "eaten", 1.0), "")])
        answer = after_loss(garden, sowing.id, first.sow)
        assert answer.weeks
        assert first.fills is not None
        assert all(first.fills[0] - timedelta(weeks=1) <= week <= first.fills[1] + timedelta(weeks=1)
                   for week, *_ in answer.weeks)
        write(garden, [(first.sow, Undid(sowing.id), "")])


TUNNEL = """
[site]
at = "-41.27, 173.28"
[plan]
years = 8
[bench]
modules = 200
lowest = "5 °C"
[[ground]]
name = "field"
cover = "open"
area = "60 m2"
[[ground]]
name = "tunnel"
cover = "tunnel"
area = "40 m2"
[[wish]]
item = "courgettes"
each_week = "5 kg"
from = "12-10"
until = "03-31"
"""


def test_a_tunnel_is_offered_on_days_on_which_the_open_would_do_too(garden: Path) -> None:
    """Nelson's courgettes, frosted in October: sown at once in the tunnel they are picked a week sooner."""
    garden.write_text(TUNNEL, encoding="utf-8")
    begin = date(2026, 11, 10)
    (sowing,) = write(garden, [(date(2026, 9, 6), Sowed("courgette", "raised", "tunnel", 20.0), "")])
    write(garden, [(date(2026, 10, 20), Lost(sowing.id, "frosted", 1.0), "")])
    fillings = after_loss(garden, sowing.id, begin).fillings
    soonest = {cover: min(each.weeks[0][0] for each in fillings if each.cover == cover)
               for cover in ("open", "tunnel")}
    assert soonest["tunnel"] < soonest["open"]
    assert min(each.sow for each in fillings if each.cover == "tunnel") < begin + timedelta(weeks=1)
