"""A line of the diary as it is read: what was understood is struck out, what is left was not."""

from __future__ import annotations

import re
from collections.abc import Container

from evenpick.garden.number_words import in_digits

STRUCK = "\x1f"
UNNUMBERED = r"(?! ?\d)"
"""after 'pots', in which plants are raised: 'pots 2' is ground of the garden"""
_SIGNS = str.maketrans(
    {
        "’": "'",
        "‘": "'",
        "“": '"',
        "”": '"',
        "−": "-",
        "–": "-",
        "—": "-",
        "×": "x",
        "\t": " ",
        "\n": " ",
        STRUCK: " ",
    }
)
_WORD = re.compile(r"[^\W_]+(?:[.'-][^\W_]+)*")
_BETWEEN = re.compile(r"[^\w\s'-]")
_LONGEST_NAME = 5
"""words"""
_UNITS = r"(?:kilos?|kg|pounds?|lbs?|ounces?|oz|inch(?:es)?|in|metres?|meters?|m|pints?|litres?|liters?)\b"
_AMOUNT = (
    rf"(?:m²|{_UNITS}|l\b|ft\b|foot\b|feet\b|'|x\b|sq\b|g\b|grams?\b|plants?\b|seedlings?\b|plugs?\b|seeds?\b|sets\b|"
    r"cloves\b|tubers\b|slips\b|rows?\b|trays?\b|packets?\b|heads?\b|bunch|in each\b|each\b|of\b|per\b|%)"
)
"""what a number before it counts, so that it is no bed's"""
_MEASURED = (
    r"\s*(?:kilo(?:gram)?s?|kgs?|g|gr|grams?|pounds?|lbs?|ounces?|oz|inch(?:es)?|in|metres?|meters?|m|mm|cm|ft|"
    r"feet|foot|yards?|yds?|litres?|liters?|l|gal|gallons?|c|f)(?![\w²])|\s*(?:%|°|m²|ft²|sq)"
)
"""what a number before it measures"""
_READ = "min(?:imum)?|max(?:imum)?|low|high|lowest|highest"
_NONE_UP = (
    r"\b(?:no|none of (?:the|my|our)|not (?:a single|one|1)(?: of (?:the|my|our))?)\s+"
    r"((?:(?!(?:and|or|but|then|so|while|plus|more|rain|frost)\b)[^\W\d_][\w'-]*\s+){1,4}?)"
    r"(?:has |have |had )?(?:come up|came up|come through|came through|germinated|emerged|sprouted)\b"
)
_ACROSS = r"mm|cm|m|metres?|meters?|ft|feet|foot|in|inch(?:es)?|yards?|yds?"
WHICHEVER = "of whichever it was"
"""how it is said that nobody knows of which sowing something is"""
_UNSURE = (
    r"\(?\b(?:(?:i|we|i'm|i am|we're)\s+)?(?:(?:do\s?n't|do not|can\s?not|ca\s?n't|could\s?n't|could not)\s+"
    r"(?:know|remember|recall|tell|say)|not\s+(?:sure|certain)|unsure|no idea|dunno|forgot|forget)\s+"
    r"(?:(?:from|of|out of)\s+)?which\b(?:\s+(?:ones?|sowing|row|bed|batch|lot|of them))?"
    r"(?:\s+(?:it|they|that)\s+(?:was|were|came)\b)?(?:\s+(?:from|of)\b)?\)?|"
    r"\b(?:(?:from|of)\s+)?(?:either|whichever|one or (?:the )?other)(?:\s+of)?(?:\s+the)?\s+"
    r"(?:sowings?|rows?|batch(?:es)?)\b"
)
UNWEIGHED = "unweighed"
_NOT_WEIGHED = (
    r"\(?\b(?:not weighed(?:,? (?:and |or )?(?:not|nor) counted)?|"
    r"(?:(?:i|we) )?(?:did not|didn't|forgot to|never) weigh(?:ed)?(?: (?:it|them))?)\b\)?"
)
_REWRITES: tuple[tuple[re.Pattern[str], str], ...] = tuple(
    (re.compile(find, re.I), put)
    for find, put in (
        (rf"(?<![\w.,/])0?,(\d+)(?={_MEASURED})", r"0.\1"),
        (rf"(?<![\d.,/])(?<!beds )(?<!bed )(\d+),(\d{{1,2}})(?={_MEASURED})", r"\1.\2"),
        (rf"((?<=-)|\b(?:{_READ}) )(\d+),(\d{{1,2}})(?![\d,])", r"\1\2.\3"),
        (r"(?<![\d.,/])(\d{1,3}),(\d{3})(?= seeds?\b)", r"\1\2"),
        # typed without its mark the word would be left aside, and what stays say the contrary
        (r"\b(did|does|do|was|were|is|are|has|have|had|wo|ca|could|would|should)nt\b", r"\1n't"),
        (r"\b(?:teh|hte)\b", "the"),  # a slip in a small word would leave its phrase unread
        (r"\b(?:adn|nad|annd)\b", "and"),
        (_UNSURE, WHICHEVER),  # before a 'not' in it turns the sense of all
        (r"(?<![\w.,/])(\d{1,4}) ?x (?=[^\W\d])", r"\1 "),  # '4 x kohlrabi'
        (rf"(?<=[^\W\d])\s+x ?(\d{{1,4}})\b(?![.,/]\d|\s*(?:{_ACROSS})\b)", r" \1"),  # 'kohlrabi x4'
        (_NOT_WEIGHED, UNWEIGHED),
        (_NONE_UP, r"\1did not come up"),
        (r"\bnothing (?:has |had )?(?:come|came) up\b", "did not come up"),
        (r"(?<=\d)(½|¼|¾|⅓|⅔|⅛)", r" \1"),
        (rf"\b(?:a|an|one|1)\s+({_UNITS})\s+and\s+a\s+half\b", r"1.5 \1"),
        (rf"\bhalf\s+(?:a|an)\s+({_UNITS})", r"0.5 \1"),
        (r"\bhalf\s+(inch|kilo|kg|litre|liter|pound|lb|pint)\b", r"0.5 \1"),
        (r"\bnite\b", "night"),
        (r"\b(?:yest|yday|ystrday|yesterdy)\b", "yesterday"),
        (rf"\b(?:a\s+)?quarter\s+(?:of\s+)?(?:a|an)\s+({_UNITS})", r"0.25 \1"),
        (rf"\bthree\s+quarters\s+of\s+(?:a|an)\s+({_UNITS})", r"0.75 \1"),
        (r"\b(?:a|an|a full)\s+inch\b", "1 inch"),
        (r"\bminus\s+(?=\d)", "-"),
        (r"\bbought\s+((?:(?!and\b)[\w'-]+\s+){1,6}?)and\s+(?:then\s+)?(?:put|planted|popped|stuck)\s+(?:them|it)\s+"
         r"(?:out\s+)?(?=in\b)", r"planted bought \1"),
        (r"\bbought\s+(?:and|&|then|and then)\s+(planted(?:\s+out)?)\b", r"\1 bought"),
        (r"\bm(?:\^2|2)(?![\w])", "m²"),
        (r"\bft(?:\^2|2)(?![\w])", "ft²"),
        (rf"\bbeds\s+(\d+)((?:\s*(?:,|and|&)\s*\d+\b(?!\s*{_AMOUNT}))+)", "\x01"),
        (r"\bbeds\s+([a-z])((?:\s*(?:,|and|&)\s*[a-z]\b(?!\s+(?:tray|row|bed|packet|few)))+)", "\x01"),
    )
)


def normalised(text: str) -> str:
    """The line in plain signs, number words as digits; letters keep their case."""
    text = _BED_RUN.sub(_run_of_beds, text.translate(_SIGNS))
    for find, put in _REWRITES:
        text = find.sub(_beds, text) if put == "\x01" else find.sub(put, text)
    return " ".join(in_digits(text).split())


_BED_RUN = re.compile(
    r"\bbeds\s+(?:(?:nos?|numbers?)\.?\s+)?(\d{1,4})\s*(?:-|to|up to|through)\s*(\d{1,4})\b(?![.,/]\d)", re.I
)
MOST_BEDS = 100
"""in one run: more is a slip of the finger"""


def _run_of_beds(match: re.Match[str]) -> str:
    """'beds 4 to 6' as 'beds 4, 5, 6'; what runs backwards or too far is left as it is, to be asked about."""
    first, last = int(match[1]), int(match[2])
    if not first < last < first + MOST_BEDS:
        return match[0]
    return "beds " + ", ".join(str(number) for number in range(first, last + 1))


def _beds(match: re.Match[str]) -> str:
    """'beds 1, 2 and 4' as 'bed 1, bed 2 and bed 4', and so 'beds A and B'."""
    return "bed " + match[1] + re.sub(r"\b(\d+|[A-Za-z])\b", r"bed \1", match[2])


def plain(name: str) -> str:
    """A name as it is compared: small letters, no marks between or in words."""
    return " ".join(name.lower().replace("'", "").replace("’", "").replace("-", " ").split())


class Scan:
    """One clause; `take` strikes out what it finds."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.left = "".join(sign.lower() if len(sign.lower()) == 1 else sign for sign in text)

    def take(self, pattern: str) -> re.Match[str] | None:
        """The first place where the pattern stands in what is left; struck out."""
        found = self.see(pattern)
        if found is not None:
            self.strike(*found.span())
        return found

    def see(self, pattern: str) -> re.Match[str] | None:
        return re.search(pattern, self.left)

    def strike(self, start: int, end: int) -> None:
        self.left = self.left[:start] + STRUCK * (end - start) + self.left[end:]

    def take_name(self, names: Container[str]) -> str | None:
        """The first of the longest plain names that stands in what is left, as typed; struck out."""
        words = [match.span() for match in _WORD.finditer(self.left)]
        for length in range(min(_LONGEST_NAME, len(words)), 0, -1):
            for first, last in zip(words, words[length - 1 :], strict=False):
                typed = self.left[first[0] : last[1]]
                if not _BETWEEN.search(typed) and plain(typed) in names:
                    self.strike(first[0], last[1])
                    return typed
        return None

    def drop(self, pattern: str) -> None:
        """Strike out every place of the pattern."""
        while (found := self.see(pattern)) is not None and found.end() > found.start():
            self.strike(*found.span())

    def words(self) -> list[str]:
        """Words and numbers not struck out."""
        return _WORD.findall(self.left)
