"""The catalogues are those of the source: up to date, compiled as they are, with all places of a message."""

from __future__ import annotations

import re

import pytest
from babel.messages.catalog import Catalog
from babel.messages.pofile import read_po

import messages
from evenpick.base.language import SOURCE, language, languages

AGAIN = "run python builders/messages.py"
PLACE = re.compile(r"\{\w+[^{}]*\}|%\(\w+\)s")


def catalogue(code: str) -> Catalog:
    return read_po((messages.LOCALE / code / "LC_MESSAGES" / "evenpick.po").open("rb"), locale=code)


def test_the_template_is_that_of_the_source() -> None:
    assert messages.TEMPLATE.read_text(encoding="utf-8") == messages.text_of(messages.template()), AGAIN


@pytest.mark.parametrize("code", messages.languages())
def test_a_language_follows_the_template_and_is_compiled(code: str) -> None:
    folder = messages.LOCALE / code / "LC_MESSAGES"
    told = messages.renewed(code, messages.template())
    assert (folder / "evenpick.po").read_text(encoding="utf-8") == messages.text_of(told), AGAIN
    assert (folder / "evenpick.mo").read_bytes() == messages.compiled(told), AGAIN


@pytest.mark.parametrize("code", messages.languages())
def test_a_translation_has_the_places_of_its_message(code: str) -> None:
    for message in catalogue(code):
        ids, told = ((one,) if isinstance(one, str) else one for one in (message.id, message.string))
        for text in filter(None, told if message.id else ()):
            assert set(PLACE.findall(text)) == set(PLACE.findall(ids[-1])), message.id


def test_the_source_language_needs_no_catalogue() -> None:
    assert languages() == (SOURCE, *messages.languages())
    assert language(SOURCE).catalogue.gettext("fleece") == "fleece"
    assert language("en_US").catalogue.gettext("fleece") == "row cover"


BRITISH_ONLY = re.compile(
    r"\b\w*(?:colour|favour|neighbour|labour|(?<![a-z])metre|litre|centre|grey|catalogue|plough|mould)\w*|"
    r"\b(?:autumn|fleece|trays?|glasshouses?|spoilt|courgettes?|towards)\b"
)


def test_american_english_has_no_british_word_left() -> None:
    """Common spelling and trade words; what else differs has no list to check against."""
    american = catalogue("en_US")
    for message in messages.template():
        for text in (message.id,) if isinstance(message.id, str) else message.id:
            words = re.sub(r"\{[^{}]*\}|<[^<>]*>", "", text)
            if BRITISH_ONLY.search(words):
                assert american.get(message.id), text
    for message in american:
        for text in (message.string,) if isinstance(message.string, str) else message.string:
            assert not BRITISH_ONLY.search(re.sub(r"\{[^{}]*\}|<[^<>]*>", "", text)), text
