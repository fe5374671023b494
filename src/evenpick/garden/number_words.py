"""Numbers in words and signs, as they are spoken and typed, put as digits."""

from __future__ import annotations

import re
from collections.abc import Mapping

_NUMBERS: Mapping[str, str] = {
    word: str(value)
    for value, word in enumerate(
        ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"], 1
    )
} | {
    "fifteen": "15",
    "twenty": "20",
    "thirty": "30",
    "forty": "40",
    "fifty": "50",
    "sixty": "60",
    "hundred": "100",
    "a dozen": "12",
    "half a dozen": "6",
    "a couple of": "2",
    "couple of": "2",
}
_FRACTIONS = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅓": "1/3", "⅔": "2/3", "⅛": "1/8"}
_DOZENS = re.compile(r"(?<![\d.,/])(\d{1,4})\s+(?:dozens?|doz)\b\.?(?: of\b)?", re.I)
_NUMBER_WORD = re.compile(
    r"\b(?:"
    + "|".join(sorted((word.replace(" ", r"\s+") for word in _NUMBERS), key=len, reverse=True))
    + r")\b",
    re.I,
)


def in_digits(text: str) -> str:
    """'four beds' as '4 beds', '½' as '1/2', 'two dozen' as '24'."""
    for sign, words in _FRACTIONS.items():
        text = text.replace(sign, words)
    text = _NUMBER_WORD.sub(lambda match: _NUMBERS[" ".join(match[0].lower().split())], text)
    return _DOZENS.sub(lambda match: str(12 * int(match[1])), text)
