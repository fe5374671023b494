"""What is expected of the sowings under way, kept until something that it rests on changes.

Kept in the garden's book among what this copy alone knows: a page asked again, or after a line about another
sowing, need not grow anything. An expectation rests on its sowing as the diary has it, the day, the garden,
its weather, the readings, the crops and what was learned; a change of any makes another mark. Where the book
can't be written just now they are not kept, and reckoned again the next time: a question needs no room.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from datetime import date
from hashlib import sha256
from importlib.resources import files
from pathlib import Path

from evenpick import __version__
from evenpick.garden.diary import Reading
from evenpick.garden.garden import Garden
from evenpick.garden.record import Sowing
from evenpick.service.expectation import Expected
from evenpick.service.plain import plain, read_plain
from evenpick.service.plan_answer import GrownHere
from evenpick.service.thermometer import own_readings
from evenpick.store.book import Book, book_path

NAME = "expected"
"""under which the book keeps them"""
CROPS = ("crops.json", "thermal_times.csv")


def foreseen(
    garden: Path, described: Garden, sowings: Sequence[Sowing], readings: Mapping[int, Reading], on: date,
    learned: Sequence[GrownHere],
) -> Mapping[str, Expected]:
    """By id of the sowing, as `expected.expected` gives it."""
    if not sowings:
        return {}
    common = _digest(__version__, _crops(), repr(described), _weather(described),
                     repr(sorted(readings.items())), on.isoformat(), repr(tuple(learned)))
    marks = {sowing.id: _digest(common, repr(sowing)) for sowing in sowings}
    book = Book(book_path(garden))
    kept = _kept(book)
    known = {name: kept[mark] for name, mark in marks.items() if mark in kept}
    missing = [sowing for sowing in sowings if sowing.id not in known]
    if missing:
        known |= _reckoned(described, missing, readings, on, learned)
        shape = {marks[name]: plain(one) for name, one in known.items()}
        book.keep_if_it_can(NAME, json.dumps(shape))
    return known


def _reckoned(
    described: Garden, sowings: Sequence[Sowing], readings: Mapping[int, Reading], on: date,
    learned: Sequence[GrownHere],
) -> Mapping[str, Expected]:
    from evenpick.service.by_hand import by_hand
    from evenpick.service.expected import expected
    from evenpick.service.learning import as_kept

    return expected(described.site, described.weather, sowings, readings, on, as_here=as_kept(learned),
                    seedbed=described.seedbed, lowest=described.lowest, hand=by_hand(described))


def _kept(book: Book) -> Mapping[str, Expected]:
    """By their marks; none where there is no book, or where another version kept them in another form."""
    text = book.own(NAME)
    try:
        return {} if text is None else {
            mark: read_plain(Expected, shape) for mark, shape in json.loads(text).items()}
    except (ValueError, TypeError, KeyError):
        return {}


def _crops() -> str:
    data = files("evenpick").joinpath("data")
    return _digest(*(data.joinpath(name).read_text(encoding="utf-8") for name in CROPS))


def _weather(described: Garden) -> str:
    """The weather files of the garden's own, by their size and moment of change, and all that was read."""
    choice = described.weather
    files = (choice.record, choice.normals, choice.fetched)
    named = [path for path in files if path is not None and path.exists()]
    stamps = [(str(path), path.stat().st_size, path.stat().st_mtime_ns) for path in named]
    return repr((stamps, sorted(own_readings(choice).items())))


def _digest(*parts: str) -> str:
    return sha256("\n".join(parts).encode()).hexdigest()[:24]
