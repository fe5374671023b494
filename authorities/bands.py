"""Coverage and width of the 80 % bands of days to first picking.

    PYTHONPATH=src python authorities/bands.py > authorities/bands.md

1. Anchors left out one by one (crops with three and more): thermal time and spread are solved from the
   others, and the anchor's days held against the band in its own climate. The prior of outlook/anchors.py
   (0.19) was chosen by this (docs/design/outlook-cases.md, O17): the spread is right by how it was come by.
2. Weather years left out one by one (the packaged daily records): the band of the other years, the crop known
   exactly, against the year's own days. Tells whether the ensemble's weather is wide enough.
3. Width of the whole band (weather and crop) by group.
The share of a stand that comes up moves amounts, not days; it stands in none of these.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from ripening_days import TENTHS, band, days_by_year, settings_at

from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.crop import Anchor, Crop
from evenpick.outlook.anchors import solve_thermal_time, together

GROUPS = {
    "roots": "beetroot early-carrot main-carrot parsnip swede turnip radish winter-radish celeriac "
             "sweet-potato peanut",
    "bulbs and leeks": "onion onion-sets spring-onion leek garlic",
    "leaf": "chard spinach leaf-lettuce cos-lettuce crisp-lettuce endive kale pak-choi mizuna rocket parsley "
            "celery new-zealand-spinach malabar-spinach water-spinach amaranth coriander dill chicory "
            "collards gai-lan mustard-greens turnip-greens lambs-lettuce basil chives",
    "heads": "calabrese cauliflower summer-cabbage winter-cabbage brussels-sprout kohlrabi chinese-cabbage "
             "sprouting-broccoli florence-fennel",
    "pods": "broad-bean runner-bean dwarf-bean climbing-bean pea mangetout yardlong-bean southern-pea "
            "lima-bean edamame",
    "fruits": "courgette marrow winter-squash cucumber tomato pepper aubergine sweetcorn "
              "melon watermelon okra chilli",
    "potatoes": "early-potato main-potato",
}
RECORDS = {"brize_norton": (51.758, -1.578), "dublin_airport": (53.428, -6.241), "de_bilt": (52.1, 5.18),
           "philadelphia": (39.87, -75.23), "milwaukee": (42.95, -87.9)}  # fmt: skip
YEARS_OF = (("crisp-lettuce", 5, 10), ("pea", 4, 5), ("early-carrot", 4, 25), ("dwarf-bean", 6, 1),
            ("beetroot", 7, 1), ("radish", 8, 20))  # fmt: skip


@dataclass(frozen=True, slots=True)
class Held:
    """A case held out, and the band that did not know it."""

    crop: Crop
    anchor: Anchor
    low: float
    likely: float
    high: float

    @property
    def inside(self) -> bool:
        return self.low <= self.anchor.days <= self.high


def left_out() -> Iterator[Held]:
    """Every anchor of crops with three and more, predicted from the others."""
    for crop in load_catalogue().crops:
        if len(crop.anchors) < 3:
            continue
        solved = [solve_thermal_time(crop, a, settings_at(a.place, a.lat, a.lon)) for a in crop.anchors]
        for i, anchor in enumerate(crop.anchors):
            time, sd = together(solved[:i] + solved[i + 1 :])
            known = replace(crop, thermal_time=time, thermal_time_sd=sd)
            yield Held(crop, anchor, *band(known, anchor, settings_at(anchor.place, anchor.lat, anchor.lon)))


def group_of(crop: Crop) -> str:
    return next((name for name, keys in GROUPS.items() if crop.key in keys.split()), "")


def anchors_table(held: Sequence[Held]) -> None:
    print("\n## Anchors left out\n\n| group | anchors | inside | median error, d | of the days | signed |")
    print("|---|---|---|---|---|---|")
    for name in [*GROUPS, "all"]:
        some = [h for h in held if name == "all" or group_of(h.crop) == name]
        if not some:
            continue
        error = np.array([h.likely - h.anchor.days for h in some])
        share = np.abs(error) / np.array([h.anchor.days for h in some])
        inside = np.mean([h.inside for h in some])
        print(f"| {name} | {len(some)} | {inside:.0%} | {np.median(np.abs(error)):.0f} "
              f"| {np.median(share):.0%} | {np.median(error):+.0f} |")
    print("\n### Outside their band\n\n| crop | place | sown or planted | days | band |")
    print("|---|---|---|---|---|")
    for h in held:
        if not h.inside:
            a = h.anchor
            print(f"| {h.crop.key} | {a.place} | {a.month:02d}-{a.day:02d}, {a.counted} | {a.days:g} "
                  f"| {h.low:.0f} – {h.likely:.0f} – {h.high:.0f} |")


def years_table() -> None:
    print("\n## Weather years left out\n\nThe crop known exactly; band of the other years of the record.\n")
    print("| record | years × crops | inside the 80 % band | median width, d |\n|---|---|---|---|")
    whole: list[bool] = []
    for record, (lat, lon) in RECORDS.items():
        settings = settings_at(record.replace("_", "-"), lat, lon)
        inside, widths = [], []
        for key, month, day in YEARS_OF:
            crop = load_catalogue().crop(key)
            way = crop.ways[0].name
            case = Anchor(lat, lon, record, month, day, 0.0, "open", way, "")
            days = days_by_year(crop, case, settings, 1.0)
            for year in range(days.size):
                low, _, high = np.percentile(np.delete(days, year), TENTHS)
                inside.append(bool(low <= days[year] <= high))
                widths.append(high - low)
        whole += inside
        print(f"| {record} | {len(inside)} | {np.mean(inside):.0%} | {np.median(widths):.0f} |")
    print(f"| all | {len(whole)} | {np.mean(whole):.0%} | |")


def widths_table() -> None:
    print("\n## Width of the whole band\n\nAt the crop's first anchor: 90 % less 10 %.\n")
    print("| group | crops | sd of ln(thermal time) | median width, d | of the median |")
    print("|---|---|---|---|---|")
    for name, keys in GROUPS.items():
        crops = [load_catalogue().crop(key) for key in keys.split()]
        firsts = [(c, c.anchors[0]) for c in crops]
        bands = np.array([band(c, a, settings_at(a.place, a.lat, a.lon)) for c, a in firsts])
        width = bands[:, 2] - bands[:, 0]
        sds = [c.thermal_time_sd for c in crops]
        print(f"| {name} | {len(crops)} | {min(sds):.2f} – {max(sds):.2f} | {np.median(width):.0f} "
              f"| {np.median(width / bands[:, 1]):.0%} |")


def main() -> None:
    held = list(left_out())
    print("# Bands of the days to first picking\n")
    print("Written by `PYTHONPATH=src python authorities/bands.py`; how: its head. Bar: 75 to 85 % inside.")
    anchors_table(held)
    years_table()
    widths_table()


if __name__ == "__main__":
    main()
