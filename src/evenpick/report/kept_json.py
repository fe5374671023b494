"""What the diary and the seed tin tell, as JSON: lessons, losses, packets, saving seed."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from evenpick.report.as_json import Shape, band_shape, named_shape, place_shape, site_shape

if TYPE_CHECKING:
    from evenpick.report.words import Words
    from evenpick.service.lessons import LessonsAnswer
    from evenpick.service.loss_answer import AfterLoss, Filling, LossRow
    from evenpick.service.saving import SavingAnswer
    from evenpick.service.tin import TinAnswer


def lessons_shape(answer: LessonsAnswer, words: Words) -> Shape:
    return {
        **site_shape(answer.site),
        **{part: [named_shape(one, words) for one in getattr(answer, part)]
           for part in ("timing", "yields", "wants", "losses", "records")},
        "unweighed": [{"name": words.name(name), "pickings": count} for name, count in answer.unweighed],
        "left_out": answer.left_out,
        "unfinished": [{"item": item, "month": month} for item, month in answer.unfinished],
    }


def tin_shape(answer: TinAnswer, words: Words) -> Shape:
    return {
        **site_shape(answer.site), "day": answer.day, "kept": answer.kept, "unplanned": answer.unplanned,
        "packets": [
            {**named_shape(row, words), "grows": band_shape(row.grows),
             "tested": row.tested and dict(zip(("on", "tried", "came"), row.tested, strict=True))}
            for row in answer.packets
        ],
        "shopping": [named_shape(row, words) for row in answer.shopping],
        "covers": {"first": answer.covers[0], "last": answer.covers[1]},
    }


def losses_shape(rows: Sequence[LossRow], words: Words) -> Shape:
    return {"losses": [named_shape(row, words) for row in rows]}


def after_loss_shape(answer: AfterLoss, words: Words) -> Shape:
    return {
        **place_shape(answer.site, answer.climate), "day": answer.day, "sowing": answer.sowing,
        "name": words.name(answer.name), "sown": answer.sown, "item": answer.item, "lost": answer.lost,
        "weeks": [{"week": week, "wanted": wanted, "likely": had} for week, wanted, had in answer.weeks],
        "fillings": [_filling(one, words) for one in answer.fillings],
        "instead": [_filling(one, words) for one in answer.instead],
        "besides": [_filling(one, words) for one in answer.besides], "words": answer.words,
        "command": answer.command, "caution": answer.caution,
    }


def _filling(one: Filling, words: Words) -> Shape:
    weeks = [{"week": week, "share": share} for week, share in one.weeks]
    return {**named_shape(one, words), "weeks": weeks}


def saving_shape(answer: SavingAnswer, words: Words) -> Shape:
    return {**named_shape(answer, words), "crosses": [named_shape(one, words) for one in answer.crosses],
            "sources": dict(answer.sources)}
