"""Money, weights that somebody set, and what shares come to, in words."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import invented
import pytest
from invented import AMERICAN, BRITISH

from evenpick.report.money import about, exact
from evenpick.report.page import Heading, Items, Table, Text
from evenpick.report.shares import falling_short, share_said
from evenpick.report.takings import takings_told
from evenpick.service.shares_answer import ShortShare


@pytest.mark.parametrize(("amount", "sign", "said"), [
    (11.2, "€", "€11.20"), (12.0, "£", "£12"), (1234.5, "$", "$1,234.50"), (11.2, "kr", "11.20 kr"),
    (11.2, "CHF", "11.20 CHF"), (11.2, "R$", "11.20 R$"), (11.2, "", "11.20"), (0.05, "€", "€0.05"),
    (11.999, "€", "€12"),
])
def test_what_was_asked_for_is_told_to_the_hundredth(amount: float, sign: str, said: str) -> None:
    assert exact(amount, sign) == said


@pytest.mark.parametrize(("amount", "sign", "said"), [
    (11.2, "€", "€11"), (3.43, "€", "€3.40"), (9.94, "€", "€9.90"), (9.96, "€", "€10"), (0.349, "£", "£0.35"),
    (0.0, "€", "€0"), (0.001, "€", "€<0.01"), (1249.0, "kr", "1,200 kr"), (87_654.0, "", "88,000"),
])
def test_what_is_likely_is_told_in_two_figures(amount: float, sign: str, said: str) -> None:
    assert about(amount, sign) == said


def test_a_weight_that_was_set_keeps_its_figures() -> None:
    """4 kg / 0.45359237 = 8.818 lb; 9 lb and 12 oz are exact again."""
    pound = 0.45359237
    metric = [BRITISH.weight_said(kg) for kg in (4.0, 12.5, 0.5, 1234.0)]
    assert metric == ["4 kg", "12.5 kg", "500 g", "1,234 kg"]
    assert [AMERICAN.weight_said(kg) for kg in (4.0, 9 * pound, 0.75 * pound)] == ["8.82 lb", "9 lb", "12 oz"]


def test_a_share_beside_what_it_should_be() -> None:
    boxes, stall, kitchen = invented.SHARES
    assert share_said(boxes, BRITISH) == "about 3.4 kg of 4 kg, worth about €11 of €12.50"
    assert share_said(stall, BRITISH) == "about 31 kg, worth about €9.00 without what has no price"
    assert share_said(kitchen, BRITISH) == "about 800 g of 1 kg"
    assert share_said(replace(stall, worth=0.0), BRITISH) == "about 31 kg"
    assert share_said(replace(boxes, worth=0.0), BRITISH) == "about 3.4 kg of 4 kg, worth about €0 of €12.50"


def test_weeks_that_fall_short_are_told_in_runs_beside_variety() -> None:
    monday = date(2027, 2, 1)
    weeks = tuple(monday + timedelta(weeks=at) for at in (0, 1, 2, 5, 50))
    light = ShortShare("boxes", "weight", 4.0, weeks, 1)
    poor = ShortShare("boxes", "worth", 12.5, weeks[3:4], 0)
    heading, items = falling_short(["boxes: nothing leafy."], [light, poor], "€", BRITISH)
    assert heading == Heading("what boxes will fall short of")
    assert items == Items((
        "Boxes: nothing leafy.",
        "Boxes: under 4 kg is likely in 5 weeks of the first year (1 Feb to 15 Feb, the week of 8 Mar, the "
        "week of 17 Jan). In 1 of these weeks everything wished for comes to less: wish for more in it, or "
        "ask less.",
        "Boxes: worth less than €12.50 is likely in 1 week of the first year (the week of 8 Mar).",
    ))
    assert falling_short([], [], "€", BRITISH) == []
    _, only = falling_short([], [replace(light, wished_less=5)], "€", BRITISH)
    assert isinstance(only, Items)
    assert only.entries[0].endswith(". Everything wished for comes to less then: wish for more, or ask less.")
    (_, imperial) = falling_short([], [light], "€", AMERICAN)
    assert isinstance(imperial, Items)
    assert imperial.entries[0].startswith("Boxes: under 8.82 lb is likely in 5 weeks")


def test_takings_say_what_they_are_not() -> None:
    blocks = takings_told(invented.PLAN.takings, "€")
    said = " ".join(block.text for block in blocks if isinstance(block, Text))
    for needed in ("picked and wanted", "at the prices given", "costs are not taken off",
                   "local rules for it come first", "boxes: without a price", "peas, leeks"):
        assert needed in said
    year, months = (block for block in blocks if isinstance(block, Table))
    assert year.rows[0] == ("boxes", "€5,200", "€6,500", "€7,000")
    assert year.rows[2][0] == "all together"
    assert months.rows == (("February 2027", "€9.40", "€0", "€9.40"), ("March 2027", "€120", "€3.40", "€120"))
    assert takings_told((), "€") == []
    assert blocks[0] == Heading("what it would bring")


def test_months_that_bring_nothing_are_left_out() -> None:
    january = date(2027, 1, 1), 0.0
    takings = [replace(one, months=(january, *one.months)) for one in invented.PLAN.takings]
    _, months = (block for block in takings_told(takings, "€") if isinstance(block, Table))
    assert [row[0] for row in months.rows] == ["February 2027", "March 2027"]
