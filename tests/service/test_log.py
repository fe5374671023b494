"""Lines written into a book: committed, undone, corrected, imported; in INVENTED gardens."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest

from evenpick.base.days import day_number
from evenpick.base.errors import BadDiary, BadGarden, BadRequest
from evenpick.garden.diary import Answered, Decided, Entry, LeftOut, Picked, Relearned, Sowed
from evenpick.garden.diary_asking import DOUBT, SO
from evenpick.garden.record import Sowing
from evenpick.garden.record import _sowing as one_sowing
from evenpick.service.book import record_of
from evenpick.service.book import write as keep_facts
from evenpick.service.log import (
    LogAnswer,
    commit,
    commit_correction,
    correct,
    latest,
    understand,
)
from evenpick.service.log_file import commit_lines, read_lines
from evenpick.service.undoing import undo
from evenpick.store.book import Book

TEXT = """
[site]
at = "51.5, -1.25"
[words]
english = "american"
units = "imperial"
[[ground]]
name = "long bed"
cover = "open"
area = "20 m²"
[[ground]]
name = "tunnel"
cover = "tunnel"
area = "20 m²"
[[wish]]
item = "carrots"
crops = ["early-carrot"]
each_week = "1 kg"
[[seed]]
crop = "pea"
variety = "Lincoln"
year = 2027
amount = "100 g"
"""
SPRING, SUMMER = date(2027, 4, 10), date(2027, 6, 12)


def write(garden: Path, line: str, day: date) -> LogAnswer:
    answer = understand(garden, line, day)
    assert answer.outcome == "understood", answer
    commit(garden, answer)
    return answer


def test_a_line_is_shown_before_it_counts_and_then_kept_with_its_words(garden: Path) -> None:
    answer = understand(garden, "sowed 12 ft carrots long bed", SPRING)
    assert [each.words for each in answer.facts] == [
        "sown in place: Bunching carrot, 7.87 sq ft (12 ft of row), long bed"
    ]
    assert not garden.with_suffix(".book").exists()
    (entry,) = commit(garden, answer)
    assert entry.note == "sowed 12 ft carrots long bed"
    assert list(record_of(garden).sowings) == [entry.id]


def test_the_gardens_own_words_are_known(garden: Path) -> None:
    assert understand(garden, "sowed 4 m Lincoln tunnel", SPRING).facts[0].fact == Sowed(
        "pea", "direct", "tunnel", 4 * 0.61, "Lincoln", "tunnel"
    )
    assert understand(garden, "sowed 4 m carrots long bed 4/5", SPRING).facts[0].day == date(2027, 4, 5)
    assert understand(garden, "picked 3 cucumbers in bed 9", SPRING).outcome == "asked"


def test_a_day_still_to_come_is_asked_about(garden: Path) -> None:
    """A year too many in --on was taken without a word. The day may be one on elsewhere on earth."""
    line, eve = "sowed 4 m carrots long bed", SPRING.replace(day=9)
    ahead = date(2028, 4, 10)
    assert understand(garden, line, SPRING, now=eve).outcome == "understood"
    asked = understand(garden, line, ahead, now=eve).question
    assert asked is not None
    assert asked.about == DOUBT
    assert "10 April 2028 is still to come: it is 9 April 2027 today." in asked.text
    assert understand(garden, line, ahead, {asked.key: SO}, eve).outcome == "understood"


def test_a_garden_that_is_tried_ahead_of_the_clock_has_its_own_today(garden: Path) -> None:
    before = date(2026, 11, 29)
    write(garden, "sowed 4 m carrots long bed", SPRING)
    assert understand(garden, "carrots up", date(2027, 4, 28), now=before).outcome == "understood"
    assert understand(garden, "carrots up", date(2028, 4, 28), now=before).outcome == "asked"


def test_a_loss_of_all_before_a_picking_of_the_same_sowing_is_asked_about(garden: Path) -> None:
    write(garden, "sowed 4 m carrots long bed", SPRING)
    write(garden, "pulled 1 lb carrots", SUMMER)
    line = "slugs took all the carrots on June 1"
    question = understand(garden, line, SUMMER).question
    assert question is not None
    assert "was picked on 12 June, after that" in question.text
    assert understand(garden, line, SUMMER, {question.key: SO}).outcome == "understood"
    for other in ("slugs took half the carrots on June 1", "slugs took all the carrots"):
        assert understand(garden, other, SUMMER).outcome == "understood"


def test_later_lines_find_the_sowing(garden: Path) -> None:
    write(garden, "sowed 4 m carrots long bed", SPRING)
    write(garden, "carrots up", date(2027, 4, 28))
    write(garden, "pulled 1 lb carrots", SUMMER)
    (sowing,) = record_of(garden).sowings.values()
    assert sowing.up is not None
    assert sowing.picked_kg == pytest.approx(0.45359237)


def test_a_job_is_listed_with_its_kind_its_crop_and_the_answer(garden: Path) -> None:
    pea = "pea.direct.open.2027-04-03"
    (sown,) = keep_facts(garden, [(SPRING, Sowed("early-carrot", "direct", "open", 1.0), "")])
    keep_facts(garden, [
        (SPRING, Answered(f"sow:{pea}", "put off", day_number(date(2027, 4, 17))), ""),
        (SPRING, Answered(f"thin:{sown.id}:2", "done"), ""), (SPRING, Answered("sow:of old", "refused"), ""),
        (SPRING, Decided(pea, "refused"), ""), (SPRING, LeftOut(sown.id), ""), (SPRING, Relearned(None), ""),
    ])
    assert {each.words for each in latest(garden)} >= {  # of one moment: their order is chance
        "job put off until 17 April: sow Shelling pea, first planned for 3 April",
        "job done: thin Bunching carrot, sown 10 April", "job refused: sow of old",
        "planned sowing refused: Shelling pea, first planned for 3 April",
        "left out of learning: Bunching carrot, sown 10 April", "learnt anew from here on: every crop",
    }


def test_undoing_takes_back_the_whole_last_line(garden: Path) -> None:
    write(garden, "sowed 4 m carrots long bed", SPRING)
    write(garden, "watered long bed and tunnel", SUMMER)
    gone = undo(garden, "", SUMMER)
    assert [each.words for each in gone] == ["watered: long bed", "watered: tunnel"]
    assert len(latest(garden)) == 1
    (entry,) = latest(garden)
    assert undo(garden, entry.id[-6:], SUMMER)[0].id == entry.id
    assert latest(garden) == ()
    with pytest.raises(BadRequest, match="nothing is in the diary"):
        undo(garden, "", SUMMER)


def test_correcting_keeps_the_first_entry_and_its_sowing(garden: Path) -> None:
    write(garden, "sowed 4 m carrots long bed", SPRING)
    (entry,) = latest(garden)
    for metres in (3, 2):
        answer, identity = correct(garden, entry.id[-6:], f"sowed {metres} m carrots long bed", SPRING)
        commit_correction(garden, identity, answer)
    (sowing,) = record_of(garden).sowings.values()
    assert (sowing.id, sowing.area) == (entry.id, pytest.approx(0.4))
    assert record_of(garden).conflicts == ()
    answer, _ = correct(garden, entry.id, "watered long bed and tunnel", SPRING)
    assert answer.outcome == "refused"


def test_a_corrected_sowing_still_carries_out_the_planned_one(garden: Path) -> None:
    fact = Sowed("early-carrot", "direct", "open", 1.2, ground="long bed", planned="the one of April")
    (entry,) = keep_facts(garden, [(SPRING, fact, "")])
    for crop, planned in (("carrots", "the one of April"), ("radish", None)):
        answer, _ = correct(garden, entry.id, f"sowed 3 m {crop} long bed", SPRING)
        assert isinstance(answer.facts[0].fact, Sowed)
        assert answer.facts[0].fact.planned == planned


def test_an_unknown_id_is_told(garden: Path) -> None:
    with pytest.raises(BadRequest, match="no entry goes by"):
        undo(garden, "0123ab", SUMMER)


def test_what_is_not_understood_is_never_written(garden: Path) -> None:
    for line in ("picked", "should I sow", "sowed 4 carrots"):
        with pytest.raises(BadDiary):
            commit(garden, understand(garden, line, SUMMER))
    assert latest(garden) == ()


def test_answers_to_questions(garden: Path) -> None:
    asked = understand(garden, "sowed 3 m beans long bed", SPRING)
    assert asked.question is not None
    answers = {asked.question.key: "broad-bean"}
    (fact,) = understand(garden, "sowed 3 m beans long bed", SPRING, answers).facts
    assert isinstance(fact.fact, Sowed)
    assert fact.fact.crop == "broad-bean"


def test_a_file_of_lines_is_written_all_or_none(garden: Path, tmp_path: Path) -> None:
    file = tmp_path / "lines.csv"
    file.write_text(
        "date,line\n2027-04-10,sowed 4 m carrots long bed\n\n2027-04-28,carrots up\n"
        '2027-06-12,"pulled 1 kg carrots, watered tunnel"\n',
        encoding="utf-8",
    )
    entries = read_lines(garden, file, date(2027, 6, 12)).entries
    assert latest(garden) == ()
    assert commit_lines(garden, entries) == 4
    picked = [each.fact for each in record_of(garden).entries if isinstance(each.fact, Picked)]
    assert [each.sowing for each in picked] == list(record_of(garden).sowings)


def test_every_fault_of_a_file_is_told_with_its_line(garden: Path, tmp_path: Path) -> None:
    file = tmp_path / "lines.csv"
    file.write_text(
        "2027-04-10,sowed 4 m carrots long bed\n10/4/2027,carrots up\n2027-06-12,picked\n"
        "2027-06-13\n2027-06-14,should I sow\n2027-06-15,watered tunnel\n1066-10-14,watered tunnel\n",
        encoding="utf-8",
    )
    with pytest.raises(BadDiary) as told:
        read_lines(garden, file, date(2027, 6, 14))
    assert sorted(problem.line or 0 for problem in told.value.problems) == [2, 3, 4, 5, 6, 7]
    assert latest(garden) == ()


@pytest.mark.parametrize("day", ["1066-10-14", "14 October 1066", "2027-04-21"])
def test_a_day_that_cannot_be_is_refused(garden: Path, day: str) -> None:
    answer = understand(garden, f"sowed 2 m radish long bed on {day}", date(2027, 4, 20))
    assert answer.outcome == "refused"
    assert latest(garden) == ()


def test_a_broken_garden_file_tells_its_line(garden: Path) -> None:
    garden.write_text(TEXT + '\n[[ground]\nname = "x"\n', encoding="utf-8")
    with pytest.raises(BadGarden, match="line"):
        understand(garden, "carrots up", SPRING)
    garden.write_text(TEXT + '\n[[ground]]\nname = "x"\ncover = "open"\n', encoding="utf-8")
    with pytest.raises(BadGarden, match="area"):
        understand(garden, "carrots up", SPRING)


def test_beds_and_packets_of_the_garden_file_are_known(garden: Path) -> None:
    beds = '[[ground]]\nname = "long beds"\ncover = "open"\narea = "4 x 10 m x 1.2 m"\n'
    garden.write_text(f"{TEXT}\n{beds}", encoding="utf-8")
    for line in ("watered long bed 3", "watered long beds 3"):
        assert understand(garden, line, SUMMER).facts[0].words == "watered: long beds 3"
    half = understand(garden, "sowed half of long bed 3 with carrots", SPRING)
    assert isinstance(half.facts[0].fact, Sowed)
    assert half.facts[0].fact.area == pytest.approx(6.0)
    assert (
        understand(garden, "germ test peas 43 of 50", SPRING).facts[0].shape()["packet"]
        == "file:pea:lincoln:2027"
    )


def test_one_undo_takes_back_a_line_of_two_beds(garden: Path) -> None:
    line = "sowed early carrots in the long bed and the tunnel, 9 ft each"
    assert len(commit(garden, understand(garden, line, SPRING))) == 2
    assert len(record_of(garden).sowings) == 2
    assert len(undo(garden, "", SPRING)) == 2
    assert not record_of(garden).sowings


def test_a_second_rain_of_a_day_says_what_it_takes_the_place_of(garden: Path) -> None:
    (first,) = write(garden, "5 mm of rain", SPRING).facts
    assert first.words == "weather: rain 0.2 in"
    (second,) = understand(garden, "2 mm of rain", SPRING).facts
    assert second.words == "weather: rain 0.079 in, in place of rain 0.2 in written of that day"
    (frost,) = understand(garden, "min 30 F", SPRING).facts
    assert "in place of" not in frost.words
    (other_day,) = understand(garden, "2 mm of rain", SUMMER).facts
    assert "in place of" not in other_day.words
    write(garden, "2 mm of rain", SPRING)
    undo(garden, "", SPRING)
    (third,) = understand(garden, "3 mm of rain", SPRING).facts
    assert "in place of rain 0.2 in" in third.words


SAME = "sowed 12 ft carrots long bed"


def test_the_same_sowing_twice_in_a_day_is_noticed_and_told_how_to_take_back(garden: Path) -> None:
    """It was kept without a word."""
    write(garden, SAME, SPRING)
    (first,) = record_of(garden).sowings
    question = understand(garden, SAME, SPRING).question
    assert question is not None
    assert question.about == DOUBT
    assert f"evenpick log --undo {first[-6:]}" in question.text
    meant = understand(garden, SAME, SPRING, {question.key: SO})
    assert meant.outcome == "understood"
    commit(garden, meant)
    assert len(record_of(garden).sowings) == 2


@pytest.mark.parametrize(("line", "day"), [
    ("sowed 13 ft carrots long bed", SPRING), ("sowed 12 ft carrots", SPRING), (SAME, SUMMER),
    ("sowed 12 ft radish long bed", SPRING),
])
def test_another_sowing_is_not_doubted(garden: Path, line: str, day: date) -> None:
    write(garden, SAME, SPRING)
    assert understand(garden, line, day).outcome == "understood"


def test_what_was_taken_back_or_is_put_right_is_not_the_same_again(garden: Path) -> None:
    write(garden, SAME, SPRING)
    (entry,) = record_of(garden).sowings
    assert correct(garden, entry[-6:], SAME, SPRING)[0].outcome == "understood"
    undo(garden, entry, SPRING)
    assert understand(garden, SAME, SPRING).outcome == "understood"


def test_a_picking_twice_is_doubted_where_it_was_weighed(garden: Path) -> None:
    write(garden, SAME, SPRING)
    for line, outcome in (("picked 2 lb carrots", "asked"), ("picked carrots", "understood")):
        write(garden, line, SUMMER)
        assert understand(garden, line, SUMMER).outcome == outcome


def test_a_file_read_in_twice_is_noticed(garden: Path, tmp_path: Path) -> None:
    rows = tmp_path / "rows.csv"
    rows.write_text(f"2027-04-10,{SAME}\n2027-04-10,sowed 3 ft radish long bed\n", encoding="utf-8")
    commit_lines(garden, read_lines(garden, rows, SUMMER).entries)
    with pytest.raises(BadDiary) as caught:
        read_lines(garden, rows, SUMMER)
    assert [problem.line for problem in caught.value.problems] == [1, 2]
    assert len(read_lines(garden, rows, SUMMER, sure=True).entries) == 2


def test_of_many_faults_of_a_file_the_first_are_told(garden: Path, tmp_path: Path) -> None:
    """A diary of a hundred years told thousands of lines, each with the same fault."""
    file = tmp_path / "old.csv"
    file.write_text("".join(f"19{year}-04-10,frost -2\n" for year in range(10, 40)) * 10, encoding="utf-8")
    with pytest.raises(BadDiary) as told:
        read_lines(garden, file, date(2060, 6, 14))
    *shown, more = told.value.problems
    assert [problem.line for problem in shown] == list(range(1, 21))
    assert "280 more" in more.what


def test_an_empty_file_is_told(garden: Path, tmp_path: Path) -> None:
    file = tmp_path / "none.csv"
    file.write_text("\n", encoding="utf-8")
    with pytest.raises(BadDiary, match="empty"):
        read_lines(garden, file, SUMMER)


def test_a_file_of_lines_folds_each_sowing_as_often_as_it_is_told_of(
    garden: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """40,000 lines would have taken hours: each folded all before it again. Of 2,000 sowings each still did;
    and each read the kept plan."""
    folded: list[str] = []
    plans: list[str] = []
    once, kept_plan = one_sowing, Book.plan

    def counting(entry: Entry, *told: Any) -> Sowing:
        folded.append(entry.id)
        return once(entry, *told)

    def reading(book: Book) -> Any:
        plans.append("read")
        return kept_plan(book)

    monkeypatch.setattr("evenpick.garden.record._sowing", counting)
    monkeypatch.setattr(Book, "plan", reading)
    file = tmp_path / "rows.csv"
    file.write_text("".join(
        f"2027-04-{day:02},sowed 4 m carrots 'Kind {day}' long bed\n"
        f"2027-05-{day:02},carrots 'Kind {day}' up\n"
        f"2027-06-{day:02},picked {day}00 g carrots 'Kind {day}'\n2027-06-{day:02},rain 2 mm\n"
        for day in range(1, 12)), encoding="utf-8")
    entries = read_lines(garden, file, SUMMER).entries
    assert len(entries) == 4 * 11
    last = entries[-2].fact
    assert isinstance(last, Picked)
    assert last.sowing == entries[-4].id
    assert len(folded) == 2 * 11
    assert len(plans) == 1
