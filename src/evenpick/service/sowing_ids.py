"""Names of planned sowings that stay as plans are made anew, so that answered jobs and calendars follow
them (docs/design/season.md, 1)."""

from __future__ import annotations

from collections.abc import Iterable, Sequence, Set
from dataclasses import replace

from evenpick.crops.catalogue import load_catalogue
from evenpick.service.plan_answer import PlannedSowing

NEAR_DAYS = 21


def named(
    sowings: Sequence[PlannedSowing], before: Sequence[PlannedSowing] = (), taken: Set[str] = frozenset()
) -> tuple[PlannedSowing, ...]:
    """The sowings with ids. `before`: those of the plan they replace that are still to be made.

    A sowing takes the id of the one it replaces: same crop, way and cover, the nearest sow day within
    three weeks, one to one. Others get a new one that neither `before` nor `taken` (sowings made or refused)
    holds.
    """
    kept = _followed(sowings, before)
    used = {*kept.values(), *taken, *(sowing.id for sowing in before)}
    return tuple(
        replace(sowing, id=kept[at] if at in kept else _fresh(sowing, used))
        for at, sowing in enumerate(sowings)
    )


def crop_named_in(identity: str) -> str:
    """The name of the crop of a planned sowing that no plan holds any more, by its id."""
    key = identity.split(".")[0]
    return next((crop.name for crop in load_catalogue().crops if crop.key == key), identity)


def _followed(sowings: Sequence[PlannedSowing], before: Sequence[PlannedSowing]) -> dict[int, str]:
    """Ids by place in `sowings`; the nearest pairs first, of those as near the ones of the same item."""
    pairs = sorted(
        (abs((new.sow - old.sow).days), new.item != old.item, old.sow, new.sow, at, old.id)
        for at, new in enumerate(sowings)
        for old in before
        if _kind(new) == _kind(old) and abs((new.sow - old.sow).days) <= NEAR_DAYS
    )
    found: dict[int, str] = {}
    gone: set[str] = set()
    for *_, at, name in pairs:
        if at not in found and name not in gone:
            found[at] = name
            gone.add(name)
    return found


def _kind(sowing: PlannedSowing) -> tuple[str, str, str]:
    return sowing.crop, sowing.way, sowing.cover


def _fresh(sowing: PlannedSowing, used: set[str]) -> str:
    """Such as 'radish.direct.open.2027-03-14'; a second of the kind on a day ends in '.2'."""
    name = ".".join((*_kind(sowing), sowing.sow.isoformat()))
    free = next(each for each in _numbered(name) if each not in used)
    used.add(free)
    return free


def _numbered(name: str) -> Iterable[str]:
    yield name
    number = 2
    while True:
        yield f"{name}.{number}"
        number += 1
