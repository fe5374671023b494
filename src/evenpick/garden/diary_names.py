"""The names a line may hold: crops, varieties, ground, sowings under way, packets, planned sowings."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from functools import cache, cached_property

from evenpick.base.days import day_date
from evenpick.base.language import month_name, tell
from evenpick.base.trade import CoverName, WayName
from evenpick.crops.crop_words import CropWords, crop_words
from evenpick.garden.areas import plant_room
from evenpick.garden.diary_grounds import GroundName, only_near, words_of_ground
from evenpick.garden.diary_scan import Scan, plain
from evenpick.garden.record import Sowing

GROUPS: Mapping[str, tuple[str, ...]] = {
    "carrot": ("early-carrot", "main-carrot"),
    "lettuce": ("leaf-lettuce", "cos-lettuce", "crisp-lettuce"),
    "cabbage": ("summer-cabbage", "winter-cabbage"),
    "potato": ("main-potato", "early-potato"),
    "spud": ("early-potato", "main-potato"),
    "seed potato": ("early-potato", "main-potato"),
    "tattie": ("early-potato", "main-potato"),
    "bean": ("broad-bean", "runner-bean", "dwarf-bean", "climbing-bean", "yardlong-bean", "lima-bean",
             "edamame"),
    "french bean": ("dwarf-bean", "climbing-bean"),
    "green bean": ("dwarf-bean", "climbing-bean"),
    "snap bean": ("dwarf-bean", "climbing-bean"),
    "string bean": ("dwarf-bean", "climbing-bean", "runner-bean"),
    "broccoli": ("calabrese", "sprouting-broccoli"),
    "onion": ("onion", "onion-sets"),
    "pea": ("pea", "mangetout", "southern-pea"),
    "radish": ("radish", "winter-radish"),
}
"""words that several crops of the catalogue go by; the crop whose own name it is stands first"""


def several_crops(name: str) -> tuple[str, ...]:
    """Keys of the crops that a general word may be; none where it is the very name of one."""
    word = plain(name)
    found = next((keys for group, keys in GROUPS.items() if word in (group, f"{group}s", f"{group}es")), ())
    own = {plain(each) for key in found for each in (crop_words()[key].name, crop_words()[key].american)}
    return () if {word, word.removesuffix("s"), word.removesuffix("es")} & own else found


SHORT: Mapping[str, str] = {
    "cos": "cos-lettuce",
    "romaine": "cos-lettuce",
    "beet": "beetroot",
    "corn": "sweetcorn",
    "toms": "tomato",
    "tom": "tomato",
    "early spud": "early-potato",
    "early tattie": "early-potato",
    "maincrop spud": "main-potato",
    "cuke": "cucumber",
    "zuke": "courgette",
    "pumpkin": "winter-squash",
    "gem": "cos-lettuce",
    "sprouts": "brussels-sprout",
}
SHORTEST_TYPO = 5


@dataclass(frozen=True, slots=True)
class PacketName:
    id: str
    crop: str
    variety: str
    year: int | None = None


@dataclass(frozen=True, slots=True)
class PlannedName:
    id: str
    crop: str
    way: WayName
    cover: CoverName
    sow: int
    """day number"""
    out: int | None = None
    """day number of planting out; None where it is not raised"""
    area: float = 0.0
    """m²"""
    plants: int | None = None
    seeds: int | None = None
    """to sow for so many plants; None where it is sown by the row, or planted"""


@dataclass(frozen=True)
class Names:
    crops: Mapping[str, CropWords]
    grounds: tuple[GroundName, ...] = ()
    sowings: tuple[Sowing, ...] = ()
    """all of the diary; those that are over are told by their state"""
    packets: tuple[PacketName, ...] = ()
    varieties: Mapping[str, frozenset[tuple[str, str]]] = field(default_factory=dict)
    """plain name → (crop, variety as written)"""
    grown: frozenset[str] = frozenset()
    """crops that the garden wishes for, has seed of, or has sown"""
    day_first: bool | None = None
    """how 12/4 is read here; None: nobody said"""
    imperial: bool = False
    planned: Callable[[], Iterable[PlannedName]] = tuple
    """the kept plan's sowings, fetched only where one was sown"""
    american: bool = False
    room: Mapping[CoverName, float] = field(default_factory=dict)
    """m² of all the ground, open and tunnel; empty: nobody said"""

    def name(self, key: str) -> str:
        crop = self.crops[key]
        return crop.american if self.american else crop.name

    def ground(self, name: str | None) -> GroundName | None:
        return next((each for each in self.grounds if each.name == name), None)

    def sowing(self, identity: str | None) -> Sowing | None:
        return None if identity is None else self._by_id.get(identity)

    @cached_property
    def _by_id(self) -> Mapping[str, Sowing]:
        return {sowing.id: sowing for sowing in self.sowings}

    @cached_property
    def carried_out(self) -> frozenset[str]:
        """Ids of the planned sowings that were made."""
        return frozenset(one.fact.planned for one in self.sowings if one.fact.planned is not None)

    def plant_room(self, ground: str | None, crop: CropWords) -> float:
        """m² that a plant has in a ground: its room in a bed, or its part of a pot, where that is smaller."""
        room = crop.in_row * crop.row
        return min([room, *(plant_room(each.area, room) for each in self.grounds
                            if ground in (each.name, each.part_of or None))])

    def lies_in(self, name: str | None, grounds: Sequence[str]) -> bool:
        """Whether ground is one of some, or a bed of one: 'tunnel 1' where 'the tunnel' is told."""
        found = self.ground(name)
        return name in grounds or (found is not None and found.part_of in grounds)

    def told(self, sowing: Sowing) -> str:
        """A sowing in words, such as 'carrots Nantes in bed 3, sown 3 April'."""
        place = f" in {sowing.ground}" if sowing.ground else ""
        variety = f" {sowing.fact.variety}" if sowing.fact.variety else ""
        what, day = f"{self.name(sowing.fact.crop)}{variety}{place}", day_words(day_date(sowing.day))
        if sowing.fact.bought:
            return tell("{what}, bought and planted {day}", what=what, day=day)
        return tell("{what}, sown {day}", what=what, day=day)

    @cached_property
    def words(self) -> Mapping[str, tuple[str, ...]]:
        """Plain names and plurals → crop keys, a general word several."""
        return _catalogue_words() if self.crops is crop_words() else _words_of(self.crops)

    @cached_property
    def ground_words(self) -> Mapping[str, str]:
        """As of `words_of_ground`."""
        return words_of_ground(self.grounds)


@cache
def _catalogue_words() -> Mapping[str, tuple[str, ...]]:
    """Of the whole catalogue, made once: a file of lines has names anew after each line."""
    return _words_of(crop_words())


def _words_of(crops: Mapping[str, CropWords]) -> Mapping[str, tuple[str, ...]]:
    found: dict[str, tuple[str, ...]] = {}
    for crop in crops.values():
        for name in (crop.key, crop.name, crop.american):
            _put(found, name, (crop.key,))
    for short, key in SHORT.items():
        _put(found, short, (key,))
    for crop in crops.values():
        for name in crop.aliases:
            _put(found, name, (crop.key,))
    for general, keys in GROUPS.items():
        present = tuple(key for key in keys if key in crops)
        for form in _forms(plain(general)):
            found[form] = present
    return found


def _put(found: dict[str, tuple[str, ...]], name: str, keys: tuple[str, ...]) -> None:
    for form in _forms(plain(name)):
        if len(form) > 2:
            found.setdefault(form, keys)


def _forms(word: str) -> tuple[str, ...]:
    """Singular and the plurals that are written."""
    if word.endswith("y") and word[-2:-1] not in "aeiou":
        return word, f"{word[:-1]}ies", f"{word}s"
    if word.endswith(("s", "sh", "ch", "x")):
        return word, f"{word}es"
    if word.endswith("o"):
        return word, f"{word}es", f"{word}s"
    if word.endswith("f"):
        return word, f"{word[:-1]}ves", f"{word}s"
    return word, f"{word}s", *((word[:-1],) if word.endswith("s") else ())


QUOTED = r"(?<!\w)'[^']{2,40}'(?!\w)|(?<!\w)\"[^\"]{2,40}\""
"""a name of the grower's own, whose words tell nothing: 'Never Bolt'"""


def take_quoted(scan: Scan) -> str:
    """A variety in quotes or brackets, as typed; '' where none."""
    match = (
        scan.take(r"(?<!\w)'([^'\x1f]{2,40})'(?!\w)")
        or scan.take(r'(?<![\w])"([^"\x1f]{2,40})"')
        or scan.take(r"\(([^()\x1f]{2,40})\)")
    )
    return scan.text[match.start(1) : match.end(1)].strip() if match else ""


def take_grounds(scan: Scan, names: Names) -> tuple[str, ...]:
    """Names of ground told, in the order of the line."""
    found = []
    while True:
        before = scan.left
        if (typed := scan.take_name(names.ground_words)) is None:
            break
        name = names.ground_words[plain(typed)]
        if not only_near(scan, before) and name not in found:
            found.append(name)
    return tuple(found)


NO_SLIP = ("drill", "drills", "beds", "seed", "seeds", "plants", "leaf")
"""words of the trade that are no crop's name with a letter amiss"""


def take_crops(scan: Scan, names: Names) -> tuple[str, tuple[str, ...]] | None:
    """The crop's word as typed and the crops it may mean; one letter amiss counts as the word it is near."""
    if (typed := scan.take_name(names.words)) is not None:
        return typed, names.words[plain(typed)]
    for pair in _PAIR.finditer(scan.left):  # 'early carots' says which carrot it is
        near = _near_pair(pair[1], names)
        if near:
            scan.strike(*pair.span(1))
            return pair[1], near
    for word in scan.words():
        near = _near(word, names)
        if near:
            at = scan.left.index(word)
            scan.strike(at, at + len(word))
            return word, near
    return None


_PAIR = re.compile(r"(?=\b([^\W\d_]{3,} [^\W\d_]{4,})\b)")


def _near_pair(words: str, names: Names) -> tuple[str, ...]:
    """The crop with a name of two words that is one slip away."""
    keys: dict[str, None] = {}
    for name, crops in names.words.items():
        if " " in name and abs(len(name) - len(words)) <= 1 and _one_slip(words, name, True):
            keys |= dict.fromkeys(crops)
    return tuple(keys) if len(keys) == 1 else ()


def _near(word: str, names: Names) -> tuple[str, ...]:
    """Crops whose name is one slip away; several words may be."""
    if not word.isalpha() or len(word) < 4 or word in NO_SLIP:
        return ()
    keys: dict[str, None] = {}
    for name, crops in names.words.items():
        if abs(len(name) - len(word)) <= 1 and _one_slip(word, name, len(word) >= SHORTEST_TYPO):
            keys |= dict.fromkeys(crops)
    return tuple(keys)


def _one_slip(word: str, name: str, any_slip: bool) -> bool:
    """One letter left out, put in or wrong, or two changed over; only the last where the word is short."""
    start = next(
        (i for i, (a, b) in enumerate(zip(word, name, strict=False)) if a != b), min(len(word), len(name))
    )
    a, b = word[start:], name[start:]
    if len(a) >= 2 and len(b) >= 2 and a[0] == b[1] and a[1] == b[0] and a[2:] == b[2:]:
        return True
    return any_slip and start > 0 and (a[1:] == b[1:] or a[1:] == b or a == b[1:])


def take_variety(scan: Scan, names: Names) -> frozenset[tuple[str, str]]:
    typed = scan.take_name(names.varieties)
    return names.varieties[plain(typed)] if typed is not None else frozenset()


def day_words(day: date) -> str:
    """'16 January', in the reader's order and words."""
    return tell("{day} {month}", day=day.day, month=month_name(day.month))
