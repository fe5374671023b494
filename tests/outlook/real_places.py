"""Real places and what may be sown there: the weather made of the packaged normals."""

from __future__ import annotations

from datetime import date
from functools import cache

from evenpick.base.chance import DEFAULT_SEED
from evenpick.base.days import day_number
from evenpick.base.trade import CoverName
from evenpick.climate.site import Site
from evenpick.climate.weather import WeatherYears
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.garden import WeatherChoice
from evenpick.outlook.setting import Setting, Settings
from evenpick.outlook.windows import YEAR, Calendar
from evenpick.service.windows import calendars, year_weather

SOWN = 2027
PLACES = {
    "phoenix": (33.4, -112.0, 340.0), "tampa": (27.97, -82.5, 8.0), "delhi": (28.6, 77.2, 215.0),
    "houston": (29.98, -95.36, 30.0), "wellesbourne": (52.2, -1.6, 47.0), "dublin": (53.43, -6.24),
    "singapore": (1.35, 103.98, 15.0), "reykjavik": (64.1, -21.9, 50.0), "boise": (43.6, -116.2, 870.0),
    "san diego": (32.73, -117.19, 5.0), "miami": (25.8, -80.3, 3.0), "kapiti": (-40.9, 174.98, 7.0),
    "seville": (37.39, -5.98, 30.0), "cork": (51.9, -8.47, 10.0),
    "san francisco": (37.62, -122.37, 5.0), "san mateo": (37.56, -122.32, 10.0),
    "chicago": (41.88, -87.63, 180.0),
    "denver": (39.74, -104.98, 1636.0), "ulm": (48.4, 9.98, 480.0), "auray": (47.67, -2.98, 30.0),
    "boston": (42.36, -71.06, 14.0), "calgary": (51.05, -114.09, 1042.0), "auckland": (-36.85, 174.76, 26.0),
    "edinburgh": (55.97, -3.21, 30.0), "norwich": (52.63, 1.29, 27.0),
    "cape town": (-33.97, 18.6, 46.0), "dallas": (32.9, -97.04, 171.0), "madrid": (40.41, -3.68, 667.0),
    "lyon": (45.73, 5.08, 235.0), "atlanta": (33.63, -84.44, 315.0), "warsaw": (52.16, 20.96, 106.0),
    "salisbury": (35.67, -80.47, 240.0), "albany": (42.68, -74.49, 280.0),
    "kansas city": (39.1, -94.58, 270.0), "turin": (45.07, 7.69, 240.0), "bucharest": (44.43, 26.1, 80.0),
    "quebec": (46.81, -71.21, 70.0), "winnipeg": (49.9, -97.14, 235.0), "savannah": (32.08, -81.1, 10.0),
    "oklahoma city": (35.47, -97.52, 365.0), "tbilisi": (41.7, 44.8, 450.0),
    "suffolk": (36.68, -76.77, 20.0), "lagos": (6.5, 3.4, 5.0),
    "harare": (-17.83, 31.05, 1480.0), "memphis": (35.15, -90.05, 84.0), "mobile": (30.69, -88.04, 12.0),
    "rome": (41.89, 12.48, 52.0), "nairobi": (-1.28, 36.82, 1684.0), "szczecin": (53.43, 14.55, 20.0),
    "riverside": (33.95, -117.45, 250.0), "helsinki": (60.17, 24.94, 20.0),
    "minneapolis": (44.98, -93.26, 255.0), "burlington": (44.48, -73.21, 60.0),
    "saskatoon": (52.13, -106.67, 480.0), "krakow": (50.06, 19.94, 220.0), "harbin": (45.75, 126.65, 150.0),
    "anchorage": (61.22, -149.9, 30.0), "tromso": (69.65, 18.96, 10.0), "trondheim": (63.43, 10.4, 18.0),
    "raleigh": (35.78, -78.64, 100.0), "punta arenas": (-53.16, -70.91, 30.0),
    "wichita": (37.69, -97.34, 400.0), "oakland": (37.76, -122.22, 2.0),
    "hyderabad": (17.4, 78.47, 540.0), "chiang mai": (18.79, 98.98, 310.0),
    "des moines": (41.6, -93.6, 280.0), "springfield": (37.2, -93.29, 390.0),
    "logrono": (42.46, -2.44, 380.0),
    "hobart": (-42.88, 147.33, 30.0), "fresno": (36.74, -119.78, 100.0), "pune": (18.52, 73.86, 560.0),
    "sacramento": (38.58, -121.5, 10.0),
    "omaha": (41.26, -95.94, 315.0), "durban": (-29.86, 31.0, 21.0), "manila": (14.6, 120.98, 13.0),
    "kano": (12.0, 8.52, 484.0), "bogota": (4.61, -74.08, 2582.0), "addis ababa": (9.02, 38.75, 2405.0),
    "adelaide": (-34.93, 138.6, 56.0), "palermo": (38.12, 13.36, 46.0), "belgrade": (44.8, 20.47, 120.0),
    "dunedin": (-45.87, 170.5, 21.0), "new orleans": (29.95, -90.08, 2.0),
    "lahore": (31.56, 74.35, 216.0), "cairo": (30.06, 31.25, 23.0), "taipei": (25.03, 121.56, 10.0),
}  # fmt: skip


@cache
def weather(place: str) -> WeatherYears:
    return year_weather(Site(place, *PLACES[place]), WeatherChoice(), SOWN, DEFAULT_SEED)


@cache
def grown(place: str, crop: str, cover: CoverName = "open") -> tuple[Calendar, ...]:
    return calendars([load_catalogue().crop(crop)], (cover,), weather(place), DEFAULT_SEED)


def open_air(place: str) -> Setting:
    return Settings(weather(place)).cover("open")


def at(place: str, month: int, day: int) -> int:
    return day_number(date(SOWN, month, day)) - weather(place).start


def offered(place: str, crop: str, month: int, day: int, way: str = "") -> bool:
    """Whether some window of any purpose (and way, if none is named) holds the day."""
    wanted = at(place, month, day)
    return any(
        window.opens <= each <= window.closes
        for made in grown(place, crop) if way in ("", made.outcome.way.name)
        for window in made.windows for each in (wanted, wanted + YEAR)
    )  # fmt: skip
