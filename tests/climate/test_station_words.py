"""Stations under names that people use, whatever short forms the reports come in."""

from __future__ import annotations

import re

import pytest

from evenpick.climate.station_words import spoken
from evenpick.climate.stations import all_normals


@pytest.mark.parametrize(("name", "country", "said"), [
    ("Dublin Airp.", "Ireland", "Dublin Airport, Ireland"),
    ("Albany Airp./NY", "United States of America", "Albany Airport, New York, United States"),
    ("Barrow/ ASK", "United States of America", "Barrow, Alaska, United States"),
    ("WinnemuccaAirp./NV", "United States of America", "Winnemucca Airport, Nevada, United States"),
    ("Houston-Inter. Airp./TX", "United States of America",
     "Houston International Airport, Texas, United States"),
    ("Hudson Bay Airp./SASK", "Canada", "Hudson Bay Airport, Saskatchewan, Canada"),
    ("Broome/WA", "Australia", "Broome, Western Australia, Australia"),
    ("Yakima/WA", "United States of America", "Yakima, Washington, United States"),
    ("Ambon (Pattimura Airp)/Molukken", "Indonesia", "Ambon (Pattimura Airport), Moluccas, Indonesia"),
    ("Koeln/Bonn", "Germany", "Koeln/Bonn, Germany"),  # a name of two towns stays
    ("St. Helena", "United Kingdom of Great Britain and N.-Ireland", "St. Helena, United Kingdom"),
])
def test_it_is_called_as_people_call_it(name: str, country: str, said: str) -> None:
    assert spoken(name, country) == said


def test_no_station_is_told_in_letters_of_the_reports() -> None:
    raw = re.compile(r"Airp\b|/[A-Z]{2,4}\b|United States of|Islamic|Rep\.|N\.-Ireland|Inseln|  ")
    assert [each.name for each in all_normals() if raw.search(each.name)] == []
