"""How fast the pages are with five years in the diary, ten browsers asking at once.

    python benchmarks/pages.py > benchmarks/pages.md

The demo's garden and plan; 20,000 INVENTED entries of five years, thirty sowings still in the ground. Each
client asks for Today, then Pickings, over and over, by its own connection; while they do, somebody writes a
line a second (or nobody). Times are those of the whole answer at the client, on the same machine. Processor
time is the server's own, of all its threads, over the pages answered: the machine has other work, which
waiting shows and this does not.
"""

from __future__ import annotations

import gzip
import http.client
import os
import subprocess
import sys
import tempfile
import threading
import time
from datetime import date, timedelta
from importlib.resources import files
from pathlib import Path

import numpy as np

from evenpick.base.days import day_number
from evenpick.garden.diary import Cleared, Entry, Noted, Picked, Sowed, new_id
from evenpick.service.planning import make_plan, save_plan
from evenpick.store.book import Book, book_path

ENTRIES, CLIENTS, ROUNDS, STANDING, MEANS = 20_000, 10, 40, 30, 30
CROPS = ("leaf-lettuce", "radish", "beetroot", "kale", "leek", "courgette", "dwarf-bean", "spinach")
PATHS = ("/", "/pickings")
TODAY = date.today()


def diary() -> list[Entry]:
    """Sowings with their pickings and clearing, the last ones still standing, up to `ENTRIES`."""
    made: list[Entry] = []
    pickings = 38
    sowings = ENTRIES // (pickings + 2)
    for n in range(sowings):
        begun = TODAY - timedelta(days=5 * 365 - n * 5 * 355 // sowings)
        crop, sowing = CROPS[n % len(CROPS)], new_id(1.6e9 + 50 * n)
        made.append(Entry(sowing, day_number(begun), Sowed(crop, "direct", "open", 2.0)))
        stands = n >= sowings - STANDING
        for k in range(pickings if not stands else 2):
            when = day_number(begun) + min(k + 1, 9) if stands else day_number(begun) + 50 + k
            made.append(Entry(new_id(1.6e9 + 50 * n + k + 1), when, Picked(crop, sowing, kg=0.3)))
        if not stands:
            made.append(Entry(new_id(1.6e9 + 50 * n + 45), day_number(begun) + 95, Cleared(sowing)))
    while len(made) < ENTRIES:
        made.append(Entry(new_id(), day_number(TODAY), Noted(), "a note"))
    return made[:ENTRIES]


def ask(port: int, path: str) -> tuple[float, int, int]:
    """Seconds, bytes of the page, bytes on the way (packed)."""
    began = time.perf_counter()
    link = http.client.HTTPConnection("127.0.0.1", port)
    link.request("GET", path, headers={"Accept": "text/html", "Accept-Encoding": "gzip"})
    answer = link.getresponse()
    body = answer.read()
    spent = time.perf_counter() - began
    link.close()
    if answer.status != 200:
        raise SystemExit(f"{path}: {answer.status}")
    whole = gzip.decompress(body) if answer.getheader("Content-Encoding") == "gzip" else body
    return spent, len(whole), len(body)


def clients(port: int) -> dict[str, list[float]]:
    times: dict[str, list[float]] = {path: [] for path in PATHS}

    def one() -> None:
        for _ in range(ROUNDS):
            for path in PATHS:
                times[path].append(ask(port, path)[0])

    threads = [threading.Thread(target=one) for _ in range(CLIENTS)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return times


def write_every_second(garden: Path, stop: threading.Event) -> None:
    while not stop.wait(1.0):
        Book(book_path(garden)).add([Entry(new_id(), day_number(TODAY), Noted(), "a line meanwhile")])


def serve(garden: Path) -> tuple[subprocess.Popen[str], int, float]:
    """The program, its port, and seconds until it answered the first page."""
    began = time.perf_counter()
    command = [sys.executable, "-m", "evenpick", "serve", "--garden", str(garden), "--port", "0"]
    made = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)
    assert made.stdout is not None
    port = int(made.stdout.readline().split(":")[2].split("/")[0])
    link = http.client.HTTPConnection("127.0.0.1", port)
    link.request("GET", "/static/pages.css")
    link.getresponse().read()
    return made, port, time.perf_counter() - began


def processor(server: subprocess.Popen[str]) -> float:
    """Seconds of processor that the server has used (proc(5), fields 14 and 15)."""
    fields = Path(f"/proc/{server.pid}/stat").read_text(encoding="utf-8").rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def told(title: str, port: int, server: subprocess.Popen[str]) -> None:
    before = processor(server)
    times = clients(port)
    each = (processor(server) - before) / sum(map(len, times.values())) * 1000
    for path, name in zip(PATHS, ("Today", "Pickings"), strict=True):
        ms = np.array(times[path]) * 1000
        print(f"| {name} | {title} | {np.median(ms):.0f} | {np.quantile(ms, 0.95):.0f} | {ms.max():.0f} "
              f"| {each:.1f} |")


def after_a_line(garden: Path, port: int, server: subprocess.Popen[str]) -> tuple[float, float]:
    """Processor seconds of Today just after a line was written, and of Today again; means of thirty."""
    spent = [0.0, 0.0]
    for _ in range(MEANS):
        Book(book_path(garden)).add([Entry(new_id(), day_number(TODAY), Noted(), "a line")])
        time.sleep(0.1)
        for at in range(2):
            before = processor(server)
            ask(port, "/")
            spent[at] += processor(server) - before
    return spent[0] / MEANS, spent[1] / MEANS


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        garden = Path(folder) / "garden.toml"
        text = files("evenpick").joinpath("data", "demo", "garden.toml").read_text(encoding="utf-8")
        garden.write_text(text, encoding="utf-8")
        save_plan(garden, make_plan(garden, None, None, 15.0))
        Book(book_path(garden)).add(diary())
        server, port, ready = serve(garden)
        try:
            started = processor(server)
            first = {path: ask(port, path) for path in PATHS}
            print("# The pages' speed\n\nMade by `benchmarks/pages.py` on two cores, with other work. "
                  f"Demo garden, {ENTRIES:,} diary entries of five years, {STANDING} sowings standing, "
                  f"{CLIENTS} clients.\n")
            print("| page | meanwhile | median, ms | 95 %, ms | slowest, ms | processor, ms a page |"
                  "\n|---|---|---|---|---|---|")
            told("nobody writes", port, server)
            stop = threading.Event()
            writer = threading.Thread(target=write_every_second, args=(garden, stop))
            writer.start()
            told("a line a second is written", port, server)
            stop.set()
            writer.join()
            print("\n| page | first asking, ms | page, kB | packed, kB |\n|---|---|---|---|")
            for path, name in zip(PATHS, ("Today", "Pickings"), strict=True):
                spent, whole, packed = first[path]
                print(f"| {name} | {spent * 1000:.0f} | {whole / 1000:.0f} | {packed / 1000:.1f} |")
            extra = [ask(port, each)[1:] for each in ("/charts/year-wide.svg", "/static/pages.css",
                                                      "/static/htmx.min.js", "/static/waiting.js",
                                                      "/static/pages.js")]
            print(f"| chart, style, scripts | | {sum(w for w, _ in extra) / 1000:.0f} | "
                  f"{sum(p for _, p in extra) / 1000:.1f} |")
            fresh, again = after_a_line(garden, port, server)
            print(f"\nToday alone, just after a line was written: {fresh * 1000:.0f} ms of processor; asked "
                  f"again: {again * 1000:.0f} ms.")
            print(f"\n`serve` answered {ready:.1f} s after it was started, with {started:.1f} s of "
                  "processor.")
        finally:
            server.terminate()
            server.wait()


if __name__ == "__main__":
    main()
