"""A crop's other whole uses are offered too, such as sowings in autumn that stand the winter."""

from __future__ import annotations

from garden_task import all_batches


def test_a_day_serves_one_purpose_of_a_crop_way_and_cover() -> None:
    taken: dict[tuple[str, str, str], set[int]] = {}
    for batch in all_batches():
        days = taken.setdefault((batch.crop.key, batch.way.name, batch.cover), set())
        mine = {int(day) for day in batch.days}
        assert not days & mine
        days |= mine


def test_autumn_sowings_that_stand_the_winter_are_offered() -> None:
    purposes = {batch.outcome.purpose.name for batch in all_batches()}
    assert "overwintering" in purposes
