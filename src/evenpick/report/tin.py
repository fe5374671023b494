"""The seed tin: what is in it, whether it will grow, what is to be bought, how a test is done."""

from __future__ import annotations

from evenpick.base.language import later, tell
from evenpick.report.days import day
from evenpick.report.page import Block, Column, Heading, Items, Page, Table, Text
from evenpick.report.place import title_place
from evenpick.report.sowings import pieces_of_seed, seed, seed_covers, seeds_counted
from evenpick.report.words import Words, percent
from evenpick.service.tin import HOW, PacketRow, ShopRow, TinAnswer

KEPT = {
    "warm": later("in the warm (shed, tunnel)"), "room": later("in a room, dry"),
    "cool": later("cool and dry"), "cold": later("cold, in a dry jar"),
}


def _packets_columns() -> tuple[Column, ...]:
    return (
        Column(tell("packet")), Column(tell("what"), wraps=True), Column(tell("year")),
        Column(tell("left"), wraps=True), Column(tell("likely to grow"), align="right"),
        Column(tell("tested"), wraps=True), Column(tell("so"), wraps=True),
    )


def _shopping_columns() -> tuple[Column, ...]:
    return (
        Column(tell("crop"), wraps=True), Column(tell("wanted"), align="right"),
        Column(tell("weight"), align="right"), Column(tell("in the tin"), align="right"),
        Column(tell("to buy"), align="right"), Column(tell("first wanted")),
    )


def tin_page(answer: TinAnswer, words: Words, how: bool = False) -> Page:
    blocks: list[Block] = [Heading(tell("packets"))]
    if answer.packets:
        blocks += [
            Table(_packets_columns(), tuple(_packet(row, words) for row in answer.packets)),
            Text(tell("Kept {KEPT}. Likely to grow: eight lots in ten lie between the two; a test of "
                      "your own narrows them.", KEPT=tell(KEPT[answer.kept]))),
        ]
        if any(row.thicker >= 1.15 and row.verdict == "sow thicker" for row in answer.packets):
            blocks.append(Text(tell("Sow thicker: so many times the seed that fresh seed would want.")))
    else:
        blocks.append(Text(tell("The tin is empty, as far as was written down.")))
    blocks.append(Heading(tell("to buy for the coming year")))
    short = [row for row in answer.shopping if row.buy > 0]
    if answer.unplanned:
        blocks.append(Text(tell("No plan is kept, so nothing is known to be wanted. Make one: evenpick "
                                "plan")))
    elif short:
        blocks += [seed_covers(answer.covers),
                   Table(_shopping_columns(), tuple(_shop(row, words) for row in short))]
    else:
        blocks.append(Text(tell("Nothing: the tin has what the plan wants.")))
    if how:
        blocks += [Heading(tell("how to test germination")), Items(tuple(map(tell, HOW)))]
    return Page(tell("Seed tin: {site}", site=title_place(answer.site, words)), tuple(blocks))


def _packet(row: PacketRow, words: Words) -> tuple[str, ...]:
    name = words.name(row.name)
    kind = "F1" if row.f1 else tell("own seed") if row.saved else ""
    what = ", ".join(part for part in (name, row.variety, kind) if part)
    so = tell("sow {thicker:.1f} times as thick",
              thicker=row.thicker) if row.verdict == "sow thicker" else tell(row.verdict)
    return (
        row.tag, what, "" if row.year is None else str(row.year), _left(row, words),
        _span(percent(row.grows.low), percent(row.grows.high)), _tested(row), so,
    )


def _tested(row: PacketRow) -> str:
    """The last test in the diary, else what the packet or the garden file says."""
    if row.tested is not None:
        return tell("{tested} of {tested_2}, {tested_3}", tested=row.tested[2], tested_2=row.tested[1],
                    tested_3=day(row.tested[0]))
    return "" if row.germination is None else tell("{share}, undated", share=percent(row.germination))


def _span(low: str, high: str) -> str:
    """'48-89 %' of two shares; what reads the same is told once."""
    return high if low == high else f"{low[:-2]}-{high}"


def _left(row: PacketRow, words: Words) -> str:
    amount = seed(None, row.grams, words) if row.seeds is None else pieces_of_seed(row.crop, row.seeds)
    if not amount:
        return tell("not said")
    return tell("under {amount}", amount=amount) if row.reckoned else amount


def _shop(row: ShopRow, words: Words) -> tuple[str, ...]:
    return (
        words.name(row.name), seeds_counted(row.crop, row.seeds),
        "" if row.grams is None else words.grams(row.grams),
        tell("not said") if row.have is None else seeds_counted(row.crop, row.have),
        seeds_counted(row.crop, row.buy), day(row.first, None),
    )
