"""The frozen record of a crop from its table, with the source of each value."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import nan
from types import MappingProxyType
from typing import Any

from evenpick.crops.crop import (
    Anchor,
    Crop,
    CropType,
    Development,
    Emergence,
    Harvest,
    Limits,
    Produce,
    Purpose,
    Season,
    Spacing,
    Way,
)
from evenpick.crops.signals import Bulbing, Cold, ColdHeading, LongDay

THERMAL_TIME_SD = 0.22  # of a crop without anchors (docs/design/outlook.md, O17)
BY_DEFINITION = "by definition"
SOLVED = "solved from its anchors"
WORDS = ("memory", "common practice, no source", BY_DEFINITION, SOLVED)
"""what may stand in place of a bibliography key"""
OWN_RECORD = "own record"
"""what may stand there in a grower's own file"""
Table = dict[str, Any]
OWN: Mapping[str, type[Any]] = {
    "bulbing": Bulbing, "harvest": Harvest, "produce": Produce, "spacing": Spacing,
    "limits": Limits,
}  # fmt: skip
"""records that the varieties of one purpose may have of their own"""
NOT_ALWAYS: Mapping[str, Table] = {
    "emergence": {"lies": None},
    "limits": dict.fromkeys(
        ("heat_start", "heat_stand", "cool_mean", "fill_mean", "set_tmax", "set_days", "set_tmin", "bud")
    ),
    "spacing": {"seeds_per_g": None},
}  # fmt: skip
"""fields that a crop may lack"""
BOLTING: Mapping[str, type[LongDay] | type[Cold]] = {"long day": LongDay, "cold": Cold}


@dataclass(frozen=True, slots=True)
class Solved:
    """What a crop's anchors give: its thermal time, EDD, and the sd of its logarithm."""

    thermal_time: float
    sd: float


UNSOLVED = Solved(nan, THERMAL_TIME_SD)


def build_crop(key: str, table: Table, solved: Solved) -> Crop:
    """The frozen record of one valid catalogue table."""
    sources: dict[str, str] = {}

    def read(name: str, given: Table) -> Table:
        return _values(given, name, sources)

    def section(name: str) -> Table:
        return {**NOT_ALWAYS.get(name, {}), **read(name, table[name])}

    spread = read("", {"thermal_time_sd": table.get("thermal_time_sd", _cell(solved.sd))})
    return Crop(
        key=key,
        name=table["name"],
        american=str(table.get("american", table["name"])),
        botanical=table["botanical"],
        family=table["family"],
        ways=tuple(Way(name, **read(f"ways.{name}", way)) for name, way in table["ways"].items()),
        emergence=Emergence(**section("emergence")),
        development=Development(**section("development")),
        anchors=tuple(_anchor(given, f"anchors.{i}", sources) for i, given in enumerate(table["anchors"])),
        thermal_time=solved.thermal_time,
        thermal_time_sd=spread["thermal_time_sd"],
        harvest=Harvest(**section("harvest")),
        limits=Limits(**section("limits")),
        spacing=Spacing(**section("spacing")),
        produce=Produce(**section("produce")),
        purposes=tuple(
            Purpose(name, share, _type(name, table, sources)) for name, share in section("purposes").items()
        ),
        bolting=tuple(
            _bolting(read(f"bolting.{i}", given)) for i, given in enumerate(table.get("bolting", []))
        ),
        cold_heading=ColdHeading(**section("cold_heading")) if "cold_heading" in table else None,
        bulbing=Bulbing(**section("bulbing")) if "bulbing" in table else None,
        season=Season(**section("season")) if "season" in table else None,
        aliases=tuple(table.get("aliases", ())),
        cautions=tuple(
            read("cautions", {str(i): given})[str(i)] for i, given in enumerate(table.get("cautions", []))
        ),
        in_poor_light=tuple(given["value"] for given in table.get("cautions", []) if "when" in given),
        sources=MappingProxyType(sources),
    )


def _type(purpose: str, table: Table, sources: dict[str, str]) -> CropType | None:
    """The varieties grown for a purpose: what they have of their own laid over the crop's."""
    given = table.get("types", {}).get(purpose)
    if given is None:
        return None
    path = f"types.{purpose}"
    own = {name: _values(cells, f"{path}.{name}", sources) for name, cells in given.items() if name in OWN}
    ratio = {name: cell for name, cell in given.items() if name not in OWN}
    records = {
        name: OWN[name](**{**NOT_ALWAYS.get(name, {}), **_values(table[name], "", {}), **values})
        for name, values in own.items()
    }
    return CropType(**_values(ratio, path, sources), **records)


def _values(given: Table, path: str, sources: dict[str, str]) -> Table:
    """Plain values of a table; the source of each goes into `sources` under its path."""
    values: Table = {}
    for name, cell in given.items():
        if isinstance(cell, dict):
            sources[f"{path}.{name}".lstrip(".")] = cell["source"]
            cell = cell["value"]
        values[name] = float(cell) if isinstance(cell, int) and name != "cuts" else cell
    return values


def _anchor(given: Table, path: str, sources: dict[str, str]) -> Anchor:
    sources[path] = given["source"]
    return Anchor(**{**{k: v for k, v in given.items() if k != "note"}, "days": float(given["days"])})


def _bolting(values: Table) -> LongDay | Cold:
    kind = BOLTING[values.pop("kind")]
    return kind(**values)


def _cell(value: float) -> Table:
    return {"value": value, "source": SOLVED}
