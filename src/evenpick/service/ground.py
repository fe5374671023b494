"""Where everything goes: the kept plan laid into the garden's beds (docs/design/beds.md).

The same plan, with where it was laid when it was made, garden and diary give the same layout.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Protocol

from evenpick.base.days import dated, day_date, day_number
from evenpick.base.language import later, tell
from evenpick.base.trade import ground_under
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.kinds import salads
from evenpick.garden.garden import Garden
from evenpick.garden.limits import Rest
from evenpick.garden.record import Record, Sowing
from evenpick.plan.beds import Breach, Layout, Piece, Stay, Strip, length_per_area, rows_across, season_of
from evenpick.plan.layout import CRUMB, lay
from evenpick.plan.least import LEAST_LENGTH, step, worthwhile_length
from evenpick.plan.pots import pot_for
from evenpick.plan.stretches import HAIR
from evenpick.service.book import record_of
from evenpick.service.carried_out import carried_out
from evenpick.service.ground_answer import (
    BedAnswer,
    BedSpan,
    GroundAnswer,
    NoRoom,
    TooSoon,
    lying,
    places,
)
from evenpick.service.lain import NEAR, NOWHERE, Lain, Told, elsewhere
from evenpick.service.no_room import reason
from evenpick.service.plan_answer import PlanAnswer, PlannedSowing, StandingSowing
from evenpick.service.setups import garden_of
from evenpick.service.store_plan import kept_plan

_SOWN, _BOUGHT = later("{name} sown on {day}"), later("{name} bought and planted on {day}")


PREPARED = 4.0
"""how much more it counts that a sowing stays on its ground where that may be prepared already, within a
quarter of a year (our choice)"""


class ToLay(Protocol):
    """Of a plan, or of areas on their way to one, what lies in beds and from when on."""

    @property
    def begins(self) -> date: ...
    @property
    def sowings(self) -> tuple[PlannedSowing, ...]: ...
    @property
    def standing(self) -> tuple[StandingSowing, ...]: ...


def ground(garden: Path) -> GroundAnswer:
    """The kept plan of a garden file in its beds. BadRequest where none of it as it now is was kept."""
    plan = kept_plan(garden)
    return replace(laid_as_kept(garden_of(garden), plan, record_of(garden)), invented=plan.invented)


def laid_as_kept(garden: Garden, plan: PlanAnswer, record: Record) -> GroundAnswer:
    """A kept plan where it was laid when it was made, but for what the diary says since."""
    return laid(garden, plan, record, Lain(plan.lying, plan.lying, kept=True))


def laid(garden: Garden, plan: ToLay, record: Record, lain: Lain = NOWHERE) -> GroundAnswer:
    """A plan laid into the beds of its garden; the diary's word on a sowing goes before the plan's. What has
    `lain` somewhere stays there, unless something has no room for it."""
    names = _bed_names(garden)
    south = garden.site.lat < 0
    made = carried_out(plan.sowings, record.sowings.values())
    stays: list[Stay] = []
    told: list[Told] = []
    for standing in plan.standing:
        stays.append(_standing(standing, record.sowings.get(standing.id), names, south))
        told.append(Told(None, standing.crop, standing.name, stays[-1].start))
    for sowing in plan.sowings:
        diary = record.sowings.get(made.get(sowing.id, ""))
        stays.append(_planned(sowing, diary, names, south))
        wait = 0 if diary else max(0, (sowing.latest - sowing.sow).days)
        told.append(Told(sowing.number, sowing.crop, sowing.name, stays[-1].start + wait))
    for rest, stay in _rests(garden, plan.begins, south):
        stays.append(stay)
        told.append(Told(None, "", rest.why or tell("at rest"), stay.start))
    known = {*(standing.id for standing in plan.standing), *made.values()}
    beds = _strips(garden, _grew(record, known, names, south))
    held = lain.held()
    soon = day_number(plan.begins + NEAR)
    stays = [replace(_in_pots(stay, one, garden), years=garden.limits.rotation.get(stay.family),
                     held=held.get(stay.id, ()), firm=PREPARED if stay.start < soon else 1.0)
             for stay, one in zip(stays, told, strict=True)]
    layout = lay(beds, stays, garden.plan.seed, as_kept=lain.kept)
    return GroundAnswer(
        garden.site, plan.begins, garden.invented_by_demo, _beds(garden, beds, stays, told, layout),
        tuple(_no_room(beds, stays, told, layout)), tuple(_too_soon(beds, stays, told, layout.breaches)),
        tuple(_notes(plan, record, known, names)),
        tuple(elsewhere(beds, stays, told, layout, lain.told, plan.begins)),
    )


def with_beds(plan: PlanAnswer, answer: GroundAnswer) -> PlanAnswer:
    """A plan with the beds into which it was laid."""
    found = places(answer)
    return replace(plan, lying=lying(answer), moved=answer.moved, sowings=tuple(
        replace(sowing, beds=tuple(dict.fromkeys(place.bed for place in found.get(sowing.id, ()))))
        for sowing in plan.sowings
    ))


def _bed_names(garden: Garden) -> Mapping[str, frozenset[str]]:
    """Names of beds by what a grower may call the place: a bed, or a piece of ground; in small letters."""
    found: dict[str, frozenset[str]] = {}
    for piece in garden.grounds:
        found[piece.name.casefold()] = frozenset(bed.name for bed in piece.beds)
        found.update({bed.name.casefold(): frozenset({bed.name}) for bed in piece.beds})
    return found


def _strips(garden: Garden, grew: Mapping[str, set[tuple[int, str]]]) -> list[Strip]:
    return [
        Strip(bed.name, piece.cover, bed.area if bed.length is None else bed.length, bed.width,
              frozenset((each.year, each.family) for each in bed.grew) | grew.get(bed.name, set()))
        for piece in garden.grounds for bed in piece.beds
    ]


def _grew(
    record: Record, known: Iterable[str], names: Mapping[str, frozenset[str]], south: bool
) -> Mapping[str, set[tuple[int, str]]]:
    """What the diary tells of earlier crops whose bed was written down."""
    catalogue, found = load_catalogue(), dict[str, set[tuple[int, str]]]()
    for sowing in record.sowings.values():
        beds = names.get((sowing.ground or "").casefold(), frozenset())
        if sowing.ended is not None and sowing.id not in known and len(beds) == 1:
            season = season_of(_began(sowing), sowing.ended, south)
            (bed,) = beds
            found.setdefault(bed, set()).add((season, catalogue.crop(sowing.fact.crop).family))
    return found


def _standing(
    standing: StandingSowing, diary: Sowing | None, names: Mapping[str, frozenset[str]], south: bool
) -> Stay:
    start = day_number(standing.ground_from or standing.sow)
    if diary is not None:
        start = _began(diary) if diary.planted_out or diary.fact.way != "raised" else start
    place = (diary.ground if diary else None) or standing.ground or ""
    stay = _stay(
        standing, start, _end(diary, day_number(standing.clear), start), standing.area_m2 * standing.left,
        names.get(place.casefold()), south,
    )
    return replace(stay, stands=standing.ground_from is None, raised=standing.ground_from is not None)


def _planned(
    sowing: PlannedSowing, diary: Sowing | None, names: Mapping[str, frozenset[str]], south: bool
) -> Stay:
    start = day_number(sowing.plant_out or sowing.sow)
    if diary is None:
        return _stay(sowing, start, _end(None, day_number(sowing.clear), start), sowing.area_m2, None, south)
    if diary.planted_out or diary.fact.way != "raised":
        start = _began(diary)
    stay = _stay(sowing, start, _end(diary, day_number(sowing.clear), start), diary.area,
                 names.get((diary.ground or "").casefold()), south)
    stands = diary.planted_out is not None or diary.fact.way != "raised"
    return replace(stay, stands=stands, raised=not stands)


def _stay(
    sowing: PlannedSowing | StandingSowing, start: int, end: int, area: float, beds: frozenset[str] | None,
    south: bool,
) -> Stay:
    crop = load_catalogue().crop(sowing.crop).told_as(sowing.name)
    cover = ground_under(sowing.cover)
    least = min(step(crop), area)
    return Stay(sowing.id, crop.family, cover, area, start, end, season_of(start, end, south), beds, least,
                worthwhile_length(crop), crop.key in salads())


def _in_pots(stay: Stay, told: Told, garden: Garden) -> Stay:
    """A whole pot in each of several, where it is sown by the pot."""
    if not told.crop:
        return stay
    pot = pot_for(load_catalogue().crop(told.crop).told_as(told.name), stay.cover, garden)
    return replace(stay, least=min(pot, stay.area), shortest=0.0) if pot else stay


def _rests(garden: Garden, begins: date, south: bool) -> Iterator[tuple[Rest, Stay]]:
    """Ground at rest, which takes its beds like what stands in them; none that is over before the plan."""
    beds = {piece.name: frozenset(bed.name for bed in piece.beds) for piece in garden.grounds}
    for number, rest in enumerate(garden.limits.rests, 1):
        if rest.last >= day_number(begins):
            season = season_of(rest.first, rest.last + 1, south)
            yield rest, Stay(f"rest.{number}", "", rest.cover, rest.area, rest.first, rest.last + 1, season,
                             beds[rest.ground], shortest=LEAST_LENGTH)


def _rows(told: Told, width: float | None, long: float) -> tuple[int | None, int | None]:
    """Rows along a bed and rows across it: across where the stretch is not `long` enough for a hand to sow
    along it (beds.md, 2)."""
    if not told.crop or width is None:
        return None, None
    spacing = load_catalogue().crop(told.crop).told_as(told.name).spacing
    if spacing.layout == "broadcast":
        return None, None
    if spacing.layout == "row" and long < LEAST_LENGTH - HAIR:
        return None, rows_across(long, spacing.row)
    return rows_across(width, spacing.row), None


def _began(sowing: Sowing) -> int:
    return sowing.day if sowing.planted_out is None else sowing.planted_out


def _end(diary: Sowing | None, planned: int, start: int) -> int:
    ended = diary.ended if diary is not None else None
    return max(planned if ended is None else ended, start + 1)


def _beds(
    garden: Garden, strips: Sequence[Strip], stays: Sequence[Stay], told: Sequence[Told], layout: Layout
) -> tuple[BedAnswer, ...]:
    of_bed: list[list[Piece]] = [[] for _ in strips]
    for piece in layout.pieces:
        of_bed[piece.bed].append(piece)
    beds = [(piece, bed) for piece in garden.grounds for bed in piece.beds]
    return tuple(
        BedAnswer(
            bed.name, of.name, of.cover, bed.length, bed.width, bed.area,
            tuple(sorted(strip.grew, reverse=True)), tuple(_spans(strip, pieces, stays, told)),
        )
        for (of, bed), strip, pieces in zip(beds, strips, of_bed, strict=True)
    )


def _spans(
    strip: Strip, pieces: Sequence[Piece], stays: Sequence[Stay], told: Sequence[Told]
) -> Iterator[BedSpan]:
    for piece in sorted(pieces, key=lambda piece: (stays[piece.stay].start, piece.low)):
        stay, name = stays[piece.stay], told[piece.stay]
        before = _before(piece, pieces, stays)
        along, across = _rows(name, strip.width, piece.high - piece.low)
        yield BedSpan(
            stay.id, name.number, name.crop, name.name, stay.family, piece.low, piece.high,
            along, (piece.high - piece.low) / length_per_area(strip),
            day_date(stay.start), day_date(stay.end),
            told[before.stay].name if before else "", stay.start - stays[before.stay].end if before else None,
            across,
        )


def _before(piece: Piece, pieces: Sequence[Piece], stays: Sequence[Stay]) -> Piece | None:
    """The piece last cleared from most of the same metres."""
    start, half = stays[piece.stay].start, (piece.high - piece.low) / 2
    earlier = [
        other for other in pieces
        if stays[other.stay].end <= start and min(piece.high, other.high) - max(piece.low, other.low) > half
    ]
    return max(earlier, key=lambda other: stays[other.stay].end, default=None)


def _no_room(
    beds: Sequence[Strip], stays: Sequence[Stay], told: Sequence[Told], layout: Layout
) -> Iterator[NoRoom]:
    for s, area in layout.unplaced.items():
        if stays[s].family and area < CRUMB * stays[s].least:
            continue
        why, mend = reason(beds, stays, layout, s, area, told[s].latest)
        yield NoRoom(stays[s].id, told[s].number, told[s].name, day_date(stays[s].start), area, why, mend)


def _too_soon(
    beds: Sequence[Strip], stays: Sequence[Stay], told: Sequence[Told], breaches: Sequence[Breach]
) -> Iterator[TooSoon]:
    for breach in breaches:
        s = breach.piece.stay
        after, last = breach.after, breach.last
        within = None if after is None or last != stays[s].season else day_date(stays[after].end)
        yield TooSoon(
            stays[s].id, told[s].number, told[s].name, stays[s].family, beds[breach.piece.bed].name,
            *breach.stretch, day_date(stays[s].start), last, "" if after is None else told[after].name,
            stays[s].away, within,
        )


def _notes(
    plan: ToLay, record: Record, known: Iterable[str], names: Mapping[str, frozenset[str]]
) -> Iterator[str]:
    catalogue, kept = load_catalogue(), set(known)
    for sowing in record.sowings.values():
        name = catalogue.crop(sowing.fact.crop).told
        said = tell(_BOUGHT if sowing.fact.bought else _SOWN, name=name, day=dated(day_date(sowing.day)))
        if sowing.id not in kept and sowing.ended is None:
            yield tell("{said} is not in the plan, so no ground is kept for it here. Make the plan again.",
                       said=said)
        elif sowing.id in kept and sowing.ground and sowing.ground.casefold() not in names:
            yield (tell("{said} stands in '{ground}', which is no bed of the garden file; a place was "
                        "taken for it.", said=said, ground=sowing.ground))
    if any(not standing.ground for standing in plan.standing):
        yield tell("Where the diary does not say in which bed something stands, a place was taken for it.")
