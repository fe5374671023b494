"""Fetching the season's weather for the garden's place: only when the grower asks for it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from pathlib import Path

from evenpick.base.errors import BadRequest, BadWeatherFile, Problem, did_you_mean
from evenpick.base.language import tell
from evenpick.base.whole import write_whole
from evenpick.climate.fetched import Fetched, as_file, point_of, read_fetched
from evenpick.climate.services import SERVICES, Service, get_season
from evenpick.service.setups import fetched_path, garden_of

AGAIN = timedelta(hours=6)
"""a service is not asked the same question sooner"""


@dataclass(frozen=True, slots=True)
class FetchAnswer:
    path: Path
    fetched: Fetched
    asked: bool
    """false where what was fetched lately still stands"""


def fetch(garden: Path, name: str, today: date, now: datetime) -> FetchAnswer:
    """Ask a service, by its name here, for the garden's season up to `today`; the answer is kept beside it.

    What was fetched before stays until the new answer is whole. The same service is asked about the same
    point again after six hours. BadRequest for a service not known, BadGarden, BadWeatherFile.
    """
    if name not in SERVICES:
        mend = did_you_mean(name, SERVICES) or tell("There are {services}.", services=", ".join(SERVICES))
        raise BadRequest(Problem(tell("no weather service is called '{name}' here.",
                                      name=name), mend, field="--fetch"))
    site, path, service = garden_of(garden).site, fetched_path(garden), SERVICES[name]
    lately = _lately(path, service, point_of(site), now)
    if lately is not None:
        return FetchAnswer(path, lately, asked=False)
    found = get_season(service, site, today, now)
    write_whole(path, as_file(found).encode())
    return FetchAnswer(path, found, asked=True)


def _lately(path: Path, service: Service, point: tuple[float, float], now: datetime) -> Fetched | None:
    """What this service told of this point within the last hours; a file that can't be read is no answer."""
    try:
        before = read_fetched(path) if path.exists() else None
    except BadWeatherFile:
        return None
    if before is None or (before.service, before.point) != (service.name, point):
        return None
    return before if timedelta(0) <= now - before.moment < AGAIN else None
