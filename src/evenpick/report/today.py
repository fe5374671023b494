"""What to do today, what to pick, and what is coming."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from evenpick.base.language import later, tell, tell_n
from evenpick.crops.tending import tending_steps
from evenpick.report.days import day, full_day
from evenpick.report.losses import ASK, losses_table
from evenpick.report.page import Block, Column, Heading, Page, Table, Text
from evenpick.report.pickings import about, shared_told, to_fetch
from evenpick.report.place import far_shortly, title_place
from evenpick.report.sowings import amount, seed_words
from evenpick.report.water import litres, water_on_drill
from evenpick.report.words import Words
from evenpick.report.work_days import beside, days_of_jobs, remarks, time_of
from evenpick.service.plan_command import with_command
from evenpick.service.today_answer import AnsweredJob, Job, ThirstyBed, TodayAnswer

MANY_LOOKS = 3
AT_A_GLANCE = 5
"""items named before the first job"""
LITTLE = 0.02
"""kg: less is not worth a word there"""
ANSWER_WITH = later("Answer a job with evenpick today --done JOB, --put-off JOB, --refuse JOB or --undo JOB.")


def job_columns(dealt: bool = False) -> tuple[Column, ...]:
    """Of jobs with the days they are due, or, `dealt` to a day, with the time they take."""
    return (
        Column(tell("time") if dealt else tell("when")), Column(tell("do")), Column(tell("what"), wraps=True),
        Column(tell("amount"), wraps=True), Column(tell("where"), wraps=True), Column(tell("can wait to")),
        Column(tell("how"), below=True), Column(tell("why"), below=True),
    )


MISSED = later("Too late for the weeks that each was planned for. What can be sown all the same gets another "
               "day when the plan is mended.")


def today_page(answer: TodayAnswer, words: Words, commands: bool = True) -> Page:
    """Jobs with amounts and what may be left, pickings, the fortnight ahead, bare weeks ahead; with the
    `commands` that answer them. The jobs come before what is to be known of them."""
    year = answer.day.year
    blocks: list[Block] = _to_do(answer, words)
    if answer.jobs and commands:
        blocks.append(Text(tell(ANSWER_WITH)))
    take_in = answer.take_in if commands else ""
    *others, last = answer.notes or ("",)
    blocks += [*map(Text, others), *([Text(with_command(last, take_in))] if last else [])]
    if answer.thirsty:
        blocks += [Heading(tell("beds to water today")), _thirsty(answer.thirsty, words)]
        blocks += [Text(tell("Day by day, and what to leave: evenpick water"))] if commands else []
    if answer.answered:
        blocks += [Heading(tell("answered this week")), _answered(answer, words)]
    if answer.missed:
        blocks += [Heading(tell("missed")), *listed_jobs(answer.missed, year, words, ""), Text(tell(MISSED))]
    if answer.lost:
        blocks += [Heading(tell("lost lately")), losses_table(answer.lost, words)]
        blocks += [Text(tell(ASK))] if commands else []
    blocks += [Heading(tell("to pick this week")), *_pick(answer, words)]
    blocks += [Heading(tell("the next fortnight")),
               *listed_jobs(answer.coming, year, words, tell("Nothing is due."))]
    if answer.bare_ahead:
        columns = (Column(tell("item"), wraps=True), Column(tell("bare from the week of")))
        rows = tuple((item, day(week, year)) for item, week in answer.bare_ahead)
        blocks += [Heading(tell("likely to be bare within eight weeks")), Table(columns, rows)]
    if far := far_shortly(answer.far, words):
        blocks.append(Text(far))
    return Page(tell("{day}: {name}", day=full_day(answer.day), name=title_place(answer.site, words)),
                tuple(blocks))


def _to_do(answer: TodayAnswer, words: Words) -> list[Block]:
    year = answer.day.year
    if not answer.days:
        none = tell("Nothing has to be done this week.")
        return [Heading(tell("to do")), *listed_jobs(answer.jobs, year, words, none)]
    blocks: list[Block] = []
    for each in days_of_jobs(answer):
        blocks += [Heading(each.heading), *listed_jobs(each.jobs, year, words, each.none, dealt=True)]
    return [*blocks, *(Text(remark) for remark in remarks(answer))]


def listed_jobs(
    jobs: Sequence[Job], year: int, words: Words, none: str, dealt: bool = False, marks: bool = True
) -> list[Block]:
    """The jobs, with the marks by which commands answer them, or the words for none; `dealt` as in
    `job_columns`."""
    if not jobs:
        return [Text(none)]
    first, looks = gathered(jobs)
    blocks: list[Block] = []
    if first:
        mark = (Column(tell("job")),) if marks else ()
        rows = tuple((*((job.tag,) if marks else ()), *job_row(job, year, words, dealt)) for job in first)
        blocks.append(Table((*mark, *job_columns(dealt)), rows))
    if looks:
        names = ", ".join(f"{words.name(job.name)}, {job.where} ({job.tag})" for job in looks)
        blocks.append(Text(tell("{looks} {names}.", looks=looks_said(looks), names=names)))
    return blocks


def gathered(jobs: Sequence[Job]) -> tuple[tuple[Job, ...], tuple[Job, ...]]:
    """The jobs, and apart from them the late looks whether something is up, where they are several: in spring
    they would hide what matters."""
    looks = tuple(job for job in jobs if job.late and job.kind == "look")
    if len(looks) < MANY_LOOKS:
        return tuple(jobs), ()
    return tuple(job for job in jobs if job not in looks), looks


def looks_said(looks: Sequence[Job]) -> str:
    return tell_n("In passing: look whether {n} late sowing is up, and sow again what failed:",
                  "In passing: look whether {n} late sowings are up, and sow again what failed:", len(looks))


def job_row(job: Job, year: int, words: Words, dealt: bool = False) -> tuple[str, ...]:
    """The cells of `job_columns`."""
    more = beside(job, year) if dealt else ""
    return (time_of(job) if dealt else _when(job, year), tell(job.kind), words.name(job.name),
            job_amount(job, words), job.where, _wait(job.can_wait_until, year), how(job, words),
            "; ".join(part for part in (more, job.why) if part))


def _when(job: Job, year: int) -> str:
    return tell("late: {when}", when=day(job.when, year)) if job.late else day(job.when, year)


def how(job: Job, words: Words) -> str:
    """'1.5 cm deep, 3 cm apart, rows 15 cm apart'; empty where nothing goes into the ground."""
    drill = job.drill
    if drill is None:
        return ""
    unit = words.gap_unit
    if drill.cells is not None:
        return tell_n("{n:,} cell, {depth} {unit} deep", "{n:,} cells, {depth} {unit} deep", drill.cells,
                      depth=words.depth(drill.depth), unit=unit)
    depth = tell("{depth} {unit} deep", depth=words.depth(drill.depth),
                 unit=unit) if drill.depth > 0 else tell("on the surface")
    if drill.between_rows == drill.in_row == 0:
        return tell("{depth}, one to a pot", depth=depth)
    apart = tell("{in_row} {unit} apart", in_row=words.gap(drill.in_row),
                 unit=unit) if words.gap(drill.in_row) != "0" else tell("thickly")
    thinned = any(step.what == "thinned" for step in tending_steps(job.crop, "direct"))
    apart = tell("{apart} when thinned", apart=apart) if thinned and job.kind == "sow" else apart
    if drill.between_rows == 0:
        return tell("{depth}, {apart}", depth=depth, apart=apart)
    return tell("{depth}, {apart}, rows {between_rows} {unit} apart", depth=depth, apart=apart,
                between_rows=words.gap(drill.between_rows), unit=unit)


def glance(answer: TodayAnswer, words: Words) -> tuple[str, str, str]:
    """In a line each, what the page says at length: how many jobs there are, what to pick, which beds to
    water. The second is empty where something is ripe of which no amounts are told, the third where no bed
    wants water."""
    late = sum(job.late for job in answer.jobs)
    jobs = tell_n("{n} job this week", "{n} jobs this week", len(answer.jobs)) if answer.jobs else tell(
        "Nothing has to be done this week")
    jobs = tell("{jobs}, {late} late", jobs=jobs, late=late) if late else jobs
    ripe = sorted((one for one in answer.pick if one.have.likely >= LITTLE),
                  key=lambda one: -one.have.likely)
    named = [f"{one.item} {words.weight(one.have.likely)}" for one in ripe[:AT_A_GLANCE]]
    if len(ripe) > AT_A_GLANCE:
        named.append(tell("and {n} more", n=len(ripe) - AT_A_GLANCE))
    if named:
        return jobs, tell("Pick: {items}", items=", ".join(named)), _to_water(answer.thirsty, words)
    some = any(job.kind == "pick" for job in answer.jobs)
    return jobs, "" if some else tell("Nothing to pick this week"), _to_water(answer.thirsty, words)


def _to_water(beds: Sequence[ThirstyBed], words: Words) -> str:
    """'Water today: okra, tomato and 2 more, about 330 l'."""
    if not beds:
        return ""
    named = list(dict.fromkeys(words.name(bed.name) for bed in beds))
    first = named[:AT_A_GLANCE]
    if len(named) > AT_A_GLANCE:
        first.append(tell("and {n} more", n=len(named) - AT_A_GLANCE))
    return tell("Water today: {items}, about {volume}", items=", ".join(first),
                volume=litres(sum(bed.litres for bed in beds), words))


def _thirsty(beds: Sequence[ThirstyBed], words: Words) -> Table:
    columns = (Column(tell("what"), wraps=True), Column(tell("where"), wraps=True), Column(tell("water")),
               Column(tell("why"), below=True))
    return Table(columns, tuple(
        (words.name(bed.name), words.place(bed.ground, bed.cover), bed_water(bed, words), bed.why)
        for bed in beds
    ))


def bed_water(bed: ThirstyBed, words: Words) -> str:
    return tell("about {volume}", volume=litres(bed.litres, words))


def _answered(answer: TodayAnswer, words: Words) -> Table:
    columns = (Column(tell("job")), Column(tell("on")), Column(tell("do")), Column(tell("what"), wraps=True),
               Column(tell("said")))
    return Table(columns, tuple(
        (job.tag, day(job.day, answer.day.year), tell(job.kind), words.name(job.name), tell(job.answer))
        for job in answer.answered
    ))


def job_words(job: Job | AnsweredJob, words: Words) -> str:
    """What to do with what: 'sow Radish', 'look for Radish'."""
    if job.kind == "look":
        return tell("look for {name}", name=words.name(job.name))
    return f"{tell(job.kind)} {words.name(job.name)}"


def job_amount(job: Job, words: Words) -> str:
    """Row or plants with their seed to sow; what there is to plant out; ground to clear."""
    if job.kind == "clear":
        return words.area(job.area_m2)
    if job.litres_per_m is not None:
        return water_on_drill(job.litres_per_m, words)
    sown = seed_words(job.seeds, job.grams, words) if job.kind == "sow" else ""
    return ", ".join(part for part in (job_size(job, words), sown) if part)


def job_size(job: Job, words: Words) -> str:
    return amount(job.row_m, job.plants, job.area_m2, job.kind != "plant", words)


def _wait(until: date | None, year: int) -> str:
    return "" if until is None else day(until, year)


def no_amounts(answer: TodayAnswer) -> str:
    """What is said for amounts where none is told and a job says that something is ripe; else empty."""
    if answer.pick or not any(job.kind == "pick" for job in answer.jobs):
        return ""
    return tell("What may be ripe is among the jobs; how much of it is told by a plan that has it.")


def _pick(answer: TodayAnswer, words: Words) -> list[Block]:
    if not answer.pick:
        return [Text(no_amounts(answer) or tell("Nothing is likely to be ripe."))]
    there, seldom = to_fetch(answer.pick, words)
    parts = shared_told(((one.item, one.of_all) for one in there), words)
    more = [Text(said) for said in (parts, seldom) if said]
    if not there:
        return [Text(tell("Nothing is likely to be ripe.")), *more]
    weights = words.weights(one.have.high for one in there)
    columns = (Column(tell("item"), wraps=True),
               *(Column(name, weights.unit, "right")
                 for name in (tell("low"), tell("likely"), tell("high"))),
               Column(tell("about"), align="right"))
    return [Table(columns, tuple(
        (one.item, *(weights.figure(kg) for kg in (one.have.low, one.have.likely, one.have.high)),
         about(one.have.likely, one.piece, one.piece_kg))
        for one in there
    )), *more]
