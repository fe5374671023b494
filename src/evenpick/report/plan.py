"""The plan: in short what a grower needs first, this week's jobs, how good it is, honestly; then the long
lists: seed, the picture of the year, the year's sowings."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from evenpick.base.language import tell, tell_n, together
from evenpick.crops.winter import has_winter
from evenpick.plan.horizon import YEAR_WEEKS
from evenpick.report.cautions import of_crops
from evenpick.report.days import day, full_day, span
from evenpick.report.how_good import compared, goodness, years_told
from evenpick.report.in_short import in_short, to_order
from evenpick.report.moved import moves
from evenpick.report.page import Block, Column, Heading, Items, Page, Table, Text, listed
from evenpick.report.pickings import invented, picture
from evenpick.report.place import title_place, weather_lines, weather_notes
from evenpick.report.plan_changes import changes
from evenpick.report.shares import falling_short
from evenpick.report.sowings import seed_covers, seed_table, sowings_by_year
from evenpick.report.takings import takings_told
from evenpick.report.today import listed_jobs
from evenpick.report.words import Words, capital, percent, sentence
from evenpick.service.plan_answer import (
    GivenUp,
    GroundUse,
    Holding,
    Hours,
    PlanAnswer,
    StandingSowing,
)
from evenpick.service.seed_year import seed_year
from evenpick.service.today_answer import Job


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
        *compared(answer),
        *listed(tell("what can't be had"), [capital(words.with_areas(each)) for each in answer.cannot]),
        *held_back(answer.holding, answer.given_up, words),
        *(how_little(answer.given_up) if marks else ()),
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


def seed_told(answer: PlanAnswer, words: Words) -> list[Block]:
    if not answer.seed:
        return []
    return [Heading(tell("seed")), seed_covers(seed_year(answer.begins)), seed_table(answer.seed, words)]


def ground_use(grounds: Sequence[GroundUse], words: Words) -> list[Block]:
    """How full each cover's ground is; to three figures, for all of it taken is no more than there is. The
    mean is of the first year: what is sown after it is not planned yet."""
    if not grounds:
        return []
    columns = (Column(tell("ground")), Column(tell("there is"), align="right"),
               Column(tell("most used"), align="right"),
               Column(tell("mean of the first year"), align="right"))
    rows = tuple(
        (tell(use.cover), words.area(use.area_m2, 3), words.area(max(use.used, default=0.0), 3),
         words.area(sum(use.used[:YEAR_WEEKS]) / max(1, len(use.used[:YEAR_WEEKS])), 3))
        for use in grounds
    )
    return [Heading(tell("ground")), Table(columns, rows)]


def held_back(limits: Sequence[Holding], missing: Sequence[GivenUp], words: Words) -> list[Block]:
    """What one more of each thing would bring, and what is left bare for want of it."""
    blocks: list[Block] = []
    if limits:
        columns = (Column(tell("one more of"), wraps=True), Column("in", wraps=True),
                   Column(tell("would bring"), align="right"))
        blocks += [
            Heading(tell("what holds it back")),
            Table(columns, tuple(
                (f"{words.name(each.what)} ({unit})", _when(each),
                 tell("{portions:.1f} portions", portions=portions))
                for each in limits for unit, portions in [_of_unit(each, words)]
            )),
            Text(tell("With the sowings as many as they are: a plan made anew would find a little more. "
                      "One more is meant all year round, and told with the seasons in which it is short; of "
                      "hours, one more in each week of that season, less what days away take of it.")),
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
        of_reason.setdefault(each.because, []).append(_missing(each))
    told = Text(tell("Of the first year's wish, this much is missing in the mean of the years."))
    return [
        Heading(tell("what it gives up")), told,
        Items(tuple(sentence(tell("{because}: {items}", because=because, items=", ".join(items)))
                    for because, items in of_reason.items())),
    ]


def _missing(each: GivenUp) -> str:
    now = f"{each.item} {percent(each.missing)}"
    if each.with_plenty is None:
        return now
    return tell("{now} ({left} with plenty)", now=now, left=percent(each.with_plenty))


def how_little(missing: Sequence[GivenUp]) -> Iterator[Text]:
    """For whoever has the garden file at hand: what in it says how little a sowing may bring."""
    if any(each.smaller_sowings_mend for each in missing):
        yield Text(tell("How little a sowing may bring stands in the garden file: worth_a_sowing under "
                        "[plan]."))


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
