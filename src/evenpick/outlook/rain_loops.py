"""Ground that only rain waters, day by day, as compiled loops (base/compiled): FAO-56's dual balance of the
days of many sowings (outlook/rain_fed). Equation numbers are allen1998's.

rain and et0 are (years, days), mm; what the ground holds is told as depletions, mm below field capacity, in
the evening. `soil` is TEW, REW, TAW and p. `plant` holds Kcb, Kcmax and few (rows) by
thousandths of a season, the first column of bare ground.
"""

from __future__ import annotations

from evenpick.base.arrays import Floats, Ints
from evenpick.base.compiled import compiled, part

STEPS = 1000


@part
def evening(
    de: float, dr: float, fell: float, air: float, kcb: float, most: float, few: float, soil: Floats
) -> tuple[float, float, float, float]:
    """De and Dr a day on, with what plants drew and what the ground lost (equations 71 to 88)."""
    tew, rew, taw, p = soil[0], soil[1], soil[2], soil[3]
    de, dr = max(de - fell, 0.0), max(dr - fell, 0.0)
    kr = min(max((tew - de) / (tew - rew), 0.0), 1.0)
    ke = min(kr * (most - kcb), few * most)
    share = min(max(p + 0.04 * (5.0 - (kcb + ke) * air), 0.1), 0.8)
    left = taw - dr
    ks = min(max(left / ((1.0 - share) * taw), 0.0), 1.0)
    drawn = min(ks * kcb * air, left)
    lost = min(min(ke * air, left - drawn), (tew - de) * few)
    return de + lost / few, dr + drawn + lost, drawn, lost


@compiled("void(f8[:, ::1], f8[:, ::1], f8[::1], f8[::1], i8, f8[:, ::1], f8[:, ::1])")
def standing(
    rain: Floats, et0: Floats, plant: Floats, soil: Floats, before: int, surface: Floats, root: Floats
) -> None:
    """What stands the same on every day (`plant`: Kcb, Kcmax and few), the first `before` days twice."""
    years, days = rain.shape
    for y in range(years):
        de, dr = 0.0, 0.0
        for d in range(before):
            de, dr, _, _ = evening(de, dr, rain[y, d], et0[y, d], plant[0], plant[1], plant[2], soil)
        for d in range(days):
            de, dr, _, _ = evening(de, dr, rain[y, d], et0[y, d], plant[0], plant[1], plant[2], soil)
            surface[y, d], root[y, d] = de, dr


@compiled("void(f8[:, ::1], f8[:, ::1], f8[:, ::1], f8[::1], f8[:, ::1], f8[:, ::1], i8[:, ::1], i8[:, ::1], "
          "i8[:, ::1], f8[:, ::1], f8[:, ::1])")
def seasons(
    rain: Floats, et0: Floats, plant: Floats, soil: Floats, surface: Floats, root: Floats, begins: Ints,
    stands: Ints, length: Ints, used: Floats, wanted: Floats,
) -> None:
    """Of sowings (years, n) that begin in such ground and stand from a day for a length of days: ETc with and
    without want of water, from the day after they stand."""
    years, n = begins.shape
    last = rain.shape[1] - 1
    for y in range(years):
        for k in range(n):
            start, up, whole = begins[y, k], stands[y, k], length[y, k]
            de, dr = surface[y, start], root[y, start]
            for day in range(start + 1, up + whole + 1):
                at, age = min(day, last), day - up
                of = 0 if age <= 0 else max((age * STEPS + whole // 2) // whole, 1)
                kcb = plant[0, of]
                de, dr, drawn, lost = evening(
                    de, dr, rain[y, at], et0[y, at], kcb, plant[1, of], plant[2, of], soil
                )
                if age > 0:
                    used[y, k] += drawn + lost
                    wanted[y, k] += kcb * et0[y, at] + lost
