"""The twelve months of any place, from the packaged stations around it (docs/design/weather.md, B)."""

from __future__ import annotations

import csv
from dataclasses import replace
from functools import cache
from importlib.resources import files

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints
from evenpick.base.language import tell
from evenpick.climate.normals import DAYS_IN_MONTH, WET_DAYS_ESTIMATED, MonthlyNormals, estimated_wet_days
from evenpick.climate.places import height_about
from evenpick.climate.sea import sea_share
from evenpick.climate.site import Site
from evenpick.climate.stations import great_circle_km, nearest_row, packaged_stations, row_normals

NEIGHBOURS = 32
KM_UP = 0.5
"""that a metre of height parts two places by (chosen, as what follows, by authorities/around.py)"""
KM_SEA = 800.0
"""that all the way from inland to an island parts them by; by the root of the share of sea"""
WIDE_KM = 3000.0
"""in which what two places have in common falls to an e-th"""
OWN, OWN_KM = 0.05, 10.0
"""what is a place's own, of what is common, and in how many km it is gone"""
NO_POLE = 25.0
"""degrees of latitude: nearer the equator none is cooler than another"""
ADDED = {"rain_mm": 3.0, "sd_daily_tmean": 0.1, "interannual_sd_tmean": 0.1, "drop_to_lowest": 0.1}
"""mm or K, before the logarithms of what is drawn by them"""
OPTIONAL = ("sd_daily_tmean", "sunshine_h", "vapour_pressure", "interannual_sd_tmean")
LEAST_RANGE = 1.0  # °C between a month's minimum and maximum (our choice; stations have 2.1 and more)
JITTER = 1e-6  # of what is common: two stations at one spot would make the system singular


def normals_at(site: Site, asked: Bools | None = None) -> MonthlyNormals:
    """Twelve normals at a site, by ordinary kriging of the 32 packaged stations most like it (cressie1993).

    Unlike is by distance, height and nearness to the sea (sea.py). Temperatures are brought to the site's
    height and latitude first (data/gradients.csv); rain and spreads go by their logarithms. At a station
    itself they are its own. What the nearest station does not report is None, its wet days are estimated.
    The drop to the month's lowest minimum is drawn wherever the place is: from stations a thousand km off it
    is as good as the regression that would stand in. `asked` (stations,): which may be used, for checks. The
    name and all else are the nearest station's.

    Valid everywhere, less so in mountains and on far islands. Where the site's height is not known it is
    that of the towns about it, and where there are none height does not count. Expected error of a month's
    minimum and maximum at stations left out: 0.8 °C in the middle, 1.2 in square mean (by the nearest station
    alone 1.3 and 2.0), with the height unknown 0.9 and 1.7 (1.5 and 3.3; authorities/around.md). Knows
    nothing of lakes, frost hollows, towns or slopes.
    """
    asked = np.ones(packaged_stations().lat.size, dtype=bool) if asked is None else asked
    lead = row_normals(nearest_row(site, asked))
    site, taken = _with_height(site)
    rain = _drawn(site, "rain_mm", asked)
    tmin, tmax = _apart(_drawn(site, "tmin", asked), _drawn(site, "tmax", asked))
    estimated = WET_DAYS_ESTIMATED in lead.notes
    others = {name: None if getattr(lead, name) is None else _drawn(site, name, asked) for name in OPTIONAL}
    return replace(
        lead, lat=site.lat, lon=site.lon,
        height_m=lead.height_m if site.height_m is None else site.height_m,
        tmin=tmin, tmax=tmax, rain_mm=rain,
        wet_days=estimated_wet_days(rain, tmin, tmax) if estimated else _drawn(site, "wet_days", asked),
        sd_daily_tmean=others["sd_daily_tmean"], sunshine_h=others["sunshine_h"],
        vapour_pressure=others["vapour_pressure"], interannual_sd_tmean=others["interannual_sd_tmean"],
        drop_to_lowest=_drawn(site, "drop_to_lowest", asked),
        notes=(*lead.notes, *taken, _note(lead, tmin, tmax, rain)),
    )


def poleward(lat: Floats) -> Floats:
    """Degrees of latitude as they count for temperature: none nearer the equator than 25°."""
    return np.maximum(np.abs(lat), NO_POLE)


def _drawn(site: Site, name: str, asked: Bools) -> Floats:
    """A variable's twelve months at the site; (12,)."""
    values = packaged_stations().monthly[name]
    rows, weight = _neighbours(site, np.flatnonzero(asked & np.isfinite(values).all(axis=1)))
    near = values[rows]
    if name in ADDED:
        return np.maximum(np.exp(weight @ np.log(near + ADDED[name])) - ADDED[name], 0.0)
    if name in _gradients():
        season = 6 if site.lat < 0 else 0
        near = near + _between(site, rows) @ np.roll(_gradients()[name], season, axis=1)
        return np.asarray(weight @ near)
    return np.clip(weight @ near, 0.0, DAYS_IN_MONTH if name == "wet_days" else np.inf)


def _apart(tmin: Floats, tmax: Floats) -> tuple[Floats, Floats]:
    """Minimum and maximum, which far from any station could cross."""
    middle, half = (tmin + tmax) / 2, np.maximum(tmax - tmin, LEAST_RANGE) / 2
    return middle - half, middle + half


def _between(site: Site, rows: Ints) -> Floats:
    """Kilometres of height and degrees of latitude from each of some stations to the site; (rows, 2)."""
    stations = packaged_stations()
    height = stations.height_m[rows]
    up = np.zeros(rows.size) if site.height_m is None else (site.height_m - height) / 1000.0
    return np.stack([up, poleward(np.array(site.lat)) - poleward(stations.lat[rows])], axis=1)


def _neighbours(site: Site, rows: Ints) -> tuple[Ints, Floats]:
    """Of some stations those most like the site, and what each counts; what they count comes to 1."""
    there = np.concatenate([[_place(site)], _places(rows)])
    if site.height_m is None:
        there[:, 2] = 0.0
    km, unlike = _unlike(there[:1], there[1:])
    chosen = np.argsort(unlike[0], kind="stable")[:NEIGHBOURS]
    near = there[1:][chosen]
    known = _common(*_unlike(near, near)) + JITTER * np.eye(chosen.size)
    system = np.pad(known, (0, 1), constant_values=1.0)
    system[-1, -1] = 0.0
    asked = np.append(_common(km[0, chosen], unlike[0, chosen]), 1.0)
    return rows[chosen], np.linalg.solve(system, asked)[:-1]


def _place(site: Site) -> Floats:
    """Latitude, longitude, height and the root of the share of sea of a site; (4,)."""
    sea = sea_share(site.lat, site.lon)
    return np.array([site.lat, site.lon, site.height_m or 0.0, sea**0.5])


def _places(rows: Ints) -> Floats:
    """The same of stations; (rows, 4)."""
    s = packaged_stations()
    return np.stack([s.lat[rows], s.lon[rows], s.height_m[rows], s.sea[rows] ** 0.5], axis=1)


def _unlike(some: Floats, others: Floats) -> tuple[Floats, Floats]:
    """Kilometres between places, by the ground and height, and all in all; both (some, others)."""
    a, b = some[:, None, :], others[None, :, :]
    ground = great_circle_km(a[..., 0], a[..., 1], b[..., 0], b[..., 1])
    km = ground + KM_UP * np.abs(a[..., 2] - b[..., 2])
    return km, km + KM_SEA * np.abs(a[..., 3] - b[..., 3])


def _common(km: Floats, unlike: Floats) -> Floats:
    """How much places share: nearly all that is wide, and of their own only what is near."""
    return np.asarray(np.exp(-unlike / WIDE_KM) + OWN * np.exp(-km / OWN_KM))


@cache
def _gradients() -> dict[str, Floats]:
    """Of temperature by kilometre up and degree poleward, by month of the north; (2, 12) each."""
    with (files("evenpick") / "data" / "gradients.csv").open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    columns = ("per_km_up", "per_degree_poleward")
    return {
        name: np.array([[float(row[column]) for row in rows if row["of"] == name] for column in columns])
        for name in sorted({row["of"] for row in rows})
    }


def _with_height(site: Site) -> tuple[Site, tuple[str, ...]]:
    """The site with the height of the towns about it if its own is not known, and what was done."""
    about = height_about(site.lat, site.lon) if site.height_m is None else None
    if about is None:
        return site, ()
    note = tell("Your height was taken to be that of the towns about you, {m:.0f} m.", m=about)
    return replace(site, height_m=about), (note,)


def _note(lead: MonthlyNormals, tmin: Floats, tmax: Floats, rain: Floats) -> str:
    """What was done, beside the nearest station's own figures."""
    return tell(
        "The station's months were brought to your place with those of the {n} stations most like it, by "
        "distance, height and nearness to the sea: minimum {cooler:+.1f} °C, maximum {warmer:+.1f} °C, "
        "rain × {wetter:.2f} over the year.",
        n=NEIGHBOURS,
        cooler=float((tmin - lead.tmin).mean()), warmer=float((tmax - lead.tmax).mean()),
        wetter=float(rain.sum()) / max(float(lead.rain_mm.sum()), 1.0),
    )
