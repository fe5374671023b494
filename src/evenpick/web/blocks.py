"""A page's blocks as HTML, drawn once for every page: tables with headings, the picture with its numbers."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from markupsafe import Markup, escape

from evenpick.base.language import tell
from evenpick.report.bed_picture import draw_beds
from evenpick.report.days import day
from evenpick.report.page import BedPicture, Block, Column, Heading, Items, Picture, Table, Text
from evenpick.report.words import Weights, Words, capital

FEW = 10
"""lines of a table or list that are shown without being asked for: about a screen of a phone"""
COMMAND = re.compile(r"\s*\(evenpick [^)]*\)")
"""a command of the terminal in brackets, of no use on a page"""


def html(blocks: Iterable[Block], words: Words, level: int = 2, caption: str = "") -> Markup:
    """All blocks in order; `level` is that of their headings, `caption` the one before them."""
    made: list[str] = []
    for block in blocks:
        if isinstance(block, Heading):
            caption = block.text
        made += _block(block, words, caption, level)
    return Markup("\n".join(made))


def folded(blocks: Iterable[Block], words: Words, level: int = 2, first_open: bool = True) -> Markup:
    """The same with long tables and lists behind their heading, to be opened by whoever wants them; of those
    the first stays open if asked, and what can hurt someone always does."""
    made: list[Markup] = []
    for section in _sections(blocks):
        rows = sum(map(_length, section))
        if rows <= FEW or first_open or section[0] == Heading(tell("take care")):
            first_open = first_open and not any(isinstance(block, Table) for block in section)
            made.append(html(section, words, level))
            continue
        assert isinstance(section[0], Heading)
        made.append(Markup('<details class="folded"><summary>{}</summary>{}</details>').format(
            html(section[:1], words, level), html(section[1:], words, level, section[0].text)))
    return Markup("\n").join(made)


def _sections(blocks: Iterable[Block]) -> Iterator[list[Block]]:
    """Each heading with what stands below it; what stands before the first is never long."""
    section: list[Block] = []
    for block in blocks:
        if isinstance(block, Heading) and section:
            yield section
            section = []
        section.append(block)
    if section:
        yield section


def _length(block: Block) -> int:
    """Lines that it takes at the least; none for what is seen at a glance."""
    match block:
        case Table():
            return len(block.rows)
        case Items(entries):
            return len(entries)
    return 0


def slug(text: str) -> str:
    """A heading's name for links."""
    return re.sub(r"\W+", "-", text.casefold()).strip("-")


def _block(block: Block, words: Words, caption: str, level: int) -> Iterator[str]:
    match block:
        case Heading(text):
            yield f'<h{level} id="{slug(text)}">{escape(capital(text))}</h{level}>'
        case Text(text):
            text = COMMAND.sub("", text)
            caution = text.startswith((tell("CAUTION"), tell("INVENTED")))
            yield f'<p{" class=caution" if caution else ""}>{escape(text)}</p>'
        case Items(entries):
            yield "<ul>" + "".join(f"<li>{escape(entry)}</li>" for entry in entries) + "</ul>"
        case Table():
            yield table(block, caption)
        case Picture():
            yield numbers(block, words)
        case BedPicture():
            drawn = escape("\n".join(draw_beds(block)))
            told = escape(tell("{caption}: beds by week; the table below says the same",
                               caption=capital(caption)))
            yield f'<div class="wide"><pre role="img" tabindex="0" aria-label="{told}">{drawn}</pre></div>'


def table(block: Table, caption: str) -> str:
    """Headings with their scope; on a narrow screen each row is a small card with its headings in it."""
    columns = [block.columns[at] for at in block.beside]
    parts = [f'<table role="table"><caption class="unseen">{escape(capital(caption))}</caption>',
             '<thead role="rowgroup"><tr role="row">', *map(_heading, columns), "</tr></thead>",
             '<tbody role="rowgroup">']
    for row in block.rows:
        parts += ['<tr role="row">', *_cells(columns, [row[at] for at in block.beside]), "</tr>"]
        said = "; ".join(row[at] for at in block.below if row[at])
        if said:
            parts.append(f'<tr role="row" class="below"><td role="cell" colspan="{len(columns)}">'
                         f"{escape(said)}</td></tr>")
    return "".join([*parts, "</tbody></table>"])


def _heading(column: Column) -> str:
    side = ' class="figure"' if column.align == "right" else ""
    unit = f" <small>{escape(column.unit)}</small>" if column.unit else ""
    return f'<th role="columnheader" scope="col"{side}>{escape(column.heading)}{unit}</th>'


def _cells(columns: Sequence[Column], cells: Sequence[str]) -> Iterator[str]:
    for at, (column, cell) in enumerate(zip(columns, cells, strict=True)):
        if at == 0:
            yield f'<th role="rowheader" scope="row">{escape(cell)}</th>'
            continue
        side = ' class="figure"' if column.align == "right" else ""
        counts = column.unit and any(letter.isnumeric() for letter in cell)  # "once" is no number of days
        unit = f' data-unit=" {escape(column.unit)}"' if counts else ""
        yield f'<td role="cell"{side} data-head="{escape(column.heading)}"{unit}>{escape(cell)}</td>'


def numbers(picture: Picture, words: Words) -> str:
    """The picture's numbers: likely of wanted, one row an item, one column a week."""
    if not picture.rows:
        return f"<p>{tell('Nothing is wanted.')}</p>"
    weights = words.weights(max(cell.wanted, cell.likely) for row in picture.rows for cell in row.cells)
    heads = "".join(f"<th scope=col>{day(week)}" for week in picture.weeks)
    rows = []
    for row in picture.rows:
        cells = "".join(
            "<td>" if cell.wanted <= 0 and cell.likely <= 0 else
            f"<td>{_figure(cell.likely, weights)}/{_figure(cell.wanted, weights)}" for cell in row.cells
        )
        rows.append(f"<tr><th scope=row>{escape(row.label)}{cells}")
    told = tell("Likely / wanted by week, {unit}", unit=weights.unit)
    return (f'<div class="wide" role="region" tabindex="0" aria-label="{tell("Numbers of the picture")}">'
            f'<table class="plain"><caption>{told}</caption>'
            f"<thead><tr><th scope=col>{tell('week of')}{heads}</thead>"
            f"<tbody>{''.join(rows)}</tbody></table></div>")


def _figure(kg: float, weights: Weights) -> str:
    return weights.figure(kg) if kg * weights.per_kg >= 0.005 else "0"
