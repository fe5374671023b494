"""Files written whole or not at all. Invented files."""

from __future__ import annotations

from pathlib import Path

import pytest

from evenpick.base import whole
from evenpick.base.whole import write_whole


def test_a_link_stays_and_the_file_that_it_leads_to_is_written(tmp_path: Path) -> None:
    folder = tmp_path / "synced"
    folder.mkdir()
    real, between, link = folder / "real.toml", tmp_path / "between.toml", tmp_path / "garden.toml"
    real.write_bytes(b"old")
    between.symlink_to(Path("synced") / "real.toml")
    link.symlink_to(between)
    write_whole(link, b"new")
    assert link.is_symlink()
    assert between.is_symlink()
    assert (real.read_bytes(), link.read_bytes()) == (b"new", b"new")
    assert sorted(path.name for path in tmp_path.rglob("*")) == [
        "between.toml", "garden.toml", "real.toml", "synced"]


def test_a_link_to_a_file_not_there_yet_makes_it(tmp_path: Path) -> None:
    link, real = tmp_path / "garden.toml", tmp_path / "real.toml"
    link.symlink_to(real)
    write_whole(link, b"new")
    assert link.is_symlink()
    assert real.read_bytes() == b"new"


def test_what_fails_leaves_the_old_file_and_nothing_beside(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(handle: int) -> None:
        raise OSError(28, "No space left on device")

    path = tmp_path / "garden.toml"
    path.write_bytes(b"old")
    path.chmod(0o640)
    monkeypatch.setattr(whole.os, "fsync", full)
    with pytest.raises(OSError, match="No space") as told:
        write_whole(path, b"new")
    assert told.value.filename == str(path)
    assert [(each, each.read_bytes()) for each in tmp_path.iterdir()] == [(path, b"old")]
    monkeypatch.undo()
    write_whole(path, b"new")
    assert path.stat().st_mode & 0o777 == 0o640
