"""The diary folded (docs/design/record.md). Invented entries."""

from __future__ import annotations

import itertools

import pytest

from evenpick.base.errors import BadDiary
from evenpick.garden.diary import (
    CameUp,
    Cleared,
    Corrected,
    Entry,
    Fact,
    Lost,
    Picked,
    PlantedOut,
    Reading,
    SetUp,
    Sowed,
    Undid,
    new_id,
)
from evenpick.garden.diary_json import entry_json, read_entry
from evenpick.garden.record import Sowings, fold

DAY = 20_900


def entry(moment: int, fact, day: int = DAY) -> Entry:  # type: ignore[no-untyped-def]
    return Entry(new_id(1_700_000_000 + moment), day, fact)


SOWN = entry(0, Sowed("carrot", "direct", "open", 1.2, ground="bed 3"))


def test_states_follow_the_diary() -> None:
    up = entry(1, CameUp(SOWN.id, 0.8), DAY + 12)
    picked = entry(2, Picked("carrot", SOWN.id, kg=0.5), DAY + 90)
    cleared = entry(3, Cleared(SOWN.id), DAY + 130)
    sowing = fold([cleared, picked, up, SOWN]).sowings[SOWN.id]
    assert [sowing.state(DAY + n) for n in (0, 12, 90, 111, 112, 130)] == [
        "sown", "up", "picking", "picking", "standing", "cleared"]


def test_what_is_left_is_the_product_of_what_losses_left() -> None:
    losses = [entry(n, Lost(SOWN.id, "eaten", 0.5, "slugs")) for n in (1, 2)]
    sowing = fold([SOWN, *losses]).sowings[SOWN.id]
    assert sowing.left == pytest.approx(0.25)
    assert fold([SOWN, entry(3, Lost(SOWN.id, "frosted", 1.0))]).sowings[SOWN.id].state(DAY) == "lost"


def test_over_and_left_are_of_the_day_asked() -> None:
    half = entry(1, Lost(SOWN.id, "eaten", 0.5, "slugs"), DAY + 10)
    rest = entry(2, Lost(SOWN.id, "eaten", 0.97, "slugs"), DAY + 20)
    more = entry(3, Lost(SOWN.id, "dug up", 0.5), DAY + 30)
    gone = fold([SOWN, half, rest, more]).sowings[SOWN.id]
    assert [gone.left_on(DAY + n) for n in (9, 10)] == [1.0, 0.5]
    assert [gone.over(DAY + n) for n in (19, 20, 25, 30)] == [False, True, True, True]
    assert [gone.state(DAY + n) for n in (19, 20)] == ["sown", "lost"]
    assert gone.ended == DAY + 20
    cleared = fold([SOWN, half, rest, entry(4, Cleared(SOWN.id), DAY + 40)]).sowings[SOWN.id]
    assert [cleared.over(DAY + n) for n in (19, 20, 40)] == [False, True, True]
    assert cleared.ended == DAY + 40
    alone = fold([SOWN, entry(4, Cleared(SOWN.id), DAY + 40)]).sowings[SOWN.id]
    assert [alone.over(DAY + n) for n in (39, 40)] == [False, True]
    assert fold([SOWN, half]).sowings[SOWN.id].ended is None


def test_readings_of_one_day_are_brought_together_by_what_was_read() -> None:
    """Frost in the morning and rain in the evening are two entries; of two minima the later counts."""
    read = [entry(1, Reading(tmin=-3.0)), entry(2, Reading(rain=2.0)), entry(3, Reading(tmin=-4.0)),
            entry(4, Reading(tmax=9.0), DAY + 1)]
    assert fold(read).readings == {DAY: Reading(tmin=-4.0, rain=2.0), DAY + 1: Reading(tmax=9.0)}
    late, early = entry(7, Reading(tmin=1.0)), entry(6, Reading(tmin=2.0, rain=0.0))
    assert fold([late, early]).readings == {DAY: Reading(tmin=1.0, rain=0.0)}
    assert fold([]).readings == {}


def test_planting_out_moves_it_and_may_leave_some_behind() -> None:
    raised = entry(0, Sowed("leek", "raised", "open", 4.0))
    first = entry(1, PlantedOut(raised.id, "bed 1", area=1.0))
    second = entry(2, PlantedOut(raised.id, "bed 2", area=1.5))
    sowing = fold([raised, first, second]).sowings[raised.id]
    assert (sowing.ground, sowing.area) == ("bed 2", 2.5)


def test_undoing_an_undoing_brings_the_first_back() -> None:
    undo = entry(1, Undid(SOWN.id))
    again = entry(2, Undid(undo.id))
    assert not fold([SOWN, undo]).sowings
    assert fold([SOWN, undo, again]).sowings


def test_two_corrections_apart_are_a_conflict_whatever_the_order() -> None:
    fact = SOWN.fact
    first = entry(1, Corrected(SOWN.id, DAY, Sowed("carrot", "direct", "open", 2.0)))
    second = entry(2, Corrected(SOWN.id, DAY + 1, Sowed("carrot", "direct", "open", 3.0)))
    for order in itertools.permutations([SOWN, first, second]):
        record = fold(order)
        assert record.sowings[SOWN.id].area == 3.0
        assert [conflict.against.id for conflict in record.conflicts] == [first.id]
    settled = entry(3, Corrected(SOWN.id, DAY, fact, second.id))
    upon = entry(4, Corrected(SOWN.id, DAY, fact, first.id))
    assert not fold([SOWN, first, second, settled, upon]).conflicts


def test_set_ups_made_from_the_same_one_are_a_conflict() -> None:
    base, one, two = entry(0, SetUp("a")), entry(1, SetUp("b", None)), entry(2, SetUp("c", None))
    record = fold([base, Entry(one.id, DAY, SetUp("b", base.id)), Entry(two.id, DAY, SetUp("c", base.id))])
    assert record.setup is not None
    assert record.setup.id == two.id
    assert len(record.conflicts) == 1


def test_an_entry_comes_back_from_json_as_it_was() -> None:
    for one in (SOWN, entry(1, Corrected(SOWN.id, DAY + 3, SOWN.fact)), entry(2, Picked("pea", kg=1.2))):
        assert read_entry(entry_json(one)) == one


@pytest.mark.parametrize(
    ("change", "field"),
    [({"kind": "sown"}, "kind"), ({"area": "4 m"}, "area"), ({"area": -1}, "area"), ({"area": True}, "area"),
     ({"covr": "open"}, "covr"), ({"way": "thrown"}, "way"), ({"day": "2027-02-30"}, "day"),
     ({"id": "7"}, "id")],
)
def test_a_bad_entry_is_told_by_its_field(change: dict[str, object], field: str) -> None:
    with pytest.raises(BadDiary) as told:
        read_entry({**entry_json(SOWN), **change})
    assert field in [problem.field for problem in told.value.problems]


def test_a_sowing_that_nobody_cleared_is_over_after_three_years() -> None:
    """A question about today needs no weather of 1930."""
    sown = Entry(new_id(1), 20_000, Sowed("radish", "direct", "open", 1.0))
    (sowing,) = fold([sown]).sowings.values()
    assert not sowing.over(20_000 + 3 * 365)
    assert sowing.over(20_001 + 3 * 365)


def test_a_diary_that_goes_on_is_as_one_that_is_folded_at_once() -> None:
    """Entries in any order of days, of sowings told of before and not."""
    sown = [Entry(f"s{n}", 10 * n % 17, Sowed("radish", "direct", "open", 1.0, f"v{n}")) for n in range(6)]
    facts: tuple[Fact, ...] = (
        CameUp("s1"), Lost("s1", "eaten", 0.5), Lost("s2", "eaten", 1.0), Cleared("s3"),
        Lost("s1", "dried", 0.2), CameUp("s1"), Picked("radish", "s4", kg=1.0), Picked("radish", kg=1.0),
        CameUp("nowhere"),
    )
    told = [Entry(f"t{n}", 20 + 7 * n % 11, fact) for n, fact in enumerate(facts)]
    entries = [*sown, *told]
    going = Sowings(fold(entries[:4]))
    for entry in entries[4:]:
        going.add(entry)
    assert going.there() == tuple(fold(entries).sowings.values())


def test_what_is_told_before_the_day_of_its_sowing_counts_in_a_diary_that_goes_on() -> None:
    """The day of a sowing may be put right to one after a picking of it: that was lost with the next line."""
    before = [entry(1, Picked("carrot", SOWN.id, kg=0.5), DAY - 1), SOWN]
    after = entry(2, CameUp(SOWN.id, 0.8), DAY + 12)
    going = Sowings(fold(before))
    going.add(after)
    assert going.there() == tuple(fold([*before, after]).sowings.values())
    assert going.there()[0].pickings
