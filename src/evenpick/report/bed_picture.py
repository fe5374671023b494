"""Our picture of beds over time in characters: weeks run to the right, each line is a stretch of a bed.

A bar opens with an upright on the week in which a crop takes its ground, says its number in the plan and its
name as far as there is room, and runs on as a line until the ground is free. Bare ground stays paper.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from evenpick.base.language import month
from evenpick.report.page import BedBar, BedLine, BedPicture

LABEL = 14
ROOM = 64
SAME = 0.6  # of their metres that two crops share to stand on one line
OPENS, EARLIER, ON = "│", "‹", "─"


def draw_beds(picture: BedPicture) -> list[str]:
    """Lines of at most 80 columns."""
    each, step = scale(len(picture.weeks))
    lines = [f"{'':<{LABEL}} {_months(picture, each, step)}"]
    for bed in picture.beds:
        lines.append(bed.name)
        lines += [_line(line, len(picture.weeks), each, step) for line in bed.lines]
    return [line.rstrip() for line in lines]


def scale(weeks: int) -> tuple[int, int]:
    """Characters for each column and weeks in it."""
    step = -(-weeks // ROOM)
    return max(1, ROOM // -(-weeks // step)), step


def _months(picture: BedPicture, each: int, step: int) -> str:
    """The month's name, as far as there is room, above the first column that begins in it."""
    cells = [" "] * (-(-len(picture.weeks) // step) * each)
    last = 0
    for at, week in enumerate(picture.weeks):
        if week.month != last:
            name = month(week.month)[: 3 if each > 1 else 1]
            cells[at // step * each : at // step * each + len(name)] = name
        last = week.month
    return "".join(cells)


def _line(line: BedLine, weeks: int, each: int, step: int) -> str:
    cells = [" "] * (-(-weeks // step) * each)
    for bar in line.bars:
        first = bar.first // step * each
        drawn = bar_text(bar, max(each, -(-bar.end // step) * each - first))
        cells[first : first + len(drawn)] = drawn
    return f"{line.label:>{LABEL}} {''.join(cells)}"


def bar_text(bar: BedBar, width: int) -> str:
    """A bar so many characters wide."""
    room = width - 1
    text = f"{bar.number} {bar.name}" if bar.number is not None else bar.name
    if bar.number is not None and room < len(str(bar.number)):
        text = ""
    return (EARLIER if bar.earlier else OPENS) + text[:room].rstrip().ljust(room, ON)


def on_lines(
    bars: Sequence[tuple[float, float, BedBar]], label: Callable[[float, float], str]
) -> Iterator[BedLine]:
    """Bars with their metres on lines, each with its `label` from and to: what follows on much the same
    metres stands on the same line."""
    lines: list[list[tuple[float, float, BedBar]]] = []
    for low, high, bar in sorted(bars, key=lambda each: (each[2].first, each[0], each[1])):
        alike = [line for line in lines
                 if line[-1][2].end <= bar.first and _shared(line[-1], low, high) >= SAME]
        line = max(alike, key=lambda line: _shared(line[-1], low, high), default=None)
        if line is None:
            lines.append(line := [])
        line.append((low, high, bar))
    for line in sorted(lines, key=lambda line: min(low for low, _, _ in line)):
        low, high = min(low for low, _, _ in line), max(high for _, high, _ in line)
        yield BedLine(label(low, high), tuple(bar for _, _, bar in line))


def _shared(last: tuple[float, float, BedBar], low: float, high: float) -> float:
    """Metres that two stretches share, of those that they take together."""
    return (min(high, last[1]) - max(low, last[0])) / max(max(high, last[1]) - min(low, last[0]), 1e-9)
