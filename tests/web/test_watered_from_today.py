"""A bed is ticked off where it is told, with one press."""

from __future__ import annotations

from served_garden import DRILL, Place

from evenpick.garden.diary import Watered, new_id
from evenpick.service.book import record_of


def test_watered_on_today_comes_back_to_today(grown: Place) -> None:
    identity = new_id()
    answer = grown.client.post(f"/water/{DRILL}", data={"token": grown.token, "id": identity, "back": "/"})
    assert (answer.status_code, answer.headers["location"]) == (303, f"/?kept={identity}")
    assert any(entry.id == identity and entry.fact == Watered(DRILL)
               for entry in record_of(grown.garden).entries)
    page = grown.client.get(answer.headers["location"]).text
    assert "Kept:" in page
    assert f'id="undo-{identity}"' in page


def test_it_comes_back_to_no_other_place(grown: Place) -> None:
    sent = {"token": grown.token, "id": new_id(), "back": "//elsewhere.example"}
    assert grown.client.post(f"/water/{DRILL}", data=sent).status_code == 422
