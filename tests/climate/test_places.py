"""The offline list of towns, and points typed by hand."""

from __future__ import annotations

import string
from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evenpick.base.errors import UnknownPlace
from evenpick.climate.places import find_place, fold
from evenpick.climate.point import parse_point
from evenpick.climate.site import Site


@pytest.mark.parametrize(
    # Positions and heights of the cities to 0.1° and 50 m from memory of the atlas, not from GeoNames.
    ("text", "lat", "lon", "height"),
    [
        ("Dublin, IE", 53.3, -6.3, 20), ("Dublin, Ireland", 53.3, -6.3, 20), ("dublin", 53.3, -6.3, 20),
        ("Denver", 39.7, -105.0, 1609), ("Bogota", 4.6, -74.1, 2600), ("Perth, Scotland", 56.4, -3.4, 10),
        ("zurich", 47.4, 8.5, 410), ("Zürich, CHE", 47.4, 8.5, 410), ("Reykjavik", 64.1, -21.9, 20),
        ("Cologne", 50.9, 7.0, 50), ("Kampala, Uganda", 0.3, 32.6, 1200),
        ("St Johns, Canada", 47.6, -52.7, 20),
        ("Birmingham, UK", 52.5, -1.9, 140), ("Birmingham, Alabama", 33.5, -86.8, 190),
        ("Suva, Fiji", -18.1, 178.4, 10), ("Hobart, Tasmania, Australia", -42.9, 147.3, 20),
    ],
)
def test_known_cities(text: str, lat: float, lon: float, height: float) -> None:
    site = find_place(text)
    assert (site.lat, site.lon) == (pytest.approx(lat, abs=0.1), pytest.approx(lon, abs=0.1))
    assert site.height_m == pytest.approx(height, abs=50)


@pytest.mark.parametrize(("text", "name"), [
    ("Goerlitz", "Görlitz, Germany"), ("Aalesund, NO", "Ålesund, Norway"), ("Tromsoe", "Tromsø, Norway"),
    ("Bodoe", "Bodø, Norway"), ("Boraas", "Borås, Sweden"), ("Moelndal", "Mölndal, Sweden"),
    ("Naestved", "Næstved, Denmark"), ("Koeln", "Köln, Germany"), ("Zuerich, CH", "Zürich, Switzerland"),
    ("Aarhus", "Århus, Denmark"), ("Saint-Étienne", "Saint-Étienne, France"),
    ("St Etienne, FR", "Saint-Étienne, France"), ("Ste-Foy-lès-Lyon", "Sainte-Foy-lès-Lyon, France"),
    ("Goerlitz Germany", "Görlitz, Germany"),
])
def test_letters_may_be_written_out_as_where_there_is_no_key_for_them(text: str, name: str) -> None:
    assert find_place(text).name == name


def test_a_name_written_with_its_accents_is_not_another_with_others() -> None:
    """Bodó lies in Brazil; without the stroke it may be either."""
    assert find_place("Bodø").name == "Bodø, Norway"
    with pytest.raises(UnknownPlace, match="several towns"):
        find_place("Bodo")
    with pytest.raises(UnknownPlace, match="several towns"):
        find_place("Córdoba")


def test_of_several_in_a_country_the_largest_and_its_name_says_which() -> None:
    assert find_place("springfield, us").name == "Springfield, Missouri, United States"
    assert find_place("Springfield, IL").name == "Springfield, Illinois, United States"
    assert find_place("Lod, IL").name == "Lod, Israel"


@pytest.mark.parametrize(("text", "name"), [
    ("Winnipeg, MB", "Winnipeg, Manitoba, Canada"),
    ("Saint John's, NL", "St. John's, Newfoundland and Labrador, Canada"),
    ("Launceston, Tas", "Launceston, Tasmania, Australia"),
    ("Perth, WA", "Perth, Western Australia, Australia"),
    ("Alice Springs, NT", "Alice Springs, Northern Territory, Australia"),
    ("Yellowknife, NT", "Yellowknife, Northwest Territories, Canada"),
])
def test_states_go_by_the_letters_of_their_post(text: str, name: str) -> None:
    assert find_place(text).name == name


@pytest.mark.parametrize(("text", "name"), [
    ("Macon GA", "Macon, Georgia, United States"),
    ("Jackson Mississippi", "Jackson, Mississippi, United States"),
    ("Winnipeg MB", "Winnipeg, Manitoba, Canada"),
    ("Perth Western Australia", "Perth, Western Australia, Australia"),
    ("New York", "New York City, New York, United States"),
    ("Kansas City MO", "Kansas City, Missouri, United States"),
])
def test_a_region_may_follow_without_a_comma(text: str, name: str) -> None:
    assert find_place(text).name == name


def test_words_that_are_no_region_make_no_town() -> None:
    with pytest.raises(UnknownPlace, match="'Macon Gascony' is not in the list"):
        find_place("Macon Gascony")


@pytest.mark.parametrize("text", ["Springfield", "Cambridge", "Richmond"])
def test_ambiguous_name_lists_its_bearers(text: str) -> None:
    with pytest.raises(UnknownPlace, match="several towns") as caught:
        find_place(text)
    assert "United States (" in str(caught.value)
    assert "Say which" in str(caught.value)


@pytest.mark.parametrize(("text", "bearers"), [
    ("Hamilton", ("Hamilton, Ontario, Canada", "Hamilton, New Zealand")),
    ("Christchurch", ("Christchurch, New Zealand", "Christchurch, England, United Kingdom")),
    ("San Antonio", ("San Antonio, Texas, United States", "San Antonio, Chile")),
])
def test_a_namesake_across_the_equator_is_asked_about_however_small(
    text: str, bearers: tuple[str, ...]
) -> None:
    """Its seasons are turned (Hamilton, New Zealand, has a third of the people of Ontario's)."""
    with pytest.raises(UnknownPlace, match="several towns") as caught:
        find_place(text)
    for bearer in bearers:
        assert f"{bearer} (" in str(caught.value)
        assert find_place(bearer).name == bearer


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("Dubln", "Did you mean Dublin, Ireland"),
        ("Xyzzyq", "nearest larger town"),
        ("Dublin, Germany", "Listed are Dublin, Ireland"),
        ("Москва", "no Latin letters"),
        ("", "no Latin letters"),
        (", Ireland", "no Latin letters"),
    ],
)
def test_unknown_names_say_what_to_do(text: str, told: str) -> None:
    with pytest.raises(UnknownPlace, match=told):
        find_place(text)


@pytest.mark.parametrize(
    "text",
    ["53.43,-6.24", "53.43 -6.24", "53.43; -6.24", "53.43N 6.24W", "53.43n, 6.24w", "6.24W 53.43N",
     "N53.43 W6.24", "W 6.24, N 53.43", "53°25'48\"N 6°14'24\"W", "53° 25.8′ N 6° 14.4′ W"],
)
def test_points(text: str) -> None:
    site = parse_point(text)
    assert (site.lat, site.lon) == (pytest.approx(53.43), pytest.approx(-6.24))
    assert site.height_m is None


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("53,43 -6,24", "not a latitude and a longitude"), ("53.43", "not a latitude"), ("", "not a lat"),
        ("95,0", "latitude of 95"), ("0.3,190", "longitude of 190"), ("-53N 3W", "both a sign and a letter"),
        ("3N 4N", "one latitude and one longitude"), ("3E 4E", "one latitude"), ("53°61'N 3W", "60 or more"),
        ("1e5,3", "not a latitude"), ("nan,nan", "not a latitude"),
    ],
)
def test_bad_points_say_why(text: str, told: str) -> None:
    with pytest.raises(UnknownPlace, match=told):
        parse_point(text)


@given(st.floats(-90, 90), st.floats(-180, 180))
def test_any_point_on_earth_is_read_back(lat: float, lon: float) -> None:
    site = parse_point(f"{lat:.5f}, {lon:.5f}")
    assert (site.lat, site.lon) == (pytest.approx(lat, abs=1e-5), pytest.approx(lon, abs=1e-5))


@given(st.text(alphabet=string.printable + "°′″éøł", max_size=25))
def test_any_text_gives_a_site_or_the_grower_s_error(text: str) -> None:
    for read in (parse_point, find_place):
        with suppress(UnknownPlace):
            assert isinstance(read(text), Site)


def test_fold() -> None:
    assert fold("Saint-Étienne") == fold("St. Etienne") == "st etienne"
    assert fold("Łódź") == "lodz"


@pytest.mark.parametrize(("name", "own", "other"), [
    ("Cancun", "Cancún, Mexico", "Changchun"), ("Islamabad", "Islamabad, Pakistan", "Chattogram"),
    ("Bridgetown", "Bridgetown, Barbados", "Portland"), ("Waterloo", "Waterloo, Ontario", "Austin"),
    ("Victoria", "Victoria, British Columbia", "Hong Kong"),
])  # fmt: skip
def test_a_larger_towns_other_name_does_not_stand_before_its_bearer(name: str, own: str, other: str) -> None:
    """Cancún was Changchun in Manchuria, Islamabad Chittagong, without a question."""
    with pytest.raises(UnknownPlace) as caught:
        find_place(name)
    assert own in str(caught.value)
    assert other in str(caught.value)


def test_a_well_known_other_name_needs_no_region() -> None:
    for name, town in (("Bombay", "Mumbai"), ("Peking", "Beijing"), ("Cologne", "Köln"), ("Wien", "Vienna")):
        assert find_place(name).name.startswith(town)
    assert find_place("Cancun, Mexico").lat == pytest.approx(21.17, abs=0.1)
    assert find_place("Frisco, Texas").lat == pytest.approx(33.15, abs=0.1)


@pytest.mark.parametrize(("typed", "label"), [
    ("Totnes, Devon", "Totnes, England, United Kingdom"), ("Satara, Maharashtra", "Satara, India"),
    ("Pune, Maharashtra, India", "Pune, India"), ("Dunedin, Otago, New Zealand", "Dunedin, New Zealand"),
    ("Truro, Cornwall, UK", "Truro, England, United Kingdom"),
    ("Alexandra, Otago, NZ", "Alexandra, New Zealand"),
])
def test_a_county_is_passed_over_where_one_town_alone_is_called_so(typed: str, label: str) -> None:
    assert find_place(typed).name == label


@pytest.mark.parametrize("typed", ["Totnes, Wales", "Dublin, Narnia", "Totnes, Devon, France",
                                   "Springfield, Ilinois, US", "Truro, Cornwall"])
def test_a_region_that_is_known_or_may_part_namesakes_is_not_passed_over(typed: str) -> None:
    with pytest.raises(UnknownPlace):
        find_place(typed)
