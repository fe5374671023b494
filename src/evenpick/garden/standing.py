"""What is liked and stands for years: no plan sows it, but what it brings can be counted in."""

from __future__ import annotations

from collections.abc import Sequence

from evenpick.base.language import tell

STANDING = frozenset((
    "strawberry", "strawberries", "raspberry", "raspberries", "blackberries", "currants", "blackcurrants",
    "redcurrants", "gooseberries", "blueberries", "rhubarb", "asparagus", "artichoke", "artichokes",
    "globe artichoke", "globe artichokes", "apple", "apples", "pears", "plums", "grapes", "figs",
    "horseradish",
))
"""a plan is of what is sown or planted each year"""


def parted(likes: Sequence[str]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """What may be sown, and what stands for years; all as what may be sown where nothing else is liked."""
    standing = tuple(like for like in likes if like.casefold() in STANDING)
    sown = tuple(like for like in likes if like not in standing)
    return (sown, standing) if sown else (tuple(likes), ())


def why_not_wished() -> str:
    return tell("it stands for years, and a plan is of what is sown or planted each year; write what yours "
                "bring as [[anyway]], and it is counted in")


def lines_for(item: str, lat: float) -> tuple[str, ...]:
    """Lines of a garden file for what it brings, to take the comment marks off."""
    opens, closes = ("06-01", "06-30") if lat >= 0 else ("12-01", "12-31")
    return (
        "[[anyway]]", f'item = "{item}"', 'each_week = "500 g"       # of all you have, while it bears',
        f'from = "{opens}"', f'until = "{closes}"',
    )
