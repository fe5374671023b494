"""Lengths and weekly amounts as growers write them, turned into m and kg (areas: garden/areas).

Exact factors: international foot 0.3048 m and pound 0.45359237 kg (nist811). A value without a unit is
refused, for 20 ft read as 20 m is a wrong plan and not a wrong word.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import TYPE_CHECKING

from evenpick.base.errors import BadGarden, Problem
from evenpick.base.language import later, tell
from evenpick.base.trade import ALSO_CALLED

if TYPE_CHECKING:
    from evenpick.crops.crop import Crop

FOOT = 0.3048
POUND = 0.45359237
LENGTHS = {
    "m": 1.0, "metre": 1.0, "metres": 1.0, "meter": 1.0, "meters": 1.0, "cm": 0.01,
    "ft": FOOT, "foot": FOOT, "feet": FOOT, "'": FOOT,
    "in": FOOT / 12, "inch": FOOT / 12, "inches": FOOT / 12,
    "yd": 3 * FOOT, "yard": 3 * FOOT, "yards": 3 * FOOT,
}
WEIGHTS = {
    "kg": 1.0, "kilo": 1.0, "kilos": 1.0, "g": 1e-3, "grams": 1e-3,
    "lb": POUND, "lbs": POUND, "pound": POUND, "pounds": POUND,
    "oz": POUND / 16, "ounce": POUND / 16, "ounces": POUND / 16,
}
SEED_WORDS = ("seed", "set", "clove", "tuber", "slip", "bulb", "corm")
LARGEST = 1e6
"""a week's amount or an area (m²) beyond this is a slip of the pen"""

_COMMA = re.compile(r"(?<![0-9.,])(?:(0?),([0-9]+)|([1-9][0-9]*),([0-9]{1,2}))(?![0-9]|[.,][0-9])")
"""a comma that can only stand before decimals: thousands have three digits after it, and no nought before"""
_QUANTITY = re.compile(r"([+-]?(?:[0-9]+(?:\.[0-9]+)?|\.[0-9]+))\s*([^\W0-9].*|[°'].*)?")

SAY_SEED = later('Write what is left such as "300 seeds", "50 sets", "2 g" or "1 oz".')
SAY_TEMPERATURE = later('Write the temperature such as "5 °C" or "41 °F".')


def refuse(what: str, mend: str) -> BadGarden:
    return BadGarden(Problem(what, mend))


def quantity(text: str, mend: str) -> tuple[float, str]:
    """The number and the unit of '12 kg'; the unit in small letters without a full stop, or ''."""
    match = _QUANTITY.fullmatch(text.strip().casefold())
    if match is None:
        if re.search(r"[0-9],[0-9]", text):
            mend = tell("Write decimals with a point and thousands without a mark. {mend}", mend=mend)
        raise refuse(tell("'{text}' can't be read as an amount.", text=text[:60]), mend)
    return float(match[1]), " ".join((match[2] or "").replace(".", " ").split())


def positive(value: float, text: str, mend: str) -> float:
    if not 0 < value <= LARGEST:
        kind = "nought or less" if value <= 0 else "more than anyone grows"
        raise refuse(tell("'{text}' is {kind}.", text=text[:60], kind=kind), mend)
    return value


def height(text: str) -> float:
    """Metres above the sea of '12 m' or '40 ft'; may be below nought; BadGarden outside -450 to 6,000 m."""
    mend = tell('Write the height above the sea such as "12 m" or "40 ft".')
    number, unit = quantity(text, mend)
    if unit not in LENGTHS:
        raise refuse(tell("'{text}' is not a height.", text=text[:60]), mend)
    metres = number * LENGTHS[unit]
    if not -450 <= metres <= 6000:
        raise refuse(tell("a garden at {metres:g} m can't be.", metres=metres), mend)
    return metres


def temperature(text: str) -> float:
    """°C of '5 °C' or '41 F'; BadGarden outside -5 to 35 °C, for it is a raising bench that is meant."""
    celsius = air_temperature(text)
    if not -5 <= celsius <= 35:
        raise refuse(tell("a raising bench kept above {celsius:.0f} °C can't be meant.",
                           celsius=celsius), tell(SAY_TEMPERATURE))
    return celsius


def air_temperature(text: str) -> float:
    """°C of '-3 °C' or '27 F'; BadGarden outside -60 to 60 °C."""
    number, unit = quantity(text, tell(SAY_TEMPERATURE))
    unit = unit.removeprefix("°").strip()
    if unit not in ("c", "f"):
        raise refuse(tell("'{text}' does not say whether it is °C or °F.", text=text[:60]),
                      tell(SAY_TEMPERATURE))
    celsius = number if unit == "c" else (number - 32) / 1.8
    if not -60 <= celsius <= 60:
        raise refuse(tell("{celsius:.0f} °C can't be.", celsius=celsius), tell(SAY_TEMPERATURE))
    return celsius


def weight(text: str) -> float:
    """kg of '1.2 kg', '300 g', '2 lb'; else BadGarden."""
    mend = tell('Write a weight such as "1.2 kg" or "2 lb".')
    number, unit = quantity(text, mend)
    if unit not in WEIGHTS:
        raise refuse(tell("'{text}' is not a weight.", text=text[:60]), mend)
    return positive(number, text, mend) * WEIGHTS[unit]


def with_points(text: str) -> str:
    """What is typed on a page, with decimals after a point that stand after a comma, for some phones offer no
    point. '1,500' may be either and stays, to be refused."""
    return _COMMA.sub(lambda found: f"{found[1] or found[3] or 0}.{found[2] or found[4]}", text)


def weight_in(text: str, unit: str) -> float:
    """As `weight`, from a field with its unit beside it: a bare number is in that `unit`."""
    typed = with_points(text.strip())
    return weight(f"{typed} {unit}" if typed[-1:].isdigit() else typed)


def _counts(word: str, crop: Crop) -> bool:
    """Whether a word is what the crop is counted by: 'heads', or a whole one by its name, 'lettuces'."""
    piece = crop.produce.piece
    called = [piece, *ALSO_CALLED.get(piece, ())]
    if piece not in ("kg", "bunch"):
        called += [name.lower().split()[-1] for name in (crop.name, crop.american, *crop.aliases)]
    return word in called or any(word in (f"{each}s", f"{each}es") for each in called)


def weekly_kg(text: str, crops: Sequence[Crop]) -> float:
    """kg of one share's week: '2 kg', '1.5 lb', '12 portions', '8 heads', '20 bunches'; else BadGarden with
    the words that would do."""
    pieces = sorted({crop.produce.piece for crop in crops} - {"kg"})
    by_piece = f", or count by '{pieces[0]}'" if len(pieces) == 1 else ""
    mend = tell('Write kg, g, lb, oz or portions, such as "2 kg" or "12 portions"{by_piece}.',
                by_piece=by_piece)
    return kg_of(text, crops, mend)


def kg_of(text: str, crops: Sequence[Crop], mend: str) -> float:
    """kg of an amount by weight, portions or pieces; BadGarden with the remedy for any other.

    A portion or a piece weighs what the catalogue says, over several crops their mean. A piece must be
    what all the crops are counted in.
    """
    number, unit = quantity(text, mend)
    positive(number, text, mend)
    if unit in WEIGHTS:
        return number * WEIGHTS[unit]
    if unit in ("portion", "portions"):
        return number * portion_kg(crops)
    if all(_counts(unit, crop) for crop in crops):
        return number * sum(crop.produce.piece_kg for crop in crops) / len(crops)
    if not unit:
        raise refuse(tell("'{text}' does not say of what.", text=text[:60]), mend)
    names = ", ".join(crop.told for crop in crops)
    what = tell("not all of {names} are", names=names) if len(crops) > 1 else tell("{names} is not",
                                                                                   names=names)
    raise refuse(tell("'{text}': {what} counted by '{unit}'.", text=text[:60], what=what, unit=unit), mend)


def portion_kg(crops: Sequence[Crop]) -> float:
    """kg of a portion, the mean of the crops'."""
    return sum(crop.produce.portion_kg for crop in crops) / len(crops)


def week_hours(text: str) -> float:
    """h of '12 h', '90 min', '1.5 hours'; BadGarden for nought or more than 10,000 h."""
    mend = tell('Write the hours of a week, of all who work, such as "12 h" or "90 min".')
    hours = _hours(text, mend)
    if hours > 10_000:
        raise refuse(tell("'{text}' is more than a week of sixty people.", text=text[:60]), mend)
    return hours


def day_hours(text: str) -> float:
    """h of a day, as `week_hours`; BadGarden for nought or more than 1,440 h."""
    mend = tell('Write the hours of that day, of all who work, such as "3 h" or "90 min"; leave out a day '
                "that has none.")
    hours = _hours(text, mend)
    if hours > 60 * 24:
        raise refuse(tell("'{text}' is more than a day of sixty people.", text=text[:60]), mend)
    return hours


def _hours(text: str, mend: str) -> float:
    number, unit = quantity(text, mend)
    scale = {"h": 1.0, "hour": 1.0, "hours": 1.0, "hr": 1.0, "hrs": 1.0, "min": 1 / 60, "minutes": 1 / 60}
    if unit not in scale:
        raise refuse(tell("'{text}' is not a number of hours.", text=text[:60]), mend)
    return positive(number * scale[unit], text, mend)


def seed_amount(text: str) -> tuple[float | None, float | None]:
    """(count, grams), one of them None, of '300 seeds', '50 sets', '2 g', '1 oz', '2 kg'; else BadGarden."""
    seeds, grams = seed_left(text)
    if not (seeds or grams):
        raise refuse(tell("'{text}' is nought.", text=text[:60]), tell("{say_seed} Leave out what is empty.",
                                                        say_seed=tell(SAY_SEED)))
    return seeds, grams


def seed_left(text: str) -> tuple[float | None, float | None]:
    """As `seed_amount`; '0 seeds' is an empty packet."""
    mend = tell(SAY_SEED)
    number, unit = quantity(text, mend)
    if not 0 <= number <= LARGEST:
        raise refuse(tell("'{text}' can't be in a tin.", text=text[:60]), mend)
    if unit in WEIGHTS:
        return None, number * WEIGHTS[unit] * 1000
    if unit.removesuffix("s") in SEED_WORDS:
        return number, None
    raise refuse(tell("'{text}' is neither a number of seeds nor a weight.", text=text[:60]), mend)


def few(value: float, figures: int = 3) -> str:
    """So many figures that mean something, and none fewer than stand before the point: 0.15, 12.5, 1,234."""
    return f"{value:,.0f}" if abs(value) >= 10**figures - 0.5 else f"{value:.{figures}g}"


def area_told(m2: float, imperial: bool) -> str:
    """'12.5 m²', '135 sq ft'."""
    return f"{few(m2 / FOOT**2)} sq ft" if imperial else f"{few(m2)} m²"


def weight_told(kg: float, imperial: bool) -> str:
    """'1.25 kg', '2.76 lb'."""
    return f"{few(kg / POUND)} lb" if imperial else f"{few(kg, 4)} kg"


def percent(text: str) -> float:
    """The number of '85 %', 0 to 100; else BadGarden."""
    mend = tell('Write how many of a hundred came up, such as "85 %".')
    number, unit = quantity(text.replace("%", " percent"), mend)
    if unit != "percent" or not 0 <= number <= 100:
        raise refuse(tell("'{text}' is not a percentage.", text=text[:60]), mend)
    return number
