"""Where the simple rule leaves less bare than the plan though ground is free, and what would mend it."""

from __future__ import annotations

from collections.abc import Sequence

from evenpick.base.language import number_of, tell, tell_n
from evenpick.garden.reading import LEAST_TO_BRING
from evenpick.service.pickings_answer import Measured
from evenpick.service.plan_answer import GroundUse

MUCH = 0.05
"""of what was wanted: so much less bare is told (our choice)"""
FULL = 0.75
"""of a cover's ground: below it at its fullest, ground lies free (our choice)"""


def beaten(
    worth: float, plan: Measured, rule: Measured, ground: Sequence[GroundUse], shared: bool = False
) -> str:
    """That the interval rule does better where it matters to the table, `worth` being the portions that the
    plan asks of a sowing; empty where it doesn't, or where the ground is in use. A plan that farms have
    `shared` is mended in their own files."""
    free = all(max(use.used, default=0.0) < FULL * use.area_m2 for use in ground)
    if plan.bare - rule.bare < MUCH or not free or not ground:
        return ""
    said = tell("The interval rule leaves less bare than this plan, while ground lies free.")
    if rule.spare > plan.spare:
        said = tell("The interval rule leaves less bare than this plan and lets more go over, while ground "
                    "lies free.")
    if worth <= LEAST_TO_BRING:
        return said
    mend = tell_n(
        "This plan makes no sowing that brings less than {worth:g} portion: where less is said to be worth a "
        "sowing in the garden file, it sows more often, and less is bare.",
        "This plan makes no sowing that brings less than {worth:g} portions: where less is said to be worth "
        "a sowing in the garden file, it sows more often, and less is bare.", number_of(worth), worth=worth)
    where = tell("It stands in each farm's own file.") if shared else ""
    return f"{said} {mend} {where}".strip()
