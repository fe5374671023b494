"""The kept plan in the garden's beds (docs/design/beds.md), on an INVENTED plan."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from evenpick.base.days import parse_date
from evenpick.base.errors import BadRequest
from evenpick.climate.site import Site
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.diary import Cleared, Entry, Fact, PlantedOut, Sowed, new_id
from evenpick.garden.garden import Bed, Garden, Grew, Ground
from evenpick.garden.limits import Limits, Rest
from evenpick.garden.record import Record, fold
from evenpick.service.book import record_of
from evenpick.service.ground import ground, laid, laid_as_kept
from evenpick.service.ground_answer import places
from evenpick.service.outlook_answer import Band
from evenpick.service.pickings_answer import Measured
from evenpick.service.plan_answer import MadeFrom, PlanAnswer, PlannedSowing, StandingSowing
from evenpick.service.planning import make_plan
from evenpick.service.setups import garden_of

SITE = Site("Testham", 53.4, -6.2, 40.0)
NOTHING = Measured(0.0, 0.0, 0.0, 0.0)


def garden(*beds: Bed) -> Garden:
    ground = Ground("plot", "open", sum(bed.area for bed in beds), beds)
    return Garden(SITE, (ground,), (), ())


def bed(name: str, *grew: Grew) -> Bed:
    return Bed(name, 5.0, 1.2, 6.0, grew)


def sowing(number: int, crop: str, sow: str, clear: str, area: float, **rest: object) -> PlannedSowing:
    day = date.fromisoformat(sow)
    made = PlannedSowing(
        f"{crop}.{number}", number, day, crop, crop, crop.capitalize(), "direct", "open", area, None, None,
        None, None, None, None, date.fromisoformat(clear), 0.9, None, day, "",
    )
    return replace(made, **rest)  # type: ignore[arg-type]


def standing(crop: str, where: str, clear: date) -> StandingSowing:
    return StandingSowing("old", date(2026, 9, 1), crop, crop.capitalize(), "direct", "open", where, 6.0, 1.0,
                          None, None, Band(0, 0, 0), clear)


def plan(sowings: Sequence[PlannedSowing], standing: Sequence[StandingSowing] = ()) -> PlanAnswer:
    made = MadeFrom("", "", "", 1, 1, 1, "")
    return PlanAnswer(
        SITE, None, date(2027, 2, 1), False, tuple(sowings), (), (), (), NOTHING, NOTHING, "", None,  # type: ignore[arg-type]
        0.0, (), (), made, (), tuple(standing),
    )


def diary(*facts: tuple[str, str, Fact]) -> Record:
    return fold([Entry(identity, parse_date(day), fact) for identity, day, fact in facts])


def test_rows_and_places_of_a_sowing() -> None:
    answer = laid(garden(bed("gate")), plan([sowing(1, "leek", "2027-04-03", "2027-12-06", 3.0)]), diary())
    (span,) = answer.beds[0].spans
    assert (span.to_m - span.from_m, span.family, span.starts, span.ends) == (
        pytest.approx(2.5), "Amaryllidaceae", date(2027, 4, 3), date(2027, 12, 6))
    (place,) = places(answer)["leek.1"]
    assert (place.bed, place.whole_bed, place.rows) == ("gate", False, span.rows)


def test_history_sends_a_family_elsewhere_or_is_told() -> None:
    tired, other = bed("gate", Grew(2026, "Brassicaceae")), bed("wall")
    kale = sowing(1, "kale", "2027-05-01", "2027-12-06", 6.0)
    assert laid(garden(tired, other), plan([kale]), diary()).beds[1].spans[0].name == "Kale"
    (breach,) = laid(garden(tired), plan([kale]), diary()).too_soon
    assert (breach.bed, breach.last, breach.years, breach.after, breach.number) == ("gate", 2026, 4, "", 1)


def test_what_the_diary_cleared_in_a_bed_is_history() -> None:
    sown = new_id()
    record = diary((sown, "2026-05-02", Sowed("kale", "direct", "open", 3.0, ground="gate")),
                   (new_id(), "2026-11-01", Cleared(sown)))
    answer = laid(garden(bed("gate")), plan([sowing(1, "radish", "2027-05-01", "2027-06-28", 3.0)]), record)
    assert answer.beds[0].grew == ((2026, "Brassicaceae"),)
    assert [breach.last for breach in answer.too_soon] == [2026]


def test_the_diary_says_in_which_bed_a_planned_sowing_was_made() -> None:
    leek = Sowed("leek", "direct", "open", 3.0, ground="Wall", planned="leek.1")
    made = plan([sowing(1, "leek", "2027-04-03", "2027-12-06", 3.0)])
    answer = laid(garden(bed("gate"), bed("wall")), made, diary((new_id(), "2027-04-05", leek)))
    (span,) = answer.beds[1].spans
    assert span.starts == date(2027, 4, 5)


def test_raised_sowings_take_their_ground_when_planted_out() -> None:
    sown = new_id()
    kale = sowing(1, "kale", "2027-04-03", "2027-12-06", 3.0, way="raised", plant_out=date(2027, 5, 20))
    assert laid(garden(bed("gate")), plan([kale]), diary()).beds[0].spans[0].starts == date(2027, 5, 20)
    record = diary((sown, "2027-04-03", Sowed("kale", "raised", "open", 3.0, planned="kale.1")),
                   (new_id(), "2027-05-27", PlantedOut(sown, "gate")))
    assert laid(garden(bed("gate")), plan([kale]), record).beds[0].spans[0].starts == date(2027, 5, 27)


def test_what_stands_keeps_its_bed_and_what_follows_says_so() -> None:
    stood = standing("spinach", "wall", date(2027, 4, 5))
    carrot = sowing(1, "early-carrot", "2027-04-10", "2027-08-02", 6.0)
    answer = laid(garden(bed("gate"), bed("wall")), plan([carrot], [stood]), diary())
    old, new = answer.beds[1].spans
    assert (old.number, new.follows, new.bare_days) == (None, "Spinach", 5)


def test_no_room_is_told_with_the_day_that_would_mend_it() -> None:
    kale = sowing(2, "kale", "2027-04-24", "2027-09-06", 6.0, latest=date(2027, 6, 1))
    stood = standing("onion", "gate", date(2027, 5, 3))
    (told,) = laid(garden(bed("gate")), plan([kale], [stood]), diary()).no_room
    assert (told.number, told.area_m2) == (2, pytest.approx(6.0))
    assert told.mend == "there is room from 8 May, still in its window"


@pytest.mark.parametrize(("stood_m2", "pieces", "left"), [(5.0, [3.0], 0.13), (4.8, [1.08, 2.05], 0.0)])
def test_no_piece_is_shorter_than_three_plants(stood_m2: float, pieces: list[float], left: float) -> None:
    """Crisp lettuces stand 30 cm apart in the row: three take 0.9 m of a bed, 1.08 m². The wall bed has 3 m²
    free; what is left over is told where the other bed has less, and is else made up to so much."""
    end = date(2027, 12, 1)
    stood = [replace(standing("leek", "gate", end), area_m2=stood_m2),
             replace(standing("leek", "wall", end), id="older", area_m2=3.0)]
    lettuce = sowing(1, "crisp-lettuce", "2027-05-01", "2027-07-12", 3.13)
    answer = laid(garden(bed("gate"), bed("wall")), plan([lettuce], stood), diary())
    spans = [span for each in answer.beds for span in each.spans if span.crop == "crisp-lettuce"]
    assert sorted(span.area_m2 for span in spans) == pytest.approx(pieces)
    assert sum(told.area_m2 for told in answer.no_room) == pytest.approx(left)
    assert all("but for pieces too small to sow it on" in told.why for told in answer.no_room)


def test_potatoes_do_not_follow_potatoes_where_another_bed_is_free() -> None:
    potatoes = [sowing(1, "early-potato", "2027-03-20", "2027-07-01", 6.0),
                sowing(2, "main-potato", "2027-07-08", "2027-11-01", 6.0)]
    answer = laid(garden(bed("gate"), bed("wall")), plan(potatoes), diary())
    assert [[span.crop for span in each.spans] for each in answer.beds] == [["early-potato"], ["main-potato"]]
    assert answer.too_soon == ()
    (told,) = laid(garden(bed("gate")), plan(potatoes), diary()).too_soon
    assert (told.number, told.bed, told.after, told.straight_from) == (
        2, "gate", "Early-potato", date(2027, 7, 1))


def test_salads_may_follow_salads() -> None:
    salads = [sowing(1, "leaf-lettuce", "2027-03-20", "2027-05-20", 6.0),
              sowing(2, "cos-lettuce", "2027-05-22", "2027-07-20", 6.0)]
    assert laid(garden(bed("gate")), plan(salads), diary()).too_soon == ()


def test_ground_at_rest_lies_in_the_beds() -> None:
    first, last = parse_date("2027-01-04"), parse_date("2027-06-30")
    rests = (Rest("plot", "open", 6.0, first, last, "lupins"), Rest("plot", "open", 6.0, 0, 9, "long ago"))
    resting = replace(garden(bed("gate"), bed("wall")), limits=Limits(rests=rests))
    carrot = sowing(1, "early-carrot", "2027-04-10", "2027-08-02", 6.0)
    answer = laid(resting, plan([carrot]), diary())
    (lupins,), (sown,) = answer.beds[0].spans, answer.beds[1].spans
    assert (lupins.name, lupins.crop, lupins.number, lupins.to_m, lupins.ends) == (
        "lupins", "", None, pytest.approx(5.0), date(2027, 7, 1))
    assert sown.name == "Early-carrot"
    (told,) = laid(resting, plan([replace(carrot, area_m2=12.0)]), diary()).no_room
    assert (told.name, told.area_m2) == ("Early-carrot", pytest.approx(6.0))


def test_ground_that_cannot_all_rest_says_so() -> None:
    first, last = parse_date("2027-01-04"), parse_date("2027-06-30")
    rest = Rest("plot", "open", 6.0, first, last, "lupins")
    resting = replace(garden(bed("gate")), limits=Limits(rests=(rest,)))
    stood = replace(standing("leek", "gate", date(2027, 5, 1)), area_m2=3.0)
    (told,) = laid(resting, plan([], [stood]), diary()).no_room
    assert (told.name, told.area_m2) == ("lupins", pytest.approx(3.0))
    assert told.mend == "let less of it rest, or clear what stands there sooner"


def test_sowings_outside_the_plan_are_noted() -> None:
    record = diary((new_id(), "2027-04-05", Sowed("leek", "direct", "open", 3.0)))
    (note,) = laid(garden(bed("gate")), plan([]), record).notes
    assert "not in the plan" in note


def test_without_a_plan_it_says_how_to_get_one(tmp_path: Path) -> None:
    with pytest.raises(BadRequest, match="evenpick plan"):
        ground(tmp_path / "garden.toml")


def test_southern_summers_are_one_season() -> None:
    south = replace(garden(bed("gate")), site=replace(SITE, lat=-37.8))
    kale = [sowing(1, "kale", "2027-08-01", "2027-11-01", 6.0),
            sowing(2, "radish", "2028-02-01", "2028-04-01", 6.0)]
    assert laid(south, plan(kale), diary()).too_soon == ()
    assert len(laid(garden(bed("gate")), plan(kale), diary()).too_soon) == 1


def test_years_of_a_family_that_the_grower_gives_hold_in_the_beds_too() -> None:
    """Leeks where garlic grew five years before: the usual three or four years are over, his six are not."""
    beds = (bed("top", Grew(2022, "Amaryllidaceae")), bed("gate"))
    leeks = sowing(1, "leek", "2027-05-01", "2027-12-01", 6.0)
    usual = garden(*beds[:1])
    own = replace(usual, limits=Limits(rotation={"Amaryllidaceae": 6}))
    assert laid(usual, plan([leeks]), diary()).too_soon == ()
    (named,) = laid(own, plan([leeks]), diary()).too_soon
    assert (named.last, named.years) == (2022, 6)
    both = replace(garden(*beds), limits=own.limits)
    found = laid(both, plan([leeks]), diary())
    assert found.too_soon == ()
    assert [place.bed for place in places(found)[leeks.id]] == ["gate"]


def test_beds_of_an_invented_plan_say_so_though_the_farm_itself_is_not(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A farm whose cooperative's file alone says that all is invented."""
    path = tmp_path / "garden.toml"
    path.write_text('[site]\nat = "53.4, -6.2"\n[[ground]]\nname = "plot"\ncover = "open"\narea = "6 m2"\n'
                    '[[outlet]]\nname = "kitchen"\nkind = "kitchen"\n'
                    '[[wish]]\nitem = "radish"\neach_week = "100 g"\n', encoding="utf-8")
    for invented in (True, False):
        kept = replace(plan([]), invented=invented)
        monkeypatch.setattr("evenpick.service.ground.kept_plan", lambda garden, kept=kept: kept)
        assert ground(path).invented is invented


NARROW = """
[site]
at = "53.4, -6.2"
weather = "dublin-airport"
[plan]
from = 2027-03-01
years = 6
[[ground]]
name = "beds"
cover = "open"
area = "4 x 6 m x 1.2 m"
[[outlet]]
name = "kitchen"
kind = "kitchen"
shares = 2
"""


def test_no_stretch_is_shorter_than_a_hand_can_sow(tmp_path: Path) -> None:
    """Spring onions at a portion a week were given 0.1 m of a bed with four rows."""
    wishes = "".join(f'[[wish]]\nitem = "{key}"\ncrops = ["{key}"]\neach_week = "1 portion"\n'
                     for key in ("spring-onion", "coriander", "radish", "parsley"))
    path = tmp_path / "garden.toml"
    path.write_text(NARROW + wishes, encoding="utf-8")
    plan = make_plan(path, seconds=4.0)
    spans = [span for bed in laid_as_kept(garden_of(path), plan, record_of(path)).beds
             for span in bed.spans]
    assert {span.crop for span in spans} >= {"spring-onion", "radish"}
    for span in spans:
        long, row = span.to_m - span.from_m, load_catalogue().crop(span.crop).spacing.row
        assert long >= row - 1e-6, span
        assert (span.across is not None) == (long < 0.5 - 1e-6)
        assert (span.rows is None) == (span.across is not None)
        assert span.across is None or span.across * row == pytest.approx(long, abs=row / 2 + 1e-6)
