"""Who eats, as it is spoken: '2 adults and 2 kids', 'family of four', '40 households'.

A household, family, member or customer that is counted by itself gets a box of its own; a child counts as a
person, for a first guess. Whoever sells at a stall or to a restaurant does not say how much by that: it is
not counted, and told.
"""

from __future__ import annotations

import re

from evenpick.base.errors import BadRequest, Problem
from evenpick.base.language import tell
from evenpick.garden.number_words import in_digits

_PERSON = (r"(?:people|persons?|ppl|adults?|grown-?ups?|kids?|child(?:ren)?|pupils?|students?|"
           r"toddlers?|bab(?:y|ies)|teens?|teenagers?|"
           r"eaters?|mouths?|of us|others?|more|friends?|"
           r"personen|leute|erwachsene|kinder|sch[uü]ler(?:innen)?|personas|adultos|ni[nñ]os|alumnos|"
           r"personnes|adultes|enfants|[eé]l[eè]ves|persone|adulti|bambini|mensen)")
_BOX = (r"(?:(?:veg(?:etable)?|weekly|csa|box)[\s-]+)*(?:box(?:es)?|shares?|bags?|households?|families|"
        r"members?|customers?|subscribers?|subscriptions?)")
_ONE = re.compile(r"(?:(?:just|only)\s+)?(?:me|myself|i)\b|my\s+(?:wife|husband|partner|girlfriend|boyfriend|"
                  r"spouse|missus|hubby|other half|mother|mum|mom|father|dad|son|daughter|sister|brother|"
                  r"gran(?:ny|dma|dad|dpa)?|flatmate|house ?mate|room ?mate|neighbou?r|friend)\b|"
                  r"(?:the|her|his)\s+(?:missus|wife|husband|other half)\b")
_TWO = re.compile(r"(?:(?:just|only)\s+)?(?:the\s+2\s+of\s+us|us\s+2|(?:a\s+)?couple)\b")
_GROUP = re.compile(r"(?:an?\s+)?(?:family|household|party|group|class|school)\s+of\s+(\d{1,6})\b|"
                    r"(?:eine\s+)?(?:familie|klasse|schule)\s+(?:von|mit)\s+(\d{1,6})\b|"
                    r"(?:una\s+)?(?:familia|clase|escuela)\s+de\s+(\d{1,6}|cuatro|cinco|tres|seis)\b")
_NUMBERS = {"tres": 3, "cuatro": 4, "cinco": 5, "seis": 6}
_COUNTED = re.compile(rf"(\d{{1,6}})(?![\d.,/-])\s*(?:({_PERSON})\b|({_BOX})\b)?")
_SINGLE = re.compile(rf"\ban?\s+(?=(?:{_PERSON}|{_BOX})\b(?!\s+of\b))")
"""'a toddler', 'a box'; no family of four"""
_SELLING = re.compile(
    r"(?:(?:an?|the|our|my|some|\d{1,3})\s+)?(?:(?:small|local|farm(?:ers?'?)?|market|roadside|road|village|"
    r"saturday|sunday|weekly|school|farm[- ]gate|veg(?:etable)?|honesty)\s+)*"
    r"(?:(?:stalls?|stands?|markets?|shops?|stores?|restaurants?|caf[eé]s?|pubs?|"
    r"chefs?|farm[- ]gate(?: sales)?|gate sales|honesty box)\b)"
)
"""'a stall', '2 restaurants': sold to, but nobody said how much"""
_KITCHEN = re.compile(r"(?:(?:an?|the|our|my|1)\s+)?(?:(?:small|home|house|own|lunch|school|staff)\s+)*"
                      r"kitchens?\b")
"""'our kitchen': somebody cooks and eats, but nobody said how many"""
_FED = re.compile(r"\s+(?:for|of|with|that (?:feeds|serves)|feeding|serving)\s+(?=\d)")
"""'a stall for 60 customers', 'a kitchen for 4' say how many"""
_BETWEEN = re.compile(r"\s*(?:(?:,|;|\+|&|\band\b|\bn\b|\bund\b|\by\b|\bet\b|\bplus\b|\bwith\b)\s*)*")
_NOISE = re.compile(r"\b(?:about|around|roughly)\b|\b(?:(?:a|each|every|per)\s+week|weekly)$")


def eaters_of(text: str) -> tuple[int, int]:
    """People and boxes of an answer; BadRequest for one that says neither, or not how many."""
    people, boxes, _ = _counted(text)
    return people, boxes


def selling_of(text: str) -> tuple[str, ...]:
    """What is sold to besides, as it was typed: 'a stall'. BadRequest as `eaters_of`."""
    return _counted(text)[2]


def _counted(text: str) -> tuple[int, int, tuple[str, ...]]:
    said = re.sub(r"(?<![\d,])(\d{1,3}),(\d{3})(?![\d,])", r"\1\2", in_digits(text.casefold()))
    said = _SINGLE.sub("1 ", said)
    left = " ".join(_NOISE.sub(" ", said.strip(" .!")).split())
    people = boxes = 0
    bare = counted = 0
    selling: list[str] = []
    while left:
        cooking = _KITCHEN.match(left)
        place = cooking or _SELLING.match(left)
        fed = _FED.match(left, place.end()) if place else None
        if cooking and not fed:
            raise _unclear(cooking[0], tell("Say how many eat there, such as a kitchen for 4."))
        if place and not fed:
            selling.append(place[0])
            left = _after(left, place.end())
            continue
        left = left[fed.end() :] if fed else left
        more = _next(left)
        if more is None:
            raise _unclear(text)
        people, boxes, left = people + more[0], boxes + more[1], _after(left, more[2])
        counted += 1
        bare += more[3] and not fed
    if selling and not counted:
        raise _unclear(text, tell("Of what is sold, say about how many it feeds in a week, such as 30 "
                                  "customers."))
    if not counted or (bare and counted > 1):
        raise _unclear(text)
    return people, boxes, tuple(selling)


def _after(left: str, end: int) -> str:
    """What is left past a place and the words that join it to the next."""
    between = _BETWEEN.match(left, end)
    return left[between.end() if between else end :]


def _next(left: str) -> tuple[int, int, int, bool] | None:
    """People, boxes, signs read, and whether the number stood alone, of what comes next."""
    for pattern, count in ((_ONE, 1), (_TWO, 2)):
        if found := pattern.match(left):
            return count, 0, found.end(), False
    if found := _GROUP.match(left):
        count = next(filter(None, found.groups()))
        return _NUMBERS.get(count) or int(count), 0, found.end(), False
    if found := _COUNTED.match(left):
        count = int(found[1])
        return (0, count, found.end(), False) if found[3] else (count, 0, found.end(), not found[2])
    return None


def _unclear(text: str, mend: str = "") -> BadRequest:
    return BadRequest(Problem(
        tell("'{text}' does not say how many people or boxes.", text=text),
        mend or tell("Write such as 4 people, a family of four, 12 boxes, 40 households, or 2 people, "
                     "6 boxes."),
    ))
