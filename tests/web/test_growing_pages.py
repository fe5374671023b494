"""After a loss, water and lessons, as pages and as JSON: what is asked for is on them, with its why."""

from __future__ import annotations

import html
import json
import re
from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
from invented import BRITISH
from served_garden import DAY, DRILL, LOST, TAUGHT, Place

from evenpick.base.days import day_number
from evenpick.garden.diary import Answered, Entry, LeftOut, Lost, Picked, Reading, Sowed, Watered, new_id
from evenpick.report.as_json import as_text
from evenpick.report.kept_json import after_loss_shape, lessons_shape, losses_shape
from evenpick.report.water import water_shape
from evenpick.report.watering import watering_shape
from evenpick.service.after_loss import after_loss
from evenpick.service.book import keep, record_of
from evenpick.service.lessons import lessons
from evenpick.service.losses import losses
from evenpick.service.packed import packed
from evenpick.service.pickings_answer import Brought
from evenpick.service.store_plan import save_plan, saved_plan
from evenpick.service.water import CAUTIONS, water
from evenpick.service.watering import water_sown, watering
from evenpick.service.where import garden_site


def facts(place: Place, kind: type) -> list[object]:
    return [entry.fact for entry in record_of(place.garden).entries if isinstance(entry.fact, kind)]


def test_the_api_answers_as_the_command_line(grown: Place) -> None:
    garden = grown.garden
    carrot = water(*garden_site(garden), "carrot", DAY, DAY)
    wanted = {
        "/api/losses": losses_shape(losses(garden, DAY), BRITISH),
        f"/api/losses/{LOST}": {**after_loss_shape(after_loss(garden, LOST, DAY), BRITISH), "command": ""},
        "/api/watering": watering_shape(watering(garden, DAY), BRITISH),
        f"/api/watering/{DRILL}": water_shape(water_sown(garden, DRILL, DAY), BRITISH),
        "/api/water?crop=carrot&sow=2027-02-03": water_shape(carrot, BRITISH),
        "/api/lessons": lessons_shape(lessons(garden, DAY), BRITISH),
    }
    for path, shape in wanted.items():
        answer = grown.client.get(path)
        assert answer.status_code == 200, path
        assert answer.json() == json.loads(as_text(shape)), path


def test_a_loss_written_down_leads_to_what_can_fill_it(grown: Place) -> None:
    """One press from the diary, and one from Today."""
    sent = {"token": grown.token, "id": new_id(), "line": "slugs took all the lettuce", "step": "keep",
            "day": DAY.isoformat()}
    page = grown.client.post("/diary", data=sent)
    assert page.status_code == 303, re.sub("<[^>]+>", " ", page.text)
    assert len(facts(grown, Lost)) == 2
    kept = grown.client.get(page.headers["location"]).text
    assert f'href="/losses/{DRILL}"' in kept
    assert f'href="/losses/{LOST}"' not in kept
    today = grown.client.get("/").text
    assert today.index("To do this week") < today.index(f'href="/losses/{LOST}"') < today.index("To pick")


def test_after_a_loss_the_answer_comes_first_and_every_number_has_its_why(grown: Place) -> None:
    page, answer = grown.client.get(f"/losses/{LOST}").text, after_loss(grown.garden, LOST, DAY)
    said = html.escape(answer.words[0].upper() + answer.words[1:])
    assert said in page
    assert "50 % of it" in page
    fillings = [*answer.fillings, *answer.instead, *answer.besides]
    assert page.count('href="/why?') == len(fillings)
    assert page.index(said) < page.index("Mend the plan")
    if answer.weeks:
        assert page.index("Mend the plan") < page.index("Weeks it leaves bare")


def test_a_plan_is_mended_from_the_page(grown: Place, monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[bool] = []
    work = grown.app.state.served.work
    monkeypatch.setattr(work, "start", lambda seconds=None, mend=False: asked.append(mend))
    grown.client.post("/work", data={"token": grown.token, "mend": "1"})
    grown.client.post("/work", data={"token": grown.token})
    assert asked == [True, False]


@pytest.mark.parametrize("path", [
    f"/losses/{DRILL}", "/losses/none", f"/water/{TAUGHT}", f"/sown/{'0' * 32}", "/water?on=tomorrow",
    "/water?crop=gold&sow=2027-03-01", "/water?crop=carrot&sow=2027-03-01&soil=x",
    "/water?crop=carrot&sow=2020-03-01",
])
def test_what_is_not_there_is_told_with_its_remedy(grown: Place, path: str) -> None:
    answer = grown.client.get(path, headers={"accept": "text/html"})
    assert answer.status_code in (400, 404, 422), answer.status_code
    assert "That could not be done" in answer.text
    assert "--" not in re.sub("<[^>]+>", " ", answer.text)  # a command's option is no help on a page


def test_water_is_told_first_with_its_caution_and_ticked_once(grown: Place) -> None:
    page = grown.client.get("/water?on=2027-04-10").text
    assert all(html.escape(caution) in page for caution in CAUTIONS)
    assert f'href="/water/{DRILL}"' in page
    assert "What each step is worth" in grown.client.get(f"/water/{DRILL}").text
    sent = {"token": grown.token, "id": new_id(), "day": DAY.isoformat()}
    for _ in range(3):
        assert grown.client.post(f"/water/{DRILL}", data=sent).status_code == 303
    assert facts(grown, Watered) == [Watered(DRILL)]
    assert "Watered today" in grown.client.get("/water").text
    undo = {"token": grown.token, "id": new_id(), "entry": record_of(grown.garden).entries[-1].id}
    assert grown.client.post("/diary/undo", data=undo).status_code == 303


def test_a_watering_answers_the_job_of_today(grown: Place) -> None:
    day, number = "2027-05-12", day_number(date(2027, 5, 12))
    keep(grown.garden, [Entry(new_id(), number - 3, Sowed("early-carrot", "direct", "open", 3.0)),
                        *(Entry(new_id(), number - ago, Reading(tmax=26.0, rain=0.0)) for ago in range(6))])
    jobs = grown.client.get(f"/api/today?on={day}").json()["jobs"]
    job = next(job for job in jobs if job["kind"] == "water")
    page = grown.client.get(f"/water?on={day}").text
    assert page.index("Water today") < page.index(f'action="/water/{job["diary"]}"')
    sent = {"token": grown.token, "id": new_id(), "day": day}
    for _ in range(2):
        assert grown.client.post(f"/water/{job['diary']}", data=sent).status_code == 303
    assert facts(grown, Answered) == [Answered(job["job"], "done", None, record_of(grown.garden).answers[
        job["job"]].wrote)]
    assert facts(grown, Watered) == [Watered(job["diary"])]
    left = grown.client.get(f"/api/today?on={day}").json()["jobs"]
    assert job["job"] not in {each["job"] for each in left}


def test_a_sowing_is_left_out_of_the_lessons_and_undone(grown: Place) -> None:
    assert "Rocket" in grown.client.get("/lessons").text
    sent = {"token": grown.token, "id": new_id(), "sowing": TAUGHT}
    for _ in range(2):
        assert grown.client.post("/lessons/leave-out", data=sent).status_code == 303
    assert facts(grown, LeftOut) == [LeftOut(TAUGHT)]
    assert "1 sowing left out on your word" in grown.client.get("/lessons").text
    grown.client.post("/diary/undo", data={"token": grown.token, "id": new_id(), "entry": sent["id"]})
    assert f'href="/sown/{TAUGHT}"' in grown.client.get("/lessons").text
    anew = {"token": grown.token, "id": new_id(), "crop": "Rocket"}
    assert grown.client.post("/lessons/anew", data=anew).status_code == 303
    assert f'href="/sown/{TAUGHT}"' not in grown.client.get("/lessons").text


def test_a_sowings_page_has_its_days_and_its_entries(grown: Place) -> None:
    page = grown.client.get(f"/sown/{LOST}").text
    assert "First picked" in page
    assert "50 % of it lost" in page
    assert f'href="/losses/{LOST}"' in page
    assert len(re.findall(r"<li><b>\d+ (?:Jan|Feb) 2027</b>", page)) == 2


def test_of_two_sowings_alike_one_is_marked_as_made(place: Place) -> None:
    """Both are within ten days of what was sown, which carries out one of them (record.md, R8)."""
    plan = saved_plan(place.garden)
    assert plan is not None
    first = next(one for one in plan.sowings if one.crop == "rocket")
    second = replace(first, id=f"{first.id}.again", number=99, sow=first.sow + timedelta(days=7))
    save_plan(place.garden, replace(plan, sowings=(first, second)))
    made = Sowed("rocket", first.way, first.cover, 2.0)
    keep(place.garden, [Entry(new_id(), day_number(first.sow) + 2, made)])
    page = place.client.get("/sowings").text
    assert page.count('data-head="word">made<') == 1
    assert page.count('data-head="word"><') == 1


def test_what_was_lost_is_promised_on_no_page(place: Place) -> None:
    """Rocket that the plan counts on for a bunch in each of ten weeks of every year, sown and lost."""
    plan, name = saved_plan(place.garden), "rocket.direct.tunnel.2027-02-06"
    assert plan is not None
    year, week = (each.ravel() for each in np.meshgrid(np.arange(plan.made_from.years), np.arange(9, 19)))
    entries = packed(year, week, week, np.full(year.size, 0.5))
    save_plan(place.garden, replace(plan, brought=(Brought(name, "salad leaves", entries),)))
    on = date(2027, 4, 14)
    before = picked_pages(place, on)
    sowing = Entry(new_id(), day_number(DAY), Sowed("rocket", "direct", "tunnel", 1.2, planned=name))
    keep(place.garden, [sowing, Entry(new_id(), day_number(DAY), Lost(sowing.id, "eaten", 1.0))])
    after = picked_pages(place, on)
    for page in ("today", "pickings", "api"):
        assert "loss of Rocket" not in before[page]
        assert "loss of Rocket" in after[page]
    assert [json.loads(pages["api"])["pickings"][0]["weeks"][0]["likely"] > 0
            for pages in (before, after)] == [True, False]
    assert before["address"] != after["address"]  # a browser keeps a chart by its address
    assert before["chart"] != after["chart"]
    own = place.client.get(f"/sowings/{name}").text
    assert "It was lost." in own
    assert "First picked" not in own
    assert "What is to be expected" not in place.client.get(f"/sown/{sowing.id}").text


def picked_pages(place: Place, on: date) -> dict[str, str]:
    """All that tells of pickings, and the address of the chart."""
    ask = place.client.get
    pages = {"today": ask(f"/?on={on}").text, "pickings": ask(f"/pickings?on={on}&weeks=1").text,
             "api": ask(f"/api/pickings?on={on}&weeks=1").text}
    (address,) = re.findall(r'src="(/charts/year-wide\.svg\?[^"]*)"', pages["pickings"])
    return {**pages, "address": address, "chart": ask(html.unescape(address)).text}


@pytest.mark.parametrize(
    ("units", "unit", "kg"), [("metric", "kg", 0.4), ("imperial", "lb", 0.4 * 0.45359237)])
def test_a_picking_is_weighed_with_the_keys_of_a_telephone(
    grown: Place, units: str, unit: str, kg: float
) -> None:
    """Which have digits and a comma or a point, and no letters."""
    text = grown.garden.read_text(encoding="utf-8")
    grown.garden.write_text(f'{text}[words]\nunits = "{units}"\n', encoding="utf-8")
    on = "2027-04-24"
    page = grown.client.get(f"/?on={on}").text
    job = re.search(r'name="job" value="(pick:[^"]+)"', page)
    assert job is not None
    assert re.search(rf'name="weight"[^>]*> {unit}</label>', page)
    sent = {"token": grown.token, "id": new_id(), "job": job[1], "answer": "done", "day": on, "weight": "0,4"}
    told = grown.client.post("/jobs", data=sent)
    assert told.status_code == 303, re.sub("<[^>]+>", " ", told.text)
    (picked,) = [fact for fact in facts(grown, Picked) if fact.kg != 9.0]  # what `grown_diary` wrote
    assert picked.kg == pytest.approx(kg)
