"""The reader's words and units: British or American, metric or imperial, and no more digits than are known.

Factors: international foot 0.3048 m, pound 0.45359237 kg, ounce a sixteenth of it (nist811).
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import floor, isfinite, log10

from evenpick.base.language import later, marked, tell, tell_n
from evenpick.base.trade import CoverName, WayName
from evenpick.crops.catalogue import Catalogue
from evenpick.garden.amounts import FOOT, POUND
from evenpick.garden.whose_words import English, Units

MILE = 5280 * FOOT
LONG_WAY = 20  # miles: from here people say tens
OUNCE_G = POUND / 16 * 1000
COVER_WORDS: Mapping[CoverName, str] = {
    "open": later("open"), "fleece": later("fleece"), "cloche": later("cloche"), "tunnel": later("tunnel"),
}
WAY_WORDS: Mapping[WayName, str] = {
    "direct": later("in place"), "raised": later("raised"), "planted": later("planted"),
}
FRACTIONS = ("", "¼", "½", "¾")
SMALL = 0.005  # less reads as nought in two places
DIFFERENCE = re.compile(r"([+-]\d+(?:\.\d+)?) °C")
AREA = re.compile(r"(\d+(?:\.\d+)?) m²")
HEIGHT = re.compile(r"(\d+) m\.")
SPEED = re.compile(r"(\d+(?:\.\d+)?) m/s")
METRIC = re.compile(r"(-?\d+(?:\.\d+)?) (°C d|°C|kg/m²)")


@dataclass(frozen=True, slots=True)
class Weights:
    """How weights that stand together are told."""

    unit: str
    per_kg: float

    def figure(self, kg: float) -> str:
        """The bare figure for a column headed by `unit`."""
        return figure(kg * self.per_kg)


@dataclass(frozen=True, slots=True)
class Words:
    """How one reader wants it said."""

    english: English
    units: Units
    american: Mapping[str, str]
    """American name by British name; empty for a British reader"""
    cautions: Mapping[str, tuple[str, ...]]
    """by crop key"""
    in_poor_light: frozenset[str] = frozenset()
    """those of them that hold only of what grew in the poor light of winter"""
    bulbs: frozenset[str] = frozenset()
    """keys of the crops that make bulbs by the length of the day"""

    def name(self, british: str) -> str:
        """What the reader calls a crop, and ', baby leaf' or the like after it; a grower's own stays."""
        crop, comma, use = british.partition(", ")
        return f"{self.american.get(crop, crop)}{comma}{tell(use)}"

    def cover(self, cover: CoverName) -> str:
        return tell(COVER_WORDS[cover])

    def place(self, ground: str | None, cover: CoverName) -> str:
        """The ground, or what it is under where none was told."""
        return ground or self.cover(cover)

    def covers(self, covers: Iterable[CoverName]) -> str:
        return ", ".join(self.cover(cover) for cover in covers)

    @property
    def imperial(self) -> bool:
        return self.units == "imperial"

    @property
    def weight_unit(self) -> str:
        return "lb" if self.imperial else "kg"

    def weight_figure(self, kg: float) -> str:
        """The bare figure for a column headed by `weight_unit`."""
        return figure(kg / POUND if self.imperial else kg)

    def weight(self, kg: float) -> str:
        """What rounds to a whole pound or kilogram is told as one: never 16 oz."""
        value, unit, parts, part = (kg / POUND, "lb", 16, "oz") if self.imperial else (kg, "kg", 1000, "g")
        if kg == 0 and not self.imperial:
            return "0 kg"
        small = figure(value * parts)
        if value < 1 and small != figure(parts):
            return f"{small} {part}"
        return f"{figure(max(value, 1.0))} {unit}"

    def weights(self, kilograms: Iterable[float]) -> Weights:
        """A column of them: in the small unit where not one comes to a kilogram or a pound, so that a
        balcony reads 110 g and not 0.11 kg."""
        value, parts, part = (1 / POUND, 16, "oz") if self.imperial else (1.0, 1000, "g")
        if max(kilograms, default=0.0) * value < 1:
            return Weights(part, value * parts)
        return Weights(self.weight_unit, value)

    def weight_band(self, low: float, high: float) -> str:
        """Two weights in the unit of the higher: '0 to 230 g'."""
        number, unit = self.weight(high).rsplit(" ", 1)
        scale = {"g": 1e3, "kg": 1.0, "oz": 16 / POUND, "lb": 1 / POUND}[unit]
        return tell("{low} to {high} {unit}", low=figure(low * scale), high=number, unit=unit)

    def likely(self, likely: float, low: float, high: float) -> str:
        """'16 lb (0 to 28 lb)'; without its band where that is as good as certain, lest 48 lb read "48 to
        48"."""
        if self.weight(low) == self.weight(high):
            return self.weight(likely)
        return f"{self.weight(likely)} ({self.weight_band(low, high)})"

    def weight_said(self, kg: float) -> str:
        """A weight that somebody set, with no more figures than it was given: '4 kg', '8.82 lb'."""
        if self.imperial:
            return f"{_trimmed(kg / POUND)} lb" if kg >= POUND else f"{_trimmed(kg / POUND * 16)} oz"
        return f"{_trimmed(kg)} kg" if kg >= 1 else f"{_trimmed(kg * 1000)} g"

    def grams(self, grams: float) -> str:
        """Seed's weight; from a kilogram or a pound on in those."""
        pound = 16 * OUNCE_G
        if self.imperial:
            return f"{figure(grams / OUNCE_G)} oz" if grams < pound else f"{figure(grams / pound)} lb"
        return f"{figure(grams)} g" if grams < 1000 else f"{figure(grams / 1000)} kg"

    def row(self, metres: float) -> str:
        """Metres of row, to the half metre, in which it is planned (`crops.sown.ROW_STEP`)."""
        if self.imperial:
            return marked(f"{max(1, round(metres / FOOT)):,} ft")
        half = max(0.5, round(metres * 2) / 2)
        return marked(f"{half:,.0f} m" if half.is_integer() else f"{half:,.1f} m")

    def area(self, m2: float, figures: int = 2) -> str:
        return f"{figure(m2 / FOOT**2, figures)} sq ft" if self.imperial else f"{figure(m2, figures)} m²"

    def with_areas(self, metric: str) -> str:
        """A sentence in which areas are told in m²."""
        return AREA.sub(lambda found: self.area(float(found[1])), metric) if self.imperial else metric

    def with_differences(self, metric: str) -> str:
        """A sentence in which differences of temperature, with their sign, are told in °C, and a height at
        its end in m."""
        if not self.imperial:
            return metric
        said = DIFFERENCE.sub(lambda found: f"{1.8 * float(found[1]):+.1f} °F", metric)
        return HEIGHT.sub(lambda found: f"{self.height(float(found[1]))}.", said)

    def assumed(self, note: str) -> str:
        """A sentence of what was taken for granted, in which the wind is told in m/s."""
        if not self.imperial:
            return sentence(note)
        return sentence(SPEED.sub(lambda found: f"{float(found[1]) * 3600 / MILE:.1f} mph", note))

    def along(self, metres: float, length: bool) -> float:
        """The figure of a place along a bed in `length_unit`, or, of m², in `area_unit`."""
        return metres / (FOOT if length else FOOT**2) if self.imperial else metres

    @property
    def length_unit(self) -> str:
        return "ft" if self.imperial else "m"

    @property
    def area_unit(self) -> str:
        return "sq ft" if self.imperial else "m²"

    def gap(self, metres: float) -> str:
        """A spacing, bare figure in cm or inches, of a few cm to half of one; 0 of half a centimetre and
        less."""
        if self.imperial:
            return f"{metres / FOOT * 12:.0f}"
        few = 0.005 < metres < 0.1
        return marked(f"{round(metres * 200) / 2:g}") if few else f"{metres * 100:.0f}"

    @property
    def gap_unit(self) -> str:
        return "in" if self.imperial else "cm"

    def depth(self, metres: float) -> str:
        """How deep to sow, to half a centimetre or a quarter inch; 0 is on the surface."""
        if metres <= 0:
            return "0"
        if not self.imperial:
            return marked(f"{max(0.5, round(metres * 200) / 2):g}")
        quarters = max(1, round(metres / FOOT * 48))
        whole = f"{quarters // 4}" if quarters >= 4 else ""
        return f"{whole}{FRACTIONS[quarters % 4]}"

    def height(self, metres: float) -> str:
        return marked(f"{metres / FOOT:,.0f} ft" if self.imperial else f"{metres:,.0f} m")

    def distance(self, km: float) -> str:
        miles = round(km * 1000 / MILE)
        return tell_n("{n} mile", "{n} miles", miles) if self.imperial else f"{km:.0f} km"

    def round_distance(self, km: float) -> str:
        """A round number of kilometres, '100 km', as people say it: 'about 60 miles'."""
        if not self.imperial:
            return f"{km:.0f} km"
        miles = km * 1000 / MILE
        said = round(miles, -1) if miles >= LONG_WAY else round(miles / 5) * 5
        return tell_n("about {n} mile", "about {n} miles", max(1, round(said)))

    def reckoned(self, metric: str) -> str:
        """A figure of the catalogue with its unit, '2.8 °C soil', '108 °C d' or '1.35 kg/m²', in these."""
        found = METRIC.match(metric) if self.imperial else None
        if found is None:
            return metric
        value, unit, rest = float(found[1]), found[2], metric[found.end():]
        if unit == "kg/m²":
            return f"{figure(value / POUND * FOOT**2)} lb/sq ft{rest}"
        return f"{1.8 * value:.0f} °F d{rest}" if unit == "°C d" else f"{1.8 * value + 32:.0f} °F{rest}"

    @property
    def temperature_unit(self) -> str:
        return "°F" if self.imperial else "°C"

    def temperature(self, celsius: float) -> str:
        """The bare figure for a column headed by `temperature_unit`."""
        return f"{celsius * 1.8 + 32:.0f}" if self.imperial else f"{celsius:.0f}"

    def degrees_off(self, degrees: float) -> str:
        """An error of temperature: '1.4 °C', '2.5 °F'."""
        return f"{degrees * (1.8 if self.imperial else 1.0):.1f} {self.temperature_unit}"

    def warming(self, degrees: float) -> str:
        """A difference of temperature: '+1 °C', '+1.8 °F'."""
        return marked(f"{degrees * (1.8 if self.imperial else 1.0):+g} {self.temperature_unit}")


def words_for(english: English, units: Units, catalogue: Catalogue) -> Words:
    """The words of one reader over the crops of a catalogue."""
    american = {crop.name: crop.american for crop in catalogue.crops} if english == "american" else {}
    cautions = {crop.key: crop.cautions for crop in catalogue.crops}
    dim = frozenset(said for crop in catalogue.crops for said in crop.in_poor_light)
    bulbs = frozenset(crop.key for crop in catalogue.crops if crop.bulbing is not None)
    return Words(english, units, american, cautions, dim, bulbs)


def figure(value: float, figures: int = 2) -> str:
    """So many figures that mean something: 0.35, 1.2, 12, 120, 1,200; what is less than 0.005 is <0.01."""
    if value == 0:
        return "0"
    if 0 < value < SMALL:
        return marked("<0.01")
    last = figures - 1
    rounded = round(value, last - floor(log10(abs(value))))
    places = min(max(last - floor(log10(abs(rounded))), 0), 2)
    return marked(f"{rounded:,.{places}f}")


def _trimmed(value: float) -> str:
    """To the hundredth, without noughts at the end."""
    return marked(f"{value:,.2f}".rstrip("0").rstrip("."))


def count(number: float) -> str:
    """A count of seeds: exact while few, two figures when many."""
    return f"{number:.0f}" if number < 100 else figure(number)


def percent(share: float) -> str:
    """A share in whole hundredths, "<1 %" for what is little but there, "-" for a share of nothing."""
    if not isfinite(share):
        return "-"
    return "<1 %" if 0 < share < 0.005 else f"{share * 100:.0f} %"


def tenths(share: float) -> str:
    """A share in tenths of a hundredth: '3.2 %'."""
    return tell("{figure:.1f} %", figure=share * 100)


def listing(names: Iterable[str]) -> str:
    """Names in a row; "Cos lettuce, small heads" with its comma is one of them."""
    told = list(names)
    return ("; " if any("," in name for name in told) else ", ").join(told)


def capital(words: str) -> str:
    """With a capital."""
    return words[:1].upper() + words[1:]


def sentence(words: str) -> str:
    """With a capital and a full stop."""
    words = words.strip()
    return words and capital(words) + ("" if words[-1] in ".!?" else ".")
