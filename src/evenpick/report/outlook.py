"""One crop sown on one day: what comes of it, and why."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from evenpick.base.language import later, tell, tell_n
from evenpick.base.trade import Judgement
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.winter import in_poor_light, use_here
from evenpick.report.cautions import of_crops
from evenpick.report.days import after, full_day, month_day, span
from evenpick.report.page import Block, Column, Heading, Items, Page, Table, Text
from evenpick.report.place import title_place, weather_lines, weather_told
from evenpick.report.sowings import sowings_by_year
from evenpick.report.windows import windows_table
from evenpick.report.words import WAY_WORDS, Words, percent, sentence
from evenpick.service.outlook_answer import Band, OutlookAnswer
from evenpick.service.why_answer import WhyAnswer

HEAT_TAKES = "heat takes part of it"
CUT_SHORT = "cut short before much is picked"
DRIED, PARCHED = "dried out in the drill", "too little rain"
EXPLAINED = {
    "days too short": later(
        "Small seed sown in the open in days of less than ten hours comes to next to nothing, as growers "
        "know (see the sources). The weather years below reckon with warmth and light alone, "
        "and do not know it."
    ),
    "slow growth": later("It is picked, but so long after sowing that one sown at a better time about then "
                         "is picked as soon or nearly: it counts for less with each day longer."),
    "few come up": later("What comes up is picked, but on such a day less of the seed comes up than on the "
                         "best, and it counts for so much less."),
    "waiting costs nothing": later("It is picked, but one sown some weeks later is picked hardly later: "
                                   "nothing is gained by sowing now."),
    "each day's delay costs several": later("It is picked, but each day's delay now costs several at the "
                                            "picking: sooner is much better."),
    "too near winter": later("In the years below it is picked, but there is no time to spare before the "
                             "winter: in a year cooler than usual it is not."),
    "too near the first frost": later("In the years below it is picked, but there is no time to spare "
                                      "before the first frost: one that comes early takes it."),
    "too cool by the time it is ripe": later("In the years below it is picked, but by then it is too cool "
                                             "for it to ripen well for long."),
    "out of season": later("It grows, but is ready at a time for which it is not sown: the years below count "
                           "it as picked all the same."),
    CUT_SHORT: later(
        "It comes to be picked, but to too little of a full harvest: its picking soon ends, or bulbs stay "
        "small."
    ),
    "ground too wet": later(
        "The years below reckon as though the ground could be worked; as a rule it is too wet then."
    ),
    "ground under snow": later(
        "The years below reckon as though the ground were bare; as a rule snow lies on it then."
    ),
    DRIED: later(
        "Nobody can water here: the day is judged, and the years below are counted, with drills left to the "
        "rain, at worst, for no water rises from below. Raised plants, a wetter month or a can along the "
        "drill until it is up (evenpick water) mend it."
    ),
    PARCHED: later(
        "Nobody can water here: the day is judged, and the years below are counted, with what the rain "
        "leaves it, and it is lost where it gives under a third of a watered yield. A day from which it "
        "grows through the rains mends it, or water."
    ),
    HEAT_TAKES: later("The years below count as good where heat leaves half and more of what is picked: in "
                      "those told apart it takes part of it."),
}
"""reasons that the rest of the page does not bear out by itself"""
NOTHING_AGAINST = later("other days about then are better")
VERDICTS: Mapping[Judgement, str] = {
    "worth": later("worth sowing"), "possible": later("possible, but not in its good time"),
    "not": later("not recommended"),
}
OWN_WORTH_SAYING = 0.02
"""of the time to the first picking: less is not told"""
GOOD = "good"
PICKED = (GOOD, "spoilt by heat")
"""what fates call years that come to a picking"""
SELDOM = later("It counts as much as any day about then, but on all of them too little comes of it: fewer "
               "than three years in ten succeed, or heat leaves less than a seventh.")
BETTER = later("Nothing much strikes it; it is measured against the best sowing that could be made in "
               "the two months before and after it, which is picked sooner, better or in more years.")


def _stages_columns() -> tuple[Column, ...]:
    return (
        Column(tell("stage")), Column(tell("days after sowing"), align="right"),
        Column(tell("likely"), align="right"), Column(tell("date"), align="right"),
    )


def _shares_columns(what: str) -> tuple[Column, ...]:
    return (Column(what), Column(tell("years"), align="right"))


def outlook_page(answer: OutlookAnswer, words: Words) -> Page:
    """Days to each stage and the share of years by what becomes of the sowing."""
    return Page(_title(tell("Outlook"), answer, words),
                (*weather_lines(answer.site, answer.climate, words, notes=False), *_outcome(answer, words),
                 *_careful(answer, words), *weather_told(answer.climate, words)))


def why_page(answer: WhyAnswer, words: Words) -> Page:
    """The outlook, what opens and closes the window, and where every number comes from."""
    outlook, struck = answer.outlook, dict(answer.hazards).get(answer.against)
    blocks: list[Block] = [
        Text(_verdict(answer)), *_explained(answer),
        *weather_lines(outlook.site, outlook.climate, words, notes=False),
        *_outcome(outlook, words, _but(answer), struck),
    ]
    if answer.hazards:
        blocks += [Heading(tell("what struck, and how often")), *_struck(answer)]
    if answer.windows:
        blocks += [Heading(tell("its windows here")), windows_table(answer.windows, words)]
        blocks += [Items(tuple(_closing(answer)))]
    if answer.plan:
        blocks += sowings_by_year(answer.plan, words, later("in your plan: sowings of {year}"))
    blocks += [
        Heading(tell("what it is reckoned from")), Text(_scored(answer)),
        Table((Column(tell("value"), wraps=True), Column(tell("figure"), wraps=True),
               Column(tell("source"), wraps=True)),
              tuple((name, words.reckoned(figure), source) for name, figure, source in answer.values)),
        Heading(tell("sources")),
        Items(tuple(f"{key}: {reads}" for key, reads in answer.sources)),
    ]
    return Page(_title(tell("Why"), outlook, words),
                (*blocks, *_careful(outlook, words), *weather_told(outlook.climate, words)))


def _careful(answer: OutlookAnswer, words: Words) -> list[Block]:
    """The crop's cautions that hold when it is picked; all of them where that is not known."""
    first, last = answer.first_picking, answer.last_picking or answer.first_picking
    dim = first is None or last is None or in_poor_light(
        answer.site.lat, after(answer.sow, first.low), after(answer.sow, last.high))
    return of_crops([(answer.crop, answer.name)], words, dim)


def _title(kind: str, answer: OutlookAnswer, words: Words) -> str:
    use = use_here(answer.purpose, answer.site.lat, answer.crop in words.bulbs)
    how = f"{tell(WAY_WORDS[answer.way])}, {words.cover(answer.cover)}, {tell(use)}"
    what = tell("{name} sown {sow}", name=words.name(answer.name), sow=full_day(answer.sow))
    return f"{kind}: {what} ({how}), {title_place(answer.site, words)}"


def _explained(answer: WhyAnswer) -> list[Block]:
    """Why the score is what it is, where neither the verdict nor the years below bear it out."""
    if answer.judgement == "worth":
        return []
    if answer.against in (DRIED, PARCHED):
        return [Text(tell(EXPLAINED[answer.against]))]
    if answer.judgement == "not" and answer.score >= answer.worth_from:
        return [Text(tell(SELDOM))]
    if not answer.against:
        return [Text(tell(BETTER))]
    return [Text(tell(EXPLAINED[answer.against]))] if answer.against in EXPLAINED else []


def _but(answer: WhyAnswer) -> str:
    """What is told beside the good years of a day that is not good for all that; '' where they are good."""
    own_row = answer.against in (CUT_SHORT, DRIED, PARCHED)
    doubtful = answer.judgement != "worth" and answer.against in EXPLAINED and not own_row
    return answer.against if doubtful else ""


def _outcome(
    answer: OutlookAnswer, words: Words, but: str = "", struck: float | None = None
) -> list[Block]:
    bands = ((tell("up"), answer.emergence), (tell("planted out"), answer.planting_out),
             (tell("first picking"), answer.first_picking), (tell("last picking"), answer.last_picking))
    rows = tuple(_stage(name, band, answer) for name, band in bands if band is not None)
    return [
        Heading(tell("when")), *([Table(_stages_columns(), rows)] if rows else ()), *_never(answer),
        *_by_own_records(answer),
        Heading(tell("out of {members} weather years", members=answer.members)),
        _shares(_qualified(answer, but, struck), tell("what becomes of it")), *_drill(answer),
        *_stays(answer), *_under_fleece(answer),
        Text(tell("Bands hold 8 years in 10; 1 in 10 is earlier and 1 in 10 later.")),
    ]


def _by_own_records(answer: OutlookAnswer) -> Iterator[Text]:
    """How far the garden's diary moved the days."""
    if abs(answer.own_time - 1.0) >= OWN_WORTH_SAYING and answer.first_picking is not None:
        told = later("These days are your own diary's: {share:.0%} more warmth is asked than in the book.")
        less = later("These days are your own diary's: {share:.0%} less warmth is asked than in the book.")
        yield Text(tell(told if answer.own_time > 1 else less, share=abs(answer.own_time - 1.0)))


def _never(answer: OutlookAnswer) -> Iterator[Text]:
    """The stages for which no days are told, for too few years get there, or none."""
    if answer.first_picking is not None:
        return
    if answer.emergence is None:
        yield Text(tell("In most years it never comes up."))
    picked = any(share > 0 for name, share in answer.fates if name in PICKED)
    yield Text(tell("In most years it is never picked.") if picked else
               tell_n("It is picked in none of the {n} weather year.",
                      "It is picked in none of the {n} weather years.", answer.members))


def _stays(answer: OutlookAnswer) -> list[Block]:
    """What is not sown anew each year."""
    if not load_catalogue().crop(answer.crop).harvest.years:
        return []
    return [Text(tell("It stands for years: frost takes its leaf and it is cut again each spring. Lift and "
                      "divide it when the clump grows crowded. From its second year write it in the "
                      "garden file as what comes without a sowing ([[anyway]])."))]


def _under_fleece(answer: OutlookAnswer) -> list[Block]:
    """What is counted on where low crops stand a winter in a tunnel (covers.md, 12)."""
    low = not load_catalogue().crop(answer.crop).spacing.tall
    if answer.cover != "tunnel" or answer.purpose != "overwintering" or not low:
        return []
    return [Text(tell("In hard frost lay fleece over it inside the tunnel: the years are reckoned so."))]


def _drill(answer: OutlookAnswer) -> list[Block]:
    """How often the drill dries out, and what that means here."""
    drill = answer.drill
    if drill is None:
        return []
    said = tell("The drill, on {soil}: not watered, sprouting seed dries out in {unwatered} of years (at "
                "worst: no water rises from below); watered and kept moist (evenpick water) in {watered}.",
                soil=tell(drill.soil),
                unwatered=percent(drill.unwatered), watered=percent(drill.watered))
    lost = "" if drill.can_water else tell(" Nobody can water here: seed waits for rain, and years in "
                                           "which two thirds of it die count as lost.")
    return [Text(said + lost)]


def _stage(name: str, band: Band, answer: OutlookAnswer) -> tuple[str, ...]:
    first, last = after(answer.sow, band.low), after(answer.sow, band.high)
    return (name, f"{band.low:.0f}-{band.high:.0f}", f"{band.likely:.0f}", span(first, last, answer.sow.year))


def _shares(shares: Iterable[tuple[str, float]], what: str) -> Table:
    """What ever happens; the JSON has the rest too."""
    return Table(_shares_columns(what),
                 tuple((tell(name), percent(share)) for name, share in shares if share > 0))


def _qualified(answer: OutlookAnswer, but: str, struck: float | None) -> Iterator[tuple[str, float]]:
    """The fates, of the good years those apart in which little is picked, and those in which what speaks
    against the day strikes: in `struck` of all years, in every good one where that is no share of years."""
    for name, share in answer.fates:
        if name != GOOD:
            yield name, share
            continue
        whole = share - answer.cut_short
        doubtful = 0.0 if not but else whole if struck is None else min(struck, whole)
        yield name, round(whole - doubtful, 9)  # so that nothing left over is told as nought
        yield tell("good, but: {against}", against=tell(but)), doubtful
        yield tell("good, but: {against}", against=tell(CUT_SHORT)), answer.cut_short


def _verdict(answer: WhyAnswer) -> str:
    """The answer in a line, before anything that it is reckoned from."""
    worth = tell(VERDICTS[answer.judgement])
    against = tell(" What speaks most against it: {against}.",
                   against=tell(answer.against)) if answer.against else ""
    moved = "" if answer.leverage is None else f" {_moved(answer.leverage)}"
    return f"{sentence(worth)}{against}{moved}"


def _scored(answer: WhyAnswer) -> str:
    return tell("Score of this day: {score}. The best day about then has 1; from {least:.2f} it is worth "
                "sowing.", score=_score(answer), least=answer.worth_from)


def _moved(leverage: float) -> str:
    """What a week of waiting does to the first picking, in whole days."""
    days = round(7 * leverage)
    if days == 0:
        return tell("A week of waiting hardly moves the first picking.")
    if days < 0:
        return tell_n("Sown a week later it is first picked a day sooner.",
                      "Sown a week later it is first picked {days} days sooner.", -days, days=-days)
    return tell_n("Sown a week later it is first picked a day later.",
                  "Sown a week later it is first picked {days} days later.", days, days=days)


def _score(answer: WhyAnswer) -> str:
    """Two digits; three where two would read as worth sowing from."""
    short = answer.score < answer.worth_from <= round(answer.score, 2)
    return f"{answer.score:.3f}" if short else f"{answer.score:.2f}"


def _struck(answer: WhyAnswer) -> list[Block]:
    if all(share == 0 for _, share in answer.hazards):
        return [Text(tell("Nothing, in any of the years."))]
    return [_shares(answer.hazards, tell("what struck"))]


def _closing(answer: WhyAnswer) -> Iterable[str]:
    """What closes the windows of what the day is told as."""
    for row in (one for one in answer.windows if one.purpose == answer.outlook.purpose):
        if row.closed_before:
            yield tell("before {day}: {reason}", day=month_day(row.opens), reason=tell(row.closed_before))
        if row.closed_after:
            yield tell("after {day}: {reason}", day=month_day(row.closes), reason=tell(row.closed_after))
