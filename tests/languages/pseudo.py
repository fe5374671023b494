"""A language made of the template alone: every letter of a message gets an accent, its places are left.

What then still comes out in plain letters was not told through the catalogue.
"""

from __future__ import annotations

import re
from gettext import NullTranslations
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.pofile import read_po

from evenpick.base.language import FOLDER, Language

PLAIN = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"
MARKED = "áƀćďéƒǵĥíĵķĺḿńóṕɋŕśťúṽẃẍýźÁɃĆĎÉƑǴĤÍĴĶĹḾŃÓṔɊŔŚŤÚṼẂẌÝŹ"
ACCENTS = str.maketrans(PLAIN, MARKED)
LEFT = re.compile(r"(\{\{|\}\}|\{[^{}]*\}|%\(\w+\)s|<[^<>]*>|&\w+;)")
"""of a message: places, tags and entities"""
WORD = re.compile(r"[A-Za-z][A-Za-z'’]+")


def accented(message: str) -> str:
    return "".join(part if at % 2 else part.translate(ACCENTS) for at, part in enumerate(LEFT.split(message)))


class Pseudo(NullTranslations):
    """Tells the messages of the template with accents and all others as they are."""

    def __init__(self, template: Catalog) -> None:
        super().__init__()
        ids = [message.id if isinstance(message.id, tuple) else (message.id,) for message in template]
        self.known = {text for texts in ids for text in texts}

    def gettext(self, message: str) -> str:
        return accented(message) if message in self.known else message

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        return self.gettext(msgid1 if n == 1 else msgid2)


def pseudo() -> Language:
    template = Path(str(FOLDER)) / "evenpick.pot"
    return Language("en_XX", Pseudo(read_po(template.open("rb"))))


def plain_words(text: str) -> set[str]:
    """The words of a text that have no accent."""
    return set(WORD.findall(text))
