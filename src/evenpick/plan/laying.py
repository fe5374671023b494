"""Beds as they fill: where a stay may go, where best, and how it is split (docs/design/beds.md, 3, 6)."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from evenpick.plan.beds import Piece, Stay, Strip, length_per_area
from evenpick.plan.rotation import Kin
from evenpick.plan.stretches import HAIR, Stretch, without

SHORT = 1.0  # m: a rest shorter than this is of little use
CRUMB = 0.3  # m: pieces shorter than this only where nothing else is left
LEAST = 0.02  # m: nothing is sown on less
FRESH = 56.0  # days after clearing during which ground counts as just freed
FAR = 90.0  # days between the clearings of neighbours that count as far apart


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
    """How bad a layout is: what comes first counts before all that follows."""

    unplaced: float
    breach: float
    extra: int

    def key(self) -> tuple[float, float, int]:
        return round(self.unplaced, 6), round(self.breach, 6), self.extra

    @property
    def perfect(self) -> bool:
        return self.key() == (0.0, 0.0, 0)


class Beds:
    """Beds with what lies in them so far. Pieces of one bed never overlap at one time."""

    def __init__(self, beds: Sequence[Strip], stays: Sequence[Stay]) -> None:
        self.beds, self.stays = beds, stays
        self.kin = Kin(beds, stays)
        self.lying: list[list[Piece]] = [[] for _ in beds]
        self.of: list[list[Piece]] = [[] for _ in stays]
        self.unplaced = [0.0] * len(stays)
        self.able = [[b for b, bed in enumerate(beds) if _able(stay, bed)] for stay in stays]
        self.least = [self._least(s) for s in range(len(stays))]
        self._breach = [0.0] * len(beds)
        self._stale: set[int] = set()

    def worth(self) -> Worth:
        for b in self._stale:
            self._breach[b] = self.kin.breached_metres(b, self.lying[b])
        self._stale.clear()
        extra = sum(max(0, len(pieces) - least) for pieces, least in zip(self.of, self.least, strict=True))
        return Worth(sum(self.unplaced), sum(self._breach), extra)

    def troubled(self) -> list[int]:
        """Stays that are not all placed, split without need, or too soon after their family."""
        self.worth()
        found = [s for s, pieces in enumerate(self.of)
                 if self.unplaced[s] > HAIR or len(pieces) > self.least[s]]
        tired = [b for b, breach in enumerate(self._breach) if breach > HAIR]
        back = {piece.stay for b in tired for piece in self.lying[b]}
        return sorted({*found, *back})

    def take_out(self, s: int) -> tuple[list[Piece], float]:
        """Lift a stay; what was lifted, to put back."""
        lifted = self.of[s], self.unplaced[s]
        for piece in lifted[0]:
            self.lying[piece.bed].remove(piece)
            self._stale.add(piece.bed)
        self.of[s], self.unplaced[s] = [], 0.0
        return lifted

    def put_back(self, s: int, lifted: tuple[list[Piece], float]) -> None:
        for piece in lifted[0]:
            self._add(piece)
        self.unplaced[s] = lifted[1]

    def put(self, s: int, taste: Taste, first: Sequence[int] | None = None) -> None:
        """Lay a stay: in one piece where its family may grow, else split, else too soon, or in part.

        `first` are beds to look into before the others.
        """
        best = min(self._places(s, taste, self.able[s] if first is None else first), default=None)
        if best is None and first is not None:
            best = min(self._places(s, taste, self.able[s]), default=None)
        if best is not None:
            _, b, low, high = best
            self._add(Piece(s, b, low, high))
        else:
            self.unplaced[s] = self._split(s, self.stays[s].area)

    def top_up(self, s: int) -> None:
        """Lay what was left over of a stay where there is room by now."""
        self.unplaced[s] = self._split(s, self.unplaced[s])

    def free(self, s: int, b: int) -> list[Stretch]:
        """Where nothing lies in a bed during a stay."""
        start, end, stays = self.stays[s].start, self.stays[s].end, self.stays
        busy = [
            (piece.low, piece.high) for piece in self.lying[b]
            if stays[piece.stay].start < end and start < stays[piece.stay].end
        ]
        return without([(0.0, self.beds[b].length)], busy)

    def clean(self, s: int, b: int, free: Sequence[Stretch]) -> list[Stretch]:
        """Where its family may grow of that."""
        return without(free, self.kin.tired(s, b, self.lying[b]))

    def _places(self, s: int, taste: Taste, beds: Sequence[int]) -> Iterator[tuple[float, int, float, float]]:
        """Every end of every stretch that holds the whole of a stay, with what speaks against it."""
        stay = self.stays[s]
        for b in beds:
            need = stay.area * length_per_area(self.beds[b])
            if need > self.beds[b].length + HAIR:
                continue
            for low, high in self.clean(s, b, self.free(s, b)):
                if high - low >= need - HAIR:
                    top = min(low + need, high)
                    yield self._against(stay, b, low, top, high - low, taste), b, low, top
                    if high - top > HAIR:
                        end = high - need
                        yield self._against(stay, b, end, high, high - low, taste), b, end, high

    def _against(self, stay: Stay, b: int, low: float, high: float, room: float, taste: Taste) -> float:
        need = high - low
        fresh = family = 0.0
        apart: list[float] = []
        for piece in self.lying[b]:
            other = self.stays[piece.stay]
            shared = min(high, piece.high) - max(low, piece.low)
            if shared > HAIR:
                if 0 <= stay.start - other.end < FRESH:
                    fresh += shared * (1 - (stay.start - other.end) / FRESH)
                if other.family == stay.family and other.season == stay.season:
                    family += shared
            elif shared > -HAIR and other.end > stay.start:
                apart.append(min(1.0, abs(other.end - stay.end) / FAR))
        rest = room - need
        short = 0.0 if rest < HAIR else 1.0 if rest < SHORT else 0.2 + 0.3 * rest / self.beds[b].length
        ends = sum(apart) / len(apart) if apart else 0.3
        return (taste.rest * short + taste.ends * ends
                - (taste.follow * fresh + taste.family * min(family, need)) / max(need, HAIR))

    def _split(self, s: int, left: float) -> float:
        """Lay so many m² of a stay in few pieces; m² for which there is no room."""
        free = {b: self.free(s, b) for b in self.able[s]}
        clean = {b: self.clean(s, b, free[b]) for b in free}
        for least in (CRUMB, LEAST):
            left = self._fill(s, left, _listed(clean), least)
        for least in (CRUMB, LEAST):
            left = self._fill(s, left, _listed({b: without(free[b], clean[b]) for b in free}), least)
        return left

    def _fill(self, s: int, area: float, room: Iterable[tuple[int, Stretch]], least: float) -> float:
        """Fill the largest stretches first and the last one that will do; m² left over."""
        if area <= HAIR:
            return 0.0
        rooms = []
        for b, (low, high) in room:
            rate = length_per_area(self.beds[b])
            for start, end in without([(low, high)], [(p.low, p.high) for p in self.of[s] if p.bed == b]):
                if end - start >= min(least, area * rate):
                    rooms.append(((end - start) / rate, b, start, rate))
        rooms.sort(key=lambda each: (-each[0], each[1], each[2]))
        while rooms and area > HAIR:
            enough = [each for each in rooms if each[0] >= area - HAIR]
            chosen = enough[-1] if enough else rooms[0]
            rooms.remove(chosen)
            capacity, b, low, rate = chosen
            self._add(Piece(s, b, low, low + min(area, capacity) * rate))
            area -= min(area, capacity)
        return area if area > HAIR else 0.0

    def _add(self, piece: Piece) -> None:
        self.lying[piece.bed].append(piece)
        self.of[piece.stay].append(piece)
        self._stale.add(piece.bed)

    def _least(self, s: int) -> int:
        """Pieces that the sizes of the beds call for."""
        stay = self.stays[s]
        able = [self.beds[b] for b in self.able[s]]
        sizes = sorted((bed.length / length_per_area(bed) for bed in able), reverse=True)
        left, pieces = stay.area, 0
        while left > HAIR and pieces < len(sizes):
            left -= sizes[pieces]
            pieces += 1
        return pieces


def _able(stay: Stay, bed: Strip) -> bool:
    return bed.name in stay.beds if stay.beds is not None else bed.cover == stay.cover


def _listed(room: dict[int, list[Stretch]]) -> list[tuple[int, Stretch]]:
    return [(b, stretch) for b, stretches in room.items() for stretch in stretches]
