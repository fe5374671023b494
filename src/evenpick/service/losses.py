"""The losses that the diary tells, each with the mark by which its remedy is asked for."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from evenpick.base.days import day_date, day_number
from evenpick.base.errors import BadRequest, Problem
from evenpick.base.language import tell
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.record import Record
from evenpick.service.book import record_of
from evenpick.service.jobs import tag
from evenpick.service.loss_answer import LossRow

RECENT = 120
"""days for which a loss is listed"""


def losses(garden: Path, day: date) -> tuple[LossRow, ...]:
    """Losses of the last months, the latest first. BadBook."""
    return lost_lately(record_of(garden), day, RECENT)


def lost_lately(record: Record, day: date, recent: int) -> tuple[LossRow, ...]:
    """Losses of the last `recent` days, the latest first."""
    found = [
        LossRow(sowing.id, tag(sowing.id), load_catalogue().crop(sowing.fact.crop).name, sowing.ground,
                sowing.cover, day_date(sowing.day), day_date(sowing.losses[-1].day), sowing.losses[-1].cause,
                sowing.losses[-1].by, 1.0 - sowing.left)
        for sowing in record.sowings.values()
        if sowing.losses and 0 <= day_number(day) - sowing.losses[-1].day <= recent
    ]
    return tuple(sorted(found, key=lambda row: (row.day, row.sowing), reverse=True))


def lost_sowing(garden: Path, mark: str) -> str:
    """The id of a sowing with a loss, by its id or its mark; BadRequest if it is none, or several."""
    lost = [one.id for one in record_of(garden).sowings.values() if one.losses]
    found = [identity for identity in lost if mark in (identity, tag(identity))]
    if len(found) != 1:
        what = tell("no loss goes by '{mark}'.", mark=mark) if not found else tell(
                        "'{mark}' may be several losses.", mark=mark)
        raise BadRequest(Problem(what, tell("Take a mark of: evenpick losses"), field="LOSS"))
    return found[0]
