"""The same weather years in a warmer climate."""

from __future__ import annotations

from dataclasses import replace

from evenpick.base.language import tell
from evenpick.climate.weather import WeatherYears


def warmed(weather: WeatherYears, degrees: float) -> WeatherYears:
    """Every day's minimum and maximum raised by `degrees` (°C); rain, light, wind and relative humidity
    as they were.

    A plain shift: it knows nothing of changed rain, of winters that warm more than summers, or of
    more heat waves than a shift brings. Meant for 0 to about 3 °C.
    """
    if degrees == 0.0:
        return weather
    note = tell("Every day was made {degrees:+g} °C warmer; rain and light are as they were.",
                degrees=degrees)
    origin = replace(weather.origin, notes=(*weather.origin.notes, note))
    return replace(weather.with_warmth(weather.tmin + degrees, weather.tmax + degrees), origin=origin)
