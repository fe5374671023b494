"""Every page reads and writes as plain HTML; what is asked for is on it."""

from __future__ import annotations

import html
import re
import sqlite3
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from dataclasses import replace
from datetime import date
from html.parser import HTMLParser
from pathlib import Path
from threading import Barrier
from typing import Any

import pytest
from invented import BRITISH
from served_garden import DRILL, GARDEN, LOST, Place, plan_for

from evenpick.base.days import short_date
from evenpick.garden.diary import Answered, Decided, Noted, Sowed, new_id
from evenpick.report.page import Column, Table
from evenpick.service import job_answers
from evenpick.service.book import record_of
from evenpick.service.store_plan import save_plan
from evenpick.service.today_answer import TodayAnswer
from evenpick.store.book import Book, book_path
from evenpick.web.blocks import html as blocks_html
from evenpick.web.pages import diary
from evenpick.web.served import PAGES

KNOWN: set[str] = set()
"""links that a test has followed"""
VOID = {"meta", "link", "input", "br", "img", "source"}


class Shape(HTMLParser):
    """Tags closed in order; labels, headings and ids gathered."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.ids: list[str] = []
        self.headings: list[int] = []
        self.wrong: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        if given.get("id"):
            self.ids.append(str(given["id"]))
        if re.fullmatch(r"h[1-6]", tag):
            self.headings.append(int(tag[1]))
        if tag not in VOID and "svg" not in self.open:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        optional = ("td", "th", "tr", "thead", "tbody", "option")
        while self.open and self.open[-1] != tag and self.open[-1] in optional:
            self.open.pop()
        if not self.open or self.open.pop() != tag:
            self.wrong.append(tag)


PATHS = [path for path, _ in PAGES] + ["/plan", "/work", "/why/picking?item=salad+leaves", "/?on=2027-05-06"]


GROWN = ["/", "/water", "/lessons", "/losses", f"/losses/{LOST}", f"/water/{DRILL}", f"/sown/{LOST}",
         "/water?crop=carrot&sow=2027-04-10", "/ground", "/diary", f"/diary?kept={LOST}"]
HEAVIEST = 150_000
"""bytes of a page with its chart, style and scripts, not packed"""


@pytest.mark.parametrize("path", PATHS)
def test_pages_are_whole(place: Place, path: str) -> None:
    is_whole(place, path)


@pytest.mark.parametrize("path", GROWN)
def test_pages_with_a_diary_are_whole(grown: Place, path: str) -> None:
    is_whole(grown, path)


def is_whole(place: Place, path: str) -> None:
    answer = place.client.get(path)
    assert answer.status_code == 200, answer.text[-500:]
    assert len(answer.content) + sum(map(len, assets(place, answer.text))) < HEAVIEST
    shape = Shape()
    shape.feed(answer.text)
    assert not shape.wrong
    assert not shape.open
    assert len(shape.ids) == len(set(shape.ids))
    assert shape.headings.count(1) == 1
    assert all(after - before <= 1 for before, after in zip(shape.headings, shape.headings[1:], strict=False))
    assert "evenpick plan" not in answer.text  # a command is no help on a page


def assets(place: Place, page: str) -> list[bytes]:
    """What the page asks for besides itself."""
    named = set(re.findall(r'(?:src|rel="stylesheet" href)="([^"]+)"', page))
    return [place.client.get(html.unescape(name)).content for name in named]


@pytest.mark.parametrize("path", [*PATHS, *GROWN])
def test_every_link_leads_somewhere(grown: Place, path: str) -> None:
    page = grown.client.get(path).text
    for link in sorted(set(re.findall(r'href="(/[^"]*)"', page)) - KNOWN):
        answer = grown.client.get(html.unescape(link))
        assert answer.status_code in (200, 303), link
        KNOWN.add(link)


def test_a_page_needs_nothing_from_elsewhere(place: Place) -> None:
    for path in PATHS:
        found = re.findall(r'(?:src|href|action|srcset)="([^"]+)"', place.client.get(path).text)
        assert all(each.startswith(("/", "#")) for each in found), path


def test_a_job_is_answered_and_undone(place: Place) -> None:
    page = place.client.get("/").text
    job = re.search(r'name="job" value="(sow:[^"]+)"', page)
    assert job is not None
    sent = {"token": place.token, "id": new_id(), "job": job[1], "answer": "done", "day": "2027-02-03"}
    for _ in range(3):  # sent three times it is one answer
        assert place.client.post("/jobs", data=sent).status_code == 303
    facts = [entry.fact for entry in record_of(place.garden).entries]
    assert sum(isinstance(fact, Answered) for fact in facts) == 1
    assert sum(isinstance(fact, Sowed) for fact in facts) == 1
    assert "Answered this week" in place.client.get("/").text
    undo = {"token": place.token, "id": new_id(), "job": job[1], "day": "2027-02-03"}
    for _ in range(2):
        assert place.client.post("/jobs/undo", data=undo).status_code == 303
    left = record_of(place.garden).entries
    assert not [entry for entry in left if isinstance(entry.fact, Answered | Sowed)]


def test_a_sowing_undone_in_the_diary_takes_its_job_with_it_and_says_so(place: Place) -> None:
    job = re.search(r'name="job" value="(sow:[^"]+)"', place.client.get("/").text)
    assert job is not None
    sent = {"token": place.token, "id": new_id(), "job": job[1], "answer": "done"}
    assert place.client.post("/jobs", data=sent).status_code == 303
    (sown,) = record_of(place.garden).sowings
    undo = {"token": place.token, "id": new_id(), "entry": sown}
    for _ in range(2):  # sent twice it is one
        told = place.client.post("/diary/undo", data=undo)
        assert told.status_code == 303
    page = place.client.get(told.headers["location"]).text
    said = re.search(r'<p class="said" role="status">([^<]+)', page)
    assert said is not None
    assert "Undone: " in said[1]
    assert "sown in place: Rocket" in said[1]
    assert "done" in said[1].split(";")[1]
    assert job[1] in place.client.get("/").text
    assert not [e for e in record_of(place.garden).entries if isinstance(e.fact, Answered | Sowed)]


def test_a_job_is_said_again_in_the_same_words_and_anew_in_others(place: Place) -> None:
    page, again = place.client.get("/").text, place.client.get("/").text
    id_ = re.compile(r'name="id" value="(\w+)"|data-made="\d+"')
    ids = set(filter(None, id_.findall(page)))  # two answers with one id count as one
    assert not ids & set(id_.findall(again))
    assert id_.sub("", page) == id_.sub("", again)
    job = re.search(r'name="job" value="(sow:[^"]+)"', page)
    assert job is not None
    sent = {"token": place.token, "id": new_id(), "job": job[1], "answer": "put off", "day": "2027-02-03"}
    assert place.client.post("/jobs", data=sent).status_code == 303
    line = re.compile(f'data-job="{job[1]}">(.*?)</li>', re.DOTALL)
    before, after = line.findall(page), line.findall(place.client.get("/").text)
    assert len(before) == len(after) == 1
    assert "Put off" in before[0]
    assert "Put off" not in after[0]


def test_the_week_stands_under_its_days(place: Place) -> None:
    """Wednesday 3 February 2027 has 1 h; Saturday has none, so that the rocket planned for it, 1.2 m², rows
    0.25 m apart, 4.8 m at 0.6 min, stands under today. On Thursday no day is left."""
    text = GARDEN + '[hours]\ndays = { wednesday = "1 h" }\n'
    place.garden.write_text(text, encoding="utf-8")
    save_plan(place.garden, plan_for(text))
    page = place.client.get("/?on=2027-02-03").text
    assert page.index("<h3>Today, Wednesday 3 Feb: 3 min of 1 h</h3>") < page.index("Rocket")
    assert "3 min, tunnel; can wait to 19 Feb" in page
    assert "No time for it" not in page
    left_over = place.client.get("/?on=2027-02-04").text
    assert "<h3>Today, Thursday 4 Feb: no hours</h3>\n<p>No job is put on it.</p>" in left_over
    assert left_over.index("<h3>No time for it this week</h3>") < left_over.index("Rocket")
    is_whole(place, "/?on=2027-02-03")
    is_whole(place, "/?on=2027-02-04")
    job = place.client.get("/api/today?on=2027-02-03").json()["jobs"][0]
    assert (job["on"], job["minutes"]) == ("2027-02-03", 3)


def test_a_job_answered_elsewhere_is_refused_in_words(place: Place) -> None:
    job = re.search(r'name="job" value="(sow:[^"]+)"', place.client.get("/").text)
    assert job is not None
    sent = {"token": place.token, "id": new_id(), "job": job[1], "answer": "done"}
    assert place.client.post("/jobs", data=sent).status_code == 303
    late = place.client.post("/jobs", data={**sent, "id": new_id(), "answer": "refused"})
    assert late.status_code == 409
    assert "answered meanwhile" in late.text
    assert "done" in late.text
    assert "refused" in late.text


def test_a_job_answered_by_two_at_once_is_done_once_and_the_later_sees_both(
    place: Place, monkeypatch: pytest.MonkeyPatch
) -> None:
    job = re.search(r'name="job" value="(sow:[^"]+)"', place.client.get("/").text)
    assert job is not None
    together, read = Barrier(2, timeout=20), job_answers.today

    def page(garden: Path, day: date) -> TodayAnswer:
        found = read(garden, day)
        together.wait()
        return found

    monkeypatch.setattr(job_answers, "today", page)
    sent = {"token": place.token, "job": job[1], "answer": "done", "day": "2027-02-03"}
    with ThreadPoolExecutor(2) as pool:
        told = list(pool.map(lambda _: place.client.post("/jobs", data={**sent, "id": new_id()}), range(2)))
    late, = (answer for answer in told if answer.status_code != 303)
    assert late.status_code == 409
    assert "Kept: <b>done</b>" in late.text
    assert "Yours: <b>done</b>" in late.text
    facts = [entry.fact for entry in record_of(place.garden).entries]
    assert sum(isinstance(fact, Sowed) for fact in facts) == 1


def test_the_picking_list_shares_alike_by_outlet(place: Place) -> None:
    """0.48 kg likely of 1 kg wanted (invented.RISING, week 12): of 600 g and of 4 x 100 g the same share,
    288 and 192 g, told to two figures."""
    page = place.client.get("/pickings?on=2027-04-26").text
    assert "likely to be" in page.casefold()
    assert 'kitchen">290 g of 600 g' in page
    assert 'boxes">190 g of 400 g' in page
    later = place.client.get("/pickings?on=2027-05-06").text
    assert ">600 g (420 to 780 g), about" in later  # the band in the unit of what is likely


def test_a_decision_made_on_an_old_page_shows_both_words(place: Place) -> None:
    page = place.client.get("/sowings").text
    name = re.search(r'href="/sowings/([^"]+)"', page)
    assert name is not None
    path = f"/sowings/{name[1]}"
    sent = {"token": place.token, "decision": "fixed", "area": "2 m²", "version": "", "id": new_id(),
            "step": "only"}
    for _ in range(2):
        assert place.client.post(path, data=sent).status_code == 303
    stale = place.client.post(path, data={**sent, "decision": "refused", "id": new_id()})
    assert stale.status_code == 409
    assert "fixed at 2.0 m²" in stale.text
    assert "refused" in stale.text
    decided = [entry.fact for entry in record_of(place.garden).entries if isinstance(entry.fact, Decided)]
    assert [fact.decision for fact in decided] == ["fixed"]
    mine = re.search(r'name="version" value="([0-9a-f]{32})"', stale.text)
    assert mine is not None
    again = {**sent, "decision": "refused", "version": mine[1], "id": new_id()}
    assert place.client.post(path, data=again).status_code == 303


def test_a_line_is_kept_once_and_undone(place: Place) -> None:
    sent = {"token": place.token, "id": new_id(), "line": "frost on the pond", "day": "2027-02-02",
            "step": "words"}
    for _ in range(2):
        assert place.client.post("/diary", data=sent).status_code == 303
    entries = record_of(place.garden).entries
    assert [entry.note for entry in entries if isinstance(entry.fact, Noted)] == ["frost on the pond"]
    assert "frost on the pond" in place.client.get("/diary").text
    undo = {"token": place.token, "id": new_id(), "entry": sent["id"]}
    assert place.client.post("/diary/undo", data=undo).status_code == 303
    assert "frost on the pond" not in place.client.get("/diary").text


def test_a_line_sent_twice_at_once_is_one_however_the_second_is_understood(
    place: Place, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Read before the first is written, or after: a sowing then finds its planned one taken."""
    sent = {"token": place.token, "id": new_id(), "line": "sowed 4.8 m rocket in tunnel", "step": "keep",
            "day": "2027-02-03"}
    read = diary.understand

    def late(*asked: Any) -> Any:
        if not record_of(place.garden).sowings:
            monkeypatch.setattr(diary, "understand", read)
            assert place.client.post("/diary", data=sent).status_code == 303
        return read(*asked)

    monkeypatch.setattr(diary, "understand", late)
    assert place.client.post("/diary", data=sent).status_code == 303
    assert len(record_of(place.garden).sowings) == 1


def test_a_line_is_read_back_asked_and_kept(place: Place) -> None:
    sent = {"token": place.token, "id": new_id(), "line": "sowed rocket", "day": "2027-02-02", "step": "read"}
    page = place.client.post("/diary", data=sent)
    for _ in range(6):
        key = re.search(r'name="key" value="([^"]+)"', page.text)
        if key is None:
            break
        carried = re.search(r'name="answers" value="([^"]*)"', page.text)
        assert carried is not None
        first = re.search(r'name="choice" value="([^"]+)"', page.text)
        said = {"choice": first[1]} if first else {"free": "3 m"}
        sent = {**sent, "answers": html.unescape(carried[1]), "key": key[1], **said}
        page = place.client.post("/diary", data=sent)
    assert "Keep it" in page.text, page.text
    assert not [e for e in record_of(place.garden).entries if isinstance(e.fact, Sowed)]
    for _ in range(3):
        assert place.client.post("/diary", data={**sent, "step": "keep"}).status_code == 303
    kept = [e for e in record_of(place.garden).entries if isinstance(e.fact, Sowed)]
    assert [(e.fact.crop, e.id) for e in kept if isinstance(e.fact, Sowed)] == [("rocket", sent["id"])]


@pytest.mark.parametrize(("line", "chosen"), [
    ("sowed 3 m rocket blue 7 in bed", False), ("the rocket came up, no slugs", False),
    ("sowed rocket", True),
])
def test_no_answer_is_chosen_beforehand_that_leaves_words_aside(
    grown: Place, line: str, chosen: bool
) -> None:
    sent = {"token": grown.token, "id": new_id(), "line": line, "step": "read"}
    page = grown.client.post("/diary", data=sent).text
    assert 'name="key"' in page
    assert (" checked" in page) == chosen or "type=\"radio\"" not in page
    if not chosen:
        assert re.search(r'name="choice" value="keep" required', page)


def test_more_sown_than_there_is_ground_is_asked(place: Place) -> None:
    sent = {"token": place.token, "id": new_id(), "line": "sowed 500 m early carrots", "step": "read"}
    asked = place.client.post("/diary", data=sent).text
    assert "100 m² of Early carrot is more than all the open ground there is (60 m²)" in asked
    said = {**sent, "step": "keep", "key": "1:doubt", "choice": "keep"}
    assert place.client.post("/diary", data=said).status_code == 303


def test_a_packet_is_not_of_a_year_that_is_still_to_come(place: Place) -> None:
    sent = {"token": place.token, "crop": "radish", "amount": "10 g"}
    late = place.client.post("/tin/got", data={**sent, "id": new_id(), "year": "2028"})
    assert late.status_code == 400
    assert "year 2028 lies in the future" in late.text
    assert place.client.post("/tin/got", data={**sent, "id": new_id(), "year": "2027"}).status_code == 303


def test_a_line_from_out_of_reach_is_never_lost(place: Place) -> None:
    """What is words alone is kept so. What tells an act, a crop or a number is asked, and nothing is kept
    until it is answered: the device has it."""
    sent = {"token": place.token, "id": new_id(), "line": "frost on the pond", "step": "later"}
    assert place.client.post("/diary", data=sent).status_code == 303
    entry = next(e for e in record_of(place.garden).entries if e.id == sent["id"])
    assert isinstance(entry.fact, Noted)
    assert entry.note == sent["line"]
    for line in ("picked 1.2 kg of the blue ones", "sowed beans", "half an inch on the pond", "radish"):
        sent = {"token": place.token, "id": new_id(), "line": line, "step": "later"}
        answer = place.client.post("/diary", data=sent)
        assert answer.status_code == 409
        assert "data-asks" in answer.text
        assert f'name="instead" value="{sent["id"]}"' in answer.text
        assert sent["id"] not in {e.id for e in record_of(place.garden).entries}
        kept = {**sent, "id": new_id(), "step": "words", "instead": sent["id"]}
        assert place.client.post("/diary", data=kept).status_code == 303


def test_a_line_that_waited_is_not_written_beside_the_one_in_its_place(place: Place) -> None:
    """It had arrived, and only the answer was lost."""
    sent = {"token": place.token, "id": new_id(), "line": "frost on the pond", "step": "later"}
    assert place.client.post("/diary", data=sent).status_code == 303
    changed = {**sent, "id": new_id(), "line": "ice on the pond", "step": "words", "instead": sent["id"]}
    told = place.client.post("/diary", data=changed)
    assert told.status_code == 400
    assert "in the diary by now" in told.text
    assert "ice on the pond" not in {entry.note for entry in record_of(place.garden).entries}


def test_words_of_the_grower_stay_words(place: Place) -> None:
    line = "<script>alert(1)</script> & \"quotes\""
    place.client.post("/diary", data={"token": place.token, "id": new_id(), "line": line, "step": "words"})
    assert "<script>alert" not in place.client.get("/diary").text


def test_a_garden_is_begun_by_five_answers(empty: Place, monkeypatch: pytest.MonkeyPatch) -> None:
    started: list[bool] = []
    monkeypatch.setattr(empty.app.state.served.work, "start", lambda: started.append(True))
    assert empty.client.get("/").headers["location"] == "/begin"
    page = empty.client.get("/begin").text
    assert page.count("<label for=") == 5
    assert "<nav" not in page  # its pages would all lead back here
    assert 'href="/plan"' not in page
    answers = {"token": empty.token, "where": "Dublin, IE", "ground": "forty", "tunnel": "0",
               "eaters": "nobody", "likes": ""}
    wrong = empty.client.post("/begin", data={**answers, "english": "american"})
    assert wrong.status_code == 400
    assert "forty" in wrong.text  # what was typed stays
    assert 'value="american" checked' in wrong.text
    assert not empty.garden.exists()
    right = empty.client.post("/begin", data={**answers, "ground": "400 sq ft", "eaters": "2 people",
                                              "english": "american", "units": "imperial"})
    assert right.headers["location"] == "/work"
    assert started
    assert "For Dublin, Ireland (53.33° N, 6.25° W)." in empty.client.get("/work").text
    assert 'english = "american"' in empty.garden.read_text(encoding="utf-8")


def test_words_and_measures_are_those_of_the_place_and_of_the_ground_typed(
    empty: Place, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(empty.app.state.served.work, "start", lambda: None)
    assert empty.client.get("/begin").text.count('value="" checked') == 2
    empty.client.post("/begin", data={"token": empty.token, "where": "Salem, Oregon", "ground": "400 sq ft",
                                      "tunnel": "0", "eaters": "2 people", "likes": "zucchini",
                                      "english": "", "units": ""})
    begun = empty.garden.read_text(encoding="utf-8")
    for line in ('english = "american"', 'units = "imperial"', 'item = "zucchini"'):
        assert line in begun


def test_what_was_understood_and_what_was_left_out_is_told_until_the_next_plan(
    empty: Place, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It stood in the file alone, which whoever begins in a browser never opens."""
    monkeypatch.setattr(empty.app.state.served.work, "start", lambda mend=False: None)
    empty.client.post("/begin", data={"token": empty.token, "where": "Bristol, GB", "tunnel": "0",
                                      "ground": "12 beds of 4 ft x 12 ft and half an acre",
                                      "eaters": "40 households", "likes": "radish, aubergines"})
    page = empty.client.get("/work").text
    assert "Understood: 22,400 sq ft of open ground, for 40 boxes." in page
    assert "What is left out of the wishes" in page
    assert "<li>aubergines: " in page
    assert "radish:" not in page
    empty.client.post("/work", data={"token": empty.token})
    assert "left out of the wishes" not in empty.client.get("/work").text


def test_bad_input_is_told_with_its_remedy(place: Place) -> None:
    for path, status in (("/?on=tomorrow", 400), ("/nowhere", 404), ("/sowings/none", 404),
                         ("/why/picking?item=gold", 400), ("/pickings?weeks=0", 422),
                         ("/why?crop=gold&sow=2027-03-01", 404), ("/charts/year-x.svg", 404)):
        answer = place.client.get(path, headers={"accept": "text/html"})
        assert answer.status_code == status, path
        assert "Traceback" not in answer.text
        assert str(place.garden.parent) not in answer.text


def test_a_damaged_plan_is_told_with_its_remedy(place: Place) -> None:
    with closing(sqlite3.connect(place.garden.with_suffix(".book"))) as db, db:
        db.execute("UPDATE plan SET body = CAST(replace(CAST(body AS BLOB), 'rocket', x'ff') AS TEXT)")
    for path in ("/", "/pickings", "/sowings"):
        answer = place.client.get(path, headers={"accept": "text/html"})
        assert answer.status_code == 409, path
        assert "The plan kept in the book is damaged." in answer.text
        assert "Make it: the plan stands at the foot of every page." in answer.text
    assert place.client.get("/work").status_code == 200


def test_any_month_and_any_crop_can_be_chosen(place: Place) -> None:
    page = place.client.get("/month?month=2").text
    assert "What to sow in February" in page
    assert re.search(r'<option value="2" selected>\s*February', page)
    one = place.client.get("/when?crop=rocket").text
    assert '<option value="rocket" selected>' in one
    assert "Rocket" in one.split("<h2")[1]
    assert '<th role="rowheader" scope="row">Radish' not in one
    every = place.client.get("/when?crop=").text
    assert '<option value="" selected>' in every
    assert "<summary><b>Radish</b>" in every
    assert place.client.get("/when?crop=hemlock", headers={"accept": "text/html"}).status_code == 404


def test_a_figure_that_is_no_number_has_no_unit(place: Place) -> None:
    page = place.client.get("/month?month=5").text
    assert re.search(r'data-unit=" days">\d+', page)
    assert ">once</td>" in page
    assert not re.search(r'data-unit="[^"]*">once', page)


@pytest.mark.parametrize(("cell", "unit"), [("12", True), ("½", True), ("3-4 Jul", True), ("once", False)])
def test_halves_and_spans_have_their_unit(cell: str, unit: bool) -> None:
    table = Table((Column("crop"), Column("depth", "in")), (("Radish", cell),))
    assert ('data-unit=" in"' in blocks_html([table], BRITISH)) is unit


def test_the_picture_is_one_labelled_image(place: Place) -> None:
    drawn = place.client.get("/charts/year-wide.svg").text
    assert drawn.startswith('<svg role="img" aria-label="The picture of the year: 2 items')
    assert "<title>" in drawn
    assert "salad leaves" in drawn
    assert drawn.count("role=") == 1


def test_more_of_a_sowing_is_the_mend_of_the_weeks_alone_that_it_fills(place: Place) -> None:
    """What is picked from 19 July to 6 September can't mend the weeks of bare beans after that."""
    page = re.sub("<[^>]+>", "", place.client.get("/pickings").text)
    said = r"Runner beans and others, 3 weeks from {}: 6\.0 kg short"
    assert re.search(said.format("23 Aug to 12 Sep") + r"\. More could come of Runner bean of 8 May", page)
    assert re.search(said.format("13 Sep to 3 Oct") + "; no sowing is planned", page)
    assert ".." not in page.split("Bare weeks")[1].split("Gluts")[0]
    later = re.sub("<[^>]+>", "", place.client.get("/pickings?on=2027-07-15").text)
    assert "More could come of Runner bean of 8 May" not in later  # it was sown, or is missed, long since
    assert re.search(said.format("23 Aug to 12 Sep") + "; the day of Runner bean of 8 May, for these", later)


def test_weeks_too_soon_for_anything_are_told_together_once(place: Place) -> None:
    """Six items bare until August each had the same two sentences, a screen and a half of a phone."""
    plan = plan_for(GARDEN)
    late = tuple(replace(item, lead=len(item.weeks)) for item in plan.pickings)
    save_plan(place.garden, replace(plan, pickings=late))
    page = re.sub("<[^>]+>", "", place.client.get("/pickings").text)
    assert page.count("Nothing sown from the plan’s start can be ripe") == 1
    said = page.split("Nothing sown from the plan’s start")[1].split("Something in store")[0]
    assert "runner beans and others (" in said
    assert "salad leaves (" in said
    assert "None is likely" not in page.split("Bare weeks")[1].split("Gluts")[0]


def test_a_line_is_put_right_on_the_page_and_both_stay_in_the_book(place: Place) -> None:
    sent = {"token": place.token, "id": new_id(), "line": "sowed 3 m rocket in bed", "day": "2027-02-02",
            "step": "keep"}
    assert place.client.post("/diary", data=sent).status_code == 303
    page = place.client.get("/diary").text
    assert f'href="/diary/{sent["id"]}"' in page
    form = place.client.get(f"/diary/{sent['id']}").text
    assert f'name="corrects" value="{sent["id"]}"' in form
    assert ">sowed 3 m rocket in bed</textarea>" in form
    assert 'value="2027-02-02"' in form
    right = {**sent, "id": new_id(), "line": "sowed 4 m rocket in bed", "day": "2027-02-01",
             "corrects": sent["id"], "step": "read"}
    back = place.client.post("/diary", data=right)
    assert "4 m of row" in back.text
    assert back.text.count(f'name="corrects" value="{sent["id"]}"') >= 2
    for _ in range(2):  # sent twice it is one
        told = place.client.post("/diary", data={**right, "step": "keep"})
        assert told.headers["location"] == f"/diary?kept={sent['id']}"
    assert "Kept: 1 Feb 2027, sown in place: Rocket" in place.client.get(told.headers["location"]).text
    ((identity, sowing),) = record_of(place.garden).sowings.items()
    assert (identity, sowing.area) == (sent["id"], 1.0)
    written = Book(book_path(place.garden)).entries(("sowed", "corrected"))
    assert [entry.fact.kind for entry in written] == ["sowed", "corrected"]


def test_what_is_no_line_or_tells_several_is_not_put_right(place: Place) -> None:
    job = re.search(r'name="job" value="(sow:[^"]+)"', place.client.get("/").text)
    assert job is not None
    place.client.post("/jobs", data={"token": place.token, "id": new_id(), "job": job[1], "answer": "done"})
    (sown,) = record_of(place.garden).sowings
    assert place.client.get(f"/diary/{sown}", headers={"accept": "text/html"}).status_code == 400
    sent = {"token": place.token, "id": new_id(), "line": "frost on the pond", "step": "words"}
    place.client.post("/diary", data=sent)
    two = {**sent, "id": new_id(), "corrects": sent["id"], "line": "watered bed and tunnel", "step": "keep"}
    assert "several" in place.client.post("/diary", data=two).text
    words = {**two, "id": new_id(), "line": "ice on the pond", "step": "words"}
    assert place.client.post("/diary", data=words).status_code == 303
    assert len([e for e in record_of(place.garden).entries if isinstance(e.fact, Noted)]) == 1


def test_the_page_of_today_tells_bare_weeks_as_the_terminal_does(place: Place) -> None:
    """An item bare in weeks that are too soon for it and on is told from the first that is not: the page told
    the first of all."""
    plan = plan_for(GARDEN)
    beans = next(item for item in plan.pickings if item.item == "runner beans and others")
    first = next(at for at, week in enumerate(beans.weeks) if week.wanted > 0)
    late = tuple(replace(item, lead=first + 1) if item is beans else item for item in plan.pickings)
    save_plan(place.garden, replace(plan, pickings=late))
    page = place.client.get(f"/?on={beans.weeks[first - 4].week}").text
    told = re.findall(r"Runner beans and others, from the week of ([^:]*):", page)
    assert told == [short_date(beans.weeks[first + 1].week)]


@pytest.mark.parametrize(("units", "line", "rain"), [
    ("metric", "Sowed 4 m carrots in the long beds", "12 mm of rain"),
    ("imperial", "Sowed 12 ft carrots in the long beds", "half an inch of rain"),
])
def test_what_may_be_typed_is_shown_in_the_gardens_units(
    grown: Place, units: str, line: str, rain: str
) -> None:
    grown.garden.write_text(f'{GARDEN}[words]\nunits = "{units}"\n', encoding="utf-8")
    assert f'placeholder="{line}"' in grown.client.get("/diary").text
    assert f'placeholder="{rain}"' in grown.client.get("/water").text
