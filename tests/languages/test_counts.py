"""A count before a plural word is told by `tell_n`, so that one is never '1 cells'."""

from __future__ import annotations

import re

import pytest
from babel.messages.pofile import read_po

from evenpick.base.language import FOLDER, number_of

PLURALS = re.compile(
    r"\{\w+(?::[^{}]*)?\} (?:more |other |weather |complete |open )?(?:blocks|boxes|cells|columns|copies|"
    r"days|entries|farms|gallons|hours|items|jobs|litres|metres|minutes|modules|nights|packets|plants|plots|"
    r"portions|problems|readings|records|rows|seconds|seeds|shares|times|varieties|weeks|wishes|years)\b"
)
NEVER_ONE = {
    "{words} {shift:+.1f} °C ({readings} readings)": "seven and more",
    "That is {ago} days ago: fetch again for what has been since.": "more than a week",
    "a frost that kills it comes in the next three nights in {frost:.0f} years of 10": "two and more",
    "{dry}, in {thirst:.0f} years of 10; leave it after rain": "five and more",
    "{max} of {shares} shares for {name}": "of several shares",
    "{portions:.1f} portions": "in tenths",
    "sow {thicker:.1f} times as thick": "in tenths",
    "Plots of one variety differ {dispersion:.1f} times as much as chance makes seeds differ; the ranges are "
    "widened by that.": "in tenths",
    "{item}: {ratio} times what was wanted in {month} ({picked} of {wanted})": "far from one",
    "{pieces}, in {some} of {boxes} boxes": "some of several",
    "Nothing new is likely in the next {weeks} weeks.": "eight",
    "did not answer within {patience:.0f} seconds": "our own patience",
    "took longer than {longest:.0f} seconds to answer": "our own patience",
    "another program has held the book for {seconds:g} seconds; nothing was written.": "our own patience",
    "no stretch of {days} days from {start} is whole in the record ({first} to {last}).": "a year and more",
    "{n} of {all} days": "of a whole record",
    "{packets} packets at once can't be.": "more than can be",
    "out of {members} weather years": "fifteen and more",
    "evenpick {version}, dice {seed}, {years} + {unseen_years} weather years; garden {garden}, weather "
    "{weather}, catalogue {catalogue}.": "of a sum",
    "{by}, the trend {years} years on": "twenty",
    "a difference of {difference} between two of {varieties} varieties": "two and more",
    "{power:.0f} times in a hundred": "eighty",
    "It takes {needed} blocks of {varieties} plots to see {asked} {power}.": "two and more",
    "{varieties} varieties in {blocks} blocks{against}. Told apart is what chance alone would do in at most "
    "{certainty:.0f} of 100 such trials of equal varieties, by each measure.": "two and more",
    "{varieties} varieties in {blocks} {kind}, every variety once in each, in an order by the dice (seed "
    "{seed}).{against}": "two and more",
    "{nights} nights and {days} days count, {against}. Every temperature of the years is moved so. Give or "
    "take: it lies within that 8 times in 10. A month not read leans on the others.": "seven and more",
    "The ground is taken to have been full {lead} days before the sowing and watered as told here.":
        "our own lead",
    "in {dried:.0f} years of 10 its seed had sprouted when the drill dried": "five and more",
    "Open ground is taken to have been full {lead} days before a sowing, ground in a tunnel soaked on the "
    "day before it is sown or planted, both watered as told here since.": "our own lead",
    "Sown {day} it is first picked after {low:.0f} to {high:.0f} days.": "weeks and more",
    "{blocks} blocks make no trial": "of one block it is said otherwise",
    "Give 2 to {most_blocks} blocks.": "the most that can be",
}
"""messages whose count can't be one, and why"""


def test_no_count_stands_before_a_plural_word_outside_tell_n() -> None:
    with FOLDER.joinpath("evenpick.pot").open("rb") as file:
        alone = {message.id for message in read_po(file) if isinstance(message.id, str)}
    found = {message for message in alone if PLURALS.search(message)}
    assert found - NEVER_ONE.keys() == set()
    assert NEVER_ONE.keys() <= alone


@pytest.mark.parametrize(
    ("figure", "number"), [(1.0, 1), (1.04, 2), (0.5, 2), (0.0, 0), (2.0, 2), (37.4, 37)]
)
def test_only_one_is_one(figure: float, number: int) -> None:
    assert number_of(figure) == number
