"""Our windows against planting calendars of extension services and public bodies.

    PYTHONPATH=src python authorities/calendars.py > authorities/calendars.md

Open ground, the climate the service picks for a point in the bulletin's region. The bulletins are in
authorities/calendars/: places.toml (source, how read), one CSV a place, halves.toml (which half is for
tuning, written before the first comparison), reading.md (what the result says). How rows and windows are
matched stands at the head of calendar_matching.py.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
from calendar_matching import BEYOND, FOLDER, Days, Edge, Found, compare, half_of, places, toml

from evenpick.outlook.first_frost import COOL

NEAR, FAR = 12, 21  # days, the bars of the issue
HEAD = ("edges", "median error, d", "signed median", "within 12 d", "within 21 d")
EDGE = {"first": "opening", "last": "closing"}


def within(errors: Sequence[float], days: int) -> str:
    return f"{np.mean(np.abs(errors) <= days):.0%}" if errors else "–"


def median(errors: Sequence[float]) -> str:
    value = float(np.median(np.abs(errors))) if errors else np.nan
    return "–" if np.isnan(value) else "beyond" if value == BEYOND else f"{value:.0f}"


def lean(errors: Sequence[float]) -> str:
    """Median of the signed errors that can be measured."""
    known = [error for error in errors if abs(error) < BEYOND]
    return f"{np.median(known):+.0f}" if known else "–"


def line(name: str, edges: Sequence[Edge]) -> str:
    return errors_line(name, [edge.error for edge in edges])


def errors_line(name: str, errors: Sequence[float]) -> str:
    cells = [name, len(errors), median(errors), lean(errors), within(errors, NEAR), within(errors, FAR)]
    return "| " + " | ".join(str(cell) for cell in cells) + " |"


def edges(founds: Sequence[Found]) -> list[Edge]:
    return [edge for found in founds for edge in found.edges]


def header(*columns: str) -> str:
    names = " | ".join(columns) + " |"
    return f"| {names}\n" + "|---" * names.count("|") + "|"


def totals(name: str, founds: Sequence[Found]) -> None:
    met, missing = sum(len(f.met) for f in founds), sum(len(f.missing) for f in founds)
    inside = np.mean([share for f in founds for share in f.covered])
    every = edges(founds)
    print(f"\n## {name}\n\nWindows met: {met} of {met + missing} ({met / (met + missing):.0%}; bar 95 %); "
          f"{inside:.0%} of their days lie inside ours (mean over the windows).\n")
    print(header("edge", *HEAD))
    print(line("all (bars: median 12 d, 75 % within 21 d)", every))
    print(line("all, and those of windows not met", [*every, *(edge for f in founds for edge in f.lost)]))
    print(errors_line("all, past half the bulletin's printed step", [e.beyond_blur() for e in every]))
    print(line(f"coldest weeks under {COOL:g} °C", edges([f for f in founds if f.coldest < COOL])))
    print(line("milder: most can be sown most of the year", edges([f for f in founds if f.coldest >= COOL])))
    for kind, word in EDGE.items():
        print(line(word, [e for e in every if e.kind == kind]))
        for season in ("spring", "autumn", "year"):
            some = [e for e in every if e.kind == kind and e.row.season == season]
            if some:
                print(line(f"{word}, {season}", some))


def by_place(founds: Sequence[Found], half: dict[str, str]) -> None:
    print("\n## By place\n")
    print(header("place", "half", "station", "km", "its height above, m", "met", *HEAD))
    for found in founds:
        origin, rows = found.origin, len(found.met) + len(found.missing)
        level = "" if origin.height_difference_m is None else f"{origin.height_difference_m:+.0f}"
        about = (found.place.at, half[found.place.name], origin.station, f"{origin.distance_km or 0:.0f}",
                 level, f"{len(found.met)} of {rows}")
        print(line(" | ".join(about), found.edges))


def by_crop(founds: Sequence[Found]) -> None:
    print("\n### By crop\n\n" + header("crop, edge", *HEAD))
    every = edges(founds)
    for crop, kind in sorted({(e.row.crop, e.kind) for e in every}):
        print(line(f"{crop}, {EDGE[kind]}", [e for e in every if (e.row.crop, e.kind) == (crop, kind)]))


def not_met(founds: Sequence[Found]) -> None:
    print("\n### Windows not met\n")
    for found in founds:
        names = ", ".join(f"{row.bulletin_crop} ({row.season})" for row in found.missing)
        if names:
            print(f"- {found.place.at}: {names}")


def days_line(name: str, some: Sequence[Days]) -> str:
    low, high = (np.array([d.printed[end] for d in some]) for end in (0, 1))
    middle = (low + high) / 2
    ours = np.array([(d.low, d.likely, d.high) for d in some])
    error = ours[:, 1] - middle
    near = np.mean(np.abs(error) <= 0.2 * middle)
    inside = np.mean((ours[:, 0] <= middle) & (middle <= ours[:, 2]))
    overlap = np.mean((ours[:, 0] <= high) & (low <= ours[:, 2]))
    return (f"| {name} | {len(some)} | {np.median(np.abs(error)):.0f} | {np.median(error):+.0f} | {near:.0%} "
            f"| {inside:.0%} | {overlap:.0%} |")


def days_table(founds: Sequence[Found]) -> None:
    print("\n### Days to harvest\n")
    print(header("place", "crop", "way", "bulletin, d", "ours 10 – 50 – 90 %, d", "raised before, d"))
    for d in (days for found in founds for days in found.days):
        print(f"| {d.place.at} | {d.row.crop}, {d.row.season or 'any'} | {d.row.way} "
              f"| {d.printed[0]:.0f}–{d.printed[1]:.0f} | {d.low:.0f} – {d.likely:.0f} – {d.high:.0f} "
              f"| {d.raising:.0f} |")


def far_off(founds: Sequence[Found]) -> None:
    print(f"\n### Edges more than {FAR} days off\n")
    print(header("place", "crop", "season", "edge", "error, d"))
    off = [edge for edge in edges(founds) if abs(edge.error) > FAR]
    for e in sorted(off, key=lambda e: (e.row.crop, e.kind, e.error)):
        error = "all the year" if e.error == BEYOND else f"{e.error:+.0f}"
        print("| " + " | ".join((e.place.at, e.row.crop, e.row.season, EDGE[e.kind], error)) + " |")


def harvest(halves: Mapping[str, Sequence[Found]]) -> None:
    print("\n## Days to harvest\n\nFrom sowing; from planting out where the bulletin counts plants, or does "
          "not tell and we raise the crop.\n")
    print(header("rows", "number", "median error of the middle, d", "signed median", "within 20 %",
                 "middle in our 80 % band", "ranges overlap"))
    for name, founds in halves.items():
        mine = [days for found in founds for days in found.days]
        print(days_line(name, mine))
        print(days_line(f"{name}, sown direct", [d for d in mine if d.row.way == "direct"]))
        print(days_line(f"{name}, raised", [d for d in mine if d.row.way != "direct"]))


def main() -> None:
    chosen = toml("halves.toml")
    found = [compare(place) for place in places()]
    near = [f for f in found if (f.origin.distance_km or 0.0) <= chosen["farthest_km"]]
    halves = {name: [f for f in near if half_of(f.place, chosen) == name] for name in ("untouched", "tuning")}
    half = {f.place.name: name for name, founds in halves.items() for f in founds}
    half |= {f.place.name: "apart" for f in found if f not in near}
    print("# Windows against published calendars: agreement\n")
    print("Written by `PYTHONPATH=src python authorities/calendars.py`; matching: calendar_matching.py.")
    print(f"Halves chosen {chosen['chosen']:%Y-%m-%d %H:%M} UTC, before the first comparison; this study "
          "tuned nothing.")
    for name, founds in halves.items():
        totals(f"The {name} half", founds)
    by_place(found, half)
    harvest(halves)
    print("\n" + (FOLDER / "reading.md").read_text(encoding="utf-8").rstrip())
    for name in ("tuning", "untouched"):
        print(f"\n## Row by row: the {name} half{' (not to be tuned on)' if name == 'untouched' else ''}")
        for table in (by_crop, not_met, far_off, days_table):
            table(halves[name])


if __name__ == "__main__":
    main()
