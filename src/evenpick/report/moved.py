"""What goes into another bed than was told before."""

from __future__ import annotations

from collections.abc import Sequence

from evenpick.base.language import tell, together
from evenpick.report.days import full_day
from evenpick.report.page import Block, listed
from evenpick.report.words import Words
from evenpick.service.plan_answer import Moved


def moves(several: Sequence[Moved], words: Words) -> list[Block]:
    """A line for each, by its first day."""
    return listed(tell("in another bed than before"), [_move(each, words) for each in several])


def _move(each: Moved, words: Words) -> str:
    name = words.name(each.name)
    what = name if each.number is None else tell("{name} (no. {number})", name=name, number=each.number)
    return tell("{what}, from {starts}: {where}; {why}.", what=what, starts=full_day(each.starts),
                where=_where(each), why=each.why)


def _where(each: Moved) -> str:
    was, now = (tuple(dict.fromkeys(one.bed for one in several)) for several in (each.was, each.now))
    if not now:
        return tell("no room any more, {was} before", was=together(was))
    if now == was:
        return tell("elsewhere along {now}", now=together(now))
    return tell("{now} instead of {was}", now=together(now), was=together(was))
