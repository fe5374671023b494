"""Reckoning beside the pages what a decision would do, in a process of its own that can be stopped."""

from __future__ import annotations

import multiprocessing
import threading
from dataclasses import dataclass
from datetime import date
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from pathlib import Path
from typing import Any

from evenpick.base.errors import EvenpickError, Problem
from evenpick.base.language import choose, chosen, tell
from evenpick.garden.diary import Decided
from evenpick.plan.beside import beside
from evenpick.service.plan_answer import PlanAnswer
from evenpick.service.supposing import Supposed, suppose

Question = tuple[Any, Decided]
"""how the garden stood, and the decision"""


@dataclass(frozen=True, slots=True)
class Failed:
    problems: tuple[Problem, ...]


def work(
    garden: Path, today: date, before: PlanAnswer, decided: Decided, language: str, out: Connection
) -> None:
    """What the process does: the answer, or what the grower can mend."""
    choose(language)
    try:
        with beside("evenpick.plan.options") as hands:
            out.send(suppose(garden, today, before, decided, hands))
    except EvenpickError as error:
        out.send(Failed(error.problems))


class Trying:
    """One question at a time; a new one stops the old. The last answer is kept."""

    def __init__(self, garden: Path) -> None:
        self._garden = garden
        self._lock = threading.Lock()
        self._question: Question | None = None
        self._answer: Supposed | Failed | None = None
        self._process: BaseProcess | None = None
        self._read: Connection | None = None

    def answer(self, question: Question, today: date, before: PlanAnswer) -> Supposed | Failed | None:
        """The answer, or None while it is reckoned; asked first, the reckoning begins."""
        with self._lock:
            if question != self._question:
                self._stop()
                self._begin(question, today, before)
            elif self._answer is None:
                self._look()
            return self._answer

    def stop(self) -> None:
        with self._lock:
            self._stop()
            self._question = None

    def _begin(self, question: Question, today: date, before: PlanAnswer) -> None:
        context = multiprocessing.get_context("spawn")  # a fork would copy the server's threads half
        self._read, write = context.Pipe(duplex=False)
        self._process = context.Process(target=work,
                                        args=(self._garden, today, before, question[1], chosen(), write),
                                        daemon=False)
        self._process.start()
        write.close()
        self._question, self._answer = question, None

    def _look(self) -> None:
        if self._read is None or not self._read.poll(0.5):
            return
        try:
            self._answer = self._read.recv()
        except EOFError:
            self._answer = Failed((Problem(tell("the reckoning ended without an answer."),
                                           tell("Try again.")),))
        self._read.close()
        self._read = None

    def _stop(self) -> None:
        if self._process is not None and self._process.is_alive():
            self._process.terminate()
        if self._read is not None:
            self._read.close()
        self._process, self._read, self._answer = None, None, None
