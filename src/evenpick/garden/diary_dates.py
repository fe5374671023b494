"""Which day a line is about: 'yesterday', 'last Saturday', 'on the 3rd', '3 June', '25/4'."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from evenpick.base.language import MONTH_NAMES
from evenpick.garden.diary_scan import STRUCK, Scan
from evenpick.garden.fields import WEEKDAYS

MONTHS = tuple(map(str.casefold, MONTH_NAMES))
_MONTH = (
    r"(jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?|sept?(?:ember)?|"
    r"oct(?:ober)?|nov(?:ember)?|dec(?:ember)?)"
)
_WEEKDAY = (
    r"(mon(?:day)?|tue(?:s(?:day)?)?|wed(?:nesday)?|thu(?:rs(?:day)?)?|fri(?:day)?|sat(?:urday)?|"
    r"sun(?:day)?)"
)
_UNIT_NEXT = (
    r"(?!\s*(?:of\b|lbs?\b|pounds?|oz\b|ounces?|kg\b|kilos?|in\b|inch|\"|m\b|ft\b|g\b|cups?|pints?|[\d./]))"
)
_TODAY = (
    r"\b(?:earlier\s+)?(?:today|tonight|just now|this (?:morning|afternoon|evening)|(?<!last )overnight)\b"
)
_VAGUE = (
    r"\b(?:(?:at some point |some time |sometime |early |earlier |late )?(?:last|this|the past) "
    r"(?:week|weekend|month|spring|autumn|fall|winter|summer|year)|the other day|the weekend|recently|"
    r"a (?:few|couple of) (?:days|weeks) ago|some (?:days|weeks) ago|over the last few days|"
    r"(?:2|3|4|5|6) ?(?:or|to|-) ?\d (?:days|weeks) ago)\b"
)


LONGEST_YEAR = timedelta(days=366)


@dataclass(frozen=True, slots=True)
class Days:
    """The days that the words may mean; `words` as typed. None at all: no such day."""

    days: tuple[date, ...]
    words: str
    vague: bool = False


def take_day(scan: Scan, today: date, day_first: bool | None, weather: bool = False) -> Days | None:
    """The day a clause names, struck out of it; None where it names none.

    `day_first` says how 12/4 is read here: True as 12 April, False as 4 December, None as either. Weather of
    'last night' belongs to the day that followed.
    """
    for read in (_full, _named, _numbered, _dashed, _feast, _words, _weekday, _of_month):
        found = read(scan, today, day_first, weather)
        if found is not None:
            return _of_its_weekday(scan, found) if read in (_full, _named, _numbered, _dashed) else found
    vague = scan.take(_VAGUE) or scan.take(
        rf"\b(?:in|during|back in)\s+(?:early |mid |mid-|late )?{_MONTH}\b"
    )
    return Days((), vague[0], vague=True) if vague else None


def _of_its_weekday(scan: Scan, found: Days) -> Days:
    """'Tues 9 June': the days that fall on the weekday before them, asked about where none does."""
    match = scan.take(rf"\b(?:on )?{_WEEKDAY}\.? ?(?={STRUCK})")
    if match is None or not found.days:
        return found
    fitting = tuple(day for day in found.days if day.weekday() == _number_of(match[1]))
    words = f"{match[0].strip()} {found.words.strip()}"
    return Days(fitting, words) if fitting else Days((), words, vague=True)


def _number_of(weekday: str) -> int:
    return next(i for i, name in enumerate(WEEKDAYS) if name.startswith(weekday[:3]))


def _full(scan: Scan, today: date, day_first: bool | None, weather: bool) -> Days | None:
    match = scan.take(r"\b(\d{4})-(\d{1,2})-(\d{1,2})\b")
    if match:
        return Days(_dates([(int(match[1]), int(match[2]), int(match[3]))]), match[0])
    return None


def _named(scan: Scan, today: date, day_first: bool | None, weather: bool) -> Days | None:
    """'3 June', 'June 3rd', '3rd of June 2027'."""
    ordinal, year = r"(\d{1,2})(?:st|nd|rd|th)?", r"(?:,?\s+(\d{4}|(?:of )?last year))?"
    before = scan.take(rf"\b(?:on\s+)?(?:the\s+)?{ordinal}\s+(?:of\s+)?{_MONTH}\b\.?{year}")
    if before:
        return _in_year(int(before[1]), month_of(before[2]), before[3], today, before[0])
    after = scan.take(
        rf"\b(?:on\s+)?{_MONTH}\.?\s+(?:the\s+)?{ordinal}\b{year}(?!\s*(?:m|kg|g|ft|lbs?|oz)\b)"
    )
    if after:
        return _in_year(int(after[2]), month_of(after[1]), after[3], today, after[0])
    return None


def _numbered(scan: Scan, today: date, day_first: bool | None, weather: bool) -> Days | None:
    """'25/4', '12/4/2027'; both readings where both are days."""
    match = scan.take(
        rf"(?<![\d./\w])(?:on\s+)?(\d{{1,2}})([/.])(\d{{1,2}})(?:\2(\d{{4}}|\d{{2}}))?\b{_UNIT_NEXT}"
        if scan.see(r"\d[/]\d|\d\.\d{1,2}\.\d")
        else r"(?!)"
    )
    if match is None:
        return None
    return _either(int(match[1]), int(match[3]), match[4], today, day_first, match[0])


def _dashed(scan: Scan, today: date, day_first: bool | None, weather: bool) -> Days | None:
    """'24-12-27', with its year alone: '2-3' may be two or three."""
    match = scan.take(r"(?<![\d./\w-])(?:on\s+)?(\d{1,2})-(\d{1,2})-(\d{4}|\d{2})\b(?!-)")
    if match is None:
        return None
    return _either(int(match[1]), int(match[2]), match[3], today, day_first, match[0])


def _either(
    first: int, second: int, told: str | None, today: date, day_first: bool | None, words: str
) -> Days:
    """Two numbers as day and month in the order that is read here, else in both."""
    year = told if told is None or len(told) == 4 else f"20{told}"
    orders = {True: [(first, second)], False: [(second, first)], None: [(first, second), (second, first)]}
    days = dict.fromkeys(
        day for which, month in orders[day_first] for day in _in_year(which, month, year, today, "").days
    )
    return Days(tuple(days), words.removeprefix("on ").strip())


FEASTS = (
    (r"(?:christmas|xmas|x-mas) eve", 12, 24), (r"(?:christmas|xmas|x-mas) day", 12, 25),
    (r"boxing day|(?:st\.? )?stephen'?s day", 12, 26), (r"new year'?s? eve|nye|hogmanay", 12, 31),
    (r"new year'?s? day", 1, 1),
)
"""(words, month, day): those of fixed days on which people garden in the south"""


def _feast(scan: Scan, today: date, day_first: bool | None, weather: bool) -> Days | None:
    for words, month, day in FEASTS:
        match = scan.take(rf"\b(?:on\s+)?(?:{words})(?:,?\s+(\d{{4}}|last year))?\b")
        if match is not None:
            return _in_year(day, month, match[1], today, match[0])
    return None


def _words(scan: Scan, today: date, day_first: bool | None, weather: bool) -> Days | None:
    if match := scan.take(r"\b(?:the )?day before yesterday\b"):
        return Days((today - timedelta(2),), match[0])
    if match := scan.take(r"\byesterday(?:'s)?(?: (?:morning|afternoon|evening|night))?\b"):
        return Days((today - timedelta(1),), match[0])
    if match := scan.take(r"\blast night\b"):
        return Days((today - timedelta(0 if weather else 1),), match[0])
    if match := scan.take(r"\b(a|\d+) (day|week|fortnight)s? ago\b"):
        each = {"day": 1, "week": 7, "fortnight": 14}[match[2]]
        count = 1 if match[1] == "a" else int(match[1])
        return Days((today - timedelta(each * count),) if count < 1000 else (), match[0])
    if match := scan.take(_TODAY):
        scan.drop(_TODAY)
        return Days((today,), match[0])
    return None


def _weekday(scan: Scan, today: date, day_first: bool | None, weather: bool) -> Days | None:
    """The last one that has been; asked where it may be today or a week ago, yesterday or a week before."""
    later = r"(?: (?:morning|afternoon|evening|night))?\b"
    match = scan.take(rf"\b(last |this |on ){_WEEKDAY}{later}") or scan.take(
        r"()\b(monday|tuesday|wednesday|thursday|friday|saturday|sunday|^(?:mon|tue|wed|thu|fri|sat|sun)(?=[:,])|"
        r"(?:mon|tues?|wed|thurs?|fri|sat|sun)(?= (?:morning|afternoon|evening|night)\b))"
        + later
    )
    if match is None:
        return None
    back = (today.weekday() - _number_of(match[2])) % 7
    if match[1] == "last ":
        backs = (7,) if back == 0 else (1, 8) if back == 1 else (back,)
    else:
        backs = (0, 7) if back == 0 else (back,)
    return Days(tuple(today - timedelta(each) for each in backs), match[0].removeprefix("on "))


def _of_month(scan: Scan, today: date, day_first: bool | None, weather: bool) -> Days | None:
    """'on the 3rd': the last one that has been."""
    match = scan.take(r"\b(?:on )?the (\d{1,2})(?:st|nd|rd|th)\b") or scan.take(
        r"\bon (\d{1,2})(?:st|nd|rd|th)\b"
    )
    if match is None:
        return None
    wanted = int(match[1])
    months = (
        (today.year + (today.month - 1 - back) // 12, (today.month - 1 - back) % 12 + 1) for back in range(13)
    )
    found = (day for year, month in months for day in _dates([(year, month, wanted)]) if day <= today)
    return Days(tuple(d for d in [next(found, None)] if d is not None), match[0])


def month_of(text: str) -> int:
    return next(i for i, name in enumerate(MONTHS, 1) if name.startswith(text[:3]))


def _in_year(day: int, month: int, year: str | None, today: date, words: str) -> Days:
    """The day in the year said, else the last one that has been; one of years ago (29 February) is asked."""
    if year is not None:
        return Days(_dates([(int(year) if year.isdecimal() else today.year - 1, month, day)]), words)
    past = [found for found in _dates((today.year - back, month, day) for back in range(9)) if found <= today]
    if past and today - past[0] > LONGEST_YEAR:
        return Days((), words, vague=True)
    return Days(tuple(past[:1]), words)


def _dates(parts: Iterator[tuple[int, int, int]] | list[tuple[int, int, int]]) -> tuple[date, ...]:
    found = []
    for year, month, day in parts:
        try:
            found.append(date(year, month, day))
        except ValueError:
            continue
    return tuple(found)
