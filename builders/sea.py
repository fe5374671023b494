"""Packages how near the sea every place on earth lies: `python builders/sea.py LAND`.

LAND: land-10m.json of the open package world-atlas 2.0.2, Natural Earth's land at 1:10,000,000 (public
domain) as TopoJSON. Needs Pillow. Writes src/evenpick/data/sea.npz; its figures are told in climate/sea.py.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator
from pathlib import Path

import numpy as np
from PIL import Image, ImageDraw

from evenpick.climate.sea import BAND_ROWS, CELL, COLUMNS, KM, ROWS, STEPS

TARGET = Path(__file__).resolve().parents[1] / "src/evenpick/data/sea.npz"
KM_PER_DEGREE = 111.2
FARTHEST = 150.0  # km
FINE = 6  # pixels drawn along one of our cells


def polygons(topology: dict) -> Iterator[list[np.ndarray]]:
    """Rings of each piece of land, the outer one first, in degrees; (points, 2)."""
    scale, shift = (np.array(topology["transform"][name]) for name in ("scale", "translate"))
    arcs = [np.cumsum(arc, axis=0) * scale + shift for arc in topology["arcs"]]
    for shape in topology["objects"]["land"]["geometries"]:
        for rings in shape["arcs"] if shape["type"] == "MultiPolygon" else [shape["arcs"]]:
            yield [np.concatenate([arcs[n] if n >= 0 else arcs[~n][::-1] for n in ring]) for ring in rings]


def unrolled(ring: np.ndarray) -> np.ndarray:
    """A ring without a leap at the date line; the one round Antarctica closed by the pole."""
    lon = np.unwrap(ring[:, 0], period=360.0)
    flat = np.stack([lon, ring[:, 1]], axis=1)
    if abs(lon[-1] - lon[0]) < 180.0:
        return flat
    return np.concatenate([flat, [[lon[-1], -90.0], [lon[0], -90.0]]])


def cell_shares(land: Path) -> np.ndarray:
    """Share of sea in each cell of 0.1°; (1800, 3600)."""
    picture = Image.new("1", (COLUMNS * FINE, ROWS * FINE), 1)
    draw = ImageDraw.Draw(picture)
    for rings in polygons(json.loads(land.read_text(encoding="utf-8"))):
        for hole, ring in enumerate(rings):
            lon, lat = unrolled(ring).T
            for turn in (-360.0, 0.0, 360.0):
                points = np.stack([lon + turn + 180.0, 90.0 - lat], axis=1) * FINE / CELL
                draw.polygon([tuple(point) for point in points], fill=int(hole > 0))
    return np.asarray(np.asarray(picture).reshape(ROWS, FINE, COLUMNS, FINE).mean(axis=(1, 3)))


def round_about(share: np.ndarray) -> np.ndarray:
    """The same by distance, exp(−d / 20 km) within 150 km; rows past a pole are the last ones again."""
    reach = int(FARTHEST / KM_PER_DEGREE / CELL)
    down = np.arange(-reach, reach + 1)
    along = np.minimum(np.arange(COLUMNS), COLUMNS - np.arange(COLUMNS)) * CELL * KM_PER_DEGREE
    lines, found = np.fft.rfft(share, axis=1), np.empty_like(share)
    for row in range(ROWS):
        narrow = np.cos(np.radians(90.0 - CELL * (row + 0.5)))
        km = np.hypot(down[:, None] * CELL * KM_PER_DEGREE, along[None, :] * narrow)
        weight = np.where(km <= FARTHEST, np.exp(-km / KM), 0.0)
        sums = (lines[np.clip(row + down, 0, ROWS - 1)] * np.fft.rfft(weight, axis=1)).sum(axis=0)
        found[row] = np.fft.irfft(sums, COLUMNS) / weight.sum()
    return found


def main(land: Path) -> None:
    steps = np.round(np.clip(round_about(cell_shares(land)), 0.0, 1.0) * STEPS).astype(np.uint8)
    bands = steps.reshape(-1, BAND_ROWS, COLUMNS)
    np.savez_compressed(TARGET, **{f"band_{n}": band for n, band in enumerate(bands)})  # type: ignore[arg-type]
    print(f"{steps.mean() / STEPS:.1%} sea, {TARGET.stat().st_size / 1000:.0f} kB")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
