"""Make the short list of sources that answers quote, from the bibliography.

    python builders/sources.py

Reads references.bib, writes src/evenpick/data/sources.csv: key, who and when, title, how far checked.
"""

from __future__ import annotations

import csv
from pathlib import Path

import bibtexparser

ROOT = Path(__file__).resolve().parents[1]
TARGET = ROOT / "src" / "evenpick" / "data" / "sources.csv"


def who(entry: dict[str, str]) -> str:
    """'Harrington & Minges 1954', 'Allen and others 1998'."""
    authors = [name.split(",")[0].strip(" {}") for name in entry.get("author", "").split(" and ") if name]
    if len(authors) > 2:
        names = f"{authors[0]} and others"
    else:
        names = " & ".join(authors) or entry.get("institution", entry.get("organization", ""))
    return f"{names} {entry.get('year', '')}".strip()


def row(key: str, entry: dict[str, str]) -> tuple[str, str, str, str]:
    return key, who(entry), entry["title"].strip("{}"), entry["checked"]


def main() -> None:
    library = bibtexparser.parse_string((ROOT / "references.bib").read_text(encoding="utf-8"))
    if library.failed_blocks:
        raise SystemExit(f"references.bib: {len(library.failed_blocks)} entries can't be read")
    fields = ((e.key, {name: f.value for name, f in e.fields_dict.items()}) for e in library.entries)
    rows = sorted(row(key, entry) for key, entry in fields)
    with TARGET.open("w", newline="", encoding="utf-8") as handle:
        writer = csv.writer(handle, lineterminator="\n")
        writer.writerow(("key", "who", "title", "checked"))
        writer.writerows(rows)


if __name__ == "__main__":
    main()
