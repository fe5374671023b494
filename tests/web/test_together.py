"""A cooperative as it is served: its pages, each farm's at a port of its own. Invented farms and plans."""

from __future__ import annotations

import re
import signal
import subprocess
import sys
import urllib.parse
import urllib.request
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import invented
import pytest
from fastapi.testclient import TestClient
from invented_farms import FARM, FILE, answer_of, written
from served_garden import HERE

from evenpick.garden.diary import Sowed
from evenpick.service.book import record_of, write
from evenpick.service.cooperative import save_cooperative
from evenpick.web.app import app_of, app_together
from evenpick.web.keys import FREE_GUESSES, keys_of, set_passphrase
from evenpick.web.together import served_together
from spoilt import spoil

DAY = min(sowing.sow for sowing in invented.PLAN.sowings)
PORTS = (8430, 8431, 8432)
PASSPHRASE = "broad beans by the wall"
HOUSE = "https://shed.local:8430"


@dataclass(frozen=True)
class Farms:
    """A served cooperative: its file, a client on its own pages and one on the hill's."""

    file: Path
    together: TestClient
    hill: TestClient


def begin(file: Path, sessions: bool = False, clock: Callable[[], date] = lambda: DAY) -> Farms:
    about = served_together(file, PORTS, sessions, clock)
    hill = about.farms[file.with_name("hill.toml")]
    address, names = (HOUSE, ["shed.local"]) if sessions else (HERE, ["127.0.0.1"])
    return Farms(file, *(
        TestClient(app, base_url=address.replace("8430", str(port)), follow_redirects=False)
        for app, port in ((app_together(about, names), PORTS[0]), (app_of(hill, names), PORTS[2]))
    ))


@pytest.fixture
def farms(tmp_path: Path) -> Farms:
    file = written(tmp_path)
    save_cooperative(file, answer_of(file))
    return begin(file)


def seen(client: TestClient, path: str) -> str:
    answer = client.get(path, headers={"accept": "text/html"})
    assert answer.status_code == 200, path
    return answer.text


@pytest.mark.parametrize("path", ["/", "/ground"])
def test_each_farm_is_told_of_and_leads_to_its_own_pages(farms: Farms, path: str) -> None:
    page = seen(farms.together, path)
    assert re.findall(r'<h2 id="farm-\d">(\w+)</h2>', page) == ["valley", "hill"]
    for port in PORTS[1:]:
        assert f'href="http://127.0.0.1:{port}/"' in page


def test_today_tells_what_all_pick_and_what_each_does(farms: Farms) -> None:
    page = seen(farms.together, "/")
    assert "This week: to pick, on all farms" in page
    assert invented.PLAN.pickings[0].item in page
    sown = next(sowing for sowing in invented.PLAN.sowings if sowing.sow == DAY)
    assert page.count(f"{sown.name}") >= 2  # once a farm
    assert "evenpick today" not in page  # the pages need no commands
    before = seen(farms.together, f"/?on={invented.PLAN.begins.replace(year=invented.PLAN.begins.year - 1)}")
    assert "First week, " in before


def test_the_year_is_drawn_and_each_week_says_which_farm(farms: Farms) -> None:
    page = seen(farms.together, "/pickings?weeks=30")
    assert "Of what is likely, from each farm its part:" in page
    chart = farms.together.get("/charts/year-narrow.svg")
    assert chart.headers["content-type"] == "image/svg+xml"
    assert invented.PLAN.pickings[0].item in chart.text
    assert farms.together.get("/charts/year-round.svg").status_code == 404


def test_the_plan_is_of_the_whole_and_is_mended_or_made_here(farms: Farms) -> None:
    page = seen(farms.together, "/plan")
    assert page.count('<h2 id="how-good-it-is">') == 1
    assert "They go together." in page
    assert 'name="mend"' in page


def test_a_farms_pages_lead_back_and_leave_planning_to_all(farms: Farms) -> None:
    for path in ("/", "/work", "/sowings"):
        page = seen(farms.hill, path)
        assert '<a href="http://127.0.0.1:8430/">Two Rivers: all farms</a>' in page
    assert 'href="http://127.0.0.1:8430/work"' in page
    assert re.findall(r"<h1>(.*)</h1>", seen(farms.hill, "/"))[0].endswith(": hill")
    assert 'action="/work"' not in page


def test_without_a_plan_the_way_leads_to_making_one(tmp_path: Path) -> None:
    farms = begin(written(tmp_path))
    for path in ("/", "/pickings", "/ground", "/plan"):
        answer = farms.together.get(path, headers={"accept": "text/html"})
        assert (answer.status_code, answer.headers["location"]) == (303, "/work")
    assert "Make the plan" in seen(farms.together, "/work")
    assert farms.together.get("/api/plan").status_code == 400


def test_a_farm_at_fault_is_told_in_words(farms: Farms) -> None:
    farms.file.with_name("hill.toml").write_text("[site]\nat = 3\n", encoding="utf-8")
    answer = farms.together.get("/", headers={"accept": "text/html"})
    assert answer.status_code == 409
    assert "does not say that it is a farm of this cooperative" in answer.text


@pytest.mark.parametrize("path", ["/", "/ground"])
def test_a_damaged_book_hides_nothing_of_the_other_farms(farms: Farms, path: str) -> None:
    """The pages of all farms answered 409 for one farm's book."""
    spoil(farms.file.with_name("hill.book"), 2, 3)
    page = seen(farms.together, path)
    valley, damaged, rest = page.partition("the book is damaged.")
    assert damaged
    assert valley.count("<li") + valley.count("<tr") > 3
    assert "check --garden" in rest
    assert seen(farms.together, "/pickings").count("the book is damaged.") == 1
    told = farms.together.get("/api/today").json()["farms"]
    assert [("problem" in farm, "jobs" in farm) for farm in told] == [(False, True), (True, False)]


def test_a_fault_says_in_which_farms_file_it_stands(farms: Farms) -> None:
    """'site, at: a latitude of 153 is not on earth' of three farms' files: whose?"""
    hill = farms.file.with_name("hill.toml")
    hill.write_text(FARM.replace("51.5", "153"), encoding="utf-8")
    page = farms.together.get("/", headers={"accept": "text/html"}).text
    assert "<b>hill.toml, line 4, site, at</b>: a latitude of 153 is not on earth." in page
    (fault,) = farms.together.get("/api/today").json()["problems"]
    assert (fault["field"], fault["line"]) == ("hill.toml, line 4, site, at", 4)
    own = farms.hill.get("/", headers={"accept": "text/html"}).text
    assert "<b>site, at</b>: a latitude of 153" in own


def test_notes_of_the_farms_tell_no_command_of_the_terminal(farms: Farms) -> None:
    """What is told of the diaries stands once, above all farms."""
    write(farms.file.with_name("hill.toml"), [(DAY, Sowed("radish", "direct", "open", 1.0), "")])
    page = farms.together.get(f"/?on={DAY + timedelta(days=1)}", headers={"accept": "text/html"}).text
    assert page.count("Sown besides the plan, and not counted yet: Radish (1 sowing).") == 1
    assert "evenpick plan" not in page
    for client, path in ((farms.together, "/api/today"), (farms.together, "/api/pickings"),
                         (farms.hill, "/api/today"), (farms.hill, "/api/pickings")):
        said = client.get(f"{path}?on={DAY + timedelta(days=1)}").text
        assert "Sown besides the plan" in said
        assert str(farms.file.parent) not in said


def test_a_farm_that_came_since_is_told_of_without_pages(farms: Farms) -> None:
    moor = '[[farm]]\nname = "moor"\ngarden = "moor.toml"\n[[wish]]'
    farms.file.with_name("moor.toml").write_text(FARM, encoding="utf-8")
    farms.file.write_text(FILE.replace("[[wish]]", moor), encoding="utf-8")
    save_cooperative(farms.file, answer_of(farms.file))
    for path in ("/", "/ground"):
        page = seen(farms.together, path)
        assert ">moor</h2>" in page
        assert page.count("serve again, and it has pages of its own") == 1


def test_what_is_kept_between_requests_follows_every_file(tmp_path: Path) -> None:
    file = written(tmp_path)
    about = served_together(file, PORTS)
    first = about.described()
    assert about.described() is first
    moor, farm = file.with_name("moor.toml"), '[[farm]]\nname = "moor"\ngarden = "moor.toml"\n[[wish]]'
    moor.write_text(FARM, encoding="utf-8")
    file.write_text(FILE.replace("[[wish]]", farm), encoding="utf-8")
    second = about.described()
    assert [each.name for each in second.own.farms][-1] == "moor"
    assert about.described() is second
    moor.write_text(f"# a farm that came since\n{FARM}", encoding="utf-8")
    assert about.described().signs != second.digest
    file.with_name("hill.toml").write_text(f"# steep\n{FARM}", encoding="utf-8")
    assert about.described().signs not in (first.digest, second.digest)


@pytest.mark.parametrize("path", ["/api/today", "/api/pickings?weeks=2", "/api/plan"])
def test_the_same_as_json(farms: Farms, path: str) -> None:
    shape: dict[str, Any] = farms.together.get(path).json()
    assert shape["cooperative"] == "Two Rivers"
    assert [farm["name"] for farm in shape["farms"]] == ["valley", "hill"]


def test_s5_one_passphrase_opens_all_and_wrong_ones_slow_all(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    stopped = SimpleNamespace(monotonic=lambda: 5.0)  # guesses take longer than the wait on a busy machine
    monkeypatch.setattr("evenpick.web.pages.signing.time", stopped)
    file = written(tmp_path)
    save_cooperative(file, answer_of(file))
    set_passphrase(keys_of(file), PASSPHRASE)
    farms = begin(file, sessions=True)
    for client in (farms.together, farms.hill):
        assert client.get("/api/today").status_code == 401
    token = re.findall(r'name="token" value="(\w+)"', farms.together.get("/enter").text)[0]
    signed = {"passphrase": PASSPHRASE, "token": token}
    entered = farms.together.post("/enter", data=signed)
    assert entered.status_code == 303
    farms.hill.cookies.update(entered.cookies)
    assert farms.hill.get("/api/today").status_code == 200
    farms.hill.cookies.clear()
    for _ in range(FREE_GUESSES):
        assert farms.hill.post("/enter", data={**signed, "passphrase": "x" * 9}).status_code == 401
    farms.together.cookies.clear()
    assert farms.together.post("/enter", data=signed).status_code == 429


def test_s5_before_signing_in_a_farm_names_neither_itself_nor_the_cooperative(tmp_path: Path) -> None:
    file = written(tmp_path)
    set_passphrase(keys_of(file), PASSPHRASE)
    farms = begin(file, sessions=True)
    for client in (farms.together, farms.hill):
        for answer in (client.get("/enter"), client.post("/enter", data={"passphrase": "x"}),
                       client.get("/enter/nowhere", headers={"accept": "text/html"})):
            assert "Sign in" in answer.text or answer.status_code in (403, 404)
            assert not re.search(r"two rivers|\bhill\b|valley|:843[012]", answer.text, re.IGNORECASE)
    token = re.findall(r'name="token" value="(\w+)"', farms.hill.get("/enter").text)[0]
    assert farms.hill.post("/enter", data={"passphrase": PASSPHRASE, "token": token}).status_code == 303
    assert "Two Rivers: all farms" in seen(farms.hill, "/work")


@pytest.fixture
def running(tmp_path: Path) -> Iterator[tuple[Path, list[str]]]:
    """The program itself, and the addresses that it told."""
    file = written(tmp_path)
    save_cooperative(file, answer_of(file))
    command = [sys.executable, "-m", "evenpick", "serve", "--garden", str(file), "--port", "0"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as process:
        assert process.stdout is not None
        told = [process.stdout.readline() for _ in range(3)]
        try:
            yield file, [re.findall(r"http://\S+/", line)[0] for line in told]
        finally:
            process.send_signal(signal.SIGINT)
            process.wait(10)


@pytest.mark.allow_hosts(["127.0.0.1"])
def test_each_port_answers_for_its_own(running: tuple[Path, list[str]]) -> None:
    file, addresses = running
    pages = [fetched(f"{address}?on={DAY}") for address in addresses]
    assert "to pick, on all farms" in pages[0]
    assert all("to pick, on all farms" not in page for page in pages[1:])
    token = fetched(f"{addresses[2]}token").split('"')[3]
    line = {"line": "sowed 2 m radish", "step": "keep", "token": token, "id": "1" * 32}
    fetched(f"{addresses[2]}diary", urllib.parse.urlencode(line).encode())
    sown = {farm: [entry for entry in record_of(file.with_name(f"{farm}.toml")).entries
                   if isinstance(entry.fact, Sowed)] for farm in ("valley", "hill")}
    assert (len(sown["valley"]), len(sown["hill"])) == (0, 1)


def fetched(address: str, data: bytes | None = None) -> str:
    asked = urllib.request.Request(address, data, {"accept": "text/html"})
    with urllib.request.urlopen(asked, timeout=20) as answer:
        text: str = answer.read().decode()
        return text


def test_a_changed_file_leaves_the_farms_their_day(farms: Farms) -> None:
    """One farm's changed file took the day from the pages of all."""
    farm = farms.file.with_name("hill.toml")
    farm.write_text(farm.read_text(encoding="utf-8").replace("20 m²", "19 m²"), encoding="utf-8")
    page = farms.together.get(f"/?on={DAY}")
    assert page.status_code == 200
    assert "changed since its plan was made" in page.text
    assert "All pickings" in page.text
    for client in (farms.together, farms.hill):
        pickings = client.get(f"/pickings?on={DAY}")
        assert pickings.status_code == 200
        assert "changed since" in pickings.text
        assert "this is by the older plan" in pickings.text
        assert "/charts/year-narrow.svg" in pickings.text
    assert len(re.findall("<h3[^>]*>To do<", page.text)) == 2
    own = farms.hill.get(f"/?on={DAY}")
    assert own.status_code == 200
    assert "The garden file was changed since the plan was made" in own.text
    assert farms.together.get("/api/today", params={"on": str(DAY)}).json()["note"]
