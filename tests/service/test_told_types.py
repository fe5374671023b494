"""What is planned of a type is told, laid and counted at the type's own distance and weight
(docs/design/types.md, 3). Invented sowings of the packaged catalogue."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.crop import Crop
from evenpick.crops.sown import amount
from evenpick.plan.beds import rows_across
from evenpick.service import ground, job_minutes
from evenpick.service.jobs import of_planned
from evenpick.service.plan_answer import PlannedSowing

COS = load_catalogue().crop("cos-lettuce")
SMALL = COS.told_as("Cos lettuce, small heads")
SOW = date(2027, 3, 14)


def planned(crop: Crop, area: float) -> PlannedSowing:
    made = amount(crop, crop.way("direct"), area, 0.8)
    return PlannedSowing(
        "cos-lettuce.direct.open.2027-03-14", 1, SOW, "lettuce", crop.key, crop.name, "direct", "open", area,
        made.row_m, made.plants, made.seeds, made.grams, None, None, SOW, 1.0, None, SOW, "",
    )


@pytest.mark.parametrize("crop", [COS, SMALL], ids=lambda crop: crop.name)
def test_plants_stand_as_far_apart_as_they_were_reckoned(crop: Crop) -> None:
    (job,) = of_planned(planned(crop, 1.52), made=False)
    assert job.drill is not None
    assert job.plants is not None
    room = job.plants * job.drill.in_row * job.drill.between_rows
    assert room == pytest.approx(job.area_m2, abs=job.drill.in_row * job.drill.between_rows)


def test_rows_across_a_bed_are_the_types() -> None:
    told = ground.Told(1, SMALL.key, SMALL.name, 0)
    assert ground._rows(told, 1.2, 3.0) == (rows_across(1.2, SMALL.spacing.row), None)
    assert ground._rows(replace(told, name=COS.name), 1.2, 3.0) == (rows_across(1.2, COS.spacing.row), None)


def test_more_plants_take_more_minutes() -> None:
    assert job_minutes._each(SMALL.key, "raised", SMALL.name).sow > job_minutes._each(COS.key, "raised").sow
