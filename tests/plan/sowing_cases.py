"""Invented planning tasks for tests and benchmarks: shaped like a garden's year, from no real garden."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.base.chance import stream
from evenpick.plan.given import Given, met_by
from evenpick.plan.request import Candidates, Grounds, Item, Request, Supply


def household(items: int = 18, years: int = 30, weeks: int = 70, seed: int = 1, open_m2: float = 60.0,
              tunnel_m2: float = 10.0, every: int = 1, scale: float = 1.0, trouble: float = 0.4) -> Request:
    """`items` crops, sown weekly in the open, under fleece and, half of them, in the tunnel; ripening
    runs with the season and with each year's own lead or lag; `scale` multiplies what is wanted
    and the ground."""
    rng = stream(seed, "sowing-cases", str(items), str(years))
    sun = np.sin((np.arange(3 * weeks) - 8) * 2 * np.pi / 52 - 0.35)
    seasons = 0.05 + 0.95 * np.clip(sun + 0.25, 0, None)
    year_lag = rng.normal(0, 0.8, years)
    rows: list[tuple[int, int, int, float]] = []  # item, cover, sow week, most
    occupied: list[tuple[int, int, int, float]] = []
    supply: list[tuple[int, int, int, int, float]] = []
    wanted = np.zeros((items, weeks))
    for i in range(items):
        kind = i % 4  # 0 quick leaf, 1 picked for weeks, 2 roots that stand, 3 stored
        need = (3.5, 7.0, 8.0, 9.0)[kind] * rng.uniform(0.85, 1.2)
        crop = (1.6, 2.5, 3.0, 3.5)[kind] * rng.uniform(0.7, 1.3)
        hold = (1, 1, 5, 16)[kind] + int(rng.integers(0, 2))
        span = (2, 8, 2, 1)[kind]
        start, end = int(rng.integers(14, 24)), int(rng.integers(40, 62))
        weekly = rng.uniform(0.3, 1.2) * scale
        wanted[i, start:end] = weekly
        for cover in (0, 1, 2) if i % 2 else (0, 1):
            lead = np.cumsum(seasons * (1.0, 1.08, 1.15)[cover] + 0.04 * cover)
            for sown in range(0, 52, every):
                ready = np.searchsorted(lead, lead[sown] + need)
                if ready - sown > 32 or ready + span > weeks:
                    continue
                j = len(rows)
                most = min(12.0 * scale, 3.0 * weekly * (span + hold) / crop)
                rows.append((i, cover, sown, float(np.round(most, 2))))
                clear = min(weeks, int(ready) + span + min(hold, 5))
                occupied += [(int(cover == 2), j, w, 1.0) for w in range(sown, clear)]
                occupied += [(2, j, w, 1.0) for w in range(sown, min(sown + 8, clear)) if cover == 1]
                for y in range(years):
                    late = year_lag[y] + rng.normal(0, 0.5)
                    stand = rng.beta(7, 1.5) * (rng.random() > 0.05)
                    share = rng.dirichlet(np.full(span, 4.0)) if span > 1 else np.ones(1)
                    for n in range(span):
                        w = round(ready + late) + n
                        if 0 <= w < weeks:
                            supply.append((j, y, w, min(weeks - 1, w + hold), crop * stand * share[n]))
    table, occ, sup = np.array(rows), np.array(occupied), np.array(supply)
    n = len(rows)
    limit = np.stack([np.full(weeks, open_m2 * scale), np.full(weeks, tunnel_m2 * scale),
                      np.full(weeks, 15.0 * scale)])
    least = np.minimum(0.3 * scale, table[:, 3] / 4)
    return Request(
        Candidates(table[:, 0].astype(np.int64), tuple(f"{int(a)}/{int(b)}/{int(c)}" for a, b, c, _ in rows),
                   (table[:, 2] * 7).astype(np.int64), least, table[:, 3], np.full(n, trouble * scale**0.5),
                   np.full(n, 0.02)),
        tuple(Item(f"item {i}") for i in range(items)),
        Grounds(
            ("open", "tunnel", "fleece"), limit, _whole(occ, 0), _whole(occ, 1), _whole(occ, 2), occ[:, 3]
        ),
        years, weeks, wanted, _supply(sup), seed=seed,
    )


def small(seed: int, items: int = 2, candidates: int = 3, years: int = 3, weeks: int = 4,
          sizes: float = 2.0) -> Request:
    """A task small enough to enumerate, random in every part."""
    rng = stream(seed, "sowing-cases", "small")
    sup = [(j, y, r, int(rng.integers(r, weeks)), float(rng.uniform(0.2, 2)))
           for j in range(candidates) for y in range(years) for r in range(weeks) if rng.random() < 0.5]
    sup = sup or [(0, 0, 0, 0, 1.0)]
    occ = [(0, j, w, 1.0) for j in range(candidates) for w in range(weeks) if rng.random() < 0.6]
    occ = occ or [(0, 0, 0, 1.0)]
    s, o = np.array(sup), np.array(occ)
    return Request(
        Candidates(rng.integers(0, items, candidates), tuple(f"c{j}" for j in range(candidates)),
                   np.arange(candidates) * 7, np.full(candidates, 0.5), np.full(candidates, sizes),
                   rng.uniform(0, 0.6, candidates), rng.uniform(0, 0.1, candidates)),
        tuple(Item(f"i{i}", float(rng.uniform(0.5, 2))) for i in range(items)),
        Grounds(("open",), np.full((1, weeks), float(rng.uniform(1, 4))),
                _whole(o, 0), _whole(o, 1), _whole(o, 2), o[:, 3]),
        years, weeks, rng.uniform(0, 2, (items, weeks)) * (rng.random((items, weeks)) < 0.8),
        _supply(s), seed=seed,
    )


def _supply(table: Floats) -> Supply:
    return Supply(_whole(table, 0), _whole(table, 1), _whole(table, 2), _whole(table, 3), table[:, 4])


def _whole(table: Floats, column: int) -> Ints:
    return table[:, column].astype(np.int64)


def partly_met(request: Request, seed: int) -> Request:
    """The same request with some random crop standing for every item, served first (season.md, 4)."""
    rng = stream(seed, "sowing-cases", "standing")
    items, n = len(request.items), 3 * len(request.items) * request.years
    ripe = rng.integers(0, request.weeks, n)
    last = np.array([int(rng.integers(week, request.weeks)) for week in ripe])
    item, year = rng.integers(0, items, n), rng.integers(0, request.years, n)
    given = Given(item, year, ripe, last, rng.uniform(0, 1, n))
    return replace(request, met=met_by(given, request.wanted, request.levels, request.years))
