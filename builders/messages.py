"""The catalogues of messages (docs/design/languages.md): the template out of the source, then the languages.

    python builders/messages.py            renew the template and every language, and compile them
    python builders/messages.py CODE       the same, with a new language CODE, such as de or pt_BR

Taken are the texts given to `tell`, `tell_n` and `later`; in the pages' templates what stands in
{% trans %} or _(); of a command its docstring and its options' help; and the words of the crop catalogue
that are no names: cautions, how seed is saved, why a crop is tended, purposes, pieces, families, soils.
"""

from __future__ import annotations

import ast
import inspect
import re
import sys
from collections.abc import Iterable, Iterator
from io import BytesIO
from pathlib import Path
from typing import TypeAlias

from babel.messages.catalog import Catalog
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po, write_po
from jinja2.ext import babel_extract

from evenpick.base.trade import several
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.families import families
from evenpick.crops.seed_saving import saving_steps
from evenpick.crops.tending import tending_steps
from evenpick.soil.texture import soils

SOURCE = Path(__file__).parents[1] / "src" / "evenpick"
LOCALE = SOURCE / "data" / "locale"
TEMPLATE = LOCALE / "evenpick.pot"
HELP = ("help", "short_help", "epilog", "metavar")
"""what click is given to show"""
PLACES = {"python-brace-format": r"\{\w+[^{}]*\}", "python-format": r"%\(\w+\)s"}
"""how a place is written in the program, and in the pages' templates"""
HEADERS = ("Language", "Plural-Forms", "MIME-Version", "Content-Type", "Content-Transfer-Encoding")
Message: TypeAlias = str | tuple[str, str]


class Plain(Catalog):
    """A catalogue whose header says nothing that changes with the day or the machine."""

    @property
    def mime_headers(self) -> list[tuple[str, str]]:
        return [(name, value) for name, value in self._get_mime_headers() if name in HEADERS]


def template() -> Catalog:
    """Every message of the program, in the order of files and lines."""
    made = Plain(charset="utf-8", fuzzy=False, header_comment="# Messages of evenpick, in British English.")
    for path in sorted(SOURCE.rglob("*.py")):
        _add(made, path, _of_module(path))
    for path in sorted(SOURCE.rglob("*.html")):
        _add(made, path, _of_page(path))
    _add(made, SOURCE / "data" / "crops.json", _of_crops())
    return made


def _add(made: Catalog, path: Path, found: Iterable[Message]) -> None:
    for message in found:
        texts = message if isinstance(message, tuple) else (message,)
        flags = [flag for flag, place in PLACES.items() if any(re.search(place, text) for text in texts)]
        made.add(message, locations=[(path.relative_to(SOURCE.parent).as_posix(), 1)], flags=flags)


def _of_crops() -> Iterator[Message]:
    for crop in load_catalogue().crops:
        yield from crop.cautions
        yield from (purpose.name for purpose in crop.purposes)
        saved = saving_steps(crop.key)
        if saved:
            yield saved.how
        yield from (step.why for way in crop.ways for step in tending_steps(crop.key, way.name) if step.why)
        piece = crop.produce.piece
        if piece != "kg":
            yield piece
            yield f"{{n}} {piece}", f"{{n}} {several(piece)}"
    yield from (family.said for family in families().values())
    yield from soils()


def _of_module(path: Path) -> Iterator[Message]:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    for node in ast.walk(tree):
        match node:
            case ast.Call(func=ast.Name(id="tell" | "later"),
                          args=[ast.Constant(value=str(text)), *_]) if text:
                yield text
            case ast.Call(func=ast.Name(id="tell_n"),
                          args=[ast.Constant(value=str(one)), ast.Constant(value=str(many)), *_]):
                yield one, many
        if path.parent.name == "cli":
            yield from _of_command(node)


def _of_command(node: ast.AST) -> Iterator[Message]:
    match node:
        case ast.keyword(arg=name, value=ast.Constant(value=str(text))) if name in HELP and text:
            yield text
        case ast.FunctionDef(decorator_list=[_, *_]):
            told = ast.get_docstring(node, clean=False)
            if told:
                yield inspect.cleandoc(told)


def _of_page(path: Path) -> Iterator[Message]:
    options = {"trim_blocks": "true", "lstrip_blocks": "true", "silent": "false", "trimmed": "true"}
    found = babel_extract(BytesIO(path.read_bytes()), ("_", "gettext", "ngettext"), [], options)
    for _, _, message, _ in found:
        match message:  # None stands for what is told by its value
            case str() as text:
                yield text
            case (str() as one, str() as many, *_):
                yield one, many


def text_of(catalogue: Catalog) -> str:
    """A catalogue as it is kept: without line numbers and days, so that it changes when a message does."""
    written = BytesIO()
    write_po(written, catalogue, width=110, include_lineno=False)
    return written.getvalue().decode()


def renewed(code: str, made: Catalog) -> Catalog:
    """A language's catalogue with the messages that there are now; of English only those that differ."""
    path = LOCALE / code / "LC_MESSAGES" / "evenpick.po"
    had = read_po(BytesIO(path.read_bytes()), locale=code) if path.exists() else Catalog(locale=code)
    kept = Plain(locale=code, charset="utf-8", fuzzy=False,
                   header_comment=f"# Messages of evenpick: {code}.")
    for message in made:
        if not message.id:
            continue
        old = had.get(message.id)
        told = old.string if old else ""
        if any(told) or not code.startswith("en"):
            kept.add(message.id, told, [(name, 1) for name, _ in message.locations], message.flags,
                     user_comments=old.user_comments if old else ())
    return kept


def compiled(catalogue: Catalog) -> bytes:
    """The binary form that the program reads."""
    written = BytesIO()
    write_mo(written, catalogue)
    return written.getvalue()


def languages() -> list[str]:
    return sorted(path.parent.parent.name for path in LOCALE.glob("*/LC_MESSAGES/evenpick.po"))


def main(new: list[str]) -> None:
    made = template()
    TEMPLATE.write_text(text_of(made), encoding="utf-8")
    for code in [*languages(), *new]:
        folder, told = LOCALE / code / "LC_MESSAGES", renewed(code, made)
        folder.mkdir(parents=True, exist_ok=True)
        (folder / "evenpick.po").write_text(text_of(told), encoding="utf-8")
        (folder / "evenpick.mo").write_bytes(compiled(told))


if __name__ == "__main__":
    main(sys.argv[1:])
