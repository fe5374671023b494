"""What to water in a garden today: what is due, what wants a look, what may be left and until when."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

from evenpick.base.language import later, tell
from evenpick.report.days import day, full_day
from evenpick.report.page import Block, Column, Heading, Items, Page, Table, Text
from evenpick.report.place import title_place, weather_lines, weather_notes
from evenpick.report.water import GALLON, day_shape, left_shape, left_words, litres, spread
from evenpick.report.words import Words, percent, sentence
from evenpick.service.water_answer import ON_THE_DRILL, WateringAnswer, WaterRow

NONE = later("Nothing that the diary tells of stands in the ground, and nothing is to be sown in its place "
             "this week.")
YEARS = later("Years: share of this place's weather years in which water is due today. Rain that you "
              "measured is reckoned with in all of them, once it is in the diary.")

HOSE = later("By the hose? Time how long it takes to fill a can of {can}: so long for each can of it.")
CAN, GALLONS = 10.0, 2
"""of a can: litres, or gallons as the reader counts them (common practice, no source)"""
SHORT = later("Not water enough for all? First what is sown and not up, and what was just set out: seed that "
              "has sprouted dies of one dry spell. Then what slows already. What has only used what the "
              "ground gives easily grows a little slower for each day that it waits.")


def watering_page(answer: WateringAnswer, words: Words) -> Page:
    """Due, to be looked at, watered already, to be left; then cautions and what was assumed."""
    due, look, had, left, dry = sorted_rows(answer)
    blocks: list[Block] = [*weather_lines(answer.site, answer.climate, words, notes=False)]
    for heading, rows in ((tell("water"), due), (tell("look first"), look)):
        if rows:
            blocks += [Heading(heading), Table(_due_columns(), tuple(_due(row, words) for row in rows))]
    if due or look:
        blocks.append(Text(tell(YEARS)))
    if due:
        blocks.append(Text(hose(words)))
    if len(due) > 1:
        blocks.append(Text(tell(SHORT)))
    for heading, rows in ((tell("watered today"), had), (tell("leave"), left)):
        if rows:
            told = tuple(_left(row, answer, words) for row in rows)
            blocks += [Heading(heading), Table(_left_columns(), told)]
    if dry:
        blocks += [
            Heading(tell("left to the rain")),
            Table(_dry_columns(), tuple(_dry(row, words) for row in dry)),
        ]
    if not answer.rows:
        blocks.append(Text(tell(NONE)))
    if answer.bench:
        blocks += [Heading(tell("on the bench")), Text(bench_words(answer, words))]
    blocks += [Heading(tell("take care")), Items(answer.cautions), Heading(tell("what was assumed")),
               Items((*map(words.assumed, answer.notes), *weather_notes(answer.climate, words)))]
    return Page(tell("Water, {date}: {site}", date=full_day(answer.on),
                     site=title_place(answer.site, words)), tuple(blocks))


def _due_columns() -> tuple[Column, ...]:
    return (
        Column(tell("what"), wraps=True), Column(tell("where"), wraps=True), Column(tell("pour"), wraps=True),
        Column(tell("in all"), align="right"), Column(tell("years"), align="right"),
        Column(tell("why"), below=True),
    )


def _left_columns() -> tuple[Column, ...]:
    return (
        Column(tell("what"), wraps=True), Column(tell("where"), wraps=True), Column(tell("next due")),
        Column(tell("why"), below=True),
    )


def sorted_rows(answer: WateringAnswer) -> tuple[list[WaterRow], ...]:
    """Rows to water, to look at, watered on that day already, to leave; and of ground that nobody waters."""
    dry = [row for row in answer.rows if row.left is not None]
    had = [row for row in answer.rows if row.watered == answer.on and row.left is None]
    open_rows = [row for row in answer.rows if row.watered != answer.on and row.left is None]
    of = {advice: [row for row in open_rows if row.today.advice == advice]
          for advice in ("water", "perhaps", "leave")}
    return of["water"], of["perhaps"], had, of["leave"], dry


def watering_shape(answer: WateringAnswer, words: Words) -> dict[str, Any]:
    """The answer for other programs (docs/interface.md)."""
    return {
        "site": asdict(answer.site), "climate": asdict(answer.climate), "on": answer.on, "soil": answer.soil,
        "rows": [{
            "sowing": row.sowing, "planned": row.planned, "crop": row.crop, "name": words.name(row.name),
            "way": row.way, "cover": row.cover, "ground": row.ground, "sow": row.sow, "area_m2": row.area_m2,
            "today": day_shape(row.today), "litres": row.litres, "next_due": row.next_due,
            "watered": row.watered, "pots": row.pots, "left": left_shape(row.left),
        } for row in answer.rows],
        "bench": [{"sowing": sowing, "name": words.name(name)} for sowing, name in answer.bench],
        "notes": answer.notes, "cautions": answer.cautions,
    }


def where(row: WaterRow, words: Words) -> str:
    return words.place(row.ground, row.cover)


def what(row: WaterRow, words: Words) -> str:
    """'Early carrot'; 'Early carrot, to be sown' where it is not in the ground yet."""
    name = words.name(row.name)
    return name if row.sowing is not None else tell("{name}, to be sown", name=name)


def pour(row: WaterRow, words: Words) -> str:
    """'0.8 l a metre of drill', '5 l a plant', '1.2 l a pot': what is poured where water is due."""
    if row.pots and row.today.phase not in ON_THE_DRILL:
        return tell("{volume} a pot", volume=litres(row.litres / row.pots, words))
    return spread(row.today, words)


def hose(words: Words) -> str:
    """How a hose's minutes are found, which nobody here can know."""
    return tell(HOSE, can=litres(_can(words), words))


def _can(words: Words) -> float:
    """Litres of the can that is counted by."""
    return GALLONS * GALLON[words.english] if words.imperial else CAN


def in_all(row: WaterRow, words: Words) -> str:
    """'about 9 l'; 'about 140 l, 14 cans' where it fills more than one."""
    if not row.litres:
        return ""
    cans = round(row.litres / _can(words))
    volume = litres(row.litres, words)
    return tell("about {volume}, {cans} cans", volume=volume, cans=cans) if cans > 1 else tell(
        "about {volume}", volume=volume)


def next_words(row: WaterRow, answer: WateringAnswer) -> str:
    return tell("not in a fortnight") if row.next_due is None else day(row.next_due, answer.on.year)


def bench_words(answer: WateringAnswer, words: Words) -> str:
    names: Sequence[str] = list(dict.fromkeys(words.name(name) for _, name in answer.bench))
    return tell("{names}: keep them moist; nothing is reckoned for what is raised there.",
                names=", ".join(names))


def _dry_columns() -> tuple[Column, ...]:
    return (
        Column(tell("what"), wraps=True),
        Column(tell("where"), wraps=True),
        Column(tell("what it costs"), wraps=True),
    )


def _dry(row: WaterRow, words: Words) -> tuple[str, ...]:
    said = f"{sentence(row.today.why)} {left_words(row.left, row.today.phase)}".strip()
    return what(row, words), where(row, words), said


def _due(row: WaterRow, words: Words) -> tuple[str, ...]:
    share = percent(row.today.share)
    return (what(row, words), where(row, words), pour(row, words), in_all(row, words), share,
            sentence(row.today.why))


def _left(row: WaterRow, answer: WateringAnswer, words: Words) -> tuple[str, ...]:
    return what(row, words), where(row, words), next_words(row, answer), sentence(row.today.why)
