"""print and calendar as a grower types them: what they write, and what they never write over. Invented
answers."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable
from pathlib import Path

import invented
import pytest

Run = Callable[..., tuple[int, str, str]]
BOTH = pytest.mark.parametrize(
    ("typed", "begins"), [(("print", "year"), b"%PDF"), (("calendar",), b"BEGIN:VCALENDAR")])


@pytest.fixture(autouse=True)
def ahead(calls: list[object], monkeypatch: pytest.MonkeyPatch) -> None:
    today = sys.modules["evenpick.service.today"]
    monkeypatch.setattr(today, "jobs_ahead", lambda *asked: (invented.TODAY.jobs, False, ""), raising=False)


@BOTH
def test_a_file_of_another_kind_is_never_written_over(
    run: Run, garden: Path, typed: tuple[str, ...], begins: bytes
) -> None:
    before = garden.read_bytes()
    code, out, err = run(*typed, "--out", "garden.toml")
    assert (code, out) == (2, "")
    assert "garden.toml: a file of another kind is there; it is never written over." in err
    assert garden.read_bytes() == before


@BOTH
def test_an_earlier_one_is_written_over_whole_and_a_link_stays(
    run: Run, garden: Path, typed: tuple[str, ...], begins: bytes
) -> None:
    out = garden.with_name("out")
    out.write_bytes(begins + b"x" * 1_000_000)
    link = garden.with_name("link")
    link.symlink_to(out)
    for path in (link, garden.with_name("new")):
        assert run(*typed, "--out", path.name)[0] == 0
        assert path.read_bytes().startswith(begins)
    assert link.is_symlink()
    assert b"xxxx" not in out.read_bytes()


@BOTH
def test_no_folder_is_told(run: Run, garden: Path, typed: tuple[str, ...], begins: bytes) -> None:
    code, out, err = run(*typed, "--out", "no/out")
    assert (code, out) == (2, "")
    assert err.startswith("evenpick: no/out: this file or folder can't be read or written (No such file")


def test_a_pipe_is_written_into(run: Run, garden: Path) -> None:
    pipe = garden.with_name("pipe")
    os.mkfifo(pipe)
    reader = os.open(pipe, os.O_RDONLY | os.O_NONBLOCK)
    try:
        assert run("calendar", "--out", "pipe")[0] == 0
        assert os.read(reader, 15) == b"BEGIN:VCALENDAR"
    finally:
        os.close(reader)
