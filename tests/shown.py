"""What a page of the documentation shows: its blocks, its commands, and whether an output is that shown."""

from __future__ import annotations

import doctest
import re
from collections.abc import Iterator

PART = re.compile(
    r"^```(?P<kind>[^\n]*)\n(?P<text>.*?)^```$|^<!-- (?P<said>[^\n]*) -->$", re.MULTILINE | re.DOTALL
)
FLAGS = doctest.ELLIPSIS | doctest.NORMALIZE_WHITESPACE
MONTH = r"\b(?:Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec)\b"
DAY = r"\b(?:Mon|Tue|Wed|Thu|Fri|Sat|Sun)\b"
MARK = r"(?m)^[0-9a-f]{4,6}(?=\s)"  # of a job, a packet, an entry: made anew wherever it is written
MASKS = ((MARK, "@"), (MONTH, "Mmm"), (DAY, "Ddd"), (r"\d+(?:\.\d+)*", "#"), (r"#-#|# #", "#"))
SAID = "said"


def parts(page: str) -> Iterator[tuple[str, str]]:
    """(kind, text) of every fenced block, and ('said', text) of every comment on a line of its own."""
    for found in PART.finditer(page):
        said = found["said"]
        yield (SAID, said) if said is not None else (found["kind"].strip(), found["text"])


def commands(block: str) -> Iterator[tuple[str, str]]:
    """(command, output shown) of a console block."""
    for part in re.split(r"^\$ ", block, flags=re.MULTILINE)[1:]:
        command, _, output = part.partition("\n")
        yield command, output


def agrees(shown: str, got: str, figures: bool = True) -> bool:
    """Whether an output is the one shown: white space is free, `...` stands for anything.

    With `figures` False marks, numbers, months and days of the week may be others: a page keeps reading well
    when a better plan moves a sowing by a week.
    """
    if not shown.strip():
        return True
    if not figures:
        shown, got = _masked(shown), _masked(got)
    return doctest.OutputChecker().check_output(shown, got, FLAGS)


def _masked(text: str) -> str:
    for pattern, word in MASKS:
        text = re.sub(pattern, word, text)
    return text
