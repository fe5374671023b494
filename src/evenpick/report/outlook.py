"""One crop sown on one day: what comes of it, and why."""

from __future__ import annotations

from collections.abc import Iterable

from evenpick.base.language import later, tell
from evenpick.crops.poor_light import in_poor_light
from evenpick.report.cautions import of_crops
from evenpick.report.page import Block, Column, Heading, Items, Page, Table, Text
from evenpick.report.place import title_place, weather_lines
from evenpick.report.sowings import sowings_by_year
from evenpick.report.windows import windows_table
from evenpick.report.words import WAY_WORDS, Words, after, full_day, month_day, percent, span
from evenpick.service.answers import Band, OutlookAnswer, WhyAnswer

EXPLAINED = {
    "days too short": later(
        "Small seed sown in the open in days of less than ten hours comes to next to nothing, as growers "
        "know (see the sources). The weather years below reckon with warmth and light alone, "
        "and do not know it."
    ),
}
"""reasons that the rest of the page does not bear out by itself"""


def _stages_columns() -> tuple[Column, ...]:
    return (
        Column(tell("stage")), Column(tell("days after sowing"), align="right"),
        Column(tell("likely"), align="right"), Column(tell("date"), align="right"),
    )


def _shares_columns() -> tuple[Column, ...]:
    return (Column(tell("what becomes of it")), Column(tell("years"), align="right"))


def outlook_page(answer: OutlookAnswer, words: Words) -> Page:
    """Days to each stage and the share of years by what becomes of the sowing."""
    return Page(_title(tell("Outlook"), answer, words),
                (*weather_lines(answer.site, answer.climate, words), *_outcome(answer, words),
                 *_careful(answer, words)))


def why_page(answer: WhyAnswer, words: Words) -> Page:
    """The outlook, what opens and closes the window, and where every number comes from."""
    outlook = answer.outlook
    blocks: list[Block] = [
        *weather_lines(outlook.site, outlook.climate, words), Text(_verdict(answer)),
        *([Text(tell(EXPLAINED[answer.against]))] if answer.against in EXPLAINED else []),
        *_outcome(outlook, words),
    ]
    if answer.hazards:
        blocks += [Heading(tell("what struck, and how often")), *_struck(answer)]
    if answer.windows:
        blocks += [Heading(tell("its windows here")), windows_table(answer.windows, words)]
        blocks += [Items(tuple(_closing(answer)))]
    if answer.plan:
        blocks += sowings_by_year(answer.plan, words, later("in your plan: sowings of {year}"))
    blocks += [
        Heading(tell("what it is reckoned from")),
        Table((Column(tell("value"), wraps=True), Column(tell("figure"), wraps=True),
               Column(tell("source"), wraps=True)),
              tuple((name, words.reckoned(figure), source) for name, figure, source in answer.values)),
        Heading(tell("sources")),
        Items(tuple(f"{key}: {reads}" for key, reads in answer.sources)),
    ]
    return Page(_title(tell("Why"), outlook, words),
                (*blocks, *_careful(outlook, words)))


def _careful(answer: OutlookAnswer, words: Words) -> list[Block]:
    """The crop's cautions that hold when it is picked; all of them where that is not known."""
    first, last = answer.first_picking, answer.last_picking or answer.first_picking
    dim = first is None or last is None or in_poor_light(
        answer.site.lat, after(answer.sow, first.low), after(answer.sow, last.high))
    return of_crops([(answer.crop, answer.name)], words, dim)


def _title(kind: str, answer: OutlookAnswer, words: Words) -> str:
    how = f"{tell(WAY_WORDS[answer.way])}, {words.cover(answer.cover)}, {tell(answer.purpose)}"
    what = tell("{name} sown {sow}", name=words.name(answer.name), sow=full_day(answer.sow))
    return f"{kind}: {what} ({how}), {title_place(answer.site, words)}"


def _outcome(answer: OutlookAnswer, words: Words) -> list[Block]:
    bands = ((tell("up"), answer.emergence), (tell("planted out"), answer.planting_out),
             (tell("first picking"), answer.first_picking), (tell("last picking"), answer.last_picking))
    rows = tuple(_stage(name, band, answer) for name, band in bands if band is not None)
    untold = [name for name, band in (bands[0], bands[2]) if band is None]
    missing = [Text(tell("In most years it never gets to: {untold}.",
                         untold=", ".join(untold)))] if untold else []
    return [
        Heading(tell("when")), *([Table(_stages_columns(), rows)] if rows else ()), *missing,
        Heading(tell("out of {members} weather years", members=answer.members)),
        _shares(answer.fates), *_drill(answer),
        Text(tell("Bands hold 8 years in 10; 1 in 10 is earlier and 1 in 10 later.")),
    ]


def _drill(answer: OutlookAnswer) -> list[Block]:
    """How often the drill dries out, and what that means here."""
    drill = answer.drill
    if drill is None:
        return []
    said = tell("The drill, on {soil}: not watered, sprouting seed dries out in {unwatered} of years (at "
                "worst: no water rises from below); watered and kept moist (evenpick water) in {watered}.",
                soil=tell(drill.soil),
                unwatered=percent(drill.unwatered), watered=percent(drill.watered))
    lost = "" if drill.can_water else tell(" Nobody can water here: years in which it dries out count as "
                                           "lost.")
    return [Text(said + lost)]


def _stage(name: str, band: Band, answer: OutlookAnswer) -> tuple[str, ...]:
    first, last = after(answer.sow, band.low), after(answer.sow, band.high)
    return (name, f"{band.low:.0f}-{band.high:.0f}", f"{band.likely:.0f}", span(first, last, answer.sow.year))


def _shares(shares: Iterable[tuple[str, float]]) -> Table:
    """What ever happens; the JSON has the rest too."""
    return Table(_shares_columns(),
                 tuple((tell(name), percent(share)) for name, share in shares if share > 0))


def _verdict(answer: WhyAnswer) -> str:
    worth = (tell("worth sowing") if answer.good_time else
             tell("possible, but not in its good time") if answer.score >= answer.worth_from else
             tell("not recommended"))
    against = tell(" What speaks most against it: {against}.",
                   against=tell(answer.against)) if answer.against else ""
    moved = ("" if answer.leverage is None else
             tell(" Each day of waiting moves the first picking by {leverage:.1f} of a day.",
                  leverage=answer.leverage))
    return tell("Score of this day: {score} (the best day has 1, worth sowing is {least:.2f}): "
                "{worth}.{against}{moved}", score=_score(answer), least=answer.worth_from, worth=worth,
                against=against, moved=moved)


def _score(answer: WhyAnswer) -> str:
    """Two digits; three where two would read as worth sowing from."""
    short = answer.score < answer.worth_from <= round(answer.score, 2)
    return f"{answer.score:.3f}" if short else f"{answer.score:.2f}"


def _struck(answer: WhyAnswer) -> list[Block]:
    struck = any(share > 0 for _, share in answer.hazards)
    return [_shares(answer.hazards)] if struck else [Text(tell("Nothing, in any of the years."))]


def _closing(answer: WhyAnswer) -> Iterable[str]:
    """What closes the windows of what the day is told as."""
    for row in (one for one in answer.windows if one.purpose == answer.outlook.purpose):
        if row.closed_before:
            yield tell("before {day}: {reason}", day=month_day(row.opens), reason=tell(row.closed_before))
        if row.closed_after:
            yield tell("after {day}: {reason}", day=month_day(row.closes), reason=tell(row.closed_after))
