"""Beds as they fill: where a stay may go, where best, and how it is split (docs/design/beds.md, 3, 6)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from types import ModuleType

import numpy as np

from evenpick.base.arrays import Ints
from evenpick.plan.bed_terms import Terms
from evenpick.plan.beds import Piece
from evenpick.plan.held import moved
from evenpick.plan.stretches import HAIR, Stretch

A_METRE_SQUARE, A_MOVE, A_PIECE = 10.0, 1.5, 0.5
"""how many metres on which a family comes back too soon are as bad as a m² without room, a sowing moved to
another bed, a piece more (our choice)"""


@dataclass(frozen=True, slots=True)
class Taste:
    """How much each thing counts in choosing between places."""

    rest: float = 1.0
    """no short rests of ground beside it"""
    follow: float = 0.6
    """ground that was just freed"""
    family: float = 0.8
    """ground on which the family stands or stood in this season: it tires no more"""
    ends: float = 0.5
    """neighbours that are cleared at about the same time"""


@dataclass(frozen=True, slots=True)
class Worth:
    """How bad a layout is: what comes first counts before all that follows; but where something lay before
    (`moved`, in sowings), one thing is weighed against another, or all would be moved for a crumb."""

    unplaced: float
    breach: float
    extra: int
    moved: float | None = None

    def key(self) -> tuple[float, ...]:
        if self.moved is None:
            return round(self.unplaced, 6), round(self.breach, 6), self.extra
        return (round(A_METRE_SQUARE * self.unplaced + self.breach + A_MOVE * self.moved
                      + A_PIECE * self.extra, 6),)

    @property
    def perfect(self) -> bool:
        return not any(self.key())


class Lying:
    """The pieces of each bed in the order in which they were laid, as arrays: `stay`, `low` and `high` (m) of
    shape (beds, room for pieces), and the `count` of each bed's; `work` of the loops that search them."""

    def __init__(self, beds: int, room: int = 16) -> None:
        self.stay = np.zeros((beds, room), dtype=np.int64)
        self.low, self.high = np.zeros((beds, room)), np.zeros((beds, room))
        self.count = np.zeros(beds, dtype=np.int64)
        self._remove = _loops().remove
        self._make_room_to_work()

    def _make_room_to_work(self) -> None:
        self.work = np.empty((4, 3 * self.stay.shape[1] + 4, 2))

    def add(self, piece: Piece) -> None:
        b, at = piece.bed, int(self.count[piece.bed])
        if at == self.stay.shape[1]:
            more = ((0, 0), (0, at))
            self.stay, self.low, self.high = (
                np.pad(self.stay, more), np.pad(self.low, more), np.pad(self.high, more)
            )
            self._make_room_to_work()
        self.stay[b, at], self.low[b, at], self.high[b, at] = piece.stay, piece.low, piece.high
        self.count[b] += 1

    def remove(self, piece: Piece) -> None:
        self._remove(piece.stay, piece.bed, piece.low, self.stay, self.low, self.high, self.count)

    def stays(self, b: int) -> list[int]:
        """The stays that lie in a bed, in the order of their pieces."""
        found: list[int] = self.stay[b, : self.count[b]].tolist()
        return found

    def pieces(self, b: int) -> list[Piece]:
        n = self.count[b]
        ends = zip(self.low[b, :n].tolist(), self.high[b, :n].tolist(), strict=True)
        return [Piece(s, b, low, high) for s, (low, high) in zip(self.stays(b), ends, strict=True)]


class Beds:
    """Beds with what lies in them so far. Pieces of one bed never overlap at one time."""

    def __init__(self, terms: Terms) -> None:
        self.beds, self.stays, self.kin, self._loops = terms.beds, terms.stays, terms.kin, _loops()
        self.able, self.floor, self.held, self.claims = terms.able, terms.floor, terms.held, terms.claims
        self.called_for, self.still, self._weight = terms.called_for, terms.still, terms.weight
        self._length, self._rate = terms.length, terms.rate
        self._start, self._end, self._season = terms.start, terms.end, terms.season
        self.lying = Lying(len(self.beds))
        self.of: list[list[Piece]] = [[] for _ in self.stays]
        self.unplaced = [0.0] * len(self.stays)
        self._any_held = any(self.held)
        self._moved = [0.0] * len(self.stays)
        self._restless: set[int] = set()
        self._extra = 0
        self._breach = [0.0] * len(self.beds)
        self._stale: set[int] = set()

    def worth(self) -> Worth:
        for s in self._restless:
            self._moved[s] = self.stays[s].firm * moved(self.held[s], self.of[s])
        self._restless.clear()
        return Worth(float(self._weight @ self.unplaced), sum(self._breaches()), self._extra,
                     sum(self._moved) if self._any_held else None)

    def _breaches(self) -> list[float]:
        """Metres of each bed on which a family came back too soon."""
        at, kin = self.lying, self.kin
        for b in self._stale:
            self._breach[b] = self._loops.breached(
                b, kin.barred, kin.elder, at.stay, at.low, at.high, at.count, at.work
            )
        self._stale.clear()
        return self._breach

    def troubled(self) -> list[int]:
        """Stays that are not all placed, split without need, moved, or too soon after their family; none that
        is split as it was before, and nothing that stands where it is known to."""
        found = [s for s, pieces in enumerate(self.of) if self.unplaced[s] > HAIR or self._moved[s] > HAIR
                 or len(pieces) > self.called_for[s]]
        tired = [b for b, breach in enumerate(self._breaches()) if breach > HAIR]
        back = {s for b in tired for s in self.lying.stays(b)}
        return sorted(s for s in {*found, *back} if not self.still[s] or self.unplaced[s] > HAIR)

    def take_out(self, s: int) -> tuple[list[Piece], float]:
        """Lift a stay; what was lifted, to put back."""
        lifted = self.of[s], self.unplaced[s]
        for piece in lifted[0]:
            self.lying.remove(piece)
            self._stale.add(piece.bed)
        self._restless.add(s)
        self._extra -= max(0, len(lifted[0]) - self.called_for[s])
        self.of[s], self.unplaced[s] = [], 0.0
        return lifted

    def put_back(self, s: int, lifted: tuple[list[Piece], float]) -> None:
        for piece in lifted[0]:
            self.add(piece)
        self.unplaced[s] = lifted[1]

    def put(self, s: int, taste: Taste, first: Sequence[int] | None = None) -> None:
        """Lay a stay: in one piece where its family may grow, else split, else too soon, or in part.

        `first` are beds to look into before the others.
        """
        best = self._whole(s, taste, self.able[s] if first is None else first)
        if best is None and first is not None and first is not self.able[s]:
            best = self._whole(s, taste, self.able[s])
        if best is not None:
            self.add(best)
        else:
            self.unplaced[s] = self._split(s, self.stays[s].area)

    def top_up(self, s: int) -> None:
        """Lay what was left over of a stay where there is room by now."""
        pieces, left = self.take_out(s)
        self.unplaced[s] = self._split(s, left, pieces)

    def _whole(self, s: int, taste: Taste, beds: Sequence[int]) -> Piece | None:
        """The best place for the whole of a stay where its family may grow."""
        at, kin, place = self.lying, self.kin, np.zeros(2)
        b = self._loops.whole(
            s, self.stays[s].area, _numbers(beds), self._length, self._rate, kin.barred, kin.near,
            np.array([taste.rest, taste.follow, taste.family, taste.ends]), self._start, self._end,
            kin.family, self._season, at.stay, at.low, at.high, at.count, at.work, place,
        )
        return None if b < 0 else Piece(s, b, float(place[0]), float(place[1]))

    def room(self, s: int, b: int) -> tuple[list[Stretch], list[Stretch]]:
        """Stretches of a bed on which nothing lies during a stay, and those of them where its family may
        grow."""
        at, kin = self.lying, self.kin
        free, clean = self._loops.room(
            s, b, self._length, kin.barred, kin.near, self._start, self._end, at.stay, at.low, at.high,
            at.count, at.work,
        )
        return [*map(tuple, at.work[0, :free].tolist())], [*map(tuple, at.work[1, :clean].tolist())]

    def _split(self, s: int, left: float, before: Sequence[Piece] = ()) -> float:
        """Lay so many m² of a stay in few pieces, beside those `before`; m² for which there is no room."""
        at, kin, able = self.lying, self.kin, _numbers(self.able[s])
        stretches = int((2 + 3 * at.count[able]).sum()) + 3 * len(before)
        rooms, tables, some, laid = self._loops.room_to_split(stretches)
        for i, piece in enumerate(before):
            laid[i] = piece.bed, piece.low, piece.high
        left, pieces = self._loops.split(
            s, left, self.floor[s], len(before), able, self._length, self._rate, kin.barred, kin.near,
            self._start, self._end, at.stay, at.low, at.high, at.count, at.work, rooms, tables, some, laid,
        )
        for b, low, high in laid[:pieces].tolist():
            self.add(Piece(s, int(b), low, high))
        return left

    def add(self, piece: Piece) -> None:
        self.lying.add(piece)
        self.of[piece.stay].append(piece)
        self._extra += len(self.of[piece.stay]) > self.called_for[piece.stay]
        self._stale.add(piece.bed)
        self._restless.add(piece.stay)


def _loops() -> ModuleType:
    """The compiled loops, slow to load."""
    from evenpick.plan import bed_loops

    return bed_loops


def _numbers(beds: Sequence[int]) -> Ints:
    return np.array(beds, dtype=np.int64)
