"""Answers as strict JSON in SI units (docs/interface.md): no NaN, dates as year-month-day.

The shapes are a promise to other programs and are written out here, apart from the records they come from.
"""

from __future__ import annotations

import json
from dataclasses import asdict
from datetime import date
from math import isfinite
from typing import TYPE_CHECKING, Any, TypeAlias

if TYPE_CHECKING:
    from evenpick.climate.origin import ClimateOrigin
    from evenpick.climate.site import Site
    from evenpick.report.words import Words
    from evenpick.service.outlook_answer import Band

Shape: TypeAlias = dict[str, Any]


def as_text(shape: Shape) -> str:
    """Strict JSON text: what is not a finite number is null, floats to six decimals."""
    return json.dumps(_strict(shape), ensure_ascii=False, allow_nan=False, indent=1)


def far_shape(climate: ClimateOrigin) -> Shape:
    """Where weather comes from that was measured far off."""
    return {"source": climate.source, "station": climate.station, "distance_km": climate.distance_km}


def named_shape(record: Any, words: Words) -> Shape:
    shape = asdict(record)
    return {**shape, "name": words.name(shape["name"])} if "name" in shape else shape


def place_shape(site: Site, climate: ClimateOrigin) -> Shape:
    return {**site_shape(site), "climate": asdict(climate)}


def site_shape(site: Site) -> Shape:
    return {"site": asdict(site)}


def band_shape(band: Band | None) -> Shape | None:
    return None if band is None else {"p10": band.low, "p50": band.likely, "p90": band.high}


def _strict(value: Any) -> Any:
    match value:
        case dict():
            return {key: _strict(item) for key, item in value.items()}
        case list() | tuple():
            return [_strict(item) for item in value]
        case float():
            return round(value, 6) if isfinite(value) else None
        case date():
            return value.isoformat()
        case _:
            return value
