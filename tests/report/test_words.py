"""Words and units: exact factors of NIST Special Publication 811 (nist811, appendix B.8), honest digits."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st
from invented import AMERICAN, BRITISH, TODAY

from evenpick.climate.origin import ClimateOrigin
from evenpick.crops.catalogue import load_catalogue
from evenpick.report.days import span
from evenpick.report.place import weather_notes
from evenpick.report.sowings import amount
from evenpick.report.today import how
from evenpick.report.words import figure, percent, sentence, words_for
from evenpick.service.today_answer import Drill


@pytest.mark.parametrize(
    ("said", "wanted"),
    [
        (BRITISH.weight_band(0.0, 0.23), "0 to 230 g"), (BRITISH.weight_band(0.2, 1.2), "0.20 to 1.2 kg"),
        (AMERICAN.weight_band(0.0, 0.2), "0 to 7.1 oz"), (AMERICAN.weight_band(0.2, 1.0), "0.44 to 2.2 lb"),
        (BRITISH.weight(0.35), "350 g"), (BRITISH.weight(1.234), "1.2 kg"), (BRITISH.weight(0), "0 kg"),
        (BRITISH.row(0.2), "0.5 m"), (BRITISH.row(3.3), "3.5 m"), (BRITISH.row(12.4), "12.5 m"),
        (BRITISH.row(16.5), "16.5 m"), (BRITISH.row(1200.0), "1,200 m"),
        (BRITISH.area(2.53), "2.5 m²"), (BRITISH.depth(0.013), "1.5"), (BRITISH.depth(0.0), "0"),
        (BRITISH.height(59.6), "60 m"), (BRITISH.distance(211.7), "212 km"), (BRITISH.temperature(16), "16"),
        (AMERICAN.weight(0.4445), "1.0 lb"), (BRITISH.weight(0.9996), "1.0 kg"),
        (BRITISH.weight(0.98), "980 g"),
        (AMERICAN.weight(0.45359237), "1.0 lb"), (AMERICAN.weight(0.0283495), "1.0 oz"),
        (AMERICAN.row(3.048), "10 ft"), (AMERICAN.area(0.09290304), "1.0 sq ft"),
        (AMERICAN.depth(0.0127), "½"), (AMERICAN.depth(0.12), "4¾"), (AMERICAN.gap(0.9144), "36"),
        (BRITISH.gap(0.025), "2.5"), (BRITISH.gap(0.02), "2"), (BRITISH.gap(0.3048), "30"),
        (BRITISH.gap(0.005), "0"),
        (AMERICAN.distance(1.609344), "1 mile"), (AMERICAN.distance(3.3), "2 miles"),
        (AMERICAN.temperature(16), "61"), (AMERICAN.height(410), "1,345 ft"),
        (AMERICAN.round_distance(100), "about 60 miles"), (AMERICAN.round_distance(50), "about 30 miles"),
        (AMERICAN.round_distance(8), "about 5 miles"), (BRITISH.round_distance(100), "100 km"),
        (amount(None, 2578, 100.0, True, BRITISH), "2,578 plants"),
        (amount(None, 1, 1.0, True, BRITISH), "1 plant"),
    ],
)
def test_units(said: str, wanted: str) -> None:
    assert said == wanted


def test_a_british_and_an_american_name_of_the_catalogue() -> None:
    catalogue = load_catalogue()
    american, british = words_for("american", "metric", catalogue), words_for("british", "metric", catalogue)
    for crop in catalogue.crops:
        assert american.name(crop.name) == crop.american
        assert british.name(crop.name) == crop.name
        assert american.name(f"{crop.name}, baby leaf") == f"{crop.american}, baby leaf"
    assert american.name("Grandmother's bean") == "Grandmother's bean"


def test_spans_of_days() -> None:
    assert span(date(2027, 6, 9), date(2027, 6, 23)) == "9-23 Jun"
    assert span(date(2027, 5, 28), date(2027, 6, 11)) == "28 May-11 Jun"
    assert span(date(2027, 6, 9), date(2027, 6, 9)) == "9 Jun"
    assert span(date(2027, 12, 28), date(2028, 1, 4), 2027) == "28 Dec-4 Jan 2028"
    assert span(date(2028, 6, 9), date(2028, 6, 23), 2027) == "9-23 Jun 2028"


@given(st.floats(0.05, 1e6))
def test_a_figure_is_within_a_twentieth_of_its_value(value: float) -> None:
    assert abs(float(figure(value).replace(",", "")) - value) <= 0.0501 * value + 0.005


@pytest.mark.parametrize(("metric", "imperial"), [
    ("2.8 °C soil", "37 °F soil"), ("-13 °C", "9 °F"), ("108 °C d", "194 °F d"),
    ("6.5 kg/m²", "1.3 lb/sq ft"), ("50 days", "50 days"), ("Boston: sown 25 Mar", "Boston: sown 25 Mar"),
])
def test_what_is_reckoned_from_is_told_in_the_growers_units(metric: str, imperial: str) -> None:
    assert (BRITISH.reckoned(metric), AMERICAN.reckoned(metric)) == (metric, imperial)


@pytest.mark.parametrize(("value", "said"), [(0.0, "0"), (0.0049, "<0.01"), (0.005, "0.01"), (0.35, "0.35")])
def test_what_is_little_is_not_nothing(value: float, said: str) -> None:
    assert figure(value) == said
    assert AMERICAN.grams(0.02) == "<0.01 oz"
    assert AMERICAN.grams(1200) == "2.6 lb"
    assert BRITISH.grams(9900) == "9.9 kg"


def test_shares() -> None:
    said = [percent(share) for share in (0, 0.001, 0.052, 1, float("nan"))]
    assert said == ["0 %", "<1 %", "5 %", "100 %", "-"]


def test_a_sentence() -> None:
    assert [sentence(said) for said in ("never raw", "Boil it.", "")] == ["Never raw.", "Boil it.", ""]


def test_how_far_temperatures_were_moved_is_told_in_the_growers_units() -> None:
    moved = "minimum -3.9 °C, maximum +2.2 °C, rain × 1.50 over the year."
    origin = ClimateOrigin("station normals", "Las Vegas", 182.4, -166.0, 15, "", (moved,))
    assert list(weather_notes(origin, BRITISH)) == [f"M{moved[1:]}"]
    assert list(weather_notes(origin, AMERICAN)) == [
        "Minimum -7.0 °F, maximum +4.0 °F, rain × 1.50 over the year."
    ]


def test_areas_in_a_sentence_are_told_in_the_growers_units() -> None:
    said = "It needs at least 79 m² all year round; there are 9.3 m²."
    assert BRITISH.with_areas(said) == said
    assert AMERICAN.with_areas(said) == "It needs at least 850 sq ft all year round; there are 100 sq ft."


@pytest.mark.parametrize(("cells", "said"), [(1, "1 cell, 1 cm deep"), (19, "19 cells, 1 cm deep")])
def test_one_cell_is_a_cell(cells: int, said: str) -> None:
    assert how(replace(TODAY.jobs[0], drill=Drill(0.01, 0.3, 0.3, cells)), BRITISH) == said


def test_a_height_that_was_taken_is_told_in_the_readers_unit() -> None:
    """A plan in feet said that the ground lies at 302 m."""
    note = "Your height was taken to be that of the towns about you, 302 m."
    assert BRITISH.with_differences(note) == note
    assert AMERICAN.with_differences(note).endswith("towns about you, 991 ft.")
