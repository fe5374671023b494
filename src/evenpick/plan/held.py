"""What lay somewhere before stays there (docs/design/beds.md, 7)."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from evenpick.plan.bed_terms import Lain
from evenpick.plan.beds import Piece, length_per_area
from evenpick.plan.stretches import HAIR, Stretch, metres, without

if TYPE_CHECKING:
    from evenpick.plan.laying import Beds

ALONG = 0.1
"""of a sowing moved to another bed, how much one counts as moved that was shifted along its own"""
GROWN = 1.5
"""times as large as it was: what grew more is laid as if it were new where its place is too small"""


def moved(held: Sequence[Lain], pieces: Sequence[Piece]) -> float:
    """The share of a sowing that lies in another bed than before, and a tenth of what was shifted along its
    own; of one that grew or shrank a share of the smaller. Nought of one that is new."""
    base = min(sum(high - low for _, low, high in held), sum(piece.high - piece.low for piece in pieces))
    if base < HAIR:
        return 0.0
    there = sum(max(0.0, min(high, piece.high) - max(low, piece.low))
                for b, low, high in held for piece in pieces if piece.bed == b)
    beds = {b for b, _, _ in held}
    beside = min(base, sum(piece.high - piece.low for piece in pieces if piece.bed in beds))
    there = min(there, beside)
    found = (base - beside + ALONG * (beside - there)) / base
    return found if found > HAIR else 0.0


def claimed(filled: Beds, s: int) -> tuple[float, bool, int]:
    """In what order those that lay somewhere are laid again: the firmest first, what grew after the others,
    then those first that have fewest others in the way, for what changed its days is in several's."""
    held, stay = filled.held[s], filled.stays[s]
    in_way = {
        o for b, low, high in held for o, start, end in filled.claims[b]
        if o != s and start < high - HAIR and end > low + HAIR
        and filled.stays[o].start < stay.end and stay.start < filled.stays[o].end
    }
    return -stay.firm, stay.area > _area(filled, held) + HAIR, len(in_way)


def put_again(filled: Beds, s: int) -> bool:
    """Lay a stay where it lay before, longer or shorter there as its area now asks; else as near as can be in
    the same bed; else, where it has grown a little, there and the rest elsewhere. False, with nothing laid,
    where none of it goes."""
    held = filled.held[s]
    if not held:
        return False
    if abs(filled.stays[s].area - _area(filled, held)) < HAIR:
        there = list(held) if all(_is_free(filled, s, *each) for each in held) else []
    else:
        there = _there(filled, s, held)
    left = filled.stays[s].area - _area(filled, there)
    if there and left < HAIR:
        return _laid(filled, s, there, 0.0)
    near = _near(filled, s, held)
    if near is not None:
        return _laid(filled, s, [near], 0.0)
    if not there or filled.stays[s].area > GROWN * _area(filled, held):
        return False
    _laid(filled, s, there, left)
    filled.top_up(s)
    return True


def _laid(filled: Beds, s: int, several: Sequence[Lain], left: float) -> bool:
    for b, low, high in several:
        filled.add(Piece(s, b, low, high))
    filled.unplaced[s] = left
    return True


def _there(filled: Beds, s: int, held: Sequence[Lain]) -> list[Lain]:
    """The stretches from before brought to the area of the stay, as far as the ground next to them is free;
    none where they are not free themselves, or one would be under the least piece."""
    open_to = {b: filled.room(s, b)[0] for b, _, _ in held}
    around = [next((each for each in open_to[b] if each[0] <= low + HAIR and each[1] >= high - HAIR), None)
              for b, low, high in held]
    more = filled.stays[s].area - _area(filled, held)
    found: list[Lain] = []
    for at, ((b, low, high), free) in enumerate(zip(held, around, strict=True)):
        if free is None:
            return []
        rate = length_per_area(filled.beds[b])
        own = [(start, end) for other, (c, start, end) in enumerate((*found, *held[len(found):]))
               if c == b and other != at]
        bottom, top = next(each for each in without([free], own) if each[0] <= low + HAIR <= each[1])
        if more < 0:
            new = _shorter(low, high, min(high - low, -more * rate), filled.beds[b].length)
        else:
            new = _longer(low, high, more * rate, bottom, top)
        more -= ((new[1] - new[0]) - (high - low)) / rate
        found.append((b, *new))
    found = [each for each in found if each[2] - each[1] > HAIR]
    small = any(_area(filled, [each]) < filled.floor[s, each[0]] - HAIR for each in found)
    return [] if small else found


def _shorter(low: float, high: float, less: float, length: float) -> Stretch:
    """What ends with the bed gives way at its beginning."""
    return (low + less, high) if high > length - HAIR and low > HAIR else (low, high - less)


def _longer(low: float, high: float, more: float, bottom: float, top: float) -> Stretch:
    up = min(more, max(0.0, top - high))
    return low - min(more - up, max(0.0, low - bottom)), high + up


def _near(filled: Beds, s: int, held: Sequence[Lain]) -> Lain | None:
    """The place for the whole of a stay in the one bed where it lay that is nearest to its metres, where its
    family may grow."""
    (b, low, _), beds = held[0], {each[0] for each in held}
    need = filled.stays[s].area * length_per_area(filled.beds[b])
    if len(beds) > 1:
        return None
    able = [max(bottom, min(low, top - need)) for bottom, top in filled.room(s, b)[1]
            if top - bottom >= need - HAIR]
    at = min(able, key=lambda each: abs(each - low), default=None)
    return None if at is None else (b, at, min(at + need, filled.beds[b].length))


def _is_free(filled: Beds, s: int, b: int, low: float, high: float) -> bool:
    at, stays = filled.lying, filled.stays
    start, end = stays[s].start, stays[s].end
    n = int(at.count[b])
    for o in np.flatnonzero((at.low[b, :n] < high - HAIR) & (at.high[b, :n] > low + HAIR)).tolist():
        other = stays[int(at.stay[b, o])]
        if other.start < end and start < other.end:
            return False
    return True


def _area(filled: Beds, several: Sequence[Lain]) -> float:
    """m²"""
    return sum(metres([(low, high)]) / length_per_area(filled.beds[b]) for b, low, high in several)
