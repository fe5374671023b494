"""Frost, highs, lows and rain in a line of the diary."""

from __future__ import annotations

import re
from dataclasses import replace

from evenpick.base.language import tell
from evenpick.garden.diary import Reading
from evenpick.garden.diary_amounts import INCH, number
from evenpick.garden.diary_asking import Asker, refuse
from evenpick.garden.diary_scan import Scan

_RAIN = r"\b(?:rain(?:ed|fall|ing)?|rain gauge|gauge|drizzled?|downpour)\b"
_COLD = (
    r"(?:(?:ground|grass|hoar|white|air|hard|first|last|late|early|sharp|light) )*(?:frost|freeze)|"
    r"frosty|froze|min(?:imum)?|low|overnight low|lowest"
)
_HOT = r"max(?:imum)?|high|highest"
_HEAT = r"\b(?:hot|boiling|sweltering|baking)[ ,:]*(?:at |again |today )*(?=\d)"
"""said before a number of degrees"""
_SHADE = r"\bin (?:the )?shade\b"
"""where the heat of the air is measured"""
_GRASS = (
    r"\b(?:on|at|over) the (?:grass|lawn|turf|ground)\b|"
    r"\b(?:grass|ground)[ -](?:min(?:imum)?|temp\w*|level)\b"
)
_ON_THE_GROUND = r"(?<!no )(?<!without )(?<!without a )\b(?:ground|grass)[ -](?:frost|freeze)\b"
"""ice on the ground: degrees below nought told of it may have been read there, and the air be warmer"""
_AT_NIGHT = r"\b(?:over)?night\b"
_NO_FROST = r"\b(?:no|without(?: a)?) (?:ground )?frost\b"
_DEGREE = r"(-? ?\d+(?:\.\d+)?) ?(?:°|deg(?:rees)?\.?)? ?(c|f|celsius|fahrenheit|centigrade)?(?![\w.])"
_LINK = r"(?: (?:temp(?:erature)?|of|was|at|to|down to|reached|a|touch of|last night|this morning))*[ ,:=]*"
_BELOW = r"(?<![\w.])(-\d+(?:\.\d+)?) ?(?:°|degrees)? ?(c|f)?(?![\w.])"
"""a number with a minus, which can be nothing but degrees"""
_AMOUNT = r"(?<![\d./-])(\d+ \d+/\d+|\d+/\d+|\d*\.?\d+)"
_UNIT = r"(mm|millimet(?:re|er)s?|cm|in(?:ch(?:es)?)?\b|\")"
_END = r"(?: of)?(?![\w.])"
_WET = rf"{_AMOUNT} ?{_UNIT}?{_END}"
_ONLY_MM = (
    r"^\W*\d+(?:\.\d+)? ?mm(?: (?:(?:in|during) the night|(?:last |over)?night|today|yesterday|so far|"
    r"in total|this (?:morning|afternoon|evening)))*\W*$"
)
"""nothing else that is told of a garden in millimetres stands alone"""
_NO_RAIN = rf"(?! ?{_UNIT})(?! ?\d*/\d| \d+ \d+/\d)"
"""what follows does not make the number before it an amount of rain"""
_SMALL = (
    r"\b(?:overnight|night|temp(?:erature)?s?|degrees?|thermometer|mercury|heavy|steady|showers?|very)\b"
)


MOST_FROST = 30.0
"""°C: 'frost 3' may be three degrees of frost, or a ground frost at 3 °C in the air"""


def speaks_of_weather(scan: Scan) -> bool:
    words = (rf"{_RAIN}|\b(?:{_COLD}|{_HOT})\b|(?<![\w.])-\d|\d ?°|\d ?(?:f|c)\b|{_HEAT}|\d {_SHADE}|"
             rf"{_ONLY_MM}")
    return scan.see(words) is not None


def take_weather(scan: Scan, imperial: bool, when: str | None, asker: Asker) -> Reading:
    """The readings told, struck out; asks for what has no number or no unit.

    A bare '-3' is a night's minimum only where a day or night was told: `when`, as typed.
    """
    bare = (
        when is None
        and scan.see(rf"{_RAIN}|\b(?:{_COLD}|{_HOT})\b|\d ?°|\d ?[cf]\b|degrees of frost|{_HEAT}|{_SHADE}|"
                     rf"{_GRASS}|{_ONLY_MM}") is None
    )
    if bare:
        refuse(
            tell("a number alone does not tell what was measured."), tell(
                        "Write it such as frost -3 °C or rain 5 mm.")
        )
    if scan.see(_RAIN) is not None or scan.see(_ONLY_MM) is not None:
        return _wet_day(scan, imperial, asker)
    grass = scan.take(_GRASS) is not None
    low_down = scan.see(_ON_THE_GROUND) is not None
    scan.drop(r"\b(?:outside|outdoors|in the open)\b")
    night = grass or "night" in (when or "").lower() or scan.see(_AT_NIGHT) is not None
    reading = _degrees(scan, imperial, night, asker)
    if reading.tmin is not None and (grass or (low_down and reading.tmin < 0)):
        reading = replace(reading, tmin=_in_the_air(reading.tmin, imperial, asker))
    scan.drop(rf"\b(?:{_COLD}|{_HOT})\b")
    scan.drop(_SMALL)
    return reading


def _in_the_air(grass: float, imperial: bool, asker: Asker) -> float:
    """°C of the air, where what was measured lay on the grass, which is colder on a clear night."""
    text = tell("Grass is colder than the air above it, by which all is reckoned. What was the lowest there?")
    as_cold = tell("as cold, {low}", low=f"{grass * 1.8 + 32:.3g} °F" if imperial else f"{grass:.3g} °C")
    given = asker.ask("grass", text, [("as cold", as_cold)], _cold_example(imperial))
    return grass if given == "as cold" else _celsius_of(given, asker)


def _wet_day(scan: Scan, imperial: bool, asker: Asker) -> Reading:
    """Rain, and the degrees told with it: what follows their words is theirs, and what has a minus. Words of
    cold and heat without a number of theirs are left, so that they are asked about."""
    dry = scan.take(r"\bno rain(?:fall)?\b") is not None
    low = scan.take(rf"\b(?:{_COLD})\b{_LINK}{_DEGREE}{_NO_RAIN}")
    high = scan.take(rf"\b(?:{_HOT})\b{_LINK}{_DEGREE}{_NO_RAIN}")
    if low is None and high is None:
        low = scan.take(_BELOW + _NO_RAIN)
    degrees = _read(low, high, imperial, asker)
    also = "" if low is None and high is None else "rain-"
    rain = 0.0 if dry else _rain(scan, imperial, asker, also)
    scan.drop(_SMALL)
    return Reading(degrees.tmin, degrees.tmax, rain)


def _degrees(scan: Scan, imperial: bool, night: bool, asker: Asker) -> Reading:
    if scan.take(r"(\d+) degrees? of frost\b"):
        given = asker.ask(
            "unit", tell("Degrees below freezing of which scale? Give the lowest temperature."), (),
            _cold_example(imperial)
        )
        return Reading(tmin=_celsius_of(given, asker))
    low = scan.take(rf"\b(?:{_COLD})\b{_LINK}{_DEGREE}")
    high = scan.take(rf"\b(?:{_HOT})\b{_LINK}{_DEGREE}")
    if low is None and high is None:
        low = scan.take(rf"{_DEGREE} ?(?:{_COLD})\b")
        high = scan.take(rf"{_DEGREE} ?(?:{_HOT})\b")
    if low is None and high is None:
        high = scan.take(rf"{_HEAT}{_DEGREE}") or scan.take(rf"{_DEGREE} ?{_SHADE}")
    if low is None and high is None:
        low = scan.take(_BELOW)
    if low is None and high is None:
        no_frost = scan.see(_NO_FROST) is not None
        single = scan.take(rf"(?<![\w.]){_DEGREE}")
        scan.drop(rf"\b(?:{_COLD}|{_HOT})\b")
        if single is None and no_frost:
            refuse(tell("no frost is no temperature."), tell(
                "Write how cold it was, such as {example}, or put 'note:' before the line.",
                example="lowest 35 °F" if imperial else "lowest 2 °C"))
        if single is not None and night:
            return _read(single, None, imperial, asker)
        if single is None:
            given = asker.ask("amount", tell("How cold was it?"), (), _cold_example(imperial))
            return Reading(tmin=_celsius_of(given, asker))
        given = asker.ask("amount", tell("Was {typed} the lowest or the highest?", typed=single[0].strip()),
                          [("low", tell("the lowest")), ("high", tell("the highest"))])
        low, high = (single, None) if given == "low" else (None, single)
    return _read(low, high, imperial, asker)


def _cold_example(imperial: bool) -> str:
    return "27 °F" if imperial else "-3 °C"


def _read(
    low: re.Match[str] | None, high: re.Match[str] | None, imperial: bool, asker: Asker
) -> Reading:
    frost = low is not None and "fr" in low[0]
    lowest = None if low is None else _celsius(low[1], low[2], imperial, frost, asker)
    highest = None if high is None else _celsius(high[1], high[2], imperial, False, asker)
    if lowest is not None and highest is not None and lowest > highest:
        refuse(tell("the lowest can't be above the highest."), tell("Look at the thermometer again."))
    return Reading(lowest, highest)


def _celsius_of(text: str, asker: Asker) -> float:
    match = Scan(text).see(rf"^ ?{_DEGREE}$")
    if match is None or match[2] is None:
        refuse(tell("'{text}' is no temperature.", text=text), tell("Write it such as -3 °C or 27 °F."))
    return _celsius(match[1], match[2], False, False, asker)


def _celsius(text: str, unit: str | None, imperial: bool, frost: bool, asker: Asker) -> float:
    """°C; without a unit the garden's units tell, unless the number does not fit them."""
    value = float(text.replace(" ", ""))
    doubtful = (
        (value <= 0 and imperial) or (frost and not imperial and value > 5) or (not imperial and value > 45)
    )
    if unit is None:
        unit = (
            asker.ask("unit", tell("Is {value:g} in °C or °F?", value=value), [("c", "°C"), ("f", "°F")])
            if doubtful
            else "f"
            if imperial
            else "c"
        )
    if frost and unit[0] == "c" and 0 < value <= MOST_FROST:
        question = tell("Was the lowest {below:g} or {above:g} °C?", below=-value, above=value)
        given = asker.ask("frost", question, [("below", f"-{value:g} °C"), ("above", f"{value:g} °C")])
        value = -value if given == "below" else value
    celsius = (value - 32) / 1.8 if unit[0] == "f" else value
    if not -60 <= celsius <= 60:
        refuse(tell("{celsius:.4g} °C can't be.", celsius=celsius), tell("Look at the thermometer again."))
    return celsius


def _rain(scan: Scan, imperial: bool, asker: Asker, also: str) -> float:
    """In mm. `also` tells its questions from those about the degrees of the same clause."""
    scan.drop(r"\b(?:all (?:day|night)|heavy|steady|hard|showers?|in the)\b")
    match = (
        scan.take(rf"{_RAIN}{_LINK}{_AMOUNT} ?{_UNIT}{_END}")
        or scan.take(rf"{_AMOUNT} ?{_UNIT}{_END}")
        or scan.take(rf"{_RAIN}{_LINK}{_WET}")
        or scan.take(_WET)
    )
    scan.drop(_RAIN)
    if match is None:
        given = asker.ask(f"{also}amount", tell("How much rain?"), (), "0.2 in" if imperial else "5 mm")
        match = Scan(given.lower()).see(_WET)
        if match is None:
            refuse(tell("'{given}' is no amount of rain.",
                        given=given), tell("Write it such as 5 mm or 0.2 in."))
    if number(match[1]) == 0.0:
        return 0.0
    unit = match[2] or asker.ask(
        f"{also}unit", tell("{match} of which unit?", match=match[1]),
        [("mm", tell("millimetres")), ("in", tell("inches"))],
    )
    value = number(match[1]) * (10.0 if unit == "cm" else 1.0 if unit.startswith("m") else INCH)
    if not 0 <= value <= 1000:
        refuse(tell("{value:g} mm of rain in a day can't be.", value=value), tell("Look at the gauge again."))
    return value
