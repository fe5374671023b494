"""What to do today, what to pick, and what is coming."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from evenpick.report.page import Block, Column, Heading, Page, Table, Text
from evenpick.report.place import title_place
from evenpick.report.sowings import amount, seed_words
from evenpick.report.words import Words, day
from evenpick.service.answers import Job, TodayAnswer

COLUMNS = (
    Column("when"), Column("do"), Column("what", wraps=True), Column("amount", wraps=True),
    Column("where", wraps=True), Column("can wait until"), Column("why", below=True),
)


def today_page(answer: TodayAnswer, words: Words) -> Page:
    """Jobs with amounts and what may be left, pickings, the fortnight ahead, bare weeks ahead."""
    year = answer.day.year
    none = "Nothing has to be done this week."
    blocks: list[Block] = [Heading("to do"), *listed_jobs(answer.jobs, year, words, none)]
    blocks += [Heading("to pick this week"), *_pick(answer, words)]
    blocks += [Heading("the next fortnight"), *listed_jobs(answer.coming, year, words, "Nothing is due.")]
    if answer.bare_ahead:
        columns = (Column("item", wraps=True), Column("bare from the week of"))
        rows = tuple((item, day(week, year)) for item, week in answer.bare_ahead)
        blocks += [Heading("likely to be bare within eight weeks"), Table(columns, rows)]
    return Page(f"{day(answer.day)} {year}: {title_place(answer.site, words)}", tuple(blocks))


def listed_jobs(jobs: Sequence[Job], year: int, words: Words, none: str) -> list[Block]:
    """The jobs, or the words for none."""
    if not jobs:
        return [Text(none)]
    rows = ((day(job.when, year), job.kind, words.name(job.sowing.name), job_amount(job, words), job.where,
             _wait(job.can_wait_until, year), job.why) for job in jobs)
    return [Table(COLUMNS, tuple(rows))]


def job_amount(job: Job, words: Words) -> str:
    """Row or plants with their seed to sow; what there is to plant out; ground to clear."""
    sowing = job.sowing
    if job.kind == "clear":
        return words.area(sowing.area_m2)
    sown = seed_words(sowing, words) if job.kind == "sow" else ""
    return ", ".join(part for part in (amount(sowing, words), sown) if part)


def _wait(until: date | None, year: int) -> str:
    return "" if until is None else day(until, year)


def _pick(answer: TodayAnswer, words: Words) -> list[Block]:
    if not answer.pick:
        return [Text("Nothing is likely to be ripe.")]
    columns = (Column("item", wraps=True),
               *(Column(name, words.weight_unit, "right") for name in ("low", "likely", "high")))
    return [Table(columns, tuple(
        (item, *(words.weight_figure(kg) for kg in (band.low, band.likely, band.high)))
        for item, band in answer.pick
    ))]
