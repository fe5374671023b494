"""Commands that speak the reader's language: their help in the system's, their answers in the garden's."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import click

from evenpick.base.language import choose, language_of
from evenpick.cli.options import GARDEN


class Speaking(click.Command):
    """A command that chooses the language before it asks for its answer."""

    def invoke(self, ctx: click.Context) -> Any:
        choose(answer_language(ctx.params))
        return super().invoke(ctx)


def answer_language(asked: Mapping[str, Any]) -> str:
    """The language asked for, else that of the garden that is asked about, else British English."""
    garden = _garden_words(asked) if asked.get("at") is None and asked.get("place") is None else {}
    if asked.get("language"):
        return str(asked["language"])
    if asked.get("english"):
        return language_of(asked["english"])
    return language_of(garden.get("english"), garden.get("language"))


def _garden_words(asked: Mapping[str, Any]) -> Mapping[str, Any]:
    """The garden's [words] as far as they can be read; what is wrong with them the command itself tells."""
    from evenpick.base.errors import EvenpickError
    from evenpick.service.setups import text_if_any

    try:
        words = tomllib.loads(text_if_any(Path(asked.get("garden") or GARDEN)) or "").get("words", {})
    except (EvenpickError, tomllib.TOMLDecodeError):
        return {}
    return words if isinstance(words, dict) else {}
