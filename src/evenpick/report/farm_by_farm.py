"""Pages of a cooperative's farms as one, each saying whose it is and at whose file what it tells is typed."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from itertools import chain

from evenpick.base.language import tell
from evenpick.report.page import Block, Heading, Items, Page, Text

COMMAND = re.compile(r"\bevenpick ([a-z]+)\b(?! --garden)")
"""one that names no file yet"""


def farms_page(title: str, farms: Sequence[tuple[str, str, Page]]) -> Page:
    """The farms' pages one after another: `farms` are name, file and page of each."""
    blocks = [[*heads(name, file, page.title), *at_farm(name, file, page.blocks)]
              for name, file, page in farms]
    return Page(title, tuple(chain.from_iterable(blocks)))


def heads(name: str, file: str, title: str = "") -> list[Block]:
    """What stands before a farm's own blocks."""
    return [Heading(name), *([Text(title)] if title else []), Text(tell("Its file: {file}", file=file))]


def at_farm(name: str, file: str, blocks: Sequence[Block]) -> list[Block]:
    """What heads them says whose they are, what is to be typed says at which farm."""
    def told(text: str) -> str:
        return COMMAND.sub(rf"evenpick \1 --garden {file}", text)

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
