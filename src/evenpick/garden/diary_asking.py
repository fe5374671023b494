"""What may come of a line: understood, asked or refused (docs/formats/diary-line.md)."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import NoReturn, TypeAlias

from evenpick.garden.diary import Fact


@dataclass(frozen=True, slots=True)
class Dated:
    day: date
    fact: Fact


@dataclass(frozen=True, slots=True)
class Choice:
    value: str
    label: str


DOUBT, SO = "doubt", "keep"
"""what a question is about that only asks whether something unlikely is so, and the answer that it is"""


@dataclass(frozen=True, slots=True)
class Question:
    key: str
    """names the question in answers: the clause's number and what it is about"""
    about: str
    text: str
    choices: tuple[Choice, ...]
    free: str = ""
    """an example of what may be typed instead of a choice; '' where only a choice will do"""


@dataclass(frozen=True, slots=True)
class Understood:
    facts: tuple[Dated, ...]


@dataclass(frozen=True, slots=True)
class Asked:
    question: Question


@dataclass(frozen=True, slots=True)
class Refused:
    why: str
    mend: str


Outcome: TypeAlias = Understood | Asked | Refused


class Halt(Exception):
    """A line can't be read to its end; caught where the line is read."""

    def __init__(self, outcome: Asked | Refused) -> None:
        super().__init__()
        self.outcome = outcome


@dataclass(frozen=True, slots=True)
class Asker:
    """Questions of one clause, and the answers that were given to them."""

    clause: int
    answers: Mapping[str, str]

    def ask(self, about: str, text: str, choices: Iterable[tuple[str, str]], free: str = "") -> str:
        """The answer given; else the line halts with the question."""
        offered = tuple(Choice(*each) for each in choices)
        key = f"{self.clause}:{about}"
        given = self.answers.get(key)
        if given is not None and (free or given in [choice.value for choice in offered]):
            return given
        raise Halt(Asked(Question(key, about, text, offered, free)))


def refuse(why: str, mend: str) -> NoReturn:
    raise Halt(Refused(why, mend))
