"""What each command asks of the services, and which page or JSON it shows."""

from __future__ import annotations

import json
import re
import sys
from collections.abc import Callable
from datetime import date
from math import inf
from pathlib import Path
from typing import Any

import invented
import pytest

from evenpick import __version__
from evenpick.base.chance import DEFAULT_SEED
from evenpick.base.errors import BadBook, Problem
from evenpick.cli.here import month_number
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.here import as_catalogued
from evenpick.garden.eaters import eaters_of
from evenpick.garden.garden import Seedbed, WeatherChoice
from evenpick.garden.reading import read_garden

Run = Callable[..., tuple[int, str, str]]
NOTHING_CHOSEN = WeatherChoice()
OWN_BENCH = 7.0
"""°C, of the garden that a question is about"""


def test_windows(run: Run, calls: Any) -> None:
    code, out, err = run("windows", "--at", "51.5,-1.25", "--crop", "rocket", "--crop", "pea",
                         "--cover", "tunnel", "--cover", "open", "--year", "2027", "--seed", "5")
    assert (code, err) == (0, "")
    assert calls.of("site_for") == ("51.5,-1.25", None, None)
    site, choice, *rest = calls.of("windows")
    assert (site.name, choice) == ("Testham", NOTHING_CHOSEN)
    assert rest == [("rocket", "pea"), ("open", "tunnel"), 2027, 5, inf, Seedbed()]  # no bench of its own
    assert out.startswith("When to sow: Testham")


@pytest.mark.parametrize("typed", [("--at", "-37.8,145"), ("--at=-37.8,145",)])
def test_a_southern_point_may_begin_with_a_minus(run: Run, calls: Any, typed: tuple[str, ...]) -> None:
    assert run("windows", *typed)[0] == 0
    assert calls.of("site_for") == ("-37.8,145", None, None)


@pytest.mark.parametrize(("place", "height", "bean"), [
    ("Macon, GA", "(197 ft)", "- Scarlet runner bean:"), ("Winnipeg, MB", "(60 m)", "- Scarlet runner bean:"),
    ("Dublin, IE", "(60 m)", "- Runner bean:"),
])
def test_a_town_is_told_of_in_the_words_of_its_country(
    run: Run, calls: Any, place: str, height: str, bean: str
) -> None:
    """Whoever asks of Georgia looks for inches and American names, as `begin` gives them."""
    code, out, _ = run("month", "6", "--place", place)
    assert (code, height in out, bean in out) == (0, True, True)


def test_of_a_town_too_the_words_asked_for_are_taken(run: Run, calls: Any) -> None:
    code, out, _ = run("month", "6", "--place", "Macon, GA", "--english", "british", "--units", "metric")
    assert (code, "(60 m)" in out, "- Runner bean:" in out) == (0, True, True)


def test_a_town_that_is_not_known_is_told_by_the_command(run: Run, calls: Any) -> None:
    assert run("month", "6", "--place", "Nowhereville")[0] == 2


@pytest.mark.parametrize("command", ["month", "windows"])
@pytest.mark.parametrize(("cover", "covers"), [
    ("open", ("open",)), ("tunnel", ("tunnel",)),
])
def test_a_garden_is_told_of_what_grows_under_the_covers_it_has(
    run: Run, calls: Any, tmp_path: Path, command: str, cover: str, covers: tuple[str, ...]
) -> None:
    """Whoever has no tunnel was told what to sow in it."""
    garden = tmp_path / "garden.toml"
    garden.write_text(f"""[site]
at = "51.5, -1.25"
[[ground]]
name = "bed"
cover = "{cover}"
area = "60 m2"
[[wish]]
item = "radish"
each_week = "2 portions"
""", encoding="utf-8")
    asked = ("6",) if command == "month" else ()
    assert run(command, *asked, "--garden", str(garden))[0] == 0
    assert covers in calls.of(command)
    calls.clear()
    assert run(command, *asked, "--garden", str(garden), "--cover", "fleece", "--cover", "open")[0] == 0
    assert ("open", "fleece") in calls.of(command)


def test_defaults(run: Run, calls: Any) -> None:
    assert run("windows", "--place", "Dublin, IE", "--height", "40 m", "--record", "dublin_airport")[0] == 0
    assert calls.of("site_for") == (None, "Dublin, IE", "40 m")
    choice, *rest = calls.of("windows")[1:]
    assert choice == WeatherChoice(packaged="dublin_airport")
    assert rest == [None, ("open", "tunnel"), None, DEFAULT_SEED, inf, Seedbed()]


@pytest.mark.parametrize("typed", ["6", "June", "jun", " 06 "])
def test_month_by_number_or_name(run: Run, calls: Any, typed: str) -> None:
    code, out, _ = run("month", typed, "--at", "51.5,-1.1", "--year", "2027")
    assert (code, calls.of("month")[2:4]) == (0, (6, 2027))
    assert "IN THE OPEN" in out


def test_every_month_has_its_number() -> None:
    names = [f"{date(2027, month, 1):%B}" for month in range(1, 13)]
    assert [month_number(name) for name in names] == list(range(1, 13))
    assert [month_number(name[:3]) for name in names] == list(range(1, 13))


def test_outlook_as_json(run: Run, calls: Any) -> None:
    code, out, _ = run("outlook", "--crop", "runner-bean", "--sow", "2027-05-01", "--cover", "open", "--at",
                       "51.5,-1.1", "--way", "raised", "--purpose", "fresh", "--json")
    assert code == 0
    assert json.loads(out)["fates"]["good"] == 0.9
    wanted = ("runner-bean", date(2027, 5, 1), "open", "raised", "fresh", DEFAULT_SEED, Seedbed(), inf,
              as_catalogued)
    assert calls.of("outlook")[2:] == wanted


def test_a_question_without_a_place_is_about_the_garden(run: Run, calls: Any, garden: Path) -> None:
    bench = f'[bench]\nmodules = 100\nlowest = "{OWN_BENCH} °C"\n'
    garden.write_text(garden.read_text(encoding="utf-8") + bench, encoding="utf-8")
    code, out, _ = run("why", "runner bean", "--sow", "2027-05-01")
    assert code == 0
    site, choice, crop, sow, cover, way, seed, plan, bed, lowest, _ = calls.of("why")
    gardens = WeatherChoice(packaged="dublin_airport", diary=Path("garden.book"))
    assert (site.name, choice) == ("Testham", gardens)
    assert (crop, sow, bed, lowest) == ("runner bean", date(2027, 5, 1), Seedbed(), OWN_BENCH)
    assert (cover, way, seed, plan.invented) == ("open", None, DEFAULT_SEED, True)
    assert calls.of("garden_site") == (Path("garden.toml"),)
    assert "(197 ft)" in " ".join(out.split())  # the garden's own words and units
    metric = run("why", "runner bean", "--sow", "2027-05-01", "--units", "metric")[1]
    assert "(60 m)" in " ".join(metric.split())


def test_weather_named_goes_before_the_gardens(run: Run, calls: Any, garden: Path) -> None:
    assert run("windows", "--weather", "mine.csv")[0] == 0
    """What the grower read there is held against it all the same."""
    assert calls.of("windows")[1] == WeatherChoice(record=Path("mine.csv"), diary=Path("garden.book"))


def test_plan_makes_keeps_and_shows(run: Run, calls: Any, garden: Path) -> None:
    code, out, err = run("plan", "--on", "2027-02-01", "--seconds", "20", "--mend")
    assert code == 0
    path, day, _, seconds, season, mend, *_ = calls.of("make_plan")
    assert (path, day, seconds, season, mend) == (Path("garden.toml"), date(2027, 2, 1), 20.0, None, True)
    assert calls.of("save_plan")[0] == Path("garden.toml")
    assert "THIS WEEK" in out
    assert err == "The plan is kept in kept.json.\n"


def test_a_better_plan_that_is_kept_stays_and_is_the_one_shown(
    run: Run, calls: Any, garden: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys.modules["evenpick.service.store_plan"], "better_kept",
                        lambda garden, answer: invented.PLAN)
    code, out, err = run("plan", "--on", "2027-02-01", "--json")
    assert code == 0
    assert "save_plan" not in [name for name, _ in calls]
    assert json.loads(out)["gap"] == invented.PLAN.gap
    assert "The plan that was kept is proven nearer to the best possible, 2.3 %" in err


def test_where_what_is_kept_cannot_be_read_the_plan_is_shown_and_keeping_it_tells(
    run: Run, calls: Any, garden: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*asked: Any) -> Any:
        raise BadBook(Problem("the book is damaged.", "Copy it.", "garden.book"))

    monkeypatch.setattr(sys.modules["evenpick.service.store_plan"], "better_kept", refuse)
    monkeypatch.setattr(sys.modules["evenpick.service.planning"], "save_plan", refuse)
    code, out, err = run("plan", "--on", "2027-02-01")
    assert code == 2
    assert "THIS WEEK" in out
    assert "the book is damaged" in err


def test_a_plan_that_cannot_be_kept_is_shown_before_it_is_told(
    run: Run, calls: Any, garden: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*asked: Any) -> Path:
        raise BadBook(Problem("the book can only be read here.", "Copy it.", "garden.book"))

    monkeypatch.setattr(sys.modules["evenpick.service.planning"], "save_plan", refuse)
    code, out, err = run("plan", "--on", "2027-02-01")
    assert code == 2
    assert "THIS WEEK" in out
    assert err == "evenpick: garden.book: the book can only be read here. Copy it.\n"


def test_plan_and_demo_as_json(run: Run, calls: Any, garden: Path) -> None:
    for command in ("plan", "demo"):
        assert json.loads(run(command, "--json")[1])["unseen"]["plan"]["bare"] == 0.052


def test_demo_shows_the_year(run: Run, calls: Any) -> None:
    code, out, _ = run("demo")
    assert code == 0
    assert "INVENTED GARDEN" in out
    assert "THE PICTURE OF THE YEAR" in out


def test_today_and_pickings(run: Run, calls: Any, garden: Path) -> None:
    code, out, _ = run("today", "--on", "2027-02-03")
    assert (code, calls.of("today")[1]) == (0, date(2027, 2, 3))
    assert "TO PICK THIS WEEK" in out
    out = run("pickings", "--on", "2027-07-15", "--weeks", "3")[1]
    assert out.count("WEEK OF") == 3
    shown = json.loads(run("pickings", "--on", "2027-07-15", "--json")[1])
    assert [len(item["weeks"]) for item in shown["pickings"]] == [8, 8]
    assert json.loads(run("today", "--json")[1])["day"] == "2027-02-03"


def test_begin_writes_a_garden_that_reads(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    typed = ("--at", "-37.8,145", "--ground", "80 m²", "--tunnel", "0", "--eaters", "2 people, 6 boxes",
             "--likes", "leek, beans", "--garden", str(path))
    code, out, _ = run("begin", *typed)
    assert (code, "evenpick plan" in out) == (0, True)
    assert "(37.80° S, 145.00° E)" in out
    assert "Understood: 80.0 m² of open ground, for 2 people and 6 boxes." in out
    made = read_garden(path, load_catalogue())
    assert (made.site.lat, made.area("open"), made.area("tunnel")) == (-37.8, 80.0, 0.0)
    assert [outlet.shares for outlet in made.outlets] == [2, 6]
    assert {wish.item for wish in made.wishes} == {"leeks", "beans"}
    before = path.read_text(encoding="utf-8")
    code, _, err = run("begin", *typed)
    assert (code, "never written over" in err) == (2, True)
    assert path.read_text(encoding="utf-8") == before


def test_begin_doubts_a_ground_that_can_not_feed_so_many(run: Run, tmp_path: Path) -> None:
    """60 m² for 30 children was not doubted before the plan."""
    typed = ("--at", "53.8,-1.55", "--ground", "60 m²", "--tunnel", "0", "--likes", "leeks, no brassicas")
    few, many = tmp_path / "few.toml", tmp_path / "many.toml"
    _, out, _ = run("begin", *typed, "--eaters", "2 people", "--garden", str(few))
    assert "needs at least" not in out
    assert "Never to be grown: Calabrese, " in out
    _, out, _ = run("begin", *typed, "--eaters", "200 children", "--garden", str(many))
    found = re.search(r"needs at least (\d+) m² of ground all year round.* are 60.0 m²", out)
    assert found is not None
    assert 150 < float(found[1]) < 1500
    assert re.search(r"enough for about \d+ of 200 people at the best", out)
    fed = re.search(r"written for (\d+) of them", out)
    assert fed is not None
    assert f"shares = {fed[1]}    # of 200" in many.read_text(encoding="utf-8")
    json_too = str(tmp_path / "json.toml")
    shape = json.loads(run("begin", *typed, "--eaters", "2 people", "--garden", json_too, "--json")[1])
    assert shape["needs_m2"] == pytest.approx(float(found[1]) / 100, rel=0.03)
    assert "kale" in shape["never"]


def test_begin_tells_the_place_it_took_and_asks_which_of_two_hemispheres(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "garden.toml"
    rest = ("--ground", "30 m²", "--tunnel", "0", "--eaters", "2 people", "--likes", "radish",
            "--garden", str(path))
    code, out, err = run("begin", "--place", "Hamilton", *rest)
    assert (code, out, path.exists()) == (2, "", False)
    assert "Hamilton, Ontario, Canada" in err
    assert "Hamilton, New Zealand" in err
    code, out, _ = run("begin", "--place", "Hamilton, NZ", *rest)
    assert code == 0
    assert "Hamilton, New Zealand (37.78° S, 175.2" in out  # of the atlas, to 0.01° and 0.1°


def test_begin_says_that_the_weather_is_of_far_off(run: Run, tmp_path: Path) -> None:
    typed = ("--ground", "30 m²", "--tunnel", "0", "--eaters", "2 people", "--likes", "radish")
    for place, far in (("Nairobi", True), ("Dublin, IE", False)):
        code, out, _ = run("begin", "--place", place, *typed, "--garden", str(tmp_path / f"{place[:3]}.toml"))
        assert code == 0
        assert ("451 km away" in out and "daily record of your own" in out) == far


def test_begin_asks_what_was_not_said(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    said = iter(["51.5, -1.1", "400 sq ft", "", "", "4", ""])
    asked: list[str] = []

    def prompt(question: str, default: str | None = None, **_: object) -> str:
        asked.append(question)
        return next(said) or default or ""

    monkeypatch.setattr("click.prompt", prompt)
    path = tmp_path / "garden.toml"
    code, out, _ = run("begin", "--garden", str(path), "--json")
    shape = {"garden": str(path), "place": "51.5, -1.1", "lat": 51.5, "lon": -1.1, "far": None,
             "height_m": None, "watered": True, "never": [], "left_out": []}
    told = json.loads(out)
    assert told.pop("needs_m2") > 0
    assert (code, told, len(asked)) == (0, shape, 6)
    made = read_garden(path, load_catalogue())
    assert made.area("open") == pytest.approx(400 * 0.09290304, abs=0.006)  # nist811: square foot
    assert made.outlets[0].shares == 4


@pytest.fixture
def typist(monkeypatch: pytest.MonkeyPatch) -> Callable[[list[str]], list[str]]:
    """Somebody at a terminal who types these answers one after another; the questions that were asked."""
    def types(answers: list[str]) -> list[str]:
        said, asked = iter(answers), list[str]()

        def prompt(question: str, default: str | None = None, **_: object) -> str:
            asked.append(question.split("?")[0])
            return next(said) or default or ""

        monkeypatch.setattr("click.prompt", prompt)
        monkeypatch.setattr("sys.stdin.isatty", lambda: True, raising=False)
        return asked

    return types


def test_an_answer_that_cannot_be_read_is_asked_again_with_the_reason(
    run: Run, tmp_path: Path, typist: Callable[[list[str]], list[str]],
) -> None:
    path = tmp_path / "garden.toml"
    asked = typist(["Dubln", "Hamilton", "Dublin, IE", "4", "4 m²", "some", "0", "maybe", "", "us",
                    "0 people", "me", "radish, brocoli of doom", "radish"])
    code, _, err = run("begin", "--garden", str(path))
    assert code == 0
    assert [asked.count(each) for each in dict.fromkeys(asked)] == [3, 2, 2, 2, 3, 1, 1]
    for reason in ("Did you mean Dublin, Ireland", "Hamilton, New Zealand", "'some' can't be read",
                   "'4' is not an area without its unit", "'us' does not say how many", "nobody to feed",
                   "brocoli of doom"):
        assert reason in err
    made = read_garden(path, load_catalogue())
    assert (made.area("open"), made.outlets[0].shares) == (4.0, 1)
    assert [wish.item for wish in made.wishes] == ["radish"]


def test_no_ground_at_all_is_told_at_once(
    run: Run, tmp_path: Path, typist: Callable[[list[str]], list[str]],
) -> None:
    typist(["Dublin, IE", "0", "0", "6 m²", "2 people", "radish"])
    code, _, err = run("begin", "--garden", str(tmp_path / "garden.toml"))
    assert (code, "there is no such ground to sow" in err) == (0, True)


def test_what_an_option_says_is_read_before_anything_is_asked(
    run: Run, tmp_path: Path, typist: Callable[[list[str]], list[str]],
) -> None:
    asked = typist([])
    code, _, err = run("begin", "--likes", "brocoli of doom", "--garden", str(tmp_path / "garden.toml"))
    assert (code, asked) == (2, [])
    assert "brocoli of doom" in err


def test_who_eats() -> None:
    said = ("4", "4 people", "1 person", "12 boxes", "2 people, 6 boxes", "1 box and 3 people", "me",
            "just me, 2 boxes")
    assert [eaters_of(text) for text in said] == [(4, 0), (4, 0), (1, 0), (0, 12), (2, 6), (3, 1), (1, 0),
                                                  (1, 2)]


def test_version(run: Run) -> None:
    assert run("--version") == (0, f"evenpick {__version__}\n", "")


def test_a_packet_of_a_word_for_several_crops_is_asked_about(run: Run, garden: Path) -> None:
    """Lettuce 'Little Gem' went into the tin as leaf lettuce: it is a cos."""
    code, out, err = run("tin", "--got", "lettuce", "--variety", "Little Gem", "--amount", "1 g", "--garden",
                         str(garden))
    assert (code, out) == (2, "")
    assert "'lettuce' may be several crops: Leaf lettuce, Cos lettuce, Crisp lettuce." in err
