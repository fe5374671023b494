"""Amounts in a line of the diary: rows, areas, plants, trays, weights, pieces, shares, water and weather."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from evenpick.garden.amounts import FOOT, POUND
from evenpick.garden.diary_scan import STRUCK, Scan

INCH = 25.4
GALLONS = {"US": 3.785411784, "imperial": 4.54609}
"""litres (exact: nist811 for the US gallon, its imperial one by the Weights and Measures Act 1985)"""
_NUM = r"(?<![\d.,/\w])(-?\d+ \d+/\d+|-?\d+/\d+|-?\d*\.?\d+(?:e\d+)?)"
_APART = (
    r"(?! ?(?:apart|deep|wide|high|tall|between|spacing|square|x|of (?:snow|mulch|compost|manure|water)))"
)
_LENGTH = r"(m|metres?|meters?|mtrs?|ft|foot|feet|'|yards?|yds?|cm|inch(?:es)?)(?![\w²'])"
_LENGTHS = {"m": 1.0, "f": FOOT, "'": FOOT, "y": 3 * FOOT, "c": 0.01, "i": FOOT / 12}
_INCHES = r"(\d{1,2}(?:\.\d+)?) ?(?:in(?:s|ch|ches)?\b|\"|'')"
_TO = r"(?<!\bto )(?<!\bat )(?<!\bevery )"
"""not before a distance between plants, which is no length of row"""
_AREA = r"(m²|sq(?:uare)?\.? ?m(?:et(?:re|er)s?)?|sqm|ft²|sq(?:uare)?\.? ?f(?:ee)?t|sqft)(?![\w²])"
_WEIGHT = r"(kg|kgs|kilos?|kilograms?|g|gr|gms?|grams?|grammes?|lbs?|pounds?|oz|ounces?)\b"
_PIECES = r"(heads?|hearts?|roots?|bunch(?:e?s)?|ears?|cobs?|fruits?|bulbs?|spears?|stalks?|sticks?|leaves)\b"
_VESSELS = (
    r"(?:handfuls?|bowls?|bowlfuls?|bags?|bagfuls?|baskets?|trugs?|buckets?|colanders?|punnets?|crates?|"
    r"boxes|box|carrier bags?|armfuls?|pickings?|hatfuls?|capfuls?|apronfuls?|"
    r"bucketfuls?|barrow ?loads?|barrowfuls?|"
    r"wheelbarrows?|barrows?|saucepans?|jugs?|mugs?|plates?|platefuls?)\b"
)
_OVER = rf"[ {STRUCK}]*(?:of )?"
"""a name that was read already may stand between"""
_OUT_OF = r"(?<![\w./])(\d{1,5}) (?:out )?of (?:the |my |our )?(\d{1,5})(?![\w.]| ?(?:cm|mm|m|ft|kg|g|l)\b)"
"""'12 of the 30' """
_SOME = (
    r"\b(?:some|a few|a bit of|a little|lots of|loads of|plenty of|several|a load of|the last of|the rest of|"
    r"the first|enough)\b"
)
_SHARES = {
    "half": 0.5,
    "a third": 1 / 3,
    "1 third": 1 / 3,
    "2 thirds": 2 / 3,
    "a quarter": 0.25,
    "1 quarter": 0.25,
    "3 quarters": 0.75,
    "three quarters": 0.75,
    "a tenth": 0.1,
    "a fifth": 0.2,
}


@dataclass(frozen=True, slots=True)
class Amounts:
    """What a clause says, metric: m, m², kg, litres; None where it says nothing of the kind."""

    row: float | None = None
    area: float | None = None
    kg: float | None = None
    pieces: float | None = None
    piece: str = ""
    """the word for a piece, singular"""
    plants: float | None = None
    seeds: float | None = None
    trays: float | None = None
    """trays whose cells were not told"""
    packets: int | None = None
    litres: float | None = None
    gallons: float | None = None
    share: float | None = None
    some: bool = False
    """an amount was told that is no number: some, a few, most"""
    vessel: bool = False
    again: bool = False
    """a second weight was told"""
    between: tuple[float, float] | None = None
    """kg, where a weight is told as from one to another"""
    counts: tuple[float, ...] = ()
    """numbers without any unit"""

    def values(self) -> list[float]:
        named = (
            self.row,
            self.area,
            self.kg,
            self.pieces,
            self.plants,
            self.seeds,
            self.trays,
            self.packets,
            self.litres,
            self.gallons,
        )
        return [each for each in (*named, *self.counts, *(self.between or ())) if each is not None]

    def extent(self) -> list[str]:
        """Which of the amounts that a sowing's ground follows from are told."""
        return [name for name in ("row", "area", "plants", "counts") if getattr(self, name) not in (None, ())]

    def beyond(self, kept: Collection[str]) -> str:
        """The amounts that would go unread where only those are kept, in words; '' where none would."""
        extent = self.extent()
        over = [] if "extent" in kept and len(extent) + len(self.counts[1:]) <= 1 else extent
        others = ("kg", "between", "pieces", "seeds", "trays", "packets", "litres", "gallons", "share")
        over += [name for name in others if getattr(self, name) is not None]
        said = [_SAID[name] for name in dict.fromkeys(over) if name not in kept]
        return ", ".join(said + ["the second weight"] * self.again)


_SAID = {
    "row": "the length",
    "area": "the area",
    "plants": "the number of plants",
    "counts": "a number",
    "kg": "the weight",
    "between": "the weight",
    "pieces": "the number of pieces",
    "seeds": "the number of seeds",
    "trays": "the trays",
    "packets": "the packets",
    "litres": "the water",
    "gallons": "the water",
    "share": "the share",
}


def number(text: str) -> float:
    """'1 1/2', '3/4', '2.5'; nan where it divides by nought."""
    whole, _, rest = text.rpartition(" ")
    above, _, below = rest.partition("/")
    if below:
        part = float(above) / float(below) if float(below) else float("nan")
        return (float(whole) if whole else 0.0) + part
    return float(rest)


def take_amounts(scan: Scan) -> Amounts:
    """Every amount in the clause, struck out of it."""
    half = scan.take(rf"\b(?:half|a quarter of) (?:an? )?{_VESSELS}(?: of)?")
    share = _share(scan)
    trays, cells = _trays(scan)
    row, area = _rows(scan)
    between = _between(scan)
    kg, again = _weight(scan)
    litres, gallons = _water(scan)
    packets = scan.take(r"(?<![\w.])(a|an|another|\d+) (?:packets?|packs?|pkts?)\b")
    seeds = scan.take(rf"{_NUM}{_OVER}(?:seeds|sets|cloves|tubers|slips|bulbils)\b")
    plants = scan.take(rf"{_NUM}{_OVER}(?:plants?|seedlings?|plugs?|stations?|transplants?)\b")
    scan.drop(r"\b(?:plants|seedlings|plugs|stations)\b")
    vessel = scan.take(rf"(?<![\w.])(?:an?|\d+)? ?(?:small |big |good |full |carrier )?{_VESSELS}")
    pieces = scan.take(rf"{_NUM} {_PIECES}") or scan.take(rf"\b(a|an|another) {_PIECES}")
    some = scan.take(_SOME) is not None
    counts = []
    while (bare := scan.take(rf"{_NUM}(?![\w²%°/])")) is not None:
        counts.append(number(bare[1]))
    return Amounts(
        row,
        area,
        kg,
        _one(pieces),
        _singular(pieces[2]) if pieces else "",
        cells if cells is not None else number(plants[1]) if plants else None,
        number(seeds[1]) if seeds else None,
        trays,
        int(_one(packets) or 0) if packets else None,
        litres,
        gallons,
        share[0],
        some or share[1],
        vessel is not None or half is not None,
        again,
        between,
        tuple(counts),
    )


def _one(match: object) -> float | None:
    text = match[1] if match is not None else None  # type: ignore[index]
    return None if text is None else 1.0 if text in ("a", "an", "another") else number(text)


def _singular(word: str) -> str:
    return {"bunches": "bunch", "bunchs": "bunch", "leaves": "leaf"}.get(word, word.removesuffix("s"))


def _share(scan: Scan) -> tuple[float | None, bool]:
    """The share, and whether one was told that is no number."""
    if match := scan.take(
        r"(?:about |around |roughly |some |nearly |over )?(?<![\w.])(\d+(?:\.\d+)?) ?(?:%|per ?cent|percent)"
    ):
        scan.drop(r"\bof\b(?= the\b)")
        return float(match[1]) / 100, False
    if match := scan.take(
        r"(?:about |around |roughly |nearly |almost |over )?\b(half|a third|1 third|2 thirds|"
        r"a quarter|1 quarter|3 quarters|a tenth|a fifth)\b(?: of)?"
    ):
        return _SHARES[match[1]], False
    if (match := scan.see(_OUT_OF)) and 0 < float(match[1]) <= float(match[2]):
        scan.strike(*match.span())
        return float(match[1]) / float(match[2]), False
    if match := scan.take(r"(?<![\w./])(\d+)/(\d+)(?= of\b)"):
        return (float(match[1]) / float(match[2]) if float(match[2]) else float("nan")), False
    if scan.take(
        r"\b(?:all (?:of )?(?:the|my|our)|all|the whole (?:row|bed|lot|sowing|crop|garden|plot|patch)(?: of)?"
        r"|whole row of|the lot|every last|completely|entirely)\b"
    ):
        return 1.0, False
    return None, scan.take(
        r"\b(?:most(?: of)?|many(?: of)?|part of|some of|a few of|several of|nearly all|almost all)\b"
    ) is not None


def _trays(scan: Scan) -> tuple[float | None, float | None]:
    """Trays without cells told, and cells in all."""
    how_many = r"(?<![\w.])(an?|another|\d+)"
    if match := scan.take(
        rf"{how_many} (?:(?:seed |module |plug )?trays?|flats?) of (\d+)(?: (?:modules|cells|plugs))?\b"
    ):
        return None, (_one(match) or 0) * float(match[2])
    if match := scan.take(
        rf"{how_many} (\d+)[- ]?(?:cells?|modules?|plugs?|hole)(?: trays?| flats?)\b(?: of)?"
    ):
        return None, (_one(match) or 0) * float(match[2])
    if match := scan.take(r"(?<![\w.])(\d+) (?:modules|cells|plugs|pots|cell packs)\b(?: of)?"):
        return None, float(match[1])
    if match := scan.take(rf"{how_many} (?:(?:seed |module |plug )?trays?|flats?)\b(?: of)?"):
        return _one(match), None
    return None, None


def _rows(scan: Scan) -> tuple[float | None, float | None]:
    """Metres of row and m²; 'two rows of 3 m' are six."""
    if match := scan.take(rf"{_NUM} ?{_AREA}"):
        scale = FOOT**2 if "f" in match[2] else 1.0
        return None, number(match[1]) * scale
    if match := scan.take(rf"(?<![\w.])(\d+) ?(?:rows? (?:of|x) |x ){_NUM} ?{_LENGTH}(?: rows?\b)?"):
        return float(match[1]) * number(match[2]) * _LENGTHS[match[3][0]], None
    if match := scan.take(rf"(?<![\w.])(\d+) {_NUM} ?{_LENGTH} rows?\b"):
        return float(match[1]) * number(match[2]) * _LENGTHS[match[3][0]], None
    if match := scan.take(rf"(?:\ba )?{_TO}{_NUM} ?(?:ft|foot|feet|'),? ?{_INCHES}{_APART}(?: rows?\b)?"):
        return number(match[1]) * FOOT + float(match[2]) * FOOT / 12, None
    if match := scan.take(rf"(?:\ba )?{_TO}{_NUM} ?-?{_LENGTH}{_APART}(?: rows?\b)?"):
        return number(match[1]) * _LENGTHS[match[2][0]], None
    return None, None


def _between(scan: Scan) -> tuple[float, float] | None:
    """'2-3 kg', '2 to 3 kg', '2 or 3 kg'."""
    match = scan.take(rf"{_NUM} ?(?:-|to|or) ?{_NUM} ?{_WEIGHT}")
    return None if match is None else (_kilos(number(match[1]), match[3]), _kilos(number(match[2]), match[3]))


def _weight(scan: Scan) -> tuple[float | None, bool]:
    """kg, pounds and ounces together; whether a weight beyond that one was told."""
    if match := scan.take(rf"\b(?:an?) {_WEIGHT}"):
        first = _kilos(1.0, match[1])
    elif match := scan.take(rf"{_NUM} ?(lbs?|pounds?),? (?:and )?{_NUM} ?(oz|ounces?)\b"):
        return _kilos(number(match[1]), "lb") + _kilos(number(match[3]), "oz"), _again(scan)
    elif match := scan.take(rf"{_NUM} ?(kgs?|kilos?),? (?:and )?{_NUM} ?(g|gr|grams?|grammes?)\b"):
        return number(match[1]) + _kilos(number(match[3]), "g"), _again(scan)
    elif match := scan.take(rf"{_NUM} ?{_WEIGHT}"):
        first = _kilos(number(match[1]), match[2])
    else:
        return None, False
    return first, _again(scan)


def _again(scan: Scan) -> bool:
    return scan.take(rf"{_NUM} ?{_WEIGHT}") is not None


def _kilos(value: float, unit: str) -> float:
    if unit.startswith("k"):
        return value
    scale = 1e-3 if unit.startswith("g") else POUND if unit[0] in "lp" else POUND / 16
    return value * scale


def _water(scan: Scan) -> tuple[float | None, float | None]:
    scan.drop(r"(?:\bwith )?(?:\ba |\d+ )?(?:watering )?cans?(?: full)?(?: of water)?\b")
    if match := scan.take(rf"{_NUM} ?(?:l|litres?|liters?)\b(?: of water)?"):
        return number(match[1]), None
    if match := scan.take(rf"{_NUM} ?(?:gal|gallons?)\b(?: of water)?"):
        return None, number(match[1])
    return None, None
