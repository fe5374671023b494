"""Our picture of the year in characters (docs/interface.md shows how to read it).

An item is one line, a week one character: the foot line is what is wanted, the block fills the cell as far
as the likely pickings go, paper stays white, and a plus says that some is left over. The total stands above
on a scale: blocks up to what is wanted and there, a line at what is wanted, plus signs above it for spare.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from evenpick.base.language import later, month, tell
from evenpick.report.page import Picture, PictureRow, WeekCell

FILLS = "_▁▂▃▄▅▆▇█"  # by eighths of what is wanted
FULL, SPARE, LINE, NOT_YET = "█", "+", "─", "."
MUCH = 1.25  # times what is wanted: from here on some is spare
LITTLE = 0.05  # of the item's best week: less than that is no picking
LABEL = 16
LEVELS = 8
KEY = (
    later("Key: █ wanted and there   ▂▄▆ part of it   _ wanted and bare   + more than that"),
    later("     . wanted, and nothing sown from now is ripe   (blank: nothing wanted)"),
)


def draw(picture: Picture) -> list[str]:
    """Lines of at most 80 columns for up to 52 weeks."""
    if not picture.rows:
        return [tell("Nothing is wanted.")]
    months = " " * (LABEL + 1) + _months(picture.weeks)
    return [
        *_total(picture),
        f"{months} {tell('bare')} {tell('spare')}",
        *(f"{_label(row.label):<{LABEL}} {_cells(row)} {_share(row.bare)}  {_share(row.spare)}"
          for row in picture.rows),
        *map(tell, KEY),
    ]


def mark(cell: WeekCell, best: float) -> str:
    """The one character of a week."""
    if cell.likely > max(cell.wanted * MUCH, LITTLE * best):
        return SPARE
    if cell.wanted <= 0:
        return " "
    if not cell.held:
        return NOT_YET
    return FILLS[int(min(1.0, cell.likely / cell.wanted) * 8 + 0.5)]


def _label(text: str) -> str:
    return text if len(text) <= LABEL else f"{text[: LABEL - 1]}…"


def _cells(row: PictureRow) -> str:
    best = max((max(cell.wanted, cell.likely) for cell in row.cells), default=0.0)
    return "".join(mark(cell, best) for cell in row.cells)


def _months(weeks: Sequence[date]) -> str:
    """The month's initial above the first week that begins in it."""
    numbers = [week.month for week in weeks]
    return "".join(
        month(number)[0] if at == 0 or numbers[at - 1] != number else " " for at, number in enumerate(numbers)
    )


def _share(share: float | None) -> str:
    return f"{'':>4}" if share is None else f"{share * 100:3.0f}%"


def totals(rows: Sequence[PictureRow]) -> list[tuple[float, float, float]]:
    """Wanted, wanted and there, and spare of each week, summed over the items, kg.

    Item by item: what is over of one does not fill what is bare of another.
    """
    weeks = zip(*(row.cells for row in rows), strict=True)
    return [(sum(cell.wanted for cell in week), sum(min(cell.wanted, cell.likely) for cell in week),
             sum(max(0.0, cell.likely - cell.wanted) for cell in week)) for week in weeks]


def _total(picture: Picture) -> Iterator[str]:
    """Eight lines from the top."""
    weeks = totals(picture.rows)
    top = max(wanted + spare for wanted, _, spare in weeks)
    if top <= 0:
        return
    columns = [_column(*(kg / top for kg in week)) for week in weeks]
    for level in reversed(range(LEVELS)):
        label = {LEVELS - 1: tell("all together"),
                 LEVELS - 2: tell("to {tallest}", tallest=picture.tallest)}.get(level, "")
        yield f"{label:<{LABEL}} {''.join(column[level] for column in columns)}"


def _column(wanted: float, there: float, spare: float) -> str:
    """One week from the ground up; the shares are of the tallest week."""
    line, filled, above = (round(share * LEVELS) for share in (wanted, there, wanted + spare))
    cells = FULL * filled + " " * max(0, line - filled)
    if line > filled:
        cells = cells[: line - 1] + LINE
    return (cells + SPARE * max(0, above - line)).ljust(LEVELS)[:LEVELS]
