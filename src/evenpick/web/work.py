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

State = Literal["nothing", "running", "done", "stopped", "failed"]
PROGRESS = re.compile(r"^\s*(\d+) %  (.*)$")
GRACE = 5.0
"""seconds that a stopped plan has to tidy up"""


@dataclass(frozen=True, slots=True)
class Told:
    state: State
    share: float = 0.0
    stage: str = ""
    said: str = ""
    """why it failed, in words"""


class Work:
    """At most one plan at a time."""

    def __init__(self, garden: Path) -> None:
        self._garden = garden
        self._lock = threading.Lock()
        self._told = Told("nothing")
        self._process: subprocess.Popen[str] | None = None

    def told(self) -> Told:
        with self._lock:
            return self._told

    def start(self, seconds: float | None = None, mend: bool = False) -> bool:
        """Begin a plan, or `mend` the one there is; False where one is being made already."""
        with self._lock:
            if self._told.state == "running":
                return False
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
        """Stop the plan that is being made; what was planned before stays."""
        with self._lock:
            process = self._process
            if process is None or self._told.state != "running":
                return
            self._told = replace(self._told, state="stopped")
        _signal(process, signal.SIGINT)
        try:
            process.wait(GRACE)
        except subprocess.TimeoutExpired:
            _signal(process, signal.SIGKILL)

    def _follow(self, process: subprocess.Popen[str]) -> None:
        assert process.stderr is not None
        said: list[str] = []
        for line in process.stderr:
            found = PROGRESS.match(line)
            if found is None:
                said.append(line.strip())
                continue
            with self._lock:
                if self._told.state == "running":
                    self._told = Told("running", int(found[1]) / 100, found[2])
        code = process.wait()
        with self._lock:
            if self._told.state == "running":
                failed = Told("failed", said=_last(said, self._garden))
                self._told = Told("done", 1.0) if code == 0 else failed


def _last(said: list[str], garden: Path) -> str:
    """The program's own words, without its name and the folders."""
    told = [line.removeprefix("evenpick: ").replace(f"{garden.parent}{os.sep}", "") for line in said if line]
    return " ".join(told[-3:]) or tell("It ended without a word.")


def _signal(process: subprocess.Popen[str], number: signal.Signals) -> None:
    try:
        os.killpg(process.pid, number)
    except ProcessLookupError:
        return
