"""The file of a cooperative and those of its farms, read together (docs/formats/cooperative-toml.md)."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from os.path import relpath
from pathlib import Path

from evenpick.base.errors import BadGarden, BadRequest, EvenpickError, Problem
from evenpick.base.language import tell
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.cooperative import (
    Cooperative,
    Farm,
    nobody_sows,
    serves_nobody,
    understand_cooperative,
)
from evenpick.garden.garden import Garden
from evenpick.plan.wanted import TO_KEEP, WantedItem
from evenpick.service.garden_task import digest_of
from evenpick.service.plan_command import plan_command
from evenpick.service.setups import garden_of, setup_text
from evenpick.service.store_plan import garden_digest

SAYS_SO = re.compile(r"^\s*cooperative\s*=", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Described:
    """A cooperative with the gardens of its farms, in their order."""

    file: Path
    own: Cooperative
    gardens: tuple[Garden, ...]
    """each with what is shared in it: outlets, the plan's years and dice"""
    texts: tuple[str, ...]
    """set-ups of the farms"""
    digest: str
    """of all that the plan hangs on"""
    signs: str
    """of every sign of the files, which plans made before are known by"""

    def named(self, farm: Farm) -> str:
        """A farm's file as seen from the cooperative's folder."""
        return seen_from(farm.file, self.file)

    def here(self, item: WantedItem, number: int) -> tuple[str, ...]:
        """Crops of an item that may be sown on a farm."""
        may = self.own.growers(item.name.removesuffix(TO_KEEP))
        if self.own.farms[number].name not in may:
            return ()
        return tuple(key for key in item.crops if key not in self.gardens[number].never)


def farms_named(file: Path) -> tuple[Farm, ...]:
    """The farms that a cooperative's file names, whatever is wrong in their own and whether or not these are
    there. BadGarden with every other fault of this file."""
    return _own(file, setup_text(file), found=False).farms


def _own(file: Path, text: str, found: bool = True) -> Cooperative:
    return understand_cooperative(text.replace("\r\n", "\n"), str(file), file.parent, load_catalogue(), found)


def seen_from(file: Path, other: Path) -> str:
    """A file's name as seen from the folder of another."""
    return Path(relpath(file, other.parent)).as_posix()


def planned_together(garden: Path, cooperative: Path) -> BadRequest:
    """Why a farm is not planned by itself. One that left, or is not named yet, would never be planned by the
    command that plans the others. BadGarden with every fault of the cooperative's file."""
    if any(farm.file.resolve() == garden.resolve() for farm in farms_named(cooperative)):
        what = tell("this farm is planned together with the others of its cooperative.")
        return BadRequest(Problem(what, plan_command(cooperative), str(garden)))
    what = tell("this farm's cooperative is {file}, which does not name it.", file=cooperative)
    mend = tell("Name it there under [[farm]]; or, where it is by itself now, take the line 'cooperative' "
                "out here and write its own [[wish]] lines.")
    return BadRequest(Problem(what, mend, str(garden)))


def cooperative_of(file: Path) -> Described:
    """The cooperative of a file and its farms. BadGarden with every fault of all their files."""
    text = setup_text(file)
    own = _own(file, text)
    problems, gardens, texts = list[Problem](), list[Garden](), list[str]()
    for number, farm in enumerate(own.farms):
        if farm.file.resolve() == file.resolve():
            what = tell("the cooperative's own file is named as that of a farm.")
            problems.append(Problem(what, tell("Name the farm's garden file there."), str(file), farm.line,
                                    f"farm {number + 1}, garden"))
            continue
        other = Problem(
            tell("{file} does not say that it is a farm of this cooperative.",
                 file=seen_from(farm.file, file)),
            tell('Write cooperative = "{file}" at its top.', file=seen_from(file, farm.file)),
            str(file), farm.line, f"farm {number + 1}, garden",
        )
        try:
            texts.append(setup_text(farm.file))
            if not SAYS_SO.search(texts[-1]):
                problems.append(other)
                continue
            garden = garden_of(farm.file, texts[-1])
        except EvenpickError as error:
            problems += error.problems
            continue
        if garden.cooperative is None or garden.cooperative.resolve() != file.resolve():
            problems.append(other)
        problems += serves_nobody(own, garden, str(farm.file))
        gardens.append(_shared(own, garden, farm.name))
    if problems := problems or [*nobody_sows(own, gardens, str(file))]:
        raise BadGarden(problems)
    every = (text, *texts)
    digest, signs = (digest_of(each.encode() for each in found)
                     for found in (map(garden_digest, every), every))
    return Described(file, own, tuple(gardens), tuple(texts), digest, signs)


def _shared(own: Cooperative, garden: Garden, farm: str) -> Garden:
    mine = garden.plan
    plan = replace(own.plan, sowing_days=mine.sowing_days, worth_a_sowing=mine.worth_a_sowing)
    return replace(garden, plan=plan, farm=farm if len(own.farms) > 1 else "")
