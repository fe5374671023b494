"""The beds of a piece of ground: how many, their shape, their names, and what grew in them
(docs/formats/garden-toml.md)."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import replace

from evenpick.base.errors import UnknownCrop, did_you_mean
from evenpick.base.language import later, tell, tell_n
from evenpick.crops.families import families, family_called
from evenpick.garden import areas, fields
from evenpick.garden.fields import Table, refuse, shown
from evenpick.garden.garden import Bed, Grew
from evenpick.garden.wishes import Crops

BEDS = ("beds", "grew")
_GREW = re.compile(r"([0-9]{4})\s*([^:]*?)\s*:\s*(.+)")
_NUMBERS = re.compile(r"([0-9]+)(?:\s*-\s*([0-9]+))?")
EXAMPLE = later('Write the year and what grew: "2026: brassicas" or, of one bed, "2026 gate: leeks, '
                'potatoes".')


def read_beds(
    table: Table, ground: str, shape: areas.BedShape | None, catalogue: Crops, last_year: int
) -> tuple[Bed, ...]:
    """The beds of one [[ground]] of that shape (None: not readable); faults are noted in the table."""
    if shape is None:
        return ()
    names = table.get("beds", fields.texts, ())
    if names and len(names) != shape.count:
        table.note(tell_n("{n} bed is named and the area counts {count}.",
                          "{n} beds are named and the area counts {count}.", len(names), count=shape.count),
                   tell('Name every bed once, or count them in the area: "{names} x 10 m x 1.2 m".',
                        names=len(names)), "beds")
        names = ()
    beds = tuple(
        Bed(name, shape.length, shape.width, shape.area) for name in names or _numbered(ground, shape.count)
    )
    if table.has("grew") and shape.count == 1 and shape.length is None:
        table.note(tell("what grew where is kept by the bed, and this ground has none."),
                   tell('Write its area as beds first, such as "4 x 10 m x 1.2 m".'), "grew")
        return beds
    grew = table.get("grew", _history(beds, catalogue, last_year), {})
    return tuple(replace(bed, grew=tuple(grew.get(bed.name, ()))) for bed in beds)


def note_doubled_beds(tables: Sequence[Table], beds: Sequence[Sequence[Bed]]) -> None:
    """A bed's name belongs to one bed in the whole garden; grounds of one name are noted elsewhere."""
    seen: set[str] = set()
    grounds = [table.values.get("name") for table in tables]
    for at, (table, several) in enumerate(zip(tables, beds, strict=True)):
        if grounds[at] in grounds[:at]:
            continue
        for bed in several:
            if bed.name and bed.name.casefold() in seen:
                key = "beds" if table.has("beds") else "name"
                what = tell("the bed {name} is there twice.", name=shown(bed.name))
                table.note(what, tell("Give each bed a name of its own."), key)
            seen.add(bed.name.casefold())


def _numbered(ground: str, count: int) -> tuple[str, ...]:
    return (ground,) if count == 1 else tuple(f"{ground} {number}" for number in range(1, count + 1))


def _history(
    beds: Sequence[Bed], catalogue: Crops, last_year: int
) -> Callable[[object], dict[str, list[Grew]]]:
    def parse(value: object) -> dict[str, list[Grew]]:
        found: dict[str, list[Grew]] = {}
        for line in fields.texts(value):
            match = _GREW.fullmatch(line)
            if match is None:
                raise refuse(tell("{line} can't be read.", line=shown(line)), tell(EXAMPLE))
            grew = [Grew(_year(match[1], last_year), _family(word.strip(), catalogue))
                    for word in match[3].split(",")]
            for bed in _meant(match[2], beds):
                found.setdefault(bed.name, []).extend(grew)
        return found

    return parse


def _year(text: str, last_year: int) -> int:
    year = int(text)
    if not 1970 <= year <= last_year:
        what = tell("{year} is no year in which something has grown.", year=year)
        raise refuse(what, tell("Write a year from 1970 to {last_year}.", last_year=last_year))
    return year


def _family(word: str, catalogue: Crops) -> str:
    family = family_called(word)
    if family is None:
        try:
            family = catalogue.crop(word).family
        except UnknownCrop as error:
            known = [family.said for family in families().values()]
            mend = did_you_mean(word, known) or tell("Name a crop of the catalogue, or one of {known}.",
                                                     known=", ".join(known))
            raise refuse(tell("{word} is neither a crop nor a family that is known here.",
                              word=shown(word)), mend) from error
    return family


def _meant(words: str, beds: Sequence[Bed]) -> Sequence[Bed]:
    """All beds, or the one of that name, or those of these numbers in the ground."""
    if not words:
        return beds
    named = [bed for bed in beds if bed.name.casefold() == words.casefold()]
    numbers = _NUMBERS.fullmatch(words)
    if not named and numbers:
        first, last = int(numbers[1]), int(numbers[2] or numbers[1])
        named = list(beds[first - 1 : last]) if 1 <= first <= last <= len(beds) else []
    if not named:
        hint = did_you_mean(words, [bed.name for bed in beds])
        raise refuse(tell("{shown} is no bed of this ground.", shown=shown(words)),
                     hint or tell("Give a bed's name, or its number from 1 to {beds}: \"2026 1-2: "
                                  'leeks".', beds=len(beds)))
    return named
