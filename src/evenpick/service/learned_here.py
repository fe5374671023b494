"""Crops as a garden's own diary has them, for a question about one sowing of it (learning.md, 4)."""

from __future__ import annotations

from pathlib import Path

from evenpick.crops.here import AsHere, as_catalogued
from evenpick.service.book import record_of
from evenpick.service.learning import learn_from
from evenpick.service.setups import garden_of


def learned_here(garden: Path) -> AsHere:
    """The catalogue's crops where the diary has taught nothing yet. BadGarden, BadBook, BadWeatherFile."""
    record = record_of(garden)
    if not any(sowing.pickings for sowing in record.sowings.values()):
        return as_catalogued
    described = garden_of(garden)
    learned = learn_from(described.site, described.weather, record, lowest=described.lowest,
                         wishes=described.wishes, seedbed=described.seedbed,
                         away=described.limits.away).learned
    return learned.crop if learned.timing.counts or learned.yields.counts else as_catalogued
