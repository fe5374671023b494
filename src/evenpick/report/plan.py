"""The plan: in short what a grower needs first, this week's jobs, how good it is, honestly; then the long
lists: seed, the picture of the year, the year's sowings."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from evenpick.base.language import later, tell, tell_n, together
from evenpick.base.trade import CoverName
from evenpick.crops.winter import has_winter
from evenpick.report.cautions import of_crops
from evenpick.report.in_short import in_short, to_order
from evenpick.report.moved import moves
from evenpick.report.page import Block, Column, Heading, Items, Page, Table, Text, listed
from evenpick.report.pickings import invented, picture
from evenpick.report.place import title_place, weather_lines, weather_notes
from evenpick.report.shares import falling_short
from evenpick.report.sowings import amount, seed_covers, seed_table, sowings_by_year
from evenpick.report.takings import takings_told
from evenpick.report.today import listed_jobs
from evenpick.report.words import WAY_WORDS, Words, capital, day, full_day, percent, sentence, span
from evenpick.service.plan_answer import (
    Change,
    GivenUp,
    GroundUse,
    Holding,
    Hours,
    Measured,
    PlanAnswer,
    StandingSowing,
)
from evenpick.service.seed_year import seed_year
from evenpick.service.today_answer import Job

AT_STAKE = later("That is the most by which any plan could be better on the years it was made for, as a "
                 "share of what lies between sowing nothing and the best there can be.")


def plan_page(answer: PlanAnswer, jobs: Sequence[Job], words: Words, marks: bool = True) -> Page:
    """Everything that a plan says; `jobs` are those of its first week, with the `marks` by which commands
    answer them."""
    year = answer.begins.year
    blocks: list[Block] = [
        *invented(answer), *weather_lines(answer.site, answer.climate, words, notes=False),
        Text(years_told(answer)),
        *in_short(goodness(answer), answer.given_up, answer.cannot, words,
                  (*answer.granted, *to_order(answer.seed, answer.sowings, words))),
        Heading(tell("this week")), *listed_jobs(
            jobs, year, words, tell("Nothing has to be done yet."), marks=marks),
        *changes(tell("what is different"), answer.changes, words), *moves(answer.moved, words),
        *compared(answer), *listed(tell("what can't be had"), [*map(words.with_areas, answer.cannot)]),
        *held_back(answer.holding, answer.given_up, words),
        *falling_short(answer.short_of, answer.short_shares, answer.money, words),
        *takings_told(answer.takings, answer.money), *seed_told(answer, words),
        Heading(tell("the picture of the year")), picture(answer.pickings, words),
        *standing(answer.standing, words), *sowings(answer, words),
        *ground_use(answer.ground, words), *hours(answer.hours),
        *of_crops([(sowing.crop, sowing.name) for sowing in answer.sowings], words,
                  has_winter(answer.site.lat)),
        *listed(tell("notes"), (*_other_notes(answer), *weather_notes(answer.climate, words))),
        *_again(answer),
    ]
    return Page(tell("Plan from {begins}: {site}", begins=full_day(answer.begins),
                     site=title_place(answer.site, words)), tuple(blocks))


def _other_notes(answer: PlanAnswer) -> list[str]:
    """Those that do not stand in short."""
    return [note for note in answer.notes if note not in answer.granted]


def changes(heading: str, told: Sequence[Change], words: Words) -> list[Block]:
    """What is other than in the plan before: a list for each reason, in the order of their first days; what
    is not made good comes last."""
    by_reason: dict[str, list[Change]] = {}
    both = _in_two_ways(told)
    for change in sorted(told, key=lambda each: each.kind == "missed"):
        by_reason.setdefault(change.why, []).append(change)
    lists = (block for why, several in by_reason.items()
             for block in (Text(f"{capital(why)}:"), Items(tuple(_of_reason(several, both, words)))))
    return [Heading(heading), *lists] if told else []


def _in_two_ways(told: Sequence[Change]) -> frozenset[tuple[str, date]]:
    """Names and days of which there are changes in several ways: 'no sowing on 29 May' is of seed in place,
    and '581 plants on 29 May, new' of raised ones."""
    ways: dict[tuple[str, date], set[str]] = {}
    for change in told:
        ways.setdefault((change.name, change.sow), set()).add(change.way)
    return frozenset(each for each, found in ways.items() if len(found) > 1)


def _of_reason(
    several: Sequence[Change], both: frozenset[tuple[str, date]], words: Words
) -> Iterator[str]:
    """A line for each change; missed sowings of a crop under one cover have one together. `both` as in
    `_in_two_ways`."""
    missed: dict[tuple[str, CoverName], list[Change]] = {}
    for change in several:
        if change.kind == "missed":
            missed.setdefault((change.name, change.cover), []).append(change)
        else:
            yield _change(change, (change.name, change.sow) in both, words)
    for (name, cover), each in missed.items():
        if len(each) == 1:
            yield _change(each[0], (name, each[0].sow) in both, words)
        else:
            yield tell_n("{what}: {n} sowing, {span}", "{what}: {n} sowings, {span}", len(each),
                         what=_what(name, cover, words), span=span(each[0].sow, each[-1].sow))


def _what(name: str, cover: CoverName, words: Words) -> str:
    return words.name(name) if cover == "open" else f"{words.name(name)}, {words.cover(cover)}"


def _change(change: Change, tells_way: bool, words: Words) -> str:
    much = amount(change.row_m, change.plants, change.area_m2, change.way == "raised", words)
    when = day(change.sow)
    said = {
        "more": tell("{much} more on {when}", much=much, when=when),
        "less": tell("{much} less on {when}", much=much, when=when),
        "new": tell("{much} on {when}, new", much=much, when=when),
        "missed": tell("{much} on {when}", much=much, when=when),
        "dropped": tell("no sowing on {when}", when=when),
        "moved": tell("{much} on {when}", much=much,
                      when=when) + (tell(" instead of {was}", was=day(change.was)) if change.was else ""),
    }
    way = f", {tell(WAY_WORDS[change.way])}" if tells_way else ""
    return f"{_what(change.name, change.cover, words)}{way}: {said[change.kind]}"


def standing(sowings: Sequence[StandingSowing], words: Words) -> list[Block]:
    """What is in the ground, and what is still to come of it."""
    if not sowings:
        return []
    weights = words.weights(s.to_come.high for s in sowings)
    columns = (Column(tell("sown")), Column(tell("what"), wraps=True), Column(tell("where"), wraps=True),
               Column(tell("left"), align="right"), Column(tell("first picked")),
               *(Column(name, weights.unit, "right")
                 for name in (tell("low"), tell("likely"), tell("high"))))
    return [
        Heading(tell("in the ground")),
        Table(columns, tuple(
            (day(s.sow), words.name(s.name), words.place(s.ground, s.cover), percent(s.left),
             span(s.first_picking[0], s.first_picking[2]) if s.first_picking else "",
             *(weights.figure(kg) for kg in (s.to_come.low, s.to_come.likely, s.to_come.high)))
            for s in sowings
        )),
    ]


def sowings(answer: PlanAnswer, words: Words) -> list[Block]:
    if not answer.sowings:
        return [Heading(tell("sowings")), Text(tell("There is nothing worth sowing."))]
    told = Text(tell("First picked: 1 year in 10 sooner, 1 in 10 later."))
    return [*sowings_by_year(answer.sowings, words), told]


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
    return f"{said}{counted} {tell(AT_STAKE)}"


def _counted(gap: float) -> str:
    """Why the answer proves less than the search did."""
    return tell("Before it was kept to the sowings in a week, and to the crops to buy seed for, it was "
                "within {gap:.1f} %: the best possible plan that it is held against keeps to neither, so how "
                "near the plan is to the best that does is not known.", gap=gap * 100)


def _measure(measured: Measured, name: str) -> str:
    value: float = getattr(measured, name)
    return f"{value:.1f}" if name == "bare_weeks" else percent(value)


def seed_told(answer: PlanAnswer, words: Words) -> list[Block]:
    if not answer.seed:
        return []
    return [Heading(tell("seed")), seed_covers(seed_year(answer.begins)), seed_table(answer.seed, words)]


def ground_use(grounds: Sequence[GroundUse], words: Words) -> list[Block]:
    """How full each cover's ground is; to three figures, for all of it taken is no more than there is."""
    if not grounds:
        return []
    columns = (Column(tell("ground")), Column(tell("there is"), align="right"),
               Column(tell("most used"), align="right"),
               Column(tell("used on average"), align="right"))
    rows = tuple(
        (tell(use.cover), words.area(use.area_m2, 3), words.area(max(use.used, default=0.0), 3),
         words.area(sum(use.used) / max(1, len(use.used)), 3))
        for use in grounds
    )
    return [Heading(tell("ground")), Table(columns, rows)]


def held_back(limits: Sequence[Holding], missing: Sequence[GivenUp], words: Words) -> list[Block]:
    """What one more of each thing would bring, and what is left bare for want of it."""
    blocks: list[Block] = []
    if limits:
        columns = (Column(tell("one more of"), wraps=True), Column("in"),
                   Column(tell("would bring"), align="right"))
        blocks += [
            Heading(tell("what holds it back")),
            Table(columns, tuple(
                (f"{words.name(each.what)} ({unit})", _when(each),
                 tell("{portions:.1f} portions", portions=portions))
                for each in limits for unit, portions in [_of_unit(each, words)]
            )),
            Text(tell("With the sowings as many as they are: a plan made anew would find a little more. "
                      "A whole season is meant, or the weeks that are named; not a week alone.")),
        ]
    return blocks + _given_up(missing)


def _when(limit: Holding) -> str:
    """The season, or the weeks of it where they are few."""
    if not limit.weeks:
        return limit.season
    weeks = together([day(week) for week in limit.weeks])
    return tell_n("{season}, the week of {weeks}", "{season}, the weeks of {weeks}", len(limit.weeks),
                  season=limit.season, weeks=weeks)


def _of_unit(limit: Holding, words: Words) -> tuple[str, float]:
    """Its unit as the grower measures, and what one more of that would bring."""
    if limit.unit != "m²" or not words.imperial:
        return limit.unit, limit.portions
    # ten square feet are about a square metre; of a single one the figure would read as nought
    return f"10 {words.area_unit}", 10 * limit.portions / words.along(1.0, length=False)


def _given_up(missing: Sequence[GivenUp]) -> list[Block]:
    """What is left bare, each reason once with all items that it holds for."""
    if not missing:
        return []
    of_reason: dict[str, list[str]] = {}
    for each in missing:
        of_reason.setdefault(each.because, []).append(f"{each.item} {percent(each.missing)}")
    told = Text(tell("Of the first year's wish, this much is missing in the mean of the years."))
    return [
        Heading(tell("what it gives up")), told,
        Items(tuple(sentence(tell("{because}: {items}", because=because, items=", ".join(items)))
                    for because, items in of_reason.items())),
    ]


def hours(hours: Hours | None) -> list[Block]:
    """Work over the coming year against the hours there are."""
    if hours is None:
        return []
    year = list(zip(hours.used, hours.there, strict=True))[:52]
    full = sum(used > 0.95 * there for used, there in year if there > 0)
    over = sum(used > there + 0.05 for used, there in year)
    whole, most = sum(used for used, _ in year), max(used for used, _ in year)
    return [Heading(tell("work")), Text(
        tell_n("{whole:.0f} h in the coming year, {most:.1f} h in the fullest week; {n} week is all but full",
               "{whole:.0f} h in the coming year, {most:.1f} h in the fullest week; {n} weeks are all but "
               "full", full, whole=whole, most=most)
        + (tell_n(", {n} is over, by what stands already.", ", {n} are over, by what stands already.", over)
           if over else ".")
        + tell(" Minutes by job are from memory (docs/design/season.md, 9)."))]


def _again(answer: PlanAnswer) -> list[Block]:
    made = answer.made_from
    return [
        Heading(tell("to make it again")),
        Text(tell("evenpick {version}, dice {seed}, {years} + {unseen_years} weather years; garden "
                  "{garden}, weather {weather}, catalogue {catalogue}.", version=made.version, seed=made.seed,
                  years=made.years, unseen_years=made.unseen_years, garden=made.garden[:12],
                  weather=made.weather[:12], catalogue=made.catalogue[:12])),
    ]
