"""A form's address opened by itself, a drill that can't be, a line sent after the session's end: nothing
is lost and no page is a dead end, also where no script runs."""

from __future__ import annotations

import html
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from fastapi.testclient import TestClient
from served_garden import DAY, GARDEN, Place

from evenpick.garden.diary import new_id
from evenpick.web.app import create_app
from evenpick.web.keys import keys_of, set_passphrase


@pytest.mark.parametrize(("path", "page"), [
    ("/jobs", "/"), ("/jobs/undo", "/"), ("/diary/undo", "/diary"), ("/tin/left", "/tin"),
    ("/lessons/anew", "/lessons"), ("/work/stop", "/work"),
])
def test_the_address_of_a_form_leads_to_its_page(place: Place, path: str, page: str) -> None:
    """'That can't be done here' and a status of 405 met who reloaded after an answer was refused."""
    answer = place.client.get(path, headers={"accept": "text/html"})
    assert (answer.status_code, answer.headers["location"]) == (303, page)


def test_what_is_no_form_is_no_page(place: Place) -> None:
    assert place.client.get("/jobs/nonsense", headers={"accept": "text/html"}).status_code == 404
    assert place.client.get("/jobs", headers={"accept": "application/json"}).status_code == 405


@pytest.mark.parametrize(("typed", "why"), [
    ({"crop": "plumcot", "sow": "2027-02-03"}, "'plumcot' is not in the catalogue"),
    ({"crop": "radish", "sow": "2020-01-01"}, "is not in the season"),
    ({"crop": "radish", "sow": "soon"}, "'soon' is not a date"),
    ({"crop": "radish", "soil": "peat"}, "there is no soil 'peat'"),
    ({"crop": "radish", "cover": "roof"}, "'roof' is no cover"),
])
def test_a_drill_that_cannot_be_is_mended_where_it_stands(
    grown: Place, typed: dict[str, str], why: str
) -> None:
    answer = grown.client.get("/water", params=typed)
    page = html.unescape(answer.text)
    assert 400 <= answer.status_code < 500
    assert why in page
    assert f'value="{typed["crop"]}"' in page
    assert f'name="sow" value="{typed.get("sow", DAY.isoformat())}"' in page
    assert 'action="/water"' in page


@pytest.fixture
def signed_out(tmp_path: Path) -> Iterator[TestClient]:
    path = tmp_path / "garden.toml"
    path.write_text(GARDEN, encoding="utf-8")
    set_passphrase(keys_of(path), "slow worm garden")
    with TestClient(create_app(path, ("house",), sessions=True, clock=lambda: DAY),
                    base_url="https://house", follow_redirects=False) as client:
        yield client


def test_a_line_sent_after_the_sessions_end_is_not_lost(signed_out: TestClient) -> None:
    line = 'slugs took "half" the <rocket> & more'
    sent = {"line": line, "day": "2027-02-01", "id": new_id(), "token": "old"}
    refused = signed_out.post("/diary", data=sent, headers={"accept": "text/html"})
    assert refused.status_code == 401
    assert "<rocket>" not in refused.text
    carried = {name: html.unescape(text) for name, text in re.findall(
        r'type="hidden" name="(\w+)" value="([^"]*)"', refused.text)}
    assert carried["line"] == line
    wrong = signed_out.post("/enter", data={**carried, "passphrase": "no such"})
    assert html.escape(line, quote=False).split()[-1] in wrong.text
    signed_in = signed_out.post("/enter", data={**carried, "passphrase": "slow worm garden"})
    assert signed_in.status_code == 303
    there = signed_out.get(signed_in.headers["location"])
    assert line in html.unescape(there.text)
    assert 'name="day" value="2027-02-01"' in there.text


def test_what_else_was_sent_is_refused_as_before(signed_out: TestClient) -> None:
    refused = signed_out.post("/jobs", data={"job": "x"}, headers={"accept": "text/html"})
    assert (refused.status_code, "passphrase\" name" in refused.text) == (401, False)
