"""Weather: this season against the years; the station and how far it is."""

from __future__ import annotations

from datetime import date

from fastapi import APIRouter, Request
from fastapi.responses import Response

from evenpick.base.language import tell
from evenpick.report.chart import svg
from evenpick.report.weather import WEEK_OF, weather_page, weather_spec, weather_told
from evenpick.service.weather_weeks import WeatherAnswer, weather_weeks
from evenpick.web.asked import day_of
from evenpick.web.blocks import folded
from evenpick.web.served import Served, served
from evenpick.web.showing import show

router = APIRouter()


@router.get("/weather")
def weather(request: Request, on: str | None = None) -> Response:
    about, day = served(request), day_of(request, on, "on")
    answer = answer_of(about, day)
    page = weather_page(answer, about.words())
    return show(request, "weather.html", tell("Weather"), "/weather", told=weather_told(answer), day=day,
                blocks=folded(page.blocks, about.words(), first_open=False))


@router.get("/charts/weather-{room}.svg")
def chart(request: Request, room: str, on: str | None = None) -> Response:
    if room not in WEEK_OF:
        return Response(tell("There is no such chart."), 404, media_type="text/plain")
    about = served(request)
    answer = answer_of(about, day_of(request, on, "on"))
    body = svg(weather_spec(answer, about.words(), room), tell("This season against the years"),
               weather_told(answer))
    return Response(body, media_type="image/svg+xml", headers={"cache-control": "no-cache"})


def answer_of(about: Served, day: date) -> WeatherAnswer:
    return about.latest.get(("weather", day), lambda: weather_weeks(about.garden, day))
