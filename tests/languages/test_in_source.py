"""No sentence stands in the code past `tell`: what is given to the pieces that say something is a message."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

SOURCE = Path(__file__).resolve().parents[2] / "src" / "evenpick"
SAYS = {
    "Problem": 2, "Text": 1, "Heading": 1, "Column": 1, "Page": 1, "UsageError": 1, "refuse": 2, "note": 2,
    "confirm": 1, "No": 3,
}
"""what says something to the reader, and how many of its arguments are said"""
UNITS = {"kg", "lb", "oz", "ft", "cm", "mm", "km", "in", "evenpick"}
KEY = re.compile(r"[a-z_]+|evenpick [a-z]+ --[a-z]+ ")
"""a field's name, a command"""
ROOMS = ("base", "climate", "crops", "garden", "soil", "trials", "store", "service", "report", "cli", "web")


def name_of(call: ast.Call) -> str:
    return call.func.attr if isinstance(call.func, ast.Attribute) else getattr(call.func, "id", "")


def loose(node: ast.AST) -> Iterator[str]:
    """Prose of an expression that no `tell` holds: its own text, and of what it is put together of."""
    match node:
        case ast.Constant(value=str(text)):
            yield text
        case ast.JoinedStr(values=parts):
            yield "".join(str(part.value) for part in parts if isinstance(part, ast.Constant))
        case ast.IfExp(body=body, orelse=orelse):
            yield from (*loose(body), *loose(orelse))
        case ast.BinOp(left=left, right=right):
            yield from (*loose(left), *loose(right))
        case ast.BoolOp(values=values):
            for value in values:
                yield from loose(value)


def said_past(path: Path) -> Iterator[tuple[int, str]]:
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call) and name_of(node) in SAYS:
            for given in node.args[: SAYS[name_of(node)]]:
                for text in loose(given):
                    words = set(re.findall(r"[A-Za-z]{2,}", text)) - UNITS
                    if words and not KEY.fullmatch(text):
                        yield node.lineno, text


@pytest.mark.parametrize("room", ROOMS)
def test_what_is_said_is_told(room: str) -> None:
    found = [f"{path.relative_to(SOURCE)}:{line}: {text}" for path in sorted((SOURCE / room).rglob("*.py"))
             for line, text in said_past(path)]
    assert not found


def test_templates_hold_no_words_of_their_own() -> None:
    """Between tags and in the attributes that are read, but for signs, units and names of their own."""
    markup = re.compile(r"\{%-?\s*trans\b.*?endtrans\s*-?%\}|\{\{.*?\}\}|\{%.*?%\}|<[^<>]*>", re.DOTALL)
    for page in sorted((SOURCE / "web" / "templates").glob("*.html")):
        text = page.read_text(encoding="utf-8")
        left = re.findall(r"[A-Za-z]{3,}", re.sub(r"&\w+;", " ", markup.sub(" ", text)))
        read = re.findall(r'(?:aria-label|placeholder|data-words|data-head|alt)="([^"{]*[A-Za-z]{3}[^"{]*)"',
                          text)
        assert not [*left, *read], page.name
