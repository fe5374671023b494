"""The calendar file read by another parser than the one that wrote it (vobject), held against RFC 5545.

RFC 5545: 3.1 lines and folding, 3.3.8 INTEGER, 3.3.11 TEXT, 3.4 what a file holds, 3.6.1 what an event must
have, 3.8.2.2 the day on which it ends, 3.8.4.7 UID, 3.8.7.2 DTSTAMP, 3.8.7.4 SEQUENCE.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta, timezone
from typing import Any

import invented
import vobject
from hypothesis import given, settings
from hypothesis import strategies as st
from invented import AMERICAN, BRITISH

from evenpick.report.calendar import calendar
from evenpick.service.today_answer import Job

STAMP = datetime(2027, 2, 3, 8, 0, 30, tzinfo=UTC)
JOBS = (*invented.TODAY.jobs, *invented.TODAY.coming)


def parsed(jobs: list[Job], stamp: datetime = STAMP) -> Any:
    """The one calendar in the file, validated by the parser's own rules."""
    (found,) = vobject.readComponents(calendar(jobs, BRITISH, "a garden", stamp).decode())
    found.validate(raiseException=True)
    return found


def only(jobs: list[Job], stamp: datetime = STAMP) -> Any:
    (event,) = parsed(jobs, stamp).vevent_list
    return event


def test_the_file_holds_what_it_must() -> None:
    """3.4, 3.6: PRODID and VERSION 2.0; 3.6.1: UID, DTSTAMP, DTSTART once in each event, no UID twice."""
    found = parsed(list(JOBS))
    assert found.version.value == "2.0"
    assert found.prodid.value
    assert "method" not in found.contents
    assert len(found.vevent_list) == len(JOBS)
    for event in found.vevent_list:
        for name in ("uid", "dtstamp", "dtstart", "dtend", "summary"):
            assert len(event.contents[name]) == 1
    uids = [event.uid.value for event in found.vevent_list]
    assert len(set(uids)) == len(uids)


def test_what_is_written_is_what_is_read() -> None:
    for job, event in zip(JOBS, parsed(list(JOBS)).vevent_list, strict=True):
        assert event.dtstart.value == job.when
        assert type(event.dtstart.value) is date  # a day, in every time zone the same
        assert event.dtend.value == job.when + timedelta(days=1)  # 3.8.2.2: the day after, not in it
        assert event.location.value == job.where
        assert job.why in event.description.value
        assert event.summary.value.casefold().startswith(f"{job.kind} {job.name}".casefold())


def test_the_moment_is_utc_whatever_the_clock_says() -> None:
    """3.8.7.2: the value MUST be in the UTC time format."""
    here = STAMP.astimezone(timezone(timedelta(hours=13)))
    event = only([invented.SOW], here)
    assert event.dtstamp.value == STAMP
    assert event.dtstamp.value.utcoffset() == timedelta(0)
    assert b"TZID" not in calendar([invented.SOW], BRITISH, "a garden", here)
    assert b"\r\nDTSTAMP:20270203T080030Z\r\n" in calendar([invented.SOW], BRITISH, "g", here)


def test_a_changed_plan_moves_the_same_entry() -> None:
    """3.8.4.7, 3.8.7.4: the same UID, a later day, a higher SEQUENCE; a second is enough."""
    before = only([invented.SOW])
    later = replace(invented.SOW, when=invented.SOW.when + timedelta(days=7), tag="ffff", number=99)
    after = only([later], STAMP + timedelta(seconds=1))
    assert after.uid.value == before.uid.value
    assert after.dtstart.value - before.dtstart.value == timedelta(days=7)
    assert int(after.sequence.value) > int(before.sequence.value)
    assert after.dtstamp.value > before.dtstamp.value


def test_sequence_is_an_integer_of_the_standard() -> None:
    """3.3.8: to 2,147,483,647; and higher than what files of earlier versions had, minutes since 1970."""
    minutes = int(STAMP.timestamp()) // 60
    assert minutes < int(only([invented.SOW]).sequence.value)
    assert int(only([invented.SOW], datetime(2087, 12, 31, tzinfo=UTC)).sequence.value) <= 2_147_483_647


TEXT = st.text(st.characters(exclude_categories=("Cs", "Cc"), include_characters="\n"), max_size=300)


@settings(max_examples=60, derandomize=True, database=None)
@given(where=TEXT, why=TEXT)
def test_any_words_are_folded_and_come_back(where: str, why: str) -> None:
    """3.1: lines end in CRLF and are at most 75 octets long, no character is cut; 3.3.11: text is escaped."""
    job = replace(invented.SOW, where=where, why=why, can_wait_until=None, drill=None)
    made = calendar([job], AMERICAN, "a; b, c", STAMP)
    assert made.endswith(b"\r\n")
    assert b"\n" not in made.replace(b"\r\n", b"")
    lines = made.split(b"\r\n")
    assert max(map(len, lines)) <= 75
    assert all(line.decode() is not None for line in lines)  # each decodes by itself
    (event,) = vobject.readOne(made.decode()).vevent_list
    assert event.location.value == where
    assert event.description.value == why
