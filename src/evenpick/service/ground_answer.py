"""What lies in which bed and when, as frozen records of plain values.

Metres count from the beginning of a bed. Where its width is not known (`width_m` None) they are m².
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from evenpick.climate.site import Site
from evenpick.service.plan_answer import Lying, Moved


@dataclass(frozen=True, slots=True)
class BedSpan:
    """One sowing on one stretch of a bed."""

    sowing: str
    """id of the planned sowing, or of the diary's entry; 'rest.1' and so on of ground at rest"""
    number: int | None
    """in the plan; None for what stood before it, and for ground at rest"""
    crop: str
    """empty: ground at rest"""
    name: str
    """of ground at rest what it rests for"""
    family: str
    """botanical"""
    from_m: float
    to_m: float
    rows: int | None
    """rows along the bed; None: broadcast, or the bed's width is not known, or they go across"""
    area_m2: float
    starts: date
    """sown in place, or planted out"""
    ends: date
    """the first day on which the ground is free"""
    follows: str
    """the crop that stood there before; empty: none in this plan"""
    bare_days: int | None
    """from that crop's clearing to this one's start"""
    across: int | None = None
    """rows across the bed, where the stretch is too short for any along it"""


@dataclass(frozen=True, slots=True)
class BedAnswer:
    name: str
    ground: str
    cover: str
    length_m: float | None
    width_m: float | None
    area_m2: float
    grew: tuple[tuple[int, str], ...]
    """season and botanical family, newest first"""
    spans: tuple[BedSpan, ...]
    """by start, then metres"""


@dataclass(frozen=True, slots=True)
class NoRoom:
    """A sowing, or the part of it, for which there is no room."""

    sowing: str
    number: int | None
    name: str
    starts: date
    area_m2: float
    why: str
    mend: str


@dataclass(frozen=True, slots=True)
class TooSoon:
    """A family that comes back before its years are over, or straight after itself."""

    sowing: str
    number: int | None
    name: str
    family: str
    bed: str
    from_m: float
    to_m: float
    starts: date
    last: int
    """season in which it grew there"""
    after: str
    """the crop of this plan that it comes after; empty: what the bed's history tells"""
    years: int
    """that it should stay away"""
    straight_from: date | None = None
    """the first day free of the crop before, where the family follows itself within one season; None: it
    comes back in a later one"""


@dataclass(frozen=True, slots=True)
class GroundAnswer:
    site: Site
    begins: date
    invented: bool
    beds: tuple[BedAnswer, ...]
    no_room: tuple[NoRoom, ...]
    too_soon: tuple[TooSoon, ...]
    notes: tuple[str, ...]
    moved: tuple[Moved, ...] = ()
    """what goes elsewhere than was told before, within a quarter of a year"""


@dataclass(frozen=True, slots=True)
class Place:
    """Where a sowing goes, or a part of it."""

    bed: str
    from_m: float
    to_m: float
    rows: int | None
    whole_bed: bool


def lying(answer: GroundAnswer) -> tuple[Lying, ...]:
    """Every stretch that something takes, to be kept with the plan."""
    return tuple(Lying(span.sowing, bed.name, span.from_m, span.to_m)
                 for bed in answer.beds for span in bed.spans)


def places(answer: GroundAnswer) -> Mapping[str, tuple[Place, ...]]:
    """Bed and metres of every sowing, by its id."""
    found: dict[str, tuple[Place, ...]] = {}
    for bed in answer.beds:
        end = bed.area_m2 if bed.length_m is None else bed.length_m
        for span in bed.spans:
            whole = span.to_m - span.from_m > end - 0.05
            place = Place(bed.name, span.from_m, span.to_m, span.rows, whole)
            found[span.sowing] = (*found.get(span.sowing, ()), place)
    return found
