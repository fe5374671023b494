"""Rows read off the pages of a damaged book, each for itself (docs/formats/book.md).

Follows SQLite's file format (sqlite.org/fileformat2.html, sections 1.3, 1.6, 2.1 and 4.1): b-tree pages,
cells with their overflow pages, records. Nothing but a page and its overflow need be whole.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import TypeAlias

Row: TypeAlias = tuple[object, ...]
INDEX_INTERIOR, INDEX_LEAF = 0x02, 0x0A  # tables without rowid are kept in index b-trees
FILE_HEAD, LOG_HEAD, FRAME_HEAD = 100, 32, 24
USUAL = 4096
LONGEST = 2**28
INTEGERS = {1: 1, 2: 2, 3: 3, 4: 4, 5: 6, 6: 8}
"""serial type of a record's column → bytes"""


class NotARow(Exception):
    """What stands here can't be read as a row."""


def rows(book: Path) -> Iterator[Row]:
    """Every row without a rowid that can be read in the file and the log beside it, some more than once."""
    data = book.read_bytes() if book.exists() else b""
    log = book.with_name(book.name + "-wal")
    size = _page_size(data, log.read_bytes() if log.exists() else b"")
    pages = {number: data[(number - 1) * size : number * size] for number in range(1, len(data) // size + 1)}
    yield from _rows(pages, pages)
    frames = list(_frames(log.read_bytes(), size)) if log.exists() else []
    yield from _rows(dict(frames), {**pages, **dict(frames)})


def _page_size(data: bytes, log: bytes) -> int:
    for found in (int.from_bytes(data[16:18], "big"), int.from_bytes(log[8:12], "big")):
        size = 65536 if found == 1 else found
        if 512 <= size <= 65536 and size & (size - 1) == 0:
            return size
    return USUAL


def _frames(log: bytes, size: int) -> Iterator[tuple[int, bytes]]:
    for at in range(LOG_HEAD, len(log) - size - FRAME_HEAD + 1, size + FRAME_HEAD):
        yield int.from_bytes(log[at : at + 4], "big"), log[at + FRAME_HEAD : at + FRAME_HEAD + size]


def _rows(scanned: Mapping[int, bytes], every: Mapping[int, bytes]) -> Iterator[Row]:
    for number, page in scanned.items():
        head = FILE_HEAD if number == 1 else 0
        if page[head] not in (INDEX_INTERIOR, INDEX_LEAF):
            continue
        first, child = (head + 12, 4) if page[head] == INDEX_INTERIOR else (head + 8, 0)
        for cell in range(int.from_bytes(page[head + 3 : head + 5], "big")):
            at = first + 2 * cell
            begins = int.from_bytes(page[at : at + 2], "big")
            try:
                yield _record(_payload(page, begins + child, every))
            except NotARow:
                continue


def _payload(page: bytes, at: int, every: Mapping[int, bytes]) -> bytes:
    """What a cell holds, with its overflow pages (section 1.6; no bytes of a page are reserved)."""
    size, at = _varint(page, at)
    if size > LONGEST:
        raise NotARow
    usable = len(page)
    most = (usable - 12) * 64 // 255 - 23
    least = (usable - 12) * 32 // 255 - 23
    fits = least + (size - least) % (usable - 4)
    local = size if size <= most else fits if fits <= most else least
    found = page[at : at + local]
    following = int.from_bytes(page[at + local : at + local + 4], "big") if local < size else 0
    while len(found) < size:
        more = every.get(following)
        if more is None:
            raise NotARow
        following = int.from_bytes(more[:4], "big")
        found += more[4 : 4 + size - len(found)]
    return found


def _record(payload: bytes) -> Row:
    """The columns of a record (section 2.1); numbers with a point are not kept in a book."""
    ends, at = _varint(payload, 0)
    if ends > len(payload):
        raise NotARow
    types: list[int] = []
    while at < ends:
        kind, at = _varint(payload, at)
        types.append(kind)
    values: list[object] = []
    for kind in types:
        size = _size(kind)
        piece = payload[at : at + size]
        if len(piece) < size:
            raise NotARow
        values.append(_value(kind, piece))
        at += size
    return tuple(values)


def _size(kind: int) -> int:
    if kind >= 12:
        return (kind - 12) // 2
    return INTEGERS.get(kind, 8 if kind == 7 else 0)


def _value(kind: int, piece: bytes) -> object:
    if kind in (8, 9):
        return kind - 8
    if kind in INTEGERS:
        return int.from_bytes(piece, "big", signed=True)
    if kind >= 13 and kind % 2:
        try:
            return piece.decode()
        except UnicodeDecodeError as error:
            raise NotARow from error
    return None


def _varint(data: bytes, at: int) -> tuple[int, int]:
    """A number of one to nine bytes, and where it ends."""
    value = 0
    for place in range(9):
        if at >= len(data):
            raise NotARow
        byte = data[at]
        at += 1
        if place == 8:
            return value << 8 | byte, at
        value = value << 7 | byte & 0x7F
        if byte < 0x80:
            break
    return value, at
