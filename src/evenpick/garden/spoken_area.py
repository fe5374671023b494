"""Areas as growers speak them: '12 beds of 4 ft x 12 ft', 'half an acre', '30 m² and 200 sq ft'.

Each piece of ground in an answer is put as `areas.area` reads it, and a garden file has it. What may be
read in two ways is not guessed.
"""

from __future__ import annotations

import re
from fractions import Fraction
from math import pi

from evenpick.base.errors import BadGarden, Problem
from evenpick.base.language import tell
from evenpick.garden.amounts import FOOT, LENGTHS
from evenpick.garden.areas import area, pot_ground
from evenpick.garden.number_words import in_digits

_SIGNS = str.maketrans({"’": "'", "‘": "'", "×": "x", "*": "x", "−": "-"})
_NOTHING = re.compile(
    r"(?:0+(?:[.,]0*)?\s*(?:m2|m²|sq\s*m|sq\s*ft|ft2|ft²|ha|acres?)?|none|nothing|nil|"
    r"no(?: (?:poly)?tunnels?| (?:green|glass)house| glass| ground| open ground)?|"
    r"nein|keine?[rns]?(?: \w+)?|nichts|ning[uú]n[oa]?(?: \w+)?|nada|non|aucune?(?: \w+)?|rien|"
    r"nessun[oa]?|nee|geen(?: \w+)?)?"
)
_ELSEWHERE = (
    r"balkon|terrasse|dachterrasse|garten|schrebergarten|fensterbank|gewächshaus|folientunnel|"
    r"balc[oó]n|terraza|jard[ií]n|huert[oa]|azotea|invernadero|t[uú]nel|patio|"
    r"jardin|potager|serre|balcone|terrazza|giardino|orto|serra|moestuin|tuin|kas"
)
"""where ground is, in German, Spanish, French, Italian and Dutch; sizes are written alike in all"""
_ITS = (
    r"eine?[rmn]?|mein|meine?[rmn]?|unser|unsere?[rmn]?|der|die|das|von|mit|etwa|ungef[äa]hr|circa|ca\.?|"
    r"una?|el|la|los|las|mi|nuestr[oa]|de|del|con|unos|unas|le|les|une|mon|ma|notre|environ|il|un[oa]?|mio|mia|di|"
    r"van|een|mijn|onze"
)
"""words that stand with them"""
_HOUSE = (
    r"(?:balcony|terrace|patio|roof|window ?sill|(?:back ?)?yard|garden|allotment(?: plot)?|plot|"
    rf"{_ELSEWHERE})"
)
_LAND = r"(?:acres?|ha|hectares?|ares?|rods?|gunthas?|cents?|rai|ngan)\b"
_OF = rf"(?:\s+of)?(?:\s+an?)?\s+(?={_LAND})"
_REWRITES = tuple((re.compile(find), put) for find, put in (
    (rf"^(?:(?:an?|the|our|my|on|{_ITS})\s+)*{_HOUSE}\s*(?:[,:]|\b(?:with|mit|con|avec|met)\b)\s*(?=\d)", ""),
    (rf"\s+(?:on|at)\s+(?:an?|the|our|my)\s+{_HOUSE}\b", ""),
    (r"(?<![\w.,])([1-9]\d{0,2}(?:,\d{3})+)(?![\d,.])", lambda found: found[1].replace(",", "")),
    (r"(?<![\w.,])(\d+),(\d{1,2})(?![\d,.])", r"\1.\2"),
    (r"\b(?:sq(?:uare)?\b\.?|sq(?=m\b))\s*(?:m|met(?:re|er)s?)\b|\b(?:m|met(?:re|er)s?)\s+squared\b", "m²"),
    (r"\b(?:sq(?:uare)?\b\.?|sq(?=ft\b))\s*(?:ft|foot|feet)\b\.?|\b(?:ft|foot|feet)\s+squared\b|\bsf\b",
     "sq ft"),
    (r"\bsq(?:uare)?\b\.?\s*(?:yds?|yards?)\b", "sq yd"),
    (r"\b(?:sq(?:uare)?\b\.?\s*)?(?:poles?|perch(?:es)?|rods?)\b", "rod"),
    (r"\b(?:g(?:u|oo)n(?:th?|dh?)as?)\b", "guntha"),
    (rf"\b(?:an?|1)\s+({_LAND})\s+and\s+a\s+half\b", r"1.5 \1"),
    (r"(\d+)\s+and\s+a\s+half\b", r"\1.5"),
    (r"(?<![\d./])(?:(\d+)\s+)?(\d)/(\d)(?![\d/])", lambda found: _decimal(found[1], found[2], found[3])),
    (rf"\bhalf{_OF}", "0.5 "),
    (rf"\b3\s+quarters?{_OF}", "0.75 "),
    (rf"\b(?:(?:a|1)\s+)?quarter{_OF}", "0.25 "),
    (rf"\b(?:a|1)\s+third{_OF}", "0.333333 "),
    (rf"\b2\s+thirds?{_OF}", "0.666667 "),
    (rf"\ban?\s+(?={_LAND})", "1 "),
    (r"\b(\d+)\s+(?:x\s*)?(\d+(?:\.\d+)?\s*(?:m|ft|feet))\s+(?:long\s+)?beds?,?\s+(?:of\s+|each\s+)?"
     r"(\d+(?:\.\d+)?\s*(?:cm|m|ft|feet|in|inch(?:es)?))(?:\s+wide)?\b", r"\1 x \2 x \3"),
    (r"\s+long\s*(?:and|by|x|,)?\s*(?=[\d.]+\s*[a-z']+\s+wide\b)", " x "),
    (r"\s+wide\s*(?:and|by|x|,)?\s*(?=[\d.]+\s*[a-z']+\s+long\b)", " x "),
))  # fmt: skip
_BEDS = re.compile(
    r"(?:in\s+)?(\d+)\s+(?:(?:raised|garden|long|open|outdoor|outside|veg(?:etable)?|small|large|big)\s+)*"
    r"(?:beds?|plots?|(?:poly|high |low )?tunnels?|(?:green|glass|hoop|tunnel)[ -]?houses?|"
    r"(?:cold[ -]?)?frames?|window(?: ?sill)? ?boxes|boxes|troughs|"
    r"planters|crates|grow ?bags|(?:balkon|blumen|pflanz)?k[aä]sten|jardineras|jardini[eè]res)\b"
    r"[\s,:(]*(?:(?:of|each|at|von|je|mit|zu|de|con)\s+)*(.*?)\)?"
)
_POTS = re.compile(
    r"(?:in\s+)?(\d+|an?)\s+(?:round\s+)?(pot|tub|bucket)s?\s+(?:(?:of|each|at)\s+)*"
    r"(\d+(?:\.\d+)?)\s*(cm|in(?:ch(?:es)?)?|ft|l|lit(?:re|er)s?|gal(?:lons?)?)\b"
    r"(?:\s+(?:across|wide|pots?|in diameter|diameter|each))*"
)
"""'6 pots of 30 cm', told by what they measure across or hold; gallons are those of the United States"""
_COUNT_FIRST = re.compile(r"(\d+)\s+(\d.*?)\s+(?:raised\s+|garden\s+)?(?:beds?|plots?)")
"""'6 4x8 ft beds'"""
_UNCOUNTED = re.compile(r".*(?:\bx\b|\dx\d|\bby\b).*\b(?:beds|plots)")
"""'4x8 ft beds' does not say how many"""
_NEXT = re.compile(r"\s*(?:[,;+&]|\band\b|\bplus\b)\s*(?=\d|about\b|an?\b)")
"""where another piece of ground begins"""
_NOISE = re.compile(
    r"\b(?:about|around|roughly|nearly|approx(?:imately)?\b\.?|each|of|an?|the|our|my|in all|in total|total|"
    r"altogether|cropped|open|raised|veg(?:etables?|g?ies?|es)?|kitchen|garden|back ?yard|yard|patch|plots?|"
    r"beds?|ground|land|field|allotment|(?:green|glass|hoop|tunnel)[ -]?house|(?:poly|high |low )?tunnel|"
    r"(?:cold[ -]?)?frame|wide|long|balcony|terrace|patio|roof|"
    rf"window(?: ?sill)? ?box|window ?sill|trough|planter|{_ELSEWHERE}|{_ITS})\b"
)
_NO_ONE_SIZE = re.compile(
    r"\b(?:bighas?|beeghas?|biswas?|kat(?:t|h)*as?|cottahs?|kottahs?|kanals?|marlas?|dh?urs?|dunams?|d[oö]n[uü]ms?|"
    r"feddans?|morgens?|manzanas?|fanegas?|tareas?|cuadras?|arpents?|mu|grounds(?= of \d)|paces?|strides?)\b"
)
"""measures that are of another size from place to place"""
MOST_PIECES = 26
GALLON = 3.785411784
"""litres, exact"""
MOST_LONGER = 10
"""times that a side without a unit may be the other: '2 m x 80' is of centimetres, if anything"""
_SIDES = re.compile(r"\s*(?:x|\bby\b)\s*")
_BARE = re.compile(r"[\d.]+")
_SIDE = re.compile(r"[\d.]+\s*([a-z]+|')")


def spoken_area(text: str) -> float:
    """m² of an answer; nought where it says that there is none. BadGarden."""
    return sum(area(part) for part in spoken_parts(text))


def spoken_parts(text: str) -> tuple[str, ...]:
    """Each piece of ground of an answer, as `areas.area` reads it; none of 'none'. BadGarden."""
    said = _rewritten(text)
    if not said:
        return ()
    if (local := _NO_ONE_SIZE.search(said)) is not None:
        raise BadGarden(Problem(tell("'{unit}' is not of one size everywhere.", unit=local[0]),
                                tell("Tell the ground in m², sq ft, acres or hectares.")))
    parts = _few(_NEXT.split(said))
    return tuple(_read(part, part if len(parts) > 1 else text, text) for part in parts)


def _read(part: str, shown: str, text: str) -> str:
    """One piece of ground; a fault is told of that piece alone."""
    try:
        return _plain(part)
    except BadGarden as error:
        if _NOISE.sub("", part) == text.strip().casefold():
            raise
        what = tell("'{text}' can't be read as an area.", text=shown.strip()[:60])
        raise BadGarden(Problem(what, error.problems[0].mend)) from error


def spoken_names(text: str) -> tuple[tuple[str, str], ...]:
    """What each of `spoken_parts` is called, 'pots', 'tubs' or 'buckets', and how it was told; '' of other
    ground."""
    found = (_POTS.fullmatch(part.strip()) for part in _NEXT.split(_rewritten(text)))
    return tuple((pots[2] + "s", pots[0]) if pots else ("", "") for pots in found)


def _rewritten(text: str) -> str:
    """The answer in the words that pieces are read by; '' where it says that there is none."""
    said = in_digits(text.translate(_SIGNS).casefold()).strip(" .!\t\n")
    if _NOTHING.fullmatch(said):
        return ""
    for find, put in _REWRITES:
        said = find.sub(put, said)
    return re.sub(r"(\bbeds?\b)\s*,\s*", r"\1 ", said)


def _few(parts: list[str]) -> list[str]:
    if len(parts) > MOST_PIECES:
        mend = tell("Tell {n} pieces of ground at the most; put the rest into the garden file.",
                    n=MOST_PIECES)
        raise BadGarden(Problem(tell("{n} pieces of ground are too many here.", n=len(parts)), mend))
    return parts


def _plain(part: str) -> str:
    """One piece of ground; BadGarden."""
    if (pots := _POTS.fullmatch(part.strip())) is not None:
        area(told := _round(pots[1], pots[3], pots[4]))
        return told
    if not _NOISE.sub("", part).strip(" -"):
        raise BadGarden(Problem(tell("'{text}' does not say how large it is.", text=part.strip()[:60]),
                                tell('Tell the size of "{text}" too, such as "1 m x 20 cm" or "3 ft x 8 in", '
                                     "or leave it out.", text=part.strip()[:60])))
    beds = _BEDS.fullmatch(part.strip()) or _COUNT_FIRST.fullmatch(part.strip())
    if beds is None and _UNCOUNTED.fullmatch(part):
        what = tell("'{text}' does not say how many beds.", text=part[:60])
        raise BadGarden(Problem(what, tell('Write such as "6 beds of 4 ft x 8 ft".')))
    each = _with_units(" ".join(_NOISE.sub(" ", beds[2] if beds else part).split()))
    _refuse_without_unit(each)
    area(each)
    if beds is None:
        return each
    area(whole := f"{beds[1]} x {each}")
    return whole


def _round(count: str, across: str, unit: str) -> str:
    """So many pots by the ground that each has, in the units that they were told in."""
    count = "1" if count in ("a", "an") else count
    if unit.startswith(("l", "gal")):
        ground = pot_ground(float(across) * (1.0 if unit.startswith("l") else GALLON))
    else:
        ground = pi / 4 * (float(across) * LENGTHS["in" if unit.startswith("in") else unit]) ** 2
    if unit == "cm" or unit.startswith("l"):
        return f"{count} x {ground:.5f} m²"
    return f"{count} x {ground / FOOT**2:.4f} sq ft"


def _refuse_without_unit(each: str) -> None:
    """BadGarden for '30 x 50', with what either would be: a field or a garden."""
    sides = _SIDES.split(each)
    if len(sides) != 2 or not all(map(_BARE.fullmatch, sides)):
        return
    both = {unit: f"{sides[0]} x {sides[1]} {unit}" for unit in ("ft", "m")}
    feet, metres = (area(_with_units(said)) for said in both.values())
    mend = tell('Write "{in_feet}", which is {feet:,.3g} m², or "{in_metres}", which is {metres:,.4g} m².',
                in_feet=both["ft"], feet=feet, in_metres=both["m"], metres=metres)
    raise BadGarden(Problem(tell("'{text}' is not an area without its unit.", text=each[:60]), mend))


def _with_units(each: str) -> str:
    """'4 x 12 ft' and '4 ft x 12' with the unit to both sides; a third number before them is how many there
    are."""
    sides = _SIDES.split(each)
    first = _SIDE.fullmatch(sides[0])
    if len(sides) == 2 and first is not None and first[1] in LENGTHS and _BARE.fullmatch(sides[1]):
        number = float(sides[0].removesuffix(first[1]))
        return f"{each} {first[1]}" if float(sides[1]) <= MOST_LONGER * number else each
    last = _SIDE.fullmatch(sides[-1])
    if not 2 <= len(sides) <= 3 or last is None or last[1] not in LENGTHS or not _BARE.fullmatch(sides[-2]):
        return each
    return " x ".join([*sides[:-2], f"{sides[-2]} {last[1]}", sides[-1]])


def _decimal(whole: str | None, part: str, of: str) -> str:
    if of == "0":
        return f"{part}/{of}"
    return f"{float(int(whole or 0) + Fraction(int(part), int(of))):.6g}"
