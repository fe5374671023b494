"""The garden's book under kills, power cuts, short writes and full disks.

    python authorities/book.py > authorities/book.md

A process writes invented entries and tells after each one that it was acknowledged. It is killed at a
random moment, or its disk refuses at a random size. Then the book must hold every entry that was
acknowledged, just as it was, and no writing by half; it must be whole and take another entry.

A power cut is worse than a kill: what was not yet synced may be lost or garbled. It is made of a kill, by
SQLite's own order of work: the log is synced before the first page of it is copied into the file. Where no
page of the log stands in the file yet, the log is cut or garbled from a random place; what it holds was not
acknowledged, for a writing is acknowledged when the log has been copied and taken away. Where pages stand
in the file, copying was under way: pages that the log holds are garbled in the file. The shared memory is
lost either way.
"""

from __future__ import annotations

import json
import os
import random
import resource
import signal
import sqlite3
import sys
import tempfile
import threading
import time
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

from evenpick.base.errors import BadBook
from evenpick.garden.diary import Entry, Noted, Picked, SetUp, new_id
from evenpick.garden.garden_json import KeptPlan
from evenpick.store import opening
from evenpick.store.book import Book
from evenpick.store.checking import examine

SEED = 20261126
KILLS, CUTS, SHORT, FULL = 1000, 1000, 250, 250
LONGEST = 0.1
"""seconds of writing before the kill, at most: some tens of writings"""
PAGE, LOG_HEAD, FRAME_HEAD = 4096, 32, 24


@dataclass(slots=True)
class Tally:
    trials: int = 0
    writings: int = 0
    entries: int = 0
    states: Counter[str] = field(default_factory=Counter)
    wrong: list[str] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Told:
    """What the writer said: each writing begun, and those acknowledged."""

    begun: tuple[dict[str, int], ...]
    """the ids of each writing, with the checksums of their bodies"""
    acknowledged: tuple[tuple[str, ...], ...]


def batch(dice: random.Random) -> list[Entry]:
    """One writing: a line, several, or a long text that needs pages of its own."""
    def entry(fact: Noted | Picked | SetUp) -> Entry:
        return Entry(new_id(), 20_000, fact, "x" * dice.randrange(200))

    kind = dice.random()
    if kind < 0.6:
        return [entry(Picked("carrot", kg=dice.random()))]
    if kind < 0.9:
        return [entry(Noted()) for _ in range(dice.randrange(2, 30))]
    return [entry(SetUp("y" * dice.randrange(1, 60_000)))]


def begin(path: Path, dice: random.Random) -> list[Entry]:
    """What is there before: nothing, a book, or one of the first form, brought up while we kill."""
    kind = dice.randrange(3)
    if kind == 0:
        return []
    entries = [entry for _ in range(dice.randrange(1, 8)) for entry in batch(dice)]
    if kind == 1:
        Book(path).add(entries)
        return entries
    db = sqlite3.connect(path)
    db.execute("CREATE TABLE entries (id TEXT PRIMARY KEY, body TEXT NOT NULL) WITHOUT ROWID, STRICT")
    db.executemany("INSERT INTO entries VALUES (?, ?)", [opening.row_of(entry)[::2] for entry in entries])
    db.execute("PRAGMA user_version = 1")
    db.commit()
    db.close()
    return entries


def write_on(path: Path, dice: random.Random, pipe: int, rounds: int) -> None:
    """The writer: tells what it begins, writes, tells that it was acknowledged."""
    book = Book(path)
    for number in range(rounds):
        entries = batch(dice)
        _send(pipe, {"begun": {entry.id: opening.row_of(entry)[3] for entry in entries}})
        plan = KeptPlan(f"{number:06d}", "digest", json.dumps("z" * 30_000)) if dice.random() < 0.1 else None
        try:
            book.add(entries, plan=plan)
        except BadBook:
            continue
        _send(pipe, {"done": [entry.id for entry in entries]})


def _send(pipe: int, shape: object) -> None:
    data = json.dumps(shape).encode() + b"\n"
    while data:
        data = data[os.write(pipe, data):]


class Writer:
    """A process that writes, and a thread that hears what it tells."""

    def __init__(self, path: Path, seed: int, rounds: int, before: Callable[[], None] | None = None) -> None:
        ours, theirs = os.pipe()
        self.child = os.fork()
        if self.child == 0:
            try:
                os.close(ours)
                if before is not None:
                    before()
                write_on(path, random.Random(seed), theirs, rounds)
            finally:
                os._exit(0)
        os.close(theirs)
        self._lines: list[bytes] = []
        self._ear = threading.Thread(target=self._listen, args=(ours,))
        self._ear.start()

    def _listen(self, pipe: int) -> None:
        with os.fdopen(pipe, "rb") as told:
            self._lines = told.readlines()

    def heard(self) -> Told:
        """All that it told until it ended; a last line by half is none."""
        os.waitpid(self.child, 0)
        self._ear.join()
        lines = [json.loads(line) for line in self._lines if line.endswith(b"\n")]
        begun = [line["begun"] for line in lines if "begun" in line]
        return Told(tuple(begun), tuple(tuple(line["done"]) for line in lines if "done" in line))


def state(path: Path) -> str:
    """How the files stand at the moment of death."""
    log, journal = (path.with_name(path.name + end) for end in ("-wal", "-journal"))
    if not path.exists() or path.stat().st_size == 0:
        return "no book yet"
    if journal.exists():
        return "being made"
    return "log with frames" if log.exists() and log.stat().st_size > LOG_HEAD else "no log or an empty one"


def frames(log: bytes) -> Iterator[tuple[int, bytes]]:
    """Pages with their numbers of writings that the log holds whole: nothing else is copied."""
    held: list[tuple[int, bytes]] = []
    for at in range(LOG_HEAD, len(log) - PAGE - FRAME_HEAD + 1, PAGE + FRAME_HEAD):
        number, size_after = (int.from_bytes(log[at + k : at + k + 4], "big") for k in (0, 4))
        held.append((number, log[at + FRAME_HEAD : at + FRAME_HEAD + PAGE]))
        if size_after:  # the last page of a writing
            yield from held
            held.clear()


def copying(path: Path, log: bytes) -> bool:
    """Whether a page of the log stands in the file already; never while the log is still being written,
    though it may hold a page that the writing leaves as it was."""
    data = path.read_bytes()
    return any(data[(number - 1) * PAGE : number * PAGE] == page for number, page in frames(log))


def cut_power(path: Path, acknowledged: bool, dice: random.Random) -> str:
    """Lose or garble what was not synced; what was done, in words."""
    log = path.with_name(path.name + "-wal")
    path.with_name(path.name + "-shm").unlink(missing_ok=True)
    if not acknowledged or not log.exists() or log.stat().st_size <= LOG_HEAD:
        return "nothing unsynced"
    data = log.read_bytes()
    if not copying(path, data):
        place = dice.randrange(len(data))
        lost = data[:place] if dice.random() < 0.5 else data[:place] + dice.randbytes(len(data) - place)
        log.write_bytes(lost)
        return "log torn"
    with path.open("r+b") as file:
        for number, _ in frames(data):
            if dice.random() < 0.5:
                file.seek((number - 1) * PAGE + 512 * dice.randrange(8))
                file.write(dice.randbytes(512))
    return "file torn"


def faults(path: Path, there: list[Entry], said: Told) -> Iterator[str]:
    """What is not as it must be."""
    book = Book(path)
    written = {entry.id: opening.row_of(entry)[3] for entry in there}
    for ids in said.begun:
        written |= ids
    try:
        found = book.entries()
        whole = examine(path) if path.exists() else None
    except BadBook as error:
        yield f"unreadable: {error}"
        return
    kept = {entry.id for entry in found}
    yield from (f"damaged: {fault}" for fault in (whole.faults if whole else ()))
    if len(kept) != len(found):
        yield "doubled"
    if any(entry.id not in kept for entry in there) or any(set(ids) - kept for ids in said.acknowledged):
        yield "lost"
    if any(kept & set(ids) and set(ids) - kept for ids in said.begun):
        yield "by half"
    if any(opening.row_of(entry)[3] != written.get(entry.id) for entry in found):
        yield "not as it was written"
    more = Entry(new_id(), 20_000, Noted(), "afterwards")
    if book.add([more]) != 1 or more not in book.entries():
        yield "takes no more"


def killed(seed: int, folder: Path, tally: Tally, power: bool = False) -> None:
    """One writer, or two at once, killed; and the power cut."""
    dice = random.Random(seed)
    path = folder / "garden.book"
    there = begin(path, dice)
    several = 1 if power else dice.choice((1, 1, 2))
    writers = [Writer(path, dice.randrange(2**32), 10_000) for _ in range(several)]
    time.sleep(dice.uniform(0, LONGEST))
    for each in writers:
        os.kill(each.child, signal.SIGKILL)
    told = [each.heard() for each in writers]
    said = Told(tuple(ids for each in told for ids in each.begun),
                tuple(ids for each in told for ids in each.acknowledged))
    died = state(path)
    if power:
        died += f"; {cut_power(path, bool(there or said.acknowledged), dice)}"
    _count(tally, died, said, faults(path, there, said), seed)


def refused(seed: int, folder: Path, tally: Tally, full: bool) -> None:
    """A writer whose file may not grow past a random size: writes are cut short, or the disk is full."""
    dice = random.Random(seed)
    path = folder / "garden.book"
    there = begin(path, dice)
    size = path.stat().st_size if path.exists() else 0
    most = size + dice.randrange(80_000)

    def short() -> None:
        resource.setrlimit(resource.RLIMIT_FSIZE, (most, resource.RLIM_INFINITY))

    def small() -> None:
        plain = opening.connected

        def connected(path: Path, patience: float = opening.PATIENCE) -> sqlite3.Connection:
            db = plain(path, patience)
            db.execute(f"PRAGMA max_page_count = {most // PAGE + 1}")
            return db

        opening.connected = connected

    said = Writer(path, dice.randrange(2**32), 12, small if full else short).heard()
    died = "refused some" if len(said.acknowledged) < len(said.begun) else "never refused"
    _count(tally, died, said, faults(path, there, said), seed)


def _count(tally: Tally, died: str, said: Told, wrong: Iterator[str], seed: int) -> None:
    tally.trials += 1
    tally.writings += len(said.acknowledged)
    tally.entries += sum(map(len, said.acknowledged))
    tally.states[died] += 1
    tally.wrong += [f"{each} (trial {seed})" for each in wrong]


def trials(count: int, one: Callable[[int, Path, Tally], None], seed: int = SEED) -> Tally:
    tally = Tally()
    for number in range(count):
        with tempfile.TemporaryDirectory() as folder:
            one(seed + number, Path(folder), tally)
        if sys.stderr.isatty():
            print(f"\r{number + 1} of {count}", end="", file=sys.stderr)
    return tally


STUDIES: dict[str, tuple[int, Callable[[int, Path, Tally], None]]] = {
    "killed": (KILLS, killed),
    "power cut": (CUTS, lambda seed, folder, tally: killed(seed, folder, tally, power=True)),
    "writes cut short": (SHORT, lambda seed, folder, tally: refused(seed, folder, tally, full=False)),
    "disk full": (FULL, lambda seed, folder, tally: refused(seed, folder, tally, full=True)),
}


def main() -> None:
    print("# The book under kills, power cuts, short writes and full disks\n")
    print(f"Made by `python authorities/book.py > authorities/book.md` with SQLite {sqlite3.sqlite_version}. "
          f"Trials are drawn from seed {SEED}; moments of killing differ from run to run.\n")
    print("| what befell it | times | writings acknowledged | entries | wrong afterwards |")
    print("|---|---|---|---|---|")
    made = {name: trials(count, one) for name, (count, one) in STUDIES.items()}
    for name, tally in made.items():
        counts = (tally.trials, tally.writings, tally.entries, len(tally.wrong))
        print(f"| {name} | {' | '.join(map(str, counts))} |")
    print("\nWrong: an acknowledged entry lost or changed, an entry doubled, a writing by half; "
          "a book damaged, unreadable or taking no more.\n")
    print("No real power was cut: that is a model of what a disk that keeps its promises may lose "
          "(see the program's head). Disks that lie about syncing are not tried.\n")
    print("How the files stood then:\n")
    print("| what befell it | state | times |\n|---|---|---|")
    for name, tally in made.items():
        for died, times in sorted(tally.states.items()):
            print(f"| {name} | {died} | {times} |")
    for name, tally in made.items():
        for wrong in tally.wrong:
            print(f"\n{name}: {wrong}")


if __name__ == "__main__":
    main()
