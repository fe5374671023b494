"""What is not sown anew each year, chives, and what dies of cold before there is frost, basil."""

from __future__ import annotations

from datetime import date

import pytest
from test_told_types import planned

from evenpick.climate.site import Site
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.garden import WeatherChoice
from evenpick.outlook.outcome import CHILLED
from evenpick.report.outlook import outlook_page, why_page
from evenpick.report.terminal import render
from evenpick.report.words import words_for
from evenpick.service.jobs import of_planned
from evenpick.service.outlook import outlook
from evenpick.service.why import why

MINNEAPOLIS = Site("Minneapolis", 44.98, -93.26, 255.0)
SZCZECIN = Site("Szczecin", 53.43, 14.55, 20.0)


def test_chives_are_told_to_stand_and_have_no_last_picking() -> None:
    told = outlook(MINNEAPOLIS, WeatherChoice(), "chives", date(2027, 4, 15))
    assert told.last_picking is None
    said = " ".join(render(outlook_page(told, words_for("british", "metric", load_catalogue()))).split())
    assert "It stands for years: frost takes its leaf and it is cut again each spring." in said
    assert "last picking" not in said


@pytest.mark.parametrize(("crop", "cleared"), [("chives", False), ("spring-onion", True)])
def test_nobody_is_told_to_clear_what_stands_for_years(crop: str, cleared: bool) -> None:
    jobs = of_planned(planned(load_catalogue().crop(crop), 1.0), made=True)
    assert ("clear" in {job.kind for job in jobs}) == cleared


@pytest.mark.parametrize(("crop", "cover", "told"), [
    ("spinach", "tunnel", True), ("spinach", "open", False), ("kale", "tunnel", False),
])
def test_fleece_in_the_tunnel_is_told_where_it_is_counted_on(crop: str, cover: str, told: bool) -> None:
    answer = outlook(MINNEAPOLIS, WeatherChoice(), crop, date(2027, 9, 10), cover, "direct", "overwintering")
    said = " ".join(render(outlook_page(answer, words_for("british", "metric", load_catalogue()))).split())
    assert ("In hard frost lay fleece over it inside the tunnel" in said) == told


def test_basil_is_told_to_die_of_cold() -> None:
    answer = why(SZCZECIN, WeatherChoice(), "basil", date(2027, 4, 5))
    assert dict(answer.outlook.fates)[CHILLED] == dict(answer.hazards)["killed by cold before picking"] > 0
    said = render(why_page(answer, words_for("british", "metric", load_catalogue())))
    assert "frost" not in said.partition("SOURCES")[0]
    assert "cold kills seedlings below" in " ".join(said.split())
