"""A first garden asks for things when its climate gives them (service/first_seasons.py).

Dates of the trade beside each place are common practice, no source, unless said.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from evenpick.base.errors import BadRequest
from evenpick.base.trade import CoverName
from evenpick.climate import places
from evenpick.climate.places import find_place
from evenpick.climate.site import Site
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.begin import Answers, helpings
from evenpick.garden.garden import in_season
from evenpick.garden.helpings import ALL_YEAR, Season, usual_season
from evenpick.garden.spoken_area import spoken_area
from evenpick.outlook.windows import round_year
from evenpick.service.beginning import begin
from evenpick.service.first_seasons import BREAK, LEAST, seasons_here
from evenpick.service.planning import make_plan
from evenpick.service.setups import garden_of

PLACES = {
    "Dublin": Site("Dublin", 53.36, -6.27), "Phoenix": Site("Phoenix", 33.45, -112.07),
    "Singapore": Site("Singapore", 1.35, 103.82), "Palermo": Site("Palermo", 38.12, 13.36),
    "Nelson": Site("Nelson", -41.27, 173.28), "Macon": Site("Macon", 32.84, -83.63),
    "Helsinki": Site("Helsinki", 60.17, 24.94, 20.0), "Saskatoon": Site("Saskatoon", 52.13, -106.67, 480.0),
    "Aberdeen": Site("Aberdeen", 57.15, -2.1, 20.0),
}
Day = tuple[int, int]
LIKED = ("lettuce", "courgettes", "peas", "leeks", "broad beans", "beans", "sweetcorn", "tomatoes",
         "potatoes")


@cache
def seasons(place: str, covers: tuple[CoverName, ...] = ("open",)) -> dict[str, tuple[Season, ...]]:
    asked = helpings(Answers("", 40, people=2, likes=LIKED), load_catalogue())
    found = seasons_here(asked, PLACES[place], covers, load_catalogue())
    return {item: each.seasons for item, each in found.items()}


def wanted(place: str, item: str, month: int, covers: tuple[CoverName, ...] = ("open",)) -> bool:
    return any(in_season(opens, closes, month, 15) for opens, closes in seasons(place, covers)[item])


def test_a_cool_temperate_kitchen_keeps_its_seasons() -> None:
    for helping in helpings(Answers("", 40, people=2, likes=LIKED), load_catalogue()):
        if helping.item not in ("courgettes", "sweetcorn", "tomatoes", "leeks", "beans", "potatoes"):
            assert seasons("Dublin")[helping.item] == (usual_season(helping, 53.36),)
    ((opens, closes),) = seasons("Dublin")["leeks"]
    assert (10, 1) < opens < (11, 1), "most years have none on the first of October"
    assert closes == (4, 15)
    ((opens, closes),) = seasons("Dublin")["beans"]  # in the open: none is ripe on the tenth
    assert (7, 10) < opens < (8, 10)
    assert (9, 25) < closes < (10, 20)
    ((opens, closes),) = seasons("Dublin")["courgettes"]  # in the open, from late July
    assert (7, 1) < opens < (8, 10)
    assert (9, 20) < closes <= (10, 5)


@pytest.mark.parametrize(
    ("item", "months", "never"), [("lettuce", (1, 3, 12), (7, 8)), ("peas", (3,), (7, 8, 9))]
)
def test_a_desert_has_its_salad_in_winter(item: str, months: tuple[int, ...], never: tuple[int, ...]) -> None:
    assert all(wanted("Phoenix", item, month) for month in months)
    assert not any(wanted("Phoenix", item, month) for month in never)


def test_with_a_tunnel_sicily_has_its_peas_long_before_june() -> None:
    """They are eaten there from winter to spring; June and July alone are a cool country's."""
    for item in ("peas", "broad beans"):
        assert all(wanted("Palermo", item, month, ("open", "tunnel")) for month in (1, 3, 5))
        assert not wanted("Palermo", item, 9, ("open", "tunnel"))


def test_what_is_to_be_had_before_and_after_keeps_its_season() -> None:
    """With a tunnel they are to be had from August to June at Nelson; wished for were ten months of peas."""
    for item, closes in (("peas", (1, 31)), ("broad beans", (1, 20))):
        assert seasons("Nelson", ("open", "tunnel"))[item] == (((12, 10), closes),)


def test_a_hot_summer_gives_its_fruits_and_pods_from_june_on() -> None:
    """British seasons had beans, courgettes and tomatoes at Macon, Georgia, wished for from July."""
    for item, months in (("courgettes", (6, 9, 10)), ("beans", (6, 9, 10)), ("sweetcorn", (7, 9)),
                         ("tomatoes", (7, 9, 10))):
        assert all(wanted("Macon", item, month) for month in months), item
        assert not any(wanted("Macon", item, month) for month in (1, 3, 4, 12)), item
    assert seasons("Macon")["leeks"] == (((10, 1), (4, 15)),)  # no fruit


def test_a_tunnel_makes_no_hot_summer() -> None:
    """It would be asked for beans from May on, where it has room for little."""
    for item in ("beans", "courgettes"):
        (helping,) = helpings(Answers("", 40, 8, people=2, likes=(item,)), load_catalogue())
        assert seasons("Dublin", ("open", "tunnel"))[item] == (usual_season(helping, 53.36),)


def test_what_no_sowing_gives_is_not_wished_for() -> None:
    assert seasons("Singapore")["peas"] == seasons("Singapore")["broad beans"] == ()
    assert seasons("Singapore")["courgettes"] == (ALL_YEAR,)


def test_the_place_is_looked_up_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[str] = []

    def looked_up(text: str) -> Site:
        asked.append(text)
        return find_place(text)

    monkeypatch.setattr(places, "find_place", looked_up)
    path = tmp_path / "garden.toml"
    begin(path, Answers("Dublin, IE", 40, people=2, likes=("radish",)), load_catalogue())
    assert asked == ["Dublin, IE"]
    assert 'place = "Dublin, IE"' in path.read_text(encoding="utf-8")


def test_liked_all_the_same_it_stands_there_with_a_word(tmp_path: Path) -> None:
    path = tmp_path / "garden.toml"
    begin(path, Answers("1.35, 103.82", 40, people=2, likes=("peas", "courgettes")), load_catalogue())
    text = path.read_text(encoding="utf-8")
    assert "# peas: " in text
    assert '# item = "peas"' in text
    assert [wish.item for wish in garden_of(path).wishes] == ["courgettes"]


LIKES = ("tomatoes", "aubergines", "radish", "sweetcorn")


@pytest.mark.parametrize(("where", "tunnel", "item"), [
    ("Bristol, GB", 0.0, "aubergines"),
    ("Inverness, GB", 0.0, "sweetcorn"), ("Inverness, GB", 20.0, "aubergines"),
])
def test_a_first_garden_wishes_for_nothing_that_its_plan_calls_impossible(
    tmp_path: Path, where: str, tunnel: float, item: str
) -> None:
    path = tmp_path / "garden.toml"
    first = begin(path, Answers(where, 40, tunnel, people=2, likes=LIKES), load_catalogue())
    plan = make_plan(path, date(2026, 11, 29), stop=lambda: True)
    assert not [words for words in plan.cannot if "none of its crops succeeds" in words]
    assert item in first.left_out
    assert not [wish for wish in garden_of(path).wishes if wish.item in first.left_out]
    assert {wish.item for wish in garden_of(path).wishes} | first.left_out.keys() == set(LIKES)


def test_what_is_left_out_is_told_with_its_reason_and_what_would_mend_it(tmp_path: Path) -> None:
    """Aubergines in the open fail in most years at Bristol, early tomatoes do not; a tunnel mends it."""
    answers, crops = Answers("Bristol, GB", 40, people=2, likes=LIKES), load_catalogue()
    left_out = begin(tmp_path / "open.toml", answers, crops).left_out
    assert left_out.keys() == {"aubergines"}
    assert "2 years of 10" in left_out["aubergines"]
    assert "a tunnel would mend that" in left_out["aubergines"]
    assert not begin(tmp_path / "tunnel.toml", replace(answers, tunnel=8), crops).left_out


def test_what_never_succeeds_is_not_told_as_sown_in_the_dark(tmp_path: Path) -> None:
    """Okra in the open at Inverness was left out for 'days too short', those of New Year's Day."""
    answers = Answers("Inverness, GB", 40, people=2, likes=("okra", "radish"))
    left_out = begin(tmp_path / "garden.toml", answers, load_catalogue()).left_out
    assert "hardly any year gives it here" in left_out["okra"]
    assert "days too short" not in left_out["okra"]


@pytest.mark.parametrize(
    ("days", "told"),
    [
        ([], []),
        ([(0, 366)], [(0, 365)]),
        ([(100, 200)], [(100, 199)]),
        ([(0, 50), (300, 366)], [(300, 415)]),  # round the New Year
        ([(100, 150), (170, 200)], [(100, 199)]),  # a break of under four weeks
        ([(100, 150), (190, 200)], [(100, 149)]),  # a season of under two weeks
    ],
)  # fmt: skip
def test_runs_round_the_year(days: list[tuple[int, int]], told: list[tuple[int, int]]) -> None:
    often = np.zeros(366, dtype=bool)
    for first, after in days:
        often[first:after] = True
    assert round_year(often, LEAST, BREAK) == told


@pytest.mark.parametrize("text", ["0", "", "0 m2", "0 m²", "0.0 sq ft", "none"])
def test_no_ground_is_said_in_many_ways(text: str) -> None:
    assert spoken_area(text) == 0.0


def test_no_file_is_written_where_nothing_liked_is_to_be_had(tmp_path: Path) -> None:
    """A garden file without a wish can't be read: `begin` wrote one, and then failed to read it."""
    path = tmp_path / "garden.toml"
    with pytest.raises(BadRequest, match=r"can be counted on here \(sweetcorn: .*Name something else"):
        begin(path, Answers("64.15, -21.95", 20.0, people=2, likes=("sweetcorn",)), load_catalogue())
    assert not path.exists()


def test_where_nobody_waters_it_is_water_that_is_missing() -> None:
    """At Satara peas live in the dry half of the year: 'a tunnel would mend that' was said. Onions of the
    rains are grown there without water."""
    catalogue, site = load_catalogue(), Site("Satara", 17.69, 73.99, 709.0)
    wished = helpings(Answers("", 500, people=2, likes=("peas", "okra", "onions")), catalogue)
    dry = seasons_here(wished, site, ["open"], catalogue, watered=False)
    assert "water would mend that" in dry["peas"].why
    assert dry["okra"].seasons
    assert dry["onions"].seasons
    assert seasons_here(wished, site, ["open"], catalogue)["peas"].seasons


@pytest.mark.parametrize(
    ("place", "tomatoes"), [("Lyon, FR", True), ("Burlington, VT", True), ("Leeds, GB", False)])
def test_a_bit_of_everything_has_tomatoes_where_they_ripen_outdoors(
    tmp_path: Path, place: str, tomatoes: bool
) -> None:
    """A first garden of a family at Lyon had kale and no tomato, for there was no tunnel."""
    first = begin(tmp_path / "garden.toml", Answers(place, 60, people=2), load_catalogue())
    assert ('item = "tomatoes"' in first.text) is tomatoes
    assert ('item = "cucumbers"' in first.text) is tomatoes


def test_the_tropics_ask_for_their_own(tmp_path: Path) -> None:
    first = begin(tmp_path / "garden.toml", Answers("Kampala, UG", 60, people=2), load_catalogue())
    for item in ("tomatoes", "leaf amaranth", "sweet potatoes", "aubergines"):
        assert f'item = "{item}"' in first.text


@pytest.mark.parametrize(("place", "item", "opens", "closes"), [
    ("Helsinki", "peas", ((6, 25), (7, 15)), ((8, 10), (9, 5))),
    ("Helsinki", "beans", ((7, 14), (7, 31)), ((9, 15), (10, 10))),
    ("Helsinki", "potatoes", ((7, 5), (8, 1)), ((3, 1), (3, 31))),
    ("Saskatoon", "peas", ((6, 25), (7, 15)), ((8, 10), (9, 5))),
    ("Aberdeen", "beans", ((7, 14), (8, 5)), ((10, 1), (10, 20))),
    ("Aberdeen", "peas", ((6, 14), (7, 1)), ((8, 1), (8, 15))),
])  # fmt: skip
def test_a_cold_north_wants_nothing_before_it_is_ripe(
    place: str, item: str, opens: tuple[Day, Day], closes: tuple[Day, Day]
) -> None:
    """Peas were wished for in the open of Helsinki from 4 to 31 July, beans from 10 July (none is ripe for a
    fortnight) and potatoes from 15 June; what begins later goes on so much longer."""
    (season,) = seasons(place)[item]
    assert opens[0] <= season[0] <= opens[1]
    assert closes[0] <= season[1] <= closes[1]
