"""JSON shapes of a cooperative's answers (docs/interface.md)."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import asdict, replace
from datetime import date
from typing import TypeVar

from evenpick.report.as_json import Shape
from evenpick.report.pickings import shown_weeks
from evenpick.report.plan_json import ground_shape, pickings_list, plan_shape, today_shape
from evenpick.report.shares import SharesOf
from evenpick.report.shares_json import shares_list, worth_shape
from evenpick.report.words import Words
from evenpick.service.cooperative_answer import CooperativeAnswer, FarmGround, FarmPlan, FarmToday, FarmTold
from evenpick.service.pickings_answer import ItemPickings
from evenpick.service.plan_answer import PlanAnswer
from evenpick.service.plan_command import noted

Answer = TypeVar("Answer")
OF_ALL = ("unseen", "gap", "seconds", "stages", "holding", "given_up", "short_of", "money", "short_shares",
          "takings", "cannot")
"""parts of a plan that are told of all farms together"""


def cooperative_plan_shape(answer: CooperativeAnswer, words: Words) -> Shape:
    return {
        "cooperative": answer.name, "begins": answer.begins, "invented": answer.invented,
        "farms": [
            {"name": farm.name, "file": farm.file,
             **{key: part for key, part in plan_shape(_own(farm), words).items() if key not in OF_ALL}}
            for farm in answer.farms
        ],
        "pickings": pickings_list(answer.pickings),
        "unseen": {
            "plan": asdict(answer.plan),
            "interval_rule": {**asdict(answer.interval_rule), "setting": answer.interval_rule_setting},
        },
        "gap": answer.gap, "gap_uncounted": answer.uncounted, "seconds": answer.seconds,
        "stages": dict(answer.stages),
        "holding": [asdict(each) for each in answer.holding],
        "given_up": [asdict(each) for each in answer.given_up],
        "short_of": answer.short_of, **worth_shape(answer), "cannot": answer.cannot,
        "made_from": answer.made_from, "notes": [*filter(None, (answer.beaten, *answer.notes))],
    }


def _own(farm: FarmPlan) -> PlanAnswer:
    """Less what is said of all farms together."""
    return replace(farm.plan, beaten="")


def cooperative_pickings_shape(
    answer: CooperativeAnswer, on: date, weeks: int, shares: SharesOf
) -> Shape:
    """So many weeks from that of the day, as on the page."""
    def shown(items: Sequence[ItemPickings]) -> Sequence[ItemPickings]:
        return shown_weeks(items, on, answer.begins, weeks)

    return {
        "cooperative": answer.name, "begins": answer.begins, "invented": answer.invented,
        "pickings": pickings_list(shown(answer.pickings)),
        "shares": shares_list(shown(answer.pickings), shares),
        "farms": [{"name": farm.name, "pickings": pickings_list(shown(farm.plan.pickings))}
                  for farm in answer.farms],
        "notes": noted(answer),
    }


def cooperative_today_shape(name: str, farms: Sequence[FarmToday], note: str = "") -> Shape:
    return {"cooperative": name, "note": note,
            "farms": [farm_shape(farm, today_shape) for farm in farms]}


def cooperative_ground_shape(name: str, farms: Sequence[FarmGround], words: Words) -> Shape:
    return {"cooperative": name,
            "farms": [farm_shape(farm, lambda found: ground_shape(found, words)) for farm in farms]}


def farm_shape(farm: FarmTold[Answer], shape: Callable[[Answer], Shape]) -> Shape:
    """What a farm is told; where it can't be told anything, `problem` in place of it."""
    told = {"problem": farm.problem} if farm.answer is None else shape(farm.answer)
    return {"name": farm.name, "file": farm.file, **told}
