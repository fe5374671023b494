"""What is printed: the week for the shed wall, the year on one page, labels, the list for a box."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import timedelta

from evenpick.base.days import monday_of
from evenpick.base.language import tell, tell_n, together
from evenpick.base.trade import several
from evenpick.crops.winter import in_poor_light
from evenpick.report.cautions import for_eaters, of_crops
from evenpick.report.days import day, full_day, span
from evenpick.report.page import Block, Column, Heading, Page, Table, Text
from evenpick.report.paper import BOX, Paper, Sheet, grid, said, sheet
from evenpick.report.pickings import less, picture, shared_told, to_fetch
from evenpick.report.place import title_place
from evenpick.report.sowings import amount, seed_words
from evenpick.report.today import job_columns, job_row
from evenpick.report.words import Words
from evenpick.report.work_days import days_of_jobs, remarks
from evenpick.service.box import AHEAD, BoxAnswer, BoxItem
from evenpick.service.outlook_answer import Band
from evenpick.service.plan_answer import PlanAnswer, PlannedSowing
from evenpick.service.plan_command import NO_COMMAND
from evenpick.service.today_answer import Job, TodayAnswer

CAREFUL = ("pick", "plant", "sow")
"""jobs that say the crop's cautions again"""
SOWN_AHEAD = timedelta(weeks=13)
"""in which leaf sown now is picked (common practice, no source)"""
LEAST_LINES = 4
"""empty lines for the diary on the week's sheet; more as the page has room (our choice)"""
APART = "5.9mm"
"""of two such lines"""
SMALLEST = 8.0
"""pt of the year's sheet: at arm's length in a shed less is not read (our choice)"""
LABELS = 3, "30mm"
"""across, and how high one is"""


def week_page(answer: TodayAnswer, words: Words) -> Page:
    """The week's jobs with boxes to tick, what to pick, and room to write."""
    year, monday = answer.day.year, monday_of(answer.day)
    blocks: list[Block] = [*(Text(note) for note in answer.notes)]
    if answer.jobs:
        blocks += _by_day(answer, words) if answer.days else [_jobs(answer.jobs, year, words)]
        careful = [job for job in answer.jobs if job.kind in CAREFUL]
        ripe = timedelta() if all(job.kind == "pick" for job in careful) else SOWN_AHEAD
        dim = in_poor_light(answer.site.lat, answer.day, answer.day + ripe)
        blocks += of_crops(((job.crop, job.name) for job in careful), words, dim)
    else:
        blocks.append(Text(tell("Nothing has to be done this week.")))
    title = tell("Week of {week}: {site}", week=span(monday, monday + timedelta(days=6), 0),
                 site=title_place(answer.site, words))
    return Page(title, tuple(blocks))


def _jobs(jobs: Sequence[Job], year: int, words: Words, dealt: bool = False) -> Table:
    return Table(job_columns(dealt), tuple(job_row(job, year, words, dealt) for job in jobs))


def _by_day(answer: TodayAnswer, words: Words) -> Iterator[Block]:
    """Each day's jobs under it; days on which nothing is put left out."""
    for each in (each for each in days_of_jobs(answer, on_paper=True) if each.jobs):
        yield Heading(each.heading)
        yield _jobs(each.jobs, answer.day.year, words, dealt=True)
    yield from (Text(remark) for remark in remarks(answer))


def week_sheet(answer: TodayAnswer, words: Words, paper: Paper) -> Sheet:
    foot = tell("evenpick, {day}", day=full_day(answer.day))
    made = sheet(week_page(answer, words), paper, foot, ticks=True)
    rest = [tell("== #text({said})", said=said(tell("Likely to pick this week"))), *_picks(answer, words),
            _to_write_on(tell("Written in the plot"))]
    return Sheet(made.markup + "\n".join(rest) + "\n", made.files)


def _to_write_on(heading: str) -> str:
    """Lines under their heading: the least together on one page, then down to its foot and no farther."""
    line = (f"block(width: 100%, height: {APART}, spacing: 0pt, "
            "align(bottom, line(length: 100%, stroke: 0.3pt)))")
    head, least = tell("== #text({said})", said=said(heading)), f"#for _ in range({LEAST_LINES}) {{ {line} }}"
    return (f"#block(breakable: false, width: 100%)[\n{head}\n{least}\n]\n"
            f"#block(width: 100%, height: 1fr, above: 0pt)[#layout(room => for _ in "
            f"range(calc.floor(room.height / {APART})) {{ {line} }})]")


def _picks(answer: TodayAnswer, words: Words) -> list[str]:
    if not answer.pick:
        return [f"#text({said(tell('Nothing is likely to be ripe.'))})"]
    there, seldom = to_fetch(answer.pick, words)
    told = "; ".join(_pick(one.item, one.have, words) for one in there)
    parts = shared_told(((one.item, one.of_all) for one in there), words)
    lines = (f"{told}." if told else tell("Nothing is likely to be ripe."), parts, seldom)
    return [f"#par[#text({said(line)})]" for line in lines if line]


def _pick(item: str, have: Band, words: Words) -> str:
    """'zucchini 16 lb (0 to 28 lb)': what is likely is what the baskets are for."""
    return tell("{item} {likely}", item=item, likely=words.likely(have.likely, have.low, have.high))


def year_sheet(plan: PlanAnswer, words: Words, paper: Paper) -> Sheet:
    """The picture of the year and every sowing of it in two columns, on one page where they fit; no command,
    for on a wall there is none to type it into."""
    first = [one for one in plan.sowings if (one.sow - plan.begins).days < 365]
    page = Page(tell("The year from {begins}: {site}", begins=full_day(plan.begins),
                     site=title_place(plan.site, words)),
                (*less(replace(plan, take_in=NO_COMMAND)), picture(plan.pickings, words)))
    made = sheet(page, paper, foot=tell("evenpick, plan of {begins}", begins=full_day(plan.begins)),
                 size=SMALLEST)
    lines = [f"#par[#text({said(_line(one, words))})]" for one in first]
    rows = "\n".join(lines)
    spaced = "#set par(spacing: 0.55em, hanging-indent: 1.3em)"
    return Sheet(f"{made.markup}{spaced}\n#columns(2, gutter: 5mm)[{rows}]\n", made.files)


def _line(one: PlannedSowing, words: Words) -> str:
    sown = amount(one.row_m, one.plants, one.area_m2, one.way == "raised", words)
    out = "" if one.plant_out is None else tell(", out {plant_out}", plant_out=day(one.plant_out))
    pick = "" if one.first_picking is None else tell(", picked from {first_picking}",
                                                     first_picking=day(one.first_picking[1]))
    return f"{BOX} {day(one.sow)} {words.name(one.name)}, {sown}, {words.cover(one.cover)}{out}{pick}"


def label_sheet(plan: PlanAnswer, words: Words, paper: Paper) -> Sheet:
    """One label a sowing of the coming year, to be cut out: what, where, when sown, when picked."""
    first = [one for one in plan.sowings if (one.sow - plan.begins).days < 365]
    page = Page(tell("Labels"), ())
    made = sheet(page, paper, size=9.0)
    columns, height = LABELS
    return Sheet(f"{made.markup}{grid([_label(one, words) for one in first], columns, height)}\n")


def _label(one: PlannedSowing, words: Words) -> str:
    first = one.first_picking
    pick = "" if first is None else tell("pick from {first}", first=span(first[0], first[2]))
    seeds = seed_words(one.seeds, one.grams, words)
    done = tell("planted {sow}", sow=full_day(one.sow)) if one.way == "planted" else tell(
        "sown {sow}", sow=full_day(one.sow))
    sown = done + (f", {seeds}" if seeds else "")
    lines = [together(one.beds) or words.cover(one.cover), sown, pick]
    return (f"#text(size: 1.25em, weight: \"bold\", {said(words.name(one.name))}) \\ "
            + " \\ ".join(f"#text({said(line)})" for line in lines if line))


def box_page(answer: BoxAnswer, words: Words) -> Page:
    """For the customer: in your box this week, and what is coming."""
    columns = (Column(tell("item"), wraps=True), Column(tell("about"), align="right"))
    rows = tuple((one.item, _share(one, answer.shares, words)) for one in answer.items)
    blocks: list[Block] = [Heading(tell("in your box this week"))]
    if rows:
        blocks += [Table(columns, rows),
                   Text(tell("All together about {weight}.", weight=words.weight(answer.share.kg)))]
    else:
        blocks.append(Text(tell("Nothing is ripe this week.")))
    coming = tuple((item, tell("week of {when}", when=day(when))) for item, when in answer.coming)
    blocks += [Heading(tell("coming")),
               Table((Column(tell("item"), wraps=True), Column(tell("likely"))), coming) if coming
               else Text(tell("Nothing new is likely in the next {weeks} weeks.", weeks=AHEAD.days // 7))]
    blocks.append(Text(tell("Amounts are what the weather is likely to leave. Wash everything before you "
                            "eat it.")))
    blocks += for_eaters(answer.crops, words, answer.dim)
    week = span(answer.monday, answer.monday + timedelta(days=6), 0)
    return Page(tell("Week of {week}", week=week), tuple(blocks))


def _share(one: BoxItem, boxes: int, words: Words) -> str:
    if one.pieces is None:
        return words.weight(one.kg)
    pieces = tell_n(f"{{n}} {one.piece}", f"{{n}} {several(one.piece)}", one.pieces)
    if one.or_more:
        more = tell_n(f"{{n}} {one.piece}", f"{{n}} {several(one.piece)}", one.pieces + 1)
        return tell("{few} or {more}", few=one.pieces, more=more)
    if one.boxes is None:
        return pieces
    return tell("{pieces}, in {some} of {boxes} boxes", pieces=pieces, some=one.boxes, boxes=boxes)
