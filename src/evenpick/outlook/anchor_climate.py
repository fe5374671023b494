"""The weather that an anchor was grown in."""

from __future__ import annotations

from datetime import date

from evenpick.base.chance import DEFAULT_SEED
from evenpick.base.days import day_number
from evenpick.climate.ensemble import generated_at, members
from evenpick.climate.gaps import fill_gaps
from evenpick.climate.records import packaged_record, packaged_records
from evenpick.climate.site import Site
from evenpick.outlook.setting import Settings

START = date(2023, 1, 1)
DAYS = 365 + 450
YEARS = 60


def anchor_settings(place: str, lat: float, lon: float) -> Settings:
    """The packaged daily record of that name, or the generator on the normals of the stations around."""
    site, start = Site(place, lat, lon), day_number(START)
    name = place.replace("-", "_")
    if name in {record.name for record in packaged_records()}:
        series, origin = packaged_record(name)
        whole, _ = fill_gaps(series)
        # the anchor was grown in the record's own years: their trend stays
        return Settings(members(whole, origin, site, start, DAYS, present=False))
    return Settings(generated_at(site, start, DAYS, YEARS, DEFAULT_SEED))
