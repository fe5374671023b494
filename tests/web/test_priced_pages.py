"""Prices and shares on the pages. INVENTED garden, farms and plan."""

from __future__ import annotations

import html
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path

import invented
import pytest
from fastapi.testclient import TestClient
from invented_farms import FILE, answer_of, written
from served_garden import DAY, GARDEN, HERE, plan_for

from evenpick.service.cooperative import save_cooperative
from evenpick.service.store_plan import save_plan
from evenpick.web.app import app_together, create_app
from evenpick.web.together import served_together

PRICED = GARDEN.replace("shares = 4", 'shares = 4\nweight = "120 g"\nworth = 1.5').replace(
    'each_week = "100 g"', 'each_week = "100 g"\nprice = "10 per kg"').replace(
    'each_week = "500 g"', 'each_week = "500 g"\nprice = "4 per kg"') + '[words]\nmoney = "€"\n'
ON = date(2027, 4, 26)
SAID = "boxes, one share: about 48 g of 120 g, worth about €0.48 of €1.50."
"""0.48 kg likely of 1 kg wanted (invented.RISING, week 12), 0.4 kg of it by four boxes: 48 g each, at 10 a
kg"""


@pytest.fixture
def client(tmp_path: Path) -> Iterator[TestClient]:
    path = tmp_path / "garden.toml"
    path.write_text(PRICED, encoding="utf-8")
    save_plan(path, plan_for(PRICED))
    with TestClient(create_app(path, clock=lambda: DAY), base_url=HERE) as client:
        yield client


def seen(client: TestClient, path: str) -> str:
    answer = client.get(path, headers={"accept": "text/html"})
    assert answer.status_code == 200, path
    return html.unescape(answer.text)


@pytest.mark.parametrize("path", [f"/?on={ON}", f"/pickings?on={ON}"])
def test_what_a_box_comes_to_stands_under_the_picking_list(client: TestClient, path: str) -> None:
    page = seen(client, path)
    assert SAID in page
    assert "kitchen, one share" not in page  # it promises nothing and has no price


def test_the_weeks_ahead_have_it_too(client: TestClient) -> None:
    assert seen(client, f"/pickings?on={ON}&weeks=3").count("boxes, one share: about") == 2 + 3


def test_the_plan_tells_what_falls_short_and_what_it_would_bring(client: TestClient) -> None:
    page = seen(client, "/plan")
    assert '<h2 id="what-boxes-will-fall-short-of">' in page
    assert "Boxes: under 4 kg is likely in 6 weeks" in page
    assert '<h2 id="what-it-would-bring">' in page
    assert "costs are not taken off" in page
    assert "local rules for it come first" in page
    assert "€6,500" in page


def test_other_programs_get_the_figures(client: TestClient) -> None:
    share = client.get(f"/api/pickings?on={ON}&weeks=1").json()["shares"]
    assert share == [{"week": "2027-04-26", "outlet": "boxes", "kg": 0.048, "least_kg": 0.12, "worth": 0.48,
                      "least_worth": 1.5, "unpriced": False, "money": "€"}]
    assert client.get("/api/plan").json()["takings"][0]["outlet"] == "boxes"


def test_a_cooperatives_pages_tell_it_of_all_farms(tmp_path: Path) -> None:
    """Four boxes of 0.25 kg salad leaves; 0.48 kg is likely of the 1 kg that they want: 120 g each. Its pages
    are in pounds and ounces: 240 g / 28.35 g is 8.47 oz, 120 g 4.2 oz."""
    boxes = ('[[outlet]]\nname = "boxes"\nkind = "boxes"\nshares = 4\nweight = "240 g"\n[[wish]]\n'
             'item = "salad leaves"\ncrops = ["rocket"]\neach_week = "250 g"\nprice = "10 per kg"\n')
    text = FILE.split("[[wish]]")[0].replace('units = "imperial"', 'units = "imperial"\nmoney = "kr"') + boxes
    file = written(tmp_path, text)
    plan = invented.PLAN
    save_cooperative(file, replace(answer_of(file), money="kr", takings=plan.takings,
                                   short_shares=plan.short_shares))
    about = served_together(file, (8430, 8431, 8432), False, lambda: ON)
    client = TestClient(app_together(about, ["127.0.0.1"]), base_url=HERE)
    said = "boxes, one share: about 4.2 oz of 8.47 oz, worth about 1.20 kr."
    assert said in seen(client, "/")
    assert said in seen(client, "/pickings")
    assert client.get("/api/pickings?weeks=1").json()["shares"][0]["worth"] == 1.2
    page, shape = seen(client, "/plan"), client.get("/api/plan").json()
    assert page.count('<h2 id="what-it-would-bring">') == 1
    assert "6,500 kr" in page
    assert "Boxes: worth less than 12.50 kr is likely in 1 week" in page
    assert [each["outlet"] for each in shape["takings"]] == ["boxes", "stall", None]
    assert shape["money"] == "kr"
    assert "takings" not in shape["farms"][0]
