"""The five answers of a first garden, as they are typed."""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path
from typing import Literal, TypeAlias

from evenpick.base.errors import BadRequest, EvenpickError, Problem
from evenpick.base.language import tell
from evenpick.base.trade import CoverName
from evenpick.garden.amounts import area
from evenpick.garden.begin import (
    Answers,
    First,
    begin_garden,
    check_eaters,
    check_ground,
    helpings_of,
    where_said,
)
from evenpick.garden.wishes import Crops

NOUGHT = re.compile(r"(0+([.,]0*)?\s*(m2|m²|sq\s*ft|ft2|ft²)?|none)?", re.IGNORECASE)
EATERS = re.compile(r"(\d{1,6})\s*(people|person|boxes|box|)", re.IGNORECASE)
MYSELF = re.compile(r"(?:(?:just|only)\s+)?(?:me|myself)", re.IGNORECASE)
Question: TypeAlias = Literal["where", "ground", "tunnel", "eaters", "likes"]


def answers_of(where: str, ground: str, tunnel: str, eaters: str, likes: str) -> Answers:
    """The answers read; every fault is told with its field. BadRequest."""
    problems: list[Problem] = []
    found: dict[str, float] = {}
    for field, text in (("ground", ground), ("tunnel", tunnel)):
        try:
            found[field] = area_of(text)
        except EvenpickError as error:
            problems += [problem.at(field=field) for problem in error.problems]
    try:
        people, boxes = eaters_of(eaters)
    except BadRequest as error:
        problems += [problem.at(field="eaters") for problem in error.problems]
    if problems:
        raise BadRequest(problems)
    liked = likes_of(likes)
    areas = found["ground"], found["tunnel"]
    return Answers(where, *areas, people, boxes, liked, ground_said=ground, tunnel_said=tunnel)


def check_answer(known: Mapping[Question, str], catalogue: Crops, question: Question, text: str) -> None:
    """Raise what is wrong with one answer, in the light of those that are known: BadRequest, BadGarden,
    UnknownPlace, UnknownCrop."""
    match question:
        case "where":
            where_said(text)
        case "ground" | "tunnel":
            said = {**known, question: text}
            areas = [area_of(said[each]) for each in ("ground", "tunnel") if each in said]
            if len(areas) == 2:
                check_ground(*areas)
        case "eaters":
            check_eaters(*eaters_of(text))
        case "likes":
            helpings_of(likes_of(text), catalogue)


def begin(path: Path, answers: Answers, catalogue: Crops) -> First:
    """Write a first garden file with the seasons of its place; a few seconds. BadRequest, UnknownCrop,
    UnknownPlace."""
    from evenpick.service.first_seasons import seasons_here

    covers: list[CoverName] = ["open"] if answers.ground else []
    covers += ["tunnel"] if answers.tunnel else []
    return begin_garden(
        path, answers, catalogue, lambda wished, site: seasons_here(wished, site, covers, catalogue)
    )


def area_of(text: str) -> float:
    """m² of an area with its unit; nought, with a unit or without, is none."""
    return 0.0 if NOUGHT.fullmatch(text.strip()) else area(text)


def likes_of(text: str) -> tuple[str, ...]:
    return tuple(word.strip() for word in text.split(",") if word.strip())


def eaters_of(text: str) -> tuple[int, int]:
    """People and boxes of '4', 'me', '4 people', '2 people, 6 boxes'; BadRequest for anything else."""
    said = [part for part in re.split(r"\s*(?:,|\band\b)\s*", text.strip()) if part]
    parts = ["1 person" if MYSELF.fullmatch(part) else part for part in said]
    found = [EATERS.fullmatch(part) for part in parts]
    counted = {"box" if match[2].casefold().startswith("box") else "people": int(match[1])
               for match in found if match}
    if not parts or None in found or len(counted) < len(parts):
        raise BadRequest(Problem(tell("'{text}' does not say how many people or boxes.", text=text),
                                 tell("Write such as 4 people, 12 boxes, or 2 people, 6 boxes.")))
    return counted.get("people", 0), counted.get("box", 0)
