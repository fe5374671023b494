"""Planning beside the pages: the program itself run on the garden, how far it is, and a way to stop it."""

from __future__ import annotations

import os
import re
import signal
import subprocess
import sys
import threading
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Literal

from evenpick.base.language import tell
from evenpick.service.store_plan import kept_when

State = Literal["nothing", "running", "stopping", "done", "stopped", "failed"]
"""stopped: at the reader's word, with the best so far `kept` or nothing"""
PROGRESS = re.compile(r"^\s*(\d+) %  (.*)$")
GAP = re.compile(r"(\d+(?:[.,]\d+)?) %")
UNDER_WAY = ("running", "stopping")


@dataclass(frozen=True, slots=True)
class Told:
    state: State
    share: float = 0.0
    stage: str = ""
    said: str = ""
    """why it failed, in words"""
    gap: float | None = None
    """share of what is at stake within which it is proven so far; None where nothing is yet"""
    kept: bool = False
    """whether the plan made is the one kept"""
    stays: bool = False
    """whether one was made, but the plan that there was is better and stays"""


class Work:
    """At most one plan at a time."""

    def __init__(self, garden: Path) -> None:
        self._garden = garden
        self._lock = threading.Lock()
        self._told = Told("nothing")
        self._process: subprocess.Popen[str] | None = None
        self._before: str | None = None
        """moment of the plan that is kept when one begins"""

    def told(self) -> Told:
        with self._lock:
            return self._told

    def start(self, seconds: float | None = None, mend: bool = False) -> bool:
        """Begin a plan, or `mend` the one there is; False where one is being made already."""
        with self._lock:
            if self._told.state in UNDER_WAY:
                return False
            self._before = kept_when(self._garden)
            command = [sys.executable, "-m", "evenpick", "plan", "--garden", str(self._garden), "--json"]
            command += ["--mend"] if mend else []
            command += [] if seconds is None else ["--seconds", f"{seconds:g}"]
            process = subprocess.Popen(
                command, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, stdin=subprocess.DEVNULL,
                text=True, start_new_session=True,
            )
            self._process, self._told = process, Told("running", 0.0, "starting")
        threading.Thread(target=self._follow, args=(process,), daemon=True).start()
        return True

    def stop(self) -> None:
        """End the search: the best plan so far is measured and kept, as Ctrl-C does. Asked again, it is
        dropped, and what was planned before stays."""
        with self._lock:
            process, state = self._process, self._told.state
            if process is None or state not in UNDER_WAY:
                return
            self._told = replace(self._told, state="stopping")
        _signal(process, signal.SIGINT if state == "running" else signal.SIGKILL)

    def _follow(self, process: subprocess.Popen[str]) -> None:
        assert process.stderr is not None
        said: list[str] = []
        for line in process.stderr:
            found = PROGRESS.match(line)
            if found is None:
                said.append(line.strip())
                continue
            with self._lock:
                gap = _gap(found[2], self._told)
                self._told = Told(self._told.state, int(found[1]) / 100, found[2], gap=gap)
        code = process.wait()
        kept = code == 0 and kept_when(self._garden) != self._before
        with self._lock:
            stopped, gap = self._told.state == "stopping", self._told.gap
            if code != 0 and not stopped:
                self._told = Told("failed", said=_last(said, self._garden))
                return
            self._told = Told("stopped" if stopped else "done", 0.0 if stopped else 1.0, gap=gap, kept=kept,
                              stays=code == 0 and not kept)


def _gap(stage: str, before: Told) -> float | None:
    """What the stage says is proven; else what was proven before."""
    found = GAP.search(stage)
    return before.gap if found is None else float(found[1].replace(",", ".")) / 100


def _last(said: list[str], garden: Path) -> str:
    """The program's own words, without its name and the folders."""
    told = [line.removeprefix("evenpick: ").replace(f"{garden.parent}{os.sep}", "") for line in said if line]
    return " ".join(told[-3:]) or tell("It ended without a word.")


def _signal(process: subprocess.Popen[str], number: signal.Signals) -> None:
    try:
        os.killpg(process.pid, number)
    except ProcessLookupError:
        return
