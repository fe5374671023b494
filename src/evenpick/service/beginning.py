"""The answers of a first garden, as they are typed."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Literal, TypeAlias

from evenpick.base.errors import BadRequest, EvenpickError, Problem
from evenpick.base.trade import CoverName
from evenpick.garden.begin import (
    Answers,
    First,
    begin_garden,
    check_eaters,
    check_ground,
    helpings,
    liked_here,
)
from evenpick.garden.begin_where import where_said
from evenpick.garden.eaters import eaters_of, selling_of
from evenpick.garden.likes import Unknown
from evenpick.garden.likes_but import likes_of, nevers_of
from evenpick.garden.spoken_area import spoken_area
from evenpick.garden.watering_said import watered_of
from evenpick.garden.wishes import Crops

Question: TypeAlias = Literal["where", "ground", "tunnel", "water", "eaters", "likes"]


def answers_of(
    where: str, ground: str, tunnel: str, eaters: str, likes: str, water: str = "", height: str = ""
) -> Answers:
    """The answers read; every fault is told with its field. BadRequest."""
    problems: list[Problem] = []
    found: dict[str, float] = {}
    for field, text in (("ground", ground), ("tunnel", tunnel)):
        try:
            found[field] = spoken_area(text)
        except EvenpickError as error:
            problems += [problem.at(field=field) for problem in error.problems]
    try:
        people, boxes = eaters_of(eaters)
        selling = selling_of(eaters)
    except BadRequest as error:
        problems += [problem.at(field="eaters") for problem in error.problems]
    try:
        watered = watered_of(water)
    except BadRequest as error:
        problems += error.problems
    if problems:
        raise BadRequest(problems)
    areas = found["ground"], found["tunnel"]
    return Answers(where, *areas, people, boxes, likes_of(likes), nevers_of(likes), ground_said=ground,
                   tunnel_said=tunnel, watered=watered, height=height, selling=selling)


def check_answer(known: Mapping[Question, str], catalogue: Crops, question: Question, text: str) -> None:
    """Raise what is wrong with one answer, in the light of those that are known: BadRequest, BadGarden,
    UnknownPlace, UnknownCrop."""
    match question:
        case "where":
            where_said(text)
        case "ground" | "tunnel":
            said = {**known, question: text}
            areas = [spoken_area(said[each]) for each in ("ground", "tunnel") if each in said]
            if len(areas) == 2:
                check_ground(*areas)
        case "water":
            watered_of(text)
        case "eaters":
            check_eaters(*eaters_of(text))
        case "likes":
            helpings(Answers("", 1.0, 1.0, likes=likes_of(text), nevers=nevers_of(text)), catalogue)


def not_known(likes: str, catalogue: Crops) -> tuple[Unknown, ...]:
    """The words of an answer that are no crop here; none where nothing of it is known: it is refused."""
    found = liked_here(likes_of(likes), catalogue)
    return found.unknown if found.helpings else ()


def begin(path: Path, answers: Answers, catalogue: Crops) -> First:
    """Write a first garden file with the seasons of its place; a few seconds. BadRequest, UnknownCrop,
    UnknownPlace."""
    from evenpick.service.first_seasons import seasons_here

    covers: list[CoverName] = ["open"] if answers.ground else []
    covers += ["tunnel"] if answers.tunnel else []
    return begin_garden(
        path, answers, catalogue,
        lambda wished, site: seasons_here(wished, site, covers, catalogue, answers.watered),
    )
