"""How good a plan is, honestly: on years not seen, beside the interval rule, near to the best."""

from __future__ import annotations

from evenpick.base.language import later, tell, tell_n
from evenpick.report.page import Block, Column, Heading, Table, Text
from evenpick.report.words import percent
from evenpick.service.pickings_answer import Measured
from evenpick.service.plan_answer import PlanAnswer

AT_STAKE = later("That is the most by which any plan could be better on the years it was made for, as a "
                 "share of what lies between sowing nothing and the best there can be.")

FAR = 0.05
"""of the gap: where it is more, why is told (our choice); pots and a few square metres come to that"""
IN_PARTS = later("The proof reckons with parts of plants, pots and sowings, which nobody makes: the smaller "
                 "the ground, the more of it may be that, and the less the plan's own.")


def years_told(answer: PlanAnswer) -> str:
    made = answer.made_from
    return tell_n("Made for {n} weather year and measured on {unseen_years} others that it did not see.",
                  "Made for {n} weather years and measured on {unseen_years} others that it did not see.",
                  made.years, unseen_years=made.unseen_years)


def nothing_wanted(answer: PlanAnswer) -> str:
    """The word for a plan of which nothing is wanted; '' where something is."""
    if answer.pickings and not any(week.wanted > 0 for item in answer.pickings for week in item.weeks):
        return tell("Nothing is wanted in any week of it: nobody is there, or no wish is open.")
    return ""


def goodness(answer: PlanAnswer) -> str:
    """How good the plan is, in a sentence."""
    plan, rule = answer.plan, answer.interval_rule
    return nothing_wanted(answer) or tell(
        "On {years} not seen: {bare} of what was wanted was not there and {spare} of what was picked went "
        "over. The interval rule on the same ground: {rule_bare} and {rule_spare}.",
        years=tell_n("{n} weather year", "{n} weather years", answer.made_from.unseen_years),
        bare=percent(plan.bare), spare=percent(plan.spare), rule_bare=percent(rule.bare),
        rule_spare=percent(rule.spare))


def compared(answer: PlanAnswer) -> list[Block]:
    """How good the plan is beside the interval rule, and how near to the best."""
    plan, rule, nothing = answer.plan, answer.interval_rule, nothing_wanted(answer)
    if nothing:
        return [Heading(tell("how good it is")), Text(nothing)]
    columns = (Column(tell("measure"), wraps=True), Column(tell("this plan"), align="right"),
               Column(tell("interval rule"), align="right"))
    measures: tuple[tuple[str, str], ...] = (
        (tell("bare, of what was wanted"), "bare"), (tell("spare, of what was picked"), "spare"),
        (tell("item-weeks in 100 more than half bare"), "bare_weeks"),
        (tell("bare in the worst tenth of the years"), "worst_tenth_bare"),
    )
    rows = tuple((words, _measure(plan, name), _measure(rule, name)) for words, name in measures)
    return [
        Heading(tell("how good it is")),
        *([Text(answer.beaten)] if answer.beaten else []),
        Table(columns, rows),
        Text(tell("Interval rule, each crop while it is in season: {interval_rule_setting}.",
                  interval_rule_setting=answer.interval_rule_setting)),
        Text(gap_words(answer)),
    ]


def gap_words(answer: PlanAnswer) -> str:
    """How near the plan is proven to be to the best possible one."""
    if answer.gap is None:
        return tell("Mended from the plan before, in {seconds:.1f} s; how near it is to the best "
                    "possible plan was not proven.", seconds=answer.seconds)
    if answer.gap >= 1.0:
        return tell("After {seconds:.1f} s nothing is proven yet of how near it is to the best possible "
                    "plan.", seconds=answer.seconds)
    said = tell("Proven within {gap:.1f} % of the best possible plan, after {seconds:.1f} s.",
                gap=answer.gap * 100, seconds=answer.seconds)
    counted = "" if answer.uncounted is None else f" {_counted(answer.uncounted)}"
    parts = f" {tell(IN_PARTS)}" if answer.gap >= FAR else ""
    return f"{said}{counted} {tell(AT_STAKE)}{parts}"


def _counted(gap: float) -> str:
    """Why the answer proves less than the search did."""
    return tell("Before it was kept to the sowings in a week, and to the crops to buy seed for, it was "
                "within {gap:.1f} %: the best possible plan that it is held against keeps to neither, so how "
                "near the plan is to the best that does is not known.", gap=gap * 100)


def _measure(measured: Measured, name: str) -> str:
    value: float = getattr(measured, name)
    return f"{value:.1f}" if name == "bare_weeks" else percent(value)
