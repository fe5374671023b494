"""Pickings: lists of this week and next, the picture of the year, bare weeks and gluts with their mending."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from hashlib import sha256
from typing import Annotated, Any

from fastapi import APIRouter, Query, Request
from fastapi.responses import Response
from markupsafe import Markup, escape

from evenpick.base.days import first_monday
from evenpick.base.language import chosen, tell, tell_n
from evenpick.garden.garden import Garden
from evenpick.report.chart import NARROW, WIDE, picture_words, svg, year_height, year_spec
from evenpick.report.days import day
from evenpick.report.pickings import picture, weeks_blocks
from evenpick.report.shares import shares_told
from evenpick.report.words import Words
from evenpick.service.picking_list import Run, bare_runs, glut_runs
from evenpick.service.pickings_answer import ItemPickings
from evenpick.service.plan_answer import PlanAnswer, PlannedSowing
from evenpick.service.week_shares import shares_on
from evenpick.web.asked import day_of
from evenpick.web.blocks import folded, numbers
from evenpick.web.pages.picking_table import week_list
from evenpick.web.served import Served, served
from evenpick.web.showing import show

router = APIRouter()
ROOMS = {"wide": WIDE, "narrow": NARROW}
WEEKS = 8
SHOWN = 8
"""runs of bare weeks that stand open, the next ones"""
YEAR = 365
"""days that a drawn chart may be kept by its address, which changes with the plan"""


@dataclass(frozen=True, slots=True)
class Listed:
    heading: str
    table: Markup


@dataclass(frozen=True, slots=True)
class Told:
    """A run of weeks in words."""

    item: str
    when: str
    mend: Markup


@router.get("/pickings")
def pickings_page(
    request: Request, on: str | None = None, weeks: Annotated[int, Query(ge=1, le=104)] = WEEKS
) -> Response:
    about, today = served(request), day_of(request, on, "on")
    plan, words = about.plan_now(today), about.words()
    shown = about.latest.get(("pickings", today, weeks), lambda: _shown(about, plan, words, today, weeks))
    return show(request, "pickings.html", tell("Pickings"), "/pickings", count=weeks, shown=SHOWN,
                loss_note=plan.loss_note, **shown)


def _shown(about: Served, plan: PlanAnswer, words: Words, today: date, weeks: int) -> dict[str, Any]:
    """Everything on the page; dearer than its template, and the same until something is written."""
    first, garden = first_monday(today, plan.begins), about.described()
    stamp = picture_stamp(plan.made_from.garden, len(plan.sowings), plan.seconds, words)
    stamp += now_stamp(today, plan.pickings) if plan.loss_note else ""
    named = ((tell("This week") if first <= today else tell("First week, {first}", first=day(first)), first),
             (tell("Next week"), first + timedelta(weeks=1)))
    bare = bare_runs(plan, today, parted=True, shared=about.shared())
    return {
        "lists": _lists(plan, garden, named, words),
        **year_figure(plan.pickings, words, stamp),
        "too_soon": ", ".join(f"{run.item} ({_weeks(run)})" for run in bare if run.too_soon),
        "bare": [Told(run.item, _weeks(run), _mend_bare(run, today, words))
                 for run in bare if not run.too_soon],
        "gluts": [Told(run.item, _weeks(run), _mend_glut(run, today, words))
                  for run in glut_runs(plan, today, parted=True)],
        "weeks": folded(weeks_blocks(
            plan.pickings, first + len(named) * timedelta(weeks=1), weeks, words,
            lambda week: shares_told(shares_on(plan.pickings, garden, week), words), plan.away,
        ), words, 3, first_open=False),
    }


def _lists(
    plan: PlanAnswer, garden: Garden, named: Sequence[tuple[str, date]], words: Words
) -> list[Listed]:
    """The picking list of each week; the first that has figures says how they are meant."""
    lists: list[Listed] = []
    for name, monday in named:
        explained = not any("<caption>" in each.table for each in lists)
        table = week_list(plan, garden, monday, words, monday.isoformat(), explained)
        lists.append(Listed(tell("{name}: to pick", name=name), table))
    return lists


def year_figure(items: Sequence[ItemPickings], words: Words, stamp: str) -> dict[str, Any]:
    """What `year.html` draws: the chart's address and size, its sentence and its numbers."""
    drawn = picture(items, words)
    return {"stamp": stamp, "height": year_height(drawn, WIDE), "told": picture_words(drawn),
            "numbers": Markup(numbers(drawn, words))}


def picture_stamp(made_from: str, sowings: int, seconds: float, words: Words) -> str:
    """Changes with the plan, and with the words and units that it is told in."""
    return f"{made_from}{sowings}{seconds:.6f}{words.units}{words.english}{chosen()}".replace(".", "")


def now_stamp(today: date, items: Sequence[ItemPickings]) -> str:
    """Changes with the pickings, of which a loss takes some while the plan stays."""
    likely = repr([week.likely for item in items for week in item.weeks])
    return f"&on={today.isoformat()}&{sha256(likely.encode()).hexdigest()[:10]}"


def _weeks(run: Run) -> str:
    if run.first == run.last:
        return tell("the week of {first}", first=day(run.first))
    weeks = (run.last - run.first).days // 7 + 1
    return tell_n("{n} week from {first} to {last}", "{n} weeks from {first} to {last}", weeks,
                  first=day(run.first), last=day(run.last + timedelta(days=6)))


def _mend_bare(run: Run, today: date, words: Words) -> Markup:
    short = escape(words.weight(max(0.0, run.wanted - run.likely)))
    if to_come := _to_come(run, today):
        return Markup(tell("{short} short. More could come of {sowings}: change the amount, if there is "
                           "ground.", short=short, sowings=_sowings(to_come, words)))
    if run.filled_by:
        return Markup(tell("{short} short; the day of {sowings}, for these weeks, is past. <a href='/when'>"
                           "What may still be sown</a>.", short=short,
                           sowings=_sowings(run.filled_by, words)))
    told = escape(run.reason.rstrip(".")) if run.reason else tell("no sowing is planned for these weeks")
    return Markup(tell("{short} short; {told}. <a href='/when'>What may still be sown</a>.", short=short,
                       told=told))


def _to_come(run: Run, today: date) -> tuple[PlannedSowing, ...]:
    """Those of its sowings that can still be made larger, smaller or not at all."""
    return tuple(sowing for sowing in run.filled_by if sowing.sow >= today)


def _mend_glut(run: Run, today: date, words: Words) -> Markup:
    over = escape(words.weight(run.likely - run.wanted))
    to_come = _to_come(run, today)
    if not to_come:
        return Markup(tell("{over} over: store it, sell it or give it away; leave the worst unpicked.",
                           over=over))
    return Markup(tell("{over} over. It comes of {sowings}: sow less, or refuse one.", over=over,
                       sowings=_sowings(to_come, words)))


def _sowings(sowings: Sequence[PlannedSowing], words: Words) -> str:
    return ", ".join(sowing_link(sowing, words) for sowing in sowings)


def sowing_link(sowing: PlannedSowing, words: Words) -> str:
    said = tell("{name} of {sow}", name=words.name(sowing.name), sow=day(sowing.sow))
    return f'<a href="/sowings/{escape(sowing.id)}">{escape(said)}</a>'


@router.get("/charts/year-{room}.svg")
def year_chart(request: Request, room: str, on: str | None = None) -> Response:
    about = served(request)
    return drawn_year(about.plan_now(day_of(request, on, "on")).pickings, about.words(), room)


def drawn_year(items: Sequence[ItemPickings], words: Words, room: str) -> Response:
    """The chart of the year for a wide or a narrow page, to be kept by its address."""
    if room not in ROOMS:
        return Response(tell("There is no such chart."), 404, media_type="text/plain")
    drawn = picture(items, words)
    body = svg(year_spec(drawn, ROOMS[room]), tell("The picture of the year"), picture_words(drawn))
    return Response(body, media_type="image/svg+xml",
                    headers={"cache-control": f"private, max-age={YEAR * 86400}"})
