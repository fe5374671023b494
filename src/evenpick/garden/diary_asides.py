"""What a line says beside its fact and clearly is none: how it stands to the plan, what it was instead of
(docs/formats/diary-line.md)."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date

from evenpick.garden.diary_dates import take_day
from evenpick.garden.diary_names import QUOTED, Names, take_crops
from evenpick.garden.diary_scan import STRUCK, Scan

_PLANNED = (
    r"(?:(?:was |were |we |i |i'd |we'd |had |it |had been )*"
    r"(?:planned|expected|hoped(?: for)?|intended|meant)|"
    r"(?:the |my |our )?plan(?:s|ned)?(?: said| says)?|usual|normal)"
)
_COUNTED = r"(?:\d+(?:[.,]\d+)?|\d+/\d+|half|quarter)\s*(?:m²|ft²|[a-z]+)?\s*"
"""an amount just before 'more than planned' is the difference, which no fact can tell"""
_LATE = re.compile(
    r"[,;]?\s*\b(?:(?:all|both|each)\s+)?(?:(?:about|around|over|under|nearly|almost|some|good|just)\s+)*"
    r"(?:an?|\d+|several|some|few|couple(?: of)?)\s+(?:good\s+)?(?:days?|weeks?|fortnights?|months?)\s+"
    r"(?:too\s+)?(?:late|early|later|earlier|sooner|behind)\b"
    rf"(?:\s+than\s+{_PLANNED})?(?!\s+(?:than|blight|frosts?|carrots?|potato\w*|pur\w*))",
    re.I,
)
_SOONER = re.compile(
    r"[,;]?\s*\b(?:(?:a bit|a little|much|somewhat|rather|far)\s+)?(?:later|earlier|sooner)\s+"
    rf"than\s+{_PLANNED}\b",
    re.I,
)
_MORE = re.compile(
    rf"(?P<before>\bbed\s+\d+\s+|{_COUNTED}|[^\s\d]\s*|^\s*)?"
    r"(?P<said>\b(?:(?:a bit|a little|a lot|much|somewhat|rather|far|slightly|many)\s+)?"
    r"(?:more|less|fewer|bigger|smaller)\s+"
    rf"(?P<what>(?:(?!than\b)[a-z'-]+\s+){{0,3}})than\s+{_PLANNED})\b",
    re.I,
)
_TIMES = re.compile(
    rf"\b(?:twice|double|half|3 times|three times)\s+as\s+(?:much|many|large|big|long)\s+"
    rf"(?P<what>(?:(?!as\b|in\b)[a-z'-]+\s*){{0,3}}?)(?:as\s+{_PLANNED}\b|(?=,|$))",
    re.I,
)
_REST_FINE = re.compile(
    r"(?:,|;|\band\b|\bbut\b)?\s*\b(?:the\s+)?(?:rest|others?|remainder)(?:\s+of\s+(?:it|them))?\s+"
    r"(?:is|are|was|were|looks?|seems?|look)\s+(?:all\s+)?(?:still\s+)?"
    r"(?:fine|ok|okay|good|alright|right|well|untouched)\b",
    re.I,
)
_RAN_OUT = re.compile(
    r"(?:,|;|\band\b|\bbut\b|\bas\b|\bbecause\b|\bthen\b)?\s*\b(?:i\s+|we\s+)?ran\s+out\s+of\s+"
    r"(?:the\s+)?(?:seeds?|sets|tubers|cloves|plants|modules|cells|compost|room|space|time|daylight|light)\b",
    re.I,
)
_INSTEAD = re.compile(r"[,;]?\s*\b(?:inst(?:ea|e|ae)d\s+of|rather\s+than|in\s+place\s+of)\s+", re.I)
_AMOUNT = re.compile(
    r"(?:the\s+)?(?:planned\s+)?\d+(?:\.\d+)?\s*"
    r"(?:m²|ft²|sq ?(?:m|ft)|metres?|meters?|m|cm|ft|feet|foot|kg|g|plants?|rows?|trays?)?"
    r"(?:\s+(?:as\s+)?planned)?(?![\w.])",
    re.I,
)
_SMALL = r"(?:(?:the|my|our|some|any|more|planned|in|into|on|of|for)\s+)*"
_ALONE = re.compile(r"[,;]?\s*\binst(?:ea|e|ae)d\s*(?=$|[,.;])", re.I)


def without_asides(line: str, today: date, names: Names) -> str:
    """The line without what only sets its fact beside the plan, or says what it was done in place of.

    Left as it is where that may be the fact itself: '2 m more than planned' tells a difference.
    """
    if re.search(QUOTED, line):  # a name of the grower's own may be of such words
        return line
    line = _TIMES.sub(lambda found: found["what"], _MORE.sub(_more, line))
    for aside in (_LATE, _SOONER, _REST_FINE, _RAN_OUT):
        line = aside.sub(" ", line)
    return _without_instead(line, today, names)


def _more(found: re.Match[str]) -> str:
    before = found["before"] or ""
    counted = re.fullmatch(_COUNTED, before, re.I) is not None
    return found[0] if counted else f"{before}{found['what']}"


def _without_instead(line: str, today: date, names: Names) -> str:
    """Without 'instead of' and the one thing that was not: an amount, a crop, a ground or a day; only where
    the line tells another of the kind, so that what was done is still said."""
    while (found := _INSTEAD.search(line)) is not None:
        before, after = line[: found.start()], line[found.end() :]
        end = _not_so(before, after, today, names)
        if end is None:
            return line
        line = f"{before} {after[end:].lstrip()}".strip()
    return _ALONE.sub("", line)


def _not_so(before: str, after: str, today: date, names: Names) -> int | None:
    """Where what was not ends; None where that is not clear."""
    amount = _AMOUNT.match(after)
    if amount is not None and re.search(r"\d", before):
        return amount.end()
    skip = re.match(_SMALL, after, re.I)
    start = skip.end() if skip is not None else 0

    def of_day(scan: Scan) -> bool:
        return take_day(scan, today, names.day_first) is not None

    def of_ground(scan: Scan) -> bool:
        return scan.take_name(names.ground_words) is not None

    def of_crop(scan: Scan) -> bool:
        return take_crops(scan, names) is not None

    for take in (of_day, of_ground, of_crop):
        end = _at_its_start(after[start:], take)
        if end is not None:
            rest = Scan(f"{before} {after[start + end :]}")
            return start + end if take is of_day or take(rest) else None
    return None


def _at_its_start(text: str, take: Callable[[Scan], bool]) -> int | None:
    """Where what is taken of a text ends, if it stands at its very beginning."""
    scan = Scan(text)
    if not take(scan) or not scan.left.startswith(STRUCK):
        return None
    return len(scan.left) - len(scan.left.lstrip(STRUCK))
