"""A point on earth as people write it."""

from __future__ import annotations

import re
from dataclasses import dataclass

from evenpick.base.errors import Problem, UnknownPlace
from evenpick.base.language import tell
from evenpick.climate.site import Site


@dataclass(frozen=True, slots=True)
class _Angle:
    degrees: str
    minutes: str | None
    seconds: str | None
    letter: str

    @property
    def value(self) -> float:
        size = abs(float(self.degrees)) + float(self.minutes or 0) / 60 + float(self.seconds or 0) / 3600
        return -size if self.degrees.startswith("-") or self.letter in ("S", "W") else size


_PART = r"(\d+(?:\.\d+)?)\s*"
_NUMBER = rf"([+-]?\d+(?:\.\d+)?)\s*°?(?:\s*{_PART}[′'’])?(?:\s*{_PART}[″\"”])?"
_GAP = r"(?:\s*[,;]\s*|\s+)"
_LETTER_AFTER = re.compile(rf"{_NUMBER}\s*([NSEW]?){_GAP}{_NUMBER}\s*([NSEW]?)", re.IGNORECASE)
_LETTER_BEFORE = re.compile(rf"([NSEW])\s*{_NUMBER}{_GAP}([NSEW])\s*{_NUMBER}", re.IGNORECASE)


def parse_point(text: str) -> Site:
    """A point on earth: '53.43, -6.24', '53.43N 6.24W', 'N53.43 W6.24', "53°25'48\\"N 6°14'24\\"W".

    Latitude first unless letters tell otherwise. Raises UnknownPlace saying what is wrong.
    """
    first, second = _angles(text)
    if first.letter in ("E", "W") or second.letter in ("N", "S"):
        first, second = second, first
    if first.letter in ("E", "W") or second.letter in ("N", "S"):
        raise _no_point(text, tell("does not give one latitude and one longitude"))
    return Site(text.strip(), first.value, second.value)


def _angles(text: str) -> tuple[_Angle, _Angle]:
    if match := _LETTER_AFTER.fullmatch(text.strip()):
        parts = match.groups()
    elif match := _LETTER_BEFORE.fullmatch(text.strip()):
        one, *rest = match.groups()
        parts = (*rest[:3], one, *rest[4:], rest[3])
    else:
        raise _no_point(text, tell("is not a latitude and a longitude"))
    angles = (_Angle(parts[0], parts[1], parts[2], parts[3].upper()),
              _Angle(parts[4], parts[5], parts[6], parts[7].upper()))
    if any(angle.letter and angle.degrees[0] in "+-" for angle in angles):
        raise _no_point(text, tell("has both a sign and a letter of direction"))
    if any(float(part or 0) >= 60 for angle in angles for part in (angle.minutes, angle.seconds)):
        raise _no_point(text, tell("has 60 or more minutes or seconds"))
    return angles


def _no_point(text: str, what: str) -> UnknownPlace:
    return UnknownPlace(Problem(f"'{text}' {what}.", tell("Write a point such as 53.43, -6.24 or 53.43N "
                                                          "6.24W.")))
