"""Pages of a cooperative's farms as one, each saying whose it is and at whose file what it tells is typed."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from evenpick.base.language import tell
from evenpick.base.typed import shortest, typed
from evenpick.report.page import Block, Heading, Items, Page, Text
from evenpick.service.cooperative_answer import FarmTold

COMMAND = re.compile(r"\bevenpick ([a-z]+)\b(?! --garden)")
"""one that names no file yet"""


def farms_page(title: str, farms: Sequence[FarmTold[Page]]) -> Page:
    """The farms' pages one after another."""
    return Page(title, tuple(block for farm in farms for block in _of_farm(farm)))


def _of_farm(farm: FarmTold[Page]) -> list[Block]:
    title, blocks = (farm.answer.title, farm.answer.blocks) if farm.answer else ("", ())
    return [*heads(farm.name, farm.path, title, farm.problem), *at_farm(farm.name, farm.path, blocks)]


def heads(name: str, path: Path, title: str = "", problem: str = "") -> list[Block]:
    """What stands before a farm's own blocks, or in their place; its file as it is typed from here."""
    file = tell("Its file: {file}", file=shortest(path))
    return [Heading(name), *map(Text, filter(None, (title, file, problem)))]


def at_farm(name: str, path: Path, blocks: Sequence[Block]) -> list[Block]:
    """What heads them says whose they are, what is to be typed says at which farm."""
    file = typed(path)

    def told(text: str) -> str:
        return COMMAND.sub(lambda found: f"{found[0]} --garden {file}", text)

    def own(block: Block) -> Block:
        match block:
            case Heading():
                return replace(block, text=f"{name}: {block.text}")
            case Text():
                return replace(block, text=told(block.text))
            case Items():
                return Items(tuple(map(told, block.entries)))
        return block

    return [own(block) for block in blocks]
