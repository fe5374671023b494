"""What is read in passing: how many, how much, in the grower's own units, and no more words than it takes."""

from __future__ import annotations

import re
from dataclasses import replace

import invented
import numpy as np
import pytest
from invented import AMERICAN, BRITISH

from evenpick.plan.interval_rule import Rule
from evenpick.report.ground import ground_page
from evenpick.report.in_short import in_short
from evenpick.report.page import Items
from evenpick.report.pickings import about
from evenpick.report.terminal import render
from evenpick.report.today import glance
from evenpick.service.advice import ADVICE
from evenpick.service.outlook_answer import Band
from evenpick.service.today_answer import Pick, ThirstyBed
from evenpick.service.water import MEASURED_AIR, USUAL_AIR


@pytest.mark.parametrize(("kg", "piece", "each", "said"), [
    (0.28, "ear", 0.28, "1 ear"), (7.4, "fruit", 0.2, "37 fruits"), (9.0, "bunch", 0.1, "90 bunches"),
    (0.05, "head", 0.3, ""), (5.0, "kg", 1.0, ""),
])
def test_pieces_are_counted_in_words(kg: float, piece: str, each: float, said: str) -> None:
    """"about 1 × ear", "79 × root" stood there."""
    assert about(kg, piece, each) == said


def test_a_long_row_has_its_thousands_mark() -> None:
    """1,380 plants stood beside 1330 ft of row."""
    assert (AMERICAN.row(405.4), BRITISH.row(1330.0)) == ("1,330 ft", "1,330 m")


def test_the_wind_taken_for_granted_is_in_the_growers_units() -> None:
    for note in (USUAL_AIR, MEASURED_AIR):
        said = AMERICAN.assumed(note)
        assert "4.5 mph" in said
        assert "1.1 mph" in said
        assert "m/s" not in said
        assert BRITISH.assumed(note) == note


def test_one_wish_is_not_told_as_times() -> None:
    whole, less = (Rule(14, scale, np.zeros(1)).words for scale in (1.0, 0.7))
    assert (whole, less) == ("every 2 weeks, the year's wish", "every 2 weeks, 0.7 times the year's wish")


def test_the_jobs_and_what_to_pick_are_told_in_a_line_each() -> None:
    late = sum(job.late for job in invented.TODAY.jobs)
    picked = tuple(Pick(f"item {n}", "kg", 1.0, Band(0.0, float(n), 9.0)) for n in range(7))
    jobs, pick, _ = glance(replace(invented.TODAY, pick=picked), BRITISH)
    assert jobs == f"{len(invented.TODAY.jobs)} jobs this week, {late} late"
    assert pick == ("Pick: item 6 6.0 kg, item 5 5.0 kg, item 4 4.0 kg, item 3 3.0 kg, item 2 2.0 kg, "
                    "and 1 more")


def test_nothing_to_do_and_nothing_to_pick_are_told_so() -> None:
    assert glance(invented.IDLE, BRITISH) == (
        "Nothing has to be done this week", "Nothing to pick this week", "")


def test_beds_to_water_are_told_at_a_glance() -> None:
    """On the eve of a week away the four beds to fill stood under everything else, and not in the glance."""
    beds = tuple(ThirstyBed(str(n), name.lower(), name, "bed", "open", litres, "")
                 for n, (name, litres) in enumerate([("Okra", 140.0), ("Tomato", 130.0), ("Okra", 60.0)]))
    told = glance(replace(invented.TODAY, thirsty=beds), BRITISH)[2]
    assert told == "Water today: Okra, Tomato, about 330 l"


def test_of_what_is_ripe_and_has_no_amounts_nothing_is_said() -> None:
    ripe = replace(invented.TODAY.jobs[0], kind="pick")
    assert glance(replace(invented.TODAY, pick=(), jobs=(ripe,)), BRITISH)[1] == ""


def test_what_would_mend_a_wish_does_not_stand_for_a_wish_in_short() -> None:
    cannot = ("peas: nothing can be had in May.", "Too soon: kale.", ADVICE)
    (_, told) = in_short("good.", (), cannot, BRITISH)
    assert isinstance(told, Items)
    assert told.entries == ("good.", "Peas: nothing can be had in May.", "Too soon: kale.")


def test_a_bed_without_a_shape_tells_how_much_and_not_from_where() -> None:
    """Half an acre told "18208.9-18746.7 sq ft", from an end that it does not have."""
    beds = tuple(replace(bed, length_m=None, width_m=None) for bed in invented.GROUND.beds)
    said = render(ground_page(replace(invented.GROUND, beds=beds), AMERICAN, invented.GROUND.begins, 52))
    assert re.search(r" \d+ sq ft", said)
    assert not re.search(r"[\d.]+-[\d.]+ (sq ft|m²)", said)


def test_a_pot_that_is_filled_is_told_whole() -> None:
    """Every pot's row read "0.07 m²"."""
    corner = next(bed for bed in invented.GROUND.beds if bed.width_m is None)
    pot = replace(corner, area_m2=0.0707, spans=(replace(corner.spans[0], from_m=0.0, to_m=0.0707),))
    said = render(ground_page(replace(invented.GROUND, beds=(pot,)), BRITISH, invented.GROUND.begins, 52))
    assert re.search(r"Chard +corner +all of it", said)
