"""What shares come to: weeks in which they fall short, and one share of a week beside what it should be."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from datetime import date, timedelta
from typing import TypeAlias

from evenpick.base.language import tell, tell_n
from evenpick.report.days import day
from evenpick.report.money import about, exact
from evenpick.report.page import Block, Items, listed
from evenpick.report.words import Words, capital
from evenpick.service.shares_answer import ShortShare, WeekShare

SharesOf: TypeAlias = Callable[[date], Sequence[WeekShare]]
"""the shares of the week of a Monday"""


def no_shares(monday: date) -> Sequence[WeekShare]:
    """Where nobody asked what a share comes to."""
    return ()


def falling_short(
    variety: Sequence[str], shares: Sequence[ShortShare], money: str, words: Words
) -> list[Block]:
    """Variety, weight and worth that shares should have and likely won't; `variety` is in words already."""
    return listed(tell("what boxes will fall short of"),
                  [*map(capital, (*variety, *(_short(share, money, words) for share in shares)))])


def _short(share: ShortShare, money: str, words: Words) -> str:
    if share.what == "weight":
        said = tell("{name}: under {least} is likely in", name=share.outlet,
                    least=words.weight_said(share.least))
    else:
        said = tell("{name}: worth less than {least} is likely in", name=share.outlet,
                    least=exact(share.least, money))
    number = tell_n("{n} week", "{n} weeks", len(share.weeks))
    told = tell("{said} {number} of the first year ({spans}).", said=said, number=number,
                spans=", ".join(_runs(share.weeks)))
    if not share.wished_less:
        return told
    if share.wished_less == len(share.weeks):
        return f"{told} " + tell("Everything wished for comes to less then: wish for more, or ask less.")
    less = tell_n("In {n} of these weeks everything wished for comes to less: wish for more in it, or ask "
                  "less.",
                  "In {n} of these weeks everything wished for comes to less: wish for more in them, or ask "
                  "less.", share.wished_less)
    return f"{told} {less}"


def _runs(mondays: Sequence[date]) -> Iterator[str]:
    """Weeks in a row from the first to the last."""
    begins = [at for at, monday in enumerate(mondays)
              if not at or monday - mondays[at - 1] > timedelta(weeks=1)]
    for first, after in zip(begins, [*begins[1:], len(mondays)], strict=True):
        if first == after - 1:
            yield tell("the week of {first}", first=day(mondays[first]))
        else:
            yield tell("{horizon} to {horizon_2}", horizon=day(mondays[first]),
                       horizon_2=day(mondays[after - 1]))


def shares_told(shares: Sequence[WeekShare], words: Words) -> list[Block]:
    """A line for each outlet."""
    lines = tuple(tell("{name}, one share: {said}.", name=share.outlet, said=share_said(share, words))
                  for share in shares)
    return [Items(lines)] if lines else []


def share_said(share: WeekShare, words: Words) -> str:
    """'about 3.4 kg of 4 kg, worth about €11 of €12.50'."""
    said = tell("about {kg}", kg=words.weight(share.kg))
    if share.least_kg is not None:
        said = tell("{about} of {least}", about=said, least=words.weight_said(share.least_kg))
    nothing_paid = share.worth == 0 and share.unpriced and share.least_worth is None
    if share.worth is None or nothing_paid:
        return said
    worth = tell("worth about {money}", money=about(share.worth, share.money))
    if share.least_worth is not None:
        worth = tell("{about} of {least}", about=worth, least=exact(share.least_worth, share.money))
    if share.unpriced:
        worth = tell("{worth} without what has no price", worth=worth)
    return tell("{weight}, {worth}", weight=said, worth=worth)
