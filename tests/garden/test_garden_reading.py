"""Reading garden.toml: what a right file means, and that every fault is told with its line and a remedy."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date
from importlib.resources import files
from pathlib import Path

import pytest
from small_garden import SMALL, TODAY

from evenpick.base.days import day_number
from evenpick.base.errors import BadGarden, Problem
from evenpick.crops.catalogue import Catalogue
from evenpick.garden.garden import Garden, Outlet, Wish
from evenpick.garden.lines import parse_toml
from evenpick.garden.reading import read_garden

Read = Callable[[str], Garden]
Find = Callable[[str], tuple[Problem, ...]]


def test_a_right_file(read: Read, catalogue: Catalogue) -> None:
    garden = read(SMALL)
    leek, cos, crisp = (catalogue.crop(name) for name in ("leek", "cos-lettuce", "crisp-lettuce"))
    assert (garden.site.lat, garden.site.lon) == (53.4, -6.2)
    assert garden.plan.start == day_number(date(2027, 2, 1))
    assert garden.area("open") == 60
    assert garden.area("tunnel") == 0
    assert garden.outlet("boxes") == Outlet("boxes", "boxes", 10)
    assert garden.never == ("celery",)
    leeks, lettuce = garden.wishes
    assert leeks.kg_per_week == pytest.approx(2 * 4 * leek.produce.portion_kg)
    assert lettuce.kg_per_week == pytest.approx(10 * (cos.produce.piece_kg + crisp.produce.piece_kg) / 2)
    assert lettuce.crops == ("cos-lettuce", "crisp-lettuce")
    assert (leeks.opens, leeks.closes, leeks.line) == ((10, 1), (3, 31), 24)
    (packet,) = garden.packets
    assert (packet.grams, packet.seeds, packet.germination) == (2.0, None, 0.85)
    assert not garden.invented_by_demo


def test_a_byte_order_mark_is_passed_over(tmp_path: Path, catalogue: Catalogue) -> None:
    """Some editors put one before the text."""
    path = tmp_path / "garden.toml"
    path.write_text("\ufeff" + SMALL, encoding="utf-8")
    assert read_garden(path, catalogue, TODAY).never == ("celery",)
    path.write_text("\ufeff" + SMALL.replace("60 m²", "sixty"), encoding="utf-8")
    with pytest.raises(BadGarden) as told:
        read_garden(path, catalogue, TODAY)
    assert [problem.line for problem in told.value.problems] == [12]


def test_a_season_over_the_new_year() -> None:
    wish = Wish("leeks", ("leek",), "house", 1.0, (10, 1), (3, 31))
    assert [wish.wanted_on(*day) for day in ((10, 1), (1, 5), (3, 31), (4, 1), (9, 30))] == [
        True, True, True, False, False,
    ]
    assert Wish("leeks", ("leek",), "house", 1.0).wanted_on(7, 1)


SPOILT = [
    ('at = "53.4, -6.2"', 'at = [95, -6.2]', 4, "site, at", "95 is not on earth", "Latitude"),
    ('at = "53.4, -6.2"', 'place = "Dubblin, Ireland"', 4, "site, place", "Dubblin", ""),
    ('at = "53.4, -6.2"', "", 3, "site", "missing", "53.4, -6.2"),
    ('cover = "open"', 'cover = "opne"', 11, "ground 1, cover", "'opne'", '"open", "tunnel"'),
    ('cover = "open"', 'cover = "fleece"', 11, "ground 1, cover", "moves", "[covers]"),
    ('area = "60 m²"', 'area = "0 m²"', 12, "ground 1, area", "nought", "180 m²"),
    ('area = "60 m²"', 'area = "-60 m²"', 12, "ground 1, area", "nought", "180 m²"),
    ('area = "60 m²"', "area = 60", 12, "ground 1, area", "not in quotes", "unit"),
    ('area = "60 m²"', 'aera = "60 m²"', 12, "ground 1, aera", "not a name", "'area'"),
    ('kind = "kitchen"', 'kind = "shop"', 16, "outlet 1, kind", "'shop'", '"stall"'),
    ("shares = 4", "shares = 4.5", 17, "outlet 1, shares", "whole", "100000"),
    ("shares = 10", '[[outlet]]\nname = "house"\nkind = "stall"', 23, "outlet 3, name", "twice", "own"),
    ('item = "leeks"', 'item = "leaks"', 25, "wish 1, item", "'leaks'", "'leek'"),
    ('outlet = "house"', 'outlet = "hosue"', 26, "wish 1, outlet", "'hosue'", "'house'"),
    ('outlet = "house"', "", 24, "wish 1", "who wants it", "'boxes'"),
    ('each_week = "2 portions"', 'each_week = "0 portions"', 27, "wish 1, each_week", "nought", "portions"),
    ('each_week = "2 portions"', 'each_week = "2 heads"', 27, "wish 1, each_week", "heads", "kg"),
    ('each_week = "2 portions"', "", 24, "wish 1", "'each_week' is missing", "2 kg"),
    ('each_week = "2 portions"', 'each_week = "lots"', 27, "wish 1, each_week", "'lots'", "kg"),
    ('until = "03-31"', 'until = "02-30"', 29, "wish 1, until", "no such day", "05-15"),
    ('until = "03-31"', "until = 2027-03-31", 29, "wish 1, until", "not in quotes", ""),
    ('until = "03-31"', "", 28, "wish 1, from", "without 'until'", "both"),
    ('["cos-lettuce", "crisp-lettuce"]', '["cos-letuce"]', 33, "wish 2, crops", "cos-letuce", "cos"),
    ('["cos-lettuce", "crisp-lettuce"]', '"cos-lettuce"', 33, "wish 2, crops", "not a list", "["),
    ('["cos-lettuce", "crisp-lettuce"]', "[]", 33, "wish 2, crops", "empty", "at least one"),
    ('never = ["celery"]', 'never = ["leek"]', 24, "wish 1, crops", "never", "Take it out"),
    ("year = 2026", "year = 2031", 40, "seed 1, year", "future", "packed"),
    ('tested = "85 %"', "tested = 0.85", 42, "seed 1, tested", "percentage", "85 %"),
    ('amount = "2 g"', 'amount = "a pinch"', 41, "seed 1, amount", "a pinch", "300 seeds"),
    ("from = 2027-02-01", 'from = "soon"', 7, "plan, from", "'soon'", "2027-03-14"),
    ('tested = "85 %"', 'never = ["pea"]', 42, "seed 1, never", "not a name", "top of the file"),
]


@pytest.mark.parametrize(("right", "wrong", "line", "field", "what", "mend"), SPOILT)
def test_each_fault_has_its_line_field_and_remedy(
    right: str, wrong: str, line: int, field: str, what: str, mend: str, faults: Find
) -> None:
    assert SMALL.count(right) >= 1
    (problem,) = faults(SMALL.replace(right, wrong, 1))
    assert (problem.file, problem.line, problem.field) == ("garden.toml", line, field)
    assert what in problem.what
    assert mend in problem.mend
    assert problem.mend


def test_all_faults_come_at_once_from_the_top(faults: Find) -> None:
    text = SMALL
    rights = ('cover = "open"', "shares = 4", "year = 2026", 'amount = "2 g"')
    apart = list({row[0]: row for row in SPOILT if row[0] in rights}.values())
    for right, wrong, *_ in reversed(apart):
        text = text.replace(right, wrong, 1)
    lines = [problem.line for problem in faults(text)]
    assert lines == [11, 17, 40, 41]


@pytest.mark.parametrize(
    ("text", "line", "mend"),
    [
        ("[site]\nat = 53.4, -6.2\n", 2, "="),
        ('[site]\nname = "x\nat = "1, 2"\n', 2, "quote"),
        ("[site]\nname = open\n", 2, "quotes"),
        ("[site]\nname = 'a'\nname = 'b'\n", 3, "twice"),
        ("[site]\n[site]\n", 2, "twice"),
        ("[plan]\nfrom = 2027-02-30\n", 2, "exists"),
        ("never = [\n'pea',\n", 2, "]"),
    ],
)
def test_what_is_not_toml_is_told_by_line(text: str, line: int, mend: str, faults: Find) -> None:
    (problem,) = faults(text)
    assert problem.line is not None
    assert abs(problem.line - line) <= 1
    assert mend in problem.mend


def test_an_empty_file_says_what_it_needs(faults: Find) -> None:
    whats = " ".join(problem.what for problem in faults(""))
    for needed in ("where the garden is", "no ground", "nothing is wished"):
        assert needed in whats


def test_the_same_wish_may_stand_in_two_seasons_but_not_twice_in_one(read: Read, faults: Find) -> None:
    more = '[[wish]]\nitem = "leeks"\noutlet = "house"\neach_week = "1 kg"\nfrom = "{}"\nuntil = "04-20"\n'
    assert len(read(SMALL + more.format("04-01")).wishes) == 3
    (problem,) = faults(SMALL + more.format("03-31"))
    assert problem.line == 44
    assert "twice" in problem.what


def test_lines_hold_past_long_strings_lists_and_notes(faults: Find) -> None:
    before = 'never = [ # "a note [ with brackets\n "celery", # more\n]\n'
    name = '[site]\nname = """one\n[[two]]\nthree = 3"""\n'
    text = SMALL.replace('never = ["celery"]\n', before).replace("[site]\n", name).replace("60 m²", "0 m²")
    (problem,) = faults(text)
    assert text.split("\n")[(problem.line or 0) - 1] == 'area = "0 m²"'


def test_every_key_of_the_demo_stands_on_the_line_it_is_said_to() -> None:
    text = (files("evenpick") / "data" / "demo" / "garden.toml").read_text(encoding="utf-8")
    values, lines = parse_toml(text, "garden.toml")
    rows, checked = text.split("\n"), 0
    for heading, inner in values.items():
        tables = [((heading,), inner)] if isinstance(inner, dict) else list(_numbered(heading, inner))
        for path, table in tables:
            for key, value in table.items():
                row = rows[(lines.line((*path, key)) or 0) - 1]
                assert row.startswith(f"{key} = ")
                assert str(value) in row or isinstance(value, list)
                checked += 1
    assert checked > 100


def _numbered(heading: str, inner: object) -> Iterator[tuple[tuple[str, int], dict[str, object]]]:
    for i, one in enumerate(inner if isinstance(inner, list) else []):
        if isinstance(one, dict):
            yield (heading, i), one


def test_files_that_cannot_be_opened_or_are_not_text(tmp_path: Path, catalogue: Catalogue) -> None:
    (tmp_path / "photo.toml").write_bytes(b"\xff\xfe\x00")
    for name, what in (("photo.toml", "UTF-8"), ("absent.toml", "can't be opened"), (".", "can't be opened")):
        with pytest.raises(BadGarden, match=what):
            read_garden(tmp_path / name, catalogue)


def test_weather_of_ones_own_is_sought_beside_the_file(tmp_path: Path, catalogue: Catalogue) -> None:
    garden, record = tmp_path / "garden.toml", tmp_path / "mine.csv"
    garden.write_text(SMALL.replace("[site]\n", '[site]\nweather = "mine.csv"\n'), encoding="utf-8")
    with pytest.raises(BadGarden, match=r"no file 'mine.csv'"):
        read_garden(garden, catalogue)
    record.touch()
    assert read_garden(garden, catalogue).weather.record == record


def test_a_packaged_record_is_known_by_name(read: Read, faults: Find) -> None:
    text = SMALL.replace("[site]\n", '[site]\nweather = "dublin-airport"\n')
    packaged = read(text).weather.packaged
    assert packaged is not None
    assert packaged.replace("_", "-") == "dublin-airport"
    (problem,) = faults(text.replace("dublin-airport", "dublin-airpot"))
    assert (problem.line, problem.field) == (4, "site, weather")
    assert "dublin" in problem.mend
