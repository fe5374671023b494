"""Pages of a cooperative's farms as one, each saying whose it is and at whose file what it tells is typed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from evenpick.base.language import tell
from evenpick.base.typed import at_file, shortest
from evenpick.report.page import Block, Heading, Items, Page, Text
from evenpick.service.cooperative_answer import FarmTold


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
    return [replace(block, text=f"{name}: {block.text}") if isinstance(block, Heading)
            else to_type(block, path) for block in blocks]


def to_type(block: Block, path: Path) -> Block:
    """What is to be typed says at which farm."""
    match block:
        case Text():
            return replace(block, text=at_file(block.text, path))
        case Items():
            return Items(tuple(at_file(entry, path) for entry in block.entries))
    return block
