"""Which changes of a garden file leave its kept plan standing. INVENTED garden and plan."""

from __future__ import annotations

import json
import sys
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "report"))
import invented

from evenpick.service.plain import plain
from evenpick.service.store_plan import (
    better_kept,
    garden_digest,
    keep_answer,
    last_plan,
    plan_path,
    save_plan,
    saved_plan,
    text_digest,
)

TEXT = """\
[site]
at = "53.4, -6.2"
[words]
english = "british"
money = "€"
[[ground]]
name = "bed"
cover = "open"
area = "30 m2"
[[wish]]
item = "rocket"
each_week = "250 g"
"""
TOLD_OTHERWISE = {
    "units": ('english = "british"', 'english = "british"\nunits = "imperial"'),
    "english": ('english = "british"', 'english = "american"'),
    "no english": ('english = "british"\n', ""),
    "language": ("[words]", '[words]\nlanguage = "en_US"'),
    "a comment": ("[[ground]]", "# the bed by the wall\n[[ground]]"),
    "white space": ('area = "30 m2"', '   area   =   "30 m2"\n\n'),
    "line ends": ("\n", "\r\n"),
}
OTHER = {
    "area": ("30 m2", "31 m2"), "wish": ("250 g", "300 g"), "money": ("€", "£"), "place": ("53.4", "53.5"),
    "order": ('item = "rocket"', 'item = "rocket"\n[[wish]]\nitem = "radish"\neach_week = "1 kg"'),
    "fault": ("[site]", "[site"),
}


@pytest.fixture
def garden(tmp_path: Path) -> Path:
    path = tmp_path / "garden.toml"
    path.write_bytes(TEXT.encode())
    save_plan(path, replace(invented.PLAN, made_from=replace(invented.PLAN.made_from,
                                                             garden=garden_digest(TEXT))))
    return path


@pytest.mark.parametrize("change", TOLD_OTHERWISE)
def test_words_comments_and_white_space_leave_the_plan(garden: Path, change: str) -> None:
    before = saved_plan(garden)
    garden.write_bytes(TEXT.replace(*TOLD_OTHERWISE[change]).encode())
    assert before is not None
    assert saved_plan(garden) == before


@pytest.mark.parametrize("change", OTHER)
def test_what_the_plan_hangs_on_does_not(garden: Path, change: str) -> None:
    garden.write_bytes(TEXT.replace(*OTHER[change]).encode())
    assert saved_plan(garden) is None


@pytest.mark.parametrize("where", ["book", "older file"])
def test_a_plan_kept_when_every_sign_counted_is_still_read(garden: Path, where: str) -> None:
    """And counts as one of this garden, so that planning again does not say that it has changed."""
    old = replace(invented.PLAN, made_from=replace(invented.PLAN.made_from, garden=text_digest(TEXT)))
    if where == "book":
        keep_answer(garden, text_digest(TEXT), old)
    else:
        garden.with_suffix(".book").unlink()
        plan_path(garden).write_text(json.dumps(plain(old)), encoding="utf-8")
    for found in (saved_plan(garden), last_plan(garden)):
        assert found is not None
        assert found.made_from.garden == garden_digest(TEXT)
    garden.write_bytes(TEXT.replace("30 m2", "31 m2").encode())
    assert saved_plan(garden) is None


def test_the_plan_proven_nearer_stays_where_the_same_was_asked(garden: Path) -> None:
    made_from = replace(invented.PLAN.made_from, garden=garden_digest(TEXT), diary="a" * 16)
    kept = replace(invented.PLAN, made_from=made_from, gap=0.067)
    save_plan(garden, kept)
    worse = replace(kept, gap=0.234, seconds=10.0)
    assert better_kept(garden, worse) == kept
    assert better_kept(garden, replace(worse, gap=0.067)) is None
    assert better_kept(garden, replace(worse, gap=0.03)) is None
    assert better_kept(garden, replace(worse, gap=None)) is None  # mended: nothing is proven
    assert better_kept(garden, replace(worse, begins=kept.begins + timedelta(days=1))) is None
    for name in ("weather", "catalogue", "diary", "version"):
        assert better_kept(garden, replace(worse, made_from=replace(made_from, **{name: "other"}))) is None
    save_plan(garden, replace(kept, made_from=replace(made_from, diary="")))
    assert better_kept(garden, replace(worse, made_from=replace(made_from, diary=""))) is None
