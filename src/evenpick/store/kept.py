"""Copies of a book, kept beside it in a folder of its own, and books put in a book's place."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import closing, contextmanager
from datetime import UTC, datetime
from pathlib import Path

from evenpick.base.errors import BadBook, Problem
from evenpick.base.language import tell
from evenpick.store.book import SUFFIX, kept_folder
from evenpick.store.checking import examine
from evenpick.store.opening import connected, only_read, rescue_of, told, writable

COPIES = 10
"""kept; the oldest goes when another comes"""
STAMP = "%Y-%m-%dT%H%M%S.%f"
"""so fine that copies made one after another stand in their order"""
REPLACED = "-replaced"
LOG = "-wal"


def copies(book: Path) -> tuple[Path, ...]:
    """The kept copies of a book, oldest first; books that were replaced are not among them."""
    return tuple(sorted(path for path in kept_folder(book).glob(f"*{SUFFIX}")
                        if not path.stem.endswith(REPLACED)))


def may_keep(book: Path) -> bool:
    """Whether a copy of a book can be kept beside it, not on a disk or in a folder that can only be read."""
    return writable(book) and writable(kept_folder(book))


def keep_copy(book: Path) -> Path | None:
    """Keep a whole copy of a book, if its diary is another than the last copy's, and let the oldest go.

    Returns the copy; None if none was needed. BadBook where the book is not whole.
    """
    folder = kept_folder(book)
    there = copies(book)
    folder.mkdir(exist_ok=True)
    with copied(book, folder) as copy:
        found = examine(copy)
        if found.faults:
            what = tell("the book is damaged ({faults}); no copy was kept.", faults=found.faults[0])
            raise BadBook(Problem(what, rescue_of(book), str(book)))
        if there and _digest(there[-1]) == found.digest:
            return None
        kept = _named(folder)
        copy.replace(kept)
    _sync(folder)
    for old in there[: max(0, len(there) + 1 - COPIES)]:
        old.unlink()
    return kept


def _digest(book: Path) -> str | None:
    """The digest of a book that stays as it is; None where it can't be read."""
    try:
        with copied(book) as copy:
            return examine(copy).digest
    except BadBook:
        return None


@contextmanager
def copied(book: Path, folder: Path | None = None) -> Iterator[Path]:
    """A whole copy of a book for as long as it is needed, made as one reading of it; the book stays as it is.
    BadBook where it can't be read."""
    if not book.is_file():
        raise BadBook(Problem(tell("there is no such book."), tell("Check the name."), str(book)))
    with tempfile.TemporaryDirectory(dir=folder) as made:
        copy = Path(made) / book.name
        reading = connected if writable(book) else only_read
        with told(book), closing(reading(book)) as source, closing(connected(copy)) as target:
            source.backup(target)
            target.execute("PRAGMA journal_mode = DELETE")
        _sync(copy)
        yield copy


def replace(book: Path, by: Path) -> Path | None:
    """Put another whole book in a book's place, and keep what was there; its path, None if there was nothing.

    The log goes first: read with another book it would spoil that.
    """
    folder = kept_folder(book)
    folder.mkdir(exist_ok=True)
    kept = None
    if book.exists():
        kept = _named(folder, REPLACED)
        shutil.copyfile(book, kept)
        _sync(kept)
        log = book.with_name(book.name + LOG)
        if log.exists():
            log.replace(kept.with_name(kept.name + LOG))
        book.with_name(book.name + "-shm").unlink(missing_ok=True)
        _sync(folder)
    by.replace(book)
    _sync(book.parent)
    return kept


def _named(folder: Path, ending: str = "") -> Path:
    return folder / f"{datetime.now(UTC).strftime(STAMP)}{ending}{SUFFIX}"


def _sync(path: Path) -> None:
    """See that a file, or a folder's names, are on the disk; some systems don't sync folders."""
    handle = os.open(path, os.O_RDONLY)
    try:
        os.fsync(handle)
    except OSError:
        if path.is_file():
            raise
    finally:
        os.close(handle)
