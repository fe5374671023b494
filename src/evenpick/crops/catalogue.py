"""The catalogue of crops: packaged TOML files, one a botanical family, and a grower's own file.

Packaged files are read lightly, because tests/crops/test_catalogue.py validates every one of them;
a grower's own file is validated in full (crops/schema.py). The form: docs/formats/crops-toml.md.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property, lru_cache
from pathlib import Path

from evenpick.base.errors import Problem, UnknownCrop, did_you_mean
from evenpick.base.language import tell
from evenpick.crops.build import OWN_RECORD, UNSOLVED, WORDS, build_crop
from evenpick.crops.crop import Crop
from evenpick.crops.own_file import own_crops
from evenpick.crops.packaged import packaged_tables, packaged_thermal_times

SLIP = 0.75
"""likeness of a word to a crop's name from which it is taken for that with letters amiss: 'kail' is kale;
less alike is a crop that is not here, as rockmelon was (0.67 to rocket), sweet potato (0.73 to new potato)"""


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
    own = own_crops(extra, packaged)
    crops = tuple(build_crop(key, crop.table, crop.solved) for key, crop in own.items())
    return Catalogue(packaged.crops + crops, frozenset(key for key, crop in own.items() if crop.anchored))


@lru_cache(maxsize=1)
def _packaged() -> Catalogue:
    solved = packaged_thermal_times()
    crops = tuple(
        build_crop(key, table, solved.get(key, UNSOLVED)) for key, table in packaged_tables().items()
    )
    return Catalogue(crops, frozenset(crop.key for crop in crops if crop.key not in solved))


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
