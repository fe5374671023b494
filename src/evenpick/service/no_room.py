"""Why a sowing found no room in the beds, and what would mend it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from evenpick.base.days import dated, day_date, short_date
from evenpick.base.language import later, tell
from evenpick.plan.beds import Layout, Stay, Strip, least_piece, length_per_area
from evenpick.plan.stretches import HAIR, metres, without

WEEK = 7
FULL = later("the {cover} beds are full between then and {end}")
CRUMBS = later("the {cover} beds are full between then and {end} but for pieces too small to sow it on")


def reason(
    beds: Sequence[Strip], stays: Sequence[Stay], layout: Layout, s: int, area: float, latest: int
) -> tuple[str, str]:
    """The reason and the remedy, in words; `area` m² of stay s have no room, it may start until `latest`."""
    stay = stays[s]
    if not stay.family:
        what = tell("the beds are full between then and {end}", end=dated(day_date(stay.end)))
        return what, tell("let less of it rest, or clear what stands there sooner")
    if stay.beds is not None:
        what = tell("the diary has it in {beds}, where there is no room for all of it",
                    beds=", ".join(sorted(stay.beds)))
        return what, tell("correct its area, its bed or the clearing of what stood there in the diary")
    if not any(bed.cover == stay.cover for bed in beds):
        return tell("there is no {cover} ground",
                    cover=tell(stay.cover)), tell("plan without {cover} sowings, or add such ground",
                                                        cover=tell(stay.cover))
    end = day_date(stay.end)
    crumbs = room(beds, stays, layout, replace(stay, least=0.0, shortest=0.0), stay.start, stay.end) > HAIR
    what = tell(CRUMBS if crumbs else FULL, cover=tell(stay.cover), end=dated(end))
    moved = next(
        (start for start in range(stay.start + WEEK, latest + 1, WEEK)
         if room(beds, stays, layout, stay, start, start + stay.end - stay.start) >= area - HAIR), None
    )
    if moved is not None:
        when = day_date(moved)
        return what, tell("there is room from {when}, still in its window", when=short_date(when))
    return what, tell("grow less of it or of what stands there; later in its window there is no room either")


def room(
    beds: Sequence[Strip], stays: Sequence[Stay], layout: Layout, stay: Stay, start: int, end: int
) -> float:
    """m² for a stay that are free through all of some days, in pieces large enough for it."""
    free = 0.0
    for b, bed in enumerate(beds):
        if bed.cover == stay.cover:
            taken = [(piece.low, piece.high) for piece in layout.pieces if piece.bed == b
                     and stays[piece.stay].start < end and start < stays[piece.stay].end]
            sizes = (metres([each]) / length_per_area(bed) for each in without([(0.0, bed.length)], taken))
            free += sum(size for size in sizes if size >= least_piece(stay, bed) - HAIR)
    return free
