"""What a grower is told when an input can't be used.

A fault in the grower's input is a `Problem` with a place and a remedy; several travel together in
one `EvenpickError`. A bug raises any other exception and is never caught.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from difflib import get_close_matches

from evenpick.base.language import tell


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong with an input: what, how to mend it, and where it stands."""

    what: str
    mend: str
    file: str | None = None
    line: int | None = None
    field: str | None = None

    def __str__(self) -> str:
        line = tell("line {line}", line=self.line) if self.line is not None else None
        place = ", ".join(part for part in (self.file, line, self.field) if part)
        return f"{place}: {self.what} {self.mend}" if place else f"{self.what} {self.mend}"

    def at(self, file: str | None = None, line: int | None = None, field: str | None = None) -> Problem:
        """The same problem with what is now known of its place."""
        return replace(
            self, file=file or self.file, line=line if line is not None else self.line,
            field=field or self.field,
        )


class EvenpickError(Exception):
    """An answer could not be given, and the one who asked can mend it."""

    def __init__(self, problems: Problem | Iterable[Problem]) -> None:
        self.problems = (problems,) if isinstance(problems, Problem) else tuple(problems)
        super().__init__("\n".join(str(problem) for problem in self.problems))


class BadWeatherFile(EvenpickError):
    """A weather file can't be read as what it claims to be."""


class UnknownPlace(EvenpickError):
    """A place or a point that is not on earth, or not in the place list."""


class UnknownCrop(EvenpickError):
    """A crop, cover or way that the catalogue does not have."""


class BadGarden(EvenpickError):
    """A garden description with faults, each with its line."""


class BadDiary(EvenpickError):
    """A diary entry, or a line meant to become one, that can't be understood."""


class BadBook(EvenpickError):
    """The garden's book can't be read or written as asked."""


class BadPlan(BadBook):
    """The plan kept in the book can't be read; the diary beside it may be whole."""


class BookNotNow(BadBook):
    """The book is whole, but it can't be written just now: another program holds it, or its disk is full or
    gave an error."""


class BadFile(EvenpickError):
    """A file or a folder that can't be read, made or written."""


class BadTrial(EvenpickError):
    """A comparison of varieties that can't be laid out, or whose record sheet can't be read."""


class BadRequest(EvenpickError):
    """A date, month or option that makes no sense."""


class NothingKept(BadRequest):
    """Asked of a garden for which there is nothing to tell it by yet: no plan, or no sowing either."""


def did_you_mean(word: str, known: Iterable[str], alike: float = 0.6) -> str:
    """A closing hint such as "Did you mean 'carrot'?", or an empty string where no word is so much alike."""
    close = get_close_matches(word.casefold(), list(known), n=2, cutoff=alike)
    names = tell(" or ").join(repr(name) for name in close)
    return tell("Did you mean {names}?", names=names) if close else ""
