"""A grower's own file of crops: completed from the crops they are like, and validated in full."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from evenpick.base.errors import BadRequest, Problem, UnknownCrop
from evenpick.base.language import tell
from evenpick.crops.build import OWN_RECORD, UNSOLVED, WORDS, Solved, Table
from evenpick.crops.crop import EARLY
from evenpick.crops.packaged import crop_tables, packaged_tables

if TYPE_CHECKING:
    from evenpick.crops.catalogue import Catalogue

NAMES = ("name", "american", "aliases")
"""which a crop never inherits from the one it is like"""


@dataclass(frozen=True, slots=True)
class Own:
    """A crop of the grower's, completed from the one it is like."""

    table: Table
    solved: Solved
    anchored: bool


def own_crops(path: Path, packaged: Catalogue) -> dict[str, Own]:
    """Crops of a grower's file, completed and validated; raises BadRequest with every fault."""
    from evenpick.crops.schema import check_crops, place_lines  # pydantic is slow to load

    text, document = _read_own(path)
    problems = [
        Problem(tell("'{key}' stands outside any crop.",
                     key=key), tell("Put it under the [key] of a crop."), field=key)
        for key, value in document.items()
        if not isinstance(value, dict) and key != "family"
    ]
    own: dict[str, Own] = {}
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


def _complete(given: Table, packaged: Catalogue) -> Own:
    """The grower's values laid over those of the crop it is like; names, aliases and early kinds are not
    inherited: a variety of its own is early or it is not."""
    if "like" not in given:
        return Own(given, UNSOLVED, anchored=True)
    parent = packaged.crop(str(given["like"]))
    table = {key: value for key, value in packaged_tables()[parent.key].items() if key not in NAMES}
    for part in {"purposes", "types"} & table.keys():
        table[part] = {name: value for name, value in table[part].items() if name != EARLY}
    for key, value in given.items():
        below = table.get(key)
        table[key] = _laid_over(below, value, deep=key == "types")
    del table["like"]
    return Own(table, Solved(parent.thermal_time, parent.thermal_time_sd), anchored="anchors" in given)


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
