"""Laying sowings into beds: greedy by day with restarts, then mended (docs/design/beds.md, 6)."""

from __future__ import annotations

from collections.abc import Callable, Sequence, Set
from dataclasses import dataclass
from functools import cache, partial
from math import inf

import numpy as np

from evenpick.base.chance import stream
from evenpick.plan.bed_terms import Terms
from evenpick.plan.beds import Layout, Stay, Strip
from evenpick.plan.held import claimed, put_again
from evenpick.plan.laying import Beds, Taste
from evenpick.plan.stretches import HAIR

LIFTED = 8  # stays lifted at once in mending
LOOKED_INTO = 30  # beds looked into first in mending
FIRM = 2.0  # what is so firm is held where not all that lay somewhere before can be
THERE = 0.7  # of what is lifted, how often it is first laid where it lay before
CRUMB = 0.5  # of a step of the crop's area: less than that without room is no less to sow
NEAR = 45  # days around a troubled stay in which others are lifted


@dataclass(frozen=True, slots=True)
class Tries:
    """How much work to put in; counts alone, so that the layout is the same on every machine."""

    starts: int = 6
    mends: int = 300
    mends_each: int = 2
    """more mends for every stay"""
    patience: int = 200
    """mends in a row that better nothing before it is left"""


AGAIN = Tries(starts=2, mends=150, mends_each=1, patience=60)
"""where something lay before: what is left to better is little"""


def lay(
    beds: Sequence[Strip], stays: Sequence[Stay], seed: int, tries: Tries | None = None, as_kept: bool = False
) -> Layout:
    """The best layout found. What is fixed to a bed is laid first; the same seed gives the same layout.

    Nothing overlaps and nothing lies outside its bed. All of a stay is placed or told as unplaced; a family
    comes back too soon only where no other room was found. It is not proven to be the best. What lay
    somewhere before stays there, unless something has no room for it; `as_kept`, nothing is bettered where
    all of it still can.
    """
    terms = Terms(beds, stays)
    if as_kept and all(stay.held for stay in stays):
        same = _start(terms, Taste(), None, 0.0)
        if not same.worth().moved:
            return _layout(same)
    tries = tries or (AGAIN if any(stay.held for stay in stays) else Tries())
    chance = stream(seed, "beds")
    best = _found(terms, chance, tries)
    if _wanting(best) and any(stay.held for stay in stays):
        other = _found(terms, chance, tries, firm=FIRM)
        best = other if other.worth().key() < best.worth().key() else best
    return _layout(best)


def _found(terms: Terms, chance: np.random.Generator, tries: Tries, firm: float = 0.0) -> Beds:
    """The best of some starts, mended; what lay somewhere before is laid first where it is so `firm`."""
    best = _start(terms, Taste(), None, firm)
    for _ in range(tries.starts - 1):
        if best.worth().perfect:
            break
        other = _start(terms, _tasted(chance), chance, firm)
        if other.worth().key() < best.worth().key():
            best = other
    _mend(best, chance, tries)
    for s in range(len(terms.stays)):
        if best.unplaced[s] > HAIR:
            best.top_up(s)
    return best


def _wanting(filled: Beds) -> float:
    """m² without room, but for crumbs that are no less to sow."""
    return sum(left for left, stay in zip(filled.unplaced, filled.stays, strict=True)
               if left > max(HAIR, CRUMB * stay.least))


def _start(terms: Terms, taste: Taste, chance: np.random.Generator | None, firm: float) -> Beds:
    """What stands on metres that are known, what has the fewest beds to lie in, what is raised and waits,
    what lay somewhere before and is so `firm`, then each stay in the order of their days: what is free when
    it starts is free ever after."""
    stays, filled = terms.stays, Beds(terms)
    jitter = chance.permutation(len(stays)) if chance is not None else np.arange(len(stays))
    claim = {s: claimed(filled, s) for s, stay in enumerate(stays) if filled.held[s] and stay.firm >= firm}
    for s in sorted(range(len(stays)), key=lambda s: (
        not filled.still[s], _choice(stays[s]), not stays[s].raised, s not in claim, claim.get(s, ()),
        stays[s].start, -stays[s].area if chance is None else 0.0, int(jitter[s])
    )):
        if not put_again(filled, s):
            filled.put(s, taste)
    return filled


def _choice(stay: Stay) -> float:
    """In how many beds a stay may lie; no end of them where it is tied to none."""
    return inf if stay.beds is None else len(stay.beds)


def _tasted(chance: np.random.Generator) -> Taste:
    plain = Taste()
    factor = np.exp(chance.normal(0.0, 0.7, 4))
    return Taste(
        plain.rest * factor[0], plain.follow * factor[1], plain.family * factor[2], plain.ends * factor[3]
    )


def _mend(filled: Beds, chance: np.random.Generator, tries: Tries) -> None:
    """Lift a troubled stay and some that lie in its way, lay them anew, and keep what is no worse."""
    waited, near = 0, cache(partial(_near, filled.stays))
    for _ in range(tries.mends + tries.mends_each * len(filled.stays)):
        before = filled.worth()
        troubled = filled.troubled()
        if before.perfect or not troubled or waited >= tries.patience:
            return
        s = int(chance.choice(troubled))
        lifted = {each: filled.take_out(each) for each in _in_the_way(filled, s, near, chance)}
        order = list(lifted)
        if chance.random() < 0.5:
            order = [order[0], *chance.permutation(order[1:]).tolist()]
        else:
            order.sort(key=lambda each: (filled.stays[each].start, -filled.stays[each].area))
        taste = _tasted(chance)
        for each in order:
            if not (filled.held[each] and chance.random() < THERE and put_again(filled, each)):
                filled.put(each, taste, _some(filled.able[each], chance))
        after = filled.worth()
        if after.key() > before.key():
            for each in lifted:
                filled.take_out(each)
            for each, was in lifted.items():
                filled.put_back(each, was)
        waited = 0 if after.key() < before.key() else waited + 1


def _in_the_way(
    filled: Beds, s: int, near: Callable[[int], Set[int]], chance: np.random.Generator
) -> list[int]:
    """The stay itself, and some that lie near its days in one or two beds that it might have."""
    able = filled.able[s]
    if not able:
        return [s]
    chosen = chance.choice(able, size=min(len(able), int(chance.integers(1, 3))), replace=False)
    lying = {other for b in chosen for other in filled.lying.stays(int(b))}
    others = sorted((lying & near(s)) - {s})
    return [s, *(int(each) for each in chance.permutation(others)[:LIFTED])]


def _near(stays: Sequence[Stay], s: int) -> Set[int]:
    """What may lie anywhere and lies near a stay's days, or keeps its ground from the stay's family."""
    stay = stays[s]
    return {
        o for o, other in enumerate(stays) if other.beds is None and not (other.stands and other.held) and (
            (other.start < stay.end + NEAR and stay.start - NEAR < other.end) or other.family == stay.family
        )
    }


def _some(able: Sequence[int], chance: np.random.Generator) -> Sequence[int]:
    """Beds to look into first; all of them where they are few."""
    if len(able) <= LOOKED_INTO:
        return able
    return [int(b) for b in chance.choice(able, LOOKED_INTO, replace=False)]


def _layout(filled: Beds) -> Layout:
    worth = filled.worth()
    by_stay = sorted(
        (piece for pieces in filled.of for piece in pieces), key=lambda p: (p.stay, p.bed, p.low)
    )
    found = [
        breach for b in range(len(filled.beds)) for breach in filled.kin.breaches(b, filled.lying.pieces(b))
    ]
    found.sort(key=lambda breach: (breach.piece.stay, breach.piece.bed, breach.stretch))
    unplaced = {s: area for s, area in enumerate(filled.unplaced) if area > HAIR}
    return Layout(tuple(by_stay), unplaced, tuple(found), worth.extra)


