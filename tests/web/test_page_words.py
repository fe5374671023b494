"""What pages say and take: amounts as growers give them, ways out that are pages, units, names of buttons."""

from __future__ import annotations

import html
import re
from collections import Counter
from dataclasses import replace
from datetime import date, timedelta
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import invented
import pytest
from fastapi.testclient import TestClient
from served_garden import DAY, GARDEN, HERE, Place, plan_for

from evenpick.base.errors import Problem
from evenpick.garden.diary import Decided, new_id
from evenpick.service.book import record_of
from evenpick.service.store_plan import save_plan
from evenpick.web import serve
from evenpick.web.app import create_app
from evenpick.web.certificate import Names
from evenpick.web.keys import Patience, keys_of, set_passphrase
from evenpick.web.problems import on_a_page

PEOPLE = {"accept": "text/html"}


def words(page: str) -> str:
    return " ".join(html.unescape(re.sub("<[^>]+>", " ", page)).split())


@pytest.mark.parametrize(("typed", "m2"), [
    ("2 m²", 2.0), ("4 m", 1.0), ("12 plants", 0.15), ("20 ft", 1.524), ("10 m x 0.1 m", 1.0),
])
def test_a_sowing_is_fixed_at_ground_row_or_plants(place: Place, typed: str, m2: float) -> None:
    """Rocket stands 5 cm apart in rows 25 cm apart."""
    name = "rocket.direct.tunnel.2027-02-06"
    sent = {"token": place.token, "id": new_id(), "decision": "fixed", "area": typed, "step": "only"}
    assert place.client.post(f"/sowings/{name}", data=sent).status_code == 303
    (fact,) = (e.fact for e in record_of(place.garden).entries if isinstance(e.fact, Decided))
    assert fact.area == pytest.approx(m2)


@pytest.mark.parametrize("typed", ["12", "many", "0 plants", "3 handfuls"])
def test_an_amount_that_is_none_is_refused_with_those_that_are(place: Place, typed: str) -> None:
    sent = {"token": place.token, "id": new_id(), "decision": "fixed", "area": typed, "step": "only"}
    told = place.client.post("/sowings/rocket.direct.tunnel.2027-02-06", data=sent)
    assert told.status_code == 400
    assert not [e for e in record_of(place.garden).entries if isinstance(e.fact, Decided)]


@pytest.mark.parametrize("path", ["/", "/diary", "/tin", "/when", "/month", "/pickings", "/water", "/ground"])
def test_before_there_is_a_garden_every_page_leads_to_beginning(empty: Place, path: str) -> None:
    told = empty.client.get(path, headers={"accept": "text/html"})
    assert (told.status_code, told.headers["location"]) == (303, "/begin")


def test_a_remedy_of_the_terminal_is_told_as_a_page() -> None:
    for mend in ("Make one with: evenpick plan", "See the last ones, with their ids: evenpick log",
                 "Undo it first. See the tin: evenpick tin left"):
        told = on_a_page(Problem("something.", mend)).mend
        assert "evenpick" not in told
        assert told.endswith(".")
    kept = Problem("damaged.", "See what can be saved: evenpick check --rescue")
    assert on_a_page(kept) is kept  # no page does that


def test_a_number_that_is_none_is_told_in_plain_words(place: Place) -> None:
    page = place.client.get("/pickings?weeks=abc", headers=PEOPLE)
    assert page.status_code == 422
    told = words(page.text)
    assert "'abc' is not a number. Write a whole number" in told
    assert "valid integer" not in told
    assert "openapi" not in told
    program = place.client.get("/pickings?weeks=abc", headers={"accept": "application/json"}).text
    assert "valid integer" in program
    assert "Give 104 at most" in words(place.client.get("/pickings?weeks=500", headers=PEOPLE).text)


def test_what_is_to_be_done_is_said_in_words(grown: Place) -> None:
    page = words(grown.client.get("/?on=2027-02-18").text)
    assert re.search(r"Look for (?:Rocket|Leaf lettuce)", page)
    assert "Look Leaf" not in page


@pytest.mark.parametrize(
    "path", ["/?on=2027-02-18", "/?on=2027-04-24", "/water?on=2027-02-04", "/tin", "/diary"])
def test_no_two_buttons_have_one_name(grown: Place, path: str) -> None:
    found = Buttons()
    found.feed(grown.client.get(path).text)
    assert found.names
    assert not [name for name, times in Counter(found.names).items() if times > 1]


class Buttons(HTMLParser):
    """What a screen reader calls each button."""

    def __init__(self) -> None:
        super().__init__()
        self.names: list[str] = []
        self._inside = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag == "button":
            label = dict(attrs).get("aria-label")
            self.names.append(label or "")
            self._inside = label is None

    def handle_endtag(self, tag: str) -> None:
        self._inside = self._inside and tag != "button"

    def handle_data(self, data: str) -> None:
        if self._inside:
            self.names[-1] += data


def test_of_bunches_there_are_no_bunchs(grown: Place) -> None:
    sent = {"token": grown.token, "id": new_id(), "line": "picked 3 rocket", "step": "read"}
    page = grown.client.post("/diary", data=sent).text
    assert "bunches" in page
    assert "bunchs" not in page


def test_imperial_pages_keep_no_metric_unit(grown: Place) -> None:
    text = grown.garden.read_text(encoding="utf-8")
    grown.garden.write_text(f'{text}[words]\nunits = "imperial"\n', encoding="utf-8")
    water = words(grown.client.get("/water").text)
    assert re.search(r"minimum [+-][\d.]+ °F", water)
    assert "°C" not in water
    sent = {"token": grown.token, "id": new_id(), "line": "some rain", "step": "read"}
    asked = words(grown.client.post("/diary", data=sent).text)
    assert "How much rain?" in asked
    assert "such as 0.2 in" in asked


def test_today_opens_with_how_much_there_is_to_do_and_to_pick(place: Place) -> None:
    """What to pick lay four screens down, under the jobs."""
    page = place.client.get("/").text
    opening = page[page.index("</h1>") : page.index('id="to-do"')]
    assert re.search(r'<a href="#to-do">\d+ jobs? this week', opening)


def test_a_job_on_its_last_day_is_not_told_to_wait_until_that_day(place: Place) -> None:
    """'3 Jul; can wait to 3 Jul' stood under a watering."""
    assert "; can wait to 19 Feb." in place.client.get("/?on=2027-02-18").text
    page = place.client.get("/?on=2027-02-19").text
    assert "; can’t wait." in page
    assert "can wait to 19 Feb" not in page


def test_the_diarys_days_are_told_as_everywhere(grown: Place) -> None:
    """They stood there as 2027-02-03."""
    said = words(grown.client.get("/diary").text)
    assert "3 Feb 2027" in said
    assert not re.search(r"20\d\d-\d\d-\d\d", said)


def test_sowings_begin_with_what_is_to_come(place: Place, monkeypatch: pytest.MonkeyPatch) -> None:
    page = place.client.get("/sowings").text
    assert "<details>" not in page
    monkeypatch.setattr("evenpick.web.served.Served.clock", lambda self: date(2027, 4, 10))
    later = place.client.get("/sowings?x").text
    ahead, past = later.split("<details>")
    assert "planned before today" in past
    assert len(re.findall(r'href="/sowings/[^"]+"', ahead + past)) == len(
        re.findall(r'href="/sowings/[^"]+"', page))


def test_of_many_sowings_those_of_four_weeks_are_shown_and_the_rest_behind_their_months(place: Place) -> None:
    """A market garden's page was 20,000 px tall on a phone."""
    first = invented.PLAN.sowings[0]
    days = [DAY + timedelta(days=3 * n) for n in range(40)]
    many = tuple(replace(first, id=f"{first.id}.{n}", sow=day) for n, day in enumerate(days))
    save_plan(place.garden, replace(plan_for(GARDEN), sowings=many))
    shown, *months = place.client.get("/sowings").text.split('<details class="month">')
    linked = [re.findall(r'href="/sowings/([^"]+)"', part) for part in (shown, *months)]
    assert [len(part) for part in linked] == [10, 9, 10, 11]
    assert [name for part in linked for name in part] == [each.id for each in many]
    assert [re.sub("<.*?>", "", part.partition("</summary>")[0]) for part in months] == [
        "March 2027: 9 sowings", "April 2027: 10 sowings", "May 2027: 11 sowings"]


def test_todays_page_leads_to_writing_at_once(place: Place) -> None:
    """Below fifty jobs the form stood 8,000 px down."""
    page = place.client.get("/").text
    assert page.index('href="#write"') < page.index('id="to-do"') < page.index('id="write"')


def test_the_weeks_ahead_begin_after_those_listed(place: Place) -> None:
    """This week and the next were told twice on one page."""
    said = words(place.client.get("/pickings?on=2027-07-14").text)
    listed, _, ahead = said.partition("The weeks ahead")
    assert listed.count("in brackets a poor and a good year") == 1
    assert "Week of 26 Jul 2027" in ahead
    assert "Week of 12 Jul 2027" not in ahead


def test_the_ground_tells_each_sowing_once(place: Place) -> None:
    """A list of all sowings stood above the picture, and again with their stretches below it."""
    said = words(place.client.get("/ground").text)
    assert "What comes on it" not in said
    assert said.index("What goes where") < said.index("How full it will be") < said.index("What there is")


def test_before_signing_in_nobody_can_sign_out(garden: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    set_passphrase(keys_of(garden), "broad beans by the wall")
    app = create_app(garden, sessions=True, clock=lambda: DAY)
    with TestClient(app, base_url=HERE, follow_redirects=False) as client:
        page = client.get("/enter").text
        assert "Sign out" not in page
        monkeypatch.setattr(Patience, "guess", lambda *_: 0.2)
        token = re.search(r'name="token" value="([^"]+)"', page)
        assert token is not None
        sent = {"token": token[1], "passphrase": "x"}
        late = client.post("/enter", data=sent, headers={"accept": "text/html"})
        assert late.status_code == 429
        assert "Try again in 1 s." in late.text


@pytest.mark.allow_hosts(["127.0.0.1"])
def test_the_house_is_told_its_address_by_number_too(
    garden: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Phones that don't find names of the house network find that."""
    told: list[Any] = []
    monkeypatch.setattr(serve, "_run", lambda bound, ready, tls=None: ready())
    set_passphrase(keys_of(garden), "broad beans by the wall")
    serve.serve_house(garden, 0, lambda *said: told.extend(said), Names(("shed.local",), ("192.168.1.20",)))
    opened, numbers, _ = told
    port = opened[0].address.rsplit(":", 1)[1]
    assert opened[0].address.startswith("https://shed.local:")
    assert numbers == [f"https://192.168.1.20:{port}"]
