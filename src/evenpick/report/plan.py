"""The plan: this week's jobs, the year's sowings, the picture of the year, and how good it is, honestly."""

from __future__ import annotations

from collections.abc import Sequence

from evenpick.report.cautions import of_crops
from evenpick.report.page import Block, Column, Heading, Items, Page, Table, Text
from evenpick.report.pickings import invented, picture
from evenpick.report.place import title_place, weather_lines
from evenpick.report.sowings import amount, seed_table, sowings_by_year
from evenpick.report.today import listed_jobs
from evenpick.report.words import Words, day, percent, span
from evenpick.service.answers import Change, GroundUse, Hours, Job, Measured, PlanAnswer, StandingSowing

AT_STAKE = ("That is the most by which any plan could be better on the years it was made for, as a share "
            "of what lies between sowing nothing and the best there can be.")


def plan_page(answer: PlanAnswer, jobs: Sequence[Job], words: Words) -> Page:
    """Everything that a plan says; `jobs` are those of its first week."""
    year = answer.begins.year
    blocks: list[Block] = [
        *invented(answer), *weather_lines(answer.site, answer.climate, words), Text(_years(answer)),
        *_listed("what is different", [_change(each, words) for each in answer.changes]),
        Heading("this week"), *listed_jobs(jobs, year, words, "Nothing has to be done yet."),
        *_standing(answer.standing, words), *_sowings(answer, words),
        Heading("the picture of the year"), picture(answer.pickings, words),
        *_compared(answer), *_listed("what can't be had", answer.cannot),
        *_held_back(answer, words),
        *_listed("variety that will be missed", answer.short_of),
        *_seed(answer, words), *_ground(answer.ground, words), *_hours(answer.hours),
        *of_crops([(sowing.crop, sowing.name) for sowing in answer.sowings], words),
        *_listed("notes", answer.notes), *_again(answer),
    ]
    return Page(f"Plan from {day(answer.begins)} {year}: {title_place(answer.site, words)}", tuple(blocks))


def _change(change: Change, words: Words) -> str:
    much = amount(change.row_m, change.plants, change.area_m2, change.way == "raised", words)
    name, when = words.name(change.name), day(change.sow)
    said = {
        "more": f"{much} more on {when}", "less": f"{much} less on {when}", "new": f"{much} on {when}, new",
        "dropped": f"no sowing on {when}",
        "moved": f"{much} on {when}" + (f" instead of {day(change.was)}" if change.was else ""),
    }
    return f"{name}: {said[change.kind]} ({change.why})."


def _standing(sowings: Sequence[StandingSowing], words: Words) -> list[Block]:
    """What is in the ground, and what is still to come of it."""
    if not sowings:
        return []
    columns = (Column("sown"), Column("what", wraps=True), Column("where", wraps=True),
               Column("left", align="right"), Column("first picked"),
               *(Column(name, words.weight_unit, "right") for name in ("low", "likely", "high")))
    return [
        Heading("in the ground"),
        Table(columns, tuple(
            (day(s.sow), words.name(s.name), s.ground or words.cover(s.cover), percent(s.left),
             span(s.first_picking[0], s.first_picking[2]) if s.first_picking else "",
             *(words.weight_figure(kg) for kg in (s.to_come.low, s.to_come.likely, s.to_come.high)))
            for s in sowings
        )),
    ]


def _sowings(answer: PlanAnswer, words: Words) -> list[Block]:
    if not answer.sowings:
        return [Heading("sowings"), Text("There is nothing worth sowing.")]
    told = Text("First picked: 1 year in 10 sooner, 1 in 10 later.")
    return [*sowings_by_year(answer.sowings, words), told]


def _years(answer: PlanAnswer) -> str:
    made = answer.made_from
    return (f"Made for {made.years} weather years and measured on {made.unseen_years} others that it "
            "did not see.")


def _compared(answer: PlanAnswer) -> list[Block]:
    plan, rule = answer.plan, answer.interval_rule
    columns = (Column("measure", wraps=True), Column("this plan", align="right"),
               Column("interval rule", align="right"))
    measures: tuple[tuple[str, str], ...] = (
        ("bare, of what was wanted", "bare"), ("spare, of what was picked", "spare"),
        ("item-weeks in 100 more than half bare", "bare_weeks"),
        ("bare in the worst tenth of the years", "worst_tenth_bare"),
    )
    rows = tuple((words, _measure(plan, name), _measure(rule, name)) for words, name in measures)
    return [
        Heading("how good it is"),
        Text(f"On {answer.made_from.unseen_years} weather years not seen: {percent(plan.bare)} of what was "
             f"wanted was not there and {percent(plan.spare)} of what was picked went over. The interval "
             f"rule on the same ground: {percent(rule.bare)} and {percent(rule.spare)}."),
        Table(columns, rows),
        Text(f"Interval rule: {answer.interval_rule_setting}."),
        Text(_proven(answer)),
    ]


def _proven(answer: PlanAnswer) -> str:
    if answer.gap is None:
        return (f"Mended from the plan before, in {answer.seconds:.1f} s; how near it is to the best "
                "possible plan was not proven.")
    return (f"Proven within {answer.gap * 100:.1f} % of the best possible plan, after "
            f"{answer.seconds:.1f} s. {AT_STAKE}")


def _measure(measured: Measured, name: str) -> str:
    value: float = getattr(measured, name)
    return f"{value:.1f}" if name == "bare_weeks" else percent(value)


def _listed(heading: str, entries: Sequence[str]) -> list[Block]:
    return [Heading(heading), Items(tuple(entries))] if entries else []


def _seed(answer: PlanAnswer, words: Words) -> list[Block]:
    return [Heading("seed"), seed_table(answer.seed, words)] if answer.seed else []


def _ground(grounds: Sequence[GroundUse], words: Words) -> list[Block]:
    """How full each cover's ground is."""
    if not grounds:
        return []
    columns = (Column("ground"), Column("there is", align="right"), Column("most used", align="right"),
               Column("used on average", align="right"))
    rows = tuple(
        (use.cover, words.area(use.area_m2), words.area(max(use.used, default=0.0)),
         words.area(sum(use.used) / max(1, len(use.used))))
        for use in grounds
    )
    return [Heading("ground"), Table(columns, rows)]


def _held_back(answer: PlanAnswer, words: Words) -> list[Block]:
    """What one more of each thing would bring, and what is left bare for want of it."""
    blocks: list[Block] = []
    if answer.holding:
        columns = (Column("one more of", wraps=True), Column("in"), Column("would bring", align="right"))
        blocks += [
            Heading("what holds it back"),
            Table(columns, tuple(
                (f"{words.name(each.what)} ({each.unit})", each.season, f"{each.portions:.1f} portions")
                for each in answer.holding
            )),
            Text("With the sowings as many as they are: a plan made anew would find a little more. A whole "
                 "season is meant, not a week of it."),
        ]
    if answer.given_up:
        items = (Column("item", wraps=True), Column("missing", align="right"), Column("because", wraps=True))
        blocks += [Heading("what it gives up"), Table(items, tuple(
            (each.item, percent(each.missing), each.because) for each in answer.given_up
        ))]
    return blocks


def _hours(hours: Hours | None) -> list[Block]:
    """Work over the coming year against the hours there are."""
    if hours is None:
        return []
    year = list(zip(hours.used, hours.there, strict=True))[:52]
    full = sum(used > 0.95 * there for used, there in year if there > 0)
    over = sum(used > there + 0.05 for used, there in year)
    whole, most = sum(used for used, _ in year), max(used for used, _ in year)
    return [Heading("work"), Text(
        f"{whole:.0f} h in the coming year, {most:.1f} h in the fullest week; {full} weeks are all but full"
        + (f", {over} are over, by what stands already." if over else ".")
        + " Minutes by job are from memory (docs/design/season.md, 9).")]


def _again(answer: PlanAnswer) -> list[Block]:
    made = answer.made_from
    return [
        Heading("to make it again"),
        Text(f"evenpick {made.version}, dice {made.seed}, {made.years} + {made.unseen_years} weather years; "
             f"garden {made.garden[:12]}, weather {made.weather[:12]}, catalogue {made.catalogue[:12]}."),
    ]
