"""The reader's language (docs/design/languages.md).

Every message is written in British English where it is needed, with named places for what changes, and is
told in the language that is chosen: `tell("sown {date} in {place}", date=..., place=...)`. A message that a
catalogue does not have is told as it was written.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from functools import cache
from gettext import GNUTranslations, NullTranslations
from importlib.resources import files
from string import Formatter
from typing import Any, Literal, TypeAlias

SOURCE = "en_GB"
FOLDER = files("evenpick").joinpath("data", "locale")
MONTH_NAMES = ("January", "February", "March", "April", "May", "June", "July", "August", "September",
               "October", "November", "December")
MONTHS = tuple(name[:3] for name in MONTH_NAMES)


Width: TypeAlias = Literal["abbreviated", "wide"]
WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")


@dataclass(frozen=True, slots=True)
class Language:
    code: str
    """of language and territory as gettext writes them, such as en_US"""
    catalogue: NullTranslations

    @property
    def english(self) -> bool:
        return self.code.startswith("en")


OF_ENGLISH = {"british": SOURCE, "american": "en_US"}
"""the languages that a garden names by its `english`"""
BRITISH = Language(SOURCE, NullTranslations())
_chosen: ContextVar[Language] = ContextVar("language", default=BRITISH)


class _Figures(Formatter):
    """Formats numbers with the language's own marks."""

    def format_field(self, value: Any, format_spec: str) -> Any:
        said = super().format_field(value, format_spec)
        return marked(said) if isinstance(value, int | float) else said


FIGURES = _Figures()


@cache
def languages() -> tuple[str, ...]:
    """The codes of all languages there are, the source language first."""
    return (SOURCE, *sorted(each.name for each in FOLDER.iterdir() if each.joinpath("LC_MESSAGES").is_dir()))


@cache
def language(code: str) -> Language:
    """A language by its code; KeyError where there is no catalogue of it."""
    if code == SOURCE:
        return BRITISH
    if code not in languages():
        raise KeyError(code)
    with FOLDER.joinpath(code, "LC_MESSAGES", "evenpick.mo").open("rb") as file:
        return Language(code, GNUTranslations(file))


def system_language(variables: Mapping[str, str]) -> str:
    """The first language that the system's variables ask for and that there is; else the source language."""
    asked = next((variables[name] for name in ("LC_ALL", "LC_MESSAGES", "LANG") if variables.get(name)), "")
    code = asked.partition(".")[0].partition("@")[0]
    return code if code in languages() else SOURCE


def language_of(english: object, code: object = None) -> str:
    """The code of the language that a garden names by its `language` or else its `english`."""
    if isinstance(code, str) and code in languages():
        return code
    return OF_ENGLISH.get(str(english), SOURCE)


def choose(code: str) -> None:
    """Tell everything from here on, in this thread or task, in a language."""
    _chosen.set(language(code))


def chosen() -> str:
    """The code of the language that is told in."""
    return _chosen.get().code


@contextmanager
def using(told: Language) -> Iterator[None]:
    """Tell in a language for a while."""
    before = _chosen.set(told)
    try:
        yield
    finally:
        _chosen.reset(before)


def tell(message: str, /, **places: object) -> str:
    """A message in the reader's language, its places filled; an empty one stays empty."""
    if not message:
        return ""
    told = _chosen.get()
    words = told.catalogue.gettext(message)
    if not places:
        return words
    return words.format(**places) if told.english else FIGURES.vformat(words, (), places)


def tell_n(one: str, many: str, number: int, /, **places: object) -> str:
    """The message for a count, which is itself the place {n}."""
    told = _chosen.get()
    words = told.catalogue.ngettext(one, many, number)
    places = {"n": number, **places}
    return words.format(**places) if told.english else FIGURES.vformat(words, (), places)


def number_of(figure: float) -> int:
    """The count by which a figure that need not be whole chooses its plural: one and no more is one."""
    return int(figure) if figure == int(figure) else max(2, round(figure))


def together(names: Sequence[str]) -> str:
    """'a, b and c'; nothing of none."""
    if len(names) < 2:
        return "".join(names)
    return tell("{names} and {names_2}", names=", ".join(names[:-1]), names_2=names[-1])


def later(message: str) -> str:
    """Mark a message that `tell` is given later: a constant of a module."""
    return message


def marked(figure: str) -> str:
    """A figure written 1,234.5 with the marks of the language."""
    told = _chosen.get()
    if told.english:
        return figure
    group, decimal = _marks(told.code)
    return figure.translate({ord(","): group, ord("."): decimal})


@cache
def _marks(code: str) -> tuple[str, str]:
    from babel.numbers import get_decimal_symbol, get_group_symbol

    return get_group_symbol(code), get_decimal_symbol(code)


def month(number: int) -> str:
    """'Mar' of 3."""
    told = _chosen.get()
    return MONTHS[number - 1] if told.english else _months(told.code, "abbreviated")[number - 1]


def month_name(number: int) -> str:
    """'March' of 3, standing alone."""
    told = _chosen.get()
    return MONTH_NAMES[number - 1] if told.english else _months(told.code, "wide")[number - 1]


@cache
def _months(code: str, width: Width) -> tuple[str, ...]:
    from babel.dates import get_month_names

    names = get_month_names(width, "stand-alone", code)
    return tuple(names[number] for number in range(1, 13))


def weekday(number: int, width: Width = "wide") -> str:
    """'Monday' of 0, 'Mon' where it is abbreviated."""
    told = _chosen.get()
    if not told.english:
        return _weekdays(told.code, width)[number]
    return WEEKDAYS[number] if width == "wide" else WEEKDAYS[number][:3]


@cache
def _weekdays(code: str, width: Width) -> tuple[str, ...]:
    from babel.dates import get_day_names

    names = get_day_names(width, "stand-alone", code)
    return tuple(names[number] for number in range(7))
