"""Invented sowings laid into invented beds: how full, how fast, what is left over.

Run: PYTHONPATH=src python benchmarks/beds.py [SOWINGS BEDS FILL ...]; prints the lines of beds.md.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Sequence

import numpy as np

from evenpick.base.chance import stream
from evenpick.plan.beds import Layout, Stay, Strip, length_per_area, season_of
from evenpick.plan.layout import lay

LENGTH, WIDTH = 10.0, 1.2
LEAST, SHORTEST = 0.25, 0.9  # m² and m of a piece
SALADS = "Asteraceae"
BEGIN, SOWN, DAYS = 20_850, 448, 728  # 2027-02-01; sowings in 64 weeks, two years in all
FAMILIES = {  # share of the sowings
    "Brassicaceae": 0.26, "Asteraceae": 0.20, "Apiaceae": 0.14, "Amaranthaceae": 0.12, "Fabaceae": 0.11,
    "Amaryllidaceae": 0.10, "Cucurbitaceae": 0.04, "Solanaceae": 0.03,
}
SIZES = ((200, 40, 0.72), (200, 40, 0.95), (800, 200, 0.72), (800, 200, 0.95))
SEEDS = (1, 2, 3)


def invented(sowings: int, beds: int, fill: float, seed: int) -> tuple[list[Strip], list[Stay]]:
    """Beds with three years of history, and sowings that at their fullest day take `fill` of the beds."""
    chance = stream(seed, "invented beds", str(sowings), str(beds))
    families = list(FAMILIES)
    share = np.array(list(FAMILIES.values()))
    strips = [
        Strip(f"bed {number}", "open", LENGTH, WIDTH, frozenset(
            (year, families[int(chance.choice(len(families), p=share))]) for year in (2024, 2025, 2026)
        ))
        for number in range(1, beds + 1)
    ]
    start = BEGIN + chance.integers(0, SOWN, sowings)
    end = np.minimum(start + chance.integers(5, 30, sowings) * 7, BEGIN + DAYS)
    size = np.exp(chance.normal(0.0, 0.6, sowings))
    family = [families[int(each)] for each in chance.choice(len(families), sowings, p=share)]

    def stays(scale: float) -> list[Stay]:
        return [
            Stay(f"{i}", family[i], "open", float(size[i] * scale), int(start[i]), int(end[i]),
                 season_of(int(start[i]), int(end[i]), False), None, min(LEAST, float(size[i] * scale)),
                 SHORTEST, family[i] == SALADS)
            for i in range(sowings)
        ]

    return strips, stays(fill * beds * LENGTH / fullest(strips, stays(1.0)))


def fullest(beds: Sequence[Strip], stays: Sequence[Stay]) -> float:
    """Metres taken on the fullest day."""
    load = np.zeros(DAYS)
    for stay in stays:
        load[stay.start - BEGIN : stay.end - BEGIN] += stay.area * length_per_area(beds[0])
    return float(load.max())


def line(sowings: int, beds: int, fill: float) -> str:
    found: list[tuple[Layout, float, float]] = []
    for seed in SEEDS:
        strips, stays = invented(sowings, beds, fill, seed)
        began, worked = time.perf_counter(), time.process_time()
        layout = lay(strips, stays, seed)
        found.append((layout, time.perf_counter() - began, time.process_time() - worked))
    total = sum(stay.area for stay in stays)
    cells = [
        f"{sowings} × {beds}", f"{fill:.0%}",
        " ".join(f"{sum(layout.unplaced.values()) / total:.1%}" for layout, _, _ in found),
        " ".join(f"{layout.extra_pieces}" for layout, _, _ in found),
        " ".join(f"{len({b.piece.stay for b in layout.breaches})}" for layout, _, _ in found),
        " ".join(f"{seconds:.1f}" for _, seconds, _ in found),
        " ".join(f"{busy:.1f}" for _, _, busy in found),
    ]
    return f"| {' | '.join(cells)} |"


if __name__ == "__main__":
    asked = sys.argv[1:]
    sizes = [(int(asked[0]), int(asked[1]), float(asked[2]))] if asked else SIZES
    for size in sizes:
        print(line(*size), flush=True)
