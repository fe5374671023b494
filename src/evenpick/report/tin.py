"""The seed tin: what is in it, whether it will grow, what is to be bought, how a test is done."""

from __future__ import annotations

from evenpick.report.page import Block, Column, Heading, Items, Page, Table, Text
from evenpick.report.place import title_place
from evenpick.report.sowings import seed
from evenpick.report.words import Words, count, day, percent
from evenpick.service.tin import HOW, PacketRow, ShopRow, TinAnswer

PACKETS = (
    Column("packet"), Column("what", wraps=True), Column("year"), Column("left", wraps=True),
    Column("likely to grow", align="right"), Column("tested", wraps=True), Column("so", wraps=True),
)
SHOPPING = (
    Column("crop", wraps=True), Column("wanted", align="right"), Column("weight", align="right"),
    Column("in the tin", align="right"), Column("to buy", align="right"), Column("first wanted"),
)
KEPT = {
    "warm": "in the warm (shed, tunnel)", "room": "in a room, dry", "cool": "cool and dry",
    "cold": "cold, in a dry jar",
}


def tin_page(answer: TinAnswer, words: Words, how: bool = False) -> Page:
    blocks: list[Block] = [Heading("packets")]
    if answer.packets:
        blocks += [
            Table(PACKETS, tuple(_packet(row, words) for row in answer.packets)),
            Text(f"Kept {KEPT[answer.kept]}. Likely to grow: eight lots in ten lie between the two; a "
                 "test of your own narrows them."),
        ]
        if any(row.thicker >= 1.15 and row.verdict == "sow thicker" for row in answer.packets):
            blocks.append(Text("Sow thicker: so many times the seed that fresh seed would want."))
    else:
        blocks.append(Text("The tin is empty, as far as was written down."))
    blocks.append(Heading("to buy for the coming year"))
    short = [row for row in answer.shopping if row.buy > 0]
    if answer.unplanned:
        blocks.append(Text("No plan is kept, so nothing is known to be wanted. Make one: evenpick plan"))
    elif short:
        blocks.append(Table(SHOPPING, tuple(_shop(row, words) for row in short)))
    else:
        blocks.append(Text("Nothing: the tin has what the plan wants."))
    if how:
        blocks += [Heading("how to test germination"), Items(HOW)]
    return Page(f"Seed tin: {title_place(answer.site, words)}", tuple(blocks))


def _packet(row: PacketRow, words: Words) -> tuple[str, ...]:
    name = words.name(row.name)
    kind = "F1" if row.f1 else "own seed" if row.saved else ""
    what = ", ".join(part for part in (name, row.variety, kind) if part)
    test = "" if row.tested is None else f"{row.tested[2]} of {row.tested[1]}, {day(row.tested[0])}"
    so = f"sow {row.thicker:.1f} times as thick" if row.verdict == "sow thicker" else row.verdict
    return (
        row.tag, what, "" if row.year is None else str(row.year), _left(row, words),
        f"{percent(row.grows.low)[:-2]}-{percent(row.grows.high)}", test, so,
    )


def _left(row: PacketRow, words: Words) -> str:
    amount = f"{count(row.seeds)} seeds" if row.seeds is not None else seed(None, row.grams, words)
    if not amount:
        return "not said"
    return f"under {amount}" if row.reckoned else amount


def _shop(row: ShopRow, words: Words) -> tuple[str, ...]:
    return (
        words.name(row.name), count(row.seeds), "" if row.grams is None else words.grams(row.grams),
        "not said" if row.have is None else count(row.have), count(row.buy), day(row.first, None),
    )
