"""Where an answer is for and which weather it rests on, in one line and with a caution where it is far."""

from __future__ import annotations

from collections.abc import Iterator

from evenpick.base.language import later, tell, tell_n
from evenpick.climate.origin import FAR_ERROR, FAR_KM, NEAR_ERROR, NEAR_KM, ClimateOrigin
from evenpick.climate.site import Site
from evenpick.report.page import Block, Text, listed
from evenpick.report.words import Words, sentence

SAME_HEIGHT_KM = 20.0  # a station so near may stand for ground of a height that nobody gave
FAR_HEIGHT = 300.0
OPEN_SEA = 0.995
"""share of sea from which no land lies about: Funafuti, an atoll, has 0.992, Tristan da Cunha 0.972"""
LEVEL = 5.0  # m: less is no difference


def weather_lines(site: Site, climate: ClimateOrigin, words: Words, notes: bool = True) -> tuple[Text, ...]:
    """The weather's source, a caution for a far station, and (if asked) what was done to the record."""
    parts = [f"{tell(climate.source)}, {climate.station}", *_away(climate, words), *_years(climate)]
    said = [tell("Weather: {parts}.", parts=", ".join(parts)), _at_sea(site, climate),
            _caution(climate, words), _height_asked(site, climate)]
    told = weather_notes(climate, words) if notes else ()
    return tuple(Text(line) for line in (*said, *told) if line)


def weather_notes(climate: ClimateOrigin, words: Words) -> Iterator[str]:
    """What was done to the weather, in sentences; what they tell of temperatures is by how much they were
    moved."""
    return (sentence(words.with_differences(note)) for note in climate.notes)


def weather_told(climate: ClimateOrigin, words: Words) -> list[Block]:
    """The same at the end of an answer, for whoever asks how the weather was come by."""
    return listed(tell("how the weather was taken"), [*weather_notes(climate, words)])


def title_place(site: Site, words: Words) -> str:
    return site.name if site.height_m is None else f"{site.name} ({words.height(site.height_m)})"


def whereabouts(site: Site) -> str:
    """'Hamilton, New Zealand (37.79° S, 175.28° E)': a grower sees which of several namesakes was taken."""
    north = later("{degrees:.2f}° N") if site.lat >= 0 else later("{degrees:.2f}° S")
    east = later("{degrees:.2f}° E") if site.lon >= 0 else later("{degrees:.2f}° W")
    point = f"{tell(north, degrees=abs(site.lat))}, {tell(east, degrees=abs(site.lon))}"
    return f"{site.name} ({point})"


def _away(climate: ClimateOrigin, words: Words) -> list[str]:
    away = [] if climate.distance_km is None else [tell("{distance_km} away",
                                                        distance_km=words.distance(climate.distance_km))]
    higher = climate.height_difference_m
    if higher is None:
        return [*away, tell("height difference not known")]
    if abs(higher) < LEVEL:
        return [*away, tell("at your height")]
    said = later("{height} higher than you") if higher > 0 else later("{height} lower than you")
    return [*away, tell(said, height=words.height(abs(higher)))]


def _years(climate: ClimateOrigin) -> list[str]:
    """What the weather years are: real ones, or made from monthly figures, and those of how many years."""
    if not climate.made:
        return [tell_n("{n} year", "{n} years", climate.years or 0)]
    figures = (tell("monthly figures") if climate.years is None else
               tell_n("monthly figures of {n} year", "monthly figures of {n} years", climate.years))
    return [figures, tell_n("{n} year made of them", "{n} years made of them", climate.made)]


def far_said(climate: ClimateOrigin | None, words: Words) -> str:
    """For where nothing else is told of the weather: how far off it was measured, how sure months from so far
    are, and what mends it; '' where it was not far."""
    if climate is None or climate.distance_km is None or not climate.far:
        return ""
    said = (later("The nearest weather station is {station}, {distance} away.")
            if climate.source == "station normals" else
            later("The weather is that of {station}, {distance} away."))
    away = tell(said, station=climate.station, distance=words.distance(climate.distance_km))
    return f"{away} {_caution(climate, words)}"


def far_shortly(climate: ClimateOrigin | None, words: Words) -> str:
    """The same in a line, for a page that is read every day; '' where it was not far."""
    if climate is None or climate.distance_km is None or not climate.far:
        return ""
    return tell("CAUTION: the weather was measured at {station}, {distance} away; days and frosts are the "
                "less sure.",
                station=climate.station, distance=words.distance(climate.distance_km))


def _caution(climate: ClimateOrigin, words: Words) -> str:
    far = climate.far
    steep = climate.height_difference_m is not None and abs(climate.height_difference_m) > FAR_HEIGHT
    if not far and not steep:
        return ""
    why = tell(" and ").join(word for word,
                             is_so in ((tell("far away"), far), (tell("at another height"), steep))
                       if is_so)
    caution = tell("CAUTION: the weather was measured {why}; your own ground may differ. Trust local "
                   "growers first.", why=why)
    return " ".join((caution, *_mended(words))) if far and climate.made else caution


def _mended(words: Words) -> Iterator[str]:
    """How far off months drawn from so far are, and what is better."""
    yield tell("At places with no station within {far}, months reckoned as here were about {error} off "
               "({least} with one within {near}): windows, frosts and pickings are the less sure.",
               far=words.round_distance(FAR_KM), error=words.degrees_off(FAR_ERROR),
               least=words.degrees_off(NEAR_ERROR), near=words.round_distance(NEAR_KM))
    yield tell("Twelve monthly normals from closer by are better.")
    yield tell("So is a daily record of your own; name either in the garden file (normals, weather), or in a "
               "terminal after --normals or --weather.")


def _at_sea(site: Site, climate: ClimateOrigin) -> str:
    """Degrees told the wrong way round, or without their minus, lie in the sea more often than not."""
    if not climate.far:
        return ""
    from evenpick.climate.sea import sea_share  # loads numpy, which a page of today's jobs has no need of

    if sea_share(site.lat, site.lon) < OPEN_SEA:
        return ""
    return tell("There is no land at this point as far as is known here. Degrees north come first, then "
                "degrees east; south and west are minus.")


def _height_asked(site: Site, climate: ClimateOrigin) -> str:
    near = climate.distance_km is None or climate.distance_km <= SAME_HEIGHT_KM
    if near or site.height_m is not None:
        return ""
    return tell("Say how high above the sea you are (--height, or height in the garden's file): higher "
                "ground is colder.")
