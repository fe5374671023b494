"""The open weather services that may be asked for a season's days: addresses, forms, terms.

docs/design/weather.md, F, says what was read of each; no other address is ever asked.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta
from typing import Any
from urllib.parse import urlencode

from evenpick.base.days import day_number
from evenpick.base.language import tell
from evenpick.climate.asking import SaidNo, ask
from evenpick.climate.fetched import Fetched, bad_answer, point_of, series_of
from evenpick.climate.moist_air import saturation_pressure
from evenpick.climate.readers.units import wind_at_2m
from evenpick.climate.site import LAPSE_PER_METRE, Site

BACK = 400
"""days before today that are asked for: what overwinters is whole"""
AHEAD = 7
"""days of forecast; after a week one is worth little more than the season's normal (memory)"""
SETTLED = 7
"""days after which the archive of the second service has them (it says five)"""

Values = Mapping[str, Mapping[int, float]]
DEW = "dew"
"""the day's mean dew point, °C, on its way to vapour pressure"""
WARMTH = ("tmin", "tmax", DEW)


@dataclass(frozen=True, slots=True)
class _Field:
    """What a service calls a variable of the day."""

    name: str
    variable: str
    unit: str
    """as the service writes it"""
    needed: bool = True
    """no answer without it; a day is whole without the others"""
    brought: Callable[[float], float] = float


POWER_FIELDS = (
    _Field("T2M_MIN", "tmin", "C"), _Field("T2M_MAX", "tmax", "C"), _Field("PRECTOTCORR", "rain", "mm/day"),
    _Field("ALLSKY_SFC_SW_DWN", "radiation", "MJ/m^2/day"), _Field("T2MDEW", DEW, "C", needed=False),
    _Field("WS2M", "wind", "m/s", needed=False),
)
OPEN_METEO_FIELDS = (
    _Field("temperature_2m_min", "tmin", "°C"), _Field("temperature_2m_max", "tmax", "°C"),
    _Field("precipitation_sum", "rain", "mm"),
    _Field("shortwave_radiation_sum", "radiation", "MJ/m²", needed=False),
    _Field("dew_point_2m_mean", DEW, "°C", needed=False),
    _Field("wind_speed_10m_mean", "wind", "m/s", needed=False, brought=wind_at_2m),
)


@dataclass(frozen=True, slots=True)
class Question:
    lat: float
    lon: float
    height: float | None
    first: date
    today: date
    without: frozenset[str] = frozenset()
    """the service's names of what is not asked for"""

    def asks(self, fields: tuple[_Field, ...]) -> tuple[_Field, ...]:
        return tuple(field for field in fields if field.name not in self.without)


@dataclass(frozen=True, slots=True)
class Service:
    name: str
    licence: str
    terms: str
    """who may ask it, in words"""
    addresses: tuple[str, ...]
    tell: Callable[[Service, Question], Values]
    fields: tuple[_Field, ...]
    forecasts: bool


def get_season(service: Service, site: Site, today: date, now: datetime) -> Fetched:
    """The season up to `today`, and a week ahead where the service forecasts; asked at `now` (UTC).

    The point is sent to two decimals, a kilometre. A service that says no is asked once more, without the
    fields that a day is whole without. BadWeatherFile where the service can't be reached or answers anything
    but days of that point.
    """
    lat, lon = point_of(site)
    question = Question(lat, lon, site.height_m, today - timedelta(days=BACK), today)
    values, left_out = _told_of(service, question)
    series = series_of(_damp(values), service.name)
    if series.start >= day_number(today):
        raise bad_answer(service.name, tell("holds no day that has been"))
    ahead = day_number(today) if series.start + series.days > day_number(today) else None
    moment = now.astimezone(UTC).replace(second=0, microsecond=0)
    return Fetched(service.name, service.licence, (lat, lon), moment, ahead, series, left_out)


def _told_of(service: Service, question: Question) -> tuple[Values, tuple[str, ...]]:
    """What the service tells, and the variables that it was not asked for at last: those fields that it named
    as it said no, or, where it named none, all that may be missing."""
    try:
        return service.tell(service, question), ()
    except SaidNo as error:
        spare = [field for field in service.fields if not field.needed]
        dropped = [field for field in spare if field.name in error.said] or spare
        sparing = replace(question, without=frozenset(field.name for field in dropped))
        try:
            return service.tell(service, sparing), tuple(field.variable for field in dropped)
        except SaidNo as again:
            raise again from error


def _nasa_power(service: Service, question: Question) -> Values:
    """Daily point, community AG (MJ m⁻² d⁻¹): -999 or the fill value it names is missing. Its cell is half a
    degree wide; temperatures are moved from the cell's height to the site's."""
    asked = {
        "parameters": _names(question.asks(service.fields)), "community": "AG",
        "longitude": question.lon, "latitude": question.lat,
        "start": f"{question.first:%Y%m%d}", "end": f"{question.today - timedelta(days=1):%Y%m%d}",
        "format": "JSON",
    }
    told = _told(service, f"{service.addresses[0]}?{urlencode(asked)}")
    with _form(service):
        fill = told["header"]["fill_value"]
        cell = told["geometry"]["coordinates"][2]
        found: dict[str, dict[int, float]] = {}
        for field in question.asks(service.fields):
            if not field.needed and field.name not in told["properties"]["parameter"]:
                continue
            _same_unit(service, field, told["parameters"][field.name]["units"])
            found[field.variable] = {
                day_number(datetime.strptime(day, "%Y%m%d").date()): field.brought(float(value))
                for day, value in told["properties"]["parameter"][field.name].items() if value != fill
            }
    return _inside(_at_height(found, question.height, cell), question, question.today - timedelta(days=1))


def _open_meteo(service: Service, question: Question) -> Values:
    """The archive for what is settled, the forecast's own last days and the week ahead after it. It moves its
    temperatures to the height that is sent with the question."""
    settled = question.today - timedelta(days=SETTLED)
    common: dict[str, object] = {
        "latitude": question.lat, "longitude": question.lon, "timezone": "auto",
        "daily": _names(question.asks(service.fields)), "wind_speed_unit": "ms",
    }
    if question.height is not None:
        common["elevation"] = round(question.height)
    archive, forecast = service.addresses
    old = {**common, "start_date": question.first.isoformat(), "end_date": settled.isoformat()}
    new = {**common, "past_days": SETTLED + 2, "forecast_days": AHEAD}
    fields = question.asks(service.fields)
    parts = [_days(service, fields, f"{address}?{urlencode(asked)}") for address, asked in
             ((archive, old), (forecast, new))]
    joined = {name: {**parts[1].get(name, {}), **parts[0].get(name, {})} for name in parts[0] | parts[1]}
    return _inside(joined, question, question.today + timedelta(days=AHEAD - 1))


def _days(service: Service, fields: tuple[_Field, ...], address: str) -> dict[str, dict[int, float]]:
    told = _told(service, address)
    with _form(service):
        days = [day_number(date.fromisoformat(day)) for day in told["daily"]["time"]]
        found: dict[str, dict[int, float]] = {}
        for field in fields:
            if not field.needed and field.name not in told["daily"]:
                continue
            _same_unit(service, field, told["daily_units"][field.name])
            found[field.variable] = {day: field.brought(float(value)) for day, value in
                                     zip(days, told["daily"][field.name], strict=True) if value is not None}
    return found


def _told(service: Service, address: str) -> Any:
    """A service's answer as JSON; what it says is wrong is told in its own words."""
    try:
        told = json.loads(ask(service.name, address))
    except (UnicodeDecodeError, ValueError) as error:
        raise bad_answer(service.name, tell("is no JSON")) from error
    if isinstance(told, dict) and told.get("error"):
        said = str(told.get("reason", tell("without a reason")))
        problem = bad_answer(service.name, tell("says no: {get}", get=said[:200])).problems[0]
        raise SaidNo(problem, said)
    return told


def _names(fields: tuple[_Field, ...]) -> str:
    return ",".join(field.name for field in fields)


@contextmanager
def _form(service: Service) -> Iterator[None]:
    """What is not where the service's documents have it."""
    try:
        yield
    except (KeyError, TypeError, IndexError, ValueError, AttributeError) as error:
        raise bad_answer(service.name, tell("has not the form that its documents tell")) from error


def _same_unit(service: Service, field: _Field, told: object) -> None:
    if told != field.unit:
        raise bad_answer(service.name, tell("gives {name} in '{told}', not in {wanted}", name=field.name,
                                            told=str(told)[:20], wanted=field.unit))


def _at_height(values: dict[str, dict[int, float]], height: float | None, cell: float) -> Values:
    """Temperatures, the dew's too, moved from one height to another, by the standard atmosphere."""
    if height is None:
        return values
    step = LAPSE_PER_METRE * (height - float(cell))
    return {name: {day: value + step for day, value in by_day.items()} if name in WARMTH else by_day
            for name, by_day in values.items()}


def _damp(values: Values) -> Values:
    """Vapour pressure where there is a dew point (allen1998, equation 14)."""
    if DEW not in values:
        return values
    damp = {day: float(saturation_pressure(dew)) for day, dew in values[DEW].items()}
    return {**{name: by_day for name, by_day in values.items() if name != DEW}, "vapour_pressure": damp}


def _inside(values: Values, question: Question, last: date) -> Values:
    """Only days that were asked for."""
    first, end = day_number(question.first), day_number(last)
    return {name: {day: value for day, value in by_day.items() if first <= day <= end}
            for name, by_day in values.items()}


NASA_POWER = Service(
    "NASA POWER", "NASA Prediction Of Worldwide Energy Resources (POWER), free and open",
    "free to all; the days so far, the last two to seven missing, in cells of half a degree; no forecast",
    ("https://power.larc.nasa.gov/api/temporal/daily/point",), _nasa_power, POWER_FIELDS, forecasts=False,
)
OPEN_METEO = Service(
    "Open-Meteo", "Weather data by Open-Meteo.com, CC BY 4.0",
    "free where nothing is earned by it, else by agreement with it; the days so far and a week's forecast",
    ("https://archive-api.open-meteo.com/v1/archive", "https://api.open-meteo.com/v1/forecast"),
    _open_meteo, OPEN_METEO_FIELDS, forecasts=True,
)
SERVICES: Mapping[str, Service] = {"nasa-power": NASA_POWER, "open-meteo": OPEN_METEO}
