"""Sheets on paper and the calendar file, of invented answers."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from importlib.resources import as_file, files

import invented
import numpy as np
import pypdfium2
import pypdfium2.raw as raw
import pytest
from invented import AMERICAN, BRITISH
from PIL import ImageFont

from evenpick.crops.catalogue import load_catalogue
from evenpick.report import paper, sheets
from evenpick.report.calendar import calendar
from evenpick.report.cautions import FOR_EATERS
from evenpick.report.chart import BESIDE, NARROW, PAPER, WIDE, Room, _label
from evenpick.report.days import day, full_day
from evenpick.report.page import Column, Heading, Items, Page, Table, Text
from evenpick.report.paper import BOX, Paper, Sheet, pdf, printed, sheet
from evenpick.report.words import words_for
from evenpick.service.box import BoxAnswer, BoxItem, _packed
from evenpick.service.outlook_answer import Band
from evenpick.service.picking_list import ListedItem
from evenpick.service.today_answer import Pick

STAMP = datetime(2027, 2, 3, 8, 0, tzinfo=UTC)
ITEMS = BoxItem("lettuce", 0.3, 1, "head"), BoxItem("chard", 0.25, None, "kg")
BOXES = BoxAnswer("boxes", date(2027, 2, 1), ITEMS, 12, (("peas", date(2027, 6, 7)),),
                  (("runner-bean", "Runner bean"),), invented.SHARES[0])
SHEETS = {
    "week": lambda: sheets.week_sheet(invented.TODAY, BRITISH, "a4"),
    "year": lambda: sheets.year_sheet(invented.PLAN, BRITISH, "a4"),
    "labels": lambda: sheets.label_sheet(invented.PLAN, BRITISH, "letter"),
    "box": lambda: sheet(sheets.box_page(BOXES, AMERICAN), "letter", size=12.0),
}


def text_of(made: Sheet) -> list[str]:
    """The words of every page of the PDF, by another reader."""
    document = pypdfium2.PdfDocument(pdf(made))
    return [document[at].get_textpage().get_text_range() for at in range(len(document))]


@pytest.mark.parametrize("name", SHEETS)
def test_a_sheet_is_one_page_and_the_same_bytes_again(name: str) -> None:
    made = SHEETS[name]()
    assert len(text_of(made)) == 1
    assert pdf(made) == pdf(SHEETS[name]())


def test_the_weeks_sheet_has_a_box_for_every_job_and_room_to_write() -> None:
    words = text_of(SHEETS["week"]())[0]
    assert words.count(BOX) == len(invented.TODAY.jobs)
    for said in ("Rocket", "6 m, 0.40 g of seed", "late: 30 Jan", "Written in the plot", "salad leaves"):
        assert said in words


@pytest.mark.parametrize(("name", "spelt"), [
    ("東の畝", "[6771-no-755d]"), ("ばら 2", "[ba-ra] 2"), ("\N{SEEDLING}", "[seedling]"),
    ("Œuf №3 Łąka", "Œuf №3 Łąka"),
])
def test_a_name_that_the_font_lacks_is_printed_all_the_same(
    name: str, spelt: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As though no font of the machine had it either."""
    made = sheet(Page("Beds", (Text(name), Table((Column("bed"),), ((name,),)))), "a4")
    whole = paper._set
    monkeypatch.setattr(paper, "_set", lambda made, own_fonts=False: whole(made))
    data, strange = printed(made)
    assert (strange == frozenset()) is (name == spelt)
    assert strange <= set(name)
    words = pypdfium2.PdfDocument(data)[0].get_textpage().get_text_range()
    assert words.count(spelt) == 2


def test_the_machine_s_own_fonts_are_asked_first(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[bool] = []
    monkeypatch.setattr(paper, "_set", lambda made, own_fonts=False: asked.append(own_fonts) or b"")
    assert printed(sheet(Page("Beds", (Text("東"),)), "a4")) == (b"", frozenset())
    assert printed(sheet(Page("Beds", (Text("east"),)), "a4")) == (b"", frozenset())
    assert asked == [True, False]


def test_the_year_is_in_black_and_white_with_its_key_and_whole_names() -> None:
    made = SHEETS["year"]()
    picture = pypdfium2.PdfDocument(pdf(made))[0].render(scale=1.0).to_numpy().astype(int)
    assert (np.ptp(picture[..., :3], axis=2) <= 1).all()  # red, green and blue alike on every dot
    assert "Line: wanted. Filled: likely there." in text_of(made)[0]


@pytest.mark.parametrize("room", [WIDE, NARROW, PAPER])
def test_the_longest_label_has_room(room: Room) -> None:
    """Set in the font that comes along, which is wider than most that a browser takes."""
    with as_file(files("evenpick").joinpath("data", "fonts", "DejaVuSans.ttf")) as file:
        font = ImageFont.truetype(str(file), 110)
    for name in ("kale and sprouting broccoli", "napa cabbage and bok choy", "endive and radicchio",
                 "summer spinach of the field"):
        lines = _label(name, room)
        assert " ".join(line for _, line in lines) == name  # nothing is cut
        for _, line in lines:
            assert font.getlength(line) / 10 <= room.label - BESIDE
        assert lines[-1][0] - lines[0][0] + 11 <= room.row + 4  # within its own row


def test_the_years_sheet_is_read_at_arms_length() -> None:
    """It was set in 6.4 pt, so that it would be one page."""
    document = pypdfium2.PdfDocument(pdf(SHEETS["year"]()))
    texts = [document[at].get_textpage() for at in range(len(document))]
    sizes = {round(raw.FPDFText_GetFontSize(text.raw, at), 2)
             for text in texts for at in range(text.count_chars())}
    letters = {size for size in sizes if size > 1}  # an end of line has none of its own
    assert min(letters) >= 7.5
    drawn = 11 * (595 - 2 * 14 / 25.4 * 72) / (52 * PAPER.week + PAPER.label + 14)  # of the picture, A4
    assert drawn >= 7.5


def test_a_year_of_many_sowings_goes_on_down_its_columns() -> None:
    """In two columns over two pages each, the right one of the first was read before the left of the next."""
    many = replace(invented.PLAN, sowings=tuple(
        replace(invented.PLAN.sowings[0], sow=date(2027, 2, 6) + timedelta(days=n)) for n in range(160)))
    pages = text_of(sheets.year_sheet(many, BRITISH, "a4"))
    assert len(pages) > 1
    lines = [line for page in pages for line in page.splitlines() if line.startswith(BOX)]
    wanted = [f"{BOX} {day(date(2027, 2, 6) + timedelta(days=n))} " for n in range(160)]
    assert all(line.startswith(start) for line, start in zip(lines, wanted, strict=True))


def test_a_label_says_what_its_number_is_of() -> None:
    words = text_of(SHEETS["labels"]())[0]
    assert "40 seeds" in words
    assert "0.62 g of seed" in words


def test_what_is_picked_for_certain_is_told_once() -> None:
    picked = (Pick("lettuce", "head", 0.4, Band(14.0, 14.2, 14.4)),
              Pick("kale", "kg", 1.0, Band(1.0, 2.0, 3.0)))
    answer = replace(invented.TODAY, pick=picked)
    words = " ".join(text_of(sheets.week_sheet(answer, BRITISH, "a4"))).replace("\r\n", " ")
    assert "lettuce 14 kg; kale 2.0 kg (1.0 to 3.0 kg)." in words


def test_the_box_list_speaks_of_one_box() -> None:
    words = text_of(SHEETS["box"]())[0]
    assert "1 head" in words
    assert "week of 7 Jun" in words
    assert "raw" in words
    assert "All together about 7.6 lb." in words  # 3.43 kg


def test_the_box_list_is_for_customers() -> None:
    """What a box should come to, what it is worth and the law for whoever sells are not for them."""
    page = sheets.box_page(replace(BOXES, crops=(("leaf-lettuce", "Leaf lettuce"),)),
                           words_for("british", "metric", load_catalogue()))
    words = " ".join(text_of(sheet(page, "a4"))).replace("\r\n", " ")
    assert "high in nitrate." in words
    for theirs in ("12.50", "of 4 kg", "for sale", "Regulation"):
        assert theirs not in words


def test_every_rule_for_sellers_has_its_words_for_eaters() -> None:
    said = {caution for crop in load_catalogue().crops for caution in crop.cautions}
    assert {caution for caution in said if "sale" in caution or "Regulation" in caution} == set(FOR_EATERS)


def test_the_box_list_says_for_how_many_boxes_there_are_heads() -> None:
    items = BoxItem("lettuce", 0.5, 1, "head", 9), BoxItem("chard", 0.5, 2, "bunch")
    words = text_of(sheet(sheets.box_page(replace(BOXES, items=items), BRITISH), "a4"))[0]
    assert "1 head, in 9 of 12 boxes" in words
    assert "2 bunches" in words


def test_a_box_that_gets_one_more_says_so() -> None:
    """79 beets for 40 boxes were told as one each."""
    items = (BoxItem("beets", 0.5, 1, "root", or_more=True),)
    words = text_of(sheet(sheets.box_page(replace(BOXES, items=items), BRITISH), "a4"))[0]
    assert "1 or 2 roots" in words


@pytest.mark.parametrize(("kg", "pieces", "boxes", "more"), [
    (79.0, 1, None, True), (80.0, 2, None, False), (82.0, 2, None, False), (37.0, 1, 37, False),
])
def test_pieces_are_dealt_to_boxes(kg: float, pieces: int, boxes: int | None, more: bool) -> None:
    listed = ListedItem("beets", "root", 1.0, kg, Band(kg, kg, kg), (), 0.0)
    packed = _packed(listed, kg, 40)
    assert (packed.pieces, packed.boxes, packed.or_more) == (pieces, boxes, more)


def test_nothing_coming_is_said() -> None:
    words = text_of(sheet(sheets.box_page(replace(BOXES, coming=()), BRITISH), "a4"))[0]
    assert "Nothing new is likely in the next 8 weeks." in words


def test_an_empty_box_has_no_weight() -> None:
    page = sheets.box_page(replace(BOXES, items=()), BRITISH)
    assert not [block for block in page.blocks if isinstance(block, Text) and "together" in block.text]


@pytest.mark.parametrize(("paper", "size"), [("a4", (595.3, 841.9)), ("letter", (612.0, 792.0))])
def test_paper_sizes(paper: Paper, size: tuple[float, float]) -> None:
    """ISO 216 A4 is 210 × 297 mm, Letter 8.5 × 11 in; 72 points an inch."""
    document = pypdfium2.PdfDocument(pdf(sheet(Page("A page", (Text("Words."),)), paper)))
    assert document[0].get_size() == pytest.approx(size, abs=0.1)


def test_words_that_look_like_markup_stay_words() -> None:
    nasty = '#panic("x") *b* _i_ $x$ \\ [a] `c` <l> @r "q" // no'
    table = Table((Column("a", wraps=True), Column("why", below=True)), ((nasty, nasty),))
    page = Page(nasty, (Heading(nasty), Text(nasty), Items((nasty,)), table))
    words = text_of(sheet(page, "a4"))[0]
    assert words.replace("\r\n", " ").count('#panic("x")') >= 4


def test_a_calendar_entry_moves_and_is_not_doubled() -> None:
    """Unfolded by hand as RFC 5545, section 3.1, has it."""
    later = replace(invented.SOW, when=invented.SOW.when + timedelta(days=7))
    first, second = (calendar([job], BRITISH, "a garden", stamp).decode().replace("\r\n ", "").split("\r\n")
                     for job, stamp in ((invented.SOW, STAMP), (later, STAMP + timedelta(days=1))))

    def field(lines: list[str], name: str) -> str:
        return next(line.split(":", 1)[1] for line in lines if line.startswith(name))

    assert field(first, "UID") == field(second, "UID")
    assert field(first, "DTSTART") == "20270206"
    assert field(second, "DTSTART") == "20270213"
    assert int(field(second, "SEQUENCE")) > int(field(first, "SEQUENCE"))
    assert field(first, "SUMMARY") == "Sow rocket: 6 m\\, 0.40 g of seed"


def test_a_calendars_lines_are_as_rfc_5545_has_them() -> None:
    """Lines end in CRLF and hold at most 75 octets; every BEGIN has its END (sections 3.1 and 3.4)."""
    made = calendar(invented.TODAY.jobs, BRITISH, "a garden", STAMP)
    lines = made.split(b"\r\n")
    assert b"\n" not in made.replace(b"\r\n", b"")
    assert max(map(len, lines)) <= 75
    assert lines.count(b"BEGIN:VEVENT") == lines.count(b"END:VEVENT") == len(invented.TODAY.jobs)


def test_labels_of_sets_and_tubers_say_planted() -> None:
    sowing = replace(invented.PLAN.sowings[0], way="planted")
    labels = sheets.label_sheet(replace(invented.PLAN, sowings=(sowing,)), BRITISH, "letter")
    page = text_of(labels)[0]
    assert f"planted {full_day(sowing.sow)}" in page
    assert "sown" not in page


def test_a_year_on_a_wall_tells_no_command() -> None:
    old = replace(invented.PLAN, loss_note="The plan is older.", take_in="evenpick plan --mend")
    markup = sheets.year_sheet(old, BRITISH, "a4").markup
    assert "The plan is older." in markup
    assert "--mend" not in markup


MANY_ITEMS = [f"item {n:02d}" for n in range(1, 46)]


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_a_picture_of_many_items_goes_on_over_the_page(paper: Paper) -> None:
    """Of a market garden's 42 items the first page was empty, and the head of the picture, its last rows and
    the names of its months were cut off at the edges of the second."""
    few = invented.PLAN.pickings[0]
    weeks = tuple(replace(few.weeks[0], week=date(2027, 2, 1) + timedelta(weeks=n)) for n in range(52))
    many = replace(invented.PLAN, pickings=tuple(replace(few, item=name, weeks=weeks) for name in MANY_ITEMS))
    document = pypdfium2.PdfDocument(pdf(sheets.year_sheet(many, BRITISH, paper)))
    there: list[str] = []
    for at in range(len(document)):
        height, texts = document[at].get_height(), document[at].get_textpage()
        words = texts.get_text_range()
        items = [name for name in MANY_ITEMS if name in words]
        there += items
        for said in (*items, *(("Feb", "Dec") if items else ()), *(() if at else ("all together",))):
            found = texts.search(said).get_next()
            assert found is not None, said
            low, high = (texts.get_charbox(found[0])[side] for side in (1, 3))
            assert 0 < low < high < height, said
    assert there == MANY_ITEMS


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_lines_to_write_on_fill_the_page_and_begin_no_other(paper: Paper) -> None:
    """Two of the ten stood by themselves on a second page."""
    for jobs in range(1, 31, 2):
        busy = replace(invented.TODAY, jobs=invented.TODAY.jobs[:1] * jobs)
        made = pypdfium2.PdfDocument(pdf(sheets.week_sheet(busy, BRITISH, paper)))
        pages = [made[at] for at in range(len(made))]
        texts = [page.get_textpage() for page in pages]
        (at,) = [at for at, text in enumerate(texts) if "Written in the plot" in text.get_text_range()]
        assert at == len(pages) - 1  # the lines stand under their heading
        index, _ = texts[at].search("Written in the plot").get_next() or (0, 0)
        head, foot = texts[at].get_charbox(index)[1], 13 / 25.4 * 72
        rules = [each for each in pages[at].get_objects() if each.type == raw.FPDF_PAGEOBJ_PATH]
        lines = sorted(place for place in (each.get_bounds()[1] for each in rules) if place < head)
        assert len(lines) >= sheets.LEAST_LINES
        assert foot - 1 < lines[0] < foot + 20  # down to the foot
