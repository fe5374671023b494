"""The picking list of a week, by outlet."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from urllib.parse import urlencode

from markupsafe import Markup, escape

from evenpick.base.language import tell
from evenpick.garden.garden import Garden
from evenpick.report.pickings import about, shared_told, to_fetch
from evenpick.report.shares import shares_told
from evenpick.report.words import Words
from evenpick.service.picking_list import LEAST, ListedItem, picking_list
from evenpick.service.plan_answer import PlanAnswer
from evenpick.service.week_shares import week_shares
from evenpick.web.blocks import html


def week_list(
    plan: PlanAnswer, garden: Garden, day: date, words: Words, week: str = "", explained: bool = True
) -> Markup:
    """The picking list of the week of a day, and what a share comes to; its figures `explained` once."""
    items = picking_list(plan.pickings, garden.wishes, day)
    shares = shares_told(week_shares(items, garden.outlets, garden.money), words)
    return list_table(items, words, week, explained=explained) + html(shares, words)


def list_table(
    items: Sequence[ListedItem], words: Words, week: str = "", nothing: str = "", explained: bool = True
) -> Markup:
    """Items by row, what each outlet gets in its column; the item links to its why. `nothing` is what is said
    where there are none, if it is not that nothing is ripe."""
    if not items:
        said = nothing or tell("Nothing is likely to be ripe, and nothing is wanted.")
        return Markup(f"<p>{escape(said)}</p>")
    there, seldom = to_fetch((item for item in items if item.have.high > LEAST), words)
    parts = shared_told(((item.item, item.of_all) for item in there), words)
    good = "".join(f"<p>{escape(said)}</p>" for said in (parts, seldom) if said)
    bare = [tell("{item} ({wanted} wanted)", item=escape(item.item),
                 wanted=escape(words.weight(item.wanted))) for item in items
            if item.have.high <= LEAST]
    none = f"<p>{tell('Nothing yet of: {items}.', items=', '.join(bare))}</p>" if bare else ""
    return Markup((_table(there, words, week, explained) if there else "") + good + none)


def _table(items: Sequence[ListedItem], words: Words, week: str, explained: bool) -> str:
    outlets = list(dict.fromkeys(share.outlet for item in items for share in item.outlets))
    heads = "".join(f'<th role="columnheader" scope="col" class="figure">{escape(outlet)}</th>'
                    for outlet in outlets)
    rows = "".join(_row(item, outlets, words, week) for item in items)
    caption = tell("Likely to be had; in brackets a poor and a good year of ten. Then for whom, of what each "
                   "wants") if explained else ""
    caption = caption and f"<caption>{caption}</caption>"
    return (
        f'<table role="table">{caption}<thead role="rowgroup"><tr role="row">'
        f'<th role="columnheader" scope="col">{tell("item")}</th>'
        f'<th role="columnheader" scope="col" class="figure">{tell("likely")}</th>{heads}'
        f'<th role="columnheader" scope="col" class="figure">{tell("over")}</th></tr></thead>'
        f'<tbody role="rowgroup">{rows}</tbody></table>'
    )


def _row(item: ListedItem, outlets: Sequence[str], words: Words, week: str) -> str:
    shares = {share.outlet: share for share in item.outlets}
    link = f"/why/picking?{urlencode({'item': item.item, 'week': week} if week else {'item': item.item})}"
    have = item.have
    pieces = about(have.likely, item.piece, item.piece_kg)
    count = tell(", about {pieces}", pieces=pieces) if pieces else ""
    cells = [f'<th role="rowheader" scope="row"><a href="{escape(link)}">{escape(item.item)}</a></th>',
             _cell(tell("likely"), f"{words.likely(have.likely, have.low, have.high)}{count}")]
    for outlet in outlets:
        share = shares.get(outlet)
        said = "" if share is None else tell("{likely} of {wanted}", likely=words.weight(share.likely),
                                             wanted=words.weight(share.wanted))
        cells.append(_cell(outlet, said))
    spare = words.weight(item.spare) if item.spare > 0.05 * max(item.wanted, 0.1) else ""
    cells.append(_cell(tell("over"), spare))
    return f'<tr role="row">{"".join(cells)}</tr>'


def _cell(head: str, said: str) -> str:
    return f'<td role="cell" class="figure" data-head="{escape(head)}">{escape(said)}</td>'
