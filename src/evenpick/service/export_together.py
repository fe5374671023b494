"""A cooperative carried elsewhere: its file and each farm's garden, lying as they lie here."""

from __future__ import annotations

from pathlib import Path

from evenpick.base.typed import apart
from evenpick.garden.cooperative import Farm
from evenpick.service.cooperative_files import Described, cooperative_of
from evenpick.service.exchange import export_garden, write_new
from evenpick.service.farms_asked import each_farm
from evenpick.service.setups import setup_text


def export_together(file: Path, folder: Path) -> tuple[tuple[Path, ...], tuple[str, ...]]:
    """Write the cooperative's file and each farm's garden into a folder; the paths, and what keeps a farm's
    from being written. BadRequest, and nothing is written, where a file with other words is there."""
    found = cooperative_of(file)
    folders = dict(zip((farm.name for farm in found.own.farms), _folders(found, folder), strict=True))
    own = folder / file.name
    write_new({own: setup_text(file)})
    told = each_farm(found, lambda farm: export_garden(farm.file, folders[farm.name]))
    paths = [path for farm in told for path in farm.answer or ()]
    return (own, *paths), tuple(f"{farm.name}: {farm.problem}" for farm in told if farm.problem)


def _folders(found: Described, folder: Path) -> list[Path]:
    """Where each farm's garden goes: beside the cooperative's file as it lies here, or, from outside its
    folder, in one named after the farm."""
    named = apart(folder / "farm", [farm.name for farm in found.own.farms])

    def lying(farm: Farm, other: Path) -> Path:
        beside = Path(found.named(farm)).parent
        return other if beside.is_absolute() or ".." in beside.parts else folder / beside

    return [lying(farm, other) for farm, other in zip(found.own.farms, named, strict=True)]
