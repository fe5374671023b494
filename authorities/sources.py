"""What the catalogue's values rest on, now and at an earlier revision.

    python authorities/sources.py [REVISION] > authorities/sources.md

Without a revision the last commit stands for before. A bibliography key counts by how far it was checked
(field `checked` of references.bib), and, where it was read, by whose it is: entries with
`keywords = {trade}` are seed houses, magazines and growers' own notes, the rest public bodies, papers and
open data.
"""

from __future__ import annotations

import re
import subprocess
import sys
import tomllib
from collections import Counter
from collections.abc import Callable, Iterable
from functools import partial
from pathlib import Path
from typing import Any

from evenpick.crops.build import BY_DEFINITION, SOLVED, UNSOLVED, build_crop
from evenpick.crops.packaged import crop_tables

ROOT = Path(__file__).resolve().parents[1]
CROPS, BIBLIOGRAPHY = "src/evenpick/data/crops", "references.bib"
KINDS = {"read": "public, read", "trade": "trade, read", "abstract": "abstract", "recalled": "recalled",
         "common practice, no source": "practice", "memory": "memory"}  # fmt: skip
READ = ("read", "trade")
NOT_COUNTED = (BY_DEFINITION, SOLVED)
"""shares of 1, pieces of 1 kg, and spreads that follow from the anchors: nothing to look up"""
MOST_GROWN = {
    "tomatoes": ("tomato",), "cucumbers": ("cucumber",), "sweet peppers": ("pepper",),
    "beans": ("dwarf-bean", "climbing-bean", "runner-bean"), "carrots": ("early-carrot", "main-carrot"),
    "summer squash": ("courgette",), "onions": ("onion", "onion-sets"), "hot peppers": ("chilli",),
    "lettuce": ("leaf-lettuce", "cos-lettuce", "crisp-lettuce"), "peas": ("pea",),
    "sweet corn": ("sweetcorn",), "radishes": ("radish",), "potatoes": ("early-potato", "main-potato"),
    "salad greens": ("rocket", "mizuna"), "pumpkins": ("winter-squash",), "watermelons": ("watermelon",),
    "spinach": ("spinach",), "broccoli": ("calabrese",), "melons": ("melon",),
    "cabbage": ("summer-cabbage", "winter-cabbage"),
}  # fmt: skip
"""the twenty vegetables most grown at home in the United States, in order (nga2009), as our crops"""
Parts = dict[str, Counter[str]]
Reader = Callable[[str], str]


def git(*arguments: str) -> str:
    return subprocess.run(["git", *arguments], cwd=ROOT, capture_output=True, text=True, check=True).stdout


def at_revision(revision: str, path: str) -> str:
    """A file's text as it stood at a git revision."""
    return git("show", f"{revision}:{path}")


def files_at(revision: str) -> list[str]:
    """The crop files that there were at a git revision."""
    return git("ls-tree", "--name-only", revision, f"{CROPS}/").split()


def files_now() -> list[str]:
    return [f"{CROPS}/{path.name}" for path in sorted((ROOT / CROPS).glob("*.toml"))]


def as_it_stands(path: str) -> str:
    return (ROOT / path).read_text(encoding="utf-8")


def kinds(bibliography: str) -> dict[str, str]:
    """Bibliography key → read, trade, abstract or recalled."""
    found: dict[str, str] = {}
    for entry in re.split(r"^@", bibliography, flags=re.MULTILINE):
        match = re.match(r"\w+\{(\w+),.*checked = \{(\w+)\}", entry, re.DOTALL)
        if match:
            how = {"memory": "recalled"}.get(match[2], match[2])
            found[match[1]] = "trade" if how == "read" and "keywords = {trade}" in entry else how
    return found


def tally(text_of: Reader, files: Iterable[str]) -> Parts:
    """Section of the catalogue → how many of its values rest on what."""
    kind = kinds(text_of(BIBLIOGRAPHY))
    parts: Parts = {}
    for path in files:
        tables = crop_tables(tomllib.loads(text_of(path)))
        for key, table in tables.items():
            for name, source in build_crop(key, table, UNSOLVED).sources.items():
                if source not in NOT_COUNTED and not defined(name, table):
                    parts.setdefault(name.split(".")[0], Counter())[kind.get(source, source)] += 1
    return parts


def defined(name: str, table: dict[str, Any]) -> bool:
    """Whether a value was one by definition though an earlier revision called it memory or practice."""
    section, _, field = name.partition(".")
    return (section == "purposes" and table["purposes"][field]["value"] == 1.0) or (
        name == "produce.piece_kg" and table["produce"]["piece"] == "kg"
    )


def row(name: str, before: Counter[str], after: Counter[str]) -> str:
    """A line of the table: values, share read before and after, and what each kind has now."""
    read = ((sum(counts[kind] for kind in READ), counts.total()) for counts in (before, after))
    shares = " | ".join(f"{some / of_all:.0%}" if of_all else "–" for some, of_all in read)
    return f"| {name} | {after.total()} | {shares} | {' | '.join(str(after[kind]) for kind in KINDS)} |"


def table(before: Parts, after: Parts) -> str:
    heads = ["section", "values", "read before", "read now", *KINDS.values()]
    lines = [f"| {' | '.join(heads)} |", "|" + "---|" * len(heads)]
    lines += [row(name, before.get(name, Counter()), counts) for name, counts in after.items()]
    whole = (sum(parts.values(), Counter[str]()) for parts in (before, after))
    return "\n".join([*lines, row("all", *whole)])


def most_grown(text_of: Reader) -> str:
    """A table of what the anchors of the twenty most grown vegetables rest on."""
    kind = kinds(text_of(BIBLIOGRAPHY))
    tables: dict[str, dict[str, Any]] = {}
    for path in files_now():
        tables |= crop_tables(tomllib.loads(text_of(path)))
    heads = ("vegetable", "crops", "anchors", *(KINDS[word] for word in READ), "else")
    lines = [f"| {' | '.join(heads)} |", "|" + "---|" * len(heads)]
    for name, keys in MOST_GROWN.items():
        sources = [anchor["source"] for key in keys for anchor in tables[key]["anchors"]]
        counts = Counter(kind.get(source, source) for source in sources)
        known = [counts.pop(word, 0) for word in READ]
        cells = (name, ", ".join(keys) or "not in the catalogue", len(sources), *known, counts.total())
        lines.append(f"| {' | '.join(map(str, cells))} |")
    return "\n".join(lines)


def main() -> None:
    revision = sys.argv[1] if len(sys.argv) > 1 else "HEAD"
    print("# What the crop catalogue rests on\n")
    print(f"Written by `python authorities/sources.py {revision}`: before is the catalogue at that revision.")
    print("Not counted: shares and pieces that are one by definition, spreads solved from the anchors.")
    print("Read: the numbers were seen in the source or in a stored copy of it (references.bib).\n")
    before = tally(partial(at_revision, revision), files_at(revision))
    print(table(before, tally(as_it_stands, files_now())))
    print("\n## Anchors of the twenty most grown\n")
    print("The vegetables most grown at home in the United States, in order (nga2009).\n")
    print(most_grown(as_it_stands))


if __name__ == "__main__":
    main()
