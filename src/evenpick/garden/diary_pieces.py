"""A line split where a new fact begins (docs/formats/diary-line.md)."""

from __future__ import annotations

import re
from dataclasses import dataclass

from evenpick.garden.diary_amounts import take_amounts
from evenpick.garden.diary_clause import BOUGHT
from evenpick.garden.diary_names import Names, take_crops, take_grounds, take_quoted
from evenpick.garden.diary_scan import Scan
from evenpick.garden.diary_verbs import take_verb
from evenpick.garden.diary_weather import speaks_of_weather

_SPLIT = re.compile(
    r"\s*(?:;|\.(?=\s|$)|,(?!\d)|/(?=\s)|\n|!|\band then\b|\bthen\b|\band\b|&|\bplus\b|\bwhile\b)\s*", re.I
)


@dataclass(frozen=True, slots=True)
class Piece:
    text: str
    inherits: bool
    """its verb is that of the piece before"""


def pieces_of(line: str, names: Names) -> list[Piece]:
    """The line split where a new fact begins; a piece without a verb goes with the one before."""
    pieces: list[Piece] = []
    verb = ""
    for part in (part for part in _SPLIT.split(line) if part.strip()):
        scan = Scan(part)
        own = take_verb(scan)
        crop = take_crops(scan, names) is not None
        ground = bool(take_grounds(scan, names))
        if own is not None or not pieces:
            alone = crop and bool(pieces) and _has(pieces[-1].text, names, crop=True)
            if pieces and not verb and own is not None and not alone and not speaks_of_weather(
                Scan(pieces[-1].text)
            ):
                pieces[-1] = Piece(f"{pieces[-1].text} , {part}", False)  # 'peas: 300 g picked'
            else:
                pieces.append(Piece(part, False))
            verb = own.words if own is not None else ""
        elif speaks_of_weather(Scan(part)) and not crop:
            if verb or _rain(part) != _rain(pieces[-1].text):
                pieces.append(Piece(part, False))
                verb = ""
            else:
                _join(pieces, part)
        elif verb and ground and not crop and (again := _elsewhere(part, pieces[-1].text, names)):
            pieces.append(Piece(f"{verb} {again}", True))
        elif not verb and crop and _has(pieces[-1].text, names, crop=True):
            pieces.append(Piece(part, True))  # 'peas 800 g, radish 1 bunch': what was done is asked once
        elif (verb and crop and _has(pieces[-1].text, names, crop=True)) or (
            verb and ground and not crop and _has(pieces[-1].text, names, crop=False)
        ):
            pieces.append(Piece(f"{verb} {part}", True))
        else:
            _join(pieces, part)
    return pieces


def _elsewhere(part: str, before: str, names: Names) -> str:
    """'2 m in bed 4' after '3 m radish in bed 3' with the crop and the variety told before; '' where it is no
    amount and ground of its own."""
    earlier, mine = Scan(before), Scan(part)
    bought = "bought " if earlier.see(BOUGHT) else ""
    quoted = take_quoted(earlier)
    typed = earlier.take_name(names.varieties) if not quoted else None
    if not (take_grounds(earlier, names) and take_grounds(mine, names)):
        return ""
    crop = take_crops(earlier, names)
    if crop is None or not (take_amounts(earlier).extent() and take_amounts(mine).extent()):
        return ""
    variety = f" '{quoted}'" if quoted else f" {typed}" if typed else ""
    return f"{bought}{crop[0]}{variety} {part}"


def _rain(text: str) -> bool:
    return re.search(r"\brain|\bgauge", text.lower()) is not None


def _join(pieces: list[Piece], part: str) -> None:
    pieces[-1] = Piece(f"{pieces[-1].text} , {part}", pieces[-1].inherits)


def _has(text: str, names: Names, crop: bool) -> bool:
    scan = Scan(text)
    take_verb(scan)
    found = take_crops(scan, names) is not None
    return found if crop else not found and bool(take_grounds(scan, names))
