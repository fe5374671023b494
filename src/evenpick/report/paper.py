"""A page on paper: black and white, A4 or Letter, set by typst with the font that comes along.

The same description of a page as in the terminal. Words are handed over as strings, never as markup, so
nothing a grower wrote can change the sheet.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from importlib.resources import as_file, files
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Literal

from evenpick.base.language import later, tell
from evenpick.report.bed_picture import draw_beds
from evenpick.report.letters import lacking, spelt_out
from evenpick.report.page import BedPicture, Block, Heading, Items, Page, Picture, Table, Text
from evenpick.report.words import capital

Paper = Literal["a4", "letter"]
PAPERS: Mapping[Paper, str] = {"a4": "a4", "letter": "us-letter"}
SIZES: Mapping[Paper, tuple[float, float]] = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
"""mm across and down (ISO 216, ANSI/ASME Y14.1; from memory)"""
SIDE, EDGE = 14, 13
"""mm of margin left and right, above and below"""
ABOVE, BELOW = 45, 10
"""mm left for the title and its notes above the picture of the year, and for its key below (measured)"""
ACCESSIBLE: Literal["ua-1"] = "ua-1"
"""PDF/UA-1, which also refuses a letter that the font lacks"""
KEY = later("Line: wanted. Filled: likely there. Above the line: spare. Dotted: wanted, and nothing sown "
            "from now is ripe. Each row to its own best week.")
BOX = "\N{BALLOT BOX}"
HEAD = """#set document(title: {title}, author: "evenpick")
#set page(paper: "{paper}", margin: (x: {side}mm, y: {edge}mm), flipped: {flipped})
#set page(footer: context align(right, text(size: 7.5pt,
  {foot} + "  " + str(counter(page).get().first()))))
#set text(font: "DejaVu Sans", size: {size}pt, lang: "en")
#set par(leading: 0.5em)
#show heading: set text(size: 1.15em)
#show heading: set block(above: 1.1em, below: 0.5em)
#set table(stroke: (x, y) => if y > 0 {{ (top: 0.4pt) }} else {{ none }}, inset: (x: 3pt, y: 2.6pt))
#set list(marker: "–", indent: 0pt)
= #text({title})
"""


@dataclass(frozen=True, slots=True)
class Sheet:
    """What the setter needs: markup, and the files it names."""

    markup: str
    files: Mapping[str, str] = field(default_factory=dict)


def sheet(
    page: Page, paper: Paper, foot: str = "", size: float = 9.0, ticks: bool = False, wide: bool = False
) -> Sheet:
    """A page as markup; with `ticks` a box to tick stands before every row of every table."""
    head = HEAD.format(title=said(page.title), paper=PAPERS[paper], foot=said(foot), size=size,
                       flipped="true" if wide else "false", side=SIDE, edge=EDGE)
    across, down = reversed(SIZES[paper]) if wide else SIZES[paper]
    pictures: dict[str, str] = {}
    body = [_block(block, ticks, pictures, (across - 2 * SIDE, down - 2 * EDGE)) for block in page.blocks]
    return Sheet(head + "\n".join(body) + "\n", pictures)


def pdf(made: Sheet) -> bytes:
    """The sheet as PDF/UA-1, as of `printed`."""
    return printed(made)[0]


def printed(made: Sheet) -> tuple[bytes, frozenset[str]]:
    """The sheet as PDF/UA-1, and the letters in it that had to be spelt out.

    The same sheet gives the same bytes, but where the font that comes along lacks a letter: then the fonts of
    the machine are asked, and where none has it either it is spelt out.
    """
    import typst

    strange = lacking("".join((made.markup, *made.files.values())))
    if not strange:
        return _set(made), strange
    try:
        return _set(made, own_fonts=True), frozenset()
    except typst.TypstError:  # of what is left to go wrong the next line tells
        spelt = {name: spelt_out(text, strange) for name, text in made.files.items()}
        return _set(Sheet(spelt_out(made.markup, strange), spelt)), strange


def _set(made: Sheet, own_fonts: bool = False) -> bytes:
    import typst

    with TemporaryDirectory() as place, as_file(files("evenpick").joinpath("data", "fonts")) as fonts:
        folder = Path(place)
        for name, text in {**made.files, "sheet.typ": made.markup}.items():
            (folder / name).write_text(text, encoding="utf-8")
        found = typst.compile(
            str(folder / "sheet.typ"), root=str(folder), font_paths=[str(fonts)],
            ignore_system_fonts=not own_fonts, format="pdf", pdf_standards=[ACCESSIBLE], timestamp=0,
        )
    assert isinstance(found, bytes)
    return found


def said(text: str) -> str:
    """Words as a string of the setter's own."""
    return json.dumps(text, ensure_ascii=False)


def _block(block: Block, ticks: bool, pictures: dict[str, str], room: tuple[float, float]) -> str:
    """`room` is mm across and down between the margins."""
    match block:
        case Heading(text):
            return tell("== #text({said})", said=said(capital(text)))
        case Text(text):
            return f"#par[#text({said(text)})]"
        case Items(entries):
            return "\n".join(tell("- #text({entry})", entry=said(entry)) for entry in entries)
        case Table():
            return _table(block, ticks)
        case Picture():
            return _picture(block, pictures, room)
        case BedPicture():
            return f"#raw(block: true, {said(chr(10).join(draw_beds(block)))})"


def _table(table: Table, ticks: bool) -> str:
    box = ["auto"] if ticks else []
    widths = [*box, *("1fr" if table.columns[at].wraps else "auto" for at in table.beside)]
    aligns = [*(["left"] if ticks else []), *(table.columns[at].align for at in table.beside)]
    heads = [*([""] if ticks else []), *(_head(table, at) for at in table.beside)]
    cells = [f"table.header({', '.join(f'[#strong({said(head)})]' for head in heads)})"]
    for row in table.rows:
        cells += [*([f"[#{said(BOX)}]"] if ticks else []), *(f"[#{said(row[at])}]" for at in table.beside)]
        more = " · ".join(row[at] for at in table.below if row[at])
        if more:
            inset = tell("(left: 3pt, right: 3pt, top: 0pt, bottom: 3pt)")
            cells.append(tell("table.cell(colspan: {widths}, stroke: none, inset: {inset})[#text(size: "
                              "0.88em, {more})]", widths=len(widths), inset=inset, more=said(more)))
    return (f"#table(columns: ({', '.join(widths)},), align: ({', '.join(aligns)},),\n  "
            + ",\n  ".join(cells) + ")")


def _head(table: Table, at: int) -> str:
    column = table.columns[at]
    return f"{column.heading}, {column.unit}" if column.unit else column.heading


def _picture(picture: Picture, pictures: dict[str, str], room: tuple[float, float]) -> str:
    """In as many parts as it takes sheets, each with its months; what did not fit was cut off."""
    from evenpick.report.chart import PAPER, in_grey, picture_words, svg, year_spec

    told, parts = picture_words(picture), []
    for first, end in _parts(picture, *room):
        name = f"picture{len(pictures)}.svg"
        drawn = year_spec(picture, PAPER, first, end)
        pictures[name] = in_grey(svg(drawn, tell("The picture of the year"), told))
        parts.append(f'#image("{name}", width: 100%, alt: {said(told)})')
    return "\n".join((*parts, f"#text(size: 0.94em, {said(tell(KEY))})"))


def _parts(picture: Picture, across: float, down: float) -> Iterator[tuple[int, int]]:
    """The rows (first, end) of each part of a picture that goes over sheets so many mm across and down."""
    from evenpick.report.chart import PAPER, year_height, year_width

    px = across / year_width(picture, PAPER)  # mm
    bare = year_height(replace(picture, rows=()), PAPER)
    first, count, left = 0, len(picture.rows), (down - ABOVE - BELOW) / px - bare
    while True:
        end = min(count, first + max(1, int(left // (PAPER.row + 4))))
        yield first, end
        if end == count:
            return
        first, left = end, (down - BELOW) / px - (bare - PAPER.top)


def grid(cells: Sequence[str], columns: int, height: str) -> str:
    """Cells to be cut apart, dashed lines between them; each cell is markup."""
    widths, stroke = ", ".join(["1fr"] * columns), tell('(dash: "dashed", thickness: 0.4pt)')
    inside = ",\n  ".join(f"[{cell}]" for cell in cells)
    return f"#grid(columns: ({widths},), rows: {height}, inset: 8pt, stroke: {stroke},\n  {inside})"
