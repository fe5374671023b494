"""Letters that the font on paper lacks, and how they are spelt out instead."""

from __future__ import annotations

import re
import struct
import unicodedata
from collections.abc import Iterator
from functools import cache
from importlib.resources import files
from itertools import groupby

FONT = "DejaVuSans.ttf"
FORMATS = (4, 12)
"""of the font's table of letters: OpenType, 'cmap'"""
SHORT = re.compile(r"(?:LETTER|SYLLABLE|IDEOGRAPH-|SIGN) ?(?:SMALL |CAPITAL )?(.+)$")


def lacking(text: str) -> frozenset[str]:
    """The letters of a text that the packaged font can't draw."""
    there = _letters()
    return frozenset(sign for sign in set(text) if ord(sign) >= 32 and ord(sign) not in there)


def spelt_out(text: str, letters: frozenset[str]) -> str:
    """The text with runs of some letters as their names in Unicode: 'ばら bed' as '[ba-ra] bed'."""
    parts = ((strange, "".join(run)) for strange, run in groupby(text, letters.__contains__))
    return "".join(f"[{'-'.join(map(_name, run))}]" if strange else run for strange, run in parts)


def _name(letter: str) -> str:
    name = unicodedata.name(letter, f"U+{ord(letter):04X}")
    found = SHORT.search(name)
    return (found[1] if found else name).lower()


@cache
def _letters() -> frozenset[int]:
    font = files("evenpick").joinpath("data", "fonts", FONT).read_bytes()
    (tables,) = struct.unpack_from(">H", font, 4)
    records = (struct.unpack_from(">4sLLL", font, 12 + 16 * at) for at in range(tables))
    cmap = next(offset for tag, _, offset, _ in records if tag == b"cmap")
    (count,) = struct.unpack_from(">H", font, cmap + 2)
    starts = {cmap + struct.unpack_from(">HHL", font, cmap + 4 + 8 * at)[2] for at in range(count)}
    return frozenset(letter for start in starts for letter in _of_table(font, start))


def _of_table(font: bytes, start: int) -> Iterator[int]:
    (form,) = struct.unpack_from(">H", font, start)
    if form == FORMATS[0]:
        (double,) = struct.unpack_from(">H", font, start + 6)
        ends = struct.unpack_from(f">{double // 2}H", font, start + 14)
        begins = struct.unpack_from(f">{double // 2}H", font, start + 16 + double)
        for first, last in zip(begins, ends, strict=True):
            yield from range(first, last + 1)
    elif form == FORMATS[1]:
        (groups,) = struct.unpack_from(">L", font, start + 12)
        for at in range(groups):
            first, last, _ = struct.unpack_from(">LLL", font, start + 16 + 12 * at)
            yield from range(first, last + 1)
