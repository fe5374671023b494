"""The catalogue of crops: packaged TOML files, one a botanical family, and a grower's own file.

Packaged files are read lightly, because tests/crops/test_catalogue.py validates every one of them;
a grower's own file is validated in full (crops/schema.py). The form: docs/formats/crops-toml.md.
"""

from __future__ import annotations

import csv
import json
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property, lru_cache
from importlib.resources import files
from math import nan
from pathlib import Path
from types import MappingProxyType
from typing import Any

from evenpick.base.errors import BadRequest, Problem, UnknownCrop, did_you_mean
from evenpick.base.language import tell
from evenpick.crops.crop import (
    EARLY,
    Anchor,
    Bulbing,
    Cold,
    ColdHeading,
    Crop,
    CropType,
    Development,
    Emergence,
    Harvest,
    Limits,
    LongDay,
    Produce,
    Purpose,
    Season,
    Spacing,
    Way,
)

THERMAL_TIME_SD = 0.22  # of a crop without anchors (docs/design/outlook.md, O17)
BY_DEFINITION = "by definition"
SOLVED = "solved from its anchors"
WORDS = ("memory", "common practice, no source", BY_DEFINITION, SOLVED)
"""what may stand in place of a bibliography key"""
OWN_RECORD = "own record"
"""what may stand there in a grower's own file"""
NAMES = ("name", "american", "aliases")
SLIP = 0.75
"""likeness of a word to a crop's name from which it is taken for that with letters amiss: 'kail' is kale;
less alike is a crop that is not here, as rockmelon was (0.67 to rocket), sweet potato (0.73 to new potato)"""
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


@dataclass(frozen=True)
class Catalogue:
    """Crops in the stable order of the files, packaged ones first."""

    crops: tuple[Crop, ...]
    unsolved: frozenset[str] = field(default=frozenset())
    """keys whose thermal time still has to be solved from their own anchors (growth D4)"""

    def crop(self, name: str) -> Crop:
        """By key, British or American name or alias, in any case, singular or plural; raises UnknownCrop."""
        words = _plain(name)
        forms = (words, *_singulars(words))
        for form in forms:
            if form in self._names:
                return self._names[form]
        near = filter(None, (did_you_mean(form, self._names, SLIP) for form in forms))
        raise UnknownCrop(
            Problem(
                tell("'{name}' is not in the catalogue.", name=name),
                next(near, tell("Name a crop that grows like it, or leave it out.")),
            )
        )

    def with_thermal_times(self, times: Mapping[str, float]) -> Catalogue:
        """The same catalogue with thermal times (EDD, °C d) solved from a grower's anchors put in place."""
        return Catalogue(
            tuple(replace(crop, thermal_time=times.get(crop.key, crop.thermal_time)) for crop in self.crops),
            self.unsolved - times.keys(),
        )

    def published_sources(self) -> frozenset[str]:
        """Bibliography keys that the catalogue rests on."""
        used = {source for crop in self.crops for source in crop.sources.values()}
        return frozenset(used.difference(WORDS, [OWN_RECORD]))

    @cached_property
    def _names(self) -> dict[str, Crop]:
        names: dict[str, Crop] = {}
        for known_as in (_keys, _display_names, _aliases):  # a key wins over a name, a name over an alias
            for crop in self.crops:
                for name in known_as(crop):
                    names.setdefault(_plain(name), crop)
        return names


def load_catalogue(extra: Path | None = None) -> Catalogue:
    """The packaged crops and, after them, those of a grower's own TOML file.

    A crop of the grower's own with an anchor is listed in `unsolved`: until the builder of thermal
    times or the service has solved it, it bears the thermal time of the crop it is like.
    Raises BadRequest with every fault of `extra`, each with its line and field.
    """
    packaged = _packaged()
    if extra is None:
        return packaged
    own = _own_crops(extra, packaged)
    crops = tuple(build_crop(key, crop.table, crop.solved) for key, crop in own.items())
    return Catalogue(packaged.crops + crops, frozenset(key for key, crop in own.items() if crop.anchored))


@lru_cache(maxsize=1)
def _packaged() -> Catalogue:
    solved = packaged_thermal_times()
    crops = tuple(
        build_crop(key, table, solved.get(key, UNSOLVED)) for key, table in _packaged_tables().items()
    )
    return Catalogue(crops, frozenset(crop.key for crop in crops if crop.key not in solved))


def _packaged_tables() -> dict[str, Table]:
    """The crop files as builders/crops.py put them together."""
    text = files("evenpick").joinpath("data", "crops.json").read_text(encoding="utf-8")
    tables: dict[str, Table] = json.loads(text)
    return tables


def packaged_files() -> tuple[tuple[str, str], ...]:
    """Name and text of each packaged crop file, by name."""
    folder = files("evenpick").joinpath("data", "crops")
    found = sorted((entry.name, entry) for entry in folder.iterdir() if entry.name.endswith(".toml"))
    return tuple((name, entry.read_text(encoding="utf-8")) for name, entry in found)


@dataclass(frozen=True, slots=True)
class Solved:
    """What a crop's anchors give: its thermal time, EDD, and the sd of its logarithm."""

    thermal_time: float
    sd: float


UNSOLVED = Solved(nan, THERMAL_TIME_SD)


def packaged_thermal_times() -> dict[str, Solved]:
    """What the builder solved for each packaged crop; empty before its first run."""
    table = files("evenpick").joinpath("data", "thermal_times.csv")
    if not table.is_file():
        return {}
    lines = table.read_text(encoding="utf-8").splitlines()
    return {
        row["crop"]: Solved(float(row["thermal_time_edd"]), float(row["sd_ln"]))
        for row in csv.DictReader(lines)
    }


def crop_tables(document: Table) -> dict[str, Table]:
    """The crops of a file, each with the file's family where it has none of its own."""
    family = {"family": document["family"]} if "family" in document else {}
    return {key: {**family, **table} for key, table in document.items() if isinstance(table, dict)}


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


@dataclass(frozen=True, slots=True)
class _Own:
    """A crop of the grower's, completed from the one it is like."""

    table: Table
    solved: Solved
    anchored: bool


def _own_crops(path: Path, packaged: Catalogue) -> dict[str, _Own]:
    """Crops of a grower's file, completed and validated; raises BadRequest with every fault."""
    from evenpick.crops.schema import check_crops, place_lines  # pydantic is slow to load

    text, document = _read_own(path)
    problems = [
        Problem(tell("'{key}' stands outside any crop.",
                     key=key), tell("Put it under the [key] of a crop."), field=key)
        for key, value in document.items()
        if not isinstance(value, dict) and key != "family"
    ]
    own: dict[str, _Own] = {}
    for key, given in crop_tables(document).items():
        try:
            own[key] = _complete(given, packaged)
        except UnknownCrop as error:
            problems += [problem.at(field=f"{key}.like") for problem in error.problems]
    sources = packaged.published_sources() | {*WORDS, OWN_RECORD}
    problems += check_crops({key: crop.table for key, crop in own.items()}, sources)
    problems += [
        Problem(tell("'{key}' is a crop of the catalogue already.",
                     key=crop.key), tell("Choose another key."), field=crop.key)
        for crop in packaged.crops
        if crop.key in own
    ]
    if problems:
        raise BadRequest(place_lines(problems, text, path.name))
    return own


def _complete(given: Table, packaged: Catalogue) -> _Own:
    """The grower's values laid over those of the crop it is like; names, aliases and early kinds are not
    inherited: a variety of its own is early or it is not."""
    if "like" not in given:
        return _Own(given, UNSOLVED, anchored=True)
    parent = packaged.crop(str(given["like"]))
    table = {key: value for key, value in _packaged_tables()[parent.key].items() if key not in NAMES}
    for part in {"purposes", "types"} & table.keys():
        table[part] = {name: value for name, value in table[part].items() if name != EARLY}
    for key, value in given.items():
        below = table.get(key)
        table[key] = _laid_over(below, value, deep=key == "types")
    del table["like"]
    return _Own(table, Solved(parent.thermal_time, parent.thermal_time_sd), anchored="anchors" in given)


def _laid_over(below: Any, above: Any, deep: bool) -> Any:
    """A table over another, entry by entry; where `deep`, the tables in it likewise, down to the values."""
    if not (isinstance(above, dict) and isinstance(below, dict)) or "value" in above:
        return above
    return {**below, **{k: _laid_over(below.get(k), v, deep) if deep else v for k, v in above.items()}}


def _read_own(path: Path) -> tuple[str, Table]:
    try:
        text = path.read_text(encoding="utf-8-sig")
        return text, tomllib.loads(text)
    except OSError as error:
        raise BadRequest(
            Problem(tell("the crops file can't be read ({strerror}).",
                         strerror=error.strerror), tell("Check its name."), file=path.name)
        ) from error
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise BadRequest(
            Problem(tell("the crops file is not TOML ({error}).",
                         error=error), tell("Mend that line."), file=path.name)
        ) from error


def _cell(value: float) -> Table:
    return {"value": value, "source": SOLVED}


def _plain(name: str) -> str:
    return " ".join(name.casefold().replace("-", " ").replace("’", "'").split())


def _singulars(words: str) -> tuple[str, ...]:
    """Forms that an English plural may come from: tomatoes, swedes, radishes, berries."""
    endings = (("ies", "y"), ("es", ""), ("s", ""))
    return tuple(words[: -len(end)] + put for end, put in endings if words.endswith(end))


def _keys(crop: Crop) -> tuple[str, ...]:
    return (crop.key,)


def _display_names(crop: Crop) -> tuple[str, ...]:
    return (crop.name, crop.american)


def _aliases(crop: Crop) -> tuple[str, ...]:
    return crop.aliases
