"""A small INVENTED answer of `water`: no weather and no ground gave these numbers."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

from invented import FAR, NEAR, SITE

from evenpick.service.water_answer import StepWorth, WaterAnswer, WaterDay

SOW = date(2027, 5, 1)
DAYS = (
    WaterDay(SOW, True, "sow", 0.0, 3.2, "water", 1.0, 18.0, 2.7, None, "water the open drill, sow, cover"),
    WaterDay(SOW + timedelta(1), True, "seedbed", 4.1, 2.0, "leave", 0.0, 0.0, 0.0, None,
             "the day's rain does it"),
    WaterDay(SOW + timedelta(2), False, "seedbed", 1.3, 3.0, "perhaps", 0.36, 2.4, 0.36, None,
             "dry at the seed by evening in some years"),
    WaterDay(SOW + timedelta(3), False, "rooting", 1.1, 3.1, "leave", 0.02, 19.0, 3.8, None,
             "hold back, let it root", 12.0, 16.4),
)
WATER = WaterAnswer(
    SITE, NEAR, "rocket", "Rocket", "direct", "open", "loam", SOW, SOW, 0.25, 0.15,
    (date(2027, 5, 8), date(2027, 5, 10), date(2027, 5, 13)), DAYS, SOW,
    (StepWorth("not watered", 0.9, 0.6, 0.0, 0.0),
     StepWorth("and kept moist until it is up", 0.004, 0.0, 14.0, 4.2)),
    ("invented.",), ("local rules come first.",),
)
STANDING = replace(
    WATER, crop="runner-bean", name="Runner bean", way="raised", climate=FAR, steps=(), next_due=None,
    on=date(2027, 7, 1),
    days=(WaterDay(date(2027, 7, 1), False, "growing", 1.0, 4.4, "leave", 0.05, 25.0, 25.0, 3.8,
                   "enough in the ground", 11.0, 24.0),
          WaterDay(date(2027, 7, 2), False, "growing", 1.0, 4.4, "perhaps", 0.3, 25.0, 25.0, 3.8,
                   "nearly gone in some years: look", 14.0, 24.0)),
)
LOOK_FIRST = replace(STANDING, days=STANDING.days[1:], up=None)
