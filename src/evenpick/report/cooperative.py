"""A cooperative's plan, day, pickings and ground: what is shared once, the rest farm by farm."""

from __future__ import annotations

from collections.abc import Mapping, Sequence, Set
from dataclasses import replace
from datetime import date

from evenpick.base.days import first_monday
from evenpick.base.language import tell, tell_n
from evenpick.climate.origin import ANOTHERS
from evenpick.crops.winter import has_winter
from evenpick.report.cautions import of_crops
from evenpick.report.days import full_day
from evenpick.report.farm_by_farm import heads, to_type
from evenpick.report.ground import ground_page, within
from evenpick.report.how_good import compared, goodness, years_told
from evenpick.report.in_short import in_short
from evenpick.report.moved import moves
from evenpick.report.page import Block, Column, Heading, Page, Table, Text, listed
from evenpick.report.pickings import INVENTED, LEGEND, nobody_there, picture, week_blocks, weeks_blocks
from evenpick.report.place import title_place, weather_lines, weather_notes
from evenpick.report.plan import ground_use, held_back, hours, seed_told, sowings, standing
from evenpick.report.plan_changes import changes
from evenpick.report.shares import SharesOf, falling_short, no_shares, shares_told
from evenpick.report.takings import takings_told
from evenpick.report.today import listed_jobs, today_page
from evenpick.report.words import Words, capital
from evenpick.service.cooperative_answer import CooperativeAnswer, FarmGround, FarmPlan, FarmToday
from evenpick.service.plan_command import noted
from evenpick.service.today_answer import Job, TodayAnswer

SHOWN = 0.05  # kg: less from a farm in a week is not told


def cooperative_plan_page(
    answer: CooperativeAnswer, jobs: Mapping[str, Sequence[Job]], words: Words
) -> Page:
    """The whole plan; `jobs` are those of its first week by farm."""
    blocks: list[Block] = [
        *([Text(tell(INVENTED))] if answer.invented else []),
        Text(years_told(answer.farms[0].plan)),
        *in_short(goodness(answer.farms[0].plan), answer.given_up, answer.cannot, words),
        *compared(answer.farms[0].plan),
        *listed(tell("what can't be had"), [capital(words.with_areas(each)) for each in answer.cannot]),
        *held_back(answer.holding, answer.given_up, words),
        *falling_short(answer.short_of, answer.short_shares, answer.money, words),
        *takings_told(answer.takings, answer.money),
        Heading(tell("the picture of the year")), picture(answer.pickings, words),
    ]
    lent = {note for farm in answer.farms if farm.plan.climate.source != ANOTHERS
            for note in farm.plan.climate.notes}
    for farm in answer.farms:
        blocks += [_of_farm_named(farm.name, block) for block in _farm(farm, jobs[farm.name], lent, words)]
    grown = [(sowing.crop, sowing.name) for farm in answer.farms for sowing in farm.plan.sowings]
    dim = any(has_winter(farm.plan.site.lat) for farm in answer.farms)
    blocks += [*of_crops(grown, words, dim), *listed(tell("notes"), answer.notes)]
    title = tell_n("Plan from {begins}: {name}, {n} farm", "Plan from {begins}: {name}, {n} farms",
                   len(answer.farms), begins=full_day(answer.begins), name=answer.name)
    return Page(title, tuple(blocks))


def _of_farm_named(name: str, block: Block) -> Block:
    """Whose seed it is, whose ground, stands in the heading: the page is long."""
    if not isinstance(block, Heading) or block.text == name:
        return block
    return replace(block, text=f"{name}: {block.text}")


def _farm(farm: FarmPlan, jobs: Sequence[Job], lent: Set[str], words: Words) -> list[Block]:
    """A farm's part; of a record that another farm lent it, what is `lent` with it is told of that farm."""
    plan, climate = farm.plan, farm.plan.climate
    if climate.source == ANOTHERS:
        climate = replace(climate, notes=tuple(note for note in climate.notes if note not in lent))
    blocks: list[Block] = [
        Heading(farm.name), Text(tell("Farm at {place}.", place=title_place(plan.site, words))),
        *weather_lines(plan.site, climate, words, notes=False),
        Heading(tell("this week")),
        *listed_jobs(jobs, plan.begins.year, words, tell("Nothing has to be done yet.")),
        *listed(tell("notes"), (*plan.notes[1:], *weather_notes(climate, words))),
        *changes(tell("what is different"), plan.changes, words), *moves(plan.moved, words),
        *seed_told(plan, words),
        *standing(plan.standing, words), *sowings(plan, words),
        *ground_use(plan.ground, words), *hours(plan.hours),
    ]
    return blocks


def cooperative_today_page(
    name: str, on: date, farms: Sequence[FarmToday], words: Words, note: str = ""
) -> Page:
    """Each farm's day after another, after a `note` on the plan; jobs are answered at the farm."""
    blocks: list[Block] = [Text(note)] if note else []
    for farm in farms:
        own = () if farm.answer is None else today_page(_less_said(farm.answer, note), words).blocks
        blocks += [*heads(farm.name, farm.path, problem=farm.problem),
                   *(to_type(block, farm.path) for block in own)]
    return Page(tell("{day}: {name}", day=full_day(on), name=name), tuple(blocks))


def _less_said(answer: TodayAnswer, note: str) -> TodayAnswer:
    """A farm's day without what the `note` on all farms says."""
    return replace(answer, notes=tuple(each for each in answer.notes if each not in note))


def cooperative_pickings_page(
    answer: CooperativeAnswer, words: Words, on: date, weeks: int, shares: SharesOf = no_shares
) -> Page:
    """What all farms pick against what is wanted, what a share comes to, and which farm it comes from."""
    blocks: list[Block] = [
        *([Text(tell(INVENTED))] if answer.invented else []),
        *map(Text, noted(answer)), Heading(tell("the year")),
        picture(answer.pickings, words), *weeks_ahead(answer, words, on, weeks, shares),
    ]
    return Page(tell("Pickings: {site}", site=answer.name), tuple(blocks))


def weeks_ahead(
    answer: CooperativeAnswer, words: Words, on: date, weeks: int, shares: SharesOf = no_shares
) -> list[Block]:
    """So many weeks from that of the day, and what their columns mean."""
    first = first_monday(on, answer.begins)
    blocks = weeks_blocks(answer.pickings, first, weeks, words,
                          lambda week: _beside(answer, week, words, shares))
    return [*blocks, Text(tell(LEGEND))]


def shared_week(
    answer: CooperativeAnswer, week: date, words: Words, shares: SharesOf = no_shares
) -> list[Block]:
    """What all farms pick in the week from that Monday, what a share comes to, and from where it comes."""
    return [*week_blocks(answer.pickings, week, words), *_beside(answer, week, words, shares)]


def _beside(answer: CooperativeAnswer, week: date, words: Words, shares: SharesOf) -> list[Block]:
    return [*_away(answer.farms, week), *shares_told(shares(week), words),
            *_sources(answer.farms, week, words)]


def _away(farms: Sequence[FarmPlan], week: date) -> list[Block]:
    """On which farms nobody is there to pick, all that week."""
    names = ", ".join(farm.name for farm in farms if nobody_there(farm.plan.away, week))
    return [Text(tell("Away: nobody is there to pick on {farms}. What is likely from there is picked before "
                      "leaving.", farms=names))] if names else []


def _sources(farms: Sequence[FarmPlan], week: date, words: Words) -> list[Block]:
    """The likely pickings of one week, farm by farm."""
    likely = [
        {item.item: next((each.likely for each in item.weeks if each.week == week), 0.0)
         for item in farm.plan.pickings} for farm in farms
    ]
    rows = tuple(
        (item, *(words.weight_figure(own[item]) if own[item] > SHOWN else "" for own in likely))
        for item in likely[0] if any(own[item] > SHOWN for own in likely)
    )
    if not rows:
        return []
    columns = (Column(tell("item"), wraps=True),
               *(Column(farm.name, words.weight_unit, "right") for farm in farms))
    return [Text(tell("Of what is likely, from each farm its part:")), Table(columns, rows)]


def cooperative_ground_page(
    name: str, farms: Sequence[FarmGround], words: Words, on: date, weeks: int
) -> Page:
    blocks: list[Block] = []
    for farm in farms:
        blocks += heads(farm.name, farm.path, problem=farm.problem)
        if farm.answer is not None:
            blocks += ground_page(within(farm.answer, None, on, weeks), words, on, weeks).blocks
    return Page(tell("Ground: {name}", name=name), tuple(blocks))
