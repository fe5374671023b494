"""What to water: today first, then the fortnight, then what each step of the seedbed's routine is worth."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from evenpick.base.language import later, tell, tell_n
from evenpick.garden.amounts import FOOT
from evenpick.report.days import day, full_day
from evenpick.report.page import Block, Column, Heading, Items, Page, Table, Text
from evenpick.report.place import title_place, weather_lines, weather_notes
from evenpick.report.words import Words, figure, percent, sentence
from evenpick.service.water_answer import ON_THE_DRILL, LeftDry, Phase, StepWorth, WaterAnswer, WaterDay

GALLON = {"american": 3.785411784, "british": 4.54609}
"""litres (nist811; the British from the Weights and Measures Act 1985, memory)"""
INCH = FOOT / 12 * 1000
AS_LIKELY = "~"
LEAST_SHORT = 0.05
"""of the water it could use: less is not worth a word"""


def water_page(answer: WaterAnswer, words: Words) -> Page:
    """The day's advice, the days ahead, what the routine is worth, cautions, what was assumed."""
    blocks = (*weather_lines(answer.site, answer.climate, words, notes=False), *water_blocks(answer, words))
    return Page(tell("Water for {name}: {site}", name=words.name(answer.name),
                     site=title_place(answer.site, words)), blocks)


def water_blocks(answer: WaterAnswer, words: Words) -> tuple[Block, ...]:
    """The page without its weather."""
    from evenpick.soil.seedbed import AFTER  # loads numpy, which a page of today's jobs has no need of

    blocks: list[Block] = [
        Text(_sown(answer, words)),
        Heading(full_day(answer.on)), *_today(answer, words),
        Heading(tell("the fortnight")), _fortnight(answer, words), Text(_reading(answer, words)),
    ]
    if answer.steps:
        blocks += [Heading(tell("what each step is worth")), _steps(answer.steps, words), Text(
            tell("Dries: share of this place's years in which the seed's layer is too dry on two "
                 "evenings running before it is up: how often it wants water. Lost: share in which that "
                 "costs two thirds of the stand or more. Holds: days from coming up to the first dry evening "
                 "({most}: or more). What holding back is worth is not reckoned.", most=AFTER))]
    blocks += [Heading(tell("take care")), Items(tuple(map(tell, answer.cautions))),
               Heading(tell("what was assumed")),
               Items((*map(words.assumed, answer.notes), *weather_notes(answer.climate, words)))]
    return tuple(blocks)


def water_shape(answer: WaterAnswer, words: Words) -> dict[str, Any]:
    """The answer for other programs (docs/interface.md)."""
    up = answer.up and dict(zip(("p10", "p50", "p90"), answer.up, strict=True))
    return {
        "site": asdict(answer.site), "climate": asdict(answer.climate), "crop": answer.crop,
        "name": words.name(answer.name), "way": answer.way, "cover": answer.cover, "soil": answer.soil,
        "sow": answer.sow, "on": answer.on, "between_rows_m": answer.row, "band_m": answer.band, "up": up,
        "next_due": answer.next_due, "days": [day_shape(one) for one in answer.days],
        "steps": [{"step": one.step, "dries": one.dries, "holds_days": one.moist_after,
                   "lost": one.lost, "litres_per_m": one.per_metre} for one in answer.steps],
        "left": left_shape(answer.left), "notes": answer.notes, "cautions": answer.cautions,
    }


def left_shape(left: LeftDry | None) -> dict[str, Any] | None:
    """What it costs that nobody waters, for other programs."""
    if left is None:
        return None
    return {"lost": left.lost, "short": dict(zip(("p10", "p50", "p90"), left.short, strict=True))}


def day_shape(one: WaterDay) -> dict[str, Any]:
    return {
        "day": one.when, "recorded": one.recorded, "phase": one.phase, "rain_mm": one.rain, "et0_mm": one.et0,
        "advice": one.advice, "share": one.share, "litres_per_m2": one.per_m2,
        "litres_per_m": one.per_metre, "litres_per_plant": one.per_plant, "gone_mm": one.gone,
        "easy_mm": one.easy, "because": one.why,
    }


def _sown(answer: WaterAnswer, words: Words) -> str:
    how = {"direct": later("Sown in place {sow}, {cover}, on {soil}."),
           "raised": later("Raised, sown {sow}, {cover}, on {soil}."),
           "planted": later("Planted {sow}, {cover}, on {soil}.")}[answer.way]
    there = tell("Planted out") if answer.way == "raised" else tell("Up")
    said = tell(how, sow=full_day(answer.sow), cover=words.cover(answer.cover), soil=tell(answer.soil))
    if answer.up is None or answer.way == "planted":
        return said
    early, likely, late = (day(one, answer.sow.year) for one in answer.up)
    doubt = "" if early == late else tell(" ({early} to {late})", early=early, late=late)
    return f"{said} {there}: {likely}{doubt}."


def _today(answer: WaterAnswer, words: Words) -> tuple[Text, ...]:
    first = answer.days[0]
    if answer.left is not None:
        return _rain(answer, words)
    if first.advice == "water":
        return (Text(tell("Water: {first}. {why}", first=_amount(first, words), why=sentence(first.why))),)
    if first.advice == "perhaps":
        return (Text(tell("Look first: water is due in {share} of years, then {first}. {why}",
                          share=percent(first.share), first=_amount(first, words), why=sentence(first.why))),)
    wait = tell("not in these days") if answer.next_due is None else day(answer.next_due, answer.on.year)
    return (Text(tell("Leave it. {why} Next due: {wait}.", why=sentence(first.why), wait=wait)),)


def _rain(answer: WaterAnswer, words: Words) -> tuple[Text, ...]:
    """Of ground that nobody waters: what is, what that costs, and what a can would be worth."""
    first = answer.days[0]
    said = tell(
        "Nobody waters here, says the garden file. {why} {cost}",
        why=sentence(first.why),
        cost=left_words(answer.left, first.phase),
    )
    if first.phase not in ON_THE_DRILL or not answer.steps:
        return (Text(said.strip()),)
    _, once, moist, _ = answer.steps
    can = tell(
        "No water is worth more than a can along the drill: over the years here kept moist until it is up "
        "({volume} in all) it is lost in {moist}, the open drill watered once and then left in {once}.",
        volume=water_on_drill(moist.per_metre, words),
        moist=percent(moist.lost),
        once=percent(once.lost),
    )
    return Text(said.strip()), Text(can)


def left_words(left: LeftDry | None, phase: Phase) -> str:
    """What it costs in words; empty where that is nothing to speak of."""
    if left is None or phase == "over":
        return ""
    if phase in ON_THE_DRILL:
        return tell("Left to the rain it is lost in {lost} of years.", lost=percent(left.lost))
    low, _, high = left.short
    if high < LEAST_SHORT:
        return tell("So far the rain did.")
    return tell(
        "So far it went without {low} to {high} of the water it could use, and yields less by about as much.",
        low=percent(low),
        high=percent(high),
    )


def _fortnight(answer: WaterAnswer, words: Words) -> Table:
    """The days; how many years where a day is not measured, and what is gone where a crop stands."""
    depth, volume, each = ("in", tell("gal"), tell("yard")) if words.imperial else ("mm", "l", "m")
    area = tell("sq yd") if words.imperial else "m²"
    likely = not all(one.recorded for one in answer.days)
    stands = any(one.gone is not None for one in answer.days)
    columns = (
        Column(tell("day")), Column(tell("rain"), depth, "right"), Column(tell("air"), depth, "right"),
        Column(tell("do")), *((Column(tell("years"), align="right"),) if likely else ()),
        Column(area, volume, "right"), Column(each, volume, "right"),
        *((Column(tell("gone"), depth, "right"), Column(tell("easy"), depth, "right")) if stands else ()),
        Column(tell("why"), wraps=True),
    )
    return Table(columns, tuple(_row(one, answer, words, likely, stands) for one in answer.days))


def _row(one: WaterDay, answer: WaterAnswer, words: Words, likely: bool, stands: bool) -> tuple[str, ...]:
    some = one.advice != "leave" and answer.left is None
    ground = tuple("" if mm is None else _depth(mm, words, 0) for mm in (one.gone, one.easy))
    return (
        f"{day(one.when, answer.on.year)}{'' if one.recorded else f' {AS_LIKELY}'}", _depth(one.rain, words),
        _depth(one.et0, words), tell(one.advice), *((percent(one.share),) if likely else ()),
        _volume(one.per_m2 * _yard(words) ** 2, words) if some else "",
        _volume(one.per_metre * _yard(words), words) if some else "", *(ground if stands else ()), one.why,
    )


def _reading(answer: WaterAnswer, words: Words) -> str:
    """What the columns mean, as far as they are there."""
    said = [tell("Air: what the air draws from grass.")]
    if not all(one.recorded for one in answer.days):
        said.append(tell("{mark}: not measured, so as this place's years have it: the mean of rain "
                         "and air, and the share of years in which water is due.", mark=AS_LIKELY))
    if answer.way == "direct" and answer.left is None:
        said.append(tell("Until it is up the drill alone is watered, a strip {band} {gap_unit} wide; "
                         "from then on the ground between rows too.", band=words.gap(answer.band),
                         gap_unit=words.gap_unit))
    if any(one.gone is not None for one in answer.days):
        said.append(tell("Gone: lost from the roots' ground by morning. Easy: what it gives before "
                         "growth slows."))
    said.append(tell("The day's own rain counts as known."))
    return " ".join(said)


def _steps(steps: tuple[StepWorth, ...], words: Words) -> Table:
    litres = tell("gal") if words.imperial else "l"
    columns = (Column(tell("step"), wraps=True), Column(tell("dries"), align="right"),
               Column(tell("lost"), align="right"), Column(tell("holds"), tell("days"), "right"),
               Column(tell("yard") if words.imperial else tell("each m"), litres, "right"))
    return Table(columns, tuple(
        (tell(one.step), percent(one.dries), percent(one.lost), f"{one.moist_after:.0f}",
         _volume(one.per_metre * _yard(words), words))
        for one in steps
    ))


def _amount(one: WaterDay, words: Words) -> str:
    yard = words.imperial
    strip = _volume(one.per_metre * _yard(words), words)
    n = 1 if strip == "1" else 2
    each = (tell_n("{strip} gallon on a yard", "{strip} gallons on a yard", n, strip=strip) if yard
            else tell_n("{strip} litre on a metre", "{strip} litres on a metre", n, strip=strip))
    plant = "" if one.per_plant is None else tell(", {per_plant} a plant",
                                                  per_plant=_volume(one.per_plant, words))
    area = tell(later("{per_m2} on a square yard") if yard else later("{per_m2} on a square metre"),
                per_m2=_volume(one.per_m2 * _yard(words) ** 2, words))
    said = (later("{each} of drill{plant} ({area})") if one.phase in ON_THE_DRILL
            else later("{each} of row{plant} ({area})"))
    return tell(said, each=each, plant=plant, area=area)


def spread(one: WaterDay, words: Words) -> str:
    """'0.8 l a metre of drill', '5 l a plant', '1.2 gal a yard of row': what is poured where water is due."""
    if one.per_plant is not None:
        return tell("{volume} a plant", volume=litres(one.per_plant, words))
    said = later("{volume} of drill") if one.phase in ON_THE_DRILL else later("{volume} of row")
    return tell(said, volume=water_on_drill(one.per_metre, words))


def litres(volume: float, words: Words) -> str:
    """'12 l', '2.6 gal'."""
    said = later("{volume} gal") if words.imperial else later("{volume} l")
    return tell(said, volume=_volume(volume, words))


def water_on_drill(litres_per_m: float, words: Words) -> str:
    """'0.8 l a metre', '0.2 gal a yard'."""
    said = later("{volume} gal a yard") if words.imperial else later("{volume} l a metre")
    return tell(said, volume=_volume(litres_per_m * _yard(words), words))


def _yard(words: Words) -> float:
    """Metres in the reader's length."""
    return 3 * FOOT if words.imperial else 1.0


def _volume(litres: float, words: Words) -> str:
    return figure(litres / GALLON[words.english] if words.imperial else litres)


def _depth(mm: float, words: Words, places: int = 1) -> str:
    return f"{mm / INCH:.{places + 1}f}" if words.imperial else f"{mm:.{places}f}"
