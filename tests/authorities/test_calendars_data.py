"""The transcribed planting calendars are well formed, and the matching does what its specification says."""

from __future__ import annotations

import csv
import re
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from studies import load_study

from evenpick.base.chance import stream
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.crop import SMALLER
from evenpick.garden.garden import WeatherChoice
from evenpick.service.windows import windows

ROOT = Path(__file__).resolve().parents[2]
FOLDER = ROOT / "authorities" / "calendars"


study = load_study("calendar_matching")
load_study("calendars")
among = load_study("bulletins_apart")
PLACES = study.toml("places.toml")["place"]
NAMES = [place["name"] for place in PLACES]


def lines(name: str) -> list[dict[str, str]]:
    with (FOLDER / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_every_file_has_its_place_and_every_place_its_file() -> None:
    assert sorted(NAMES) == sorted(path.stem for path in FOLDER.glob("*.csv"))
    assert len({place["region"] for place in PLACES}) >= 8


def test_every_place_names_a_source_and_how_it_was_read() -> None:
    bibliography = (ROOT / "references.bib").read_text(encoding="utf-8")
    for place in PLACES:
        assert re.search(rf"^@\w+\{{{place['source']},", bibliography, re.MULTILINE), place["source"]
        assert len(place["read"]) > 20


@pytest.mark.parametrize("name", NAMES)
def test_rows_are_well_formed(name: str) -> None:
    crops = {crop.key for crop in load_catalogue().crops}
    rows = lines(name)
    assert rows
    assert None not in {key for row in rows for key in row}, "a cell too many: quote the commas"
    for row in rows:
        assert row["crop"] in crops
        assert row["way"] in {"direct", "transplant", "either"}
        assert row["season"] in {"spring", "summer", "autumn", "year", ""}
        assert row["read"]
        for edge in ("first", "last"):
            if row[edge]:
                date.fromisoformat(f"2027-{row[edge]}")
            if row["edges"] in (edge, "both"):
                assert row[edge], row
        assert row["edges"] in {"first", "last", "both", "none"}
        assert bool(row["days_low"]) == bool(row["days_high"])
        assert bool(row["days_low"]) or bool(row["first"]) or bool(row["last"]), row
        if row["days_low"]:
            assert 15 <= float(row["days_low"]) <= float(row["days_high"]) <= 250
    parts = ("bulletin_crop", "crop", "way", "season", "first", "last")
    keys = [tuple(row[part] for part in parts) for row in rows]
    assert len(keys) == len(set(keys))


def test_virginia_dates_follow_from_the_printed_columns() -> None:
    # vce426331 prints marks in days from the last spring frost, put at 25 April (places.toml)
    for row in lines("virginia-piedmont"):
        printed = re.search(r"from (-?\+?\d+) to \+?(-?\d+)", row["read"])
        assert printed is not None
        days = [date(2027, 4, 25) + timedelta(int(offset)) for offset in printed.groups()]
        assert [f"{day:%m-%d}" for day in days] == [row["first"], row["last"]]


def test_dates_printed_as_figures_are_those_transcribed() -> None:
    # mug6201, Table 2, Central Missouri: '5/1–20'
    for row in lines("missouri-central"):
        printed = re.fullmatch(r"(\d+)/(\d+)–(\d+)", row["read"])
        if printed:
            month, first, last = map(int, printed.groups())
            assert (row["first"], row["last"]) == (f"{month:02}-{first:02}", f"{month:02}-{last:02}")


def test_the_halves_are_what_the_coin_gave() -> None:
    chosen = study.toml("halves.toml")
    later = {*chosen["later"]["tuning"], *chosen["later"]["untouched"]}
    regions = sorted({place["region"] for place in PLACES if place["name"] not in later})
    free = [region for region in regions if region != "Virginia"]
    order = [str(region) for region in stream(chosen["seed"], "calendars", "halves").permutation(free)]
    tuning = ["Virginia", *order[: len(regions) // 2 - 1]]
    assert chosen["tuning"] == sorted(tuning)
    assert chosen["untouched"] == sorted(set(regions) - set(tuning))


def test_places_read_later_are_dealt_as_the_coin_fell() -> None:
    later = study.toml("halves.toml")["later"]
    pool = sorted([*later["tuning"], *later["untouched"]])
    order = [str(name) for name in stream(later["seed"], "calendars", "read later").permutation(pool)]
    assert later["tuning"] == sorted(order[: len(pool) // 2])


def test_every_place_is_in_one_half() -> None:
    chosen = study.toml("halves.toml")
    dealt = [*chosen["later"]["tuning"], *chosen["later"]["untouched"]]
    assert len(dealt) == len(set(dealt))
    assert set(dealt) < {place["name"] for place in PLACES}
    more = study.Place("missouri-central-more", "Missouri", "", None, 10, ())
    assert study.half_of(more, chosen) == "untouched"
    dealt_apart = study.Place("california-chico", "California", "", None, 10, ())
    assert study.half_of(dealt_apart, chosen) == "tuning"
    with pytest.raises(KeyError):
        study.half_of(study.Place("tasmania", "Tasmania", "", None, 10, ()), chosen)


@given(st.integers(0, 365), st.integers(-183, 182))
def test_errors_are_signed_days_round_the_year(theirs: int, error: int) -> None:
    assert study.apart((theirs + error) % study.YEAR, theirs) == error


def row(**changes: object) -> Any:
    given_row = {"bulletin_crop": "x", "crop": "x", "way": "direct", "season": "spring", "first": 100,
                 "last": 130, "edges": "both", "days": None}
    return study.Row(**{**given_row, **changes})


def test_an_edge_meets_the_nearest_of_its_kind_over_the_new_year_too() -> None:
    windows = [(90, 30), (350, 41)]  # 90 to 119; 350 over the new year to 24
    spring = [edge.error for edge in study.edges_of(None, row(), windows)]
    winter = [edge.error for edge in study.edges_of(None, row(first=5, last=20), windows)]
    assert spring == [-10, -11]
    assert winter == [350 - 366 - 5, 4]
    assert [edge.kind for edge in study.edges_of(None, row(edges="last"), windows)] == ["last"]
    assert [edge.error for edge in study.edges_of(None, row(), [])] == [study.BEYOND] * 2


def bulletin(name: str, *rows: Any) -> Any:
    return study.Place(name, "", name, None, 1, rows)


def test_a_bulletin_is_held_against_the_nearest_edge_of_the_same_crop_and_way_in_another() -> None:
    here = bulletin("here", row())
    opening, closing = study.edges_of(here, here.rows[0], [(90, 30)])
    other = bulletin("other", row(first=120, last=None, edges="first"), row(first=60, last=150))
    assert (among.nearest(opening, other), among.nearest(closing, other)) == (20, 20)  # 120 - 100; 150 - 130
    unlike = bulletin("unlike", row(crop="leek"), row(way="transplant"), row(edges="none"))
    assert among.nearest(opening, unlike) is None
    assert among.nearest(opening, bulletin("both ways", row(way="either", first=95))) == -5


def test_the_most_alike_bulletin_that_has_such_an_edge_counts_and_no_second_sheet_of_the_same_place() -> None:
    here, more, near, far = (bulletin(*one) for one in (
        ("here", row()), ("here-more", row()), ("near", row(crop="leek")), ("far", row(first=103))))
    years = {"here": np.zeros(366), "here-more": np.zeros(366), "near": np.full(366, 1.0),
             "far": np.linspace(-2.0, 2.0, 366)}
    every = (here, more, near, far)
    alike = among.most_alike(here, years, every)
    assert [place.name for _, place in alike] == ["near", "far"]
    assert [difference for difference, _ in alike] == pytest.approx([1.0, 2 / 3**0.5], rel=0.01)
    edges = tuple(study.edges_of(here, here.rows[0], [(90, 30)]))
    found = study.Found(here, None, 3.0, edges, (), (), (), (), ())
    pairs = list(among.pairs([found], years, every))
    assert [(pair.other, pair.edge.error) for pair in pairs] == [(3, -10), (0, -11)]


def test_one_edge_stands_for_the_month_inside_it() -> None:
    assert row(last=None).span() == (100, study.MONTH)
    assert row(first=None).span() == (130 - study.MONTH + 1, study.MONTH)
    assert row(first=350, last=10).span() == (350, 27)
    assert row(first=None, last=None).span() is None
    assert study.held([(360, 10)]).sum() == 10


def test_edges_are_those_the_service_answers() -> None:
    # the same errors by another road: month and day of the rows that a grower is shown
    place = next(place for place in study.places() if place.name == "virginia-prince-william")
    keys = sorted({line.crop for line in place.rows})
    shown = windows(place.site, WeatherChoice(), keys, ("open",), study.SOW_YEAR).windows
    found = study.compare(place)
    assert found.edges
    for edge in found.edges:
        mine = [r for r in shown if (r.crop, r.way) == (edge.row.crop, "direct") and r.purpose not in SMALLER]
        closes = [study.apart(study.day_of("{:02}-{:02}".format(*r.closes)), edge.row.last) for r in mine]
        assert edge.error == min(closes, key=abs)


def test_planting_out_is_sowing_moved_by_the_raising() -> None:
    place = next(place for place in study.places() if place.name == "kentucky-central")
    weather = study.year_weather(place.site, WeatherChoice(), study.SOW_YEAR, study.DEFAULT_SEED)
    made = study.calendars([load_catalogue().crop("tomato")], ("open",), weather, study.DEFAULT_SEED)[0]
    sown, planted = study.own(made, False), study.own(made, True)
    assert len(sown.windows) == len(planted.windows) > 0
    for (opens, length), (out, stretch), window in zip(
        sown.windows, planted.windows, made.windows, strict=True
    ):
        waits = [study.raising(made, study.fold(day)) for day in (window.opens, window.closes)]
        assert study.apart(out, opens) == round(waits[0])
        assert study.apart(out + stretch, opens + length) == pytest.approx(waits[1], abs=1)
