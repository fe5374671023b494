"""docs/formats names every kind of fact and every field, and no others."""

from __future__ import annotations

import re
from dataclasses import fields
from pathlib import Path

from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.cooperative import understand_cooperative
from evenpick.garden.diary_csv import COLUMNS, read_csv
from evenpick.garden.diary_json import KINDS, OWN_NAMES

FORMATS = Path(__file__).resolve().parents[2] / "docs" / "formats"


def test_every_kind_and_field_is_told() -> None:
    text = (FORMATS / "garden-json.md").read_text(encoding="utf-8")
    rows = dict(re.findall(r"^\| `([a-z ]+)` \| (.*) \|$", text.split("## An entry")[1], re.MULTILINE))
    assert set(rows) == set(KINDS)
    for kind, made in KINDS.items():
        told = set(re.findall(r"`([a-z_0-9]+)`", rows[kind])) - {"correction", "note"}
        assert told == {OWN_NAMES.get(field.name, field.name) for field in fields(made)}, kind


def test_the_csv_of_the_docs_is_read() -> None:
    text = (FORMATS / "diary-csv.md").read_text(encoding="utf-8")
    first, second = read_csv(text.split("```csv\n")[1].split("```")[0], "docs")
    assert (first.fact.kind, first.note, second.note) == ("picked", "first ones", "")
    assert set(re.findall(r"`([a-z]+_[a-z]+)`", text)) <= set(COLUMNS)


def test_the_cooperative_of_the_docs_is_read(tmp_path: Path) -> None:
    text = (FORMATS / "cooperative-toml.md").read_text(encoding="utf-8").split("```toml\n")[1].split("```")[0]
    for farm in ("valley", "hill"):
        (tmp_path / farm).mkdir()
        (tmp_path / farm / "garden.toml").write_text('cooperative = "../coop.toml"\n', encoding="utf-8")
    found = understand_cooperative(text, "coop.toml", tmp_path, load_catalogue())
    assert [wish.item for wish in found.wishes] == ["lettuce", "kale"]
    assert found.growers("kale") == ("hill",)
