"""Invented diaries: any fact that the rules allow, and diaries that hang together."""

from __future__ import annotations

from types import NoneType, UnionType
from typing import Any, Literal, Union, get_args, get_origin, get_type_hints

from hypothesis import strategies as st

from evenpick.garden import diary
from evenpick.garden.diary import Corrected, Entry, Noted, Picked, SetUp, Sowed, Undid
from evenpick.garden.diary_json import COUNTS, KINDS, SHARES

DAYS = st.integers(-20_000, 60_000)
TEXT = st.text(st.characters(exclude_categories=["Cs"]), max_size=12)
IDS = st.integers(0, 2**128 - 1).map("{:032x}".format)


def any_fact(kind: str) -> st.SearchStrategy[Any]:
    made = KINDS[kind]
    hints = get_type_hints(made, vars(diary))
    parts = {name: _of(name, hint) for name, hint in hints.items() if get_origin(hint) is not diary.ClassVar}
    if made is Corrected:
        parts["fact"] = facts((Corrected.kind, Undid.kind))
    built = st.builds(made, **parts)
    return built.filter(lambda fact: fact.way == "raised" or not fact.bought) if made is Sowed else built


def facts(without: tuple[str, ...] = ()) -> st.SearchStrategy[Any]:
    return st.sampled_from([kind for kind in KINDS if kind not in without]).flatmap(any_fact)


def _of(name: str, hint: Any) -> st.SearchStrategy[Any]:
    if get_origin(hint) is Literal:
        return st.sampled_from(get_args(hint))
    if get_origin(hint) in (Union, UnionType):
        return st.one_of(*(_of(name, part) for part in get_args(hint)))
    if hint is NoneType:
        return st.none()
    if name in ("day", "until"):
        return DAYS
    if hint is float:
        return st.floats(0 if name in (*SHARES, *COUNTS) else -1e9, 1 if name in SHARES else 1e9)
    if hint is int:
        return st.integers(0, 10**6)
    return {str: TEXT.filter(bool), bool: st.booleans()}.get(hint, st.none())


ENTRIES = st.builds(Entry, IDS, DAYS, facts(), TEXT, TEXT)


@st.composite
def diaries(draw: st.DrawFn) -> list[Entry]:
    """Entries that speak of one another: sowings, pickings, corrections, undoings, set-ups."""
    made: list[Entry] = [Entry(f"{0:032x}", 0, Sowed("carrot", "direct", "open", 1.0))]
    for number in range(1, draw(st.integers(1, 14))):
        about = draw(st.sampled_from(made))
        after = draw(st.none() | st.sampled_from([entry.id for entry in made]))
        day = draw(st.integers(0, 5))
        fact = draw(st.sampled_from([
            Sowed("leek", "raised", "open", 2.0), Picked("carrot", about.id, kg=1.0), Noted(),
            Undid(about.id),
            Corrected(about.id, day, Picked("leek", kg=float(day)), after),
            SetUp(f"text {day}", after),
        ]))
        made.append(Entry(f"{draw(st.integers(1, 30)):016x}{number:016x}", day, fact))
    return made
