"""Share of the catalogue's values that rest on a published source: `python authorities/sources.py`.

A bibliography key counts by how far it was checked (the field `checked` of references.bib).
"""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path

from evenpick.crops.catalogue import load_catalogue

BIBLIOGRAPHY = Path(__file__).resolve().parents[1] / "references.bib"
STANDING = {"read": "published, read", "abstract": "published, abstract", "memory": "published, recalled"}


def checked() -> dict[str, str]:
    """Bibliography key → read, abstract or memory."""
    entries = re.split(r"^@", BIBLIOGRAPHY.read_text(encoding="utf-8"), flags=re.MULTILINE)
    pairs = (re.match(r"\w+\{(\w+),.*checked = \{(\w+)\}", entry, re.DOTALL) for entry in entries)
    return {pair[1]: pair[2] for pair in pairs if pair}


def tally() -> dict[str, Counter[str]]:
    """Part of the catalogue → how many of its values stand on what."""
    how = checked()
    parts: dict[str, Counter[str]] = {}
    for crop in load_catalogue().crops:
        for path, source in crop.sources.items():
            part = path.split(".")[0]
            parts.setdefault(part, Counter())[STANDING[how[source]] if source in how else source] += 1
    return parts


def main() -> None:
    parts = tally()
    total = sum(parts.values(), Counter[str]())
    for name, counts in [*parts.items(), ("all", total)]:
        shares = ", ".join(f"{what} {n} ({n / counts.total():.0%})" for what, n in counts.most_common())
        print(f"{name}: {shares}")


if __name__ == "__main__":
    main()
