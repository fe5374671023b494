"""Commands that speak the reader's language: their help in the system's, their answers in the garden's."""

from __future__ import annotations

import inspect
import tomllib
from collections.abc import Mapping
from copy import copy
from pathlib import Path
from typing import Any

import click

from evenpick.base.language import choose, language_of, tell
from evenpick.base.typed import about
from evenpick.cli.options import GARDEN
from evenpick.garden.whose_words import english_of


class Told(click.Command):
    """A command or group whose help is told in the language chosen."""

    def format_help(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        told = copy(self)
        told.help, told.epilog = tell(inspect.cleandoc(self.help or "")), tell(self.epilog or "")
        told.params = [_told(param) for param in self.params]
        super(Told, told).format_help(ctx, formatter)

    def get_short_help_str(self, limit: int = 45) -> str:
        return tell(self.short_help or "") or super().get_short_help_str(limit)


class Group(Told, click.Group):
    """Commands under one name."""


class Speaking(Told):
    """A command that chooses the language before it asks for its answer."""

    def invoke(self, ctx: click.Context) -> Any:
        choose(answer_language(ctx.params))
        about(ctx.params.get("garden"))
        return super().invoke(ctx)


def _told(param: click.Parameter) -> click.Parameter:
    told = copy(param)
    told.metavar = tell(param.metavar) if param.metavar else param.metavar
    if isinstance(told, click.Option):
        told.help = tell(told.help or "") or told.help
    return told


def answer_language(asked: Mapping[str, Any]) -> str:
    """The language asked for, else that of the garden that is asked about or of the town's country, else
    British English."""
    garden = _garden_words(asked) if asked.get("at") is None and asked.get("place") is None else {}
    if asked.get("language"):
        return str(asked["language"])
    if asked.get("english"):
        return language_of(asked["english"])
    if asked.get("place"):
        return language_of(english_of(_country(asked["place"])))
    return language_of(garden.get("english"), garden.get("language"))


def _country(place: str) -> str:
    """Two letters; none of a town that is not known, which the command itself tells."""
    from evenpick.base.errors import UnknownPlace
    from evenpick.climate.places import country_of

    try:
        return country_of(place)
    except UnknownPlace:
        return ""


def _garden_words(asked: Mapping[str, Any]) -> Mapping[str, Any]:
    """The garden's [words] as far as they can be read; what is wrong with them the command itself tells."""
    from evenpick.base.errors import EvenpickError
    from evenpick.service.setups import text_if_any

    try:
        words = tomllib.loads(text_if_any(Path(asked.get("garden") or GARDEN)) or "").get("words", {})
    except (EvenpickError, tomllib.TOMLDecodeError):
        return {}
    return words if isinstance(words, dict) else {}
