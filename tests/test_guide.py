"""Every command that docs/guide shows is typed, page by page, and gives what the page shows.

The first hour makes one small garden and its plan; each other page is read in a copy of it. What a page says
to the test stands in comments, which a reader of the page does not see:

    <!-- day 2027-03-06 -->         the day of the commands that follow, where they take one
    <!-- exit 2 -->                 the next block is to leave with that code
    <!-- mark 79e1 Radish -->       79e1 stands for the mark at the head of the last line with that word

Blocks: `console` is typed; `csv NAME` and `toml NAME` are written to a file; there are no others.
"""

from __future__ import annotations

import io
import re
import shlex
import shutil
import subprocess
from collections.abc import Iterator
from contextlib import chdir, redirect_stderr, redirect_stdout
from pathlib import Path

import click
import pytest

from evenpick.cli.exits import run
from evenpick.cli.main import evenpick
from shown import SAID, agrees, commands, parts

GUIDE = Path(__file__).resolve().parents[1] / "docs" / "guide"
FIRST = GUIDE / "first-hour.md"
OTHERS = sorted(set(GUIDE.glob("*.md")) - {FIRST})
SHELL = ("cp", "mkdir")  # besides cd and evenpick, what a page may type


class Reader:
    """A reader who does what a page shows, in one folder."""

    def __init__(self, folder: Path) -> None:
        self.folder, self.day, self.code = folder, "", 0
        self.marks: dict[str, str] = {}
        self.seen: list[str] = []

    def read(self, page: Path) -> None:
        for kind, text in parts(page.read_text(encoding="utf-8")):
            match kind.split():
                case ["said"]:
                    self.obey(text)
                case ["console"]:
                    for command, output in commands(text):
                        self.type(command, output)
                    self.code = 0
                case ["csv" | "toml", name]:
                    (self.folder / name).write_text(text, encoding="utf-8")
                case _:
                    raise AssertionError(f"{page.name}: a block of a kind that is not known: '{kind}'")

    def obey(self, said: str) -> None:
        match said.split(maxsplit=2):
            case ["day", day]:
                self.day = day
            case ["exit", code]:
                self.code = int(code)
            case ["mark", mark, word]:
                self.marks[mark] = self.found(word)
            case _:
                raise AssertionError(f"a comment that is not known: {said}")

    def found(self, word: str) -> str:
        """The mark at the head of the last line shown that has a word."""
        for line in reversed(self.seen):
            head = re.match(r"([0-9a-f]{4,6})\s", line)
            if head and word in line:
                return head[1]
        raise AssertionError(f"no line with a mark and '{word}' was shown")

    def type(self, command: str, output: str) -> None:
        for mark, real in self.marks.items():
            command, output = command.replace(mark, real), output.replace(mark, real)
        words = shlex.split(command)
        if words[0] == "cd":
            self.folder = (self.folder / words[1]).resolve()
        elif words[0] in SHELL:
            subprocess.run(words, cwd=self.folder, check=True)
        else:
            assert words[0] == "evenpick", command
            code, got = self.ask(words[1:])
            assert code == self.code, f"$ {command}\n{got}"
            assert agrees(output, got, figures=False), f"$ {command}\n{got}"
            self.seen += got.splitlines()

    def ask(self, words: list[str]) -> tuple[int, str]:
        """The exit code and all that was said, in this process: starting Python would take most of it."""
        asked = command_of(words)
        if self.day and "--on" not in words and any("--on" in each.opts for each in asked.params):
            words = [*words, "--on", self.day]
        said = io.StringIO()
        with chdir(self.folder), redirect_stdout(said), redirect_stderr(said):
            code = run(lambda: evenpick.main(words, prog_name="evenpick", standalone_mode=False))
        return code, said.getvalue()


def command_of(words: list[str]) -> click.Command:
    """The command that words name, a part of a command with parts included."""
    found: click.Command = evenpick
    for word in words:
        if not isinstance(found, click.Group):
            break
        part = found.get_command(click.Context(found), word)
        if part is None:
            break
        found = part
    return found


@pytest.fixture(scope="module", autouse=True)
def terminal() -> Iterator[None]:
    """80 columns, no colour, nobody at the keyboard."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("COLUMNS", "80")
        patch.setenv("NO_COLOR", "1")
        patch.setattr("sys.stdin", io.StringIO())
        yield


@pytest.fixture(scope="module")
def first_hour(terminal: None, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The garden's folder as the first hour leaves it."""
    reader = Reader(tmp_path_factory.mktemp("guide"))
    reader.read(FIRST)
    return reader.folder


def test_first_hour(first_hour: Path) -> None:
    assert {"garden.toml", "garden.book"} <= {path.name for path in first_hour.iterdir()}


@pytest.mark.parametrize("page", OTHERS, ids=lambda page: page.stem)
def test_page(page: Path, first_hour: Path, tmp_path: Path) -> None:
    garden = tmp_path / "garden"
    shutil.copytree(first_hour, garden)
    Reader(garden).read(page)


@pytest.mark.parametrize("page", [FIRST, *OTHERS], ids=lambda page: page.stem)
def test_every_command_named_in_the_text_is_there(page: Path) -> None:
    prose = re.sub(r"^```.*?^```$", "", page.read_text(encoding="utf-8"), flags=re.MULTILINE | re.DOTALL)
    for named in re.findall(r"`evenpick ([^`]+)`", prose):
        words = shlex.split(named)
        asked = command_of(words)
        assert asked is not evenpick, f"evenpick {named}"
        there = {option for each in asked.params for option in each.opts} | {"--help"}
        assert {word for word in words if word.startswith("--")} <= there, f"evenpick {named}"


@pytest.mark.parametrize("page", [*GUIDE.glob("*.md"), *GUIDE.parent.glob("*.md")], ids=lambda one: one.stem)
def test_every_link_leads_somewhere(page: Path) -> None:
    for link in re.findall(r"\]\(([^)#]+)(?:#[^)]*)?\)", page.read_text(encoding="utf-8")):
        assert link.startswith("https://") or (page.parent / link).exists(), link


def test_no_page_says_something_unknown() -> None:
    kinds = {kind for page in [FIRST, *OTHERS] for kind, _ in parts(page.read_text(encoding="utf-8"))}
    assert {"console", SAID} <= kinds
