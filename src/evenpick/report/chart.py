"""Charts: one Vega-Lite specification for each, as plain dicts, drawn to SVG for page, paper and file.

Every place in a specification is in pixels of the chart and reckoned here, so that it reads the same in any
width and its numbers stay short. Colours: the eight that colour-blind readers tell apart (wong2011).
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import lru_cache
from html import escape
from itertools import pairwise
from textwrap import wrap
from typing import Any, TypeAlias

from evenpick.base.language import month, tell, tell_n
from evenpick.report.page import Picture, PictureRow
from evenpick.report.picture import totals

Spec: TypeAlias = dict[str, Any]
ORANGE, SKY, GREEN, YELLOW, BLUE, VERMILION, PURPLE = (
    "#E69F00", "#56B4E9", "#009E73", "#F0E442", "#0072B2", "#D55E00", "#CC79A7"
)
BANDS = (GREEN, ORANGE, BLUE, PURPLE, SKY, VERMILION, YELLOW)
"""of wong2011, ordered so that neighbours differ in lightness too; black is left for lines"""
INK, FAINT, SPARE = "#1c211c", "#8b8878", "#6f6a5c"
LIGHT = (0.2126, 0.7152, 0.0722)
"""of red, green and blue in what the eye takes as light (ITU-R BT.709; from memory)"""
SCHEMA = "https://vega.github.io/schema/vega-lite/v6.json"
VL_VERSION = "6.4"
THIN: Spec = {"color": FAINT, "strokeWidth": 0.5}
STYLE = (
    "@media (prefers-color-scheme:dark){"
    f'[fill="{INK}"]{{fill:#ece7d8}}[stroke="{INK}"]{{stroke:#ece7d8}}'
    f'[fill="{FAINT}"],[fill="{SPARE}"]{{fill:#a9a491}}[stroke="{FAINT}"]{{stroke:#6d6a5c}}}}'
    "@media (prefers-contrast:more){"
    f'[fill="{FAINT}"]{{fill:currentColor}}[stroke="{FAINT}"]{{stroke:currentColor}}}}'
)
"""dark and high contrast, for a chart shown by itself or as a picture in a page"""


@dataclass(frozen=True, slots=True)
class Room:
    """Where a chart is to fit, px."""

    week: int
    label: int
    row: int
    top: int


WIDE = Room(week=12, label=150, row=24, top=150)
NARROW = Room(week=4, label=132, row=24, top=110)
PAPER = Room(week=11, label=138, row=24, top=150)
"""so that its letters come out at 7.5 pt and more between the margins of the sheet"""
GAP, RIGHT = 8, 14
LINES, LINE = 2, 12  # of a label: how many, and px from one to the next
BESIDE = 6  # px between a label and its row
WIDEST_LETTER = 7.0  # px of a label, in the mean of its letters: the most of names in paper's font (measured)


def year_spec(picture: Picture, room: Room = WIDE, first: int = 0, end: int | None = None) -> Spec:
    """The picture of the year: all items together above, stacked up to what is wanted, then one row an item.

    The line is what is wanted, colour what is likely there, paper what is bare, what stands above the line
    is spare, a dotted line what is wanted where nothing sown from now is ripe. Where it goes on over several
    sheets a part has the rows from `first` up to, not including, `end`, and the first part all together.
    """
    rows, top = picture.rows[first:end], 0 if first else room.top
    width, height = len(picture.weeks) * room.week, top + GAP + len(rows) * (room.row + 4)
    bottoms = [top + GAP + (at + 1) * (room.row + 4) for at in range(len(rows))]
    bands: list[Spec] = []
    lines: list[Spec] = []
    texts: list[Spec] = []
    if not first:
        bands += _together(picture.rows, room)
        texts += [{"x": -BESIDE, "y": 10, "t": tell("all together")},
                  {"x": -BESIDE, "y": 24, "t": tell("to {tallest}", tallest=picture.tallest)}]
    for at, (row, bottom) in enumerate(zip(rows, bottoms, strict=True), first):
        bands += _row_areas(row, at, bottom, room)
        lines += _row_lines(row, bottom, room)
        texts += [{"x": -BESIDE, "y": bottom - room.row // 2 + below, "t": line}
                  for below, line in _label(row.label, room)]
    lines += () if first else _wanted_together(picture.rows, room)
    months = _months(picture.weeks, room, height)
    floors = [{"x": 0, "x2": width, "y": bottom} for bottom in (top, *bottoms)]
    layers = [
        layer(months, "rule", THIN, {"x": "x", "y": "y", "y2": "h"}),
        layer(floors, "rule", THIN, {"x": "x", "x2": "x2", "y": "y"}),
        layer(bands, "area", {"interpolate": "step-after", "strokeWidth": 0},
               {"x": "x", "y": "y", "y2": "y2", "detail": "g"}, colour=True),
        layer(lines, "line", {"interpolate": "step-after", "strokeWidth": 1.3, "color": INK},
               {"x": "x", "y": "y", "detail": "g"}, dash=True),
        layer(texts, "text", {"align": "right", "fontSize": 11, "color": INK, "baseline": "middle"},
               {"x": "x", "y": "y", "text": "t"}),
        layer(months, "text", {"align": "left", "fontSize": 11, "color": INK, "dx": 2, "dy": 9},
               {"x": "x", "y": "h", "text": "t"}),
    ]
    return drawing(layers, width, height, room.label)


def drawing(layers: Sequence[Spec], width: int, height: int, label: int) -> Spec:
    return {
        "$schema": SCHEMA, "width": width, "height": height, "background": None,
        "padding": {"left": label, "right": RIGHT, "top": 4, "bottom": 18}, "autosize": {"type": "none"},
        "config": {"aria": False, "view": {"stroke": None}, "font": "sans-serif"},
        "layer": [{**layer, "encoding": _scaled(layer["encoding"], width, height)} for layer in layers],
    }


def layer(
    values: Sequence[Spec], mark: str, look: Spec, channels: dict[str, str], colour: bool = False,
    dash: bool = False,
) -> Spec:
    encoding: Spec = {
        channel: {"field": field, "type": "nominal" if channel in ("detail", "text") else "quantitative"}
        for channel, field in channels.items()
    }
    for channel in ("y2", "x2"):
        if channel in encoding:
            encoding[channel] = {"field": channels[channel]}
    if colour:
        encoding["color"] = {"field": "c", "type": "nominal", "scale": None}
    if dash:
        encoding["strokeDash"] = {"field": "d", "type": "nominal", "legend": None,
                                  "scale": {"domain": [0, 1], "range": [[1, 0], [1, 3]]}}
    return {"data": {"values": list(values)}, "mark": {"type": mark, "aria": False, **look},
            "encoding": encoding}


def _scaled(encoding: Spec, width: int, height: int) -> Spec:
    """Places are pixels already; y grows downwards."""
    for channel, far in (("x", [0, width]), ("y", [0, height])):
        if channel in encoding:
            encoding[channel] |= {"axis": None, "scale": {"domain": far, "range": far, "nice": False,
                                                          "zero": False}}
    return encoding


def _steps(heights: Sequence[tuple[float, float] | None], room: Room) -> Iterator[list[Spec]]:
    """Runs of weeks as steps: (y, y2) of each week, None where there is nothing; each run is closed."""
    run: list[Spec] = []
    for at, pair in enumerate([*heights, None]):
        if pair is not None:
            run.append({"x": at * room.week, "y": round(pair[0]), "y2": round(pair[1])})
        elif run:
            yield [*run, {**run[-1], "x": at * room.week}]
            run = []


def _area(heights: Sequence[tuple[float, float] | None], colour: str, name: str, room: Room) -> list[Spec]:
    return [{**step, "c": colour, "g": f"{name}.{at}"}
            for at, run in enumerate(_steps(heights, room)) for step in run]


def _together(rows: Sequence[PictureRow], room: Room) -> Iterator[Spec]:
    """Items stacked up to what is wanted, then what is spare of all of them above the line of wants."""
    weeks = totals(rows)
    scale, floor = _top_scale(weeks, room), [0.0] * len(weeks)
    if scale <= 0:
        return
    for at, row in enumerate(rows):
        there = [min(cell.wanted, cell.likely) for cell in row.cells]
        heights = [(room.top - (low + kg) * scale, room.top - low * scale) if kg > 0 else None
                   for low, kg in zip(floor, there, strict=True)]
        floor = [low + kg for low, kg in zip(floor, there, strict=True)]
        yield from _area(heights, band_colour(at), f"a{at}", room)
    above = [(room.top - (wanted + spare) * scale, room.top - wanted * scale) if spare * scale >= 1 else None
             for wanted, _, spare in weeks]
    yield from _area(above, SPARE, "a", room)


def band_colour(at: int) -> str:
    return BANDS[at % len(BANDS)]


def _row_areas(row: PictureRow, at: int, bottom: int, room: Room) -> list[Spec]:
    scale = _scale(row, room)
    there = [(bottom - min(cell.wanted, cell.likely) * scale, bottom)
             if min(cell.wanted, cell.likely) * scale >= 0.5 else None for cell in row.cells]
    over = [(bottom - cell.likely * scale, bottom - cell.wanted * scale)
            if (cell.likely - cell.wanted) * scale >= 1 else None for cell in row.cells]
    return [*_area(there, band_colour(at), f"r{at}", room), *_area(over, SPARE, f"s{at}", room)]


def _row_lines(row: PictureRow, bottom: int, room: Room) -> list[Spec]:
    scale = _scale(row, room)
    made: list[Spec] = []
    for held, dash in ((True, 0), (False, 1)):
        wanted = [(bottom - cell.wanted * scale, 0.0) if cell.wanted > 0 and cell.held is held else None
                  for cell in row.cells]
        made += [{"x": step["x"], "y": step["y"], "d": dash, "g": f"{bottom}.{dash}.{at}"}
                 for at, run in enumerate(_steps(wanted, room)) for step in run]
    return made


def _scale(row: PictureRow, room: Room) -> float:
    """px a kg: an item's best week fills its row."""
    best = max((max(cell.wanted, cell.likely) for cell in row.cells), default=0.0)
    return room.row / best if best > 0 else 0.0


def _top_scale(weeks: Sequence[tuple[float, float, float]], room: Room) -> float:
    """px a kg: the most of any week, wanted and spare together, fills the top; 0 where there is nothing."""
    top = max((wanted + spare for wanted, _, spare in weeks), default=0.0)
    return (room.top - 20) / top if top > 0 else 0.0


def _wanted_together(rows: Sequence[PictureRow], room: Room) -> Iterator[Spec]:
    weeks = totals(rows)
    scale = _top_scale(weeks, room)
    if scale <= 0:
        return
    line = [(room.top - wanted * scale, 0.0) if wanted > 0 else None for wanted, _, _ in weeks]
    for at, run in enumerate(_steps(line, room)):
        yield from ({"x": step["x"], "y": step["y"], "d": 0, "g": f"t{at}"} for step in run)


def _months(weeks: Sequence[date], room: Room, height: int) -> list[Spec]:
    """A rule at the first week that begins in each month, its name at the foot where the next is not too
    near: of a picture that begins in the last week of April that is left to May."""
    firsts = [at for at, week in enumerate(weeks)
              if at == 0 or (week - timedelta(days=7)).month != week.month]
    letters = 3 if room.week > 8 else 1
    wide = [(then - at) * room.week >= letters * WIDEST_LETTER
            for at, then in pairwise([*firsts, firsts[-1] + len(weeks)])] if firsts else []
    return [{"x": at * room.week, "y": 0, "h": height, "t": month(weeks[at].month)[:letters] if fits else ""}
            for at, fits in zip(firsts, wide, strict=True)]


def _label(text: str, room: Room) -> list[tuple[int, str]]:
    """In one line or two, each with how far it stands below the middle of its row, px; what two do not hold
    is cut."""
    most = int((room.label - BESIDE) / WIDEST_LETTER)
    lines = wrap(text, most, max_lines=LINES, placeholder="…")
    return [(round((at - (len(lines) - 1) / 2) * LINE), line) for at, line in enumerate(lines)]


def svg(spec: Spec, title: str, told: str) -> str:
    """The chart as SVG with its title and one label for readers who don't see it."""
    return _svg(json.dumps(spec, sort_keys=True), title, told)


def in_grey(drawn: str) -> str:
    """The same for a printer that has black alone: each colour as light as it was."""
    return re.sub(r"#([0-9a-fA-F]{6})\b", lambda found: _grey(bytes.fromhex(found[1])), drawn)


def _grey(colour: bytes) -> str:
    light = round(sum(part * share for part, share in zip(colour, LIGHT, strict=True)))
    return f"#{light:02x}{light:02x}{light:02x}"


@lru_cache(maxsize=64)
def _svg(spec: str, title: str, told: str) -> str:
    import vl_convert

    drawn = vl_convert.vegalite_to_svg(spec, vl_version=VL_VERSION)
    head, rest = re.split(r"(?<=>)", drawn, maxsplit=1)
    head = re.sub(r'\s(role|aria-\w+|class)="[^"]*"', "", head)
    head = head.replace("<svg", f'<svg role="img" aria-label="{escape(told)}" font-family="sans-serif"', 1)
    return f"{head}<title>{escape(title)}</title><style>{STYLE}</style>{_shorter(rest)}"


def _shorter(drawn: str) -> str:
    """Coordinates to a tenth of a pixel, empty groups and defaults left out."""
    drawn = re.sub(r"-?\d+\.\d{2,}", lambda found: f"{float(found[0]):.1f}", drawn)
    return re.sub(r'\s(role|aria-\w+|class|font-family|pointer-events|stroke-miterlimit)="[^"]*"', "", drawn)


def year_width(picture: Picture, room: Room) -> int:
    """px of the drawn picture from side to side."""
    return room.label + len(picture.weeks) * room.week + RIGHT


def year_height(picture: Picture, room: Room) -> int:
    """px of the drawn picture from top to foot."""
    return room.top + GAP + len(picture.rows) * (room.row + 4) + 22


def picture_words(picture: Picture) -> str:
    """The picture in one sentence, for readers who don't see it; its numbers stand in the table beside."""
    weeks = totals(picture.rows)
    wanted, there, spare = (sum(week[at] for week in weeks) for at in range(3))
    if not picture.rows or wanted <= 0:
        return tell("The picture of the year: nothing is wanted.")
    return tell_n("The picture of the year: {n} item over {weeks} weeks; of what is wanted {there:.0%} "
                  "is likely to be there, and {spare:.0%} more is spare.",
                  "The picture of the year: {n} items over {weeks} weeks; of what is wanted {there:.0%} "
                  "is likely to be there, and {spare:.0%} more is spare.", len(picture.rows),
                  weeks=len(weeks), there=there / wanted, spare=spare / wanted)
