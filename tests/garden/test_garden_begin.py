"""A first garden reads back as what was answered, anywhere on earth."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evenpick.base.errors import BadRequest, EvenpickError, UnknownCrop
from evenpick.climate.site import Site
from evenpick.crops.catalogue import Catalogue, load_catalogue
from evenpick.garden.begin import Answers, Found, begin_garden, first_garden, helpings
from evenpick.garden.garden import Garden
from evenpick.garden.helpings import EVERYBODYS, SOMEBODYS, Helping, usual_season
from evenpick.garden.likes_but import likes_of
from evenpick.garden.reading import understand

Read = Callable[[str], Garden]


def test_five_answers_make_a_garden(read: Read, catalogue: Catalogue) -> None:
    garden = read(first_garden(Answers("53.4, -6.2", 80, 12, people=4, boxes=6), catalogue).text)
    assert (garden.site.lat, garden.site.lon) == (53.4, -6.2)
    assert (garden.area("open"), garden.area("tunnel")) == (80, 12)
    assert [(outlet.kind, outlet.shares) for outlet in garden.outlets] == [("kitchen", 4), ("boxes", 6)]
    assert len(garden.wishes) == 2 * len(EVERYBODYS)
    leek = catalogue.crop("leek").produce.portion_kg
    leeks = [wish.kg_per_week for wish in garden.wishes if wish.item == "leeks"]
    assert leeks == pytest.approx([1.5 * 4 * leek, 1.5 * 2 * 6 * leek])


def test_likes_choose_and_add(read: Read, catalogue: Catalogue) -> None:
    likes = ("Zucchini", "beans", "kohlrabi")
    garden = read(first_garden(Answers("53.4, -6.2", 20, people=2, likes=likes), catalogue).text)
    assert [wish.item for wish in garden.wishes] == ["courgettes", "beans", "kohlrabi"]
    unknown = ("brocoli of doom", "mint")
    with pytest.raises(UnknownCrop) as failure:
        first_garden(Answers("53.4, -6.2", 20, people=2, likes=unknown), catalogue)
    assert [each in str(failure.value) for each in unknown] == [True, True]
    assert "crops file" not in str(failure.value)


def test_what_is_not_known_is_left_out_and_told(read: Read, catalogue: Catalogue) -> None:
    """One word that is no crop here refused ten that are."""
    likes = ("methi", "radish", "zuchini", "peas and quinoa", "strawberries")
    first = first_garden(Answers("53.4, -6.2", 20, people=2, likes=likes), catalogue)
    assert [wish.item for wish in read(first.text).wishes] == ["radish", "peas"]
    assert set(first.left_out) == {"methi", "zuchini", "quinoa", "strawberries"}
    assert "zucchini" in first.left_out["zuchini"]
    for word in ("methi", "zuchini", "quinoa"):
        assert f"# {word}: it is not in the catalogue" in first.text


def test_of_an_item_only_the_crop_that_was_named_is_wished_for(read: Read, catalogue: Catalogue) -> None:
    """Who named snow peas was given shelling peas as well, who named kale sprouting broccoli."""
    likes = ("snap peas", "Runner Beans", "kale", "french beans", "red cabbage", "rocket", "peas")
    wishes = read(first_garden(Answers("53.4, -6.2", 20, people=2, likes=likes), catalogue).text).wishes
    assert [(wish.item, wish.crops) for wish in wishes] == [
        ("snap peas", ("mangetout",)), ("runner beans", ("runner-bean",)), ("kale", ("kale",)),
        ("french beans", ("dwarf-bean", "climbing-bean")), ("cabbage", ("summer-cabbage", "winter-cabbage")),
        ("rocket", ("rocket",)), ("peas", ("pea", "mangetout")),
    ]


def test_ground_that_nobody_waters_is_written_so(read: Read, catalogue: Catalogue) -> None:
    for watered in (False, True):
        text = first_garden(Answers("53.4, -6.2", 20, people=2, watered=watered), catalogue).text
        assert read(text).watered is watered


@pytest.mark.parametrize(("where", "height", "metres"), [
    ("18.52, 73.86, 560 m", "", 560), ("Leadville, CO, 10,150 ft", "", 10150 * 0.3048),
    ("Dublin, IE", "140 m", 140), ("Dublin, IE, 90 m", "140 m", 140),
    ("Satara, 700 m above sea level", "", 700), ("Nelson, NZ at 40 metres", "", 40),
])
def test_the_height_above_the_sea_can_be_told(
    read: Read, catalogue: Catalogue, where: str, height: str, metres: float
) -> None:
    first = first_garden(Answers(where, 20, people=2, height=height), catalogue)
    assert first.site.height_m == pytest.approx(metres)
    assert read(first.text).site.height_m == pytest.approx(metres)


def test_whom_nobody_said_how_much_is_sold_to_stands_as_a_comment(read: Read, catalogue: Catalogue) -> None:
    answers = Answers("53.4, -6.2", 900, boxes=30, likes=("radish",), selling=("a stall",))
    text = first_garden(answers, catalogue).text
    assert [outlet.kind for outlet in read(text).outlets] == ["boxes"]
    at = text.index("# [[outlet]]")
    block, rest = text[at:].split("\n\n", 1)
    bare = "\n".join(line.removeprefix("#").removeprefix(" ") for line in block.splitlines())
    garden = read(f"{text[:at]}{bare}\n\n{rest}")
    assert [(outlet.kind, outlet.shares) for outlet in garden.outlets] == [("boxes", 30), ("stall", 1)]


@pytest.mark.parametrize(("where", "ground", "english", "units", "item"), [
    ("Salem, Oregon", "400 sq ft", "american", "imperial", "zucchini"),
    ("Salem, Oregon", "40 m²", "american", "metric", "zucchini"),
    ("Bristol, GB", "2 x 20 ft x 4 ft", "british", "imperial", "courgettes"),
    ("53.4, -6.2", "", "british", "metric", "courgettes"),
])
def test_words_and_units_are_those_of_the_place_and_of_what_was_typed(
    read: Read, catalogue: Catalogue, where: str, ground: str, english: str, units: str, item: str,
) -> None:
    answers = Answers(where, 37.2, people=2, likes=("courgette",), ground_said=ground)
    garden = read(first_garden(answers, catalogue).text)
    assert (garden.english, garden.units, garden.wishes[0].item) == (english, units, item)
    said = read(first_garden(replace(answers, english="british", units="metric"), catalogue).text)
    assert (said.english, said.units, said.wishes[0].item) == ("british", "metric", "courgettes")


def test_what_the_comments_show_is_in_the_units_that_are_told(read: Read, catalogue: Catalogue) -> None:
    """Who told feet was shown square metres of fleece and a bench in °C; each comment must read as it is."""
    for said, shown in (("400 sq ft", ('"130 ft"', '"200 sq ft"', '"41 °F"', "61 heated")),
                        ("40 m²", ('"40 m"', '"20 m²"', '"5 °C"', "16 heated"))):
        text = first_garden(Answers("Salem, Oregon", 37.2, people=2, likes=("courgette",), ground_said=said),
                            catalogue).text
        assert all(each in text for each in shown)
        bare = re.sub(r"^# (\[bench\]|(?:height|fleece|cloche|modules|lowest) )", r"\1", text, flags=re.M)
        garden = read(bare)
        assert garden.bench is not None
        assert 4.9 < garden.bench.lowest < 5.1
        assert 18 < garden.fleece < 21
        assert 39 < (garden.site.height_m or 0) < 41


def test_american_items_are_liked_by_their_names(read: Read, catalogue: Catalogue) -> None:
    for helping in (*EVERYBODYS, *SOMEBODYS):
        name = helping.named("american", 40.0).item
        garden = read(first_garden(Answers("Boston", 20, people=2, likes=(name,)), catalogue).text)
        assert (garden.wishes[0].item, garden.wishes[0].crops) == (name, helping.crops)


def test_every_crop_of_the_catalogue_has_a_helping(catalogue: Catalogue) -> None:
    served = [key for helping in (*EVERYBODYS, *SOMEBODYS) for key in helping.crops]
    assert {catalogue.crop(key).key for key in served} == {crop.key for crop in catalogue.crops}


def test_seasons_turn_with_the_hemisphere(read: Read, catalogue: Catalogue) -> None:
    def courgettes(where: str) -> list[bool]:
        garden = read(first_garden(Answers(where, 20, people=2, likes=("courgette",)), catalogue).text)
        return [garden.wishes[0].wanted_on(month, 15) for month in (1, 8)]

    assert courgettes("53.4, -6.2") == [False, True]
    assert courgettes("-37.8, 145.0") == [True, False]
    assert courgettes("0.3, 32.6") == [True, True]


def test_tomatoes_are_offered_to_those_with_a_tunnel_or_a_warm_summer(catalogue: Catalogue) -> None:
    def cool(wished: Sequence[Helping], site: Site) -> Mapping[str, Found]:
        late = ((9, 1), (9, 20))
        return {each.item: Found((late if each.needs_tunnel else usual_season(each, site.lat),))
                for each in wished}

    here = Answers("53.4, -6.2", 20, people=2)
    assert '"tomatoes"' not in first_garden(here, catalogue, cool).text
    assert '"tomatoes"' in first_garden(here, catalogue).text
    assert '"tomatoes"' in first_garden(replace(here, tunnel=5), catalogue, cool).text


def test_a_garden_is_never_written_over(tmp_path: Path, catalogue: Catalogue) -> None:
    path = tmp_path / "garden.toml"
    begin_garden(path, Answers("53.4, -6.2", 20, people=2), catalogue)
    before = path.read_text(encoding="utf-8")
    with pytest.raises(BadRequest, match="there already"):
        begin_garden(path, Answers("51.5, 0.1", 90, people=9), catalogue)
    assert path.read_text(encoding="utf-8") == before


@pytest.mark.parametrize(
    "answers",
    [Answers("53.4, -6.2", 0, people=2), Answers("53.4, -6.2", float("nan"), people=2),
     Answers("53.4, -6.2", 20), Answers("53.4, -6.2", 20, people=-1, boxes=3),
     Answers("95, 0", 20, people=2)],
)
def test_answers_that_make_no_garden(answers: Answers, catalogue: Catalogue) -> None:
    with pytest.raises(EvenpickError):
        first_garden(answers, catalogue)


@settings(max_examples=60)
@given(
    lat=st.floats(-90, 90), lon=st.floats(-180, 180), ground=st.floats(0.1, 1e6),
    tunnel=st.one_of(st.just(0.0), st.floats(0.1, 1e4)), people=st.integers(0, 50), boxes=st.integers(1, 200),
)
def test_round_trip(lat: float, lon: float, ground: float, tunnel: float, people: int, boxes: int) -> None:
    catalogue = load_catalogue()
    text = first_garden(Answers(f"{lat:.6f}, {lon:.6f}", ground, tunnel, people, boxes), catalogue).text
    garden = understand(text, "garden.toml", Path(), catalogue)
    assert garden.site.lat == pytest.approx(lat, abs=1e-6)
    assert garden.area("open") == pytest.approx(ground, abs=0.006)
    assert garden.outlets[-1].shares == boxes


def test_what_is_never_wanted_is_neither_wished_for_nor_suggested(read: Read, catalogue: Catalogue) -> None:
    answers = Answers("53.4, -6.2", 80, people=2, nevers=("brassicas", "spinach"))
    garden = read(first_garden(answers, catalogue).text)
    wished = {key for wish in garden.wishes for key in wish.crops}
    assert {"kale", "radish", "spinach"} <= set(garden.never)
    assert not wished & set(garden.never)
    assert {"chard", "lambs-lettuce"} <= wished
    with pytest.raises(BadRequest, match="never want"):
        first_garden(Answers("53.4, -6.2", 80, people=2, likes=("kale",), nevers=("brassicas",)), catalogue)


def test_a_bit_of_everything_in_pots_is_what_grows_in_pots() -> None:
    """Six pots of a foot were to give nineteen things, potatoes, leeks and kale too; 95 % of it was bare."""
    def wished(ground: float) -> set[str]:
        answers = Answers("47.6, -122.3", ground, people=2)
        return {one.item for one in helpings(answers, load_catalogue(), 47.6)}

    assert {"lettuce", "radish", "basil", "chives", "tomatoes"} <= wished(0.44)
    assert not {"potatoes", "leeks", "kale and sprouting broccoli", "cabbage", "courgettes"} & wished(0.44)
    assert {"potatoes", "leeks"} <= wished(12.0)
    kampala = helpings(Answers("0.3, 32.6", 0.44, people=2), load_catalogue(), 0.3)
    assert {"leaf amaranth", "peppers"} <= {one.item for one in kampala}


@pytest.mark.parametrize("likes", ["cut lettuce", "cut-and-come-again lettuce", "loose-leaf lettuce"])
def test_lettuce_for_cutting_is_lettuce(likes: str) -> None:
    """At Sydney "cut lettuce" was left out of the wishes as no crop."""
    (one,) = helpings(Answers("", 12.0, people=2, likes=likes_of(likes)), load_catalogue())
    assert "leaf-lettuce" in one.crops
