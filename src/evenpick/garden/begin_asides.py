"""What a first garden file holds as comments: what is left out and why, what stands for years, what is not
known, and whom nobody said how much is sold to."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from textwrap import wrap

from evenpick.garden.begin_lines import LEFT_OUT, SELLING, STANDING, UNKNOWN
from evenpick.garden.helpings import Helping
from evenpick.garden.likes import Unknown
from evenpick.garden.standing import lines_for

WIDTH = 100
"""letters of a comment's line"""


def left_out_lines(
    wished: Sequence[Helping], why: Mapping[str, str], wishes: Mapping[str, str]
) -> str:
    """What is not wished for, each with its reason and a wish to take the comment marks off; both by item."""
    return _commented(LEFT_OUT, (
        (*wrap(f"{helping.item}: {why[helping.item]}.", WIDTH), *wishes[helping.item].splitlines())
        for helping in wished if helping.item in why
    ))  # fmt: skip


def standing_lines(items: Sequence[str], lat: float) -> str:
    """What stands for years, each with lines to take the comment marks off."""
    return _commented(STANDING, (lines_for(item, lat) for item in items))


def unknown_lines(unknown: Sequence[Unknown]) -> str:
    """Words that are no crop here, so that nothing of an answer is lost."""
    return _commented(UNKNOWN, (wrap(f"{each.word}: {each.why}.", WIDTH) for each in unknown))


def selling_lines(selling: Sequence[str], wish: str) -> str:
    """An outlet for what is sold, with a wish of its own, to take the comment marks off."""
    lines = ["[[outlet]]", 'name = "stall"', 'kind = "stall"', "shares = 1", "", *wish.splitlines()]
    return _commented(SELLING.format(selling=", ".join(selling)), (lines,))


def _commented(head: str, blocks: Iterable[Sequence[str]]) -> str:
    """Blocks of lines as comments, one parted from the next."""
    told = [head]
    for lines in blocks:
        told += [*(f"# {line}".rstrip() for line in lines), "#"]
    return "\n".join(told[:-1]) + "\n"
