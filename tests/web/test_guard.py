"""Who may ask, from where, how much (docs/design/security.md; the numbers are its rules)."""

from __future__ import annotations

import stat
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from types import SimpleNamespace

import pytest
from fastapi.testclient import TestClient
from served_garden import DAY, HERE, Place

from evenpick.base.errors import BadRequest
from evenpick.garden.diary import new_id
from evenpick.service.book import record_of
from evenpick.web.app import create_app
from evenpick.web.guard import COOKIE, LARGEST
from evenpick.web.keys import (
    FREE_GUESSES,
    LONGEST_SESSION,
    Patience,
    _scrypt,
    folder,
    keys_of,
    set_passphrase,
)

PASSPHRASE = "broad beans by the wall"
SENT = {"line": "x", "step": "words"}


@pytest.mark.parametrize("host", ["evil.example", "127.0.0.1.evil.example", "", "evil.example:8430", "[::2]"])
def test_s1_another_name_is_refused(place: Place, host: str) -> None:
    for path in ("/", "/api/today", "/static/pages.css"):
        assert place.client.get(path, headers={"host": host}).status_code == 421


@pytest.mark.parametrize("headers", [
    {"origin": "http://evil.example"}, {"origin": "null"}, {"origin": "http://127.0.0.1:9999"},
    {"sec-fetch-site": "cross-site"}, {"sec-fetch-site": "same-site"}, {"origin": "http://[half"},
])
def test_s2_what_another_site_asks_is_refused(place: Place, headers: dict[str, str]) -> None:
    data = {**SENT, "token": place.token, "id": new_id()}
    assert place.client.post("/diary", data=data, headers=headers).status_code == 403
    assert place.client.post("/api/diary", json={"entries": []}, headers=headers).status_code == 403
    assert not record_of(place.garden).entries or all(
        entry.fact.kind == "set up" for entry in record_of(place.garden).entries)


def test_s2_the_own_origin_is_taken(place: Place) -> None:
    data = {**SENT, "token": place.token, "id": new_id()}
    assert place.client.post("/diary", data=data, headers={"origin": HERE}).status_code == 303


@pytest.mark.parametrize("token", ["", "0" * 64, "ä", "x" * 5000])
def test_s3_a_form_without_its_token_is_refused(place: Place, token: str) -> None:
    for path, data in (("/diary", SENT), ("/jobs", {"job": "sow:x", "answer": "done"}), ("/work", {}),
                       ("/work/stop", {}), ("/tin/left", {"packet": "x", "amount": "1 g"})):
        answer = place.client.post(path, data={**data, "token": token, "id": new_id()})
        assert answer.status_code == 403, path


def test_s3_a_page_outlives_the_program(place: Place) -> None:
    """The secret is kept beside the garden, for its owner's eyes alone."""
    again = create_app(place.garden, clock=lambda: DAY)
    with TestClient(again, base_url=HERE, follow_redirects=False) as client:
        sent = {**SENT, "token": place.token, "id": new_id()}
        assert client.post("/diary", data=sent).status_code == 303
    keys = folder(place.garden) / "keys.json"
    assert stat.S_IMODE(keys.stat().st_mode) == 0o600
    assert stat.S_IMODE(keys.parent.stat().st_mode) == 0o700


def test_s4_too_much_at_once_is_refused(place: Place) -> None:
    big = b"x" * (LARGEST + 1)
    kind = {"content-type": "application/json"}
    assert place.client.post("/api/diary", content=big, headers=kind).status_code == 413
    untold = place.client.post("/api/diary", content=iter([big]), headers=kind)
    assert untold.status_code == 413
    less = {**kind, "content-length": "-1"}
    assert place.client.post("/api/diary", content=b"{}", headers=less).status_code == 413


def test_s8_pages_may_load_nothing_from_elsewhere(place: Place) -> None:
    for path in ("/", "/nowhere", "/api/today"):
        head = place.client.get(path).headers
        assert "default-src 'none'" in head["content-security-policy"]
        assert "frame-ancestors 'none'" in head["content-security-policy"]
        assert head["x-content-type-options"] == "nosniff"
        assert "access-control-allow-origin" not in head


@pytest.fixture
def house(garden: Path) -> TestClient:
    """Served to the house network: https, another name, a passphrase."""
    set_passphrase(keys_of(garden), PASSPHRASE)
    app = create_app(garden, ["shed.local"], sessions=True, clock=lambda: DAY)
    return TestClient(app, base_url="https://shed.local:8430", follow_redirects=False)


def test_s5_nothing_is_told_before_signing_in(house: TestClient) -> None:
    page = house.get("/", headers={"accept": "text/html"})
    assert (page.status_code, page.headers["location"]) == (303, "/enter")
    for path in ("/", "/pickings", "/api/today", "/api/openapi.json", "/token", "/charts/year-wide.svg"):
        assert house.get(path, headers={"accept": "*/*"}).status_code == 401, path
    assert house.post("/diary", data=SENT, headers={"accept": "text/html"}).status_code == 401
    entrance = house.get("/enter").text
    assert "Testham" not in entrance
    assert house.get("/", headers={"host": "127.0.0.1"}).status_code == 421


def enter(house: TestClient, passphrase: str) -> int:
    token = house.get("/enter").text.split('name="token" value="')[1][:64]
    return house.post("/enter", data={"token": token, "passphrase": passphrase}).status_code


def test_s5_the_passphrase_opens_a_session(house: TestClient) -> None:
    assert enter(house, PASSPHRASE) == 303
    assert house.get("/").status_code == 200
    token = house.get("/token").json()["token"]
    assert house.post("/leave", data={"token": token}).status_code == 303
    assert house.get("/", headers={"accept": "*/*"}).status_code == 401


def test_s5_the_cookie_is_for_this_server_alone(house: TestClient) -> None:
    token = house.get("/enter").text.split('name="token" value="')[1][:64]
    said = house.post("/enter", data={"token": token, "passphrase": PASSPHRASE}).headers["set-cookie"].lower()
    assert all(word in said for word in ("httponly", "secure", "samesite=strict", "path=/"))
    assert "domain" not in said


def test_s6_guessing_is_slowed(house: TestClient) -> None:
    for _ in range(FREE_GUESSES):
        assert enter(house, "wrong wrong") == 401
    assert enter(house, PASSPHRASE) == 429  # even the right one waits


def test_s6_guesses_sent_at_once_are_no_more_than_one_after_the_other(
    house: TestClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    tried, scrypt = [], _scrypt

    def slow(passphrase: str, salt: bytes) -> bytes:
        tried.append(passphrase)
        time.sleep(0.3)  # all are there before the first is found wrong
        return scrypt(passphrase, salt)

    monkeypatch.setattr("evenpick.web.keys._scrypt", slow)
    monkeypatch.setattr("evenpick.web.pages.signing.time", SimpleNamespace(monotonic=lambda: 5.0))
    with ThreadPoolExecutor(12) as pool:
        told = list(pool.map(lambda n: enter(house, f"wrong wrong {n}"), range(12)))
    assert sorted(told) == [401] * FREE_GUESSES + [429] * (12 - FREE_GUESSES)
    assert len(tried) == FREE_GUESSES


def test_s6_the_right_one_takes_its_own_guess_back(house: TestClient) -> None:
    for _ in range(FREE_GUESSES + 1):
        assert enter(house, PASSPHRASE) == 303
    for _ in range(FREE_GUESSES):
        assert enter(house, "wrong wrong") == 401


def test_s6_waits_double_up_to_a_bound() -> None:
    patience = Patience()
    waits = []
    for _ in range(20):
        patience.failed("here", 0.0)
        waits.append(patience.wait("here", 0.0))
    assert waits[:6] == [0.0, 0.0, 1.0, 2.0, 4.0, 8.0]
    assert waits[-1] == 300.0
    assert patience.wait("there", 0.0) == 0.0
    patience.succeeded("here")
    assert patience.wait("here", 0.0) == 0.0


def test_s5_sessions_end_and_can_not_be_made_up(garden: Path) -> None:
    keys = keys_of(garden)
    cookie = keys.new_session(now=1000.0)
    assert keys.session_holds(cookie, now=1000.0 + LONGEST_SESSION - 1)
    assert not keys.session_holds(cookie, now=1000.0 + LONGEST_SESSION + 1)
    ends, rest = cookie.split(".", 1)
    for forged in (f"{int(ends) + 1}.{rest}", cookie[:-1] + "x", "", ".", "a.b.c", "9" * 5000, "²." + rest):
        assert not keys.session_holds(forged, now=1000.0)
    again = set_passphrase(keys, PASSPHRASE)
    assert not again.session_holds(cookie, now=1000.0)  # a new passphrase signs everybody out
    assert again.opens(PASSPHRASE)
    assert not again.opens(PASSPHRASE + "x")
    assert not keys.opens("")
    with pytest.raises(BadRequest, match="short"):
        set_passphrase(keys, "beans")


def test_s5_a_forged_cookie_opens_nothing(house: TestClient) -> None:
    for value in (b"x", b"9999999999.a.b", b'"', b"a=b; c", "é".encode()):
        answer = house.get("/api/today", headers={b"cookie": COOKIE.encode() + b"=" + value})
        assert answer.status_code == 401
