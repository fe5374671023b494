"""Whether a book is whole: the file's structure, and every entry and the plan against their checksums."""

from __future__ import annotations

import hashlib
import sqlite3
import zlib
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from evenpick.store.opening import is_damage, opened
from evenpick.store.plan_row import Damaged, plan_in
from evenpick.store.reading import readable

MANY = 20
"""faults told one by one"""


@dataclass(frozen=True, slots=True)
class Examined:
    entries: int
    digest: str
    """of all bodies in the order of their ids (docs/formats/book.md)"""
    faults: tuple[str, ...]
    """in words; none where the book is whole"""


def examine(path: Path) -> Examined:
    """Look through a book of any form that this evenpick knows, bringing it up first.

    BadBook where it is no book at all, is another program's, a newer one, or can't be got at; damage is told
    in the answer.
    """
    with opened(path) as db:
        faults = _structure(db)
        try:
            rows = db.execute("SELECT id, kind, body, crc FROM entries ORDER BY id").fetchall()
        except sqlite3.DatabaseError as error:
            if not is_damage(error):
                raise
            return Examined(0, "", tuple(faults or ["the table of entries can't be read"]))
        faults += _plan_faults(db)
    faults += [fault for row in rows if (fault := _fault(*row))]
    more = [f"and {len(faults) - MANY} more"] if len(faults) > MANY else []
    return Examined(len(rows), digest(body for _, _, body, _ in rows), (*faults[:MANY], *more))


def digest(bodies: Iterable[str]) -> str:
    """The SHA-256 of bodies, each followed by a line feed; hexadecimal. Of what is no text in a damaged book
    its name counts."""
    found = hashlib.sha256()
    for body in bodies:
        found.update(str(body).encode())
        found.update(b"\n")
    return found.hexdigest()


def _structure(db: sqlite3.Connection) -> list[str]:
    try:
        lines = [str(line) for (line,) in db.execute(f"PRAGMA integrity_check({MANY})")]
    except sqlite3.DatabaseError as error:
        if not is_damage(error):
            raise
        return [str(error)]
    return [] if lines == ["ok"] else [part for line in lines for part in line.splitlines()]


def _plan_faults(db: sqlite3.Connection) -> list[str]:
    try:
        plan_in(db)
    except (Damaged, sqlite3.DatabaseError) as error:
        if isinstance(error, sqlite3.DatabaseError) and not is_damage(error):
            raise
        return ["the kept plan is not as it was written"]
    return []


def _fault(identity: str, kind: str, body: str, crc: int) -> str:
    if not isinstance(body, str) or zlib.crc32(body.encode()) != crc:
        return f"the entry {identity} is not as it was written"
    entry = readable(body)
    if entry is None:
        return f"the entry {identity} can't be read"
    return "" if (entry.id, entry.fact.kind) == (identity, kind) else f"the entry {identity} is filed wrongly"
