"""When to sow, for a page read in the plot: each crop once, under now, soon or later. INVENTED windows."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import invented
import pytest
from invented import BRITISH

from evenpick.report.when_at_a_glance import at_a_glance
from evenpick.service.outlook_answer import WindowRow

ROW = WindowRow("radish", "Radish", "direct", "open", "fresh", (3, 10), (8, 20), False, 0.9, (), "frosted",
                "too late")
TODAY = date(2027, 6, 2)


def glance(*rows: WindowRow):  # type: ignore[no-untyped-def]
    return at_a_glance(replace(invented.WINDOWS, windows=rows), TODAY, BRITISH)


def test_what_is_open_says_until_when_and_what_closes_first_comes_first() -> None:
    shown = glance(ROW, replace(ROW, crop="kale", name="Kale", closes=(6, 9)))
    assert [(one.name, one.short) for one in shown.now] == [("Kale", "to 9 Jun"), ("Radish", "to 20 Aug")]
    assert shown.said == "2 crops may be sown now."
    assert glance(ROW, replace(ROW, crop="kale", opens=(7, 1))).said == (
        "1 crop may be sown now, 1 more within eight weeks.")
    assert (shown.soon, shown.later) == ((), ())


def test_the_open_ground_is_told_before_a_tunnel_and_each_use_by_its_name() -> None:
    tunnel = replace(ROW, cover="tunnel", closes=(10, 1))
    winter = replace(ROW, purpose="winter use", closes=(7, 1))
    assert glance(winter, tunnel).now[0].short == "tunnel, to 1 Oct; winter use, to 1 Jul"
    baby = replace(tunnel, purpose="baby leaf", closes=(11, 1))
    (one,) = glance(tunnel, ROW, baby).now
    assert one.short == "to 20 Aug; baby leaf, tunnel, to 1 Nov"
    assert len(one.lines) == 3
    assert one.lines[1] == ("Radish, open, in place: 10 Mar - 20 Aug, a crop worth picking in 90 % of years. "
                            "Sooner: frosted; later: too late.")


@pytest.mark.parametrize(("opens", "closes", "under"), [
    ((7, 1), (8, 1), "soon"), ((9, 29), (11, 20), "later"), ((11, 1), (1, 15), "later"),
    ((12, 20), (6, 5), "now"), ((6, 2), (6, 2), "now"), ((6, 3), (6, 4), "soon"), ((2, 29), (6, 1), "later"),
])
def test_a_window_over_the_new_year_is_open_on_both_sides(
    opens: tuple[int, int], closes: tuple[int, int], under: str
) -> None:
    shown = glance(replace(ROW, opens=opens, closes=closes))
    assert [name for name in ("now", "soon", "later") if getattr(shown, name)] == [under]
