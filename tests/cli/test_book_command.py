"""check, export, import, versions, settle as a grower types them, on an invented garden."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from evenpick.garden.diary import Corrected, Sowed
from evenpick.service.book import record_of, write

Run = Callable[..., tuple[int, str, str]]
DOCS = (Path(__file__).resolve().parents[2] / "docs" / "interface.md").read_text(encoding="utf-8")
SOWED = Sowed("leek", "raised", "open", 3.0)


@pytest.fixture
def written(garden: Path) -> Path:
    write(garden, [(date(2027, 3, 1), SOWED, "")], "Ann")
    return garden


def told(text: str) -> dict[str, object]:
    """A JSON answer, every key of which docs/interface.md names."""
    shape: dict[str, object] = json.loads(text)
    assert set(shape) <= set(re.findall(r"`([a-z_0-9]+)`", DOCS))
    return shape


def test_check_says_what_is_in_the_book_and_keeps_a_copy(run: Run, written: Path) -> None:
    code, out, err = run("check")
    assert (code, err) == (0, "")
    assert "The book is whole: 2 entries" in out
    assert "Copies kept: 1; the last was made now." in out
    assert told(run("check", "--json")[1])["kept"] is None
    assert told(run("check", "--restore", "last", "--json")[1])["restored"]
    assert told(run("check", "--rescue", "--json")[1])["read"] == 2


def test_a_damaged_book_ends_in_2_and_says_what_to_do(run: Run, written: Path) -> None:
    book = written.with_suffix(".book")
    book.write_bytes(book.read_bytes().replace(b'"leek"', b'"leak"'))
    code, out, _ = run("check")
    assert code == 2
    assert "evenpick check --rescue" in out
    code, out, _ = run("check", "--rescue")
    assert (code, "look them through" in out) == (0, True)
    assert run("check")[0] == 0


def test_out_and_in_again(run: Run, written: Path, tmp_path: Path) -> None:
    whole = run("export")[1]
    files = told(run("export", "out", "--json")[1])["files"]
    assert isinstance(files, list)
    assert Path(files[0]).read_text(encoding="utf-8") == whole
    (tmp_path / "new").mkdir()
    code, out, _ = run("import", files[0], "--garden", "new/garden.toml")
    assert (code, "2 new entries; 0 were there already." in out) == (0, True)
    assert run("export", "--garden", "new/garden.toml")[1] == whole
    assert told(run("import", files[1], "--json")[1])["new"] == 0


def test_what_cannot_be_written_is_told_by_its_name(run: Run, written: Path) -> None:
    written.with_name("file").touch()
    for folder, where in (("no/x.xlsx", "no/x.xlsx"), ("file/out", "file/out")):
        code, out, err = run("export", folder)
        assert (code, out) == (2, "")
        assert err.startswith(f"evenpick: {where}: this file or folder can't be read or written")


def test_a_conflict_is_shown_with_both_versions_and_settled(run: Run, written: Path) -> None:
    sown = next(iter(record_of(written).sowings))
    for area in (4.0, 5.0):
        fact = Corrected(sown, 20_900, Sowed("leek", "raised", "open", area))
        write(written, [(date(2027, 3, 2), fact, "")])
    out = run("settle")[1]
    said = " ".join(out.split())
    assert all(words in said for words in ("CONFLICT 1", "area 4 m²", "area 5 m²", "--take a"))
    assert told(run("settle", "--json")[1])["conflicts"]
    assert "Nothing is open" in run("settle", "1", "--take", "b")[1]
    assert record_of(written).sowings[sown].area == 4.0
    assert run("settle", "1")[0] == 2


def test_versions_and_back_to_the_first(run: Run, written: Path) -> None:
    first = written.read_text(encoding="utf-8")
    written.write_text(first.replace("20 m²", "25 m²"), encoding="utf-8")
    write(written, [(date(2027, 3, 1), SOWED, "")])
    out = run("versions")[1]
    assert "ground 'bed' area: 20 m² → 25 m²" in out
    assert told(run("versions", "--take", "1", "--json")[1])["notes"] == []
    assert written.read_text(encoding="utf-8") == first


def test_before_anything_is_written_the_garden_file_is_checked(run: Run, garden: Path) -> None:
    code, out, err = run("check")
    assert (code, err) == (0, "")
    assert "nothing in it is at fault" in out
    assert "There is no book yet" in out
    assert told(run("check", "--json")[1]) == {"book": None, "garden": "garden.toml", "far": [], "farms": []}
    assert not garden.with_suffix(".book").exists()
    garden.write_text(garden.read_text(encoding="utf-8").replace("20 m²", "20"), encoding="utf-8")
    code, out, err = run("check")
    assert (code, out) == (2, "")
    assert "garden.toml, line" in err


def test_a_book_that_is_gone_though_copies_of_it_are_kept_is_a_fault(run: Run, written: Path) -> None:
    assert run("check")[0] == 0
    written.with_suffix(".book").unlink()
    code, _, err = run("check")
    assert (code, "evenpick check --restore last" in err) == (2, True)


@pytest.mark.parametrize(
    ("typed", "said"),
    [(("check",), "there is no book yet"), (("export",), "Check the name"),
     (("import", "none.book"), "no such book"), (("settle", "1", "--take", "a"), "no conflict 1"),
     (("check", "--restore", "last"), "No copies are kept"), (("check", "--rescue"), "no entry can be read"),
     (("versions", "--take", "1"), "no version 1")],
)
def test_where_there_is_nothing(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, typed: tuple[str, ...], said: str
) -> None:
    monkeypatch.chdir(tmp_path)
    code, out, err = run(*typed)
    assert (code, out) == (2, "")
    assert said in err
    assert not list(tmp_path.iterdir())
