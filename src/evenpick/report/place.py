"""Where an answer is for and which weather it rests on, in one line and with a caution where it is far."""

from __future__ import annotations

from evenpick.climate.origin import ClimateOrigin
from evenpick.climate.site import Site
from evenpick.report.page import Text
from evenpick.report.words import Words, sentence

FAR_KM = 150.0
FAR_HEIGHT = 300.0
LEVEL = 5.0  # m: less is no difference


def weather_lines(site: Site, climate: ClimateOrigin, words: Words, notes: bool = True) -> tuple[Text, ...]:
    """The weather's source, a caution for a far station, and (if asked) what was done to the record."""
    parts = [f"{climate.source}, {climate.station}", *_away(climate, words), *_years(climate)]
    said = [f"Weather: {', '.join(parts)}.", _caution(climate)]
    told = map(sentence, climate.notes if notes else ())
    return tuple(Text(line) for line in (*said, *told) if line)


def title_place(site: Site, words: Words) -> str:
    return site.name if site.height_m is None else f"{site.name} ({words.height(site.height_m)})"


def _away(climate: ClimateOrigin, words: Words) -> list[str]:
    away = [] if climate.distance_km is None else [f"{words.distance(climate.distance_km)} away"]
    higher = climate.height_difference_m
    if higher is None:
        return [*away, "height difference not known"]
    if abs(higher) < LEVEL:
        return [*away, "at your height"]
    return [*away, f"{words.height(abs(higher))} {'higher' if higher > 0 else 'lower'} than you"]


def _years(climate: ClimateOrigin) -> list[str]:
    """What the weather years are: real ones, or made from monthly figures, and those of how many years."""
    if not climate.made:
        return [_so_many(climate.years or 0)]
    of = "" if climate.years is None else f" of {_so_many(climate.years)}"
    return [f"monthly figures{of}", f"{climate.made} years made of them"]


def _so_many(years: int) -> str:
    return "1 year" if years == 1 else f"{years} years"


def _caution(climate: ClimateOrigin) -> str:
    far = climate.distance_km is not None and climate.distance_km > FAR_KM
    steep = climate.height_difference_m is not None and abs(climate.height_difference_m) > FAR_HEIGHT
    if not far and not steep:
        return ""
    why = " and ".join(word for word, is_so in (("far away", far), ("at another height", steep)) if is_so)
    return f"CAUTION: the weather was measured {why}; your own ground may differ. Trust local growers first."
