"""Where sowings were told to go before, and what goes elsewhere now (docs/design/beds.md, 7)."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import cache

from evenpick.base.days import dated, day_date, day_number
from evenpick.base.language import tell
from evenpick.garden.record import Record
from evenpick.plan.beds import Held, Layout, Piece, Stay, Strip
from evenpick.plan.rotation import Kin
from evenpick.plan.stretches import HAIR, metres
from evenpick.service.carried_out import carried_out
from evenpick.service.plan_answer import Lying, Moved, PlanAnswer

NEAR = timedelta(weeks=13)
"""what starts farther off is told when it comes near, as other changes are"""
MOST = 0.5
"""of its metres: a sowing is told as moved if less than that of them are those from before"""


@dataclass(frozen=True, slots=True)
class Told:
    """What a stay is called."""

    number: int | None
    crop: str
    name: str
    latest: int
    """last day number on which it may still start"""


@dataclass(frozen=True, slots=True)
class Lain:
    """Where sowings lie by what is known so far, and where they were told to go when that was last told."""

    now: tuple[Lying, ...]
    told: tuple[Lying, ...]
    kept: bool = False
    """of the plan that was laid so: nothing is bettered that can stay"""

    def held(self) -> Mapping[str, tuple[Held, ...]]:
        """By id."""
        return {name: tuple(Held(each.bed, each.from_m, each.to_m) for each in several)
                for name, several in by_sowing(self.now).items()}


NOWHERE = Lain((), ())


def since(now: Sequence[Lying], before: PlanAnswer, record: Record) -> Lain:
    """For a plan made anew: where the plan `before` lies `now`, and what the diary made of it under its own
    names too. Of a plan kept before its places were, what was told is what its layout comes to."""
    made = carried_out(before.sowings, record.sowings.values())

    def named(several: Sequence[Lying]) -> tuple[Lying, ...]:
        as_made = (replace(each, sowing=made[each.sowing]) for each in several if each.sowing in made)
        return (*several, *as_made)

    return Lain(named(now), named(before.lying or now))


def by_sowing(several: Sequence[Lying]) -> Mapping[str, tuple[Lying, ...]]:
    found: dict[str, tuple[Lying, ...]] = {}
    for each in several:
        found[each.sowing] = (*found.get(each.sowing, ()), each)
    return found


def elsewhere(
    beds: Sequence[Strip], stays: Sequence[Stay], told: Sequence[Told], layout: Layout,
    before: Sequence[Lying], begins: date,
) -> Iterator[Moved]:
    """What goes elsewhere than was told `before`, by its first day; not what the diary has in a bed."""
    was, until, kin = by_sowing(before), day_number(begins + NEAR), cache(lambda: Kin(beds, stays))
    for s in sorted(range(len(stays)), key=lambda s: (stays[s].start, s)):
        stay, own = stays[s], [piece for piece in layout.pieces if piece.stay == s]
        if not stay.family or stay.beds is not None or stay.start >= until or stay.id not in was:
            continue
        if _share_there(beds, own, was[stay.id]) < MOST:
            now = tuple(Lying(stay.id, beds[piece.bed].name, piece.low, piece.high) for piece in own)
            yield Moved(stay.id, told[s].number, told[s].name, day_date(stay.start), was[stay.id], now,
                        _why(beds, stays, told, layout, s, was[stay.id], kin))


def _share_there(beds: Sequence[Strip], own: Sequence[Piece], was: Sequence[Lying]) -> float:
    """Of the metres of a sowing, or of those before if they are fewer."""
    there = sum(_shared(piece, each) for each in was for piece in own if beds[piece.bed].name == each.bed)
    fewer = min(metres((piece.low, piece.high) for piece in own),
                metres((each.from_m, each.to_m) for each in was))
    return there / fewer if fewer > HAIR else float(bool(own) or not was)


def _shared(piece: Piece, each: Lying) -> float:
    return max(0.0, min(piece.high, each.to_m) - max(piece.low, each.from_m))


def _why(
    beds: Sequence[Strip], stays: Sequence[Stay], told: Sequence[Told], layout: Layout, s: int,
    was: Sequence[Lying], kin_of: Callable[[], Kin],
) -> str:
    """What is in the way of a stay where it was."""
    names = {bed.name: b for b, bed in enumerate(beds)}
    gone = [each.bed for each in was if each.bed not in names]
    if gone:
        return tell("{bed} is no bed of the garden file any more", bed=gone[0])
    beside = [(_shared(piece, each), piece.stay) for each in was for piece in layout.pieces
              if piece.stay != s and names[each.bed] == piece.bed and _shared(piece, each) > HAIR]
    stay = stays[s]
    there = [(share, o) for share, o in beside
             if stays[o].start < stay.end and stay.start < stays[o].end]
    if there:
        _, o = max(there)
        return _taken(stays[o], told[o])
    kin = kin_of()
    tired = [o for _, o in beside if kin.near[s, o]]
    if tired:
        return tell("{name} of its own family is too near in time there", name=told[tired[0]].name)
    if any(kin.barred[s, names[each.bed]] for each in was):
        return tell("its own family grew there too short a time ago")
    return tell("so that all else has room")


def _taken(other: Stay, told: Told) -> str:
    """That another has the ground."""
    until = dated(day_date(other.end))
    if other.stands:
        return tell("{name} stands there until {until}", name=told.name, until=until)
    return tell("{name} is to be there from {first} until {until}", name=told.name,
                first=dated(day_date(other.start)), until=until)
